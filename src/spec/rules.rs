//! The rules that reading a spec can find broken, with all that `explain` says about them.

use crate::diag::{Rule, Severity};

/// Most faults that are listed at once.
pub(crate) const MOST_LISTED: usize = 100;
/// Longest piece of the author's text that a message repeats, characters.
const LONGEST_SHOWN: usize = 60;

/// The author's text as messages repeat it: cut short, control characters made visible.
pub(crate) fn shown(text: &str) -> String {
    let mut short: String = text.chars().take(LONGEST_SHOWN).flat_map(char::escape_debug).collect();
    if text.chars().count() > LONGEST_SHOWN {
        short.push_str("...");
    }
    short.replace("\\'", "'").replace("\\\"", "\"")
}

/// A whole small spec with some lines more.
macro_rules! kit {
    ($($line:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            $($line, "\n"),*
        )
    };
}

/// A whole small spec whose one carcase has the given keys beside its id and material.
macro_rules! carcase {
    ($keys:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, panel: birch-12, ",
            $keys,
            "}\n"
        )
    };
}

const OURS: &str = "a decision of this project";

/// Every rule of this stage.
pub(crate) static RULES: [&Rule; 26] = [
    &TOO_LARGE,
    &NOT_YAML,
    &KEY_TWICE,
    &NOT_FINITE,
    &OTHER_VERSION,
    &UNKNOWN_KEY,
    &MISSING_KEY,
    &WRONG_KIND,
    &UNKNOWN_WORD,
    &TOO_MANY_FAULTS,
    &UNREADABLE_EXPRESSION,
    &UNKNOWN_SIZE,
    &SIZES_IN_A_RING,
    &EXPRESSION_WITHOUT_VALUE,
    &BAD_SIZE_NAME,
    &OUT_OF_RANGE,
    &BAD_NAME,
    &NAME_TWICE,
    &BAY_UNCLEAR,
    &FILE_UNREADABLE,
    &CELL_CONTENT_UNCLEAR,
    &MATERIAL_MISSING,
    &EMPTY_LIST,
    &TABS_UNCLEAR,
    &DEFECT_OUTSIDE_SHEET,
    &CURRENCY_MIXED,
];

/// Prices in another currency than the workshop's.
pub(crate) static CURRENCY_MIXED: Rule = Rule {
    name: "currency-mixed",
    severity: Severity::Error,
    finds: "A price list in another currency than the workshop's `currency`, or in a workshop that names none.",
    why: "Sums of two currencies are no sums.",
    failing: concat!(
        carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
        "workshop:\n  currency: EUR\n  price_lists: [{supplier: fasteners, currency: NZD, items: [{item: ISO 7089 M6, price: 4}]}]\n"
    ),
    passing: concat!(
        carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
        "workshop:\n  currency: EUR\n  price_lists: [{supplier: fasteners, currency: EUR, items: [{item: ISO 7089 M6, price: 4}]}]\n"
    ),
    source: "arithmetic",
};

/// Two ways at once of saying how many tabs.
pub(crate) static TABS_UNCLEAR: Rule = Rule {
    name: "tabs-unclear",
    severity: Severity::Error,
    finds: "`holding: {tabs: ...}` with both `spacing` and `number`.",
    why: "Each says how many tabs a part has; where they differ nobody knows which was meant.",
    failing: kit!("workshop: {holding: {tabs: {spacing: 150, number: 4}}}"),
    passing: kit!("workshop: {holding: {tabs: {number: 4}}}"),
    source: OURS,
};

/// More text, values or nesting than is read.
pub(crate) static TOO_LARGE: Rule = Rule {
    name: "spec-too-large",
    severity: Severity::Error,
    finds: "A file of more than 4,000,000 bytes, more than 250,000 values with aliases followed, or values nested \
            deeper than 64 levels.",
    why: "A spec of a large kit has some 20 kB. More is the wrong file, or one made to use up time and memory.",
    failing: kit!(
        "sizes: {a: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]}"
    ),
    passing: kit!("sizes: {a: 1}"),
    source: OURS,
};

/// Text that does not follow YAML's syntax.
pub(crate) static NOT_YAML: Rule = Rule {
    name: "not-yaml",
    severity: Severity::Error,
    finds: "Text that does not follow YAML's syntax, such as a bracket that stays open, a tab as indentation or a \
            second document.",
    why: "Nothing behind the fault can be read, so it is the only finding until it is mended.",
    failing: "bay: {width: 1040, depth: 1050\ncarcases: []\n",
    passing: kit!(),
    source: "YAML 1.2.2",
};

/// One key twice in a map.
pub(crate) static KEY_TWICE: Rule = Rule {
    name: "key-twice",
    severity: Severity::Error,
    finds: "A key that stands twice in one map.",
    why: "One of the two values would be dropped without a word, and the part cut to the other.",
    failing: kit!("units: mm", "units: inch"),
    passing: kit!("units: mm"),
    source: "YAML 1.2.2, section 3.2.1.3",
};

/// Infinite, or not a number.
pub(crate) static NOT_FINITE: Rule = Rule {
    name: "number-not-finite",
    severity: Severity::Error,
    finds: "A number that YAML reads as infinite or as not a number.",
    why: "No panel can be cut to it, and every sum with it is lost.",
    failing: kit!("sizes: {gap: .nan}"),
    passing: kit!("sizes: {gap: 3}"),
    source: OURS,
};

/// A version of the language that is not understood.
pub(crate) static OTHER_VERSION: Rule = Rule {
    name: "other-version",
    severity: Severity::Error,
    finds: "A spec written for another version of the language than this program reads.",
    why: "A key may mean something else in another version; guessing would cut the wrong part.",
    failing: kit!("baywright: 2"),
    passing: kit!("baywright: 1"),
    source: OURS,
};

/// A key that means nothing where it stands.
pub(crate) static UNKNOWN_KEY: Rule = Rule {
    name: "unknown-key",
    severity: Severity::Error,
    finds: "A key that has no meaning where it stands; often a slip of the hand, or a line indented wrongly.",
    why: "Passed over, its value would silently be the default instead.",
    failing: carcase!("width: 1000, depth: 900, height: 300, overhnag: 8, cell: {open: {}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, overhang: 8, cell: {open: {}}"),
    source: OURS,
};

/// A key that must be there.
pub(crate) static MISSING_KEY: Rule = Rule {
    name: "missing-key",
    severity: Severity::Error,
    finds: "A map without a key that has no default.",
    why: "There is no sensible guess for it.",
    failing: carcase!("width: 1000, depth: 900, cell: {open: {}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// Text for a number, a list for a map and the like.
pub(crate) static WRONG_KIND: Rule = Rule {
    name: "wrong-kind",
    severity: Severity::Error,
    finds: "A value of another kind than the key takes: a list where a number is due, a number where a name is due.",
    why: "It cannot be read as what the key means.",
    failing: carcase!("width: [1000], depth: 900, height: 300, cell: {open: {}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// A word that is none of those that a key takes.
pub(crate) static UNKNOWN_WORD: Rule = Rule {
    name: "unknown-word",
    severity: Severity::Error,
    finds: "A word that is none of the few that a key takes.",
    why: "It cannot be read as any of them.",
    failing: kit!("units: inches"),
    passing: kit!("units: mm"),
    source: OURS,
};

/// The list of faults is cut short.
pub(crate) static TOO_MANY_FAULTS: Rule = Rule {
    name: "too-many-faults",
    severity: Severity::Error,
    finds: "A design with more faults than are listed at once (100).",
    why: "So many faults have one cause, such as the wrong file or a wrong indentation.",
    failing: "carcases: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, \
              1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, \
              1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, \
              1, 1, 1, 1]\n",
    passing: kit!(),
    source: OURS,
};

/// Not arithmetic.
pub(crate) static UNREADABLE_EXPRESSION: Rule = Rule {
    name: "unreadable-expression",
    severity: Severity::Error,
    finds: "A text where a number is due that is not arithmetic: numbers, names, `+ - * / ^`, parentheses, and \
            min, max, abs, floor, ceil, round, sqrt.",
    why: "It has no value. A unit behind a number is the commonest case: lengths are in the file's `units`.",
    failing: carcase!("width: 1000 mm, depth: 900, height: 300, cell: {open: {}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// A name that `sizes` does not have.
pub(crate) static UNKNOWN_SIZE: Rule = Rule {
    name: "unknown-size",
    severity: Severity::Error,
    finds: "An expression with a name that is neither in `sizes` nor a measurement of the bay.",
    why: "It has no value.",
    failing: carcase!("width: bay.widht - 16, depth: 900, height: 300, cell: {open: {}}"),
    passing: carcase!("width: bay.width - 16, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// Sizes that need one another.
pub(crate) static SIZES_IN_A_RING: Rule = Rule {
    name: "sizes-in-a-ring",
    severity: Severity::Error,
    finds: "Named sizes each of which needs the next, the last one the first.",
    why: "None of them can be worked out first.",
    failing: kit!("sizes: {a: b + 1, b: a - 1}"),
    passing: kit!("sizes: {a: b + 1, b: 2}"),
    source: OURS,
};

/// Division by zero and the like.
pub(crate) static EXPRESSION_WITHOUT_VALUE: Rule = Rule {
    name: "expression-without-value",
    severity: Severity::Error,
    finds: "An expression that divides by zero, takes the root of a negative number, or grows beyond all numbers.",
    why: "No panel can be cut to it.",
    failing: kit!("sizes: {n: 3, part: 900 / (n - 3)}"),
    passing: kit!("sizes: {n: 3, part: 900 / n}"),
    source: OURS,
};

/// A named size that no expression could use.
pub(crate) static BAD_SIZE_NAME: Rule = Rule {
    name: "bad-size-name",
    severity: Severity::Error,
    finds: "A name in `sizes` that no expression can use: it needs a letter, then letters, digits and `_`, at most \
            60, and may not be `bay` or a function's name.",
    why: "`side-gap` would be read as `side` minus `gap`.",
    failing: kit!("sizes: {side-gap: 3}"),
    passing: kit!("sizes: {side_gap: 3}"),
    source: OURS,
};

/// A number that is too small or too large for what it means.
pub(crate) static OUT_OF_RANGE: Rule = Rule {
    name: "out-of-range",
    severity: Severity::Error,
    finds: "A number outside the range that its key can have: a size of zero or less, a length beyond 20,000 mm.",
    why: "It is a slip of the hand or a mix-up of units, and the part could not be made.",
    failing: carcase!("width: -1000, depth: 900, height: 300, cell: {open: {}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: "common practice, no source",
};

/// A name that would not do for a file or a label.
pub(crate) static BAD_NAME: Rule = Rule {
    name: "bad-name",
    severity: Severity::Error,
    finds: "A name with other characters than ASCII letters, digits, `-` and `_`, or of none or more than 60; for \
            a thread size, anything but `M` and a number; for a joint, anything but `PANEL+PANEL`; for free text, \
            nothing at all, control characters or more than 400 characters (40 for a revision).",
    why: "Names become file names, layers and labels, and must stay the same on every machine.",
    failing: kit!("name: ../kit"),
    passing: kit!("name: kit"),
    source: OURS,
};

/// Two things with one name.
pub(crate) static NAME_TWICE: Rule = Rule {
    name: "name-twice",
    severity: Severity::Error,
    finds: "Two carcases with one id, or two cells of one carcase; upper and lower case are the same.",
    why: "Panels are named after them, and a cut file would replace another one.",
    failing: carcase!(
        "width: 1000, depth: 900, height: 300, rows: [{id: top, open: {}}, {id: top, open: {}}]"
    ),
    passing: carcase!(
        "width: 1000, depth: 900, height: 300, rows: [{id: top, open: {}}, {id: low, open: {}}]"
    ),
    source: OURS,
};

/// No bay, or two.
pub(crate) static BAY_UNCLEAR: Rule = Rule {
    name: "bay-unclear",
    severity: Severity::Error,
    finds: "A design with neither `vehicle` nor `bay`, or with both.",
    why: "Everything is measured against one bay.",
    failing: kit!("vehicle: {bay: {width: 1100, depth: 1050, height: 800}}"),
    passing: kit!(),
    source: OURS,
};

/// A vehicle or workshop file that cannot be had.
pub(crate) static FILE_UNREADABLE: Rule = Rule {
    name: "file-unreadable",
    severity: Severity::Error,
    finds: "A vehicle or workshop file, or the `kit.json` of frozen sheets, that does not exist or cannot be read.",
    why: "The kit cannot be made without what stands in it. The path is taken from the design's folder.",
    failing: kit!("workshop: no-such-workshop.yaml"),
    passing: kit!("workshop: {trim: 10}"),
    source: OURS,
};

/// A cell, or a carcase, that holds nothing or two things.
pub(crate) static CELL_CONTENT_UNCLEAR: Rule = Rule {
    name: "cell-content-unclear",
    severity: Severity::Error,
    finds: "A cell that does not hold exactly one of drawer, open, blank, columns and rows; a carcase without \
            exactly one of columns, rows and cell; a cell with both a size and a share.",
    why: "What goes into the opening cannot be guessed.",
    failing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}, drawer: {slide: heavy-800}}"),
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// A panel without a material.
pub(crate) static MATERIAL_MISSING: Rule = Rule {
    name: "material-missing",
    severity: Severity::Error,
    finds: "A carcase without `panel` whose `panels` does not name every kind of panel.",
    why: "There is no default for what the kit is made of.",
    failing: "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: main, width: 1000, depth: 900, \
              height: 300, panels: {base: birch-12}, cell: {open: {}}}\n",
    passing: carcase!("width: 1000, depth: 900, height: 300, cell: {open: {}}"),
    source: OURS,
};

/// A list that must have an entry.
pub(crate) static EMPTY_LIST: Rule = Rule {
    name: "empty-list",
    severity: Severity::Error,
    finds: "A list without entries where at least one is needed, or with more than can be meant.",
    why: "A kit without carcases, or a carcase without cells, is not finished.",
    failing: "bay: {width: 1040, depth: 1050, height: 800}\ncarcases: []\n",
    passing: kit!(),
    source: OURS,
};

/// A defect that is not on its sheet.
pub(crate) static DEFECT_OUTSIDE_SHEET: Rule = Rule {
    name: "defect-outside-sheet",
    severity: Severity::Error,
    finds: "A defect of a stock sheet that reaches beyond the sheet.",
    why: "Its place or the sheet's size is wrong, and parts would be laid on it.",
    failing: kit!(
        "workshop: {stock: {materials: {birch-12: [{length: 1500, width: 900, defects: [{x: 1400, y: 0, length: 200, width: 50}]}]}}}"
    ),
    passing: kit!(
        "workshop: {stock: {materials: {birch-12: [{length: 1500, width: 900, defects: [{x: 1300, y: 0, length: 200, width: 50}]}]}}}"
    ),
    source: OURS,
};
