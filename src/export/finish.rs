//! Finishes to cut and to order: pieces by panel, and what of each roll they take.

use crate::catalogue::Finish;
use crate::finished::Finished;
use crate::joints::coating::Coating;
use std::sync::Arc;

/// mm to which the length of a roll is rounded up.
pub(crate) const ROLL_STEP: f64 = 100.0;

/// What is ordered of one finish.
pub(crate) struct Order {
    /// The finish.
    pub(crate) finish: Arc<Finish>,
    /// Faces that it is on.
    pub(crate) pieces: usize,
    /// mm2 that it covers, edges included.
    pub(crate) area: f64,
    /// mm of the roll; none for what has no roll.
    pub(crate) length: Option<f64>,
    /// How many pieces are wider than the roll either way, and need a seam.
    pub(crate) seams: usize,
    /// kg without adhesive.
    pub(crate) mass: f64,
    /// kg.
    pub(crate) adhesive: f64,
}

/// One for each finish in the kit, by name.
pub(crate) fn orders(finished: &Finished) -> Vec<Order> {
    let mut finishes: Vec<&Arc<Finish>> =
        finished.kit.coatings.iter().map(|coating| &coating.coat.finish).collect();
    finishes.sort_by(|a, b| a.id.cmp(&b.id));
    finishes.dedup_by(|a, b| a.id == b.id);
    finishes.into_iter().map(|finish| order(finished, finish)).collect()
}

fn order(finished: &Finished, finish: &Arc<Finish>) -> Order {
    let own = finished.kit.coatings.iter().filter(|coating| coating.coat.finish.id == finish.id);
    let own: Vec<&Coating> = own.collect();
    let area: f64 = own.iter().map(|coating| coating.area()).sum();
    let laid = finish.roll.map(|roll| off_roll(roll, own.iter().map(|coating| coating.piece)));
    let (mass, adhesive) = finish.masses_of(area);
    Order {
        finish: Arc::clone(finish),
        pieces: own.len(),
        area,
        length: laid.map(|(length, _)| (length / ROLL_STEP - 1e-9).ceil() * ROLL_STEP),
        seams: laid.map_or(0, |(_, seams)| seams),
        mass,
        adhesive,
    }
}

/// mm of a roll that rectangles (across, up) take with their up along it, so that a pile lies one way; and how many are too
/// wide for it, which are turned, or laid in widths of the roll where they are too wide either way. In rows: the longest
/// first, each in the first row with room for it.
fn off_roll(roll: f64, pieces: impl Iterator<Item = [f64; 2]>) -> (f64, usize) {
    let mut seams = 0;
    let mut laid: Vec<[f64; 2]> = Vec::new();
    for [across, up] in pieces {
        if across <= roll {
            laid.push([across, up]);
        } else if up <= roll {
            laid.push([up, across]);
        } else {
            seams += 1;
            let mut left = across;
            while left > roll {
                laid.push([roll, up]);
                left -= roll;
            }
            laid.push([left, up]);
        }
    }
    laid.sort_by(|a, b| b[1].total_cmp(&a[1]).then(b[0].total_cmp(&a[0])));
    // Room left across each row, and its length.
    let mut rows: Vec<[f64; 2]> = Vec::new();
    for [across, up] in laid {
        match rows.iter_mut().find(|row| row[0] >= across) {
            Some(row) => row[0] -= across,
            None => rows.push([roll - across, up]),
        }
    }
    (rows.iter().map(|row| row[1]).sum(), seams)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_lie_in_rows_across_the_roll() {
        // Two of 900 beside each other in 2000, the third in a row of its own with the short one.
        let pieces = [[900.0, 700.0], [900.0, 650.0], [900.0, 700.0], [300.0, 100.0]];
        let (length, seams) = off_roll(2000.0, pieces.into_iter());
        assert!((length - 1350.0).abs() < 1e-9, "{length}");
        assert_eq!(seams, 0);
    }

    #[test]
    fn what_is_too_wide_is_turned_or_gets_a_seam() {
        assert_eq!(off_roll(1000.0, [[1200.0, 400.0]].into_iter()), (1200.0, 0));
        // 1000 and 500 wide, both 1500 long, which do not lie beside each other.
        assert_eq!(off_roll(1000.0, [[1500.0, 1500.0]].into_iter()), (3000.0, 1));
    }
}
