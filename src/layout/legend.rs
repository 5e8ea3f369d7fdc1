//! Legends: texts engraved into panels.
//!
//! Takes what the spec asks for, gives boards the strokes that a cutter follows. Whether they keep off edges and holes is seen
//! once the holes are known.

use super::Layout;
use super::legend_rules as rules;
use super::on_panel::{Finder, fault};
use crate::diag::{Findings, Span};
use crate::geom::{PanelFrame, Point2, Vector2};
use crate::lettering::{self, Lettered};
use crate::spec::{Design, Legend};

/// What a text on a panel is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EngravingKind {
    /// Asked for, for those who use the kit.
    Legend,
    /// The panel's own name, for those who put the kit together.
    PartMark,
}

/// A text on a panel's face A.
#[derive(Clone, Debug)]
pub(crate) struct Engraving {
    /// What it is for.
    pub(crate) kind: EngravingKind,
    /// The legend's name; of a part mark the panel's.
    pub(crate) name: String,
    /// What it says.
    pub(crate) text: String,
    /// mm. Of its capitals.
    pub(crate) height: f64,
    /// Open lines on the face.
    pub(crate) strokes: Vec<Vec<Point2<PanelFrame>>>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Lays out every legend. `None` if one cannot be engraved; the findings say why.
pub(super) fn legends(layout: &mut Layout, findings: &mut Findings, design: &Design) -> Option<()> {
    let mut complete = Some(());
    for legend in &design.legends {
        complete = complete.and(lay_out(layout, findings, legend));
    }
    complete
}

fn lay_out(layout: &mut Layout, findings: &mut Findings, legend: &Legend) -> Option<()> {
    let lettered = lettered(findings, legend);
    let mut finder = Finder { layout, findings, on: &legend.on };
    let place = finder.find();
    let (lettered, (host, face)) = (lettered?, place?);
    let unit = legend.height.value / lettering::CAPITALS;
    let turned = |x: f64, y: f64| -> Vector2<PanelFrame> {
        if legend.upright { Vector2::new(-y, x) } else { Vector2::new(x, y) }
    };
    let size = turned(lettered.width * unit, legend.height.value);
    let middle = finder.middles((host, &face), Vector2::new(size.x.abs(), size.y.abs()))?;
    let middle = middle.first().copied()?;
    let board = layout.board(host);
    if face.out.dot(board.normal()) < 0.5 {
        let message = format!("`{}` is cut with its other face up", board.name);
        let help = "leave `facing` out, or put the legend on another panel";
        fault(findings, &legend.on, &rules::LEGEND_ON_FAR_FACE, (message, help));
        return None;
    }
    let on_board = |(x, y): (f64, f64)| {
        let off = turned((x - lettered.width / 2.0) * unit, (y - lettering::CAPITALS / 2.0) * unit);
        board.placement.to_panel(face.at(middle + off)).xy()
    };
    let strokes = lettered.strokes.iter().map(|stroke| stroke.iter().copied().map(on_board).collect());
    let engraving = Engraving {
        kind: EngravingKind::Legend,
        name: legend.on.id.value.clone(),
        text: legend.text.value.clone(),
        height: legend.height.value,
        strokes: strokes.collect(),
        span: legend.on.span,
    };
    layout.boards[host.0].engravings.push(engraving);
    Some(())
}

fn lettered(findings: &mut Findings, legend: &Legend) -> Option<Lettered> {
    let text = legend.text.value.trim();
    let message = match lettering::lettered(text) {
        Ok(lettered) if !lettered.strokes.is_empty() => return Some(lettered),
        Ok(_) => "this legend says nothing".to_owned(),
        Err(unknown) => {
            let signs: Vec<String> = unknown.iter().map(|sign| format!("`{sign}`")).collect();
            format!("the lettering has no {}", signs.join(", "))
        }
    };
    let help = "it has the letters A to Z and a to z, digits and - . , / + : ( ) % = ' ! _ ~ ° ± < > *";
    fault(findings, &legend.on, &rules::LEGEND_OUTSIDE_FONT, (message, help));
    None
}
