//! The bay as the kit meets it: surfaces, each with what lies behind it and the ways out of it.
//!
//! Takes the measured bay of the spec, gives [`Surface`]s, bare or grown by the clearances, and how far any plate
//! reaches into one ([`Surface::overlap`]): exactly, since all is made of flat pieces. Knows no kit.

mod below;
mod overlap;
mod surface;

pub(crate) use below::{depths, litres};
pub(crate) use overlap::Overlap;
pub(crate) use surface::{Axis, Facet, Surface, Thing, surfaces};

use crate::geom::{Point3, VehicleFrame};
use crate::number::decimal;

/// A place in the vehicle, in words.
pub(crate) fn place(p: Point3<VehicleFrame>) -> String {
    let (x, y, z) = (decimal(p.x.abs(), 0), decimal(p.y.abs(), 0), decimal(p.z, 0));
    let along = if p.x < 0.0 { "behind" } else { "ahead of" };
    let aside = match y.as_str() {
        "0" => "on the centreline".to_owned(),
        _ if p.y > 0.0 => format!("{y} mm left of the centreline"),
        _ => format!("{y} mm right of the centreline"),
    };
    format!("{x} mm {along} the floor's rear edge, {aside}, {z} mm above the floor")
}

#[cfg(test)]
mod tests;
