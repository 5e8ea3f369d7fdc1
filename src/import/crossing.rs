//! Contours that cross or touch themselves or each other.
//!
//! Takes closed contours, gives a fault for each place. Arcs count with their true shape. Sides that follow each other
//! may run so close beside their common corner as the tolerance of joining allows: what is drawn tangent never is
//! exactly.

use super::contours::Contour;
use super::meeting::{Side, fold};
use super::rules::CONTOUR_CROSSED;
use super::{Fault, shown};
use crate::geom::tolerance::MEETING;
use crate::geom::{PanelFrame, Point2};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use std::fmt::Display;

/// Most pairs of sides with overlapping boxes that are looked at: seconds, and far more than a drawing of sense has.
const MOST_PAIRS: usize = 20_000_000;

/// Faults that are enough.
const ENOUGH: usize = 50;

/// Every place where contours cross.
pub(super) fn crossings<M: Copy + Display>(contours: &[Contour<M>]) -> Vec<Fault> {
    let mut sides = Vec::new();
    for (contour, Contour { path, .. }) in contours.iter().enumerate() {
        let n = path.vertices().len();
        sides.extend(path.sides().enumerate().map(|(i, side)| Side::new(side, contour, (i, n))));
    }
    let boxed = |(i, side): (usize, &Side)| {
        let (low, high) = side.bounds();
        GeomWithData::new(
            Rectangle::from_corners([low.x - MEETING, low.y - MEETING], [high.x + MEETING, high.y + MEETING]),
            i,
        )
    };
    let tree = RTree::bulk_load(sides.iter().enumerate().map(boxed).collect());
    let mut faults = Vec::new();
    let mut looked = 0_usize;
    for (i, side) in sides.iter().enumerate() {
        let (low, high) = side.bounds();
        let window = AABB::from_corners([low.x, low.y], [high.x, high.y]);
        let mut near: Vec<usize> = tree
            .locate_in_envelope_intersecting(window)
            .map(|other| other.data)
            .filter(|&other| other > i)
            .collect();
        near.sort_unstable();
        looked += near.len();
        for other in near.into_iter().map(|other| &sides[other]) {
            if let Some(place) = side.meets(other).or_else(|| fold(side, other)) {
                faults.push(told(contours, [side, other], place));
            }
        }
        if looked > MOST_PAIRS {
            let message = "so many lines lie over each other that crossings cannot be looked for";
            faults.push(Fault::new(&CONTOUR_CROSSED, message, "simplify the drawing"));
        }
        if faults.len() > ENOUGH || looked > MOST_PAIRS {
            break;
        }
    }
    faults
}

fn told<M: Copy + Display>(contours: &[Contour<M>], sides: [&Side; 2], place: Point2<PanelFrame>) -> Fault {
    let place = shown(place);
    let [a, b] = sides.map(|side| contours[side.contour].mark);
    if sides[0].contour == sides[1].contour {
        let message = format!("a contour meets itself at {place} ({a})");
        Fault::new(&CONTOUR_CROSSED, message, "draw it so that it comes to each place once")
    } else {
        let message = format!("two contours meet at {place} ({a}; {b})");
        let help =
            "move them apart, or draw the one contour that they make together; delete what is drawn twice";
        Fault::new(&CONTOUR_CROSSED, message, help)
    }
}
