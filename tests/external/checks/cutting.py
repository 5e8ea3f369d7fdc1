"""Sheets as a router cuts them: inner before outer, starts off corners, small parts held, and the way in the air."""

import math

import ezdxf
from shapely.geometry import Point, Polygon, box

from . import contours, dxf, paths

NEAR = 1e-3  # mm
OFF_CORNER = 1.0  # mm that a start is from a corner at least; less on contours that have no long side


def faults(kit):
    """All faults of all sheets."""
    found, n_starts = [], 0
    for sheet in kit.sheets:
        path = kit.cut_files("dxf").get(("sheets", sheet["name"]))
        if path is None:
            continue
        drawn, _ = dxf.shapes_of(ezdxf.readfile(path))
        others = [kit.layers[name] for name in ("stock", "note", "tab", "engraving")]
        cut = [s for s in drawn if s.layer not in others]
        n_starts += sum(isinstance(s, contours.Contour) for s in cut)
        in_file = of_order(kit, sheet, contours.joined(cut)) + of_starts(contours.joined(cut))
        in_file += of_travel(sheet, cut) + of_holding(kit, sheet, drawn)
        found += [f"sheet {sheet['name']}: {fault}" for fault in in_file]
    if n_starts == 0:
        found.append("no contour seen on any sheet")
    return found


def is_small(kit, sheet, panel):
    """Whether a part could move under the tool. A saw's parts do not."""
    if sheet["saw"]:
        return False
    rule = kit.data["workshop"]["holding"]
    area = paths.area(panel["outline"]) + sum(paths.area(o["points"]) for o in panel["openings"])
    return area < rule["small_area"] or min(panel["size"]) < rule["small_width"]


def places(shapes, wanted):
    """Indices of the shapes that equal the wanted one."""
    return [i for i, s in enumerate(shapes) if type(s) is type(wanted) and s.layer == wanted.layer and s.same(wanted)]


def of_order(kit, sheet, shapes):
    """Each part's holes before its outline, parts in openings before those, small ones before large neighbours, and
    all in the order that kit.json names."""
    found, parts = [], []
    for placed in sheet["placed"]:
        panel = kit.panels[placed["panel"]]
        outline, *inner = contours.of_panel(kit, panel, placed)
        at = places(shapes, outline)
        if not at:
            continue
        for shape in inner:
            found += [f"{panel['name']}: {shape} is cut after the outline" for i in places(shapes, shape) if i > at[0]]
        region = Polygon(paths.flattened(outline.path))
        openings = [shape for shape in inner if isinstance(shape, contours.Contour)]
        parts.append((panel, at[0], region, openings))
    order = [panel["name"] for panel, *_ in sorted(parts, key=lambda part: part[1])]
    if order != sheet["order"]:
        found.append(f"parts are cut in the order {order}, kit.json says {sheet['order']}")
    inside = set()
    for panel, at, region, _ in parts:
        for other, _, _, openings in parts:
            for opening in openings:
                if other is not panel and Polygon(paths.flattened(opening.path)).contains(region):
                    inside |= {(panel["name"], other["name"]), (other["name"], panel["name"])}
                    if at > places(shapes, opening)[0]:
                        found.append(f"{panel['name']} lies in an opening of {other['name']} that is cut before it")
    for panel, at, region, _ in parts:
        for other, later, other_region, _ in parts:
            near = box(*region.bounds).distance(box(*other_region.bounds)) <= 1.4 * sheet["gap"]
            apart = (panel["name"], other["name"]) not in inside
            if near and apart and is_small(kit, sheet, panel) and not is_small(kit, sheet, other) and at > later:
                found.append(f"{panel['name']} is small and cut after its larger neighbour {other['name']}")
    return found


def of_starts(shapes):
    """A closed contour begins off its corners."""
    found = []
    for shape in shapes:
        if not isinstance(shape, contours.Contour):
            continue
        corners = [corner[:2] for corner in paths.merged(shape.path)]
        longest = max(math.dist(a, b) for a, b, _ in paths.sides(paths.merged(shape.path)))
        if min(math.dist(shape.path[0][:2], corner) for corner in corners) < min(OFF_CORNER, 0.2 * longest):
            found.append(f"{shape}: begins at a corner, {shape.path[0][:2]}")
    return found


def of_travel(sheet, shapes):
    """The way in the air is the one stated."""
    at, way = (0.0, 0.0), 0.0
    for shape in shapes:
        start = (shape.x, shape.y) if isinstance(shape, contours.Circle) else shape.path[0][:2]
        way += math.dist(at, start)
        at = shape.path[-1][:2] if isinstance(shape, contours.Line) else start
    return [f"the tool travels {way:.2f} mm, kit.json says {sheet['travel']}"] if abs(way - sheet["travel"]) > 0.05 else []


def of_holding(kit, sheet, drawn):
    """Small parts, and only those, are held as the workshop wants it."""
    found = []
    rule = kit.data["workshop"]["holding"]
    tool = kit.data["workshop"]["tool"]["diameter"]
    excused = {f["on"] for f in kit.data["findings"] if f["rule"] == "small-part-not-held"}
    marks = [s for s in drawn if s.layer == kit.layers["tab"] and isinstance(s, contours.Contour)]
    n_marks = 0
    for placed in sheet["placed"]:
        panel = kit.panels[placed["panel"]]
        name = panel["name"]
        wanted = {"tabs": "tabs", "skin": "skin", "none": "nothing"}[rule["method"]] if is_small(kit, sheet, panel) else "size"
        if placed["held"] != wanted:
            found.append(f"{name} is held by {placed['held']} instead of {wanted}")
        if placed["held"] != "tabs":
            continue
        outline = paths.transformed(panel["outline"], placed)
        region = Polygon(paths.flattened(outline))
        if rule["tabs_as"] == "layer":
            own = [m for m in marks if on_rim(region, m, rule["tab_width"], tool)]
            n_marks += len(own)
        else:
            own = gaps_of(drawn, outline)
            for width in own:
                if abs(width - rule["tab_width"] - tool) > NEAR:
                    found.append(f"{name}: a gap is {width:.3f} mm wide, not {rule['tab_width']} + {tool}")
        if len(own) != placed["tabs"] or (len(own) < 2 and name not in excused):
            found.append(f"{name} has {len(own)} tabs, kit.json says {placed['tabs']}")
    if rule["tabs_as"] == "layer" and n_marks != len(marks):
        found.append(f"{len(marks)} marks of tabs, {n_marks} of them on small parts")
    return found


def on_rim(region, mark, width, tool):
    """Whether a mark is a tab of this part: outside, one long side on the outline, of the right size."""
    shape = Polygon(paths.flattened(mark.path))
    right = abs(shape.area - width * tool / 2) < 1e-3
    touching = [p for p in mark.path if region.exterior.distance(Point(p[:2])) < NEAR]
    return right and len(touching) == 2 and shape.intersection(region).area < NEAR


def gaps_of(drawn, outline):
    """Widths of the gaps in a part's outline."""
    chain = []
    for shape in drawn:
        if not isinstance(shape, contours.Line):
            chain = []
            continue
        chain.append(shape)
        if len(chain) > 1 and math.dist(shape.path[-1][:2], chain[0].path[0][:2]) <= contours.TOLERANCE:
            closed = [corner for piece in chain for corner in piece.path][:-1]
            if paths.same(closed, outline, contours.TOLERANCE) and abs(paths.area(closed) - paths.area(outline)) < 0.01:
                return [math.dist(a.path[-1][:2], b.path[0][:2]) for a, b in zip(chain, chain[1:])]
            chain = []
    return []
