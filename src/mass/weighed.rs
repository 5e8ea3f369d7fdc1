//! What a scale said against what was calculated, and the likeliest cause of the difference.
//!
//! Takes readings and the masses of parts. Densities are fitted by least squares: each reading is a sum of its boards' masses,
//! each board's times one unknown factor, and of all else, which counts as known; readings weigh by what their scale tells apart.

use super::{Masses, PartKind};
use crate::joints::Kit;
use crate::number::rounded;
use crate::spec::Weighed;

/// A reading beside what was calculated, kg.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    /// What was on the scale.
    pub(crate) of: String,
    /// What it said.
    pub(crate) weighed: f64,
    /// What it tells apart.
    pub(crate) resolution: f64,
    /// What was calculated.
    pub(crate) calculated: f64,
    /// What the fitted densities leave over; 0 without a fit.
    pub(crate) unexplained: f64,
}

impl Reading {
    /// kg that the scale said more.
    pub(crate) fn difference(&self) -> f64 {
        self.weighed - self.calculated
    }

    /// The same, per cent of what was calculated.
    pub(crate) fn percent(&self) -> f64 {
        100.0 * self.difference() / self.calculated
    }
}

/// A board's density as the readings have it.
#[derive(Clone, Debug)]
pub(crate) struct Density {
    /// The board's catalogue name.
    pub(crate) material: String,
    /// kg/m3 of the solid, as published.
    pub(crate) published: f64,
    /// kg/m3, fitted.
    pub(crate) fitted: f64,
}

/// All readings and what they say.
#[derive(Clone, Debug, Default)]
pub(crate) struct AsWeighed {
    /// In the order of the spec.
    pub(crate) readings: Vec<Reading>,
    /// Of the boards in the readings; empty if there are too few readings to tell.
    pub(crate) densities: Vec<Density>,
    /// The reading that the others do not bear out, by its index: something else was on the scale, or something was not.
    pub(crate) suspect: Option<usize>,
    /// Names of readings that are of nothing in the kit, by index.
    pub(crate) unknown: Vec<usize>,
}

impl AsWeighed {
    /// kg that the whole kit was on the scale, if it was.
    pub(crate) fn kit(&self) -> Option<f64> {
        self.readings.iter().find(|reading| reading.of == KIT).map(|reading| reading.weighed)
    }
}

/// What the whole kit is called.
const KIT: &str = "kit";
/// Times its resolution that a reading may be off before it is doubted.
const DOUBT: f64 = 3.0;
/// Part of a reading within which it is not doubted either: glue, swarf, moisture. Common practice, no source.
const SLACK: f64 = 0.005;
/// Factors of density beyond which a fit explains nothing.
const SENSE: std::ops::Range<f64> = 0.5..2.0;

/// Looks at all readings.
pub(crate) fn as_weighed(readings: &[Weighed], kit: &Kit, masses: &Masses) -> AsWeighed {
    let mut found = AsWeighed::default();
    let mut rows = Vec::new();
    let mut materials: Vec<&str> = kit.panels.iter().map(|panel| panel.material.id.as_str()).collect();
    materials.sort_unstable();
    materials.dedup();
    for (i, reading) in readings.iter().enumerate() {
        let Some(parts) = parts_of(&reading.of.value, kit, masses) else {
            found.unknown.push(i);
            continue;
        };
        let calculated: f64 = parts.iter().map(|&part| masses.parts[part].mass).sum();
        let boards: Vec<f64> = materials
            .iter()
            .map(|id| {
                let own = parts.iter().filter(|&&part| {
                    masses.parts[part].kind == PartKind::Panel && kit.panels[part].material.id == *id
                });
                own.map(|&part| masses.parts[part].mass).sum()
            })
            .collect();
        let off = (reading.resolution * DOUBT).max(reading.mass * SLACK);
        rows.push(Row { rest: reading.mass - (calculated - boards.iter().sum::<f64>()), boards, off });
        found.readings.push(Reading {
            of: reading.of.value.clone(),
            weighed: reading.mass,
            resolution: reading.resolution,
            calculated,
            unexplained: 0.0,
        });
    }
    explain(&mut found, &rows, &materials, kit);
    found
}

/// A reading as an equation: the boards' masses times their factors are the rest.
struct Row {
    boards: Vec<f64>,
    rest: f64,
    /// kg that it may be off.
    off: f64,
}

/// Indices of the parts that a name stands for.
fn parts_of(name: &str, kit: &Kit, masses: &Masses) -> Option<Vec<usize>> {
    let all = masses.parts.iter().enumerate();
    if name == KIT {
        return Some((0..masses.parts.len()).collect());
    }
    if let Some(part) = masses.parts.iter().position(|part| part.name == name) {
        return Some(vec![part]);
    }
    let layout = &kit.layout;
    let found: Vec<usize> = match layout.drawers.iter().find(|drawer| drawer.name == name) {
        Some(drawer) => all.filter(|(_, part)| part.body == drawer.body).map(|(i, _)| i).collect(),
        None => all.filter(|(_, part)| layout.body(part.body).carcase == name).map(|(i, _)| i).collect(),
    };
    (!found.is_empty()).then_some(found)
}

/// Fits densities; drops one reading if the others then agree and did not before.
fn explain(found: &mut AsWeighed, rows: &[Row], materials: &[&str], kit: &Kit) {
    let used: Vec<usize> =
        (0..materials.len()).filter(|&j| rows.iter().any(|row| row.boards[j] > 0.0)).collect();
    let worst = |factors: &[f64], without: Option<usize>| {
        let kept = rows.iter().enumerate().filter(|(i, _)| Some(*i) != without);
        kept.map(|(_, row)| (left(row, &used, factors) / row.off).abs()).fold(0.0, f64::max)
    };
    let Some(mut factors) = fit(rows, &used, None) else { return };
    if worst(&factors, None) > 1.0 && rows.len() > used.len() + 1 {
        let without = (0..rows.len()).filter_map(|i| fit(rows, &used, Some(i)).map(|factors| (i, factors)));
        let best = without.min_by(|a, b| worst(&a.1, Some(a.0)).total_cmp(&worst(&b.1, Some(b.0))));
        if let Some((i, without)) = best.filter(|(i, factors)| worst(factors, Some(*i)) <= 1.0) {
            found.suspect = Some(i);
            factors = without;
        }
    }
    if !factors.iter().all(|factor| SENSE.contains(factor)) {
        found.suspect = None;
        return;
    }
    for (reading, row) in found.readings.iter_mut().zip(rows) {
        reading.unexplained = rounded(left(row, &used, &factors), 3);
    }
    for (&j, factor) in used.iter().zip(&factors) {
        let own = kit.panels.iter().find(|panel| panel.material.id == materials[j]);
        found.densities.extend(own.map(|panel| {
            let published = panel.material.density();
            Density { material: materials[j].to_owned(), published, fitted: rounded(published * factor, 0) }
        }));
    }
}

/// kg that factors leave over of a reading.
fn left(row: &Row, used: &[usize], factors: &[f64]) -> f64 {
    row.rest - used.iter().zip(factors).map(|(&j, factor)| row.boards[j] * factor).sum::<f64>()
}

/// Least squares by the normal equations. `None` if there are too few readings, or they do not tell boards apart.
fn fit(rows: &[Row], used: &[usize], without: Option<usize>) -> Option<Vec<f64>> {
    let n = used.len();
    let kept: Vec<&Row> =
        rows.iter().enumerate().filter(|(i, _)| Some(*i) != without).map(|(_, row)| row).collect();
    if n == 0 || kept.len() < n {
        return None;
    }
    let mut matrix = vec![vec![0.0; n + 1]; n];
    for row in kept {
        for (a, &i) in used.iter().enumerate() {
            for (b, &j) in used.iter().enumerate() {
                matrix[a][b] += row.boards[i] * row.boards[j] / (row.off * row.off);
            }
            matrix[a][n] += row.boards[i] * row.rest / (row.off * row.off);
        }
    }
    solved(matrix)
}

/// Part of the largest coefficient below which a pivot is none.
const NO_PIVOT: f64 = 1e-9;

/// The solution of linear equations, each row's right side behind its coefficients: Gauss's elimination, largest pivot first. `None`
/// if there is no single one.
fn solved(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    let largest = rows.iter().flat_map(|row| &row[..n]).fold(0.0_f64, |most, value| most.max(value.abs()));
    for i in 0..n {
        let pivot = (i..n).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs()))?;
        rows.swap(i, pivot);
        if rows[i][i].abs() <= largest * NO_PIVOT {
            return None;
        }
        let pivot = rows[i].clone();
        for (_, row) in rows.iter_mut().enumerate().filter(|(k, _)| *k != i) {
            let factor = row[i] / pivot[i];
            for (value, above) in row.iter_mut().zip(&pivot) {
                *value -= factor * above;
            }
        }
    }
    Some((0..n).map(|i| rows[i][n] / rows[i][i]).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;
    use crate::finished::Finished;

    /// A carcase of birch with a drawer of poplar, and these readings.
    fn kit(readings: &str) -> Finished {
        example_kits::finished(&format!(
            "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, width: 700, depth: 900, height: 300, panel: birch-12, \
             drawers: {{panel: poplar-9}}, cell: {{id: tools, drawer: {{slide: heavy-700}}}}}}\n{readings}"
        ))
    }

    fn mass(finished: &Finished, of: &str) -> f64 {
        let parts = parts_of(of, &finished.kit, &finished.masses).unwrap();
        parts.into_iter().map(|part| finished.masses.parts[part].mass).sum()
    }

    fn readings(readings: &[(&str, f64)]) -> String {
        let lines: Vec<String> = readings
            .iter()
            .map(|(of, mass)| format!("  - {{of: {of}, mass: {mass}, resolution: 0.01}}\n"))
            .collect();
        format!("weighed:\n{}", lines.concat())
    }

    #[test]
    fn equations_are_solved() {
        // 2 x + y = 5, x - 3 y = -8: x = 1, y = 3.
        let found = solved(vec![vec![2.0, 1.0, 5.0], vec![1.0, -3.0, -8.0]]).unwrap();
        assert!((found[0] - 1.0).abs() < 1e-12 && (found[1] - 3.0).abs() < 1e-12);
        assert_eq!(solved(vec![vec![2.0, 1.0, 5.0], vec![4.0, 2.0, 1.0]]), None);
    }

    /// Boards that are 6 % and 10 % heavier than published, weighed one by one and in a carcase: the densities come back.
    #[test]
    fn densities_are_found_again() {
        let plain = kit("");
        let board = |name: &str, factor: f64| (mass(&plain, name) * factor * 1000.0).round() / 1000.0;
        let all = readings(&[
            ("main-deck", board("main-deck", 1.06)),
            ("main-side-left", board("main-side-left", 1.06)),
            ("main-tools-box-left", board("main-tools-box-left", 1.10)),
            ("main-tools-box-back", board("main-tools-box-back", 1.10)),
        ]);
        let finished = kit(&all);
        let weighed = &finished.weighed;
        assert!(weighed.suspect.is_none() && weighed.densities.len() == 2);
        for (density, factor) in weighed.densities.iter().zip([1.06, 1.10]) {
            assert!((density.fitted / density.published - factor).abs() < 0.006, "{density:?}");
        }
        for reading in &weighed.readings {
            assert!(reading.unexplained.abs() < 0.02 && reading.percent() > 5.0, "{reading:?}");
        }
    }

    /// A whole kit that is 1.5 kg heavier than its boards, each weighed, explain: something else is on the scale.
    #[test]
    fn what_was_forgotten_is_told() {
        let plain = kit("");
        let names =
            ["main-deck", "main-base", "main-side-left", "main-tools-box-left", "main-tools-box-back"];
        let mut list: Vec<(&str, f64)> =
            names.iter().map(|&name| (name, (mass(&plain, name) * 100.0).round() / 100.0)).collect();
        list.push(("kit", ((mass(&plain, "kit") + 1.5) * 100.0).round() / 100.0));
        let weighed = kit(&readings(&list)).weighed;
        assert_eq!(weighed.suspect, Some(5));
        assert!((weighed.readings[5].unexplained - 1.5).abs() < 0.1, "{weighed:?}");
        assert!((weighed.kit().unwrap() - weighed.readings[5].weighed).abs() < 1e-12);
        for density in &weighed.densities {
            assert!((density.fitted / density.published - 1.0).abs() < 0.01, "{density:?}");
        }
    }

    /// One reading of two boards tells nothing of either; a name that is of nothing is told.
    #[test]
    fn too_few_readings_tell_no_density() {
        let weighed = kit(&readings(&[("kit", 40.0)])).weighed;
        assert!(weighed.densities.is_empty() && weighed.suspect.is_none() && weighed.readings.len() == 1);
        let text = readings(&[("main-dek", 4.0)]);
        let built = example_kits::built(&format!(
            "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, width: 700, depth: 900, height: 300, panel: birch-12, \
             cell: {{open: {{}}}}}}\n{text}"
        ));
        assert_eq!(
            built.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(),
            ["weighed-unknown"]
        );
    }

    /// A drawer counts without slides, a carcase with all that is in it.
    #[test]
    fn names_stand_for_what_hangs_together() {
        let finished = kit("");
        let own: f64 = finished.masses.drawers[0].1.mass;
        assert!((mass(&finished, "main-tools") - own).abs() < 1e-9);
        assert!((mass(&finished, "main") - finished.masses.total.mass).abs() < 1e-9);
        assert!((mass(&finished, "kit") - finished.masses.total.mass).abs() < 1e-9);
    }
}
