//! The set of files that a finished design comes to, and how a set of ours is known again.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::input::TextFile;
use super::publish::{Files, MANIFEST};
use crate::diag::Finding;
use crate::finished::Finished;
use crate::nest;

/// Who wrote a manifest.
const MADE_BY: &str = "baywright";

/// All files of the set, by relative path.
pub(super) fn bundle(finished: &Finished, findings: &[Finding], inputs: &[TextFile]) -> Files {
    let hashed = |path: &str, bytes: &[u8]| json!({ "path": path, "sha256": hex(bytes) });
    let inputs: Vec<Value> = inputs.iter().map(|file| hashed(&file.name, file.text.as_bytes())).collect();
    let manifest = json!({
        "made_by": MADE_BY,
        "version": env!("CARGO_PKG_VERSION"),
        "design": finished.design.name.value,
        "findings": findings.len(),
        "inputs": inputs,
        "outputs": [],
    });
    Files::from([(MANIFEST.to_owned(), format!("{manifest:#}\n").into_bytes())])
}

/// What contradicts itself in a finished design or its files: our own faults, in words.
pub(super) fn broken(finished: &Finished, _files: &Files) -> Vec<String> {
    let of = |group: &crate::finished::SheetGroup| {
        nest::faults(&group.parts, &group.stock, group.clearances, &group.nesting)
    };
    finished.groups.iter().flat_map(of).collect()
}

/// The paths of a set's files, from its manifest; `None` if it is none of ours.
pub(super) fn paths_of(manifest: &[u8]) -> Option<BTreeSet<String>> {
    let manifest: Value = serde_json::from_slice(manifest).ok()?;
    if manifest["made_by"] != MADE_BY {
        return None;
    }
    let path = |file: &Value| file["path"].as_str().map(str::to_owned);
    manifest["outputs"].as_array()?.iter().map(path).collect()
}

fn hex(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in Sha256::digest(bytes) {
        let _ = write!(text, "{byte:02x}");
    }
    text
}
