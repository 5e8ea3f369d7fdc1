//! Tie-downs: where they are, what one strap from each holds.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, paragraph};
use crate::export::words;
use crate::finished::Finished;
use crate::layout::RESTRAINT_CASES;
use crate::number::decimal;

/// Every tie-down; nothing in a kit without.
pub(super) fn tie_downs(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    if layout.tie_downs.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Tie-down"),
        Words("What"),
        Words("On panel"),
        Figures("Number"),
        Words("Middle of the first"),
        Figures("Spreader"),
        Figures("Rating N"),
        Figures("Strap degrees"),
        Figures("Forward kg"),
        Figures("Rearward kg"),
        Figures("Sideways kg"),
        Figures("Up kg"),
    ]);
    for one in &layout.tie_downs {
        let cells = [
            one.name.clone(),
            one.title.clone(),
            layout.board(one.host).name.clone(),
            one.middles.len().to_string(),
            words::place(one.middles.first().copied().unwrap_or_default()),
            one.spreader.map(|mm| decimal(mm, 1)).join(" x "),
            decimal(one.rating, 0),
            decimal(one.strap_angle, 1),
        ];
        // Rounded down: never more than was worked out.
        let masses = one.masses().map(|mass| decimal(mass.floor(), 0));
        let mut cells = cells.into_iter().chain(masses);
        table.row(std::array::from_fn::<_, 12, _>(|_| cells.next().unwrap_or_default()));
    }
    let cases: Vec<String> =
        RESTRAINT_CASES.iter().map(|case| format!("{} g {}", case.share, case.way)).collect();
    let note = format!(
        "kg that one strap from one point holds when it pulls directly against {}, at its angle to the panel and up to the \
         rating of the point; the strap must bear as much. Of a strap only the part along the panel, or off it, works in a \
         direction, and only one way: every direction needs straps of its own. The wood under the spreader is not worked out \
         here. Friction is left out. These cases are hard braking and cornering, not a crash: see the cautions.",
        cases.join(", ")
    );
    paragraph(&note) + table.body()
}
