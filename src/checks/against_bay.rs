//! Every solid of a kit against the surfaces of its bay: what both rules about the bay go by.
//!
//! A panel is named for each surface that it reaches into. Angles, slides, heads and nuts are named only where they
//! reach deeper than every panel that they move with, and then the deepest of them stands for the others.

use crate::bay::{Overlap, Surface, place};
use crate::diag::{Finding, Rule};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::joints::solids::{Part, Solid, body, name, span};
use crate::layout::{BodyId, Role};
use crate::number::decimal;
use std::collections::BTreeMap;

/// A part in a surface.
pub(super) struct Reaching<'a> {
    /// Which part.
    part: Part,
    /// In what.
    pub(super) surface: &'a Surface,
    /// How deep and where.
    pub(super) overlap: Overlap,
    /// How many further parts of the same body it stands for.
    others: usize,
}

/// What reaches into the surfaces, by surface and body; panels before what is bolted to them.
pub(super) fn reaching<'a>(finished: &Finished, surfaces: &'a [Surface]) -> Vec<Reaching<'a>> {
    let solids: Vec<Solid> =
        finished.kit.solids().iter().filter(|solid| !matches!(solid.part, Part::Shank(_))).cloned().collect();
    let mut found = Vec::new();
    for surface in surfaces {
        let mut bodies: BTreeMap<BodyId, Vec<(Part, Overlap)>> = BTreeMap::new();
        for solid in &solids {
            if let Some(overlap) = surface.overlap(&solid.plate, solid.aabb) {
                bodies.entry(solid.body).or_default().push((solid.part, overlap));
            }
        }
        for parts in bodies.into_values() {
            of_body(&mut found, surface, parts);
        }
    }
    found
}

fn of_body<'a>(found: &mut Vec<Reaching<'a>>, surface: &'a Surface, parts: Vec<(Part, Overlap)>) {
    let (panels, fittings): (Vec<_>, Vec<_>) =
        parts.into_iter().partition(|(part, _)| matches!(part, Part::Panel(_)));
    let of_panels = panels.iter().map(|(_, overlap)| overlap.depth).fold(0.0, f64::max);
    found.extend(panels.into_iter().map(|(part, overlap)| Reaching { part, surface, overlap, others: 0 }));
    let deeper: Vec<_> =
        fittings.into_iter().filter(|(_, overlap)| overlap.depth > of_panels + TOUCH).collect();
    let others = deeper.len().saturating_sub(1);
    // `max_by` keeps the last of equals; the first is the nearer to the spec's order.
    if let Some((part, overlap)) = deeper.into_iter().rev().max_by(|a, b| a.1.depth.total_cmp(&b.1.depth)) {
        found.push(Reaching { part, surface, overlap, others });
    }
}

impl Reaching<'_> {
    /// Whether it is a panel.
    pub(super) fn is_panel(&self) -> bool {
        matches!(self.part, Part::Panel(_))
    }

    /// The same for the same part and surface.
    pub(super) fn key(&self, finished: &Finished) -> String {
        format!("{} in {}", name(&finished.kit, self.part), self.surface.name)
    }

    /// A finding about it. `reach` says how far, e.g. `reaches 5.4 mm into the seat back`; `move_by` mm cure it.
    pub(super) fn finding(
        &self,
        rule: &'static Rule,
        finished: &Finished,
        reach: &str,
        move_by: f64,
    ) -> Finding {
        let on = name(&finished.kit, self.part);
        let others = match self.others {
            0 => String::new(),
            1 => "; one more part like it does, too".to_owned(),
            n => format!("; {n} more parts like it do, too"),
        };
        let message = format!("`{on}` {reach}, {}{others}", place(self.overlap.at));
        let (towards, smaller) = match self.overlap.out.to_array() {
            [x, _, _] if x < 0.0 => ("rearward", "less deep"),
            [x, _, _] if x > 0.0 => ("forward", "less deep"),
            [_, y, _] if y > 0.0 => ("to the left", "narrower"),
            [_, y, _] if y < 0.0 => ("to the right", "narrower"),
            [_, _, z] if z > 0.0 => ("up", "less high"),
            _ => ("down", "less high"),
        };
        // Rounded up, so that what is advised is enough.
        let by = decimal((move_by * 10.0).ceil() / 10.0, 1);
        let kit = &finished.kit;
        let role = match self.part {
            Part::Panel(id) => Some(kit.panel(id).role),
            _ => None,
        };
        let wing = role.is_some_and(Role::is_fitted_inside);
        let help = if matches!(self.part, Part::Coat(_)) {
            format!("move it {by} mm {towards} (`at:`), or leave the finish off there (`faces`, `wrap`)")
        } else if wing {
            format!(
                "it must come {by} mm {towards}: measure there again, or change `points`, `clearance`, `top` or the hatch"
            )
        } else if role == Some(Role::Floor) {
            format!("it must come {by} mm {towards}: change `from`, `to`, `width` or `y` of the floor")
        } else {
            format!("move it {by} mm {towards} (`at:`), or make the carcase as much {smaller}")
        };
        let id = &kit.layout.body(body(kit, self.part)).carcase;
        let carcase = finished.design.carcases.iter().find(|carcase| &carcase.id.value == id && !wing);
        let own = span(&finished.kit, self.part);
        let at = carcase.filter(|_| !matches!(self.part, Part::Coat(_))).map_or(own, |carcase| carcase.span);
        let note = format!("{} is given here", self.surface.name);
        Finding::new(rule, at, message).on(on).also(self.surface.span, note).help(help)
    }
}
