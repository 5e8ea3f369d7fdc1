"""Runs of cables, hoses and ducts through kits made up from seeds: shapely finds anew what each meets on its way.

Reads only kit.json: panels as polygons, the way of each run, bores, slides and angles as boxes.
"""

import random

import numpy
import pytest
from shapely.geometry import Point, Polygon
from shapely.prepared import prep

from checks import made, paths

STEP = 0.4  # mm along a run between places that are looked at
KEEP = 20.0  # mm of panel round a hole: common practice, no source

SPEC = """\
bay: {{width: 1040, depth: 1080, height: 800}}
carcases:
  - {{id: main, width: {width}, depth: {depth}, height: {height}, panel: birch-12, columns: [{{open: {{}}}}, {{rows: [{{open: {{}}}}, {{open: {{}}}}]}}, {{open: {{}}}}]}}
runs:
{runs}
"""
RUN = "  - {{id: run-{i}, kind: {kind}, bundle: {bundle}, wall: {wall}, from: {{at: {a}}}, via: [{{at: {b}}}], to: {{at: {c}}}}}"


def made_up(seed):
    draw = random.Random(seed)
    width, depth, height = draw.randint(800, 1000), draw.randint(600, 950), draw.randint(300, 600)

    def place():
        x, y = draw.randint(60, depth - 60), draw.randint(-width // 2 + 60, width // 2 - 60)
        return f"{{x: {x}.3, y: {y}.4, z: {draw.randint(40, height - 40)}.7}}"

    runs = [
        RUN.format(
            i=i, kind=draw.choice(["cable", "hose", "duct", "gas"]), bundle=draw.randint(6, 30),
            wall=draw.choice([1.5, 2, 3]), a=place(), b=place(), c=place(),
        )
        for i in range(draw.randint(1, 3))
    ]
    return SPEC.format(width=width, depth=depth, height=height, runs="\n".join(runs))


def wood(panel):
    """The panel's outline without its openings, in its own frame."""
    holes = [paths.polygon(opening["points"]).exterior.coords for opening in panel["openings"]]
    return Polygon(paths.polygon(panel["outline"]).exterior.coords, holes)


def to_panel(panel, places):
    back = numpy.linalg.inv(numpy.array(panel["placement"]))
    return (back @ numpy.c_[places, numpy.ones(len(places))].T).T[:, :3]


def samples(way):
    for a, b in zip(way, way[1:]):
        a, b = numpy.array(a), numpy.array(b)
        n = max(2, int(numpy.linalg.norm(b - a) / STEP) + 1)
        yield from (a + (b - a) * t for t in numpy.linspace(0.0, 1.0, n))


@pytest.mark.parametrize("seed", range(40))
def test_every_panel_on_the_way_has_a_hole(program, tmp_path, seed):
    out, broken = made.of_spec(program, tmp_path, made_up(seed))
    if out is None:
        # Stops fall where they may: into a panel, or where no hole has a place. Nothing else is wrong with these kits.
        assert set(broken) <= {"run-stop-in-panel", "run-hole-without-place", "run-through-part", "run-hole-near-bolt"}
        pytest.skip("the run finds no way")
    kit = made.kit_of(out)
    panels = {panel["name"]: panel for panel in kit["panels"]}
    shapes = {name: wood(panel) for name, panel in panels.items()}
    for run in kit["runs"]:
        places = numpy.array(list(samples(run["way"])))
        for name, panel in panels.items():
            local, solid = to_panel(panel, places), prep(shapes[name])
            inside = local[(local[:, 2] > 0.01) & (local[:, 2] < panel["thickness"] - 0.01)]
            assert not any(solid.contains(Point(u, v)) for u, v, _ in inside), (run["name"], name)
            # What passes between the faces of a panel and within its outline does so in an opening that is listed.
            outline = paths.polygon(panel["outline"])
            crosses = any(outline.contains(Point(u, v)) for u, v, _ in inside)
            assert crosses == any(crossing["panel"] == name for crossing in run["crossings"]), (run["name"], name)
        length = sum(numpy.linalg.norm(numpy.subtract(b, a)) for a, b in zip(run["way"], run["way"][1:]))
        assert abs(length - run["length"]) < 1e-3
        for crossing in run["crossings"]:
            check_hole(run, panels[crossing["panel"]], crossing, kit)


def check_hole(run, panel, crossing, kit):
    """A round hole as wide as bundle and grommet, with panel all round it; its middle is where the list says."""
    own = [opening for opening in panel["openings"] if opening["joint"] == crossing["opening"]]
    assert len(own) == 1
    hole = paths.polygon(own[0]["points"])
    (u, v, _) = to_panel(panel, numpy.array([crossing["middle"]]))[0]
    radius = run["hole"] / 2
    assert run["hole"] >= run["bundle"] + 3.0
    assert abs(hole.centroid.x - u) < 1e-3 and abs(hole.centroid.y - v) < 1e-3
    left, low, right, high = hole.bounds
    assert abs(right - left - 2 * radius) < 0.05 and abs(high - low - 2 * radius) < 0.05
    assert paths.polygon(panel["outline"]).exterior.distance(hole) >= KEEP - 0.01
    for other in panel["openings"]:
        if other is not own[0]:
            assert paths.polygon(other["points"]).distance(hole) >= KEEP - 0.01
    for bore in panel["bores"]:
        widest = max(bore["diameter"], (bore["countersink"] or {}).get("diameter", 0.0))
        assert Point(bore["u"], bore["v"]).distance(hole) - widest / 2 >= KEEP - 0.01, bore["bolt"]
