//! Variants of small specs, shares that are the whole, and pieces joined.

use super::measures::cells;
use super::*;
use crate::diag::{Findings, Sources};
use crate::example_kits::{ANGLES, built};
use crate::spec::Text;

fn vary(texts: &[&str]) -> Vec<Vary> {
    texts.iter().map(|text| text.parse().unwrap()).collect()
}

/// What `ask` says of the variants of a spec.
fn variants<T>(text: &str, vary_: &[&str], ask: impl FnOnce(Result<Variants<'_>, String>) -> T) -> T {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let numbers = Numbers::read(&mut findings, &mut sources, Text { name: "kit.yaml", text }).unwrap();
    ask(Variants::new(text, &numbers, &vary(vary_)))
}

#[test]
fn the_first_thing_varied_changes_slowest_and_values_go_to_their_places() {
    // The order of the text is not that of the arguments.
    variants(ANGLES, &["carcases.main.height=300..310:10", "bay.width=1040..1060:10"], |variants| {
        let variants = variants.unwrap();
        assert_eq!(variants.headings(), ["carcases.main.height (mm)", "bay.width (mm)"]);
        let all: Vec<String> = (0..variants.total).map(|i| variants.values(i).join(" ")).collect();
        assert_eq!(all, ["300 1040", "300 1050", "300 1060", "310 1040", "310 1050", "310 1060"]);
        let changed = variants.text(&variants.values(4));
        assert_eq!(
            changed,
            ANGLES.replace("width: 1040", "width: 1050").replace("height: 300", "height: 310")
        );
        // An expression gives way to a number.
        assert_eq!(variants.text(&variants.values(0)), ANGLES);
    });
    variants(ANGLES, &["carcases.0.width=900..1000:100"], |variants| {
        let variants = variants.unwrap();
        assert_eq!(variants.text(&variants.values(1)), ANGLES.replace("bay.width - 16", "1000"));
    });
}

#[test]
fn what_cannot_be_varied_says_why() {
    for (vary, said) in [
        (
            vec!["bay.widht=1..2:1"],
            "--vary bay.widht=1..2:1: `bay` has no `widht`; only what is written in the spec can be varied. did you mean `width`?",
        ),
        (
            vec!["bay.width=1..2:1", "bay.width=3..4:1"],
            "`bay.width` is varied by --vary bay.width=1..2:1 already",
        ),
        (
            vec!["carcases.0.depth=1..2:1", "carcases.main.depth=3..4:1"],
            "`carcases.main.depth` is the same number, and is varied",
        ),
        (vec!["bay.width=1..100001:1"], "these are 100001 variants; 100000 is the limit"),
        (vec!["bay.width=1..1000:1", "bay.depth=1..101:1"], "these are 1000 x 101 variants"),
        (vec!["bay.width=0..999999999:0.000001"; 1], "is the limit"),
    ] {
        let fault = variants(ANGLES, &vary, |variants| variants.err().unwrap_or_default());
        assert!(fault.contains(said), "{vary:?}: {fault}");
    }
    variants(ANGLES, &["bay.width=1..1000:1", "bay.depth=1..100:1"], |variants| {
        assert_eq!(variants.unwrap().total, MOST_VARIANTS);
    });
}

/// Six variants of a made-up sweep, as pieces of three shares or of one.
fn pieces(of: usize) -> Vec<(String, Table)> {
    let piece = |number: usize| {
        let shard = Shard { number, of };
        let row = |variant: usize| Row {
            variant,
            values: vec![(variant * 10).to_string()],
            cells: COLUMNS.iter().map(|column| format!("{} \"{variant}\", x", column.key())).collect(),
        };
        let rows = (0..6).filter(|&variant| shard.has(variant)).map(row).collect();
        let piece = Some(Piece { total: 6, sweep: "0123456789ab".to_owned() });
        (format!("{number}.csv"), Table { varied: vec!["gap (mm)".to_owned()], piece, rows })
    };
    (1..=of).map(piece).collect()
}

#[test]
fn shares_joined_in_any_order_are_the_whole() {
    let whole = merge(pieces(1)).unwrap();
    let numbers: Vec<usize> = whole.rows.iter().map(|row| row.variant).collect();
    assert_eq!(numbers, [0, 1, 2, 3, 4, 5]);
    for of in 2..=7 {
        let mut pieces = pieces(of);
        pieces.reverse();
        // Through their files.
        let read = |(name, table): (String, Table)| (name, Table::read_piece(&table.csv()).unwrap());
        let joined = merge(pieces.into_iter().map(read).collect()).unwrap();
        assert_eq!((joined.csv(), &joined), (whole.csv(), &whole), "{of} shares");
    }
    assert!(whole.csv().starts_with("gap (mm),mass (kg),panels,sheets,sheet yield (%),cost,currency,"));
    let piece = pieces(3)[1].1.csv();
    assert!(piece.starts_with("variant (of 6 in sweep 0123456789ab),gap (mm),mass (kg),"), "{piece}");
    assert!(piece.lines().nth(2).unwrap().starts_with("5,40,"), "{piece}");
}

#[test]
fn pieces_that_do_not_belong_together_are_told_apart() {
    let mut other = pieces(3);
    other[1].1.piece = Some(Piece { total: 6, sweep: "ba9876543210".to_owned() });
    assert!(merge(other).unwrap_err().starts_with("`2.csv` and `1.csv` are pieces of different sweeps"));
    let mut other = pieces(3);
    other[2].1.varied = vec!["side (mm)".to_owned()];
    assert!(merge(other).unwrap_err().starts_with("`3.csv` and `1.csv` are pieces of different sweeps"));
    let mut twice = pieces(3);
    twice.push(("again.csv".to_owned(), twice[1].1.clone()));
    assert_eq!(
        merge(twice).unwrap_err(),
        "variant 2 is in `2.csv` and in `again.csv`; leave one of these files out"
    );
    let mut few = pieces(3);
    few.remove(1);
    let missing = merge(few).unwrap_err();
    assert!(missing.starts_with("2 of 6 variants are missing: 2, 5; make the pieces"), "{missing}");
    let fewer = merge(pieces(6).into_iter().take(2).collect()).unwrap_err();
    assert!(fewer.starts_with("4 of 6 variants are missing: 3 to 6;"), "{fewer}");
}

#[test]
fn other_files_are_no_pieces() {
    let whole = merge(pieces(1)).unwrap().csv();
    let piece = pieces(2)[0].1.csv();
    for (text, said) in [
        (whole, "it is a whole sweep, not a piece of one"),
        (String::new(), "it is no piece of a sweep"),
        ("part,kind\na,b\n".to_owned(), "it is no piece of a sweep"),
        (piece.replace("\n3,", "\n7,"), "row 2 is damaged; make this piece anew"),
        (piece.replace("\n3,", "\n3,,"), "row 2 is damaged"),
    ] {
        assert!(Table::read_piece(&text).unwrap_err().contains(said), "{text}");
    }
}

#[test]
fn a_row_says_what_a_kit_comes_to() {
    let prices = "workshop: {currency: EUR, rates: {machine: 60}}\ncarcases:";
    let cells_of = |text: &str| cells(&built(text));
    let row = Row { variant: 0, values: Vec::new(), cells: cells_of(ANGLES) };
    assert!(row.is_feasible());
    assert_eq!(
        (row.cell(Column::Panels), row.cell(Column::Sheets), row.cell(Column::Errors)),
        ("18", "2", "0")
    );
    let mass = row.number(Column::Mass).unwrap();
    assert!((50.0..70.0).contains(&mass), "{mass}");
    let used = row.number(Column::Yield).unwrap();
    assert!((50.0..100.0).contains(&used), "{used}");
    for column in [Column::Cost, Column::Currency, Column::Gross, Column::Axle, Column::Rule, Column::Finding]
    {
        assert_eq!(row.cell(column), "", "{column:?}");
    }
    let priced =
        Row { variant: 0, values: Vec::new(), cells: cells_of(&ANGLES.replace("carcases:", prices)) };
    assert_eq!(priced.cell(Column::Currency), "EUR");
    assert!(priced.number(Column::Cost).unwrap() > 0.0);
    let failing =
        Row { variant: 0, values: Vec::new(), cells: cells_of(&ANGLES.replace("birch-12", "brich-12")) };
    assert!(!failing.is_feasible());
    assert_eq!((failing.cell(Column::Mass), failing.cell(Column::Panels)), ("", ""));
    assert_eq!(failing.cell(Column::Rule), "unknown-name", "{:?}", failing.cells);
    assert!(failing.cell(Column::Finding).contains("brich-12"));
}

#[test]
fn a_variant_that_the_program_falls_over_is_a_row_that_says_whose_fault_it_is() {
    let cells = measured(|| panic!("corner {} of none", 3));
    assert_eq!(cells.len(), COLUMNS.len());
    let row = Row { variant: 4, values: vec!["1".to_owned()], cells };
    assert!(!row.is_feasible());
    assert_eq!((row.cell(Column::Mass), row.cell(Column::Rule)), ("", ""));
    let said = row.cell(Column::Finding);
    assert!(said.starts_with("this is a fault of baywright") && said.contains("corner 3 of none"), "{said}");
    // The variants beside it go on, and all of them make a table, a plot and a piece that can be read again.
    let values = |variant: usize| vec![variant.to_string()];
    let one = |variant: usize| {
        let cells = measured(|| if variant == 1 { panic!("so") } else { built(ANGLES) });
        Row { variant, values: values(variant), cells }
    };
    let rows = crate::abreast::each(3, one);
    let feasible: Vec<bool> = rows.iter().map(Row::is_feasible).collect();
    assert_eq!(feasible, [true, false, true]);
    let piece = Piece { total: 3, sweep: "abcdef".to_owned() };
    let table = Table { varied: vec!["gap (mm)".to_owned()], piece: Some(piece), rows };
    assert_eq!(Table::read_piece(&table.csv()).unwrap(), table);
    let plot = plot(&Table { piece: None, ..table }).unwrap();
    assert!(plot.contains("no rule, see its finding"), "{plot}");
}

/// A vehicle of 1000 kg on each axle, a person of 80 kg over the rear axle: 2600 - 2080 kg and 1350 - 1080 kg are left. What
/// is only compared would leave less.
#[test]
fn margins_are_those_of_the_scenario_that_leaves_least() {
    let bay = "bay: {width: 1040, depth: 1050, height: 800}";
    let vehicle = format!(
        "vehicle:\n  {bay}\n  masses:\n    wheelbase: 2850\n    rear_axle: 540\n    \
         kerb: {{front: 1000, rear: 1000, fuel: 100, driver: 0, weighed: true}}\n    \
         limits: [{{id: plate, gross: 2600, front: 1400, rear: 1350}}]\n\
         loads:\n  - {{id: seat, kind: person, mass: 80, at: {{x: 540, y: 0}}}}\n  \
         - {{id: crate, kind: contents, mass: 20, at: {{x: 540, y: 0}}}}\n\
         scenarios:\n  - {{id: person, kit: false, loads: [seat]}}\n  - {{id: crate, kit: false, loads: [crate]}}\n  \
         - {{id: draft, kit: false, comparison: true, loads: [seat, crate]}}"
    );
    let row = Row { variant: 0, values: Vec::new(), cells: cells(&built(&ANGLES.replace(bay, &vehicle))) };
    assert!(row.is_feasible(), "{:?}", row.cells);
    assert_eq!((row.cell(Column::Gross), row.cell(Column::Axle)), ("520.00", "270.00"));
}
