//! A carcase that weighs more than two persons lift.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::fixed;

pub(super) static RULE: Rule = Rule {
    name: "too-heavy-to-lift",
    severity: Severity::Warning,
    finds: "A carcase that weighs more than two persons lift (`lift` in the workshop file), empty and with its drawers out.",
    why: "It is lifted into a vehicle at arm's length over a sill; what two cannot hold is dropped, or never taken out \
          again.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {lift: {one: 12, two: 24}}
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
    for module in finished.moves.modules.iter().filter(|module| module.without_drawers > limit.value) {
        let [mass, without, most] =
            [module.mass, module.without_drawers, limit.value].map(|mass| fixed(mass, 1));
        let id = &module.id;
        let message = if module.without_drawers < module.mass {
            format!(
                "`{id}` weighs {without} kg even without its drawers, {mass} kg with them; two persons lift {most} kg"
            )
        } else {
            format!("`{id}` weighs {mass} kg; two persons lift {most} kg")
        };
        let help = "take thinner or lighter boards, or make two carcases of it";
        let finding = Finding::new(&RULE, module.span, message).on(id).help(help);
        // A default stands nowhere in a file.
        let given = limit.span.end > limit.span.start;
        findings.push(if given { finding.also(limit.span, "the limit comes from here") } else { finding });
    }
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    #[test]
    fn only_what_drawers_do_not_take_away_is_too_heavy() {
        let spec = |two: f64| {
            format!(
                "bay: {{width: 1040, depth: 1050, height: 800}}\nworkshop: {{lift: {{one: 15, two: {two}}}}}\ncarcases:\n  - \
                 {{id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {{drawer: {{slide: heavy-800}}}}}}\n"
            )
        };
        let built = example_kits::built(&spec(30.0));
        let finished = built.finished.unwrap();
        let masses = &finished.masses;
        let (whole, drawer) = (masses.carcases[0].1.mass, masses.drawers[0].1.mass);
        let without = whole - drawer;
        // Between what the drawer leaves and all of it there is nothing to tell.
        assert!(example_kits::built(&spec(without + 1.0)).findings.is_empty(), "{whole} {drawer}");
        let told = example_kits::built(&spec(without - 1.0)).findings;
        assert_eq!(told.len(), 1);
        assert!(
            told[0]
                .message
                .contains(&format!("{without:.1} kg even without its drawers, {whole:.1} kg with them"))
        );
    }
}
