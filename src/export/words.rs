//! The words that tables and `kit.json` use for the kinds of things, in one place so that all outputs agree.

use crate::catalogue::{HeadKind, NutKind, WasherKind};
use crate::import::cut_list::Grain;
use crate::joints::Purpose;
use crate::layout::Role;
use crate::spec::{DxfVersion, HoldingMethod, HoleClass, TabsAs};

/// What a panel is for.
pub(crate) fn role(role: Role) -> &'static str {
    match role {
        Role::Base => "base",
        Role::Deck => "deck",
        Role::Side => "side",
        Role::Back => "back",
        Role::Divider => "divider",
        Role::Shelf => "shelf",
        Role::Front => "front",
        Role::BoxSide => "box-side",
        Role::BoxEnd => "box-end",
        Role::BoxBottom => "box-bottom",
    }
}

/// How a part's length lies to the grain.
pub(crate) fn grain(grain: Grain) -> &'static str {
    match grain {
        Grain::Kept => "kept",
        Grain::Across => "across",
        Grain::Free => "free",
    }
}

/// What a bolt does.
pub(crate) fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Joint => "joint",
        Purpose::SlideFixed => "slide-fixed",
        Purpose::SlideMoving => "slide-moving",
    }
}

/// The form of a bolt's head.
pub(crate) fn head(kind: HeadKind) -> &'static str {
    match kind {
        HeadKind::Button => "button",
        HeadKind::Countersunk => "countersunk",
        HeadKind::Hex => "hexagon",
        HeadKind::Cap => "cap",
    }
}

/// The form of a nut.
pub(crate) fn nut(kind: NutKind) -> &'static str {
    match kind {
        NutKind::Hex => "hexagon",
        NutKind::Lock => "lock",
        NutKind::LowLock => "low-lock",
        NutKind::Thin => "thin",
    }
}

/// Whether a nut has an insert that keeps it from turning by itself; one without wants thread lock.
pub(crate) fn nut_locks_itself(kind: NutKind) -> bool {
    matches!(kind, NutKind::Lock | NutKind::LowLock)
}

/// The form of a washer.
pub(crate) fn washer(kind: WasherKind) -> &'static str {
    match kind {
        WasherKind::Plain => "plain",
        WasherKind::Large => "large",
    }
}

/// The series of clearance holes.
pub(crate) fn hole_class(class: HoleClass) -> &'static str {
    match class {
        HoleClass::Fine => "fine",
        HoleClass::Medium => "medium",
        HoleClass::Coarse => "coarse",
    }
}

/// The dialect of DXF files.
pub(crate) fn dxf_version(version: DxfVersion) -> &'static str {
    match version {
        DxfVersion::R12 => "R12",
        DxfVersion::R2000 => "R2000",
    }
}
/// How small parts are held.
pub(crate) fn holding_method(method: HoldingMethod) -> &'static str {
    match method {
        HoldingMethod::Tabs => "tabs",
        HoldingMethod::Skin => "skin",
        HoldingMethod::None => "none",
    }
}

/// How files show tabs.
pub(crate) fn tabs_as(shown_as: TabsAs) -> &'static str {
    match shown_as {
        TabsAs::Gaps => "gaps",
        TabsAs::Layer => "layer",
    }
}
