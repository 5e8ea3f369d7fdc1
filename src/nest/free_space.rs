//! What is free on one sheet, as the list of its largest free rectangles.
//!
//! Takes rectangles one by one and finds a place for each; never moves one that lies. Nothing that is free
//! outside the list's rectangles is lost: every free place lies within at least one of them.

use super::bin::Bin;
use super::items::Items;
use super::problem::Size;
use super::random::Random;
use super::repack;
use super::room::{Blink, Fit, Laid, Rect, Room, Score, around_one};
use std::sync::Arc;

/// The free room of one sheet and what lies on it.
#[derive(Clone, Debug)]
pub(super) struct FreeSpace {
    kind: usize,
    /// What is free of an empty sheet.
    empty: Arc<[Rect]>,
    laid: Vec<Laid>,
    free: Vec<Rect>,
}

impl Room for FreeSpace {
    type Place = Rect;

    fn empty(bin: &Bin) -> Self {
        FreeSpace {
            kind: bin.number,
            empty: Arc::clone(&bin.free),
            laid: Vec::new(),
            free: bin.free.to_vec(),
        }
    }

    fn kind(&self) -> usize {
        self.kind
    }

    fn find(&self, size: Size, fit: Fit, blink: &mut Blink) -> Option<(Score, Rect)> {
        // Without a defect a packing is as good as its mirror image, so the lower left corner will do.
        let corner = if self.empty.len() > 1 { blink.pick(4) } else { 0 };
        self.free
            .iter()
            .filter(|free| size.within(free.size) && !blink.blinks())
            .map(|free| (score(free, size, fit), in_corner(*free, size, corner)))
            .min_by_key(|(score, _)| *score)
    }

    fn insert(&mut self, item: usize, _: Size, place: Rect) {
        self.laid.push(Laid { item, rect: place });
        self.occupy(place);
    }

    fn neighbours(&self, number: usize, random: &mut Random) -> Vec<usize> {
        around_one(&self.laid, number, random)
    }

    fn remove(&mut self, items: &[usize]) {
        self.laid.retain(|laid| !items.contains(&laid.item));
        self.free.clear();
        self.free.extend_from_slice(&self.empty);
        for i in 0..self.laid.len() {
            self.occupy(self.laid[i].rect);
        }
    }

    fn densest(
        items: &Items,
        bin: &Bin,
        some: &[usize],
        least: i64,
        random: &mut Random,
    ) -> Option<(i64, Self)> {
        // It knows nothing of defects.
        if !bin.taken.is_empty() {
            return None;
        }
        let (weight, laid) = repack::densest(items, bin.usable, some, least, random)?;
        let mut room = Self::empty(bin);
        for one in &laid {
            room.occupy(one.rect);
        }
        room.laid = laid;
        Some((weight, room))
    }

    fn laid(&self) -> Vec<Laid> {
        self.laid.clone()
    }

    fn unused(&self) -> Vec<Rect> {
        self.free.clone()
    }
}

/// The largest free rectangles of a sheet on which some is taken, even where what is taken overlaps.
pub(super) fn unoccupied(size: Size, taken: &[Rect]) -> Vec<Rect> {
    let all: Arc<[Rect]> = Arc::new([Rect { x: 0, y: 0, size }]);
    let mut space = FreeSpace { kind: 0, free: all.to_vec(), empty: all, laid: Vec::new() };
    for rect in taken {
        space.occupy(*rect);
    }
    space.free
}

impl FreeSpace {
    /// Takes the rectangle out of the free room.
    fn occupy(&mut self, taken: Rect) {
        let mut pieces: Vec<Rect> = Vec::with_capacity(16);
        self.free.retain(|free| {
            let hit = free.overlaps(taken);
            if hit {
                cut(*free, taken, &mut pieces);
            }
            !hit
        });
        let kept = self.free.len();
        // A piece never contains a rectangle that was kept: it lies within one that did not.
        for (i, piece) in pieces.iter().enumerate() {
            let within_other = pieces
                .iter()
                .enumerate()
                .any(|(j, other)| j != i && other.contains(*piece) && (other != piece || j < i));
            if !within_other && !self.free[..kept].iter().any(|other| other.contains(*piece)) {
                self.free.push(*piece);
            }
        }
    }
}

/// What is left of a free rectangle beside, below and above `taken`: up to four largest rectangles.
fn cut(free: Rect, taken: Rect, pieces: &mut Vec<Rect>) {
    let Size { width, height } = free.size;
    if taken.x > free.x {
        pieces.push(Rect { size: Size { width: taken.x - free.x, height }, ..free });
    }
    if free.right() > taken.right() {
        let size = Size { width: free.right() - taken.right(), height };
        pieces.push(Rect { x: taken.right(), size, ..free });
    }
    if taken.y > free.y {
        pieces.push(Rect { size: Size { width, height: taken.y - free.y }, ..free });
    }
    if free.top() > taken.top() {
        let size = Size { width, height: free.top() - taken.top() };
        pieces.push(Rect { y: taken.top(), size, ..free });
    }
}

/// A rectangle in one of the four corners of a free one: 0 is the lower left.
fn in_corner(free: Rect, size: Size, corner: usize) -> Rect {
    let x = if corner.is_multiple_of(2) { free.x } else { free.right() - size.width };
    let y = if corner < 2 { free.y } else { free.top() - size.height };
    Rect { x, y, size }
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
        let mut space = FreeSpace::empty(&Bin::plain(Size { width: 10, height: 8 }));
        space.occupy(rect(3, 2, 4, 4));
        assert_eq!(
            space.unused(),
            [rect(0, 0, 3, 8), rect(7, 0, 3, 8), rect(0, 0, 10, 2), rect(0, 6, 10, 2)]
        );
    }

    #[test]
    fn each_rule_takes_its_place() {
        let mut space = FreeSpace::empty(&Bin::plain(Size { width: 10, height: 10 }));
        space.occupy(rect(0, 0, 6, 7));
        // Free: 4 x 10 on the right, 10 x 3 above.
        let place = |fit| {
            space.find(Size { width: 4, height: 2 }, fit, &mut Blink::Never).map(|(_, rect)| (rect.x, rect.y))
        };
        assert_eq!(place(Fit::Low), Some((6, 0)));
        assert_eq!(place(Fit::Left), Some((0, 7)));
        assert_eq!(place(Fit::ShortSide), Some((6, 0)));
        assert_eq!(place(Fit::Area), Some((0, 7)));
        assert_eq!(space.find(Size { width: 5, height: 4 }, Fit::Low, &mut Blink::Never), None);
    }

    proptest! {
        /// Against the plain answer: a size has a place exactly if some position of it meets nothing taken.
        #[test]
        fn nothing_free_is_lost(
            sizes in prop::collection::vec((1_i64..6, 1_i64..6), 1..9), probe in (1_i64..8, 1_i64..8),
        ) {
            let bin = Size { width: 9, height: 8 };
            let mut space = FreeSpace::empty(&Bin::plain(bin));
            let mut taken: Vec<Rect> = Vec::new();
            for (i, &(width, height)) in sizes.iter().enumerate() {
                let fit = [Fit::ShortSide, Fit::Area, Fit::Low, Fit::Left][i % 4];
                if let Some((_, place)) = space.find(Size { width, height }, fit, &mut Blink::Never) {
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
            let found = space.find(Size { width: probe.0, height: probe.1 }, Fit::Low, &mut Blink::Never).is_some();
            prop_assert_eq!(found, plain);
        }
    }
}
