"""SVG files: true size, and the same circles and contours as the DXF of the same name."""

import math
import re
import xml.etree.ElementTree as ElementTree

import ezdxf

from . import contours, dxf
from .kit import missing_or_extra

SVG = "{http://www.w3.org/2000/svg}"


def faults(kit):
    """All faults of all SVG files of a folder."""
    found = missing_or_extra(kit, "svg")
    dxf_files = kit.cut_files("dxf")
    sizes = {sheet["name"]: sheet["size"] for sheet in kit.sheets}
    n_circles = 0
    for (kind, stem), path in kit.cut_files("svg").items():
        root = ElementTree.parse(path).getroot()
        size, in_file = size_of(root)
        if size:
            shapes, unread = shapes_of(kit, root, size[1])
            in_file += unread
            n_circles += sum(isinstance(shape, contours.Circle) for shape in shapes)
            if kind == "sheets" and stem in sizes and not near(size, sizes[stem]):
                in_file.append(f"size {size} is not the sheet's {sizes[stem]}")
            in_file += out_of_view(shapes, size)
            if (kind, stem) in dxf_files:
                in_dxf, _ = dxf.shapes_of(ezdxf.readfile(dxf_files[kind, stem]))
                in_file += contours.differences(in_dxf, shapes, "the DXF", "the SVG")
        found += [f"{kind}/{path.name}: {fault}" for fault in in_file]
    if n_circles == 0:
        found.append("no circle seen in any SVG")
    return found


def near(one, other):
    return all(abs(a - b) < 1e-6 for a, b in zip(one, other))


def size_of(root):
    """Width and height in mm; the viewBox must say the same, so that one unit is one millimetre."""
    if root.tag != SVG + "svg":
        return None, ["the root is no svg"]
    size = []
    for name in ("width", "height"):
        match = re.fullmatch(r"(\d+(?:\.\d+)?)mm", root.get(name, ""))
        if not match:
            return None, [f"{name} is not in mm: {root.get(name)}"]
        size.append(float(match[1]))
    box = [float(number) for number in root.get("viewBox", "").split()]
    if len(box) != 4 or not near(box, [0, 0, *size]):
        return None, [f"viewBox {box} does not match {size} mm"]
    return size, []


def shapes_of(kit, root, height):
    """Circles and contours by layer, y turned back up."""
    shapes, found = [], []
    declared = kit.declared_layers()
    for child in root:
        kind = child.tag.removeprefix(SVG)
        if kind in ("title", "style", "desc"):
            continue
        layer = child.get("id")
        if kind != "g" or layer not in declared:
            found.append(f"<{kind} id={layer}> is no group of a declared layer")
            continue
        if child.get("fill") != "none" or child.get("transform"):
            found.append(f"group {layer} is filled or moved")
        for element in child.iter():
            kind = element.tag.removeprefix(SVG)
            if kind == "circle":
                x, y, r = (float(element.get(name)) for name in ("cx", "cy", "r"))
                shapes.append(contours.Circle(layer, x, height - y, 2 * r))
            elif kind == "path":
                text = element.get("d", "")
                closed = text.endswith("Z")
                path, fault = path_of(text if closed else text + " Z", height, closed)
                found += [f"path on {layer}: {fault}"] if fault else []
                if path:
                    shapes.append((contours.contour if closed else contours.line)(layer, path))
            elif kind == "text":
                if layer != kit.layers["note"]:
                    found.append(f"text on layer {layer}, which is cut")
            elif element is not child:
                found.append(f"<{kind}> on {layer} is no element of a cut file")
            if kind in ("circle", "path") and (element.get("transform") or element.get("fill", "none") != "none"):
                found.append(f"<{kind}> on {layer} is filled or moved")
    return shapes, found


def path_of(text, height, closed=True):
    """The corners of one path of M, L, A and Z, and what is wrong with it."""
    tokens = re.findall(r"[A-Za-z]|-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?", text)
    corners, at, last = [], 0, None
    take = {"M": 2, "L": 2, "A": 7, "Z": 0}
    while at < len(tokens):
        command = tokens[at]
        if command not in take:
            return None, f"command {command} is not one of M, L, A, Z"
        values = [float(token) for token in tokens[at + 1 : at + 1 + take[command]]]
        at += 1 + take[command]
        if command == "Z":
            break
        point = (values[-2], height - values[-1])
        if (command == "M") != (last is None):
            return None, "more than one path in a path"
        bulge = 0.0
        if command == "A":
            rx, ry, _, large, sweep = values[:5]
            if rx != ry:
                return None, "an arc is not of a circle"
            half = math.asin(min(1.0, math.dist(last, point) / (2 * rx)))
            included = 2 * math.pi - 2 * half if large else 2 * half
            # Sweep 1 turns right with y up.
            bulge = math.tan(included / 4) * (-1 if sweep else 1)
        if corners:
            corners[-1] = (*corners[-1][:2], bulge)
        corners.append((*point, 0.0))
        last = point
    else:
        return None, "is not closed"
    if at != len(tokens):
        return None, "goes on after it is closed"
    if closed and len(corners) > 1 and math.dist(corners[0][:2], corners[-1][:2]) < 1e-9:
        corners.pop()
    return corners, None


def out_of_view(shapes, size):
    """Faults for shapes that reach out of the viewBox."""
    found = []
    for shape in shapes:
        left, bottom, right, top = shape.bounds()
        slack = contours.TOLERANCE
        if left < -slack or bottom < -slack or right > size[0] + slack or top > size[1] + slack:
            found.append(f"{shape}: out of view")
    return found
