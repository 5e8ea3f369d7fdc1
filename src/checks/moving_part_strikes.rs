//! A drawer that would strike something on its way out: the kit, the vehicle, a door that stands open.

use crate::diag::{Finding, Findings};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Plate, overlap_depth};
use crate::joints::Kit;
use crate::joints::solids::{Solid, belong_together, name, near_pairs, span};
use crate::layout::rules::MOVING_PART_STRIKES;
use crate::moves::{Obstacle, Strike};
use crate::number::decimal;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    let solids = kit.solids();
    for (i, j) in near_pairs(solids, |body| kit.layout.body(body).travel) {
        let (a, b) = (&solids[i], &solids[j]);
        if a.body == b.body || belong_together(kit, a.part, b.part) {
            continue;
        }
        let struck = [(a, b), (b, a)]
            .into_iter()
            .find_map(|(mover, other)| depth_on_way(kit, mover, other).map(|depth| (mover, other, depth)));
        if let Some((mover, other, depth)) = struck {
            let (first, second) = (name(kit, mover.part), name(kit, other.part));
            let message =
                format!("`{first}` strikes `{second}` on its way out, {} mm deep", decimal(depth, 2));
            let finding = Finding::new(&MOVING_PART_STRIKES, span(kit, mover.part), message).on(first);
            let help = "move one of them, give the drawer more clearance, or take a shorter travel";
            findings
                .push(finding.help(help).also(span(kit, other.part), format!("`{second}` comes from here")));
        }
    }
    for strike in &finished.moves.strikes {
        findings.push(of_vehicle(finished, strike));
    }
}

/// How deep a moving solid goes into another one that is at rest.
fn depth_on_way(kit: &Kit, mover: &Solid, other: &Solid) -> Option<f64> {
    let body = kit.layout.body(mover.body);
    // What a moving part sweeps on its straight way is a box as wide and high as its own; a part at rest keeps its
    // true shape.
    let way = mover.aabb.swept(body.travel);
    let near = body.slides() && way.overlap(other.aabb) > TOUCH;
    near.then(|| overlap_depth(&Plate::filling(way), &other.plate)).flatten()
}

fn of_vehicle(finished: &Finished, strike: &Strike) -> Finding {
    let kit = &finished.kit;
    let first = name(kit, strike.part);
    let against = &strike.against;
    let depth = decimal(strike.depth, 2);
    let message = format!("`{first}` strikes {} on its way out, {depth} mm deep", against.name);
    // Rounded up, so that what is advised is enough.
    let by = decimal((strike.depth * 10.0).ceil() / 10.0, 1);
    let help = match against.kind {
        Obstacle::Leaf => format!("open the leaf further, or move the carcase by {by} mm"),
        Obstacle::Sill => format!(
            "raise the carcase by {by} mm (`at: {{z: ..}}`), or leave a blank cell of that height below the drawer"
        ),
        Obstacle::Bay => format!("move the carcase by {by} mm (`at:`), or make the drawer as much smaller"),
    };
    let finding = Finding::new(&MOVING_PART_STRIKES, span(kit, strike.part), message).on(first);
    finding.also(against.span, format!("{} is given here", against.name)).help(help)
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    /// Messages about drawers that strike something.
    fn found(bay: &str, carcase: &str) -> Vec<String> {
        let spec = format!(
            "bay: {{width: 1040, depth: 1100, height: 800, {bay}}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, \
             height: 300, panel: birch-12, {carcase}, cell: {{drawer: {{slide: heavy-800}}}}}}\n"
        );
        let findings = example_kits::built(&spec).findings;
        findings
            .into_iter()
            .filter(|finding| finding.rule.name == "moving-part-strikes")
            .map(|f| f.message)
            .collect()
    }

    #[test]
    fn a_drawer_strikes_a_sill_higher_than_its_front() {
        // The front stands 3 above the carcase's underside: the gap to its edge.
        let sill = "opening: {sill: 35, height: 780, widths: [{z: 0, width: 1030}]}";
        assert_eq!(
            found(sill, "at: {x: 25}"),
            ["`main-drawer-1-front` strikes the sill on its way out, 32 mm deep"]
        );
        assert_eq!(found(sill, "at: {x: 25, z: 32}"), Vec::<String>::new());
        // 0.5 too low is found as well.
        assert_eq!(found(sill, "at: {x: 25, z: 31.5}").len(), 1);
    }

    #[test]
    fn a_drawer_strikes_the_edge_of_a_narrow_opening() {
        // The front is 1000 - 2 * 3 = 994 wide; the opening is 990 at z = 297, where the front ends: 2 on each side.
        let narrow = "opening: {height: 780, widths: [{z: 0, width: 1030}, {z: 297, width: 990}]}";
        let struck = found(narrow, "at: {x: 25}");
        assert_eq!(
            struck,
            [
                "`main-drawer-1-front` strikes the opening's left edge on its way out, 2 mm deep",
                "`main-drawer-1-front` strikes the opening's right edge on its way out, 2 mm deep"
            ]
        );
    }

    #[test]
    fn a_lowered_tailgate_and_a_half_open_door_are_struck() {
        // Let down by 90 degrees, the tailgate's inner face is as high as its hinge: 5 above the floor, 2 above the
        // front's underside.
        let leaf = |keys: &str| format!("door: {{leaves: [{{id: gate, {keys}, thickness: 40}}]}}");
        let gate = |bottom: f64| {
            leaf(&format!("hinge: bottom, from: -510, to: 510, bottom: {bottom}, top: 480, open: 90"))
        };
        assert_eq!(
            found(&gate(5.0), "at: {x: 25}"),
            ["`main-drawer-1-front` strikes the leaf `gate`, open by 90 degrees on its way out, 2 mm deep"]
        );
        assert_eq!(found(&gate(3.0), "at: {x: 25}"), Vec::<String>::new());
        // A door on the left, 510 wide, hinged 510 from the middle: open by 90 degrees it stands beside the drawer,
        // open by 80 its free edge is 510 cos 80 = 88.6 in front of it.
        let door =
            |open: f64| leaf(&format!("hinge: left, from: 0, to: 510, bottom: 0, top: 700, open: {open}"));
        assert_eq!(found(&door(90.0), "at: {x: 25}"), Vec::<String>::new());
        assert_eq!(found(&door(80.0), "at: {x: 25}").len(), 1);
    }

    #[test]
    fn a_drawer_strikes_a_side_that_narrows_to_the_rear() {
        // The sides stand 520 from the middle ahead of x = 20 and 495 at x = 0; the front is 497 to each side, so it
        // is 2 in the side at the rear edge.
        let spec = "\
bay:
  depth: 1100
  height: 800
  sides: {heights: [0], stations: [{x: 0, widths: [990]}, {x: 20, widths: [1040]}]}
carcases:
  - {id: main, at: {x: 25}, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
";
        let findings = example_kits::built(spec).findings;
        let ours = findings.iter().filter(|finding| finding.rule.name == "moving-part-strikes");
        let messages: Vec<&str> = ours.map(|finding| finding.message.as_str()).collect();
        assert_eq!(
            messages,
            [
                "`main-drawer-1-front` strikes the left side on its way out, 2 mm deep",
                "`main-drawer-1-front` strikes the right side on its way out, 2 mm deep"
            ]
        );
    }
}
