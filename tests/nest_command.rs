//! `baywright nest` as a user runs it: lists, drawings, sheets, faults, and the example list of the demos.

use std::fs;

use serde_json::Value;

use crate::command_line::Scratch;

const LIST: &str =
    "name,length,width,quantity,grain\nshelf,800,300,4,kept\nside,1900,320,2,kept\nblock,100,80,6,free\n";

/// An equilateral triangle of lines, and what stands around it.
fn triangle(units: &str, lines: usize) -> String {
    let corners = [
        "10\n0\n20\n0\n11\n200\n21\n0",
        "10\n200\n20\n0\n11\n100\n21\n173.2",
        "10\n100\n20\n173.2\n11\n0\n21\n0",
    ];
    let lines: Vec<String> = corners.iter().take(lines).map(|ends| format!("0\nLINE\n{ends}\n")).collect();
    let lines = lines.concat();
    format!("0\nSECTION\n2\nHEADER\n{units}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{lines}0\nENDSEC\n0\nEOF\n")
}

const MM: &str = "9\n$INSUNITS\n70\n4\n";

#[test]
fn a_list_becomes_sheets() {
    let scratch = Scratch::new();
    scratch.write("parts.csv", LIST);
    let run = scratch.run(&["nest", "parts.csv", "--sheet", "2440x1220"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    for said in ["parts: 12 parts\n", "of board (2440x1220), ", "no findings\n", "written to out/parts ("] {
        assert!(run.out.contains(said), "no `{said}` in {}", run.out);
    }
    let files = scratch.files("out/parts");
    for file in [
        "sheets/board-1.dxf",
        "sheets/board-1.svg",
        "parts/shelf.dxf",
        "cut-list.csv",
        "report.html",
        "manifest.json",
    ] {
        assert!(files.contains_key(file), "no {file} in {:?}", files.keys());
    }
    let list = String::from_utf8(files["cut-list.csv"].clone()).unwrap();
    assert!(list.contains("shelf,4,board,,800,300,kept,up,0,0.2400,"), "{list}");
    let report = String::from_utf8(files["report.html"].clone()).unwrap();
    assert!(report.contains("fewer than") && report.contains("<svg"), "a proof and pictures");
    // Again, as whole as before, and in place of it.
    assert_eq!(scratch.run(&["nest", "parts.csv", "--sheet", "2440x1220"]).code, 0);
    assert!(scratch.files("out/parts") == files);
    let run = scratch.run(&[
        "nest",
        "parts.csv",
        "--sheet",
        "2440x1220",
        "--saw",
        "--kerf",
        "3",
        "--out",
        "sawn",
        "--format",
        "json",
    ]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, &json["written"], &json["sheets"]["parts"]), (0, &"sawn".into(), &12.into()));
}

#[test]
fn a_folder_of_drawings_becomes_sheets() {
    let scratch = Scratch::new();
    scratch.write("wedges/one.dxf", triangle(MM, 3));
    scratch.write("wedges/two.DXF", triangle("", 3));
    scratch.write(
        "wedges/three.svg",
        "<svg width='300mm' height='200mm' viewBox='0 0 300 200'><path d='M0 200H300L0 0z'/></svg>",
    );
    scratch.write("wedges/notes.txt", "none of ours");
    let run = scratch.run(&["nest", "wedges", "--sheet", "600x400", "--quick"]);
    assert_eq!(run.code, 1);
    assert!(run.err.contains("error[drawing-without-units]: `two.DXF`"), "{}", run.err);
    assert!(run.out.contains("nothing is written") && scratch.files("out").is_empty(), "{}", run.out);
    let run = scratch.run(&["nest", "wedges", "--sheet", "600x400", "--quick", "--units", "mm"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert!(run.out.starts_with("wedges: 3 parts\n  1 sheet of board"), "{}", run.out);
    let run = scratch.run(&["nest", "wedges/one.dxf", "--sheet", "600x400", "--quick"]);
    assert!(run.code == 0 && run.out.contains("written to out/one ("), "{run:?}");
}

#[test]
fn faults_of_lists_and_drawings_are_told_together() {
    let scratch = Scratch::new();
    scratch.write("open.dxf", triangle(MM, 2));
    scratch.write(
        "parts.csv",
        "name,length,width,outline\nplate,,,open.dxf\nother,,,none.dxf\nagain,,,open.dxf\n",
    );
    let run = scratch.run(&["nest", "parts.csv", "--sheet", "2440x1220"]);
    assert_eq!(run.code, 1);
    for said in [
        "error[contour-open]: `open.dxf`: a contour is open: it starts at (0, 0)",
        "parts.csv:2:9",
        "error[drawing-not-found]: cannot read `none.dxf`: there is no such file",
        "parts.csv:3:9",
    ] {
        assert!(run.err.contains(said), "no `{said}` in {}", run.err);
    }
    assert_eq!(run.err.matches("contour-open").count(), 1, "a drawing's faults are told once");
    scratch.write("parts.csv", "name,length,width\ntop,3000,1300\nlong,2430,100\nshelf,800,300\n");
    let run = scratch.run(&["nest", "parts.csv", "--sheet", "2440x1220"]);
    assert!(run.code == 1 && run.err.contains("a sheet of at least 3020 x 1320 mm would do; or"), "{run:?}");
    assert_eq!(run.err.matches("part-larger-than-sheet").count(), 2, "{}", run.err);
    scratch.write("parts.csv", "name,length,width,material\ntop,300,130,brich-12\n");
    let run = scratch.run(&["nest", "parts.csv"]);
    assert!(run.code == 1 && run.err.contains("did you mean `birch-12`?"), "{run:?}");
}

#[test]
fn what_cannot_be_nested_exits_with_2_and_says_why() {
    let scratch = Scratch::new();
    scratch.write("parts.csv", LIST);
    scratch.write("empty/notes.txt", "");
    for (arguments, said) in [
        (vec!["nest"], "required arguments were not provided"),
        (vec!["nest", "none.csv", "--sheet", "2440x1220"], "cannot read `none.csv`: there is no such file"),
        (vec!["nest", "empty", "--sheet", "2440x1220"], "there is no DXF or SVG file in `empty`"),
        (vec!["nest", "parts.csv", "--sheet", "2440"], "there is no `x` in the size"),
        (vec!["nest", "parts.csv", "--sheet", "2440x1220*0"], "`0` is no quantity"),
        (
            vec!["nest", "parts.csv", "--sheet", "2440x1220", "--gap", "1220"],
            "a gap of 1220 mm is larger than a sheet",
        ),
        (
            vec!["nest", "parts.csv", "--sheet", "2440x1220", "--trim", "610"],
            "leaves nothing of a sheet of 2440x1220",
        ),
        (vec!["nest", "parts.csv", "--sheet", "2440x1220", "--gap", "-1"], "unexpected argument"),
        (vec!["nest", "parts.csv", "--sheet", "2440x1220", "--gap=-1"], "a number from 0"),
        (vec!["nest", "parts.csv", "--sheet", "2440x1220", "--kerf", "3"], "--saw"),
        (
            vec!["nest", "parts.csv", "--sheet", "2440x1220", "--quick", "--effort", "3"],
            "cannot be used with",
        ),
        (vec!["nest", "parts.csv", "--sheet", "2440x1220", "--units", "feet"], "invalid value 'feet'"),
    ] {
        let run = scratch.run(&arguments);
        assert_eq!((run.code, run.out.as_str()), (2, ""), "{arguments:?}: {run:?}");
        assert!(run.err.contains(said), "{arguments:?} says {}", run.err);
        assert!(scratch.files("out").is_empty());
    }
}

#[test]
fn the_example_list_is_nested_without_a_finding() {
    let list = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-designs/cut-list/parts.csv");
    let scratch = Scratch::new();
    let run = scratch.run(&["nest", list, "--sheet", "2440x1220", "--out", "out"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{}", run.out);
    let files = scratch.files("out");
    let panel = String::from_utf8(files["parts/cable-panel.dxf"].clone()).unwrap();
    // Its outline and two openings.
    assert_eq!(panel.matches("LWPOLYLINE").count(), 3, "{panel}");
    assert!(
        fs::read_to_string(list).unwrap().contains("bracket.dxf")
            && files.contains_key("parts/corner-bracket.dxf")
    );
}
