//! Putting the kit together, step by step: what is added, with which bag of hardware, and what to check.

use super::body::{Block, Body, figure, heading, list, paragraph};
use super::pictures::count;
use crate::assembly::Task;
use crate::export::hardware::{self, Bag};
use crate::export::picture;
use crate::finished::Finished;
use crate::joints::{BoltId, Kit};
use crate::layout::{BodyId, around};
use crate::number::decimal;

/// Every step in the order of work.
pub(super) fn steps(finished: &Finished) -> Body {
    let bags = hardware::bags(finished);
    let tasks = finished.assembly.steps.iter().zip(&bags);
    let steps = tasks.enumerate().map(|(i, (task, bag))| step(finished, i + 1, task, bag));
    paragraph(
        "One step after the other; each takes the bag of its number. Parts are called as on their labels and in their drawings. Bolts \
         stay finger tight until what was put together is square. Seen from behind, from the right and from above, boards off each \
         other.",
    ) + steps.collect()
}

fn step(finished: &Finished, number: usize, task: &Task, bag: &Bag) -> Body {
    let pieces: usize = bag.lines.iter().map(|line| line.needed).sum();
    let hardware = format!("Bag {number}: {}.", count(pieces, "piece"));
    let title = format!("{number}. {}", bag.name);
    let Some(body) = task.step.built() else {
        return heading(&title) + list(&[hardware]);
    };
    let said = [vec![hardware], panels(finished, task), checks(finished, body)].concat();
    let picture = figure("step", picture::body(finished, body), 0.0, (&title, ""), Vec::new());
    Block::Group { class: "build", body: heading(&title) + list(&said) + picture.into() }.into()
}

/// The panels in the order in which they go on, and the bolts that one of them would hide.
fn panels(finished: &Finished, task: &Task) -> Vec<String> {
    let kit = &finished.kit;
    let names: Vec<&str> = task.panels.iter().map(|&id| kit.panel(id).name.as_str()).collect();
    let mut said = vec![format!("Panels, in this order: {}.", names.join(", "))];
    said.extend(task.early.iter().map(|early| {
        let before = &kit.panel(early.before).name;
        format!(
            "Tighten before {before} goes on, no tool gets to them later: {}.",
            by_joint(kit, &early.bolts)
        )
    }));
    said
}

/// Bolts in words, those of a joint together.
fn by_joint(kit: &Kit, bolts: &[BoltId]) -> String {
    let parted = bolts.iter().map(|&id| kit.bolt(id).parted_name());
    let mut joints: Vec<(&str, Vec<&str>)> = Vec::new();
    for (joint, number) in parted {
        match joints.iter_mut().find(|(own, _)| *own == joint) {
            Some((_, numbers)) => numbers.push(number),
            None => joints.push((joint, vec![number])),
        }
    }
    let words = joints.into_iter().map(|(joint, numbers)| match numbers.len() {
        1 => format!("bolt {} of {joint}", numbers[0]),
        _ => format!("bolts {} of {joint}", numbers.join(", ")),
    });
    words.collect::<Vec<_>>().join("; ")
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
