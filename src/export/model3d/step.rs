//! `model.step`: the kit as an assembly of solids (ISO 10303-21, application protocol 214), millimetres.
//!
//! Takes a [`Scene`]; gives text. Each distinct shape is one product with its boundary on true planes, cylinders and cones,
//! and occurs as often as there are parts of it, under their names. No clock, host or user stands in it.

use super::boundary::{Boundary, Curve, Edge, Face, Point, Surface, Use, Vector, across};
use super::entities::{Entities, Id, length, list, quoted, ratio};
use super::look::{Look, colours};
use super::scene::{Definition, Occurrence, Scene};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Placement, Point3, Vector3};
use std::collections::BTreeMap;

/// The protocol by its name and registered number.
const SCHEMA: &str = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }";

/// The file's name, as its head says it.
pub(crate) const NAME: &str = "model.step";

/// The text of the file.
pub(crate) fn write(scene: &Scene) -> String {
    let mut writer = Writer::new(scene);
    let shapes: Vec<Product> = scene.definitions.iter().map(|shape| writer.shape(shape)).collect();
    let mut parts = Vec::new();
    for module in &scene.modules {
        let own: Vec<Child<'_>> = module.parts.iter().map(|part| Child::of(part, &shapes)).collect();
        let product = writer.assembly(&module.name, &own);
        parts.push(Child { name: &module.name, product, placement: AS_IS });
    }
    parts.extend(scene.loose.iter().map(|part| Child::of(part, &shapes)));
    writer.assembly(&scene.name, &parts);
    writer.finished(&scene.name)
}

/// A product as assemblies use it.
#[derive(Clone, Copy)]
struct Product {
    definition: Id,
    representation: Id,
}

/// A product in an assembly.
struct Child<'a> {
    name: &'a str,
    product: Product,
    placement: Placement,
}

impl<'a> Child<'a> {
    fn of(part: &'a Occurrence, shapes: &[Product]) -> Self {
        Child { name: &part.name, product: shapes[part.definition], placement: part.placement }
    }
}

/// No motion.
const AS_IS: Placement = Placement {
    origin: Point3::new(0.0, 0.0, 0.0),
    axes: crate::geom::Axes {
        u: Vector3::new(1.0, 0.0, 0.0),
        v: Vector3::new(0.0, 1.0, 0.0),
        w: Vector3::new(0.0, 0.0, 1.0),
    },
};

/// What all products of the file share.
struct Writer {
    entities: Entities,
    units: Id,
    product_context: Id,
    definition_context: Id,
    /// The frame in which each shape and assembly is given.
    frame: Id,
    styles: BTreeMap<Look, Id>,
    products: Vec<Id>,
    styled: Vec<Id>,
    occurrences: usize,
}

impl Writer {
    fn new(scene: &Scene) -> Self {
        let mut entities = Entities::default();
        let application =
            entities.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        entities.add(&format!(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,{application})"
        ));
        let product_context = entities.add(&format!("PRODUCT_CONTEXT('',{application},'mechanical')"));
        let definition_context =
            entities.add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')"));
        let units = units(&mut entities);
        let styles = styles(&mut entities, scene);
        let frame =
            axes(&mut entities, Point::origin(), Vector::new(0.0, 0.0, 1.0), Vector::new(1.0, 0.0, 0.0));
        Writer {
            entities,
            units,
            product_context,
            definition_context,
            frame,
            styles,
            products: Vec::new(),
            styled: Vec::new(),
            occurrences: 0,
        }
    }

    /// A product with its shape: `kind` of representation, of `items` in its frame.
    fn product(&mut self, name: &str, kind: &str, items: &[Id]) -> Product {
        let name = quoted(name);
        let product = self.entities.add(&format!("PRODUCT({name},{name},'',({}))", self.product_context));
        let formation = self.entities.add(&format!("PRODUCT_DEFINITION_FORMATION('','',{product})"));
        let definition = self
            .entities
            .add(&format!("PRODUCT_DEFINITION('design','',{formation},{})", self.definition_context));
        let shape = self.entities.add(&format!("PRODUCT_DEFINITION_SHAPE('','',{definition})"));
        let representation = self.entities.add(&format!("{kind}({name},{},{})", list(items), self.units));
        self.entities.add(&format!("SHAPE_DEFINITION_REPRESENTATION({shape},{representation})"));
        self.products.push(product);
        Product { definition, representation }
    }

    /// A product with solids.
    fn shape(&mut self, shape: &Definition) -> Product {
        let name = quoted(&shape.name);
        let mut items = vec![self.frame];
        for boundary in &shape.solids {
            let shell = shell(&mut self.entities, boundary);
            let solid = self.entities.add(&format!("MANIFOLD_SOLID_BREP({name},{shell})"));
            items.push(solid);
            if let Some(style) = self.styles.get(&shape.look) {
                self.styled.push(self.entities.add(&format!("STYLED_ITEM('',({style}),{solid})")));
            }
        }
        self.product(&shape.name, "ADVANCED_BREP_SHAPE_REPRESENTATION", &items)
    }

    /// A product of others.
    fn assembly(&mut self, name: &str, children: &[Child<'_>]) -> Product {
        let frames: Vec<Id> = children
            .iter()
            .map(|child| {
                let Placement { origin, axes: ways } = child.placement;
                let [w, u] = [ways.w, ways.u].map(Vector3::cast_unit);
                axes(&mut self.entities, origin.cast_unit(), w, u)
            })
            .collect();
        let items: Vec<Id> = std::iter::once(self.frame).chain(frames.iter().copied()).collect();
        let own = self.product(name, "SHAPE_REPRESENTATION", &items);
        for (child, at) in children.iter().zip(frames) {
            self.occurrence(own, child, at);
        }
        own
    }

    /// A child of an assembly in the frame `at`.
    fn occurrence(&mut self, parent: Product, child: &Child<'_>, at: Id) {
        self.occurrences += 1;
        let (number, name) = (self.occurrences, quoted(child.name));
        let Product { definition, representation } = child.product;
        let used = self.entities.add(&format!(
            "NEXT_ASSEMBLY_USAGE_OCCURRENCE('{number}',{name},'',{},{definition},$)",
            parent.definition
        ));
        let shape = self.entities.add(&format!("PRODUCT_DEFINITION_SHAPE('','',{used})"));
        let motion = self.entities.add(&format!("ITEM_DEFINED_TRANSFORMATION('','',{},{at})", self.frame));
        let relation = self.entities.add(&format!(
            "(REPRESENTATION_RELATIONSHIP('','',{representation},{})\
             REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({motion})SHAPE_REPRESENTATION_RELATIONSHIP())",
            parent.representation
        ));
        self.entities.add(&format!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION({relation},{shape})"));
    }

    /// The whole file.
    fn finished(mut self, title: &str) -> String {
        let products = list(&self.products);
        self.entities.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,{products})"));
        let styled = list(&self.styled);
        self.entities.add(&format!(
            "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',{styled},{})",
            self.units
        ));
        self.entities.file(NAME, title, SCHEMA)
    }
}

/// Millimetres, radians, steradians, and how near two places are one.
fn units(entities: &mut Entities) -> Id {
    let mm = entities.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
    let radian = entities.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
    let steradian = entities.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
    let near = entities.add(&format!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({}),{mm},'distance_accuracy_value','')",
        length(SAME_LENGTH)
    ));
    entities.add(&format!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({near}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT(({mm},{radian},{steradian}))REPRESENTATION_CONTEXT('',''))"
    ))
}

/// The colours, by look.
fn styles(entities: &mut Entities, scene: &Scene) -> BTreeMap<Look, Id> {
    let looks = scene.looks();
    let style = |(look, colour): (&Look, [u8; 3])| {
        let [red, green, blue] = colour.map(|part| ratio((f64::from(part) / 255.0 * 1e3).round() / 1e3));
        let name = quoted(look.name());
        let colour = entities.add(&format!("COLOUR_RGB({name},{red},{green},{blue})"));
        let fill = entities.add(&format!("FILL_AREA_STYLE_COLOUR('',{colour})"));
        let area = entities.add(&format!("FILL_AREA_STYLE('',({fill}))"));
        let surface = entities.add(&format!("SURFACE_STYLE_FILL_AREA({area})"));
        let side = entities.add(&format!("SURFACE_SIDE_STYLE('',({surface}))"));
        let usage = entities.add(&format!("SURFACE_STYLE_USAGE(.BOTH.,{side})"));
        (look.clone(), entities.add(&format!("PRESENTATION_STYLE_ASSIGNMENT(({usage}))")))
    };
    colours(&looks).into_iter().map(style).collect()
}

/// The closed shell of a solid.
fn shell(entities: &mut Entities, solid: &Boundary) -> Id {
    let corners: Vec<Id> = solid
        .corners
        .iter()
        .map(|&corner| {
            let place = point(entities, corner);
            entities.add(&format!("VERTEX_POINT('',{place})"))
        })
        .collect();
    let edges: Vec<Id> = solid
        .edges
        .iter()
        .map(|edge| {
            let curve = curve(entities, solid, edge);
            let (from, to) = (corners[edge.from], corners[edge.to]);
            entities.add(&format!("EDGE_CURVE('',{from},{to},{curve},.T.)"))
        })
        .collect();
    let faces: Vec<Id> = solid.faces.iter().map(|each| face(entities, solid, &edges, each)).collect();
    entities.add(&format!("CLOSED_SHELL('',{})", list(&faces)))
}

/// The line or circle that an edge lies on, running its way.
fn curve(entities: &mut Entities, solid: &Boundary, edge: &Edge) -> Id {
    let (from, to) = (solid.corners[edge.from], solid.corners[edge.to]);
    match edge.curve {
        Curve::Line => {
            let (start, way) = (point(entities, from), direction(entities, (to - from).normalize()));
            let vector = entities.share(format!("VECTOR('',{way},1.)"));
            entities.add(&format!("LINE('',{start},{vector})"))
        }
        Curve::Arc { centre, axis, .. } => {
            let out = from - centre;
            let frame = axes(entities, centre, axis, out.normalize());
            entities.add(&format!("CIRCLE('',{frame},{})", length(out.length())))
        }
    }
}

/// A face with its loops.
fn face(entities: &mut Entities, solid: &Boundary, edges: &[Id], face: &Face) -> Id {
    let (surface, same) = surface(entities, face.surface, solid.start(face.loops[0][0]));
    let mut bounds = Vec::with_capacity(face.loops.len());
    for (i, uses) in face.loops.iter().enumerate() {
        let oriented: Vec<Id> = uses
            .iter()
            .map(|&Use { edge, forward }| {
                let (edge, way) = (edges[edge], logical(forward));
                entities.add(&format!("ORIENTED_EDGE('',*,*,{edge},{way})"))
            })
            .collect();
        let edge_loop = entities.add(&format!("EDGE_LOOP('',{})", list(&oriented)));
        let kind = if i == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
        bounds.push(entities.add(&format!("{kind}('',{edge_loop},.T.)")));
    }
    entities.add(&format!("ADVANCED_FACE('',{},{surface},{})", list(&bounds), logical(same)))
}

/// A surface that begins to turn at a place of its face, and whether its own normal points out of the solid.
fn surface(entities: &mut Entities, surface: Surface, start: Point) -> (Id, bool) {
    match surface {
        Surface::Plane { normal } => {
            let frame = axes(entities, start, normal, across(normal));
            (entities.share(format!("PLANE('',{frame})")), true)
        }
        Surface::Round { base, axis, radius, slope, hollow } => {
            // A cone widens along its axis.
            let axis = if slope < 0.0 { -axis } else { axis };
            let out = start - base;
            let frame = axes(entities, base, axis, (out - axis * out.dot(axis)).normalize());
            let radius = length(radius);
            let kind = if slope == 0.0 {
                format!("CYLINDRICAL_SURFACE('',{frame},{radius})")
            } else {
                format!("CONICAL_SURFACE('',{frame},{radius},{})", ratio(slope.abs().atan()))
            };
            (entities.share(kind), !hollow)
        }
    }
}

/// A frame by its origin, its z and its x.
fn axes(entities: &mut Entities, origin: Point, z: Vector, x: Vector) -> Id {
    let (origin, z, x) = (point(entities, origin), direction(entities, z), direction(entities, x));
    entities.share(format!("AXIS2_PLACEMENT_3D('',{origin},{z},{x})"))
}

fn point(entities: &mut Entities, place: Point) -> Id {
    let [x, y, z] = place.to_array().map(length);
    entities.share(format!("CARTESIAN_POINT('',({x},{y},{z}))"))
}

fn direction(entities: &mut Entities, way: Vector) -> Id {
    let [x, y, z] = way.to_array().map(ratio);
    entities.share(format!("DIRECTION('',({x},{y},{z}))"))
}

fn logical(yes: bool) -> &'static str {
    if yes { ".T." } else { ".F." }
}
