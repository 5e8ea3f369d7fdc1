//! One load on one panel: the worst place for it, and what strip or plate it bends there.

use super::super::board::Sheet;
use super::loads::{Item, Press};
use super::spans::{self, Line, Span, Way};
use crate::geom::{PanelFrame, Point2, Vector2};
use crate::layout::{Board, GRAVITY};
use crate::spec::BoardKind;
use baywright_formulas::beam::{self, Strip};
use baywright_formulas::plate::{Load, Plate};
use baywright_formulas::timber::Duration;

/// How a panel was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Method {
    /// A strip between two lines that carry it.
    Strip,
    /// A strip held at one line.
    Arm,
    /// A plate on four sides, by the series.
    Plate,
}

/// What one load does at its worst place, without any factor.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PanelResult {
    /// The load.
    pub(crate) item: Item,
    /// How the panel was taken.
    pub(crate) method: Method,
    /// The joint that keeps it level, where it is held along one line.
    pub(crate) held_by: Option<String>,
    /// Which way the strip runs.
    pub(crate) way: Way,
    /// The middle of the load, on the panel, mm.
    pub(crate) place: Point2<PanelFrame>,
    /// mm. The strip's span or arm; of a plate its sides along u and v.
    pub(crate) spans: [f64; 2],
    /// mm from the line that carries it to the load's middle: along the strip; of a plate from its corner along u and v.
    pub(crate) at: [f64; 2],
    /// mm of the load: along the strip; of a plate along u and v.
    pub(crate) length: [f64; 2],
    /// mm of the strip that bears it; 1 where the load is spread.
    pub(crate) width: f64,
    /// N on the strip: for a spread load N on each mm of its length.
    pub(crate) force: f64,
    /// N mm on the strip; of a plate N mm/mm along u and along v.
    pub(crate) moments: [f64; 2],
    /// `MPa` along u and along v.
    pub(crate) stresses: [f64; 2],
    /// mm, at once.
    pub(crate) sag: f64,
}

impl PanelResult {
    /// Greatest stress over design strength under a load that stays so long.
    pub(crate) fn stress_used(&self, sheet: &Sheet, duration: Duration) -> f64 {
        let strength = sheet.design_bending(duration);
        (0..2).map(|i| self.stresses[i] / strength[i]).fold(0.0, f64::max)
    }

    /// mm by which limits of sag divide: the span, for an arm twice it, for a plate its shorter side.
    pub(crate) fn sag_span(&self) -> f64 {
        match self.method {
            Method::Strip => self.spans[0],
            Method::Arm => 2.0 * self.spans[0],
            Method::Plate => self.spans[0].min(self.spans[1]),
        }
    }
}

/// A panel with what carries it.
pub(super) struct Panel<'a> {
    pub(super) board: &'a Board,
    pub(super) lines: Vec<Line>,
}

/// The width of a strip that bears a load inside a panel: for each mm of the load across it, and for each mm along it over which
/// the load spreads.
pub(crate) const INSIDE: [f64; 2] = [0.9, 0.36];
/// The same at a free edge.
pub(crate) const AT_EDGE: [f64; 2] = [0.65, 0.14];
/// Part of the length over which a load spreads, from a free edge on, at which it counts as inside.
pub(crate) const INSIDE_FROM: f64 = 0.25;

/// mm of a strip that bears a load of `c` mm across it, `reach` mm long, whose nearer edge is `off` mm from the panel's free edge.
/// `stiffer` is the modulus across over that along the strip.
///
/// Fitted below what finite elements give for plates of birch plywood and of aluminium on two edges, spans 150 to 700 mm, loads of
/// 40 to 150 mm, in the middle and at a free edge: the strip's moment and sag are 1.0 to 1.9 times theirs
/// (`tests/external/test_strength.py`).
fn bearing_width(c: f64, reach: f64, off: f64, stiffer: f64) -> f64 {
    let spread = reach * stiffer.sqrt().sqrt();
    let [inside, at_edge] = [INSIDE, AT_EDGE].map(|[own, far]| own * c + far * spread);
    at_edge + (inside - at_edge) * (off / (INSIDE_FROM * reach)).clamp(0.0, 1.0)
}

/// Part of the span between two lines up to which a third one between them carries what reaches out from it. A decision of this
/// project.
const NEAR_LINE: f64 = 0.25;

/// Part of a person's weight that counts in the middle of a span: one knee by itself, or both beside each other.
fn knees_part(span: f64, apart: f64) -> f64 {
    (1.0 - apart / span).max(0.5)
}

/// What a strip has beside it.
struct Borne {
    /// mm of material to either side of the place.
    beside: (f64, f64),
    /// mm along the strip over which it spreads a load.
    reach: f64,
    /// Modulus across the strip over that along it.
    stiffer: f64,
}

/// A strip under a load.
struct Bent {
    strip: Strip,
    /// N; of a spread load N/mm.
    force: f64,
    /// mm. Span or arm.
    span: f64,
    /// mm from the line to the load's middle.
    at: f64,
    /// mm of the load along the strip.
    length: f64,
    /// mm that an arm's panel runs on beyond the line.
    beyond: f64,
}

impl Bent {
    /// N mm and mm, where they are greatest.
    fn moment_and_sag(&self, between: bool, spread: bool) -> (f64, f64) {
        let Bent { strip, force, span, at, length, beyond } = self;
        let (force, span, at) = (*force, *span, *at);
        match (between, spread) {
            (true, true) => (beam::spread_moment(force, span), strip.spread_deflection(force, span)),
            (true, false) => {
                // What would lie beyond a line presses on the rest of its foot.
                let (from, to) = ((at - length / 2.0).max(0.0), (at + length / 2.0).min(span));
                let sag = strip.point_deflection(force, span, f64::midpoint(from, to));
                (beam::patch_moment(force, span, at, *length), sag)
            }
            // Where the panel runs on, it turns over the line, too: w = P a^2 (a + L) / 3 E I.
            (false, true) => {
                let turned = 1.0 + 4.0 / 3.0 * beyond / span.max(1.0);
                (force * span.powi(2) / 2.0, strip.spread_end_deflection(force, span) * turned)
            }
            (false, false) => (force * at, strip.end_deflection(force, at) * (1.0 + beyond / at.max(1.0))),
        }
    }
}

impl Panel<'_> {
    /// The load at its worst place; `None` if somewhere nothing carries it.
    pub(super) fn worst(&self, sheet: &Sheet, item: &Item) -> Option<PanelResult> {
        let places = match item.press {
            Press::Patch(_, Some(place)) => vec![place],
            Press::Patch(size, None) => self.places(size),
            Press::Knees(side, _) => self.places([side; 2]),
            Press::Spread | Press::Line(_) => self.places([0.0; 2]),
        };
        let results: Option<Vec<PanelResult>> =
            places.into_iter().map(|place| self.at(sheet, item, place)).collect();
        let used = |result: &PanelResult| result.stress_used(sheet, Duration::Long);
        results?.into_iter().max_by(|a, b| used(a).total_cmp(&used(b)).then(a.sag.total_cmp(&b.sag)))
    }

    /// Places where a load of a size may do most: between what carries the panel, at its edges, beside its openings.
    fn places(&self, size: [f64; 2]) -> Vec<Point2<PanelFrame>> {
        let (low, high) = self.board.shape.bounds();
        let stops = |way: Way| {
            let half = size[way.index()] / 2.0;
            let mut ends = vec![way.of(low), way.of(high)];
            ends.extend(self.lines.iter().filter(|line| line.ends == way).map(|line| line.at));
            let mut beside = vec![way.of(low) + half, way.of(high) - half];
            for opening in &self.board.openings {
                let (from, to) = opening.path.bounds();
                ends.extend([way.of(from), way.of(to)]);
                beside.extend([way.of(from) - half, way.of(to) + half]);
            }
            ends.sort_by(f64::total_cmp);
            beside.extend(ends.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])));
            beside.sort_by(f64::total_cmp);
            beside.dedup_by(|a, b| (*a - *b).abs() < 5.0);
            beside
        };
        let (us, vs) = (stops(Way::AlongU), stops(Way::AlongV));
        let all = us.iter().flat_map(|&u| vs.iter().map(move |&v| Point2::new(u, v)));
        all.filter(|&p| self.board.has_material(p, 0.0) && !self.over_line(p)).collect()
    }

    /// Whether a place lies on what carries the panel.
    fn over_line(&self, p: Point2<PanelFrame>) -> bool {
        self.lines.iter().any(|line| {
            let (at, across) = (line.ends.of(p), line.ends.other().of(p));
            (at - line.at).abs() < 1.0 && (line.from..=line.to).contains(&across)
        })
    }

    /// The load at one place, carried the way that bears it better.
    fn at(&self, sheet: &Sheet, item: &Item, place: Point2<PanelFrame>) -> Option<PanelResult> {
        let used = |result: &PanelResult| result.stress_used(sheet, Duration::Long);
        let better =
            |a: &PanelResult, b: &PanelResult| used(a).total_cmp(&used(b)).then(a.sag.total_cmp(&b.sag));
        let strips = Way::BOTH.into_iter().filter_map(|way| self.strip(sheet, item, place, way));
        let (between, arms): (Vec<_>, Vec<_>) = strips.partition(|strip| strip.method == Method::Strip);
        let arm = arms.into_iter().min_by(better);
        let strip = match (between.into_iter().min_by(better), arm) {
            // Carried on three sides: what lies near the middle one is carried there, and the two others keep it level.
            (Some(strip), Some(arm))
                if arm.spans[0] <= NEAR_LINE * strip.spans[0] && used(&arm) < used(&strip) =>
            {
                PanelResult { held_by: None, ..arm }
            }
            (Some(strip), _) => strip,
            (None, arm) => arm?,
        };
        let metal = sheet.kind != BoardKind::Plywood;
        if strip.method == Method::Strip
            && (metal || used(&strip) > 0.5 || strip.sag > strip.sag_span() / 400.0)
        {
            return Some(
                self.plate(sheet, item, place).filter(|plate| plate.sag < strip.sag).unwrap_or(strip),
            );
        }
        Some(strip)
    }

    /// The load on a strip one way.
    fn strip(&self, sheet: &Sheet, item: &Item, place: Point2<PanelFrame>, way: Way) -> Option<PanelResult> {
        let span = spans::span(self.board, &self.lines, place, way)?;
        let (left, right) = spans::material(self.board, place, way.other())?;
        let between = matches!(span, Span::Between { .. });
        let (span_length, at, held_by, beyond) = match span {
            Span::Between { length, at } => (length, at, None, 0.0),
            Span::Arm { length, at, joint, beyond } => (length, at, joint, beyond),
        };
        let i = way.index();
        let reach = if between { span_length } else { 2.0 * at };
        let borne = Borne { beside: (left, right), reach, stiffer: sheet.modulus[1 - i] / sheet.modulus[i] };
        let (width, length, force) = self.pressed(item, (place, way), &borne, between);
        let strip = Strip { width, thickness: sheet.thickness, modulus: sheet.modulus[i] };
        let bent = Bent { strip, force, span: span_length, at, length, beyond };
        let (moment, sag) = bent.moment_and_sag(between, item.press == Press::Spread);
        let mut stresses = [0.0; 2];
        stresses[i] = strip.stress(moment);
        let mut moments = [0.0; 2];
        moments[i] = moment;
        Some(PanelResult {
            item: item.clone(),
            method: if between { Method::Strip } else { Method::Arm },
            held_by,
            way,
            place,
            spans: [span_length, 0.0],
            at: [at, 0.0],
            length: [length, 0.0],
            width,
            force,
            moments,
            stresses,
            sag,
        })
    }

    /// mm of the strip that bears a load, mm of the load along it, and N on it; of a spread load N on each mm.
    fn pressed(
        &self,
        item: &Item,
        (place, way): (Point2<PanelFrame>, Way),
        borne: &Borne,
        between: bool,
    ) -> (f64, f64, f64) {
        let (weight, (left, right)) = (item.mass * GRAVITY, borne.beside);
        let wide = |across: f64| {
            let off = (left.min(right) - across / 2.0).max(0.0);
            let width = bearing_width(across, borne.reach, off, borne.stiffer).min(left + right);
            (width - spans::taken(self.board, place, way, width / 2.0)).max(width / 4.0).max(1.0)
        };
        match item.press {
            Press::Spread => {
                // A strip beside an opening bears what the opening's width would.
                let (low, high) = self.board.shape.bounds();
                let whole = way.other().of(high) - way.other().of(low);
                let beside = (whole / (left + right).max(1.0)).max(1.0);
                (1.0, borne.reach, weight / self.board.shape.area() * beside)
            }
            Press::Patch(size, _) => (wide(size[1 - way.index()]), size[way.index()], weight),
            Press::Line(length) => (wide(length), 0.0, weight),
            Press::Knees(side, apart) => {
                let part = if between { knees_part(borne.reach, apart) } else { 0.5 };
                (wide(side), side, weight * part)
            }
        }
    }

    /// The load on a plate, where four lines carry it around the place.
    fn plate(&self, sheet: &Sheet, item: &Item, place: Point2<PanelFrame>) -> Option<PanelResult> {
        let sides = spans::bay(self.board, &self.lines, place)?;
        let [e_u, e_v] = sheet.modulus;
        let plate = if sheet.kind == BoardKind::Plywood {
            Plate::orthotropic(
                sides[0],
                sides[1],
                sheet.thickness,
                e_u,
                e_v,
                sheet.shear_modulus,
                sheet.poisson(),
            )
        } else {
            Plate::isotropic(sides[0], sides[1], sheet.thickness, e_u, sheet.poisson())
        };
        let corner: Vector2<PanelFrame> =
            Vector2::new(self.off_line(place, Way::AlongU)?, self.off_line(place, Way::AlongV)?);
        let weight = item.mass * GRAVITY;
        let load = self.on_plate(item, sides, corner);
        let bent = plate.bent(&load);
        let pressed = match load {
            Load::Patch { size, .. } => [size.0, size.1],
            Load::Line { length, along_x: true, .. } => [length, 0.0],
            Load::Line { length, .. } => [0.0, length],
            Load::Spread(_) => sides,
        };
        let modulus = sheet.thickness.powi(2) / 6.0;
        Some(PanelResult {
            item: item.clone(),
            method: Method::Plate,
            held_by: None,
            way: if sides[0] <= sides[1] { Way::AlongU } else { Way::AlongV },
            place,
            spans: sides,
            at: [corner.x, corner.y],
            length: pressed,
            width: 1.0,
            force: match load {
                Load::Patch { force, .. } => force,
                Load::Spread(_) | Load::Line { .. } => weight,
            },
            moments: [bent.mx, bent.my],
            stresses: [bent.mx.abs() / modulus, bent.my.abs() / modulus],
            sag: bent.deflection,
        })
    }

    /// What presses on a plate with these sides, the place at `corner` from its own corner.
    fn on_plate(&self, item: &Item, sides: [f64; 2], corner: Vector2<PanelFrame>) -> Load {
        let (force, middle) = (item.mass * GRAVITY, (corner.x, corner.y));
        match item.press {
            Press::Spread => Load::Spread(force / self.board.shape.area()),
            Press::Patch(size, _) => Load::Patch { force, middle, size: (size[0], size[1]) },
            Press::Knees(side, apart) => {
                let part = knees_part(sides[0].max(sides[1]), apart);
                Load::Patch { force: force * part, middle, size: (side, side) }
            }
            Press::Line(length) => {
                let length = length.min(sides[0].max(sides[1]));
                Load::Line { force, middle, length, along_x: sides[0] >= sides[1] }
            }
        }
    }

    /// mm from the line before a place to it.
    fn off_line(&self, place: Point2<PanelFrame>, way: Way) -> Option<f64> {
        match spans::span(self.board, &self.lines, place, way)? {
            Span::Between { at, .. } => Some(at),
            Span::Arm { .. } => None,
        }
    }
}
