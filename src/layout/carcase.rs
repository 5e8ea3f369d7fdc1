//! One carcase: its outer boards, and the cells between them.

use super::board::{Board, BoardId, BodyId, Role};
use super::join::JointRules;
use super::{CellSummary, Layout, divide};
use crate::catalogue::{Catalogue, Material};
use crate::diag::{Findings, Span};
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::spec::{self, Content, Design, DrawerKind, FrontStyle};
use std::sync::Arc;

/// Backward, towards the tailgate.
pub(super) const REARWARD: Vector3<VehicleFrame> = Vector3::new(-1.0, 0.0, 0.0);
/// Towards the seats.
pub(super) const FORWARD: Vector3<VehicleFrame> = Vector3::new(1.0, 0.0, 0.0);
/// To the vehicle's left.
pub(super) const LEFT: Vector3<VehicleFrame> = Vector3::new(0.0, 1.0, 0.0);
/// To the vehicle's right.
pub(super) const RIGHT: Vector3<VehicleFrame> = Vector3::new(0.0, -1.0, 0.0);
/// Up.
pub(super) const UP: Vector3<VehicleFrame> = Vector3::new(0.0, 0.0, 1.0);
/// Down.
pub(super) const DOWN: Vector3<VehicleFrame> = Vector3::new(0.0, 0.0, -1.0);

/// A clear space inside a carcase and the boards around it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    /// The space.
    pub(super) aabb: Aabb,
    /// The upright on its left (+y).
    pub(super) left: BoardId,
    /// The upright on its right.
    pub(super) right: BoardId,
    /// The board over it.
    pub(super) above: BoardId,
    /// The board under it.
    pub(super) below: BoardId,
    /// Whether the board over it is farther up, or cut away: nothing closes the room there.
    pub(super) open_above: bool,
    /// Whether the board under it is farther down.
    pub(super) open_below: bool,
}

/// Materials of a carcase's panels, found in the catalogue.
pub(super) struct Materials {
    pub(super) base: Arc<Material>,
    pub(super) deck: Arc<Material>,
    pub(super) sides: Arc<Material>,
    pub(super) dividers: Arc<Material>,
    shelves: Arc<Material>,
    pub(super) back: Arc<Material>,
    pub(super) fronts: Arc<Material>,
}

/// Lays out one carcase into the layout.
pub(super) struct Builder<'a> {
    pub(super) layout: &'a mut Layout,
    pub(super) findings: &'a mut Findings,
    pub(super) design: &'a Design,
    pub(super) catalogue: &'a Catalogue,
    pub(super) carcase: &'a spec::Carcase,
    pub(super) body: BodyId,
    pub(super) back: Option<BoardId>,
    /// Drawers of cells met so far; they are laid out when every board that they must respect is there.
    drawers: Vec<(String, Room, &'a spec::Drawer)>,
    /// Doors of cells met so far, likewise.
    doors: Vec<(String, Room, &'a spec::Door)>,
    n_doors: usize,
    n_dividers: usize,
    n_shelves: usize,
    n_blanks: usize,
    n_open: usize,
}

impl<'a> Builder<'a> {
    pub(super) fn new(
        layout: &'a mut Layout,
        findings: &'a mut Findings,
        design: &'a Design,
        catalogue: &'a Catalogue,
        carcase: &'a spec::Carcase,
        body: BodyId,
    ) -> Self {
        Builder {
            layout,
            findings,
            design,
            catalogue,
            carcase,
            body,
            back: None,
            drawers: Vec::new(),
            doors: Vec::new(),
            n_doors: 0,
            n_dividers: 0,
            n_shelves: 0,
            n_blanks: 0,
            n_open: 0,
        }
    }

    /// All boards of the carcase and its drawers. `None` if something is unknown or does not fit.
    pub(super) fn build(&mut self) -> Option<()> {
        let materials = self.materials();
        if materials.is_none() {
            self.names_in(&self.carcase.cell);
        }
        let materials = materials?;
        let room = self.shell(&materials)?;
        let mut complete = self.cell(&materials, &room, &self.carcase.cell);
        for (name, room, drawer) in std::mem::take(&mut self.drawers) {
            let laid_out = self.drawer(&name, &room, drawer);
            complete = complete.and(laid_out);
        }
        for (name, room, door) in std::mem::take(&mut self.doors) {
            let laid_out = self.door(&name, &room, door);
            complete = complete.and(laid_out);
        }
        complete?;
        self.own_hatches(room.below, room.above)
    }

    /// Reports the unknown names of drawers that will not be laid out, since something else is unknown.
    fn names_in(&mut self, cell: &spec::Cell) {
        match &cell.content {
            Content::Drawer(drawer) => {
                self.drawer_choice(drawer);
            }
            Content::Columns(cells) | Content::Rows(cells) => {
                for cell in cells {
                    self.names_in(cell);
                }
            }
            Content::Door(_) | Content::Open | Content::Blank => {}
        }
    }

    fn materials(&mut self) -> Option<Materials> {
        let panels = &self.carcase.panels;
        let mut find = |name| self.catalogue.find_material(self.findings, name);
        // All are looked up before the first `?`, so that every unknown name is reported.
        let found = [
            &panels.base,
            &panels.deck,
            &panels.sides,
            &panels.dividers,
            &panels.shelves,
            &panels.back,
            &panels.fronts,
        ]
        .map(&mut find);
        let [base, deck, sides, dividers, shelves, back, fronts] = found;
        Some(Materials {
            base: base?,
            deck: deck?,
            sides: sides?,
            dividers: dividers?,
            shelves: shelves?,
            back: back?,
            fronts: fronts?,
        })
    }

    fn cell(&mut self, m: &Materials, room: &Room, cell: &'a spec::Cell) -> Option<()> {
        match &cell.content {
            Content::Open => {
                self.n_open += 1;
                let name = self.cell_name(cell, "open", self.n_open);
                self.note_cell(name, room);
                Some(())
            }
            Content::Blank => {
                self.blank(m, room, cell);
                Some(())
            }
            Content::Drawer(drawer) => {
                let kind = if drawer.kind == DrawerKind::Box { "drawer" } else { "tray" };
                let name = self.cell_name(cell, kind, self.drawers.len() + 1);
                self.note_cell(name.clone(), room);
                self.drawers.push((name, *room, drawer));
                Some(())
            }
            Content::Door(door) => {
                self.n_doors += 1;
                let name = self.cell_name(cell, "locker", self.n_doors);
                self.note_cell(name.clone(), room);
                self.doors.push((name, *room, door));
                Some(())
            }
            Content::Columns(cells) => self.columns(m, room, cells, cell.span),
            Content::Rows(cells) => self.rows(m, room, cells, cell.span),
        }
    }

    fn columns(&mut self, m: &Materials, room: &Room, cells: &'a [spec::Cell], span: Span) -> Option<()> {
        let size = room.aabb.size();
        let board = m.dividers.actual;
        let on = self.carcase.id.value.clone();
        let boards = board * (cells.len() - 1) as f64;
        let widths = divide::openings(self.findings, &on, size.y, boards, cells, span)?;
        let mut complete = Some(());
        let mut left = room.left;
        let mut y = room.aabb.high.y;
        for (i, (cell, width)) in cells.iter().zip(widths).enumerate() {
            let mut part = *room;
            part.aabb.high.y = y;
            part.aabb.low.y = if i + 1 == cells.len() { room.aabb.low.y } else { y - width };
            part.left = left;
            part.open_above |= cell.open_top.is_some();
            if i + 1 < cells.len() {
                let mut aabb = room.aabb;
                (aabb.low.y, aabb.high.y) = (part.aabb.low.y - board, part.aabb.low.y);
                self.n_dividers += 1;
                let name = format!("divider-{}", self.n_dividers);
                let divider = self.add(&name, Role::Divider, &m.dividers, aabb, LEFT, false);
                for other in [room.below, room.above].into_iter().chain(self.back) {
                    self.meet(divider, other, &[RIGHT, LEFT]);
                }
                part.right = divider;
                left = divider;
                y = aabb.low.y;
            }
            complete = complete.and(self.cell(m, &part, cell));
        }
        complete
    }

    fn rows(&mut self, m: &Materials, room: &Room, cells: &'a [spec::Cell], span: Span) -> Option<()> {
        let size = room.aabb.size();
        let board = m.shelves.actual;
        let on = self.carcase.id.value.clone();
        let has_shelf = |i: usize| i + 1 < cells.len() && cells[i].shelf;
        let boards = board * (0..cells.len()).filter(|&i| has_shelf(i)).count() as f64;
        let heights = divide::openings(self.findings, &on, size.z, boards, cells, span)?;
        let mut complete = Some(());
        let mut above = room.above;
        let mut z = room.aabb.high.z;
        for (i, (cell, height)) in cells.iter().zip(heights).enumerate() {
            let mut part = *room;
            part.aabb.high.z = z;
            part.aabb.low.z = if i + 1 == cells.len() { room.aabb.low.z } else { z - height };
            part.above = above;
            part.open_above = if i == 0 { room.open_above } else { !cells[i - 1].shelf };
            part.open_below = if i + 1 == cells.len() { room.open_below } else { !cells[i].shelf };
            if has_shelf(i) {
                let mut aabb = room.aabb;
                (aabb.low.z, aabb.high.z) = (part.aabb.low.z - board, part.aabb.low.z);
                self.n_shelves += 1;
                let name = format!("shelf-{}", self.n_shelves);
                let shelf = self.add(&name, Role::Shelf, &m.shelves, aabb, UP, false);
                for other in [room.left, room.right].into_iter().chain(self.back) {
                    self.meet(shelf, other, &[DOWN, UP]);
                }
                part.below = shelf;
                above = shelf;
                z = aabb.low.z;
            } else {
                z = part.aabb.low.z;
            }
            complete = complete.and(self.cell(m, &part, cell));
        }
        complete
    }

    fn note_cell(&mut self, name: String, room: &Room) {
        let above = (!room.open_above).then_some(room.above);
        let below = (!room.open_below).then_some(room.below);
        let around = [room.left, room.right].into_iter().chain(above).chain(below).chain(self.back);
        self.layout.cells.push(CellSummary {
            name,
            body: self.body,
            room: room.aabb,
            around: around.collect(),
            below,
            covered: above.is_some(),
        });
    }

    /// A fixed front. Over the edges it is bolted to the boards behind it; between them it fills the opening.
    fn blank(&mut self, m: &Materials, room: &Room, cell: &spec::Cell) {
        self.n_blanks += 1;
        let name = self.cell_name(cell, "blank", self.n_blanks);
        self.note_cell(name.clone(), room);
        let thickness = m.fronts.actual;
        let above = (!room.open_above).then_some((room.above, DOWN));
        let below = (!room.open_below).then_some((room.below, UP));
        let around: Vec<_> =
            [(room.left, RIGHT), (room.right, LEFT)].into_iter().chain(above).chain(below).collect();
        match self.carcase.fronts.style.value {
            FrontStyle::Overlay => {
                let aabb = self.overlay_front(room, thickness);
                let blank = self.add_named(name, Role::Front, &m.fronts, aabb, REARWARD, false, cell.span);
                for (board, inwards) in around {
                    self.meet(board, blank, &[inwards]);
                }
            }
            FrontStyle::Inset => {
                let mut aabb = room.aabb;
                aabb.high.x = aabb.low.x + thickness;
                let blank = self.add_named(name, Role::Front, &m.fronts, aabb, REARWARD, false, cell.span);
                for (board, _) in around {
                    self.meet(blank, board, &[FORWARD]);
                }
            }
        }
    }

    /// The box of a front that covers the edges around a room: up to half the gap from the middle of a board
    /// that it shares with a neighbour, up to the whole gap from the carcase's outer face.
    pub(super) fn overlay_front(&self, room: &Room, thickness: f64) -> Aabb {
        let gap = self.carcase.fronts.gap.value;
        let reach = |id: BoardId, open: bool| {
            let board = self.layout.board(id);
            if open {
                return -gap / 2.0;
            }
            let shared = matches!(board.role, Role::Divider | Role::Shelf);
            if shared { (board.thickness() - gap) / 2.0 } else { board.thickness() - gap }
        };
        let Aabb { low, high } = room.aabb;
        Aabb {
            low: Point3::new(
                low.x - thickness,
                low.y - reach(room.right, false),
                low.z - reach(room.below, room.open_below),
            ),
            high: Point3::new(
                low.x,
                high.y + reach(room.left, false),
                high.z + reach(room.above, room.open_above),
            ),
        }
    }

    /// Name of a cell: the one that the spec gives, or its kind and number.
    fn cell_name(&self, cell: &spec::Cell, kind: &str, number: usize) -> String {
        match &cell.id {
            Some(id) => format!("{}-{}", self.carcase.id.value, id.value),
            None => format!("{}-{kind}-{number}", self.carcase.id.value),
        }
    }

    pub(super) fn add(
        &mut self,
        part: &str,
        role: Role,
        material: &Arc<Material>,
        aabb: Aabb,
        face: Vector3<VehicleFrame>,
        flush: bool,
    ) -> BoardId {
        let name = format!("{}-{part}", self.carcase.id.value);
        self.add_named(name, role, material, aabb, face, flush, self.carcase.span)
    }

    #[expect(clippy::too_many_arguments, reason = "a board has this many independent facts")]
    fn add_named(
        &mut self,
        name: String,
        role: Role,
        material: &Arc<Material>,
        aabb: Aabb,
        face: Vector3<VehicleFrame>,
        flush: bool,
        span: Span,
    ) -> BoardId {
        let board = Board::filling(name, role, self.body, Arc::clone(material), aabb, face, span);
        self.push(if flush { board.flush() } else { board })
    }

    /// Adds a finished board.
    pub(super) fn push(&mut self, board: Board) -> BoardId {
        self.layout.boards.push(board);
        BoardId(self.layout.boards.len() - 1)
    }

    /// Two boards of the carcase meet, the first with an edge.
    pub(super) fn meet(&mut self, edge: BoardId, face: BoardId, inside: &[Vector3<VehicleFrame>]) {
        let rules = JointRules::of_carcase(self.design, self.carcase);
        self.meet_by(&rules, edge, face, inside);
    }
}
