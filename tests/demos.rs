//! Every demo and every spec in the README is made by the built program.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Makes a spec into a folder; fails with what the program says.
fn make(spec: &Path, out: &Path) -> String {
    let program = env!("CARGO_BIN_EXE_baywright");
    let output = Command::new(program).arg("make").arg(spec).arg("--out").arg(out).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{}:\n{said}", spec.display());
    said
}

#[test]
fn every_demo_is_made_without_a_finding_but_those_it_accepts() {
    let scratch = tempfile::tempdir().unwrap();
    let mut n = 0;
    for entry in fs::read_dir(root().join("demo-designs")).unwrap() {
        let spec = entry.unwrap().path().join("design.yaml");
        if spec.exists() {
            n += 1;
            let said = make(&spec, &scratch.path().join(n.to_string()));
            let told = |line: &&str| line.starts_with("error[") || line.starts_with("warning[");
            assert_eq!(said.lines().find(told), None, "{said}");
        }
    }
    assert!(n >= 2, "{n} demos");
}

/// A sheet without the hash of its inputs, which changes with every comment in the spec.
fn without_hash(sheet: &str) -> String {
    let mut pieces = sheet.split("inputs ");
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.fold(first, |text, piece| {
        let hash = piece.chars().take_while(char::is_ascii_hexdigit).count();
        assert_eq!(hash, 12, "a hash is shown by its first twelve digits");
        text + "inputs " + &piece[hash..]
    })
}

/// The picture in the README is a sheet as it is made. `BLESS=1` writes it anew.
#[test]
fn the_picture_is_a_sheet_of_the_demo() {
    let scratch = tempfile::tempdir().unwrap();
    make(&root().join("demo-designs/spoke-van/design.yaml"), &scratch.path().join("kit"));
    let made = fs::read_to_string(scratch.path().join("kit/sheets/birch-12-1.svg")).unwrap();
    let picture = root().join("demo-designs/spoke-van/sheet.svg");
    if std::env::var_os("BLESS").is_some() {
        fs::write(&picture, &made).unwrap();
    }
    let shown = fs::read_to_string(&picture).unwrap();
    assert!(without_hash(&shown) == without_hash(&made), "{} is out of date", picture.display());
}

#[test]
fn every_spec_in_the_readme_is_made() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let scratch = tempfile::tempdir().unwrap();
    let specs: Vec<&str> =
        readme.split("```yaml\n").skip(1).map(|rest| rest.split("```").next().unwrap()).collect();
    assert!(specs.len() >= 2);
    for (i, text) in specs.iter().enumerate() {
        let spec = scratch.path().join(format!("spec-{i}.yaml"));
        fs::write(&spec, text).unwrap();
        make(&spec, &scratch.path().join(format!("out-{i}")));
    }
}

/// The finding that the README shows is what the program says.
#[test]
fn the_finding_in_the_readme_is_the_programs_own() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let spec = readme.split("```yaml\n").nth(1).unwrap().split("```").next().unwrap();
    let scratch = tempfile::tempdir().unwrap();
    fs::write(scratch.path().join("kit.yaml"), spec.replace("    width:", "    wdith:")).unwrap();
    let program = env!("CARGO_BIN_EXE_baywright");
    let output =
        Command::new(program).args(["check", "kit.yaml"]).current_dir(scratch.path()).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let shown = readme.split("```text\n").nth(1).unwrap().split("```").next().unwrap();
    assert!(said.contains(shown.trim()), "the program says\n{said}\nthe README shows\n{shown}");
}
