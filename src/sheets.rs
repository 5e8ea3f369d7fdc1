//! The parts of one material on their sheets, with how each sheet is cut: what kits and loose parts have in common.
//!
//! Takes parts, their stock and the shop; gives a [`SheetGroup`], and in words what found no place. Opens nothing and
//! reports nothing itself.

use crate::cutting::{self, SheetMaterial, SheetPlan, Shop, Workpiece};
use crate::finished::SheetGroup;
use crate::nest::{self, Clearances, Cutting, Effort, Part, Progress, Settings, Sheet, Stock, Turns};
use crate::number::decimal;
use crate::spec::{self, Workshop};
use std::collections::BTreeMap;
use std::ops::ControlFlow;

/// Told, while the parts of a material are nested, its name and how far that is; says whether to go on.
pub(crate) type Watch<'a> = dyn FnMut(&str, Progress) -> ControlFlow<()> + 'a;

/// Lets the nesting go on to its end.
pub(crate) fn unwatched(_: &str, _: Progress) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

/// Parts of one material that are to be laid.
pub(crate) struct ToLay<'a> {
    /// What they are cut from.
    pub(crate) material: SheetMaterial,
    /// For each part the index of its workpiece among all that is cut.
    pub(crate) panels: Vec<usize>,
    /// As the nesting sees them.
    pub(crate) parts: Vec<Part>,
    /// As the machine sees them, in the parts' order.
    pub(crate) workpieces: &'a [Workpiece<'a>],
    /// How many of them, from the first on, are to be laid.
    pub(crate) nested: usize,
    /// Sheets and offcuts that there are.
    pub(crate) stock: Vec<Stock>,
    /// Tool or saw, trim, how small parts are held.
    pub(crate) workshop: &'a Workshop,
    /// How long better layouts are looked for.
    pub(crate) effort: Effort,
    /// Names of sheets that are given already.
    pub(crate) taken: &'a [&'a str],
}

/// Lays the parts and plans how each sheet is cut.
pub(crate) fn laid(job: ToLay<'_>, watch: &mut Watch<'_>) -> SheetGroup {
    let ToLay { material, panels, parts, workpieces, nested, stock, workshop, effort, taken } = job;
    let (clearances, settings) = how(workshop, effort);
    let mut told = |progress| watch(&material.id, progress);
    let mut nesting = nest::nest_watched(&parts[..nested], &stock, clearances, &settings, &mut told);
    let shop = shop(workshop, workpieces);
    let small: Vec<bool> = workpieces.iter().map(|workpiece| shop.is_small(workpiece)).collect();
    nest::inward(&mut nesting, &parts, &small, &stock, clearances);
    let planned = |sheet: &Sheet| plan(sheet, &stock[sheet.stock], clearances, &shop);
    let plans = nesting.sheets.iter().map(planned).collect();
    let cuts = nest::cutting_lists(&parts, &stock, &nesting, clearances, &settings);
    let free = (1..).map(|number: usize| format!("{}-{number}", material.id));
    let free = free.filter(|name| !taken.iter().any(|taken| taken.eq_ignore_ascii_case(name)));
    let names = free.take(nesting.sheets.len()).collect();
    SheetGroup {
        material,
        panels,
        parts,
        nested,
        stock,
        clearances,
        settings,
        nesting,
        names,
        plans,
        cuts,
        frozen: Vec::new(),
    }
}

/// How one sheet is cut.
pub(crate) fn plan(sheet: &Sheet, stock: &Stock, clearances: Clearances, shop: &Shop<'_>) -> SheetPlan {
    cutting::plan(sheet, (stock.length, stock.width), clearances.gap, shop)
}

/// What the plans of sheets need to know of the shop. A saw parts the sheet before anything is milled, so nothing has
/// to be held on it.
pub(crate) fn shop<'a>(workshop: &'a Workshop, workpieces: &'a [Workpiece<'a>]) -> Shop<'a> {
    Shop {
        panels: workpieces,
        tool: workshop.tool.diameter.value,
        holding: &workshop.holding,
        sawn: workshop.cutting.value == spec::Cutting::Saw,
    }
}

/// mm between two parts: for a router its tool with the margin, for a saw what the blade takes.
pub(crate) fn gap(workshop: &Workshop) -> f64 {
    match workshop.cutting.value {
        spec::Cutting::Router => workshop.tool.diameter.value + workshop.tool.margin.value,
        spec::Cutting::Saw => workshop.saw.kerf.value,
    }
}

/// Gap, trim and the way of cutting.
fn how(workshop: &Workshop, effort: Effort) -> (Clearances, Settings) {
    let (cutting, stages) = match workshop.cutting.value {
        spec::Cutting::Router => (Cutting::Free, None),
        spec::Cutting::Saw => (Cutting::Guillotine, usize::try_from(workshop.saw.stages.value).ok()),
    };
    let clearances = Clearances { gap: gap(workshop), trim: workshop.trim.value };
    (clearances, Settings { cutting, stages, effort, reusable: workshop.smallest_offcut.value })
}

/// What is wrong, and what would do.
pub(crate) struct Told {
    /// With the numbers.
    pub(crate) message: String,
    /// The beginning of a remedy.
    pub(crate) would_do: String,
}

/// A part for which no sheet is large enough.
pub(crate) fn too_large(group: &SheetGroup, part: &Part) -> Told {
    let (low, high) = part.outline.bounds();
    let size = high - low;
    let trim = group.clearances.trim;
    let sheets: Vec<&str> = group.stock.iter().map(|stock| stock.name.as_str()).collect();
    let lies = if part.turns == Turns::Free { "either way round" } else { "as it may lie" };
    let message = format!(
        "`{}` is {} x {} mm; no sheet of `{}` ({}) holds it {lies} within {} mm of trim",
        part.name,
        decimal(size.x, 1),
        decimal(size.y, 1),
        group.material.id,
        sheets.join(", "),
        decimal(trim, 1)
    );
    let [length, width] = [size.x, size.y].map(|mm| decimal(mm + 2.0 * trim, 1));
    let along = if part.turns == Turns::Free { "" } else { " (its length first)" };
    Told { message, would_do: format!("a sheet of at least {length} x {width} mm would do{along}") }
}

/// Most parts that are named.
const MOST_NAMED: usize = 6;

/// Parts for which the stock does not suffice; `None` if it does.
pub(crate) fn used_up(group: &SheetGroup) -> Option<Told> {
    let left_out = &group.nesting.left_out;
    if left_out.is_empty() {
        return None;
    }
    let mut times: BTreeMap<usize, (&str, usize)> = BTreeMap::new();
    for &part in left_out {
        times.entry(group.panels[part]).or_insert((&group.parts[part].name, 0)).1 += 1;
    }
    let one =
        |&(name, n): &(&str, usize)| if n == 1 { format!("`{name}`") } else { format!("{n} of `{name}`") };
    let mut names: Vec<String> = times.values().take(MOST_NAMED).map(one).collect();
    if times.len() > MOST_NAMED {
        names.push(format!("{} more", times.len() - MOST_NAMED));
    }
    let there = group.stock.iter().filter_map(|kind| Some(format!("{} of {}", kind.quantity?, kind.name)));
    let there: Vec<String> = there.collect();
    let message = format!(
        "the stock of `{}` ({}) is used up without {}",
        group.material.id,
        there.join(", "),
        names.join(", ")
    );
    let missing = group.nesting.missing.iter();
    let missing: Vec<String> = missing
        .filter_map(|&(kind, n)| Some(format!("{n} more of {}", group.stock.get(kind)?.name)))
        .collect();
    Some(Told { message, would_do: format!("{} would do", missing.join(" and ")) })
}
