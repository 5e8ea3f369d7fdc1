//! A finish that takes too much of a gap.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::joints::coating::{CLEAR, Gap, gaps};
use crate::joints::solids::{Part, name, span};
use crate::layout::Role;
use crate::number::decimal;

/// Two drawers side by side, their fronts wrapped in carpet, with this gap between them.
macro_rules! fronts {
    ($gap:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, fronts: {gap: ",
            $gap,
            "}, columns: [{drawer: {slide: heavy-800}}, {drawer: {slide: heavy-800}}]}\n",
            "finishes:\n",
            "  - {id: fronts, kind: carpet, panels: [\"main-drawer-*-front\"]}\n"
        )
    };
}

pub(super) static RULE: Rule = Rule {
    name: "finish-closes-gap",
    severity: Severity::Error,
    finds: "A gap between parts that move against each other, or round a lid, of which finishes leave less than 3 mm. Between \
            fronts both wraps count.",
    why: "Carpet on two edges closes a gap that was right in bare wood: the drawer jams, and the carpet wears through.",
    failing: fronts!("3"),
    passing: fronts!("10"),
    source: "3 mm clear after both wraps: common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    if kit.coatings.is_empty() {
        return;
    }
    // To a thousandth, as lengths are printed.
    let short = gaps(kit, CLEAR - 1e-3);
    for gap in short {
        findings.push(finding(finished, &gap));
    }
}

fn finding(finished: &Finished, gap: &Gap) -> Finding {
    let kit = &finished.kit;
    let coating = &kit.coatings[gap.coating];
    let (panel, other) = (kit.panel(coating.panel), name(kit, gap.other));
    let [own, theirs] = gap.taken;
    let mm = |length: f64| decimal(length, 2);
    let taken = match (own > 0.0, theirs > 0.0) {
        (true, true) => format!("the finishes on them take {} and {} mm", mm(own), mm(theirs)),
        (true, false) => format!("the finish on `{}` takes {} mm", panel.name, mm(own)),
        (false, _) => format!("the finish on `{other}` takes {} mm", mm(theirs)),
    };
    let message = format!(
        "`{}` and `{other}` are {} mm apart; {taken}: {} mm are left of {} needed",
        panel.name,
        mm(gap.bare),
        mm(gap.left()),
        mm(CLEAR)
    );
    let is_front = |part: Part| matches!(part, Part::Panel(id) if kit.panel(id).role == Role::Front);
    let least = decimal((CLEAR + own + theirs).ceil(), 1);
    let help = if is_front(Part::Panel(coating.panel)) && is_front(gap.other) {
        format!(
            "make the gap between fronts {least} mm at least (`fronts: {{gap: {least}}}`), or leave the edges out (`wrap: false`)"
        )
    } else if gap.bare <= 0.0 {
        "they touch: leave that face out under `faces`, or its edges with `wrap: false`, or keep a strip `bare`".to_owned()
    } else {
        format!(
            "give it {least} mm there, take a thinner finish, or leave it off that face (`faces`, `wrap`, `bare`)"
        )
    };
    let finding = Finding::new(&RULE, coating.coat.span, message).on(&panel.name).help(help);
    finding.also(span(kit, gap.other), format!("`{other}` comes from here"))
}
