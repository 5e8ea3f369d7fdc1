//! What a lying panel bears: itself, what lies in it, what stands on it, a person's knee, what the spec says.

use super::super::Job;
use crate::catalogue::Material;
use crate::geom::{PanelFrame, Point2};
use crate::layout::{BoardId, FixtureKind, Role};
use crate::spec::{PanelLoad, Pressing};

/// mm above the bay's floor up to which a person kneels on a deck or a lid unless the design says otherwise. A decision of this
/// project.
pub(crate) const CLIMBED: f64 = 800.0;

/// A drawer's content.
pub(super) const IN_IT: &str = "what lies in it";

/// How long a load is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stays {
    /// The panel's own weight.
    Own,
    /// Stored for long.
    Stored,
    /// For a moment.
    Moment,
}

/// How a load presses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Press {
    /// Evenly over the panel.
    Spread,
    /// On a rectangle: mm along u and v; at a place, or wherever it does most.
    Patch([f64; 2], Option<Point2<PanelFrame>>),
    /// On two squares, a person's knees, beside each other along the span or one by itself: mm of a side, mm between their middles.
    Knees(f64, f64),
    /// On a line across the span, mm long, wherever it does most.
    Line(f64),
}

/// One load on a panel.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Item {
    /// What it is.
    pub(crate) what: String,
    /// kg.
    pub(crate) mass: f64,
    /// How it presses.
    pub(crate) press: Press,
    /// How long it is there.
    pub(crate) stays: Stays,
}

impl Item {
    /// The same load on a panel of another board: only its own weight differs.
    pub(super) fn of_board(&self, old: &Material, new: &Material) -> Item {
        let mut item = self.clone();
        if item.stays == Stays::Own {
            item.mass *= new.areal_mass() / old.areal_mass();
        }
        item
    }
}

/// Every load on a panel.
pub(super) fn items(job: &Job<'_>, id: BoardId) -> Vec<Item> {
    let layout = &job.kit.layout;
    let board = layout.board(id);
    let own = job.masses.parts.iter().find(|part| part.name == board.name).map_or(0.0, |part| part.mass);
    let mut items =
        vec![Item { what: "itself".to_owned(), mass: own, press: Press::Spread, stays: Stays::Own }];
    let stored = |what: String, mass, press| Item { what, mass, press, stays: Stays::Stored };
    let drawers = layout.drawers.iter().filter(|drawer| drawer.bottom == id && drawer.load > 0.0);
    items.extend(drawers.map(|drawer| stored(IN_IT.to_owned(), drawer.load, Press::Spread)));
    let standing = layout.equipment.iter().filter(|one| {
        let fixture = &layout.fixtures[one.fixture];
        fixture.kind == FixtureKind::Equipment && fixture.host == Some(id)
    });
    items.extend(standing.map(|one| {
        let size = one.aabb.size();
        let middle = board.placement.to_panel(one.aabb.low + size / 2.0).xy();
        let turned = board.placement.axes.u.x.abs() < 0.5;
        let size = if turned { [size.y, size.x] } else { [size.x, size.y] };
        stored(one.name.clone(), one.full, Press::Patch(size, Some(middle)))
    }));
    let asked: Vec<&PanelLoad> =
        job.design.panel_loads.iter().filter(|load| load.panel.value == board.name).collect();
    items.extend(
        asked.iter().filter_map(|load| of_spec(job, load, board.aabb.size().x.min(board.aabb.size().y))),
    );
    let climbed = matches!(board.role, Role::Deck | Role::Lid) && board.aabb.high.z <= CLIMBED;
    let person = asked.iter().find_map(|load| load.person).unwrap_or(climbed);
    if person {
        let settings = job.settings();
        let press = Press::Knees(settings.knee.value, settings.knees_apart.value);
        items.push(Item {
            what: "a person on both knees".to_owned(),
            mass: settings.person.value,
            press,
            stays: Stays::Moment,
        });
    }
    items
}

fn of_spec(job: &Job<'_>, load: &PanelLoad, narrow: f64) -> Option<Item> {
    let press = match load.pressing {
        Pressing::Spread => Press::Spread,
        Pressing::Foot => Press::Patch([load.size.unwrap_or(job.settings().knee.value); 2], None),
        Pressing::Line => Press::Line(load.size.unwrap_or(narrow)),
    };
    let what = match load.pressing {
        Pressing::Spread => "spread over it",
        Pressing::Foot => "on a foot",
        Pressing::Line => "on a line",
    };
    let stays = if load.lasting { Stays::Stored } else { Stays::Moment };
    Some(Item { what: what.to_owned(), mass: load.mass?, press, stays })
}
