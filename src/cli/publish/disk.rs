//! What publishing asks of the disk, so that tests can let any step of it fail.
//!
//! [`Real`] is the disk itself; it syncs what it writes. Knows nothing of sets and their folders.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// What stands under a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing.
    Nothing,
    /// A folder.
    Folder,
    /// A symbolic link, whatever it points to.
    Link,
    /// A file, or anything else that is no folder.
    File,
}

/// The steps of which publishing is made up.
pub(super) trait Disk {
    /// What stands at `path` itself; links are not followed.
    fn kind(&self, path: &Path) -> io::Result<Kind>;
    /// Names in a folder, in order.
    fn names(&self, folder: &Path) -> io::Result<Vec<String>>;
    /// The content of a file.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;
    /// Makes a folder and those above it that are missing.
    fn make_folder(&self, path: &Path) -> io::Result<()>;
    /// Writes a new file, down to the disk.
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;
    /// Brings a folder's list of names down to the disk.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;
    /// Gives two folders each other's name in one step. `Unsupported` where the system cannot.
    fn exchange(&self, a: &Path, b: &Path) -> io::Result<()>;
    /// Renames a folder to a name that is free, or that an empty folder has.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a folder with all that is in it.
    fn remove(&self, folder: &Path) -> io::Result<()>;
    /// Whether the process with this number still runs.
    fn runs(&self, process: u32) -> bool;
}

/// The disk.
#[derive(Clone, Copy, Debug)]
pub(super) struct Real;

impl Disk for Real {
    fn kind(&self, path: &Path) -> io::Result<Kind> {
        match fs::symlink_metadata(path) {
            Ok(data) if data.is_symlink() => Ok(Kind::Link),
            Ok(data) if data.is_dir() => Ok(Kind::Folder),
            Ok(_) => Ok(Kind::File),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Kind::Nothing),
            Err(error) => Err(error),
        }
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(folder)? {
            names.push(entry?.file_name().to_string_lossy().into_owned());
        }
        names.sort();
        Ok(names)
    }

    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        fs::read(path)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        fs::create_dir_all(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = File::create_new(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    }

    #[cfg(unix)]
    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        File::open(path)?.sync_all()
    }

    #[cfg(not(unix))]
    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }

    #[cfg(target_os = "linux")]
    fn exchange(&self, a: &Path, b: &Path) -> io::Result<()> {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        renameat_with(CWD, a, CWD, b, RenameFlags::EXCHANGE).map_err(|error| match error {
            // Old kernels, and file systems that know no exchange.
            Errno::NOSYS | Errno::INVAL | Errno::NOTSUP => io::ErrorKind::Unsupported.into(),
            other => other.into(),
        })
    }

    #[cfg(not(target_os = "linux"))]
    fn exchange(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::Unsupported.into())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, folder: &Path) -> io::Result<()> {
        fs::remove_dir_all(folder)
    }

    #[cfg(unix)]
    fn runs(&self, process: u32) -> bool {
        use rustix::process::{Pid, test_kill_process};
        let pid = i32::try_from(process).ok().and_then(Pid::from_raw);
        // A process of another user may not be signalled, but runs.
        pid.is_some_and(|pid| !matches!(test_kill_process(pid), Err(rustix::io::Errno::SRCH)))
    }

    #[cfg(not(unix))]
    fn runs(&self, _: u32) -> bool {
        false
    }
}

/// The folder that holds `path`; the current one for a bare name.
pub(super) fn parent_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if parent != Path::new("") => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}
