//! What is left of a sheet that is worth keeping.
//!
//! Takes a finished packing with its parts and stock, gives rectangles in millimetres for lists and pictures. Works
//! on the rectangles around the parts, so what it gives is free for certain. Never changes a packing.

use super::bin::{Bin, Reusable};
use super::free_space::unoccupied;
use super::problem::{Size, down, millimetres, up};
use super::room::Rect;
use super::{Clearances, CostBy, Cutting, Part, Settings, Sheet, Stock, Zone};

/// Most pieces of one sheet.
const MOST_PIECES: usize = 6;

impl Sheet {
    /// Rectangles worth keeping, the largest first, as they are once cut off; they do not overlap. For a saw only
    /// what one cut through the whole sheet sets free, on the right and above.
    pub fn offcuts(
        &self,
        parts: &[Part],
        stock: &[Stock],
        clearances: Clearances,
        settings: &Settings,
    ) -> Vec<Zone> {
        let (gap, trim) = (up(clearances.gap).unwrap_or(0).max(0), up(clearances.trim).unwrap_or(0).max(0));
        let Some(kind) = stock.get(self.stock) else { return Vec::new() };
        // That it is used shows that there was one.
        let kind = Stock { quantity: None, ..kind.clone() };
        let Some(bin) = Bin::new(self.stock, &kind, gap, trim, CostBy::Area, usize::MAX) else {
            return Vec::new();
        };
        let mut taken = bin.taken.clone();
        taken.extend(self.placed.iter().filter_map(|placed| {
            let (low, high) = placed.placement.path_to_sheet(&parts.get(placed.part)?.outline).bounds();
            let (x, y) = (down(low.x)?, down(low.y)?);
            let size = Size { width: up(high.x)? - x + gap, height: up(high.y)? - y + gap };
            Some(Rect { x: x - trim, y: y - trim, size })
        }));
        let reusable = Reusable::new(gap, trim, settings.reusable);
        let pieces = match settings.cutting {
            Cutting::Free => anywhere(bin.usable, taken, &reusable),
            Cutting::Guillotine => beyond(bin.usable, &taken, &reusable),
        };
        pieces.into_iter().map(zone).collect()
    }
}

/// The largest piece, then the largest of what that leaves, and so on.
fn anywhere(usable: Size, mut taken: Vec<Rect>, reusable: &Reusable) -> Vec<Rect> {
    let mut pieces = Vec::new();
    while pieces.len() < MOST_PIECES {
        let free = unoccupied(usable, &taken);
        let kept = free.into_iter().filter_map(|free| Some((free, reusable.piece(free, usable)?)));
        let largest = kept.max_by_key(|(free, piece)| (piece.size.area(), free.x, free.y));
        let Some((free, piece)) = largest else { break };
        taken.push(free);
        pieces.push(piece);
    }
    pieces
}

/// What lies to the right of everything and what lies above it, the corner with the one or with the other.
fn beyond(usable: Size, taken: &[Rect], reusable: &Reusable) -> Vec<Rect> {
    let right = taken.iter().map(|rect| rect.right()).max().unwrap_or(0);
    let top = taken.iter().map(|rect| rect.top()).max().unwrap_or(0);
    let beside = |height: i64| Rect { x: right, y: 0, size: Size { width: usable.width - right, height } };
    let above = |width: i64| Rect { x: 0, y: top, size: Size { width, height: usable.height - top } };
    let pieces = |free: [Rect; 2]| -> Vec<Rect> {
        free.into_iter().filter_map(|free| reusable.piece(free, usable)).collect()
    };
    let (first, second) =
        (pieces([beside(usable.height), above(right)]), pieces([above(usable.width), beside(top)]));
    let largest = |pieces: &[Rect]| pieces.iter().map(|piece| piece.size.area()).max();
    if largest(&first) >= largest(&second) { first } else { second }
}

fn zone(rect: Rect) -> Zone {
    Zone {
        x: millimetres(rect.x),
        y: millimetres(rect.y),
        length: millimetres(rect.size.width),
        width: millimetres(rect.size.height),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Effort, Placed, Turns};
    use super::*;
    use crate::geom::{Path, SheetPlacement};

    const CLEARANCES: Clearances = Clearances { gap: 8.0, trim: 10.0 };

    /// 600 x 400 in the lower left corner of 2000 x 1000.
    fn offcuts(cutting: Cutting, defects: Vec<Zone>) -> Vec<Zone> {
        let part = Part {
            name: "a".to_owned(),
            outline: Path::rectangle(0.0, 0.0, 600.0, 400.0),
            openings: vec![],
            turns: Turns::Fixed,
            either_face: false,
        };
        let stock = [Stock { length: 2000.0, width: 1000.0, defects, ..Stock::default() }];
        let placement = SheetPlacement { x: 10.0, y: 10.0, angle: 0.0, flipped: false };
        let sheet = Sheet { stock: 0, placed: vec![Placed { part: 0, placement }] };
        let settings = Settings { cutting, effort: Effort::ordinary(1), ..Settings::ordinary(1) };
        sheet.offcuts(&[part], &stock, CLEARANCES, &settings)
    }

    fn zone(x: f64, y: f64, length: f64, width: f64) -> Zone {
        Zone { x, y, length, width }
    }

    #[test]
    fn pieces_reach_from_the_tools_path_to_the_sheets_own_edge() {
        // Beside the part, from 610 + 8, over the whole width; above it, from 410 + 8, up to the cut at 618 - 8.
        let wanted = [zone(618.0, 0.0, 1382.0, 1000.0), zone(0.0, 418.0, 610.0, 582.0)];
        assert_eq!(offcuts(Cutting::Free, vec![]), wanted);
        assert_eq!(offcuts(Cutting::Guillotine, vec![]), wanted);
    }

    #[test]
    fn pieces_have_no_defect_in_them() {
        let found = offcuts(Cutting::Free, vec![zone(1500.0, 0.0, 100.0, 200.0)]);
        // Above both, 1000 - 418 wide over the whole length, is more than beside the defect.
        assert_eq!(found[0], zone(0.0, 418.0, 2000.0, 582.0));
        // A saw cuts once through the sheet: beyond the defect, or above the part.
        let found = offcuts(Cutting::Guillotine, vec![zone(1500.0, 0.0, 100.0, 200.0)]);
        assert_eq!(found, [zone(0.0, 418.0, 2000.0, 582.0)]);
    }
}
