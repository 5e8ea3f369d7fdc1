"""Fifty kits made up from seeds, in bays that taper, lean, slope and have arches, judged by a boolean kernel.

Each must stand clear of its bay and of itself. In each an overlap of 1 mm is planted, which the kernel must find. And
for each the bay is made so much smaller that, by the kernel, the kit reaches 1 mm into one of its surfaces: the
program must say so, with that depth.
"""

import concurrent.futures
import json
import re
import subprocess

import numpy

from checks import bay, random_kits
from checks.kit import Kit

KITS = 50
TRIED = 80  # some specs have no solution, as no bolt that is sold fits them

PRICK = 1e-4  # mm3: a corner in a wall that leans two ways is some hundredths of a mm in before it shares more


def run(program, *arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


def written(folder, seed, less=(0, 0, 0)):
    folder.mkdir(exist_ok=True)
    path = folder / f"{seed}-{'-'.join(map(str, less))}.yaml"
    path.write_text(random_kits.spec(seed, less), encoding="utf-8")
    return path


def standing_in_each_other(data):
    """Pairs of panels that share space, everything shut."""
    solids = [(panel["name"], bay.solid_of_panel(panel)) for panel in data["panels"]]
    return [(a, b) for i, (a, s) in enumerate(solids) for b, t in solids[i + 1 :] if bay.shared(s, t)]


def planted(data):
    """The pairs found once the left side of the first carcase is moved inwards by 1 mm."""
    side = next(panel for panel in data["panels"] if panel["name"] == "c0-side-left")
    side["placement"][1][3] -= 1.0
    found = standing_in_each_other(data)
    side["placement"][1][3] += 1.0
    return [pair for pair in found if "c0-side-left" in pair]


def room(data, surfaces, way):
    """mm that the kit can move before a panel reaches into one of the surfaces."""
    behind = [solid for name, (solid, _) in bay.solids_of_bay(data["vehicle"]["bay"]).items() if name in surfaces]
    panels = [bay.solid_of_panel(panel) for panel in data["panels"]]
    low, high = 0.0, 3000.0
    while high - low > 0.001:
        middle = (low + high) / 2
        moved = [panel.translate(tuple(numpy.array(way) * middle)) for panel in panels]
        touches = any((panel ^ solid).volume() > PRICK for panel in moved for solid in behind)
        low, high = (low, middle) if touches else (middle, high)
    return low


def depths_told(program, spec, surface, panels):
    """mm by which the program says that panels reach into a surface."""
    answer = json.loads(run(program, "check", spec, "--format", "json").stdout)
    found = [f for f in answer["findings"] if f["rule"] == "outside-bay" and f["on"] in panels]
    told = [f["message"] for f in found if surface in f["message"]]
    return [float(re.search(r"([0-9.]+) mm", message)[1]) for message in told]


def judged(program, folder, seed):
    """What is wrong with one kit; None if the spec makes none."""
    out = folder / f"out-{seed}"
    made = run(program, "make", written(folder, seed), "--out", out)
    if made.returncode == 1:
        return None
    assert made.returncode == 0, made.stderr
    kit = Kit(out)
    faults = [f"{a} stands in {b}" for a, b in standing_in_each_other(kit.data)]
    faults += bay.faults(kit) + [f"{a} strikes {b}" for a, b in bay.strikes(kit.data)]
    if not planted(kit.data):
        faults.append("an overlap of 1 mm was not found by the kernel")
    # Both sides come in at once, each by half of what the bay is narrower.
    for surface, surfaces, way, axis, sides in (
        ("seat back", {"seat back"}, (1, 0, 0), 0, 1),
        ("left", {"left side", "left arch"}, (0, 1, 0), 1, 2),
        ("roof", {"roof"}, (0, 0, 1), 2, 1),
    ):
        less = [0.0, 0.0, 0.0]
        less[axis] = sides * (room(kit.data, surfaces, way) + 1.0)
        told = depths_told(program, written(folder, seed, tuple(less)), surface, kit.panels)
        if not told or abs(max(told) - 1.0) > 0.06:
            faults.append(f"1 mm in the {surface}: the program says {told}")
    return faults


def test_fifty_kits_stand_clear_and_a_millimetre_shows(program, tmp_path):
    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        answers = dict(enumerate(threads.map(lambda seed: judged(program, tmp_path, seed), range(TRIED))))
    kits = {seed: faults for seed, faults in answers.items() if faults is not None}
    assert len(kits) >= KITS, f"only {len(kits)} of {TRIED} specs are kits"
    assert {seed: faults for seed, faults in kits.items() if faults} == {}
