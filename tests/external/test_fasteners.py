"""The built-in fasteners against the tables of a CAD part library.

Reads src/catalogue/data/fasteners.yaml and the CSV files that bd_warehouse 0.4.0 carries; the package is located, never
imported. Where the two differ on purpose, the difference stands in DEVIATIONS with its reason: one that appears or
disappears fails. That library has no ISO 7040 and no DIN 985 nuts, pitches only in its size names, and no stress areas.
"""

import csv
import importlib.metadata
import importlib.util
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
SIZES = ["M4", "M5", "M6", "M8", "M10"]

LARGEST = "the library gives the washer's largest thickness, we the nominal one"
OPEN = "open question: 1.0 or 1.2 nominal; the library gives the largest thickness"
GRADE_B = "the library gives the largest head height of grade B, we the nominal one"
KNURLED = "the library gives the largest knurled head, we the plain one"
KEY_MAX = "the library gives the socket's largest width, we the nominal key"
DIN_7991 = "the library gives the DIN 7991 head under ISO 10642, we the theoretical ISO 10642 one"
OLD_FLATS = "the library keeps the 17 of the older DIN standards, ISO has 16 for M10 (as its own ISO 4032 row)"
LONGEST = "the library adds a length of 100 to ISO 7380-1; another table ends at 90"

# (table, size, quantity): (ours, theirs, reason); ours is None where it is from memory or open, so not to be asserted.
DEVIATIONS = {
    ("ISO 7089", "M4", "thickness_mm"): (0.8, 0.9, LARGEST),
    ("ISO 7089", "M5", "thickness_mm"): (1.0, 1.1, LARGEST),
    ("ISO 7089", "M6", "thickness_mm"): (1.6, 1.8, LARGEST),
    ("ISO 7089", "M8", "thickness_mm"): (1.6, 1.8, LARGEST),
    ("ISO 7089", "M10", "thickness_mm"): (2.0, 2.2, LARGEST),
    ("ISO 7093-1", "M4", "thickness_mm"): (None, 1.1, LARGEST),
    ("ISO 7093-1", "M5", "thickness_mm"): (None, 1.4, OPEN),
    ("ISO 7093-1", "M6", "thickness_mm"): (None, 1.8, LARGEST),
    ("ISO 7093-1", "M8", "thickness_mm"): (None, 2.2, LARGEST),
    ("ISO 7093-1", "M10", "thickness_mm"): (2.5, 2.7, LARGEST),
    ("ISO 4017", "M4", "head_height_mm"): (2.8, 3.0, GRADE_B),
    ("ISO 4017", "M5", "head_height_mm"): (3.5, 3.74, GRADE_B),
    ("ISO 4017", "M6", "head_height_mm"): (4.0, 4.24, GRADE_B),
    ("ISO 4017", "M8", "head_height_mm"): (5.3, 5.54, GRADE_B),
    ("ISO 4017", "M10", "head_height_mm"): (6.4, 6.69, GRADE_B),
    ("ISO 4762", "M4", "head_diameter_mm"): (7.0, 7.22, KNURLED),
    ("ISO 4762", "M5", "head_diameter_mm"): (8.5, 8.72, KNURLED),
    ("ISO 4762", "M6", "head_diameter_mm"): (10.0, 10.22, KNURLED),
    ("ISO 4762", "M8", "head_diameter_mm"): (13.0, 13.27, KNURLED),
    ("ISO 4762", "M10", "head_diameter_mm"): (16.0, 16.27, KNURLED),
    ("ISO 7380-1", "M4", "key_mm"): (2.5, 2.58, KEY_MAX),
    ("ISO 7380-1", "M5", "key_mm"): (3.0, 3.08, KEY_MAX),
    ("ISO 7380-1", "M6", "key_mm"): (4.0, 4.095, KEY_MAX),
    ("ISO 7380-1", "M8", "key_mm"): (5.0, 5.14, KEY_MAX),
    ("ISO 7380-1", "M10", "key_mm"): (6.0, 6.14, KEY_MAX),
    ("ISO 7380-1", "M10", "longest_mm"): (90.0, 100.0, LONGEST),
    ("ISO 4035", "M10", "across_flats_mm"): (16.0, 17.0, OLD_FLATS),
    ("ISO 10642", "M4", "key_mm"): (2.5, 2.6, KEY_MAX),
    ("ISO 10642", "M5", "key_mm"): (3.0, 3.1, KEY_MAX),
    ("ISO 10642", "M6", "key_mm"): (4.0, 4.12, KEY_MAX),
    ("ISO 10642", "M8", "key_mm"): (5.0, 5.14, KEY_MAX),
    ("ISO 10642", "M10", "key_mm"): (6.0, 6.14, KEY_MAX),
    ("ISO 10642", "M4", "head_diameter_mm"): (8.96, 8.0, DIN_7991),
    ("ISO 10642", "M5", "head_diameter_mm"): (11.2, 10.0, DIN_7991),
    ("ISO 10642", "M6", "head_diameter_mm"): (13.44, 12.0, DIN_7991),
    ("ISO 10642", "M8", "head_diameter_mm"): (17.92, 16.0, DIN_7991),
    ("ISO 10642", "M10", "head_diameter_mm"): (22.4, 20.0, DIN_7991),
    ("ISO 10642", "M4", "head_height_mm"): (2.48, 2.3, DIN_7991),
    ("ISO 10642", "M5", "head_height_mm"): (3.1, 2.8, DIN_7991),
    ("ISO 10642", "M6", "head_height_mm"): (3.72, 3.3, DIN_7991),
    ("ISO 10642", "M8", "head_height_mm"): (4.96, 4.4, DIN_7991),
    ("ISO 10642", "M10", "head_height_mm"): (6.2, 5.5, DIN_7991),
}

# Our standard: their file, their prefix in its header, our quantity -> their column.
SCREW = {"shortest_mm": "short", "longest_mm": "long", "head_height_mm": "k", "key_mm": "s"}
SOCKET = SCREW | {"head_diameter_mm": "dk", "socket_depth_mm": "t"}
NUT = {"across_flats_mm": "s", "height_max_mm": "m"}
WASHER = {"inner_mm": "d1", "outer_mm": "d2", "thickness_mm": "h"}
TABLES = {
    "ISO 7380-1": ("button_head_parameters.csv", "iso7380_1", SOCKET),
    "ISO 10642": ("countersunk_head_parameters.csv", "iso10642", SOCKET),
    "ISO 4017": ("hex_head_parameters.csv", "iso4017", SCREW),
    "ISO 4762": ("socket_head_cap_parameters.csv", "iso4762", SOCKET),
    "ISO 4032": ("hex_nut_parameters.csv", "iso4032", NUT),
    "ISO 4035": ("hex_nut_parameters.csv", "iso4035", NUT),
    "ISO 7089": ("plain_washer_parameters.csv", "iso7089", WASHER),
    "ISO 7093-1": ("plain_washer_parameters.csv", "iso7093", WASHER),
}
NOT_THEIRS = {"ISO 7040", "DIN 985", "DIN 582", "none"}
CLEARANCES = {
    "clearance_fine_mm": "Close",
    "clearance_medium_mm": "Normal",
    "clearance_coarse_mm": "Loose",
}


def their_rows(name):
    """Rows of one of their tables by thread size, for coarse threads: `M6-1` and `M6` are both M6."""
    assert importlib.metadata.version("bd_warehouse") == "0.4.0"
    spec = importlib.util.find_spec("bd_warehouse")
    path = Path(spec.submodule_search_locations[0]) / "data" / name
    with path.open(newline="", encoding="utf-8") as file:
        rows = [{key.strip(): value for key, value in row.items()} for row in csv.DictReader(file)]
    key = next(iter(rows[0]))
    return {row[key]: row for row in rows}


def ours():
    """Our file as it is compiled in."""
    text = (ROOT / "src/catalogue/data/fasteners.yaml").read_text(encoding="utf-8")
    return yaml.safe_load(text)


def our_groups():
    """Heads, nuts and washers by their standard."""
    file = ours()
    groups = file["heads"] + file["nuts"] + file["washers"]
    assert len({group["standard"] for group in groups}) == len(groups)
    return {group["standard"]: group for group in groups}


def compared():
    """(table, size, quantity, ours, theirs) for all that both have."""
    coarse = {thread["size"]: f"{thread['size']}-{thread['pitch_mm']:g}" for thread in ours()["threads"]}
    holes = their_rows("clearance_hole_sizes.csv")
    for thread in ours()["threads"]:
        for quantity, column in CLEARANCES.items():
            yield "ISO 273", thread["size"], quantity, thread[quantity], float(holes[thread["size"]][column])
    for standard, (name, prefix, columns) in TABLES.items():
        rows = their_rows(name)
        for row in our_groups()[standard]["sizes"]:
            size = row["size"]
            theirs = rows[size if size in rows else coarse[size]]
            for quantity, column in columns.items():
                yield standard, size, quantity, row[quantity], float(theirs[f"{prefix}:{column}"])


def same(a, b):
    return abs(a - b) < 1e-9


def test_every_standard_is_compared_or_known_to_be_absent():
    assert set(our_groups()) == set(TABLES) | NOT_THEIRS


@pytest.mark.parametrize("table", ["ISO 273", *TABLES])
def test_every_size_is_compared(table):
    quantities = CLEARANCES if table == "ISO 273" else TABLES[table][2]
    seen = [(size, quantity) for name, size, quantity, _, _ in compared() if name == table]
    assert seen == [(size, quantity) for size in SIZES for quantity in quantities]


def test_the_two_differ_only_where_a_reason_is_listed():
    found = {
        (table, size, quantity): (mine, theirs)
        for table, size, quantity, mine, theirs in compared()
        if not same(mine, theirs)
    }
    assert sorted(set(found) - set(DEVIATIONS)) == [], "differs without a reason"
    assert sorted(set(DEVIATIONS) - set(found)) == [], "listed as different, but agrees or is not compared"
    for key, (mine, theirs, reason) in DEVIATIONS.items():
        assert mine is None or same(found[key][0], mine), (key, reason)
        assert same(found[key][1], theirs), (key, reason)


@pytest.mark.parametrize(
    ("standard", "prefix"),
    [("ISO 7380-1", "iso7380_1"), ("ISO 10642", "iso10642"), ("ISO 4017", "iso4017"), ("ISO 4762", "iso4762")],
)
def test_lengths_are_those_of_the_series(standard, prefix):
    series = [float(length) for length in their_rows("nominal_screw_lengths.csv")[prefix]["Nominal_Sizes"].split(",")]
    group = our_groups()[standard]
    assert len(group["sizes"]) == len(SIZES)
    for row in group["sizes"]:
        within = [length for length in series if row["shortest_mm"] <= length <= row["longest_mm"]]
        mine = [length for length in group["series_mm"] if row["shortest_mm"] <= length <= row["longest_mm"]]
        assert within == mine and len(mine) > 5, (standard, row["size"])
        assert row["shortest_mm"] in mine and row["longest_mm"] in mine, (standard, row["size"])
