//! A name of a layer that not every DXF version takes, or that two layers share.

use crate::diag::{Finding, Findings, Rule, Severity, Span};
use crate::export::cut_files::skin_depth;
use crate::export::cutfile::Operation;
use crate::export::drawn::{GRID_DECIMALS, written_name};
use crate::export::layers;
use crate::finished::Finished;
use crate::number::rounded;
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "layer-names",
    severity: Severity::Error,
    finds: "A layer's name that is `0`, has more than 31 characters (the depth of a countersink or a skin included), or that two operations share whatever its case.",
    why: "One layer is one operation of the machine: a name that is changed or shared on the way cuts a note or mills an outline as a hole.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {layers: {outline: cut, opening: CUT}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {layers: {outline: cut-outside, opening: cut-inside}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "the layer table of the oldest DXF version (from memory)",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let given = &finished.design.workshop.layers;
    let names = layers::names(given);
    let span = |given: &Option<crate::diag::At<String>>| given.as_ref().map(|name| name.span);
    let mut operations = vec![
        (Operation::Outline, span(&given.outline)),
        (Operation::Tab, span(&given.tab)),
        (Operation::Opening, span(&given.opening)),
        (Operation::Bore, span(&given.bore)),
        (Operation::Engrave, span(&given.engraving)),
        (Operation::Note, span(&given.note)),
        (Operation::Stock, span(&given.stock)),
    ];
    let sinks = finished.kit.panels.iter().flat_map(|panel| &panel.bores).filter_map(|bore| bore.countersink);
    let sinks = sinks.map(|sink| Operation::Countersink { depth: rounded(sink.depth, GRID_DECIMALS) });
    operations.extend(sinks.map(|operation| (operation, span(&given.countersink))));
    let holding = &finished.design.workshop.holding;
    let panels = finished.kit.panels.iter();
    let skins = panels.map(|panel| Operation::Skin { depth: skin_depth(panel.material.actual, holding) });
    operations.extend(skins.map(|operation| (operation, span(&given.skin))));
    let mut seen: BTreeMap<String, (Operation, Option<Span>)> = BTreeMap::new();
    for (operation, place) in operations {
        let name = names.of(operation);
        let at = place.unwrap_or_default();
        if written_name(&name) != name {
            let message =
                format!("`{name}` is no name for a layer: it would be written `{}`", written_name(&name));
            let help =
                "1 to 31 letters, digits, - or _, and not 0; a countersink's depth is put behind its name";
            findings.push(Finding::new(&RULE, at, message).on(&name).help(help));
        }
        let Some(&(first, first_place)) = seen.get(&name.to_ascii_lowercase()) else {
            seen.insert(name.to_ascii_lowercase(), (operation, place));
            continue;
        };
        if std::mem::discriminant(&first) != std::mem::discriminant(&operation) {
            let message = format!("two operations share the layer `{name}`");
            let at = place.or(first_place).unwrap_or_default();
            let mut finding = Finding::new(&RULE, at, message).on(&name).help("give each a name of its own");
            if let (Some(first), Some(_)) = (first_place, place) {
                finding = finding.also(first, "the first one");
            }
            findings.push(finding);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits::{ANGLES, built};

    fn found(layers: &str) -> Vec<String> {
        let built = built(&format!("workshop: {{layers: {{{layers}}}}}\n{ANGLES}"));
        built.findings.iter().filter(|f| f.rule.name == RULE.name).map(|f| f.message.clone()).collect()
    }

    #[test]
    fn the_specs_of_the_rule_fail_and_pass() {
        let has = |text| built(text).findings.iter().any(|finding| finding.rule.name == RULE.name);
        assert!(has(RULE.failing));
        assert!(!has(RULE.passing) && built(RULE.passing).finished.is_some());
    }

    #[test]
    fn names_that_would_be_changed_or_shared_are_found() {
        assert_eq!(found("outline: '0'"), ["`0` is no name for a layer: it would be written `_0`"]);
        assert_eq!(found("note: a-name-of-32-letters-is-one-too-ma").len(), 1);
        assert_eq!(found("note: a-name-of-31-letters-is-not-one").len(), 0);
        // Shared with a default name.
        assert_eq!(found("note: stock"), ["two operations share the layer `STOCK`"]);
        // 27 letters and a depth like `_2_85`: too long, once for each of the two sizes of bolt.
        assert_eq!(found("countersink: abcdefghijklmnopqrstuvwxyz1").len(), 2);
        assert_eq!(found("countersink: sink").len(), 0);
    }
}
