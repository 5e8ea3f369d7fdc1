//! A panel that fits in the bay, but nearer to one of its surfaces than the clearance. Nuts and slides that stand
//! proud may use the clearance up: it is for the trim and the tape, and they are small.

use super::against_bay::reaching;
use crate::bay::surfaces;
use crate::diag::{Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "near-bay",
    severity: Severity::Warning,
    finds: "A panel that stands nearer to the seat back, a side, the roof, a wheel arch, the closed door or a latch than \
            the `clearances` say. Bolts, angles and slides need only stay clear.",
    why: "A tape is off by some millimetres, trim is soft and no bay is square: a kit without room to spare is planed \
          at fitting, and a tailgate that touches a front rattles or does not shut.",
    failing: "\
bay: {width: 1005, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "common practice, no source; the values can be set under `clearances`",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let design = &finished.design;
    let bare = surfaces(&design.vehicle.bay, &design.clearances, false);
    let inside: Vec<String> = reaching(finished, &bare).iter().map(|part| part.key(finished)).collect();
    let mut grown = surfaces(&design.vehicle.bay, &design.clearances, true);
    grown.retain(|surface| surface.clearance > 0.0);
    for part in reaching(finished, &grown) {
        // What does not fit at all is told by the other rule.
        if !part.is_panel() || inside.contains(&part.key(finished)) {
            continue;
        }
        let (depth, clearance) = (part.overlap.depth, part.surface.clearance);
        let [gap, wanted] = [(clearance - depth).max(0.0), clearance].map(|length| decimal(length, 2));
        let reach = format!("stands {gap} mm from {}; {wanted} mm are to be kept", part.surface.name);
        findings.push(part.finding(&RULE, finished, &reach, depth));
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    /// Messages about a carcase in a bay with a latch and an arch.
    fn found(width: f64, x: f64, clearances: &str) -> Vec<String> {
        let spec = format!(
            "clearances: {{{clearances}}}\nbay:\n  depth: 1100\n  height: 995\n  sides: {{heights: [0], stations: [{{x: 0, \
             widths: [1325]}}]}}\n  arches: {{left: {{from: 260, to: 820, height: 285, from_centre: 520}}}}\n  door: \
             {{latches: [{{reach: 48, width: 110, height: 60}}]}}\ncarcases:\n  - {{id: main, at: {{x: {x}}}, width: \
             {width}, depth: 900, height: 305, panel: birch-12, cell: {{drawer: {{slide: heavy}}}}}}\n"
        );
        let findings = example_kits::built(&spec).findings;
        findings.into_iter().filter(|finding| finding.rule.name == "near-bay").map(|f| f.message).collect()
    }

    #[test]
    fn clearances_are_kept_to_the_millimetre_and_can_be_set() {
        // 8 to the arch: 2 * 512; 15 to the latch: 48 + 15.
        assert_eq!(found(1024.0, 63.0, ""), Vec::<String>::new());
        let close = found(1030.0, 60.0, "");
        let said = |text: &str| close.iter().any(|message| message.contains(text));
        assert!(
            said("`main-side-left` stands 5 mm from the left wheel arch; 8 mm are to be kept"),
            "{close:?}"
        );
        assert!(said("`main-drawer-1-front` stands 12 mm from the latch; 15 mm are to be kept"), "{close:?}");
        assert_eq!(found(1030.0, 60.0, "arch: 5, latch: 12"), Vec::<String>::new());
    }
}
