//! `sweep` as a user runs it: what it writes, shares that are merged, what it refuses, and its exit codes.

use serde_json::Value;

use crate::command_line::Scratch;

/// A design without faults, whose carcase may be too high for its bay.
const GOOD: &str = include_str!("../templates/minimal.yaml");
const HEIGHTS: &str = "carcases.main.height=200..900:350";

fn scratch() -> Scratch {
    let scratch = Scratch::new();
    scratch.write("kit.yaml", format!("name: weekend\nsizes: {{gap: 3}}\n{GOOD}"));
    scratch
}

fn text(scratch: &Scratch, folder: &str, file: &str) -> String {
    String::from_utf8(scratch.files(folder)[file].clone()).unwrap()
}

#[test]
fn a_sweep_writes_a_row_for_each_variant_and_a_plot() {
    let scratch = scratch();
    let run = scratch.run(&["sweep", "kit.yaml", "--vary", HEIGHTS]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    for said in [
        "kit.yaml: 3 variants over carcases.main.height (mm), 2 without errors\n",
        "  mass (kg): ",
        "  1 variant without a kit: outside-bay\n",
        "written to out/weekend-sweep (3 files)\n",
    ] {
        assert!(run.out.contains(said), "no `{said}` in {}", run.out);
    }
    let files: Vec<String> = scratch.files("out").into_keys().collect();
    let names = ["manifest.json", "sweep.csv", "sweep.svg"].map(|file| format!("weekend-sweep/{file}"));
    assert_eq!(files, names);
    let table = text(&scratch, "out/weekend-sweep", "sweep.csv");
    let lines: Vec<&str> = table.lines().collect();
    assert_eq!(
        lines[0],
        "carcases.main.height (mm),mass (kg),panels,sheets,sheet yield (%),cost,currency,lines not priced,\
         least gross margin (kg),least axle margin (kg),errors,warnings,rule,finding"
    );
    assert_eq!(lines.len(), 4, "{table}");
    // What a `make` of the same height weighs.
    scratch.write("high.yaml", GOOD.replace("height: 300", "height: 550"));
    let made = scratch.run(&["check", "high.yaml", "--format", "json"]);
    let made: Value = serde_json::from_str(&made.out).unwrap();
    let cells: Vec<&str> = lines[2].split(',').collect();
    let mass: f64 = cells[1].parse().unwrap();
    assert!(cells[0] == "550" && (mass - made["kit"]["mass_kg"].as_f64().unwrap()).abs() < 0.001, "{table}");
    assert_eq!(cells[2], made["kit"]["panels"].to_string());
    assert!(lines[3].starts_with("900,,,,,,,,,,") && lines[3].contains(",outside-bay,"), "{}", lines[3]);
    assert!(text(&scratch, "out/weekend-sweep", "sweep.svg").contains("a = outside-bay: 900"));
    // The same with one thread, over the old result; other files are left alone.
    let run = scratch.run(&["sweep", "kit.yaml", "--vary", HEIGHTS, "--jobs", "1", "--format", "json"]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, &json["without_errors"], &json["is_piece"]), (0, &2.into(), &false.into()));
    assert_eq!(
        (&json["variants"][1]["values"][0], &json["variants"][2]["mass_kg"]),
        (&550.0.into(), &Value::Null)
    );
    assert_eq!(text(&scratch, "out/weekend-sweep", "sweep.csv"), table);
    scratch.write("out/weekend-sweep/notes.txt", "mine");
    let run = scratch.run(&["sweep", "kit.yaml", "--vary", HEIGHTS]);
    assert!(run.code == 2 && run.err.contains("would be lost: notes.txt"), "{}", run.err);
}

#[test]
fn merged_shares_are_the_whole_byte_for_byte() {
    let scratch = scratch();
    let vary = ["--vary", "carcases.main.height=300..900:600", "--vary", "carcases.0.depth=880..900:20"];
    let sweep = |more: &[&str]| {
        let arguments = [&["sweep", "kit.yaml"], &vary[..], more].concat();
        scratch.run(&arguments)
    };
    assert_eq!(sweep(&["--out", "whole"]).code, 0);
    let run = sweep(&["--shard", "1/2"]);
    assert!(run.code == 0 && run.out.contains("kit.yaml: 2 variants of 4 over "), "{} {}", run.out, run.err);
    assert!(run.out.contains("this is a piece of the sweep"), "{}", run.out);
    let pieces: Vec<String> = scratch.files("out/weekend-sweep-1-of-2").into_keys().collect();
    assert_eq!(pieces, ["manifest.json", "sweep.csv"]);
    let alone = scratch.run(&["sweep", "--merge", "out/weekend-sweep-1-of-2", "--out", "merged"]);
    assert!(alone.code == 2 && alone.err.contains("2 of 4 variants are missing: 2, 4;"), "{}", alone.err);
    assert_eq!(sweep(&["--shard", "2/2", "--out", "second"]).code, 0);
    let run =
        scratch.run(&["sweep", "--merge", "second/sweep.csv", "out/weekend-sweep-1-of-2", "--out", "merged"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    for file in ["sweep.csv", "sweep.svg"] {
        assert!(text(&scratch, "merged", file) == text(&scratch, "whole", file), "{file}");
    }
    // The same name, another spec.
    scratch.write("kit.yaml", format!("name: weekend\nsizes: {{gap: 4}}\n{GOOD}"));
    assert_eq!(sweep(&["--shard", "2/2", "--out", "other"]).code, 0);
    let run = scratch.run(&["sweep", "--merge", "out/weekend-sweep-1-of-2", "other", "--out", "mixed"]);
    assert!(run.code == 2 && run.err.contains("are pieces of different sweeps"), "{}", run.err);
    let run = scratch.run(&["sweep", "--merge", "whole", "--out", "mixed"]);
    assert!(run.code == 2 && run.err.contains("it is a whole sweep, not a piece of one"), "{}", run.err);
    assert!(scratch.files("mixed").is_empty());
}

#[test]
fn what_cannot_be_swept_says_why_and_writes_nothing() {
    let scratch = scratch();
    for (arguments, said) in [
        (vec!["--vary", "gpa=1..2:1"], "did you mean `gap`?"),
        (vec!["--vary", "carcases.main.panel=1..2:1"], "is the text `birch-12`, no number"),
        (vec!["--vary", "gap=1..2:0"], "the step is 0"),
        (vec!["--vary", "gap=2..1:1"], "2 is beyond 1; write gap=1..2:1"),
        (vec!["--vary", "gap=1..2:1", "--vary", "gap=1..3:1"], "is varied by --vary gap=1..2:1 already"),
        (vec!["--vary", "gap=0..1000:0.001"], "100000 is the limit"),
        (vec!["--vary", "gap=1..2:1", "--shard", "3/2"], "there is no share 3 of 2"),
        (vec![], "--vary <NAME=FROM..TO:STEP>"),
    ] {
        let run = scratch.run(&[&["sweep", "kit.yaml"], &arguments[..]].concat());
        assert_eq!((run.code, run.out.as_str()), (2, ""), "{arguments:?}");
        assert!(run.err.contains(said), "{arguments:?}: {}", run.err);
    }
    scratch.write("bad.yaml", "carcases: [");
    let run = scratch.run(&["sweep", "bad.yaml", "--vary", "gap=1..2:1"]);
    assert_eq!(run.code, 1);
    assert_eq!(run.err, scratch.run(&["check", "bad.yaml"]).err);
    assert!(scratch.files("out").is_empty());
}

/// Stopped when some variants are done and most are not; how long that takes depends on the machine, so that it is tried
/// with more and more patience.
#[cfg(unix)]
#[test]
fn ctrl_c_keeps_what_is_done_as_a_piece() {
    use rustix::process::{Pid, Signal, kill_process};
    let scratch = scratch();
    let arguments = ["sweep", "kit.yaml", "--vary", "carcases.main.height=300..310:0.001", "--jobs", "1"];
    let stopped = [1, 2, 4, 8, 16, 32].into_iter().find_map(|seconds| {
        let program = scratch.begin(&arguments);
        std::thread::sleep(std::time::Duration::from_secs(seconds));
        kill_process(Pid::from_child(&program), Signal::INT).unwrap();
        let output = program.wait_with_output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        // Before the first variant is done nothing is written; before the program listens, the signal ends it.
        let done =
            said.strip_prefix("error: stopped: ")?.split_once(" of 10001 variants are done")?.0.parse();
        Some((output.status.code(), done.unwrap(), String::from_utf8(output.stdout).unwrap()))
    });
    let (code, done, out): (_, usize, _) = stopped.expect("no variant was done in half a minute");
    assert_eq!(code, Some(2));
    assert!(done > 0 && done < 10_001, "{done}");
    assert!(out.contains(" of 10001 over ") && out.contains("this is a piece of the sweep"), "{out}");
    let table = text(&scratch, "out/weekend-sweep", "sweep.csv");
    assert!(table.starts_with("variant (of 10001 in sweep "), "{table}");
    assert_eq!(table.lines().count(), 1 + done);
    // What is there are the first ones, as they come without a stop.
    let run =
        scratch.run(&["sweep", "kit.yaml", "--vary", "carcases.main.height=300..300:1", "--out", "one"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let first = table.lines().nth(1).unwrap().strip_prefix("1,").unwrap();
    assert_eq!(text(&scratch, "one", "sweep.csv").lines().nth(1), Some(first));
    let merged = scratch.run(&["sweep", "--merge", "out/weekend-sweep", "--out", "merged"]);
    assert!(merged.code == 2 && merged.err.contains("of 10001 variants are missing"), "{}", merged.err);
}
