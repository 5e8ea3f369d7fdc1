"""Panels and sheets of kit.json: holes within panels, panels within sheets, areas and masses."""

import itertools
import math

from shapely.geometry import Point

from . import layout, paths

# Each of two flattened curves may lie CHORD off.
SLACK = 2 * paths.CHORD + 1e-6
AREA = 0.01  # mm2, rounding of the figure in kit.json
MASS = 1e-5  # kg, rounding of the figure in kit.json; less than one countersink weighs


def faults(kit):
    """All faults of panels, nesting and masses."""
    found = []
    n_bores = sum(len(panel["bores"]) for panel in kit.panels.values())
    for what, n in (("panel", len(kit.panels)), ("bore", n_bores), ("sheet", len(kit.sheets))):
        if n == 0:
            found.append(f"no {what} seen in kit.json")
    if len(kit.panels) != len(kit.data["panels"]):
        found.append("two panels have the same name")
    for name, panel in kit.panels.items():
        found += [f"{name}: {fault}" for fault in of_panel(panel) + of_mass(panel)]
    for sheet in kit.sheets:
        found += [f"sheet {sheet['name']}: {fault}" for fault in of_sheet(kit, sheet)]
    placed = [placed["panel"] for sheet in kit.sheets for placed in sheet["placed"]]
    for name in kit.panels:
        if placed.count(name) != 1:
            found.append(f"{name}: on {placed.count(name)} sheets")
    return found


def of_panel(panel):
    """Outline and openings are simple and run the right way; every hole lies in the material."""
    found = []
    outline = paths.polygon(panel["outline"])
    if not outline.is_valid or paths.area(panel["outline"]) <= 0:
        return ["the outline crosses itself or runs clockwise"]
    openings = []
    for opening in panel["openings"]:
        shape = paths.polygon(opening["points"])
        if not shape.is_valid or paths.area(opening["points"]) >= 0:
            found.append(f"a {opening['kind']} crosses itself or runs counter-clockwise")
            continue
        if not outline.buffer(paths.CHORD).covers(shape):
            found.append(f"a {opening['kind']} leaves the outline at {shape.centroid.coords[0]}")
        openings.append((opening["kind"], shape))
    for (kind, a), (other, b) in itertools.combinations(openings, 2):
        if a.intersection(b).area > SLACK:
            found.append(f"a {kind} and a {other} overlap at {a.centroid.coords[0]}")
    rims = [(Point(b["u"], b["v"]), largest(b) / 2, b["bolt"]) for b in panel["bores"]]
    for centre, radius, bolt in rims:
        if not outline.contains(centre) or outline.exterior.distance(centre) < radius - SLACK:
            found.append(f"the bore of {bolt} leaves the outline")
        for kind, shape in openings:
            if shape.distance(centre) < radius - SLACK:
                found.append(f"the bore of {bolt} overlaps a {kind}")
    for (a, radius, bolt), (b, other, bolt_of_other) in itertools.combinations(rims, 2):
        if a.distance(b) < radius + other - SLACK:
            found.append(f"the bores of {bolt} and {bolt_of_other} overlap")
    return found


def largest(bore):
    sink = bore["countersink"]
    return max(bore["diameter"], sink["diameter"] if sink else 0)


def of_mass(panel):
    """Area and mass from the contours alone.

    area = outline - openings - through bores (pi d^2 / 4 each)
    mass = density * (area * thickness - blind bores - countersinks) + that of the finishes
    A countersink takes, beyond its bore, a frustum of a cone from the diameter D at the face to the bore's d at its
    depth k, less the cylinder of the bore within it: pi k / 12 (D^2 + D d + d^2) - pi k / 4 d^2.
    """
    # Openings run clockwise: their areas are negative.
    area = paths.area(panel["outline"]) + sum(paths.area(o["points"]) for o in panel["openings"])
    taken = 0.0
    for bore in panel["bores"]:
        d, sink = bore["diameter"], bore["countersink"]
        if bore["depth"] is None:
            area -= math.pi * d**2 / 4
        else:
            taken += math.pi * d**2 / 4 * bore["depth"]
        if sink:
            wide, k = sink["diameter"], sink["depth"]
            taken += math.pi * k / 12 * (wide**2 + wide * d + d**2) - math.pi * k / 4 * d**2
    mass = panel["density"] * (area * panel["thickness"] - taken) * 1e-9
    mass += sum(finish["areal_mass"] * (finish["area"] + finish["edges"]) * 1e-9 for finish in panel["finishes"])
    found = []
    if abs(area - panel["area"]) > AREA + 1e-9 * area:
        found.append(f"area {panel['area']} mm2, its contours enclose {area:.4f}")
    if abs(mass - panel["mass"]) > MASS:
        found.append(f"mass {panel['mass']} kg, its volume gives {mass:.6f}")
    return found


def of_sheet(kit, sheet):
    """Panels within the trimmed sheet, the gap apart by their true contours, of its material, with their grain along
    it."""
    found, parts = [], []
    for placed in sheet["placed"]:
        name = placed["panel"]
        if name not in kit.panels:
            found.append(f"{name} is no panel of the kit")
            continue
        panel = kit.panels[name]
        outline, *openings = (
            paths.transformed(path, placed)
            for path in (panel["outline"], *(opening["points"] for opening in panel["openings"]))
        )
        if panel["material"] != sheet["material"]:
            found.append(f"{name} is of {panel['material']}, the sheet of {sheet['material']}")
        if panel["grain"] and placed["angle"] % 180 != 0:
            found.append(f"{name} lies across the grain: {placed['angle']} degrees")
        parts.append((name, paths.polygon(outline, openings, chord=layout.CHORD)))
    return found + layout.faults(sheet["size"], sheet["trim"], sheet["gap"], parts)
