//! Something within the room that a cooker's maker wants free while it is hot.

use super::room_in_use::struck;
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "heat-too-near",
    severity: Severity::Error,
    finds: "A part of the kit or of the vehicle within the `heat` of equipment, over its top or beside it: where it stands, or drawn \
            out if it stands on a tray or a drawer.",
    why: "Wood and lining near a flame char, and then burn.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 900}
carcases:
  - {id: main, width: 700, depth: 900, height: 700, panel: birch-12, cell: {id: galley, open: {}}}
equipment:
  - {id: plate, kind: cooker-electric, in: main-galley, heat: {above: 650, beside: 100}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 900}
carcases:
  - {id: main, width: 700, depth: 900, height: 700, panel: birch-12, cell: {id: galley, open: {}}}
equipment:
  - {id: plate, kind: cooker-electric, in: main-galley, heat: {above: 550, beside: 100}}
",
    source: "the distances are the maker's; that a cooker must have them: common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for equipment in &finished.kit.layout.equipment {
        let Some((heat, room)) = equipment.heat else { continue };
        let fixture = &finished.kit.layout.fixtures[equipment.fixture];
        let travel = finished.kit.layout.body(fixture.body).travel;
        let Some((what, free)) = struck(finished, equipment.fixture, room, travel) else { continue };
        let [above, beside, free] = [heat.above, heat.beside, free].map(|length| decimal(length, 1));
        let message = format!(
            "`{}` needs {above} mm free over its top and {beside} mm beside it; {what} is in that room, {free} mm above its top",
            equipment.name
        );
        let help = "put it on a tray that comes clear (`comes_clear`), lower it, or move what is near it";
        findings.push(Finding::new(&RULE, fixture.span, message).on(&equipment.name).help(help));
    }
}
