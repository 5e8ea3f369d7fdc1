//! Whether the kit holds: a table and bars for each check, with what its figures rest on.

use super::bars::{Bar, chart};
use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Column, Table, figure, heading, list, paragraph};
use super::cautions;
use crate::finished::Finished;
use crate::layout::{GRAVITY, RESTRAINT_CASES};
use crate::number::{decimal, fixed};
use crate::strength::{DIRECT, Gives, Kind, Outcome, setting_rows};

/// Said before each table: what it is not.
fn caution() -> String {
    let [forward, rearward, ..] = RESTRAINT_CASES;
    format!(
        "Arithmetic on what was entered: no engineer's certificate, no crash rating, no proof that any rule is met. {} g and {} g are \
         braking and cornering, not a crash.",
        forward.share, rearward.share
    )
}

/// All checks.
pub(super) fn strength(finished: &Finished) -> Body {
    paragraph(
        "How far each part is used under the loads that it is checked for: 100 % is its limit. What is not known is not checked, and \
         that is no pass. How each figure comes about stands under \u{201c}Strength, worked out\u{201d}.",
    ) + cautions::cautions()
        + panels(finished)
        + slides(finished)
        + latches(finished)
        + tipping(finished)
        + joints(finished)
        + anchors(finished)
        + straps(finished)
        + settings(finished)
}

/// The part used in per cent; or why nothing is said.
pub(super) fn result(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Used(used) if used.is_finite() => {
            format!("{} %{}", fixed(100.0 * used, 0), if *used > 1.0 { ": does not hold" } else { "" })
        }
        Outcome::Used(_) => "does not hold".to_owned(),
        Outcome::Unknown(why) => format!("not checked: {why}"),
    }
}

/// Bars of what was checked, the most used first, with the limit across them.
fn bars(title: &str, all: &[(String, &Outcome)]) -> Body {
    let mut used: Vec<(&str, f64)> =
        all.iter().filter_map(|(name, outcome)| Some((name.as_str(), outcome.used()?))).collect();
    used.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(b.0)));
    if used.is_empty() {
        return Body::none();
    }
    let note = if used.len() > MOST_BARS { "the most used ones, per cent" } else { "per cent" };
    used.truncate(MOST_BARS);
    let bars: Vec<Bar<'_>> = used
        .iter()
        .map(|&(name, used)| {
            let shown = used.min(LONGEST_BAR);
            let class = if used > 1.0 { "over" } else { "more" };
            Bar { class, name, ends: (0.0, 100.0 * shown), value: format!("{} %", fixed(100.0 * used, 0)) }
        })
        .collect();
    let canvas = chart(&bars, 0.0, Some((100.0, "limit")));
    figure("bars", canvas, 0.0, (title, note), Vec::new()).into()
}

/// Bars in one chart, and the part used at which they are cut short.
const MOST_BARS: usize = 24;
const LONGEST_BAR: f64 = 2.0;

/// A kind of check under its heading, with what it rests on; nothing if there is nothing of it.
fn section(finished: &Finished, kind: Kind, (title, basis): (&str, &str), table: Table) -> Body {
    if table.rows.is_empty() {
        return Body::none();
    }
    let outcomes = finished.strength.outcomes(&finished.kit).into_iter();
    let own: Vec<(String, &Outcome)> =
        outcomes.filter(|(of, ..)| *of == kind).map(|(_, name, outcome)| (name, outcome)).collect();
    heading(title) + paragraph(&format!("{basis} {}", caution())) + table.body() + bars(title, &own)
}

fn panels(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Panel"),
        Short("Material"),
        Words("Worst case"),
        Figures("Stress %"),
        Figures("Sag %"),
        Figures("At its limit kg"),
        Short("Would do"),
        Words("Used"),
    ]);
    for check in &finished.strength.panels {
        let board = finished.kit.layout.board(check.board);
        let worst = check.worst();
        let percent = |part: f64| fixed(100.0 * part, 0);
        table.row([
            board.name.clone(),
            board.material.id.clone(),
            worst.map(|case| case.together.name().to_owned()).unwrap_or_default(),
            worst.map(|case| percent(case.stress_used)).unwrap_or_default(),
            worst.and_then(|case| case.sag_used).map(percent).unwrap_or_default(),
            check.at_limit.map(|kg| decimal(kg.floor(), 0)).unwrap_or_default(),
            check.would_do.clone().unwrap_or_default(),
            result(&check.outcome),
        ]);
    }
    let basis = "Each lying panel as strips between what carries it, where it is carried on four sides as a plate; itself, what lies on it \
                 and a kneeling person, each where it does most. A base and a false floor lie on what is under them.";
    section(finished, Kind::Panel, ("Panels in bending", basis), table)
}

fn slides(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Drawer or tray"),
        Figures("Carries kg"),
        Figures("Pair rated kg"),
        Figures("Factor"),
        Figures("Centre before the slides mm"),
        Figures("Front bolt N down"),
        Figures("Rear bolt N up"),
        Words("Used"),
    ]);
    let drawers = &finished.kit.layout.drawers;
    for check in &finished.strength.drawers {
        let most = |of: fn(&f64) -> f64| {
            check.slides.iter().flat_map(|slide| &slide.out).map(of).fold(0.0, f64::max)
        };
        table.row([
            drawers[check.drawer].name.clone(),
            fixed(check.carried, 1),
            check.rating.map(|kg| decimal(kg, 1)).unwrap_or_default(),
            decimal(check.factor, 2),
            decimal(check.beyond, 0),
            decimal(most(|n| *n), 0),
            decimal(most(|n| -*n), 0),
            result(&check.outcome),
        ]);
    }
    let basis = "Gross mass against the pair's rating times a factor for moving vehicles; forces of one slide with the drawer out, by statics, \
                 without any factor.";
    section(finished, Kind::Slides, ("Slides", basis), table)
}

fn latches(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Latch of"),
        Figures("Mass kg"),
        Figures("Braking N"),
        Figures("Slope N"),
        Figures("Must hold N"),
        Figures("Holds N"),
        Figures("Stop bears N"),
        Words("Used"),
    ]);
    for check in &finished.strength.latches {
        table.row([
            check.name.clone(),
            fixed(check.mass, 1),
            decimal(check.braking, 0),
            decimal(check.slope, 0),
            decimal(check.needed.ceil(), 0),
            check.holds.map(|n| decimal(n, 0)).unwrap_or_default(),
            decimal(check.stop.ceil(), 0),
            result(&check.outcome),
        ]);
    }
    let [forward, rearward, ..] = RESTRAINT_CASES;
    let basis = format!(
        "{} g while braking in reverse or the slope, whichever pulls more, times a factor. What stops a drawer when it is shut bears {} g \
         forward. Of a door only its own mass counts: what leans on it from inside is not known.",
        rearward.share, forward.share
    );
    section(finished, Kind::Latch, ("Latches", &basis), table)
}

fn tipping(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Module"),
        Words("Out"),
        Figures("Stays kg"),
        Figures("behind the edge mm"),
        Figures("Out kg"),
        Figures("before the edge mm"),
        Figures("Held times"),
        Figures("Hold down N"),
        Words("Used"),
    ]);
    for check in &finished.strength.tipping {
        table.row([
            check.module.clone(),
            check.drawer.clone().unwrap_or_else(|| "all drawers".to_owned()),
            fixed(check.stays.0, 1),
            decimal(check.stays.1, 0),
            fixed(check.out.0, 1),
            decimal(check.out.1, 0),
            if check.factor.is_finite() { fixed(check.factor, 2) } else { "does not tip".to_owned() },
            decimal(check.hold_down.ceil(), 0),
            result(&check.outcome),
        ]);
    }
    let basis = "Modules that no point of the vehicle holds: what is out loaded, the rest empty, about the rear edge of the base. Hold down is \
                 what would have to press on the far end of the base.";
    section(finished, Kind::LooseModule, ("Loose modules with drawers out", basis), table)
}

fn joints(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Joint"),
        Words("Worst load"),
        Figures("Bolts"),
        Short("Size"),
        Figures("Across N"),
        Figures("Along N"),
        Words("Gives first"),
        Words("Used"),
    ]);
    for check in &finished.strength.joints {
        table.row([
            check.name.clone(),
            check.case.clone(),
            check.bolts.to_string(),
            check.size.clone(),
            decimal(check.shear, 0),
            decimal(check.tension, 0),
            check.first().map(Gives::name).unwrap_or_default(),
            result(&check.outcome),
        ]);
    }
    let basis = "The bolt of each group that is worst off: the bolt, the wood around it, the metal on the wood, the washer on the wood. Joints \
                 that no load case reaches are not listed.";
    section(finished, Kind::Joint, ("Bolted joints", basis), table)
}

fn anchors(finished: &Finished) -> Body {
    let mut columns: Vec<Column> = vec![Words("Point"), Words("Holds"), Figures("Rated N")];
    let cases = finished.strength.anchors.first().map(|check| check.cases.clone()).unwrap_or_default();
    columns.extend(cases.iter().map(|case| Column::Counted(format!("{} g {} N", case.share, case.way))));
    columns.extend([Figures("20 g forward N, for information"), Words("Used")]);
    let mut table = Table::new(columns);
    for check in &finished.strength.anchors {
        let mut row = vec![
            check.point.clone(),
            format!("{}{}", check.carcase, if check.tied { ", by a turnbuckle" } else { "" }),
            check.rating.map(|n| decimal(n, 0)).unwrap_or_default(),
        ];
        let force =
            |way: &str| check.cases.iter().find(|case| case.way == way).map(|case| decimal(case.force, 0));
        row.extend(cases.iter().map(|case| force(case.way).unwrap_or_default()));
        row.extend([decimal(check.crash.force, 0), result(&check.outcome)]);
        table.row(row);
    }
    let basis = "Each module rigid, its loaded mass at its centre of gravity, forces shared among the points that can take them, tipping about \
                 the edge of its bases. Friction is left out. A crash is no case here: 20 g is shown only to say how far off it is.";
    let loose = &finished.strength.loose;
    let unheld = if loose.is_empty() {
        Body::none()
    } else {
        paragraph(&format!(
            "No point of the vehicle holds {}: nothing here says that braking leaves it where it is.",
            loose.join(", ")
        ))
    };
    section(finished, Kind::Point, ("Points of the vehicle", basis), table) + unheld
}

fn straps(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Equipment"),
        Figures("Full kg"),
        Figures("Straps"),
        Figures("Wanted over it"),
        Figures("by friction forward"),
        Figures("sideways"),
        Figures("pulling back, forward"),
        Figures("sideways"),
        Words("Used"),
    ]);
    for check in &finished.strength.straps {
        table.row([
            check.name.clone(),
            fixed(check.mass, 1),
            check.straps.to_string(),
            decimal(check.wanted, 0),
            fixed(check.by_friction[0], 2),
            fixed(check.by_friction[2], 2),
            fixed(check.direct[0], 2),
            fixed(check.direct[2], 2),
            result(&check.outcome),
        ]);
    }
    let basis = format!(
        "Straps over the load hold by friction (EN 12195-1); beside it how many would do that pull it back directly at {DIRECT} degrees. \
         Walls beside the load are left out."
    );
    section(finished, Kind::Straps, ("Equipment under straps", &basis), table)
}

fn settings(finished: &Finished) -> Body {
    let mut table = Table::new([Words("Setting"), Short("Key"), Short("Value"), Words("Rests on")]);
    for row in setting_rows(&finished.design.workshop.strength) {
        table.row([row.what.to_owned(), row.key.to_owned(), row.value, row.basis.to_owned()]);
    }
    heading("Factors and limits")
        + list(&[
            "Each can be set in the workshop's file under `strength`.".to_owned(),
            format!(
                "Slides may carry {} of their rating (`slide_factor` of the design).",
                decimal(finished.design.slide_factor.value, 2)
            ),
            format!("Lengths in mm, forces in N, gravity {GRAVITY} m/s2."),
        ])
        + table.body()
}
