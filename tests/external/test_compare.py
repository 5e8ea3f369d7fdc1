"""What changed: two kits from a seed with one number or word changed, and from the two kit.json alone which panels differ.

Nothing of the program's way is used: a panel is a shape of shapely, its holes are sets of numbers, and pieces of the
old kit are given to panels of the new one by hand. The program's `compare --format json` must say the same.
"""

import concurrent.futures
import json
import os
import random
import re
import subprocess

import jsonschema
import pytest
from shapely.geometry import Polygon

from checks import random_kits
from checks.kit import Kit

KITS = 12
TRIED = 30  # some specs, or the changed ones, have no solution

# What is changed, and where in the text it stands.
CHANGES = [
    (r"heavy-600", lambda number: "heavy-500"),
    (r"(?<=    height: )[0-9]+", lambda number: str(int(number) - 7)),
    (r"(?<=    depth: )[0-9]+", lambda number: str(int(number) - 11)),
    (r"(?<=    drawers: {panel: )birch-9", lambda number: "birch-12"),
    (r"(?<=    width: )[0-9]+", lambda number: str(int(number) - 9)),
    (r"(?<=id: )k0[0-9]*", lambda name: "other"),
    (r"drawer: {slide: heavy-600}", lambda drawer: "open: {}"),
]


def changed(text, seed):
    """The spec with one number or word changed, at the first place where it stands."""
    random_ = random.Random(f"one change {seed}")
    head, carcases = text.split("carcases:\n")
    possible = [(find, other) for find, other in CHANGES if re.search(find, carcases)]
    find, other = random_.choice(possible)
    return head + "carcases:\n" + re.sub(find, lambda hit: other(hit[0]), carcases, count=1)


def same_contour(a, b):
    """Whether two lists of corners with bulges run round the same contour."""
    if sorted(map(tuple, a)) != sorted(map(tuple, b)):
        return False
    return Polygon([p[:2] for p in a]).symmetric_difference(Polygon([p[:2] for p in b])).area == 0


def holes(panel):
    sinks = lambda bore: bore["countersink"] and (bore["countersink"]["diameter"], bore["countersink"]["depth"])
    return sorted(
        (bore["u"], bore["v"], bore["diameter"], bore["depth"] or -1, bore["face"], sinks(bore) or (0, 0))
        for bore in panel["bores"]
    )


def same_openings(a, b):
    left = [opening["points"] for opening in b["openings"]]
    for opening in a["openings"]:
        like = next((other for other in left if same_contour(opening["points"], other)), None)
        if like is None:
            return False
        left.remove(like)
    return not left


def same_cut(a, b):
    return (
        (a["material"], a["thickness"]) == (b["material"], b["thickness"])
        and holes(a) == holes(b)
        and same_contour(a["outline"], b["outline"])
        and same_openings(a, b)
        and sorted(str(e["strokes"]) for e in a["engravings"]) == sorted(str(e["strokes"]) for e in b["engravings"])
    )


def worked_out(old, new):
    """The lists of a comparison, from the panels of two kits by name."""
    kept = {name for name in old.keys() & new.keys() if same_cut(old[name], new[name])}
    still = {name for name in kept if old[name]["placement"] == new[name]["placement"]}
    free = sorted(old.keys() - kept)
    pairs, recut, fresh = [], [], []
    for name in sorted(new.keys() - kept):
        piece = next((piece for piece in free if same_cut(old[piece], new[name])), None)
        if piece is not None:
            free.remove(piece)
            pairs.append((piece, name))
        else:
            (recut if name in old else fresh).append(name)
    return {
        "unchanged": sorted(still),
        "moved": sorted(kept - still),
        "renamed": pairs,
        "recut": recut,
        "new": fresh,
        "gone": [name for name in free if name not in recut],
    }


def said(comparison):
    panels = comparison["panels"]
    lists = {key: [panel["name"] for panel in panels[key]] for key in ("recut", "new", "gone")}
    lists |= {key: panels[key] for key in ("unchanged", "moved")}
    return lists | {"renamed": [(pair["old"], pair["new"]) for pair in panels["renamed"]]}


def designations(data):
    counted = {}
    for bolt in data["bolts"]:
        name = f"{bolt['head_standard']} {bolt['thread']}x{bolt['length']:g} {bolt['head']}"
        counted[name] = counted.get(name, 0) + 1
    return counted


def nameless(data):
    """A document without what says which state it is, and without findings, whose lines may shift."""
    rest = {key: value for key, value in data.items() if key not in ("name", "edition", "generator", "findings")}
    return rest | {"sheets": [{k: v for k, v in sheet.items() if k != "edition"} for sheet in data["sheets"]]}


def run(program, *arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


def compared(program, *kits):
    answer = run(program, "compare", *kits, "--format", "json")
    assert answer.returncode == 0, answer.stderr
    return json.loads(answer.stdout)


def judged(program, folder, seed, schema):
    """What is wrong with the comparison of one pair; None if one of the two specs makes no kit."""
    texts = [random_kits.spec(seed)]
    texts.append(changed(texts[0], seed))
    assert texts[0] != texts[1]
    folders = []
    for number, text in enumerate(texts):
        path = folder / f"{seed}-{number}.yaml"
        path.write_text(text, encoding="utf-8")
        folders.append(folder / f"out-{seed}-{number}")
        made = run(program, "make", path, "--out", folders[-1])
        if made.returncode == 1:
            return None
        assert made.returncode == 0, made.stderr
    answer = compared(program, folders[0], folders[1])
    jsonschema.Draft202012Validator(schema).validate(answer)
    comparison = answer["comparisons"][0]
    old, new = map(Kit, folders)
    expected = worked_out(old.panels, new.panels)
    faults = [f"{key}: {said(comparison)[key]}, not {expected[key]}" for key in expected if said(comparison)[key] != expected[key]]
    before, after = designations(old.data), designations(new.data)
    bolts = {n: (before.get(n, 0), after.get(n, 0)) for n in before.keys() | after.keys() if before.get(n) != after.get(n)}
    told = {line["what"]: (line["old"], line["new"]) for line in comparison["hardware"] if line["kind"] == "bolt"}
    if told != bolts:
        faults.append(f"bolts: {told}, not {bolts}")
    if comparison["mass"]["by"] != pytest.approx(new.data["mass"]["total"] - old.data["mass"]["total"], abs=1e-6):
        faults.append(f"mass: {comparison['mass']}")
    if comparison["same"] != (nameless(old.data) == nameless(new.data)):
        faults.append(f"same: {comparison['same']}")
    return faults, expected


@pytest.fixture
def schema(program):
    schema = json.loads(run(program, "schema", "comparison").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    return schema


def test_one_change_changes_the_panels_that_it_changes(program, schema, tmp_path):
    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        tried = list(threads.map(lambda seed: judged(program, tmp_path, seed, schema), range(TRIED)))
    pairs = [answer for answer in tried if answer is not None]
    assert len(pairs) >= KITS, f"only {len(pairs)} of {TRIED} pairs are kits"
    assert [faults for faults, _ in pairs if faults] == []
    # The pairs between them have something in every list, or the check would be of nothing.
    for key in ("unchanged", "moved", "recut", "renamed", "gone"):
        assert any(expected[key] for _, expected in pairs), key


def test_a_kit_is_as_it_is(program, kit):
    comparison = compared(program, kit.folder, kit.folder / "kit.json")["comparisons"][0]
    assert comparison["same"] and len(comparison["panels"]["unchanged"]) == len(kit.panels)


def test_a_planted_change_shows(program, kit, tmp_path):
    """One hole of a panel a micrometre elsewhere: that panel and no other is cut again."""
    panel = next(panel for panel in kit.data["panels"] if panel["bores"])
    panel["bores"][0]["u"] += 0.001
    other = tmp_path / "kit.json"
    other.write_text(json.dumps(kit.data), encoding="utf-8")
    comparison = compared(program, os.fspath(kit.folder), other)["comparisons"][0]
    assert [recut["name"] for recut in comparison["panels"]["recut"]] == [panel["name"]]
    assert (comparison["panels"]["recut"][0]["bores_gone"], comparison["panels"]["recut"][0]["bores_new"]) == (1, 1)
