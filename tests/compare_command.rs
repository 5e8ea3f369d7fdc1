//! `compare` as a user runs it: what it reads, what it says, and its exit codes.

use insta::assert_snapshot;
use serde_json::Value;

use crate::command_line::Scratch;

/// A design without faults.
const GOOD: &str = include_str!("../templates/minimal.yaml");

/// The same with its second drawer shorter.
fn shorter() -> String {
    let at = GOOD.rfind("heavy-800").unwrap();
    format!("{}heavy-600{}", &GOOD[..at], &GOOD[at + "heavy-800".len()..])
}

/// What a run says without the hashes of inputs, which have a test of their own.
fn without_hashes(text: &str) -> String {
    let mut pieces = text.split("inputs ");
    let first = pieces.next().unwrap().to_owned();
    pieces.fold(first, |text, piece| text + "inputs HASH" + &piece[12..])
}

fn scratch() -> Scratch {
    let scratch = Scratch::new();
    scratch.write("old.yaml", format!("revision: A\n{GOOD}"));
    scratch.write("new.yaml", format!("revision: B\n{}", shorter()));
    scratch
}

#[test]
fn two_kits_are_told_line_by_line() {
    let run = scratch().run(&["compare", "old.yaml", "new.yaml"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert!(!run.out.contains('\u{1b}'));
    assert_snapshot!(without_hashes(&run.out), @r"
    old  old.yaml  old, revision A, inputs HASH
    new  new.yaml  new, revision B, inputs HASH

    to cut again: 5 panels
      main-divider-1            bores                               bores +4 -0
      main-drawer-2-box-bottom  size, contour, bores                778 x 429.1 -> 578 x 429.1; bores +11 -13
      main-drawer-2-box-left    size, contour, bores, countersinks  802 x 238.1 -> 602 x 238.1; bores +10 -11
      main-drawer-2-box-right   size, contour, bores, countersinks  802 x 238.1 -> 602 x 238.1; bores +10 -11
      main-side-right           bores                               bores +4 -4
    only moved: 1 panel
      main-drawer-2-box-back
    unchanged: 12 panels

    kind    what                         old  new  +/-
    bolt    ISO 10642 M4x25 countersunk   54   52   -2
    bolt    ISO 7380-1 M4x25 button       50   48   -2
    bolt    ISO 7380-1 M5x20 button       28   32   +4
    washer  ISO 7089 M4 plain            366  352  -14
    washer  ISO 7089 M5 plain              4    0   -4
    washer  ISO 7093-1 M4 large           50   48   -2
    washer  ISO 7093-1 M5 large           48   56   +8
    nut     ISO 4032 M5 hexagon           24   32   +8
    nut     ISO 4035 M5 thin               4    0   -4
    nut     ISO 7040 M4 lock             104  100   -4
    slides  heavy-600                      0    1   +1
    slides  heavy-800                      2    1   -1
    angle   angle-20x20x2, 576 mm          0    2   +2
    angle   angle-20x20x2, 776 mm          4    2   -2

    figure                            old     new     +/-
    mass, kg                       61.517  58.534  -2.982
    centre of gravity x, mm         469.5   451.8   -17.7
    centre of gravity y, mm          -0.4    12.5   +12.9
    centre of gravity z, mm         141.1   146.0    +4.8
    lines of the quote not priced      28      27      -1
    machine, minutes                 41.9    41.5    -0.4

    kit.json differs in: bodies, drawers, modules, strength
    ");
}

#[test]
fn several_kits_stand_side_by_side() {
    let scratch = scratch();
    scratch.write("gap.yaml", format!("{GOOD}    fronts: {{gap: 4}}\n"));
    let run = scratch.run(&["compare", "old.yaml", "new.yaml", "gap.yaml"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert_snapshot!(without_hashes(&run.out), @r"
    1  old.yaml  old, revision A, inputs HASH
    2  new.yaml  new, revision B, inputs HASH
    3  gap.yaml  gap, inputs HASH

                                        1       2     +/-       3     +/-
    panels                             18      18              18
      to cut again                              5               2
      new                                       0               0
      no longer needed                          0               0
      same shape, another name                  0               0
      covered otherwise                         0               0
      only moved                                1               0
      unchanged                                12              16
    bolts                             272     272             272
    mass, kg                       61.517  58.534  -2.982  61.493  -0.024
    sheets of birch-12 3050x1525        1       1               1
    sheets of birch-15 1525x1525        1       1               1
    lines of the quote not priced      28      27      -1      28
    machine, minutes                 41.9    41.5    -0.4    41.9     0.0
    warnings                            0       0               0
    accepted warnings                   0       0               0
    notes                               0       0               0
    ");
}

#[test]
fn a_spec_its_folder_and_its_kit_json_are_one_kit() {
    let scratch = scratch();
    assert_eq!(scratch.run(&["make", "old.yaml", "--out", "made"]).code, 0);
    let before = scratch.files("");
    for pair in [["old.yaml", "made"], ["made/kit.json", "old.yaml"], ["made", "made/kit.json"]] {
        let run = scratch.run(&["compare", pair[0], pair[1]]);
        assert_eq!((run.code, run.err.as_str()), (0, ""));
        assert!(run.out.contains("\nnothing changed: 18 panels, "), "{}", run.out);
    }
    let all = scratch.run(&["compare", "made", "new.yaml", "--all"]).out;
    assert!(all.contains("unchanged: 12 panels\n  main-back, ") && all.contains("main-base"), "{all}");
    assert!(scratch.files("") == before, "a comparison wrote something");
}

#[test]
fn machines_get_a_comparison_as_json() {
    let scratch = scratch();
    let run = scratch.run(&["compare", "old.yaml", "new.yaml", "--format", "json"]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, &json["version"], &json["kits"][1]["revision"]), (0, &1.into(), &"B".into()));
    let comparison = &json["comparisons"][0];
    assert_eq!((&comparison["same"], &comparison["old"]), (&false.into(), &"old.yaml".into()));
    assert_eq!(comparison["panels"]["recut"][0]["differs"], serde_json::json!(["bores"]));
    let run = scratch.run(&["compare", "old.yaml", "old.yaml", "--format", "json"]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, &json["comparisons"][0]["same"]), (0, &true.into()));
}

#[test]
fn designs_with_errors_are_told_as_check_does() {
    let scratch = scratch();
    scratch.write("bad.yaml", GOOD.replace("birch-12", "brich-12"));
    let run = scratch.run(&["compare", "old.yaml", "bad.yaml", "bad.yaml"]);
    assert_eq!(run.code, 1);
    assert_eq!(run.err, scratch.run(&["check", "bad.yaml"]).err.repeat(2));
    assert_eq!(run.out, "bad.yaml: 1 error; nothing is compared until the errors are gone\n".repeat(2));
    let run = scratch.run(&["compare", "bad.yaml", "old.yaml", "--format", "json"]);
    let json: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.code, run.err.as_str(), &json["faulty"][0]["errors"]), (1, "", &1.into()));
}

#[test]
fn what_cannot_be_compared_exits_with_2_and_says_why() {
    let scratch = scratch();
    assert_eq!(scratch.run(&["make", "old.yaml", "--out", "made"]).code, 0);
    let kit = String::from_utf8(scratch.files("made")["kit.json"].clone()).unwrap();
    scratch.write("later.json", kit.replacen("\"version\": 1", "\"version\": 9", 1));
    scratch.write("letter.json", "dear");
    scratch.write("empty/notes.txt", "");
    for (second, said) in [
        ("none.yaml", "cannot read `none.yaml`: there is no such file"),
        ("none.json", "cannot read `none.json`: there is no such file"),
        (
            "later.json",
            "cannot compare `later.json`: it is of version 9 of kit.json, and this program reads version 1; make that kit anew",
        ),
        ("letter.json", "cannot compare `letter.json`: it is no kit.json of ours"),
        ("empty", "cannot compare `empty`: it holds no kit.json; give a folder that `make` wrote"),
    ] {
        let run = scratch.run(&["compare", "made", second]);
        assert_eq!((run.code, run.out.as_str()), (2, ""), "{second}");
        assert!(run.err.contains(said), "{second}: {}", run.err);
    }
    let run = scratch.run(&["compare", "made"]);
    assert!(run.code == 2 && run.err.contains("2 values required"), "{}", run.err);
}

#[test]
fn a_page_shows_all_kits_in_one_scale_beside_their_figures() {
    let scratch = scratch();
    assert_eq!(scratch.run(&["make", "old.yaml", "--out", "made"]).code, 0);
    let run = scratch.run(&["compare", "made", "new.yaml", "old.yaml", "--page", "pages/all.html"]);
    assert_eq!((run.code, run.err.as_str()), (0, "written to pages/all.html\n"));
    let page = String::from_utf8(scratch.files("pages")["all.html"].clone()).unwrap();
    // Both kinds of input have both pictures; nothing is fetched from anywhere.
    assert_eq!(page.matches("<figure class=\"view\">").count(), 6);
    for said in
        ["1 made: shut", "2 new.yaml: from the tailgate", "main-drawer-2-box-left (size, contour, bores"]
    {
        assert!(page.contains(said), "no `{said}`");
    }
    for fetched in ["<script", " src=", "href=\"http", "url("] {
        assert!(!page.contains(fetched), "{fetched}");
    }
    // The same kit from its folder and from its spec is the same picture.
    let picture = |title: &str| {
        let at = page.find(title).unwrap();
        let to = at + page[at..].find("</svg>").unwrap();
        page[at..to].replace(title, "")
    };
    assert_eq!(picture("1 made: shut"), picture("3 old.yaml: shut"));
    // Once more over it; a file of somebody's own is left alone, and nothing is built before that is told.
    assert_eq!(scratch.run(&["compare", "made", "new.yaml", "--page", "pages/all.html"]).code, 0);
    let run = scratch.run(&["compare", "made", "new.yaml", "--page", "old.yaml"]);
    assert_eq!((run.code, run.out.as_str()), (2, ""));
    assert!(run.err.contains("it is no page of `baywright compare`"), "{}", run.err);
    assert_eq!(scratch.files("pages").len(), 1);
}
