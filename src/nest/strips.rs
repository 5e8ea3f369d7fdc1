//! One sheet for a panel saw, with its defects cut out first: one tree of slices for each strip without a defect.
//!
//! Takes rectangles as any room does; every strip can be cut by guillotine cuts, and the strips are cut from the
//! sheet by guillotine cuts. A sheet without defects is one strip.

use super::bin::{Bin, Strip};
use super::problem::Size;
use super::random::Random;
use super::room::{Blink, Fit, Laid, Rect, Room, Score};
use super::slices::{Place, Slices};
use std::sync::Arc;

/// A sheet with rectangles on it that a saw can cut.
#[derive(Clone, Debug)]
pub(super) struct Strips {
    kind: usize,
    places: Arc<[Strip]>,
    /// What lies in each of them.
    slices: Vec<Slices>,
}

impl Room for Strips {
    /// The strip, and the place in it.
    type Place = (usize, Place);

    fn empty(bin: &Bin) -> Self {
        Strips {
            kind: bin.number,
            places: Arc::clone(&bin.strips),
            slices: bin.strips.iter().map(|strip| Slices::empty(strip.rect.size, strip.stages)).collect(),
        }
    }

    fn kind(&self) -> usize {
        self.kind
    }

    fn find(&self, size: Size, fit: Fit, blink: &mut Blink) -> Option<(Score, (usize, Place))> {
        let mut best: Option<(Score, (usize, Place))> = None;
        for (number, strip) in self.slices.iter().enumerate() {
            if let Some((score, place)) = strip.find(size, fit, blink)
                && best.as_ref().is_none_or(|(least, _)| score < *least)
            {
                best = Some((score, (number, place)));
            }
        }
        best
    }

    fn insert(&mut self, item: usize, size: Size, (strip, place): (usize, Place)) {
        self.slices[strip].insert(item, size, place);
    }

    fn neighbours(&self, number: usize, random: &mut Random) -> Vec<usize> {
        match self.slices.as_slice() {
            [] => Vec::new(),
            [only] => only.neighbours(number, random),
            several => several[random.below(several.len())].neighbours(number, random),
        }
    }

    fn remove(&mut self, items: &[usize]) {
        self.slices.iter_mut().for_each(|strip| strip.remove(items));
    }

    fn laid(&self) -> Vec<Laid> {
        let strips = self.slices.iter().zip(self.places.iter());
        strips
            .flat_map(|(strip, place)| {
                strip.laid().into_iter().map(|laid| Laid { rect: moved(laid.rect, place.rect), ..laid })
            })
            .collect()
    }

    fn unused(&self) -> Vec<Rect> {
        let strips = self.slices.iter().zip(self.places.iter());
        strips.flat_map(|(strip, place)| strip.unused().map(|rest| moved(rest, place.rect))).collect()
    }
}

fn moved(rect: Rect, strip: Rect) -> Rect {
    Rect { x: strip.x + rect.x, y: strip.y + rect.y, ..rect }
}
