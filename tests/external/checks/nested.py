"""The sheets of `baywright nest`, read by ezdxf and judged by shapely against the cut list that they were made from."""

import math

import ezdxf
from shapely.geometry import Polygon

from . import layout, paths

SAME = 0.02  # mm that a placed contour may be off the drawn one: what rounding in a file and chords come to

OUTLINE, OPENING, STOCK = "OUTLINE_THROUGH", "OPENING_THROUGH", "STOCK"


def faults(case, documents):
    """All faults of the sheets, which are ezdxf documents by name."""
    found, placed = [], []
    for name, document in sorted(documents.items()):
        parts, unread = parts_of(document)
        names = []
        for outline, openings in parts:
            part = which(case, outline, openings)
            if part is None:
                left, bottom, *_ = outline.bounds
                unread.append(f"the part at ({left:.3f}, {bottom:.3f}) is none of the list, or turned as it may not be")
            names.append(part or "unknown")
        placed += names
        shapes = [Polygon(outline.coords, [hole.coords for hole in holes]) for outline, holes in parts]
        laid = list(zip(names, shapes))
        unread += layout.faults(case["sheet"], case["trim"], case["gap"], laid, case.get("defects", ()))
        found += [f"{name}: {fault}" for fault in unread]
    for part in case["parts"]:
        times = placed.count(part["name"])
        if times != part["quantity"]:
            found.append(f"{part['name']} is on the sheets {times} times instead of {part['quantity']}")
    return found


def parts_of(document):
    """Each part as its outline and openings, rings of points; an opening belongs to the least outline around it."""
    outlines, openings, unread = [], [], []
    for entity in document.modelspace():
        layer, kind = entity.dxf.layer, entity.dxftype()
        if layer not in (OUTLINE, OPENING):
            continue
        if kind == "CIRCLE":
            (x, y, _), r = entity.dxf.center, entity.dxf.radius
            path = [(x + r, y, 1.0), (x - r, y, 1.0)]
        elif kind == "LWPOLYLINE" and entity.closed:
            path = [tuple(map(float, corner)) for corner in entity.get_points("xyb")]
        else:
            unread.append(f"a {kind} on {layer} is no closed contour")
            continue
        (outlines if layer == OUTLINE else openings).append(Polygon(paths.flattened(path, chord=layout.CHORD)))
    holes = [[] for _ in outlines]
    for opening in openings:
        around = [i for i, outline in enumerate(outlines) if outline.buffer(SAME).covers(opening)]
        if around:
            holes[min(around, key=lambda i: outlines[i].area)].append(opening.exterior)
        else:
            unread.append(f"an opening at {opening.bounds[:2]} lies in no part")
    return [(outline.exterior, inner) for outline, inner in zip(outlines, holes)], unread


def which(case, outline, openings):
    """The name of the part that this is in a turn that it may have; none if there is none."""
    left, bottom, right, top = outline.bounds
    area = Polygon(outline.coords).area
    for part in case["parts"]:
        if len(part["openings"]) != len(openings) or abs(abs(paths.area(part["outline"])) - area) > SAME * outline.length:
            continue
        for placed in ways(part):
            there = paths.transformed(part["outline"], placed)
            x0, y0, x1, y1 = paths.bounds(there)
            if math.dist((x1 - x0, y1 - y0), (right - left, top - bottom)) > SAME:
                continue
            moved = placed | {"x": left - x0, "y": bottom - y0}
            if near(outline, part["outline"], moved) and all(
                any(near(hole, opening, moved) for hole in openings) for opening in part["openings"]
            ):
                return part["name"]
    return None


def ways(part):
    """Placements at the origin in which a part may lie: its turns, face up and, if it may, face down."""
    angles = {"free": [0, 90, 180, 270], "kept": [0, 180], "across": [90, 270]}[part["grain"]]
    for flipped in [False, True] if part["either_face"] else [False]:
        for angle in angles if part["turn"] else angles[:1]:
            yield {"x": 0.0, "y": 0.0, "angle": angle, "flipped": flipped}


def near(ring, path, placed):
    """Whether a ring runs along a path of the list as it is placed."""
    other = Polygon(paths.flattened(paths.transformed(path, placed), chord=layout.CHORD)).exterior
    return ring.hausdorff_distance(other) < SAME


def read(folder):
    """The sheets of an output folder by their name."""
    return {path.stem: ezdxf.readfile(path) for path in sorted((folder / "sheets").glob("*.dxf"))}
