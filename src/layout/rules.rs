//! What can be wrong with a layout, and the findings about names that only the finished layout can judge.

use super::join::matches_joint;
use super::{Layout, defaults};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::number::decimal;
use crate::spec::{Design, JointKind, Joints};
use std::collections::BTreeMap;

/// All rules of this stage.
pub(crate) const RULES: &[&Rule] = &[
    &CELLS_WIDER_THAN_ROOM,
    &CELLS_LEAVE_A_GAP,
    &CARCASE_WITHOUT_INSIDE,
    &NOTCH_OFF_CARCASE,
    &DRAWER_BOX_DOES_NOT_FIT,
    &SLIDE_LONGER_THAN_SPACE,
    &SLIDE_HIGHER_THAN_SPACE,
    &SLIDE_WITHOUT_RATING,
    &SLIDE_SIDE_PLAY,
    &PANELS_WITH_ONE_NAME,
    &JOINT_NOT_IN_KIT,
    &CORNER_JOINT_AT_FACE,
    &PARTS_OVERLAP,
    &MOVING_PART_STRIKES,
    &CARCASES_TOO_CLOSE,
    &CAPTIVE_NUT_AT_PART_OF_EDGE,
    &OPEN_TOP_UNCLEAR,
    &TRAY_STAYS_INSIDE,
];

const PASSING: &str = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800}
      - drawer: {slide: heavy-800}
";

/// A deck that cannot be left out as asked.
pub(super) static OPEN_TOP_UNCLEAR: Rule = Rule {
    name: "open-top-unclear",
    severity: Severity::Error,
    finds: "An `open_top` over a cell that does not touch the deck, or one that leaves nothing of the deck, or less than \
            60 mm at its end, or two pieces.",
    why: "The deck holds the uprights together; what is left of it must be one panel that is bolted to them.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}, open_top: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}, open_top: {depth: 600}}}
",
    source: "a decision of this project",
};

/// A tray that is to come clear of its carcase and does not.
pub(super) static TRAY_STAYS_INSIDE: Rule = Rule {
    name: "tray-stays-inside",
    severity: Severity::Error,
    finds: "A tray with `comes_clear` whose rear end, fully open, is still inside the carcase.",
    why: "A lid that opens upward strikes what stands over it, and the last of the tray is out of reach.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {tray: {slide: heavy-800, comes_clear: true}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {tray: {slide: overtravel-800, comes_clear: true}}}
",
    source: "arithmetic",
};

/// Sizes that add up to more than the carcase.
pub(super) static CELLS_WIDER_THAN_ROOM: Rule = Rule {
    name: "cells-wider-than-room",
    severity: Severity::Error,
    finds: "Columns or rows whose clear openings, with the boards between them, need more room than the carcase has.",
    why: "The boards would stand in each other, or a cell with a share would get nothing.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - size: 600
        open: {}
      - size: 600
        open: {}
",
    passing: PASSING,
    source: "arithmetic",
};

/// Sizes that add up to less than the carcase, with nothing to take the rest.
pub(super) static CELLS_LEAVE_A_GAP: Rule = Rule {
    name: "cells-leave-a-gap",
    severity: Severity::Error,
    finds: "Columns or rows that all have a size and do not fill the carcase.",
    why: "Widths and gaps must add up to the space that they fill; a gap that nobody asked for is a slip of the pen.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - size: 300
        open: {}
      - size: 300
        open: {}
",
    passing: PASSING,
    source: "arithmetic",
};

/// A carcase that is all panel.
pub(super) static CARCASE_WITHOUT_INSIDE: Rule = Rule {
    name: "carcase-without-inside",
    severity: Severity::Error,
    finds: "A carcase whose panels are as thick as itself.",
    why: "Nothing is left inside.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 20, panel: birch-12, cell: {open: {}}}
",
    passing: PASSING,
    source: "arithmetic",
};

/// A notch that cannot be.
pub(super) static NOTCH_OFF_CARCASE: Rule = Rule {
    name: "notch-off-carcase",
    severity: Severity::Error,
    finds: "A notch that lies beside its carcase, or takes so much of it that base and sides cannot be bolted together.",
    why: "A notch in the wrong place is cut from an expensive sheet all the same.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    notches: [{side: both, from: 260, to: 820, height: 285, depth: 100}]
    cell: {open: {}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    notches: [{side: both, from: 260, to: 720, height: 200, depth: 100}]
    cell: {open: {}}
",
    source: "common practice, no source",
};

/// A drawer whose box has no room.
pub(super) static DRAWER_BOX_DOES_NOT_FIT: Rule = Rule {
    name: "drawer-box-does-not-fit",
    severity: Severity::Error,
    finds: "An opening that, after slides, clearances and corner angles, leaves no box worth making, or less height than the spec asks for.",
    why: "A drawer an inch too wide because slides or walls were forgotten is the commonest mistake of all.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800, box_height: 280}
      - drawer: {slide: heavy-800}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// A slide or box that is too long.
pub(super) static SLIDE_LONGER_THAN_SPACE: Rule = Rule {
    name: "slide-longer-than-space",
    severity: Severity::Error,
    finds: "A slide, or a drawer box, longer than the depth of its cell leaves after the gap at the back, or a slide longer than its box.",
    why: "The drawer would stand out of the carcase or strike its back.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 600, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// A slide that is too high for its opening.
pub(super) static SLIDE_HIGHER_THAN_SPACE: Rule = Rule {
    name: "slide-higher-than-space",
    severity: Severity::Error,
    finds: "A slide for which the opening or the box has no height left between the corner angles.",
    why: "The slide would lie on an angle's leg, or its bolts would split the edge of the drawer side.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 140, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// A slide that nobody has rated.
pub(super) static SLIDE_WITHOUT_RATING: Rule = Rule {
    name: "slide-without-rating",
    severity: Severity::Error,
    finds: "A slide whose data give no rating at its length.",
    why: "Ratings fall with length; a guess from another length is how slides tear off.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop:
  slides:
    shop-700: {family: shop, length: 700, travel: 700, thickness: 19.1, height: 76, fixed: [35, 355, 643], moving: [67, 355, 643], bolt: M5, wall: 1.5, head_room: 5, mass_pair: 5}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: shop-700}}}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// Side play outside the slide's limits.
pub(super) static SLIDE_SIDE_PLAY: Rule = Rule {
    name: "slide-side-play",
    severity: Severity::Error,
    finds: "An allowance beside each slide of less than 0.2 mm or more than 0.5 mm.",
    why: "Tighter drags and wears; wider rattles and pulls the members apart.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {slide_allowance: 0.8}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "a slide maker's public help page: side space is the slide's thickness plus 0.2 to 0.5 mm",
};

/// Two panels that would have one name.
pub(super) static PANELS_WITH_ONE_NAME: Rule = Rule {
    name: "panels-with-one-name",
    severity: Severity::Error,
    finds: "Two panels or slides whose names, made from the ids in the spec, are the same.",
    why: "One name stands for one part in every file, table and label.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - {id: drawer-2, drawer: {slide: heavy-800}}
      - {drawer: {slide: heavy-800}}
",
    passing: PASSING,
    source: "arithmetic",
};

/// An exception for a joint that does not exist.
pub(super) static JOINT_NOT_IN_KIT: Rule = Rule {
    name: "joint-not-in-kit",
    severity: Severity::Error,
    finds: "A name under `joints: named:` that fits no joint of the kit.",
    why: "The exception would be silently ignored and the joint cut another way than meant.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
joints: {named: {\"main-bak+main-base\": {kind: captive-nut}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "arithmetic",
};

/// Tab and slot where the slot would be beside the panel.
pub(super) static CAPTIVE_NUT_AT_PART_OF_EDGE: Rule = Rule {
    name: "captive-nut-at-part-of-edge",
    severity: Severity::Error,
    finds: "`captive-nut` asked for by name where the met panel covers only a part of the edge, as a blank over the edges does.",
    why: "A tab would stand beside the panel, and the bolt along the edge's middle would split the panel's rim. Where only the default asks for captive nuts, an angle is taken there.",
    failing: "\
bay: {width: 1060, depth: 1050, height: 800}
workshop: {tool: {diameter: 3}}
joints: {named: {\"main-blank-1+main-divider-1\": {kind: captive-nut}}}
carcases:
  - {id: main, width: 1040, depth: 900, height: 300, panel: birch-12, columns: [{blank: {}}, {open: {}}]}
",
    passing: "\
bay: {width: 1060, depth: 1050, height: 800}
workshop: {tool: {diameter: 3}}
joints: {named: {\"main-blank-1+main-divider-1\": {kind: angle}}}
carcases:
  - {id: main, width: 1040, depth: 900, height: 300, panel: birch-12, columns: [{blank: {}}, {open: {}}]}
",
    source: "arithmetic",
};

/// Two carcases with a gap that is too small for what stands in it.
pub(super) static CARCASES_TOO_CLOSE: Rule = Rule {
    name: "carcases-too-close",
    severity: Severity::Error,
    finds: "Two carcases side by side with a gap smaller than the bolt heads or slide nuts that stand out into it.",
    why: "The carcases cannot be put where the spec has them. Standing against each other they can: then bolts pass through both sides.",
    failing: "\
bay: {width: 1100, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 252}, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -252}, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1100, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 250}, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -250}, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "arithmetic",
};

/// A corner's joint asked for where two faces lie together.
pub(super) static CORNER_JOINT_AT_FACE: Rule = Rule {
    name: "corner-joint-at-face",
    severity: Severity::Error,
    finds: "`angle` or `captive-nut` asked for by name at a joint of two faces, such as a false front on its box.",
    why: "There is no corner for an angle to lie in and no edge for a tab; the wish could only be ignored.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
joints: {named: {\"main-drawer-1-box-front+main-drawer-1-front\": {kind: angle}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
joints: {named: {\"main-drawer-1-box-front+main-drawer-1-front\": {bolts: {size: M6}}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "common practice, no source",
};

/// Two solids in one place.
pub(crate) static PARTS_OVERLAP: Rule = Rule {
    name: "parts-overlap",
    severity: Severity::Error,
    finds: "Two parts whose solids share space with everything shut: panels, angles, slides, bolt heads, nuts.",
    why: "They cannot both be there; one of them has been cut for nothing.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 200}, panel: birch-12, cell: {open: {}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -200}, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 250}, panel: birch-12, cell: {open: {}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -250}, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

/// A drawer that strikes something.
pub(crate) static MOVING_PART_STRIKES: Rule = Rule {
    name: "moving-part-strikes",
    severity: Severity::Error,
    finds: "A part of a drawer whose way from shut to fully open leads through another part of the kit, everything else \
            shut; through a side, the seat back, the roof, a wheel arch or the sill and edges of the opening; or through \
            a leaf of the vehicle's doors as it stands open (`leaves`).",
    why: "The drawer jams half-way, or tears off what it strikes.",
    failing: "\
bay: {width: 1040, depth: 1500, height: 800}
carcases:
  - {id: front, width: 1000, depth: 600, height: 300, at: {x: 850}, panel: birch-12, cell: {drawer: {slide: heavy-500}}}
  - {id: rear, width: 1000, depth: 600, height: 300, at: {x: 100}, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1500, height: 800}
carcases:
  - {id: front, width: 1000, depth: 600, height: 300, at: {x: 850, z: 310}, panel: birch-12, cell: {drawer: {slide: heavy-500}}}
  - {id: rear, width: 1000, depth: 600, height: 300, at: {x: 100}, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

/// Findings about the layout as a whole: names given twice, exceptions for joints that do not exist, side play.
pub(super) fn report_names(findings: &mut Findings, design: &Design, layout: &Layout) {
    let play = &design.workshop.slide_allowance;
    if !layout.mounts.is_empty() && !defaults::SIDE_PLAY.contains(&play.value) {
        let message = format!("{} mm of play beside each slide", decimal(play.value, 3));
        let help = format!("between {} and {} mm", defaults::SIDE_PLAY.start(), defaults::SIDE_PLAY.end());
        findings.push(Finding::new(&SLIDE_SIDE_PLAY, play.span, message).help(help));
    }
    let boards = layout.boards.iter().map(|board| (&board.name, board.span));
    let slides = layout.mounts.iter().map(|mount| (&mount.name, mount.span));
    let mut seen = BTreeMap::new();
    for (name, span) in boards.chain(slides) {
        if let Some(&first) = seen.get(name) {
            let finding =
                Finding::new(&PANELS_WITH_ONE_NAME, span, format!("two parts would be called `{name}`"))
                    .on(name)
                    .help("give one of the cells another `id`")
                    .also(first, "the other one comes from here");
            findings.push(finding);
        } else {
            seen.insert(name, span);
        }
    }
    let mut all: Vec<&Joints> = vec![&design.joints];
    for carcase in &design.carcases {
        all.extend([&carcase.joints, &carcase.drawer_joints]);
        drawers(&carcase.cell, &mut all);
    }
    for exception in all.into_iter().flat_map(|joints| &joints.named) {
        let pattern = &exception.pattern;
        let of_faces =
            layout.face_meetings.iter().any(|meeting| matches_joint(&pattern.value, &meeting.name));
        let corner = exception.kind.filter(|kind| kind.value != JointKind::Face);
        if let Some(kind) = corner.filter(|_| of_faces && !pattern.value.contains('*')) {
            let message = format!("`{}` is a face against a face, bolted through both", pattern.value);
            let finding = Finding::new(&CORNER_JOINT_AT_FACE, kind.span, message).on(&pattern.value);
            findings.push(finding.help("leave `kind:` out; `bolts:` can still be set"));
        }
        let mut names =
            layout.meetings.iter().map(|m| &m.name).chain(layout.face_meetings.iter().map(|m| &m.name));
        if !names.any(|name| matches_joint(&pattern.value, name)) {
            let message = format!("no joint of the kit is called `{}`", pattern.value);
            let known = layout.meetings.iter().map(|m| m.name.as_str());
            let help = match crate::diag::nearest(&pattern.value, known) {
                Some(near) => format!("the nearest is `{near}`; `*` stands for any run of characters"),
                None => "`*` stands for any run of characters".to_owned(),
            };
            findings
                .push(Finding::new(&JOINT_NOT_IN_KIT, pattern.span, message).on(&pattern.value).help(help));
        }
    }
}

/// The joint rules of every drawer in a cell tree.
fn drawers<'a>(cell: &'a crate::spec::Cell, all: &mut Vec<&'a Joints>) {
    match &cell.content {
        crate::spec::Content::Drawer(drawer) => all.push(&drawer.joints),
        crate::spec::Content::Columns(cells) | crate::spec::Content::Rows(cells) => {
            for cell in cells {
                drawers(cell, all);
            }
        }
        crate::spec::Content::Door(_) | crate::spec::Content::Open | crate::spec::Content::Blank => {}
    }
}
