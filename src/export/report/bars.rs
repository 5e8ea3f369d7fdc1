//! Bars beside their names, to one scale: where mass is, and how it adds up to a limit.

use crate::export::picture::{Anchor, Canvas, Spot, area, text_width};

/// A bar.
#[derive(Debug)]
pub(super) struct Bar<'a> {
    /// Its look in `templates/report.css`.
    pub(super) class: &'static str,
    /// What stands before it.
    pub(super) name: &'a str,
    /// Where it begins and ends; either first.
    pub(super) ends: (f64, f64),
    /// What stands behind it.
    pub(super) value: String,
}

/// A row; where bars begin and how far they reach at most; the whole width.
const ROW: f64 = 22.0;
const BARS: (f64, f64) = (210.0, 560.0);
const WIDTH: f64 = 880.0;
/// Size of the texts.
const SIZE: f64 = 13.0;
/// From a bar to its value.
const BEHIND: f64 = 8.0;
/// Signs of a name that fit before the bars.
const LONGEST: usize = 28;

/// The bars, scaled so that `least` is at their left end. `limit` is a line across all rows with its words.
pub(super) fn chart(bars: &[Bar<'_>], least: f64, limit: Option<(f64, &str)>) -> Canvas {
    let ends = bars.iter().flat_map(|bar| [bar.ends.0, bar.ends.1]).chain(limit.map(|limit| limit.0));
    let most = ends.fold(least, f64::max);
    let span = (most - least).max(f64::MIN_POSITIVE);
    let x = |at: f64| BARS.0 + (at - least) / span * BARS.1;
    let mut canvas = Canvas::new(SIZE);
    // All charts are as wide, whatever is in them.
    canvas.rectangle("blank", area(0.0, 0.0, WIDTH, 0.0));
    if let Some((limit, words)) = limit {
        let (at, low) = (x(limit), -ROW * bars.len() as f64);
        canvas.line("limit", &[Spot::new(at, 0.0), Spot::new(at, low)]);
        canvas.words("value", words, Spot::new(at, low - ROW * 0.5), SIZE, Anchor::End);
    }
    for (i, bar) in bars.iter().enumerate() {
        let middle = -ROW * (i as f64 + 0.5);
        let (left, right) = (x(bar.ends.0.min(bar.ends.1)), x(bar.ends.0.max(bar.ends.1)));
        let right = right.max(left + 1.0);
        canvas.words("value", &shortened(bar.name), Spot::new(0.0, middle), SIZE, Anchor::Start);
        canvas.rectangle(bar.class, area(left, middle - ROW / 2.0 + 3.0, right, middle + ROW / 2.0 - 3.0));
        // Where the limit's line would run through it: before the bar if there is room, else beyond the line.
        let wide = text_width(&bar.value, SIZE);
        let line = limit.map(|(limit, _)| x(limit)).filter(|&at| right < at && right + BEHIND + wide > at);
        let (at, anchor) = match line {
            Some(_) if left - BEHIND - wide > BARS.0 => (left - BEHIND, Anchor::End),
            Some(line) => (line + BEHIND, Anchor::Start),
            None => (right + BEHIND, Anchor::Start),
        };
        canvas.words("value", &bar.value, Spot::new(at, middle), SIZE, anchor);
    }
    canvas
}

/// A name that fits before the bars.
fn shortened(name: &str) -> String {
    if name.chars().count() <= LONGEST {
        return name.to_owned();
    }
    name.chars().take(LONGEST - 1).chain(['\u{2026}']).collect()
}
