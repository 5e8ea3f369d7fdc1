"""Legends of kits made up from seeds: what ezdxf reads on the engraving layer, and where shapely says it lies.

The place of each legend is worked out here from the panel's box in the vehicle, by the words of the spec.
"""

import json
import random
import subprocess

import ezdxf
import numpy
import pytest
from shapely.geometry import LineString, MultiLineString, Point

from checks import paths

OFF = 2.0  # mm that the program keeps from edges and holes (common practice, no source)
LAYER = "ENGRAVE"
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


def run(program, folder, values):
    """The folder of the kit, or the names of the rules that were broken."""
    spec = folder / "kit.yaml"
    spec.write_text(SPEC.format(**values), encoding="utf-8")
    out = folder / "out"
    made = subprocess.run(
        [program, "make", str(spec), "--out", str(out), "--format", "json"], capture_output=True, text=True, check=False
    )
    if made.returncode == 0:
        return out, []
    found = json.loads(made.stdout or made.stderr)
    findings = found["findings"] if isinstance(found, dict) else found
    return None, [finding["rule"] for finding in findings]


def lines_on(file, layer):
    """All open polylines of a layer, and what else stands on it."""
    entities = [e for e in ezdxf.readfile(file).modelspace() if e.dxf.layer == layer]
    lines = [e for e in entities if e.dxftype() == "LWPOLYLINE" and not e.closed]
    return [LineString([(x, y) for x, y, *_ in line.get_points()]) for line in lines], len(entities) - len(lines)


@pytest.mark.parametrize("seed", range(40))
def test_legends_lie_where_the_spec_says_and_off_every_edge(program, tmp_path, seed):
    values = made_up(seed)
    out, broken = run(program, tmp_path, values)
    bare = SPEC[: SPEC.index("legends:")].format(**values)
    (tmp_path / "bare.yaml").write_text(bare, encoding="utf-8")
    subprocess.run([program, "make", str(tmp_path / "bare.yaml"), "--out", str(tmp_path / "bare")], capture_output=True, check=True)
    kit = json.loads((tmp_path / "bare" / "kit.json").read_text(encoding="utf-8"))
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
    across = numpy.ptp([c[1] for c in corners]) > 0 and abs(matrix[1][0]) > 0.5
    spans = [(low_x, high_x), (low_y, high_y)] if across else [(low_y, high_y), (low_x, high_x)]
    at = [0, 1] if across else [1, 0]
    assert abs(sum(spans[0]) / 2 - middle[at[0]]) < 1e-4
    assert spans[1][1] - spans[1][0] <= values["height"] * 8 / 6 + 1e-4
    sheets = [lines_on(file, LAYER)[0] for file in (out / "sheets").glob("*.dxf")]
    assert sum(map(len, sheets)) == len(lines)
