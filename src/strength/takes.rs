//! What may be put in a drawer or on a tray: the least that its slides, their bolts, its latch and its bottom take, and with which a
//! loose module does not tip while it alone is out.

use super::{DrawerCheck, Job, JointCheck, Kind, LatchCheck, PanelCheck, TippingCheck, joints, panels};

/// What a drawer or tray takes beside itself and the equipment that stands on it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Takes {
    /// Its index in the layout.
    pub(crate) drawer: usize,
    /// kg evenly spread, and what gives first beyond them; `None` if nothing of it was checked.
    pub(crate) most: Option<(f64, Kind)>,
    /// What could not be checked, so that it may take less.
    pub(crate) unknown: Vec<Kind>,
}

/// Every drawer and tray. What slides, bolts and latches bear and what tips a module grows with all that the slides carry, about the
/// centre that it has as designed.
pub(super) fn all(
    job: &Job<'_>,
    panels: &[PanelCheck],
    (drawers, latches): (&[DrawerCheck], &[LatchCheck]),
    groups: &[JointCheck],
    tipping: &[TippingCheck],
) -> Vec<Takes> {
    let layout = &job.kit.layout;
    let one = |check: &DrawerCheck| {
        let drawer = &layout.drawers[check.drawer];
        let carried = &job.masses.carried[check.drawer];
        let there = carried.own + carried.equipment;
        let up_to = |used: Option<f64>| used.map(|used| (check.carried / used - there).max(0.0));
        let mounts = check.slides.iter().map(|slide| layout.mounts[slide.mount].name.as_str());
        let members: Vec<String> =
            mounts.flat_map(|mount| joints::MEMBERS.map(|member| joints::of_member(mount, member))).collect();
        let of_slides = |joint: &&JointCheck| members.contains(&joint.name);
        let bolts = groups.iter().filter(of_slides).map(|joint| (Kind::Joint, up_to(joint.outcome.used())));
        let latch = latches.iter().find(|latch| latch.name == drawer.name);
        let bottom = panels.iter().find(|panel| panel.board == drawer.bottom);
        let limits = [
            Some((Kind::Slides, up_to(check.outcome.used()))),
            latch.map(|latch| (Kind::Latch, up_to(latch.outcome.used()))),
            Some((Kind::Panel, bottom.and_then(|bottom| panels::takes(job, bottom)))),
        ];
        let tips = tipping.iter().filter(|tips| tips.drawer.as_ref() == Some(&drawer.name));
        let tips = tips.map(|tips| (Kind::LooseModule, up_to(tips.outcome.used())));
        let limits: Vec<(Kind, Option<f64>)> =
            limits.into_iter().flatten().chain(bolts).chain(tips).collect();
        let known = limits.iter().filter_map(|&(kind, kg)| Some((kg.filter(|kg| kg.is_finite())?, kind)));
        let mut unknown: Vec<Kind> =
            limits.iter().filter(|(_, kg)| kg.is_none()).map(|&(kind, _)| kind).collect();
        unknown.sort_unstable();
        unknown.dedup();
        Takes { drawer: check.drawer, most: known.min_by(|a, b| a.0.total_cmp(&b.0)), unknown }
    };
    drawers.iter().map(one).collect()
}
