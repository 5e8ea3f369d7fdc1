//! Puts a set of files where it belongs: whole or not at all.
//!
//! Takes relative paths with their bytes and the set's folder. The set is built in a folder beside it, synced,
//! and swapped in; whenever the run is killed, the old or the new set stands under the folder's name, or the
//! next run puts the old one back. Replaces only what it made itself; never looks into the files.

mod disk;
mod one;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io;
use std::path::{Component, Path, PathBuf};

use disk::{Disk, Kind, Real, parent_of};
pub(crate) use one::file;

/// The file by which a set of ours is known.
pub(crate) const MANIFEST: &str = "manifest.json";

/// Files by relative path, with `/` between folders.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// Why nothing could be written. The old set is as it was, unless the text says otherwise.
#[derive(Debug)]
pub(crate) enum Fault {
    /// The folder has no name of its own, e.g. `.` or `/`.
    NoName(PathBuf),
    /// Something that is no folder stands there.
    NotAFolder(PathBuf),
    /// A symbolic link stands there; it would be replaced, not followed.
    Link(PathBuf),
    /// A folder with content of somebody else's.
    NotOurs(PathBuf),
    /// A set of ours into which somebody put these files.
    Strangers(PathBuf, Vec<String>),
    /// A path that leads out of the folder: our fault.
    BadPath(String),
    /// The disk refuses.
    Disk {
        /// What was tried, e.g. `write`.
        act: &'static str,
        /// On what.
        path: PathBuf,
        /// Why not.
        error: io::Error,
    },
    /// The new set could not be swapped in and the old one not be put back; it stands under another name.
    HalfSwapped {
        /// Where the set belongs.
        folder: PathBuf,
        /// Where the old set is.
        old: PathBuf,
        /// Why.
        error: io::Error,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NoName(path) => {
                write!(
                    f,
                    "`{}` cannot be a set's own folder; name one with --out, e.g. --out out/kit",
                    path.display()
                )
            }
            Fault::NotAFolder(path) => write!(
                f,
                "`{}` is a file, not a folder; give another folder with --out, or move the file away",
                path.display()
            ),
            Fault::Link(path) => write!(
                f,
                "`{}` is a symbolic link, which would be replaced; give the folder that it points to with --out",
                path.display()
            ),
            Fault::NotOurs(path) => write!(
                f,
                "`{}` holds files but no set of ours (no {MANIFEST} made by baywright), so it is left alone; \
                 give an empty or new folder with --out",
                path.display()
            ),
            Fault::Strangers(path, names) => write!(
                f,
                "`{}` holds files that are not part of the set and would be lost: {}; move them away first",
                path.display(),
                names.join(", ")
            ),
            Fault::BadPath(path) => {
                write!(f, "`{path}` is no path inside a set; this is a fault of baywright")
            }
            Fault::Disk { act, path, error } => {
                write!(f, "cannot {act} `{}`: {error}; nothing was changed", path.display())
            }
            Fault::HalfSwapped { folder, old, error } => write!(
                f,
                "cannot put the new set at `{}`: {error}; the old set is now at `{}`, and the next run puts it back",
                folder.display(),
                old.display()
            ),
        }
    }
}

/// Writes the files as the set at `folder`, in place of a set of ours that stands there. `ours` gives the paths
/// of a set from its manifest, or `None` if it is none of ours.
pub(crate) fn publish(
    folder: &Path,
    files: &Files,
    ours: &dyn Fn(&[u8]) -> Option<Paths>,
) -> Result<(), Fault> {
    Publisher { disk: &Real, process: std::process::id(), ours }.publish(folder, files)
}

/// Whether [`publish`] may write to `folder` as it is now, to be asked before hours of work.
pub(crate) fn may_publish(folder: &Path, ours: &dyn Fn(&[u8]) -> Option<Paths>) -> Result<(), Fault> {
    let folder: &Path = &folder.components().collect::<PathBuf>();
    Beside::of(folder)?;
    Publisher { disk: &Real, process: std::process::id(), ours }.may_replace(folder).map(|_| ())
}

/// Paths of the files in a set.
pub(crate) type Paths = BTreeSet<String>;

struct Publisher<'a, D: Disk> {
    disk: &'a D,
    process: u32,
    ours: &'a dyn Fn(&[u8]) -> Option<Paths>,
}

/// The names that publishing uses beside the set's folder.
struct Beside {
    parent: PathBuf,
    /// `.kit.baywright-`
    stem: String,
}

impl Beside {
    fn of(folder: &Path) -> Result<Beside, Fault> {
        let last = folder.components().next_back();
        match (last, folder.file_name()) {
            (Some(Component::Normal(_)), Some(name)) => Ok(Beside {
                parent: parent_of(folder),
                stem: format!(".{}.baywright-", name.to_string_lossy()),
            }),
            _ => Err(Fault::NoName(folder.to_owned())),
        }
    }

    /// Where the new set is built.
    fn new_set(&self, process: u32) -> PathBuf {
        self.parent.join(format!("{}new-{process}", self.stem))
    }

    /// Where the old set stands aside.
    fn old_set(&self, process: u32) -> PathBuf {
        self.parent.join(format!("{}old-{process}", self.stem))
    }

    /// The process that left a folder of this name, and whether it holds an old set.
    fn left_by(&self, name: &str) -> Option<(u32, bool)> {
        let rest = name.strip_prefix(&self.stem)?;
        let (kind, process) = rest.split_once('-')?;
        let process = process.parse().ok()?;
        match kind {
            "new" => Some((process, false)),
            "old" => Some((process, true)),
            _ => None,
        }
    }
}

impl<D: Disk> Publisher<'_, D> {
    fn publish(&self, folder: &Path, files: &Files) -> Result<(), Fault> {
        if let Some(path) = files.keys().find(|path| !is_inside(path)) {
            return Err(Fault::BadPath(path.clone()));
        }
        // Without a slash at the end, which would follow a link.
        let folder: &Path = &folder.components().collect::<PathBuf>();
        let beside = Beside::of(folder)?;
        self.repair(folder, &beside)?;
        let replaces = self.may_replace(folder)?;
        let new_set = beside.new_set(self.process);
        let built = self.build(&new_set, files).and_then(|()| self.swap(folder, &beside, &new_set, replaces));
        // Whatever is left under this name is not needed: the old set after a swap, a piece of the new one after
        // a fault. What cannot be removed now is removed by the next run.
        self.disk.remove(&new_set).ok();
        built
    }

    /// Puts back what a killed run left half swapped, and removes what else it left.
    fn repair(&self, folder: &Path, beside: &Beside) -> Result<(), Fault> {
        // A parent that is missing, or cannot be listed, has nothing to repair; writing will tell.
        let names = self.disk.names(&beside.parent).unwrap_or_default();
        let left: Vec<(PathBuf, bool)> = names
            .iter()
            .filter_map(|name| {
                let (process, is_old) = beside.left_by(name)?;
                // A run of our own number is over, since we are that number now.
                let is_over = process == self.process || !self.disk.runs(process);
                is_over.then(|| (beside.parent.join(name), is_old))
            })
            .collect();
        for (old, _) in left.iter().filter(|(_, is_old)| *is_old) {
            if self.kind(folder)? == Kind::Nothing {
                self.disk.rename(old, folder).map_err(|error| fault("put back", old, error))?;
            } else {
                self.disk.remove(old).ok();
            }
        }
        for (new, _) in left.iter().filter(|(_, is_old)| !is_old) {
            self.disk.remove(new).ok();
        }
        Ok(())
    }

    /// Whether there is a folder to replace. A fault if it is not ours.
    fn may_replace(&self, folder: &Path) -> Result<bool, Fault> {
        match self.kind(folder)? {
            Kind::Nothing => return Ok(false),
            Kind::File => return Err(Fault::NotAFolder(folder.to_owned())),
            Kind::Link => return Err(Fault::Link(folder.to_owned())),
            Kind::Folder => {}
        }
        let mut found = Vec::new();
        self.list(folder, "", &mut found)?;
        if found.is_empty() {
            return Ok(true);
        }
        let manifest = self.disk.read(&folder.join(MANIFEST)).ok();
        let Some(set) = manifest.and_then(|bytes| (self.ours)(&bytes)) else {
            return Err(Fault::NotOurs(folder.to_owned()));
        };
        let strangers: Vec<String> =
            found.into_iter().filter(|path| path != MANIFEST && !set.contains(path)).take(5).collect();
        if strangers.is_empty() { Ok(true) } else { Err(Fault::Strangers(folder.to_owned(), strangers)) }
    }

    /// Paths of all that is in a folder and its folders, empty folders left out.
    fn list(&self, folder: &Path, within: &str, found: &mut Vec<String>) -> Result<(), Fault> {
        let names = self.disk.names(folder).map_err(|error| fault("list", folder, error))?;
        for name in names {
            let path = folder.join(&name);
            let shown = format!("{within}{name}");
            if self.kind(&path)? == Kind::Folder {
                self.list(&path, &format!("{shown}/"), found)?;
            } else {
                found.push(shown);
            }
        }
        Ok(())
    }

    /// Writes the whole set into a new folder, down to the disk.
    fn build(&self, new_set: &Path, files: &Files) -> Result<(), Fault> {
        let make =
            |folder: &Path| self.disk.make_folder(folder).map_err(|error| fault("make", folder, error));
        make(new_set)?;
        let mut folders = BTreeSet::from([new_set.to_owned()]);
        for (path, bytes) in files {
            let path = new_set.join(path);
            for folder in path.ancestors().skip(1).take_while(|folder| *folder != new_set) {
                folders.insert(folder.to_owned());
            }
            make(&parent_of(&path))?;
            self.disk.write(&path, bytes).map_err(|error| fault("write", &path, error))?;
        }
        for folder in folders.iter().rev() {
            self.disk.sync_folder(folder).map_err(|error| fault("write", folder, error))?;
        }
        Ok(())
    }

    /// Gives the new set its name. The old one, if there is one, ends up where the new one was built.
    fn swap(&self, folder: &Path, beside: &Beside, new_set: &Path, replaces: bool) -> Result<(), Fault> {
        let swapped = if replaces {
            match self.disk.exchange(new_set, folder) {
                Err(error) if error.kind() == io::ErrorKind::Unsupported => {
                    return self.swap_in_two(folder, beside, new_set);
                }
                other => other,
            }
        } else {
            self.disk.rename(new_set, folder)
        };
        swapped.map_err(|error| fault("put the new set at", folder, error))?;
        // The set stands; a name that did not reach the disk is only lost if the power fails now.
        self.disk.sync_folder(&beside.parent).ok();
        Ok(())
    }

    /// The swap where there is no exchange: between the two renames the old set stands aside, for
    /// [`Self::repair`] to find.
    fn swap_in_two(&self, folder: &Path, beside: &Beside, new_set: &Path) -> Result<(), Fault> {
        let old_set = beside.old_set(self.process);
        self.disk.rename(folder, &old_set).map_err(|error| fault("move", folder, error))?;
        if let Err(error) = self.disk.rename(new_set, folder) {
            return Err(match self.disk.rename(&old_set, folder) {
                Ok(()) => fault("put the new set at", folder, error),
                Err(_) => Fault::HalfSwapped { folder: folder.to_owned(), old: old_set, error },
            });
        }
        self.disk.sync_folder(&beside.parent).ok();
        self.disk.remove(&old_set).ok();
        Ok(())
    }

    fn kind(&self, path: &Path) -> Result<Kind, Fault> {
        self.disk.kind(path).map_err(|error| fault("look at", path, error))
    }
}

fn fault(act: &'static str, path: &Path, error: io::Error) -> Fault {
    Fault::Disk { act, path: path.to_owned(), error }
}

/// Whether a path stays inside the folder that it is taken from.
fn is_inside(path: &str) -> bool {
    let plain =
        |part: &str| !part.is_empty() && part != "." && part != ".." && !part.contains(['\\', ':', '\0']);
    path.split('/').all(plain)
}
