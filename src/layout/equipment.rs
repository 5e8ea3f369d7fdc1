//! Equipment: where it stands, what holds it down, and the room that it needs.
//!
//! Takes what the spec asks for over what the catalogue says; adds fixtures (the thing itself, its straps), room that is
//! to be kept free for air, and what later checks ask for: lids, reach, areas for air.

use super::Layout;
use super::board::{BoardId, Body, BodyId};
use super::carcase::UP;
use super::equipment_rules as rules;
use super::fixture::{Fixture, FixtureKind, KeepFree};
use super::on_panel::{direction, towards};
use crate::catalogue::{Asked, Catalogue, EquipmentKind};
use crate::diag::{Finding, Findings, Rule, did_you_mean};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::equipment_rules::EQUIPMENT_UNCLEAR;
use crate::spec::{
    Air, Battery, Burns, Design, DrawerKind, Equipment, EquipmentPlace, Feet, Heat, Towards, VentedLocker,
};

/// Equipment as laid out.
#[derive(Clone, Debug)]
pub(crate) struct EquipmentSummary {
    /// Its name.
    pub(crate) name: String,
    /// What it is.
    pub(crate) title: String,
    /// Its fixture's index.
    pub(crate) fixture: usize,
    /// What it stands in or on, in words.
    pub(crate) place: String,
    /// The cell that it stands in, by its index; with a tray's, the tray's cell.
    pub(crate) cell: Option<usize>,
    /// The box that it fills, shut.
    pub(crate) aabb: Aabb,
    /// kg.
    pub(crate) empty: f64,
    /// kg.
    pub(crate) full: f64,
    /// Litres.
    pub(crate) liquid: f64,
    /// How many straps hold it.
    pub(crate) straps: usize,
    /// How many bars over it hold it.
    pub(crate) bars: usize,
    /// How many bolts its feet have.
    pub(crate) foot_bolts: usize,
    /// The room over it that its open lid takes.
    pub(crate) lid: Option<Aabb>,
    /// mm2 of free area that it needs below and above its middle.
    pub(crate) air: Option<(f64, f64)>,
    /// What sort of battery it is.
    pub(crate) battery: Option<Battery>,
    /// Whether it holds gas.
    pub(crate) gas: bool,
    /// Room that stays free while it is hot, where it stands shut.
    pub(crate) heat: Option<(Heat, Aabb)>,
    /// What gas it burns.
    pub(crate) burns: Option<Burns>,
    /// What makes its cell a vented locker.
    pub(crate) locker: Option<VentedLocker>,
    /// Room before faces that must stay in reach.
    pub(crate) reach: Vec<(Towards, Aabb)>,
}

/// What is to be placed: the spec's word before the catalogue's.
pub(super) struct Wanted {
    title: String,
    item: String,
    size: [f64; 3],
    empty: f64,
    full: f64,
    liquid: f64,
    pub(super) feet: Option<Feet>,
    pub(super) straps: u32,
    pub(super) bars: u32,
    lid: Option<f64>,
    air: Option<Air>,
    battery: Option<Battery>,
    gas: bool,
    reach: Vec<(Towards, f64)>,
}

/// Where it goes.
pub(super) struct Stand {
    /// The middle of its underside.
    pub(super) base: Point3<VehicleFrame>,
    pub(super) body: BodyId,
    /// The panel under it.
    pub(super) under: Option<BoardId>,
    cell: Option<usize>,
    words: String,
    /// What it must stay within in plan, and how high it may be; and what that is called.
    within: Option<(Aabb, String)>,
}

/// Places all equipment. `None` if something does not fit; the findings say why.
pub(super) fn equipment(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for equipment in &design.equipment {
        let mut job = Job { layout, findings, catalogue, equipment };
        complete = complete.and(job.lay_out());
    }
    complete
}

pub(super) struct Job<'a> {
    pub(super) layout: &'a mut Layout,
    findings: &'a mut Findings,
    pub(super) catalogue: &'a Catalogue,
    pub(super) equipment: &'a Equipment,
}

impl Job<'_> {
    fn lay_out(&mut self) -> Option<()> {
        let (wanted, stand) = (self.wanted(), self.stand());
        let (wanted, mut stand) = (wanted?, stand?);
        // On a finish, unless its feet are bolted down: then on bare wood.
        if stand.within.is_some() && wanted.feet.is_none() {
            let under = stand.under.and_then(|under| self.layout.board(under).coat(UP));
            stand.base.z += under.map_or(0.0, |coat| coat.finish.thickness);
        }
        let turned = |size: [f64; 3]| {
            if self.equipment.turns.is_multiple_of(2) { size } else { [size[1], size[0], size[2]] }
        };
        let [length, width, height] = turned(wanted.size);
        let half = Vector3::new(length / 2.0, width / 2.0, 0.0);
        let aabb = Aabb { low: stand.base - half, high: stand.base + half + Vector3::new(0.0, 0.0, height) };
        self.fits(aabb, &stand)?;
        let bolts = self.foot_bolts(&wanted, &stand)?;
        let foot_bolts = bolts.len();
        let fixture = self.layout.fixtures.len();
        self.layout.fixtures.push(Fixture {
            name: self.equipment.id.value.clone(),
            kind: FixtureKind::Equipment,
            title: wanted.title.clone(),
            item: wanted.item.clone(),
            host: stand.under,
            body: stand.body,
            solids: vec![aabb],
            bolts,
            mass: wanted.empty,
            fill: wanted.full - wanted.empty,
            centre: aabb.low + aabb.size() / 2.0,
            span: self.equipment.span,
        });
        self.straps(&wanted, &stand, aabb)?;
        self.bars(&wanted, &stand, aabb)?;
        self.keep_air_free(&wanted, stand.body, aabb);
        let turned =
            |&(face, room): &(Towards, f64)| (self.turned(face), beside(aabb, self.turned(face), room));
        let reach = wanted.reach.iter().map(turned).collect();
        self.layout.equipment.push(EquipmentSummary {
            name: self.equipment.id.value.clone(),
            title: wanted.title,
            fixture,
            place: stand.words,
            cell: stand.cell,
            aabb,
            empty: wanted.empty,
            full: wanted.full,
            liquid: wanted.liquid,
            straps: wanted.straps as usize,
            bars: wanted.bars as usize,
            foot_bolts,
            lid: wanted.lid.map(|height| beside(aabb, Towards::Up, height)),
            air: Some(Air::needed(wanted.air.as_ref(), wanted.battery))
                .filter(|(inlet, outlet)| inlet + outlet > 0.0),
            battery: wanted.battery,
            gas: wanted.gas,
            heat: self.equipment.heat.map(|heat| (heat, round_its_top(aabb, heat))),
            burns: self.equipment.burns,
            locker: self.equipment.locker.clone(),
            reach,
        });
        Some(())
    }

    /// What the spec says, and what it leaves to the catalogue.
    fn wanted(&mut self) -> Option<Wanted> {
        let own = self.equipment;
        let kind = match &own.kind {
            Some(id) => Some(self.catalogue.find_equipment(self.findings, id)?),
            None => None,
        };
        let of = kind.as_deref();
        let size = own.size.map(|size| size.value).or(of.map(|kind| kind.size));
        let empty = own.empty.map(|empty| empty.value).or(of.map(|kind| kind.mass.empty));
        let (Some(size), Some(empty)) = (size, empty) else {
            let missing = if size.is_none() { "size" } else { "mass" };
            let message = format!("`{}` has no {missing}", own.id.value);
            let help = format!("give it a `{missing}`, or a `kind` from `baywright catalogue equipment`");
            self.fault(&EQUIPMENT_UNCLEAR, message, help);
            return None;
        };
        if let Some(kind) = of {
            self.answered(kind)?;
        }
        let liquid = own.liquid.map(|liquid| liquid.value).or(of.map(|kind| kind.liquid)).unwrap_or_default();
        // What the catalogue says of full is of the mass and the litres that it says.
        let given = own.full.map(|full| full.value);
        let as_listed = own.empty.is_none() && own.liquid.is_none();
        let listed = of.filter(|_| as_listed).and_then(|kind| kind.mass.full);
        let listed_straps = of.map(|kind| kind.straps).filter(|_| own.bars.is_none());
        Some(Wanted {
            title: of.map_or_else(|| own.id.value.clone(), |kind| kind.title.clone()),
            item: of.map_or_else(String::new, |kind| kind.id.clone()),
            size,
            empty,
            full: given.or(listed).unwrap_or(empty + liquid),
            liquid,
            feet: own.feet.clone().or_else(|| of.and_then(|kind| feet(kind, own))),
            // Who asks for bars asks for them instead of straps.
            straps: own.straps.map(|straps| straps.value).or(listed_straps).unwrap_or_default(),
            bars: own.bars.map(|bars| bars.value).unwrap_or_default(),
            lid: own.lid.map(|lid| lid.value).or(of.and_then(|kind| kind.lid)),
            air: own.air.clone().or_else(|| of.and_then(air)),
            battery: own.battery.or(of.and_then(|kind| kind.battery)),
            gas: own.gas.or(of.map(|kind| kind.gas)).unwrap_or_default(),
            reach: own.reach.clone().unwrap_or_else(|| of.map(reach).unwrap_or_default()),
        })
    }

    /// Sees that what has no generic value was said.
    fn answered(&mut self, kind: &EquipmentKind) -> Option<()> {
        let own = self.equipment;
        let missing = kind.asks.iter().filter(|asked| match asked {
            Asked::Heat => own.heat.is_none(),
            Asked::Burns => own.burns.is_none(),
        });
        let missing: Vec<Asked> = missing.copied().collect();
        for asked in &missing {
            let (key, help) = match asked {
                Asked::Heat => (
                    "heat",
                    "take the distances from its maker's guide, e.g. `heat: {above: 600, beside: 150}`",
                ),
                Asked::Burns => ("burns", "take the rate from its plate, e.g. `burns: {rate: 15}` in MJ/h"),
            };
            let message = format!("`{}` has no `{key}`, for which there is no generic value", own.id.value);
            self.fault(&EQUIPMENT_UNCLEAR, message, help.to_owned());
        }
        missing.is_empty().then_some(())
    }

    fn stand(&mut self) -> Option<Stand> {
        let (x, y) = self.equipment.offset;
        let offset = Vector3::new(x, y, 0.0);
        let stand = match &self.equipment.place {
            EquipmentPlace::At(place) => {
                let name = self.equipment.id.value.clone();
                let body = BodyId(self.layout.bodies.len());
                let carcase = name.clone();
                self.layout.bodies.push(Body {
                    name,
                    carcase,
                    travel: Vector3::zero(),
                    drop: 0.0,
                    swing: None,
                });
                let under = self.board_under(*place);
                let words = "at its place in the vehicle".to_owned();
                Some(Stand { base: *place + offset, body, under, cell: None, words, within: None })
            }
            EquipmentPlace::In(cell) => self.in_cell(&cell.value, offset),
            EquipmentPlace::On(name) => {
                self.on_tray(&name.value, offset).or_else(|| self.on_panel(&name.value, offset))
            }
        };
        if stand.is_none() {
            let layout = &self.layout;
            let cells = || layout.cells.iter().map(|cell| cell.name.as_str());
            let (name, what, known): (_, _, Vec<&str>) = match &self.equipment.place {
                EquipmentPlace::In(name) => (name, "cell", cells().collect()),
                EquipmentPlace::On(name) => {
                    let drawers = layout.drawers.iter().map(|drawer| drawer.name.as_str());
                    (
                        name,
                        "tray, drawer or lying panel",
                        drawers.chain(layout.boards.iter().map(|board| board.name.as_str())).collect(),
                    )
                }
                EquipmentPlace::At(_) => return None,
            };
            let message = format!("no {what} is called `{}`", name.value);
            let help = did_you_mean(&name.value, known.iter().copied())
                .unwrap_or_else(|| format!("cells are {}", cells().collect::<Vec<_>>().join(", ")));
            self.fault(&rules::EQUIPMENT_PLACE_UNKNOWN, message, help);
        }
        stand
    }

    fn in_cell(&self, name: &str, offset: Vector3<VehicleFrame>) -> Option<Stand> {
        let index = self.layout.cells.iter().position(|cell| cell.name == name)?;
        let cell = &self.layout.cells[index];
        let mut within = cell.room;
        if !cell.covered {
            within.high.z = f64::INFINITY;
        }
        let middle = cell.room.low + cell.room.size() / 2.0;
        Some(Stand {
            base: Point3::new(middle.x, middle.y, cell.room.low.z) + offset,
            body: cell.body,
            under: cell.below,
            cell: Some(index),
            words: format!("in {name}"),
            within: Some((within, format!("the cell `{name}`"))),
        })
    }

    fn on_tray(&self, name: &str, offset: Vector3<VehicleFrame>) -> Option<Stand> {
        let drawer = self.layout.drawers.iter().find(|drawer| drawer.name == name)?;
        let platform = self.layout.board(drawer.bottom).aabb;
        let middle = platform.low + platform.size() / 2.0;
        let mut within = platform;
        within.high.z = match drawer.kind {
            DrawerKind::Box => platform.high.z + drawer.inside.1,
            DrawerKind::Lipped | DrawerKind::Flat => f64::INFINITY,
        };
        Some(Stand {
            base: Point3::new(middle.x, middle.y, platform.high.z) + offset,
            body: drawer.body,
            under: Some(drawer.bottom),
            cell: self.layout.cells.iter().position(|cell| cell.name == name),
            words: format!("on {name}"),
            within: Some((within, format!("the tray `{name}`"))),
        })
    }

    fn on_panel(&self, name: &str, offset: Vector3<VehicleFrame>) -> Option<Stand> {
        let lies = |board: &super::Board| board.name == name && board.normal().z.abs() > 0.5;
        let index = self.layout.boards.iter().position(lies)?;
        let board = &self.layout.boards[index];
        let middle = board.aabb.low + board.aabb.size() / 2.0;
        let mut within = board.aabb;
        within.high.z = f64::INFINITY;
        Some(Stand {
            base: Point3::new(middle.x, middle.y, board.aabb.high.z) + offset,
            body: board.body,
            under: Some(BoardId(index)),
            cell: None,
            words: format!("on {name}"),
            within: Some((within, format!("the panel `{name}`"))),
        })
    }

    /// The lying board whose upper face is at a place.
    fn board_under(&self, place: Point3<VehicleFrame>) -> Option<BoardId> {
        let at = |board: &super::Board| {
            let Aabb { low, high } = board.aabb;
            board.normal().z.abs() > 0.5
                && (high.z - place.z).abs() <= SAME_LENGTH
                && (low.x..=high.x).contains(&place.x)
                && (low.y..=high.y).contains(&place.y)
        };
        self.layout.boards.iter().position(at).map(BoardId)
    }

    fn fits(&mut self, aabb: Aabb, stand: &Stand) -> Option<()> {
        let Some((within, what)) = &stand.within else { return Some(()) };
        let (low, high) = (within.low - aabb.low, aabb.high - within.high);
        let sides = [
            (low.x, "rearward"),
            (high.x, "forward"),
            (low.y, "to the right"),
            (high.y, "to the left"),
            (high.z, "up"),
        ];
        let over: Vec<String> = sides
            .iter()
            .filter(|(by, _)| *by > SAME_LENGTH)
            .map(|(by, way)| format!("{} mm {way}", decimal(*by, 1)))
            .collect();
        if over.is_empty() {
            return Some(());
        }
        let size = aabb.size();
        let size = [size.x, size.y, size.z].map(|length| decimal(length, 1)).join(" x ");
        let message = format!("{size} mm reaches out of {what}: {}", over.join(", "));
        let help = "turn it, move it with `offset`, or make more room for it";
        self.fault(&rules::EQUIPMENT_DOES_NOT_FIT, message, help.to_owned());
        None
    }

    fn keep_air_free(&mut self, wanted: &Wanted, body: BodyId, aabb: Aabb) {
        for face in wanted.air.iter().flat_map(|air| &air.faces) {
            let gap = wanted.air.as_ref().map_or(0.0, |air| air.gap);
            let face = self.turned(*face);
            self.layout.kept_free.push(KeepFree {
                name: format!("{} (air at its {} side)", self.equipment.id.value, face.side()),
                aabb: beside(aabb, face, gap),
                body,
                for_air: true,
                span: self.equipment.span,
            });
        }
    }

    fn turned(&self, face: Towards) -> Towards {
        turned_face(face, self.equipment.turns)
    }

    pub(super) fn fault(&mut self, rule: &'static Rule, message: String, help: String) {
        let finding = Finding::new(rule, self.equipment.span, message);
        self.findings.push(finding.on(&self.equipment.id.value).help(help));
    }
}

/// The room before a face of a box.
fn beside(aabb: Aabb, face: Towards, depth: f64) -> Aabb {
    let mut room = aabb;
    match face {
        Towards::Left => (room.low.y, room.high.y) = (aabb.high.y, aabb.high.y + depth),
        Towards::Right => (room.low.y, room.high.y) = (aabb.low.y - depth, aabb.low.y),
        Towards::Front => (room.low.x, room.high.x) = (aabb.high.x, aabb.high.x + depth),
        Towards::Rear => (room.low.x, room.high.x) = (aabb.low.x - depth, aabb.low.x),
        Towards::Up => (room.low.z, room.high.z) = (aabb.high.z, aabb.high.z + depth),
        Towards::Down => (room.low.z, room.high.z) = (aabb.low.z - depth, aabb.low.z),
    }
    room
}

/// The room over a box, and beside it above its top.
fn round_its_top(aabb: Aabb, heat: Heat) -> Aabb {
    let around = Vector3::new(heat.beside, heat.beside, 0.0);
    let mut room = beside(aabb, Towards::Up, heat.above);
    (room.low, room.high) = (room.low - around, room.high + around);
    room
}

/// A vector turned by quarter turns, counter-clockwise seen from above.
pub(super) fn turned(vector: Vector3<VehicleFrame>, turns: u8) -> Vector3<VehicleFrame> {
    (0..turns).fold(vector, |v, _| Vector3::new(-v.y, v.x, v.z))
}

/// A face of equipment after so many quarter turns.
pub(super) fn turned_face(face: Towards, turns: u8) -> Towards {
    towards(turned(direction(face), turns))
}

fn feet(kind: &EquipmentKind, own: &Equipment) -> Option<Feet> {
    kind.feet.as_ref().map(|feet| Feet {
        size: crate::diag::At::new(feet.bolt.clone(), own.span),
        thickness: feet.thickness,
        places: feet.places.clone(),
    })
}

fn air(kind: &EquipmentKind) -> Option<Air> {
    kind.air.as_ref().map(|air| Air {
        faces: air.faces.clone(),
        gap: air.gap,
        inlet: air.inlet * 100.0,
        outlet: air.outlet * 100.0,
    })
}

fn reach(kind: &EquipmentKind) -> Vec<(Towards, f64)> {
    kind.reach.iter().map(|reach| (reach.face, reach.room)).collect()
}
