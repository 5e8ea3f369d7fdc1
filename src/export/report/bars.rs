//! Bars beside their names, to one scale: where mass is, and how it adds up to a limit.

use super::page::escaped;
use std::fmt::Write;

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

/// px: a row; where bars begin and how far they reach at most; the whole width.
const ROW: f64 = 22.0;
const BARS: (f64, f64) = (210.0, 560.0);
const WIDTH: f64 = 880.0;
/// px from a bar to its value; of a sign of the value.
const BEHIND: f64 = 8.0;
const SIGN: f64 = 7.5;
/// Signs of a name that fit before the bars.
const LONGEST: usize = 28;

/// The bars as an SVG element, scaled so that `least` is at their left end. `limit` is a line across all rows with its words.
pub(super) fn chart(title: &str, bars: &[Bar<'_>], least: f64, limit: Option<(f64, &str)>) -> String {
    let ends = bars.iter().flat_map(|bar| [bar.ends.0, bar.ends.1]).chain(limit.map(|limit| limit.0));
    let most = ends.fold(least, f64::max);
    let span = (most - least).max(f64::MIN_POSITIVE);
    let x = |at: f64| BARS.0 + (at - least) / span * BARS.1;
    let rows = bars.len() as f64 + if limit.is_some() { 1.0 } else { 0.0 };
    let height = ROW * rows;
    let mut svg = format!(
        "<svg class=\"bars\" role=\"img\" viewBox=\"0 0 {WIDTH} {height}\" width=\"{WIDTH}\" height=\"{height}\">\n<title>{}</title>\n",
        escaped(title)
    );
    if let Some((limit, words)) = limit {
        let (at, low) = (x(limit), ROW * bars.len() as f64);
        let _ = writeln!(
            svg,
            "<line class=\"limit\" x1=\"{at:.1}\" y1=\"0\" x2=\"{at:.1}\" y2=\"{low:.1}\"/>\
             <text class=\"end\" x=\"{at:.1}\" y=\"{:.1}\">{}</text>",
            low + ROW * 0.72,
            escaped(words)
        );
    }
    for (i, bar) in bars.iter().enumerate() {
        let y = ROW * i as f64;
        let (left, right) = (x(bar.ends.0.min(bar.ends.1)), x(bar.ends.0.max(bar.ends.1)));
        // Before the bar where the limit's line would run through it.
        let crossed = limit.is_some_and(|(limit, _)| {
            let words = bar.value.chars().count() as f64 * SIGN + BEHIND;
            right < x(limit) && right + words > x(limit)
        });
        let (class, at) = if crossed { ("value before", left - BEHIND) } else { ("value", right + BEHIND) };
        let _ = writeln!(
            svg,
            "<text x=\"0\" y=\"{0:.1}\">{1}</text><rect class=\"{2}\" x=\"{left:.1}\" y=\"{3:.1}\" width=\"{4:.1}\" \
             height=\"{5:.1}\"/><text class=\"{8}\" x=\"{6:.1}\" y=\"{0:.1}\">{7}</text>",
            y + ROW * 0.72,
            escaped(&shortened(bar.name)),
            bar.class,
            y + 3.0,
            (right - left).max(1.0),
            ROW - 6.0,
            at,
            escaped(&bar.value),
            class,
        );
    }
    svg + "</svg>"
}

/// A name that fits before the bars.
fn shortened(name: &str) -> String {
    if name.chars().count() <= LONGEST {
        return name.to_owned();
    }
    name.chars().take(LONGEST - 1).chain(['\u{2026}']).collect()
}
