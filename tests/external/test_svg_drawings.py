"""SVG drawings made up from seeds: the part that the program reads out of each against what svgelements, another
reader of SVG, makes of the same file. Lines, curves, arcs and nested transforms."""

import math
import random
import subprocess

import ezdxf
import pytest
from ezdxf.path import make_path
from shapely import hausdorff_distance
from shapely.affinity import scale, translate
from shapely.geometry import Polygon
from svgelements import SVG, Path

NEAR = 0.03  # mm; chords of the program within 0.01 of the curve, the two flattenings here within 0.005 or so each
CASES = 40


def piece(random_, start, end):
    """A path's command from one point to the next, bulging little."""
    (x0, y0), (x, y) = start, end
    length = math.hypot(x - x0, y - y0)

    def beside(share):
        off = random_.uniform(-0.15, 0.15)
        return f"{x0 + share * (x - x0) - off * (y - y0):.4f} {y0 + share * (y - y0) + off * (x - x0):.4f}"

    to = f"{x:.4f} {y:.4f}"
    radii = f"{length * random_.uniform(1.1, 3):.3f} {length * random_.uniform(1.1, 3):.3f}"
    return random_.choice(
        [
            f"L{to}",
            f"l{x - x0:.4f} {y - y0:.4f}",
            f"C{beside(0.3)} {beside(0.7)} {to}",
            f"Q{beside(0.5)} {to}",
            f"A{radii} {random_.randint(-90, 90)} 0 {random_.randint(0, 1)} {to}",
            f"A{length:.4f} {length:.4f} 0 0 {random_.randint(0, 1)} {to}",
        ]
    )


def transform(random_):
    return random_.choice(
        [
            f"translate({random_.uniform(-50, 50):.3f} {random_.uniform(-50, 50):.3f})",
            f"rotate({random_.uniform(-180, 180):.3f})",
            f"rotate({random_.uniform(-180, 180):.3f}, 30, 40)",
            f"scale({random_.uniform(0.5, 1.5):.3f} {random_.choice([-1, 1]) * random_.uniform(0.5, 1.5):.3f})",
            f"skewX({random_.uniform(-30, 30):.3f})",
            f"matrix(0.8 0.3 -0.2 1.1 {random_.uniform(-20, 20):.3f} 7)",
        ]
    )


def drawing(seed):
    random_ = random.Random(f"drawings {seed}")
    n = random_.randint(5, 12)
    radii = [random_.uniform(60, 140) for _ in range(n)]
    corners = [(r * math.cos(math.tau * i / n), r * math.sin(math.tau * i / n)) for i, r in enumerate(radii)]
    data = f"M{corners[0][0]:.4f} {corners[0][1]:.4f}"
    at = tuple(round(c, 4) for c in corners[0])
    for corner in corners[1:]:
        data += piece(random_, at, corner)
        at = corner
    groups = random_.randint(0, 3)
    opened = "".join(f'<g transform="{transform(random_)} {transform(random_)}">' for _ in range(groups))
    unit, size = random_.choice([("mm", 400), ("cm", 40), ("in", 16)])
    wide = random_.choice([400, 1000, 1511.8])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}{unit}" height="{size}{unit}" '
        f'viewBox="-200 -100 {wide} {wide}">\n{opened}<path d="{data}z"/>{"</g>" * groups}\n</svg>\n'
    )


def by_svgelements(path):
    """The drawing in millimetres from above: y up. Points are taken first and moved then: moved arcs are its weak spot."""
    shapes = [e for e in SVG.parse(path, reify=False, ppi=25.4).elements() if isinstance(e, Path)]
    assert len(shapes) == 1
    points = []
    for segment in shapes[0].segments(transformed=False):
        if type(segment).__name__ == "Move":
            continue
        n = 1 if type(segment).__name__ in ("Line", "Close") else 300
        points += [shapes[0].transform.point_in_matrix_space(segment.point(i / n)) for i in range(n)]
    return scale(Polygon([(p.x, p.y) for p in points]), 1, -1, origin=(0, 0))


def by_the_program(program, path, folder):
    command = [program, "nest", str(path), "--sheet", "3000x3000", "--quick", "--out", str(folder)]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    found = []
    for entity in ezdxf.readfile(folder / "parts" / f"{path.stem}.dxf").modelspace():
        if entity.dxftype() == "LWPOLYLINE":
            found.append(Polygon([p.vec2 for p in make_path(entity).flattening(0.005)]))
    return max(found, key=lambda polygon: polygon.area)


def apart(one, other):
    """mm by which two outlines differ, each moved so that its lower left corner is the origin."""
    one, other = (translate(polygon, -polygon.bounds[0], -polygon.bounds[1]) for polygon in (one, other))
    return hausdorff_distance(one.exterior, other.exterior)


def test_svg_drawings_are_read_as_another_reader_reads_them(program, tmp_path):
    tried = 0
    for seed in range(CASES):
        path = tmp_path / f"drawing-{seed}.svg"
        path.write_text(drawing(seed), encoding="utf-8")
        expected = by_svgelements(path)
        if not expected.is_valid:
            continue
        tried += 1
        part = by_the_program(program, path, tmp_path / f"out-{seed}")
        assert apart(part, expected) <= NEAR, (seed, path.read_text())
        # A mirrored part and one that is a hair too large are seen.
        assert apart(scale(part, -1, 1), expected) > 1, seed
        assert apart(scale(part, 1.002, 1.002), expected) > NEAR, seed
    assert tried >= CASES * 3 // 4, tried


def test_a_drawing_with_an_open_path_is_refused(program, tmp_path):
    path = tmp_path / "open.svg"
    path.write_text(drawing(1).replace('z"', '"'), encoding="utf-8")
    with pytest.raises(AssertionError, match="contour-open"):
        by_the_program(program, path, tmp_path / "out")
