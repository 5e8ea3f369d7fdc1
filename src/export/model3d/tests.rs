//! Whole kits as models: names, closed boundaries, volumes, the texts of both formats.

use super::boundary::{Boundary, Curve, Face, Use};
use super::mesh::{Fineness, Mesh, mesh};
use super::scene::{Occurrence, Scene};
use super::shapes::{self, AngleShape};
use super::{glb, step};
use crate::example_kits::{self, ANGLES, CAPTIVE_NUTS, SIDE_BY_SIDE};
use crate::finished::{Finished, with_solid};
use crate::geom::tolerance::MESH_CHORD;
use crate::geom::{PanelFrame, Path, Point2, Vertex};
use crate::solid::{self, Countersink, PlateFace, RoundHole, SolidSpec};
use proptest::prelude::*;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;

fn parts(scene: &Scene) -> impl Iterator<Item = &Occurrence> {
    scene.modules.iter().flat_map(|module| &module.parts).chain(&scene.loose)
}

/// mm3 that the triangles enclose: a sixth of the product of the corners of each (divergence theorem).
fn volume(mesh: &Mesh) -> f64 {
    let part = |corners: &[usize; 3]| {
        let [a, b, c] = corners.map(|corner| mesh.positions[corner].to_vector());
        a.dot(b.cross(c)) / 6.0
    };
    mesh.triangles.iter().map(part).sum()
}

/// Asserts that the triangles leave no gap: every edge, by its places, is run along as often one way as the other.
fn assert_closed(mesh: &Mesh) {
    let mut ways: BTreeMap<[[u64; 3]; 2], i32> = BTreeMap::new();
    for corners in &mesh.triangles {
        let place = |corner: usize| mesh.positions[corner].to_array().map(|part| (part + 0.0).to_bits());
        for (a, b) in [(0, 1), (1, 2), (2, 0)] {
            let (a, b) = (place(corners[a]), place(corners[b]));
            assert_ne!(a, b, "a triangle has an edge without length");
            *ways.entry([a.min(b), a.max(b)]).or_default() += if a < b { 1 } else { -1 };
        }
    }
    assert!(!ways.is_empty() && ways.values().all(|way| *way == 0));
}

/// Asserts that every edge lies between two uses in opposite directions, and that every loop is closed.
fn assert_sound(solid: &Boundary) {
    let mut uses = vec![(0, 0); solid.edges.len()];
    for Face { loops, .. } in &solid.faces {
        for one in loops {
            let ends = |used: Use| {
                let edge = solid.edges[used.edge];
                if used.forward { (edge.from, edge.to) } else { (edge.to, edge.from) }
            };
            for (i, &used) in one.iter().enumerate() {
                assert_eq!(ends(used).1, ends(one[(i + 1) % one.len()]).0);
                let count = &mut uses[used.edge];
                *if used.forward { &mut count.0 } else { &mut count.1 } += 1;
            }
        }
    }
    assert!(uses.iter().all(|&count| count == (1, 1)), "{uses:?}");
}

/// mm3 that chords may take from a plate or add to it.
fn chords_take(spec: &SolidSpec<'_>) -> f64 {
    let arcs = |path: &Path<PanelFrame>| -> f64 {
        let arcs = path.sides().filter(|side| side.2 != 0.0);
        arcs.map(|(a, b, bulge)| {
            Path::new(vec![Vertex { point: a, bulge }, Vertex { point: b, bulge: 0.0 }]).length()
        })
        .sum()
    };
    let contours: f64 = std::iter::once(spec.outline).chain(spec.openings).map(arcs).sum();
    let widest = |bore: &RoundHole| bore.countersink.map_or(bore.diameter, |cone| cone.diameter);
    let bores: f64 = spec.bores.iter().map(|bore| PI * widest(bore)).sum();
    // Besides, every corner is put on the micrometre grid.
    (contours + bores) * MESH_CHORD * spec.thickness + 1e-6 * solid::figures(spec).volume
}

/// Asserts that a plate's boundary is sound, and its mesh closed and of the plate's volume but for its chords.
fn assert_plate(spec: &SolidSpec<'_>) {
    let solid = shapes::plate(spec);
    assert_sound(&solid);
    assert_closed(&mesh(std::slice::from_ref(&solid), Fineness::Coarse));
    let mesh = mesh(&[solid], Fineness::Fine);
    assert_closed(&mesh);
    let (exact, found) = (solid::figures(spec).volume, volume(&mesh));
    assert!((found - exact).abs() <= chords_take(spec), "{found} {exact}");
}

#[test]
fn every_part_is_there_once_in_its_module_and_every_solid_is_closed() {
    for text in [ANGLES, CAPTIVE_NUTS, SIDE_BY_SIDE] {
        let Finished { kit, .. } = &example_kits::finished(text);
        let scene = Scene::of(&example_kits::finished(text));
        let names: Vec<&str> = parts(&scene).map(|part| part.name.as_str()).collect();
        let distinct: BTreeSet<&str> = names.iter().copied().collect();
        assert_eq!(names.len(), distinct.len());
        assert_eq!(
            names.len(),
            kit.panels.len() + kit.angles.len() + kit.bolts.len() + 2 * kit.layout.mounts.len()
        );
        for panel in &kit.panels {
            let module =
                scene.modules.iter().find(|module| module.name == kit.layout.body(panel.body).carcase);
            let part = module.unwrap().parts.iter().find(|part| part.name == panel.name).unwrap();
            assert_eq!(part.placement, panel.placement);
            with_solid(panel, assert_plate);
        }
        let called: BTreeSet<&str> = scene.definitions.iter().map(|shape| shape.name.as_str()).collect();
        assert_eq!(called.len(), scene.definitions.len());
        assert!(called.len() < names.len() / 2, "equal parts share their shape");
        for shape in &scene.definitions {
            shape.solids.iter().for_each(assert_sound);
            assert_closed(&mesh(&shape.solids, Fineness::Coarse));
            let mesh = mesh(&shape.solids, Fineness::Fine);
            assert_closed(&mesh);
            assert!(volume(&mesh) > 0.0);
        }
    }
}

/// The plain likeness has the same parts in the same places, closed, no larger, and as large but for what is left out.
#[test]
fn what_is_plain_has_every_part_where_it_is_with_fewer_triangles() {
    for text in [ANGLES, CAPTIVE_NUTS, SIDE_BY_SIDE] {
        let finished = example_kits::finished(text);
        let (full, plain) = (Scene::of(&finished), Scene::plain(&finished));
        let (mut many, mut few) = (0, 0);
        for (one, other) in parts(&full).zip(parts(&plain)) {
            assert_eq!((&one.name, one.kind, one.body), (&other.name, other.kind, other.body));
            assert_eq!(one.placement, other.placement);
            let mesh = |scene: &Scene, part: &Occurrence| {
                mesh(&scene.definitions[part.definition].solids, Fineness::Coarse)
            };
            let (one_mesh, other_mesh) = (mesh(&full, one), mesh(&plain, other));
            assert_closed(&other_mesh);
            many += one_mesh.triangles.len();
            few += other_mesh.triangles.len();
            let bounds = |mesh: &Mesh| {
                let all = mesh.positions.iter().map(|p| p.to_array());
                let fold = |pick: fn(f64, f64) -> f64, from: f64| {
                    all.clone().fold([from; 3], |all, p| std::array::from_fn(|i| pick(all[i], p[i])))
                };
                [fold(f64::min, f64::INFINITY), fold(f64::max, f64::NEG_INFINITY)]
            };
            // Washers and nuts stand out beyond a bolt's head, which the plain bar is as wide as.
            if one.kind == "hardware" {
                continue;
            }
            for (a, b) in bounds(&one_mesh).iter().flatten().zip(bounds(&other_mesh).iter().flatten()) {
                assert!((a - b).abs() <= 3.0 + 1e-6, "{}: {a} and {b}", one.name);
            }
        }
        assert_eq!(parts(&full).count(), parts(&plain).count());
        assert!(3 * few < many, "{few} of {many}");
    }
}

#[test]
fn equal_panels_are_one_shape_called_by_all_their_names() {
    let scene = Scene::of(&example_kits::finished(ANGLES));
    let of = |name: &str| parts(&scene).find(|part| part.name == name).unwrap().definition;
    let (one, other) = (of("main-drawer-1-box-left"), of("main-drawer-2-box-left"));
    assert_eq!(one, other);
    assert_eq!(scene.definitions[one].name, "main-drawer-1-box-left, main-drawer-2-box-left");
    // Sides of a carcase are mirror images: no turn makes one of the other.
    assert_ne!(of("main-side-left"), of("main-side-right"));
}

#[test]
fn both_files_name_every_part_and_are_the_same_each_time() {
    let (first, second) = (example_kits::finished(ANGLES), example_kits::finished(ANGLES));
    let scene = Scene::of(&first);
    let file = step::write(&scene);
    assert_eq!(file, step::write(&Scene::of(&second)));
    assert!(file.is_ascii() && file.contains("PRODUCT('two-drawers','two-drawers',"));
    let mut known = glb::Meshes::default();
    let bytes = glb::write(&scene, &mut known);
    // Whether its triangles are known already or not.
    for mut known in [glb::Meshes::default(), known] {
        assert_eq!(bytes, glb::write(&Scene::of(&second), &mut known));
    }
    let document = document(&bytes);
    let nodes = document["nodes"].as_array().unwrap();
    for part in parts(&scene) {
        let used = format!(",'{}','',", part.name);
        assert_eq!(file.lines().filter(|line| line.contains("=NEXT_") && line.contains(&used)).count(), 1);
        assert_eq!(nodes.iter().filter(|node| node["name"] == *part.name).count(), 1);
    }
}

/// The document in a binary container.
fn document(bytes: &[u8]) -> Value {
    let length = u32::from_le_bytes(bytes[12..16].try_into().unwrap()) as usize;
    serde_json::from_slice(&bytes[20..20 + length]).unwrap()
}

#[test]
fn parts_of_a_drawer_say_how_it_moves() {
    let finished = example_kits::finished(ANGLES);
    let document = document(&glb::write(&Scene::of(&finished), &mut glb::Meshes::default()));
    let nodes = document["nodes"].as_array().unwrap();
    let extras = |name: &str| &nodes.iter().find(|node| node["name"] == name).unwrap()["extras"];
    let bottom = extras("main-drawer-1-box-left");
    assert_eq!(bottom["body"], "main-drawer-1");
    assert_eq!((&bottom["travel"], &bottom["kind"]), (&800.0.into(), &"panel".into()));
    assert_eq!(bottom["direction"], serde_json::json!([-1.0, 0.0, 0.0]));
    let base = extras("main-base");
    assert_eq!((&base["body"], base.get("travel")), (&"main".into(), None));
    // The vehicle's forward, left and up in mm become z, x and y in metres: columns of the root's matrix.
    let columns =
        [[0.0, 0.0, 0.001, 0.0], [0.001, 0.0, 0.0, 0.0], [0.0, 0.001, 0.0, 0.0], [0.0, 0.0, 0.0, 1.0]];
    assert_eq!(nodes[0]["matrix"], serde_json::json!(columns.concat()));
}

#[test]
fn a_turned_body_has_the_volume_of_its_cylinders() {
    // A head of 10 x 3, a shank of 6 x 20: pi (25 x 3 + 9 x 20) = 801.1 mm3; chords take at most 0.1 mm all round.
    let solid = shapes::turned(&[(-3.0, 5.0), (0.0, 5.0), (0.0, 3.0), (20.0, 3.0)]);
    assert_sound(&solid);
    let mesh = mesh(&[solid], Fineness::Fine);
    assert_closed(&mesh);
    let (exact, rim) = (PI * (25.0 * 3.0 + 9.0 * 20.0), 2.0 * PI * (5.0 * 3.0 + 3.0 * 20.0));
    let found = volume(&mesh);
    assert!(found < exact && found > exact - rim * MESH_CHORD, "{found} {exact}");
}

#[test]
fn a_piece_of_angle_has_its_section_less_its_holes() {
    // 30 x 30 x 3: 171 mm2, 400 mm long, three holes of 6.6 through 3 mm.
    let shape = AngleShape {
        leg: 30.0,
        thickness: 3.0,
        length: 400.0,
        gauges: [18.0, 18.0],
        holes: [vec![20.0, 380.0], vec![50.0]],
        hole_diameter: 6.6,
    };
    let solid = shapes::angle(&shape);
    assert_sound(&solid);
    let mesh = mesh(std::slice::from_ref(&solid), Fineness::Fine);
    assert_closed(&mesh);
    let exact = 171.0 * 400.0 - 3.0 * PI * 3.3 * 3.3 * 3.0;
    assert!((volume(&mesh) - exact).abs() < 3.0 * PI * 6.6 * 3.0 * MESH_CHORD, "{} {exact}", volume(&mesh));
    // Two of the holes lie in the leg along v: their axes point along u.
    let along = |axis: f64| {
        let is = |curve: &Curve| matches!(curve, Curve::Arc { axis: own, .. } if (own.x.abs() - axis).abs() < 1e-9);
        solid.edges.iter().filter(|edge| is(&edge.curve)).count()
    };
    assert_eq!((along(1.0), along(0.0)), (4, 2));
}

#[test]
fn a_corner_on_a_straight_side_is_left_out() {
    let points =
        [(0.0, 0.0), (40.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0), (0.0, 20.0), (0.0, 10.0)];
    let outline = Path::polygon(points.map(|(u, v)| Point2::new(u, v)));
    let spec = SolidSpec { outline: &outline, openings: &[], bores: Vec::new(), thickness: 12.0 };
    assert_eq!(shapes::plate(&spec).faces.len(), 6);
    assert_plate(&spec);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Bores in rows, so that many corners of the mesh lie on one line, with and without countersinks on either face.
    #[test]
    fn plates_with_rows_of_bores_are_closed(
        sizes in prop::collection::vec((1_i32..9, 0_i32..4, any::<bool>(), 0_i32..3), 0..14),
        thickness in 5_i32..30, slot in any::<bool>(),
    ) {
        let outline = Path::rectangle(0.0, 0.0, 700.0, 160.0);
        let bores = sizes.iter().enumerate().map(|(i, &(diameter, cone, up, row))| {
            let diameter = f64::from(diameter) * 1.5;
            let face = if up { PlateFace::A } else { PlateFace::B };
            let countersink = (cone > 0).then(|| Countersink {
                diameter: diameter + 2.0 * f64::from(cone), depth: f64::from(cone), face,
            });
            let centre = Point2::new(40.0 + 45.0 * i as f64, 30.0 + 45.0 * f64::from(row));
            RoundHole { centre, diameter, countersink }
        });
        let corner = |x: f64, y: f64, bulge: f64| Vertex { point: Point2::new(x, y), bulge };
        let obround = vec![corner(50.0, 145.0, 0.0), corner(600.0, 145.0, 1.0), corner(600.0, 155.0, 0.0), corner(50.0, 155.0, 1.0)];
        let openings: Vec<Path<PanelFrame>> = slot.then(|| Path::new(obround).clockwise()).into_iter().collect();
        assert_plate(&SolidSpec { outline: &outline, openings: &openings, bores: bores.collect(), thickness: f64::from(thickness) });
    }
}
