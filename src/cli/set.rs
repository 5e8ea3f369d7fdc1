//! How a set of ours is known again on disk.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::export::MADE_BY;

/// The paths of a set's files, from its manifest; `None` if it is none of ours.
pub(super) fn paths_of(manifest: &[u8]) -> Option<BTreeSet<String>> {
    let manifest: Value = serde_json::from_slice(manifest).ok()?;
    if manifest["made_by"] != MADE_BY {
        return None;
    }
    let path = |file: &Value| file["path"].as_str().map(str::to_owned);
    manifest["outputs"].as_array()?.iter().map(path).collect()
}
