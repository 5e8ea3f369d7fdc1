//! A part that does not fit in the bay as measured.

use super::against_bay::reaching;
use crate::bay::surfaces;
use crate::diag::{Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "outside-bay",
    severity: Severity::Error,
    finds: "A part, with everything shut, that reaches into the seat back, a side, the roof, the floor, a wheel arch, \
            the closed door or a latch; bolt heads, nuts, angles and slides included. The depth is the least by which \
            the part must be moved.",
    why: "A kit that is right on paper and does not go into the vehicle is scrap.",
    failing: "\
bay: {width: 1040, depth: 1000, height: 800, seat_back: {rake: 15}}   # 919.6 mm are left at a height of 300
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1000, height: 800, seat_back: {rake: 15}}
carcases:
  - id: main
    width: 1000
    depth: bay.length_at(300) - clearances.door - clearances.seat_back
    height: 300
    panel: birch-12
    cell: {open: {}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let design = &finished.design;
    let surfaces = surfaces(&design.vehicle.bay, &design.clearances, false);
    for part in reaching(finished, &surfaces) {
        let depth = part.overlap.depth;
        let reach = format!("reaches {} mm into {}", decimal(depth, 2), part.surface.name);
        findings.push(part.finding(&RULE, finished, &reach, depth));
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    /// Findings of a spec, in short.
    fn found(spec: &str) -> Vec<(String, String, String)> {
        let findings = example_kits::built(spec).findings;
        let rule = "outside-bay";
        let ours = findings.into_iter().filter(|finding| finding.rule.name == rule);
        ours.map(|finding| (finding.on, finding.message, finding.help.unwrap_or_default())).collect()
    }

    const RAKED: &str = "\
bay: {width: 1040, depth: 1000, height: 800, seat_back: {rake: 15}}
carcases:
  - {id: main, at: {x: 0}, width: 1000, depth: 925, height: 300, panel: birch-12, cell: {open: {}}}
";

    #[test]
    fn a_carcase_925_deep_stands_5_4_mm_in_a_seat_back_raked_by_15_degrees() {
        // At 300 above the floor 1000 - 300 * tan 15 = 1000 - 80.385 = 919.615 are left: 925 - 919.615 = 5.385,
        // to two decimals 5.38 (5.38476).
        // Sides and back end 12 lower, under the deck: 925 - (1000 - 288 * 0.2679492) = 2.169.
        let found = found(RAKED);
        let parts: Vec<&str> = found.iter().map(|(on, _, _)| on.as_str()).collect();
        assert_eq!(parts, ["main-back", "main-deck", "main-side-left", "main-side-right"]);
        assert_eq!(
            found[1].1,
            "`main-deck` reaches 5.38 mm into the seat back, 925 mm ahead of the floor's rear edge, 500 mm left of \
             the centreline, 300 mm above the floor"
        );
        assert_eq!(found[1].2, "move it 5.4 mm rearward (`at:`), or make the carcase as much less deep");
        assert!(found[2].1.contains("reaches 2.17 mm into the seat back"), "{}", found[2].1);
        assert_eq!(self::found(&RAKED.replace("depth: 925", "depth: 919.6")), []);
    }

    #[test]
    fn what_stands_proud_of_the_panels_is_found_by_itself() {
        // Heads of M6 bolts with their washers stand some mm out of the sides.
        let spec = "\
bay: {width: 1002, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
";
        let found = found(spec);
        let heads = |side: &str| {
            found.iter().filter(|(on, message, _)| on.contains('/') && message.contains(side)).count()
        };
        assert_eq!((found.len(), heads("the left side"), heads("the right side")), (2, 1, 1), "{found:?}");
        assert!(found[0].1.contains("more parts like it do, too"), "{found:?}");
    }

    #[test]
    fn arches_and_latches_are_kept_clear_of() {
        let spec = |x: f64, width: f64, cell: &str| {
            format!(
                "bay:\n  depth: 1100\n  height: 995\n  sides: {{heights: [0], stations: [{{x: 0, widths: [1325]}}]}}\n  \
                 arches:\n    left: {{from: 260, to: 820, height: 285, from_centre: 520.5}}\n    right: {{from: 260, to: \
                 820, height: 285, from_centre: 524.5}}\n  door: {{latches: [{{reach: 48, y: -12, width: 110, height: \
                 60}}]}}\ncarcases:\n  - {{id: main, at: {{x: {x}}}, width: {width}, depth: 900, height: 305, panel: \
                 birch-12, cell: {{{cell}}}}}\n"
            )
        };
        assert_eq!(found(&spec(48.0, 1026.0, "drawer: {slide: heavy}")), []);
        // 522.5 to each side: 2 into the left arch, which begins at 520.5; the right one begins at 524.5. The deck
        // runs over the arches from 293 up.
        let wide = found(&spec(48.0, 1045.0, "open: {}"));
        let panels = wide.iter().map(|(on, _, _)| on.as_str()).filter(|on| !on.contains('/'));
        assert_eq!(panels.collect::<Vec<&str>>(), ["main-base", "main-side-left"]);
        assert!(wide[0].1.contains("reaches 2 mm into the left wheel arch"), "{}", wide[0].1);
        // Nuts of the slides' bolts stand 6.8 out of the sides: 520.5 + 6.8 is too much for both arches.
        let nuts = found(&spec(48.0, 1041.0, "drawer: {slide: heavy}"));
        assert!(nuts.len() == 2 && nuts[0].1.contains("slide-left-fixed"), "{nuts:?}");
        assert!(nuts[0].1.contains("reaches 6.8 mm into the left wheel arch"), "{nuts:?}");
        // The drawer's front stands 3 too far back for the latch, which reaches in by 48.
        let near = found(&spec(45.0, 1026.0, "drawer: {slide: heavy}"));
        assert_eq!(near.len(), 1, "{near:?}");
        assert!(near[0].1.starts_with("`main-drawer-1-front` reaches 3 mm into the latch"), "{}", near[0].1);
    }
}
