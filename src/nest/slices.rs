//! One sheet for a panel saw: a tree of slices, so that whatever is laid can be cut from edge to edge.
//!
//! Takes rectangles one by one and gives them up again; every state can be cut by guillotine cuts, because a
//! node of the tree is a piece that was cut in one direction into its children.
//!
//! The tree holds no free pieces: a node is as small as its children let it be, and what a sheet has to spare
//! follows from the sizes. So free room always lies together, as if its pieces had been pushed into one; places
//! are worked out at the end. The representation is our own; slicing trees are those of Wong and Liu (1986), from
//! memory.

use super::problem::Size;
use super::random::Random;
use super::room::{Blink, Fit, Laid, Rect, Score};

/// In which direction a node's children stand side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Along {
    /// From left to right: the cuts between them run up the sheet.
    Width,
    /// From the bottom up.
    Height,
}

impl Along {
    fn other(self) -> Along {
        match self {
            Along::Width => Along::Height,
            Along::Height => Along::Width,
        }
    }

    /// The size as if the direction were the width.
    fn view(self, size: Size) -> Size {
        match self {
            Along::Width => size,
            Along::Height => size.turned(),
        }
    }
}

/// A piece: one rectangle, or several children cut from it in one direction.
#[derive(Clone, Debug)]
enum Piece {
    /// One of the rectangles.
    Leaf(usize),
    /// Children, lowest across first; never fewer than two, none of them cut in the same direction.
    Cut(Along, Vec<Node>),
}

#[derive(Clone, Debug)]
struct Node {
    /// The least size that holds it.
    size: Size,
    piece: Piece,
}

/// A sheet with rectangles on it that a saw can cut.
#[derive(Clone, Debug)]
pub(super) struct Slices {
    bin: Size,
    root: Option<Node>,
}

/// A place in the tree: beside or above some of a node's children, or the whole node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    /// Index of the node, counted as the tree is walked, parents first.
    node: usize,
    /// How many of its children, from the first, the rectangle is put against; 0 for all of the node.
    children: usize,
    /// The direction in which the rectangle stands beside them.
    along: Along,
}

impl Slices {
    /// An empty sheet.
    pub(super) fn empty(bin: Size) -> Self {
        Slices { bin, root: None }
    }

    /// As [`Room::find`](super::room::Room::find).
    pub(super) fn find(&self, size: Size, fit: Fit, blink: &mut Blink) -> Option<(Score, Place)> {
        let Some(root) = &self.root else {
            // An empty sheet has one place, and it is no better in one sheet than in another.
            let place = Place { node: 0, children: 0, along: Along::Width };
            let spare = |along: Along| {
                score(fit, along.view(self.bin), Size { width: 0, height: 0 }, along.view(size))
            };
            return size.within(self.bin).then(|| (spare(Along::Width).min(spare(Along::Height)), place));
        };
        let mut finding = Finding { size, fit, blink, next: 0, best: None };
        finding.visit(root, self.bin, None);
        finding.best
    }

    /// As [`Room::insert`](super::room::Room::insert).
    pub(super) fn insert(&mut self, item: usize, size: Size, place: Place) {
        let leaf = Node { size, piece: Piece::Leaf(item) };
        match &mut self.root {
            None => self.root = Some(leaf),
            Some(root) => {
                put(root, &mut 0, place, &mut Some(leaf));
            }
        }
    }

    /// By halves, those that lie around one of them and those of one piece of the tree.
    pub(super) fn neighbours(&self, number: usize, random: &mut Random) -> Vec<usize> {
        if random.chance(1, 2) {
            return super::room::around_one(&self.laid(), number, random);
        }
        let Some(mut node) = self.root.as_ref() else { return Vec::new() };
        // Down the tree at random until a piece has no more than that many.
        while count(node) > number.max(1) {
            let Piece::Cut(_, children) = &node.piece else { break };
            node = &children[random.below(children.len())];
        }
        let mut items = Vec::new();
        lay(node, 0, 0, &mut |laid| items.push(laid.item));
        items
    }

    /// As [`Room::remove`](super::room::Room::remove).
    pub(super) fn remove(&mut self, items: &[usize]) {
        self.root = self.root.take().and_then(|root| without(root, items));
    }

    /// As [`Room::laid`](super::room::Room::laid).
    pub(super) fn laid(&self) -> Vec<Laid> {
        let mut laid = Vec::new();
        if let Some(root) = &self.root {
            lay(root, 0, 0, &mut |one| laid.push(one));
        }
        laid
    }

    /// What one cut through the whole sheet sets free: beside what is laid, or above it.
    pub(super) fn rests(&self) -> [Rect; 2] {
        let used = self.root.as_ref().map_or(Size { width: 0, height: 0 }, |root| root.size);
        let beside = Size { width: self.bin.width - used.width, ..self.bin };
        let above = Size { height: self.bin.height - used.height, ..self.bin };
        [Rect { x: used.width, y: 0, size: beside }, Rect { x: 0, y: used.height, size: above }]
    }
}

/// A search for a place on one sheet.
struct Finding<'a, 'b> {
    size: Size,
    fit: Fit,
    blink: &'a mut Blink<'b>,
    /// The number of the next node.
    next: usize,
    best: Option<(Score, Place)>,
}

impl Finding<'_, '_> {
    /// Looks at a node that may grow to `room`, and at everything in it. `inside` is the direction in which the
    /// parent is cut: to stand beside this node in that direction is to stand in the parent.
    fn visit(&mut self, node: &Node, room: Size, inside: Option<Along>) {
        let number = self.next;
        self.next += 1;
        for along in [Along::Width, Along::Height] {
            if inside != Some(along) {
                let place = Place { node: number, children: 0, along };
                self.offer(along.view(node.size), along.view(room), place);
            }
        }
        let Piece::Cut(along, children) = &node.piece else { return };
        let (own, room) = (along.view(node.size), along.view(room));
        let spare = room.width - own.width;
        let mut together = Size { width: 0, height: 0 };
        for (before, child) in children.iter().enumerate() {
            if before >= 2 {
                let place = Place { node: number, children: before, along: along.other() };
                let grown = Size { width: together.width + spare, height: room.height };
                self.offer(together.turned(), grown.turned(), place);
            }
            let size = along.view(child.size);
            together = Size { width: together.width + size.width, height: size.height };
            let grown = Size { width: size.width + spare, height: room.height };
            self.visit(child, along.view(grown), Some(*along));
        }
    }

    /// A place beside something of the size `base` in a piece that may grow to `room`, both seen with the
    /// direction as the width.
    fn offer(&mut self, base: Size, room: Size, place: Place) {
        let size = place.along.view(self.size);
        if base.width + size.width > room.width || size.height > room.height || self.blink.blinks() {
            return;
        }
        let score = score(self.fit, room, base, size);
        if self.best.as_ref().is_none_or(|(least, _)| score < *least) {
            self.best = Some((score, place));
        }
    }
}

/// How well a rectangle goes beside `base` in `room`, seen with their direction as the width: what stays free
/// beyond it, and by how much its side differs from that of its neighbour or of the room.
fn score(fit: Fit, room: Size, base: Size, size: Size) -> Score {
    let beyond = room.width - base.width - size.width;
    let step = size.height - base.height;
    let uneven = step.abs().min(room.height - size.height);
    // Areas are below 1e18 square micrometres (a square kilometre).
    let lost = if step > 0 { step * base.width } else { -step * size.width };
    match fit {
        Fit::ShortSide => (beyond.min(uneven), beyond.max(uneven), lost, 0),
        Fit::Area => (lost, beyond, uneven, 0),
        Fit::Low => (uneven, beyond, lost, 0),
        Fit::Left => (beyond, uneven, lost, 0),
    }
}

/// Puts the leaf in its place at or below the node; true once it is there.
fn put(node: &mut Node, next: &mut usize, place: Place, leaf: &mut Option<Node>) -> bool {
    let number = *next;
    *next += 1;
    if number == place.node {
        if let Some(leaf) = leaf.take() {
            put_here(node, place, leaf);
        }
        return true;
    }
    let Piece::Cut(_, children) = &mut node.piece else { return false };
    let there = children.iter_mut().any(|child| put(child, next, place, leaf));
    if there {
        settle(node);
    }
    there
}

fn put_here(node: &mut Node, place: Place, leaf: Node) {
    match &mut node.piece {
        Piece::Cut(along, children) if place.children > 0 => {
            let some: Vec<Node> = children.drain(..place.children).collect();
            let mut group = Node { size: leaf.size, piece: Piece::Cut(*along, some) };
            settle(&mut group);
            let mut both = Node { size: leaf.size, piece: Piece::Cut(place.along, vec![group, leaf]) };
            settle(&mut both);
            children.push(both);
        }
        Piece::Cut(along, children) if *along == place.along => children.push(leaf),
        _ => {
            let empty = Node { size: leaf.size, piece: Piece::Cut(place.along, Vec::new()) };
            let old = std::mem::replace(node, empty);
            node.piece = Piece::Cut(place.along, vec![old, leaf]);
        }
    }
    settle(node);
}

/// Puts a node's children in order and its size right.
fn settle(node: &mut Node) {
    let Piece::Cut(along, children) = &mut node.piece else { return };
    children.sort_by_key(|child| along.view(child.size).height);
    let width = children.iter().map(|child| along.view(child.size).width).sum();
    let height = children.last().map_or(0, |child| along.view(child.size).height);
    node.size = along.view(Size { width, height });
}

/// The node without these rectangles; none if nothing is left of it.
fn without(mut node: Node, items: &[usize]) -> Option<Node> {
    match node.piece {
        Piece::Leaf(item) => (!items.contains(&item)).then_some(node),
        Piece::Cut(along, children) => {
            let mut kept = Vec::with_capacity(children.len());
            for child in children.into_iter().filter_map(|child| without(child, items)) {
                match child.piece {
                    Piece::Cut(other, grandchildren) if other == along => kept.extend(grandchildren),
                    _ => kept.push(child),
                }
            }
            if kept.len() < 2 {
                return kept.pop();
            }
            node.piece = Piece::Cut(along, kept);
            settle(&mut node);
            Some(node)
        }
    }
}

fn count(node: &Node) -> usize {
    match &node.piece {
        Piece::Leaf(_) => 1,
        Piece::Cut(_, children) => children.iter().map(count).sum(),
    }
}

/// Gives every rectangle of the node its place, the node's lower left corner being at (x, y).
fn lay(node: &Node, mut x: i64, mut y: i64, give: &mut impl FnMut(Laid)) {
    match &node.piece {
        Piece::Leaf(item) => give(Laid { item: *item, rect: Rect { x, y, size: node.size } }),
        Piece::Cut(along, children) => {
            // The tallest first: what is free then lies at the upper right.
            for child in children.iter().rev() {
                lay(child, x, y, give);
                match along {
                    Along::Width => x += child.size.width,
                    Along::Height => y += child.size.height,
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FITS: [Fit; 4] = [Fit::ShortSide, Fit::Left, Fit::Low, Fit::Area];

    fn size(width: i64, height: i64) -> Size {
        Size { width, height }
    }

    #[test]
    fn what_is_free_lies_together_after_a_removal() {
        // Four columns of 3 on 12; without the first and the third, 6 are free in one piece.
        let mut sheet = Slices::empty(size(12, 5));
        for item in 0..4 {
            let (_, place) = sheet.find(size(3, 5), Fit::Left, &mut Blink::Never).unwrap();
            sheet.insert(item, size(3, 5), place);
        }
        assert!(sheet.find(size(1, 1), Fit::Left, &mut Blink::Never).is_none());
        sheet.remove(&[0, 2]);
        assert_eq!(sheet.rests()[0].size.area(), 30);
        assert!(sheet.find(size(6, 5), Fit::Left, &mut Blink::Never).is_some());
    }

    #[test]
    fn several_children_carry_what_one_alone_cannot() {
        let mut sheet = Slices::empty(size(10, 10));
        for (item, one) in [size(4, 10), size(3, 5), size(3, 6)].into_iter().enumerate() {
            let (_, place) = sheet.find(one, Fit::Low, &mut Blink::Never).unwrap();
            sheet.insert(item, one, place);
        }
        // The two low ones do not go on each other; above both, 6 x 4 is free.
        let (_, place) = sheet.find(size(6, 4), Fit::Area, &mut Blink::Never).unwrap();
        sheet.insert(3, size(6, 4), place);
        assert_eq!(sheet.laid().len(), 4);
    }

    /// Nothing outside the sheet, no overlaps, and the tree as its description says.
    fn assert_sound(sheet: &Slices, items: &[usize]) {
        let laid = sheet.laid();
        let mut found: Vec<usize> = laid.iter().map(|one| one.item).collect();
        found.sort_unstable();
        assert_eq!(found, items);
        let whole = Rect { x: 0, y: 0, size: sheet.bin };
        assert!(laid.iter().all(|one| whole.contains(one.rect)), "{laid:?}");
        for (i, one) in laid.iter().enumerate() {
            assert!(laid[i + 1..].iter().all(|other| !other.rect.overlaps(one.rect)), "{laid:?}");
        }
        sheet.root.iter().for_each(assert_tree);
    }

    fn assert_tree(node: &Node) {
        let Piece::Cut(along, children) = &node.piece else { return };
        assert!(children.len() >= 2);
        for child in children {
            assert!(!matches!(child.piece, Piece::Cut(other, _) if other == *along), "{node:?}");
            assert_tree(child);
        }
    }

    proptest! {
        #[test]
        fn sheets_stay_sound_while_rectangles_come_and_go(
            sizes in prop::collection::vec((1_i64..7, 1_i64..7), 1..30), seed in any::<u64>(),
        ) {
            let mut random = Random::new(seed);
            let mut sheet = Slices::empty(size(13, 11));
            let mut items: Vec<usize> = Vec::new();
            for (item, &(width, height)) in sizes.iter().enumerate() {
                if let Some((_, place)) = sheet.find(size(width, height), FITS[item % 4], &mut Blink::Never) {
                    sheet.insert(item, size(width, height), place);
                    items.push(item);
                }
                assert_sound(&sheet, &items);
                if random.chance(1, 4) {
                    let gone = sheet.neighbours(1 + random.below(4), &mut random);
                    sheet.remove(&gone);
                    items.retain(|item| !gone.contains(item));
                    assert_sound(&sheet, &items);
                }
            }
        }
    }
}
