//! A path's data to pieces with ends in the drawing's own units.

use crate::import::curves::Swing;
use crate::import::splines::Spline;
use std::f64::consts::TAU;
use svgtypes::{PathParser, PathSegment};

/// A point of the drawing.
pub(super) type At = (f64, f64);

/// One piece of a path, from where the one before it ended.
pub(super) enum Piece {
    Line(At),
    Swing(Swing, At),
    Spline(Spline),
}

/// A run of pieces without a gap.
pub(super) struct Run {
    pub(super) start: At,
    pub(super) pieces: Vec<Piece>,
    pub(super) closed: bool,
}

/// The runs of a path (SVG 2, chapter 9).
pub(super) fn runs(data: &str) -> Result<Vec<Run>, svgtypes::Error> {
    let mut pen = Pen { runs: Vec::new(), start: (0.0, 0.0), at: (0.0, 0.0), drawing: false, control: None };
    for segment in PathParser::from(data) {
        pen.take(segment?);
    }
    Ok(pen.runs)
}

/// The control point before the last end, which a smooth curve mirrors, and whether it was a cubic curve's.
type Control = (At, bool);

struct Pen {
    runs: Vec<Run>,
    start: At,
    at: At,
    /// Whether the last run goes on.
    drawing: bool,
    control: Option<Control>,
}

impl Pen {
    fn take(&mut self, segment: PathSegment) {
        let at = self.at;
        let to = |abs: bool, x: f64, y: f64| if abs { (x, y) } else { (at.0 + x, at.1 + y) };
        let mirrored = |cubic: bool| match self.control {
            Some((control, was)) if was == cubic => (2.0 * at.0 - control.0, 2.0 * at.1 - control.1),
            _ => at,
        };
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                (self.start, self.at) = (to(abs, x, y), to(abs, x, y));
                (self.drawing, self.control) = (false, None);
            }
            PathSegment::LineTo { abs, x, y } => self.line(to(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => self.line((if abs { x } else { at.0 + x }, at.1)),
            PathSegment::VerticalLineTo { abs, y } => self.line((at.0, if abs { y } else { at.1 + y })),
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                self.cubic(to(abs, x1, y1), to(abs, x2, y2), to(abs, x, y));
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                self.cubic(mirrored(true), to(abs, x2, y2), to(abs, x, y));
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => self.quadratic(to(abs, x1, y1), to(abs, x, y)),
            PathSegment::SmoothQuadratic { abs, x, y } => self.quadratic(mirrored(false), to(abs, x, y)),
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                let end = to(abs, x, y);
                match swing(at, end, (rx, ry), x_axis_rotation.to_radians(), (large_arc, sweep)) {
                    Some(swing) => self.add(Piece::Swing(swing, end), end, None),
                    None => self.line(end),
                }
            }
            PathSegment::ClosePath { .. } => {
                if let Some(last) = self.runs.last_mut().filter(|_| self.drawing) {
                    last.closed = true;
                }
                (self.at, self.drawing, self.control) = (self.start, false, None);
            }
        }
    }

    fn line(&mut self, end: At) {
        self.add(Piece::Line(end), end, None);
    }

    fn cubic(&mut self, first: At, second: At, end: At) {
        let spline = Spline::bezier([self.at, first, second, end]);
        self.add(Piece::Spline(spline), end, Some((second, true)));
    }

    fn quadratic(&mut self, middle: At, end: At) {
        let spline = Spline::bezier([self.at, middle, end]);
        self.add(Piece::Spline(spline), end, Some((middle, false)));
    }

    fn add(&mut self, piece: Piece, end: At, control: Option<Control>) {
        if !self.drawing {
            // After a path is closed, the next run begins where that one did.
            self.start = self.at;
            self.runs.push(Run { start: self.at, pieces: Vec::new(), closed: false });
            self.drawing = true;
        }
        if let Some(last) = self.runs.last_mut() {
            last.pieces.push(piece);
        }
        (self.at, self.control) = (end, control);
    }
}

/// The arc between two points with these radii, its long one turned by `turn`; `None` where it is a straight line (SVG
/// 2, appendix B.2.4: from ends to centre).
fn swing(from: At, to: At, (rx, ry): (f64, f64), turn: f64, (large, onwards): (bool, bool)) -> Option<Swing> {
    let (mut rx, mut ry) = (rx.abs(), ry.abs());
    if from == to || rx <= 0.0 || ry <= 0.0 {
        return None;
    }
    let (sin, cos) = turn.sin_cos();
    let (hx, hy) = ((from.0 - to.0) / 2.0, (from.1 - to.1) / 2.0);
    let (x, y) = (cos * hx + sin * hy, cos * hy - sin * hx);
    // Radii too small to reach both ends grow until they do.
    let reach = (x / rx).hypot(y / ry);
    if reach > 1.0 {
        (rx, ry) = (rx * reach, ry * reach);
    }
    let (u, v) = (x / rx, y / ry);
    let square = u * u + v * v;
    let off = ((1.0 - square).max(0.0) / square).sqrt() * if large == onwards { -1.0 } else { 1.0 };
    let (cu, cv) = (off * v, -off * u);
    let start = (v - cv).atan2(u - cu);
    let sweep = ((-v - cv).atan2(-u - cu) - start).rem_euclid(TAU);
    Some(Swing {
        centre: (
            cos * rx * cu - sin * ry * cv + f64::midpoint(from.0, to.0),
            sin * rx * cu + cos * ry * cv + f64::midpoint(from.1, to.1),
        ),
        long: (rx * cos, rx * sin),
        short: (-ry * sin, ry * cos),
        start,
        sweep: if onwards { sweep } else { sweep - TAU },
    })
}
