//! What is free on one sheet, as the list of its largest free rectangles.
//!
//! Takes rectangles one by one and finds a place for each; never moves one that lies. Nothing that is free
//! outside the list's rectangles is lost: every free place lies within at least one of them.

use super::problem::Size;

/// A rectangle on the sheet, micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rect {
    /// Left edge.
    pub(super) x: i64,
    /// Lower edge.
    pub(super) y: i64,
    /// Extent.
    pub(super) size: Size,
}

impl Rect {
    fn right(self) -> i64 {
        self.x + self.size.width
    }

    fn top(self) -> i64 {
        self.y + self.size.height
    }

    fn overlaps(self, other: Rect) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.top() && other.y < self.top()
    }

    fn contains(self, other: Rect) -> bool {
        self.x <= other.x && self.y <= other.y && self.right() >= other.right() && self.top() >= other.top()
    }

    /// What is left of this rectangle beside, below and above `taken`: up to four largest rectangles.
    fn without(self, taken: Rect) -> impl Iterator<Item = Rect> {
        let Size { width, height } = self.size;
        let left = Rect { size: Size { width: taken.x - self.x, height }, ..self };
        let right =
            Rect { x: taken.right(), size: Size { width: self.right() - taken.right(), height }, ..self };
        let below = Rect { size: Size { width, height: taken.y - self.y }, ..self };
        let above = Rect { y: taken.top(), size: Size { width, height: self.top() - taken.top() }, ..self };
        [left, right, below, above].into_iter().filter(|rect| rect.size.width > 0 && rect.size.height > 0)
    }
}

/// How a place is chosen among those that are large enough. Less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    /// The place whose shorter remainder is least.
    ShortSide,
    /// The place with the least area to spare.
    Area,
    /// The place whose upper edge ends lowest.
    Low,
    /// The place whose right edge ends leftmost.
    Left,
}

/// How good a place is: compared in order, less is better.
pub(super) type Score = (i64, i64, i64, i64);

/// The free room of one sheet.
#[derive(Clone, Debug)]
pub(super) struct FreeSpace {
    free: Vec<Rect>,
}

impl FreeSpace {
    /// An empty sheet.
    pub(super) fn new(bin: Size) -> Self {
        FreeSpace { free: vec![Rect { x: 0, y: 0, size: bin }] }
    }

    /// The best place for a rectangle of this size.
    pub(super) fn find(&self, size: Size, fit: Fit) -> Option<(Score, Rect)> {
        self.free
            .iter()
            .filter(|free| size.within(free.size))
            .map(|free| (score(free, size, fit), Rect { size, ..*free }))
            .min_by_key(|(score, _)| *score)
    }

    /// Takes the rectangle out of the free room.
    pub(super) fn occupy(&mut self, taken: Rect) {
        let (hit, kept): (Vec<Rect>, Vec<Rect>) =
            std::mem::take(&mut self.free).into_iter().partition(|free| free.overlaps(taken));
        self.free = kept;
        let pieces: Vec<Rect> = hit.into_iter().flat_map(|free| free.without(taken)).collect();
        // A piece never contains a rectangle that was kept: it lies within one that did not.
        for (i, piece) in pieces.iter().enumerate() {
            let within_other = pieces
                .iter()
                .enumerate()
                .any(|(j, other)| j != i && other.contains(*piece) && (other != piece || j < i));
            if !within_other && !self.free.iter().any(|other| other.contains(*piece)) {
                self.free.push(*piece);
            }
        }
    }

    /// Area of the largest free rectangle: what could be kept as an offcut.
    pub(super) fn largest(&self) -> i128 {
        self.free.iter().map(|rect| rect.size.area()).max().unwrap_or(0)
    }
}

fn score(free: &Rect, size: Size, fit: Fit) -> Score {
    let (along, across) = (free.size.width - size.width, free.size.height - size.height);
    let (short, long) = (along.min(across), along.max(across));
    match fit {
        Fit::ShortSide => (short, long, free.y, free.x),
        // Both areas are below 1e18 square micrometres (a square kilometre).
        Fit::Area => {
            let spare = free.size.width * free.size.height - size.width * size.height;
            (spare, short, free.y, free.x)
        }
        Fit::Low => (free.y + size.height, free.x, free.y, short),
        Fit::Left => (free.x + size.width, free.y, free.x, short),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rect(x: i64, y: i64, width: i64, height: i64) -> Rect {
        Rect { x, y, size: Size { width, height } }
    }

    #[test]
    fn a_rectangle_in_the_middle_leaves_four() {
        let mut space = FreeSpace::new(Size { width: 10, height: 8 });
        space.occupy(rect(3, 2, 4, 4));
        assert_eq!(space.free, [rect(0, 0, 3, 8), rect(7, 0, 3, 8), rect(0, 0, 10, 2), rect(0, 6, 10, 2)]);
        assert_eq!(space.largest(), 24);
    }

    #[test]
    fn each_rule_takes_its_place() {
        let mut space = FreeSpace::new(Size { width: 10, height: 10 });
        space.occupy(rect(0, 0, 6, 7));
        // Free: 4 x 10 on the right, 10 x 3 above.
        let place = |fit| space.find(Size { width: 4, height: 2 }, fit).map(|(_, rect)| (rect.x, rect.y));
        assert_eq!(place(Fit::Low), Some((6, 0)));
        assert_eq!(place(Fit::Left), Some((0, 7)));
        assert_eq!(place(Fit::ShortSide), Some((6, 0)));
        assert_eq!(place(Fit::Area), Some((0, 7)));
        assert_eq!(space.find(Size { width: 5, height: 4 }, Fit::Low), None);
    }

    proptest! {
        /// Against the plain answer: a size has a place exactly if some position of it meets nothing taken.
        #[test]
        fn nothing_free_is_lost(
            sizes in prop::collection::vec((1_i64..6, 1_i64..6), 1..9), probe in (1_i64..8, 1_i64..8),
        ) {
            let bin = Size { width: 9, height: 8 };
            let mut space = FreeSpace::new(bin);
            let mut taken: Vec<Rect> = Vec::new();
            for (i, &(width, height)) in sizes.iter().enumerate() {
                let fit = [Fit::ShortSide, Fit::Area, Fit::Low, Fit::Left][i % 4];
                if let Some((_, place)) = space.find(Size { width, height }, fit) {
                    prop_assert!(taken.iter().all(|other| !other.overlaps(place)));
                    space.occupy(place);
                    taken.push(place);
                }
            }
            let free = |x: i64, y: i64| {
                let place = rect(x, y, probe.0, probe.1);
                place.right() <= bin.width && place.top() <= bin.height
                    && taken.iter().all(|other| !other.overlaps(place))
            };
            let plain = (0..9).any(|x| (0..8).any(|y| free(x, y)));
            let found = space.find(Size { width: probe.0, height: probe.1 }, Fit::Low).is_some();
            prop_assert_eq!(found, plain);
        }
    }
}
