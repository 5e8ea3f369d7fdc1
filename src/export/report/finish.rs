//! Finishes: what is cut and ordered, and the gaps that they narrow.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::export::finish::{ROLL_STEP, orders};
use crate::export::words;
use crate::finished::Finished;
use crate::joints::coating::{CLEAR, gaps};
use crate::joints::solids::name;
use crate::number::decimal;

/// mm that are left of a gap, from which on it is not worth a line.
const WIDE: f64 = 8.0;

/// Every finish; nothing in a kit without.
pub(super) fn finish(finished: &Finished) -> Body {
    let kit = &finished.kit;
    if kit.coatings.is_empty() {
        return Body::none();
    }
    let mut pieces = Table::new([
        Words("Finish"),
        Words("On panel"),
        Short("Face"),
        Figures("Piece across x up"),
        Figures("Covers m2"),
        Figures("Of it edges m2"),
        Figures("Bare places"),
        Figures("Mass kg"),
    ]);
    for coating in &kit.coatings {
        let [across, up] = coating.piece.map(|length| decimal(length, 1));
        pieces.row([
            coating.coat.name.clone(),
            kit.panel(coating.panel).name.clone(),
            words::face(coating.coat.face_a).to_owned(),
            format!("{across} x {up}"),
            decimal(coating.area() * 1e-6, 3),
            decimal(coating.on_edges * 1e-6, 3),
            coating.bare.len().to_string(),
            decimal(coating.mass(), 3),
        ]);
    }
    let note = "Pieces are seen from before the face they are glued to, up as the panel stands (on a lying panel forward); what \
                goes round free edges is in them. The finish is left off where another panel, an angle, a slide or a fitting bears, \
                or comes nearer than the finish is thick: there wood meets wood or metal. Under bolts' heads and nuts it is \
                pressed together, and the bolts are chosen for that.";
    paragraph(note) + pieces.body() + order(finished) + narrowed(finished)
}

fn order(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("What"),
        Figures("Thickness"),
        Figures("Under bolts"),
        Figures("Faces"),
        Figures("Covers m2"),
        Figures("Roll or sheet, width"),
        Figures("Of it, length"),
        Figures("Mass kg"),
        Figures("Adhesive kg"),
    ]);
    let orders = orders(finished);
    for order in &orders {
        let finish = &order.finish;
        table.row([
            finish.title.clone(),
            decimal(finish.thickness, 1),
            decimal(finish.under_bolt, 1),
            order.pieces.to_string(),
            decimal(order.area * 1e-6, 2),
            finish.roll.map_or_else(String::new, |roll| decimal(roll, 0)),
            order.length.map_or_else(String::new, |length| decimal(length, 0)),
            decimal(order.mass, 2),
            decimal(order.adhesive, 2),
        ]);
    }
    let seams: usize = orders.iter().map(|order| order.seams).sum();
    let seams =
        if seams > 0 { format!(" Wider than the roll, and with a seam: {seams}.") } else { String::new() };
    let note = format!(
        "Lengths are those of the pieces laid in rows across the roll, their up along it, rounded up to {ROLL_STEP} mm. Trimming is \
         not in them.{seams}"
    );
    heading("To order") + paragraph(&note) + table.body()
}

/// The gaps that finishes narrow to a few millimetres.
fn narrowed(finished: &Finished) -> Body {
    let kit = &finished.kit;
    let mut table = Table::new([
        Words("Between"),
        Words("And"),
        Figures("Bare"),
        Figures("Finishes take"),
        Figures("Left"),
    ]);
    let gaps = gaps(kit, WIDE);
    if gaps.is_empty() {
        return Body::none();
    }
    for gap in gaps {
        let taken = gap.taken.into_iter().filter(|mm| *mm > 0.0).map(|mm| decimal(mm, 1));
        table.row([
            kit.panel(kit.coatings[gap.coating].panel).name.clone(),
            name(kit, gap.other),
            decimal(gap.bare, 1),
            taken.collect::<Vec<_>>().join(" + "),
            decimal(gap.left(), 1),
        ]);
    }
    let note = format!(
        "Gaps of which less than {WIDE} mm are left, between parts that move against each other and round lids; {CLEAR} mm must \
         be left."
    );
    heading("Gaps") + paragraph(&note) + table.body()
}
