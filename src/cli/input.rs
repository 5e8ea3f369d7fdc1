//! Reads the files of a design. Takes paths, gives texts, or says why not; never reads more than a spec can have.

use std::fmt;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::spec::{Input, Text};

/// Most bytes of a file that is read: a little more than the spec reader takes, which has a finding of its own.
const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// A file that cannot be read.
#[derive(Debug)]
pub(super) struct Unreadable {
    path: PathBuf,
    why: Why,
}

#[derive(Debug)]
enum Why {
    Missing,
    Folder,
    TooLarge(u64),
    NotText,
    Other(io::Error),
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::Missing => write!(f, "there is no such file"),
            Why::Folder => write!(f, "it is a folder; give a file"),
            Why::TooLarge(most) => {
                write!(f, "it is larger than {} MiB; is this the right file?", most / (1024 * 1024))
            }
            Why::NotText => write!(f, "it is not UTF-8 text; save it as UTF-8"),
            Why::Other(error) => write!(f, "{error}"),
        }
    }
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot read `{}`: {}", self.path.display(), self.why)
    }
}

/// A file's name as the user gave it, and its text.
#[derive(Debug)]
pub(super) struct TextFile {
    /// For findings.
    pub(super) name: String,
    /// The text, without the mark that some editors put at the start.
    pub(super) text: String,
}

/// The files that a design is given as.
#[derive(Debug)]
pub(super) struct Given {
    design: TextFile,
    vehicle: Option<TextFile>,
    workshop: Option<TextFile>,
    fallback_name: String,
}

impl Given {
    /// Reads a spec, and a vehicle and a workshop file instead of its own.
    pub(super) fn read(
        spec: &Path,
        vehicle: Option<&Path>,
        workshop: Option<&Path>,
    ) -> Result<Self, Unreadable> {
        Ok(Given {
            design: read(spec)?,
            vehicle: vehicle.map(read).transpose()?,
            workshop: workshop.map(read).transpose()?,
            fallback_name: design_name(spec),
        })
    }

    /// As the stages take them.
    pub(super) fn input(&self) -> Input<'_> {
        fn text(file: &TextFile) -> Text<'_> {
            Text { name: &file.name, text: &file.text }
        }
        Input {
            design: text(&self.design),
            fallback_name: &self.fallback_name,
            vehicle: self.vehicle.as_ref().map(text),
            workshop: self.workshop.as_ref().map(text),
        }
    }

    /// All of them, the design first.
    pub(super) fn files(&self) -> impl Iterator<Item = &TextFile> {
        std::iter::once(&self.design).chain(&self.vehicle).chain(&self.workshop)
    }

    /// The same for good.
    pub(super) fn into_files(self) -> impl Iterator<Item = TextFile> {
        std::iter::once(self.design).chain(self.vehicle).chain(self.workshop)
    }
}

/// Reads a text file.
pub(super) fn read(path: &Path) -> Result<TextFile, Unreadable> {
    let text = text_of(path).map_err(|why| Unreadable { path: path.to_owned(), why })?;
    Ok(TextFile { name: path.display().to_string(), text })
}

/// The path that the file at `from` means by a name.
pub(super) fn path_beside(from: &Path, name: &str) -> PathBuf {
    from.parent().map_or_else(|| PathBuf::from(name), |folder| folder.join(name))
}

/// Reads a file that the one at `from` names, relative to its folder. Gives the name that findings show.
pub(super) fn beside(from: &Path, name: &str) -> Result<(String, String), String> {
    let path = path_beside(from, name);
    let text = text_of(&path).map_err(|why| why.to_string())?;
    Ok((path.display().to_string(), text))
}

/// Reads a file of at most so many bytes, whatever it holds; else says why not.
pub(super) fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    bytes_of(path, most).map_err(|why| why.to_string())
}

/// The name of the design in this file, for a set that does not say its own: the file's, or its folder's for
/// `design.yaml`; signs that a name cannot have become `-`.
pub(super) fn design_name(path: &Path) -> String {
    let stem = |path: &Path| path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let is_plain = path.file_stem().is_some_and(|stem| stem == "design");
    let folder = || {
        let folder = path.canonicalize().ok()?.parent()?.to_owned();
        folder.file_name().map(|name| name.to_string_lossy().into_owned())
    };
    let name = if is_plain { folder() } else { None }.or_else(|| stem(path)).unwrap_or_default();
    let sign = |c: char| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
    let safe: String = name.chars().map(sign).take(60).collect();
    let safe = safe.trim_start_matches(['-', '_']).trim_end_matches('-');
    if safe.is_empty() { "kit".to_owned() } else { safe.to_owned() }
}

fn text_of(path: &Path) -> Result<String, Why> {
    let text = String::from_utf8(bytes_of(path, MOST_BYTES)?).map_err(|_| Why::NotText)?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

fn bytes_of(path: &Path, most: u64) -> Result<Vec<u8>, Why> {
    let failed = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => Why::Missing,
        io::ErrorKind::IsADirectory => Why::Folder,
        _ => Why::Other(error),
    };
    // Asked before it is opened: a folder, and a file's size, are known without reading.
    let data = std::fs::metadata(path).map_err(failed)?;
    if data.is_dir() {
        return Err(Why::Folder);
    }
    if data.len() > most {
        return Err(Why::TooLarge(most));
    }
    let mut bytes = Vec::new();
    // Pipes and devices have no size, so the reading is bounded too.
    File::open(path).map_err(failed)?.take(most + 1).read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() as u64 > most {
        return Err(Why::TooLarge(most));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_designs_can_be_names_of_folders() {
        for (path, name) in [
            ("kits/weekend van.yaml", "weekend-van"),
            ("kit.v2.yaml", "kit-v2"),
            ("-x-.yaml", "x"),
            ("\u{e9}\u{e9}.yaml", "kit"),
            ("a/..", "kit"),
        ] {
            assert_eq!(design_name(Path::new(path)), name, "{path}");
        }
        assert_eq!(design_name(Path::new(&format!("{}.yaml", "a".repeat(200)))).len(), 60);
        let scratch = tempfile::tempdir().unwrap();
        let folder = scratch.path().join("long haul");
        std::fs::create_dir(&folder).unwrap();
        let path = folder.join("design.yaml");
        std::fs::write(&path, "").unwrap();
        assert_eq!(design_name(&path), "long-haul");
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        let scratch = tempfile::tempdir().unwrap();
        let at = |name: &str| scratch.path().join(name);
        std::fs::write(at("latin"), b"name: caf\xe9").unwrap();
        std::fs::write(at("marked"), "\u{feff}a: 1").unwrap();
        std::fs::write(at("large"), vec![b'#'; 5 << 20]).unwrap();
        let why = |name: &str| read(&at(name)).unwrap_err().why.to_string();
        assert_eq!(why("none"), "there is no such file");
        assert_eq!(why("."), "it is a folder; give a file");
        assert_eq!(why("latin"), "it is not UTF-8 text; save it as UTF-8");
        assert_eq!(why("large"), "it is larger than 4 MiB; is this the right file?");
        assert_eq!(read(&at("marked")).unwrap().text, "a: 1");
        assert_eq!(beside(&at("marked"), "none").unwrap_err(), "there is no such file");
        assert_eq!(beside(&at("none"), "marked").unwrap().1, "a: 1");
    }
}
