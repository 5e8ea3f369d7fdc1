//! The factors and limits of the checks, each with its unit and what its default rests on.

use crate::number::decimal;
use crate::spec::{BoltClass, Setting, StrengthSettings};

/// A setting as tables print it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SettingRow {
    /// Its key in the workshop's `strength`.
    pub(crate) key: &'static str,
    /// What it is.
    pub(crate) what: &'static str,
    /// With its unit.
    pub(crate) value: String,
    /// `the workshop`, or what the default rests on.
    pub(crate) basis: &'static str,
}

/// Common practice that nobody has written down where we could read it.
const PRACTICE: &str = "common practice, no source";
/// Said by the user.
const OWN: &str = "the workshop";
/// Settled by this project.
const OURS: &str = "a decision of this project";

/// Every setting.
pub(crate) fn rows(settings: &StrengthSettings) -> Vec<SettingRow> {
    let mut rows = on_loads(settings);
    rows.extend(limits(settings));
    rows
}

fn row(
    key: &'static str,
    what: &'static str,
    (setting, unit): (Setting, &str),
    basis: &'static str,
) -> SettingRow {
    worded(key, what, (format!("{}{unit}", decimal(setting.value, 3)), setting.own), basis)
}

fn worded(
    key: &'static str,
    what: &'static str,
    (value, own): (String, bool),
    basis: &'static str,
) -> SettingRow {
    SettingRow { key, what, value, basis: if own { OWN } else { basis } }
}

/// What is loaded, and by what loads are multiplied.
fn on_loads(s: &StrengthSettings) -> Vec<SettingRow> {
    vec![
        row("service_class", "service class of boards: dry, damp at times, wet", (s.service_class, ""), OURS),
        worded("bolts", "class of the bolts", (class_name(s.bolts.value).to_owned(), s.bolts.own), OURS),
        row("person", "a person who kneels on a deck or a lid", (s.person, " kg"), PRACTICE),
        row("knee", "side of the square under a knee", (s.knee, " mm"), OURS),
        row("knees_apart", "between the middles of two knees", (s.knees_apart, " mm"), PRACTICE),
        row(
            "load_factor",
            "on loads at rest",
            (s.load_factor, ""),
            "EN 1990, from memory: 1.5 on imposed loads",
        ),
        row(
            "restraint_factor",
            "on forces of braking and cornering",
            (s.restraint_factor, ""),
            "EN 12195-1: 1.25 forward",
        ),
        row("rough_track", "on weights on a rough track", (s.rough_track, ""), PRACTICE),
        row("drawer_out", "on the weight of a drawer that is out", (s.drawer_out, ""), PRACTICE),
        row(
            "stored_part",
            "part of stored loads that is always there",
            (s.stored_part, ""),
            "EN 1990 psi2 for storage, from memory",
        ),
        row("friction", "friction under what is strapped down", (s.friction, ""), PRACTICE),
        row("strap_tension", "pull to which a strap is tightened", (s.strap_tension, " N"), PRACTICE),
        row("strap_rating", "pull that a strap bears", (s.strap_rating, " N"), PRACTICE),
    ]
}

/// What must be kept.
fn limits(s: &StrengthSettings) -> Vec<SettingRow> {
    vec![
        row("sag_moment", "span by sag, for a moment, at least", (s.sag_moment, ""), OURS),
        row(
            "sag_lasting",
            "span by sag, for good, at least",
            (s.sag_lasting, ""),
            "national tables for floors and shelves: 200 to 300",
        ),
        row(
            "weight_counted",
            "part of the weight that counts against tipping",
            (s.weight_counted, ""),
            "none: the safe side",
        ),
        row(
            "tipping_factor",
            "how many times what tips a loose module is held",
            (s.tipping_factor, ""),
            OURS,
        ),
        row("latch_factor", "on the pull on a latch", (s.latch_factor, ""), PRACTICE),
        row("latch_slope", "slope on which latches hold", (s.latch_slope, " degrees"), PRACTICE),
    ]
}

/// As standards write it.
fn class_name(class: BoltClass) -> &'static str {
    match class {
        BoltClass::Class46 => "4.6",
        BoltClass::Class88 => "8.8",
        BoltClass::A2_70 => "A2-70",
    }
}
