"""The faces of a STEP file as they are written, before any reader mends them.

A CAD kernel turns a face round or a loop about where the file has it wrong, and widens its tolerances until all is sound. So
this looks at the text itself: each edge lies between two faces that run along it in opposite directions, each rim is
counter-clockwise seen from outside, each hole in a face clockwise, and every edge lies on the surfaces of its faces.
"""

import math
import re

import numpy

ENTITY = re.compile(r"^#(\d+)=([A-Z0-9_]+)\((.*)\);$", re.MULTILINE)
REFERENCE = re.compile(r"#(\d+)")
STEPS = 16  # chords of an arc in a sum of areas; enough for its sign
ON = 2e-6  # mm that an edge may leave its surface: twice the file's stated uncertainty


class File:
    """Entities by number: name and arguments as text."""

    def __init__(self, text):
        self.entities = {int(number): (kind, arguments) for number, kind, arguments in ENTITY.findall(text)}
        self.points = {}

    def of_kind(self, kind):
        return [(number, arguments) for number, (name, arguments) in self.entities.items() if name == kind]

    def references(self, number):
        return [int(found) for found in REFERENCE.findall(self.entities[number][1])]

    def numbers(self, number):
        """The coordinates of a point or a direction."""
        if number not in self.points:
            inner = re.search(r"\(([^()]*)\)", self.entities[number][1]).group(1)
            self.points[number] = numpy.array([float(value) for value in inner.split(",")])
        return self.points[number]

    def frame(self, number):
        """Origin, x, y and z."""
        origin, z, x = (self.numbers(reference) for reference in self.references(number))
        return origin, x, numpy.cross(z, x), z

    def vertex(self, number):
        return self.numbers(self.references(number)[0])


def edge_points(file, number):
    """Points along an edge, its own way, and whether it is an arc."""
    start, end, curve = file.references(number)[:3]
    start, end = file.vertex(start), file.vertex(end)
    kind, arguments = file.entities[curve]
    if kind == "LINE":
        return numpy.array([start, end]), False
    origin, x, y, z = file.frame(file.references(curve)[0])
    radius = float(arguments.rsplit(",", 1)[1])
    angles = [math.atan2((p - origin) @ y, (p - origin) @ x) for p in (start, end)]
    turn = (angles[1] - angles[0]) % (2 * math.pi)
    turn = turn if turn > 1e-9 else 2 * math.pi
    along = angles[0] + turn * numpy.arange(STEPS + 1) / STEPS
    points = origin + radius * (numpy.cos(along)[:, None] * x + numpy.sin(along)[:, None] * y)
    if numpy.abs(points[[0, -1]] - [start, end]).max() > ON:
        raise ValueError(f"#{number}: its ends are off its circle")
    return points, True


def surface_of(file, number):
    """Two functions: how far points are off the surface, and its own normal at a point."""
    kind, arguments = file.entities[number]
    origin, _, _, z = file.frame(file.references(number)[0])
    if kind == "PLANE":
        return lambda p: (p - origin) @ z, lambda p: z
    numbers = [float(value) for value in arguments.split(",")[2:]]
    radius, slope = numbers[0], math.tan(numbers[1]) if kind == "CONICAL_SURFACE" else 0.0

    def out(p):
        way = p - origin
        return way - numpy.multiply.outer(way @ z, z)

    off = lambda p: numpy.linalg.norm(out(p), axis=-1) - radius - slope * ((p - origin) @ z)
    return off, out


def faults(text):
    file = File(text)
    found = []
    edges = {number: edge_points(file, number) for number, _ in file.of_kind("EDGE_CURVE")}
    for shell, _ in file.of_kind("CLOSED_SHELL"):
        uses = {}
        for face in file.references(shell):
            found += [f"#{face}: {fault}" for fault in of_face(file, face, edges, uses)]
        found += [f"#{edge}: used {ways}" for edge, ways in uses.items() if sorted(ways) != [".F.", ".T."]]
    if not edges:
        found.append("no edge seen")
    return found


def of_face(file, face, edges, uses):
    found = []
    *bounds, surface = file.references(face)
    outward = 1 if file.entities[face][1].endswith(".T.") else -1
    off, normal = surface_of(file, surface)
    flat = file.entities[surface][0] == "PLANE"
    for i, bound in enumerate(bounds):
        pieces = []
        for oriented in file.references(file.references(bound)[0]):
            way = file.entities[oriented][1][-3:]
            edge = file.references(oriented)[0]
            uses.setdefault(edge, []).append(way)
            points, round_ = edges[edge]
            pieces.append((points if way == ".T." else points[::-1], round_))
            if numpy.abs(off(points)).max() > ON:
                found.append(f"#{edge} is {numpy.abs(off(points)).max():.1e} mm off its surface")
        ends = [(one[-1], other[0]) for (one, _), (other, _) in zip(pieces, pieces[1:] + pieces[:1])]
        if max(numpy.abs(one - other).max() for one, other in ends) > ON:
            found.append("its loop is open")
        if flat:
            points = numpy.concatenate([points[:-1] for points, _ in pieces])
            about = points - points[0]
            turn = numpy.cross(about, numpy.roll(about, -1, axis=0)).sum(axis=0) @ normal(points[0]) * outward
            if (turn > 0) != (i == 0):
                found.append("its rim or a hole in it runs the wrong way")
        else:
            # Along an arc, then to the left along a line: out of the solid is square to both.
            (arc, is_arc), (line, _) = pieces[:2]
            middle = len(arc) // 2
            across = numpy.cross(arc[middle + 1] - arc[middle], line[-1] - line[0])
            if not is_arc or across @ normal((arc[middle] + arc[middle + 1]) / 2) * outward <= 0:
                found.append("its rim runs the wrong way")
    return found
