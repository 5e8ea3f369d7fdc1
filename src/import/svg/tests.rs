//! Drawings as other programs write them, and faults of every kind.

use super::*;
use crate::geom::Path;
use crate::import::drawing::read_one;
use std::f64::consts::PI;

/// A page of 200 x 100 mm whose unit is a quarter of a millimetre.
fn page(elements: &str) -> String {
    format!(
        "<?xml version='1.0'?>\n<svg xmlns='{NAMESPACE}' width='200mm' height='10cm' viewBox='0 0 800 400'>\n{elements}\n</svg>"
    )
}

fn told(text: &str, reading: Reading<'_>) -> Result<Vec<Outline>, Vec<String>> {
    read(text.as_bytes(), reading).map_err(|faults| faults.into_iter().map(|fault| fault.message).collect())
}

fn one(elements: &str) -> Outline {
    let outlines = told(&page(elements), Reading::default()).unwrap();
    assert_eq!(outlines.len(), 1, "{outlines:?}");
    outlines[0].clone()
}

fn fault(text: &str) -> String {
    let faults = told(text, Reading::default()).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults:?}");
    faults[0].clone()
}

#[test]
fn every_kind_of_element_encloses_what_plane_geometry_says() {
    for (elements, expected, within) in [
        ("<rect x='0' y='0' width='400' height='80'/>", 100.0 * 20.0, 1e-6),
        ("<rect width='400' height='80' rx='20'/>", 2000.0 - (4.0 - PI) * 25.0, 0.01),
        // A radius of more than half the height is half of it.
        ("<rect width='400' height='80' ry='99' rx='40'/>", 80.0 * 20.0 + PI * 100.0, 0.01),
        ("<circle cx='100' cy='100' r='40'/>", PI * 100.0, 0.01),
        ("<ellipse cx='100' cy='100' rx='80' ry='40'/>", PI * 200.0, 0.5),
        ("<polygon points='0,0 400 0,400,80'/>", 1000.0, 1e-6),
        ("<polyline points='0,0 400 0,400,80 0 0'/>", 1000.0, 1e-6),
        ("<line x2='400'/><line x1='400' x2='400' y2='80'/><line x1='400' y1='80'/>", 1000.0, 1e-6),
        ("<path d='M0 0 h400 v80 H0 z'/>", 2000.0, 1e-6),
        ("<path d='m0,0 400,0 0,80 -400,0z'/>", 2000.0, 1e-6),
        // A half disc of radius 10, to either side, and three quarters of one.
        ("<path d='M0 0 A40 40 0 0 1 80 0z'/>", PI * 50.0, 0.01),
        ("<path d='M0 0 A40 40 0 0 0 80 0z'/>", PI * 50.0, 0.01),
        ("<path d='M40 0 A40 40 0 1 1 0-40 L0 0z'/>", PI * 75.0, 0.01),
        ("<path d='M40 0 a40 40 0 1 1-40-40L0 0z'/>", PI * 75.0, 0.01),
        // Radii that do not reach grow to half the distance.
        ("<path d='M0 0 A1 1 0 0 1 80 0z'/>", PI * 50.0, 0.01),
        // Under a parabola of height h over b: 2/3 b h, with h half the control point's.
        ("<path d='M0 0 Q200 80 400 0z'/>", 2.0 / 3.0 * 100.0 * 10.0, 0.5),
        ("<path d='M0 0 Q100 80 200 0 T400 0'/><path d='M0 0V-100H400V0'/>", 2500.0, 0.5),
        // A cubic with both control points at height k: 3/20 of b times 2 k ... 0.6 b k for b between the ends.
        ("<path d='M0 0 C0 80 400 80 400 0z'/>", 0.6 * 100.0 * 20.0, 0.5),
        ("<path d='M0 0 C0 80 200 80 200 0 S400 -80 400 0 V-200 H0z'/>", 5000.0, 0.5),
    ] {
        let outline = one(elements);
        assert!((outline.outline.area() - expected).abs() < within, "{elements}: {}", outline.outline.area());
    }
}

#[test]
fn the_page_gives_the_unit_the_origin_and_which_way_is_up() {
    let of = |head: &str| {
        let text =
            format!("<svg xmlns='{NAMESPACE}' {head}><rect x='10' y='20' width='4' height='2'/></svg>");
        read_one(text.as_bytes(), Reading::default()).unwrap().outline.bounds()
    };
    for (head, scale, from, bottom) in [
        ("width='100mm' height='50mm' viewBox='0 0 100 50'", 1.0, 0.0, 50.0),
        ("width='10cm' height='5cm' viewBox='-10 5 100 50'", 1.0, -10.0, 55.0),
        ("width='2in' height='1in' viewBox='0 0 144 72'", 25.4 / 72.0, 0.0, 72.0),
        ("width='72pt' height='3pc' viewBox='0 0 25.4 12.7'", 1.0, 0.0, 12.7),
    ] {
        let (low, high) = of(head);
        assert!((low.x - (10.0 - from) * scale).abs() < 0.001, "{head}: {low:?}");
        assert!((high.y - (bottom - 20.0) * scale).abs() < 0.001, "{head}: {high:?}");
        assert!((high.y - low.y - 2.0 * scale).abs() < 0.001, "{head}: {high:?}");
    }
}

/// A foot that points right and down on the page: looked at, it must not become its mirror image.
#[test]
fn a_drawing_is_not_mirrored() {
    let outline = one("<path d='M0 0 H40 V200 H120 V240 H0z'/>").outline;
    assert!(outline.contains(Point2::new(5.0, 90.0)) && outline.contains(Point2::new(25.0, 45.0)));
    assert!(!outline.contains(Point2::new(25.0, 90.0)));
}

#[test]
fn a_unit_that_is_told_counts_in_units_of_the_viewbox() {
    let text = "<svg viewBox='0 0 10 10'><rect width='4' height='2'/></svg>";
    let inches = Reading { unit: Some(Unit::Inch), ..Reading::default() };
    let area = told(text, inches).unwrap()[0].outline.area();
    assert!((area - 8.0 * 25.4 * 25.4).abs() < 1e-6, "{area}");
    let without = "<svg width='30' height='10'><rect width='4' height='2'/></svg>";
    let millimetres = Reading { unit: Some(Unit::Millimetre), ..Reading::default() };
    let (_, high) = told(without, millimetres).unwrap()[0].outline.bounds();
    assert!((high.y - 10.0).abs() < 1e-9, "{high:?}");
}

#[test]
fn transforms_add_up_and_arcs_stay_arcs_where_they_are_circular() {
    let ring = "<circle cx='10' r='8'/>";
    for (transform, centre, arcs) in [
        ("translate(100 50)", (27.5, 87.5), true),
        // Turned about (100, 50): (110, 50) goes to (100, 60).
        ("translate(100,50) rotate(90)", (25.0, 85.0), true),
        ("matrix(0 10 10 0 100 50)", (25.0, 62.5), true),
        ("translate(100 50) scale(-2 2)", (20.0, 87.5), true),
        ("translate(100 50) scale(2 1)", (30.0, 87.5), false),
        ("translate(100 50) skewX(30)", (27.5, 87.5), false),
    ] {
        let outline = one(&format!("<g transform='{transform}'>{ring}</g>")).outline;
        let (low, high) = outline.bounds();
        let middle = low + (high - low) / 2.0;
        assert!(
            (middle.x - centre.0).abs() < 0.02 && (middle.y - centre.1).abs() < 0.02,
            "{transform}: {middle:?}"
        );
        assert_eq!(outline.vertices().len() == 2, arcs, "{transform}");
    }
    let both = one(&format!("<g transform='translate(100)'><g transform='translate(0 50)'>{ring}</g></g>"));
    assert_eq!(both, one(&format!("<g transform='translate(100,50)'>{ring}</g>")));
    // An ellipse squeezed to a circle is one.
    assert_eq!(
        one("<ellipse rx='4' ry='8' transform='translate(90,90) scale(2 1)'/>").outline.vertices().len(),
        2
    );
}

#[test]
fn openings_are_found_and_what_is_no_contour_is_passed_over() {
    let outline = one("<defs><rect width='9' height='9'/></defs><title>A part</title>\
        <metadata/><x:view xmlns:x='urn:other'><rect width='5' height='5'/></x:view>\
        <path d='M0 0H400V200H0z M100 100 h40 v40 h-40z'/><text x='3'>legend</text>\
        <g style='fill:none; display: none'><rect width='3' height='3'/></g><rect display='none' width='1' height='1'/>");
    assert_eq!(outline.openings.len(), 1);
    assert!((outline.openings[0].area() + 100.0).abs() < 1e-9);
}

#[test]
fn only_the_layers_asked_for_are_read() {
    let text = page(
        "<g id='layer1' xmlns:k='urn:k' k:label='Part'><g><rect width='400' height='80'/></g></g>\
         <g id='notes'><rect width='4' height='8'/></g><rect width='7' height='8'/>",
    );
    for layers in [["part".to_owned()], ["layer1".to_owned()]] {
        let found = told(&text, Reading { unit: None, layers: &layers }).unwrap();
        assert_eq!(found.len(), 1);
        assert!((found[0].outline.area() - 2000.0).abs() < 1e-6);
    }
}

#[test]
fn faults_name_the_element_and_its_line() {
    for (elements, expected) in [
        ("<use href='#a'/>", "use at line 3 is not read"),
        ("<svg/>", "svg at line 3 is not read"),
        ("<circle/>", "circle at line 3 has the size 0 x 0"),
        ("<circle r='NaN'/>", "circle at line 3: `r` is `NaN`: "),
        ("<rect width='1e999' height='4'/>", "rect at line 3: `width` is `1e999`: "),
        ("<rect width='4mm' height='4'/>", "rect at line 3: `width` is `4mm`, with a unit of its own"),
        ("<path d='M0 0 L10 zzz'/>", "path at line 3: `d` is `M0 0 L10 zzz`: "),
        (
            "<polygon points='0 0 1 1 2'/>",
            "polygon at line 3: `points` is `0 0 1 1 2`: the last point has no y",
        ),
        (
            "<path id='rim' d='M0 0 H99 V99'/>",
            "a contour is open: it starts at (0, 100) (path at line 3, id `rim`)",
        ),
        ("<path d='M0 0 H99 L0 99 H99z'/>", "a contour meets itself at"),
        ("<path d='M0 0 h9e9 v9 z'/>", "farther than 1 km"),
        ("<rect style='transform: scale(2)' width='9' height='9'/>", "rect at line 3 is moved by its style"),
        ("<rect transform='turn(2)' width='9' height='9'/>", "rect at line 3: `transform` is `turn(2)`"),
    ] {
        let message = fault(&page(elements));
        assert!(message.contains(expected), "{elements}: {message}");
    }
}

#[test]
fn files_that_are_no_drawing_say_so() {
    let deep = format!("{}{}", "<g>".repeat(150), "</g>".repeat(150));
    for (text, expected) in [
        ("<svg".to_owned(), "the file is no XML"),
        ("<html><body/></html>".to_owned(), "outermost element is `html`"),
        (page(&deep), "groups more than 100 deep"),
        (page(&"<path d='M0 0H5V5z'/>".repeat(1_000_001)), "more than 1000000 elements"),
        (format!("<svg xmlns='{NAMESPACE}'/>"), "does not say its unit: its page has no viewBox"),
        ("<svg width='90mm' viewBox='0 0 1 1'/>".to_owned(), "no width and height in mm, cm or in"),
        ("<svg width='90' height='90' viewBox='0 0 90 90'/>".to_owned(), "no width and height in mm"),
        ("<svg width='90mm' height='9mm' viewBox='0 0 9 9'/>".to_owned(), "which is another shape"),
        (
            "<svg width='90mm' height='9mm' viewBox='0 0 0 9'/>".to_owned(),
            "svg at line 1: `viewBox` is `0 0 0 9`",
        ),
        (page("<path d='M0 0").replace("mm", "px"), "the file is no XML"),
    ] {
        let message = fault(&text);
        assert!(message.contains(expected), "{message}");
    }
    // So are arcs that would take 200,000 chords each, before they take the memory.
    let arcs = "a9e8 8e8 0 0 1 9e8 9e8a9e8 8e8 0 0 1-9e8-9e8".repeat(20_000);
    assert!(fault(&page(&format!("<path d='M0 0{arcs}z'/>"))).contains("more than 200000 corners"));
    // Entities that multiply are stopped.
    let laughs = "<!DOCTYPE svg [<!ENTITY a '<g/><g/>'><!ENTITY b '&a;&a;&a;&a;'><!ENTITY c '&b;&c;'>]>";
    assert!(fault(&format!("{laughs}<svg>&c;</svg>")).contains("no XML"));
}

#[test]
fn a_document_type_and_a_byte_order_mark_are_no_hindrance() {
    let text = format!("\u{feff}<!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' 'svg11.dtd'>{}", {
        page("<circle cx='40' cy='40' r='40'/>").replace("<?xml version='1.0'?>\n", "")
    });
    let outline = read_one(text.as_bytes(), Reading::default()).unwrap().outline;
    assert_eq!(outline, Path::circle(Point2::new(10.0, 90.0), 10.0));
}
