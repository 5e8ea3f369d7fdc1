//! Which panels are cut, from what, and on which sheet.

use super::{LENGTH_DECIMALS, csv};
use crate::finished::{Finished, SheetGroup};
use crate::mass::MASS_DECIMALS;
use crate::number::{decimal, fixed};

const HEAD: [&str; 14] = [
    "panel",
    "quantity",
    "carcase",
    "material",
    "nominal thickness (mm)",
    "actual thickness (mm)",
    "length (mm)",
    "width (mm)",
    "grain",
    "holes",
    "openings",
    "area (m2)",
    "mass (kg)",
    "sheet",
];

/// One row for each panel, by material, then by name. Length is along the grain, tabs included.
pub(crate) fn cut_list(finished: &Finished) -> String {
    let mut rows = Vec::new();
    for group in &finished.groups {
        let mut parts: Vec<usize> = (0..group.parts.len()).collect();
        parts.sort_by(|&a, &b| group.parts[a].name.cmp(&group.parts[b].name));
        rows.extend(parts.into_iter().map(|part| row(finished, group, part)));
    }
    csv(HEAD, rows)
}

fn row(finished: &Finished, group: &SheetGroup, part: usize) -> [String; 14] {
    let index = group.panels[part];
    let panel = &finished.kit.panels[index];
    let (low, high) = panel.outline.bounds();
    let mm = |length: f64| decimal(length, LENGTH_DECIMALS);
    let on = |sheet: &crate::nest::Sheet| sheet.placed.iter().any(|placed| placed.part == part);
    let sheet = group.sheets().find(|named| on(named.sheet)).map(|named| named.name.to_owned());
    [
        panel.name.clone(),
        "1".to_owned(),
        finished.kit.layout.body(panel.body).carcase.clone(),
        panel.material.id.clone(),
        mm(panel.material.nominal),
        mm(panel.material.actual),
        mm(high.x - low.x),
        mm(high.y - low.y),
        if panel.material.grain { "along length" } else { "none" }.to_owned(),
        panel.bores.len().to_string(),
        panel.openings.len().to_string(),
        fixed(finished.figures[index].net_area * 1e-6, 4),
        fixed(finished.masses.parts[index].mass, MASS_DECIMALS),
        sheet.unwrap_or_default(),
    ]
}

#[cfg(test)]
mod tests {
    use super::super::tests::rows;
    use super::*;
    use crate::example_kits::{ALL, ANGLES, finished};

    #[test]
    fn every_panel_stands_in_the_list_once_with_its_sheet() {
        for text in ALL {
            let finished = finished(text);
            let list = rows(&cut_list(&finished));
            assert_eq!(list.len(), finished.kit.panels.len());
            let key = |row: &Vec<String>| (row[3].clone(), row[0].clone());
            assert!(list.windows(2).all(|pair| key(&pair[0]) < key(&pair[1])), "sorted, each once");
            assert!(list.iter().all(|row| row[13].starts_with(&row[3])), "{list:?}");
        }
    }

    #[test]
    fn a_row_has_the_sizes_of_its_panel() {
        // 1040 - 16 by 900 less the 12 of the fronts; birch plywood of 12 mm.
        let list = cut_list(&finished(ANGLES));
        let row = list.lines().find(|row| row.starts_with("main-base,")).unwrap();
        assert!(row.contains(",1024,888,along length,29,0,"), "{row}");
    }
}
