//! Whole texts through `read`: what a good spec comes to, and what is found in bad ones, as people see it.

use insta::assert_snapshot;
use proptest::prelude::*;

use super::*;
use crate::diag::human;

/// A spec that uses every key of the language.
const EVERY_KEY: &str = include_str!("../../tests/suite/spec/every-key.yaml");
/// The smallest useful spec.
const SMALL: &str = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: bay.width - 16
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800}
      - drawer: {slide: heavy-800}
";

/// Where specs and the findings expected in them stand.
const SUITE: &str = "tests/suite/spec";

/// Compares a text with the one kept in the suite.
fn same(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(format!("{}/{SUITE}", env!("CARGO_MANIFEST_DIR")));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| assert_snapshot!(name, text));
}

fn files(from: &str, path: &str) -> Result<(String, String), String> {
    let text = match path {
        "van.yaml" => "name: van\nunits: inch\nbay: {width: 40, depth: 40 + 1, height: 30}\n",
        "bad-van.yaml" => "bay: {width: 40, depth: -1}\n",
        "stocked-shop.yaml" => "units: inch\nstock: shelf/stock.yaml\noffcuts: {smallest: [20, 10]}\n",
        // A workshop's stock file stands beside the workshop's.
        "shelf/stock.yaml" if from == "kit/stocked-shop.yaml" => {
            "units: inch\nmaterials: {birch-12: [{length: 40, width: 20, offcut: true, price: 9, \
             defects: [{x: 1, y: 2, length: 5, width: 4}]}, {length: 60, width: 60, quantity: 4}]}\n"
        }
        "shop.yaml" => {
            "name: shop\ntrim: 12\nmaterials: {oak-10: {nominal: 10, stock: [{length: 2500, width: 1250}]}}\n"
        }
        "cut.json" => "{}",
        "wing.dxf" => {
            "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n70\n1\n10\n0\n20\n-600\n10\n300\n20\n-600\n10\n300\n20\n-500\n\
             0\nENDSEC\n0\nEOF\n"
        }
        _ => return Err("there is no such file".to_owned()),
    };
    Ok((format!("kit/{path}"), text.to_owned()))
}

fn run(text: &str) -> (Option<Design>, Vec<Finding>, Sources) {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let design = Text { name: "kit.yaml", text };
    let input = Input { design, fallback_name: "kit", vehicle: None, workshop: None };
    let design = read(&mut findings, &mut sources, &input, &mut files);
    (design, findings.sorted(), sources)
}

fn good(text: &str) -> Design {
    let (design, findings, sources) = run(text);
    assert!(findings.is_empty(), "{}", human(&findings, &sources, false));
    design.unwrap()
}

/// The findings in a bad spec as a terminal shows them.
fn bad(text: &str) -> String {
    let (design, findings, sources) = run(text);
    assert!(design.is_none(), "a design was given out in spite of errors");
    human(&findings, &sources, false)
}

/// Rule and underlined text of each finding, in short.
fn short(text: &str) -> Vec<String> {
    let (design, findings, sources) = run(text);
    assert_eq!(design.is_none(), findings.iter().any(Finding::is_error));
    findings
        .iter()
        .map(|f| format!("{} `{}`: {}", f.rule.name, rules::shown(sources.snippet(f.at)), f.message))
        .collect()
}

#[test]
fn a_wing_keeps_the_trims_clearance_and_runs_forward() {
    let text = format!(
        "{SMALL}clearances: {{trim: 6}}\nwings: [{{id: w, side: left, points: [{{x: 900, y: 560}}, {{x: 60, y: 550}}]}}]\n"
    );
    let wing = &good(&text).wings[0];
    let WingOutline::Measured(line) = &wing.outline else { panic!("not measured") };
    assert_eq!((wing.beside.value.as_str(), line.clearance.value), ("main", 6.0));
    assert_eq!(line.points.value.iter().map(|p| p.x.value).collect::<Vec<_>>(), [60.0, 900.0]);
}

#[test]
fn a_drawing_of_a_wing_is_never_guessed_at() {
    let wing = |keys: &str| format!("{SMALL}wings: [{{id: w, side: left, outline: {{{keys}}}}}]\n");
    assert!(good(&wing("file: wing.dxf, units: inch")).wings.len() == 1);
    for (keys, fault) in [
        ("file: wing.dxf", "drawing-without-units `wing.dxf`: `wing.dxf`: the drawing does not say its unit"),
        ("file: none.dxf", "file-unreadable `none.dxf`: cannot read `none.dxf`: there is no such file"),
        ("file: cut.json", "drawing-unreadable `cut.json`: `cut.json`: "),
    ] {
        let found = short(&wing(keys));
        assert!(found.len() == 1 && found[0].starts_with(fault), "{found:?}");
    }
}

/// The small spec with one piece replaced.
fn with(old: &str, new: &str) -> String {
    assert!(SMALL.contains(old));
    SMALL.replacen(old, new, 1)
}

#[test]
fn the_smallest_spec_has_defaults() {
    let design = good(SMALL);
    let main = &design.carcases[0];
    assert_eq!(design.name.value, "kit");
    assert_eq!((main.width.value, main.depth.value, main.height.value), (1024.0, 900.0, 300.0));
    assert_eq!((main.panels.fronts.value.as_str(), main.fronts.gap.value), ("birch-12", 3.0));
    assert_eq!((design.workshop.trim.value, design.workshop.tool.diameter.value), (10.0, 6.0));
    let Content::Columns(cells) = &main.cell.content else { panic!("no columns") };
    let Content::Drawer(drawer) = &cells[1].content else { panic!("no drawer") };
    assert_eq!((drawer.slide.value.as_str(), drawer.panel.value.as_str()), ("heavy-800", "birch-12"));
    assert_eq!((drawer.clear_above.value, drawer.clear_below.value), (15.0, 10.0));
}

#[test]
fn a_saw_has_defaults_and_limits_and_follows_the_unit() {
    let saw = good(SMALL).workshop;
    assert_eq!((saw.cutting.value, saw.saw.kerf.value, saw.saw.stages.value), (Cutting::Router, 3.2, 3));
    let saw =
        good(&format!("{SMALL}workshop: {{units: inch, cutting: saw, saw: {{kerf: 1/8, stages: 4}}}}\n"))
            .workshop;
    assert_eq!((saw.cutting.value, saw.saw.kerf.value, saw.saw.stages.value), (Cutting::Saw, 3.175, 4));
    for (saw, fault) in [
        ("kerf: 0", "out-of-range `0`: 0 mm must be more than 0 mm"),
        ("kerf: 2440", "out-of-range `2440`: 2440 mm is beyond 12 mm"),
        (
            "stages: 0",
            "out-of-range `0`: stages: 0 cuts no part out of a sheet: its length and its width take one stage each",
        ),
        (
            "stages: 1",
            "out-of-range `1`: stages: 1 cuts no part out of a sheet: its length and its width take one stage each",
        ),
        ("stages: 2.5", "out-of-range `2.5`: 2.5 is no whole number of stages"),
        ("stages: -1", "out-of-range `-1`: -1 stages must be at least 0 stages"),
        ("stages: 21", "out-of-range `21`: 21 stages is beyond 20 stages"),
    ] {
        assert_eq!(short(&format!("{SMALL}workshop: {{saw: {{{saw}}}}}\n")), [fault]);
    }
}

#[test]
fn every_key_is_read_and_has_a_place() {
    let (design, findings, sources) = run(EVERY_KEY);
    assert!(findings.is_empty(), "{}", human(&findings, &sources, false));
    let debug = format!("{:?}", design.unwrap());
    // A sentinel place would be at the end of all numbers.
    assert!(!debug.contains(&u32::MAX.to_string()));
    assert_eq!(debug.matches("start: 0, end: 0").count(), 0, "{debug}");
    assert_snapshot!(debug.matches("At {").count(), @"438");
    // Every key of the schema stands in the spec, so a new key without a line there is noticed.
    let mut keys = Vec::new();
    keys_of(&schema(), &mut keys);
    for key in keys {
        assert!(EVERY_KEY.contains(&format!("{key}:")), "the spec of every key lacks `{key}`");
    }
}

fn keys_of(schema: &Value, keys: &mut Vec<String>) {
    if let Some(properties) = schema["properties"].as_object() {
        keys.extend(properties.keys().cloned());
    }
    match schema {
        Value::Object(map) => map.values().for_each(|value| keys_of(value, keys)),
        Value::Array(list) => list.iter().for_each(|value| keys_of(value, keys)),
        _ => {}
    }
}

#[test]
fn a_revision_is_one_short_line() {
    let with = |revision: &str| short(&format!("revision: {revision}\n{SMALL}"));
    assert_eq!(with("B"), Vec::<String>::new());
    assert_eq!(with(&format!("\"{}\"", "9".repeat(40))), Vec::<String>::new());
    let long = "b".repeat(41);
    assert_eq!(with(&long), [format!("bad-name `{long}`: this text has more than 40 characters")]);
    assert_eq!(with(&"b".repeat(401)).len(), 1);
    assert_eq!(with("' '"), ["bad-name `' '`: this text is empty"]);
    assert!(with("\"a\\nb\"")[0].contains("control characters or more than one line"));
    assert_eq!(with("3"), ["wrong-kind `3`: `revision` must be text, not a number"]);
    let design = good(&format!("revision: 2026-11\n{SMALL}"));
    assert_eq!(design.revision.unwrap().value, "2026-11");
}

#[test]
fn names_are_compared_whatever_their_place() {
    let carcase = "{id: a, width: 9, depth: 9, height: 9, panel: p, cell: {open: }}";
    let text = format!(
        "bay: {{width: 9, depth: 9, height: 9}}\nsizes: {{\"a\": 1}}\ncarcases: [&c {carcase}, *c]\n"
    );
    assert_eq!(short(&text), ["name-twice `*c`: two carcases are called `a`"]);
}

#[test]
fn places_are_those_of_the_values() {
    let text = with("width: bay.width - 16", "width: \"bay.width - 16\" # wide");
    let (design, _, sources) = run(&text);
    let design = design.unwrap();
    let main = &design.carcases[0];
    assert_eq!(sources.snippet(main.width.span), "\"bay.width - 16\"");
    assert_eq!(sources.snippet(main.span), "id: main");
    assert_eq!(sources.snippet(design.vehicle.bay.span), "{width: 1040, depth: 1050, height: 800}");
    let Content::Columns(cells) = &main.cell.content else { panic!("no columns") };
    assert_eq!(sources.snippet(cells[0].span), "drawer: {slide: heavy-800}");
    let Content::Drawer(drawer) = &cells[0].content else { panic!("no drawer") };
    assert_eq!(sources.snippet(drawer.span), "{slide: heavy-800}");
}

#[test]
fn inches_become_millimetres() {
    let text = "units: inch\nsizes: {gap: 0.5}\nbay: {width: 40, depth: 40, height: 30}\ncarcases:\n  - {id: a, \
                width: bay.width - 2 * gap, depth: 35, height: 12, panel: p, cell: {drawer: {slide: s, depth: 20}}}\n";
    let design = good(text);
    assert!((design.carcases[0].width.value - 39.0 * 25.4).abs() < 1e-9);
    assert!((design.vehicle.bay.width.value - 1016.0).abs() < 1e-9);
    // A file of its own has units of its own.
    let design =
        good(&with("bay: {width: 1040, depth: 1050, height: 800}", "vehicle: van.yaml\nworkshop: shop.yaml"));
    assert!((design.vehicle.bay.depth.value - 41.0 * 25.4).abs() < 1e-9);
    assert!((design.carcases[0].width.value - (1016.0 - 16.0)).abs() < 1e-9);
    assert_eq!(design.workshop.materials[0].id.value, "oak-10");
}

#[test]
fn the_order_of_carcases_does_not_matter() {
    let carcase =
        |id: &str| format!("  - {{id: {id}, width: 9, depth: 9, height: 9, panel: p, cell: {{open: }}}}\n");
    let kit = |a: &str, b: &str| {
        good(&format!("bay: {{width: 9, depth: 9, height: 9}}\ncarcases:\n{}{}", carcase(a), carcase(b)))
    };
    let ids = |design: Design| design.carcases.into_iter().map(|c| c.id.value).collect::<Vec<_>>();
    assert_eq!(ids(kit("a", "b")), ids(kit("b", "a")));
}

#[test]
fn other_vehicle_and_workshop_go_before_the_designs_own() {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let vehicle = Text { name: "other.yaml", text: "bay: {width: 900, depth: 1000, height: 700}" };
    let workshop = Text { name: "shop.yaml", text: "trim: 7" };
    let text = with("bay: {width: 1040, depth: 1050, height: 800}", "vehicle: missing.yaml");
    let design = Text { name: "kit.yaml", text: &text };
    let input = Input { design, fallback_name: "kit", vehicle: Some(vehicle), workshop: Some(workshop) };
    let design = read(&mut findings, &mut sources, &input, &mut |_, _| panic!("opened a file")).unwrap();
    assert_eq!((design.carcases[0].width.value, design.workshop.trim.value), (884.0, 7.0));
    assert_eq!(sources.name(design.workshop.trim.span.source), "shop.yaml");
}

#[test]
fn holding_has_limits_and_one_way_to_count_tabs() {
    let with_holding = |keys: &str| format!("workshop: {{holding: {{{keys}}}}}\n{SMALL}");
    let inches = good(&with_holding("small: {area: 10}").replace("workshop: {", "workshop: {units: inch, "));
    assert!((inches.workshop.holding.small_area.value - 6451.6).abs() < 1e-9);
    assert_eq!(good(&with_holding("tabs: {number: 3}")).workshop.holding.tabs.count, TabCount::Number(3));
    for (keys, message) in [
        ("small: {width: 1200}", "1200 mm is beyond 1000 mm"),
        ("small: {area: -1}", "-1 mm2 must be at least 0 mm2"),
        ("tabs: {width: 0}", "0 mm must be at least 0.5 mm"),
        ("tabs: {number: 1}", "1 tabs must be at least 2 tabs"),
        ("tabs: {number: 2.5}", "2.5 is no whole number of tabs"),
        ("tabs: {number: 3, spacing: 100}", "both `spacing` and `number` are given"),
        ("skin: {thickness: 6}", "6 mm is beyond 5 mm"),
        ("method: glue", "glue"),
    ] {
        let found = short(&with_holding(keys));
        assert!(found.len() == 1 && found[0].contains(message), "{keys}: {found:?}");
    }
}

#[test]
fn all_faults_come_at_once() {
    for name in ["faults-of-shape", "faults-of-value"] {
        let path = format!("{}/{SUITE}/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
        same(name, &bad(&std::fs::read_to_string(path).unwrap()));
    }
}

#[test]
fn faults_in_other_files_show_their_own_text() {
    assert_snapshot!(bad(&with("bay: {width: 1040, depth: 1050, height: 800}", "vehicle: bad-van.yaml")), @r"
        error[missing-key]: bay has no `height`
         --> kit/bad-van.yaml:1:6
          |
        1 | bay: {width: 40, depth: -1}
          |      ^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: add `height`: from the floor to the roof lining where it is lowest (length)
        ");
}

#[test]
fn short_findings() {
    let bay = "bay: {width: 1040, depth: 1050, height: 800}";
    let mut seen = String::new();
    for text in [
        String::new(),
        "# nothing".to_owned(),
        "3".to_owned(),
        with(bay, ""),
        with(bay, &format!("baywright: 2\nwhatever: 3\n{bay}")),
        with(bay, &format!("baywright: 1\n{bay}")),
        with(bay, &format!("baywright: one\n{bay}")),
        with("900", ".nan"),
        with("900", "-.inf"),
        with("900", "1e999"),
        with("900", "0"),
        with("900", "99999999999999999999999999"),
        with("900", "99999999999999999999"),
        with("900", "yes"),
        with("900", "true"),
        with("900", "!!int 900"),
        with("900", "!secret 900"),
        with("900", "1 / 0"),
        with("900", ">-\n      1 +\n      x"),
        with("900", "(((("),
        with("id: main", "id: ../main"),
        with("id: main", "id: \u{202e}main"),
        with("id: main", &format!("id: {}", "m".repeat(61))),
        with("columns:", "rows: []\n    columns:"),
        with("id: main", "id: main\n    <<: {width: 3}"),
        with("id: main", "id: main\n    1: 2\n    [a]: 3\n    : 4"),
        "a: [1, 2\nb: 3".to_owned(),
        "a: b: c".to_owned(),
        "a:\n\t- b".to_owned(),
        "a: 'x".to_owned(),
        "a: *x".to_owned(),
        format!("{SMALL}---\na: 1\n"),
    ] {
        for line in short(&text) {
            seen.push_str(&line);
            seen.push('\n');
        }
        seen.push_str("--\n");
    }
    same("short-findings", &seen);
}

#[test]
fn large_deep_and_bombing_texts_take_little_time() {
    // As the program itself: on a stack of a known size.
    let thread = std::thread::Builder::new().stack_size(crate::abreast::STACK);
    thread.spawn(large_deep_and_bombing_texts).unwrap().join().unwrap();
}

fn large_deep_and_bombing_texts() {
    let anchors = |n: usize| {
        (1..n).fold("a0: &a0 [x]\n".to_owned(), |text, i| {
            let aliases = vec![format!("*a{}", i - 1); 10].join(", ");
            format!("{text}a{i}: &a{i} [{aliases}]\n")
        })
    };
    let many = |line: fn(usize) -> String, n: usize| (0..n).map(line).collect::<Vec<String>>().concat();
    let block = many(|i| format!("{}a:\n", " ".repeat(i)), 2_000);
    for (text, rule) in [
        ("a".repeat(10_000_000), "spec-too-large"),
        ("[".repeat(10_000), "spec-too-large"),
        (format!("{}{}", "[".repeat(10_000), "]".repeat(10_000)), "spec-too-large"),
        ("- ".repeat(10_000), "spec-too-large"),
        (block, "spec-too-large"),
        (anchors(12), "spec-too-large"),
        (format!("a: [{}]", "1, ".repeat(300_000)), "spec-too-large"),
        (many(|i| format!("k{i}: 1\n"), 60_000), "too-many-faults"),
        (
            with(
                "columns:",
                &format!(
                    "joints:\n      named:\n{}    columns:",
                    many(
                        |i| {
                            format!("        a+b{i}: {{bolts: {{at: [1, 1, 1, gab, sqrt(-1), '1,']}}}}\n")
                        },
                        15_000
                    )
                ),
            ),
            "too-many-faults",
        ),
        (format!("{SMALL}sizes: {{{}}}", many(|i| format!("k{i}: x + y, "), 9_000)), "empty-list"),
    ] {
        let (design, findings, sources) = run(&text);
        assert!(
            design.is_none() && findings.iter().any(|f| f.rule.name == rule),
            "{rule} not found\n{}",
            human(&findings, &sources, false)
        );
        assert!(findings.len() < 200);
        assert!(human(&findings, &sources, false).len() < 100_000);
    }
    // The deepest that is allowed is read.
    let deep = format!("{}{{open: }}{}", "{columns: [".repeat(28), "]}".repeat(28));
    good(&format!(
        "bay: {{width: 9, depth: 9, height: 9}}\ncarcases: [{{id: a, width: 9, depth: 9, height: 9, panel: p, cell: {deep}}}]"
    ));
}

#[test]
fn every_rule_has_its_examples() {
    let mut names = Vec::new();
    for rule in RULES.iter() {
        let (_, findings, sources) = run(rule.failing);
        let found = findings.iter().any(|finding| finding.rule.name == rule.name);
        assert!(found, "{}: failing example gives\n{}", rule.name, human(&findings, &sources, false));
        let (design, findings, sources) = run(rule.passing);
        assert!(
            design.is_some(),
            "{}: passing example gives\n{}",
            rule.name,
            human(&findings, &sources, false)
        );
        for text in [rule.finds, rule.why, rule.source] {
            assert!(!text.is_empty() && !text.contains("  "), "{}: {text}", rule.name);
        }
        names.push(rule.name);
    }
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
}

#[test]
fn a_stock_file_stands_beside_the_workshop_that_names_it() {
    let design = good(&format!("{SMALL}workshop: stocked-shop.yaml\n"));
    let [birch] = design.workshop.shelf.as_slice() else { panic!("not one material") };
    let [offcut, sheet] = birch.sheets.as_slice() else { panic!("not two rows") };
    assert_eq!(
        (birch.material.value.as_str(), design.workshop.smallest_offcut.value),
        ("birch-12", (508.0, 254.0))
    );
    assert_eq!((offcut.length.value, offcut.width.value, offcut.offcut), (1016.0, 508.0, true));
    // An offcut is one piece; a price is no length.
    assert_eq!((offcut.quantity.unwrap().value, offcut.price.unwrap().value), (1, 9.0));
    assert_eq!(offcut.defects, [Defect { x: 25.4, y: 50.8, length: 127.0, width: 101.6 }]);
    assert_eq!((sheet.quantity.unwrap().value, sheet.price, sheet.offcut), (4, None, false));
}

#[test]
fn efforts_seeds_and_stock_that_cannot_be_meant() {
    let effort = |text: &str| good(&format!("{SMALL}nesting: {{effort: {text}}}\n")).nesting.effort.value;
    assert_eq!(
        (effort("quick"), effort("long"), effort("250")),
        (NestingEffort::Quick, NestingEffort::Long, NestingEffort::Steps(250))
    );
    assert_eq!(good(SMALL).nesting.effort.value, NestingEffort::Standard);
    let found = short(&format!(
        "{SMALL}nesting: {{effort: fast, seed: 1.5, time_limit: 0}}\nworkshop: {{offcuts: {{smallest: [600]}}, stock: \
         {{materials: {{birch-12: [{{length: 900, width: 600, quantity: 0, price: -1}}, {{length: 900, width: 600, \
         quantity: 1000000, defects: [{{x: 800, y: 0, length: 101, width: 9}}]}}]}}}}}}\n"
    ));
    assert_eq!(
        found,
        [
            "unknown-word `fast`: `fast` is no effort",
            "out-of-range `1.5`: 1.5 is no whole seed",
            "out-of-range `0`: 0 s must be more than 0 s",
            "out-of-range `[600]`: the smallest offcut has 1 lengths instead of two",
            "out-of-range `0`: 0 must be at least 1",
            "out-of-range `-1`: -1 must be at least 0",
            "out-of-range `1000000`: 1000000 is beyond 100000",
            "defect-outside-sheet `{x: 800, y: 0, length: 101, width: 9}`: the defect reaches to 901 mm along the \
             grain, beyond the sheet's 900 mm",
        ]
    );
}

#[test]
fn schemas_describe_every_key() {
    for (schema, title) in
        [(schema(), "design"), (vehicle_schema(), "vehicle"), (workshop_schema(), "workshop")]
    {
        assert_eq!(schema["title"], title);
        assert!(schema["$schema"].as_str().is_some_and(|url| url.contains("2020-12")));
        described(&schema);
    }
    same("vehicle-schema", &serde_json::to_string_pretty(&vehicle_schema()).unwrap());
}

fn described(schema: &Value) {
    for (key, property) in schema["properties"].as_object().into_iter().flatten() {
        assert!(property["description"].is_string(), "`{key}` has no description");
        assert!(
            !property.to_string().contains("\"null\"") || key == "open" || key == "blank",
            "{key} takes null"
        );
    }
    match schema {
        Value::Object(map) => map.values().for_each(described),
        Value::Array(list) => list.iter().for_each(described),
        _ => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_text_panics(text in "[-a-z0-9:{}\\[\\],'\"&*!|>#%@ \n\t.é]{0,200}") {
        let (_, findings, sources) = run(&text);
        human(&findings, &sources, false);
    }

    #[test]
    fn no_mutation_of_a_good_spec_panics(
        cuts in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..12, "[-a-z0-9:{}\\[\\]*&' \n.]{0,6}"), 1..6)
    ) {
        let mut text: Vec<char> = EVERY_KEY.chars().collect();
        for (at, length, new) in &cuts {
            let start = at.index(text.len());
            let end = (start + length).min(text.len());
            text.splice(start..end, new.chars());
        }
        let (design, findings, sources) = run(&text.iter().collect::<String>());
        prop_assert_eq!(design.is_none(), findings.iter().any(Finding::is_error));
        human(&findings, &sources, false);
        for finding in &findings {
            prop_assert!(finding.at.start <= finding.at.end);
            prop_assert!((finding.at.end as usize) <= sources.text(finding.at.source).len());
        }
    }
}
