//! The catalogue that a design uses: the built-in one with the workshop's rows, and lookups that report.

use super::hardware::{self, Bearing, Hardware, Need};
use super::material::PublishedMass;
use super::panel_fitting::FittingOpening;
use super::{
    Angle, Catalogue, EquipmentKind, Finish, HeadKind, Hinge, Kind, Latch, Material, NutKind, PanelFitting,
    Slide, Stay, StockSize, Strengths, TieDownKind, Turnbuckle, WasherKind, rules,
};
use crate::diag::{At, Finding, Findings, Span, nearest};
use crate::number::decimal;
use crate::spec::{
    AngleEntry, FinishEntry, MaterialEntry, OpeningEntry, PanelFittingEntry, ShelfEntry, SlideEntry,
    StockEntry, Workshop,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Thread sizes for captive nuts, the largest first.
const CAPTIVE_SIZES: [&str; 3] = ["M6", "M5", "M4"];

/// Most of a board's thickness that a countersunk head may take: what is left must still hold the head.
/// Common practice, no source.
const MOST_SINK: f64 = 0.5;

/// What a drawer's `slide:` names.
#[derive(Clone, Debug)]
pub(crate) enum SlideChoice {
    /// One slide.
    One(Arc<Slide>),
    /// All lengths of a family, shortest first; never empty.
    Family(Vec<Arc<Slide>>),
}

impl Catalogue {
    /// The built-in catalogue, extended and overridden by the workshop's entries.
    pub(crate) fn for_workshop(findings: &mut Findings, workshop: &Workshop) -> Catalogue {
        let mut catalogue = Catalogue::built_in().clone();
        for entry in &workshop.materials {
            if let Some(row) = material(findings, catalogue.material(&entry.id.value), entry) {
                catalogue.materials.insert(row.id.clone(), Arc::new(row));
            }
        }
        for entry in &workshop.slides {
            if let Some(row) = slide(findings, catalogue.slide(&entry.id.value), entry) {
                catalogue.slides.insert(row.id.clone(), Arc::new(row));
            }
        }
        for entry in &workshop.angles {
            if let Some(row) = angle(findings, catalogue.angle(&entry.id.value), entry) {
                catalogue.angles.insert(row.id.clone(), Arc::new(row));
            }
        }
        for entry in &workshop.fittings {
            if let Some(row) = panel_fitting(findings, catalogue.panel_fittings.get(&entry.id.value), entry) {
                catalogue.panel_fittings.insert(row.id.clone(), Arc::new(row));
            }
        }
        for entry in &workshop.finishes {
            if let Some(row) = finish(findings, catalogue.finishes.get(&entry.id.value), entry) {
                catalogue.finishes.insert(row.id.clone(), Arc::new(row));
            }
        }
        for entry in &workshop.shelf {
            if let Some(material) = catalogue.find_material(findings, &entry.material) {
                let mut row = (*material).clone();
                row.stock.extend(entry.sheets.iter().map(size));
                catalogue.materials.insert(row.id.clone(), Arc::new(row));
            }
        }
        for (material, price) in first_prices(workshop) {
            if let Some(row) = catalogue.material(&material) {
                priced_in_part(findings, row, price);
            }
        }
        catalogue
    }

    /// The material that the spec names; a finding if there is none.
    pub(crate) fn find_material(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Material>> {
        let found = self.material(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "material", id, &[Kind::Material]))
    }

    /// The angle that the spec names; a finding if there is none.
    pub(crate) fn find_angle(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Angle>> {
        let found = self.angle(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "angle", id, &[Kind::Angle]))
    }

    /// The hinge that the spec names; a finding if there is none.
    pub(crate) fn find_hinge(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Hinge>> {
        let found = self.hinges.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "hinge", id, &[Kind::Hinge]))
    }

    /// The latch that the spec names; a finding if there is none.
    pub(crate) fn find_latch(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Latch>> {
        let found = self.latches.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "latch", id, &[Kind::Latch]))
    }

    /// The gas strut or stay that the spec names; a finding if there is none.
    pub(crate) fn find_stay(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Stay>> {
        let found = self.stays.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "stay", id, &[Kind::Stay]))
    }

    /// The kind of equipment that the spec names; a finding if there is none.
    pub(crate) fn find_equipment(
        &self,
        findings: &mut Findings,
        id: &At<String>,
    ) -> Option<Arc<EquipmentKind>> {
        let found = self.equipment.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "equipment", id, &[Kind::Equipment]))
    }

    /// The fitting that the spec names; a finding if there is none.
    pub(crate) fn find_panel_fitting(
        &self,
        findings: &mut Findings,
        id: &At<String>,
    ) -> Option<Arc<PanelFitting>> {
        let found = self.panel_fittings.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "fitting", id, &[Kind::PanelFitting]))
    }

    /// The tie-down that the spec names; a finding if there is none.
    pub(crate) fn find_tie_down(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<TieDownKind>> {
        let found = self.tie_downs.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "tie-down", id, &[Kind::TieDown]))
    }

    /// The finish that the spec names; a finding if there is none.
    pub(crate) fn find_finish(&self, findings: &mut Findings, id: &At<String>) -> Option<Arc<Finish>> {
        let found = self.finishes.get(&id.value).cloned();
        found.or_else(|| self.unknown(findings, "finish", id, &[Kind::Finish]))
    }

    /// The slide or the family of slides that the spec names; a finding if there is none.
    pub(crate) fn find_slide(&self, findings: &mut Findings, id: &At<String>) -> Option<SlideChoice> {
        if let Some(slide) = self.slide(&id.value) {
            return Some(SlideChoice::One(Arc::clone(slide)));
        }
        let family: Vec<_> = self.slide_family(&id.value).into_iter().cloned().collect();
        if family.is_empty() {
            return self.unknown(findings, "slide", id, &[Kind::Slide, Kind::SlideFamily]);
        }
        Some(SlideChoice::Family(family))
    }

    /// Hardware for a joint's bolt through boards and perhaps a leg of metal, `stack` mm in all: a flush head or
    /// one on a large washer, a lock nut. The error is the least length that would be needed, mm.
    pub(crate) fn joint_hardware(
        &self,
        size: &str,
        stack: f64,
        flush: bool,
        under_nut: Bearing,
    ) -> Result<Hardware, f64> {
        let (nuts, under_head) = (hardware::LOCK_NUTS, Bearing::Board);
        let head = HeadKind::Button;
        hardware::choose(self, Need { head, size, stack, flush, under_head, under_nut, nuts, room: None })
    }

    /// The bolt through two slides back to back on an upright of this thickness, mm: head in the first one's
    /// channel, nut in the other's. The error is the least length that would be needed, mm.
    pub(crate) fn shared_slide_hardware(
        &self,
        thickness: f64,
        head: &Slide,
        nut: &Slide,
    ) -> Result<Hardware, f64> {
        hardware::choose(
            self,
            Need {
                head: HeadKind::Button,
                size: &head.bolt,
                stack: thickness + head.wall + nut.wall,
                flush: false,
                under_head: Bearing::Channel,
                under_nut: Bearing::Channel,
                nuts: hardware::CHANNEL_NUTS,
                room: Some(nut.head_room),
            },
        )
    }

    /// The bolt of one slide on a board of this thickness, mm: head in the channel, nut on the board's far
    /// face. The error is the least length that would be needed, mm.
    pub(crate) fn slide_hardware(&self, thickness: f64, slide: &Slide) -> Result<Hardware, f64> {
        hardware::choose(
            self,
            Need {
                head: HeadKind::Button,
                size: &slide.bolt,
                stack: thickness + slide.wall,
                flush: false,
                under_head: Bearing::Channel,
                under_nut: Bearing::Board,
                nuts: hardware::LOW_NUTS,
                room: None,
            },
        )
    }

    /// The bolt that holds a turnbuckle's eye nut on a board of this thickness, mm: a large washer on either side. The
    /// error is the least length that would be needed, mm.
    pub(crate) fn eye_hardware(&self, size: &str, thickness: f64) -> Result<Hardware, f64> {
        hardware::choose(
            self,
            Need {
                head: HeadKind::Hex,
                size,
                stack: thickness,
                flush: false,
                under_head: Bearing::Board,
                under_nut: Bearing::Board,
                nuts: &[NutKind::Eye],
                room: None,
            },
        )
    }

    /// The bolt that holds a fitting's or an appliance's flange on a board, `stack` mm in all: the head on the flange, the
    /// nut on the board or on a spreader. The error is the least length that would be needed, mm.
    pub(crate) fn fixture_hardware(
        &self,
        size: &str,
        stack: f64,
        under_nut: Bearing,
    ) -> Result<Hardware, f64> {
        hardware::choose(
            self,
            Need {
                head: HeadKind::Button,
                size,
                stack,
                flush: false,
                under_head: Bearing::Metal,
                under_nut,
                nuts: hardware::LOCK_NUTS,
                room: None,
            },
        )
    }

    /// The turnbuckle of a thread size.
    pub(crate) fn turnbuckle(&self, size: &str) -> Option<&Arc<Turnbuckle>> {
        self.turnbuckles.get(size)
    }

    /// Whether a countersunk head of this size may lie flush in a board of this thickness, mm.
    pub(crate) fn sinks_into(&self, thickness: f64, size: &str) -> bool {
        let head = self.head(HeadKind::Countersunk, size);
        head.is_some_and(|head| head.height <= thickness * MOST_SINK)
    }

    /// mm. Radius of the large washer of a thread size.
    pub(crate) fn washer_radius(&self, size: &str) -> f64 {
        self.washer(WasherKind::Large, size).map_or(0.0, |washer| washer.outer / 2.0)
    }

    /// mm. Radius of the spreader washer of a thread size.
    pub(crate) fn spreader_radius(&self, size: &str) -> f64 {
        self.washer(WasherKind::Spreader, size).map_or(0.0, |washer| washer.outer / 2.0)
    }

    /// The largest size whose nut, across its corners, fits inside a board of this thickness, mm.
    pub(crate) fn largest_captive_nut(&self, thickness: f64) -> Option<String> {
        let fits =
            |size: &&str| self.nut(NutKind::Hex, size).is_some_and(|nut| nut.across_corners() <= thickness);
        CAPTIVE_SIZES.into_iter().find(fits).map(str::to_owned)
    }

    fn unknown<T>(&self, findings: &mut Findings, what: &str, id: &At<String>, kinds: &[Kind]) -> Option<T> {
        let known = kinds.iter().flat_map(|&kind| self.names(kind));
        let help = match nearest(&id.value, known) {
            Some(near) => format!("did you mean `{near}`? `baywright catalogue` lists all names"),
            None => "`baywright catalogue` lists all names; the workshop file can add more".to_owned(),
        };
        let message = format!("there is no {what} called `{}`", id.value);
        findings.push(Finding::new(&rules::UNKNOWN_NAME, id.span, message).on(&id.value).help(help));
        None
    }
}

/// Reports keys that a new row lacks.
struct Missing<'a> {
    findings: &'a mut Findings,
    id: &'a At<String>,
}

impl Missing<'_> {
    /// The value of a new row, else of the row that it overrides, else a finding.
    fn value<T: Clone>(&mut self, key: &str, own: Option<&At<T>>, old: Option<T>) -> Option<T> {
        let value = own.map(|own| own.value.clone()).or(old);
        if value.is_none() {
            let message = format!("`{}` is new to the catalogue and has no `{key}`", self.id.value);
            self.findings.push(
                Finding::new(&rules::INCOMPLETE_ENTRY, self.id.span, message)
                    .on(&self.id.value)
                    .help(format!("add `{key}:`, or correct the name if a built-in row was meant")),
            );
        }
        value
    }
}

fn source_of(own: Option<&At<String>>) -> String {
    own.map_or_else(|| "the workshop's file".to_owned(), |source| source.value.clone())
}

fn material(findings: &mut Findings, old: Option<&Arc<Material>>, entry: &MaterialEntry) -> Option<Material> {
    let mut missing = Missing { findings, id: &entry.id };
    let nominal = missing.value("nominal", entry.nominal.as_ref(), old.map(|row| row.nominal));
    let actual = missing.value("actual", entry.actual.as_ref(), old.map(|row| row.actual));
    let grain = missing.value("grain", entry.grain.as_ref(), old.map(|row| row.grain));
    let old_stock = old.map(|row| row.stock.clone());
    let own_stock =
        entry.stock.as_ref().map(|stock| At::new(stock.value.iter().map(size).collect(), stock.span));
    let stock = missing.value("stock", own_stock.as_ref(), old_stock);
    // A density given by the workshop is that of the board as it is; it then holds the film, too.
    let own =
        entry.density.map(|density| At::new(PublishedMass::DensityAtActual(density.value), density.span));
    let published = missing.value("density", own.as_ref(), old.map(|row| row.published));
    let film = if own.is_some() { 0.0 } else { old.map_or(0.0, |row| row.film_per_face) };
    let id = entry.id.value.clone();
    let family = entry.family.as_ref().map(|family| family.value.clone());
    Some(Material {
        family: family.or(old.map(|row| row.family.clone())).unwrap_or_else(|| id.clone()),
        title: old.map_or_else(|| id.clone(), |row| row.title.clone()),
        id,
        nominal: nominal?,
        actual: actual?,
        published: published?,
        film_per_face: film,
        grain: grain?,
        e_along: entry.e_along.map(|e| e.value).or(old.and_then(|row| row.e_along)),
        e_across: entry.e_across.map(|e| e.value).or(old.and_then(|row| row.e_across)),
        strength: strengths(old.map(|row| row.strength).unwrap_or_default(), entry),
        stock: stock?,
        source: source_of(entry.source.as_ref()),
        stock_source: source_of(entry.source.as_ref()),
    })
}

/// What the workshop says of a material's strength over what was known.
fn strengths(old: Strengths, entry: &MaterialEntry) -> Strengths {
    let over = |own: Option<At<f64>>, old: Option<f64>| own.map(|own| own.value).or(old);
    Strengths {
        kind: entry.kind.map(|kind| kind.value).or(old.kind),
        bending_along: over(entry.bending_along, old.bending_along),
        bending_across: over(entry.bending_across, old.bending_across),
        shear_modulus: over(entry.shear_modulus, old.shear_modulus),
        panel_shear: over(entry.panel_shear, old.panel_shear),
        planar_shear: over(entry.planar_shear, old.planar_shear),
        flat_compression: over(entry.flat_compression, old.flat_compression),
        characteristic_density: over(entry.characteristic_density, old.characteristic_density),
        tensile: over(entry.tensile, old.tensile),
    }
}

fn size(entry: &StockEntry) -> StockSize {
    let (length, width) = (entry.length.value, entry.width.value);
    let plain = || format!("{}x{}", decimal(length, 1), decimal(width, 1));
    StockSize {
        name: entry.name.as_ref().map_or_else(plain, |name| name.value.clone()),
        length,
        width,
        price: entry.price.map(|price| price.value),
        quantity: entry.quantity.map(|quantity| quantity.value),
        defects: entry.defects.clone(),
        offcut: entry.offcut,
    }
}

/// Where the first price of each material stands, for those that have one.
fn first_prices(workshop: &Workshop) -> BTreeMap<String, Span> {
    let listed =
        workshop.materials.iter().filter_map(|entry| Some((&entry.id, &entry.stock.as_ref()?.value)));
    let shelved = workshop.shelf.iter().map(|ShelfEntry { material, sheets }| (material, sheets));
    let mut places = BTreeMap::new();
    for (id, rows) in listed.chain(shelved) {
        if let Some(price) = rows.iter().find_map(|row| row.price) {
            places.entry(id.value.clone()).or_insert(price.span);
        }
    }
    places
}

/// Says so if some of a material's sheets have a price and others do not.
fn priced_in_part(findings: &mut Findings, material: &Material, price: Span) {
    let unpriced = material.stock.iter().filter(|sheet| sheet.price.is_none() && !sheet.offcut);
    let names: Vec<&str> = unpriced.map(|sheet| sheet.name.as_str()).collect();
    if names.is_empty() {
        return;
    }
    let message = format!(
        "`{}` has prices for some sheets but none for {}: its sheets are compared by area",
        material.id,
        names.join(", ")
    );
    let help = "give every sheet a price, or list only those that have one under `materials: stock:`";
    findings.push(Finding::new(&rules::PRICES_FOR_SOME, price, message).on(&material.id).help(help));
}

fn slide(findings: &mut Findings, old: Option<&Arc<Slide>>, entry: &SlideEntry) -> Option<Slide> {
    let mut missing = Missing { findings, id: &entry.id };
    let family = missing.value("family", entry.family.as_ref(), old.map(|row| row.family.clone()));
    let length = missing.value("length", entry.length.as_ref(), old.map(|row| row.length));
    let travel = missing.value("travel", entry.travel.as_ref(), old.map(|row| row.travel));
    let thickness = missing.value("thickness", entry.thickness.as_ref(), old.map(|row| row.thickness));
    let height = missing.value("height", entry.height.as_ref(), old.map(|row| row.height));
    let bolt = missing.value("bolt", entry.bolt.as_ref(), old.map(|row| row.bolt.clone()));
    let wall = missing.value("wall", entry.wall.as_ref(), old.map(|row| row.wall));
    let head_room = missing.value("head_room", entry.head_room.as_ref(), old.map(|row| row.head_room));
    let mass_pair = missing.value("mass_pair", entry.mass_pair.as_ref(), old.map(|row| row.mass_pair));
    let fixed =
        missing.value("fixed", holes(entry.fixed.as_ref()).as_ref(), old.map(|row| row.fixed.clone()));
    let moving =
        missing.value("moving", holes(entry.moving.as_ref()).as_ref(), old.map(|row| row.moving.clone()));
    Some(Slide {
        id: entry.id.value.clone(),
        family: family?,
        length: length?,
        travel: travel?,
        drop: entry.drop.map(|drop| drop.value).or(old.map(|row| row.drop)).unwrap_or_default(),
        thickness: thickness?,
        height: height?,
        rating_pair: entry.rating_pair.map(|rating| rating.value).or(old.and_then(|row| row.rating_pair)),
        fixed: fixed?,
        moving: moving?,
        bolt: bolt?,
        wall: wall?,
        head_room: head_room?,
        mass_pair: mass_pair?,
        source: source_of(entry.source.as_ref()),
    })
}

fn panel_fitting(
    findings: &mut Findings,
    old: Option<&Arc<PanelFitting>>,
    entry: &PanelFittingEntry,
) -> Option<PanelFitting> {
    let mut missing = Missing { findings, id: &entry.id };
    let own = entry.opening.map(|opening| {
        opening.map(|opening| match opening {
            OpeningEntry::Round(diameter) => {
                FittingOpening { diameter: Some(diameter), ..Default::default() }
            }
            OpeningEntry::Rectangle(width, height, radius) => {
                FittingOpening { diameter: None, width, height, radius }
            }
        })
    });
    let opening = missing.value("opening", own.as_ref(), old.map(|row| row.opening));
    let behind = missing.value("behind", entry.behind.as_ref(), old.map(|row| row.behind));
    let mass = missing.value("mass", entry.mass.as_ref(), old.map(|row| row.mass));
    let bolts = entry.bolts.as_ref().map(|bolts| bolts.value.clone());
    let bolts = bolts.or(old.map(|row| row.bolts.clone())).unwrap_or_default();
    let bolt = entry.bolt.as_ref().map(|bolt| bolt.value.clone()).or(old.and_then(|row| row.bolt.clone()));
    let bolt = if bolts.is_empty() { bolt } else { Some(missing.value("bolt", None, bolt)?) };
    let title = entry.title.as_ref().map(|title| title.value.clone()).or(old.map(|row| row.title.clone()));
    Some(PanelFitting {
        id: entry.id.value.clone(),
        title: title.unwrap_or_else(|| entry.id.value.clone()),
        opening: opening?,
        plate: entry.plate.map(|plate| plate.value).or(old.and_then(|row| row.plate)),
        flange: entry.flange.map(|flange| flange.value).or(old.map(|row| row.flange)).unwrap_or_default(),
        behind: behind?,
        bolt,
        bolts,
        air: entry.air.map(|air| air.value).or(old.and_then(|row| row.air)),
        mass: mass?,
        source: source_of(entry.source.as_ref()),
    })
}

fn finish(findings: &mut Findings, old: Option<&Arc<Finish>>, entry: &FinishEntry) -> Option<Finish> {
    let mut missing = Missing { findings, id: &entry.id };
    let thickness = missing.value("thickness", entry.thickness.as_ref(), old.map(|row| row.thickness));
    let mass = missing.value("mass", entry.mass.as_ref(), old.map(|row| row.mass));
    let thickness = thickness?;
    let under_bolt = entry.under_bolt.map(|mm| mm.value).or(old.map(|row| row.under_bolt));
    let title = entry.title.as_ref().map(|title| title.value.clone()).or(old.map(|row| row.title.clone()));
    let adhesive = entry.adhesive.map(|mass| mass.value).or(old.map(|row| row.adhesive));
    Some(Finish {
        id: entry.id.value.clone(),
        title: title.unwrap_or_else(|| entry.id.value.clone()),
        thickness,
        under_bolt: under_bolt.unwrap_or(thickness).min(thickness),
        mass: mass?,
        adhesive: adhesive.unwrap_or_default(),
        roll: entry.roll.map(|roll| roll.value).or(old.and_then(|row| row.roll)),
        wraps: entry.wraps.map(|wraps| wraps.value).or(old.map(|row| row.wraps)).unwrap_or_default(),
        source: source_of(entry.source.as_ref()),
    })
}

fn holes(given: Option<&At<Vec<At<f64>>>>) -> Option<At<Vec<f64>>> {
    given.map(|holes| At::new(holes.value.iter().map(|hole| hole.value).collect(), holes.span))
}

fn angle(findings: &mut Findings, old: Option<&Arc<Angle>>, entry: &AngleEntry) -> Option<Angle> {
    let mut missing = Missing { findings, id: &entry.id };
    let leg = missing.value("leg", entry.leg.as_ref(), old.map(|row| row.leg));
    let thickness = missing.value("thickness", entry.thickness.as_ref(), old.map(|row| row.thickness));
    let gauge = missing.value("gauge", entry.gauge.as_ref(), old.map(|row| row.gauge));
    let bolt = missing.value("bolt", entry.bolt.as_ref(), old.map(|row| row.bolt.clone()));
    let (leg, thickness) = (leg?, thickness?);
    // A mass given by the workshop's supplier stands for the density of the section as drawn.
    let given = entry.mass_per_metre.map(|mass| mass.value * 1e6 / ((2.0 * leg - thickness) * thickness));
    let built_in = Catalogue::built_in().angles.values().next().map(|row| (row.density, row.alloy.clone()));
    let (density, alloy) = old.map(|row| (row.density, row.alloy.clone())).or(built_in)?;
    Some(Angle {
        id: entry.id.value.clone(),
        leg,
        thickness,
        gauge: gauge?,
        bolt: bolt?,
        alloy,
        density: given.unwrap_or(density),
        yield_strength: entry.yield_strength.map(|mpa| mpa.value).or(old.and_then(|row| row.yield_strength)),
        tensile: entry.tensile.map(|mpa| mpa.value).or(old.and_then(|row| row.tensile)),
        source: source_of(entry.source.as_ref()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nowhere(id: &str) -> At<String> {
        At::new(id.to_owned(), Span::default())
    }

    #[test]
    fn the_nut_that_fits_is_the_largest_inside_the_actual_thickness() {
        let catalogue = Catalogue::built_in();
        for (thickness, size) in [(12.0, Some("M6")), (11.5, Some("M5")), (9.2, Some("M4")), (6.4, None)] {
            assert_eq!(catalogue.largest_captive_nut(thickness).as_deref(), size, "{thickness}");
        }
    }

    #[test]
    fn a_name_that_is_nearly_right_is_offered() {
        let mut findings = Findings::default();
        let found = Catalogue::built_in().find_material(&mut findings, &nowhere("brich-12"));
        assert!(found.is_none());
        let help = findings.iter().next().unwrap().help.clone().unwrap();
        assert!(help.contains("`birch-12`"), "{help}");
    }

    #[test]
    fn a_family_is_all_its_lengths() {
        let mut findings = Findings::default();
        let Some(SlideChoice::Family(family)) =
            Catalogue::built_in().find_slide(&mut findings, &nowhere("heavy"))
        else {
            panic!("no family");
        };
        assert!(family.windows(2).all(|pair| pair[0].length < pair[1].length) && family.len() > 3);
    }
}
