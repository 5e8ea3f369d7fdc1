//! `new`: a spec to start from. Writes one file that is not there yet, and nothing else.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{self, Write as _};

use super::error::Error;

/// A spec to start from.
pub(super) struct Template {
    /// What `--template` names.
    pub(super) name: &'static str,
    /// What is in it, for the list.
    about: &'static str,
    /// The spec.
    text: &'static str,
}

/// All templates, the simplest first.
pub(super) const TEMPLATES: &[Template] = &[
    Template {
        name: "minimal",
        about: "two drawers side by side in ten lines; the rest is defaults",
        text: include_str!("../../templates/minimal.yaml"),
    },
    Template {
        name: "two-drawers",
        about: "the same with its choices written out: bay, gaps, materials, joints",
        text: include_str!("../../templates/two-drawers.yaml"),
    },
    Template {
        name: "drawer-beside-open",
        about: "one drawer beside an open pocket for long things",
        text: include_str!("../../templates/drawer-beside-open.yaml"),
    },
    Template {
        name: "tall-tower",
        about: "a narrow carcase at one side, three drawers one above the other, an open pocket on top",
        text: include_str!("../../templates/tall-tower.yaml"),
    },
];

/// Longest name, characters: as long as a design's name may be.
const LONGEST_NAME: usize = 60;

/// The list of templates.
pub(super) fn list() -> String {
    let longest = TEMPLATES.iter().map(|template| template.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for template in TEMPLATES {
        let _ = writeln!(text, "{:longest$}  {}", template.name, template.about);
    }
    text
}

/// Writes a template to `NAME.yaml` in the current folder; says what to do next.
pub(super) fn write(name: &str, template: &str) -> Result<String, Error> {
    let name = name.strip_suffix(".yaml").unwrap_or(name);
    let sign = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    let starts = name.starts_with(|c: char| c.is_ascii_alphanumeric());
    if !starts || !name.chars().all(sign) || name.len() > LONGEST_NAME {
        let rule =
            "a name has ASCII letters, digits, - and _, starts with a letter or digit, and has at most 60";
        return Err(Error::Other(format!("`{name}` cannot be a design's name; {rule}")));
    }
    let Some(template) = TEMPLATES.iter().find(|known| known.name == template) else {
        return Err(Error::Other(format!("there is no template called `{template}`")));
    };
    let path = format!("{name}.yaml");
    let written = File::create_new(&path).and_then(|mut file| file.write_all(template.text.as_bytes()));
    match written {
        Ok(()) => {
            Ok(format!("wrote {path}; measure your bay, change the numbers, then: baywright make {path}\n"))
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            Err(Error::Other(format!("`{path}` is there already and is left as it is; give another name")))
        }
        Err(error) => Err(Error::Other(format!("cannot write `{path}`: {error}"))),
    }
}
