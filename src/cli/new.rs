//! `new`: a spec or a vehicle file to start from, and the sheet to measure a bay with. Writes one file that is not
//! there yet, and nothing else.

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

/// A vehicle file; not a spec, so it stands apart from those.
pub(super) const VEHICLE: Template = Template {
    name: "vehicle",
    about: "a vehicle file, with how each number is measured (see also `baywright measuring-sheet`)",
    text: include_str!("../../templates/vehicle.yaml"),
};

/// A page to fill in while measuring, as SVG.
pub(super) const MEASURING_SHEET: &str = include_str!("../../templates/measuring-sheet.svg");

/// Longest name, characters: as long as a design's name may be.
const LONGEST_NAME: usize = 60;

/// The list of templates.
pub(super) fn list() -> String {
    let all = || TEMPLATES.iter().chain([&VEHICLE]);
    let longest = all().map(|template| template.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for template in all() {
        let _ = writeln!(text, "{:longest$}  {}", template.name, template.about);
    }
    text
}

/// Writes a template to `NAME.yaml` in the current folder; says what to do next. Without a template, a file called
/// `vehicle` is a vehicle file, and any other the smallest spec.
pub(super) fn write(name: &str, template: Option<&str>) -> Result<String, Error> {
    let name = name.strip_suffix(".yaml").unwrap_or(name);
    let sign = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    let starts = name.starts_with(|c: char| c.is_ascii_alphanumeric());
    if !starts || !name.chars().all(sign) || name.len() > LONGEST_NAME {
        let rule =
            "a name has ASCII letters, digits, - and _, starts with a letter or digit, and has at most 60";
        return Err(Error::Other(format!("`{name}` cannot be a design's name; {rule}")));
    }
    let template = template.unwrap_or(if name == VEHICLE.name { VEHICLE.name } else { TEMPLATES[0].name });
    let Some(template) = TEMPLATES.iter().chain([&VEHICLE]).find(|known| known.name == template) else {
        return Err(Error::Other(format!("there is no template called `{template}`")));
    };
    let path = format!("{name}.yaml");
    let written = File::create_new(&path).and_then(|mut file| file.write_all(template.text.as_bytes()));
    match written {
        Ok(()) if template.name == VEHICLE.name => Ok(format!(
            "wrote {path}; measure your bay, change the numbers, then name it in a kit: `vehicle: {path}`\n"
        )),
        Ok(()) => {
            Ok(format!("wrote {path}; measure your bay, change the numbers, then: baywright make {path}\n"))
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            Err(Error::Other(format!("`{path}` is there already and is left as it is; give another name")))
        }
        Err(error) => Err(Error::Other(format!("cannot write `{path}`: {error}"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters of the drawing's circles, and of the sheet's first column.
    fn letters(class: &str) -> Vec<String> {
        let start = format!("<text class=\"{class}\"");
        let pieces = MEASURING_SHEET.split(&start).skip(1);
        let text = |piece: &str| piece.split('>').nth(1).unwrap().split('<').next().unwrap().to_owned();
        let mut found: Vec<String> = pieces
            .map(text)
            .flat_map(|text| text.split(' ').map(str::to_owned).collect::<Vec<_>>())
            .collect();
        found.sort();
        found.dedup();
        found
    }

    #[test]
    fn every_letter_of_the_sheet_has_its_blank_and_its_comment_in_the_template() {
        let (drawn, listed) = (letters("l"), letters("k"));
        assert_eq!(drawn, listed);
        assert!(drawn.len() > 15, "{drawn:?}");
        let heads = VEHICLE.text.lines().filter_map(|line| line.trim().strip_prefix("# ")?.split_once(": "));
        let heads: Vec<&str> = heads.flat_map(|(head, _)| head.split(", ")).collect();
        // R stands behind Q on one line.
        let told = |letter: &str| heads.contains(&letter) || VEHICLE.text.contains(&format!(" {letter}: "));
        assert!(drawn.iter().all(|letter| told(letter)), "{heads:?}");
    }

    #[test]
    fn the_sheet_is_a_page_of_a4_without_colour() {
        assert!(MEASURING_SHEET.contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
        let style = MEASURING_SHEET.split("<style>").nth(1).unwrap().split("</style>").next().unwrap();
        let colours = style.split('#').skip(1).map(|rest| &rest[..3]);
        assert!(colours.clone().count() > 3 && colours.clone().all(|colour| matches!(colour, "000" | "fff")));
    }
}
