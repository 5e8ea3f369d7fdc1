//! Triangles of a region with holes: a constrained Delaunay triangulation of its rings.
//!
//! Not by cutting ears: that drops corners which lie on a straight line, as those of a row of holes do, and what is joined to
//! the region along its rings then has gaps. Built with this crate, since it takes most of the time of a mesh.

use super::Point2;
use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, Point2 as Place, Triangulation};
use std::collections::BTreeMap;

type Net = ConstrainedDelaunayTriangulation<Place<f64>>;

/// Triangles, counter-clockwise, of the region inside the first ring and outside the others, which must not cross. Corners are
/// counted through all rings; each is one of some triangle's.
pub fn triangles_inside<F>(rings: &[Vec<Point2<F>>]) -> Vec<[usize; 3]> {
    let mut net = Net::new();
    let mut numbers: BTreeMap<FixedVertexHandle, usize> = BTreeMap::new();
    let mut count = 0;
    for ring in rings {
        let mut handles = Vec::with_capacity(ring.len());
        for corner in ring {
            // What is no number has no place.
            if let Ok(handle) = net.insert(Place::new(corner.x, corner.y)) {
                numbers.entry(handle).or_insert(count);
                handles.push(handle);
            }
            count += 1;
        }
        for (i, &handle) in handles.iter().enumerate() {
            let next = handles[(i + 1) % handles.len()];
            if next != handle && net.can_add_constraint(handle, next) {
                net.add_constraint(handle, next);
            }
        }
    }
    let inside = inside(&net);
    net.inner_faces()
        .filter(|face| inside.get(&face.fix()).copied().unwrap_or(false))
        .map(|face| face.vertices().map(|vertex| numbers[&vertex.fix()]))
        .collect()
}

/// Of each triangle whether it is inside: whoever comes from outside crosses a ring to it once, or three times.
fn inside(net: &Net) -> BTreeMap<FixedFaceHandle<InnerTag>, bool> {
    let mut inside = BTreeMap::new();
    let mut reached: Vec<(FixedFaceHandle<InnerTag>, bool)> = net
        .convex_hull()
        .filter_map(|edge| {
            let face = edge.face().as_inner().or(edge.rev().face().as_inner())?;
            Some((face.fix(), edge.is_constraint_edge()))
        })
        .collect();
    while let Some((face, is_inside)) = reached.pop() {
        if inside.insert(face, is_inside).is_some() {
            continue;
        }
        for edge in net.face(face).adjacent_edges() {
            if let Some(next) = edge.rev().face().as_inner()
                && !inside.contains_key(&next.fix())
            {
                reached.push((next.fix(), is_inside != edge.is_constraint_edge()));
            }
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{PanelFrame, Path};

    #[test]
    fn a_row_of_holes_keeps_every_corner_and_the_area() {
        // 100 x 20 less five squares of 10 x 10, all of whose corners lie on two lines: 1500 mm2.
        let holes = (0..5).map(|i| {
            let left = 2.0 + 20.0 * f64::from(i);
            Path::<PanelFrame>::rectangle(left, 5.0, left + 10.0, 15.0).reversed()
        });
        let paths: Vec<_> = std::iter::once(Path::rectangle(0.0, 0.0, 100.0, 20.0)).chain(holes).collect();
        let rings: Vec<Vec<Point2<PanelFrame>>> =
            paths.iter().map(|path| path.vertices().iter().map(|vertex| vertex.point).collect()).collect();
        let corners = rings.concat();
        let triangles = triangles_inside(&rings);
        let area = |[a, b, c]: [usize; 3]| (corners[b] - corners[a]).cross(corners[c] - corners[a]) / 2.0;
        assert!(triangles.iter().all(|&triangle| area(triangle) > 0.0));
        assert!((triangles.iter().map(|&triangle| area(triangle)).sum::<f64>() - 1500.0).abs() < 1e-9);
        // A region with n corners and h holes has n + 2 h - 2 triangles where every corner is used.
        assert_eq!(triangles.len(), 24 + 2 * 5 - 2);
    }
}
