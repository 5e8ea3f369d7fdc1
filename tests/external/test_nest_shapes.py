"""True shapes nested by `baywright nest`, judged by shapely; and the judge itself, on sheets drawn by hand with faults
planted in them.

BAYWRIGHT names the program. 200 cut lists from seeds, see checks/cases.py.
"""

import concurrent.futures
import subprocess

import ezdxf
import pytest

from checks import cases, nested, paths

CASES = 200


def nest(program, case, folder):
    """Nests a case in a folder; gives the sheets."""
    parts, out = cases.write(case, folder), folder / "out"
    length, width = case["sheet"]
    options = ["--sheet", f"{length}x{width}", "--gap", case["gap"], "--trim", case["trim"], "--quick", "--out", out]
    run = subprocess.run([program, "nest", parts, *map(str, options)], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return nested.read(out)


def test_200_lists_of_true_shapes(program, tmp_path):
    def judged(seed):
        case = cases.case(seed)
        return nested.faults(case, nest(program, case, tmp_path / str(seed)))

    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        found = {seed: faults for seed, faults in enumerate(threads.map(judged, range(CASES))) if faults}
    assert found == {}


# A sheet of 600 x 300 with a gap of 8 and a trim of 10, drawn by hand: a ring with a disc in its opening that is just
# small enough, two plates, of which one must keep its grain, and a frame.

GAP, TRIM = 8.0, 10.0


def part(name, outline, openings=(), grain="free"):
    return {
        "name": name,
        "quantity": 1,
        "grain": grain,
        "turn": True,
        "either_face": False,
        "outline": outline,
        "openings": list(openings),
    }


PARTS = [
    part("ring", cases.circle(0, 0, 100), [cases.circle(0, 0, 80)]),
    part("disc", cases.circle(0, 0, 72)),
    part("plate", cases.rectangle(0, 0, 120, 60), grain="kept"),
    part("lath", cases.rectangle(0, 0, 120, 30)),
    part("frame", cases.rounded(0, 0, 200, 150, 20), [cases.rounded(20, 20, 160, 110, 10)]),
]
PLACES = {
    "ring": (110, 110, 0),
    "disc": (110, 110, 90),
    "plate": (218, 10, 0),
    "lath": (218, 78, 0),
    "frame": (346, 10, 0),
}
CASE = {"sheet": (600, 300), "gap": GAP, "trim": TRIM, "parts": PARTS}


def drawn(places, parts=PARTS):
    """The document of a sheet: `places` are pairs of a part's name and (x, y, angle)."""
    document = ezdxf.new("R2000")
    space = document.modelspace()
    by_name = {part["name"]: part for part in parts}
    for name, (x, y, angle) in places:
        placed = {"x": x, "y": y, "angle": angle, "flipped": False}
        contours = [(nested.OUTLINE, by_name[name]["outline"])]
        contours += [(nested.OPENING, opening) for opening in by_name[name]["openings"]]
        for layer, path in contours:
            points = paths.transformed(path, placed)
            space.add_lwpolyline(points, "xyb", close=True, dxfattribs={"layer": layer})
    return document


def found(changed=(), without=(), also=(), parts=PARTS):
    places = [place for place in (PLACES | dict(changed)).items() if place[0] not in without]
    return nested.faults(CASE | {"parts": parts}, {"sheet": drawn([*places, *also], parts)})


def test_the_sheet_drawn_by_hand_is_clean():
    assert found() == []


def with_disc(radius):
    return [part("disc", cases.circle(0, 0, radius)) if one["name"] == "disc" else one for one in PARTS]


FAULTS = [
    ("a part a tenth too near", {"changed": {"lath": (218, 77.9, 0)}}, "plate and lath are 7.9000 mm apart"),
    ("a part too near to an arc", {"changed": {"plate": (217.9, 80, 0)}, "without": ["lath"]}, "apart"),
    ("a part on another", {"changed": {"lath": (300, 40, 0)}}, "overlap"),
    ("a part on all of another", {"changed": {"lath": (218, 20, 0)}}, "plate and lath overlap"),
    ("a part a tenth over the trim", {"changed": {"frame": (346, 9.9, 0)}}, "frame leaves the trimmed sheet"),
    ("an arc a tenth over the trim", {"changed": {"ring": (109.9, 110, 0)}}, "ring leaves the trimmed sheet"),
    ("a part over the far edge", {"changed": {"frame": (390.1, 10, 0)}}, "frame leaves the trimmed sheet"),
    ("a part missing", {"without": ["lath"]}, "lath is on the sheets 0 times"),
    ("a part twice", {"also": [("lath", (380, 200, 0))]}, "lath is on the sheets 2 times"),
    ("a part across its grain", {"changed": {"plate": (300, 170, 90)}}, "none of the list, or turned"),
    ("a part turned by less than a quarter", {"changed": {"lath": (300, 170, 30)}}, "none of the list, or turned"),
    ("a part a tenth too large", {"parts": with_disc(72.1)}, "ring and disc are 7.89"),
    ("a part a tenth off in an opening", {"changed": {"disc": (110.1, 110, 0)}}, "ring and disc are 7.89"),
    ("a part over an opening's edge", {"changed": {"disc": (125, 110, 0)}}, "overlap"),
    ("a part too tight in a frame", {"changed": {"lath": (373.9, 60, 0)}}, "lath and frame are 7.9"),
]


@pytest.mark.parametrize("change, text", [fault[1:] for fault in FAULTS], ids=[fault[0] for fault in FAULTS])
def test_a_planted_fault_is_found(change, text):
    faults = found(**change)
    assert any(text in fault for fault in faults), faults


def test_parts_on_a_defect_are_found():
    sheet = {"sheet": drawn(PLACES.items())}
    # In the frame's opening, then on its rim.
    assert nested.faults(CASE | {"defects": [(380, 50, 20, 20)]}, sheet) == []
    faults = nested.faults(CASE | {"defects": [(350, 50, 20, 20)]}, sheet)
    assert faults == ["sheet: frame lies on the defect at (350, 50)"]
