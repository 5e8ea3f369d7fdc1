//! A cut file before it has a format: paths and circles by operation, and names that are not cut.
//!
//! Both the DXF and the SVG writer take this, so their contours are the same by construction. Coordinates are
//! millimetres in the sheet frame, 1:1.

use crate::geom::{Path, Point2, SheetFrame, Vertex};

/// What the machine does along a shape. One operation and depth becomes one layer.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub(crate) enum Operation {
    /// Cut through along the outside of the shape: a panel's outer contour.
    Outline,
    /// Cut along the outside of the shape, but not right through: a small panel's outer contour, which a skin
    /// holds until a second pass, left to the operator.
    Skin {
        /// mm below the upper face.
        depth: f64,
    },
    /// Where a holding tab is to stay; not cut by itself.
    Tab,
    /// Cut through along the inside of the shape: slots, nut slots, openings.
    Opening,
    /// Drill or mill a hole right through.
    Bore,
    /// Sink a countersunk head: the circle is the head's diameter at the surface, `depth` where the cone meets the
    /// bore.
    Countersink {
        /// mm below the upper face.
        depth: f64,
    },
    /// Follow an open line with a pointed tool: lettering. How deep is the operator's choice.
    Engrave,
    /// Names and remarks; never cut.
    Note,
    /// The stock sheet's edge and its trim line; never cut.
    Stock,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    /// A closed path of lines and arcs.
    Closed(Path<SheetFrame>),
    /// A line of straight sides and arcs, from its first corner to its last: what is left of an outline between
    /// two gaps.
    Open(Vec<Vertex<SheetFrame>>),
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point2<SheetFrame>,
        /// mm.
        diameter: f64,
    },
    /// One line of text, centred on `centre` (both ways).
    Text {
        /// Middle of the text.
        centre: Point2<SheetFrame>,
        /// Height of the capitals, mm.
        height: f64,
        /// Degrees, counter-clockwise.
        angle: f64,
        /// What it says.
        text: String,
    },
}

/// One shape with its operation.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Item {
    /// What is done along the shape.
    pub(crate) operation: Operation,
    /// The shape.
    pub(crate) shape: Shape,
}

/// All that one cut file shows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CutFile {
    /// Title of the file, e.g. `weir-wagon birch-12 sheet 1`.
    pub(crate) title: String,
    /// Width and height of the area shown, mm; its lower left corner is the origin.
    pub(crate) size: (f64, f64),
    /// In cutting order.
    pub(crate) items: Vec<Item>,
}

/// Names of the layers, one for each operation; data of the workshop file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct LayerNames {
    /// For [`Operation::Outline`].
    pub(crate) outline: String,
    /// For [`Operation::Skin`]; `{depth}` stands for the depth in mm.
    pub(crate) skin: String,
    /// For [`Operation::Tab`].
    pub(crate) tab: String,
    /// For [`Operation::Opening`].
    pub(crate) opening: String,
    /// For [`Operation::Bore`].
    pub(crate) bore: String,
    /// For [`Operation::Countersink`]; `{depth}` stands for the depth in mm.
    pub(crate) countersink: String,
    /// For [`Operation::Engrave`].
    pub(crate) engraving: String,
    /// For [`Operation::Note`].
    pub(crate) note: String,
    /// For [`Operation::Stock`].
    pub(crate) stock: String,
}

impl LayerNames {
    /// Name of the layer on which an operation is drawn. A depth is written with `_` for the decimal point,
    /// since the oldest DXF version allows no point in a layer's name.
    pub(crate) fn of(&self, operation: Operation) -> String {
        let with = |name: &str, depth: f64| {
            name.replace("{depth}", &crate::number::decimal(depth, 2).replace('.', "_"))
        };
        match operation {
            Operation::Outline => self.outline.clone(),
            Operation::Skin { depth } => with(&self.skin, depth),
            Operation::Tab => self.tab.clone(),
            Operation::Opening => self.opening.clone(),
            Operation::Bore => self.bore.clone(),
            Operation::Countersink { depth } => with(&self.countersink, depth),
            Operation::Engrave => self.engraving.clone(),
            Operation::Note => self.note.clone(),
            Operation::Stock => self.stock.clone(),
        }
    }
}

#[cfg(test)]
pub(crate) mod examples {
    //! A small cut file that has one of everything, for the tests of the writers.

    use super::*;

    pub(crate) fn layer_names() -> LayerNames {
        LayerNames {
            outline: "part".into(),
            skin: "thin_{depth}".into(),
            tab: "bridge".into(),
            opening: "window".into(),
            bore: "hole".into(),
            countersink: "sink_{depth}".into(),
            engraving: "letters".into(),
            note: "remark".into(),
            stock: "board".into(),
        }
    }

    /// 200 x 60 mm with a rounded right end, a nut slot with dog-bone corners, two bores, one countersunk.
    pub(crate) fn small_panel() -> CutFile {
        let path = |points: &[(f64, f64, f64)]| {
            let vertex = |&(x, y, bulge): &(f64, f64, f64)| Vertex { point: Point2::new(x, y), bulge };
            Shape::Closed(Path::new(points.iter().map(vertex).collect()))
        };
        let circle = |x, y, diameter| Shape::Circle { centre: Point2::new(x, y), diameter };
        let item = |operation, shape| Item { operation, shape };
        let outline = path(&[(0.0, 0.0, 0.0), (170.0, 0.0, 1.0), (170.0, 60.0, 0.0), (0.0, 60.0, 0.0)]);
        // Clockwise; the two arcs are the reliefs of the far corners, radius 3, cut 0.879 past each wall.
        let slot = path(&[
            (20.0, 20.0, 0.0),
            (20.0, 40.0, 0.0),
            (35.757_359, 40.0, -1.0),
            (40.0, 35.757_359, 0.0),
            (40.0, 24.242_641, -1.0),
            (35.757_359, 20.0, 0.0),
        ]);
        let text = Shape::Text {
            centre: Point2::new(100.0, 45.0),
            height: 8.0,
            angle: 0.0,
            text: "side <left> & Tür 50%%".into(),
        };
        CutFile {
            title: "small-panel".into(),
            size: (200.0, 60.0),
            items: vec![
                item(
                    Operation::Stock,
                    path(&[(0.0, 0.0, 0.0), (200.0, 0.0, 0.0), (200.0, 60.0, 0.0), (0.0, 60.0, 0.0)]),
                ),
                item(Operation::Bore, circle(70.0, 20.0, 6.6)),
                item(Operation::Bore, circle(110.0, 20.0, 6.6)),
                item(Operation::Countersink { depth: 3.72 }, circle(110.0, 20.0, 13.44)),
                item(Operation::Opening, slot),
                item(Operation::Outline, outline),
                item(Operation::Note, text),
            ],
        }
    }
}
