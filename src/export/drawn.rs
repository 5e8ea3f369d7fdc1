//! A cut file made ready for any format: on a grid, each shape on its named layer, each shape once.
//!
//! Takes a [`CutFile`] and the layer names, gives what the DXF and the SVG writer both draw. So what the two
//! have in common is decided once: names, order of the layers, colours, what counts as the same shape. Knows no
//! file format.

use super::cutfile::{CutFile, LayerNames, Operation, Shape};
use crate::geom::{Path, Point2, SheetFrame, Vertex};
use crate::number;
use std::collections::BTreeSet;

/// Decimals of every coordinate, height and diameter in mm: a grid of one nanometre, far below any machine's
/// step and far above what binary fractions lose over a sheet.
pub(crate) const GRID_DECIMALS: usize = 6;

/// Decimals of bulges and of the radii of arcs. An arc's centre moves with the square root of an error in its
/// radius when it is a half circle, so the grid of the coordinates would be too coarse: at radius 500 mm it
/// would move the arc by 0.02 mm.
pub(crate) const ARC_DECIMALS: usize = 12;

/// Most letters that the oldest DXF version allows in a layer's name (from memory).
const LONGEST_NAME: usize = 31;

/// What a layer looks like on a screen; nothing for a machine to read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Look {
    /// Colour number of a DXF layer, from the standard table of 255 colours (values from memory).
    pub(crate) dxf_colour: u8,
    /// Colour in an SVG, as CSS writes it.
    pub(crate) svg_colour: &'static str,
}

/// Looks by rank (see [`rank`]). Ours, chosen so that no two come near each other for an eye that cannot tell
/// red from green (the tests hold that) and that all can be seen on white.
#[rustfmt::skip]
const LOOKS: [Look; 9] = [
    Look { dxf_colour: 9,  svg_colour: "#b4b4b4" }, // stock: light grey
    Look { dxf_colour: 200, svg_colour: "#6000d0" }, // engraving: violet
    Look { dxf_colour: 30, svg_colour: "#d95f02" }, // bore: orange
    Look { dxf_colour: 6,  svg_colour: "#c86ec8" }, // countersink: magenta
    Look { dxf_colour: 5,  svg_colour: "#0060c0" }, // opening: blue
    Look { dxf_colour: 34, svg_colour: "#7a3c00" }, // tab: brown
    Look { dxf_colour: 3,  svg_colour: "#3fa34d" }, // skin: green
    Look { dxf_colour: 7,  svg_colour: "#000000" }, // outline: black, or white on a dark screen
    Look { dxf_colour: 8,  svg_colour: "#6e6e6e" }, // note: grey
];

/// A layer that has something on it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Layer {
    /// Name as every file writes it, see [`written_name`].
    pub(crate) name: String,
    /// Its colours.
    pub(crate) look: Look,
}

/// All that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawn {
    /// The layers in use: stock, engraving, bores, countersinks by depth, openings, tabs, skins by depth, outlines, notes. What
    /// lies within a panel comes before the cut that frees it.
    pub(crate) layers: Vec<Layer>,
    /// Index of the layer, and the shape, in the cut file's order.
    pub(crate) shapes: Vec<(usize, Shape)>,
    /// Smallest rectangle around all paths and circles, arcs by their true extent: (lower left, upper right).
    /// Texts do not count, since their width is up to the reader's font. The area shown if there is nothing.
    pub(crate) bounds: (Point2<SheetFrame>, Point2<SheetFrame>),
}

impl Drawn {
    /// Makes a cut file ready. Sides without length are left out, and so are shapes of which nothing is left
    /// then and texts without a letter. Text comes on the layer for notes whatever its operation.
    pub(crate) fn new(file: &CutFile, names: &LayerNames) -> Self {
        let shapes: Vec<(Operation, Shape)> = file
            .items
            .iter()
            .filter_map(|item| {
                let shape = on_grid(&item.shape)?;
                let is_text = matches!(shape, Shape::Text { .. });
                Some((if is_text { Operation::Note } else { item.operation }, shape))
            })
            .collect();
        let layers = layers_of(shapes.iter().map(|&(operation, _)| operation), names);
        let mut seen = BTreeSet::new();
        let mut drawn = Vec::with_capacity(shapes.len());
        for (operation, shape) in shapes {
            let name = written_name(&names.of(operation));
            let layer = layers.iter().position(|layer| layer.name.eq_ignore_ascii_case(&name)).unwrap_or(0);
            if seen.insert((layer, key(&shape))) {
                drawn.push((layer, shape));
            }
        }
        let bounds = bounds_of(drawn.iter().map(|(_, shape)| shape));
        let whole = (Point2::origin(), Point2::new(file.size.0, file.size.1));
        Drawn { layers, shapes: drawn, bounds: bounds.unwrap_or(whole) }
    }
}

/// A layer's name as it is written: letters and digits of ASCII, `-`, `_` and `$`, at most 31, which is what
/// every DXF version takes; never empty and never `0`. What does not fit is replaced by `_`, from the middle
/// of a name that is too long (a depth at the end tells layers apart). A name that comes out unchanged is safe.
pub(crate) fn written_name(name: &str) -> String {
    let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '$');
    let mut written: String = ascii(name).chars().map(|c| if fits(c) { c } else { '_' }).collect();
    if written.len() > LONGEST_NAME {
        let half = LONGEST_NAME / 2;
        written = format!("{}_{}", &written[..half], &written[written.len() - half..]);
    }
    if written.is_empty() || written == "0" { format!("_{written}") } else { written }
}

/// A text in printable ASCII: letters with accents lose them, anything else that is not ASCII becomes `_`.
pub(crate) fn ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            ' '..='~' => plain.push(c),
            'ä' | 'æ' => plain.push_str("ae"),
            'ö' | 'œ' => plain.push_str("oe"),
            'ü' => plain.push_str("ue"),
            'Ä' | 'Æ' => plain.push_str("Ae"),
            'Ö' | 'Œ' => plain.push_str("Oe"),
            'Ü' => plain.push_str("Ue"),
            'ß' => plain.push_str("ss"),
            'à'..='å' => plain.push('a'),
            'À'..='Å' => plain.push('A'),
            'ç' => plain.push('c'),
            'Ç' => plain.push('C'),
            'è'..='ë' => plain.push('e'),
            'È'..='Ë' => plain.push('E'),
            'ì'..='ï' => plain.push('i'),
            'Ì'..='Ï' => plain.push('I'),
            'ñ' => plain.push('n'),
            'Ñ' => plain.push('N'),
            'ò'..='õ' | 'ø' => plain.push('o'),
            'Ò'..='Õ' | 'Ø' => plain.push('O'),
            'ù'..='û' => plain.push('u'),
            'Ù'..='Û' => plain.push('U'),
            '×' => plain.push('x'),
            '°' => plain.push_str("deg"),
            '‐'..='―' => plain.push('-'),
            _ => plain.push('_'),
        }
    }
    plain
}

/// Place of an operation in the order of the layers, and of its look in [`LOOKS`].
fn rank(operation: Operation) -> usize {
    match operation {
        Operation::Stock => 0,
        Operation::Engrave => 1,
        Operation::Bore => 2,
        Operation::Countersink { .. } => 3,
        Operation::Opening => 4,
        Operation::Tab => 5,
        Operation::Skin { .. } => 6,
        Operation::Outline => 7,
        Operation::Note => 8,
    }
}

/// The layers of some operations, in order, each once. Names that differ only in their case are one layer,
/// since DXF readers take them for one.
fn layers_of(operations: impl Iterator<Item = Operation>, names: &LayerNames) -> Vec<Layer> {
    let mut operations: Vec<Operation> = operations.collect();
    let depth = |operation: &Operation| match *operation {
        Operation::Countersink { depth } | Operation::Skin { depth } => depth,
        _ => 0.0,
    };
    operations.sort_by(|a, b| rank(*a).cmp(&rank(*b)).then(depth(a).total_cmp(&depth(b))));
    let mut layers: Vec<Layer> = Vec::new();
    for operation in operations {
        let name = written_name(&names.of(operation));
        if !layers.iter().any(|layer| layer.name.eq_ignore_ascii_case(&name)) {
            layers.push(Layer { name, look: LOOKS[rank(operation)] });
        }
    }
    layers
}

/// The shape with its numbers on the grid; nothing if nothing can be drawn.
fn on_grid(shape: &Shape) -> Option<Shape> {
    let mm = |value: f64| number::rounded(value, GRID_DECIMALS);
    let point = |p: Point2<SheetFrame>| Point2::new(mm(p.x), mm(p.y));
    let corner = |v: &Vertex<SheetFrame>| Vertex {
        point: point(v.point),
        bulge: number::rounded(v.bulge, ARC_DECIMALS),
    };
    match shape {
        Shape::Open(corners) => {
            let rounded: Vec<Vertex<SheetFrame>> = corners.iter().map(corner).collect();
            let last = rounded.len().saturating_sub(1);
            let has_length = |i: usize| i == last || rounded[i].point != rounded[i + 1].point;
            let kept: Vec<_> = (0..rounded.len()).filter(|&i| has_length(i)).map(|i| rounded[i]).collect();
            (kept.len() >= 2).then_some(Shape::Open(kept))
        }
        Shape::Closed(path) => {
            let rounded: Vec<Vertex<SheetFrame>> = path.vertices().iter().map(corner).collect();
            let n = rounded.len();
            let has_length = |i: usize| rounded[i].point != rounded[(i + 1) % n].point;
            let kept: Vec<_> = (0..n).filter(|&i| has_length(i)).map(|i| rounded[i]).collect();
            (kept.len() >= 2).then(|| Shape::Closed(Path::new(kept)))
        }
        Shape::Circle { centre, diameter } => {
            let diameter = mm(*diameter);
            (diameter > 0.0).then(|| Shape::Circle { centre: point(*centre), diameter })
        }
        Shape::Text { centre, height, angle, text } => {
            let text = ascii(text.trim());
            let angle = mm(*angle);
            (!text.is_empty()).then(|| Shape::Text {
                centre: point(*centre),
                height: mm(*height),
                angle,
                text,
            })
        }
    }
}

/// What makes two shapes on a layer the same: for a path neither the corner it starts at nor the way it runs
/// counts. Numbers stand as bits: on the grid equal numbers have equal bits.
fn key(shape: &Shape) -> (Vec<[u64; 3]>, String) {
    let bits = |v: &Vertex<SheetFrame>| [v.point.x.to_bits(), v.point.y.to_bits(), (v.bulge + 0.0).to_bits()];
    match shape {
        Shape::Open(corners) => (corners.iter().map(bits).collect(), "open".to_owned()),
        Shape::Closed(path) => {
            let path = path.clone().counter_clockwise();
            let corners: Vec<[u64; 3]> = path.vertices().iter().map(bits).collect();
            let first = corners.iter().enumerate().min_by_key(|&(_, corner)| corner).map_or(0, |(i, _)| i);
            ([&corners[first..], &corners[..first]].concat(), String::new())
        }
        Shape::Circle { centre, diameter } => {
            (vec![[centre.x.to_bits(), centre.y.to_bits(), diameter.to_bits()]], String::new())
        }
        Shape::Text { centre, angle, text, .. } => {
            (vec![[centre.x.to_bits(), centre.y.to_bits(), angle.to_bits()]], text.clone())
        }
    }
}

/// Smallest rectangle around the paths and circles, if there is any.
fn bounds_of<'a>(
    shapes: impl Iterator<Item = &'a Shape>,
) -> Option<(Point2<SheetFrame>, Point2<SheetFrame>)> {
    shapes
        .filter_map(|shape| match shape {
            Shape::Closed(path) => Some(path.bounds()),
            // The straight way back that closes it lies within.
            Shape::Open(corners) => Some(Path::new(corners.clone()).bounds()),
            Shape::Circle { centre, diameter } => Some(Path::circle(*centre, diameter / 2.0).bounds()),
            Shape::Text { .. } => None,
        })
        .reduce(|(low, high), (lower, higher)| (low.min(lower), high.max(higher)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::cutfile::Item;
    use crate::export::cutfile::examples::{layer_names, small_panel};

    fn drawn(items: Vec<(Operation, Shape)>) -> Drawn {
        let items = items.into_iter().map(|(operation, shape)| Item { operation, shape }).collect();
        Drawn::new(&CutFile { title: "t".into(), size: (100.0, 50.0), items }, &layer_names())
    }

    fn circle(x: f64) -> Shape {
        Shape::Circle { centre: Point2::new(x, 0.0), diameter: 6.6 }
    }

    #[test]
    fn the_same_shape_is_drawn_once_on_each_layer() {
        let path: Path<SheetFrame> = Path::rectangle(0.0, 0.0, 30.0, 10.0);
        let mut turned = path.reversed().vertices().to_vec();
        turned.rotate_left(2);
        let same = Path::new(turned);
        let half_grid = 10f64.powi(-6) * 0.4;
        let shapes = drawn(vec![
            (Operation::Outline, Shape::Closed(path.clone())),
            (Operation::Outline, Shape::Closed(same)),
            (Operation::Opening, Shape::Closed(path)),
            (Operation::Bore, circle(5.0)),
            (Operation::Bore, circle(5.0 + half_grid)),
            (Operation::Bore, circle(5.000_001)),
        ]);
        let on = |name: &str| shapes.shapes.iter().filter(|(i, _)| shapes.layers[*i].name == name).count();
        assert_eq!((on("part"), on("window"), on("hole")), (1, 1, 2));
    }

    #[test]
    fn depths_are_layers_of_their_own_and_text_is_a_note() {
        let sink = |depth: f64| (Operation::Countersink { depth }, circle(depth));
        let text = Shape::Text { centre: Point2::origin(), height: 5.0, angle: 0.0, text: "Tür 1".into() };
        let drawn = drawn(vec![sink(3.72), (Operation::Outline, text), sink(10.0), sink(3.0)]);
        let names: Vec<&str> = drawn.layers.iter().map(|layer| layer.name.as_str()).collect();
        assert_eq!(names, ["sink_3", "sink_3_72", "sink_10", "remark"]);
        assert!(matches!(&drawn.shapes[1], (3, Shape::Text { text, .. }) if text == "Tuer 1"));
    }

    #[test]
    fn sides_without_length_are_left_out() {
        let corners = [(0.0, 0.0), (9.0, 0.0), (9.0, 1e-9), (9.0, 9.0), (0.0, 0.0)];
        let path = Path::polygon(corners.map(|(x, y)| Point2::new(x, y)));
        let point = Path::polygon([(3.0, 3.0), (3.0, 3.0)].map(|(x, y)| Point2::new(x, y)));
        let drawn = drawn(vec![
            (Operation::Outline, Shape::Closed(path)),
            (Operation::Outline, Shape::Closed(point)),
        ]);
        assert_eq!(drawn.shapes.len(), 1);
        assert!(matches!(&drawn.shapes[0].1, Shape::Closed(path) if path.vertices().len() == 3));
    }

    #[test]
    fn bounds_follow_the_arcs() {
        let drawn = Drawn::new(&small_panel(), &layer_names());
        let (low, high) = drawn.bounds;
        // The right end of the example is a half circle of radius 30 that starts at x = 170.
        assert!(low.x.abs() < 1e-9 && low.y.abs() < 1e-9);
        assert!((high.x - 200.0).abs() < 1e-9 && (high.y - 60.0).abs() < 1e-9, "{high:?}");
    }

    #[test]
    fn names_are_safe_and_stay_when_they_were() {
        for (name, written) in [
            ("hole", "hole"),
            ("Bohrung Ø", "Bohrung_O"),
            ("", "_"),
            ("0", "_0"),
            ("層", "_"),
            ("countersink-with-a-very-long-name_3_72", "countersink-wit_-long-name_3_72"),
        ] {
            assert_eq!(written_name(name), written);
            assert_eq!(written_name(written), written);
        }
    }

    #[test]
    fn layers_whose_names_differ_in_case_only_are_one() {
        let mut names = layer_names();
        names.opening = "PART".into();
        let file = small_panel();
        let drawn = Drawn::new(&file, &names);
        assert!(drawn.layers.iter().any(|layer| layer.name == "PART"));
        assert!(!drawn.layers.iter().any(|layer| layer.name == "part"));
    }

    /// Lightness and the blue-yellow coordinate of CIE Lab, which are what is left to an eye without red and
    /// green; sRGB, white of daylight D65 (IEC 61966-2-1 and CIE 15, values from memory).
    fn lightness_and_blueness([red, green, blue]: [u8; 3]) -> (f64, f64) {
        let linear = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        let (r, g, b) = (linear(red), linear(green), linear(blue));
        let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
        let fy = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
        let fz = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
        (116.0 * fy - 16.0, 200.0 * (fy - fz))
    }

    #[test]
    fn colours_stay_apart_without_red_and_green() {
        let css = |text: &str| [1, 3, 5].map(|i| u8::from_str_radix(&text[i..i + 2], 16).unwrap());
        let of_number = |number: u8| match number {
            3 => [0, 255, 0],
            5 => [0, 0, 255],
            6 => [255, 0, 255],
            7 => [0, 0, 0],
            8 => [128, 128, 128],
            9 => [192, 192, 192],
            30 => [255, 127, 0],
            34 => [76, 38, 0],
            200 => [191, 0, 255],
            other => panic!("colour {other} is not in this test's table"),
        };
        let in_svg: Vec<_> = LOOKS.iter().map(|look| lightness_and_blueness(css(look.svg_colour))).collect();
        let in_dxf: Vec<_> =
            LOOKS.iter().map(|look| lightness_and_blueness(of_number(look.dxf_colour))).collect();
        for colours in [in_svg, in_dxf] {
            for (i, a) in colours.iter().enumerate() {
                for b in &colours[..i] {
                    assert!((a.0 - b.0).hypot(a.1 - b.1) > 20.0, "{colours:?}");
                }
            }
        }
    }
}
