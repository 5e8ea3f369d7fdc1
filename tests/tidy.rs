//! Holds the order of the sources: heads, sizes, layers, and a guide that names every folder.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Longest source file, lines.
const MOST_LINES: usize = 600;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file under a folder, with its text, in order.
fn sources(folder: &str) -> Vec<(String, String)> {
    let mut files = Vec::new();
    walk(&root().join(folder), &mut files);
    files.sort();
    assert!(!files.is_empty(), "no source under {folder}");
    files
}

fn walk(folder: &Path, files: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, files);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
            files.push((name, fs::read_to_string(&path).unwrap()));
        }
    }
}

/// The modules of `lib.rs` in their order, those for tests left out.
fn layers(lib: &str) -> Vec<String> {
    let mut layers = Vec::new();
    let mut before = "";
    for line in lib.lines().map(str::trim) {
        let declared = line.strip_prefix("mod ").and_then(|rest| rest.strip_suffix(';'));
        if let Some(name) = declared.filter(|_| before != "#[cfg(test)]") {
            layers.push(name.to_owned());
        }
        before = line;
    }
    layers
}

/// A source without comments and without what only tests are built from: whatever follows `#[cfg(test)]` up to
/// the end of that item.
fn without_tests(text: &str) -> String {
    let mut kept = String::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        if line.trim() == "#[cfg(test)]" {
            let indent = line.len() - line.trim_start().len();
            let ends = |line: &str| {
                let own = line.len() - line.trim_start().len() == indent;
                own && (line.trim() == "}" || line.trim().ends_with(';'))
            };
            lines.by_ref().find(|line| ends(line));
            continue;
        }
        kept.push_str(line.split("//").next().unwrap_or_default());
        kept.push('\n');
    }
    kept
}

/// The modules that a source names after `crate::`, one by one or in braces.
fn used(text: &str) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for rest in text.split("crate::").skip(1) {
        let name = |text: &str| -> String {
            text.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect()
        };
        match rest.strip_prefix('{') {
            None => {
                used.insert(name(rest));
            }
            Some(list) => {
                let mut depth = 0;
                let mut item = String::new();
                for c in list.chars() {
                    match c {
                        '{' => depth += 1,
                        '}' if depth == 0 => break,
                        '}' => depth -= 1,
                        ',' if depth == 0 => {
                            used.insert(name(item.trim()));
                            item.clear();
                            continue;
                        }
                        _ => {}
                    }
                    item.push(c);
                }
                used.insert(name(item.trim()));
            }
        }
    }
    used.remove("");
    used
}

/// The module of `lib.rs` that a file belongs to.
fn module_of(file: &str) -> &str {
    let inside = file.strip_prefix("src/").unwrap_or(file);
    inside.split(['/', '.']).next().unwrap_or(inside)
}

#[test]
fn each_module_uses_only_those_declared_before_it() {
    let layers = layers(&fs::read_to_string(root().join("src/lib.rs")).unwrap());
    assert!(layers.len() > 10, "{layers:?}");
    let place = |name: &str| layers.iter().position(|layer| layer == name);
    let mut wrong = Vec::new();
    for (file, text) in sources("src") {
        let Some(own) = place(module_of(&file)) else { continue };
        // A file of tests beside its module is built for tests only.
        if file.ends_with("/tests.rs") {
            continue;
        }
        for name in used(&without_tests(&text)) {
            if place(&name).is_some_and(|other| other > own) {
                wrong.push(format!("{file} uses `{name}`, which lib.rs declares after `{}`", layers[own]));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn uses_are_found_however_they_are_written() {
    let text = "use crate::{a, b::{c, d}, e};\nfn f() { crate::g::h(); } // crate::no\n#[cfg(test)]\nmod tests {\n    \
                use crate::t;\n}\nuse crate::z;\n";
    let names: Vec<String> = used(&without_tests(text)).into_iter().collect();
    assert_eq!(names, ["a", "b", "e", "g", "z"]);
    assert_eq!(layers("mod a;\npub(crate) use x;\n#[cfg(test)]\nmod t;\nmod b;\n"), ["a", "b"]);
}

#[test]
fn each_source_says_what_it_is_and_stays_short() {
    for (file, text) in sources("src").into_iter().chain(sources("tests")) {
        let head = text.lines().take_while(|line| line.starts_with("//!")).count();
        assert!((1..=10).contains(&head), "{file} opens with {head} lines of `//!`; 1 to 10 say what it is");
        let lines = text.lines().count();
        assert!(lines <= MOST_LINES, "{file} has {lines} lines; {MOST_LINES} is the limit");
    }
}

#[test]
fn the_guide_names_every_folder_of_src() {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let folders: BTreeSet<String> = sources("src")
        .iter()
        .filter_map(|(file, _)| file.rsplit_once('/').map(|(folder, _)| folder.to_owned()))
        .filter(|folder| folder != "src")
        .collect();
    for folder in folders {
        assert!(guide.contains(&folder), "DEVELOPERS.md does not name {folder}");
    }
}
