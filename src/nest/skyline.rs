//! What is free on one sheet, as the line along the upper edges of what lies on it.
//!
//! Takes rectangles one by one and finds the lowest place on the line for each; room below the line is given
//! up. Coarser than the list of free rectangles, but it keeps what is left in one piece.

use super::free_space::{Rect, Score};
use super::problem::Size;

/// A level stretch of the line, micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Step {
    x: i64,
    y: i64,
    width: i64,
}

/// The line of one sheet, from the left edge to the right.
#[derive(Clone, Debug)]
pub(super) struct Skyline {
    bin: Size,
    steps: Vec<Step>,
}

impl Skyline {
    /// An empty sheet.
    pub(super) fn new(bin: Size) -> Self {
        Skyline { bin, steps: vec![Step { x: 0, y: 0, width: bin.width }] }
    }

    /// The place whose upper edge is lowest, then the one that gives up least room below it.
    pub(super) fn find(&self, size: Size) -> Option<(Score, Rect)> {
        (0..self.steps.len())
            .filter_map(|first| {
                let (y, lost) = self.resting(first, size.width)?;
                let x = self.steps[first].x;
                let rect = Rect { x, y, size };
                (y + size.height <= self.bin.height).then_some(((y + size.height, lost, x, y), rect))
            })
            .min_by_key(|(score, _)| *score)
    }

    /// Raises the line over a rectangle that rests on it.
    pub(super) fn occupy(&mut self, taken: Rect) {
        let (left, right) = (taken.x, taken.x + taken.size.width);
        let raised = Step { x: left, y: taken.y + taken.size.height, width: taken.size.width };
        let mut steps: Vec<Step> = Vec::with_capacity(self.steps.len() + 2);
        let mut push = |step: Step| match steps.last_mut() {
            Some(last) if last.y == step.y => last.width += step.width,
            _ => steps.push(step),
        };
        let mut pending = Some(raised);
        for step in &self.steps {
            let end = step.x + step.width;
            if step.x < left {
                push(Step { width: end.min(left) - step.x, ..*step });
            }
            if end > left
                && let Some(raised) = pending.take()
            {
                push(raised);
            }
            if end > right {
                let x = step.x.max(right);
                push(Step { x, width: end - x, ..*step });
            }
        }
        self.steps = steps;
    }

    /// The level on which a rectangle of this width rests if its left edge stands at the step `first`, and the
    /// room lost below it; `None` if it would stand out on the right.
    fn resting(&self, first: usize, width: i64) -> Option<(i64, i64)> {
        let left = self.steps[first].x;
        if left + width > self.bin.width {
            return None;
        }
        let under = || self.steps[first..].iter().take_while(|step| step.x < left + width);
        let y = under().map(|step| step.y).max()?;
        let lost =
            under().map(|step| (y - step.y) * ((step.x + step.width).min(left + width) - step.x)).sum();
        Some((y, lost))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_line_rises_and_levels_join() {
        let mut line = Skyline::new(Size { width: 10, height: 8 });
        for (width, height) in [(4, 3), (3, 3), (3, 2), (2, 1)] {
            let (_, place) = line.find(Size { width, height }).unwrap();
            line.occupy(place);
        }
        // 4 and 3 wide at level 3 join; on the last 3 at level 2 stands one more, 2 wide, up to level 3.
        assert_eq!(line.steps, [Step { x: 0, y: 3, width: 9 }, Step { x: 9, y: 2, width: 1 }]);
    }

    proptest! {
        #[test]
        fn places_never_overlap_and_stay_on_the_sheet(
            sizes in prop::collection::vec((1_i64..7, 1_i64..5), 1..20),
        ) {
            let bin = Size { width: 12, height: 11 };
            let mut line = Skyline::new(bin);
            let mut used = [[false; 12]; 11];
            for (width, height) in sizes {
                let Some((_, place)) = line.find(Size { width, height }) else { continue };
                line.occupy(place);
                for y in place.y..place.y + height {
                    for x in place.x..place.x + width {
                        let cell = &mut used[usize::try_from(y).unwrap()][usize::try_from(x).unwrap()];
                        prop_assert!(!*cell, "({x}, {y}) is taken twice");
                        *cell = true;
                    }
                }
                prop_assert_eq!(line.steps.iter().map(|step| step.width).sum::<i64>(), bin.width);
            }
        }
    }
}
