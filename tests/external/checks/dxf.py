"""DXF files: clean for a strict reader, ready to cut, and equal to kit.json."""

import math

import ezdxf

from . import contours, paths
from .kit import missing_or_extra

EXTENTS = 0.001  # mm
LEAST_SIDE = 0.001  # mm


def faults(kit):
    """All faults of all DXF files of a folder."""
    found = missing_or_extra(kit, "dxf")
    n_circles = 0
    for (kind, stem), path in kit.cut_files("dxf").items():
        document = ezdxf.readfile(path)
        in_file = of_document(kit, document)
        shapes, unread = shapes_of(document)
        n_circles += sum(isinstance(shape, contours.Circle) for shape in shapes)
        if kind != "sheets" or kit.data["workshop"]["holding"]["tabs_as"] != "gaps":
            # Lettering is open by its nature; nothing else is.
            letters = kit.layers["engraving"]
            lines = [shape for shape in shapes if isinstance(shape, contours.Line) and shape.layer != letters]
            in_file += [f"polyline on {line.layer} from {line.path[:1]} is not closed" for line in lines]
        in_file += unread + contours.duplicates([s for s in shapes if s.layer != kit.layers["stock"]])
        in_file += of_extents(document, shapes)
        if kind == "sheets":
            in_file += of_sheet(kit, stem, shapes)
        elif stem in kit.panels:
            in_file += of_part(kit, stem, shapes)
        found += [f"{kind}/{path.name}: {fault}" for fault in in_file]
    if n_circles == 0:
        found.append("no circle seen in any DXF")
    return found


def of_document(kit, document):
    """Faults of the file itself: audit, units, layers, kinds of entities."""
    auditor = document.audit()
    found = [f"audit: {entry.message}" for entry in [*auditor.errors, *auditor.fixes]]
    if document.header.get("$INSUNITS") != 4:
        found.append("$INSUNITS is not 4 (mm)")
    if document.header.get("$MEASUREMENT") != 1:
        found.append("$MEASUREMENT is not 1 (metric)")
    declared = kit.declared_layers()
    in_table = {layer.dxf.name for layer in document.layers}
    for entity in entities(document):
        kind, layer = entity.dxftype(), entity.dxf.layer
        if layer == "0":
            found.append(f"{kind} on layer 0")
        elif layer not in declared or layer not in in_table:
            found.append(f"{kind} on layer {layer}, which is not declared")
        if kind not in ("LWPOLYLINE", "POLYLINE", "CIRCLE", "TEXT"):
            found.append(f"{kind} is no entity of a cut file")
        if kind == "TEXT" and layer != kit.layers["note"]:
            found.append(f"text on layer {layer}, which is cut")
        if kind == "TEXT" and (entity.dxf.halign, entity.dxf.valign) != (1, 2):
            found.append(f"text {entity.dxf.text} is not centred on its point")
        if kind == "POLYLINE" and any(vertex.dxf.layer != layer for vertex in entity.vertices):
            found.append(f"vertices of a polyline on {layer} are on another layer")
    if not list(document.modelspace()):
        found.append("nothing is drawn")
    return found


def entities(document):
    """Everything that can be seen: the model space, the paper spaces and all other blocks."""
    for block in document.blocks:
        yield from block


def shapes_of(document):
    """Circles, closed paths and open lines of the model space in its order, and faults of what is neither."""
    shapes, found = [], []
    for entity in document.modelspace():
        layer = entity.dxf.layer
        if entity.dxftype() == "CIRCLE":
            x, y, z = entity.dxf.center
            shapes.append(contours.Circle(layer, x, y, 2 * entity.dxf.radius))
            if z != 0 or entity.dxf.extrusion.z != 1:
                found.append(f"circle at ({x:.3f}, {y:.3f}) is not flat")
        elif entity.dxftype() in ("LWPOLYLINE", "POLYLINE"):
            if entity.dxftype() == "LWPOLYLINE":
                corners = [tuple(map(float, p)) for p in entity.get_points("xyb")]
                closed = entity.closed
            else:
                corners = [(*v.dxf.location.vec2, v.dxf.bulge) for v in entity.vertices]
                closed = entity.is_closed
            sides = list(paths.sides(corners))[: None if closed else -1]
            short = [a for a, b, _ in sides if math.dist(a, b) < LEAST_SIDE]
            found += [f"polyline on {layer} has a side without length at {a}" for a in short]
            if len(corners) < 2 or short:
                continue
            shapes.append((contours.contour if closed else contours.line)(layer, corners))
    return shapes, found


def of_extents(document, shapes):
    """The extents in the head must be those of what is drawn, texts not counted."""
    if not shapes:
        return ["no contour and no circle seen"]
    true = contours.bounds(shapes)
    low, high = document.header.get("$EXTMIN", (1e20,) * 3), document.header.get("$EXTMAX", (-1e20,) * 3)
    stated = (low[0], low[1], high[0], high[1])
    if any(abs(a - b) > EXTENTS for a, b in zip(true, stated)):
        return [f"extents in the head {stated} are not those drawn {true}"]
    return []


def of_sheet(kit, stem, shapes):
    """A sheet must show its edge and exactly the placed panels."""
    sheet = next((sheet for sheet in kit.sheets if sheet["name"] == stem), None)
    if sheet is None:
        return []
    stock = kit.layers["stock"]
    shapes = contours.joined((s for s in shapes if s.layer != kit.layers["tab"]), kit.layers["engraving"])
    expected = []
    for placed in sheet["placed"]:
        expected += contours.of_panel(kit, kit.panels[placed["panel"]], placed)
    found = contours.differences(expected, [s for s in shapes if s.layer != stock], "kit.json", "the DXF")
    length, width = sheet["size"]
    edge = contours.contour(stock, [(0, 0, 0), (length, 0, 0), (length, width, 0), (0, width, 0)])
    if not any(s.layer == stock and isinstance(s, contours.Contour) and s.same(edge) for s in shapes):
        found.append(f"the edge of the sheet is not on layer {stock}")
    return found


def of_part(kit, stem, shapes):
    """A part file shows one panel as it is, moved at most."""
    panel = kit.panels[stem]
    shapes = [s for s in shapes if s.layer != kit.layers["stock"]]
    outlines = [s for s in shapes if s.layer == kit.layers["outline"]]
    if len(outlines) != 1:
        return [f"{len(outlines)} outlines in the file of one panel"]
    have, want = outlines[0].bounds(), paths.bounds(panel["outline"])
    placed = {"x": have[0] - want[0], "y": have[1] - want[1], "angle": 0, "flipped": False}
    return contours.differences(contours.of_panel(kit, panel, placed), shapes, "kit.json", "the DXF")
