//! What a comparison says, field by field; its JSON Schema is made from these structs and their comments.
//!
//! Only data: what each field holds is decided beside this file. Lengths are mm, masses kg.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Kits beside each other, and what differs from the first of them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "comparison")]
pub(crate) struct Compared {
    /// Version of this format. A reader refuses a number that it does not know.
    pub(crate) version: u32,
    /// Every kit, in the order in which they were given.
    pub(crate) kits: Vec<Figures>,
    /// The first kit against each of the others, in their order.
    pub(crate) comparisons: Vec<Comparison>,
}

/// What a kit comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Figures {
    /// The spec, folder or kit.json as it was given.
    pub(crate) of: String,
    /// The kit's name.
    pub(crate) name: String,
    /// Which state of the design it is, if it says so.
    pub(crate) revision: Option<String>,
    /// Hash of everything that it was made from, if it says so.
    pub(crate) inputs_sha256: Option<String>,
    /// The vehicle, if it has a name.
    pub(crate) vehicle: Option<String>,
    /// Number of panels.
    pub(crate) panels: usize,
    /// Number of bolts.
    pub(crate) bolts: usize,
    /// kg.
    pub(crate) mass: f64,
    /// Centre of gravity, vehicle frame, mm.
    pub(crate) centre: [f64; 3],
    /// Sheets by material and size.
    pub(crate) sheets: Vec<SheetCount>,
    /// What prices are in, if the workshop says so.
    pub(crate) currency: Option<String>,
    /// Sum of what is priced; null if nothing is.
    pub(crate) cost: Option<f64>,
    /// How many lines of the quote are not priced, and so not in the cost.
    pub(crate) unpriced: usize,
    /// Minutes of the machine.
    pub(crate) machine_minutes: f64,
    /// What is left of each limit in each scenario.
    pub(crate) margins: Vec<Margin>,
    /// Warnings that nobody has accepted.
    pub(crate) warnings: usize,
    /// Warnings that the design accepts.
    pub(crate) accepted: usize,
    /// Notes.
    pub(crate) notes: usize,
}

/// Sheets of a kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SheetCount {
    /// Material, size, and whether it is an offcut or cut already.
    pub(crate) what: String,
    /// How many.
    pub(crate) count: usize,
}

/// What is left of a limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Margin {
    /// The scenario's name.
    pub(crate) scenario: String,
    /// Name of the set of limits.
    pub(crate) limits: String,
    /// Of what.
    pub(crate) what: String,
    /// kg; less than 0 if it is over the limit.
    pub(crate) left: f64,
}

/// One kit against the first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Comparison {
    /// The first kit, as it was given.
    pub(crate) old: String,
    /// The other kit, as it was given.
    pub(crate) new: String,
    /// Whether nothing differs but name, revision, hash, and the places of findings in the texts.
    pub(crate) same: bool,
    /// Every panel of the new kit is in one list but `gone`.
    pub(crate) panels: Panels,
    /// Bolts, washers and nuts of which there are more or fewer.
    pub(crate) hardware: Vec<Counted>,
    /// Slides (pairs), angles, turnbuckles, fittings and equipment of which there are more or fewer, and angles that are
    /// drilled otherwise.
    pub(crate) fittings: Vec<Counted>,
    /// Sheets of which there are more or fewer.
    pub(crate) sheets: Vec<Counted>,
    /// kg.
    pub(crate) mass: Change,
    /// Centre of gravity along x, y and z, vehicle frame, mm.
    pub(crate) centre: [Change; 3],
    /// Sum of what is priced; no difference where nothing is priced or currencies differ.
    pub(crate) cost: Change,
    /// Lines of the quote that are not priced.
    pub(crate) unpriced: Change,
    /// Minutes of the machine.
    pub(crate) machine_minutes: Change,
    /// Limits with another margin, or that only one of the two has.
    pub(crate) margins: Vec<MarginChange>,
    /// Findings that only the new kit has.
    pub(crate) came: Vec<Told>,
    /// Findings that only the old kit has.
    pub(crate) went: Vec<Told>,
    /// Fields of kit.json that differ and of which nothing stands above.
    pub(crate) elsewhere: Vec<String>,
}

/// What becomes of the panels.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Panels {
    /// To be cut again: the old kit has a panel of the name, but it is cut otherwise.
    pub(crate) recut: Vec<Recut>,
    /// Panels whose names and shapes the old kit does not have.
    pub(crate) new: Vec<Piece>,
    /// Panels of the old kit that the new one has no use for, those to be cut again left out.
    pub(crate) gone: Vec<Piece>,
    /// Panels that the old kit has under another name.
    pub(crate) renamed: Vec<Renamed>,
    /// As they were cut, but covered with other finishes.
    pub(crate) refinished: Vec<String>,
    /// As they were cut, at another place.
    pub(crate) moved: Vec<String>,
    /// As they were.
    pub(crate) unchanged: Vec<String>,
}

/// A panel to be cut again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Recut {
    /// Its name.
    pub(crate) name: String,
    /// In what it differs; at least one.
    pub(crate) differs: Vec<Difference>,
    /// As it was.
    pub(crate) old: Board,
    /// As it is.
    pub(crate) new: Board,
    /// Bores that it does not have any more.
    pub(crate) bores_gone: usize,
    /// Bores that it did not have.
    pub(crate) bores_new: usize,
}

/// In what a panel differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Difference {
    /// The board that it is cut from.
    Material,
    /// The board's actual thickness.
    Thickness,
    /// Its length or its width.
    Size,
    /// The corners of its outline.
    Contour,
    /// Openings other than bores.
    Openings,
    /// Place, diameter or depth of bores.
    Bores,
    /// Place, diameter or depth of countersinks.
    Countersinks,
    /// Legends or part marks.
    Engravings,
}

/// What a panel is cut from, and how large it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Board {
    /// Name of its material.
    pub(crate) material: String,
    /// Actual thickness, mm.
    pub(crate) thickness: f64,
    /// Extent along u and v, mm.
    pub(crate) size: [f64; 2],
}

/// A panel that only one of the kits has.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Piece {
    /// Its name.
    pub(crate) name: String,
    /// What it is cut from.
    #[serde(flatten)]
    pub(crate) board: Board,
}

/// A panel under another name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Renamed {
    /// Its name in the old kit.
    pub(crate) old: String,
    /// Its name in the new one.
    pub(crate) new: String,
    /// Whether the part marks that are engraved into the two differ.
    pub(crate) other_mark: bool,
}

/// Pieces of a kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Counted {
    /// `bolt`, `washer`, `nut`, `slides`, `angle`, `turnbuckle`, `fitting`, `equipment` or `sheet`.
    pub(crate) kind: String,
    /// Its designation.
    pub(crate) what: String,
    /// How many the old kit has.
    pub(crate) old: usize,
    /// How many the new kit has.
    pub(crate) new: usize,
    /// Of angles, how many of the old ones would have to be drilled otherwise.
    pub(crate) redrilled: usize,
}

/// A figure in both kits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Change {
    /// In the old kit, if it has it.
    pub(crate) old: Option<f64>,
    /// In the new kit, if it has it.
    pub(crate) new: Option<f64>,
    /// By how much the new one is more, if both have it.
    pub(crate) by: Option<f64>,
}

/// What is left of a limit in both kits, kg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct MarginChange {
    /// The scenario's name.
    pub(crate) scenario: String,
    /// Name of the set of limits.
    pub(crate) limits: String,
    /// Of what.
    pub(crate) what: String,
    /// The margin.
    pub(crate) margin: Change,
}

/// A finding, wherever it stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Told {
    /// `warning` or `note`.
    pub(crate) severity: String,
    /// Whether the design accepts it.
    pub(crate) accepted: bool,
    /// The rule.
    pub(crate) rule: String,
    /// The part that it is about; may be empty.
    pub(crate) on: String,
    /// What it says.
    pub(crate) message: String,
}

impl Change {
    /// Whether there is none.
    pub(crate) fn is_none(&self) -> bool {
        self.old == self.new
    }
}

impl Panels {
    /// Whether every panel is as it was.
    pub(crate) fn are_same(&self) -> bool {
        let Panels { recut, new, gone, renamed, refinished, moved, unchanged: _ } = self;
        recut.is_empty()
            && [new, gone].iter().all(|list| list.is_empty())
            && renamed.is_empty()
            && [refinished, moved].iter().all(|list| list.is_empty())
    }
}

impl Difference {
    /// In a word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Difference::Material => "material",
            Difference::Thickness => "thickness",
            Difference::Size => "size",
            Difference::Contour => "contour",
            Difference::Openings => "openings",
            Difference::Bores => "bores",
            Difference::Countersinks => "countersinks",
            Difference::Engravings => "engravings",
        }
    }
}
