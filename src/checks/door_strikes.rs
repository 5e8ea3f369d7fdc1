//! A locker's door that would strike something as it turns.

use crate::bay::{Thing, surfaces};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::Plate;
use crate::joints::solids::{Part, Solid, is_hinge_of, name, span};
use crate::layout::DoorSummary;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "door-strikes",
    severity: Severity::Error,
    finds: "A door that strikes a fixed part of the kit, equipment or the vehicle on its turn, drawers and other doors shut. \
            Sweeps are exact; surfaces of the vehicle that lean are taken a little nearer than they are.",
    why: "It does not open.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, at: {x: 100}, width: 500, depth: 600, height: 400, panel: birch-12, cell: {id: locker, door: {hinge: left}}}
equipment:
  - {id: case, at: {x: 70, y: 0}, size: {length: 50, width: 100, height: 100}, mass: {empty: 3}, straps: 0}
accept:
  - {rule: equipment-loose, reason: an example}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, at: {x: 100}, width: 500, depth: 600, height: 400, panel: birch-12, cell: {id: locker, door: {hinge: left}}}
",
    source: "plane geometry",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    let solids = kit.solids();
    let solids: Vec<&Solid> = solids.iter().filter(|solid| !matches!(solid.part, Part::Shank(_))).collect();
    for door in &kit.layout.doors {
        for (what, at) in strikes(finished, &solids, door) {
            let message =
                format!("it strikes {what} on its turn of {} degrees", decimal(door.swing.degrees.abs(), 1));
            let own = kit.layout.board(door.panel).span;
            let finding = Finding::new(&RULE, own, message).on(&door.name);
            let help = "hinge it on another side, open it less, or move what stands in its way";
            findings.push(finding.help(help).also(at, format!("{what} comes from here")));
        }
    }
}

/// What a door strikes, each thing once.
fn strikes(finished: &Finished, solids: &[&Solid], door: &DoorSummary) -> Vec<(String, crate::diag::Span)> {
    let kit = &finished.kit;
    let mut found: Vec<(String, crate::diag::Span)> = Vec::new();
    let mut note = |what: String, at| {
        // The door's finish comes after the door: what the bare door strikes is told once.
        if found.iter().all(|(other, _)| !what.starts_with(other.as_str())) {
            found.push((what, at));
        }
    };
    let own = solids.iter().filter(|solid| solid.body == door.body && !matches!(solid.part, Part::Room(_)));
    let surfaces = surfaces(&finished.design.vehicle.bay, &finished.design.clearances, false);
    let with = |mover: &Solid| if matches!(mover.part, Part::Coat(_)) { " with its finish" } else { "" };
    for mover in own {
        for other in solids.iter().filter(|other| other.body != door.body) {
            // The door turns about its own hinges.
            if matches!(other.part, Part::Room(_)) || is_hinge_of(kit, other.part, door) {
                continue;
            }
            if door.swing.strikes(mover.aabb, other.aabb) {
                note(format!("`{}`{}", name(kit, other.part), with(mover)), span(kit, other.part));
            }
        }
        let mut way = door.swing.swept(mover.aabb);
        way.low.x = way.low.x.max(0.0_f64.min(way.high.x));
        let stays = surfaces.iter().filter(|surface| !matches!(surface.of, Thing::Door | Thing::Latch));
        for surface in stays {
            let inside = way.high.x > way.low.x && surface.overlap(&Plate::filling(way), way).is_some();
            if inside && surface.overlap(&mover.plate, mover.aabb).is_none() {
                note(format!("{}{}", surface.name, with(mover)), surface.span);
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    fn found(hinge: &str, at: &str, more: &str) -> Vec<String> {
        let spec = format!(
            "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, at: {{{at}}}, width: 500, depth: 600, \
             height: 400, panel: birch-12, cell: {{id: locker, door: {{hinge: {hinge}{more}}}}}}}\n"
        );
        let findings = example_kits::built(&spec).findings.into_iter();
        findings
            .filter(|finding| finding.rule.name == "door-strikes")
            .map(|finding| finding.message)
            .collect()
    }

    /// From its axis, 250 - 12 - 60 + 1.5 = 176.5 left of the carcase's middle and so 444.5 left of the bay's, the door is some
    /// 425 wide. Opened 5 degrees past square it reaches 425 sin 5 = 37 further left: the side at 520 is far. Opened 30
    /// degrees past square it reaches 212 further.
    #[test]
    fn a_door_that_opens_past_square_needs_room_beside_it() {
        assert_eq!(found("left", "x: 500", ""), [""; 0]);
        assert_eq!(found("left", "x: 500, y: 268", ""), [""; 0]);
        assert_eq!(
            found("left", "x: 500, y: 268", ", open: 120"),
            ["it strikes the left side on its turn of 120 degrees"]
        );
        // Laid flat on the strip, the heads of its hinges' bolts meet: 2 of leaf and 3 of head on either side, 6 between.
        let flat = found("left", "x: 500, y: 0", ", open: 180");
        assert!(flat.iter().any(|message| message.contains("`main-locker-hinge-1/1`")), "{flat:?}");
    }

    /// Let down, a door as high as it is long would turn through the floor.
    #[test]
    fn a_door_that_opens_down_strikes_the_floor_when_it_opens_too_far() {
        assert_eq!(found("down", "x: 500, z: 100", ", open: 90"), [""; 0]);
        let far = found("down", "x: 500, z: 100", ", open: 150");
        assert_eq!(far, ["it strikes the floor on its turn of 150 degrees"]);
    }
}
