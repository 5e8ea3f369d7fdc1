//! The checks of strength with everything that is needed to work each out again by hand.

use super::body::Column::{Counted, Figures, Short, Words};
use super::body::{Body, Table, heading, list, paragraph};
use super::strength::result;
use crate::finished::Finished;
use crate::number::{decimal, fixed};
use crate::strength::{
    AT_EDGE, FULL_END, Gives, INSIDE, INSIDE_FROM, Method, PanelResult, Press, Resistance, Way,
};
use baywright_formulas::timber::Spacing;

/// Formulas by name, then inputs and results of every check.
pub(super) fn sums(finished: &Finished) -> Body {
    paragraph(
        "For somebody licensed to judge. Forces in N, lengths in mm, stresses in MPa. Standards are named for their formulas, as read in \
         textbooks and open implementations: nothing here claims that they are met.",
    ) + list(&formulas())
        + materials(finished)
        + panels(finished)
        + slides(finished)
        + joints(finished)
        + anchors(finished)
        + on_wood(finished)
}

/// Distances of bolts in plywood beside what rules want, and how far they may be tightened.
fn on_wood(finished: &Finished) -> Body {
    let mut table = Table::new([
        Short("Size"),
        Figures("Bores"),
        Figures("To an edge, least"),
        Figures("Apart, least"),
        Figures("Timber: end, edge, apart"),
        Figures("Panels: end, edge, apart"),
        Figures("Washer sinks in at N m"),
    ]);
    for one in &finished.strength.on_wood {
        let wanted =
            |spacing: &Spacing| [spacing.a3_t, spacing.a4_c, spacing.a1].map(|mm| decimal(mm, 0)).join(", ");
        table.row([
            one.size.clone(),
            one.bores.to_string(),
            decimal(one.to_edge, 1),
            one.apart.map(|mm| decimal(mm, 1)).unwrap_or_default(),
            wanted(&one.timber),
            wanted(&one.panel),
            one.torque.map(|torque| decimal(torque, 1)).unwrap_or_default(),
        ]);
    }
    if table.rows.is_empty() {
        return Body::none();
    }
    heading("Bolts in plywood")
        + paragraph(
            "EN 1995-1-1 Table 8.4 is for timber, the other rule for cross-bonded veneer panels (LVL Handbook Europe): guidance for thin \
             bolts in plywood. A nearer end towards which a bolt presses counts in proportion. Tighten until the washer just begins to \
             bed, far below what a steel joint takes: T = 0.2 F d with F = 3 f_c90 pi / 4 (D\u{b2} - hole\u{b2}) of the large washer; half \
             of it leaves room for the wood to settle.",
        )
        + table.body()
}

/// What the figures were worked out with.
fn formulas() -> Vec<String> {
    let ([inside, inside_far], [edge, edge_far]) = (INSIDE, AT_EDGE);
    let width = format!(
        "Width of a strip under a load c wide: {inside} c + {inside_far} L (E across / E along)^(1/4) inside, {edge} c + {edge_far} L \
         (..)^(1/4) at a free edge, in proportion up to {INSIDE_FROM} L from it. Fitted below finite elements by this project; of an arm L \
         counts as 2 a."
    );
    let wood = format!(
        "Wood: f_h = 0.11 (1 - 0.01 d) rho_k, EN 1995-1-1 (8.36), times a / {FULL_END} where an end towards which the bolt presses is nearer \
         than {FULL_END} mm; Johansen's modes, 8.2; washer 3 f_c90 pi / 4 (D² - hole²), 8.5.2; design values k_mod / 1.3; both as a sum."
    );
    let all = BENDING.map(str::to_owned).into_iter().chain([width]);
    all.chain(BOLTS.map(str::to_owned)).chain([wood]).collect()
}

/// Of panels.
const BENDING: [&str; 5] = [
    "Strip: spread load q on a span L: M = q L² / 8, w = 5 q L⁴ / 384 E I; a load P at a from one end with b = L - a, c long: M by its \
     greatest value under the patch, w = P b (L² - b²)^1.5 / (9 sqrt(3) E I L) with the shorter of a and b; I = width t³ / 12, \
     stress = 6 M / (width t²). Textbook.",
    "Arm: M = P a or q L² / 2, w = P a³ / 3 E I or q L⁴ / 8 E I; where the panel runs on beyond the line by B, w grows by (a + B) / a.",
    "Plate on four sides: Navier's double series, orthotropic for plywood: Dx = Ex t³ / 12 (1 - nu_xy nu_yx), H = nu_xy Dy + 2 G t³ / 12.",
    "Creep: w = w_own (1 + k_def) + w_stored (1 + psi2 k_def), EN 1995-1-1 2.2.3. Strength: f k_mod / gamma_M.",
    "A person kneels on two squares; on a span L with knees s apart the part 1 - s / L, at least half, presses on one in its middle.",
];

/// Of slides, bolts and points.
const BOLTS: [&str; 4] = [
    "Slide: F = W / n + W (x - xm) (xi - xm) / sum (xi - xm)² for each bolt of a member, statics; W is half of the weight by its place.",
    "Points: force a m g at the centre of gravity, shared as V = F / n with F e r / sum r²; T = M d / sum d² about the edge of the base that \
     lies ahead; a turnbuckle pulls what its direction asks for.",
    "Bolt: shear alpha_v f_ub A_s / 1.25, tension 0.9 f_ub A_s / 1.25, together V / V_R + T / 1.4 T_R, EN 1993-1-8 Table 3.4.",
    "Angle: hole torn k1 alpha_b f_u d t / 1.25, EN 1999-1-1 Table 8.5; leg bent: f_y / 1.1 t² / 4 times 2 gauges, over the gauge less t.",
];

/// Materials of panels that were checked.
fn materials(finished: &Finished) -> Body {
    let mut table = Table::new([
        Short("Material"),
        Figures("t"),
        Figures("E along"),
        Figures("E across"),
        Figures("f along"),
        Figures("f across"),
        Figures("G"),
        Figures("nu"),
        Figures("gamma_M"),
        Figures("k_def"),
        Words("Grain"),
    ]);
    let mut seen = Vec::new();
    for check in &finished.strength.panels {
        let material = &finished.kit.layout.board(check.board).material;
        let Some(sheet) = check.sheet.filter(|_| !seen.contains(&material.id)) else { continue };
        seen.push(material.id.clone());
        table.row([
            material.id.clone(),
            decimal(sheet.thickness, 2),
            decimal(sheet.modulus[0], 0),
            decimal(sheet.modulus[1], 0),
            decimal(sheet.bending[0], 1),
            decimal(sheet.bending[1], 1),
            decimal(sheet.shear_modulus, 0),
            decimal(sheet.poisson(), 2),
            decimal(sheet.gamma(), 2),
            sheet.k_def().map(|k| decimal(k, 2)).unwrap_or_default(),
            if sheet.grain_unknown { "not known: the worse way taken for both" } else { "" }.to_owned(),
        ]);
    }
    if seen.is_empty() { Body::none() } else { heading("Materials") + table.body() }
}

fn panels(finished: &Finished) -> Body {
    let mut loads = Table::new([
        Words("Panel"),
        Words("Load"),
        Figures("kg"),
        Words("Taken as"),
        Figures("Middle u, v"),
        Figures("Span"),
        Figures("Load at, long"),
        Figures("Width"),
        Figures("Force"),
        Figures("Moment"),
        Figures("Stress"),
        Figures("Sag"),
    ]);
    let mut cases = Table::new([
        Words("Panel"),
        Words("Case"),
        Figures("Factor"),
        Short("Duration"),
        Figures("k_mod"),
        Figures("Stress %"),
        Figures("Sag %"),
    ]);
    for check in finished.strength.panels.iter().filter(|check| !check.cases.is_empty()) {
        let name = &finished.kit.layout.board(check.board).name;
        for one in &check.results {
            loads.row(load_row(name, one));
        }
        for case in &check.cases {
            cases.row([
                name.clone(),
                case.together.name().to_owned(),
                decimal(case.factor, 2),
                case.together.duration_word().to_owned(),
                decimal(case.k_mod, 2),
                fixed(100.0 * case.stress_used, 1),
                case.sag_used.map(|sag| fixed(100.0 * sag, 1)).unwrap_or_default(),
            ]);
        }
    }
    if finished.strength.panels.iter().all(|check| check.cases.is_empty()) {
        return Body::none();
    }
    heading("Panels: each load by itself, at its worst place, without factors")
        + paragraph("Strips and arms run along the face grain or across it; u and v are the panel's own.")
        + loads.body()
        + heading("Panels: what acts together")
        + cases.body()
}

fn load_row(name: &str, one: &PanelResult) -> [String; 12] {
    let both = |[u, v]: [f64; 2], decimals| format!("{}, {}", decimal(u, decimals), decimal(v, decimals));
    let (plate, spread) = (one.method == Method::Plate, one.item.press == Press::Spread);
    let way = match one.way {
        Way::AlongU => "along",
        Way::AlongV => "across",
    };
    let taken = match one.method {
        Method::Strip => format!("strip, {way}"),
        Method::Arm => format!("arm, {way}"),
        Method::Plate => "plate".to_owned(),
    };
    let i = usize::from(one.way == Way::AlongV);
    [
        name.to_owned(),
        one.item.what.clone(),
        fixed(one.item.mass, 2),
        taken,
        both([one.place.x, one.place.y], 0),
        if plate { both(one.spans, 1) } else { decimal(one.spans[0], 1) },
        match (spread, plate) {
            (true, _) => String::new(),
            (false, true) => format!("{}; {}", both(one.at, 0), both(one.length, 0)),
            (false, false) => both([one.at[0], one.length[0]], 0),
        },
        if plate { String::new() } else { decimal(one.width, 1) },
        if spread && !plate { format!("{} /mm", decimal(one.force, 6)) } else { decimal(one.force, 1) },
        if plate { both(one.moments, 2) } else { decimal(one.moments[i], 1) },
        if plate { both(one.stresses, 2) } else { fixed(one.stresses[i], 2) },
        fixed(one.sag, 3),
    ]
}

fn slides(finished: &Finished) -> Body {
    if finished.strength.drawers.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Slide"),
        Figures("Weight N"),
        Words("Bolts from its front mm"),
        Words("N down, out"),
        Words("N down, moving member"),
    ]);
    let join = |values: &[f64]| values.iter().map(|value| decimal(*value, 1)).collect::<Vec<_>>().join(", ");
    for slide in finished.strength.drawers.iter().flat_map(|check| &check.slides) {
        table.row([
            finished.kit.layout.mounts[slide.mount].name.clone(),
            decimal(slide.weight, 1),
            join(&slide.bolts),
            join(&slide.out),
            join(&slide.moving),
        ]);
    }
    heading("Slides, without factors") + table.body()
}

fn joints(finished: &Finished) -> Body {
    if finished.strength.joints.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Bolt"),
        Words("Load"),
        Figures("Across N"),
        Figures("Along N"),
        Figures("Bolt across"),
        Figures("Bolt along"),
        Figures("Washer along"),
        Figures("Wood or sheet across"),
        Words("Angle, tabs"),
        Words("Together"),
    ]);
    for check in &finished.strength.joints {
        let force = |gives: Gives| {
            let way = check.resistances.iter().find(|way| way.gives == gives);
            way.map(|way| decimal(way.force, 0)).unwrap_or_default()
        };
        table.row([
            check.worst.clone(),
            check.case.clone(),
            decimal(check.shear, 0),
            decimal(check.tension, 0),
            force(Gives::BoltAcross),
            force(Gives::BoltAlong),
            force(Gives::Washer),
            check.resistances.iter().find_map(in_wood).unwrap_or_default(),
            check.resistances.iter().filter_map(beside_bolt).collect::<Vec<_>>().join(", "),
            result(&check.outcome),
        ]);
    }
    heading("Joints: the bolt of each that is worst off")
        + paragraph(
            "N that each part bears by itself, by design; the letter is that of Johansen's mode. Angle: the hole across, the leg along; \
             tabs and the wood between nut and edge: area times shear strength, by no standard.",
        )
        + table.body()
}

/// What wood, or a metal sheet, bears around a bolt, with the letter of the mode.
fn in_wood(way: &Resistance) -> Option<String> {
    let force = decimal(way.force, 0);
    match way.gives {
        Gives::Wood(mode) => Some(format!("{force} ({mode})")),
        Gives::SheetHole => Some(force),
        _ => None,
    }
}

/// What the angle on a bolt bears, or the tabs beside it and the wood before its nut.
fn beside_bolt(way: &Resistance) -> Option<String> {
    let name = match way.gives {
        Gives::AngleHole => "hole",
        Gives::AngleLeg => "leg",
        Gives::BeforeNut => "before the nut",
        Gives::TabsAlong => "tabs along",
        Gives::TabsAcross => "tabs across",
        Gives::BoltAcross | Gives::BoltAlong | Gives::Washer | Gives::Wood(_) | Gives::SheetHole => {
            return None;
        }
    };
    Some(format!("{name} {}", decimal(way.force, 0)))
}

fn anchors(finished: &Finished) -> Body {
    let Some(first) = finished.strength.anchors.first() else { return Body::none() };
    let mut table = Table::new([
        Words("Point"),
        Figures("Module kg"),
        Figures("Centre x, y, z"),
        Figures("Base from x, y"),
        Figures("to x, y"),
    ]);
    let heads = first.cases.iter().map(|case| Counted(format!("{}: along the floor, off it", case.way)));
    table.columns.extend(heads);
    for check in &finished.strength.anchors {
        let place =
            |values: &[f64]| values.iter().map(|value| decimal(*value, 0)).collect::<Vec<_>>().join(", ");
        let (low, high) = (check.base.low, check.base.high);
        let mut row = vec![
            check.name(),
            fixed(check.mass, 1),
            place(&check.centre.to_array()),
            place(&[low.x, low.y]),
            place(&[high.x, high.y]),
        ];
        row.extend(first.cases.iter().map(|head| {
            let case = check.cases.iter().find(|case| case.way == head.way);
            case.map(|case| place(&[case.shear.length(), case.tension])).unwrap_or_default()
        }));
        table.row(row);
    }
    heading("Points of the vehicle") + table.body()
}
