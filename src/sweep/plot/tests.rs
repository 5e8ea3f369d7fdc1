//! Pictures of made-up tables: nothing stands in anything else, and all of it is shown.

use super::*;
use crate::export::picture::{Area, Shape};
use crate::sweep::table::COLUMNS;

/// A row with these measures; without a mass, one without a kit for a rule.
fn row(variant: usize, values: &[f64], mass: Option<f64>, rule: &str) -> Row {
    let cell = |column: &Column| match (column, mass) {
        (Column::Errors, _) => usize::from(mass.is_none()).to_string(),
        (Column::Rule | Column::Finding, None) => rule.to_owned(),
        (Column::Mass | Column::Gross, Some(mass)) => format!("{mass:.3}"),
        (Column::Sheets, Some(mass)) => format!("{:.0}", mass / 30.0),
        (Column::Yield, Some(_)) => "55.0".to_owned(),
        (Column::Cost, Some(mass)) => format!("{:.2}", mass * 17.0),
        (Column::Currency, Some(_)) => "EUR".to_owned(),
        _ => String::new(),
    };
    let values = values.iter().map(|value| crate::number::decimal(*value, 3)).collect();
    Row { variant, values, cells: COLUMNS.iter().map(cell).collect() }
}

/// So many variants, of which those that `fails` names have no kit.
fn table(n: usize, step: f64, fails: impl Fn(usize) -> Option<&'static str>) -> Table {
    let one = |i: usize| {
        let rule = fails(i);
        let mass = if rule.is_none() { Some(52.0 + i as f64 * 0.7) } else { None };
        row(i, &[300.0 + step * i as f64], mass, rule.unwrap_or(""))
    };
    Table {
        varied: vec!["carcases.main.height (mm)".to_owned()],
        piece: None,
        rows: (0..n).map(one).collect(),
    }
}

fn square(across: usize, up: usize) -> Table {
    let one = |i: usize| {
        let mass = if i % 7 == 3 { None } else { Some(1020.0 + i as f64) };
        row(i, &[300.0 + (i / across) as f64, 1000.0 + 10.0 * (i % across) as f64], mass, "does-not-fit")
    };
    let varied = ["carcases.main.columns.0.size (mm)", "bay.width (mm)"].map(str::to_owned).to_vec();
    Table { varied, piece: None, rows: (0..across * up).map(one).collect() }
}

/// The box of every text, with what it says.
fn texts(canvas: &Canvas) -> Vec<(Area, String)> {
    let text = |shape: &Shape| match shape {
        Shape::Text { label, .. } => Some((label.area(), label.lines.join(" "))),
        _ => None,
    };
    canvas.marks().iter().filter_map(|mark| text(&mark.shape)).collect()
}

/// The first two texts that stand in each other.
fn overlap(canvas: &Canvas) -> Option<(String, String)> {
    let texts = texts(canvas);
    let pairs = texts.iter().enumerate().flat_map(|(i, a)| texts[i + 1..].iter().map(move |b| (a, b)));
    let mut meeting = pairs.filter(|(a, b)| a.0.inflate(-0.01, -0.01).intersects(&b.0));
    meeting.next().map(|(a, b)| (a.1.clone(), b.1.clone()))
}

#[test]
fn no_text_stands_in_another() {
    let of = ["does-not-fit", "slide-longer-than-bay", "hole-too-near-edge"];
    let mut tables = Vec::new();
    for n in [1, 2, 5, 24, 300] {
        for step in [0.125, 10.0, 12_345.0] {
            tables.push(table(n, step, |_| None));
            tables.push(table(n, step, |i| (i % 3 != 0).then(|| of[i % 2])));
            tables.push(table(n, step, |i| Some(of[i % 3])));
        }
    }
    tables.extend([
        square(1, 1),
        square(4, 3),
        square(40, 6),
        square(3, 60),
        square(41, 70),
        square(200, 90),
    ]);
    for table in tables {
        let canvas = drawn(&table).unwrap();
        let n = table.rows.len();
        assert_eq!(overlap(&canvas), None, "{n} rows over {:?}", table.varied);
        let shown = canvas.shown();
        assert!(texts(&canvas).iter().all(|(text, _)| shown.contains_box(text)));
    }
}

#[test]
fn texts_that_do_stand_in_each_other_are_found() {
    let mut canvas = Canvas::new(SIZE);
    canvas.words("number", "300", Spot::new(0.0, 0.0), SIZE, Anchor::Middle);
    canvas.words("number", "310", Spot::new(5.0, 1.0), SIZE, Anchor::Middle);
    assert_eq!(overlap(&canvas), Some(("300".to_owned(), "310".to_owned())));
}

#[test]
fn charts_show_measures_with_units_and_why_there_is_no_kit() {
    let table = table(6, 10.0, |i| match i {
        0 | 1 => Some("does-not-fit"),
        4 => Some("moving-part-strikes"),
        _ => None,
    });
    let canvas = drawn(&table).unwrap();
    let said: Vec<String> = texts(&canvas).into_iter().map(|(_, text)| text).collect();
    for text in [
        "mass (kg)",
        "sheets",
        "sheet yield (%)",
        "cost (EUR)",
        "least gross margin (kg)",
        "carcases.main.height (mm)",
        "a = does-not-fit: 300 to 310",
        "b = moving-part-strikes: 340",
    ] {
        assert!(said.iter().any(|own| own == text), "{text}: {said:?}");
    }
    // Nobody limited an axle.
    assert!(!said.iter().any(|own| own.contains("axle")));
    // A line over the two that stand side by side, and a mark for each of the three that there are.
    let count = |class: &str| canvas.marks().iter().filter(|mark| mark.class == class).count();
    assert_eq!((count("series"), count("dark")), (5, 15));
    let svg = plot(&table).unwrap();
    assert!(svg.contains("<title>") && svg.contains("Sweep of carcases.main.height (mm)"), "{svg}");
}

#[test]
fn grids_cross_what_has_no_kit_and_number_the_rest() {
    let table = square(4, 3);
    let canvas = drawn(&table).unwrap();
    let count = |class: &str| canvas.marks().iter().filter(|mark| mark.class == class).count();
    // Variants 3 and 10 of 12, in each of five grids two strokes.
    assert_eq!(count("tick"), 2 * 2 * 5);
    let said: Vec<String> = texts(&canvas).into_iter().map(|(_, text)| text).collect();
    assert!(said.contains(&"mass (kg): 1020 light to 1031 dark".to_owned()), "{said:?}");
    assert!(said.contains(&"does-not-fit: 2".to_owned()) && said.contains(&"1024".to_owned()));
    // The first row of cells is the lowest.
    let level = |text: &str| texts(&canvas).iter().find(|(_, own)| own == text).unwrap().0.center().y;
    assert!(level("300") < level("301"));
    // Too many cells for numbers are shades only.
    let many = drawn(&square(200, 90)).unwrap();
    assert!(!texts(&many).iter().any(|(_, text)| text == "1024"));
}

#[test]
fn three_varied_things_have_no_picture() {
    let mut table = square(2, 2);
    table.varied.push("gap (mm)".to_owned());
    assert_eq!(plot(&table), None);
}
