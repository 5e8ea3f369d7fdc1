"""Fifty kits made up from seeds, in bays that taper and lean and have arches and a raked seat back, judged by a boolean kernel.

Each must stand clear of its bay and of itself. In each an overlap of 1 mm is planted, which the kernel must find. And
for each the bay is made so much smaller that, by the kernel, the kit reaches 1 mm into one of its surfaces: the
program must say so, with that depth.
"""

import concurrent.futures
import json
import re
import subprocess

from checks import bay, random_kits
from checks.kit import Kit

KITS = 50
TRIED = 80  # some specs have no solution, as no bolt that is sold fits them


def run(program, *arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


def written(folder, seed, less=(0, 0, 0)):
    folder.mkdir(exist_ok=True)
    path = folder / f"{seed}-{'-'.join(map(str, less))}.yaml"
    path.write_text(random_kits.spec(seed, less), encoding="utf-8")
    return path


def planted(data):
    """The pairs found once the left side of the first carcase is moved inwards by 1 mm."""
    side = next(panel for panel in data["panels"] if panel["name"] == "c0-side-left")
    side["placement"][1][3] -= 1.0
    found = bay.standing_in_each_other(data)
    side["placement"][1][3] += 1.0
    return [pair for pair in found if "c0-side-left" in pair]


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
    faults = [f"{a} stands in {b}" for a, b in bay.standing_in_each_other(kit.data)]
    faults += bay.faults(kit) + [f"{a} strikes {b}" for a, b in bay.strikes(kit.data)]
    if not planted(kit.data):
        faults.append("an overlap of 1 mm was not found by the kernel")
    panels = [bay.solid_of_panel(panel) for panel in kit.data["panels"]]
    solids = bay.solids_of_bay(kit.data["vehicle"]["bay"])
    for surface, names, way, per_mm in (
        ("seat back", ["seat back"], (1, 0, 0), 1),
        # Both sides come in at once, each by half of what the bay is narrower.
        ("left", ["left side", "left arch"], (0, 1, 0), 2),
        ("roof", ["roof"], (0, 0, 1), 1),
    ):
        by = per_mm * (bay.room(panels, [solids[name][0] for name in names if name in solids], way) + 1.0)
        less = tuple(by * along for along in way)
        told = depths_told(program, written(folder, seed, less), surface, kit.panels)
        if not told or abs(max(told) - 1.0) > 0.06:
            faults.append(f"1 mm in the {surface}: the program says {told}")
    return faults


def test_fifty_kits_stand_clear_and_a_millimetre_shows(program, tmp_path):
    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        answers = dict(enumerate(threads.map(lambda seed: judged(program, tmp_path, seed), range(TRIED))))
    kits = {seed: faults for seed, faults in answers.items() if faults is not None}
    assert len(kits) >= KITS, f"only {len(kits)} of {TRIED} specs are kits"
    assert {seed: faults for seed, faults in kits.items() if faults} == {}
