"""Parts on one sheet, judged by shapely alone: inside the trim, clear of defects, the gap apart by true contours.

Arcs are replaced by chords. A chord leaves its arc by CHORD at most, so a distance is off by two of them at most, and
SLACK takes that into account: what is nearer than the gap by more than SLACK is found, what is not is never blamed.
A part may lie in another's opening: a shapely polygon has its holes, and distances are to its material.
"""

from shapely.geometry import box
from shapely.strtree import STRtree

CHORD = 0.001  # mm
SLACK = 2 * CHORD + 1e-6


def faults(size, trim, gap, parts, defects=()):
    """All faults of a sheet of the size (length, width) with `parts`, pairs of a name and a polygon with chords within
    CHORD of its arcs; defects are (x, y, length, width)."""
    found = []
    length, width = size
    usable = box(trim, trim, length - trim, width - trim)
    for name, shape in parts:
        if not shape.is_valid or shape.is_empty:
            found.append(f"{name}: its contours cross or enclose nothing")
            continue
        left, bottom, right, top = shape.bounds
        out = max(trim - left, trim - bottom, right - (length - trim), top - (width - trim))
        if out > SLACK:
            found.append(f"{name} leaves the trimmed sheet {usable.bounds} by {out:.4f} mm: {shape.bounds}")
        for x, y, long, wide in defects:
            if shape.intersection(box(x, y, x + long, y + wide)).area > SLACK * (long + wide):
                found.append(f"{name} lies on the defect at ({x}, {y})")
    shapes = [shape for _, shape in parts]
    tree = STRtree(shapes)
    for i, (name, shape) in enumerate(parts):
        for j in sorted(tree.query(shape, predicate="dwithin", distance=gap + SLACK)):
            if j <= i:
                continue
            other, neighbour = parts[j]
            distance = shape.distance(neighbour)
            shared = shape.intersection(neighbour).area
            if shared > SLACK * min(shape.length, neighbour.length):
                found.append(f"{name} and {other} overlap by {shared:.3f} mm2")
            elif distance < gap - SLACK:
                found.append(f"{name} and {other} are {distance:.4f} mm apart, the gap is {gap}")
    if not parts:
        found.append("nothing lies on it")
    return found
