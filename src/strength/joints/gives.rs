//! The ways in which a bolted joint can give, each with its name and the formula behind it.

/// What gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Gives {
    /// The bolt's shank.
    BoltAcross,
    /// The bolt along itself.
    BoltAlong,
    /// The wood under a washer or a flat head.
    Washer,
    /// The wood around the bolt, in the mode of this letter.
    Wood(char),
    /// The rim of the hole in a metal sheet.
    SheetHole,
    /// The rim of the hole in an angle.
    AngleHole,
    /// The angle's leg at its heel.
    AngleLeg,
    /// The wood between a captive nut and the edge.
    BeforeNut,
    /// The tabs beside captive nuts, along the joint.
    TabsAlong,
    /// The same across their board.
    TabsAcross,
}

impl Gives {
    /// In words.
    pub(crate) fn name(self) -> String {
        match self {
            Gives::BoltAcross => "bolt sheared".to_owned(),
            Gives::BoltAlong => "bolt torn".to_owned(),
            Gives::Washer => "washer drawn through".to_owned(),
            Gives::Wood(mode) => format!("wood crushed, mode ({mode})"),
            Gives::SheetHole => "hole in the sheet torn".to_owned(),
            Gives::AngleHole => "hole in the angle torn".to_owned(),
            Gives::AngleLeg => "leg of the angle bent".to_owned(),
            Gives::BeforeNut => "wood between nut and edge sheared".to_owned(),
            Gives::TabsAlong => "tabs sheared along".to_owned(),
            Gives::TabsAcross => "tabs sheared between plies".to_owned(),
        }
    }

    /// The formula, by name.
    pub(crate) fn formula(self) -> &'static str {
        match self {
            Gives::BoltAcross | Gives::BoltAlong => "EN 1993-1-8 Table 3.4",
            Gives::Washer => "EN 1995-1-1 8.5.2 (2)",
            Gives::Wood(_) => "EN 1995-1-1 8.2",
            Gives::SheetHole | Gives::AngleHole => "EN 1999-1-1 Table 8.5",
            Gives::AngleLeg => "plastic hinge at the heel",
            Gives::BeforeNut | Gives::TabsAlong => "area times shear strength; no standard",
            Gives::TabsAcross => "V = 2/3 A f; no standard",
        }
    }
}

/// One way in which a joint can give, by design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Resistance {
    /// What gives.
    pub(crate) gives: Gives,
    /// N.
    pub(crate) force: f64,
    /// Part of it that is used.
    pub(crate) used: f64,
}

impl Resistance {
    /// With what acts on it, N.
    pub(super) fn new(gives: Gives, force: f64, acting: f64) -> Self {
        let used = if acting > 0.0 { acting / force.max(f64::MIN_POSITIVE) } else { 0.0 };
        Resistance { gives, force, used }
    }
}
