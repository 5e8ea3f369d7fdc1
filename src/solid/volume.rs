//! Area, volume and centroid of a plate from its plane contours, exact with arcs.
//!
//! Takes the same plate as the kernel does and shares nothing with it. Never builds a solid.

use super::{Countersink, PlateFace, RoundHole, SolidSpec};
use crate::geom::{PanelFrame, Path, Point3, Vector3};
use std::f64::consts::PI;

/// What a plate weighs and balances by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PlateFigures {
    /// mm2 of one face: inside the outline, less openings and bores; countersinks not counted.
    pub(crate) net_area: f64,
    /// mm3: net area times thickness, less what each countersink takes beyond its bore.
    pub(crate) volume: f64,
    /// Centre of the volume: u, v, and w from face B, mm.
    pub(crate) centroid: Point3<PanelFrame>,
    /// mm4. Second moments of the net area about its own centroid: of u squared, of v squared, of u v. Countersinks not counted.
    pub(crate) second: [f64; 3],
}

/// mm between an arc and the chords that stand for it in second moments.
const CHORD: f64 = 0.002;

/// mm4. Second moments of what a path encloses, about the frame's origin: of u squared, of v squared, of u v; negative for a
/// path that runs clockwise (sums over the triangles from the origin to each side).
fn second_moments(path: &Path<PanelFrame>) -> [f64; 3] {
    let points = path.flattened(CHORD);
    let mut sums = [0.0; 3];
    for (i, a) in points.iter().enumerate() {
        let b = points[(i + 1) % points.len()];
        let cross = a.x * b.y - b.x * a.y;
        sums[0] += cross * (a.x * a.x + a.x * b.x + b.x * b.x) / 12.0;
        sums[1] += cross * (a.y * a.y + a.y * b.y + b.y * b.y) / 12.0;
        sums[2] += cross * (a.x * b.y + 2.0 * a.x * a.y + 2.0 * b.x * b.y + b.x * a.y) / 24.0;
    }
    sums
}

/// The plate's figures; meaningful for a plate that passes the checks of [`super::build`].
pub(crate) fn figures(spec: &SolidSpec) -> PlateFigures {
    let mut net_area = spec.outline.area();
    let mut moments = spec.outline.first_moments();
    let mut second = second_moments(spec.outline);
    for opening in spec.openings {
        // Openings run clockwise: their area and moments are negative.
        net_area += opening.area();
        moments += opening.first_moments();
        for (sum, own) in second.iter_mut().zip(second_moments(opening)) {
            *sum += own;
        }
    }
    for bore in &spec.bores {
        let area = PI * bore.diameter * bore.diameter / 4.0;
        net_area -= area;
        moments -= bore.centre.to_vector() * area;
        let (u, v, own) = (bore.centre.x, bore.centre.y, bore.diameter * bore.diameter / 16.0);
        for (sum, of_area) in second.iter_mut().zip([u * u + own, v * v + own, u * v]) {
            *sum -= area * of_area;
        }
    }
    let prism = Vector3::new(moments.x, moments.y, net_area * spec.thickness / 2.0) * spec.thickness;
    let mut volume = net_area * spec.thickness;
    let mut moment = prism;
    for bore in &spec.bores {
        if let Some(cone) = bore.countersink {
            let (taken, depth) = beyond_bore(bore, cone);
            let level = match cone.face {
                PlateFace::A => spec.thickness - depth,
                PlateFace::B => depth,
            };
            volume -= taken;
            moment -= Vector3::new(bore.centre.x, bore.centre.y, level) * taken;
        }
    }
    let (u, v) = (moments.x / net_area, moments.y / net_area);
    for (sum, of_area) in second.iter_mut().zip([u * u, v * v, u * v]) {
        *sum -= net_area * of_area;
    }
    PlateFigures { net_area, volume, centroid: (moment / volume).to_point(), second }
}

/// What a countersink takes beyond its bore: volume in mm3, and how deep below the surface its centroid lies.
///
/// With r the bore's radius, R the cone's at the surface and h its depth, at the height s above the small end
/// the cone's radius is r + (R - r) s/h. The ring between it and the bore integrates to the volume
/// pi h/3 (R^2 + R r - 2 r^2) and, with s, to the moment pi h^2 (2 r (R - r)/3 + (R - r)^2/4) about the small
/// end.
fn beyond_bore(bore: &RoundHole, cone: Countersink) -> (f64, f64) {
    let (r, wide, h) = (bore.diameter / 2.0, cone.diameter / 2.0, cone.depth);
    let volume = PI * h / 3.0 * (wide * wide + wide * r - 2.0 * r * r);
    let moment = PI * h * h * (2.0 * r * (wide - r) / 3.0 + (wide - r).powi(2) / 4.0);
    (volume, h - moment / volume)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Path, Point2};
    use crate::solid::build;
    use proptest::prelude::*;

    fn hole(x: f64, y: f64, diameter: f64) -> RoundHole {
        RoundHole { centre: Point2::new(x, y), diameter, countersink: None }
    }

    /// An obround with its long axis along u, clockwise.
    fn obround(x: f64, y: f64, length: f64, width: f64) -> Path<PanelFrame> {
        let r = width / 2.0;
        let corner =
            |dx: f64, dy: f64, bulge: f64| crate::geom::Vertex { point: Point2::new(x + dx, y + dy), bulge };
        let half = length / 2.0 - r;
        Path::new(vec![
            corner(-half, -r, 0.0),
            corner(half, -r, 1.0),
            corner(half, r, 0.0),
            corner(-half, r, 1.0),
        ])
        .clockwise()
    }

    /// A rectangle with rounded corners.
    fn rounded(width: f64, height: f64, r: f64) -> Path<PanelFrame> {
        let quarter = (PI / 8.0).tan();
        let corner = |x: f64, y: f64, bulge: f64| crate::geom::Vertex { point: Point2::new(x, y), bulge };
        Path::new(vec![
            corner(r, 0.0, 0.0),
            corner(width - r, 0.0, quarter),
            corner(width, r, 0.0),
            corner(width, height - r, quarter),
            corner(width - r, height, 0.0),
            corner(r, height, quarter),
            corner(0.0, height - r, 0.0),
            corner(0.0, r, quarter),
        ])
    }

    /// Asserts that the kernel's solid is closed, has a hole for every opening and bore, and the exact volume.
    fn assert_solid(spec: &SolidSpec) -> PlateFigures {
        let exact = figures(spec);
        let solid = build(spec).unwrap();
        assert!(solid.is_closed());
        assert_eq!(solid.genus(), Some(spec.openings.len() + spec.bores.len()));
        let volume = solid.volume();
        assert!((volume / exact.volume - 1.0).abs() < 1e-9, "kernel {volume}, exact {}", exact.volume);
        exact
    }

    #[test]
    fn a_panel_with_a_hole_and_a_cut_out_has_its_textbook_figures() {
        // 600 x 400, hole d 100 at (150, 100), cut-out 200 x 80 about (450, 300), t 15: area 216146.018,
        // centroid (294.3469, 196.2312). Composite areas, confirmed by two independent section programs.
        let outline = Path::rectangle(0.0, 0.0, 600.0, 400.0);
        let cut_out = [Path::rectangle(350.0, 260.0, 550.0, 340.0).clockwise()];
        let bores = vec![hole(150.0, 100.0, 100.0)];
        let spec = SolidSpec { outline: &outline, openings: &cut_out, bores, thickness: 15.0 };
        let found = assert_solid(&spec);
        assert!((found.net_area - 216_146.018).abs() < 1e-3, "{found:?}");
        let Point3 { x, y, z, .. } = found.centroid;
        assert!(
            (x - 294.3469).abs() < 1e-4 && (y - 196.2312).abs() < 1e-4 && (z - 7.5).abs() < 1e-9,
            "{found:?}"
        );
        // About its centroid: 2.944948e9 mm4 of v squared, 6.598136e9 of u squared, by the same programs.
        let [uu, vv, _] = found.second;
        assert!((uu / 6.598_136e9 - 1.0).abs() < 1e-6 && (vv / 2.944_948e9 - 1.0).abs() < 1e-6, "{found:?}");
    }

    #[test]
    fn bolt_holes_an_obround_and_rounded_corners_take_their_share_of_the_volume() {
        // 600 x 400 x 18: less 10 holes d 6.6 (342.119 mm2), an obround 100 x 30 (2806.858 mm2) and four corners
        // r 6 (30.903 mm2): plane geometry.
        let outline = rounded(600.0, 400.0, 6.0);
        let openings = [obround(300.0, 200.0, 100.0, 30.0)];
        let bores = (0..10_i32).map(|i| hole(30.0 + 60.0 * f64::from(i), 30.0, 6.6)).collect();
        let spec = SolidSpec { outline: &outline, openings: &openings, bores, thickness: 18.0 };
        let found = assert_solid(&spec);
        assert!((found.net_area - (240_000.0 - 342.119 - 2806.858 - 30.903)).abs() < 2e-3, "{found:?}");
        assert!((found.volume - found.net_area * 18.0).abs() < 1e-6);
    }

    #[test]
    fn sixty_holes() {
        let outline = Path::rectangle(-20.0, 0.0, 880.0, 300.0);
        let bores = (0..60_i32)
            .map(|i| hole(f64::from(i % 20) * 44.0, 40.0 + f64::from(i / 20) * 100.0, 6.6))
            .collect();
        assert_solid(&SolidSpec { outline: &outline, openings: &[], bores, thickness: 12.0 });
    }

    #[test]
    fn an_l_shape_with_tabs() {
        let points = [
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0, -12.0),
            (260.0, -12.0),
            (260.0, 0.0),
            (500.0, 0.0),
            (500.0, 150.0),
            (150.0, 150.0),
            (150.0, 250.0),
            (162.0, 250.0),
            (162.0, 300.0),
            (150.0, 300.0),
            (150.0, 400.0),
            (0.0, 400.0),
        ];
        let outline = Path::polygon(points.map(|(x, y)| Point2::new(x, y)));
        let spec = SolidSpec {
            outline: &outline,
            openings: &[],
            bores: vec![hole(75.0, 75.0, 9.0)],
            thickness: 12.0,
        };
        let found = assert_solid(&spec);
        let legs = 500.0 * 150.0 + 150.0 * 250.0 + 60.0 * 12.0 + 12.0 * 50.0;
        assert!((found.net_area - (legs - PI * 4.5 * 4.5)).abs() < 1e-9);
    }

    #[test]
    fn countersinks_take_a_cone_frustum_from_their_face() {
        // Bore d 6.6, cone d 13.44 at the surface with 90 degrees: depth (13.44 - 6.6)/2 = 3.42. The frustum
        // pi h/3 (R^2 + R r + r^2) holds 282.4 mm3 (by hand), the bore in it 117.0.
        let cone = |face| Some(Countersink { diameter: 13.44, depth: 3.42, face });
        let outline = Path::rectangle(0.0, 0.0, 100.0, 100.0);
        let of = |bores: Vec<RoundHole>| {
            assert_solid(&SolidSpec { outline: &outline, openings: &[], bores, thickness: 12.0 })
        };
        let plain = of(vec![hole(50.0, 50.0, 6.6)]);
        let above = of(vec![RoundHole { countersink: cone(PlateFace::A), ..hole(50.0, 50.0, 6.6) }]);
        let below = of(vec![RoundHole { countersink: cone(PlateFace::B), ..hole(50.0, 50.0, 6.6) }]);
        let frustum = PI * 3.42 / 3.0 * (6.72 * 6.72 + 6.72 * 3.3 + 3.3 * 3.3);
        let cylinder = PI * 3.3 * 3.3 * 3.42;
        assert!((plain.volume - above.volume - (frustum - cylinder)).abs() < 1e-6, "{above:?}");
        assert!((above.volume - below.volume).abs() < 1e-6);
        // Material is missing near face A, so the centroid lies lower by as much as it lies higher for B.
        assert!(above.centroid.z < 6.0 && (above.centroid.z + below.centroid.z - 12.0).abs() < 1e-9);
        // Missing volume at the level c: (V0 6 - missing c) / V1.
        let missing = frustum - cylinder;
        let level = (plain.volume * 6.0 - above.volume * above.centroid.z) / missing;
        let by_slices = centroid_by_slices(3.3, 6.72, 3.42, 12.0);
        assert!((level - by_slices).abs() < 1e-3, "{level} against {by_slices}");
    }

    /// Level of the centroid of the ring between cone and bore, summed over thin slices.
    fn centroid_by_slices(r: f64, wide: f64, h: f64, thickness: f64) -> f64 {
        let n = 20_000;
        let (mut volume, mut moment) = (0.0, 0.0);
        for i in 0..n {
            let s = (f64::from(i) + 0.5) / f64::from(n) * h;
            let radius = r + (wide - r) * s / h;
            let area = radius * radius - r * r;
            volume += area;
            moment += area * (thickness - h + s);
        }
        moment / volume
    }

    #[test]
    fn arcs_of_more_than_half_a_circle_and_almost_straight_ones() {
        let vertex = |x: f64, y: f64, bulge: f64| crate::geom::Vertex { point: Point2::new(x, y), bulge };
        let outline =
            Path::new(vec![vertex(0.0, 0.0, 1e-9), vertex(40.0, 0.0, 2.5), vertex(0.0, 30.0, -0.02)]);
        assert_solid(&SolidSpec { outline: &outline, openings: &[], bores: vec![], thickness: 6.0 });
    }

    #[test]
    fn a_shell_without_a_face_is_not_closed() {
        let outline = Path::rectangle(0.0, 0.0, 100.0, 100.0);
        let spec = SolidSpec { outline: &outline, openings: &[], bores: vec![], thickness: 12.0 };
        let mut solid = build(&spec).unwrap();
        assert!(solid.is_closed());
        let lid = solid.shell.pop().unwrap();
        assert!(!solid.is_closed());
        solid.shell.push(lid.inverse());
        assert!(!solid.is_closed());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn kernel_and_formula_agree_on_any_row_of_bores(
            sizes in prop::collection::vec((1_i32..9, 0_i32..4, any::<bool>()), 0..8),
            thickness in 5_i32..30, rounding in 1_i32..40,
        ) {
            let outline = rounded(400.0, 90.0, f64::from(rounding));
            let bores = sizes.iter().enumerate().map(|(i, &(diameter, cone, up))| {
                let diameter = f64::from(diameter) * 1.5;
                let face = if up { PlateFace::A } else { PlateFace::B };
                let countersink = (cone > 0).then(|| Countersink {
                    diameter: diameter + 2.0 * f64::from(cone), depth: f64::from(cone), face,
                });
                let centre = Point2::new(40.0 + 45.0 * i as f64, 45.0);
                RoundHole { centre, diameter, countersink }
            });
            let bores = bores.collect();
            assert_solid(&SolidSpec { outline: &outline, openings: &[], bores, thickness: f64::from(thickness) });
        }
    }
}
