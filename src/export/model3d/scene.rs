//! A kit as a tree of named things in space: what both formats write.
//!
//! Takes a finished kit; gives each distinct shape once, and where its occurrences stand: kit, module, part. Knows no file
//! format. Engravings, finishes and room to be kept free are no solids and not in it.

use super::boundary::Boundary;
use super::look::Look;
use super::parts::{self, Detail, Part};
use crate::finished::Finished;
use crate::geom::Placement;
use crate::layout::{Body, BodyId};
use std::collections::{BTreeMap, BTreeSet};

/// All of a kit.
#[derive(Debug)]
pub(crate) struct Scene {
    /// The kit's name.
    pub(super) name: String,
    /// Each distinct shape.
    pub(super) definitions: Vec<Definition>,
    /// The carcases, in the order of the spec, with their parts.
    pub(super) modules: Vec<Module>,
    /// Parts of no carcase: false floors and what is on them.
    pub(super) loose: Vec<Occurrence>,
    /// The bodies that parts move with, by their ids.
    bodies: Vec<Body>,
}

/// A shape that parts share.
#[derive(Debug)]
pub(super) struct Definition {
    /// What it is called: a designation, or the names of all parts of this shape. No two are called the same.
    pub(super) name: String,
    /// What it is, as far as it shows.
    pub(super) look: Look,
    /// Its solids, in one frame.
    pub(super) solids: Vec<Boundary>,
}

/// A carcase with all that belongs to it.
#[derive(Debug)]
pub(super) struct Module {
    /// Its id in the spec; where a shape is called the same, with a number.
    pub(super) name: String,
    /// Its parts, its drawers' and doors' among them.
    pub(super) parts: Vec<Occurrence>,
}

/// A part where it stands, shut.
#[derive(Clone, Debug)]
pub(crate) struct Occurrence {
    /// The part's name, the same everywhere.
    pub(crate) name: String,
    /// The word for what it is.
    pub(crate) kind: &'static str,
    /// What its shape is called in a catalogue, if it has such a name.
    pub(crate) designation: Option<String>,
    /// Index of its shape.
    pub(super) definition: usize,
    /// From the shape's frame to the vehicle's.
    pub(super) placement: Placement,
    /// The body that it moves with.
    pub(crate) body: BodyId,
}

/// What makes two parts the same shape: look, designation, numbers.
type Key = (Look, Option<String>, Vec<u64>);

impl Scene {
    /// The scene of a kit.
    pub(crate) fn of(finished: &Finished) -> Self {
        Self::with(finished, Detail::Full)
    }

    /// The same parts in the same places, with no more of them than is seen from some metres away.
    pub(crate) fn plain(finished: &Finished) -> Self {
        Self::with(finished, Detail::Plain)
    }

    fn with(finished: &Finished, detail: Detail) -> Self {
        let layout = &finished.kit.layout;
        let mut modules: Vec<Module> = finished
            .design
            .carcases
            .iter()
            .map(|carcase| Module { name: carcase.id.value.clone(), parts: Vec::new() })
            .collect();
        let mut shapes = Shapes::default();
        let mut loose = Vec::new();
        for part in parts::all(&finished.kit, detail) {
            let carcase = &layout.body(part.body).carcase;
            let module = modules.iter_mut().find(|module| module.name == *carcase);
            module.map_or(&mut loose, |module| &mut module.parts).push(shapes.occurrence(part));
        }
        let mut names = Names::default();
        let name = names.unique(finished.design.name.value.clone());
        for module in &mut modules {
            module.name = names.unique(module.name.clone());
        }
        for definition in &mut shapes.definitions {
            definition.name = names.unique(std::mem::take(&mut definition.name));
        }
        Scene { name, definitions: shapes.definitions, modules, loose, bodies: layout.bodies.clone() }
    }

    /// The body that a part moves with.
    pub(super) fn body(&self, part: &Occurrence) -> &Body {
        &self.bodies[part.body.0]
    }

    /// Every part: carcase by carcase, then those of none.
    pub(crate) fn parts(&self) -> impl Iterator<Item = &Occurrence> {
        self.modules.iter().flat_map(|module| &module.parts).chain(&self.loose)
    }

    /// Every look that occurs.
    pub(super) fn looks(&self) -> BTreeSet<Look> {
        self.definitions.iter().map(|definition| definition.look.clone()).collect()
    }
}

/// Shapes as they are met.
#[derive(Default)]
struct Shapes {
    definitions: Vec<Definition>,
    known: BTreeMap<Key, usize>,
}

impl Shapes {
    /// The part, with its shape among the definitions.
    fn occurrence(&mut self, part: Part) -> Occurrence {
        let Part { name, kind, look, designation, solids, placement, body } = part;
        let numbers = solids.iter().flat_map(Boundary::key).collect();
        let key = (look.clone(), designation.clone(), numbers);
        let definition = if let Some(&known) = self.known.get(&key) {
            // A shape without a designation is called by the names of all that have it.
            if designation.is_none() {
                let names = &mut self.definitions[known].name;
                *names = format!("{names}, {name}");
            }
            known
        } else {
            let called = designation.clone().unwrap_or_else(|| name.clone());
            self.definitions.push(Definition { name: called, look, solids });
            self.known.insert(key, self.definitions.len() - 1);
            self.definitions.len() - 1
        };
        Occurrence { name, kind, designation, definition, placement, body }
    }
}

/// Names that were given.
#[derive(Default)]
struct Names(BTreeSet<String>);

impl Names {
    /// The name, with a number behind it if it was given before.
    fn unique(&mut self, name: String) -> String {
        let numbered = (2..).map(|number: u32| format!("{name} ({number})"));
        let free = std::iter::once(name.clone()).chain(numbered).find(|name| !self.0.contains(name));
        let free = free.unwrap_or(name);
        self.0.insert(free.clone());
        free
    }
}
