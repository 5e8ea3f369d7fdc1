//! Where a text fits: inside an outline, clear of its openings and if possible of its holes.
//!
//! Takes texts in order of preference and a [`Place`]; gives a [`Label`] whose box lies inside, shrunk or turned
//! where that helps, or nothing. Widths are estimated on the wide side, since the reader's font is unknown.

use super::canvas::Anchor;
use super::{Area, Paper, Spot};
use crate::export::label::{Ground, Region};
use crate::geom::Path;
use crate::geom::tolerance::SAME_LENGTH;

/// Height of a line against the size of the font.
const LINE: f64 = 1.2;

/// Share of the size that letters reach above the baseline; the rest of it lies below. Of the common
/// sans-serif fonts, whose letters reach from -0.24 to 0.76 (from memory).
const ASCENT: f64 = 0.76;

/// Sizes that are tried, as shares of the preferred one.
const SHARES: [f64; 4] = [1.0, 0.9, 0.8, 0.7];

/// Steps from the middle in which a free place is looked for, each way.
const STEPS: i32 = 6;

/// A text of one or more lines, placed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Label {
    /// From top to bottom.
    pub(crate) lines: Vec<String>,
    /// Middle of all lines.
    pub(crate) centre: Spot,
    /// mm. Size of the font.
    pub(crate) size: f64,
    /// Turned by a quarter, read from the right.
    pub(crate) upright: bool,
}

impl Label {
    /// The box that the text takes, estimated on the large side.
    pub(crate) fn area(&self) -> Area {
        let (width, height) = extent(&self.lines, self.size);
        let (width, height) = if self.upright { (height, width) } else { (width, height) };
        Area::new(self.centre, self.centre).inflate(width / 2.0, height / 2.0)
    }

    /// Each line with the place on its baseline that `anchor` names.
    pub(crate) fn placed_lines(&self, anchor: Anchor) -> Vec<(&str, Spot)> {
        let half = extent(&self.lines, self.size).0 / 2.0;
        let along = match anchor {
            Anchor::Middle => 0.0,
            Anchor::Start => -half,
            Anchor::End => half,
        };
        let moved = |base: Spot| {
            if self.upright { Spot::new(base.x, base.y + along) } else { Spot::new(base.x + along, base.y) }
        };
        self.lines.iter().map(String::as_str).zip(self.baselines().map(moved)).collect()
    }

    /// Middle of the baseline of each line.
    fn baselines(&self) -> impl Iterator<Item = Spot> + '_ {
        let height = extent(&self.lines, self.size).1;
        (0..self.lines.len()).map(move |i| {
            let down = self.size * (ASCENT + LINE * i as f64) - height / 2.0;
            if self.upright {
                Spot::new(self.centre.x + down, self.centre.y)
            } else {
                Spot::new(self.centre.x, self.centre.y - down)
            }
        })
    }
}

/// Where a label may go.
#[derive(Clone, Debug)]
pub(super) struct Place {
    bounds: Area,
    ground: Ground<Paper>,
}

impl Place {
    /// Inside an outline, outside its openings, and off its holes where it can be.
    pub(super) fn new(region: Region<Paper>) -> Self {
        let (low, high) = region.outline.bounds();
        Place { bounds: Area::new(low, high), ground: Ground::new(region) }
    }

    /// A rectangle less what others cover of it.
    pub(super) fn rectangle(bounds: Area, covered: impl IntoIterator<Item = Area>) -> Self {
        let Area { min, max } = bounds;
        Place::partly_covered(Path::rectangle(min.x, min.y, max.x, max.y), covered)
    }

    /// An outline less what others cover of it.
    pub(super) fn partly_covered(outline: Path<Paper>, covered: impl IntoIterator<Item = Area>) -> Self {
        let path = |Area { min, max }: Area| Path::rectangle(min.x, min.y, max.x, max.y);
        let openings = covered.into_iter().map(path).collect();
        Place::new(Region { outline, openings, circles: Vec::new() })
    }

    /// Whether a box lies inside the outline and outside all openings.
    pub(super) fn holds(&self, shape: Area) -> bool {
        self.ground.holds(shape.center(), shape.size().to_vector() / 2.0)
    }

    fn is_clear_of_holes(&self, shape: Area) -> bool {
        self.ground.is_clear_of_holes(shape.center(), shape.size().to_vector() / 2.0)
    }

    /// The first of `texts` that fits, as large as possible up to `size`, with a margin around it. A smaller text
    /// clear of the holes goes before a larger one across them.
    pub(super) fn fit(&self, texts: &[Vec<String>], size: f64) -> Option<Label> {
        [true, false]
            .into_iter()
            .find_map(|clear| SHARES.iter().find_map(|share| self.fit_at(texts, size * share, clear)))
    }

    /// A text that must stand here, as small as it takes; nothing only if there is no place at all.
    pub(super) fn squeeze(&self, text: &str, size: f64) -> Option<Label> {
        let texts = [vec![text.to_owned()]];
        (0..12).map(|step| size * 0.75_f64.powi(step)).find_map(|size| self.fit_at(&texts, size, false))
    }

    fn fit_at(&self, texts: &[Vec<String>], size: f64, clear_of_holes: bool) -> Option<Label> {
        [false, true].into_iter().find_map(|upright| {
            texts.iter().find_map(|lines| {
                let label = Label { lines: lines.clone(), centre: self.bounds.center(), size, upright };
                self.free_spot(label, clear_of_holes)
            })
        })
    }

    /// The label moved to the free spot that is nearest the middle.
    fn free_spot(&self, mut label: Label, clear_of_holes: bool) -> Option<Label> {
        let margin = label.size * 0.2;
        let slack = (self.bounds.size() - label.area().size()) / 2.0;
        if slack.width < margin || slack.height < margin {
            return None;
        }
        let mut steps: Vec<(i32, i32)> =
            (-STEPS..=STEPS).flat_map(|i| (-STEPS..=STEPS).map(move |j| (i, j))).collect();
        steps.sort_by_key(|&(i, j)| (i * i + j * j, -j, i));
        let middle = self.bounds.center();
        steps.into_iter().find_map(|(i, j)| {
            let share = |step: i32| f64::from(step) / f64::from(STEPS);
            label.centre = Spot::new(middle.x + slack.width * share(i), middle.y + slack.height * share(j));
            let shape = label.area().inflate(margin * 0.99, margin * 0.99);
            let free = self.holds(shape) && (!clear_of_holes || self.is_clear_of_holes(shape));
            free.then(|| label.clone())
        })
    }
}

/// Estimated width of a text in mm: letters as wide as in the widest common sans-serif fonts (from memory), and
/// wider for what is neither a letter nor a digit of ASCII.
pub(crate) fn text_width(text: &str, size: f64) -> f64 {
    let widths = text.chars().map(|c| match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 0.40,
        'f' | 'r' | 't' | '-' | '/' | '(' | ')' | '[' | ']' | 'I' => 0.46,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 1.05,
        'a'..='z' | '0'..='9' => 0.66,
        'A'..='Z' => 0.82,
        c if c.is_ascii() => 0.85,
        _ => 1.05,
    });
    widths.sum::<f64>() * size
}

/// A line that must stand in so many mm: made smaller from the first of `sizes` down to the second, then cut short, as far as the
/// estimate of [`text_width`] goes. The line and its size.
pub(crate) fn fitted(line: &str, (size, least): (f64, f64), room: f64) -> (String, f64) {
    let wide = text_width(line, size);
    let size = if wide <= room { size } else { (size * room / wide).max(least) };
    let mut line = line.to_owned();
    // Made to fit exactly, it may be wider by the last digit.
    while text_width(&line, size) > room + SAME_LENGTH && line.chars().count() > 2 {
        line = line.chars().take(line.chars().count() - 2).chain(['\u{2026}']).collect();
    }
    (line, size)
}

/// Lines no wider than `room` by what `width` says of a line: broken at spaces, else after the signs that names are made of, else
/// anywhere. Line feeds begin lines.
pub(crate) fn wrapped(text: &str, room: f64, width: impl Fn(&str) -> f64) -> Vec<String> {
    let wide = |line: &str| width(line.trim_end());
    let first = |line: &str, n: usize| line.chars().take(n).collect::<String>();
    let mut lines = Vec::new();
    for part in text.split('\n') {
        let mut line = String::new();
        for word in pieces(part) {
            if !line.is_empty() && wide(&(line.clone() + word)) > room {
                lines.push(std::mem::take(&mut line).trim_end().to_owned());
            }
            line.push_str(word);
            while wide(&line) > room && line.chars().count() > 1 {
                let fitting = (1..line.chars().count()).rev().find(|&n| wide(&first(&line, n)) <= room);
                let head = first(&line, fitting.unwrap_or(1));
                line = line[head.len()..].to_owned();
                lines.push(head);
            }
        }
        lines.push(line.trim_end().to_owned());
    }
    lines
}

/// Pieces of a text that stay whole while there is room: words, and names up to their hyphens.
pub(crate) fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split_inclusive([' ', '-', '\n', '/', '+'])
}

/// Width and height of some lines.
fn extent(lines: &[String], size: f64) -> (f64, f64) {
    let width = lines.iter().map(|line| text_width(line, size)).fold(0.0, f64::max);
    (width, size * (1.0 + LINE * (lines.len() as f64 - 1.0)))
}

/// A name in `n` lines of about the same length, broken after hyphens; in fewer if it has no more hyphens.
pub(crate) fn broken(name: &str, n: usize) -> Vec<String> {
    let pieces: Vec<&str> = name.split_inclusive('-').collect();
    let longest = name.chars().count();
    let fill = |limit: usize| {
        let mut lines: Vec<String> = Vec::new();
        for piece in &pieces {
            match lines.last_mut() {
                Some(line) if line.chars().count() + piece.chars().count() <= limit => line.push_str(piece),
                _ => lines.push((*piece).to_owned()),
            }
        }
        lines
    };
    (longest.div_ceil(n.max(1))..longest)
        .map(fill)
        .find(|lines| lines.len() <= n)
        .unwrap_or_else(|| fill(longest))
}

#[cfg(test)]
mod tests {
    use super::super::area;
    use super::*;

    fn text(text: &str) -> Vec<Vec<String>> {
        vec![vec![text.to_owned()]]
    }

    #[test]
    fn a_label_stands_in_the_middle_if_it_can() {
        let label = Place::rectangle(area(0.0, 0.0, 200.0, 40.0), []).fit(&text("side-left"), 10.0).unwrap();
        assert_eq!((label.centre, label.size, label.upright), (Spot::new(100.0, 20.0), 10.0, false));
    }

    #[test]
    fn it_is_turned_or_shrunk_or_left_out() {
        let fit = |width, height| {
            let place = Place::rectangle(area(0.0, 0.0, width, height), []);
            place.fit(&text("side-left"), 10.0).map(|label| (label.size, label.upright))
        };
        assert_eq!(fit(20.0, 200.0), Some((10.0, true)));
        assert_eq!(fit(49.0, 20.0).map(|fit| fit.0 < 10.0), Some(true));
        assert_eq!(fit(30.0, 20.0), None);
    }

    #[test]
    fn it_keeps_off_openings_and_holes() {
        let rectangle = |x0, y0, x1, y1| Path::rectangle(x0, y0, x1, y1);
        let place = Place::new(Region {
            outline: rectangle(0.0, 0.0, 200.0, 100.0),
            openings: vec![rectangle(90.0, 45.0, 110.0, 55.0)],
            circles: vec![(Spot::new(100.0, 80.0), 10.0)],
        });
        let area = place.fit(&text("side-left"), 10.0).unwrap().area();
        assert!(place.holds(area) && place.is_clear_of_holes(area), "{area:?}");
        assert!(!area.contains(Spot::new(100.0, 50.0)) && !area.contains(Spot::new(100.0, 80.0)));
    }

    #[test]
    fn a_box_over_a_notch_is_not_held() {
        let corners = [
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 50.0),
            (60.0, 50.0),
            (60.0, 20.0),
            (40.0, 20.0),
            (40.0, 50.0),
            (0.0, 50.0),
        ];
        let outline = Path::polygon(corners.map(|(x, y)| Spot::new(x, y)));
        let place = Place::new(Region { outline, openings: vec![], circles: vec![] });
        assert!(!place.holds(area(30.0, 25.0, 70.0, 45.0)));
        assert!(!place.holds(area(45.0, 30.0, 55.0, 40.0)), "wholly in the notch");
        assert!(place.holds(area(5.0, 2.0, 95.0, 18.0)));
    }

    #[test]
    fn a_line_is_made_smaller_before_it_is_cut_short() {
        for room in [20.0, 17.3, 11.1, 9.7] {
            let (line, size) = fitted("main-tools-box-right", (3.6, 0.1), room);
            assert!(line == "main-tools-box-right" && size <= 3.6, "{line} {size}");
        }
        let (line, size) = fitted("main-tools-box-right", (3.6, 3.0), 20.0);
        assert!(line.ends_with('\u{2026}') && (size - 3.0).abs() < 1e-9 && text_width(&line, size) <= 20.0);
    }

    #[test]
    fn lines_are_broken_where_they_may_be_and_lose_nothing() {
        let signs = |line: &str| line.chars().count() as f64;
        assert_eq!(wrapped("a name-in-pieces", 7.0, signs), ["a name-", "in-", "pieces"]);
        assert_eq!(wrapped("unbreakable", 4.0, signs), ["unbr", "eaka", "ble"]);
        assert_eq!(wrapped("a\nb", 4.0, signs), ["a", "b"]);
    }

    #[test]
    fn names_break_after_hyphens_into_lines_of_like_length() {
        assert_eq!(broken("main-drawer-1-box-left", 2), ["main-drawer-", "1-box-left"]);
        assert_eq!(broken("deck", 3), ["deck"]);
    }
}
