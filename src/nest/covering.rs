//! The least number of sets that cover everything if parts of a set may be taken, and what each thing is then worth.
//!
//! Takes sets of things, gives how much of each set is taken and a value for each thing. No set is worth more than 1,
//! and all values together are that least number, so that a set worth more than 1 is one that was missing. The primal
//! simplex method with the whole inverse of the basis (Dantzig's), for some hundred things. It guides a search and
//! proves nothing: what it knows is only the sets that it was shown.

use super::random::Random;

/// What is in the basis.
#[derive(Clone, Debug)]
enum Basic {
    /// One of the sets, or a thing alone, which is always to be had.
    Set(Vec<usize>),
    /// A thing may be covered more than once.
    Surplus(usize),
}

/// A covering by parts of sets; it stays whole while it gets better.
#[derive(Clone, Debug)]
pub(super) struct Covering {
    /// How many things there are.
    len: usize,
    basis: Vec<Basic>,
    /// How much of each in the basis is taken.
    parts: Vec<f64>,
    /// The inverse of the basis, row by row.
    inverse: Vec<f64>,
    /// What each thing is worth.
    values: Vec<f64>,
    /// Changes of the basis so far.
    changes: usize,
}

/// Things must be covered a little more than once, each by another amount up to this: of equal choices the method
/// could go round in circles.
const MORE: f64 = 1e-4;

/// What counts as nothing where a rounded number may stand for 0.
const NOTHING: f64 = 1e-7;

/// Changes of the basis at one time at most.
const MOST_CHANGES: usize = 3_000;

/// Changes after which all is begun anew, lest roundings add up.
const RENEWED_AFTER: usize = 20_000;

impl Covering {
    /// Everything alone.
    pub(super) fn new(len: usize) -> Self {
        let mut inverse = vec![0.0; len * len];
        (0..len).for_each(|thing| inverse[thing * (len + 1)] = 1.0);
        let mut random = Random::new(0);
        let parts = (0..len).map(|_| 1.0 + MORE * random.below(1_000) as f64 / 1_000.0).collect();
        let basis = (0..len).map(|thing| Basic::Set(vec![thing])).collect();
        Covering { len, basis, parts, inverse, values: vec![1.0; len], changes: 0 }
    }

    /// What each thing is worth, 0 or more.
    pub(super) fn values(&self) -> Vec<f64> {
        self.values.iter().map(|value| value.max(0.0)).collect()
    }

    /// How many sets it takes, parts of them added up.
    pub(super) fn number(&self) -> f64 {
        self.values.iter().sum()
    }

    /// Sets in the basis, and how much of each is taken.
    pub(super) fn taken(&self) -> impl Iterator<Item = (f64, &[usize])> {
        self.basis.iter().zip(&self.parts).filter_map(|(basic, &part)| match basic {
            Basic::Set(set) => Some((part, &set[..])),
            Basic::Surplus(_) => None,
        })
    }

    /// Takes from these sets what makes it better, until none does.
    pub(super) fn improve(&mut self, sets: &[&[usize]]) {
        if self.changes >= RENEWED_AFTER {
            *self = Covering::new(self.len);
        }
        for _ in 0..MOST_CHANGES {
            let Some((gain, entering)) = self.best_to_enter(sets) else { break };
            let column = self.column(&entering);
            let Some(leaving) = self.first_to_leave(&column) else { break };
            self.exchange(leaving, entering, &column, gain);
        }
    }

    /// What is worth most beyond what it counts, and by how much.
    fn best_to_enter(&self, sets: &[&[usize]]) -> Option<(f64, Basic)> {
        let mut best: (f64, Option<&[usize]>) = (NOTHING, None);
        for &set in sets {
            let gain = set.iter().map(|&thing| self.values[thing]).sum::<f64>() - 1.0;
            if gain > best.0 {
                best = (gain, Some(set));
            }
        }
        let mut found = best.1.map(|set| (best.0, Basic::Set(set.to_vec())));
        for (thing, value) in self.values.iter().enumerate() {
            if -value > best.0 {
                best.0 = -value;
                found = Some((-value, Basic::Surplus(thing)));
            }
        }
        found
    }

    /// It in terms of the basis.
    fn column(&self, entering: &Basic) -> Vec<f64> {
        let rows = self.inverse.chunks(self.len);
        match entering {
            Basic::Set(set) => rows.map(|row| set.iter().map(|&thing| row[thing]).sum()).collect(),
            Basic::Surplus(thing) => rows.map(|row| -row[*thing]).collect(),
        }
    }

    /// The place in the basis that is used up first; of equals the one with the largest pivot.
    fn first_to_leave(&self, column: &[f64]) -> Option<usize> {
        let mut first: Option<(f64, usize)> = None;
        for (place, &pivot) in column.iter().enumerate() {
            if pivot < NOTHING {
                continue;
            }
            let ratio = self.parts[place].max(0.0) / pivot;
            if first.is_none_or(|(least, other)| ratio < least || (ratio <= least && pivot > column[other])) {
                first = Some((ratio, place));
            }
        }
        first.map(|(_, place)| place)
    }

    fn exchange(&mut self, leaving: usize, entering: Basic, column: &[f64], gain: f64) {
        let step = self.parts[leaving].max(0.0) / column[leaving];
        let row = &self.inverse[leaving * self.len..][..self.len];
        let row: Vec<f64> = row.iter().map(|entry| entry / column[leaving]).collect();
        for (place, &factor) in column.iter().enumerate() {
            self.parts[place] -= step * factor;
            let other = &mut self.inverse[place * self.len..][..self.len];
            if place == leaving {
                other.copy_from_slice(&row);
            } else if factor != 0.0 {
                other.iter_mut().zip(&row).for_each(|(entry, own)| *entry -= factor * own);
            }
        }
        self.parts[leaving] = step;
        self.values.iter_mut().zip(&row).for_each(|(value, own)| *value -= gain * own);
        self.basis[leaving] = entering;
        self.changes += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn covering(len: usize, sets: &[&[usize]]) -> Covering {
        let mut covering = Covering::new(len);
        covering.improve(sets);
        covering
    }

    /// How near it comes: each thing is covered up to `MORE` more than once.
    fn near(number: f64, expected: f64, len: usize) -> bool {
        (number - expected).abs() < MORE * len as f64
    }

    #[test]
    fn three_pairs_of_three_things_are_taken_by_halves() {
        // Each thing is in two of the pairs: halves cover all, and values of a half allow no less.
        let found = covering(3, &[&[0, 1], &[1, 2], &[0, 2]]);
        assert!(near(found.number(), 1.5, 3), "{found:?}");
        assert!(found.values().iter().all(|value| near(*value, 0.5, 1)));
        assert!(found.taken().all(|(part, set)| set.len() == 2 && near(part, 0.5, 3)));
    }

    #[test]
    fn seven_lines_of_seven_points_make_seven_thirds() {
        // The Fano plane: three points on a line, three lines through a point.
        let lines: [&[usize]; 7] =
            [&[0, 1, 2], &[0, 3, 4], &[0, 5, 6], &[1, 3, 5], &[1, 4, 6], &[2, 3, 6], &[2, 4, 5]];
        assert!(near(covering(7, &lines).number(), 7.0 / 3.0, 7));
    }

    #[test]
    fn what_no_set_holds_stays_alone() {
        let found = covering(4, &[&[0, 1], &[1, 2], &[0, 1, 2]]);
        assert!(near(found.number(), 2.0, 4));
        let alone: Vec<&[usize]> = found.taken().map(|(_, set)| set).filter(|set| set.contains(&3)).collect();
        assert_eq!(alone, [&[3]]);
    }

    proptest! {
        /// Parts that cover and values that allow no less agree: either proves the other.
        #[test]
        fn parts_and_values_prove_each_other(
            sets in prop::collection::vec(prop::collection::btree_set(0_usize..12, 1..5), 0..40),
        ) {
            let sets: Vec<Vec<usize>> = sets.into_iter().map(|set| set.into_iter().collect()).collect();
            let shown: Vec<&[usize]> = sets.iter().map(|set| &set[..]).collect();
            let found = covering(12, &shown);
            let mut covered = [0.0; 12];
            let mut number = 0.0;
            for (part, set) in found.taken() {
                prop_assert!(part > -1e-6);
                number += part;
                for &thing in set {
                    covered[thing] += part;
                }
            }
            prop_assert!(covered.iter().all(|&part| part > 1.0 - 1e-6));
            let values = found.values();
            let worth = |set: &[usize]| set.iter().map(|&thing| values[thing]).sum::<f64>();
            prop_assert!(shown.iter().all(|set| worth(set) < 1.0 + 1e-6));
            prop_assert!(values.iter().all(|&value| value < 1.0 + 1e-6));
            prop_assert!(near(number, found.number(), 12));
        }
    }
}
