//! Putting the kit together, step by step: what is added, with which bag of hardware, and what to check.

use super::body::{Block, Body, figure, heading, list, paragraph};
use super::pictures::count;
use crate::export::hardware::{self, Bag};
use crate::export::picture;
use crate::finished::Finished;
use crate::layout::{BodyId, around};
use crate::number::decimal;

/// Every step in the order of work.
pub(super) fn steps(finished: &Finished) -> Body {
    let bags = hardware::bags(finished);
    let steps = bags.iter().enumerate().map(|(i, bag)| step(finished, i + 1, bag));
    paragraph(
        "One step after the other; each takes the bag of its number. Parts are called as on their labels and in their drawings. Bolts \
         stay finger tight until what was put together is square. Seen from behind, from the right and from above, boards off each \
         other.",
    ) + steps.collect()
}

fn step(finished: &Finished, number: usize, bag: &Bag) -> Body {
    let pieces: usize = bag.lines.iter().map(|line| line.needed).sum();
    let hardware = format!("Bag {number}: {}.", count(pieces, "piece"));
    let title = format!("{number}. {}", bag.name);
    let Some(body) = bag.built else {
        return heading(&title) + list(&[hardware]);
    };
    let said = [vec![hardware], panels(finished, body), checks(finished, body)].concat();
    let picture = figure("step", picture::body(finished, body), 0.0, (&title, ""), Vec::new());
    Block::Group { class: "build", body: heading(&title) + list(&said) + picture.into() }.into()
}

/// The panels of a body, those alike together.
fn panels(finished: &Finished, body: BodyId) -> Vec<String> {
    let own = finished.kit.panels.iter().filter(|panel| panel.body == body && !panel.role.is_fitted_inside());
    let names: Vec<&str> = own.map(|panel| panel.name.as_str()).collect();
    vec![format!("Panels: {}.", names.join(", "))]
}

/// What a tape says when it is square: both diagonals, seen from above.
fn checks(finished: &Finished, body: BodyId) -> Vec<String> {
    let layout = &finished.kit.layout;
    let drawer = layout.drawers.iter().find(|drawer| drawer.body == body);
    let (length, width) = if let Some(drawer) = drawer {
        (drawer.box_size.2, drawer.box_size.0)
    } else {
        let own = layout.boards.iter().filter(|board| board.body == body && !board.role.is_fitted_inside());
        let size = around(own).size();
        (size.x, size.y)
    };
    vec![
        "Put all bolts in, finger tight.".to_owned(),
        format!(
            "Square: seen from above both diagonals of {} x {} measure {} mm.",
            decimal(width, 1),
            decimal(length, 1),
            decimal(length.hypot(width), 1)
        ),
        "Tighten, the middle of each joint first.".to_owned(),
    ]
}
