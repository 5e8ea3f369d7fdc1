//! What can be wrong with a drawing or a cut list, as `baywright explain` tells it.

use crate::diag::{Rule, Severity};

const OURS: &str = "a decision of this project";

/// A text DXF of straight lines, one a row: x and y of both ends, behind a header with the unit.
macro_rules! drawing {
    ($units:expr, $($line:expr),* $(,)?) => {
        concat!("0\nSECTION\n2\nHEADER\n", $units, "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n", $($line,)* "0\nENDSEC\n0\nEOF\n")
    };
}

macro_rules! line {
    ($x0:expr, $y0:expr, $x1:expr, $y1:expr) => {
        concat!("0\nLINE\n10\n", $x0, "\n20\n", $y0, "\n11\n", $x1, "\n21\n", $y1, "\n")
    };
}

macro_rules! circle {
    ($x:expr, $y:expr, $r:expr) => {
        concat!("0\nCIRCLE\n10\n", $x, "\n20\n", $y, "\n40\n", $r, "\n")
    };
}

macro_rules! mm {
    () => {
        "9\n$INSUNITS\n70\n4\n"
    };
}

/// Every rule of this stage.
pub(crate) const RULES: &[&Rule] = &[
    &DRAWING_UNREADABLE,
    &DRAWING_TOO_LARGE,
    &UNITS_MISSING,
    &COORDINATE_BAD,
    &ENTITY_UNREAD,
    &BLOCK_MISSING,
    &CONTOUR_OPEN,
    &CONTOUR_FORKED,
    &CONTOUR_CROSSED,
    &CONTOUR_EMPTY,
    &SEVERAL_OUTLINES,
    &LIST_COLUMNS,
    &LIST_UNREADABLE,
    &LIST_VALUE,
    &LIST_NAME_TWICE,
    &LIST_QUANTITY,
    &LIST_SIZE_UNCLEAR,
];

/// A square of 100 mm that nothing is wrong with.
const SQUARE: &str = drawing!(
    mm!(),
    line!(0, 0, 100, 0),
    line!(100, 0, 100, 100),
    line!(100, 100, 0, 100),
    line!(0, 100, 0, 0)
);

/// A file that is no drawing.
pub(super) static DRAWING_UNREADABLE: Rule = Rule {
    name: "drawing-unreadable",
    severity: Severity::Error,
    finds: "A file given as a drawing that is empty, is neither a DXF in text form nor an SVG, or stops before its end.",
    why: "Half a drawing may look whole; what is missing would be cut nowhere.",
    failing: "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n0\n20\n0\n",
    passing: SQUARE,
    source: "the DXF reference: a file begins with a section and ends with EOF; the SVG specification, chapter 5",
};

/// More than is read.
pub(super) static DRAWING_TOO_LARGE: Rule = Rule {
    name: "drawing-too-large",
    severity: Severity::Error,
    finds: "A drawing of more than 64 MiB, 200,000 lines or corners, or 5,000 contours.",
    why: "Looking for crossings in it would take minutes and gigabytes; a part that is to be cut has far less.",
    failing: concat!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nhole\n0\nCIRCLE\n40\n1\n0\nENDBLK\n0\nENDSEC\n",
        "0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nhole\n70\n1000\n71\n1000\n44\n5\n45\n5\n0\nENDSEC\n0\nEOF\n"
    ),
    passing: SQUARE,
    source: OURS,
};

/// Nobody says how long 1 is.
pub(super) static UNITS_MISSING: Rule = Rule {
    name: "drawing-without-units",
    severity: Severity::Error,
    finds: "A drawing that does not say its unit, or is in another unit than millimetres or inches.",
    why: "A guess that is wrong makes a part 25 times too large or too small.",
    failing: drawing!("", line!(0, 0, 100, 0), line!(100, 0, 100, 100), line!(100, 100, 0, 0)),
    passing: SQUARE,
    source: "the DXF reference, header variable $INSUNITS",
};

/// A number that is none.
pub(super) static COORDINATE_BAD: Rule = Rule {
    name: "drawing-number-bad",
    severity: Severity::Error,
    finds: "A coordinate, radius or knot in a drawing that is no finite number, or lies farther than 1 km away.",
    why: "A contour through such a point has no shape that can be cut.",
    failing: drawing!(mm!(), circle!("nan", 0, 10)),
    passing: drawing!(mm!(), circle!(0, 0, 10)),
    source: "arithmetic",
};

/// Something that is not read.
pub(super) static ENTITY_UNREAD: Rule = Rule {
    name: "drawing-entity-unread",
    severity: Severity::Error,
    finds: "Something in a drawing that may be a contour and is not read: solids, meshes, regions, curves in space, \
            clones in an SVG.",
    why: "Passed over in silence, an opening or an edge would be missing from the part.",
    failing: drawing!(mm!(), circle!(0, 0, 10), "0\nREGION\n"),
    passing: drawing!(mm!(), circle!(0, 0, 10), "0\nTEXT\n1\na remark\n"),
    source: OURS,
};

/// A block that cannot be put in.
pub(super) static BLOCK_MISSING: Rule = Rule {
    name: "drawing-block-missing",
    severity: Severity::Error,
    finds: "A block that is put into a drawing and is not in the file, or lies more than eight blocks deep.",
    why: "What it holds would be missing from the part.",
    failing: drawing!(mm!(), circle!(0, 0, 100), "0\nINSERT\n2\nhandle\n"),
    passing: drawing!(mm!(), circle!(0, 0, 100), circle!(0, 0, 20)),
    source: OURS,
};

/// Ends that do not meet.
pub(super) static CONTOUR_OPEN: Rule = Rule {
    name: "contour-open",
    severity: Severity::Error,
    finds: "Lines of a drawing that do not come back to where they start.",
    why: "An open line has no inside, so nobody knows what is part and what is waste.",
    failing: drawing!(mm!(), line!(0, 0, 100, 0), line!(100, 0, 100, 100), line!(100, 100, 0, "0.5")),
    passing: drawing!(mm!(), line!(0, 0, 100, 0), line!(100, 0, 100, 100), line!(100, 100, 0, 0)),
    source: "geometry",
};

/// More than two ends at one corner.
pub(super) static CONTOUR_FORKED: Rule = Rule {
    name: "contour-forked",
    severity: Severity::Error,
    finds: "More than two ends of lines at one place of a drawing.",
    why: "A line is drawn twice or branches off; either way there is more than one way round.",
    failing: drawing!(
        mm!(),
        line!(0, 0, 100, 0),
        line!(100, 0, 100, 100),
        line!(100, 100, 0, 0),
        line!(0, 0, 100, 0)
    ),
    passing: drawing!(mm!(), line!(0, 0, 100, 0), line!(100, 0, 100, 100), line!(100, 100, 0, 0)),
    source: "geometry",
};

/// Contours that cross.
pub(super) static CONTOUR_CROSSED: Rule = Rule {
    name: "contour-crossed",
    severity: Severity::Error,
    finds: "A contour that crosses or touches itself or another one.",
    why: "The tool would cut into the part, or the part falls in two.",
    failing: drawing!(mm!(), circle!(0, 0, 100), circle!(90, 0, 20)),
    passing: drawing!(mm!(), circle!(0, 0, 100), circle!(70, 0, 20)),
    source: "geometry",
};

/// Nothing inside.
pub(super) static CONTOUR_EMPTY: Rule = Rule {
    name: "contour-without-size",
    severity: Severity::Error,
    finds: "A contour that encloses nothing, and a drawing without a contour.",
    why: "There is nothing to cut; often it is a leftover that hides in the drawing.",
    failing: drawing!(mm!(), circle!(0, 0, 100), circle!(0, 0, 0)),
    passing: drawing!(mm!(), circle!(0, 0, 100)),
    source: "geometry",
};

/// Which of them?
pub(super) static SEVERAL_OUTLINES: Rule = Rule {
    name: "several-outer-contours",
    severity: Severity::Error,
    finds: "A drawing of one part with more than one outer contour: side by side, or one in another's opening.",
    why: "Each outer contour is a part; how many of each are wanted the drawing does not say.",
    failing: drawing!(mm!(), circle!(0, 0, 100), circle!(300, 0, 100)),
    passing: drawing!(mm!(), circle!(0, 0, 100), circle!(0, 0, 20)),
    source: OURS,
};

const LIST: &str = "name,length,width,quantity\nshelf,800,300,4\nback,800,600,1\n";

/// Columns that are missing or mean nothing.
pub(super) static LIST_COLUMNS: Rule = Rule {
    name: "cut-list-columns",
    severity: Severity::Error,
    finds: "A cut list without the columns that it needs, or with one that is not known or stands twice.",
    why: "A column that is misspelled and passed over would be a wish that nobody hears.",
    failing: "name,length,widht\nshelf,800,300\n",
    passing: LIST,
    source: OURS,
};

/// No table.
pub(super) static LIST_UNREADABLE: Rule = Rule {
    name: "cut-list-unreadable",
    severity: Severity::Error,
    finds: "A cut list that is empty, or a row with more cells than there are columns, or a cell over several lines.",
    why: "Cells have slipped into other columns: most often by decimal commas or a missing quotation mark.",
    failing: "name,length,width\nshelf,800,5,300\n",
    passing: LIST,
    source: OURS,
};

/// A cell that cannot be read.
pub(super) static LIST_VALUE: Rule = Rule {
    name: "cut-list-value",
    severity: Severity::Error,
    finds: "A cell of a cut list that is empty where it must not be, no number, out of range, or no word that is known.",
    why: "A size that is guessed is a part that does not fit.",
    failing: "name;length;width\nshelf;800,5;300\n",
    passing: "name;length;width\nshelf;800.5;300\n",
    source: OURS,
};

/// Two parts of one name.
pub(super) static LIST_NAME_TWICE: Rule = Rule {
    name: "cut-list-name-twice",
    severity: Severity::Error,
    finds: "Two rows of a cut list with the same name.",
    why: "Names stand on the parts and on their files; two that are alike cannot be told apart. Alike parts are one row with a quantity.",
    failing: "name,length,width\nshelf,800,300\nshelf,700,300\n",
    passing: LIST,
    source: OURS,
};

/// None, or far too many.
pub(super) static LIST_QUANTITY: Rule = Rule {
    name: "cut-list-quantity",
    severity: Severity::Error,
    finds: "A quantity of 0, or more than 10,000 parts in a cut list.",
    why: "A row of no parts is a slip; more than 10,000 parts are most often one, too, and would take very long.",
    failing: "name,length,width,quantity\nshelf,800,300,0\n",
    passing: LIST,
    source: OURS,
};

/// Both sizes and an outline, or neither.
pub(super) static LIST_SIZE_UNCLEAR: Rule = Rule {
    name: "cut-list-size-unclear",
    severity: Severity::Error,
    finds: "A row of a cut list with both an outline and a size, or without either.",
    why: "The drawing and the figures may differ, and nobody knows which was meant.",
    failing: "name,length,width,outline\nshelf,800,300,shelf.dxf\n",
    passing: LIST,
    source: OURS,
};
