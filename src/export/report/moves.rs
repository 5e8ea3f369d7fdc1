//! How the kit goes in, and what can be open together.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, heading, list, paragraph};
use crate::finished::Finished;
use crate::moves::{Entry, How, Pair, Relation, WayIn};
use crate::number::{decimal, fixed};
use crate::spec::SideDoor;

/// A row for each carcase: mass, persons, way in, room left, bolts that hold it to others.
pub(super) fn goes_in(finished: &Finished) -> Body {
    let design = &finished.design;
    let bay = &design.vehicle.bay;
    let mut table = Table::new([
        Words("Carcase"),
        Figures("Mass kg, drawers in"),
        Figures("Drawers out"),
        Short("Lifted by"),
        Words("Way in"),
        Figures("Left in width"),
        Figures("Left in height"),
        Figures("Bolts to undo"),
    ]);
    for module in &finished.moves.modules {
        let persons = module.persons.map_or("more than 2".to_owned(), |persons| persons.to_string());
        let (way, width, height) = match &module.way {
            WayIn::NotMeasured => ("not measured".to_owned(), String::new(), String::new()),
            WayIn::Stuck(_) => ("none".to_owned(), String::new(), String::new()),
            WayIn::Found(entry) => {
                (way_in(entry, &bay.side_doors), decimal(entry.left.width, 1), decimal(entry.left.height, 1))
            }
        };
        table.row([
            module.id.clone(),
            fixed(module.mass, 1),
            fixed(module.without_drawers, 1),
            persons,
            way,
            width,
            height,
            module.bolts_to_undo.to_string(),
        ]);
    }
    let lift = &design.workshop.lift;
    let [one, two] = [lift.one, lift.two].map(|mass| decimal(mass.value, 1));
    let measured = if bay.opening.is_none() && bay.side_doors.is_empty() {
        "No opening was measured (`opening`, `side_doors`), so nobody has looked whether the carcases go in."
            .to_owned()
    } else {
        format!(
            "Each carcase by itself into the empty bay, put together, bolt heads and nuts counted. Of what is left in the \
             opening, {} mm are to be spared in the width and in the height; what is left between wheel arches that it \
             passes may be less.",
            decimal(design.clearances.opening.value, 1)
        )
    };
    paragraph(&measured)
        + table.body()
        + paragraph(&format!(
            "Empty masses. One person lifts {one} kg, two lift {two} kg (`lift` in the workshop file). Bolts to undo \
             hold it to other carcases, to wings and to the vehicle; turnbuckles are unhooked.",
        ))
}

fn way_in(entry: &Entry, doors: &[SideDoor]) -> String {
    let how = match entry.how {
        How::Straight => "straight in at the rear".to_owned(),
        How::Tilted => "in at the rear on its back, tilted up inside".to_owned(),
        How::SideDoor(i) => {
            format!("through the {} side door", doors.get(i).map_or("", |door| door.side.word()))
        }
    };
    let lift = entry.left.lift;
    match decimal(lift.abs(), 0).as_str() {
        "0" => how,
        by if lift > 0.0 => format!("{how}, {by} mm above its place, then down"),
        by => format!("{how}, {by} mm below its place, then up"),
    }
}

/// A table of every drawer with every leaf of the doors, and of what drawers are in each other's way.
pub(super) fn together(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    let doors = layout.doors.iter().map(|door| &door.name);
    let drawers: Vec<&String> = layout.drawers.iter().map(|drawer| &drawer.name).chain(doors).collect();
    let leaves = &finished.design.vehicle.bay.leaves;
    if drawers.is_empty() {
        return paragraph("Nothing moves.");
    }
    let pairs = &finished.moves.pairs;
    let names: Vec<String> = leaves.iter().map(|leaf| format!("leaf {}", leaf.id.value)).collect();
    let mut rows: Vec<Vec<String>> = Vec::new();
    for drawer in drawers {
        let of = |pair: &&Pair| pair.drawer == *drawer || pair.other == *drawer;
        let struck = pairs.iter().filter(of).filter(|pair| pair.relation == Relation::OneAtATime);
        let others: Vec<&str> = struck
            .map(|pair| if pair.drawer == *drawer { pair.other.as_str() } else { pair.drawer.as_str() })
            .collect();
        let others = if others.is_empty() {
            "all can be open".to_owned()
        } else {
            format!("not with {}", others.join(", "))
        };
        let mut row = vec![drawer.clone(), others];
        row.extend(leaves.iter().map(|leaf| {
            let pair = pairs.iter().find(|pair| pair.drawer == *drawer && pair.other == leaf.id.value);
            pair.map_or("", |pair| with_leaf(pair.relation)).to_owned()
        }));
        rows.push(row);
    }
    let words = ["Drawer or door".to_owned(), "Others".to_owned()].into_iter().chain(names);
    let html = Table::headed(words, &rows);
    if leaves.is_empty() {
        return paragraph(
            "The vehicle's doors were not described as they turn (`leaves`), so only drawers, trays and lockers' doors were looked at.",
        ) + html;
    }
    let said = notable(finished);
    let ends =
        leaves.iter().map(|leaf| format!("{} by {} degrees", leaf.id.value, decimal(leaf.open.value, 1)));
    let intro = format!(
        "Everything on its whole way: drawers from shut to fully out, doors and leaves from shut to open ({}).",
        ends.collect::<Vec<String>>().join(", ")
    );
    let below = if said.is_empty() { paragraph("Nothing is in the way of anything.") } else { list(&said) };
    paragraph(&intro) + html + heading("What to mind") + below
}

fn with_leaf(relation: Relation) -> &'static str {
    match relation {
        Relation::Leaf { strikes_it: true, .. } => "strikes it",
        Relation::Leaf { needs_it_open: true, .. } => "needs it open",
        Relation::Leaf { holds_it: true, .. } => "shut before it turns",
        Relation::Leaf { .. } | Relation::OneAtATime => "free",
    }
}

/// A sentence for each leaf that has to do with a drawer, and for drawers in each other's way.
fn notable(finished: &Finished) -> Vec<String> {
    let pairs = &finished.moves.pairs;
    let mut said = Vec::new();
    for leaf in &finished.design.vehicle.bay.leaves {
        let id = &leaf.id.value;
        let with = |what: fn(Relation) -> bool| -> Vec<&str> {
            let ours = pairs.iter().filter(|pair| pair.other == *id && what(pair.relation));
            ours.map(|pair| pair.drawer.as_str()).collect()
        };
        let needs = with(|relation| matches!(relation, Relation::Leaf { needs_it_open: true, .. }));
        let held = with(|relation| matches!(relation, Relation::Leaf { holds_it: true, .. }));
        if !needs.is_empty() {
            said.push(format!("Open {id} before {}.", needs.join(", ")));
        }
        if !held.is_empty() {
            said.push(format!("Shut {} before {id} is turned.", held.join(", ")));
        }
    }
    let apart = pairs.iter().filter(|pair| pair.relation == Relation::OneAtATime);
    said.extend(apart.map(|pair| format!("{} and {} cannot be open together.", pair.drawer, pair.other)));
    said
}
