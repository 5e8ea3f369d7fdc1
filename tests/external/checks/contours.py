"""What a cut file draws, whatever its format: circles and closed paths with their layers, and comparing them."""

import bisect
import dataclasses
import math

from . import paths

TOLERANCE = 0.01  # mm


@dataclasses.dataclass(frozen=True)
class Circle:
    layer: str
    x: float
    y: float
    diameter: float

    def bounds(self):
        r = self.diameter / 2
        return self.x - r, self.y - r, self.x + r, self.y + r

    def same(self, other):
        near = math.hypot(self.x - other.x, self.y - other.y) <= TOLERANCE
        return near and abs(self.diameter - other.diameter) <= TOLERANCE

    def __str__(self):
        return f"circle {self.diameter:.3f} at ({self.x:.3f}, {self.y:.3f}) on {self.layer}"


@dataclasses.dataclass(frozen=True)
class Contour:
    layer: str
    path: tuple

    def bounds(self):
        return paths.bounds(self.path)

    def same(self, other):
        return paths.same(self.path, other.path, TOLERANCE)

    def __str__(self):
        x, y, right, top = self.bounds()
        return f"path of {len(self.path)} sides in ({x:.3f}, {y:.3f})-({right:.3f}, {top:.3f}) on {self.layer}"


@dataclasses.dataclass(frozen=True)
class Line:
    """An open line: a piece of an outline between two gaps."""

    layer: str
    path: tuple

    def bounds(self):
        return paths.bounds(self.path)

    def same(self, other):
        def near(p, q):
            return all(abs(a - b) <= TOLERANCE for a, b in zip(p, q))

        return len(self.path) == len(other.path) and all(map(near, self.path, other.path))

    def __str__(self):
        return f"open line of {len(self.path)} corners from {self.path[0][:2]} on {self.layer}"


def line(layer, path):
    return Line(layer, tuple((float(x), float(y), float(bulge)) for x, y, bulge in path))


def joined(shapes, lettering=None):
    """The shapes with the lines that follow each other closed to contours: each begins where the gap after the one
    before ends, and the last ends where the first began. Lines that do not close are left as they are, and so is
    lettering."""
    done, chain = [], []
    for shape in shapes:
        if not isinstance(shape, Line) or shape.layer == lettering:
            done += chain + [shape]
            chain = []
            continue
        chain.append(shape)
        if math.dist(shape.path[-1][:2], chain[0].path[0][:2]) <= TOLERANCE and len(chain) > 1:
            corners = [corner for piece in chain for corner in piece.path]
            done.append(contour(shape.layer, corners[:-1]))
            chain = []
    return done + chain


def contour(layer, path):
    return Contour(layer, tuple((float(x), float(y), float(bulge)) for x, y, bulge in path))


def bounds(shapes):
    """Of all shapes together."""
    boxes = [shape.bounds() for shape in shapes]
    return (*(min(box[i] for box in boxes) for i in (0, 1)), *(max(box[i] for box in boxes) for i in (2, 3)))


def differences(expected, found, of_expected, of_found):
    """Faults for shapes that have no equal on the same layer on the other side; each is matched once."""
    rows = sorted(((shape.bounds()[0], i) for i, shape in enumerate(found)))
    free = set(range(len(found)))
    faults = []
    for shape in expected:
        left = shape.bounds()[0]
        begin = bisect.bisect_left(rows, (left - 2 * TOLERANCE, -1))
        match = None
        for x, i in rows[begin:]:
            if x > left + 2 * TOLERANCE:
                break
            other = found[i]
            if i in free and type(other) is type(shape) and other.layer == shape.layer and other.same(shape):
                match = i
                break
        if match is None:
            faults.append(f"{shape}: in {of_expected}, not in {of_found}")
        else:
            free.remove(match)
    return faults + [f"{found[i]}: in {of_found}, not in {of_expected}" for i in sorted(free)]


def duplicates(shapes):
    """Faults for shapes that are drawn twice."""
    rows = sorted(((shape.bounds()[0], i) for i, shape in enumerate(shapes)))
    faults = []
    for at, (left, i) in enumerate(rows):
        for x, j in rows[at + 1 :]:
            if x > left + 2 * TOLERANCE:
                break
            if type(shapes[i]) is type(shapes[j]) and shapes[i].same(shapes[j]):
                faults.append(f"{shapes[i]}: drawn twice (also on {shapes[j].layer})")
    return faults


def of_panel(kit, panel, placed):
    """What a cut file must show of a panel that lies as `placed` says. A countersink shows only where its face is
    up: sunk from the other face it would be wrong, and is left to hand work."""
    layer = kit.skin_layer(panel) if placed.get("held") == "skin" else kit.layers["outline"]
    shapes = [contour(layer, paths.transformed(panel["outline"], placed))]
    for opening in panel["openings"]:
        shapes.append(contour(kit.layers["opening"], paths.transformed(opening["points"], placed)))
    face_up = "B" if placed["flipped"] else "A"
    for engraving in panel["engravings"]:
        for stroke in engraving["strokes"]:
            shapes.append(line(kit.layers["engraving"], [(*paths.to_sheet(p, placed), 0.0) for p in stroke]))
    for bore in panel["bores"]:
        x, y = paths.to_sheet((bore["u"], bore["v"]), placed)
        shapes.append(Circle(kit.layers["bore"], x, y, bore["diameter"]))
        sink = bore["countersink"]
        if sink and bore["face"] == face_up:
            shapes.append(Circle(kit.countersink_layer(sink["depth"]), x, y, sink["diameter"]))
    return shapes
