//! Something that must stay in reach and would not.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

/// Most parts that a message names.
const MOST_NAMED: usize = 4;

pub(super) static RULE: Rule = Rule {
    name: "out-of-reach",
    severity: Severity::Error,
    finds: "A zone of the bay's `reach`, or the point of a seat belt or a child restraint, with a part of the kit in it \
            that neither opens nor comes off.",
    why: "A jack, a fuse or a tether's anchorage under a bolted panel is of no use on the day it is needed.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800, reach: [{id: pump-cover, x: 500, y: 0, length: 180, width: 180, height: 60}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800, reach: [{id: pump-cover, x: 985, y: 0, length: 100, width: 180, height: 60}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "a decision of this project",
};

pub(super) static UNKNOWN_REMOVABLE: Rule = Rule {
    name: "unknown-removable-panel",
    severity: Severity::Error,
    finds: "A name in `removable` that no panel bears.",
    why: "What lies behind it would count as in reach, or not, by a slip of the hand.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
removable: [main-bakc]
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
removable: [main-back]
",
    source: "a decision of this project",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for zone in finished.moves.zones.iter().filter(|zone| !zone.blocked_by.is_empty()) {
        let size = zone.room.size();
        let what = zone
            .point
            .map_or_else(|| format!("`{}`", zone.name), |what| format!("the {what} `{}`", zone.name));
        let mut parts: Vec<String> =
            zone.blocked_by.iter().take(MOST_NAMED).map(|part| format!("`{part}`")).collect();
        if zone.blocked_by.len() > MOST_NAMED {
            parts.push(format!("{} more", zone.blocked_by.len() - MOST_NAMED));
        }
        let [length, width, height] = [size.x, size.y, size.z].map(|mm| decimal(mm, 1));
        let message =
            format!("{what} cannot be reached: {} in its {length} x {width} x {height} mm", parts.join(", "));
        let help = format!(
            "move the kit, give the panel a hatch of at least {length} x {width} mm there, or name it in `removable` if \
             it may be unbolted on the road"
        );
        findings.push(Finding::new(&RULE, zone.span, message).on(&zone.name).help(help));
    }
}

pub(super) fn names(finished: &Finished, findings: &mut Findings) {
    let panels = &finished.kit.panels;
    for name in &finished.design.removable {
        if panels.iter().all(|panel| panel.name != name.value) {
            let message = format!("no panel is called `{}`", name.value);
            let known = panels.iter().map(|panel| panel.name.as_str());
            let finding = Finding::new(&UNKNOWN_REMOVABLE, name.span, message);
            findings.push(match crate::diag::did_you_mean(&name.value, known) {
                Some(help) => finding.help(help),
                None => finding.help("the cut list has the names of all panels"),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    fn kit(reach: &str, more: &str) -> String {
        format!(
            "bay: {{width: 1040, depth: 1100, height: 800, {reach}}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, \
             height: 300, panel: birch-12, cell: {{drawer: {{slide: heavy-800}}}}}}\n{more}"
        )
    }

    fn out_of_reach(spec: &str) -> Vec<String> {
        let findings = example_kits::built(spec).findings;
        findings.into_iter().filter(|f| f.rule.name == "out-of-reach").map(|f| f.message).collect()
    }

    #[test]
    fn a_drawer_opens_and_a_panel_comes_off_but_a_base_stays() {
        // Over the base (z from 12 on), inside the drawer: out of the way when it is open.
        let over = kit("reach: [{id: flap, x: 850, y: 0, z: 40, length: 60, width: 60, height: 60}]", "");
        assert_eq!(out_of_reach(&over), Vec::<String>::new());
        let zone = &example_kits::finished(&over).moves.zones[0];
        assert_eq!((zone.open.len(), zone.take_out.len(), zone.wants_tools()), (1, 0, false));
        // The back of the open drawer, 800 out of about 890, stays over what is near the door.
        let near = over.replace("x: 850", "x: 45");
        let zone = &example_kits::finished(&near).moves.zones[0];
        assert_eq!((zone.open.len(), zone.take_out.len(), zone.wants_tools()), (0, 1, false));
        // The same through the base.
        let under = over.replace("z: 40", "z: 0");
        let told = out_of_reach(&under);
        assert_eq!(told, ["`flap` cannot be reached: `main-base` in its 60 x 60 x 60 mm"]);
        // Behind the back: nothing in the way; in it: only if it comes off.
        let behind = kit("reach: [{id: flap, x: 915, y: 0, z: 100, length: 40, width: 60, height: 60}]", "");
        assert!(out_of_reach(&behind)[0].contains("`main-back`"));
        let off = format!("{behind}removable: [main-back]\n");
        assert_eq!(out_of_reach(&off), Vec::<String>::new());
        let zone = &example_kits::finished(&off).moves.zones[0];
        assert!(zone.wants_tools() && zone.take_off[0].1 > 3, "{zone:?}");
    }

    #[test]
    fn the_point_of_a_child_restraint_stays_free_without_being_asked_for() {
        let at = |x: f64| {
            kit(&format!("anchors: [{{id: tether, x: {x}, y: 0, thread: M8, kind: child-restraint}}]"), "")
        };
        assert!(
            out_of_reach(&at(900.0))[0]
                .starts_with("the child-restraint anchorage `tether` cannot be reached")
        );
        // 925 is the kit's end, heads and nuts stand out by less than 15, 40 around the point.
        assert_eq!(out_of_reach(&at(980.0)), Vec::<String>::new());
    }
}
