//! A carcase's outer boards, cut to the vehicle's shape: the end towards the seats may lean, and base and sides
//! may be notched for the wheel arches.
//!
//! Takes a carcase and its materials; adds base, deck, sides and back to the layout and gives the room between
//! them. The back stands upright at the end of the deck, so that cells stay boxes.

use super::board::{Board, BoardId, Role};
use super::carcase::{Builder, DOWN, FORWARD, LEFT, Materials, REARWARD, RIGHT, Room};
use super::{floor, rules};
use crate::diag::Finding;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, VehicleFrame, snap};
use crate::number::decimal;
use crate::spec::{Carcase, FrontStyle, Notch};
use itertools::Itertools;
use std::sync::Arc;

/// mm of a side that must stay over a notch, and of a base between two: enough for an angle and its bolts. Common
/// practice, no source.
const LEAST_LEFT: f64 = 60.0;

/// The planes of a carcase, mm in the vehicle frame.
pub(super) struct Hull<'a> {
    carcase: &'a Carcase,
    /// Rear edge of base, deck and sides.
    x0: f64,
    /// Middle between the sides.
    y: f64,
    /// Half the width over the sides.
    half: f64,
    /// Half the width over base and deck.
    wide: f64,
    /// Underside.
    z0: f64,
    /// Upper side.
    pub(super) z1: f64,
    /// mm of lean for each mm of height.
    lean: f64,
}

impl<'a> Hull<'a> {
    /// `stands_on` mm above the bay's floor.
    fn new(carcase: &'a Carcase, m: &Materials, stands_on: f64) -> Self {
        let z0 = stands_on + carcase.at.z.value;
        let front_thickness = match carcase.fronts.style.value {
            FrontStyle::Overlay => m.fronts.actual,
            FrontStyle::Inset => 0.0,
        };
        let half = carcase.width.value / 2.0;
        Hull {
            carcase,
            x0: carcase.at.x.value + front_thickness,
            y: carcase.at.y.value,
            half,
            wide: half + carcase.overhang.value,
            z0,
            z1: z0 + carcase.height.value,
            lean: carcase.rake.value.to_radians().tan(),
        }
    }

    /// x of the end towards the seats at a height.
    pub(super) fn end(&self, z: f64) -> f64 {
        let c = self.carcase;
        // On the grid: the tangent's last digit may differ between machines.
        snap(c.at.x.value + c.depth.value - (z - self.z0) * self.lean)
    }

    /// The box over the whole width and between two heights, from the rear to `end`.
    pub(super) fn whole(&self, end: f64, (low, high): (f64, f64)) -> Aabb {
        Aabb {
            low: Point3::new(self.x0, self.y - self.wide, low),
            high: Point3::new(end, self.y + self.wide, high),
        }
    }

    fn notches(&self, left: bool) -> impl Iterator<Item = &'a Notch> + Clone {
        self.carcase.notches.iter().filter(move |notch| notch.left == left)
    }

    /// Corners of a side, as (x, z), from its lower rear corner: its lower edge stepped over the notches, its end
    /// leaning.
    fn side_corners(&self, left: bool, low: f64, high: f64) -> Vec<(f64, f64)> {
        let reaching = self.notches(left).filter(|notch| notch.height.value > low);
        let height = |notch: &Notch| notch.height.value;
        let mut corners = steps((self.x0, self.end(low)), low, &reaching, height);
        if let Some(last) = corners.last_mut() {
            last.0 = self.end(last.1);
        }
        corners.extend([(self.end(high), high), (self.x0, high)]);
        corners
    }

    /// Corners of the base in plan, counter-clockwise from its rear right corner.
    fn base_corners(&self, low: f64) -> Vec<(f64, f64)> {
        let span = (self.x0, self.end(low));
        let depth = |notch: &Notch| notch.depth.value;
        let right = steps(span, 0.0, &self.notches(false), depth).into_iter();
        let left = steps(span, 0.0, &self.notches(true), depth).into_iter().rev();
        let right = right.map(|(x, d)| (x, self.y - self.wide + d));
        right.chain(left.map(|(x, d)| (x, self.y + self.wide - d))).collect()
    }
}

/// Corners of a stepped line over the stretch `from` to `to`: at `level`, raised to `rise` of each notch where
/// there is one.
fn steps<'n>(
    (from, to): (f64, f64),
    level: f64,
    notches: &(impl Iterator<Item = &'n Notch> + Clone),
    rise: impl Fn(&Notch) -> f64,
) -> Vec<(f64, f64)> {
    let ends = notches.clone().flat_map(|notch| [notch.from.value, notch.to.value]);
    let stations: Vec<f64> = ends
        .map(|x| x.clamp(from, to))
        .chain([from, to])
        .sorted_by(f64::total_cmp)
        .dedup_by(|a, b| b - a < SAME_LENGTH)
        .collect();
    let mut corners: Vec<(f64, f64)> = Vec::new();
    for (a, b) in stations.into_iter().tuple_windows() {
        let middle = f64::midpoint(a, b);
        let here = notches.clone().filter(|notch| (notch.from.value..notch.to.value).contains(&middle));
        let at = here.map(&rise).fold(level, f64::max);
        match corners.last_mut() {
            Some(last) if (last.1 - at).abs() < SAME_LENGTH => last.0 = b,
            _ => corners.extend([(a, at), (b, at)]),
        }
    }
    corners
}

impl Builder<'_> {
    /// Base, deck, sides and back; gives the room inside.
    pub(super) fn shell(&mut self, m: &Materials) -> Option<Room> {
        let hull = Hull::new(self.carcase, m, floor::under(self.layout, self.carcase));
        let Hull { x0, y, half, z0, z1, .. } = hull;
        let back = self.carcase.back;
        let behind = back.map_or(0.0, |back| back.inset.value + m.back.actual);
        let inside = Aabb {
            low: Point3::new(x0, y - half + m.sides.actual, z0 + m.base.actual),
            high: Point3::new(hull.end(z1) - behind, y + half - m.sides.actual, z1 - m.deck.actual),
        };
        self.check_inside(inside)?;
        self.check_notches(&hull, inside)?;
        let base = self.base(m, &hull, inside);
        let tops = self.open_tops(m, inside)?;
        let deck = self.deck(m, &hull, inside, &tops)?;
        let left = self.side(m, &hull, inside, true);
        let right = self.side(m, &hull, inside, false);
        for (side, inwards) in [(left, RIGHT), (right, LEFT)] {
            self.meet(side, base, &[inwards]);
            self.meet(side, deck, &[inwards]);
        }
        if let Some(back) = back {
            let mut aabb = inside;
            (aabb.low.x, aabb.high.x) = (inside.high.x, hull.end(z1) - back.inset.value);
            let back = self.add("back", Role::Back, &m.back, aabb, FORWARD, false);
            for other in [base, deck, left, right] {
                self.meet(back, other, &[REARWARD]);
            }
            self.back = Some(back);
        }
        let open_above = self.carcase.cell.open_top.is_some();
        Some(Room { aabb: inside, left, right, above: deck, below: base, open_above, open_below: false })
    }

    fn base(&mut self, m: &Materials, hull: &Hull<'_>, inside: Aabb) -> BoardId {
        let aabb = hull.whole(hull.end(inside.low.z), (hull.z0, inside.low.z));
        let corners = hull.base_corners(inside.low.z);
        let corners = corners.into_iter().map(|(x, y)| Point3::new(x, y, hull.z0));
        self.add_shaped("base", Role::Base, &m.base, aabb, (DOWN, true), corners)
    }

    fn side(&mut self, m: &Materials, hull: &Hull<'_>, inside: Aabb, left: bool) -> BoardId {
        let (low, high) = (inside.low, inside.high);
        let corners = hull.side_corners(left, low.z, high.z);
        let end = corners.iter().map(|corner| corner.0).fold(hull.x0, f64::max);
        let mut aabb = hull.whole(end, (low.z, high.z));
        (aabb.low.y, aabb.high.y) =
            if left { (high.y, hull.y + hull.half) } else { (hull.y - hull.half, low.y) };
        let y = aabb.low.y;
        let corners = corners.into_iter().map(|(x, z)| Point3::new(x, y, z));
        let (name, face) = if left { ("side-left", LEFT) } else { ("side-right", RIGHT) };
        self.add_shaped(name, Role::Side, &m.sides, aabb, (face, false), corners)
    }

    pub(super) fn add_shaped(
        &mut self,
        part: &str,
        role: Role,
        material: &Arc<crate::catalogue::Material>,
        aabb: Aabb,
        (face, flush): (crate::geom::Vector3<VehicleFrame>, bool),
        corners: impl Iterator<Item = Point3<VehicleFrame>>,
    ) -> BoardId {
        let name = format!("{}-{part}", self.carcase.id.value);
        let material = Arc::clone(material);
        let radius = self.design.workshop.tool.diameter.value / 2.0;
        let board = Board::filling(name, role, self.body, material, aabb, face, self.carcase.span);
        let board = board.shaped(corners, radius);
        self.push(if flush { board.flush() } else { board })
    }

    fn check_inside(&mut self, inside: Aabb) -> Option<()> {
        let size = inside.size();
        if size.x > 0.0 && size.y > 0.0 && size.z > 0.0 {
            return Some(());
        }
        let inside = [size.x, size.y, size.z].map(|length| decimal(length, 2)).join(" x ");
        self.findings.push(
            Finding::new(
                &rules::CARCASE_WITHOUT_INSIDE,
                self.carcase.span,
                format!("panels leave {inside} mm inside (depth x width x height)"),
            )
            .on(&self.carcase.id.value)
            .help("make the carcase larger, its panels thinner, or lean it less"),
        );
        None
    }

    /// Every notch must lie at its carcase and leave enough of base and sides to bolt together.
    fn check_notches(&mut self, hull: &Hull<'_>, inside: Aabb) -> Option<()> {
        let mut sound = Some(());
        for notch in &self.carcase.notches {
            let [from, to, height, depth] =
                [notch.from, notch.to, notch.height, notch.depth].map(|at| at.value);
            let end = hull.end(inside.low.z);
            let fault = if from >= to || to <= hull.x0 || from >= end {
                let [x0, end] = [hull.x0, end].map(|x| decimal(x, 2));
                format!("it takes nothing of the carcase, which reaches from x = {x0} to {end} mm")
            } else if height <= inside.low.z {
                format!(
                    "its upper edge is not above the base, {} mm from the floor",
                    decimal(inside.low.z, 2)
                )
            } else if height > inside.high.z - LEAST_LEFT {
                let most = decimal(inside.high.z - LEAST_LEFT, 2);
                format!(
                    "it leaves less than {LEAST_LEFT} mm of the side above it; it may be {most} mm high at most"
                )
            } else if depth > hull.wide - LEAST_LEFT / 2.0 {
                let most = decimal(hull.wide - LEAST_LEFT / 2.0, 2);
                format!("it takes the base to its middle; it may be {most} mm deep at most")
            } else if from < hull.x0 + LEAST_LEFT && to > end - LEAST_LEFT {
                format!("it leaves less than {LEAST_LEFT} mm of the side's lower edge at either end")
            } else {
                continue;
            };
            self.findings.push(
                Finding::new(&rules::NOTCH_OFF_CARCASE, notch.span, fault).on(&self.carcase.id.value).help(
                    "`from`, `to` and `height` are measured in the vehicle, `depth` from the base's edge",
                ),
            );
            sound = None;
        }
        sound
    }
}
