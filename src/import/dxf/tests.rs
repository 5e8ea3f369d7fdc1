//! Drawings as other programs write them, faults of every kind, and our own files read back.

use super::*;
use crate::export::cutfile::{CutFile, Item, Operation, Shape as Drawn};
use crate::export::{dxf as writer, layers};
use crate::geom::{Path, SheetFrame};
use crate::import::drawing::read_one;
use crate::spec::Layers as Named;
use proptest::prelude::*;
use std::f64::consts::PI;
use std::fmt::Write as _;

/// A drawing in millimetres of entities written as `KIND code value code value`, one a line.
fn drawing(entities: &str) -> String {
    with_blocks("", entities)
}

fn with_blocks(blocks: &str, entities: &str) -> String {
    let sections = format!(
        "SECTION 2 HEADER 9 $INSUNITS 70 4\nENDSEC\nSECTION 2 BLOCKS\n{blocks}\nENDSEC\nSECTION 2 ENTITIES\n{entities}\nENDSEC\nEOF"
    );
    sections.lines().filter(|line| !line.trim().is_empty()).fold(String::new(), |mut text, line| {
        let mut words = line.split_whitespace();
        writeln!(text, "  0\n{}", words.next().unwrap()).unwrap();
        words.for_each(|word| writeln!(text, "{word}").unwrap());
        text
    })
}

fn read_mm(entities: &str) -> Result<Vec<Outline>, Vec<String>> {
    told(read(drawing(entities).as_bytes(), Reading::default()))
}

fn told(read: Result<Vec<Outline>, Vec<Fault>>) -> Result<Vec<Outline>, Vec<String>> {
    read.map_err(|faults| faults.into_iter().map(|fault| fault.message).collect())
}

/// The area of the one outline that a drawing has, openings left out.
fn area(entities: &str) -> f64 {
    let outlines = read_mm(entities).unwrap();
    assert_eq!(outlines.len(), 1, "{outlines:?}");
    outlines[0].outline.area() + outlines[0].openings.iter().map(Path::area).sum::<f64>()
}

const SQUARE: &str = "LINE 10 0 20 0 11 100 21 0\nLINE 10 100 20 100 11 100 21 0\nLINE 10 100 20 100 11 0 21 100\nLINE 10 0 20 100 11 0 21 0\n";

#[test]
fn every_kind_of_curve_encloses_what_plane_geometry_says() {
    for (entities, expected, within) in [
        (SQUARE, 10_000.0, 1e-9),
        ("CIRCLE 10 5 20 5 40 10", PI * 100.0, 1e-6),
        ("ARC 10 0 20 0 40 10 50 0 51 360", PI * 100.0, 1e-6),
        // A half disc, its arc from 90 to 270 degrees.
        ("ARC 10 0 20 0 40 10 50 90 51 270\nLINE 10 0 20 -10 11 0 21 10", PI * 50.0, 1e-6),
        ("LWPOLYLINE 70 1 10 0 20 0 10 10 20 0 42 1 10 10 20 10 10 0 20 10", 100.0 + PI * 12.5, 1e-6),
        (
            "POLYLINE 70 1\nVERTEX 10 0 20 0\nVERTEX 10 10 20 0 42 1\nVERTEX 10 10 20 10\nVERTEX 10 0 20 10\nSEQEND",
            100.0 + PI * 12.5,
            1e-6,
        ),
        // Closed by its last corner alone.
        ("LWPOLYLINE 10 0 20 0 10 10 20 0 10 10 20 10 10 0 20 0", 50.0, 1e-9),
        // Chords within 0.01 mm take less than the length of the curve times that.
        ("ELLIPSE 10 1 20 2 11 0 21 60 40 0.5 41 0 42 6.283185307179586", PI * 60.0 * 30.0, 3.0),
        ("SPLINE 71 1 40 0 40 0 40 1 40 2 40 3 40 3 10 0 20 0 10 10 20 0 10 10 20 10 10 0 20 0", 50.0, 1e-9),
        // Texts, points and dimensions are no contours, nor is what lies in a paper layout.
        (
            "CIRCLE 40 10\nTEXT 1 words 10 0 20 0\nPOINT 10 3\nDIMENSION 10 0\nLINE 67 1 11 5",
            PI * 100.0,
            1e-6,
        ),
        ("CIRCLE 40 100\nCIRCLE 40 10 10 20\nCIRCLE 40 5 10 -20", PI * (10_000.0 - 100.0 - 25.0), 1e-6),
    ] {
        let found = area(entities);
        assert!((found - expected).abs() < within, "{found} instead of {expected}: {entities}");
    }
}

#[test]
fn blocks_are_put_in_where_they_are_moved_turned_scaled_and_mirrored() {
    let corner = "BLOCK 2 corner 10 1 20 1\nLWPOLYLINE 70 1 10 1 20 1 10 4 20 1 10 1 20 3\nENDBLK\n";
    let bounds = |insert: &str| {
        let text = with_blocks(corner, insert);
        let outlines = read(text.as_bytes(), Reading::default()).unwrap();
        let (low, high) = outlines[0].outline.bounds();
        ([low.x, low.y, high.x, high.y], outlines.len(), outlines[0].outline.area())
    };
    // The block's base (1, 1) comes to the place; its triangle is 3 by 2.
    assert_eq!(bounds("INSERT 2 CORNER 10 10 20 20"), ([10.0, 20.0, 13.0, 22.0], 1, 3.0));
    assert_eq!(bounds("INSERT 2 corner 10 10 20 20 50 90"), ([8.0, 20.0, 10.0, 23.0], 1, 3.0));
    assert_eq!(bounds("INSERT 2 corner 41 2 42 2"), ([0.0, 0.0, 6.0, 4.0], 1, 12.0));
    assert_eq!(bounds("INSERT 2 corner 41 -1 42 1"), ([-3.0, 0.0, 0.0, 2.0], 1, 3.0));
    assert_eq!(bounds("INSERT 2 corner 41 1 42 -1"), ([0.0, -2.0, 3.0, 0.0], 1, 3.0));
    assert_eq!(bounds("INSERT 2 corner 10 5 230 -1"), ([-8.0, 0.0, -5.0, 2.0], 1, 3.0));
    assert_eq!(bounds("INSERT 2 corner 70 3 71 2 44 10 45 10").1, 6);
    for (insert, said) in [
        ("INSERT 2 corner 41 2 42 3", "scales its block by 2 along and 3 across"),
        ("INSERT 2 other", "puts in a block `other` that the file does not have"),
    ] {
        let faults = told(read(with_blocks(corner, insert).as_bytes(), Reading::default())).unwrap_err();
        assert!(faults[0].contains(said), "{faults:?}");
    }
    let solid = "BLOCK 2 solid\nREGION\nENDBLK\n";
    let faults = told(read(with_blocks(solid, "INSERT 2 solid").as_bytes(), Reading::default())).unwrap_err();
    assert!(faults[0].contains("REGION at line 20"), "{faults:?}");
    // Nobody puts it in.
    assert!(read(with_blocks(solid, "CIRCLE 40 3").as_bytes(), Reading::default()).is_ok());
    let inward = "BLOCK 2 a\nINSERT 2 a\nENDBLK\n";
    let faults = told(read(with_blocks(inward, "INSERT 2 a").as_bytes(), Reading::default())).unwrap_err();
    assert!(faults[0].contains("more than 8 blocks deep"), "{faults:?}");
    // Ten of ten of ten ... of nothing.
    let many: String = (0..6)
        .map(|i| format!("BLOCK 2 b{i}\nINSERT 2 b{} 70 100 71 100\nENDBLK\n", i + 1))
        .chain(["BLOCK 2 b6\nENDBLK\n".to_owned()])
        .collect();
    let faults = told(read(with_blocks(&many, "INSERT 2 b0").as_bytes(), Reading::default())).unwrap_err();
    assert!(faults[0].contains("more than 200000 corners"), "{faults:?}");
}

#[test]
fn units_are_read_or_asked_for_and_never_guessed() {
    let inch = drawing(SQUARE).replace("$INSUNITS\n70\n4", "$INSUNITS\n70\n1");
    let none = drawing(SQUARE).replace("9\n$INSUNITS\n70\n4\n", "");
    let metres = drawing(SQUARE).replace("$INSUNITS\n70\n4", "$INSUNITS\n70\n6");
    let size = |text: &str, unit| {
        let outlines = told(read(text.as_bytes(), Reading { unit, layers: &[] }))?;
        Ok::<f64, Vec<String>>(outlines[0].outline.bounds().1.x)
    };
    assert_eq!(size(&inch, None), Ok(2540.0));
    assert_eq!(size(&none, Some(Unit::Inch)), Ok(2540.0));
    assert_eq!(size(&none, Some(Unit::Millimetre)), Ok(100.0));
    assert!(size(&none, None).unwrap_err()[0].contains("does not say its unit"));
    assert!(size(&metres, None).unwrap_err()[0].contains("in metres"));
}

#[test]
fn layers_can_be_chosen() {
    let text = with_blocks(
        "BLOCK 2 hole\nCIRCLE 8 0 40 5\nENDBLK\n",
        "CIRCLE 8 PART 40 100\nCIRCLE 8 WORDS 40 90\nINSERT 8 part 2 hole\nINSERT 8 words 2 hole 10 30",
    );
    let layers = ["Part".to_owned()];
    let outlines = read(text.as_bytes(), Reading { unit: None, layers: &layers }).unwrap();
    assert_eq!((outlines.len(), outlines[0].openings.len()), (1, 1));
}

#[test]
fn faults_say_where() {
    let open = SQUARE.replace("10 0 20 100 11 0 21 0", "5 2F 10 0 20 100 11 0.5 21 0");
    for (entities, said) in [
        (
            open.as_str(),
            "a contour is open: it starts at (0, 0) (LINE at line 22) and ends at (0.5, 0) (LINE at line 52, handle 2F), 0.5 mm apart",
        ),
        (
            "LWPOLYLINE 70 1 10 0 20 0 10 10 20 10 10 10 20 0 10 0 20 10",
            "a contour meets itself at (5, 5) (LWPOLYLINE at line 22)",
        ),
        ("CIRCLE 40 10\nCIRCLE 40 10 10 20", "two contours meet at (10, 0)"),
        ("CIRCLE 40 10\nCIRCLE 40 10", "two contours meet at"),
        ("LWPOLYLINE 70 1 10 0 20 0 10 10 20 0 10 5 20 0", "encloses nothing"),
        (
            "LWPOLYLINE 70 1 10 0 20 0 10 10 20 0 10 10 20 10 10 5 20 10 10 5 20 20 10 5 20 10 10 0 20 10",
            "a contour meets itself at (5, ",
        ),
        ("LWPOLYLINE 70 1 10 0 20 0 10 10 20 0 10 10 20 10 10 10 20 0", "a contour meets itself at (10, "),
        ("CIRCLE 40 0", "CIRCLE at line 22 has the radius 0"),
        ("CIRCLE 40 nan", "line 24: `nan` is no finite number"),
        ("CIRCLE 40 1e400", "`1e400` is no finite number"),
        ("CIRCLE 40 1e7", "farther than 1 km"),
        ("LWPOLYLINE 70 1 10 0 20 0 42 1e300 10 10 20 0 10 10 20 10", "bulges beyond a circle"),
        ("REGION", "REGION at line 22 is nothing that a contour is read from"),
        ("LINE 11 10 31 5", "LINE at line 22 does not lie flat"),
        ("SPLINE 71 3 10 0 20 0", "contradicts itself"),
        ("SPLINE 71 3 11 0 21 0", "has no control points"),
    ] {
        let faults = read_mm(entities).unwrap_err();
        assert!(faults[0].contains(said), "{faults:?} instead of {said}");
    }
    let twice = read_mm(&format!("{SQUARE}LINE 10 0 20 0 11 100 21 0")).unwrap_err();
    assert_eq!(twice[0], "3 ends meet at (0, 0) (LINE at line 22)");
    let two =
        read_one(drawing("CIRCLE 40 10\nCIRCLE 40 10 10 50").as_bytes(), Reading::default()).unwrap_err();
    assert_eq!(two[0].message, "the drawing has 2 separate outer contours, at (10, 0), (60, 0)");
    let none = read_one(drawing("TEXT 1 words").as_bytes(), Reading::default()).unwrap_err();
    assert_eq!(none[0].message, "the drawing has no contour");
}

#[test]
fn what_is_no_drawing_is_said() {
    let stops = drawing(SQUARE).replace("  0\nEOF\n", "");
    for (bytes, said) in [
        (&b""[..], "the file is empty"),
        (b" \r\n", "the file is empty"),
        (b"a binary DXF\r\n\x1a\x00", "it is no text"),
        (b"%PDF-1.7\nx", "it is no DXF"),
        (b"name,length\n1,2\n", "it is no DXF"),
        (b"0\nSECTION\nx\ny\n", "line 3 should hold a group code"),
        (stops.as_bytes(), "without its end mark"),
        (b"0\nSECTION\n2\nENTITIES\n0\nEOF\n", "ends inside a section"),
    ] {
        let faults = told(read(bytes, Reading::default())).unwrap_err();
        assert!(faults[0].contains(said), "{faults:?} instead of {said}");
    }
}

/// Sides of a rectangle with rounded corners, turned, as a drawing program has them: lines and arcs of their own.
fn rounded(size: (f64, f64), radius: f64, turn: f64, order: &[usize], backwards: &[bool]) -> String {
    let (sin, cos) = turn.to_radians().sin_cos();
    let at = |x: f64, y: f64| (cos * x - sin * y, sin * x + cos * y);
    let (w, h) = size;
    let line = |i: usize| {
        let ends = [
            [(radius, 0.0), (w - radius, 0.0)],
            [(w, radius), (w, h - radius)],
            [(w - radius, h), (radius, h)],
            [(0.0, h - radius), (0.0, radius)],
        ];
        let [mut a, mut b] = ends[i].map(|(x, y)| at(x, y));
        if backwards[i] {
            std::mem::swap(&mut a, &mut b);
        }
        format!("LINE 10 {} 20 {} 11 {} 21 {}", a.0, a.1, b.0, b.1)
    };
    let arc = |i: usize| {
        let centres =
            [(radius, radius), (w - radius, radius), (w - radius, h - radius), (radius, h - radius)];
        let (x, y) = at(centres[i].0, centres[i].1);
        let start = 180.0 + 90.0 * i as f64 + turn;
        format!("ARC 10 {x} 20 {y} 40 {radius} 50 {start} 51 {}", start + 90.0)
    };
    order.iter().map(|&i| if i < 4 { line(i) } else { arc(i - 4) }).collect::<Vec<_>>().join("\n")
}

/// A code, a value and a new line each, as a file that was damaged has them.
fn soup() -> impl Strategy<Value = String> {
    let codes = prop::sample::select(vec![
        "0", "2", "8", "10", "20", "11", "21", "40", "41", "42", "50", "51", "70", "71", "9", "x", "",
    ]);
    let values = prop::sample::select(vec![
        "SECTION",
        "ENDSEC",
        "ENTITIES",
        "BLOCKS",
        "BLOCK",
        "ENDBLK",
        "LINE",
        "ARC",
        "CIRCLE",
        "LWPOLYLINE",
        "POLYLINE",
        "VERTEX",
        "ELLIPSE",
        "SPLINE",
        "INSERT",
        "EOF",
        "HEADER",
        "$INSUNITS",
        "0",
        "1",
        "-3",
        "4",
        "1e9",
        "0.5",
        "nan",
        "a",
    ]);
    prop::collection::vec((codes, values), 0..80)
        .prop_map(|pairs| pairs.iter().flat_map(|(code, value)| [code, "\n", value, "\n"]).collect())
}

proptest! {
    /// Lines and arcs in any order and direction make one contour, and corners that are tangent do not cross.
    #[test]
    fn loose_pieces_are_chained(
        w in 20_u32..3000, h in 20_u32..2000, r in 1_u32..9, turn in 0.0..360.0,
        order in Just((0..8).collect::<Vec<usize>>()).prop_shuffle(), backwards in prop::array::uniform4(any::<bool>()),
    ) {
        let (w, h, r) = (f64::from(w), f64::from(h), f64::from(r));
        let entities = rounded((w, h), r, turn, &order, &backwards);
        let outlines = read_mm(&entities);
        let outlines = outlines.unwrap();
        prop_assert_eq!(outlines.len(), 1);
        prop_assert_eq!(outlines[0].outline.vertices().iter().filter(|v| v.bulge != 0.0).count(), 8);
        // Each side moves by less than a micrometre.
        let expected = w * h - (4.0 - PI) * r * r;
        prop_assert!((outlines[0].outline.area() - expected).abs() < 0.001 * 2.0 * (w + h));
    }

    /// What our own writer writes comes back, in both versions, the corners on the micrometre grid.
    #[test]
    fn our_own_files_come_back(
        w in 400_000_u32..3_000_000, h in 400_000_u32..2_000_000, bulges in prop::array::uniform4(-30_i32..30),
        hole in 1_000_u32..9_000, r12 in any::<bool>(),
    ) {
        let (w, h) = (f64::from(w) / 1000.0, f64::from(h) / 1000.0);
        let corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
        let outline: Path<SheetFrame> = Path::new(
            corners.iter().zip(bulges).map(|(&(x, y), bulge)| Vertex { point: Point2::new(x, y), bulge: f64::from(bulge) / 1000.0 }).collect(),
        );
        let hole: Path<SheetFrame> = Path::circle(Point2::new((w / 2.0).round(), (h / 2.0).round()), f64::from(hole) / 1000.0).clockwise();
        let item = |operation, path: &Path<SheetFrame>| Item { operation, shape: Drawn::Closed(path.clone()) };
        let file = CutFile {
            title: "part".to_owned(),
            size: (w, h),
            items: vec![item(Operation::Opening, &hole), item(Operation::Outline, &outline)],
        };
        let version = if r12 { writer::DxfVersion::R12 } else { writer::DxfVersion::R2000 };
        let bytes = writer::write(&file, &layers::names(&Named::default()), version);
        let read = read_one(&bytes, Reading::default()).unwrap();
        let same = |read: &Path<PanelFrame>, drawn: &Path<SheetFrame>| {
            read.vertices().len() == drawn.vertices().len()
                && read.vertices().iter().zip(drawn.vertices()).all(|(a, b)| {
                    (a.point.x - b.point.x).abs() < 0.0006 && (a.point.y - b.point.y).abs() < 0.0006 && (a.bulge - b.bulge).abs() < 1e-9
                })
        };
        prop_assert!(same(&read.outline, &outline), "{:?} {:?}", read, outline);
        prop_assert!(read.openings.len() == 1 && same(&read.openings[0], &hole));
    }

    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..400), soup in soup()) {
        let mut text = b"0\nSECTION\n2\nENTITIES\n".to_vec();
        text.extend(&bytes);
        let whole = format!("0\nSECTION\n2\nENTITIES\n{soup}0\nENDSEC\n0\nEOF\n");
        for bytes in [&bytes[..], &text, soup.as_bytes(), whole.as_bytes()] {
            let _ = read(bytes, Reading { unit: Some(Unit::Millimetre), layers: &[] });
        }
    }
}
