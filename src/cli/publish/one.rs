//! Puts one file where it belongs, whole or not at all: written beside its place under another name, then renamed.

use super::Fault;
use super::disk::parent_of;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

/// Writes a file, in place of what stands there. Where that fails, what stood there is as it was and nothing lies beside it.
pub(crate) fn file(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    let fault = |error| Fault::Disk { act: "write", path: path.to_owned(), error };
    let name = path.file_name().ok_or_else(|| fault(io::ErrorKind::InvalidInput.into()))?;
    let beside = format!(".{}.baywright-new-{}", name.to_string_lossy(), std::process::id());
    let beside = parent_of(path).join(beside);
    let written = write(&beside, bytes).and_then(|()| fs::rename(&beside, path));
    written.map_err(|error| {
        fs::remove_file(&beside).ok();
        fault(error)
    })
}

fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    fs::create_dir_all(parent_of(path))?;
    let mut file = File::create(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_or_left_and_nothing_lies_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let names = || {
            let names = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name());
            names.collect::<Vec<_>>()
        };
        let path = folder.path().join("page.html");
        file(&path, b"one").unwrap();
        file(&path, b"two").unwrap();
        assert_eq!((fs::read(&path).unwrap(), names()), (b"two".to_vec(), vec!["page.html".into()]));
        // A folder is in the place.
        let taken = folder.path().join("taken");
        fs::create_dir_all(taken.join("in-it")).unwrap();
        let said = file(&taken, b"three").unwrap_err().to_string();
        assert!(said.starts_with("cannot write `") && said.ends_with("nothing was changed"), "{said}");
        assert_eq!(names().len(), 2);
    }
}
