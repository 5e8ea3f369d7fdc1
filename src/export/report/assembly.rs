//! What is put together and how: drawers, joints, masses.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::catalogue::Slide;
use crate::finished::Finished;
use crate::joints::{Bolt, Purpose};
use crate::number::{decimal, fixed};
use crate::spec::JointKind;
use std::collections::BTreeMap;

/// The chain of dimensions of each drawer and tray, and what it may carry.
pub(super) fn drawers(finished: &Finished) -> Body {
    if finished.kit.layout.drawers.is_empty() {
        return paragraph("None.");
    }
    paragraph(
        "Widths: side space + box + side space = opening. Heights: clear below + box + clear above = opening.",
    ) + sizes(finished)
        + heading("What slides carry")
        + paragraph(&format!(
            "The rating is the one that the catalogue or the workshop file gives for the pair at its length; it counts \
             box, front and all that stands on it, filled, as load. A vehicle shakes its slides, so {} of the rating \
             is used (`slide_factor`; 0.6 for rough tracks is common practice); what is right is for you to decide \
             with the slide's maker.",
            decimal(finished.design.slide_factor.value, 3)
        ))
        + loads(finished)
}

fn sizes(finished: &Finished) -> Body {
    let mut sizes = Table::new([
        Words("Drawer or tray"),
        Figures("Opening w x h"),
        Figures("Side space"),
        Figures("Box w x h x d"),
        Figures("Inside w x h x d"),
        Figures("Clear above"),
        Figures("Clear below"),
        Figures("Comes out"),
    ]);
    let mm = |length: f64| decimal(length, 2);
    let sides = |(a, b, c): (f64, f64, f64)| [a, b, c].map(mm).join(" x ");
    for drawer in &finished.kit.layout.drawers {
        sizes.row([
            drawer.name.clone(),
            format!("{} x {}", mm(drawer.opening.0), mm(drawer.opening.1)),
            mm(drawer.side_space),
            sides(drawer.box_size),
            sides(drawer.inside),
            mm(drawer.clear.0),
            mm(drawer.clear.1),
            out(&drawer.slide),
        ]);
    }
    sizes.body()
}

fn loads(finished: &Finished) -> Body {
    let mut loads = Table::new([
        Words("Drawer or tray"),
        Short("Slide"),
        Figures("Rating of the pair kg"),
        Figures("Used of it kg"),
        Figures("Empty kg"),
        Figures("What stands on it kg"),
        Figures("Load kg"),
        Figures("Left kg"),
    ]);
    for (drawer, carried) in finished.kit.layout.drawers.iter().zip(&finished.masses.carried) {
        let most = drawer.most(finished.design.slide_factor.value);
        let kg = |mass: Option<f64>| mass.map_or_else(|| "unknown".to_owned(), |mass| fixed(mass, 1));
        loads.row([
            drawer.name.clone(),
            drawer.slide.id.clone(),
            kg(drawer.slide.rating_pair),
            kg(most),
            fixed(carried.own, 2),
            fixed(carried.equipment, 2),
            fixed(drawer.load, 1),
            kg(most.map(|most| most - carried.full)),
        ]);
    }
    loads.body()
}

/// How far a slide comes out, and down.
fn out(slide: &Slide) -> String {
    let travel = decimal(slide.travel, 2);
    if slide.drop > 0.0 { format!("{travel}, down {}", decimal(slide.drop, 1)) } else { travel }
}

/// What one joint is held by.
#[derive(Default)]
struct Held<'a> {
    bolts: usize,
    /// `M6 x 30` and how many.
    sizes: BTreeMap<String, usize>,
    purpose: Option<&'a Bolt>,
}

/// Every joint and every slide with its bolts.
pub(super) fn joints(finished: &Finished) -> Body {
    let kit = &finished.kit;
    let mut held: BTreeMap<&str, Held<'_>> = BTreeMap::new();
    for bolt in &kit.bolts {
        let entry = held.entry(bolt.joint()).or_default();
        entry.bolts += 1;
        let hardware = &bolt.hardware;
        *entry
            .sizes
            .entry(format!("{} x {}", hardware.thread.size, decimal(hardware.length, 1)))
            .or_default() += 1;
        entry.purpose = Some(bolt);
    }
    let kinds: BTreeMap<&str, JointKind> = kit
        .layout
        .meetings
        .iter()
        .map(|meeting| (meeting.name.as_str(), meeting.plan.kind))
        .chain(kit.layout.face_meetings.iter().map(|meeting| (meeting.name.as_str(), meeting.plan.kind)))
        .collect();
    let mut table =
        Table::new([Words("Joint"), Words("Kind"), Figures("Bolts"), Short("Size x length, pieces")]);
    for (joint, held) in &held {
        let kind = match held.purpose.map(|bolt| bolt.purpose) {
            Some(Purpose::SlideFixed) => "slide, fixed member",
            Some(Purpose::SlideMoving) => "slide, moving member",
            Some(Purpose::Fixture) => "fitting",
            Some(Purpose::Anchor) => "to the vehicle",
            _ => kinds.get(joint).map_or("", |kind| kind_word(*kind)),
        };
        let sizes = held.sizes.iter().map(|(size, n)| format!("{size}, {n}")).collect::<Vec<_>>().join("\n");
        table.row([(*joint).to_owned(), kind.to_owned(), held.bolts.to_string(), sizes]);
    }
    table.sum(["All joints and slides", "", &kit.bolts.len().to_string(), ""]);
    paragraph("Where two slides share an upright, a bolt through both is listed with one of them.")
        + table.body()
}

fn kind_word(kind: JointKind) -> &'static str {
    match kind {
        JointKind::Angle => "angle",
        JointKind::CaptiveNut => "tabs with captive nuts",
        JointKind::Face => "face to face",
    }
}
