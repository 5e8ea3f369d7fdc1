//! Cells without a deck over them: the deck is cut out there, from the fronts on.
//!
//! Takes the carcase's cells before any board between them stands, since what meets the deck meets what is left of it.

use super::board::{BoardId, Role};
use super::carcase::{Builder, Materials, UP};
use super::divide;
use super::rules::OPEN_TOP_UNCLEAR;
use super::shell::Hull;
use crate::diag::{Finding, Findings, Span};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3};
use crate::number::decimal;
use crate::spec::{Cell, Content};

/// mm of deck that must stay between an open top and its end, if it does not go all the way.
const LEAST_LEFT: f64 = 60.0;

/// A stretch of the deck's rear edge that is cut away.
#[derive(Clone, Copy, Debug)]
pub(super) struct Top {
    /// mm, y of the cell's right and left wall.
    y: (f64, f64),
    /// mm, x up to which the deck is cut; `None` for all of it.
    to: Option<f64>,
    span: Span,
}

impl Builder<'_> {
    /// The open tops of a carcase whose inside is `inside`, right to left. `None` if one is over no column or row that
    /// touches the deck.
    pub(super) fn open_tops(&mut self, m: &Materials, inside: Aabb) -> Option<Vec<Top>> {
        let mut tops = Vec::new();
        let mut astray = Vec::new();
        collect(&self.carcase.cell, (inside, m.dividers.actual), true, &mut tops, &mut astray);
        for span in &astray {
            let finding =
                Finding::new(&OPEN_TOP_UNCLEAR, *span, "another cell lies between this one and the deck");
            let help = "`open_top` is for columns, and for the uppermost of rows";
            self.findings.push(finding.on(&self.carcase.id.value).help(help));
        }
        tops.sort_by(|a: &Top, b: &Top| a.y.0.total_cmp(&b.y.0));
        astray.is_empty().then_some(tops)
    }

    /// The deck, cut out under its open tops.
    pub(super) fn deck(
        &mut self,
        m: &Materials,
        hull: &Hull<'_>,
        inside: Aabb,
        tops: &[Top],
    ) -> Option<BoardId> {
        let mut aabb = hull.whole(hull.end(hull.z1), (inside.high.z, hull.z1));
        let mut steps: Vec<(f64, f64, f64)> = Vec::new();
        for top in tops {
            // What would stay beside a cell at the carcase's side bears on nothing.
            let low = if top.y.0 <= inside.low.y + SAME_LENGTH { aabb.low.y } else { top.y.0 };
            let high = if top.y.1 >= inside.high.y - SAME_LENGTH { aabb.high.y } else { top.y.1 };
            let (at_right, at_left) = (low <= aabb.low.y + SAME_LENGTH, high >= aabb.high.y - SAME_LENGTH);
            match top.to {
                Some(to) if to < aabb.high.x - LEAST_LEFT && to > aabb.low.x => steps.push((low, high, to)),
                None if at_right && !at_left => aabb.low.y = high,
                None if at_left && !at_right => aabb.high.y = low,
                _ => return self.no_deck_left(top, aabb),
            }
        }
        // A top over the whole width only makes the deck shorter.
        if let [(low, high, to)] = steps[..]
            && low <= aabb.low.y + SAME_LENGTH
            && high >= aabb.high.y - SAME_LENGTH
        {
            aabb.low.x = to;
            steps.clear();
        }
        if let Some(top) = tops.first().filter(|_| aabb.size().y < LEAST_LEFT) {
            return self.no_deck_left(top, aabb);
        }
        if steps.is_empty() {
            return Some(self.add("deck", Role::Deck, &m.deck, aabb, UP, true));
        }
        // From the rear right corner along the rear edge, then back along the front edge.
        let mut corners = Vec::new();
        let mut y = aabb.low.y;
        for (low, high, to) in steps {
            if low > y + SAME_LENGTH {
                corners.extend([(aabb.low.x, y), (aabb.low.x, low)]);
            }
            corners.extend([(to, low), (to, high)]);
            y = high;
        }
        if y < aabb.high.y - SAME_LENGTH {
            corners.extend([(aabb.low.x, y), (aabb.low.x, aabb.high.y)]);
        }
        corners.extend([(aabb.high.x, aabb.high.y), (aabb.high.x, aabb.low.y)]);
        let corners = corners.into_iter().map(|(x, y)| Point3::new(x, y, aabb.low.z));
        Some(self.add_shaped("deck", Role::Deck, &m.deck, aabb, (UP, true), corners))
    }

    fn no_deck_left(&mut self, top: &Top, deck: Aabb) -> Option<BoardId> {
        let most = deck.size().x - LEAST_LEFT;
        let message = match top.to {
            Some(to) => format!(
                "an open top of {} mm leaves less than {LEAST_LEFT} mm of the deck",
                decimal(to - deck.low.x, 1)
            ),
            None => "the deck would fall apart, or nothing of it would be left".to_owned(),
        };
        let help = format!("give it a `depth` of {} mm at most", decimal(most, 1));
        let finding = Finding::new(&OPEN_TOP_UNCLEAR, top.span, message);
        self.findings.push(finding.on(&self.carcase.id.value).help(help));
        None
    }
}

/// The open tops among the cells of `room`, and those that do not lie under the deck.
fn collect(
    cell: &Cell,
    (room, divider): (Aabb, f64),
    under_deck: bool,
    tops: &mut Vec<Top>,
    astray: &mut Vec<Span>,
) {
    if let Some(open) = cell.open_top {
        let to = open.depth.map(|depth| room.low.x + depth.value);
        let top = Top { y: (room.low.y, room.high.y), to, span: open.span };
        if under_deck { tops.push(top) } else { astray.push(open.span) }
    }
    match &cell.content {
        Content::Columns(cells) => {
            // Faults of the sizes are told where the cells are laid out.
            let boards = divider * (cells.len() - 1) as f64;
            let widths =
                divide::openings(&mut Findings::default(), "", room.size().y, boards, cells, cell.span);
            let mut y = room.high.y;
            for (cell, width) in cells.iter().zip(widths.unwrap_or_default()) {
                let mut part = room;
                (part.low.y, part.high.y) = (y - width, y);
                y -= width + divider;
                collect(cell, (part, divider), under_deck, tops, astray);
            }
        }
        Content::Rows(cells) => {
            for (i, cell) in cells.iter().enumerate() {
                collect(cell, (room, divider), under_deck && i == 0, tops, astray);
            }
        }
        Content::Drawer(_) | Content::Door(_) | Content::Open | Content::Blank => {}
    }
}
