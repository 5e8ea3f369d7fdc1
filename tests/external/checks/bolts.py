"""Bolts of kit.json: each passes through a concentric bore in exactly the panels that it lists."""

import numpy
from shapely.geometry import LineString, Point

from . import paths

CONCENTRIC = 0.1  # mm between an axis and the centre of its bore, or the mid-plane that it lies in
SQUARE = 1e-6  # between a unit axis and a panel's normal
TOUCH = 0.05  # mm that an axis may reach into a face that it only touches
CROSSED = 0.1  # mm of material along an axis that count as passing through


def faults(kit):
    """All faults of bolts, bores and placements."""
    found = []
    for name, panel in kit.panels.items():
        found += [f"{name}: {fault}" for fault in of_placement(panel)]
    if found:
        return found
    plates = {name: Plate(panel) for name, panel in kit.panels.items()}
    n_bores = sum(len(panel["bores"]) for panel in kit.panels.values())
    if not kit.bolts or n_bores == 0:
        found.append(f"{len(kit.bolts)} bolts and {n_bores} bores seen")
    names = [bolt["name"] for bolt in kit.bolts]
    found += [f"bolt {name}: the name is given twice" for name in sorted(set(names)) if names.count(name) > 1]
    for bolt in kit.bolts:
        found += [f"bolt {bolt['name']}: {fault}" for fault in of_bolt(kit, plates, bolt)]
    bored_by = {bolt["name"]: set(bolt["panels"]) for bolt in kit.bolts}
    for name, panel in kit.panels.items():
        for slot in panel["openings"]:
            if slot["kind"] == "bolt-slot" and name not in bored_by.get(slot["joint"], ()):
                found.append(f"{name}: a slot belongs to no bolt ({slot['joint']})")
        for bore in panel["bores"]:
            if name not in bored_by.get(bore["bolt"], ()):
                found.append(f"{name}: the bore at ({bore['u']}, {bore['v']}) belongs to no bolt ({bore['bolt']})")
    return found


def of_placement(panel):
    """A placement must be a rigid motion that keeps left and right."""
    matrix = numpy.array(panel["placement"], dtype=float)
    if matrix.shape != (4, 4) or not numpy.allclose(matrix[3], [0, 0, 0, 1]):
        return ["the placement is no 4x4 matrix of a motion"]
    turn = matrix[:3, :3]
    if not numpy.allclose(turn @ turn.T, numpy.eye(3), atol=1e-9) or numpy.linalg.det(turn) < 0:
        return ["the placement is not rigid"]
    return []


class Plate:
    """A panel where it stands."""

    def __init__(self, panel):
        matrix = numpy.array(panel["placement"], dtype=float)
        self.turn, self.origin = matrix[:3, :3], matrix[:3, 3]
        self.normal = self.turn[:, 2]
        self.thickness = panel["thickness"]
        # A ring that touches itself would be no valid polygon: openings are taken away one by one.
        self.material = paths.polygon(panel["outline"])
        for opening in panel["openings"]:
            self.material = self.material.difference(paths.polygon(opening["points"]))

    def inside(self, point):
        """A point of the vehicle as (u, v, w)."""
        return self.turn.T @ (numpy.asarray(point, dtype=float) - self.origin)

    def outside(self, u, v, w):
        """A point of the panel in the vehicle."""
        return self.turn @ numpy.array([u, v, w]) + self.origin

    def is_crossed(self, start, end):
        """Does the segment pass through the material, not counting bores?"""
        a, b = self.inside(start), self.inside(end)
        low, high = 0.0, 1.0
        rise = b[2] - a[2]
        if abs(rise) < 1e-9:
            if not TOUCH < a[2] < self.thickness - TOUCH:
                return False
        else:
            ends = sorted(((TOUCH - a[2]) / rise, (self.thickness - TOUCH - a[2]) / rise))
            low, high = max(low, ends[0]), min(high, ends[1])
            if low >= high:
                return False
        p, q = (a + (b - a) * t for t in (low, high))
        if numpy.hypot(*(q - p)[:2]) < 1e-6:
            # Square through the panel: at least CROSSED of it must lie within the length of the segment.
            return abs(q[2] - p[2]) > CROSSED and self.material.contains(Point(p[:2]))
        return self.material.intersection(LineString([p[:2], q[:2]])).length > CROSSED


def of_bolt(kit, plates, bolt):
    found = []
    origin = numpy.array(bolt["origin"], dtype=float)
    axis = numpy.array(bolt["direction"], dtype=float)
    if abs(numpy.linalg.norm(axis) - 1) > SQUARE:
        return ["its direction is no unit vector"]
    held_in = bolt["held_in"]
    bored = [name for name in bolt["panels"] if name != held_in]
    if not bored:
        found.append("it passes through no panel")
    for name in bored:
        if name not in plates:
            found.append(f"{name} is no panel of the kit")
            continue
        if any(bolt["slack"]):
            found += of_slot(plates[name], kit.panels[name], bolt, origin, axis)
            continue
        bores = [bore for bore in kit.panels[name]["bores"] if bore["bolt"] == bolt["name"]]
        if len(bores) != 1:
            found.append(f"{len(bores)} bores in {name}, which it lists")
            continue
        found += of_bore(plates[name], name, bores[0], bolt, origin, axis)
    end = origin + axis * bolt["grip"]
    for name, plate in plates.items():
        if name not in bored and name != held_in and plate.is_crossed(origin, end):
            found.append(f"its axis passes through {name}, which it does not list")
    if held_in is not None:
        found += of_holder(kit, plates, bolt, origin, axis)
    return found


def of_slot(plate, panel, bolt, origin, axis):
    """A bolt with play has one slot of its name, in which it may be off by that much along x and y."""
    name = panel["name"]
    if abs(abs(plate.normal @ axis) - 1) > SQUARE:
        return [f"its axis is not square to {name}"]
    slots = [opening for opening in panel["openings"] if (opening["kind"], opening["joint"]) == ("bolt-slot", bolt["name"])]
    if len(slots) != 1:
        return [f"{len(slots)} slots in {name}, which it lists"]
    slot = paths.polygon(slots[0]["points"]).buffer(0.01)
    along, across = bolt["slack"]
    found = of_grip(plate, name, plate.inside(origin)[:2], bolt, origin, axis)
    for x, y in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        place = plate.inside(origin + numpy.array([x * along, y * across, 0.0]))
        if not slot.contains(Point(place[:2]).buffer(bolt["diameter"] / 2)):
            found.append(f"its slot in {name} is too short")
            break
    return found


def of_bore(plate, name, bore, bolt, origin, axis):
    """One bore is square to its panel, concentric with the bolt, wide enough, and within the grip."""
    if abs(abs(plate.normal @ axis) - 1) > SQUARE:
        return [f"its axis is not square to {name}"]
    found = of_grip(plate, name, (bore["u"], bore["v"]), bolt, origin, axis)
    faces = [plate.outside(bore["u"], bore["v"], w) - origin for w in (0, plate.thickness)]
    off = max(numpy.linalg.norm(face - (face @ axis) * axis) for face in faces)
    if off > CONCENTRIC:
        found.append(f"the bore in {name} is {off:.3f} mm off its axis")
    if bore["diameter"] < bolt["diameter"]:
        found.append(f"the bore in {name} is narrower than the bolt")
    return found


def of_grip(plate, name, place, bolt, origin, axis):
    """What a bolt passes lies between its head and the end of its grip."""
    along = [(plate.outside(*place, w) - origin) @ axis for w in (0, plate.thickness)]
    if min(along) < -CONCENTRIC or max(along) > bolt["grip"] + CONCENTRIC:
        return [f"{name} lies from {min(along):.3f} to {max(along):.3f} mm, outside the grip of {bolt['grip']}"]
    return []


def of_holder(kit, plates, bolt, origin, axis):
    """A bolt held by a nut in a panel lies in that panel's mid-plane, passes the middle of its nut, and its whole
    length runs in a slot: outside the panel's material."""
    name = bolt["held_in"]
    if name not in plates:
        return [f"{name}, which holds its nut, is no panel of the kit"]
    plate = plates[name]
    washer = bolt["head_washer"]
    reach = bolt["length"] - (washer["thickness"] if washer else 0)
    start, end = plate.inside(origin), plate.inside(origin + axis * reach)
    off = max(abs(point[2] - plate.thickness / 2) for point in (start, end))
    if off > CONCENTRIC:
        return [f"its axis is {off:.3f} mm off the mid-plane of {name}"]
    way = LineString([start[:2], end[:2]])
    slots = [slot for slot in kit.panels[name]["nut_slots"] if slot["bolt"] == bolt["name"]]
    if len(slots) != 1:
        return [f"{len(slots)} nut slots of it in {name}"]
    off = way.distance(Point(slots[0]["u"], slots[0]["v"]))
    if off > CONCENTRIC:
        return [f"its nut in {name} is {off:.3f} mm off its axis"]
    if plate.material.intersection(way).length > CROSSED:
        return [f"it runs into the material of {name}"]
    return []
