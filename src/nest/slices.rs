//! One sheet for a panel saw: a tree of slices, so that whatever is laid can be cut from edge to edge.
//!
//! Takes rectangles one by one and gives them up again; every state can be cut by guillotine cuts, because a
//! node of the tree is a piece that was cut in one direction into its children. A level of the tree is a stage of
//! cuts, and no place is offered that would need more stages than are allowed.
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
    /// Stages of cuts that part everything in it once it is cut out to its size, the trimming of what is lower than
    /// its neighbours included; 0 for a rectangle.
    stages: usize,
    piece: Piece,
}

/// A sheet with rectangles on it that a saw can cut.
#[derive(Clone, Debug)]
pub(super) struct Slices {
    bin: Size,
    /// Most stages of cuts. At least two, so that a rectangle can be cut out of the sheet at all.
    stages: usize,
    root: Option<Node>,
}

/// A rectangle smaller than the sheet both ways is cut out by cuts both ways.
pub(super) const LEAST_STAGES: usize = 2;

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
    /// An empty sheet, to be cut in so many stages at most.
    pub(super) fn empty(bin: Size, stages: usize) -> Self {
        Slices { bin, stages: stages.max(LEAST_STAGES), root: None }
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
        let mut finding = Finding { size, fit, blink, stages: self.stages, next: 0, best: None };
        finding.visit(root, self.bin, None, 1);
        finding.best
    }

    /// As [`Room::insert`](super::room::Room::insert).
    pub(super) fn insert(&mut self, item: usize, size: Size, place: Place) {
        let leaf = Node { size, stages: 0, piece: Piece::Leaf(item) };
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
        lay(node, (0, 0), First::Highest, &mut |laid| items.push(laid.item));
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
            let first = if self.stages < usize::MAX { First::Widest } else { First::Highest };
            lay(root, (0, 0), first, &mut |one| laid.push(one));
        }
        laid
    }

    /// What one cut through the whole sheet sets free, beside what is laid and above it: in the direction of the first
    /// stage, and in the other if there may be one more stage before that.
    pub(super) fn unused(&self) -> [Rect; 2] {
        let used = self.root.as_ref().map_or(Size { width: 0, height: 0 }, |root| root.size);
        let free = |along: Along| {
            let (bin, used) = (along.view(self.bin), along.view(used));
            let reachable = self.root.as_ref().is_none_or(|root| {
                let one_more = matches!(root.piece, Piece::Cut(first, _) if first != along);
                root.stages + usize::from(one_more) <= self.stages
            });
            let width = if reachable { bin.width - used.width } else { 0 };
            along.view(Size { width, ..bin })
        };
        let [beside, above] = [Along::Width, Along::Height].map(free);
        [Rect { x: used.width, y: 0, size: beside }, Rect { x: 0, y: used.height, size: above }]
    }
}

/// A search for a place on one sheet.
struct Finding<'a, 'b> {
    size: Size,
    fit: Fit,
    blink: &'a mut Blink<'b>,
    /// Most stages of cuts.
    stages: usize,
    /// The number of the next node.
    next: usize,
    best: Option<(Score, Place)>,
}

impl Finding<'_, '_> {
    /// Looks at a node that may grow to `room`, and at everything in it. `inside` is the direction in which the
    /// parent is cut: to stand beside this node in that direction is to stand in the parent. `stage` is that of the
    /// cuts in this node.
    fn visit(&mut self, node: &Node, room: Size, inside: Option<Along>, stage: usize) {
        let number = self.next;
        self.next += 1;
        for along in [Along::Width, Along::Height] {
            if inside != Some(along) && self.allows(node, along, stage) {
                let place = Place { node: number, children: 0, along };
                self.offer(along.view(node.size), along.view(room), place);
            }
        }
        let Piece::Cut(along, children) = &node.piece else { return };
        let (own, room) = (along.view(node.size), along.view(room));
        let spare = room.width - own.width;
        let mut together = Size { width: 0, height: 0 };
        let mut group = Group::default();
        for (before, child) in children.iter().enumerate() {
            if before >= 2 && stage + 1 + group.stages(together.height) <= self.stages {
                let place = Place { node: number, children: before, along: along.other() };
                let grown = Size { width: together.width + spare, height: room.height };
                self.offer(together.turned(), grown.turned(), place);
            }
            let size = along.view(child.size);
            group.take(child, size.height);
            together = Size { width: together.width + size.width, height: size.height };
            let grown = Size { width: size.width + spare, height: room.height };
            self.visit(child, along.view(grown), Some(*along), stage + 1);
        }
    }

    /// Whether the rectangle may stand beside the node in this direction, parted from it by cuts of the given stage:
    /// in the last one both must come out as high as they are, and a node that is cut the other way moves one stage
    /// down with all that is in it.
    fn allows(&self, node: &Node, along: Along, stage: usize) -> bool {
        match node.piece {
            Piece::Cut(other, _) if other != along => stage + node.stages <= self.stages,
            _ => {
                let even = along.view(node.size).height == along.view(self.size).height;
                stage < self.stages || (stage == self.stages && even)
            }
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

/// The first children of a node, as a piece of their own.
#[derive(Debug, Default)]
struct Group {
    /// Most stages that one of them needs.
    deepest: usize,
    /// Height of the lowest that is a rectangle.
    lowest: Option<i64>,
}

impl Group {
    /// One child more, no lower than those before it.
    fn take(&mut self, child: &Node, height: i64) {
        self.deepest = self.deepest.max(child.stages);
        if matches!(child.piece, Piece::Leaf(_)) {
            self.lowest = self.lowest.or(Some(height));
        }
    }

    /// Stages that part all of them, the highest being so high.
    fn stages(&self, height: i64) -> usize {
        let trimmed = self.lowest.is_some_and(|lowest| lowest < height);
        1 + self.deepest.max(usize::from(trimmed))
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
            let mut group = Node { size: leaf.size, stages: 0, piece: Piece::Cut(*along, some) };
            settle(&mut group);
            let mut both =
                Node { size: leaf.size, stages: 0, piece: Piece::Cut(place.along, vec![group, leaf]) };
            settle(&mut both);
            children.push(both);
        }
        Piece::Cut(along, children) if *along == place.along => children.push(leaf),
        _ => {
            let empty = Node { size: leaf.size, stages: 0, piece: Piece::Cut(place.along, Vec::new()) };
            let old = std::mem::replace(node, empty);
            node.piece = Piece::Cut(place.along, vec![old, leaf]);
        }
    }
    settle(node);
}

/// Puts a node's children in order, and its size and stages right.
fn settle(node: &mut Node) {
    let Piece::Cut(along, children) = &mut node.piece else { return };
    children.sort_by_key(|child| along.view(child.size).height);
    let width = children.iter().map(|child| along.view(child.size).width).sum();
    let height = children.last().map_or(0, |child| along.view(child.size).height);
    let stages = |child: &Node| child.stages.max(usize::from(along.view(child.size).height < height));
    node.stages = 1 + children.iter().map(stages).max().unwrap_or(0);
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

/// How a node's children stand side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum First {
    /// The highest first: what is free then lies at the upper right.
    Highest,
    /// The widest first: those of one width then come off one after the other, with one setting of the saw's fence.
    Widest,
}

/// Gives every rectangle of the node its place, the node's lower left corner being at the given point.
fn lay(node: &Node, (mut x, mut y): (i64, i64), first: First, give: &mut impl FnMut(Laid)) {
    match &node.piece {
        Piece::Leaf(item) => give(Laid { item: *item, rect: Rect { x, y, size: node.size } }),
        Piece::Cut(along, children) => {
            let mut order: Vec<&Node> = children.iter().rev().collect();
            if first == First::Widest {
                order.sort_by_key(|child| std::cmp::Reverse(along.view(child.size).width));
            }
            for child in order {
                lay(child, (x, y), first, give);
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
        let mut sheet = Slices::empty(size(12, 5), usize::MAX);
        for item in 0..4 {
            let (_, place) = sheet.find(size(3, 5), Fit::Left, &mut Blink::Never).unwrap();
            sheet.insert(item, size(3, 5), place);
        }
        assert!(sheet.find(size(1, 1), Fit::Left, &mut Blink::Never).is_none());
        sheet.remove(&[0, 2]);
        assert_eq!(sheet.unused()[0].size.area(), 30);
        assert!(sheet.find(size(6, 5), Fit::Left, &mut Blink::Never).is_some());
    }

    #[test]
    fn several_children_carry_what_one_alone_cannot() {
        let mut sheet = Slices::empty(size(10, 10), usize::MAX);
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
        if let Some(root) = &sheet.root {
            assert_tree(root);
            let needed = stages_needed(root, sheet.bin);
            assert!(needed <= sheet.stages, "{needed} stages: {root:?}");
        }
    }

    fn assert_tree(node: &Node) {
        let Piece::Cut(along, children) = &node.piece else { return };
        assert!(children.len() >= 2);
        for child in children {
            assert!(!matches!(child.piece, Piece::Cut(other, _) if other == *along), "{node:?}");
            assert_tree(child);
        }
    }

    /// Stages to cut the node out of a piece of the given size and apart, from the tree's sizes alone: a rectangle
    /// takes one for each side by which the piece is larger; a cut node one, and then what its children take of
    /// slabs of their own width.
    fn stages_needed(node: &Node, piece: Size) -> usize {
        match &node.piece {
            Piece::Leaf(_) => {
                usize::from(node.size.width < piece.width) + usize::from(node.size.height < piece.height)
            }
            Piece::Cut(along, children) => {
                let slab = |child: &Node| {
                    let width = along.view(child.size).width;
                    along.view(Size { width, height: along.view(piece).height })
                };
                1 + children.iter().map(|child| stages_needed(child, slab(child))).max().unwrap()
            }
        }
    }

    proptest! {
        #[test]
        fn sheets_stay_sound_while_rectangles_come_and_go(
            sizes in prop::collection::vec((1_i64..7, 1_i64..7), 1..30), seed in any::<u64>(), stages in 2_usize..7,
        ) {
            let mut random = Random::new(seed);
            // Six stands for as many as it takes.
            let mut sheet = Slices::empty(size(13, 11), if stages == 6 { usize::MAX } else { stages });
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
