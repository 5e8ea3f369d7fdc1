"""Legends of kits made up from seeds: what ezdxf reads on the engraving layer, and where shapely says it lies.

The place of each legend is worked out here from the panel's box in the vehicle, by the words of the spec.
"""

import random

import ezdxf
import numpy
import pytest
from shapely.geometry import LineString, MultiLineString, Point

from checks import made, paths

OFF = 2.0  # mm that the program keeps from edges and holes (common practice, no source)
LAYER = "ENGRAVE"
DEMOS = {"paddock-ute", "spoke-van", "weir-wagon"}
SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-./+()%="

SPEC = """\
bay: {{width: 1040, depth: 1050, height: 800}}
carcases:
  - {{id: main, at: {{x: 50}}, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {{id: board, blank: {{}}}}}}
cutouts: [{{id: hole, front_of: main-board, round: {{diameter: {hole}}}, middle: {{left: 500}}}}]
legends:
  - {{id: text, text: "{text}", front_of: main-board, height: {height}, middle: {{left: {left}, top: {top}}}}}
"""


def made_up(seed):
    draw = random.Random(seed)
    return {
        "text": "".join(draw.choice(SIGNS) for _ in range(draw.randint(1, 12))),
        "height": round(draw.uniform(3, 30), 1),
        "left": round(draw.uniform(10, 900), 1),
        "top": round(draw.uniform(5, 250), 1),
        "hole": draw.choice([40, 90]),
    }


def lines_on(file, layer):
    """All open polylines of a layer, and what else stands on it."""
    entities = [e for e in ezdxf.readfile(file).modelspace() if e.dxf.layer == layer]
    lines = [e for e in entities if e.dxftype() == "LWPOLYLINE" and not e.closed]
    return [LineString([(x, y) for x, y, *_ in line.get_points()]) for line in lines], len(entities) - len(lines)


@pytest.mark.parametrize("seed", range(40))
def test_legends_lie_where_the_spec_says_and_off_every_edge(program, tmp_path, seed):
    values = made_up(seed)
    out, broken = made.of_spec(program, tmp_path, SPEC.format(**values))
    (tmp_path / "bare").mkdir()
    bare, _ = made.of_spec(program, tmp_path / "bare", SPEC[: SPEC.index("legends:")].format(**values))
    kit = made.kit_of(bare)
    panel = next(panel for panel in kit["panels"] if panel["name"] == "main-board")
    matrix = numpy.array(panel["placement"])
    flat = paths.polygon(panel["outline"])
    corners = [matrix @ [x, y, 0.0, 1.0] for x, y in flat.exterior.coords]
    left, top = max(c[1] for c in corners) - values["left"], max(c[2] for c in corners) - values["top"]
    middle = (numpy.linalg.inv(matrix) @ [corners[0][0], left, top, 1.0])[:2]
    material = flat
    for opening in panel["openings"]:
        material = material.difference(paths.polygon(opening["points"]))
    for bore in panel["bores"]:
        material = material.difference(Point(bore["u"], bore["v"]).buffer(bore["diameter"] / 2, 256))
    if out is None:
        # The box of the text, its tails too, cannot be well inside: some edge is near it.
        assert broken == ["legend-does-not-fit"]
        # At most 4 units a sign and 1.5 between two.
        widest = len(values["text"]) * 5.5 * values["height"] / 6
        around = Point(middle).buffer(numpy.hypot(widest / 2, values["height"] * 0.84) + OFF)
        assert not material.contains(around)
        return
    lines, others = lines_on(out / "parts" / "main-board.dxf", LAYER)
    assert lines and others == 0
    drawn = MultiLineString(lines)
    assert material.contains(drawn) and material.boundary.distance(drawn) >= OFF - 0.05
    low_x, low_y, high_x, high_y = drawn.bounds
    # Its width is centred whatever the signs are; its capitals are centred on the middle, tails are below them.
    # The front's u or v runs along the vehicle's y.
    across = 0 if abs(matrix[1][0]) > 0.5 else 1
    spans = [(low_x, high_x), (low_y, high_y)]
    assert abs(sum(spans[across]) / 2 - middle[across]) < 1e-4
    assert spans[1 - across][1] - spans[1 - across][0] <= values["height"] * 8 / 6 + 1e-4
    sheets = [lines_on(file, LAYER)[0] for file in (out / "sheets").glob("*.dxf")]
    assert sum(map(len, sheets)) == len(lines)


def test_every_part_of_a_demo_carries_its_name_off_edges_holes_and_legends(kit):
    """Part marks: in the parts' files as ezdxf reads them, against edges and holes as shapely sees them."""
    shown = {"front", "lid"}
    panels = kit.data["panels"]
    if not any(engraving["kind"] == "part-mark" for panel in panels for engraving in panel["engravings"]):
        # The workshop asks for none; that of the demos does.
        assert kit.folder.name not in DEMOS
        return
    for panel in panels:
        marks = [engraving for engraving in panel["engravings"] if engraving["kind"] == "part-mark"]
        legends = [engraving for engraving in panel["engravings"] if engraving["kind"] == "legend"]
        assert len(marks) == 1 or (not marks and panel["role"] in shown), panel["name"]
        lines, others = lines_on(kit.folder / "parts" / f"{panel['name']}.dxf", LAYER)
        assert others == 0
        assert len(lines) == sum(len(engraving["strokes"]) for engraving in marks + legends)
        if not marks:
            continue
        assert marks[0]["text"] == panel["name"] and 3 <= marks[0]["height"] <= 5
        drawn = MultiLineString(marks[0]["strokes"])
        material = paths.polygon(panel["outline"])
        for opening in panel["openings"]:
            material = material.difference(paths.polygon(opening["points"]))
        for bore in panel["bores"]:
            sink = bore["countersink"]["diameter"] if bore.get("countersink") else 0.0
            material = material.difference(Point(bore["u"], bore["v"]).buffer(max(bore["diameter"], sink) / 2, 256))
        assert material.contains(drawn) and material.boundary.distance(drawn) >= OFF - 0.05, panel["name"]
        assert all(MultiLineString(legend["strokes"]).distance(drawn) >= OFF for legend in legends)
