//! In which order to visit points so that the tool travels little in the air.
//!
//! The nearest next, then pieces of the way turned about while that shortens it (2-opt), both bounded. Same
//! points, same order: ties go to the lower index. Not proved shortest.

use crate::geom::{Point2, SheetFrame};

/// A place where the tool goes down and, for a closed contour, comes up again.
pub(super) type Stop = Point2<SheetFrame>;

/// mm. A way that is shorter by less is not shorter.
const WORTH: f64 = 1e-6;

/// Most pieces of a way that are looked at; some seconds' worth would be a hundred times that.
const MOST_TRIED: usize = 4_000_000;

/// Pairs of which the first is visited before the second.
#[derive(Debug, Default)]
pub(super) struct Rules {
    /// Without exception; they form no ring.
    pub(super) must: Vec<(usize, usize)>,
    /// Where nothing that is left could be visited otherwise, these give way.
    pub(super) should: Vec<(usize, usize)>,
}

/// An order of all stops for a tool that comes from `from` and goes on to `to`.
pub(super) fn route(from: Stop, stops: &[Stop], to: Option<Stop>, rules: &Rules) -> Vec<usize> {
    let mut order = nearest_next(from, stops, rules);
    shorten(&mut order, from, stops, to, rules);
    order
}

fn nearest_next(from: Stop, stops: &[Stop], rules: &Rules) -> Vec<usize> {
    let n = stops.len();
    let mut waits = vec![(0_usize, 0_usize); n];
    let mut frees: Vec<Vec<(usize, bool)>> = vec![Vec::new(); n];
    for (pairs, must) in [(&rules.must, true), (&rules.should, false)] {
        for &(first, second) in pairs {
            frees[first].push((second, must));
            let count = if must { &mut waits[second].0 } else { &mut waits[second].1 };
            *count += 1;
        }
    }
    let mut left: Vec<usize> = (0..n).collect();
    let mut order = Vec::with_capacity(n);
    let mut at = from;
    while !left.is_empty() {
        // What waits for the fewest, first of all by what must be.
        let rank = |&(_, &i): &(usize, &usize)| waits[i];
        let least = left.iter().enumerate().map(|pair| rank(&pair)).min();
        let ready = left.iter().enumerate().filter(|pair| Some(rank(pair)) == least);
        let nearest = ready.min_by(|(_, a), (_, b)| {
            let away = |i: usize| (stops[i] - at).square_length();
            away(**a).total_cmp(&away(**b)).then(a.cmp(b))
        });
        let Some((position, &next)) = nearest else { break };
        left.remove(position);
        for &(second, must) in &frees[next] {
            let count = if must { &mut waits[second].0 } else { &mut waits[second].1 };
            *count = count.saturating_sub(1);
        }
        at = stops[next];
        order.push(next);
    }
    order
}

/// Turns pieces of the way about as long as that shortens it and breaks no rule.
fn shorten(order: &mut [usize], from: Stop, stops: &[Stop], to: Option<Stop>, rules: &Rules) {
    let n = order.len();
    let mut place = vec![0_usize; n];
    let mut tried = 0;
    let mut better = true;
    while better {
        better = false;
        for i in 0..n {
            for j in i + 1..n {
                tried += 1;
                if tried > MOST_TRIED {
                    return;
                }
                let before = if i == 0 { from } else { stops[order[i - 1]] };
                let after = if j + 1 < n { Some(stops[order[j + 1]]) } else { to };
                let (first, last) = (stops[order[i]], stops[order[j]]);
                let way = |one: Stop, other: Stop| {
                    (one - before).length() + after.map_or(0.0, |after| (after - other).length())
                };
                if way(first, last) - way(last, first) <= WORTH {
                    continue;
                }
                for (position, &stop) in order.iter().enumerate() {
                    place[stop] = position;
                }
                let within = |stop: usize| (i..=j).contains(&place[stop]);
                let kept = |&(a, b): &(usize, usize)| !(within(a) && within(b));
                if rules.must.iter().chain(&rules.should).all(kept) {
                    order[i..=j].reverse();
                    better = true;
                }
            }
        }
    }
}

/// mm of the whole way.
#[cfg(test)]
pub(super) fn length(from: Stop, stops: &[Stop], order: &[usize]) -> f64 {
    let mut at = from;
    let mut length = 0.0;
    for &i in order {
        length += (stops[i] - at).length();
        at = stops[i];
    }
    length
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stops(points: &[(i32, i32)]) -> Vec<Stop> {
        points.iter().map(|&(x, y)| Point2::new(f64::from(x), f64::from(y))).collect()
    }

    /// The shortest of all orders that keep the rules, by trying all.
    fn shortest(stops: &[Stop], must: &[(usize, usize)]) -> f64 {
        fn go(order: &mut Vec<usize>, stops: &[Stop], must: &[(usize, usize)], best: &mut f64) {
            if order.len() == stops.len() {
                *best = best.min(length(Point2::origin(), stops, order));
            }
            for next in 0..stops.len() {
                let waits = must.iter().any(|&(a, b)| b == next && !order.contains(&a));
                if !order.contains(&next) && !waits {
                    order.push(next);
                    go(order, stops, must, best);
                    order.pop();
                }
            }
        }
        let mut best = f64::INFINITY;
        go(&mut Vec::new(), stops, must, &mut best);
        best
    }

    #[test]
    fn a_crossing_way_is_straightened() {
        // Nearest next goes 1, 0, 2, then far back to 3: 118.4 mm. The shortest of all orders has 94.7 mm.
        let stops = stops(&[(40, 20), (20, 30), (40, 10), (0, 40)]);
        let order = route(Point2::origin(), &stops, None, &Rules::default());
        assert_eq!(order, [3, 1, 0, 2]);
        assert!((length(Point2::origin(), &stops, &order) - shortest(&stops, &[])).abs() < 1e-9);
        let end = Some(Point2::new(0.0, 50.0));
        assert_eq!(route(Point2::origin(), &stops, end, &Rules::default())[3], 3);
    }

    #[test]
    fn what_should_be_gives_way_to_what_must_be() {
        let stops = stops(&[(1, 0), (2, 0)]);
        let rules = Rules { must: vec![(1, 0)], should: vec![(0, 1)] };
        assert_eq!(route(Point2::origin(), &stops, None, &rules), [1, 0]);
        let rules = Rules { must: vec![], should: vec![(1, 0)] };
        assert_eq!(route(Point2::origin(), &stops, None, &rules), [1, 0]);
    }

    proptest! {
        #[test]
        fn every_stop_once_the_rules_kept_and_no_way_far_from_the_shortest(
            points in prop::collection::vec((0_i32..30, 0_i32..30), 1..7),
            pairs in prop::collection::vec((0_usize..7, 0_usize..7), 0..4),
        ) {
            let stops = stops(&points);
            let must: Vec<(usize, usize)> =
                pairs.into_iter().filter(|&(a, b)| a < b && b < stops.len()).collect();
            let rules = Rules { must: must.clone(), should: vec![] };
            let order = route(Point2::origin(), &stops, None, &rules);
            let mut sorted = order.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..stops.len()).collect::<Vec<_>>());
            let place = |stop: usize| order.iter().position(|&i| i == stop).unwrap();
            for &(a, b) in &must {
                prop_assert!(place(a) < place(b));
            }
            if must.is_empty() {
                let way = length(Point2::origin(), &stops, &order);
                // Measured on these small cases; nothing is promised for large ones.
                prop_assert!(way <= 1.5 * shortest(&stops, &must) + 1e-9, "{}", way);
            }
        }
    }
}
