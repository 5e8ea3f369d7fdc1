//! The built program in scratch folders: exit codes, what it says, what it writes and what it leaves alone.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
#[cfg(unix)]
use std::process::{Child, Stdio};
use std::process::{Command, Output};

use insta::assert_snapshot;
use serde_json::Value;
use tempfile::TempDir;

/// A design without faults.
const GOOD: &str = include_str!("../templates/minimal.yaml");

/// A scratch folder in which the program is run.
pub(crate) struct Scratch(TempDir);

impl Scratch {
    pub(crate) fn new() -> Self {
        Scratch(tempfile::tempdir().unwrap())
    }

    /// A scratch folder with `kit.yaml` in it.
    fn with(design: &str) -> Self {
        let scratch = Scratch::new();
        scratch.write("kit.yaml", design);
        scratch
    }

    pub(crate) fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.0.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        let program = env!("CARGO_BIN_EXE_baywright");
        let output = Command::new(program).args(arguments).current_dir(self.0.path()).output().unwrap();
        Run::new(&output)
    }

    /// The program, begun and not waited for.
    #[cfg(unix)]
    pub(crate) fn begin(&self, arguments: &[&str]) -> Child {
        let mut program = Command::new(env!("CARGO_BIN_EXE_baywright"));
        program.args(arguments).current_dir(self.0.path());
        program.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
    }

    /// Every file under a folder, by relative path; empty if there is none.
    pub(crate) fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let mut files = BTreeMap::new();
        let folder = self.0.path().join(folder);
        collect(&folder, &folder, &mut files);
        files
    }
}

fn collect(root: &Path, folder: &Path, files: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).into_iter().flatten() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(root, &path, files);
        } else {
            let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
            files.insert(name, fs::read(&path).unwrap());
        }
    }
}

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Run {
    /// Exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Run {
    fn new(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        let run =
            Run { code: output.status.code().unwrap(), out: text(&output.stdout), err: text(&output.stderr) };
        assert!(!run.err.contains("panicked"), "{}", run.err);
        run
    }
}

#[test]
fn help_is_what_it_was() {
    let scratch = Scratch::new();
    let mut all = String::new();
    for command in [
        "",
        "make",
        "check",
        "compare",
        "sweep",
        "nest",
        "new",
        "explain",
        "schema",
        "catalogue",
        "completions",
    ] {
        let mut arguments: Vec<&str> = if command.is_empty() { vec![] } else { vec![command] };
        arguments.push("--help");
        let run = scratch.run(&arguments);
        assert_eq!((run.code, run.err.as_str()), (0, ""));
        all.push_str(&run.out);
        all.push_str("\n----\n");
    }
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("suite/cli");
    settings.set_prepend_module_to_snapshot(false);
    settings.bind(|| assert_snapshot!("help", all));
}

#[test]
fn a_good_design_is_made_and_summed_up() {
    let scratch = Scratch::with(GOOD);
    let run = scratch.run(&["make", "kit.yaml"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    for said in
        ["kit: 18 panels, ", " bolts, ", " kg\n", " of birch-12 (", " % used; ", "written to out/kit ("]
    {
        assert!(run.out.contains(said), "no `{said}` in {}", run.out);
    }
    let files = scratch.files("out/kit");
    assert!(files.contains_key("manifest.json"));
    // Nothing but the set is left.
    let all = scratch.files("");
    assert_eq!(all.len(), files.len() + 1, "{:?}", all.keys());
}

#[test]
fn two_runs_and_a_run_elsewhere_write_the_same_bytes() {
    let scratch = Scratch::with(GOOD);
    assert_eq!(scratch.run(&["make", "kit.yaml"]).code, 0);
    let first = scratch.files("out/kit");
    assert_eq!(scratch.run(&["make", "kit.yaml"]).code, 0);
    assert_eq!(scratch.files("out/kit"), first);
    assert_eq!(scratch.run(&["make", "kit.yaml", "--out", "deep/down/here"]).code, 0);
    assert_eq!(scratch.files("deep/down/here"), first);
}

#[test]
fn errors_in_the_design_write_nothing_and_keep_the_old_set() {
    let scratch = Scratch::with(GOOD);
    assert_eq!(scratch.run(&["make", "kit.yaml"]).code, 0);
    let old = scratch.files("out");
    scratch.write("kit.yaml", GOOD.replace("birch-12", "brich-12"));
    let run = scratch.run(&["make", "kit.yaml"]);
    assert_eq!(run.code, 1);
    assert!(run.err.contains("unknown-name") && run.err.contains("did you mean `birch-12`"), "{}", run.err);
    assert!(run.out.contains("nothing is written until the errors are gone"), "{}", run.out);
    assert_eq!(scratch.files("out"), old);
}

#[test]
fn check_finds_the_same_and_writes_nothing() {
    let scratch = Scratch::with(GOOD);
    let run = scratch.run(&["check", "kit.yaml"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert!(!run.out.contains("written"));
    assert_eq!(scratch.files("").len(), 1);
}

#[test]
fn machines_get_findings_as_json() {
    let scratch = Scratch::with(&GOOD.replace("birch-12", "brich-12"));
    let run = scratch.run(&["check", "kit.yaml", "--format", "json"]);
    assert_eq!((run.code, run.err.as_str()), (1, ""));
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((&json["errors"], &json["written"], &json["kit"]), (&1.into(), &Value::Null, &Value::Null));
    let finding = &json["findings"][0];
    assert_eq!((&finding["rule"], &finding["file"]), (&"unknown-name".into(), &"kit.yaml".into()));
    scratch.write("kit.yaml", GOOD);
    let run = scratch.run(&["make", "kit.yaml", "--format", "json"]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, &json["written"], &json["kit"]["panels"]), (0, &"out/kit".into(), &18.into()));
}

#[test]
fn warnings_do_not_stop_a_make_and_can_be_accepted() {
    let wide = "bolts: {spacing: 300}\n";
    let scratch = Scratch::with(&format!("{GOOD}{wide}"));
    let run = scratch.run(&["make", "kit.yaml"]);
    assert_eq!(run.code, 0);
    assert!(run.err.contains("warning[bolt-spacing]") && run.out.contains(" warnings\n"), "{run:?}");
    scratch.write(
        "kit.yaml",
        format!("{GOOD}{wide}accept:\n  - {{rule: bolt-spacing, reason: nothing heavy}}\n"),
    );
    let run = scratch.run(&["make", "kit.yaml"]);
    assert_eq!(run.code, 0);
    assert!(run.err.contains("accepted[bolt-spacing]") && run.err.contains("(nothing heavy)"), "{run:?}");
    assert!(run.out.contains(" accepted warnings\n"), "{run:?}");
}

#[test]
fn vehicle_and_workshop_files_are_found_beside_the_design_or_given() {
    let scratch = Scratch::new();
    let carcases = &GOOD[GOOD.find("carcases").unwrap()..];
    let design = format!("vehicle: ../vans/van.yaml\nworkshop: shop.yaml\n{carcases}");
    scratch.write("kits/design.yaml", &design);
    scratch.write("vans/van.yaml", "bay: {width: 1040, depth: 1050, height: 800}\n");
    scratch.write("kits/shop.yaml", "trim: 12\n");
    let run = scratch.run(&["make", "kits/design.yaml"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(run.out.contains("written to out/kits ("), "the folder names a design.yaml: {}", run.out);
    scratch.write("small.yaml", "bay: {width: 1040, depth: 700, height: 800}\n");
    let run = scratch.run(&["make", "kits/design.yaml", "--vehicle", "small.yaml"]);
    assert!(run.code == 1 && run.err.contains("outside-bay"), "{run:?}");
    fs::remove_file(scratch.0.path().join("vans/van.yaml")).unwrap();
    let run = scratch.run(&["make", "kits/design.yaml"]);
    assert_eq!(run.code, 1);
    assert!(run.err.contains("file-unreadable") && run.err.contains("there is no such file"), "{run:?}");
    let run = scratch.run(&["make", "kits/design.yaml", "--vehicle", "none.yaml"]);
    assert_eq!((run.code, run.out.as_str()), (2, ""));
    assert!(run.err.contains("cannot read `none.yaml`: there is no such file"), "{run:?}");
}

#[test]
fn what_cannot_be_run_exits_with_2_and_says_why() {
    let scratch = Scratch::with(GOOD);
    scratch.write("latin.yaml", b"name: caf\xe9");
    scratch.write("file", "");
    scratch.write("full/letter.txt", "dear");
    scratch.write("large.yaml", vec![b'#'; 10 << 20]);
    for (arguments, said) in [
        (vec!["make"], "required arguments were not provided"),
        (vec![], "Usage: baywright"),
        (vec!["cut", "kit.yaml"], "unrecognized subcommand"),
        (vec!["make", "kit.yaml", "--fromat", "json"], "unexpected argument '--fromat'"),
        (vec!["make", "none.yaml"], "cannot read `none.yaml`: there is no such file"),
        (vec!["make", "full"], "cannot read `full`: it is a folder"),
        (vec!["make", "latin.yaml"], "it is not UTF-8 text"),
        (vec!["make", "large.yaml"], "larger than 4 MiB"),
        (vec!["make", "kit.yaml", "--workshop", "full"], "cannot read `full`: it is a folder"),
        (vec!["make", "kit.yaml", "--out", "file"], "`file` is a file, not a folder"),
        (vec!["make", "kit.yaml", "--out", "file/kit"], "nothing was changed"),
        (vec!["make", "kit.yaml", "--out", "full"], "`full` holds files but no set of ours"),
        (vec!["make", "kit.yaml", "--out", "."], "cannot be a set's own folder"),
        (vec!["make", "kit.yaml", "--out", "/"], "cannot be a set's own folder"),
        (vec!["make", "kit.yaml", "--out", ""], "a value is required"),
        (vec!["explain", "outside-bey"], "did you mean `outside-bay`?"),
        (vec!["schema", "door"], "invalid value 'door'"),
        (vec!["catalogue", "doors"], "invalid value 'doors'"),
        (vec!["new", "../kit"], "cannot be a design's name"),
        (vec!["new", "x", "--template", "tal-tower"], "tall-tower"),
        (vec!["completions", "fush"], "invalid value 'fush'"),
    ] {
        let before = scratch.files("");
        let run = scratch.run(&arguments);
        assert_eq!((run.code, run.out.as_str()), (2, ""), "{arguments:?}: {run:?}");
        assert!(run.err.contains(said), "{arguments:?} says {}", run.err);
        assert!(scratch.files("") == before, "{arguments:?} changed files");
    }
}

#[test]
fn bad_texts_of_every_kind_are_findings() {
    let deep = format!("bay: {}1{}", "[".repeat(100_000), "]".repeat(100_000));
    let deep_blocks: String = (0..1500).flat_map(|i| [" ".repeat(i), "a:\n".to_owned()]).collect();
    let mut bomb = "a: &a [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for pair in ["a", "b", "c", "d", "e", "f", "g", "h", "i"].windows(2) {
        let aliases = vec![format!("*{}", pair[0]); 10].join(", ");
        bomb.extend([pair[1], ": &", pair[1], " [", &aliases, "]\n"]);
    }
    let name = |name: &str| format!("name: {name}\n{GOOD}");
    for (text, rule) in [
        (String::new(), "error["),
        ("- 1\n- 2\n".to_owned(), "error["),
        ("bay: {width: 1".to_owned(), "error[not-yaml]"),
        (name("\"../../etc\""), "error[bad-name]"),
        (name("/elsewhere/x"), "error[bad-name]"),
        (name("\"\""), "error[bad-name]"),
        (name("con.yaml/.."), "error[bad-name]"),
        (deep, "error[spec-too-large]"),
        (deep_blocks, "error[spec-too-large]"),
        (bomb, "error["),
        ("\0\0\0".to_owned(), "error["),
        (GOOD.replace("900", "1e400"), "error["),
        (GOOD.replace("depth: 900", "depth: -900"), "error["),
        (GOOD.replace("carcases:", "vehicle: /nowhere/van.yaml\ncarcases:"), "error[file-unreadable]"),
        (GOOD.replace("carcases:", "vehicle: .\ncarcases:"), "it is a folder"),
        ("# no end ".repeat(446_000), "error[spec-too-large]"),
    ] {
        let scratch = Scratch::with(&text);
        let run = scratch.run(&["make", "kit.yaml"]);
        let start: String = text.chars().take(60).collect();
        assert_eq!(run.code, 1, "{start}: {run:?}");
        assert!(run.err.contains(rule), "{start}: {}", run.err);
        assert_eq!(scratch.files("").len(), 1, "{start}");
    }
}

#[test]
fn every_template_is_made_without_errors() {
    let scratch = Scratch::new();
    let list = scratch.run(&["new", "--list"]).out;
    let templates: Vec<&str> = list.lines().filter_map(|line| line.split_whitespace().next()).collect();
    assert!(templates.len() >= 4, "{list}");
    for template in &templates {
        let run = scratch.run(&["new", template, "--template", template]);
        assert_eq!(run.code, 0, "{run:?}");
        let file = format!("{template}.yaml");
        // A vehicle file is tried with a kit in it.
        let run = match *template {
            "vehicle" => scratch.run(&["make", "minimal.yaml", "--vehicle", "vehicle.yaml"]),
            _ => scratch.run(&["make", &file]),
        };
        assert_eq!((run.code, run.err.as_str()), (0, ""), "{template}: {}", run.out);
        if *template == "minimal" {
            continue;
        }
        // A second `new` leaves what may have been edited.
        scratch.write(&file, "edited");
        let run = scratch.run(&["new", template]);
        assert!(run.code == 2 && run.err.contains("is there already"), "{run:?}");
        assert_eq!(scratch.files("")[&file], b"edited");
    }
    assert_eq!(scratch.run(&["new"]).code, 0);
    assert_eq!(scratch.files("")["kit.yaml"], GOOD.as_bytes());
}

#[test]
fn explain_schema_catalogue_and_completions_print() {
    let scratch = Scratch::new();
    scratch.write("shop.yaml", "slides: {heavy-800: {rating_pair: 99.5}}\n");
    scratch.write("bad.yaml", "trim: wide\n");
    for (arguments, said) in [
        (vec!["explain"], "outside-bay"),
        (vec!["explain", "outside-bay"], "It finds fault with:"),
        (vec!["schema"], "\"$schema\""),
        (vec!["schema", "vehicle"], "\"bay\""),
        (vec!["schema", "workshop"], "\"tool\""),
        (vec!["schema", "comparison"], "\"recut\""),
        (vec!["catalogue"], "Sheet materials"),
        (vec!["catalogue", "slides"], "bears kg/pair"),
        (vec!["catalogue", "slides", "--workshop", "shop.yaml"], "99.5"),
        (vec!["catalogue", "fasteners", "--format", "json"], "\"clearance_medium_mm\": 6.6"),
        (vec!["completions", "bash"], "baywright"),
        (vec!["measuring-sheet"], "viewBox=\"0 0 210 297\""),
        (vec!["--version"], "baywright "),
    ] {
        let run = scratch.run(&arguments);
        assert_eq!((run.code, run.err.as_str()), (0, ""), "{arguments:?}");
        assert!(run.out.contains(said), "{arguments:?} prints {}", run.out);
    }
    let run = scratch.run(&["catalogue", "--workshop", "bad.yaml"]);
    assert!(run.code == 1 && run.out.is_empty() && run.err.contains("bad.yaml:1:7"), "{run:?}");
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_fault() {
    use std::process::Stdio;
    let scratch = Scratch::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_baywright"))
        .args(["schema", "design"])
        .current_dir(scratch.0.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let run = Run::new(&child.wait_with_output().unwrap());
    assert_eq!((run.code, run.err.as_str()), (0, ""));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_output_is_a_fault() {
    let scratch = Scratch::new();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_baywright"))
        .args(["catalogue"])
        .current_dir(scratch.0.path())
        .stdout(full)
        .output()
        .unwrap();
    let run = Run::new(&output);
    assert!(run.code == 2 && run.err.contains("cannot print"), "{run:?}");
}
