//! Where a number of a design stands in its text, found by the name of a size or by a path of keys and ids.
//!
//! Takes the text of a design, gives [`Spot`]s that another number may be written into; says in plain words why a path leads
//! to none. Only what is written in the design itself can be found: neither defaults nor files that it names.

use super::shape::{self, kind_of};
use super::tree::{self, Kind, Node};
use super::{Text, rules, schema};
use crate::diag::{Findings, SourceId, Sources, did_you_mean};

/// A place of the text that holds a number or an expression.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Spot {
    /// First byte.
    pub(crate) start: usize,
    /// One past the last byte.
    pub(crate) end: usize,
    /// What the number is in, where that is known.
    pub(crate) unit: Option<&'static str>,
}

/// A design's text, in which numbers can be found.
#[derive(Debug)]
pub(crate) struct Numbers<'a> {
    text: &'a str,
    tree: Node,
}

/// What comes of another number in a value's place.
enum Trial {
    Fits,
    /// The design has another kind of value there.
    NoNumberDue,
    /// The text cannot be read any more, or says something else: the value runs over several lines.
    Misread,
}

/// Values that lead into one another, each with its key; entries of lists have none.
type Way<'t> = Vec<(Option<&'t str>, &'t Node)>;

impl<'a> Numbers<'a> {
    /// Reads a design's text. `None` when it is no YAML or its shape is at fault, whatever its numbers are; the findings say
    /// how.
    pub(crate) fn read(findings: &mut Findings, sources: &mut Sources, file: Text<'a>) -> Option<Self> {
        let source = sources.add(file.name, file.text);
        let tree = super::sound_tree(findings, source, file.text, &schema::DESIGN)?;
        Some(Numbers { text: file.text, tree })
    }

    /// The name that the design gives itself.
    pub(crate) fn name(&self) -> Option<&str> {
        match &self.tree.get("name")?.kind {
            Kind::Text(name) => Some(name),
            _ => None,
        }
    }

    /// The place of a number: the size of this name, else what the path leads to.
    pub(crate) fn find(&self, path: &str) -> Result<Spot, String> {
        let way = way(&self.tree, path)?;
        let node = way.last().map_or(&self.tree, |(_, node)| *node);
        if let Some((_, above)) = way.iter().rev().nth(1)
            && above.span == node.span
            && self.written(node).starts_with('*')
        {
            return Err(format!(
                "`{path}` is reached through the alias `{}`; vary it where its anchor stands, or write it out",
                self.written(node)
            ));
        }
        if !matches!(node.kind, Kind::Number(_) | Kind::Text(_)) {
            let inside = match node.kind {
                Kind::Map(_) | Kind::List(_) => "; give the path of a number inside it",
                _ => "",
            };
            return Err(format!("`{path}` is {}, no number{inside}", kind_of(node)));
        }
        let written = || rules::shown(self.written(node));
        match self.tried(path, node) {
            Trial::Fits => {}
            Trial::NoNumberDue => return Err(format!("`{path}` is the text `{}`, no number", written())),
            Trial::Misread => {
                return Err(format!(
                    "`{path}`, written as `{}`, cannot be replaced where it stands; write it in one line",
                    written()
                ));
            }
        }
        let unit = self.unit(&way);
        Ok(Spot { start: node.span.start as usize, end: node.span.end as usize, unit })
    }

    fn written(&self, node: &Node) -> &str {
        self.text.get(node.span.start as usize..node.span.end as usize).unwrap_or_default()
    }

    /// Tries another number there: whether it is read as the value at the path, and may stand there.
    fn tried(&self, path: &str, node: &Node) -> Trial {
        let spot = Spot { start: node.span.start as usize, end: node.span.end as usize, unit: None };
        let text = replaced(self.text, &[(spot, "7.25")]);
        let mut faults = Findings::default();
        let Some(tree) = tree::read(&mut faults, SourceId::default(), &text) else { return Trial::Misread };
        let is_read = |node: &Node| matches!(node.kind, Kind::Number(n) if n.total_cmp(&7.25).is_eq());
        match way(&tree, path) {
            Ok(way) if way.last().is_some_and(|(_, node)| is_read(node)) => {}
            _ => return Trial::Misread,
        }
        if shape::check(&mut faults, &tree, &schema::DESIGN) { Trial::Fits } else { Trial::NoNumberDue }
    }

    /// What the number at the end of a way is in, by what the schema says of it. A size is a length like most.
    fn unit(&self, way: &Way<'_>) -> Option<&'static str> {
        let nodes = [&self.tree].into_iter().chain(way.iter().map(|(_, node)| *node));
        let units = nodes.rev().find_map(|node| node.get("units"));
        let length = match units.map(|units| &units.kind) {
            Some(Kind::Text(word)) if word == "inch" => "inch",
            _ => "mm",
        };
        if way.first().is_some_and(|(key, _)| *key == Some("sizes")) {
            return Some(length);
        }
        let said = shape::description(&self.tree, way, &schema::DESIGN)?;
        if said.contains("(length") {
            Some(length)
        } else if said.contains("egrees") {
            Some("degrees")
        } else if said.contains(", kg") {
            Some("kg")
        } else {
            None
        }
    }
}

/// The text with other numbers at some places, which are in the order of the text and apart.
pub(crate) fn replaced(text: &str, numbers: &[(Spot, &str)]) -> String {
    let mut changed = String::with_capacity(text.len() + 16 * numbers.len());
    let mut at = 0;
    for (spot, number) in numbers {
        changed.push_str(text.get(at..spot.start).unwrap_or_default());
        changed.push_str(number);
        at = spot.end;
    }
    changed + text.get(at..).unwrap_or_default()
}

/// The way to a value: the size of this name, else along the path.
fn way<'t>(tree: &'t Node, path: &str) -> Result<Way<'t>, String> {
    let sizes = tree.get("sizes");
    if let Some(sizes) = sizes
        && let Some((key, size)) = inside(sizes, path)
    {
        return Ok(vec![(Some("sizes"), sizes), (key, size)]);
    }
    let mut way = Way::new();
    let mut before = "";
    for segment in path.split('.') {
        let node = way.last().map_or(tree, |(_, node)| *node);
        let Some(next) = inside(node, segment) else { return Err(nothing(node, before, segment, sizes)) };
        way.push(next);
        before = path.get(..before.len() + usize::from(!before.is_empty()) + segment.len()).unwrap_or(path);
    }
    Ok(way)
}

/// A value inside another: of a map by its key, of a list by its `id` or its number from 0.
fn inside<'t>(node: &'t Node, segment: &str) -> Option<(Option<&'t str>, &'t Node)> {
    match &node.kind {
        Kind::Map(entries) => {
            let entry = entries.iter().find(|entry| entry.key == segment)?;
            Some((Some(entry.key.as_str()), &entry.value))
        }
        Kind::List(nodes) => {
            let named = nodes.iter().find(|node| id(node) == Some(segment));
            let digits = segment.bytes().all(|byte| byte.is_ascii_digit());
            let numbered = || segment.parse::<usize>().ok().filter(|_| digits).and_then(|n| nodes.get(n));
            Some((None, named.or_else(numbered)?))
        }
        _ => None,
    }
}

fn id(node: &Node) -> Option<&str> {
    match &node.get("id")?.kind {
        Kind::Text(id) => Some(id),
        _ => None,
    }
}

/// Why a path does not go on, and what to do.
fn nothing(node: &Node, before: &str, segment: &str, sizes: Option<&Node>) -> String {
    let segment = rules::shown(segment);
    match &node.kind {
        Kind::Map(entries) => {
            let of_sizes = match sizes.map(|sizes| &sizes.kind) {
                Some(Kind::Map(sizes)) if before.is_empty() => sizes.as_slice(),
                _ => &[],
            };
            let known = of_sizes.iter().chain(entries).map(|entry| entry.key.as_str());
            let help = did_you_mean(&segment, known).map_or_else(String::new, |help| format!(" {help}"));
            let what = if before.is_empty() {
                format!("`{segment}` is neither a named size nor a key of the design")
            } else {
                format!("`{before}` has no `{segment}`")
            };
            format!("{what}; only what is written in the spec can be varied.{help}")
        }
        Kind::List(nodes) => {
            let known = nodes.iter().filter_map(id);
            let help = did_you_mean(&segment, known).map_or_else(String::new, |help| format!(" {help}"));
            let last = nodes.len().saturating_sub(1);
            format!("`{before}` has no entry `{segment}`; give an id, or a number from 0 to {last}.{help}")
        }
        Kind::Text(file) if matches!(before, "vehicle" | "workshop") => format!(
            "`{before}` is the file `{}`; only what stands in the design itself can be varied: write it there as a map",
            rules::shown(file)
        ),
        _ => format!("`{before}` is {}, with nothing inside it called `{segment}`", kind_of(node)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPEC: &str = "\
name: ways
sizes: {gap: 3, wide: bay.width - 16, quoted: 'gap * 2'}
bay: {width: 1040, depth: 1050, height: 800, seat_back: {rake: 15}}
carcases:
  - id: main
    width: wide
    depth: &deep 900
    height: >-
      100 +
      200
    panel: birch-12
    bolts: {at: [40, 120]}
    columns: &cells
      - size: 480
        drawer: {slide: heavy-800, load: 12}
      - {id: pocket, share: 2, open: {}}
  - {id: other, width: 500, depth: *deep, height: 300, panel: birch-12, columns: *cells}
";

    fn numbers(text: &str) -> Numbers<'_> {
        let (mut findings, mut sources) = (Findings::default(), Sources::default());
        let numbers = Numbers::read(&mut findings, &mut sources, Text { name: "kit.yaml", text });
        numbers.unwrap_or_else(|| panic!("{:?}", findings.sorted()))
    }

    #[test]
    fn every_kind_of_path_leads_to_its_number() {
        let numbers = numbers(SPEC);
        for (path, written, unit) in [
            ("gap", "3", Some("mm")),
            ("sizes.gap", "3", Some("mm")),
            ("wide", "bay.width - 16", Some("mm")),
            ("quoted", "'gap * 2'", Some("mm")),
            ("bay.width", "1040", Some("mm")),
            ("bay.seat_back.rake", "15", Some("degrees")),
            ("carcases.main.width", "wide", Some("mm")),
            ("carcases.0.width", "wide", Some("mm")),
            ("carcases.main.bolts.at.1", "120", Some("mm")),
            ("carcases.main.columns.0.size", "480", Some("mm")),
            ("carcases.main.columns.0.drawer.load", "12", Some("kg")),
            ("carcases.main.columns.pocket.share", "2", None),
            ("carcases.other.depth", "*deep", Some("mm")),
        ] {
            let spot = numbers.find(path).unwrap_or_else(|fault| panic!("{path}: {fault}"));
            assert_eq!((&SPEC[spot.start..spot.end], spot.unit), (written, unit), "{path}");
            let changed = replaced(SPEC, &[(spot, "-0.5")]);
            let again = self::numbers(&changed);
            let node = way(&again.tree, path).unwrap().last().unwrap().1;
            assert!(matches!(node.kind, Kind::Number(n) if n.total_cmp(&-0.5).is_eq()), "{path}: {changed}");
        }
        // What an anchor names is changed wherever it is used; the anchor itself stays.
        let spot = numbers.find("carcases.main.depth").unwrap();
        let changed = replaced(SPEC, &[(spot, "910")]);
        assert_eq!(changed, SPEC.replace("&deep 900", "&deep 910"));
        let inch = SPEC.replace("name: ways", "units: inch");
        assert_eq!(self::numbers(&inch).find("bay.width").unwrap().unit, Some("inch"));
    }

    #[test]
    fn a_path_to_no_number_says_why() {
        let numbers = numbers(SPEC);
        for (path, said) in [
            (
                "gpa",
                "`gpa` is neither a named size nor a key of the design; only what is written in the spec can be varied. did you mean `gap`?",
            ),
            ("carcasses", "did you mean `carcases`?"),
            (
                "carcases.mian.width",
                "`carcases` has no entry `mian`; give an id, or a number from 0 to 1. did you mean `main`?",
            ),
            ("carcases.2.width", "`carcases` has no entry `2`"),
            ("carcases.+1.width", "`carcases` has no entry `+1`"),
            (
                "carcases.main.heigth",
                "`carcases.main` has no `heigth`; only what is written in the spec can be varied. did you mean `height`?",
            ),
            (
                "carcases.main.width.more",
                "`carcases.main.width` is text, with nothing inside it called `more`",
            ),
            ("carcases.main.panel", "`carcases.main.panel` is the text `birch-12`, no number"),
            ("carcases.main", "`carcases.main` is a map, no number; give the path of a number inside it"),
            ("carcases.main.bolts.at", "`carcases.main.bolts.at` is a list, no number"),
            ("carcases.other.columns.0.size", "is reached through the alias `*cells`"),
            ("", "`` is neither"),
        ] {
            let fault = numbers.find(path).unwrap_err();
            assert!(fault.contains(said), "{path}: {fault}");
        }
        let filed = SPEC
            .replace("bay: {", "vehicle: van.yaml\nx: {")
            .replace("\nx: {width: 1040, depth: 1050, height: 800, seat_back: {rake: 15}}", "");
        let fault = self::numbers(&filed).find("vehicle.bay.width").unwrap_err();
        assert!(
            fault.starts_with("`vehicle` is the file `van.yaml`; only what stands in the design itself"),
            "{fault}"
        );
    }

    #[test]
    fn an_expression_in_a_block_of_lines_is_refused_with_the_remedy() {
        let fault = numbers(SPEC).find("carcases.main.height").unwrap_err();
        let said = "cannot be replaced where it stands; write it in one line";
        assert!(
            fault.starts_with("`carcases.main.height`, written as `") && fault.ends_with(said),
            "{fault}"
        );
        // In braces lines may follow one another.
        let braces = SPEC.replace("{id: other, width: 500,", "{id: other, width: 500\n    + 20,");
        assert!(numbers(&braces).find("carcases.other.width").is_ok());
    }

    #[test]
    fn several_numbers_are_replaced_at_once() {
        let numbers = numbers(SPEC);
        let spots = ["gap", "bay.width"].map(|path| numbers.find(path).unwrap());
        let changed = replaced(SPEC, &[(spots[0], "4.5"), (spots[1], "1100")]);
        assert_eq!(changed, SPEC.replace("gap: 3", "gap: 4.5").replace("width: 1040", "width: 1100"));
    }
}
