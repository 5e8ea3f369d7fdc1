//! Makes of the `dxf` crate's records a file that strict readers take without a remark.
//!
//! Takes records, gives records. What the crate leaves out is added: handles and owners of tables, the blocks of
//! the model and paper space, the root dictionary, units in the oldest version. What it adds that may not be in
//! a file that is the same every time is dropped: times, random identifiers. Every handle is given anew, in the
//! order of the file. Which pair a reader needs is from the behaviour of readers, not from a standard's text.

use super::DxfVersion;
use super::pairs::Record;

/// Header variables that are kept; the rest are defaults of an interactive program, times or random.
const KEPT_VARIABLES: [&str; 16] = [
    "$ACADVER",
    "$DWGCODEPAGE",
    "$INSBASE",
    "$EXTMIN",
    "$EXTMAX",
    "$LIMMIN",
    "$LIMMAX",
    "$TEXTSTYLE",
    "$CLAYER",
    "$DIMSTYLE",
    "$LUNITS",
    "$LUPREC",
    "$HANDLING",
    "$HANDSEED",
    "$MEASUREMENT",
    "$INSUNITS",
];

/// Tables in the order in which readers look for them, with the records that are kept; all, where none is named.
const TABLES: [(&str, &[&str]); 9] = [
    ("VPORT", &["*ACTIVE"]),
    ("LTYPE", &["BYBLOCK", "BYLAYER", "CONTINUOUS"]),
    ("LAYER", &[]),
    ("STYLE", &["STANDARD"]),
    ("VIEW", &[]),
    ("UCS", &[]),
    ("APPID", &["ACAD"]),
    ("DIMSTYLE", &["STANDARD"]),
    ("BLOCK_RECORD", &["*MODEL_SPACE", "*PAPER_SPACE"]),
];

/// Names that the crate writes in capitals and current readers expect so.
const SPELLINGS: [(&str, &str); 7] = [
    ("*ACTIVE", "*Active"),
    ("BYBLOCK", "ByBlock"),
    ("BYLAYER", "ByLayer"),
    ("CONTINUOUS", "Continuous"),
    ("STANDARD", "Standard"),
    ("*MODEL_SPACE", "*Model_Space"),
    ("*PAPER_SPACE", "*Paper_Space"),
];

/// Code of a handle.
const HANDLE: u16 = 5;
/// Code of the handle of a DIMSTYLE, where 5 has another meaning.
const DIMSTYLE_HANDLE: u16 = 105;
/// Code of the owner's handle.
const OWNER: u16 = 330;
/// Code of a subclass marker, unknown to the oldest version.
const SUBCLASS: u16 = 100;
/// Code of the handle of a layer's plot style.
const PLOT_STYLE: u16 = 390;

/// The whole file anew.
pub(super) fn repaired(raw: &[Record], version: DxfVersion) -> Vec<Record> {
    let mut repair = Repair { version, next: 1, model: String::new(), paper: String::new() };
    // The plot style is an object, but the layers before it point to it.
    let plot_style = repair.handle();
    let mut body = repair.tables(section(raw, "TABLES"), &plot_style);
    body.extend(repair.blocks());
    body.extend(repair.entities(section(raw, "ENTITIES")));
    if version == DxfVersion::R2000 {
        body.extend(repair.objects(&plot_style));
    }
    let mut file = repair.header(section(raw, "HEADER"));
    if version == DxfVersion::R2000 {
        file.extend(in_section("CLASSES", Vec::new()));
    }
    file.extend(body);
    file.push(Record::new("EOF", &[]));
    file
}

/// The records between a section's head and its end.
fn section<'a>(raw: &'a [Record], name: &str) -> &'a [Record] {
    let start = raw.iter().position(|record| record.kind == "SECTION" && record.value(2) == name);
    let Some(start) = start else { return &[] };
    let rest = &raw[start + 1..];
    let end = rest.iter().position(|record| record.kind == "ENDSEC").unwrap_or(rest.len());
    &rest[..end]
}

fn in_section(name: &str, records: Vec<Record>) -> Vec<Record> {
    let mut section = vec![Record::new("SECTION", &[(2, name)])];
    section.extend(records);
    section.push(Record::new("ENDSEC", &[]));
    section
}

/// State of the repair: handles given so far.
struct Repair {
    version: DxfVersion,
    next: u32,
    /// Handle of the model space's block record, the owner of all entities.
    model: String,
    /// Handle of the paper space's block record.
    paper: String,
}

impl Repair {
    fn handle(&mut self) -> String {
        self.next += 1;
        format!("{:X}", self.next - 1)
    }

    /// Last of all, when the next free handle is known.
    fn header(&self, raw: &[Record]) -> Vec<Record> {
        let mut kept: Vec<Record> =
            raw.iter().filter(|record| KEPT_VARIABLES.contains(&record.kind.as_str())).cloned().collect();
        for record in &mut kept {
            match record.kind.as_str() {
                "$HANDSEED" => record.set(HANDLE, &format!("{:X}", self.next)),
                "$TEXTSTYLE" => record.set(7, "Standard"),
                "$DIMSTYLE" => record.set(2, "Standard"),
                _ => {}
            }
        }
        if self.version == DxfVersion::R12 {
            kept.push(Record::variable("$MEASUREMENT", &[(70, "1")]));
            kept.push(Record::variable("$INSUNITS", &[(70, "4")]));
        }
        in_section("HEADER", kept)
    }

    fn tables(&mut self, raw: &[Record], plot_style: &str) -> Vec<Record> {
        let mut tables = Vec::new();
        for (name, kept) in TABLES {
            if self.version == DxfVersion::R12 && name == "BLOCK_RECORD" {
                continue;
            }
            let records: Vec<&Record> = raw
                .iter()
                .filter(|r| r.kind == name && (kept.is_empty() || kept.contains(&r.value(2))))
                .collect();
            let (table, count) = (self.handle(), records.len().to_string());
            let mut head = Record::new("TABLE", &[(2, name)]);
            if self.version == DxfVersion::R2000 {
                let pairs = [(HANDLE, table.as_str()), (OWNER, "0"), (SUBCLASS, "AcDbSymbolTable")];
                head.pairs.extend(pairs.map(|(code, value)| (code, value.to_owned())));
            }
            head.pairs.push((70, count));
            if self.version == DxfVersion::R2000 && name == "DIMSTYLE" {
                head.pairs.push((SUBCLASS, "AcDbDimStyleTable".to_owned()));
            }
            tables.push(head);
            for record in records {
                tables.push(self.table_record(record, &table, plot_style));
            }
            tables.push(Record::new("ENDTAB", &[]));
        }
        in_section("TABLES", tables)
    }

    fn table_record(&mut self, raw: &Record, table: &str, plot_style: &str) -> Record {
        let mut record = raw.clone();
        let name = record.value(2).to_owned();
        if let Some((_, spelled)) = SPELLINGS.iter().find(|(crate_name, _)| *crate_name == name) {
            record.set(2, spelled);
        }
        if record.kind == "LAYER" {
            record.set(6, "Continuous");
        }
        // An empty handle, an owner still to be given, a width that says nothing.
        record.pairs.retain(|(code, _)| !matches!(*code, HANDLE | OWNER | 340..=344 | 370 | PLOT_STYLE));
        if self.version == DxfVersion::R12 {
            // The last two are a view's coordinate system and way of rendering, of newer versions.
            let newer = |code| code == SUBCLASS || record.kind == "VPORT" && matches!(code, 65 | 281);
            record.pairs.retain(|(code, _)| !newer(*code));
            return record;
        }
        let handle = self.handle();
        match name.as_str() {
            "*MODEL_SPACE" => self.model.clone_from(&handle),
            "*PAPER_SPACE" => self.paper.clone_from(&handle),
            _ => {}
        }
        let code = if record.kind == "DIMSTYLE" { DIMSTYLE_HANDLE } else { HANDLE };
        record.pairs.splice(0..0, [(code, handle), (OWNER, table.to_owned())]);
        if record.kind == "LAYER" {
            record.pairs.push((PLOT_STYLE, plot_style.to_owned()));
        }
        record
    }

    /// The two blocks that every file since R13 has; none in the oldest version.
    fn blocks(&mut self) -> Vec<Record> {
        if self.version == DxfVersion::R12 {
            return in_section("BLOCKS", Vec::new());
        }
        let mut blocks = Vec::new();
        for (name, owner) in [("*Model_Space", self.model.clone()), ("*Paper_Space", self.paper.clone())] {
            let (begin, end) = (self.handle(), self.handle());
            let common =
                |handle| [(HANDLE, handle), (OWNER, owner.as_str()), (SUBCLASS, "AcDbEntity"), (8, "0")];
            let mut block = Record::new("BLOCK", &common(&begin));
            let own: [(u16, &str); 8] = [
                (SUBCLASS, "AcDbBlockBegin"),
                (2, name),
                (70, "0"),
                (10, "0"),
                (20, "0"),
                (30, "0"),
                (3, name),
                (1, ""),
            ];
            block.pairs.extend(own.map(|(code, value)| (code, value.to_owned())));
            let mut end_of_block = Record::new("ENDBLK", &common(&end));
            end_of_block.pairs.push((SUBCLASS, "AcDbBlockEnd".to_owned()));
            blocks.extend([block, end_of_block]);
        }
        in_section("BLOCKS", blocks)
    }

    fn entities(&mut self, raw: &[Record]) -> Vec<Record> {
        let mut entities = Vec::with_capacity(raw.len());
        let mut layer_of_polyline = String::new();
        for record in raw {
            let mut record = record.clone();
            record.pairs.retain(|(code, _)| !matches!(*code, HANDLE | OWNER | 370));
            record.pairs.insert(0, (HANDLE, self.handle()));
            match self.version {
                DxfVersion::R12 => {
                    record.pairs.retain(|(code, _)| *code != SUBCLASS);
                    put_on_layer_of_polyline(&mut record, &mut layer_of_polyline);
                }
                DxfVersion::R2000 => {
                    record.pairs.insert(1, (OWNER, self.model.clone()));
                    if record.kind == "TEXT" {
                        put_vertical_justification_last(&mut record);
                    }
                }
            }
            entities.push(record);
        }
        in_section("ENTITIES", entities)
    }

    /// The root dictionary with an empty list of groups and the one plot style that the layers point to.
    fn objects(&mut self, plot_style: &str) -> Vec<Record> {
        let [root, groups, styles] = [self.handle(), self.handle(), self.handle()];
        let dictionary = |kind: &str, handle: &str, owner: &str, entries: &[(u16, &str)]| {
            let head = [(HANDLE, handle), (OWNER, owner), (SUBCLASS, "AcDbDictionary"), (281, "1")];
            Record::new(kind, &[&head[..], entries].concat())
        };
        let root_entries = [(3, "ACAD_GROUP"), (350, &groups), (3, "ACAD_PLOTSTYLENAME"), (350, &styles)];
        let style_entries =
            [(3, "Normal"), (350, plot_style), (SUBCLASS, "AcDbDictionaryWithDefault"), (340, plot_style)];
        let objects = vec![
            dictionary("DICTIONARY", &root, "0", &root_entries),
            dictionary("DICTIONARY", &groups, &root, &[]),
            dictionary("ACDBDICTIONARYWDFLT", &styles, &root, &style_entries),
            Record::new("ACDBPLACEHOLDER", &[(HANDLE, plot_style), (OWNER, &styles)]),
        ];
        in_section("OBJECTS", objects)
    }
}

/// The crate leaves the vertices of a polyline on layer 0 and their end on none.
fn put_on_layer_of_polyline(record: &mut Record, layer: &mut String) {
    match record.kind.as_str() {
        "POLYLINE" => record.value(8).clone_into(layer),
        "VERTEX" => record.set(8, layer),
        "SEQEND" => record.pairs.push((8, layer.clone())),
        _ => {}
    }
}

/// Code 73 belongs behind a TEXT's second subclass marker; the crate writes it before.
fn put_vertical_justification_last(record: &mut Record) {
    if let Some(at) = record.pairs.iter().position(|pair| pair.0 == 73) {
        let pair = record.pairs.remove(at);
        record.pairs.push(pair);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::cutfile::examples::{layer_names, small_panel};
    use crate::export::dxf::{pairs, write};
    use std::collections::BTreeSet;

    fn records(version: DxfVersion) -> Vec<Record> {
        pairs::from_bytes(&write(&small_panel(), &layer_names(), version))
    }

    #[test]
    fn every_handle_is_given_once_and_every_owner_exists() {
        let records = records(DxfVersion::R2000);
        let mut handles = BTreeSet::from(["0".to_owned()]);
        for record in records.iter().filter(|record| !record.is_variable) {
            for (code, value) in &record.pairs {
                if matches!(*code, HANDLE | DIMSTYLE_HANDLE) {
                    assert!(handles.insert(value.clone()), "{value} twice: {record:?}");
                }
            }
        }
        let seed = records.iter().find(|record| record.kind == "$HANDSEED").unwrap().value(HANDLE);
        let seed = u32::from_str_radix(seed, 16).unwrap();
        assert!(handles.iter().all(|handle| u32::from_str_radix(handle, 16).unwrap() < seed));
        let owners = records
            .iter()
            .flat_map(|r| &r.pairs)
            .filter(|(code, _)| matches!(*code, OWNER | 340 | 350 | PLOT_STYLE));
        assert!(owners.clone().count() > 30);
        for (_, owner) in owners {
            assert!(handles.contains(owner), "{owner}");
        }
    }

    #[test]
    fn the_oldest_version_has_nothing_of_the_newer_ones() {
        let records = records(DxfVersion::R12);
        assert!(
            records.iter().flat_map(|r| &r.pairs).all(|(code, _)| !matches!(*code, SUBCLASS | 105 | 281..))
        );
        assert!(!records.iter().any(|r| matches!(r.kind.as_str(), "LWPOLYLINE" | "BLOCK_RECORD")));
        let vertices: Vec<_> = records.iter().filter(|r| r.kind == "VERTEX").collect();
        assert_eq!(vertices.len(), 14);
        assert!(vertices.iter().all(|r| matches!(r.value(8), "part" | "window" | "board")));
    }

    #[test]
    fn a_text_has_its_vertical_justification_in_its_second_part() {
        let records = records(DxfVersion::R2000);
        let text = records.iter().find(|record| record.kind == "TEXT").unwrap();
        let ends = [(SUBCLASS, "AcDbText".to_owned()), (73, "2".to_owned())];
        assert!(text.pairs.ends_with(&ends), "{text:?}");
    }

    #[test]
    fn nothing_changes_from_run_to_run() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            for record in records(version) {
                assert!(!record.kind.starts_with("$TD") && !record.kind.ends_with("GUID"), "{record:?}");
            }
        }
    }
}
