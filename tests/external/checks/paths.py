"""Closed paths of lines and arcs as lists of (x, y, bulge).

bulge = tan(included angle / 4), positive counter-clockwise, and belongs to the side that begins at the corner: the
convention of DXF group code 42.
"""

import math

from shapely.geometry import Polygon

CHORD = 0.01  # mm that a chord may leave its arc


def sides(path):
    """(start, end, bulge) of every side; the last leads back to the first corner."""
    for i, (x, y, bulge) in enumerate(path):
        end = path[(i + 1) % len(path)]
        yield (x, y), (end[0], end[1]), bulge


def arc(a, b, bulge):
    """Centre, radius, start angle and included angle (signed) of a side with a bulge."""
    (ax, ay), (bx, by) = a, b
    included = 4 * math.atan(bulge)
    chord = math.hypot(bx - ax, by - ay)
    radius = chord / (2 * math.sin(abs(included) / 2))
    # Distance from the chord's middle to the centre, to the left of a -> b where positive.
    left = radius * math.cos(included / 2) * (1 if bulge > 0 else -1)
    cx = (ax + bx) / 2 - (by - ay) / chord * left
    cy = (ay + by) / 2 + (bx - ax) / chord * left
    return (cx, cy), radius, math.atan2(ay - cy, ax - cx), included


def middle(a, b, bulge):
    """The point half way along a side."""
    if bulge == 0:
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    centre, radius, start, included = arc(a, b, bulge)
    angle = start + included / 2
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def area(path):
    """Signed area, exact: the polygon of the chords and each arc's circular segment."""
    total = 0.0
    for a, b, bulge in sides(path):
        total += (a[0] * b[1] - b[0] * a[1]) / 2
        if bulge:
            _, radius, _, included = arc(a, b, bulge)
            total += radius**2 * (included - math.sin(included)) / 2
    return total


def bounds(path):
    """(xmin, ymin, xmax, ymax), arcs by their true extent."""
    xs, ys = [p[0] for p in path], [p[1] for p in path]
    for a, b, bulge in sides(path):
        if not bulge:
            continue
        centre, radius, start, included = arc(a, b, bulge)
        for quarter in range(4):
            angle = quarter * math.pi / 2
            along = (angle - start if included > 0 else start - angle) % (2 * math.pi)
            if along <= abs(included):
                xs.append(centre[0] + radius * math.cos(angle))
                ys.append(centre[1] + radius * math.sin(angle))
    return min(xs), min(ys), max(xs), max(ys)


def flattened(path, outward=False, chord=CHORD):
    """Corner points with arcs as chords within `chord`. With `outward` the polygon covers the region of a
    counter-clockwise path: an arc that bulges out is replaced by its tangents."""
    points = []
    for a, b, bulge in sides(path):
        points.append(a)
        if not bulge:
            continue
        centre, radius, start, included = arc(a, b, bulge)
        step = 2 * math.acos(max(1 - chord / (2 * radius), -1))
        n = max(math.ceil(abs(included) / step), 3)
        if outward and bulge > 0:
            reach = radius / math.cos(included / n / 2)
            angles = [start + included * (i + 0.5) / n for i in range(n)]
        else:
            reach = radius
            angles = [start + included * i / n for i in range(1, n)]
        points += [(centre[0] + reach * math.cos(t), centre[1] + reach * math.sin(t)) for t in angles]
    return points


def polygon(outline, openings=(), outward=False, chord=CHORD):
    holes = [flattened(opening, chord=chord) for opening in openings]
    return Polygon(flattened(outline, outward, chord), holes)


def transformed(path, placed):
    """A path of the panel on its sheet: turned over if flipped, turned counter-clockwise, moved."""
    return [(*to_sheet((u, v), placed), -bulge if placed["flipped"] else bulge) for u, v, bulge in path]


def to_sheet(point, placed):
    u, v = point
    if placed["flipped"]:
        u = -u
    angle = math.radians(placed["angle"])
    cos, sin = math.cos(angle), math.sin(angle)
    return placed["x"] + u * cos - v * sin, placed["y"] + u * sin + v * cos


def reversed_path(path):
    """The same path run the other way."""
    n = len(path)
    return [(path[-i % n][0], path[-i % n][1], -path[n - 1 - i][2]) for i in range(n)]


def merged(path):
    """The path without corners that lie within a straight side or on an arc's own circle: a start or the end of a
    gap is no corner."""
    corners = list(path)
    at = 0
    while at < len(corners) and len(corners) > 2:
        (ax, ay, one), (bx, by, other), (cx, cy, _) = (corners[(at + i - 1) % len(corners)] for i in range(3))
        straight = one == 0 and other == 0
        ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
        if straight and abs(ux * vy - uy * vx) <= 1e-5 * math.hypot(vx, vy) and ux * vx + uy * vy >= 0:
            corners.pop(at)
            at = max(at - 1, 0)
            continue
        if one * other > 0:
            (mx, my), r, _, turn = arc((ax, ay), (bx, by), one)
            (nx, ny), s, _, more = arc((bx, by), (cx, cy), other)
            if math.hypot(mx - nx, my - ny) < 1e-4 and abs(r - s) < 1e-4 and abs(turn + more) < 2 * math.pi - 1e-6:
                before = (at - 1) % len(corners)
                corners[before] = (ax, ay, math.tan((turn + more) / 4))
                corners.pop(at)
                at = max(at - 1, 0)
                continue
        at += 1
    return corners


def same(one, other, tolerance):
    """Do two paths run along the same curve, whatever point and direction they begin with? Corners and the
    middles of the sides are compared, so arcs are too."""
    one, other = merged(one), merged(other)
    if len(one) != len(other):
        return False

    def marks(path):
        return [(a, middle(a, b, bulge)) for a, b, bulge in sides(path)]

    def near(p, q):
        return math.hypot(p[0] - q[0], p[1] - q[1]) <= tolerance

    wanted = marks(one)
    for path in (other, reversed_path(other)):
        found = marks(path)
        for start in range(len(found)):
            turned = found[start:] + found[:start]
            if all(near(p[0], q[0]) and near(p[1], q[1]) for p, q in zip(wanted, turned)):
                return True
    return False
