//! What is varied, and which share of the variants one run makes, as typed: `gap=2..6:0.5` and `2/3`.
//!
//! Values are whole numbers of the last decimal that was typed, so that no step is lost to rounding and each value is written
//! in one way.

use std::fmt;
use std::str::FromStr;

/// Most decimals of a value: a millionth of a millimetre.
const MOST_DECIMALS: usize = 6;
/// Most digits before the point.
const MOST_DIGITS: usize = 9;
/// What a range looks like, for faults.
const SHAPE: &str = "write NAME=FROM..TO:STEP, e.g. gap=2..6:0.5";

/// A number of the design and the values that it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Vary {
    /// The name of a size, or a path.
    pub(crate) name: String,
    range: Range,
}

/// From a value upwards in steps. All of them in units of the last decimal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Range {
    from: i64,
    to: i64,
    step: i64,
    decimals: usize,
}

impl Vary {
    /// How many values it takes.
    pub(crate) fn count(&self) -> usize {
        let Range { from, to, step, .. } = self.range;
        usize::try_from((to - from) / step + 1).unwrap_or(usize::MAX)
    }

    /// One of its values, as it is written into the text.
    pub(crate) fn value(&self, at: usize) -> String {
        let at = i64::try_from(at).unwrap_or(i64::MAX);
        self.range.written(self.range.from + at * self.range.step)
    }
}

impl Range {
    fn written(&self, value: i64) -> String {
        let digits = format!("{:0width$}", value.abs(), width = self.decimals + 1);
        let (whole, part) = digits.split_at(digits.len() - self.decimals);
        let part = part.trim_end_matches('0');
        let (sign, point) = (if value < 0 { "-" } else { "" }, if part.is_empty() { "" } else { "." });
        format!("{sign}{whole}{point}{part}")
    }
}

impl fmt::Display for Vary {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [from, to, step] =
            [self.range.from, self.range.to, self.range.step].map(|value| self.range.written(value));
        write!(f, "{}={from}..{to}:{step}", self.name)
    }
}

impl FromStr for Vary {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = |what: String| format!("{what}; {SHAPE}");
        let (name, range) = text.rsplit_once('=').ok_or_else(|| wrong("there is no `=` in it".to_owned()))?;
        if name.is_empty() {
            return Err(wrong("there is no name before the `=`".to_owned()));
        }
        let (from, rest) =
            range.split_once("..").ok_or_else(|| wrong("there is no `..` in it".to_owned()))?;
        let (to, step) =
            rest.split_once(':').ok_or_else(|| wrong("there is no step behind a `:`".to_owned()))?;
        let mut numbers = [(0, 0); 3];
        for (number, text) in numbers.iter_mut().zip([from, to, step]) {
            *number = decimal_number(text).ok_or_else(|| {
                wrong(format!(
                    "`{text}` is no number of at most {MOST_DIGITS} digits and {MOST_DECIMALS} decimals"
                ))
            })?;
        }
        let decimals = numbers.iter().map(|(_, decimals)| *decimals).max().unwrap_or(0);
        let [low, high, by] = numbers.map(|(digits, own)| {
            let missing = u32::try_from(decimals - own).unwrap_or(0);
            digits * 10_i64.pow(missing)
        });
        if by == 0 {
            return Err(format!("the step is 0, which leads nowhere; {SHAPE}"));
        }
        if low > high {
            let upwards = step.trim_start_matches('-');
            return Err(format!("{from} is beyond {to}; write {name}={to}..{from}:{upwards}"));
        }
        if by < 0 {
            let upwards = step.trim_start_matches('-');
            return Err(format!("the step {step} leads away from {to}; write {name}={from}..{to}:{upwards}"));
        }
        Ok(Vary { name: name.to_owned(), range: Range { from: low, to: high, step: by, decimals } })
    }
}

/// A number as written, in units of its last decimal, and how many decimals it has.
fn decimal_number(text: &str) -> Option<(i64, usize)> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = match digits.split_once('.') {
        Some((_, "")) => return None,
        Some(parts) => parts,
        None => (digits, ""),
    };
    let plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || whole.len() > MOST_DIGITS || part.len() > MOST_DECIMALS {
        return None;
    }
    let number: i64 =
        if plain(whole) && plain(part) { format!("{whole}{part}").parse().ok()? } else { return None };
    Some((if digits.len() < text.len() { -number } else { number }, part.len()))
}

/// One of several shares of a sweep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shard {
    /// Which one, from 1.
    pub(crate) number: usize,
    /// Of how many.
    pub(crate) of: usize,
}

impl Shard {
    /// Whether a variant, counted from 0, is in it: every `of`-th is, so that each share has cheap and costly ones.
    pub(crate) fn has(self, variant: usize) -> bool {
        variant % self.of == self.number - 1
    }
}

impl FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let whole =
            |text: &str| text.parse::<usize>().ok().filter(|&n| (1..=super::MOST_VARIANTS).contains(&n));
        let shard = text.split_once('/').and_then(|(number, of)| Some((whole(number)?, whole(of)?)));
        let (number, of) = shard.ok_or("write I/N with whole numbers from 1, e.g. 1/3")?;
        if number > of {
            return Err(format!("there is no share {number} of {of}; I goes from 1 to {of}, e.g. 1/{of}"));
        }
        Ok(Shard { number, of })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<String> {
        let vary: Vary = text.parse().unwrap();
        (0..vary.count()).map(|at| vary.value(at)).collect()
    }

    #[test]
    fn values_go_up_in_steps_without_rounding() {
        assert_eq!(values("a=1..2:0.25"), ["1", "1.25", "1.5", "1.75", "2"]);
        assert_eq!(values("a=-0.5..0.5:0.5"), ["-0.5", "0", "0.5"]);
        assert_eq!(values("a=0.1..0.3:0.1"), ["0.1", "0.2", "0.3"]);
        assert_eq!(values("carcases.main.height=300..345:20"), ["300", "320", "340"]);
        assert_eq!(values("a=5..5:1"), ["5"]);
        assert_eq!(values("a=0.05..0.06:0.01"), ["0.05", "0.06"]);
        // A tenth, ten thousand times.
        assert_eq!(values("a=0..1000:0.1").last().map(String::as_str), Some("1000"));
        assert_eq!("a=1..2.50:0.250".parse::<Vary>().unwrap().to_string(), "a=1..2.5:0.25");
    }

    #[test]
    fn what_cannot_be_meant_says_what_to_write() {
        for (text, said) in [
            ("a", "there is no `=` in it; write NAME=FROM..TO:STEP"),
            ("=1..2:1", "there is no name before the `=`"),
            ("a=1-2:1", "there is no `..` in it"),
            ("a=1..2", "there is no step behind a `:`"),
            ("a=1..2:x", "`x` is no number"),
            ("a=1..2.:1", "`2.` is no number"),
            ("a=1..1e3:1", "`1e3` is no number"),
            ("a=1..2:0.0000001", "`0.0000001` is no number of at most 9 digits and 6 decimals"),
            ("a=1..2:0", "the step is 0"),
            ("a=1..2:-0.0", "the step is 0"),
            ("a=1..2:-1", "the step -1 leads away from 2; write a=1..2:1"),
            ("a=2..1:1", "2 is beyond 1; write a=1..2:1"),
            ("a=2..1:-0.5", "2 is beyond 1; write a=1..2:0.5"),
        ] {
            let fault = text.parse::<Vary>().unwrap_err();
            assert!(fault.contains(said), "{text}: {fault}");
        }
    }

    #[test]
    fn shares_are_numbered_from_one() {
        assert_eq!("2/3".parse(), Ok(Shard { number: 2, of: 3 }));
        for (text, said) in [
            ("3/2", "there is no share 3 of 2; I goes from 1 to 2"),
            ("0/2", "write I/N"),
            ("1/0", "write I/N"),
            ("1", "write I/N"),
            ("a/b", "write I/N"),
        ] {
            assert!(text.parse::<Shard>().unwrap_err().contains(said), "{text}");
        }
    }
}
