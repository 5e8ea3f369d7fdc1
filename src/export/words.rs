//! The words that tables and `kit.json` use for the kinds of things, in one place so that all outputs agree.

use crate::budget::{Cure, Limited, LineKind};
use crate::catalogue::{HeadKind, NutKind, WasherKind};
use crate::export::quote::Part;
use crate::geom::{Point3, VehicleFrame};
use crate::import::cut_list::Grain;
use crate::joints::Purpose;
use crate::layout::{EngravingKind, MeasuredPlace, OpeningKind, RESIDUAL, Role};
use crate::mass::Open;
use crate::nest::{Cost, CostBy, Nesting, Progress, Stock};
use crate::number::decimal;
use crate::spec::{AnchorKind, DrawerKind, DxfVersion, HoldingMethod, HoleClass, LoadKind, TabsAs, Towards};

/// What a panel is for.
pub(crate) fn role(role: Role) -> &'static str {
    match role {
        Role::Floor => "floor",
        Role::Base => "base",
        Role::Deck => "deck",
        Role::Side => "side",
        Role::Back => "back",
        Role::Divider => "divider",
        Role::Shelf => "shelf",
        Role::Front => "front",
        Role::BoxSide => "box-side",
        Role::BoxEnd => "box-end",
        Role::BoxBottom => "box-bottom",
        Role::Platform => "platform",
        Role::Wing => "wing",
        Role::Lid => "lid",
        Role::Ledge => "ledge",
    }
}

/// What there is to say about a measured point that should be `clearance` mm from its panel's edge.
pub(crate) fn residual(place: &MeasuredPlace, clearance: f64) -> &'static str {
    let off = place.distance - clearance;
    if place.fillet > 0.0 {
        "round corner: the point is where its lines meet"
    } else if off > RESIDUAL {
        "outside corner: farther from the point than from the lines"
    } else if off < -RESIDUAL {
        "nearer: the tool does not follow the corner"
    } else {
        ""
    }
}

/// A place in the vehicle, mm. No line is broken between an axis and its number.
pub(crate) fn place(p: Point3<VehicleFrame>) -> String {
    let [x, y, z] = p.to_array().map(|length| decimal(length, 1));
    format!("x\u{a0}{x}, y\u{a0}{y}, z\u{a0}{z}")
}

/// How a part's length lies to the grain.
pub(crate) fn grain(grain: Grain) -> &'static str {
    match grain {
        Grain::Kept => "kept",
        Grain::Across => "across",
        Grain::Free => "free",
    }
}

/// What a bolt does.
pub(crate) fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Joint => "joint",
        Purpose::SlideFixed => "slide-fixed",
        Purpose::SlideMoving => "slide-moving",
        Purpose::Fixture => "fixture",
        Purpose::Anchor => "anchor",
    }
}

/// What a threaded point belongs to.
pub(crate) fn anchor(kind: AnchorKind) -> &'static str {
    match kind {
        AnchorKind::TieDown => "tie-down",
        AnchorKind::Seat => "seat",
        AnchorKind::SeatBelt => "seat-belt",
        AnchorKind::ChildRestraint => "child-restraint",
        AnchorKind::Other => "other",
    }
}

/// The form of a bolt's head.
pub(crate) fn head(kind: HeadKind) -> &'static str {
    match kind {
        HeadKind::Button => "button",
        HeadKind::Countersunk => "countersunk",
        HeadKind::Hex => "hexagon",
        HeadKind::Cap => "cap",
    }
}

/// The form of a nut.
pub(crate) fn nut(kind: NutKind) -> &'static str {
    match kind {
        NutKind::Hex => "hexagon",
        NutKind::Lock => "lock",
        NutKind::LowLock => "low-lock",
        NutKind::Thin => "thin",
        NutKind::Eye => "eye",
    }
}

/// Whether a nut has an insert that keeps it from turning by itself; one without wants thread lock.
pub(crate) fn nut_locks_itself(kind: NutKind) -> bool {
    matches!(kind, NutKind::Lock | NutKind::LowLock)
}

/// The form of a washer.
pub(crate) fn washer(kind: WasherKind) -> &'static str {
    match kind {
        WasherKind::Plain => "plain",
        WasherKind::Large => "large",
        WasherKind::Spreader => "spreader",
    }
}

/// A drawer or a kind of tray.
pub(crate) fn drawer(kind: DrawerKind) -> &'static str {
    match kind {
        DrawerKind::Box => "box",
        DrawerKind::Lipped => "lipped",
        DrawerKind::Flat => "flat",
    }
}

/// A face of a panel.
pub(crate) fn face(face_a: bool) -> &'static str {
    if face_a { "A" } else { "B" }
}

/// The way that a face looks.
pub(crate) fn towards(towards: Towards) -> &'static str {
    match towards {
        Towards::Left => "left",
        Towards::Right => "right",
        Towards::Rear => "rear",
        Towards::Front => "front",
        Towards::Up => "up",
        Towards::Down => "down",
    }
}

/// What a text on a panel is for.
pub(crate) fn engraving(kind: EngravingKind) -> &'static str {
    match kind {
        EngravingKind::Legend => "legend",
        EngravingKind::PartMark => "part-mark",
    }
}

/// The series of clearance holes.
pub(crate) fn hole_class(class: HoleClass) -> &'static str {
    match class {
        HoleClass::Fine => "fine",
        HoleClass::Medium => "medium",
        HoleClass::Coarse => "coarse",
    }
}

/// The dialect of DXF files.
pub(crate) fn dxf_version(version: DxfVersion) -> &'static str {
    match version {
        DxfVersion::R12 => "R12",
        DxfVersion::R2000 => "R2000",
    }
}
/// How small parts are held.
pub(crate) fn holding_method(method: HoldingMethod) -> &'static str {
    match method {
        HoldingMethod::Tabs => "tabs",
        HoldingMethod::Skin => "skin",
        HoldingMethod::None => "none",
    }
}

/// How files show tabs.
pub(crate) fn tabs_as(shown_as: TabsAs) -> &'static str {
    match shown_as {
        TabsAs::Gaps => "gaps",
        TabsAs::Layer => "layer",
    }
}

/// What is known about fewer or cheaper sheets than a packing's: `fewer than 6 is impossible`, `at least 5 are
/// needed`; where sheets differ in cost, the cost and what is known of that.
pub(crate) fn proof(nesting: &Nesting, stock: &[Stock], currency: Option<&str>) -> String {
    let number = nesting.sheets.len();
    if !differ(stock, nesting.cost.by) {
        return match nesting.bound {
            _ if is_proved(nesting, stock) => format!("fewer than {number} is impossible"),
            1 => "at least 1 is needed".to_owned(),
            bound => format!("at least {bound} are needed"),
        };
    }
    let Cost { by, used, least } = nesting.cost;
    let met = is_proved(nesting, stock);
    let (used, least) = (cost(by, used, currency), cost(by, least, currency));
    let verb = match by {
        CostBy::Price => "they cost",
        CostBy::Area => "they have",
    };
    match (met, by) {
        (true, _) => format!("{verb} {used}; less is impossible"),
        (false, CostBy::Price) => format!("{verb} {used}; less than {least} is impossible"),
        (false, CostBy::Area) => format!("{verb} {used}; at least {least} are needed"),
    }
}

/// Whether no layout on fewer sheets, or for less, is possible.
pub(crate) fn is_proved(nesting: &Nesting, stock: &[Stock]) -> bool {
    if differ(stock, nesting.cost.by) {
        nesting.cost.least >= nesting.cost.used * (1.0 - 1e-9)
    } else {
        nesting.bound >= nesting.sheets.len()
    }
}

/// A cost with its unit.
pub(crate) fn cost(by: CostBy, value: f64, currency: Option<&str>) -> String {
    match by {
        CostBy::Price => {
            format!(
                "{}{}{}",
                decimal(value, 2),
                if currency.is_some() { " " } else { "" },
                currency.unwrap_or("")
            )
        }
        CostBy::Area => format!("{} m2", decimal(value / 1e6, 2)),
    }
}

/// Whether the stock has sheets of several costs, so that their number says little.
fn differ(stock: &[Stock], by: CostBy) -> bool {
    let same = |a: &Stock, b: &Stock| {
        let price = |kind: &Stock| kind.price.map(f64::to_bits);
        let area = |kind: &Stock| (kind.length * kind.width).to_bits();
        a.offcut == b.offcut && price(a) == price(b) && (by == CostBy::Price || area(a) == area(b))
    };
    stock.windows(2).any(|pair| !same(&pair[0], &pair[1]))
}

/// How far a nesting is, for a terminal.
pub(crate) fn progress(progress: &Progress) -> String {
    let Progress { sheets, bound, used, .. } = progress;
    let n = if *sheets == 1 { "sheet" } else { "sheets" };
    format!("{sheets} {n}, {} % used, at least {bound}", decimal(100.0 * used, 0))
}

/// What is held against a limit.
pub(crate) fn limited(what: Limited) -> &'static str {
    match what {
        Limited::Gross => "gross vehicle mass",
        Limited::Front => "front axle",
        Limited::Rear => "rear axle",
        Limited::Combination => "gross combination mass",
        Limited::Ball => "tow ball",
        Limited::Roof => "roof load",
    }
}

/// How far a calculated mass is borne out.
pub(crate) fn weighed(kit: Option<f64>) -> String {
    kit.map_or_else(
        || "calculated, not weighed".to_owned(),
        |weighed| format!("calculated; {} kg on the scale", decimal(weighed, 3)),
    )
}

/// The parts of a quote.
pub(crate) fn quoted(part: Part) -> &'static str {
    match part {
        Part::Boards => "boards",
        Part::Machine => "machine",
        Part::Hardware => "hardware",
        Part::Finishes => "finishes",
        Part::Labour => "labour",
    }
}

/// Whether the kit is loaded.
pub(crate) fn loaded(loaded: bool) -> &'static str {
    if loaded { "loaded" } else { "empty" }
}

/// What of the kit is drawn out.
pub(crate) fn open(open: &Open) -> &str {
    match open {
        Open::Shut => "nothing",
        Open::One(name) => name,
        Open::All => "every drawer and tray",
    }
}

/// A board with the thickness that it is sold by, and its actual one where that is another: `birch-9, 9 mm (actual 9.2 mm)`.
pub(crate) fn board(id: &str, nominal: f64, actual: f64) -> String {
    let (nominal, actual) = (decimal(nominal, 2), decimal(actual, 2));
    if nominal == actual {
        format!("{id}, {nominal} mm")
    } else {
        format!("{id}, {nominal} mm (actual {actual} mm)")
    }
}

/// What a piece of hardware is ordered as: `ISO 7380-1 M6x30`, `ISO 7089 M6`.
pub(crate) fn designation(standard: &str, size: &str, length: Option<f64>) -> String {
    length.map_or_else(
        || format!("{standard} {size}"),
        |length| format!("{standard} {size}x{}", decimal(length, 1)),
    )
}

/// What an opening is for.
pub(crate) fn opening(kind: OpeningKind) -> &'static str {
    match kind {
        OpeningKind::TabSlot => "slot for a tab",
        OpeningKind::BoltSlot => "slot for a bolt",
        OpeningKind::Hatch => "hatch",
        OpeningKind::FingerHole => "finger hole",
        OpeningKind::Cutout => "cut-out",
        OpeningKind::Drawn => "as drawn",
    }
}

/// What a line of a vehicle's budget is.
pub(crate) fn budget_line(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Kerb => "vehicle",
        LineKind::Load(LoadKind::Person) => "person",
        LineKind::Load(LoadKind::Accessory) => "accessory",
        LineKind::Load(LoadKind::Contents) => "contents",
        LineKind::Load(LoadKind::Roof) => "on the roof",
        LineKind::Load(LoadKind::TakenOut) => "taken out",
        LineKind::Load(LoadKind::Trailer) => "on the tow ball",
        LineKind::Kit => "kit",
        LineKind::Equipment => "equipment",
        LineKind::Drawer => "in a drawer or tray",
    }
}

/// A change that brings a vehicle within its limits.
pub(crate) fn cure(cure: &Cure) -> String {
    match cure {
        Cure::Move { name, by } => {
            let way = if *by > 0.0 { "forward" } else { "back" };
            format!("move `{name}` {way} by {} mm", decimal(by.abs(), 0))
        }
        Cure::Less { name, by, ball: true } => {
            format!("load the trailer so that `{name}` puts {} kg less on the ball", decimal(*by, 0))
        }
        Cure::Less { name, by, ball: false } => format!("take {} kg less of `{name}`", decimal(*by, 0)),
        Cure::Board { from, to, saves } => {
            format!(
                "make it of `{to}` for `{from}`, which saves {} kg (its strength is another matter)",
                decimal(*saves, 1)
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::Sheet;

    fn nesting(sheets: usize, bound: usize, by: CostBy, used: f64, least: f64) -> Nesting {
        let sheets = vec![Sheet { stock: 0, placed: vec![] }; sheets];
        Nesting { sheets, bound, cost: Cost { by, used, least }, ..Nesting::default() }
    }

    fn kind(length: f64, price: Option<f64>) -> Stock {
        Stock { length, width: 1000.0, price, ..Stock::default() }
    }

    #[test]
    fn the_bound_is_told_as_what_it_proves() {
        let one = [kind(2000.0, None)];
        let told = |sheets, bound| proof(&nesting(sheets, bound, CostBy::Area, 0.0, 0.0), &one, None);
        assert_eq!(told(6, 6), "fewer than 6 is impossible");
        assert_eq!(told(6, 5), "at least 5 are needed");
        assert_eq!(told(2, 1), "at least 1 is needed");
    }

    #[test]
    fn sheets_of_several_costs_are_told_by_cost() {
        let priced = [kind(2000.0, Some(50.0)), kind(1000.0, Some(30.0))];
        let told =
            |used, least, currency| proof(&nesting(3, 2, CostBy::Price, used, least), &priced, currency);
        assert_eq!(told(412.0, 398.0, Some("EUR")), "they cost 412 EUR; less than 398 EUR is impossible");
        assert_eq!(told(412.5, 412.5, None), "they cost 412.5; less is impossible");
        let plain = [kind(2000.0, None), kind(1000.0, None)];
        let told = |used, least| proof(&nesting(3, 2, CostBy::Area, used, least), &plain, Some("EUR"));
        assert_eq!(told(5e6, 4e6), "they have 5 m2; at least 4 m2 are needed");
        // Sheets at one price count as one kind, whatever their size.
        let same = [kind(2000.0, Some(50.0)), kind(1000.0, Some(50.0))];
        assert_eq!(
            proof(&nesting(2, 2, CostBy::Price, 100.0, 100.0), &same, None),
            "fewer than 2 is impossible"
        );
    }
}
