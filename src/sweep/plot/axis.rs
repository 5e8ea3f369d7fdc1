//! Round numbers along an axis, and where a number lies on it.

use crate::number::{decimal, rounded};

/// An axis on paper.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    /// What its ends stand for.
    pub(super) ends: (f64, f64),
    /// mm on paper where it begins, and how long it is.
    pub(super) paper: (f64, f64),
}

impl Axis {
    /// mm on paper of a number.
    pub(super) fn at(&self, number: f64) -> f64 {
        let ((from, to), (start, length)) = (self.ends, self.paper);
        start + (number - from) / (to - from) * length
    }
}

/// Round numbers, and their decimals.
#[derive(Clone, Debug)]
pub(super) struct Ticks {
    /// From the first one to the last one.
    pub(super) numbers: Vec<f64>,
    decimals: usize,
}

impl Ticks {
    /// Round numbers, `most` steps of them or one more, from at most `low` to at least `high`.
    pub(super) fn over((low, high): (f64, f64), most: f64) -> Self {
        // All alike: a step up and one down.
        let (low, high) =
            if high - low > f64::EPSILON * high.abs() { (low, high) } else { (low - 1.0, high + 1.0) };
        let least = (high - low) / most;
        let (mut unit, mut decimals) = (1.0, 0);
        while unit * 10.0 <= least {
            unit *= 10.0;
        }
        while unit > least && decimals < 6 {
            decimals += 1;
            unit = rounded(unit / 10.0, decimals);
        }
        let steps = [1.0, 2.0, 5.0, 10.0].map(|times| times * unit);
        let step = steps.into_iter().find(|step| *step >= least).unwrap_or(steps[3]);
        let (first, last) = ((low / step).floor(), (high / step).ceil());
        let mut numbers = Vec::new();
        let mut at = first;
        while at <= last {
            numbers.push(rounded(at * step, decimals));
            at += 1.0;
        }
        Ticks { numbers, decimals }
    }

    /// A number as it stands at the axis.
    pub(super) fn words(&self, number: f64) -> String {
        decimal(number, self.decimals)
    }

    /// First and last.
    pub(super) fn ends(&self) -> (f64, f64) {
        let end = |number: Option<&f64>| number.copied().unwrap_or(0.0);
        (end(self.numbers.first()), end(self.numbers.last()))
    }
}

/// Of places `spacing` mm apart each how many-th may have a text that takes `room` mm.
pub(super) fn every(spacing: f64, room: f64) -> usize {
    let mut every = 1;
    while spacing * (every as f64) < room && every < super::super::MOST_VARIANTS {
        every += 1;
    }
    every
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_enclose_what_is_shown() {
        for (low, high, words) in [
            (52.1, 60.3, vec!["50", "55", "60", "65"]),
            (1.0, 3.0, vec!["1", "2", "3"]),
            (2.0, 2.0, vec!["1", "2", "3"]),
            (0.012, 0.034, vec!["0.01", "0.02", "0.03", "0.04"]),
            (-120.0, 340.0, vec!["-200", "0", "200", "400"]),
        ] {
            let ticks = Ticks::over((low, high), 3.0);
            let told: Vec<String> = ticks.numbers.iter().map(|number| ticks.words(*number)).collect();
            assert_eq!(told, words, "{low} to {high}");
        }
        assert_eq!((every(10.0, 9.0), every(10.0, 11.0), every(0.5, 11.0)), (1, 2, 22));
    }
}
