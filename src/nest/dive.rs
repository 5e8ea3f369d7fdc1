//! A packing on a set number of sheets, chosen sheet by sheet from many that overlap in what they hold.
//!
//! Takes sheets, gives as many of them as there may be, each rectangle on one of them at most. "Diving": a covering by
//! parts of sheets is worked out, the sheet of which most is taken is kept, then the same for the rectangles that are
//! left, with new sheets made for them. It never turns back; who wants another packing asks again.

use super::covering::Covering;
use super::items::Items;
use super::pool::{Held, refill};
use super::random::Random;
use super::room::{Blink, Fit, Room};

/// By how much a covering of what is left by parts of sheets may need more sheets than there are.
const ABOVE: f64 = 0.3;

/// Times that new sheets are made at each choice, and sheets made each time.
const TIMES: usize = 2;
const MADE: usize = 100;

/// A sheet worth less than this is not one that new ones are made from.
const WORTHY: f64 = 0.98;

/// From so much on a sheet counts as taken whole.
const WHOLE: f64 = 0.95;

/// A choice in the making.
struct Dive<'a, R> {
    items: &'a Items,
    held: Vec<Held<R>>,
    /// For each rectangle whether it still needs a sheet.
    waiting: Vec<bool>,
    rooms: Vec<R>,
}

/// The sheets, and what is on none of them; none if that would be much.
pub(super) fn dive<R: Room>(
    items: &Items,
    held: Vec<Held<R>>,
    sheets: usize,
    random: &mut Random,
) -> Option<(Vec<R>, Vec<usize>)> {
    let mut dive = Dive { items, held, waiting: vec![true; items.len()], rooms: Vec::new() };
    while dive.rooms.len() < sheets && dive.waiting.contains(&true) {
        let rest = dive.rest();
        let covering = dive.covering(&rest, random);
        let free = sheets - dive.rooms.len();
        if covering.number() > free as f64 + ABOVE {
            return None;
        }
        dive.keep(&covering, &rest, free, random);
    }
    let empty = R::empty(&items.bins[0]);
    let rest = dive.rest();
    dive.rooms.resize(sheets, empty);
    Some((dive.rooms, rest))
}

impl<R: Room> Dive<'_, R> {
    /// Rectangles that still need a sheet, rising.
    fn rest(&self) -> Vec<usize> {
        (0..self.items.len()).filter(|&item| self.waiting[item]).collect()
    }

    /// Covers what is left by parts of the sheets and of new ones.
    fn covering(&mut self, rest: &[usize], random: &mut Random) -> Covering {
        let mut covering = Covering::new(rest.len());
        let mut sets: Vec<Vec<usize>> = self.held.iter().map(|held| numbers(rest, &held.set)).collect();
        improve(&mut covering, &sets);
        for _ in 0..TIMES {
            let mut values = vec![0.0; self.items.len()];
            rest.iter().zip(covering.values()).for_each(|(&item, value)| values[item] = value);
            let from: Vec<usize> =
                (0..self.held.len()).filter(|&index| self.held[index].worth(&values) > WORTHY).collect();
            if from.is_empty() {
                break;
            }
            for _ in 0..MADE {
                let mut room = self.still_wanted(from[random.below(from.len())]);
                if refill(self.items, &values, &self.waiting, &mut room, random) > 1.0 + LITTLE {
                    let made = Held::new(room);
                    sets.push(numbers(rest, &made.set));
                    self.held.push(made);
                }
            }
            improve(&mut covering, &sets);
        }
        covering
    }

    /// One of the sheets without what lies on those that are kept.
    fn still_wanted(&self, index: usize) -> R {
        let Held { set, room } = &self.held[index];
        let gone: Vec<usize> = set.iter().copied().filter(|&item| !self.waiting[item]).collect();
        let mut room = room.clone();
        if !gone.is_empty() {
            room.remove(&gone);
        }
        room
    }

    /// Keeps the sheet of which most is taken, give or take a little, and all that are taken whole.
    fn keep(&mut self, covering: &Covering, rest: &[usize], free: usize, random: &mut Random) {
        let mut taken: Vec<(f64, &[usize])> =
            covering.taken().map(|(part, set)| (part + random.below(100) as f64 / 1_000.0, set)).collect();
        taken.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        let whole = taken.iter().filter(|(part, _)| *part >= WHOLE).count().max(1);
        for (_, set) in taken.into_iter().take(whole.min(free)) {
            let index = self.held.iter().position(|held| numbers(rest, &held.set) == set);
            let room = index.map_or_else(|| self.alone(rest[set[0]]), |index| self.still_wanted(index));
            room.laid().iter().for_each(|laid| self.waiting[laid.item] = false);
            self.rooms.push(room);
        }
        let waiting = &self.waiting;
        self.held.retain(|held| held.set.iter().any(|&item| waiting[item]));
    }

    /// A sheet with one rectangle.
    fn alone(&self, item: usize) -> R {
        let mut room = R::empty(&self.items.bins[0]);
        let mut lies = self.items.lies[self.items.class_of[item]].iter();
        let place = |&size| Some((room.find(size, Fit::Low, &mut Blink::Never)?.1, size));
        if let Some((place, size)) = lies.find_map(place) {
            room.insert(item, size, place);
        }
        room
    }
}

/// What makes a sheet worth more than another beyond rounding.
const LITTLE: f64 = 1e-6;

/// The places in `rest`, which rises, of those of the set that are in it.
fn numbers(rest: &[usize], set: &[usize]) -> Vec<usize> {
    set.iter().filter_map(|item| rest.binary_search(item).ok()).collect()
}

fn improve(covering: &mut Covering, sets: &[Vec<usize>]) {
    let sets: Vec<&[usize]> = sets.iter().map(|set| &set[..]).collect();
    covering.improve(&sets);
}

#[cfg(test)]
mod tests {
    use super::super::free_space::FreeSpace;
    use super::super::problem::{Class, Size};
    use super::super::room::Laid;
    use super::*;

    /// Rectangles as high as the sheet, which is 10 wide.
    fn items(widths: &[i64]) -> Items {
        let class = |&width: &i64| Class { size: Size { width, height: 9 }, free: false, count: 1 };
        Items::plain(&widths.iter().map(class).collect::<Vec<_>>(), Size { width: 10, height: 9 })
    }

    fn sheet(items: &Items, set: &[usize]) -> Held<FreeSpace> {
        let mut room = FreeSpace::empty(&items.bins[0]);
        for &item in set {
            let size = items.classes[items.class_of[item]].size;
            let (_, place) = room.find(size, Fit::Left, &mut Blink::Never).unwrap();
            room.insert(item, size, place);
        }
        Held::new(room)
    }

    #[test]
    fn sheets_that_overlap_give_a_packing_without_doubles() {
        // 7 + 3, 6 + 4 and 5 + 5 fill three sheets; the first two sheets that are offered lead nowhere.
        let items = items(&[7, 6, 5, 5, 4, 3]);
        let sets: [&[usize]; 6] = [&[2, 4], &[1, 5], &[0, 5], &[1, 4], &[2, 3], &[3, 5]];
        let held: Vec<Held<FreeSpace>> = sets.iter().map(|set| sheet(&items, set)).collect();
        let (rooms, rest) = dive(&items, held, 3, &mut Random::new(1)).unwrap();
        assert_eq!(rest, []);
        let mut sets: Vec<Vec<usize>> = rooms.into_iter().map(|room| Held::new(room).set).collect();
        sets.sort();
        assert_eq!(sets, [vec![0, 5], vec![1, 4], vec![2, 3]]);
    }

    #[test]
    fn what_cannot_be_is_given_up() {
        // 30 wide in all, but two of the three sixes never go on one sheet.
        let items = items(&[6, 6, 6, 6, 3, 3]);
        let held: Vec<Held<FreeSpace>> =
            [[0, 4], [1, 4], [2, 5], [3, 5]].iter().map(|set| sheet(&items, set)).collect();
        assert!(dive(&items, held, 3, &mut Random::new(1)).is_none());
    }

    #[test]
    fn a_sheet_that_is_kept_takes_its_rectangles_out_of_the_others() {
        // Everything on one sheet, which makes the other one needless: it is there, and empty.
        let items = items(&[4, 3, 2]);
        let held = vec![sheet(&items, &[0, 1]), sheet(&items, &[0, 1, 2])];
        let (rooms, rest) = dive(&items, held, 2, &mut Random::new(1)).unwrap();
        assert_eq!(rest, []);
        let laid: Vec<Vec<Laid>> = rooms.iter().map(Room::laid).collect();
        assert_eq!(laid.iter().map(Vec::len).collect::<Vec<_>>(), [3, 0]);
    }
}
