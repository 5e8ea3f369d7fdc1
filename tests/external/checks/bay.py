"""The kit of kit.json in the bay of kit.json: solids against solids by a boolean kernel that shares nothing with us.

Every panel becomes a solid (arcs flattened, openings taken out), everything behind a surface of the bay becomes one,
and what two of them share must have no volume to speak of. How deep a panel reaches in is worked out by moving it out
of the surface step by step, so it needs no idea of ours of what deep means.
"""

import numpy
from manifold3d import CrossSection, FillRule, Manifold, OpType

from . import paths

FAR = 10000.0  # mm; farther than any bay reaches
SPECK = 1.0  # mm3 that two solids may share by rounding
PRICK = 1e-4  # mm3; a corner in a wall that leans two ways is some tenths of a mm in before it shares a speck
STEP = 0.02  # mm to which a depth is found
DIRECTIONS = [numpy.array(d, dtype=float) for d in ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1))]


def faults(kit):
    """Panels that reach into the bay's surfaces."""
    return [f"{panel} reaches {depth:.2f} mm into the {surface}" for panel, surface, depth in overlaps(kit)]


def overlaps(kit):
    """(panel, surface, mm) for all panels that reach into something."""
    found = []
    surfaces = solids_of_bay(kit.data["vehicle"]["bay"])
    for name, panel in kit.panels.items():
        solid = solid_of_panel(panel)
        for surface, (behind, ways) in surfaces.items():
            if shared(solid, behind):
                found.append((name, surface, depth(solid, behind, ways)))
    return found


def strikes(data):
    """(panel, other panel) for all panels of moving bodies that sweep into a panel of another body, that one shut."""
    travel = {body["name"]: numpy.array(body["travel"], dtype=float) for body in data["bodies"]}
    solids = [(panel["name"], panel["body"], solid_of_panel(panel)) for panel in data["panels"]]
    found = []
    for name, body, solid in solids:
        if not travel[body].any():
            continue
        # A panel of a drawer is convex but for its tabs, so what it sweeps is the hull of both its ends.
        way = Manifold.batch_hull([solid, solid.translate(tuple(travel[body]))])
        found += [(name, other) for other, its, still in solids if its != body and shared(way, still)]
    return found


def open_together(data):
    """Pairs of drawers whose panels share space with both fully open."""
    travel = {body["name"]: numpy.array(body["travel"], dtype=float) for body in data["bodies"]}
    moving = [name for name, way in travel.items() if way.any()]
    opened = {
        name: [solid_of_panel(p).translate(tuple(travel[name])) for p in data["panels"] if p["body"] == name]
        for name in moving
    }
    pairs = [(a, b) for i, a in enumerate(moving) for b in moving[i + 1 :]]
    return {frozenset((a, b)) for a, b in pairs if any(shared(s, t) for s in opened[a] for t in opened[b])}


def shared(a, b):
    return (a ^ b).volume() > SPECK


def room(solids, behind, way):
    """mm that all solids can be moved along a way before one of them pricks into something behind the surfaces."""
    low, high = 0.0, 3000.0
    while high - low > 0.001:
        middle = (low + high) / 2
        moved = [solid.translate(tuple(numpy.array(way) * middle)) for solid in solids]
        touches = any((solid ^ other).volume() > PRICK for solid in moved for other in behind)
        low, high = (low, middle) if touches else (middle, high)
    return low


def standing_in_each_other(data):
    """Pairs of panels that share space, everything shut."""
    solids = [(panel["name"], solid_of_panel(panel)) for panel in data["panels"]]
    return [(a, b) for i, (a, s) in enumerate(solids) for b, t in solids[i + 1 :] if shared(s, t)]


def depth(solid, behind, ways):
    """The least move along one of the ways that frees the solid, by halving."""
    best = FAR
    for way in ways:
        if shared(solid.translate(tuple(way * best)), behind):
            continue
        low, high = 0.0, best
        while high - low > STEP:
            middle = (low + high) / 2
            if shared(solid.translate(tuple(way * middle)), behind):
                low = middle
            else:
                high = middle
        best = high
    return best


def solid_of_panel(panel):
    """The panel where it stands, without its bores."""
    section = flat(panel["outline"])
    for opening in panel["openings"]:
        section = section - flat(opening["points"])
    plate = Manifold.extrude(section, panel["thickness"])
    return plate.transform(numpy.array(panel["placement"], dtype=float)[:3, :])


def flat(path):
    return CrossSection([numpy.array(paths.flattened(path), dtype=float)], FillRule.EvenOdd)


def solids_of_bay(bay):
    """What lies behind each surface, and the directions out of it."""
    forward, rearward, left, right, up, down = DIRECTIONS
    height = bay["height"]
    solids = {
        "seat back": (lengthwise(bay["seat_back"], True), [rearward]),
        "door": (lengthwise(bay["door"], False), [forward]),
        "roof": (over(bay["roof"]), [down]),
        "floor": (block((-FAR, -FAR, -FAR), (FAR, FAR, 0)), [up]),
    }
    for side, sign, inwards in (("left", 1, right), ("right", -1, left)):
        sides = bay["sides"]
        solids[f"{side} side"] = (
            beside(sides[f"{side}_stations"], sides[f"{side}_heights"], sides[side], sign),
            [inwards],
        )
    for i, arch in enumerate(bay["arches"]):
        inwards = right if arch["side"] == "left" else left
        solids[f"{arch['side']} arch"] = (arch_solid(arch), [inwards, up, forward, rearward])
    for i, latch in enumerate(bay["latches"]):
        low = (-FAR, latch["low"][1], latch["low"][2])
        solids[f"latch {i + 1}"] = (block(low, latch["high"]), [forward, left, right, up, down])
    assert height > 0 and len(solids) >= 6
    return solids


def block(low, high):
    low, high = numpy.array(low, dtype=float), numpy.array(high, dtype=float)
    return Manifold.cube(tuple(high - low)).translate(tuple(low))


def level_ends(line):
    """Points of a line, level beyond both ends."""
    return [[-FAR, line[0][1]]] + [list(point) for point in line] + [[FAR, line[-1][1]]]


def across(points):
    """A solid across the whole bay from corners (x, z)."""
    section = CrossSection([numpy.array(points, dtype=float)], FillRule.NonZero)
    solid = Manifold.extrude(section, 2 * FAR)
    # Extruded along the third axis; that becomes y, and the second one z: (x, z, y) -> (x, y, z).
    turned = solid.transform(numpy.array([[1, 0, 0, 0], [0, 0, 1, -FAR], [0, 1, 0, 0]], dtype=float))
    assert turned.volume() > 0
    return turned


def lengthwise(line, ahead):
    """All that lies ahead of (or behind) a line [z, x]."""
    end = FAR if ahead else -FAR
    corners = [(x, z) for z, x in level_ends(line)]
    return across(corners + [(end, FAR), (end, -FAR)])


def over(line):
    """All that lies above a line [x, z]."""
    return across([tuple(point) for point in level_ends(line)] + [(FAR, FAR), (-FAR, FAR)])


def beside(stations, heights, values, sign):
    """All that lies beyond a side: prisms over the triangles of its cells, split as kit.json says."""
    xs = [-FAR] + list(stations) + [FAR]
    zs = [-FAR] + list(heights) + [FAR]
    rows = [values[0]] + list(values) + [values[-1]]
    grid = [[row[0]] + list(row) + [row[-1]] for row in rows]
    solids = []
    for i in range(len(xs) - 1):
        for j in range(len(zs) - 1):
            corner = lambda a, b: (xs[i + a], grid[i + a][j + b], zs[j + b])
            for three in ((corner(0, 0), corner(1, 0), corner(1, 1)), (corner(0, 0), corner(1, 1), corner(0, 1))):
                solids.append(Manifold.hull_points([
                    (x, sign * y, z) for x, near, z in three for y in (near, FAR)
                ]))
    return Manifold.batch_boolean(solids, OpType.Add)


def arch_solid(arch):
    """All that is farther out than the inner face and below the profile, from its first station to its last."""
    sign = 1 if arch["side"] == "left" else -1
    solids = []
    for (x0, z0), (x1, z1) in zip(arch["profile"], arch["profile"][1:]):
        corners = [(x0, -FAR), (x1, -FAR), (x1, z1), (x0, z0)]
        solids.append(Manifold.hull_points([
            (x, sign * y, z) for x, z in corners for y in (arch["from_centre"], FAR)
        ]))
    return Manifold.batch_boolean(solids, OpType.Add)
