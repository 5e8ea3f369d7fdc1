//! Which state of a set a `kit.json` is of.

use crate::finished;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which state of a set this is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Edition {
    /// The design's own word for it, or null.
    pub(crate) revision: Option<String>,
    /// Hash of everything that the set was made from: SHA-256 over the SHA-256 of each file in hexadecimal digits, one
    /// a line, in the order of `inputs` in manifest.json; each file without a byte order mark and with a line feed alone
    /// at the end of lines. Names and places of files do not count.
    pub(crate) inputs_sha256: String,
}

impl Edition {
    /// As it is written.
    pub(super) fn of(edition: &finished::Edition) -> Self {
        Edition { revision: edition.revision.clone(), inputs_sha256: edition.inputs.clone() }
    }

    /// As it is used.
    pub(crate) fn into_plain(self) -> finished::Edition {
        finished::Edition { revision: self.revision, inputs: self.inputs_sha256 }
    }
}
