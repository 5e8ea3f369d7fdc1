//! The built-in catalogue: sheet materials, threads, heads, washers, nuts, slides, angles.
//!
//! Takes the data files embedded from `data/`, gives typed rows and lookups by name. A workshop's own rows go
//! into a clone of it. Nothing here places anything, reads the disk, or reports a finding: an embedded file
//! that is wrong is our own fault and stops the program with a message.

mod angle;
mod door;
mod equipment;
mod fastener;
mod finish;
pub(crate) mod hardware;
mod head;
mod material;
mod panel_fitting;
mod resolve;
pub(crate) mod rules;
mod slide;
mod tie_down;

use std::collections::BTreeMap;
use std::fmt::Debug;
use std::sync::{Arc, LazyLock};

use serde::de::DeserializeOwned;

pub(crate) use angle::Angle;
pub(crate) use door::{Hinge, Latch, Stay};
pub(crate) use equipment::{Asked, Bar, EquipmentKind, Strap};
pub(crate) use fastener::{Nut, NutKind, Thread, Turnbuckle, Washer, WasherKind, across_corners};
pub(crate) use finish::Finish;
pub(crate) use hardware::Hardware;
pub(crate) use head::{Head, HeadKind};
pub(crate) use material::{Material, StockSize, Strengths};
pub(crate) use panel_fitting::PanelFitting;
pub(crate) use resolve::SlideChoice;
pub(crate) use slide::Slide;
pub(crate) use tie_down::TieDownKind;

/// Everything that a design can name, by its name. Maps are ordered, so that listing them is repeatable.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Catalogue {
    /// Sheet materials by id, e.g. `birch-12`.
    pub(crate) materials: BTreeMap<String, Arc<Material>>,
    /// Threads by size, e.g. `M6`.
    pub(crate) threads: BTreeMap<String, Thread>,
    /// Bolts by kind of head and size.
    pub(crate) heads: BTreeMap<(HeadKind, String), Head>,
    /// Washers by kind and size.
    pub(crate) washers: BTreeMap<(WasherKind, String), Washer>,
    /// Nuts by kind and size.
    pub(crate) nuts: BTreeMap<(NutKind, String), Nut>,
    /// Drawer slides by id, e.g. `heavy-800`.
    pub(crate) slides: BTreeMap<String, Arc<Slide>>,
    /// Aluminium angles by id, e.g. `angle-30x30x3`.
    pub(crate) angles: BTreeMap<String, Arc<Angle>>,
    /// Fittings that are set into panels, by id, e.g. `socket-double`.
    pub(crate) panel_fittings: BTreeMap<String, Arc<PanelFitting>>,
    /// Finishes by id, e.g. `carpet`.
    pub(crate) finishes: BTreeMap<String, Arc<Finish>>,
    /// Tie-downs by id, e.g. `tie-ring`.
    pub(crate) tie_downs: BTreeMap<String, Arc<TieDownKind>>,
    /// Hinges by id, e.g. `butt-50`.
    pub(crate) hinges: BTreeMap<String, Arc<Hinge>>,
    /// Latches by id.
    pub(crate) latches: BTreeMap<String, Arc<Latch>>,
    /// Gas struts and stays by id.
    pub(crate) stays: BTreeMap<String, Arc<Stay>>,
    /// Equipment by id, e.g. `battery-100`.
    pub(crate) equipment: BTreeMap<String, Arc<EquipmentKind>>,
    /// The strap that holds equipment down.
    pub(crate) strap: Arc<Strap>,
    /// The bar that holds equipment down.
    pub(crate) bar: Arc<Bar>,
    /// Turnbuckles by thread size.
    pub(crate) turnbuckles: BTreeMap<String, Arc<Turnbuckle>>,
}

impl Catalogue {
    /// The catalogue that comes with the program, read once. Clone it to extend it.
    pub(crate) fn built_in() -> &'static Catalogue {
        static BUILT_IN: LazyLock<Catalogue> = LazyLock::new(read_embedded);
        &BUILT_IN
    }

    /// The sheet material of this id.
    pub(crate) fn material(&self, id: &str) -> Option<&Arc<Material>> {
        self.materials.get(id)
    }

    /// The thread of this size.
    pub(crate) fn thread(&self, size: &str) -> Option<&Thread> {
        self.threads.get(size)
    }

    /// The bolt with this head, of this size.
    pub(crate) fn head(&self, kind: HeadKind, size: &str) -> Option<&Head> {
        self.heads.get(&(kind, size.to_owned()))
    }

    /// The washer of this kind and size.
    pub(crate) fn washer(&self, kind: WasherKind, size: &str) -> Option<&Washer> {
        self.washers.get(&(kind, size.to_owned()))
    }

    /// The nut of this kind and size.
    pub(crate) fn nut(&self, kind: NutKind, size: &str) -> Option<&Nut> {
        self.nuts.get(&(kind, size.to_owned()))
    }

    /// The slide of this id.
    pub(crate) fn slide(&self, id: &str) -> Option<&Arc<Slide>> {
        self.slides.get(id)
    }

    /// The slides of a family, shortest first; empty for an unknown family.
    pub(crate) fn slide_family(&self, family: &str) -> Vec<&Arc<Slide>> {
        let mut slides: Vec<&Arc<Slide>> =
            self.slides.values().filter(|slide| slide.family == family).collect();
        slides.sort_by(|a, b| a.length.total_cmp(&b.length));
        slides
    }

    /// The angle of this id.
    pub(crate) fn angle(&self, id: &str) -> Option<&Arc<Angle>> {
        self.angles.get(id)
    }

    /// The names of one kind of thing, in order, each once: what a suggestion picks from and a list shows.
    pub(crate) fn names(&self, kind: Kind) -> Vec<&str> {
        let mut names: Vec<&str> = match kind {
            Kind::Material => self.materials.keys().map(String::as_str).collect(),
            Kind::Thread => self.threads.keys().map(String::as_str).collect(),
            Kind::Slide => self.slides.keys().map(String::as_str).collect(),
            Kind::SlideFamily => self.slides.values().map(|slide| slide.family.as_str()).collect(),
            Kind::Angle => self.angles.keys().map(String::as_str).collect(),
            Kind::Hinge => self.hinges.keys().map(String::as_str).collect(),
            Kind::Latch => self.latches.keys().map(String::as_str).collect(),
            Kind::Stay => self.stays.keys().map(String::as_str).collect(),
            Kind::Equipment => self.equipment.keys().map(String::as_str).collect(),
            Kind::Finish => self.finishes.keys().map(String::as_str).collect(),
            Kind::TieDown => self.tie_downs.keys().map(String::as_str).collect(),
            Kind::PanelFitting => self.panel_fittings.keys().map(String::as_str).collect(),
        };
        names.dedup();
        names
    }
}

/// The kinds of thing that a spec names freely. Heads, washers and nuts are chosen from fixed words instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Sheet material.
    Material,
    /// Thread size.
    Thread,
    /// One slide.
    Slide,
    /// A family of slides, one length of which is to be chosen.
    SlideFamily,
    /// Aluminium angle.
    Angle,
    /// Something set into a panel.
    PanelFitting,
    /// A fridge, a tank, a battery.
    Equipment,
    /// Carpet, laminate, paint.
    Finish,
    /// A ring, an eye, a track.
    TieDown,
    /// A door's hinge.
    Hinge,
    /// A door's latch.
    Latch,
    /// A gas strut or stay.
    Stay,
}

fn read_embedded() -> Catalogue {
    let fasteners: fastener::FastenerFile = embedded("fasteners.yaml", include_str!("data/fasteners.yaml"));
    let materials: material::MaterialFile = embedded("materials.yaml", include_str!("data/materials.yaml"));
    let slides: slide::SlideFile = embedded("slides.yaml", include_str!("data/slides.yaml"));
    let angles: angle::AngleFile = embedded("angles.yaml", include_str!("data/angles.yaml"));
    let fittings: panel_fitting::PanelFittingFile =
        embedded("panel_fittings.yaml", include_str!("data/panel_fittings.yaml"));
    let equipment: equipment::EquipmentFile = embedded("equipment.yaml", include_str!("data/equipment.yaml"));
    let doors: door::DoorFile = embedded("doors.yaml", include_str!("data/doors.yaml"));
    let tie_downs: tie_down::TieDownFile = embedded("tie_downs.yaml", include_str!("data/tie_downs.yaml"));
    let finishes: finish::FinishFile = embedded("finishes.yaml", include_str!("data/finishes.yaml"));
    let threads = keyed(fasteners.threads, |thread| thread.size.clone());
    Catalogue {
        materials: keyed(shared(materials.rows()), |material| material.id.clone()),
        heads: keyed(head::rows(fasteners.heads, &threads), |head| (head.kind, head.size.clone())),
        washers: keyed(fastener::washers(fasteners.washers), |washer| (washer.kind, washer.size.clone())),
        nuts: keyed(fastener::nuts(fasteners.nuts, &threads), |nut| (nut.kind, nut.size.clone())),
        slides: keyed(shared(slides.rows()), |slide| slide.id.clone()),
        angles: keyed(shared(angles.angles), |angle| angle.id.clone()),
        panel_fittings: keyed(shared(fittings.fittings), |fitting| fitting.id.clone()),
        finishes: keyed(shared(finishes.finishes), |finish| finish.id.clone()),
        tie_downs: keyed(shared(tie_downs.tie_downs), |kind| kind.id.clone()),
        hinges: keyed(shared(doors.hinges), |hinge| hinge.id.clone()),
        latches: keyed(shared(doors.latches), |latch| latch.id.clone()),
        stays: keyed(shared(doors.stays), |stay| stay.id.clone()),
        equipment: keyed(shared(equipment.equipment), |kind| kind.id.clone()),
        strap: Arc::new(equipment.strap),
        bar: Arc::new(equipment.bar),
        turnbuckles: keyed(shared(fasteners.turnbuckles), |turnbuckle| turnbuckle.size.clone()),
        threads,
    }
}

/// The content of an embedded file, which is ours and therefore reads.
fn embedded<T: DeserializeOwned>(name: &str, text: &str) -> T {
    serde_yaml::from_str(text).unwrap_or_else(|error| panic!("built-in {name} does not read: {error}"))
}

/// Rows that panels and drawers will point to.
fn shared<T>(rows: Vec<T>) -> Vec<Arc<T>> {
    rows.into_iter().map(Arc::new).collect()
}

/// Rows by key; a key that comes twice would hide a row.
fn keyed<K: Ord + Debug, T>(rows: Vec<T>, key: impl Fn(&T) -> K) -> BTreeMap<K, T> {
    let mut map = BTreeMap::new();
    for row in rows {
        let key = key(&row);
        assert!(!map.contains_key(&key), "{key:?} stands twice in the built-in catalogue");
        map.insert(key, row);
    }
    map
}

/// The thread that a row of the embedded fasteners refers to.
fn thread_of<'a>(threads: &'a BTreeMap<String, Thread>, size: &str) -> &'a Thread {
    threads.get(size).unwrap_or_else(|| panic!("built-in fasteners use thread {size}, which is not listed"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_read() {
        let catalogue = Catalogue::built_in();
        assert_eq!(catalogue.materials.len(), 3 * 5 + 5 + 4 + 3 + 4);
        assert_eq!(catalogue.threads.len(), 5);
        assert_eq!(catalogue.heads.len(), 4 * 5);
        assert_eq!(catalogue.washers.len(), 2 * 5 + 3);
        assert_eq!(catalogue.nuts.len(), 4 * 5 + 2);
        assert_eq!(catalogue.turnbuckles.len(), 2);
        assert_eq!(catalogue.slides.len(), 9 + 15 + 5 + 1);
        assert_eq!(catalogue.angles.len(), 4);
        assert_eq!(catalogue.panel_fittings.len(), 7);
        assert_eq!(catalogue.equipment.len(), 14);
        assert_eq!((catalogue.hinges.len(), catalogue.latches.len(), catalogue.stays.len()), (2, 2, 3));
    }

    #[test]
    fn every_row_has_a_source() {
        let catalogue = Catalogue::built_in();
        let sources = (catalogue.materials.values())
            .flat_map(|material| [&material.source, &material.stock_source])
            .chain(catalogue.threads.values().map(|thread| &thread.source))
            .chain(catalogue.heads.values().map(|head| &head.source))
            .chain(catalogue.washers.values().map(|washer| &washer.source))
            .chain(catalogue.nuts.values().map(|nut| &nut.source))
            .chain(catalogue.slides.values().map(|slide| &slide.source))
            .chain(catalogue.angles.values().map(|angle| &angle.source))
            .chain(catalogue.panel_fittings.values().map(|fitting| &fitting.source))
            .chain(catalogue.equipment.values().map(|kind| &kind.source))
            .chain([&catalogue.strap.source, &catalogue.bar.source])
            .chain(catalogue.tie_downs.values().map(|kind| &kind.source))
            .chain(catalogue.finishes.values().map(|finish| &finish.source))
            .chain(catalogue.hinges.values().map(|hinge| &hinge.source))
            .chain(catalogue.latches.values().map(|latch| &latch.source))
            .chain(catalogue.stays.values().map(|stay| &stay.source))
            .chain(catalogue.turnbuckles.values().map(|turnbuckle| &turnbuckle.source));
        assert_eq!(
            sources.clone().count(),
            2 * 31 + 5 + 20 + 13 + 22 + 30 + 4 + 7 + 14 + 1 + 2 + 2 + 3 + 2 + 3 + 5 + 1
        );
        for source in sources {
            assert!(source.len() > 10, "`{source}` is no source");
        }
    }

    #[test]
    fn lookups_find_by_name_and_nothing_else() {
        let catalogue = Catalogue::built_in();
        assert_eq!(catalogue.material("birch-12").unwrap().id, "birch-12");
        assert_eq!(catalogue.thread("M6").unwrap().size, "M6");
        assert_eq!(catalogue.slide("heavy-800").unwrap().id, "heavy-800");
        assert_eq!(catalogue.angle("angle-30x30x3").unwrap().id, "angle-30x30x3");
        let head = catalogue.head(HeadKind::Cap, "M8").unwrap();
        assert_eq!((head.kind, head.size.as_str()), (HeadKind::Cap, "M8"));
        let washer = catalogue.washer(WasherKind::Large, "M5").unwrap();
        assert_eq!((washer.kind, washer.size.as_str()), (WasherKind::Large, "M5"));
        let nut = catalogue.nut(NutKind::LowLock, "M4").unwrap();
        assert_eq!((nut.kind, nut.size.as_str()), (NutKind::LowLock, "M4"));
        assert!(catalogue.material("oak-12").is_none());
        assert!(catalogue.head(HeadKind::Cap, "M7").is_none());
        assert!(catalogue.slide_family("feather").is_empty());
    }

    #[test]
    fn names_come_once_and_in_order() {
        let catalogue = Catalogue::built_in();
        assert_eq!(catalogue.names(Kind::SlideFamily), ["drop", "heavy", "ordinary", "overtravel"]);
        assert_eq!(catalogue.names(Kind::Thread), ["M10", "M4", "M5", "M6", "M8"]);
        assert_eq!(catalogue.names(Kind::Angle).len(), 4);
        assert!(catalogue.names(Kind::Material).contains(&"film-faced-18"));
        assert!(catalogue.names(Kind::Slide).is_sorted());
    }

    #[test]
    fn everything_is_bolted_with_a_thread_that_the_catalogue_has() {
        let catalogue = Catalogue::built_in();
        let slides = catalogue.slides.values().map(|slide| &slide.bolt);
        let tie_downs = catalogue.tie_downs.values().map(|kind| &kind.bolt);
        for size in slides.chain(catalogue.angles.values().map(|angle| &angle.bolt)).chain(tie_downs) {
            assert!(catalogue.thread(size).is_some(), "{size}");
        }
        for size in catalogue.names(Kind::Thread) {
            for kind in [HeadKind::Button, HeadKind::Countersunk, HeadKind::Hex, HeadKind::Cap] {
                assert!(catalogue.head(kind, size).is_some(), "{kind:?} {size}");
            }
            for kind in [NutKind::Hex, NutKind::Lock, NutKind::LowLock, NutKind::Thin] {
                assert!(catalogue.nut(kind, size).is_some(), "{kind:?} {size}");
            }
            for kind in [WasherKind::Plain, WasherKind::Large] {
                assert!(catalogue.washer(kind, size).is_some(), "{kind:?} {size}");
            }
        }
    }

    #[test]
    fn a_built_in_file_with_an_unknown_key_does_not_read() {
        let text = include_str!("data/angles.yaml");
        assert!(serde_yaml::from_str::<angle::AngleFile>(text).is_ok());
        let text = text.replace("alloy: EN AW-6060", "alloy: EN AW-6060\n    finish: raw");
        let error = serde_yaml::from_str::<angle::AngleFile>(&text).unwrap_err().to_string();
        assert!(error.contains("finish"), "{error}");
    }
}
