//! The plain text of an ISO 10303-21 file: numbered entities, numbers, texts. Knows no solid.

use crate::number::decimal;
use std::collections::BTreeMap;
use std::fmt::{self, Display, Write};

/// Decimals of a length, mm: a millionth of a micrometre, so that no rounding shows beside the file's uncertainty.
const LENGTH_DECIMALS: usize = 9;

/// Decimals of a direction, an angle or a share: over the length of a sheet still less than a length's.
const RATIO_DECIMALS: usize = 12;

/// The number of an entity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Id(usize);

impl Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

/// Entities in the order in which they were added.
#[derive(Debug, Default)]
pub(super) struct Entities {
    text: String,
    count: usize,
    shared: BTreeMap<String, Id>,
}

impl Entities {
    /// Adds an entity, `NAME(...)`, or several in brackets.
    pub(super) fn add(&mut self, entity: &str) -> Id {
        self.count += 1;
        self.text.push('#');
        self.text.push_str(&self.count.to_string());
        self.text.push('=');
        self.text.push_str(entity);
        self.text.push_str(";\n");
        Id(self.count)
    }

    /// The entity with this text, added if there is none yet: for points, directions and the like, which many others
    /// may use.
    pub(super) fn share(&mut self, entity: String) -> Id {
        if let Some(&id) = self.shared.get(&entity) {
            return id;
        }
        let id = self.add(&entity);
        self.shared.insert(entity, id);
        id
    }

    /// The whole file around them. The stamp of time is a fixed one: the same kit gives the same bytes at any time.
    pub(super) fn file(self, name: &str, title: &str, schema: &str) -> String {
        let (name, title) = (quoted(name), quoted(title));
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({title}),'2;1');\n\
             FILE_NAME({name},'1970-01-01T00:00:00',(''),(''),'baywright','baywright','');\n\
             FILE_SCHEMA(('{schema}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
            self.text
        )
    }
}

/// Several entities, `(#1,#2)`.
pub(super) fn list(ids: &[Id]) -> String {
    let ids: Vec<String> = ids.iter().map(ToString::to_string).collect();
    format!("({})", ids.join(","))
}

/// A length in mm; a real number always has a point.
pub(super) fn length(value: f64) -> String {
    with_point(decimal(value, LENGTH_DECIMALS))
}

/// A part of a direction, an angle in radians, a share.
pub(super) fn ratio(value: f64) -> String {
    with_point(decimal(value, RATIO_DECIMALS))
}

fn with_point(mut text: String) -> String {
    if !text.contains('.') {
        text.push('.');
    }
    text
}

/// A text in quotes. What is not plain ASCII is written by its code: `\X2\` and four digits each, `\X4\` and eight beyond the
/// basic plane.
pub(super) fn quoted(text: &str) -> String {
    let mut quoted = String::from("'");
    let mut open = None;
    for c in text.chars() {
        let wanted = match c {
            ' '..='~' => None,
            '\u{0}'..='\u{ffff}' => Some("\\X2\\"),
            _ => Some("\\X4\\"),
        };
        if open != wanted {
            quoted.push_str(if open.is_some() { "\\X0\\" } else { "" });
            quoted.push_str(wanted.unwrap_or_default());
            open = wanted;
        }
        let code = u32::from(c);
        // Writing into a text cannot fail.
        let _ = match wanted {
            None if matches!(c, '\'' | '\\') => write!(quoted, "{c}{c}"),
            None => write!(quoted, "{c}"),
            Some("\\X2\\") => write!(quoted, "{code:04X}"),
            Some(_) => write!(quoted, "{code:08X}"),
        };
    }
    quoted.push_str(if open.is_some() { "\\X0\\'" } else { "'" });
    quoted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_escaped_as_the_standard_says() {
        // The codes are those of Unicode: e with acute accent E9, Greek small pi 3C0, a gear 1F527 beyond the basic plane.
        for (text, written) in [
            ("main-deck", "'main-deck'"),
            ("Dad's \"van\"", "'Dad''s \"van\"'"),
            ("a\\b", "'a\\\\b'"),
            ("caf\u{e9}\u{3c0}!", "'caf\\X2\\00E903C0\\X0\\!'"),
            ("\u{1f527}\u{e9}", "'\\X4\\0001F527\\X0\\\\X2\\00E9\\X0\\'"),
            ("a\nb", "'a\\X2\\000A\\X0\\b'"),
            ("", "''"),
        ] {
            assert_eq!(quoted(text), written);
        }
    }

    #[test]
    fn reals_have_a_point_and_one_spelling() {
        for (value, written) in [(12.0, "12."), (-0.0, "0."), (0.1 + 0.2, "0.3"), (1e-6, "0.000001")] {
            assert_eq!(length(value), written);
        }
        assert_eq!(ratio(std::f64::consts::FRAC_PI_4), "0.785398163397");
    }

    #[test]
    fn what_is_shared_is_written_once() {
        let mut entities = Entities::default();
        let one = entities.share("DIRECTION('',(1.,0.,0.))".to_owned());
        let other = entities.add("VECTOR('',#1,1.)");
        assert_eq!(entities.share("DIRECTION('',(1.,0.,0.))".to_owned()), one);
        assert_eq!(list(&[one, other]), "(#1,#2)");
        let file = entities.file("model.step", "kit", "CONFIG_CONTROL_DESIGN");
        assert_eq!(file.matches("DIRECTION").count(), 1);
        assert!(file.starts_with("ISO-10303-21;\n") && file.ends_with("END-ISO-10303-21;\n"));
    }
}
