//! A cut file before it has a format: closed paths and circles by operation, and names that are not cut.
//!
//! Both the DXF and the SVG writer take this, so their contours are the same by construction. Coordinates are
//! millimetres in the sheet frame, 1:1.

use crate::geom::{Path, Point2, SheetFrame};

/// What the machine does along a shape. One operation and depth becomes one layer.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub(crate) enum Operation {
    /// Cut through along the outside of the shape: a panel's outer contour.
    Outline,
    /// Cut through along the inside of the shape: slots, nut slots, openings.
    Opening,
    /// Drill or mill a hole right through.
    Bore,
    /// Sink a countersunk head: the circle is the head's diameter at the surface, `depth` the head's height.
    Countersink {
        /// mm below the upper face.
        depth: f64,
    },
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
    /// In drawing order.
    pub(crate) items: Vec<Item>,
}

/// Names of the layers, one for each operation; data of the workshop file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct LayerNames {
    /// For [`Operation::Outline`].
    pub(crate) outline: String,
    /// For [`Operation::Opening`].
    pub(crate) opening: String,
    /// For [`Operation::Bore`].
    pub(crate) bore: String,
    /// For [`Operation::Countersink`]; `{depth}` stands for the depth in mm.
    pub(crate) countersink: String,
    /// For [`Operation::Note`].
    pub(crate) note: String,
    /// For [`Operation::Stock`].
    pub(crate) stock: String,
}

impl LayerNames {
    /// Name of the layer on which an operation is drawn. A depth is written with `_` for the decimal point,
    /// since the oldest DXF version allows no point in a layer's name.
    pub(crate) fn of(&self, operation: Operation) -> String {
        match operation {
            Operation::Outline => self.outline.clone(),
            Operation::Opening => self.opening.clone(),
            Operation::Bore => self.bore.clone(),
            Operation::Countersink { depth } => {
                self.countersink.replace("{depth}", &super::number::decimal(depth, 2).replace('.', "_"))
            }
            Operation::Note => self.note.clone(),
            Operation::Stock => self.stock.clone(),
        }
    }
}
