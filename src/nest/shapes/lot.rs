//! What is to be laid: shapes in every lie that they may take, and where each may not lie beside another.
//!
//! Takes kinds of shapes with their lies and numbers; gives numbers to the lies and to the pieces to be laid.
//! Lies that look the same (a rectangle turned by half) count once. Never places anything.

use super::forbidden::{Forbidden, Lying};
use super::ring::{Lie, Point, bounds};
use super::shape::Shape;

/// Pieces of one shape.
#[derive(Clone, Debug)]
pub(crate) struct Kind {
    /// What they look like.
    pub shape: Shape,
    /// How each may lie; the first lie that looks a certain way stands for all that do.
    pub lies: Vec<Lie>,
}

/// A shape in one lie.
#[derive(Clone, Debug)]
pub(super) struct Variant {
    /// How it lies.
    pub(super) lie: Lie,
    /// Box around it: lower left corner.
    pub(super) low: [f64; 2],
    /// Upper right corner of the box.
    pub(super) high: [f64; 2],
}

/// The pieces to be laid.
#[derive(Clone, Debug)]
pub(super) struct Lot {
    /// Every lie of every kind.
    pub(super) variants: Vec<Variant>,
    /// For each kind, its lies.
    pub(super) choices: Vec<Vec<usize>>,
    /// The kind of each piece.
    pub(super) kind_of: Vec<usize>,
    /// For each kind, the side of a square of its area, micrometres.
    pub(super) sides: Vec<f64>,
    /// Micrometres between true contours.
    pub(super) gap: f64,
    /// For each pair of lies `a <= b`, where `b` may not lie seen from `a`.
    forbidden: Vec<Forbidden>,
}

/// Sides of forbidden sets that a lot may have in all: 32 bytes each, so a quarter of a gigabyte at most.
const MOST_SIDES: usize = 1 << 23;

impl Lot {
    /// The table for these kinds and pieces, given by their kinds: `gap` micrometres between them, corners of what
    /// is forbidden within `tolerance` micrometres. `None` if the shapes are so many and so finely drawn that the
    /// table would be too large.
    pub(super) fn new(kinds: &[Kind], kind_of: Vec<usize>, gap: i64, tolerance: f64) -> Option<Self> {
        let mut lot = Lot {
            variants: Vec::new(),
            choices: Vec::new(),
            kind_of,
            sides: Vec::new(),
            gap: gap as f64,
            forbidden: Vec::new(),
        };
        let mut lying = Vec::new();
        for kind in kinds {
            let mut choices = Vec::new();
            let mut looks: Vec<Vec<Vec<Point>>> = Vec::new();
            for &lie in &kind.lies {
                let look = look(&kind.shape, lie);
                if looks.contains(&look) {
                    continue;
                }
                looks.push(look);
                choices.push(lying.len());
                let one = lie_down(&kind.shape, lie);
                lot.variants.push(Variant { lie, low: as_f64(one.low), high: as_f64(one.high) });
                lying.push(one);
            }
            lot.choices.push(choices);
            lot.sides.push((kind.shape.doubled_area() as f64 / 2.0).sqrt());
        }
        let mut n_sides = 0;
        // Row after row of a triangle: for each lie, the pairs with itself and those after it.
        for (first, a) in lying.iter().enumerate() {
            for b in &lying[first..] {
                let forbidden = Forbidden::new(a, b, gap, tolerance);
                n_sides += forbidden.n_sides();
                if n_sides > MOST_SIDES {
                    return None;
                }
                lot.forbidden.push(forbidden);
            }
        }
        Some(lot)
    }

    /// The lie of a kind that looks like `lie`.
    pub(super) fn variant(&self, kind: usize, lie: Lie) -> Option<usize> {
        self.choices[kind].iter().copied().find(|&variant| self.variants[variant].lie == lie)
    }

    /// How deep two lying shapes are in each other's way: see [`Forbidden::depth`].
    pub(super) fn depth(&self, a: (usize, f64, f64), b: (usize, f64, f64)) -> f64 {
        let ((a, ax, ay), (b, bx, by)) = (a, b);
        let n = self.variants.len();
        if a <= b {
            self.forbidden[a * (2 * n + 1 - a) / 2 + b - a].depth(bx - ax, by - ay)
        } else {
            self.forbidden[b * (2 * n + 1 - b) / 2 + a - b].depth(ax - bx, ay - by)
        }
    }
}

fn as_f64(p: Point) -> [f64; 2] {
    [p.x as f64, p.y as f64]
}

/// The shape's pieces and box in a lie.
fn lie_down(shape: &Shape, lie: Lie) -> Lying {
    let (a, b) = (lie.apply(shape.low), lie.apply(shape.high));
    Lying {
        pieces: shape.pieces.iter().map(|piece| lie.apply_to(piece)).collect(),
        low: Point { x: a.x.min(b.x), y: a.y.min(b.y) },
        high: Point { x: a.x.max(b.x), y: a.y.max(b.y) },
        slack: shape.slack,
    }
}

/// The shape's rings in a lie, moved to the origin, each from its least corner: equal for lies that look the same.
fn look(shape: &Shape, lie: Lie) -> Vec<Vec<Point>> {
    let rings = std::iter::once(&shape.outline).chain(&shape.openings).map(|ring| lie.apply_to(ring));
    let mut rings: Vec<Vec<Point>> = rings.collect();
    let low = rings.first().and_then(|ring| bounds(ring)).map_or(Point { x: 0, y: 0 }, |(low, _)| low);
    for ring in &mut rings {
        for p in ring.iter_mut() {
            *p = p.minus(low);
        }
        let first = (0..ring.len()).min_by_key(|&i| ring[i]).unwrap_or(0);
        ring.rotate_left(first);
    }
    rings[1..].sort();
    rings
}
