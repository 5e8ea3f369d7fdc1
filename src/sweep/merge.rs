//! Pieces of one sweep joined into the whole of it.

use super::table::{Row, Table};
use std::collections::BTreeMap;

/// Most runs of missing variants that are listed.
const MOST_LISTED: usize = 8;

/// The whole sweep from its pieces, each with the name of its file; else what is wrong with them.
pub(crate) fn merge(pieces: Vec<(String, Table)>) -> Result<Table, String> {
    let Some((first, whole)) = pieces.first() else { return Err("there is nothing to merge".to_owned()) };
    let (first, varied, piece) = (first.clone(), whole.varied.clone(), whole.piece.clone());
    let total = piece.as_ref().map_or(0, |piece| piece.total);
    let mut rows: BTreeMap<usize, (String, Row)> = BTreeMap::new();
    for (name, table) in pieces {
        if table.varied != varied || table.piece != piece {
            return Err(format!(
                "`{name}` and `{first}` are pieces of different sweeps: spec, files that it names, --vary and --effort must \
                 be the same; make one of them anew"
            ));
        }
        for row in table.rows {
            let number = row.variant + 1;
            if let Some((other, _)) = rows.get(&row.variant) {
                return Err(format!(
                    "variant {number} is in `{other}` and in `{name}`; leave one of these files out"
                ));
            }
            rows.insert(row.variant, (name.clone(), row));
        }
    }
    let missing: Vec<usize> = (0..total).filter(|variant| !rows.contains_key(variant)).collect();
    if !missing.is_empty() {
        return Err(format!(
            "{} of {total} variants are missing: {}; make the pieces that have them (--shard), then merge all of them",
            missing.len(),
            listed(&missing)
        ));
    }
    Ok(Table { varied, piece: None, rows: rows.into_values().map(|(_, row)| row).collect() })
}

/// Numbers of variants, counted from 1, runs of them as one.
fn listed(variants: &[usize]) -> String {
    let runs = variants.chunk_by(|a, b| a + 1 == *b);
    let mut said: Vec<String> = runs
        .map(|run| match run {
            [one] => (one + 1).to_string(),
            [one, .., last] => format!("{} to {}", one + 1, last + 1),
            [] => String::new(),
        })
        .collect();
    if said.len() > MOST_LISTED {
        said.truncate(MOST_LISTED);
        said.push("and more".to_owned());
    }
    said.join(", ")
}
