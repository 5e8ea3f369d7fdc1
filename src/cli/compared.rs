//! A comparison as text for people: two kits line by line, more of them side by side. Decides nothing.

use std::fmt::Write as _;

use super::table::{aligned, counted, wrapped};
use crate::compare::{Change, Compared, Comparison, Counted, Figures, Given, Margin, Panels, Piece, Told};
use crate::export::report::{self, Beside, Said};
use crate::finished::Edition;
use crate::number::{decimal, fixed};

/// Longest line of a list of names, characters.
const WIDTH: usize = 100;

/// All of it. With `all` the unchanged panels of two kits by name.
pub(super) fn text(compared: &Compared, all: bool) -> String {
    match (compared.kits.as_slice(), compared.comparisons.as_slice()) {
        ([old, new], [comparison]) => of_two(old, new, comparison, all),
        (kits, comparisons) => side_by_side(kits, comparisons),
    }
}

/// The page with pictures: side by side, however many there are.
pub(super) fn page(compared: &Compared, given: &[Given]) -> String {
    let numbers: Vec<String> = (1..=given.len()).map(|n| n.to_string()).collect();
    let beside = compared.kits.iter().zip(given).zip(&numbers).map(|((kit, given), number)| Beside {
        title: format!("{number} {}", kit.of),
        note: state(kit),
        kit: &given.kit,
    });
    let lists = compared.comparisons.iter().zip(&numbers[1..]).map(|(comparison, number)| {
        let title = format!("{number} {} against 1 {}", comparison.new, comparison.old);
        (title, become_of(&comparison.panels))
    });
    let said = Said {
        heads: titles(&numbers),
        rows: rows(&compared.kits, &compared.comparisons),
        lists: lists.collect(),
    };
    report::comparison(&beside.collect::<Vec<_>>(), &said)
}

/// What becomes of the panels, a line for each kind of change that there is.
fn become_of(panels: &Panels) -> Vec<String> {
    let pieces = |pieces: &[Piece]| pieces.iter().map(|piece| piece.name.clone()).collect::<Vec<_>>();
    let recut = panels.recut.iter().map(|recut| {
        let differs: Vec<&str> = recut.differs.iter().map(|difference| difference.word()).collect();
        format!("{} ({})", recut.name, differs.join(", "))
    });
    let renamed = panels.renamed.iter().map(|renamed| format!("{} -> {}", renamed.old, renamed.new));
    let kinds = [
        ("to cut again", recut.collect()),
        ("new", pieces(&panels.new)),
        ("no longer needed", pieces(&panels.gone)),
        ("same shape, another name", renamed.collect()),
        ("covered otherwise", panels.refinished.clone()),
        ("only moved", panels.moved.clone()),
        ("unchanged", panels.unchanged.clone()),
    ];
    let told = kinds.into_iter().filter(|(_, names)| !names.is_empty());
    told.map(|(kind, names)| format!("{kind}: {}", names.join(", "))).collect()
}

/// A kit's name, and which state of it this is.
fn state(kit: &Figures) -> String {
    let edition = kit
        .inputs_sha256
        .as_ref()
        .map(|inputs| Edition { revision: kit.revision.clone(), inputs: inputs.clone() }.words());
    let said: Vec<String> = [Some(kit.name.clone()), edition].into_iter().flatten().collect();
    said.join(", ")
}

/// What each kit is, under the words or numbers that stand for it.
fn heads(kits: &[Figures], words: &[String]) -> String {
    let row = |(kit, word): (&Figures, &String)| vec![word.clone(), kit.of.clone(), state(kit)];
    let rows: Vec<Vec<String>> = kits.iter().zip(words).map(row).collect();
    let table = aligned(&["", "", ""], &rows);
    // The heads of the columns are empty.
    table.split_once('\n').map_or(String::new(), |(_, rows)| rows.to_owned())
}

fn of_two(old: &Figures, new: &Figures, comparison: &Comparison, all: bool) -> String {
    let mut text = heads(&[old.clone(), new.clone()], &["old".to_owned(), "new".to_owned()]);
    text.push('\n');
    if comparison.same {
        let (panels, bolts) = (counted(new.panels, "panel", "panels"), counted(new.bolts, "bolt", "bolts"));
        let _ = writeln!(text, "nothing changed: {panels}, {bolts}, {} kg", fixed(new.mass, 1));
        if all {
            text += &names("unchanged", &comparison.panels.unchanged);
        }
        return text;
    }
    text += &panels(&comparison.panels, all);
    text += &counts(comparison);
    text += &figures(comparison, old, new);
    text += &findings(comparison);
    if !comparison.elsewhere.is_empty() {
        text.push('\n');
        text += &wrapped("kit.json differs in: ", &comparison.elsewhere.join(", "), WIDTH);
    }
    text
}

/// `length x width`.
fn size(size: [f64; 2]) -> String {
    size.map(|side| decimal(side, 3)).join(" x ")
}

fn panels(panels: &Panels, all: bool) -> String {
    let mut text = String::new();
    let recut = panels.recut.iter().map(|recut| {
        let differs: Vec<&str> = recut.differs.iter().map(|difference| difference.word()).collect();
        let (old, new) = (&recut.old, &recut.new);
        let mut from = Vec::new();
        if old.material != new.material {
            from.push(format!("{} -> {}", old.material, new.material));
        }
        if size(old.size) != size(new.size) {
            from.push(format!("{} -> {}", size(old.size), size(new.size)));
        }
        if recut.bores_gone + recut.bores_new > 0 {
            from.push(format!("bores +{} -{}", recut.bores_new, recut.bores_gone));
        }
        vec![recut.name.clone(), differs.join(", "), from.join("; ")]
    });
    let piece =
        |piece: &Piece| vec![piece.name.clone(), piece.board.material.clone(), size(piece.board.size)];
    let renamed = panels.renamed.iter().map(|renamed| {
        let mark = if renamed.other_mark { "its part mark is another" } else { "" };
        vec![renamed.old.clone(), format!("-> {}", renamed.new), mark.to_owned()]
    });
    text += &section("to cut again", &recut.collect::<Vec<_>>());
    text += &section("new", &panels.new.iter().map(piece).collect::<Vec<_>>());
    text += &section("no longer needed", &panels.gone.iter().map(piece).collect::<Vec<_>>());
    text += &section("same shape, another name", &renamed.collect::<Vec<_>>());
    text += &names("covered otherwise", &panels.refinished);
    text += &names("only moved", &panels.moved);
    if all {
        text += &names("unchanged", &panels.unchanged);
    } else {
        let _ = writeln!(text, "unchanged: {}", counted(panels.unchanged.len(), "panel", "panels"));
    }
    text
}

/// A title with the number of panels, and a row for each; nothing for none.
fn section(title: &str, rows: &[Vec<String>]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let table = aligned(&["", "", ""], rows);
    let lines = table.lines().skip(1).fold(String::new(), |text, line| text + "  " + line + "\n");
    format!("{title}: {}\n{lines}", counted(rows.len(), "panel", "panels"))
}

/// A title with the number of panels, and their names; nothing for none.
fn names(title: &str, names: &[String]) -> String {
    if names.is_empty() {
        return String::new();
    }
    let list = wrapped("  ", &names.join(", "), WIDTH);
    format!("{title}: {}\n{list}", counted(names.len(), "panel", "panels"))
}

/// A difference with its sign.
fn signed(by: f64, decimals: usize) -> String {
    let text = fixed(by, decimals);
    if by > 0.0 { format!("+{text}") } else { text }
}

fn more(old: usize, new: usize) -> String {
    if new >= old { format!("+{}", new - old) } else { format!("-{}", old - new) }
}

fn counts(comparison: &Comparison) -> String {
    let all = comparison.hardware.iter().chain(&comparison.fittings).chain(&comparison.sheets);
    let row = |counted: &Counted| {
        let remark = match counted.redrilled {
            0 => String::new(),
            n => format!("{n} drilled otherwise"),
        };
        let change = more(counted.old, counted.new);
        vec![
            counted.kind.clone(),
            counted.what.clone(),
            counted.old.to_string(),
            counted.new.to_string(),
            change,
            remark,
        ]
    };
    let rows: Vec<Vec<String>> = all.map(row).collect();
    if rows.is_empty() {
        String::new()
    } else {
        format!("\n{}", aligned(&["kind", "what", "old", "new", "+/-", ""], &rows))
    }
}

/// A row of figures; nothing if there is no change.
fn figure(what: String, change: &Change, decimals: usize) -> Option<Vec<String>> {
    let shown = |value: Option<f64>| value.map(|value| fixed(value, decimals)).unwrap_or_default();
    let by = change.by.map(|by| signed(by, decimals)).unwrap_or_default();
    (!change.is_none()).then(|| vec![what, shown(change.old), shown(change.new), by])
}

/// The cost with its currency, and whether all of it is known.
fn cost_words(kits: &[&Figures]) -> String {
    let currencies: Vec<&str> = kits.iter().filter_map(|kit| kit.currency.as_deref()).collect();
    let currency = match currencies.as_slice() {
        [] => String::new(),
        [first, others @ ..] if others.iter().all(|other| other == first) => format!(", {first}"),
        several => format!(", {}", several.join(" and ")),
    };
    let part = if kits.iter().any(|kit| kit.unpriced > 0) { " of what is priced" } else { "" };
    format!("cost{part}{currency}")
}

fn figures(comparison: &Comparison, old: &Figures, new: &Figures) -> String {
    let centre = ["x", "y", "z"].into_iter().zip(&comparison.centre);
    let margins = comparison.margins.iter().map(|change| {
        figure(
            format!("margin, kg: {}, {} ({})", change.scenario, change.what, change.limits),
            &change.margin,
            2,
        )
    });
    let rows = [figure("mass, kg".to_owned(), &comparison.mass, 3)]
        .into_iter()
        .chain(
            centre
                .map(|(axis, change)| figure(format!("centre of gravity {axis}, mm"), change, 1))
                // Less than is shown is no news of a centre.
                .map(|row| row.filter(|row| row[1] != row[2])),
        )
        .chain([
            figure(cost_words(&[old, new]), &comparison.cost, 2),
            figure("lines of the quote not priced".to_owned(), &comparison.unpriced, 0),
            figure("machine, minutes".to_owned(), &comparison.machine_minutes, 1),
        ])
        .chain(margins);
    let rows: Vec<Vec<String>> = rows.flatten().collect();
    if rows.is_empty() {
        String::new()
    } else {
        format!("\n{}", aligned(&["figure", "old", "new", "+/-"], &rows))
    }
}

fn findings(comparison: &Comparison) -> String {
    let mut text = String::new();
    for (title, told) in [("findings that came", &comparison.came), ("findings that went", &comparison.went)]
    {
        if !told.is_empty() {
            let _ = writeln!(text, "\n{title}: {}", told.len());
            text.extend(told.iter().map(finding));
        }
    }
    text
}

fn finding(told: &Told) -> String {
    let severity = if told.accepted { "accepted" } else { told.severity.as_str() };
    let on = if told.on.is_empty() { String::new() } else { format!(" ({})", told.on) };
    wrapped("  ", &format!("{severity}[{}]: {}{on}", told.rule, told.message), WIDTH)
}

/// A table with a column for each kit, and beside every kit but the first by how much it is more.
fn side_by_side(kits: &[Figures], comparisons: &[Comparison]) -> String {
    let numbers: Vec<String> = (1..=kits.len()).map(|n| n.to_string()).collect();
    let mut text = heads(kits, &numbers);
    let titles = titles(&numbers);
    let titles: Vec<&str> = titles.iter().map(String::as_str).collect();
    let _ = write!(text, "\n{}", aligned(&titles, &rows(kits, comparisons)));
    text
}

/// Heads of the columns: a number for each kit, and beside every kit but the first the difference.
fn titles(numbers: &[String]) -> Vec<String> {
    let of = |(i, number): (usize, &String)| {
        let difference = (i > 0).then(|| "+/-".to_owned());
        std::iter::once(number.clone()).chain(difference)
    };
    std::iter::once(String::new()).chain(numbers.iter().enumerate().flat_map(of)).collect()
}

fn rows(kits: &[Figures], comparisons: &[Comparison]) -> Vec<Vec<String>> {
    let values =
        |what: &str, decimals: usize, pick: &dyn Fn(&Figures) -> Option<f64>| row(what, kits, decimals, pick);
    let count = |what: &str, pick: &dyn Fn(&Figures) -> usize| values(what, 0, &|kit| Some(pick(kit) as f64));
    let panels = |what: &str, pick: &dyn Fn(&Panels) -> usize| {
        let counts = comparisons.iter().flat_map(|c| [pick(&c.panels).to_string(), String::new()]);
        [what.to_owned(), String::new()].into_iter().chain(counts).collect::<Vec<String>>()
    };
    let mut rows = vec![
        count("panels", &|kit| kit.panels),
        panels("  to cut again", &|panels| panels.recut.len()),
        panels("  new", &|panels| panels.new.len()),
        panels("  no longer needed", &|panels| panels.gone.len()),
        panels("  same shape, another name", &|panels| panels.renamed.len()),
        panels("  covered otherwise", &|panels| panels.refinished.len()),
        panels("  only moved", &|panels| panels.moved.len()),
        panels("  unchanged", &|panels| panels.unchanged.len()),
        count("bolts", &|kit| kit.bolts),
        values("mass, kg", 3, &|kit| Some(kit.mass)),
    ];
    let mut sheets: Vec<&str> =
        kits.iter().flat_map(|kit| &kit.sheets).map(|sheets| sheets.what.as_str()).collect();
    sheets.sort_unstable();
    sheets.dedup();
    rows.extend(sheets.into_iter().map(|what| {
        let of = |kit: &Figures| {
            kit.sheets.iter().filter(|sheets| sheets.what == what).map(|sheets| sheets.count).sum()
        };
        count(&format!("sheets of {what}"), &of)
    }));
    let one_currency = kits.windows(2).all(|pair| pair[0].currency == pair[1].currency);
    let mut cost = values(&cost_words(&kits.iter().collect::<Vec<_>>()), 2, &|kit| kit.cost);
    if !one_currency {
        cost.iter_mut().skip(3).step_by(2).for_each(String::clear);
    }
    if kits.iter().any(|kit| kit.cost.is_some()) {
        rows.push(cost);
    }
    rows.push(count("lines of the quote not priced", &|kit| kit.unpriced));
    rows.push(values("machine, minutes", 1, &|kit| Some(kit.machine_minutes)));
    rows.extend(margins(kits));
    rows.push(count("warnings", &|kit| kit.warnings));
    rows.push(count("accepted warnings", &|kit| kit.accepted));
    rows.push(count("notes", &|kit| kit.notes));
    rows
}

/// A row for each limit of each scenario that any of the kits has.
fn margins(kits: &[Figures]) -> Vec<Vec<String>> {
    let mut keys: Vec<(&str, &str, &str)> = Vec::new();
    for margin in kits.iter().flat_map(|kit| &kit.margins) {
        let key = (margin.scenario.as_str(), margin.limits.as_str(), margin.what.as_str());
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    let margin = |(scenario, limits, what): (&str, &str, &str)| {
        row(&format!("margin, kg: {scenario}, {what} ({limits})"), kits, 2, &|kit| {
            let is = |m: &&Margin| (&*m.scenario, &*m.limits, &*m.what) == (scenario, limits, what);
            kit.margins.iter().find(is).map(|margin| margin.left)
        })
    };
    keys.into_iter().map(margin).collect()
}

/// A value of each kit, and beside all but the first by how much it is more.
fn row(what: &str, kits: &[Figures], decimals: usize, pick: &dyn Fn(&Figures) -> Option<f64>) -> Vec<String> {
    let first = kits.first().and_then(pick);
    let mut row = vec![what.to_owned()];
    for (i, kit) in kits.iter().enumerate() {
        let value = pick(kit);
        row.push(value.map(|value| fixed(value, decimals)).unwrap_or_default());
        if i > 0 {
            let by = value.zip(first).map(|(value, first)| value - first);
            // No difference is no number, so that differences stand out.
            row.push(by.filter(|by| *by != 0.0).map(|by| signed(by, decimals)).unwrap_or_default());
        }
    }
    row
}
