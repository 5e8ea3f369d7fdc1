"""Cut-outs of kits made up from seeds: where shapely says they lie, and whether they may lie there.

The expected place of each opening is worked out here from the panel's box in the vehicle, by the words of the spec
(left, right, rear, front, bottom, top, middle, edge), and the web to the panel's edge and to its neighbours by shapely.
"""

import random

import numpy
import pytest
from shapely.geometry import Point, box

from checks import made, paths

WEB = 10.0  # mm that the program keeps (a decision of the project, common practice, no source)
UNSURE = 0.05  # mm around it in which no verdict is expected
AXES = {"side": (0, 2), "back": (1, 2), "deck": (1, 0)}  # across, up: indices into x, y, z
EDGES = {(0, -1): "rear", (0, 1): "front", (1, -1): "right", (1, 1): "left", (2, -1): "bottom", (2, 1): "top"}

SPEC = """\
bay: {{width: 1040, depth: 1050, height: 800}}
carcases:
  - {{id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {{open: {{}}}}}}
{cutouts}"""


def run(program, folder, cutouts):
    """The kit, or the names of the rules that were broken."""
    lines = "".join(f"  - {line}\n" for line in cutouts)
    out, broken = made.of_spec(program, folder, SPEC.format(cutouts=f"cutouts:\n{lines}" if lines else ""))
    return (made.kit_of(out) if out else None), broken


def in_vehicle(panel, points):
    """A contour of a panel as a polygon in two axes of the vehicle."""
    matrix = numpy.array(panel["placement"])
    kind = next(kind for kind in AXES if f"-{kind}" in panel["name"])
    place = lambda p: (matrix @ [p[0], p[1], 0.0, 1.0])[list(AXES[kind])]
    flat = paths.polygon(points)
    return type(flat)([place(p) for p in flat.exterior.coords])


def made_up(seed):
    """Two rectangles or circles in one panel: their lines in the spec, and where they are to be."""
    draw = random.Random(seed)
    kind, name = draw.choice([("side", "main-side-left"), ("back", "main-back"), ("deck", "main-deck")])
    cutouts = []
    for i in range(2):
        size = [round(draw.uniform(20, 160), 1) for _ in range(2)]
        is_round = draw.random() < 0.4
        if is_round:
            size[1] = size[0]
        mode = draw.choice(["middle", "edge"])
        signs = [draw.choice([-1, 1]), draw.choice([-1, 1])]
        far = [round(draw.uniform(0, 330), 1), round(draw.uniform(0, 150), 1)]
        cutouts.append((i, size, is_round, mode, signs, far))
    return kind, name, cutouts


def line(kind, name, cutout):
    i, (width, height), is_round, mode, signs, far = cutout
    shape = f"round: {{diameter: {width}}}" if is_round else f"rectangle: {{width: {width}, height: {height}}}"
    keys = [f"{EDGES[axis, sign]}: {by}" for axis, sign, by in zip(AXES[kind], signs, far)]
    return f"{{id: cut-{i}, panel: {name}, {shape}, {mode}: {{{', '.join(keys)}}}}}"


def expected(outline, cutout):
    """The opening in two axes of the vehicle, from the panel's box."""
    _, size, is_round, mode, signs, far = cutout
    bounds = outline.bounds
    middle = []
    for axis in (0, 1):
        edge = bounds[axis + 2] if signs[axis] > 0 else bounds[axis]
        inward = far[axis] + (size[axis] / 2 if mode == "edge" else 0)
        middle.append(edge - signs[axis] * inward)
    if is_round:
        return Point(middle).buffer(size[0] / 2, quad_segs=64)
    # The corners have the tool's radius, 3 mm.
    half = [size[0] / 2 - 3, size[1] / 2 - 3]
    return box(middle[0] - half[0], middle[1] - half[1], middle[0] + half[0], middle[1] + half[1]).buffer(3, quad_segs=64)


def verdict(outline, openings):
    """Whether all webs are wide enough: True, False, or None where it is too close to say."""
    webs = []
    for i, opening in enumerate(openings):
        webs.append(outline.exterior.distance(opening) if outline.contains(opening) else -1.0)
        webs += [opening.distance(other) if not opening.intersects(other) else -1.0 for other in openings[:i]]
    least = min(webs)
    return None if abs(least - WEB) < UNSURE else bool(least > WEB)


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    import os

    kit, rules = run(os.environ["BAYWRIGHT"], tmp_path_factory.mktemp("plain"), [])
    assert rules == []
    return {panel["name"]: panel for panel in kit["panels"]}


def test_openings_lie_where_the_spec_says_and_keep_their_web(program, plain, tmp_path):
    verdicts, refused = {True: 0, False: 0}, 0
    for seed in range(60):
        kind, name, cutouts = made_up(seed)
        outline = in_vehicle(plain[name], plain[name]["outline"])
        wanted = [expected(outline, cutout) for cutout in cutouts]
        sound = verdict(outline, wanted)
        folder = tmp_path / str(seed)
        folder.mkdir()
        kit, rules = run(program, folder, [line(kind, name, cutout) for cutout in cutouts])
        if sound is None:
            continue
        verdicts[sound] += 1
        if not sound:
            # One that is refused for what lies there is not compared with its neighbour.
            assert {"cutout-off-panel", "cutout-blocked"} & set(rules), (seed, rules)
            refused += "cutout-off-panel" in rules
            continue
        # Where another panel or an angle lies, only the program knows; then it says so and nothing else.
        if kit is None:
            assert set(rules) <= {"cutout-blocked", "joint-without-bolts"}, (seed, rules)
            continue
        panel = next(panel for panel in kit["panels"] if panel["name"] == name)
        cuts = [opening for opening in panel["openings"] if opening["kind"] == "cutout"]
        assert [cut["joint"] for cut in cuts] == ["cut-0", "cut-1"], seed
        for cut, want in zip(cuts, wanted):
            found = in_vehicle(panel, cut["points"])
            assert found.symmetric_difference(want).area < 0.002 * want.area, (seed, cut["joint"])
        # Bolts found their places elsewhere: three of their diameters from the rim.
        threads = {bolt["name"]: bolt["diameter"] for bolt in kit["bolts"]}
        for bore in panel["bores"]:
            centre = Point(bore["u"], bore["v"])
            for cut in cuts:
                assert paths.polygon(cut["points"]).distance(centre) >= 3 * threads[bore["bolt"]] - 0.01, (seed, bore)
    assert min(verdicts.values()) > 10 and refused > 0.8 * verdicts[False], (verdicts, refused)


def test_the_verdict_sees_what_it_is_to_see():
    outline = box(0, 0, 500, 200)
    assert verdict(outline, [box(20, 20, 60, 60), box(80, 20, 100, 60)]) is True
    assert verdict(outline, [box(9, 20, 60, 60), box(80, 20, 100, 60)]) is False
    assert verdict(outline, [box(20, 20, 60, 60), box(69, 20, 100, 60)]) is False
    assert verdict(outline, [box(20, 20, 60, 60), box(30, 30, 50, 50)]) is False
    assert verdict(outline, [box(20, 150, 60, 250), box(80, 20, 100, 60)]) is False
