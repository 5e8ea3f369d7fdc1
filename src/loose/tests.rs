//! Loose parts laid on sheets: grain, turns, materials, names, and the examples of every rule.

use super::*;
use crate::diag::{Rule, Sources, human};
use crate::import::{self, cut_list};
use crate::nest;
use crate::spec::{self, Text};
use proptest::prelude::*;
use std::fmt::Write as _;

fn workshop() -> Workshop {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    spec::read_workshop(&mut findings, &mut sources, Text { name: "", text: "{}" }).unwrap()
}

fn sheet(length: f64, width: f64) -> Vec<Stock> {
    vec![Stock { name: format!("{length}x{width}"), length, width, ..Stock::default() }]
}

fn two_sheets() -> Vec<Stock> {
    sheet(2440.0, 1220.0).into_iter().map(|stock| Stock { quantity: Some(2), ..stock }).collect()
}

/// Lays rows; what was found is given as text.
fn laid(
    rows: impl FnOnce(&mut Findings, &mut Sources) -> Option<Vec<Row>>,
    drawing: &str,
    stock: Vec<Stock>,
    turn: bool,
) -> (Option<LooseParts>, Vec<Finding>, String) {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let rows = rows(&mut findings, &mut sources);
    let quick = |parts: usize| Effort { steps: 10, ..Effort::ordinary(parts) };
    let wanted = Wanted {
        name: "parts",
        workshop: workshop(),
        stock,
        effort: &quick,
        turn,
        reading: drawing::Reading::default(),
    };
    let mut open = |name: &str| match name {
        "part.dxf" => Ok(drawing.as_bytes().to_vec()),
        _ => Err("there is no such file".to_owned()),
    };
    let loose =
        rows.and_then(|rows| lay(&mut findings, rows, &mut open, wanted, &mut crate::sheets::unwatched));
    let findings = findings.sorted();
    let told = human(&findings, &sources, false);
    (loose, findings, told)
}

fn list(
    text: &str,
    drawing: &str,
    stock: Vec<Stock>,
    turn: bool,
) -> (Option<LooseParts>, Vec<Finding>, String) {
    let rows = |findings: &mut Findings, sources: &mut Sources| {
        let source = sources.add("parts.csv", text);
        cut_list::read(findings, source, text)
    };
    laid(rows, drawing, stock, turn)
}

fn sound(loose: &LooseParts) {
    for group in &loose.groups {
        let faults = nest::faults(&group.parts, &group.stock, group.clearances, &group.nesting);
        assert_eq!(faults, Vec::<String>::new());
    }
}

#[test]
fn every_rule_finds_its_failing_example_and_nothing_in_its_passing_one() {
    let mut wrong = Vec::new();
    for rule in import::RULES.iter().chain(RULES) {
        let found = |example: &str| {
            let is_drawing = example.starts_with("0\n");
            let text = if is_drawing { "name,outline\npart,part.dxf\n" } else { example };
            // Sheets of the catalogue's where the list names materials.
            let stock = if text.contains("material") { Vec::new() } else { two_sheets() };
            list(text, example, stock, true)
        };
        let of =
            |findings: &[Finding], rule: &Rule| findings.iter().any(|finding| finding.rule.name == rule.name);
        let (loose, findings, told) = found(rule.failing);
        if !of(&findings, rule) || loose.is_some() {
            wrong.push(format!("{}: its failing example comes to\n{told}", rule.name));
        }
        let (loose, findings, told) = found(rule.passing);
        if !findings.is_empty() || loose.is_none() {
            wrong.push(format!("{}: its passing example comes to\n{told}", rule.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn grain_and_turns_decide_how_a_part_lies() {
    let tall = |row: &str, turn: bool| {
        let (loose, _, told) =
            list(&format!("name,length,width,grain,turn\npart,{row}\n"), "", sheet(2440.0, 1220.0), turn);
        loose.map(|loose| loose.groups[0].nesting.sheets[0].placed[0].placement.angle).ok_or(told)
    };
    // 1300 mm do not go across a sheet of 1220.
    for (row, turn, lies) in [
        ("1300,300,kept,", true, Some(0.0)),
        ("300,1300,kept,", true, None),
        ("300,1300,across,", true, Some(0.0)),
        ("1300,300,across,", true, None),
        ("300,1300,free,", true, Some(90.0)),
        ("300,1300,,", false, None),
        ("1300,300,kept,no", true, Some(0.0)),
    ] {
        assert_eq!(tall(row, turn).ok(), lies, "{row}");
    }
    let told = tall("300,1300,kept,", true).unwrap_err();
    assert!(
        told.contains(
            "`part` is 300 x 1300 mm; no sheet of `board` (2440x1220) holds it as it may lie within 10 mm of trim"
        ),
        "{told}"
    );
    assert!(told.contains("a sheet of at least 320 x 1320 mm would do (its length first)"), "{told}");
}

#[test]
fn every_part_that_is_too_large_is_named_once() {
    let text = "name,length,width,quantity\na,3000,10,40\nb,100,100,2\nc,2430,1210,1\n";
    let (loose, findings, _) = list(text, "", sheet(2440.0, 1220.0), true);
    assert!(loose.is_none());
    assert_eq!(findings.iter().map(|finding| finding.on.as_str()).collect::<Vec<_>>(), ["a", "c"]);
}

#[test]
fn what_the_stock_does_not_suffice_for_is_named_with_what_would() {
    let (loose, findings, told) =
        list("name,length,width,quantity\na,2400,1200,4\nb,2400,1100,1\n", "", two_sheets(), true);
    assert!(loose.is_none() && findings.len() == 1, "{told}");
    assert!(
        findings[0].message.starts_with("the stock of `board` (2 of 2440x1220) is used up without "),
        "{told}"
    );
    assert_eq!(findings[0].help.as_deref(), Some("3 more of 2440x1220 would do"));
}

#[test]
fn materials_have_sheets_of_their_own_and_the_catalogues_where_none_are_given() {
    let text = "name,length,width,quantity,material,thickness\na,500,300,2,oak,18\nb,500,300,1,oak,6\nc,500,300,1,,\nA/b,400,300,1,oak,18\nA:b,400,300,1,oak,18\n";
    let (loose, _, told) = list(text, "", sheet(2440.0, 1220.0), true);
    let loose = loose.ok_or(told).unwrap();
    sound(&loose);
    let groups: Vec<(&str, usize)> =
        loose.groups.iter().map(|group| (group.material.id.as_str(), group.parts.len())).collect();
    assert_eq!(groups, [("board", 1), ("oak-6", 1), ("oak-18", 4)]);
    let files: Vec<&str> = loose.parts.iter().map(|part| part.file.as_str()).collect();
    assert_eq!(files, ["a", "b", "c", "A-b", "A-b-2"]);
    let (loose, _, _) = list("name,length,width,material\na,500,300,birch-12\n", "", Vec::new(), true);
    let loose = loose.unwrap();
    assert_eq!((loose.groups[0].material.id.as_str(), loose.groups[0].stock.is_empty()), ("birch-12", false));
    assert!(loose.groups[0].material.thickness.is_some());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever list is read is laid soundly, every part as often as it is wanted.
    #[test]
    fn every_list_is_laid_soundly(
        rows in prop::collection::vec((1_u32..20, 1_u32..12, 1_usize..5, 0_usize..3, any::<bool>()), 1..12), turn in any::<bool>(),
    ) {
        let mut text = "name;length;width;quantity;grain;face\n".to_owned();
        for (i, (length, width, n, grain, either)) in rows.iter().enumerate() {
            let (grain, face) = (["kept", "across", "free"][*grain], if *either { "either" } else { "up" });
            writeln!(text, "p{i};{};{};{n};{grain};{face}", length * 50, width * 50).unwrap();
        }
        let (loose, _, told) = list(&text, "", sheet(1220.0, 1220.0), turn);
        prop_assert!(loose.is_some(), "{}", told);
        let loose = loose.unwrap();
        sound(&loose);
        let mut times = vec![0; loose.parts.len()];
        for placed in loose.groups[0].nesting.sheets.iter().flat_map(|sheet| &sheet.placed) {
            times[loose.groups[0].panels[placed.part]] += 1;
        }
        prop_assert_eq!(times, loose.parts.iter().map(|part| part.quantity).collect::<Vec<_>>());
    }
}
