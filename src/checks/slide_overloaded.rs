//! A drawer or tray that weighs more than its slides should carry.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

pub(super) static RULE: Rule = Rule {
    name: "slide-overloaded",
    severity: Severity::Error,
    finds: "A drawer or tray whose own mass, what stands on it (filled) and its `load` are more than `slide_factor` times \
            the rating of its pair of slides.",
    why: "Ratings are for even loads and still buildings; a vehicle on a rough track shakes a slide to pieces at its full \
          rating.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800, load: 90}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800, load: 30}}}
",
    source: "a slide maker's public advice to leave a margin in mobile use; the factor is common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let factor = finished.design.slide_factor.value;
    for (drawer, carried) in finished.kit.layout.drawers.iter().zip(&finished.masses.carried) {
        let Some((rating, most)) = drawer.slide.rating_pair.zip(drawer.most(factor)) else { continue };
        if carried.full <= most {
            continue;
        }
        let parts = [
            Some((carried.own, "of its own")),
            (carried.equipment > 0.0).then_some((carried.equipment, "of what stands on it")),
            (drawer.load > 0.0).then_some((drawer.load, "of its load")),
        ];
        let parts: Vec<String> =
            parts.into_iter().flatten().map(|(mass, what)| format!("{} kg {what}", fixed(mass, 1))).collect();
        let message = format!(
            "its slides carry {} kg ({}); {} times their rating of {} kg is {} kg",
            fixed(carried.full, 1),
            parts.join(", "),
            decimal(factor, 3),
            fixed(rating, 1),
            fixed(most, 1)
        );
        let help = "take slides with a higher rating, put less on it, or make it shorter: ratings rise as slides get shorter";
        findings.push(Finding::new(&RULE, drawer.span, message).on(&drawer.name).help(help));
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    fn found(factor: &str, load: f64) -> Vec<String> {
        // A pair rated 90 kg.
        let spec = format!(
            "bay: {{width: 1040, depth: 1050, height: 800}}\n{factor}\nworkshop: {{slides: {{heavy-700: {{rating_pair: \
             90}}}}}}\ncarcases:\n  - {{id: main, width: 600, depth: 800, height: 300, panel: birch-12, cell: {{drawer: \
             {{slide: heavy-700, load: {load}}}}}}}\n"
        );
        let built = example_kits::built(&spec);
        let findings = built.findings.into_iter().filter(|finding| finding.rule.name == "slide-overloaded");
        findings.map(|finding| finding.message).collect()
    }

    /// The worked example: 62 kg moving, a pair rated 90 kg at 700: fails at 0.60 (54), passes at 0.70 (63).
    #[test]
    fn the_factor_decides() {
        let spec = "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: main, width: 600, depth: 800, height: \
                    300, panel: birch-12, cell: {drawer: {slide: heavy-700}}}\n";
        let own = example_kits::finished(spec).masses.drawers[0].1.mass;
        let load = 62.0 - own;
        assert_eq!(found("", load), Vec::<String>::new());
        let rough = found("slide_factor: 0.6", load);
        assert_eq!(rough.len(), 1);
        assert!(rough[0].contains("carry 62.0 kg") && rough[0].contains("is 54.0 kg"), "{rough:?}");
        assert_eq!(found("", load + 1.1).len(), 1);
    }
}
