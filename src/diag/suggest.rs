//! The known name that a mistyped one most likely means.

/// Longest name for which a likely one is looked for, bytes; the comparison's time grows with its square.
const LONGEST_NAME: usize = 60;

/// The known name nearest to `name`, if one is near enough to be meant: letters left out, added, changed or
/// swapped, at most one in three. Of equally near ones the first counts; upper and lower case are the same.
pub(crate) fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if name.len() > LONGEST_NAME {
        return None;
    }
    let lower = name.to_lowercase();
    let allowed = (lower.chars().count() / 3).max(1);
    let mut best: Option<(usize, &str)> = None;
    for candidate in known {
        if candidate.len().abs_diff(name.len()) > LONGEST_NAME {
            continue;
        }
        let distance = strsim::osa_distance(&lower, &candidate.to_lowercase());
        if distance <= allowed && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// `did you mean` with the nearest known name, else all known names if there are few, else nothing.
pub(crate) fn did_you_mean<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let known: Vec<&str> = known.into_iter().collect();
    if let Some(candidate) = nearest(name, known.iter().copied()) {
        return Some(format!("did you mean `{candidate}`?"));
    }
    let few = (1..=12).contains(&known.len());
    few.then(|| format!("known here: {}", known.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_hand_are_recognised() {
        let known = ["width", "depth", "height", "birch-12", "birch-9"];
        for (name, meant) in [
            ("widht", Some("width")),
            ("Width", Some("width")),
            ("dept", Some("depth")),
            ("birch12", Some("birch-12")),
            ("birch-8", Some("birch-9")),
            ("x", None),
            ("colour", None),
        ] {
            assert_eq!(nearest(name, known), meant, "{name}");
        }
        assert_eq!(nearest(&"width".repeat(100_000), known), None);
        assert_eq!(did_you_mean("x", ["a-b", "c-d"]).as_deref(), Some("known here: a-b, c-d"));
        assert_eq!(did_you_mean("x", []), None);
    }
}
