//! What the kit weighs: by kind, carcase and drawer, empty and loaded, shut and drawn out; its heaviest parts.

use super::bars::{Bar, chart};
use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, figure, heading, paragraph};
use crate::bay::place;
use crate::export::words;
use crate::finished::Finished;
use crate::mass::{PartKind, PartMass};
use crate::number::{decimal, fixed};

/// Decimals of kg in these tables: a gram.
const GRAMS: usize = 3;
/// How many of the heaviest parts are listed.
const HEAVIEST: usize = 10;

/// All of it.
pub(super) fn masses(finished: &Finished) -> Body {
    paragraph(
        "Calculated from volumes and published densities, not weighed. Boards of one kind differ by several per \
         cent from batch to batch. Empty: contents come on top. Carcases include their drawers and slides.",
    ) + kinds(finished)
        + carcases(finished)
        + drawers(finished)
        + where_it_is(finished)
        + states(finished)
        + heaviest(finished)
}

fn kg(mass: f64) -> String {
    fixed(mass, GRAMS)
}

fn kinds(finished: &Finished) -> Body {
    let masses = &finished.masses;
    let mut kinds = Table::new([Words("Kind of part"), Figures("Mass kg")]);
    for kind in PartKind::ALL {
        let own = || masses.parts.iter().filter(|part| part.kind == kind);
        if own().next().is_some() {
            kinds.row([kind.word().to_owned(), kg(own().map(|part| part.mass).sum())]);
        }
    }
    kinds.sum(["The kit".to_owned(), kg(masses.total.mass)]);
    kinds.body()
}

fn carcases(finished: &Finished) -> Body {
    let masses = &finished.masses;
    let mut table = Table::new([
        Words("Carcase"),
        Figures("Empty kg"),
        Words("Centre of gravity, empty"),
        Figures("Loaded kg"),
        Words("Centre of gravity, loaded"),
    ]);
    for (id, empty) in &masses.carcases {
        let loaded = masses.loaded.iter().find(|(other, _)| other == id).map_or(empty, |(_, sum)| sum);
        table.row([id.clone(), kg(empty.mass), place(empty.centre), kg(loaded.mass), place(loaded.centre)]);
    }
    let total = &masses.total;
    table.sum(["The kit".to_owned(), kg(total.mass), place(total.centre), String::new(), String::new()]);
    table.body()
}

fn drawers(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    if layout.drawers.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Drawer or tray, without slides"),
        Figures("Itself kg"),
        Figures("Equipment on it, full kg"),
        Figures("Load kg"),
        Figures("All kg"),
    ]);
    for (drawer, carried) in layout.drawers.iter().zip(&finished.masses.carried) {
        let masses = [carried.own, carried.equipment, drawer.load, carried.full].map(kg);
        table.row([drawer.name.clone()].into_iter().chain(masses));
    }
    table.body()
}

/// Bars of bodies: what stays, and what each drawer or door is.
fn where_it_is(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    let bodies = layout.bodies.iter().enumerate().map(|(i, body)| {
        let own = finished.masses.parts.iter().filter(|part| part.body.0 == i);
        (body.name.as_str(), own.map(|part| part.mass).sum::<f64>())
    });
    let bodies: Vec<(&str, f64)> = bodies.filter(|(_, mass)| *mass > 0.0).collect();
    let bars: Vec<Bar<'_>> = bodies
        .iter()
        .map(|&(name, mass)| Bar { class: "more", name, ends: (0.0, mass), value: kg(mass) })
        .collect();
    let note = "kg, empty; slides count where they are bolted to the carcase";
    figure("bars", chart(&bars, 0.0, None), 0.0, ("Where the mass is", note), Vec::new()).into()
}

fn states(finished: &Finished) -> Body {
    let masses = &finished.masses;
    let mut table =
        Table::new([Words("The kit"), Short("Drawn out"), Figures("Mass kg"), Words("Centre of gravity")]);
    for state in &masses.states {
        table.row([
            words::loaded(state.loaded).to_owned(),
            words::open(&state.open).to_owned(),
            kg(state.sum.mass),
            place(state.sum.centre),
        ]);
    }
    let [x, y, z] = masses.inertia.map(|moment| fixed(moment, GRAMS));
    heading("Empty and loaded, shut and drawn out")
        + paragraph(
            "Loaded: equipment full, and what is said to be in drawers and trays. Slides are counted as shut.",
        )
        + table.body()
        + paragraph(&format!(
            "Moments of inertia about the kit's own centre of gravity, empty and shut: {x} kg m\u{b2} about the axis that runs \
             forward, {y} to the left, {z} up."
        ))
}

fn heaviest(finished: &Finished) -> Body {
    let mut parts: Vec<&PartMass> = finished.masses.parts.iter().collect();
    parts.sort_by(|a, b| b.mass.total_cmp(&a.mass));
    let mut table = Table::new([
        Words("Part"),
        Short("Kind"),
        Figures("Mass kg"),
        Short("Next lighter board"),
        Figures("would save kg"),
    ]);
    for part in parts.into_iter().take(HEAVIEST) {
        let (to, saves) = part.lighter.clone().map_or_else(Default::default, |(to, saves)| (to, kg(saves)));
        table.row([part.name.clone(), part.kind.word().to_owned(), kg(part.mass), to, saves]);
    }
    let lighter = &finished.masses.lighter;
    let savings: Vec<String> = lighter
        .iter()
        .map(|saving| format!("{} for all of {}: {} kg", saving.to, saving.from, decimal(saving.saves, 1)))
        .collect();
    let savings = if savings.is_empty() { Body::none() } else { paragraph(&(savings.join("; ") + ".")) };
    heading("The heaviest parts")
        + paragraph(
            "Beside each panel the next lighter board of its thickness in the catalogue. A lighter board is weaker and softer: \
             whether it holds is another question.",
        )
        + table.body()
        + savings
}
