//! Rules about the finished kit, one to a file. A check only reports; it changes nothing.

mod against_bay;
mod air_too_little;
mod anchor_overloaded;
mod battery_cable_unprotected;
mod bolt_spacing;
mod carcase_loose;
mod door_strikes;
mod drawer_wide_for_its_depth;
mod drop_slide_over_vehicle;
mod equipment_loose;
mod finish_closes_gap;
mod gap_larger_than_sheet;
mod gas_not_vented;
mod heat_too_near;
mod hole_too_near_edge;
mod joint_overloaded;
mod latch_too_weak;
mod layer_names;
mod legend_does_not_fit;
mod lid_does_not_open;
mod living_space_not_vented;
mod module_tips;
mod moving_part_strikes;
mod near_bay;
mod nesting_time_limit;
mod out_of_reach;
mod outside_bay;
mod over_limit;
mod panel_larger_than_sheet;
mod panel_load_unknown;
mod panel_too_weak;
mod part_mark_does_not_fit;
mod parts_overlap;
mod room_in_use;
mod run_hole_near_bolt;
mod run_in_the_way;
mod skin_too_thick;
mod slide_overloaded;
mod small_part_not_held;
mod shaped_panel_on_saw;
mod stock_used_up;
mod straps_too_few;
mod strength_not_checked;
mod tie_down_overloaded;
mod tool_cannot_reach;
mod too_heavy_to_lift;
mod too_large_for_opening;
mod weighed_unknown;

use crate::abreast;
use crate::diag::{Findings, Rule};
use crate::finished::Finished;

/// A rule and the function that looks for its fault.
pub(crate) struct Check {
    /// The rule.
    pub(crate) rule: &'static Rule,
    run: fn(&Finished, &mut Findings),
}

/// All checks, in the order in which they run.
pub(crate) const RULES: &[Check] = &[
    Check { rule: &outside_bay::RULE, run: outside_bay::run },
    Check { rule: &near_bay::RULE, run: near_bay::run },
    Check { rule: &crate::layout::rules::PARTS_OVERLAP, run: parts_overlap::run },
    Check { rule: &crate::layout::rules::MOVING_PART_STRIKES, run: moving_part_strikes::run },
    Check { rule: &lid_does_not_open::RULE, run: lid_does_not_open::run },
    Check { rule: &air_too_little::RULE, run: air_too_little::run },
    Check { rule: &gas_not_vented::RULE, run: gas_not_vented::run },
    Check { rule: &heat_too_near::RULE, run: heat_too_near::run },
    Check { rule: &living_space_not_vented::RULE, run: living_space_not_vented::run },
    Check { rule: &run_in_the_way::RULE, run: run_in_the_way::run },
    Check { rule: &run_in_the_way::THROUGH_PART, run: run_in_the_way::through_parts },
    Check { rule: &run_hole_near_bolt::RULE, run: run_hole_near_bolt::run },
    Check { rule: &battery_cable_unprotected::RULE, run: battery_cable_unprotected::run },
    Check { rule: &equipment_loose::RULE, run: equipment_loose::run },
    Check { rule: &door_strikes::RULE, run: door_strikes::run },
    Check { rule: &out_of_reach::RULE, run: out_of_reach::run },
    Check { rule: &out_of_reach::UNKNOWN_REMOVABLE, run: out_of_reach::names },
    Check { rule: &carcase_loose::RULE, run: carcase_loose::run },
    Check { rule: &too_large_for_opening::RULE, run: too_large_for_opening::run },
    Check { rule: &slide_overloaded::RULE, run: slide_overloaded::run },
    Check { rule: &legend_does_not_fit::RULE, run: legend_does_not_fit::run },
    Check { rule: &part_mark_does_not_fit::RULE, run: part_mark_does_not_fit::run },
    Check { rule: &finish_closes_gap::RULE, run: finish_closes_gap::run },
    Check { rule: &tie_down_overloaded::RULE, run: tie_down_overloaded::run },
    Check { rule: &drop_slide_over_vehicle::RULE, run: drop_slide_over_vehicle::run },
    Check { rule: &panel_load_unknown::RULE, run: panel_load_unknown::run },
    Check { rule: &panel_too_weak::RULE, run: panel_too_weak::run },
    Check { rule: &joint_overloaded::RULE, run: joint_overloaded::run },
    Check { rule: &anchor_overloaded::RULE, run: anchor_overloaded::run },
    Check { rule: &anchor_overloaded::UNHELD, run: anchor_overloaded::unheld },
    Check { rule: &latch_too_weak::RULE, run: latch_too_weak::run },
    Check { rule: &module_tips::RULE, run: module_tips::run },
    Check { rule: &straps_too_few::RULE, run: straps_too_few::run },
    Check { rule: &strength_not_checked::RULE, run: strength_not_checked::run },
    Check { rule: &over_limit::RULE, run: over_limit::run },
    Check { rule: &weighed_unknown::RULE, run: weighed_unknown::run },
    Check { rule: &too_heavy_to_lift::RULE, run: too_heavy_to_lift::run },
    Check { rule: &hole_too_near_edge::RULE, run: hole_too_near_edge::run },
    Check { rule: &panel_larger_than_sheet::RULE, run: panel_larger_than_sheet::run },
    Check { rule: &tool_cannot_reach::RULE, run: tool_cannot_reach::run },
    Check { rule: &bolt_spacing::RULE, run: bolt_spacing::run },
    Check { rule: &drawer_wide_for_its_depth::RULE, run: drawer_wide_for_its_depth::run },
    Check { rule: &shaped_panel_on_saw::RULE, run: shaped_panel_on_saw::run },
    Check { rule: &layer_names::RULE, run: layer_names::run },
    Check { rule: &small_part_not_held::RULE, run: small_part_not_held::run },
    Check { rule: &skin_too_thick::RULE, run: skin_too_thick::run },
    Check { rule: &gap_larger_than_sheet::RULE, run: gap_larger_than_sheet::run },
    Check { rule: &stock_used_up::RULE, run: stock_used_up::run },
    Check { rule: &nesting_time_limit::RULE, run: nesting_time_limit::run },
];

/// Runs every check; what they find comes in their order.
pub(crate) fn run(findings: &mut Findings, finished: &Finished) {
    let found = abreast::each(RULES.len(), |i| {
        let mut own = Findings::default();
        (RULES[i].run)(finished, &mut own);
        own
    });
    for finding in found.iter().flat_map(Findings::iter) {
        findings.push(finding.clone());
    }
}
