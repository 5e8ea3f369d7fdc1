//! Notices when one of a design's files changes.
//!
//! Folders are watched and not files, since editors put a new file in an old one's place. Where the system tells nothing
//! (some network disks), the builder looks at times and sizes now and then.

use super::board::Board;
use notify::{EventKind, RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

/// What of a file tells that it has changed: when it was written and how long it is; nothing if it is not there.
type Stamp = Option<(SystemTime, u64)>;

/// Watches files.
pub(super) struct Watch {
    /// Nothing where the system cannot tell.
    system: Option<RecommendedWatcher>,
    /// Names of the files, as events have them.
    names: Arc<Mutex<BTreeSet<PathBuf>>>,
    folders: BTreeSet<PathBuf>,
    stamps: Vec<(PathBuf, Stamp)>,
}

impl Watch {
    /// Watches nothing yet; what it will see it tells the board.
    pub(super) fn new(board: &Arc<Board>) -> Self {
        let names = Arc::new(Mutex::new(BTreeSet::new()));
        let (board, known) = (Arc::clone(board), Arc::clone(&names));
        let told = move |event: notify::Result<notify::Event>| {
            let Ok(event) = event else { return board.changed() };
            if matches!(event.kind, EventKind::Access(_)) {
                return;
            }
            let known: &BTreeSet<PathBuf> = &known.lock().unwrap_or_else(PoisonError::into_inner);
            if event.need_rescan() || event.paths.iter().any(|path| known.contains(path)) {
                board.changed();
            }
        };
        let system = notify::recommended_watcher(told).ok();
        Watch { system, names, folders: BTreeSet::new(), stamps: Vec::new() }
    }

    /// Watches these files and no others.
    pub(super) fn follow(&mut self, files: &BTreeSet<PathBuf>) {
        let absolute: BTreeSet<PathBuf> =
            files.iter().filter_map(|file| std::path::absolute(file).ok()).collect();
        let folders: BTreeSet<PathBuf> =
            absolute.iter().filter_map(|file| file.parent()).map(Path::to_owned).collect();
        *self.names.lock().unwrap_or_else(PoisonError::into_inner) = absolute;
        if let Some(system) = &mut self.system {
            for gone in self.folders.difference(&folders) {
                system.unwatch(gone).ok();
            }
            // Again where it is watched already: the folder may be another one of the same name.
            for folder in &folders {
                system.watch(folder, RecursiveMode::NonRecursive).ok();
            }
        }
        self.folders = folders;
        self.stamps = files.iter().map(|file| (file.clone(), stamp(file))).collect();
    }

    /// Whether a file looks other than when it was last followed.
    pub(super) fn differs(&self) -> bool {
        self.stamps.iter().any(|(file, known)| stamp(file) != *known)
    }
}

fn stamp(file: &Path) -> Stamp {
    let data = std::fs::metadata(file).ok()?;
    Some((data.modified().ok()?, data.len()))
}
