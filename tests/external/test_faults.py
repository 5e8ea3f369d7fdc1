"""Plants faults in copies of an output folder: the checks must find each, and nothing in a clean copy.

Every fault takes the first folder of BAYWRIGHT_OUT that has what it spoils; if none has, the test fails. So name the
smallest folder first. The DXF must be R2000: ezdxf saves R12 without units.
"""

import csv
import math
import re
import shutil

import ezdxf
import pytest

from checks import bolts, contours, cutting, dxf, paths, sawing, shapes, svg
from checks.kit import Kit


class NotHere(Exception):
    """The folder has nothing that this fault could spoil."""


def first(items):
    for item in items:
        return item
    raise NotHere


def save(document, path):
    """The extents in the head are kept: saving would take those of a layout, which a cut file need not have."""
    document.modelspace().reset_extents(document.header["$EXTMIN"], document.header["$EXTMAX"])
    document.saveas(path)


# Faults of DXF files: each changes the first sheet's document.


def entity(document, kind, layer=None):
    return first(e for e in document.modelspace() if e.dxftype() in kind and layer in (None, e.dxf.layer))


POLYLINES = ("LWPOLYLINE", "POLYLINE")


def opens_a_polyline(kit, document):
    line = entity(document, POLYLINES, kit.layers["outline"])
    line.close(False)


def draws_on_layer_0(kit, document):
    document.modelspace().add_circle((100, 100), 3, dxfattribs={"layer": "0"})


def draws_on_an_undeclared_layer(kit, document):
    document.layers.add("stray")
    document.modelspace().add_circle((100, 100), 3, dxfattribs={"layer": "stray"})


def doubles_a_polyline(kit, document):
    document.modelspace().add_entity(entity(document, POLYLINES, kit.layers["outline"]).copy())


def doubles_a_polyline_from_another_corner(kit, document):
    line = entity(document, "LWPOLYLINE", kit.layers["outline"])
    corners = list(line.get_points("xyb"))
    turned = corners[1:] + corners[:1]
    document.modelspace().add_lwpolyline(turned, "xyb", close=True, dxfattribs={"layer": kit.layers["opening"]})


def doubles_a_circle(kit, document):
    document.modelspace().add_entity(entity(document, "CIRCLE").copy())


def repeats_a_corner(kit, document):
    line = entity(document, "LWPOLYLINE", kit.layers["outline"])
    corners = list(line.get_points("xyb"))
    line.set_points(corners + corners[-1:], "xyb")


def adds_a_line(kit, document):
    document.modelspace().add_line((0, 0), (100, 0), dxfattribs={"layer": kit.layers["outline"]})


def adds_a_spline(kit, document):
    document.modelspace().add_spline([(0, 0), (50, 9), (90, 0)], dxfattribs={"layer": kit.layers["outline"]})


def adds_an_ellipse(kit, document):
    document.modelspace().add_ellipse((50, 50), (9, 0), 0.5, dxfattribs={"layer": kit.layers["outline"]})


def writes_text_on_a_cut_layer(kit, document):
    document.modelspace().add_text("x", dxfattribs={"layer": kit.layers["outline"]})


def sets_a_text_off_its_point(kit, document):
    entity(document, "TEXT").dxf.valign = 0


def is_in_inches(kit, document):
    document.header["$INSUNITS"] = 1


def misstates_the_extents(kit, document):
    x, y, z = document.header["$EXTMAX"]
    document.header["$EXTMAX"] = (x + 0.01, y, z)


def moves_a_circle(kit, document):
    circle = entity(document, "CIRCLE", kit.layers["bore"])
    circle.translate(0.05, 0, 0)


def widens_a_circle(kit, document):
    entity(document, "CIRCLE", kit.layers["bore"]).dxf.radius += 0.05


def lacks_a_circle(kit, document):
    document.modelspace().delete_entity(entity(document, "CIRCLE", kit.layers["bore"]))


def puts_a_circle_on_another_layer(kit, document):
    entity(document, "CIRCLE", kit.layers["bore"]).dxf.layer = kit.layers["opening"]


def flattens_an_arc(kit, document):
    for line in document.modelspace().query("LWPOLYLINE"):
        corners = [tuple(map(float, corner)) for corner in line.get_points("xyb")]
        if any(bulge for _, _, bulge in corners):
            line.set_points([(x, y, 0) for x, y, _ in corners], "xyb")
            return
    raise NotHere


def lacks_the_edge_of_the_sheet(kit, document):
    for line in list(document.modelspace()):
        if line.dxf.layer == kit.layers["stock"]:
            document.modelspace().delete_entity(line)


IN_DXF = [
    (opens_a_polyline, "is not closed"),
    (draws_on_layer_0, "on layer 0"),
    (draws_on_an_undeclared_layer, "not declared"),
    (doubles_a_polyline, "drawn twice"),
    (doubles_a_polyline_from_another_corner, "drawn twice"),
    (doubles_a_circle, "drawn twice"),
    (repeats_a_corner, "without length"),
    (adds_a_line, "LINE is no entity"),
    (adds_a_spline, "SPLINE is no entity"),
    (adds_an_ellipse, "ELLIPSE is no entity"),
    (writes_text_on_a_cut_layer, "text on layer"),
    (sets_a_text_off_its_point, "not centred"),
    (is_in_inches, "$INSUNITS"),
    (misstates_the_extents, "extents"),
    (moves_a_circle, "not in the DXF"),
    (widens_a_circle, "not in the DXF"),
    (lacks_a_circle, "not in the DXF"),
    (puts_a_circle_on_another_layer, "not in kit.json"),
    (flattens_an_arc, "not in the DXF"),
    (lacks_the_edge_of_the_sheet, "edge of the sheet"),
]


# Faults of the cutting order and of holding, in the document of a sheet.


def to_the_end(document, moved):
    entities = document.modelspace().entity_space.entities
    entities.remove(moved)
    entities.append(moved)


def cuts_a_bore_last(kit, document):
    to_the_end(document, entity(document, "CIRCLE", kit.layers["bore"]))


def cuts_another_part_first(kit, document):
    outlines = [e for e in document.modelspace() if e.dxf.layer == kit.layers["outline"]]
    if len(outlines) < 2:
        raise NotHere
    to_the_end(document, outlines[0])


def cuts_a_small_part_last(kit, document):
    for sheet in kit.sheets:
        for placed in sheet["placed"]:
            wanted = contours.of_panel(kit, kit.panels[placed["panel"]], placed)[0]
            for line in document.modelspace().query("LWPOLYLINE"):
                corners = [tuple(map(float, p)) for p in line.get_points("xyb")]
                if placed["held"] == "tabs" and wanted.same(contours.contour(wanted.layer, corners)):
                    to_the_end(document, line)
                    if any("larger neighbour" in fault for fault in cutting_order(kit, sheet, document)):
                        return
    raise NotHere


def cutting_order(kit, sheet, document):
    return cutting.of_order(kit, sheet, dxf.shapes_of(document)[0])


def begins_at_a_corner(kit, document):
    line = entity(document, "LWPOLYLINE", kit.layers["outline"])
    if not line.closed:
        raise NotHere
    corners = list(line.get_points("xyb"))
    line.set_points(corners[1:] + corners[:1], "xyb")


def lacks_a_tab(kit, document):
    document.modelspace().delete_entity(entity(document, POLYLINES, kit.layers["tab"]))


def moves_a_tab(kit, document):
    entity(document, POLYLINES, kit.layers["tab"]).translate(1, 1, 0)


def open_line(kit, document):
    lines = document.modelspace().query("LWPOLYLINE")
    return first(line for line in lines if line.dxf.layer == kit.layers["outline"] and not line.closed)


def widens_a_gap(kit, document):
    line = open_line(kit, document)
    *others, (ax, ay, bulge), (bx, by, end) = line.get_points("xyb")
    share = 1 - 1 / math.dist((ax, ay), (bx, by))
    line.set_points([*others, (ax, ay, bulge), (ax + (bx - ax) * share, ay + (by - ay) * share, end)], "xyb")


def shifts_a_gap_off_the_outline(kit, document):
    line = open_line(kit, document)
    *others, (x, y, bulge) = line.get_points("xyb")
    line.set_points([*others, (x + 0.1, y + 0.1, bulge)], "xyb")


IN_ORDER = [
    (cuts_a_bore_last, "is cut after the outline"),
    (cuts_another_part_first, "parts are cut in the order"),
    (cuts_a_small_part_last, "after its larger neighbour"),
    (begins_at_a_corner, "begins at a corner"),
    (lacks_a_tab, "tabs, kit.json says"),
    (moves_a_tab, "tabs, kit.json says"),
    (widens_a_gap, "a gap is"),
    (shifts_a_gap_off_the_outline, "tabs, kit.json says"),
]


def misstates_the_travel(kit):
    first(kit.sheets)["travel"] += 1


def holds_a_large_part(kit):
    first(p for s in kit.sheets for p in s["placed"] if p["held"] == "size")["held"] = "skin"


def in_dxf(spoil):
    def spoiled(kit):
        files = [path for (kind, _), path in kit.cut_files("dxf").items() if kind == "sheets"]
        for path in files:
            document = ezdxf.readfile(path)
            try:
                spoil(kit, document)
            except NotHere:
                continue
            save(document, path)
            return
        raise NotHere

    return spoiled


# Faults of files.


def names_a_line_type_that_is_not_there(kit):
    path = first(kit.cut_files("dxf").values())
    text = path.read_bytes()
    layer = f"  8\r\n{kit.layers['outline']}\r\n".encode()
    assert layer in text
    path.write_bytes(text.replace(layer, layer + b"  6\r\nNOWHERE\r\n", 1))


def lacks_a_dxf(kit):
    first(kit.cut_files("dxf").values()).unlink()


def has_a_dxf_of_nothing(kit):
    path = first(kit.cut_files("dxf").values())
    shutil.copy(path, path.with_name("stray.dxf"))


def has_no_parts(kit):
    shutil.rmtree(kit.folder / "parts")


def lacks_an_svg(kit):
    first(kit.cut_files("svg").values()).unlink()


def in_svg(pattern, replacement):
    """Changes the first place that matches in the SVG of a sheet."""

    def spoiled(kit):
        for (kind, _), path in kit.cut_files("svg").items():
            text, n = re.subn(pattern, replacement, path.read_text(), count=1)
            if kind == "sheets" and n:
                path.write_text(text)
                return
        raise NotHere

    return spoiled


def plus(match):
    """The match's first group, and the number of the second made 0.05 larger."""
    return f"{match[1]}{float(match[2]) + 0.05}"


# Faults of kit.json: each changes it in memory, and it is saved.


def with_bolt(kit, wanted=lambda bolt: True):
    # One in a slot may be off by some millimetres: none of these faults would be one there.
    return first(bolt for bolt in kit.bolts if wanted(bolt) and not any(bolt["slack"]))


def bore_of(kit, bolt):
    return first(b for name in bolt["panels"] for b in kit.panels[name]["bores"] if b["bolt"] == bolt["name"])


def held(bolt):
    return bolt["held_in"] is not None


def through_several(bolt):
    return len(bolt["panels"]) > 1 and not held(bolt)


def across(bolt):
    """A direction of the vehicle square to the bolt."""
    return 0 if abs(bolt["direction"][0]) < 0.5 else 1


def moves_a_hole(kit):
    bore_of(kit, with_bolt(kit))["u"] += 0.2


def moves_a_bolt(kit):
    bolt = with_bolt(kit)
    bolt["origin"][across(bolt)] += 0.2


def widens_a_bolt(kit):
    bolt = with_bolt(kit)
    bolt["diameter"] = bore_of(kit, bolt)["diameter"] + 0.1


def shortens_the_grip(kit):
    # By more than an angle's leg, which may lie beyond the last panel.
    with_bolt(kit, through_several)["grip"] -= 6


def turns_a_bolt(kit):
    bolt = with_bolt(kit)
    bolt["direction"] = [bolt["direction"][i - 1] for i in range(3)]


def forgets_a_panel(kit):
    with_bolt(kit, through_several)["panels"].pop()


def forgets_a_panel_and_its_hole(kit):
    bolt = with_bolt(kit, through_several)
    bores = kit.panels[bolt["panels"].pop()]["bores"]
    bores.remove(first(bore for bore in bores if bore["bolt"] == bolt["name"]))


def lists_one_panel_more(kit):
    bolt = with_bolt(kit)
    bolt["panels"].append(first(name for name in kit.panels if name not in bolt["panels"]))


def doubles_a_bore(kit):
    bolt = with_bolt(kit)
    bores = kit.panels[bolt["panels"][0]]["bores"]
    bores.append(dict(bore_of(kit, bolt)))


def bores_for_no_bolt(kit):
    bore_of(kit, with_bolt(kit))["bolt"] = "nobody"


def leaves_the_mid_plane(kit):
    bolt = with_bolt(kit, held)
    normal = [row[2] for row in kit.panels[bolt["held_in"]]["placement"][:3]]
    bolt["origin"] = [x + 0.2 * n for x, n in zip(bolt["origin"], normal)]


def holder(kit):
    bolt = with_bolt(kit, held)
    return bolt, kit.panels[bolt["held_in"]]


def has_no_nut_slot(kit):
    holder(kit)[1]["nut_slots"].clear()


def moves_a_nut_slot(kit):
    """Across the bolt, in the plane of the panel."""
    bolt, panel = holder(kit)
    slot = first(slot for slot in panel["nut_slots"] if slot["bolt"] == bolt["name"])
    along_u = sum(row[0] * x for row, x in zip(panel["placement"], bolt["direction"]))
    slot["v" if abs(along_u) > 0.5 else "u"] += 0.2


def lengthens_a_held_bolt(kit):
    holder(kit)[0]["length"] += 10


def closes_a_nut_slot(kit):
    """Its panel becomes a plain rectangle."""
    panel = holder(kit)[1]
    left, bottom, right, top = paths.bounds(panel["outline"])
    panel["outline"] = [[left, bottom, 0], [right, bottom, 0], [right, top, 0], [left, top, 0]]


def stretches_a_placement(kit):
    for row in first(kit.panels.values())["placement"][:3]:
        row[0] *= 1.001


def has_no_bolts(kit):
    kit.bolts.clear()
    for panel in kit.panels.values():
        panel["bores"].clear()


def with_neighbours(kit):
    return first(sheet for sheet in kit.sheets if len(sheet["placed"]) > 1)


def lies_on_its_neighbour(kit):
    """A part moved by the gap towards another until it comes too near: moved onto it outright."""
    one, other = with_neighbours(kit)["placed"][:2]
    for key in ("x", "y"):
        one[key] += other[key] - one[key]


def comes_nearer_by_the_gap(kit):
    """All parts of a sheet drawn together towards its corner, so that the nearest pair loses its gap."""
    for sheet in kit.sheets:
        for placed in sheet["placed"]:
            for key, step in (("x", sheet["gap"]), ("x", -sheet["gap"]), ("y", sheet["gap"]), ("y", -sheet["gap"])):
                placed[key] += step
                if any("apart" in fault for fault in shapes.of_sheet(kit, sheet)):
                    return
                placed[key] -= step
    raise NotHere


def lies_on_the_trim(kit):
    sheet = first(kit.sheets)
    placed = sheet["placed"][0]
    placed["x"] -= min(x for x, _ in placed_outline(kit, placed)) - sheet["trim"] + 0.1


def placed_outline(kit, placed):
    return paths.flattened(paths.transformed(kit.panels[placed["panel"]]["outline"], placed))


def is_on_no_sheet(kit):
    first(kit.sheets)["placed"].pop()


def is_on_two_sheets(kit):
    placed = first(kit.sheets)["placed"]
    placed.append(dict(placed[0]))


def crosses_the_grain(kit):
    first(p for s in kit.sheets for p in s["placed"] if kit.panels[p["panel"]]["grain"])["angle"] += 90


def is_of_another_material(kit):
    first(kit.sheets)["material"] = "none such"


def with_bores(kit, n=1):
    return first(panel for panel in kit.panels.values() if len(panel["bores"]) >= n)


def bores_the_edge(kit):
    panel = with_bores(kit)
    panel["bores"][0]["u"], panel["bores"][0]["v"], _ = panel["outline"][0]


def bores_into_a_bore(kit):
    one, other = with_bores(kit, 2)["bores"][:2]
    other["u"], other["v"] = one["u"] + one["diameter"] * 0.9, one["v"]


def bores_into_an_opening(kit):
    panel = first(p for p in kit.panels.values() if p["bores"] and p["openings"])
    bore, corner = panel["bores"][0], panel["openings"][0]["points"][0]
    bore["u"], bore["v"] = corner[:2]


def with_opening(kit):
    return first(panel for panel in kit.panels.values() if panel["openings"])


def opens_outside(kit):
    panel = with_opening(kit)
    corners = [u for u, _, _ in panel["outline"]]
    for point in panel["openings"][0]["points"]:
        point[0] += max(corners) - min(corners)


def turns_an_opening(kit):
    points = with_opening(kit)["openings"][0]["points"]
    n = len(points)
    bulges = [-points[n - 2 - i][2] for i in range(n)]
    points.reverse()
    for point, bulge in zip(points, bulges):
        point[2] = bulge


def turns_an_outline(kit):
    outline = first(kit.panels.values())["outline"]
    n = len(outline)
    bulges = [-outline[n - 2 - i][2] for i in range(n)]
    outline.reverse()
    for point, bulge in zip(outline, bulges):
        point[2] = bulge


def misstates_the_area(kit):
    with_bores(kit)["area"] += 0.1


def misstates_the_mass(kit):
    with_bores(kit)["mass"] += 0.0001


def forgets_a_countersink(kit):
    bore = first(b for p in kit.panels.values() for b in p["bores"] if b["countersink"])
    bore["countersink"] = None


# Faults of cutting lists: each changes the rows of the first one.


def in_cuts(spoil):
    def spoiled(kit):
        path = first(sorted((kit.folder / "cuts").glob("*.csv")))
        with open(path, encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        head = list(rows[0])
        spoil(rows)
        with open(path, "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, head)
            writer.writeheader()
            writer.writerows(rows)

    return spoiled


def cut_of_a_part(rows):
    return first(row for row in rows if row["at the fence"].startswith("part "))


def sets_the_fence_wrong(rows):
    row = cut_of_a_part(rows)
    row["fence (mm)"] = str(float(row["fence (mm)"]) + 0.01)


def forgets_the_kerf(rows):
    row = first(row for row in rows if row["beyond the blade"].startswith("rest") and row["stage"] != "0")
    side = "length (mm)" if row["runs"] == "across" else "width (mm)"
    row[side] = str(float(row[side]) + 3.2)


def lacks_the_last_cut(rows):
    rows.pop()
    rows[0]["cut"] = "1"


def cuts_a_part_away(rows):
    cut_of_a_part(rows)["at the fence"] = "waste"


def cuts_before_its_piece_is_there(rows):
    row = first(row for row in rows if row["piece"] == "A")
    rows.remove(row)
    rows.insert(0, row)


def runs_the_other_way(rows):
    row = cut_of_a_part(rows)
    row["runs"] = "along" if row["runs"] == "across" else "across"


def has_too_many_stages(rows):
    rows[-1]["stage"] = "9"


def misstates_the_length_of_a_cut(rows):
    rows[-1]["length of cut (mm)"] = "1"


def lacks_a_cutting_list(kit):
    first(sorted((kit.folder / "cuts").glob("*.csv"))).unlink()


def has_a_cutting_list_of_nothing(kit):
    path = first(sorted((kit.folder / "cuts").glob("*.csv")))
    shutil.copy(path, path.with_name("stray.csv"))


def takes_a_thinner_blade(kit):
    first(sheet["saw"] for sheet in kit.sheets if sheet["saw"])["kerf"] -= 0.01


def in_kit(spoil):
    def spoiled(kit):
        spoil(kit)
        kit.save()

    return spoiled


FAULTS = [
    *((spoil.__name__, in_dxf(spoil), cutting.faults, text) for spoil, text in IN_ORDER),
    *(
        (spoil.__name__, in_cuts(spoil), sawing.faults, text)
        for spoil, text in [
            (sets_the_fence_wrong, "instead of"),
            (forgets_the_kerf, "and says"),
            (lacks_the_last_cut, "never cut up"),
            (cuts_a_part_away, "come out instead of"),
            (cuts_before_its_piece_is_there, "not there"),
            (runs_the_other_way, "runs otherwise"),
            (has_too_many_stages, "are allowed"),
            (misstates_the_length_of_a_cut, "not as long as"),
        ]
    ),
    (lacks_a_cutting_list.__name__, lacks_a_cutting_list, sawing.faults, "missing"),
    (has_a_cutting_list_of_nothing.__name__, has_a_cutting_list_of_nothing, sawing.faults, "no sawn sheet"),
    (takes_a_thinner_blade.__name__, in_kit(takes_a_thinner_blade), sawing.faults, "and says"),
    *((spoil.__name__, in_dxf(spoil), dxf.faults, text) for spoil, text in IN_DXF),
    *(
        (spoil.__name__, spoil, check, text)
        for spoil, check, text in [
            (names_a_line_type_that_is_not_there, dxf.faults, "audit"),
            (lacks_a_dxf, dxf.faults, "missing"),
            (has_a_dxf_of_nothing, dxf.faults, "belongs to nothing"),
            (has_no_parts, dxf.faults, "no .dxf file seen"),
            (has_no_parts, svg.faults, "no .svg file seen"),
            (lacks_an_svg, svg.faults, "missing"),
        ]
    ),
    *(
        (name, in_svg(pattern, replacement), svg.faults, text)
        for name, pattern, replacement, text in [
            ("has_a_width_in_px", r'(width="\d[\d.]*)mm"', r'\1px"', "not in mm"),
            ("has_another_view_box", r'viewBox="0 0 (\d)', r'viewBox="0 0 1\1', "viewBox"),
            ("moves_a_circle", r'(cx=")([-\d.]+)', plus, "not in the SVG"),
            ("widens_a_circle", r'( r=")([-\d.]+)', plus, "not in the SVG"),
            ("moves_a_contour", r'(d="M)([-\d.]+)', plus, "not in the SVG"),
            ("turns_an_arc", r"(A[\d.]+ [\d.]+ 0 [01]) 1", r"\1 0", "not in the SVG"),
            ("fills_a_group", r'fill="none" id', 'fill="red" id', "filled"),
            ("moves_a_group", r"<g ", '<g transform="translate(1 0)" ', "moved"),
            ("opens_a_contour", r' Z"', '"', "not in the SVG"),
            ("names_another_group", r'(<g [^>]*id=")', r"\1x", "no group of a declared layer"),
        ]
    ),
    *(
        (spoil.__name__, in_kit(spoil), check, text)
        for spoil, check, text in [
            (misstates_the_travel, cutting.faults, "the tool travels"),
            (holds_a_large_part, cutting.faults, "instead of size"),
            (moves_a_hole, dxf.faults, "not in the DXF"),
            (moves_a_hole, bolts.faults, "off its axis"),
            (moves_a_bolt, bolts.faults, "off its axis"),
            (widens_a_bolt, bolts.faults, "narrower"),
            (shortens_the_grip, bolts.faults, "outside the grip"),
            (turns_a_bolt, bolts.faults, "not square"),
            (forgets_a_panel, bolts.faults, "belongs to no bolt"),
            (forgets_a_panel_and_its_hole, bolts.faults, "which it does not list"),
            (lists_one_panel_more, bolts.faults, "which it lists"),
            (doubles_a_bore, bolts.faults, "2 bores in"),
            (bores_for_no_bolt, bolts.faults, "belongs to no bolt"),
            (leaves_the_mid_plane, bolts.faults, "mid-plane"),
            (has_no_nut_slot, bolts.faults, "0 nut slots"),
            (moves_a_nut_slot, bolts.faults, "off its axis"),
            (lengthens_a_held_bolt, bolts.faults, "into the material"),
            (closes_a_nut_slot, bolts.faults, "into the material"),
            (stretches_a_placement, bolts.faults, "not rigid"),
            (has_no_bolts, bolts.faults, "0 bolts and 0 bores"),
            (has_no_bolts, shapes.faults, "no bore seen"),
            (comes_nearer_by_the_gap, shapes.faults, "apart"),
            (comes_nearer_by_the_gap, dxf.faults, "not in the DXF"),
            (lies_on_its_neighbour, shapes.faults, "overlap"),
            (lies_on_the_trim, shapes.faults, "leaves the trimmed sheet"),
            (is_on_no_sheet, shapes.faults, "on 0 sheets"),
            (is_on_two_sheets, shapes.faults, "on 2 sheets"),
            (crosses_the_grain, shapes.faults, "across the grain"),
            (is_of_another_material, shapes.faults, "none such"),
            (bores_the_edge, shapes.faults, "leaves the outline"),
            (bores_into_a_bore, shapes.faults, "overlap"),
            (bores_into_an_opening, shapes.faults, "overlaps a"),
            (opens_outside, shapes.faults, "leaves the outline"),
            (turns_an_opening, shapes.faults, "counter-clockwise"),
            (turns_an_outline, shapes.faults, "runs clockwise"),
            (misstates_the_area, shapes.faults, "area"),
            (misstates_the_mass, shapes.faults, "mass"),
            (forgets_a_countersink, shapes.faults, "mass"),
            (forgets_a_countersink, dxf.faults, "not in kit.json"),
        ]
    ),
]


@pytest.mark.parametrize(
    "spoil, check, text",
    [fault[1:] for fault in FAULTS],
    ids=[f"{check.__module__.split('.')[-1]}-{name}" for name, _, check, _ in FAULTS],
)
def test_a_planted_fault_is_found(kits, tmp_path, spoil, check, text):
    for number, original in enumerate(kits):
        copy = tmp_path / str(number)
        for kind in ("sheets", "parts", "cuts"):
            # Only a sawn kit has cuts.
            if (original.folder / kind).exists():
                shutil.copytree(original.folder / kind, copy / kind)
        shutil.copy(original.folder / "kit.json", copy)
        try:
            spoil(Kit(copy))
        except NotHere:
            continue
        found = check(Kit(copy))
        assert any(text in fault for fault in found), found
        return
    pytest.fail("no folder of BAYWRIGHT_OUT has what this fault would spoil")


@pytest.mark.parametrize("check", [dxf.faults, svg.faults, shapes.faults, bolts.faults, cutting.faults, sawing.faults], ids=lambda c: c.__module__)
def test_a_copy_without_a_planted_fault_is_clean(kits, tmp_path, check):
    """Saved anew by the same tools, so that what is found above is the fault and not the saving."""
    copy = tmp_path / "copy"
    shutil.copytree(kits[0].folder, copy)
    kit = Kit(copy)
    kit.save()
    for path in kit.cut_files("dxf").values():
        save(ezdxf.readfile(path), path)
    assert check(Kit(copy)) == []
