//! Every rule's examples show what the rule says, and what `accept:` does.

use super::*;
use crate::export::kit_json;
use crate::spec::Text;
use std::sync::LazyLock;

fn built(text: &str) -> Built {
    let input = Input {
        design: Text { name: "design.yaml", text },
        fallback_name: "kit",
        vehicle: None,
        workshop: None,
    };
    let mut open = |_: &str, path: &str| match path {
        "kit.json" => Ok((path.to_owned(), CUT.clone())),
        "notes.json" => Ok((path.to_owned(), "[]".to_owned())),
        _ => Err(format!("no file {path}")),
    };
    build(&input, &mut open, crate::build::Laying::AsAsked, &mut crate::sheets::unwatched)
}

/// The `kit.json` of an earlier run, for the rules about frozen sheets.
static CUT: LazyLock<String> = LazyLock::new(|| {
    let design = "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: main, width: 1000, depth: 900, \
                  height: 300, panel: birch-12, cell: {open: {}}}\n";
    let finished = built(design).finished.unwrap();
    kit_json::write(&kit_json::document(&finished, serde_json::Value::Array(vec![])))
});

#[test]
fn every_rule_finds_its_failing_example_and_nothing_in_its_passing_one() {
    let mut wrong = Vec::new();
    for rule in all_rules() {
        let (failing, passing) = (built(rule.failing), built(rule.passing));
        let found = |built: &Built| built.findings.iter().any(|finding| finding.rule.name == rule.name);
        let said = |built: &Built| crate::diag::human(&built.findings, &built.sources, false);
        if !found(&failing) {
            wrong.push(format!("{}: its failing example has other faults:\n{}", rule.name, said(&failing)));
        }
        if found(&passing) || passing.finished.is_none() {
            wrong.push(format!("{}: its passing example has faults:\n{}", rule.name, said(&passing)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn rules_have_names_of_their_own_and_say_all() {
    let rules = all_rules();
    for pair in rules.windows(2) {
        assert!(pair[0].name < pair[1].name, "{} stands twice", pair[0].name);
    }
    for rule in rules {
        let sign = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let name = rule.name;
        let edges = name.starts_with('-') || name.ends_with('-') || name.contains("--");
        assert!(name.chars().all(sign) && !edges, "{name} is not kebab-case");
        for text in [rule.finds, rule.why, rule.failing, rule.passing, rule.source] {
            assert!(!text.trim().is_empty(), "{name} leaves something unsaid");
        }
        assert!(rule.finds.ends_with('.') && rule.why.ends_with('.'), "{name}: sentences end");
    }
}

fn spaced(accept: &str) -> Built {
    built(&format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\nbolts: {{spacing: 300}}\ncarcases:\n  - {{id: main, \
         width: 1000, depth: 900, height: 300, panel: birch-12, cell: {{open: {{}}}}}}\naccept:\n{accept}"
    ))
}

#[test]
fn a_warning_is_accepted_on_one_part_or_on_all() {
    let accepted = |built: &Built| -> Vec<(String, Option<String>)> {
        let own = built.findings.iter().filter(|finding| finding.rule.name == "bolt-spacing");
        own.map(|f| (f.on.clone(), f.accepted.clone())).collect()
    };
    let all = spaced("  - {rule: bolt-spacing, reason: light}\n");
    assert!(all.finished.is_some() && accepted(&all).len() > 2);
    assert!(accepted(&all).iter().all(|(_, reason)| reason.as_deref() == Some("light")));
    let on = accepted(&all)[1].0.clone();
    let one = spaced(&format!("  - {{rule: bolt-spacing, on: {on}, reason: light}}\n"));
    let (yes, no): (Vec<_>, Vec<_>) =
        accepted(&one).into_iter().partition(|(_, reason)| reason.as_deref() == Some("light"));
    assert!(yes.iter().all(|(name, _)| *name == on) && no.iter().all(|(name, _)| *name != on));
    assert!(!yes.is_empty() && !no.is_empty());
}

#[test]
fn entries_that_can_do_nothing_are_named() {
    let message = |accept: &str, rule: &str| {
        let built = spaced(accept);
        let finding = built.findings.into_iter().find(|finding| finding.rule.name == rule).unwrap();
        format!("{}; {}", finding.message, finding.help.unwrap())
    };
    for (accept, rule, said) in [
        (
            "  - {rule: bolt-spacin, reason: light}\n",
            "accept-unknown-rule",
            "there is no rule called `bolt-spacin`; did you mean `bolt-spacing`?",
        ),
        (
            "  - {rule: outside-bay, reason: light}\n",
            "accept-of-error",
            "`outside-bay` finds errors, and an error cannot be accepted; `baywright explain outside-bay` \
             says what to change; remove this entry",
        ),
        (
            "  - {rule: drawer-wide-for-its-depth, reason: light}\n",
            "accept-without-finding",
            "no `drawer-wide-for-its-depth` is found; remove this entry",
        ),
        (
            "  - {rule: bolt-spacing, on: main-deck+main-side-lef, reason: light}\n",
            "accept-without-finding",
            "no `bolt-spacing` is found on `main-deck+main-side-lef`; one is found on `main-deck+main-side-left`",
        ),
    ] {
        assert_eq!(message(accept, rule), said);
    }
}
