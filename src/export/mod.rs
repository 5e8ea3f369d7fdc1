//! From a finished kit to bytes. An exporter sees the model only; none opens a file, and none can fail.

pub(crate) mod cut_files;
pub(crate) mod cutfile;
mod cuts;
pub(crate) mod drawn;
pub(crate) mod dxf;
mod finish;
pub(crate) mod kit_json;
mod label;
pub(crate) mod model3d;
pub(crate) mod layers;
pub(crate) mod hardware;
mod offcuts;
pub(crate) mod order;
pub(crate) mod picture;
pub(crate) mod quote;
pub(crate) mod report;
pub(crate) mod svg;
mod tables;
mod template;
pub(crate) mod words;

use crate::diag::{self, Finding, Sources};
use crate::finished::{CutSet, Finished};
use crate::loose::LooseParts;
use crate::spec;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// The file that lists all others with their hashes.
pub(crate) const MANIFEST: &str = "manifest.json";

/// Who wrote a manifest, so that a set of ours is known again.
pub(crate) const MADE_BY: &str = "baywright";

/// The file that holds the whole kit.
pub(crate) const KIT: &str = "kit.json";

/// The files of an output folder: relative path, with `/`, to bytes.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Bundle {
    /// By path.
    pub(crate) files: BTreeMap<String, Vec<u8>>,
    /// What the cut files among them draw, for those who read them back.
    pub(crate) drawings: Vec<cut_files::NamedCutFile>,
}

impl Bundle {
    /// Adds a file.
    pub(crate) fn insert(&mut self, path: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        self.files.insert(path.into(), bytes.into());
    }

    /// The bytes of a file.
    pub(crate) fn get(&self, path: &str) -> Option<&[u8]> {
        self.files.get(path).map(Vec::as_slice)
    }
}

/// A file that the set was made from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct InputFile<'a> {
    /// Path as it was given.
    pub(crate) path: &'a str,
    /// The hash of what was read, see [`sha256`].
    pub(crate) sha256: &'a str,
}

/// Every file of a finished kit's folder, the manifest included.
pub(crate) fn bundle(
    finished: &Finished,
    findings: &[Finding],
    sources: &Sources,
    inputs: &[InputFile<'_>],
) -> Bundle {
    let edition = &finished.edition;
    let set = json!({
        "name": finished.design.name.value,
        "revision": edition.revision,
        "inputs_sha256": edition.inputs,
        "version": env!("CARGO_PKG_VERSION"),
    });
    with_manifest(files(finished, findings, sources), inputs, Some(set))
}

/// Every file but the manifest.
fn files(finished: &Finished, findings: &[Finding], sources: &Sources) -> Bundle {
    let mut bundle = drawings(&finished.cut_set());
    bundle.insert("cut-list.csv", tables::cut_list(finished));
    bundle.insert("hardware.csv", tables::hardware(finished));
    bundle.insert("hardware-bags.csv", tables::hardware_bags(finished));
    bundle.insert("mass.csv", tables::mass(finished));
    bundle.insert("order.csv", tables::order(finished));
    if !finished.kit.coatings.is_empty() {
        bundle.insert("finish.csv", tables::finish(finished));
    }
    let wings = &finished.kit.layout.wings;
    if !wings.is_empty() {
        bundle.insert("wings.csv", tables::wings(finished));
    }
    for wing in wings {
        let name = &finished.kit.panel(wing.board).name;
        bundle.insert(format!("templates/{name}.svg"), template::template(finished, wing));
    }
    let panels = picture::panels(finished);
    for page in &panels {
        let further = if page.number == 1 { String::new() } else { format!(".page-{}", page.number) };
        bundle.insert(format!("drawings/{}{further}.svg", page.name), page.file());
    }
    let scene = model3d::Scene::of(finished);
    bundle.insert(model3d::step::NAME, model3d::step::write(&scene));
    bundle.insert(model3d::glb::NAME, model3d::glb::write(&scene, &mut model3d::glb::Meshes::default()));
    let document = kit_json::document(finished, diag::json(findings, sources));
    bundle.insert(KIT, kit_json::write(&document));
    let (page, printed) = report::report(finished, findings, sources, panels);
    bundle.insert("report.html", page);
    bundle.insert("report.pdf", printed);
    bundle.insert("labels.pdf", report::labels(finished));
    bundle
}

/// Every file of the folder of loose parts, the manifest included.
pub(crate) fn loose_bundle(
    loose: &LooseParts,
    findings: &[Finding],
    sources: &Sources,
    inputs: &[InputFile<'_>],
) -> Bundle {
    let mut bundle = drawings(&loose.cut_set());
    bundle.insert("cut-list.csv", tables::loose_cut_list(loose));
    bundle.insert("report.html", report::loose(loose, findings, sources));
    with_manifest(bundle, inputs, None)
}

/// The folder of a sweep: its files with the manifest.
pub(crate) fn sweep_bundle(files: BTreeMap<String, Vec<u8>>, inputs: &[InputFile<'_>]) -> Bundle {
    with_manifest(Bundle { files, drawings: Vec::new() }, inputs, None)
}

/// The cut files of all sheets and parts, for a saw the cuts of each sheet, and what is left.
fn drawings(set: &CutSet<'_>) -> Bundle {
    let mut bundle = Bundle::default();
    let layers = layers::names(&set.workshop.layers);
    let version = match set.workshop.dxf_version.value {
        spec::DxfVersion::R12 => dxf::DxfVersion::R12,
        spec::DxfVersion::R2000 => dxf::DxfVersion::R2000,
    };
    let drawings = cut_files::all(set);
    for cut_files::NamedCutFile { stem, file } in &drawings {
        bundle.insert(format!("{stem}.dxf"), dxf::write(file, &layers, version));
        bundle.insert(format!("{stem}.svg"), svg::write(file, &layers));
    }
    bundle.drawings = drawings;
    bundle.insert("offcuts.yaml", offcuts::yaml(set));
    for group in set.groups {
        for named in group.sheets() {
            let Some(list) = named.cuts else { continue };
            bundle.insert(format!("cuts/{}.csv", named.name), tables::cuts(group, list));
            bundle.insert(format!("cuts/{}.svg", named.name), picture::cuts_file(group, &named, list));
        }
    }
    bundle
}

/// The files with the manifest: what the set is, and the hash of every input and of every output but itself.
fn with_manifest(mut bundle: Bundle, inputs: &[InputFile<'_>], set: Option<Value>) -> Bundle {
    bundle.files.remove(MANIFEST);
    let inputs: Vec<_> = inputs
        .iter()
        .map(|input| json!({"path": input.path.replace('\\', "/"), "sha256": input.sha256}))
        .collect();
    let outputs: Vec<_> =
        bundle.files.iter().map(|(path, bytes)| json!({"path": path, "sha256": sha256(bytes)})).collect();
    let mut manifest = json!({"made_by": MADE_BY});
    if let Some(set) = set {
        manifest["set"] = set;
    }
    manifest["inputs"] = inputs.into();
    manifest["outputs"] = outputs.into();
    bundle.insert(MANIFEST, format!("{manifest:#}\n"));
    bundle
}

/// The hash in hexadecimal digits.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    let digit = |nibble: u8| char::from_digit(u32::from(nibble), 16).unwrap_or_default();
    Sha256::digest(bytes).iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect()
}

/// The hash of a text whatever ends its lines, so that a spec saved on another system is the same input.
pub(crate) fn text_hash(text: &str) -> String {
    sha256(text.replace("\r\n", "\n").as_bytes())
}

/// One hash for all inputs: over their hashes in hexadecimal digits, one a line. Order: the design, a vehicle and a
/// workshop file given beside it, then every file that these name, as it was read.
pub(crate) fn inputs_hash(hashes: &[String]) -> String {
    let lines: Vec<&str> = hashes.iter().flat_map(|hash| [hash.as_str(), "\n"]).collect();
    sha256(lines.concat().as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits::{self, ALL, ANGLES};

    fn bundle_of(text: &str) -> Bundle {
        let built = example_kits::built(text);
        let finished = built.finished.as_ref().unwrap();
        bundle(
            finished,
            &built.findings,
            &built.sources,
            &[InputFile { path: "kits\\design.yaml", sha256: &sha256(text.as_bytes()) }],
        )
    }

    #[test]
    fn every_sheet_and_part_is_there_twice_and_the_tables_once() {
        let bundle = bundle_of(ANGLES);
        for path in [
            "sheets/birch-12-1.dxf",
            "sheets/birch-12-1.svg",
            "parts/main-base.dxf",
            "parts/main-base.svg",
            "cut-list.csv",
            "hardware.csv",
            "hardware-bags.csv",
            "mass.csv",
            "order.csv",
            "offcuts.yaml",
            "report.html",
            "report.pdf",
            "labels.pdf",
            "drawings/main-base.svg",
            "model.step",
            "model.glb",
            KIT,
            MANIFEST,
        ] {
            assert!(bundle.get(path).is_some_and(|bytes| !bytes.is_empty()), "{path}");
        }
        // Twice two sheets and 18 parts, a drawing of each part, and what is there once.
        assert_eq!(bundle.files.len(), 2 * (2 + 18) + 18 + 13);
    }

    #[test]
    fn a_sawn_sheet_has_a_table_and_a_picture_of_its_cuts() {
        let bundle = bundle_of(&ANGLES.replace("carcases:", "workshop: {cutting: saw}\ncarcases:"));
        let cuts: Vec<&String> = bundle.files.keys().filter(|path| path.starts_with("cuts/")).collect();
        assert_eq!(
            cuts,
            ["cuts/birch-12-1.csv", "cuts/birch-12-1.svg", "cuts/birch-12-2.csv", "cuts/birch-12-2.svg"]
        );
        let text = |path: &str| String::from_utf8(bundle.get(path).unwrap().to_vec()).unwrap();
        let table = text(cuts[0]);
        assert!(
            table.contains("\n1,0,sheet,along,1210,upper,2440,rest of sheet,2440,1210,waste,2440,6.8\n"),
            "{table}"
        );
        // Each cut stands in the picture once as a line and once as a number, and the page has the same section.
        assert_eq!(text(cuts[1]).matches("class=\"saw ").count(), table.lines().count() - 1);
        let page = text("report.html");
        assert!(page.contains("<section id=\"cuts\">") && page.contains("Cuts of birch-12-2"));
        assert!(
            !String::from_utf8(bundle_of(ANGLES).get("report.html").unwrap().to_vec())
                .unwrap()
                .contains("id=\"cuts\"")
        );
    }

    #[test]
    fn a_second_run_gives_the_same_bytes() {
        for text in ALL {
            assert_eq!(bundle_of(text), bundle_of(text));
        }
    }

    #[test]
    fn the_manifest_has_the_hash_of_every_file_but_itself() {
        let bundle = bundle_of(ANGLES);
        let manifest: serde_json::Value = serde_json::from_slice(bundle.get(MANIFEST).unwrap()).unwrap();
        let outputs = manifest["outputs"].as_array().unwrap();
        assert_eq!(outputs.len(), bundle.files.len() - 1);
        for output in outputs {
            let bytes = bundle.get(output["path"].as_str().unwrap()).unwrap();
            assert_eq!(output["sha256"], sha256(bytes));
        }
        assert_eq!(manifest["inputs"][0]["path"], "kits/design.yaml");
        // FIPS 180-2, the test vector of one block.
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn a_set_says_which_state_it_is_and_the_parts_do_not() {
        let text = format!("revision: \"B <2>\"\n{ANGLES}");
        let bundle = bundle_of(&text);
        let read = |path: &str| String::from_utf8(bundle.get(path).unwrap().to_vec()).unwrap();
        let hash = sha256(format!("{}\n", sha256(text.as_bytes())).as_bytes());
        let manifest: Value = serde_json::from_slice(bundle.get(MANIFEST).unwrap()).unwrap();
        let set = json!({"name": "two-drawers", "revision": "B <2>", "inputs_sha256": hash,
            "version": env!("CARGO_PKG_VERSION")});
        assert_eq!(manifest["set"], set);
        let edition = json!({"revision": "B <2>", "inputs_sha256": hash});
        let kit: Value = serde_json::from_slice(bundle.get(KIT).unwrap()).unwrap();
        assert_eq!((&kit["edition"], &kit["sheets"][0]["edition"]), (&edition, &edition));
        let shown = &hash[..12];
        let row = |what: &str, value: &str| format!("<div><dt>{what}</dt><dd>{value}</dd></div>");
        let page = read("report.html");
        let rows = [row("Name", "two-drawers"), row("Revision", "B &lt;2&gt;"), row("Inputs", shown)];
        assert!(rows.iter().all(|row| page.contains(row)));
        assert!(read("sheets/birch-12-1.svg").contains(&format!("revision B &lt;2&gt;, inputs {shown}")));
        assert!(read("sheets/birch-12-1.dxf").contains(shown));
        // A part is the same cut in every state that does not change it, to the byte.
        let plain = bundle_of(ANGLES);
        for (path, bytes) in bundle.files.iter().filter(|(path, _)| path.starts_with("parts/")) {
            assert!(plain.get(path) == Some(bytes), "{path}");
        }
        assert!(bundle.get("sheets/birch-12-1.dxf") != plain.get("sheets/birch-12-1.dxf"));
    }

    #[test]
    fn the_hash_of_inputs_is_of_what_they_say_and_of_their_order() {
        assert_eq!(text_hash("a: 1\r\nb: 2\r\n"), text_hash("a: 1\nb: 2\n"));
        assert_ne!(text_hash("a: 1\nb: 2\n"), text_hash("a: 1\nb: 2"));
        let hashes =
            |texts: &[&str]| inputs_hash(&texts.iter().map(|text| text_hash(text)).collect::<Vec<_>>());
        // By `sha256sum` of coreutils: (printf 'a\n' | sha256sum; printf 'b\n' | sha256sum) | cut -c1-64 | sha256sum
        assert_eq!(
            hashes(&["a\n", "b\r\n"]),
            "7b77b1b66500ed66bdb3e5f10e78f55ab6d4b404fa676ec1bee2ab5b31346a80"
        );
        assert_ne!(hashes(&["a\n", "b\n"]), hashes(&["b\n", "a\n"]));
        assert_ne!(hashes(&["a\n"]), text_hash("a\n"));
    }

    #[test]
    fn a_file_added_later_comes_into_the_manifest() {
        let mut bundle = bundle_of(ANGLES);
        bundle.insert("report.html", "<p>");
        let bundle = with_manifest(bundle, &[], None);
        let manifest = String::from_utf8(bundle.get(MANIFEST).unwrap().to_vec()).unwrap();
        assert!(manifest.contains("report.html") && !manifest.contains(MANIFEST));
    }
}
