//! Where a name can be written on a part so that it covers no hole, no opening and no edge.
//!
//! Takes a region (outline, openings, round holes) and a text, gives place, height and lines. Tries large
//! letters first, on one line or two, along or across; widths are estimates on the safe side, since the font is
//! the reader's.

use crate::geom::{Path, Point2, Vector2};

/// Heights of capitals that are tried, mm.
const HEIGHTS: [f64; 10] = [20.0, 16.0, 13.0, 10.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0];

/// Height of capitals where no height leaves the holes clear, mm.
const LEAST_HEIGHT: f64 = 2.0;

/// Width of a letter with its space, in heights of a capital. Wider than common sans-serif fonts run (0.84,
/// measured on one) and than most stroke fonts of DXF readers.
const LETTER: f64 = 0.95;

/// Height of a line from descender to accent, in heights of a capital.
const LINE: f64 = 1.5;

/// Distance between two lines, in heights of a capital.
const PITCH: f64 = 1.6;

/// mm that stay free around a text, at least.
const AROUND: f64 = 2.0;

/// Stations along each side of the region that are tried.
const STATIONS: u32 = 25;

/// mm that a chord may leave its arc; far below [`AROUND`].
const CHORD: f64 = 0.1;

/// Where a text may go.
#[derive(Clone, Debug)]
pub(crate) struct Region<F> {
    /// Outer contour.
    pub(crate) outline: Path<F>,
    /// What is cut out or taken by something else.
    pub(crate) openings: Vec<Path<F>>,
    /// Round holes: centre and largest diameter, mm.
    pub(crate) circles: Vec<(Point2<F>, f64)>,
}

/// A text with its place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Label<F> {
    /// Middle of all lines together.
    pub(crate) centre: Point2<F>,
    /// Height of the capitals, mm.
    pub(crate) height: f64,
    /// Whether it reads upwards, along the second axis, instead of along the first.
    pub(crate) upright: bool,
    /// What it says, from the top.
    pub(crate) lines: Vec<String>,
}

impl<F> Label<F> {
    /// mm along the two axes that the text takes at most.
    pub(crate) fn extent(&self) -> Vector2<F> {
        let longest = self.lines.iter().map(|line| line.chars().count()).max().unwrap_or(0);
        let length = longest as f64 * LETTER * self.height;
        let width = (LINE + self.lines.len().saturating_sub(1) as f64 * PITCH) * self.height;
        if self.upright { Vector2::new(width, length) } else { Vector2::new(length, width) }
    }

    /// How far each line's middle lies above the middle of the text, mm, from the first line on.
    pub(crate) fn rises(&self) -> impl Iterator<Item = f64> + '_ {
        let last = self.lines.len().saturating_sub(1) as f64;
        (0..self.lines.len()).map(move |i| (last / 2.0 - i as f64) * PITCH * self.height)
    }
}

/// The largest clear place for `text`, as near to the middle as there is one; if there is none, the most
/// interior point, in small letters.
pub(crate) fn place<F: Copy>(region: &Region<F>, text: &str) -> Label<F> {
    let ground = Ground::new(region.clone());
    let stations = stations(&region.outline);
    let clear = |centre, half| ground.is_clear_of_holes(centre, half) && ground.holds(centre, half);
    let forms: Vec<Vec<String>> =
        std::iter::once(vec![text.to_owned()]).chain(halves(text).map(Vec::from)).collect();
    for height in HEIGHTS {
        for upright in [false, true] {
            for lines in &forms {
                let label = Label { centre: Point2::origin(), height, upright, lines: lines.clone() };
                let half = label.extent() / 2.0 + Vector2::new(AROUND, AROUND);
                if let Some(&centre) = stations.iter().find(|&&centre| clear(centre, half)) {
                    return Label { centre, ..label };
                }
            }
        }
    }
    let centre = ground.most_interior(&stations);
    Label { centre, height: LEAST_HEIGHT, upright: false, lines: vec![text.to_owned()] }
}

/// The text in two lines, broken after the hyphen or blank nearest to its middle, but not before a number, which
/// belongs to the word before it.
fn halves(text: &str) -> Option<[String; 2]> {
    let breaks = text.char_indices().filter(|(_, c)| matches!(c, '-' | ' ')).map(|(at, _)| at + 1);
    let begins_word = |at: &usize| text[*at..].starts_with(|c: char| !c.is_ascii_digit());
    let at = breaks.filter(begins_word).min_by_key(|&at| text.len().abs_diff(2 * at))?;
    Some([text[..at].trim_end().to_owned(), text[at..].to_owned()])
}

/// Where a text's middle may come, from the middle of the region outwards.
fn stations<F: Copy>(outline: &Path<F>) -> Vec<Point2<F>> {
    let (low, high) = outline.bounds();
    let size = high - low;
    let share = |i: u32| f64::from(i) / f64::from(STATIONS + 1);
    let mut stations: Vec<Point2<F>> = (1..=STATIONS)
        .flat_map(|i| (1..=STATIONS).map(move |j| (i, j)))
        .map(|(i, j)| low + Vector2::new(size.x * share(i), size.y * share(j)))
        .collect();
    let middle = low + size / 2.0;
    // On the grid of micrometres, so that stations at one distance keep their order on every machine.
    let key = |p: &Point2<F>| crate::geom::snap((*p - middle).length());
    stations.sort_by(|a, b| key(a).total_cmp(&key(b)));
    stations
}

/// A region made ready for many questions about texts.
#[derive(Clone, Debug)]
pub(crate) struct Ground<F> {
    region: Region<F>,
    /// All sides of all contours, arcs as chords.
    sides: Vec<(Point2<F>, Point2<F>)>,
}

impl<F: Copy> Ground<F> {
    /// The region, made ready.
    pub(crate) fn new(region: Region<F>) -> Self {
        let mut sides = Vec::new();
        for path in std::iter::once(&region.outline).chain(&region.openings) {
            let points = path.flattened(CHORD);
            sides.extend((0..points.len()).map(|i| (points[i], points[(i + 1) % points.len()])));
        }
        Ground { region, sides }
    }

    /// Whether the rectangle with these half sides lies inside the outline and outside all openings.
    pub(crate) fn holds(&self, centre: Point2<F>, half: Vector2<F>) -> bool {
        self.sides.iter().all(|&(a, b)| !crosses(a - centre, b - centre, half)) && self.is_material(centre)
    }

    /// Whether the rectangle with these half sides lies clear of all round holes.
    pub(crate) fn is_clear_of_holes(&self, centre: Point2<F>, half: Vector2<F>) -> bool {
        self.region.circles.iter().all(|&(hole, diameter)| {
            let away = (hole - centre).abs() - half;
            Vector2::<F>::new(away.x.max(0.0), away.y.max(0.0)).length() >= diameter / 2.0
        })
    }

    /// Whether a point lies in the outline and in no opening.
    fn is_material(&self, p: Point2<F>) -> bool {
        self.region.outline.contains(p) && !self.region.openings.iter().any(|opening| opening.contains(p))
    }

    /// The one of these points that is farthest from every contour and hole; the middle if none is in material.
    fn most_interior(&self, stations: &[Point2<F>]) -> Point2<F> {
        let room = |p: Point2<F>| {
            let contours = std::iter::once(&self.region.outline).chain(&self.region.openings);
            let to_contour = contours.map(|path| path.distance_to(p)).fold(f64::INFINITY, f64::min);
            let to_holes = self.region.circles.iter().map(|&(hole, d)| (hole - p).length() - d / 2.0);
            to_holes.fold(to_contour, f64::min)
        };
        let inside = stations.iter().copied().filter(|&p| self.is_material(p));
        // Of several the first, which is the one nearest to the middle.
        let best =
            inside.map(|p| (room(p), p)).reduce(|best, next| if next.0 > best.0 { next } else { best });
        let (low, high) = self.region.outline.bounds();
        best.map_or(low + (high - low) / 2.0, |(_, p)| p)
    }
}

/// Whether the segment from `a` to `b` enters the rectangle of these half sides around the origin: what is left
/// of the segment after cutting it at the rectangle's four lines.
fn crosses<F>(a: Vector2<F>, b: Vector2<F>, half: Vector2<F>) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, run, half) in [(a.x, b.x - a.x, half.x), (a.y, b.y - a.y, half.y)] {
        if run == 0.0 {
            if start.abs() > half {
                return false;
            }
        } else {
            let (one, other) = ((-half - start) / run, (half - start) / run);
            from = from.max(one.min(other));
            to = to.min(one.max(other));
        }
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;
    use crate::export::cut_files::region;
    use crate::geom::PanelFrame;

    type R = Region<PanelFrame>;

    fn board(length: f64, width: f64) -> R {
        Region { outline: Path::rectangle(0.0, 0.0, length, width), openings: vec![], circles: vec![] }
    }

    /// Samples of the text's rectangle all lie in material: another way to ask than the search's own.
    fn lies_clear(region: &R, label: &Label<PanelFrame>) -> bool {
        let half = label.extent() / 2.0;
        let steps = |half: f64| (half / 0.5).ceil().max(1.0);
        let (nx, ny) = (steps(half.x), steps(half.y));
        let mut x = -nx;
        while x <= nx {
            let mut y = -ny;
            while y <= ny {
                let p = label.centre + Vector2::new(half.x * x / nx, half.y * y / ny);
                let in_hole = region.circles.iter().any(|&(hole, d)| (hole - p).length() <= d / 2.0);
                let in_opening = region.openings.iter().any(|opening| opening.contains(p));
                if in_hole || in_opening || !region.outline.contains(p) {
                    return false;
                }
                y += 1.0;
            }
            x += 1.0;
        }
        true
    }

    #[test]
    fn every_name_of_every_kit_lies_in_its_panel_clear_of_holes() {
        for text in example_kits::ALL {
            for panel in &example_kits::finished(text).cut_set().workpieces {
                let region = region(panel);
                let label = place(&region, panel.name);
                assert!(label.height >= 4.0, "{}: {label:?}", panel.name);
                assert!(lies_clear(&region, &label), "{}: {label:?}", panel.name);
                assert_eq!(label.lines.concat(), panel.name);
            }
        }
    }

    #[test]
    fn an_empty_board_is_written_on_in_its_middle_as_large_as_can_be() {
        let label = place(&board(800.0, 300.0), "main-base");
        assert_eq!((label.height.to_bits(), label.upright, label.lines.len()), (20f64.to_bits(), false, 1));
        assert!((label.centre - Point2::new(400.0, 150.0)).length() < 1e-9);
    }

    #[test]
    fn a_name_is_turned_broken_or_made_smaller() {
        let name = "main-drawer-1-box-left";
        assert!(place(&board(60.0, 900.0), name).upright);
        assert_eq!(place(&board(320.0, 100.0), name).lines, ["main-drawer-1-", "box-left"]);
        let small = place(&board(130.0, 14.0), name);
        assert!(small.height < 8.0 && lies_clear(&board(130.0, 14.0), &small), "{small:?}");
    }

    #[test]
    fn without_any_room_the_name_stands_at_the_most_interior_point() {
        let mut region = board(30.0, 30.0);
        region.circles.push((Point2::new(15.0, 15.0), 16.0));
        let label = place(&region, "a-name-that-is-far-too-long-for-this");
        assert_eq!(label.height.to_bits(), LEAST_HEIGHT.to_bits());
        assert!((label.centre - Point2::new(15.0, 15.0)).length() > 8.0);
        assert!(region.outline.contains(label.centre));
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(96))]
        /// On boards down to the smallest and with holes at random a name either stands clear of every hole and
        /// edge, or no place for it was found and it is as small as can be, in material if there is any.
        #[test]
        fn a_name_stands_clear_or_small_in_the_material(
            length in 2_i32..60, width in 2_i32..30, letters in 1_usize..24,
            holes in proptest::collection::vec((0_i32..60, 0_i32..30, 1_i32..9), 0..14),
        ) {
            let mut region = board(f64::from(length) * 7.0, f64::from(width) * 7.0);
            for (x, y, d) in holes {
                region.circles.push((Point2::new(f64::from(x) * 7.0, f64::from(y) * 7.0), f64::from(d) * 3.0));
            }
            let name: String = "main-drawer-box-left-two".chars().take(letters).collect();
            let label = place(&region, &name);
            proptest::prop_assert!(label.height >= LEAST_HEIGHT);
            if label.height > LEAST_HEIGHT {
                proptest::prop_assert!(lies_clear(&region, &label), "{label:?}");
            } else {
                proptest::prop_assert!(region.outline.contains(label.centre));
                let in_hole = |&(hole, d): &(Point2<PanelFrame>, f64)| (hole - label.centre).length() < d / 2.0;
                let clear = stations(&region.outline).iter().any(|p| {
                    region.circles.iter().all(|&(hole, d)| (hole - *p).length() > d / 2.0)
                });
                proptest::prop_assert!(!clear || !region.circles.iter().any(in_hole), "{label:?}");
            }
        }
    }

    #[test]
    fn a_segment_crosses_a_rectangle_or_passes_it_by() {
        let half: Vector2<PanelFrame> = Vector2::new(10.0, 5.0);
        for (a, b, expected) in [
            ((-20.0, 0.0), (20.0, 0.0), true),
            ((-20.0, 6.0), (20.0, 6.0), false),
            ((1.0, 1.0), (2.0, 1.0), true),
            ((9.0, 7.0), (13.0, 3.0), false),
            ((8.0, 6.0), (12.0, 2.0), true),
            ((11.0, -9.0), (11.0, 9.0), false),
        ] {
            let vector = |(x, y): (f64, f64)| Vector2::new(x, y);
            assert_eq!(crosses(vector(a), vector(b), half), expected, "{a:?} {b:?}");
        }
    }
}
