//! Packs one sheet anew, as densely as it can, from what lay on it and what is left over.
//!
//! Takes rectangles, gives places for some of them on one sheet. It goes by places rather than by rectangles: the
//! lowest gap is filled with what fits it best, and which of several goes first is a list that is changed by
//! exchanges for as long as the sheet gets no emptier. For sheets that many small rectangles share; the score is
//! like that of Leung, Zhang and Sim (2011), from memory. Every step of the list is a whole packing, so that the
//! work is a number of packings; never reads a clock.

use super::items::{Items, ORDERS};
use super::problem::Size;
use super::random::Random;
use super::room::{Laid, Rect};

/// A rectangle that may be laid, and in which sizes.
struct Candidate<'a> {
    item: usize,
    weight: i64,
    lies: &'a [Size],
}

/// A part of the front above which all is free: from `x` to where the next one begins, at the height `y`.
#[derive(Clone, Copy, Debug)]
struct Ledge {
    x: i64,
    y: i64,
}

/// Packings that are made of a sheet at most.
const MOST_PACKINGS: usize = 500;

/// Packings times the square of the number of rectangles, at most: the time of a packing grows about as that.
const MOST_WORK: usize = 1_000_000;

/// The heaviest of a number of packings of one sheet of this size, with its weight; none if none is as heavy as `least`.
pub(super) fn densest(
    items: &Items,
    bin: Size,
    some: &[usize],
    least: i64,
    random: &mut Random,
) -> Option<(i64, Vec<Laid>)> {
    let packings = (MOST_WORK / (some.len() * some.len()).max(1)).min(MOST_PACKINGS);
    if packings == 0 {
        return None;
    }
    let ranks = &items.ranks[random.below(ORDERS.len())];
    let mut sorted = some.to_vec();
    sorted.sort_unstable_by_key(|&item| (ranks[items.class_of[item]], item));
    let candidates: Vec<Candidate> = sorted
        .iter()
        .map(|&item| Candidate { item, weight: items.weight(item), lies: &items.lies[items.class_of[item]] })
        .collect();
    let all: i64 = candidates.iter().map(|one| one.weight).sum();
    let mut order: Vec<usize> = (0..candidates.len()).collect();
    let mut sheet = Front::new(bin);
    let mut present = sheet.fill(&candidates, &order);
    let mut best = (present, sheet.laid.clone());
    for _ in 0..packings {
        if best.0 == all || order.len() < 2 {
            break;
        }
        let (one, other) = (random.below(order.len()), random.below(order.len()));
        order.swap(one, other);
        let weight = sheet.fill(&candidates, &order);
        if weight < present {
            order.swap(one, other);
            continue;
        }
        present = weight;
        if weight > best.0 {
            best.0 = weight;
            best.1.clone_from(&sheet.laid);
        }
    }
    (best.0 >= least).then_some(best)
}

/// A sheet that is filled from the bottom up.
struct Front {
    bin: Size,
    /// From left to right; neighbours differ in height.
    ledges: Vec<Ledge>,
    laid: Vec<Laid>,
    /// Places in the order that are still to be laid.
    waiting: Vec<usize>,
}

/// The lowest gap: as wide as its ledge, between walls on the left and the right.
#[derive(Clone, Copy, Debug)]
struct Gap {
    index: usize,
    x: i64,
    y: i64,
    width: i64,
    left: i64,
    right: i64,
}

impl Front {
    fn new(bin: Size) -> Self {
        Front { bin, ledges: Vec::new(), laid: Vec::new(), waiting: Vec::new() }
    }

    /// Fills an empty sheet and says what lies on it then weighs.
    fn fill(&mut self, candidates: &[Candidate], order: &[usize]) -> i64 {
        self.ledges.clear();
        self.ledges.push(Ledge { x: 0, y: 0 });
        self.laid.clear();
        self.waiting.clear();
        self.waiting.extend_from_slice(order);
        let mut weight = 0;
        while !self.waiting.is_empty() {
            let gap = self.lowest();
            if gap.y >= self.bin.height {
                break;
            }
            let Some((place, size)) = self.best_for(gap, candidates) else {
                if self.ledges.len() == 1 {
                    break;
                }
                self.give_up(gap);
                continue;
            };
            let candidate = &candidates[self.waiting.remove(place)];
            weight += candidate.weight;
            self.lay(gap, candidate.item, size);
        }
        weight
    }

    fn lowest(&self) -> Gap {
        let mut index = 0;
        for (i, ledge) in self.ledges.iter().enumerate() {
            if ledge.y < self.ledges[index].y {
                index = i;
            }
        }
        let Ledge { x, y } = self.ledges[index];
        let end = self.ledges.get(index + 1).map_or(self.bin.width, |next| next.x);
        let wall = |ledge: Option<&Ledge>| ledge.map_or(self.bin.height, |ledge| ledge.y) - y;
        let left = wall(index.checked_sub(1).and_then(|before| self.ledges.get(before)));
        Gap { index, x, y, width: end - x, left, right: wall(self.ledges.get(index + 1)) }
    }

    /// What fits the gap best, and first in the order among equals: one that fills its width and ends level with
    /// a wall, then one that fills its width, then one that ends level with a wall.
    fn best_for(&self, gap: Gap, candidates: &[Candidate]) -> Option<(usize, Size)> {
        let height = self.bin.height - gap.y;
        let mut best: Option<(u8, usize, Size)> = None;
        for (place, &candidate) in self.waiting.iter().enumerate() {
            for &size in candidates[candidate].lies {
                if size.width > gap.width || size.height > height {
                    continue;
                }
                let level = size.height == gap.left || size.height == gap.right || size.height == height;
                let score = u8::from(size.width == gap.width) * 2 + u8::from(level);
                if best.is_none_or(|(most, ..)| score > most) {
                    best = Some((score, place, size));
                    if score == 3 {
                        return Some((place, size));
                    }
                }
            }
        }
        best.map(|(_, place, size)| (place, size))
    }

    /// Lays it in the gap, against the wall with which it is level, else against the higher one.
    fn lay(&mut self, gap: Gap, item: usize, size: Size) {
        let to_the_left = size.height == gap.left || (size.height != gap.right && gap.left >= gap.right);
        let x = if to_the_left { gap.x } else { gap.x + gap.width - size.width };
        self.laid.push(Laid { item, rect: Rect { x, y: gap.y, size } });
        let top = Ledge { x, y: gap.y + size.height };
        if size.width == gap.width {
            self.ledges[gap.index] = top;
        } else if to_the_left {
            self.ledges[gap.index].x += size.width;
            self.ledges.insert(gap.index, top);
        } else {
            self.ledges.insert(gap.index + 1, top);
        }
        self.join();
    }

    /// Nothing fits: the gap is lost up to the lower one of its walls.
    fn give_up(&mut self, gap: Gap) {
        self.ledges[gap.index].y += gap.left.min(gap.right);
        self.join();
    }

    /// Neighbours at one height become one.
    fn join(&mut self) {
        self.ledges.dedup_by(|next, before| next.y == before.y);
    }
}

#[cfg(test)]
mod tests {
    use super::super::problem::Class;
    use super::*;
    use proptest::prelude::*;

    fn items(sizes: &[(i64, i64)], free: bool, bin: Size) -> Items {
        let class = |&(width, height): &(i64, i64)| Class { size: Size { width, height }, free, count: 1 };
        Items::plain(&sizes.iter().map(class).collect::<Vec<_>>(), bin)
    }

    /// Ten that were cut out of one sheet of 12 x 10 without waste, by hand.
    const CUT: [(i64, i64); 10] =
        [(5, 4), (7, 4), (3, 6), (4, 3), (5, 3), (4, 3), (2, 2), (3, 2), (3, 1), (2, 1)];

    #[test]
    fn a_sheet_without_waste_is_found_again() {
        let bin = Size { width: 12, height: 10 };
        assert_eq!(CUT.iter().map(|(w, h)| w * h).sum::<i64>(), 120);
        let items = items(&CUT, false, bin);
        let all: Vec<usize> = (0..CUT.len()).collect();
        let all_of_it = all.iter().map(|&item| items.weight(item)).sum();
        let (_, laid) =
            (0..50).find_map(|seed| densest(&items, bin, &all, all_of_it, &mut Random::new(seed))).unwrap();
        assert_eq!(laid.len(), CUT.len());
    }

    #[test]
    fn what_is_lighter_than_asked_for_is_not_given() {
        let bin = Size { width: 10, height: 10 };
        let items = items(&[(6, 6), (6, 6)], false, bin);
        let most = items.weight(0);
        assert!(densest(&items, bin, &[0, 1], most + 1, &mut Random::new(1)).is_none());
        assert_eq!(densest(&items, bin, &[0, 1], most, &mut Random::new(1)).unwrap().1.len(), 1);
    }

    proptest! {
        #[test]
        fn nothing_overlaps_and_the_weight_is_right(
            sizes in prop::collection::vec((1_i64..9, 1_i64..9), 1..25), free in any::<bool>(), seed in any::<u64>(),
        ) {
            let bin = Size { width: 13, height: 11 };
            let items = items(&sizes, free, bin);
            let all: Vec<usize> = (0..sizes.len()).collect();
            let (weight, laid) = densest(&items, bin, &all, 0, &mut Random::new(seed)).unwrap();
            prop_assert_eq!(weight, laid.iter().map(|one| items.weight(one.item)).sum::<i64>());
            let whole = Rect { x: 0, y: 0, size: bin };
            for (i, one) in laid.iter().enumerate() {
                prop_assert!(whole.contains(one.rect));
                prop_assert!(items.lies[items.class_of[one.item]].contains(&one.rect.size));
                for other in &laid[i + 1..] {
                    prop_assert!(!one.rect.overlaps(other.rect) && one.item != other.item);
                }
            }
        }
    }
}
