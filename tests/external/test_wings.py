"""Panels that follow the vehicle's side, made up from seeds, judged by shapely: each keeps its clearance from the line
that was measured and uses it up, and both sides of one kit are mirror images with the same face up."""

import json
import random
import subprocess

import numpy
import pytest
from shapely.affinity import scale
from shapely.geometry import LineString, Polygon

from checks import paths

NEAR = 2e-3 + paths.CHORD  # mm; lengths are on the micrometre grid, arcs are flattened here
TOOL = 3  # mm, half of the usual tool: it leaves inside corners as round as that
TOLD = 0.5  # mm; what the tool leaves in a corner sharper than itself is warned of from there on
CASES = 20


def measured(seed):
    """A clearance and points (x, y) along the vehicle's side, rising in x."""
    random_ = random.Random(f"wings {seed}")
    n, x, points = random_.randint(2, 6), 40, []
    for _ in range(n):
        points.append((x, random_.randint(600, 650)))
        x += random_.randint(110, 170)
    return random_.choice([1, 3, 4, 7.5]), points


def kit_of(program, folder, seed):
    clearance, points = measured(seed)
    rows = ", ".join(f"{{x: {x}, y: {y}}}" for x, y in points)
    spec = f"""bay: {{width: 1330, depth: 1100, height: 900}}
carcases:
  - {{id: main, width: 1000, depth: 900, height: 305, panel: birch-12, cell: {{drawer: {{slide: heavy}}}}}}
wings:
  - {{id: wing, side: both, clearance: {clearance}, points: [{rows}]}}
"""
    path = folder / f"{seed}.yaml"
    path.write_text(spec, encoding="utf-8")
    command = [program, "make", str(path), "--out", str(folder / str(seed))]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    with open(folder / str(seed) / "kit.json", encoding="utf-8") as file:
        data = json.load(file)
    return clearance, points, {p["name"]: p for p in data["panels"] if p["name"].startswith("wing")}


def from_above(panel):
    """The panel's outline in the vehicle, from above; and which way its face A looks."""
    placement = numpy.array(panel["placement"], dtype=float)
    corners = [placement @ [u, v, 0.0, 1.0] for u, v in paths.flattened(panel["outline"])]
    return Polygon([corner[:2] for corner in corners]), placement[2][2]


def faults(clearance, points, left, right):
    found = []
    (left, left_up), (right, right_up) = left, right
    line = LineString(points)
    mirrored = scale(right, 1, -1, origin=(0, 0))
    nearer = NEAR if clearance >= TOOL else TOLD
    for name, wing in (("left", left), ("right", mirrored)):
        away = wing.distance(line)
        if not -nearer <= away - clearance <= NEAR:
            found.append(f"the {name} wing is {away:.3f} mm from the measured line, not {clearance}")
        if wing.area < 1000:
            found.append(f"the {name} wing has no area")
    if left.symmetric_difference(mirrored).area > 0.1:
        found.append("the wings are no mirror images")
    if left_up < 0.999 or right_up < 0.999:
        found.append("a wing lies face down")
    return found


def test_wings_keep_their_clearance_and_mirror_each_other(program, tmp_path):
    for seed in range(CASES):
        clearance, points, panels = kit_of(program, tmp_path, seed)
        both = [from_above(panels[name]) for name in ("wing-left", "wing-right")]
        assert faults(clearance, points, *both) == [], (seed, points)


@pytest.mark.parametrize(
    "spoil, text",
    [
        (lambda left, right: (left, (scale(right[0], 1.001, 1), right[1])), "no mirror images"),
        (lambda left, right: ((scale(left[0], 1, 1.02), left[1]), right), "from the measured line"),
        (lambda left, right: (left, (right[0], -1.0)), "face down"),
    ],
)
def test_a_planted_fault_is_found(program, tmp_path, spoil, text):
    clearance, points, panels = kit_of(program, tmp_path, 0)
    both = [from_above(panels[name]) for name in ("wing-left", "wing-right")]
    assert any(text in fault for fault in faults(clearance, points, *spoil(*both)))
