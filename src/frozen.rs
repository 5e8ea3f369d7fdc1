//! Sheets that were cut in an earlier run: what lay on them is not laid again.
//!
//! Takes the `kit.json` texts that the design names and the kit as it is now; gives the sheets with the panels that
//! are still as they were cut. A panel that has changed since, or is gone, is told of and left off.

use crate::diag::{At, Finding, Findings, Rule, Severity, did_you_mean};
use crate::export::kit_json;
use crate::finished::Edition;
use crate::geom::{PanelFrame, Path, SheetPlacement};
use crate::joints::{Kit, Panel};
use crate::nest::{Clearances, Stock};
use crate::spec::{Design, FrozenKit};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Every rule of this stage.
pub(crate) const RULES: &[&Rule] = &[&UNREADABLE, &UNKNOWN_SHEET, &CHANGED];

/// mm that two lengths may differ by and still be the same cut: `kit.json` has six decimals.
const SAME: f64 = 2e-6;

/// mm. No sheet is longer.
const LONGEST: f64 = 20_000.0;

macro_rules! kit {
    ($width:literal, $frozen:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: ",
            $width,
            ", depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "nesting: {frozen: [",
            $frozen,
            "]}\n",
        )
    };
}

/// A file that is no kit of ours.
static UNREADABLE: Rule = Rule {
    name: "frozen-kit-unreadable",
    severity: Severity::Error,
    finds: "A file named under `nesting: {frozen: ...}` that is no `kit.json` of the version that this program \
            writes, or whose sheets have impossible sizes.",
    why: "What is cut already cannot be known from it, so it would be cut again.",
    failing: kit!("1000", "{kit: notes.json, sheets: [birch-12-1]}"),
    passing: kit!("1000", "{kit: kit.json, sheets: [birch-12-1]}"),
    source: "a decision of this project",
};

/// A sheet that the earlier run did not have.
static UNKNOWN_SHEET: Rule = Rule {
    name: "frozen-sheet-unknown",
    severity: Severity::Error,
    finds: "A name under `nesting: {frozen: ...}` that no sheet of that `kit.json` has.",
    why: "What lies on it cannot be known, so it would be cut again.",
    failing: kit!("1000", "{kit: kit.json, sheets: [birch-12-9]}"),
    passing: kit!("1000", "{kit: kit.json, sheets: [birch-12-1]}"),
    source: "a decision of this project",
};

/// A part that was cut and is no longer what the kit needs.
static CHANGED: Rule = Rule {
    name: "frozen-part-changed",
    severity: Severity::Warning,
    finds: "A part on a frozen sheet that the kit no longer has, has twice on frozen sheets, or has with another \
            outline, other openings or holes, or from another board.",
    why: "What was cut is waste; where the kit still needs the part, it is cut again from another sheet. Whoever \
          changed the design may not have meant that.",
    failing: kit!("990", "{kit: kit.json, sheets: [birch-12-1]}"),
    passing: kit!("1000", "{kit: kit.json, sheets: [birch-12-1]}"),
    source: "a decision of this project",
};

/// A sheet that is cut already.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Frozen {
    /// Its name then and now.
    pub(crate) name: String,
    /// Which state of the set it was cut from, if that run said so.
    pub(crate) edition: Option<Edition>,
    /// Name of its material.
    pub(crate) material: String,
    /// What it was cut from.
    pub(crate) stock: Stock,
    /// Gap and trim with which it was cut.
    pub(crate) clearances: Clearances,
    /// Indices of the kit's panels that are as they were cut, and where they lie; at least one.
    pub(crate) placed: Vec<(usize, SheetPlacement)>,
}

/// What is read of a `kit.json`; the rest of it is not looked at, so that later versions with more fields do.
#[derive(Deserialize)]
struct CutKit {
    version: u32,
    panels: Vec<CutPanel>,
    sheets: Vec<CutSheet>,
}

#[derive(Deserialize)]
struct CutPanel {
    name: String,
    material: String,
    thickness: f64,
    outline: Vec<[f64; 3]>,
    openings: Vec<CutOpening>,
    bores: Vec<CutBore>,
}

#[derive(Deserialize)]
struct CutOpening {
    points: Vec<[f64; 3]>,
}

#[derive(Deserialize)]
struct CutBore {
    u: f64,
    v: f64,
    diameter: f64,
    countersink: Option<CutSink>,
}

#[derive(Deserialize)]
struct CutSink {
    diameter: f64,
    depth: f64,
}

#[derive(Deserialize)]
struct CutSheet {
    name: String,
    edition: Option<kit_json::Edition>,
    material: String,
    stock: String,
    size: [f64; 2],
    trim: f64,
    gap: f64,
    placed: Vec<CutPlace>,
}

#[derive(Deserialize)]
struct CutPlace {
    panel: String,
    x: f64,
    y: f64,
    angle: f64,
    flipped: bool,
}

/// The frozen sheets of a design, in its order. A sheet of which the kit needs nothing more is left out.
pub(crate) fn sheets(findings: &mut Findings, design: &Design, kit: &Kit) -> Vec<Frozen> {
    let mut sheets = Vec::new();
    // Each panel that is cut already, and on which sheet.
    let mut cut: BTreeMap<usize, String> = BTreeMap::new();
    for frozen in &design.frozen {
        let Some(old) = read(findings, frozen) else { continue };
        let by_name: BTreeMap<&str, &CutPanel> =
            old.panels.iter().map(|panel| (panel.name.as_str(), panel)).collect();
        for name in &frozen.sheets {
            let Some(sheet) = old.sheets.iter().find(|sheet| sheet.name == name.value) else {
                let message = format!("`{}` has no sheet `{}`", frozen.kit.value, name.value);
                let mut finding = Finding::new(&UNKNOWN_SHEET, name.span, message).on(&name.value);
                finding.help = did_you_mean(&name.value, old.sheets.iter().map(|sheet| sheet.name.as_str()));
                findings.push(finding);
                continue;
            };
            let placed = still_as_cut(findings, (sheet, name), &by_name, kit, &mut cut);
            if !placed.is_empty() {
                sheets.push(Frozen {
                    name: sheet.name.clone(),
                    edition: sheet.edition.clone().map(kit_json::Edition::into_plain),
                    material: sheet.material.clone(),
                    stock: Stock {
                        name: sheet.stock.clone(),
                        length: sheet.size[0],
                        width: sheet.size[1],
                        ..Stock::default()
                    },
                    clearances: Clearances { gap: sheet.gap, trim: sheet.trim },
                    placed,
                });
            }
        }
    }
    sheets
}

/// The kit of a text; nothing if it is none.
fn read(findings: &mut Findings, frozen: &FrozenKit) -> Option<CutKit> {
    let fault = match serde_json::from_str::<CutKit>(&frozen.text) {
        Err(error) => format!("is no kit of ours: {error}"),
        Ok(old) if old.version != kit_json::VERSION => {
            format!("is of version {}; this program reads version {}", old.version, kit_json::VERSION)
        }
        Ok(old) => {
            let possible = |&side: &f64| side > 0.0 && side <= LONGEST;
            let impossible = |sheet: &&CutSheet| {
                !sheet.size.iter().all(possible)
                    || sheet.gap < 0.0
                    || sheet.trim < 0.0
                    || sheet.trim > LONGEST
            };
            match old.sheets.iter().find(impossible) {
                None => return Some(old),
                Some(sheet) => format!("has a sheet `{}` of an impossible size", sheet.name),
            }
        }
    };
    let message = format!("`{}` {fault}", frozen.kit.value);
    let finding = Finding::new(&UNREADABLE, frozen.kit.span, message);
    findings.push(
        finding
            .help("give the kit.json of the run whose sheets are cut; keep a copy of it beside the design"),
    );
    None
}

/// The panels of a sheet that the kit has as they were cut. The others are told of.
fn still_as_cut(
    findings: &mut Findings,
    (sheet, place): (&CutSheet, &At<String>),
    by_name: &BTreeMap<&str, &CutPanel>,
    kit: &Kit,
    cut: &mut BTreeMap<usize, String>,
) -> Vec<(usize, SheetPlacement)> {
    let mut placed = Vec::new();
    for part in &sheet.placed {
        let now = kit.panels.iter().position(|panel| panel.name == part.panel);
        let change = match (now, by_name.get(part.panel.as_str())) {
            (None, _) => Some("is no longer in the kit".to_owned()),
            (Some(_), None) => Some("is not described in that kit.json".to_owned()),
            (Some(now), Some(old)) => {
                if let Some(other) = cut.get(&now) {
                    Some(format!("is on the frozen sheet {other} too"))
                } else {
                    let change = difference(old, &sheet.material, &kit.panels[now]);
                    change.map(|change| format!("was cut {change}"))
                }
            }
        };
        match (now, change) {
            (Some(now), None) => {
                cut.insert(now, sheet.name.clone());
                let CutPlace { x, y, angle, flipped, .. } = *part;
                placed.push((now, SheetPlacement { x, y, angle, flipped }));
            }
            (_, change) => {
                let change = change.unwrap_or_default();
                let message = format!("`{}` on the frozen sheet {} {change}", part.panel, sheet.name);
                let help = "what was cut is waste, and what the kit needs is cut from another sheet; undo the \
                            change, or accept this on the part";
                findings.push(Finding::new(&CHANGED, place.span, message).on(&part.panel).help(help));
            }
        }
    }
    placed
}

/// How a panel was cut otherwise than it now is.
fn difference(old: &CutPanel, sheet_material: &str, now: &Panel) -> Option<&'static str> {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    let same_path = |old: &[[f64; 3]], now: &Path<PanelFrame>| {
        let pairs = old.iter().zip(now.vertices());
        old.len() == now.vertices().len()
            && pairs.clone().all(|([x, y, _], v)| near(*x, v.point.x) && near(*y, v.point.y))
            && pairs.clone().all(|([_, _, bulge], v)| near(*bulge, v.bulge))
    };
    let same_openings = old.openings.len() == now.openings.len()
        && old.openings.iter().zip(&now.openings).all(|(old, now)| same_path(&old.points, &now.path));
    let same_bores = old.bores.len() == now.bores.len()
        && old.bores.iter().zip(&now.bores).all(|(old, now)| {
            near(old.u, now.centre.x)
                && near(old.v, now.centre.y)
                && near(old.diameter, now.diameter)
                && match (&old.countersink, now.countersink) {
                    (None, None) => true,
                    (Some(old), Some(now)) => near(old.diameter, now.diameter) && near(old.depth, now.depth),
                    _ => false,
                }
        });
    if old.material != now.material.id || sheet_material != now.material.id {
        Some("from another material")
    } else if !near(old.thickness, now.material.actual) {
        Some("from a board of another thickness")
    } else if !same_path(&old.outline, &now.outline) {
        Some("with another outline")
    } else if !same_openings {
        Some("with other openings")
    } else if !same_bores {
        Some("with other holes")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use crate::build::{self, Built};
    use crate::example_kits::ANGLES;
    use crate::export::{self, KIT};
    use crate::spec::{Input, Text};

    /// A run with an earlier kit's text at hand as `cut.json`.
    fn built(text: &str, cut: &str) -> Built {
        let design = Text { name: "design.yaml", text };
        let input = Input { design, fallback_name: "kit", vehicle: None, workshop: None };
        let mut open = |_: &str, path: &str| match path {
            "cut.json" => Ok((path.to_owned(), cut.to_owned())),
            _ => Err("there is no such file".to_owned()),
        };
        let built = build::build(&input, &mut open, build::Laying::AsAsked, &mut crate::sheets::unwatched);
        crate::example_kits::strength_aside(built)
    }

    fn files(built: &Built) -> export::Bundle {
        export::bundle(built.finished.as_ref().unwrap(), &built.findings, &built.sources, &[])
    }

    fn frozen(design: &str, sheets: &str) -> String {
        format!("{design}nesting: {{frozen: [{{kit: cut.json, sheets: [{sheets}]}}]}}\n")
    }

    fn said(built: &Built) -> Vec<String> {
        built.findings.iter().map(|f| format!("{}: {}", f.rule.name, f.message)).collect()
    }

    #[test]
    fn a_frozen_sheet_stays_to_the_byte_and_the_rest_gets_other_names() {
        let before = files(&built(ANGLES, ""));
        let cut = String::from_utf8(before.get(KIT).unwrap().to_vec()).unwrap();
        // The second sheet is frozen: the first number is free again, and nothing else lies on the second.
        let again = built(&format!("revision: B\n{}", frozen(ANGLES, "birch-12-2")), &cut);
        assert_eq!(said(&again), Vec::<String>::new());
        let after = files(&again);
        for ending in ["dxf", "svg"] {
            let path = format!("sheets/birch-12-2.{ending}");
            assert_eq!(after.get(&path).unwrap(), before.get(&path).unwrap(), "{path}");
            assert!(after.get(&format!("sheets/birch-12-1.{ending}")).is_some());
        }
        let group = &again.finished.as_ref().unwrap().groups[0];
        assert_eq!((group.frozen.len(), group.nesting.sheets.len(), group.nesting.bound), (1, 1, 1));
        assert_eq!(crate::invariants::broken(again.finished.as_ref().unwrap(), &after), Vec::<String>::new());
        // What was frozen can be frozen again, and everything can.
        let cut = String::from_utf8(after.get(KIT).unwrap().to_vec()).unwrap();
        let all = built(&frozen(ANGLES, "birch-12-1, birch-12-2"), &cut);
        assert_eq!(all.finished.as_ref().unwrap().groups[0].nesting.sheets.len(), 0);
        let files = files(&all);
        assert_eq!(files.get("sheets/birch-12-1.dxf").unwrap(), after.get("sheets/birch-12-1.dxf").unwrap());
        assert_eq!(crate::invariants::broken(all.finished.as_ref().unwrap(), &files), Vec::<String>::new());
    }

    #[test]
    fn what_has_changed_is_told_and_cut_again() {
        let cut = String::from_utf8(files(&built(ANGLES, "")).get(KIT).unwrap().to_vec()).unwrap();
        let sheets = "birch-12-1, birch-12-2";
        for (old, new, message) in [
            ("heavy-800}\n    ", "heavy-800}\n    ", ""),
            ("height: 300", "height: 310", "was cut with another outline"),
            (
                "width: bay.width - 16",
                "width: bay.width - 16\n    bolts: {spacing: 90}",
                "was cut with other holes",
            ),
            (
                "panel: birch-12",
                "panel: birch-12\n    panels: {deck: birch-15}",
                "was cut from another material",
            ),
            ("id: main", "id: other", "is no longer in the kit"),
        ] {
            let again = built(&frozen(&ANGLES.replace(old, new), sheets), &cut);
            let said = said(&again);
            assert_eq!(said.iter().any(|said| said.contains(message)), !message.is_empty(), "{said:?}");
            let finished = again.finished.as_ref().unwrap();
            assert_eq!(crate::invariants::broken(finished, &files(&again)), Vec::<String>::new());
        }
    }

    #[test]
    fn bad_files_and_names_are_told() {
        let first = |built: Built| said(&built).remove(0);
        let text = frozen(ANGLES, "birch-12-1");
        let none = first(built(&text.replace("cut.json", "none.json"), ""));
        assert_eq!(none, "file-unreadable: cannot read `none.json`: there is no such file");
        assert!(first(built(&text, "[1")).contains("`cut.json` is no kit of ours"));
        let other = "{\"version\": 7, \"panels\": [], \"sheets\": []}";
        assert!(first(built(&text, other)).contains("is of version 7; this program reads version 1"));
        let empty = "{\"version\": 1, \"panels\": [], \"sheets\": []}";
        assert!(first(built(&text, empty)).contains("has no sheet `birch-12-1`"));
        let sheet = "{\"name\": \"birch-12-1\", \"material\": \"birch-12\", \"stock\": \"s\", \"size\": [0, 9], \
                     \"trim\": 1, \"gap\": 1, \"placed\": []}";
        let odd = empty.replace("\"sheets\": []", &format!("\"sheets\": [{sheet}]"));
        assert!(first(built(&text, &odd)).contains("impossible size"));
        assert!(first(built(&frozen(ANGLES, "a, A"), empty)).contains("two frozen sheets are called `A`"));
    }
}
