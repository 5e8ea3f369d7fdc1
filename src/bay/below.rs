//! What lies below a panel at one side of the bay: how much room, and how deep one reaches.
//!
//! Takes the measured bay and the panel's plan; gives litres and mm for people to read. Litres are summed over slices of
//! a centimetre, good to a per cent or so; nothing is decided by them.

use crate::geom::{Path, Point2, Vector2, VehicleFrame, stretches::Stroke};
use crate::spec::{Bay, Side};

/// mm of a slice, along the bay and upwards.
const SLICE: f64 = 10.0;

/// A slice of a panel across the bay.
struct Column {
    /// Its middle along the bay.
    x: f64,
    /// How thick it is.
    dx: f64,
    /// mm from the centreline between which the panel is.
    stretches: Vec<(f64, f64)>,
}

/// The room between floor or arch and a panel's underside, inside the vehicle's side, in litres.
pub(crate) fn litres(bay: &Bay, side: Side, plan: &Path<VehicleFrame>, underside: f64) -> f64 {
    let (low, high) = plan.bounds();
    let columns: Vec<Column> = middles(low.x, high.x)
        .map(|(x, dx)| {
            let start = Point2::new(x, low.y - 1.0);
            let stroke = Stroke { start, along: Vector2::new(0.0, 1.0), length: high.y - low.y + 2.0 };
            let outward = |s: f64| side.sign() * (start.y + s);
            let ends = stroke.inside(plan).into_iter().map(|(from, to)| (outward(from), outward(to)));
            Column { x, dx, stretches: ends.map(|(a, b)| (a.min(b), a.max(b))).collect() }
        })
        .collect();
    let mut volume = 0.0;
    for (z, dz) in middles(0.0, underside) {
        for Column { x, dx, stretches } in &columns {
            let limit = bay.reach(side, *x, z);
            let across: f64 = stretches.iter().map(|(from, to)| (to.min(limit) - from).max(0.0)).sum();
            volume += across * dx * dz;
        }
    }
    volume / 1e6
}

/// mm from a height down to the floor or the arch below a rectangle of the plan: where it is least, where most.
pub(crate) fn depths(
    bay: &Bay,
    side: Side,
    (low, high): (Point2<VehicleFrame>, Point2<VehicleFrame>),
    from: f64,
) -> (f64, f64) {
    let (near, far) = (low.y.abs().min(high.y.abs()), low.y.abs().max(high.y.abs()));
    let mut stations = vec![low.x, high.x];
    let breaks = bay.arches.iter().flat_map(|arch| arch.profile.points()).map(|point| point.0);
    stations.extend(breaks.filter(|x| (low.x..=high.x).contains(x)));
    let top = |x: f64, y: f64| {
        let own = bay.arches.iter().filter(|arch| arch.side == side && y > arch.from_centre.value);
        own.filter_map(|arch| arch.top_at(x)).fold(0.0, f64::max)
    };
    let tops: Vec<f64> = stations.iter().flat_map(|&x| [top(x, near), top(x, far)]).collect();
    let [highest, lowest] =
        [tops.iter().copied().fold(0.0, f64::max), tops.iter().copied().fold(f64::INFINITY, f64::min)];
    (from - highest, from - lowest)
}

/// Middles of slices between two values, and how thick they are.
fn middles(from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let n = ((to - from) / SLICE).ceil().max(1.0);
    let thick = (to - from).max(0.0) / n;
    std::iter::successors(Some(0.5), |i| Some(i + 1.0))
        .take_while(move |i| *i < n)
        .map(move |i| (from + i * thick, thick))
}
