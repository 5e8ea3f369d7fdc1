//! What holds equipment: bolts through its feet, straps with bolted plates, bars over it from upright to upright.
//!
//! Takes where equipment stands, gives fixtures with bolts.

use super::board::{BoardId, BodyId, Role};
use super::equipment::{Job, Stand, Wanted, turned};
use super::equipment_rules as rules;
use super::fixture::{Fixture, FixtureBolt, FixtureKind};
use crate::catalogue::Strap;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Path, Point3, Vector3, VehicleFrame};
use crate::number::decimal;
use std::sync::Arc;

impl Job<'_> {
    /// The bolts through its feet.
    pub(super) fn foot_bolts(&mut self, wanted: &Wanted, stand: &Stand) -> Option<Vec<FixtureBolt>> {
        let Some(feet) = &wanted.feet else { return Some(Vec::new()) };
        let places: Vec<Point3<VehicleFrame>> = feet
            .places
            .iter()
            .map(|[x, y]| stand.base + turned(Vector3::new(*x, *y, 0.0), self.equipment.turns))
            .collect();
        let bolts: Vec<Option<FixtureBolt>> = places
            .iter()
            .map(|place| self.down(*place, stand.under, (&feet.size.value, feet.thickness)))
            .collect();
        self.all_on_panel(bolts, "a foot")
    }

    /// A bolt down through a panel whose upper face is at `place`.
    fn down(
        &self,
        place: Point3<VehicleFrame>,
        under: Option<BoardId>,
        (size, flange): (&str, f64),
    ) -> Option<FixtureBolt> {
        let id = under?;
        let board = self.layout.board(id);
        let on_board = board.placement.to_panel(place).xy();
        board.has_material(on_board, 0.0).then(|| FixtureBolt {
            boards: vec![id],
            size: size.to_owned(),
            origin: place + Vector3::new(0.0, 0.0, flange),
            direction: Vector3::new(0.0, 0.0, -1.0),
            flange,
            spreader: 0.0,
        })
    }

    fn all_on_panel(&mut self, bolts: Vec<Option<FixtureBolt>>, what: &str) -> Option<Vec<FixtureBolt>> {
        if bolts.iter().all(Option::is_some) {
            return Some(bolts.into_iter().flatten().collect());
        }
        let message = format!("no panel lies under {what} of `{}`", self.equipment.id.value);
        let help = "put it `in` a cell or `on` a tray with room beside it, or hold it otherwise (`straps: 0`, `feet`)";
        self.fault(&rules::STRAP_WITHOUT_PANEL, message, help.to_owned());
        None
    }

    /// Straps over it, side by side, each with a bolted plate on either side: down into the panel under it, across it
    /// where there is room, else along it; else into the sides of its tray.
    pub(super) fn straps(&mut self, wanted: &Wanted, stand: &Stand, aabb: Aabb) -> Option<()> {
        let strap = Arc::clone(&self.catalogue.strap);
        let number = wanted.straps;
        // On bare wood, also beside equipment that stands on a finish.
        let level = stand.under.map_or(aabb.low.z, |under| self.layout.board(under).aabb.high.z);
        let shares = || (1..=number).map(|i| f64::from(i) / f64::from(number + 1));
        let down = |across: bool| {
            let plates = shares().flat_map(|share| strap_at(&strap, (aabb, level), share, across));
            plates.map(|plate| self.plate_down(&strap, plate, stand.under)).collect::<Option<Vec<_>>>()
        };
        let beside = || {
            let plates = shares().flat_map(|share| [true, false].map(|left| (share, left)));
            plates
                .map(|(share, left)| self.plate_on_side(&strap, aabb, share, (stand.body, left)))
                .collect::<Option<Vec<_>>>()
        };
        let Some(plates) = down(true).or_else(|| down(false)).or_else(beside) else {
            let message =
                format!("there is no room for a strap's plates beside `{}`", self.equipment.id.value);
            let help = "a plate needs 45 mm of panel beside the equipment, or a tray's side 15 mm off it: make room, or hold it \
                        otherwise (`straps: 0`, `feet`)";
            self.fault(&rules::STRAP_WITHOUT_PANEL, message, help.to_owned());
            return None;
        };
        for (i, pair) in plates.chunks(2).enumerate() {
            self.layout.fixtures.push(Fixture {
                name: format!("{}-strap-{}", self.equipment.id.value, i + 1),
                kind: FixtureKind::Fitting,
                title: format!("retaining strap {} mm wide with two plates", decimal(strap.width, 1)),
                item: "strap".to_owned(),
                host: stand.under,
                body: stand.body,
                solids: pair.iter().map(|(plate, _)| *plate).collect(),
                bolts: pair.iter().map(|(_, bolt)| bolt.clone()).collect(),
                mass: strap.mass,
                fill: 0.0,
                centre: aabb.low + aabb.size() / 2.0,
                span: self.equipment.span,
            });
        }
        Some(())
    }

    /// A plate on the panel under the equipment, if all of it lies there and on no angle.
    fn plate_down(&self, strap: &Strap, plate: Aabb, under: Option<BoardId>) -> Option<(Aabb, FixtureBolt)> {
        let board = self.layout.board(under?);
        let (low, high) = (plate.low, plate.high);
        let corners = [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)];
        let on_board = corners.map(|(x, y)| board.placement.to_panel(Point3::new(x, y, low.z)).xy());
        let lies = board.has_all_of(&Path::polygon(on_board)) && self.is_free(plate, board.body);
        let middle = plate.low + plate.size() / 2.0;
        let place = Point3::new(middle.x, middle.y, plate.low.z);
        let bolt = self.down(place, under, (&strap.bolt, strap.plate_thickness))?;
        lies.then_some((plate, bolt))
    }

    /// A plate on the inner face of its tray's left or right side, near the upper edge.
    fn plate_on_side(
        &self,
        strap: &Strap,
        aabb: Aabb,
        share: f64,
        (body, left): (BodyId, bool),
    ) -> Option<(Aabb, FixtureBolt)> {
        let out = if left { 1.0 } else { -1.0 };
        let is_side = |board: &super::Board| {
            board.body == body && board.role == Role::BoxSide && board.normal().y * out > 0.5
        };
        let id = self.layout.boards.iter().position(is_side)?;
        let wall = self.layout.boards[id].aabb;
        let (face, edge) = if left { (wall.low.y, aabb.high.y) } else { (wall.high.y, aabb.low.y) };
        let [half_z, half_x] = strap.plate.map(|side| side / 2.0);
        let t = Vector3::new(0.0, -out * strap.plate_thickness, 0.0);
        let half = Vector3::new(half_x, 0.0, half_z);
        let x = aabb.low.x + aabb.size().x * share;
        let at = |shift: f64| Point3::new(x + shift, face, wall.high.z - half_z);
        let plate_at = |middle| Aabb::around([middle - half, middle + half + t]);
        // The slides' bolts are where their maker put them; the strap gives way to them along the tray.
        let middle =
            shifts().map(at).find(|middle| self.is_off_slide_bolts(plate_at(*middle), BoardId(id)))?;
        let plate = plate_at(middle);
        let room = (face - edge) * out;
        let fits = room >= strap.plate_thickness + BESIDE_NUT && middle.z - half_z > aabb.low.z;
        let bolt = FixtureBolt {
            boards: vec![BoardId(id)],
            size: strap.bolt.clone(),
            origin: middle + t,
            direction: Vector3::new(0.0, out, 0.0),
            flange: strap.plate_thickness,
            spreader: 0.0,
        };
        (fits && self.is_free(plate, body)).then_some((plate, bolt))
    }

    /// Whether a plate on a tray's side lies off the nuts of the slide on its other face.
    fn is_off_slide_bolts(&self, plate: Aabb, side: BoardId) -> bool {
        let mounts = self.layout.mounts.iter().filter(|mount| mount.box_board == side);
        mounts.into_iter().all(|mount| {
            let reach = self.catalogue.washer_radius(&mount.slide.bolt) + 1.0;
            let beside_z = (plate.low.z - reach..=plate.high.z + reach).contains(&mount.height);
            let beside_x =
                |at: &f64| (plate.low.x - reach..=plate.high.x + reach).contains(&(mount.moving.low.x + at));
            !(beside_z && mount.slide.moving.iter().any(beside_x))
        })
    }

    /// Whether a bar's bolt through an upright keeps off those of other things in it, and off the tabs of bars on its other side.
    fn is_off_bolts(&self, bolt: &FixtureBolt) -> bool {
        let others = self.layout.fixtures.iter().flat_map(|fixture| &fixture.bolts);
        let mut through_same = others.filter(|other| other.boards.iter().any(|id| bolt.boards.contains(id)));
        let bar = &self.catalogue.bar;
        let reach = self.catalogue.washer_radius(&bolt.size) + bar.width.hypot(bar.tab) / 2.0;
        through_same.all(|other| (other.origin - bolt.origin).cross(bolt.direction).length() > reach)
    }

    /// Whether no angle will lie where a plate of a body does, and no panel of that body stands there.
    fn is_free(&self, plate: Aabb, body: BodyId) -> bool {
        let boards = self.layout.boards.iter().filter(|board| board.body == body);
        super::hatch::legs(self.layout).all(|(_, leg)| leg.overlap(plate) <= SAME_LENGTH)
            && boards.map(|board| board.aabb).all(|aabb| aabb.overlap(plate) <= SAME_LENGTH)
    }

    /// Bars across the bay over it, side by side, each bolted to an upright on either side by a tab that is bent up from it,
    /// or down where there is no upright over it.
    pub(super) fn bars(&mut self, wanted: &Wanted, stand: &Stand, aabb: Aabb) -> Option<()> {
        let number = wanted.bars;
        let bars = (1..=number).map(|i| {
            let x = aabb.low.x + aabb.size().x * f64::from(i) / f64::from(number + 1);
            let mut places =
                [true, false].into_iter().flat_map(|up| shifts().map(move |shift| (x + shift, up)));
            places.find_map(|place| self.bar(stand.body, aabb, place))
        });
        let Some(bars) = bars.collect::<Option<Vec<_>>>() else {
            let message =
                format!("no uprights stand on both sides of `{}` for a bar over it", self.equipment.id.value);
            let tab = decimal(self.catalogue.bar.tab, 1);
            let help = format!(
                "a bar is bolted to a side, a divider or a tray's side on the left and on the right, {tab} mm of it above or below \
                 the top of the equipment: use `straps`, or another cell"
            );
            self.fault(&rules::BAR_WITHOUT_UPRIGHT, message, help);
            return None;
        };
        for (i, (solids, bolts)) in bars.into_iter().enumerate() {
            let (bar, length) = (&self.catalogue.bar, solids[0].size().y);
            let fixture = Fixture {
                name: format!("{}-bar-{}", self.equipment.id.value, i + 1),
                kind: FixtureKind::Fitting,
                title: format!(
                    "retaining bar {} x {} mm, {} mm wide with two tabs",
                    decimal(bar.width, 1),
                    decimal(bar.thickness, 1),
                    decimal(length, 1)
                ),
                item: "retaining-bar".to_owned(),
                host: bolts[0].boards.first().copied(),
                body: stand.body,
                solids: solids.to_vec(),
                bolts: bolts.to_vec(),
                mass: (length + 2.0 * bar.tab) * bar.width * bar.thickness * bar.density * 1e-9,
                fill: 0.0,
                centre: solids[0].low + solids[0].size() / 2.0,
                span: self.equipment.span,
            };
            self.layout.fixtures.push(fixture);
        }
        Some(())
    }

    /// The bar over equipment at `x` with its tabs bent up or down: the flat of it, then its tabs; and its bolts.
    fn bar(&self, body: BodyId, aabb: Aabb, (x, up): (f64, bool)) -> Option<([Aabb; 3], [FixtureBolt; 2])> {
        let bar = &self.catalogue.bar;
        let half = bar.width / 2.0;
        let (bottom, top) = (aabb.high.z, aabb.high.z + bar.thickness);
        let (low, high) = if up { (bottom, bottom + bar.tab) } else { (top - bar.tab, top) };
        // The bolt in the middle of what is left of the tab beside the flat.
        let z = if up { f64::midpoint(top, high) } else { f64::midpoint(low, bottom) };
        let end = |out: f64| {
            let face = |wall: Aabb| if out > 0.0 { wall.low.y } else { -wall.high.y };
            let edge = if out > 0.0 { aabb.high.y } else { -aabb.low.y };
            let uprights = self.layout.boards.iter().enumerate().filter(|(_, board)| {
                board.body == body && board.normal().y.abs() > 0.5 && face(board.aabb) >= edge - SAME_LENGTH
            });
            let there = uprights.filter(|(_, board)| {
                let corner = |x, z| board.placement.to_panel(Point3::new(x, board.aabb.low.y, z)).xy();
                let corners = [(x - half, low), (x + half, low), (x + half, high), (x - half, high)];
                board.has_all_of(&Path::polygon(corners.map(|(x, z)| corner(x, z))))
            });
            let (id, board) = there.min_by(|a, b| face(a.1.aabb).total_cmp(&face(b.1.aabb)))?;
            let (y, inward) = (face(board.aabb) * out, -out * bar.thickness);
            let tab = Aabb::around([Point3::new(x - half, y, low), Point3::new(x + half, y + inward, high)]);
            // Bent down, the tab stands between the equipment and the upright, with its bolt's end.
            let beside = up || face(board.aabb) - edge >= bar.thickness + BESIDE_NUT;
            let bolt = FixtureBolt {
                boards: vec![BoardId(id)],
                size: bar.bolt.clone(),
                origin: Point3::new(x, y + inward, z),
                direction: Vector3::new(0.0, out, 0.0),
                flange: bar.thickness,
                spreader: 0.0,
            };
            (beside && self.is_free(tab, body) && self.is_off_bolts(&bolt)).then_some((y, tab, bolt))
        };
        let ((left, tab_left, bolt_left), (right, tab_right, bolt_right)) = (end(1.0)?, end(-1.0)?);
        let flat = Aabb::around([Point3::new(x - half, right, bottom), Point3::new(x + half, left, top)]);
        Some(([flat, tab_left, tab_right], [bolt_left, bolt_right]))
    }
}

/// mm and number of steps by which a strap or a bar gives way along what it is bolted to.
const SHIFT: f64 = 5.0;
const SHIFTS: u8 = 12;

/// mm beside a plate or a tab on an upright for its nut and washer.
const BESIDE_NUT: f64 = 12.0;

/// The plates of a strap at a share of the equipment's length or width.
fn strap_at(strap: &Strap, (aabb, z): (Aabb, f64), share: f64, across: bool) -> [Aabb; 2] {
    let size = aabb.size();
    let [along_strap, over_strap] = strap.plate.map(|side| side / 2.0);
    let place = |at: f64, beside: f64| if across { (at, beside) } else { (beside, at) };
    let (from, length) = if across { (aabb.low.x, size.x) } else { (aabb.low.y, size.y) };
    let (low, high) = if across { (aabb.low.y, aabb.high.y) } else { (aabb.low.x, aabb.high.x) };
    [low - strap.from_side, high + strap.from_side].map(|beside| {
        let (x, y) = place(from + length * share, beside);
        let (half_x, half_y) = place(over_strap, along_strap);
        Aabb {
            low: Point3::new(x - half_x, y - half_y, z),
            high: Point3::new(x + half_x, y + half_y, z + strap.plate_thickness),
        }
    })
}

/// mm by which a strap or a bar gives way, the least first.
fn shifts() -> impl Iterator<Item = f64> {
    (0..=SHIFTS).flat_map(|i| [f64::from(i), -f64::from(i)]).map(|i| i * SHIFT)
}
