//! What the page is told of kits, one after the other.

use super::*;
use crate::example_kits::{self, ANGLES};

fn names(value: &Value) -> Vec<&str> {
    value.as_array().unwrap().iter().map(|item| item["name"].as_str().unwrap()).collect()
}

fn changed(shown: &Shown) -> Vec<(&str, &str)> {
    let parts = shown.json["parts"].as_array().unwrap().iter();
    let told = parts.map(|part| (part["name"].as_str().unwrap(), part["changed"].as_str().unwrap()));
    told.filter(|(_, change)| !change.is_empty()).collect()
}

#[test]
fn the_parts_are_those_of_the_kit_and_each_panel_lies_on_its_sheet() {
    let finished = Arc::new(example_kits::finished(ANGLES));
    let shown = shown(&finished, Laying::AsAsked, None, &mut Known::default());
    let panels: Vec<&str> = finished.kit.panels.iter().map(|panel| panel.name.as_str()).collect();
    let mut sorted = panels.clone();
    sorted.sort_unstable();
    let mut first = names(&shown.json["parts"])[..panels.len()].to_vec();
    first.sort_unstable();
    assert_eq!(first, sorted);
    let mut on_sheets: Vec<String> = Vec::new();
    for sheet in shown.json["sheets"].as_array().unwrap() {
        for part in names(&sheet["parts"]) {
            let entry = shown.json["parts"].as_array().unwrap().iter().find(|p| p["name"] == part).unwrap();
            assert_eq!(entry["sheet"], sheet["name"]);
            on_sheets.push(part.to_owned());
        }
    }
    on_sheets.sort();
    assert_eq!(on_sheets, sorted);
    let mass = &shown.json["figures"][0]["rows"][0];
    assert_eq!(mass["value"], crate::number::fixed(finished.masses.total.mass, 1));
    for path in ["model", "fine", "bay", "front"].map(|key| shown.json[key].as_str().unwrap()) {
        assert!(shown.files.contains_key(path), "{path}");
    }
    assert!(changed(&shown).is_empty());
}

#[test]
fn what_changed_is_marked_until_files_change_again() {
    let first = Arc::new(example_kits::finished(ANGLES));
    let lower = Arc::new(example_kits::finished(&ANGLES.replace("height: 300", "height: 280")));
    assert_ne!(first.edition.inputs, lower.edition.inputs, "the example has another height");
    let before = shown(&first, Laying::AsAsked, None, &mut Known::default());
    let after = shown(&lower, Laying::AsAsked, Some(&before), &mut Known::default());
    let told = changed(&after);
    assert!(told.contains(&("main-side-left", "changed")), "{told:?}");
    assert!(
        !told.iter().any(|(name, _)| *name == "main-base"),
        "a lower carcase has the same base: {told:?}"
    );
    let mass = &after.json["figures"][0]["rows"][0];
    assert_eq!(mass["before"], before.json["figures"][0]["rows"][0]["value"]);
    assert!(changed(&shown(&lower, Laying::AsAsked, Some(&after), &mut Known::default())).is_empty());
}

#[test]
fn before_sheets_are_laid_there_are_none_and_all_else_is_the_same() {
    let finished = Arc::new(example_kits::finished(ANGLES));
    let (whole, early) = (
        shown(&finished, Laying::AsAsked, None, &mut Known::default()),
        shown(&finished, Laying::None, None, &mut Known::default()),
    );
    assert!(early.json["sheets"].is_null() && early.json["nesting"] == "improving");
    assert_eq!(early.json["model"], whole.json["model"]);
}
