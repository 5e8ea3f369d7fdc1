//! What the search asks of a sheet, however it will be cut.
//!
//! A room is one sheet with rectangles on it; it finds a place for another, takes it in, and gives some up
//! again. [`FreeSpace`](super::free_space::FreeSpace) is the room of a router,
//! [`Slices`](super::slices::Slices) that of a panel saw. A room never moves rectangles to another sheet.

use super::bin::Bin;
use super::items::Items;
use super::problem::Size;
use super::random::Random;

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

/// Now and then leaves a place out of account, so that a greedy choice differs from one time to the next.
/// "Blinks" in Christiaens and Vanden Berghe's ruin and recreate (from memory).
#[derive(Debug)]
pub(super) enum Blink<'a> {
    /// Every place is seen.
    Never,
    /// Each place is overlooked once in so many times.
    OneIn(&'a mut Random, usize),
}

impl Blink<'_> {
    /// One of so many; the first if nothing is left to chance.
    pub(super) fn pick(&mut self, number: usize) -> usize {
        match self {
            Blink::Never => 0,
            Blink::OneIn(random, _) => random.below(number),
        }
    }

    /// Whether to overlook the place at hand.
    pub(super) fn blinks(&mut self) -> bool {
        match self {
            Blink::Never => false,
            Blink::OneIn(random, times) => random.chance(1, *times),
        }
    }
}

/// One sheet with rectangles on it, known by a number that the caller gives each.
pub(super) trait Room: Clone + Send + Sync {
    /// A place for one rectangle.
    type Place: Copy;

    /// An empty sheet of the kind.
    fn empty(bin: &Bin) -> Self;

    /// The number of its kind.
    fn kind(&self) -> usize;

    /// The best place for a rectangle of this size as it lies.
    fn find(&self, size: Size, fit: Fit, blink: &mut Blink) -> Option<(Score, Self::Place)>;

    /// Puts a rectangle where [`Room::find`] found a place for its size, nothing having changed since.
    fn insert(&mut self, item: usize, size: Size, place: Self::Place);

    /// About `number` rectangles that lie together.
    fn neighbours(&self, number: usize, random: &mut Random) -> Vec<usize>;

    /// Takes these rectangles off the sheet.
    fn remove(&mut self, items: &[usize]);

    /// A sheet of the kind with some of these rectangles, packed as densely as the kind of room knows how, and their
    /// weight; none if that is less than `least` or if the kind of room knows no such way.
    fn densest(_: &Items, _: &Bin, _: &[usize], _least: i64, _: &mut Random) -> Option<(i64, Self)> {
        None
    }

    /// The rectangles on it.
    fn laid(&self) -> Vec<Laid>;

    /// Free rectangles, the largest among them: what could be kept as an offcut. They may overlap.
    fn unused(&self) -> Vec<Rect>;
}

/// A rectangle on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Laid {
    /// The caller's number for it.
    pub(super) item: usize,
    /// Where it lies.
    pub(super) rect: Rect,
}

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
    /// Right edge.
    pub(super) fn right(self) -> i64 {
        self.x + self.size.width
    }

    /// Upper edge.
    pub(super) fn top(self) -> i64 {
        self.y + self.size.height
    }

    /// The same with the two directions changed about.
    pub(super) fn mirrored(self) -> Rect {
        Rect { x: self.y, y: self.x, size: self.size.turned() }
    }

    /// Whether the two have more than edges in common.
    pub(super) fn overlaps(self, other: Rect) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.top() && other.y < self.top()
    }

    /// Whether the other lies within this one.
    pub(super) fn contains(self, other: Rect) -> bool {
        self.x <= other.x && self.y <= other.y && self.right() >= other.right() && self.top() >= other.top()
    }
}

/// So many rectangles nearest to the middle of one of them, that one among them.
pub(super) fn around_one(laid: &[Laid], number: usize, random: &mut Random) -> Vec<usize> {
    let Some(first) = laid.get(random.below(laid.len())) else { return Vec::new() };
    // From one rectangle's middle to the others, doubled to stay whole.
    let (x, y) = (first.rect.x + first.rect.right(), first.rect.y + first.rect.top());
    let apart = |low: i64, high: i64, at: i64| (2 * low - at).max(at - 2 * high).max(0);
    let distance = |rect: Rect| apart(rect.x, rect.right(), x).max(apart(rect.y, rect.top(), y));
    let mut near: Vec<(i64, usize)> = laid.iter().map(|laid| (distance(laid.rect), laid.item)).collect();
    let number = number.min(near.len());
    if number < near.len() {
        near.select_nth_unstable(number);
    }
    near[..number].iter().map(|&(_, item)| item).collect()
}
