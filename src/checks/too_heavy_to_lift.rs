//! A carcase that weighs more than two persons lift.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::fixed;

pub(super) static RULE: Rule = Rule {
    name: "too-heavy-to-lift",
    severity: Severity::Warning,
    finds: "A carcase with its drawers in, empty, that weighs more than two persons lift (`lift` in the workshop file).",
    why: "It is lifted into a vehicle at arm's length over a sill; what two cannot hold is dropped, or never taken out \
          again.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {lift: {one: 15, two: 30}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "25 kg for one person and 50 kg for two are common practice, no source; both can be set",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let limit = finished.design.workshop.lift.two;
    for module in finished.moves.modules.iter().filter(|module| module.persons.is_none()) {
        let [mass, without, most] = [module.mass, module.without_drawers, limit.value].map(|mass| fixed(mass, 1));
        let id = &module.id;
        let message = format!("`{id}` weighs {mass} kg with its drawers in; two persons lift {most} kg");
        let help = if module.without_drawers >= module.mass {
            "take thinner or lighter boards, or make two carcases of it".to_owned()
        } else if module.without_drawers <= limit.value {
            format!("take its drawers out first: {without} kg are left; accept this with that as the reason")
        } else {
            format!("take thinner or lighter boards, or make two carcases of it: even without its drawers it weighs {without} kg")
        };
        let finding = Finding::new(&RULE, module.span, message).on(id).help(help);
        findings.push(finding.also(limit.span, "the limit comes from here"));
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    #[test]
    fn the_mass_without_drawers_is_told() {
        let spec = "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {lift: {one: 15, two: 40}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
";
        let built = example_kits::built(spec);
        let finished = built.finished.unwrap();
        let masses = &finished.masses;
        let (whole, drawer) = (masses.carcases[0].1.mass, masses.drawers[0].1.mass);
        assert!(whole > 40.0 && whole - drawer < 40.0, "{whole} {drawer}");
        let finding = built.findings.iter().find(|finding| finding.rule.name == "too-heavy-to-lift").unwrap();
        let help = finding.help.clone().unwrap();
        assert!(help.contains(&format!("{:.1} kg are left", whole - drawer)), "{help}");
        assert!(finding.message.contains(&format!("{whole:.1} kg with its drawers in")), "{}", finding.message);
    }
}
