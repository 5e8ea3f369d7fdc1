"""model.step as a CAD kernel reads it, against kit.json: names, number, soundness, volume and place of every solid.

The kernel reads the tree of products and hands out each product's shape once, in its own frame. A panel's exact volume
is worked out here from its outline, openings, bores and countersinks.
"""

import math

import numpy
from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Trsf
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_AsciiString, TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence, TDF_Tool
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from . import paths

NEAR = 0.001  # mm between a box around a solid and where kit.json has it; kit.json's lengths are in micrometres
VOLUME = 1e-6  # share of its volume by which a solid may be off


class Part:
    """A part of the tree: its name, its module's (None right below the kit), its product's label, its motion."""

    def __init__(self, name, module, label, location):
        self.name, self.module, self.label, self.location = name, module, label, location


class Model:
    """The tree of a file. `parts` are its leaves, `title` the name of its root."""

    def __init__(self, path):
        reader = STEPCAFControl_Reader()
        reader.SetNameMode(True)
        if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ValueError(f"{path} is no STEP file")
        # The document must outlive its labels.
        self.document = TDocStd_Document(TCollection_ExtendedString("kit"))
        if not reader.Transfer(self.document):
            raise ValueError(f"{path} has no shapes")
        self.tool = XCAFDoc_DocumentTool.ShapeTool_s(self.document.Main())
        roots = TDF_LabelSequence()
        self.tool.GetFreeShapes(roots)
        self.roots = [roots.Value(i) for i in range(1, roots.Length() + 1)]
        self.title = name_of(self.roots[0])
        self.modules, self.parts, self.shapes = [], [], {}
        for component, label in components(self.roots[0]):
            if XCAFDoc_ShapeTool.IsAssembly_s(label):
                self.modules.append(name_of(component))
                inner = components(label)
                self.parts += [Part(name_of(c), name_of(component), p, placed(component) @ placed(c)) for c, p in inner]
            else:
                self.parts.append(Part(name_of(component), None, label, placed(component)))

    def shape(self, part):
        """The part's shape in its product's frame, with what was found out about it."""
        entry = entry_of(part.label)
        if entry not in self.shapes:
            self.shapes[entry] = Shape(XCAFDoc_ShapeTool.GetShape_s(part.label))
        return self.shapes[entry]


class Shape:
    """Solids of a product, in its own frame."""

    def __init__(self, shape):
        self.shape = shape
        self.solids = [TopoDS.Solid_s(solid) for solid in explored(shape, TopAbs_ShapeEnum.TopAbs_SOLID)]
        self.valid = BRepCheck_Analyzer(shape).IsValid()
        self.closed = all(BRep_Tool.IsClosed_s(shell) for shell in explored(shape, TopAbs_ShapeEnum.TopAbs_SHELL))
        self.volumes = [volume_of(solid) for solid in self.solids]
        self.loose_faces = len(explored(shape, TopAbs_ShapeEnum.TopAbs_FACE)) - sum(
            len(explored(solid, TopAbs_ShapeEnum.TopAbs_FACE)) for solid in self.solids
        )

    def box(self, motion):
        """(low, high) of the shape after a motion, exact."""
        move = gp_Trsf()
        move.SetValues(*(float(value) for value in motion[:3].ravel()))
        box = Bnd_Box()
        BRepBndLib.AddOptimal_s(self.shape.Moved(TopLoc_Location(move)), box, False, False)
        values = numpy.array(box.Get())
        return values[:3], values[3:]

    def round_walls(self):
        """(u, v, radius) of every cylinder along w that goes all the way round, and how many cones there are."""
        holes, cones = [], 0
        for face in explored(self.shape, TopAbs_ShapeEnum.TopAbs_FACE):
            surface = BRepAdaptor_Surface(TopoDS.Face_s(face))
            kind = surface.GetType()
            if kind == GeomAbs_SurfaceType.GeomAbs_Cone:
                cones += 1
            if kind != GeomAbs_SurfaceType.GeomAbs_Cylinder:
                continue
            if abs(surface.LastUParameter() - surface.FirstUParameter() - 2 * math.pi) > 1e-6:
                continue
            axis = surface.Cylinder().Axis()
            if abs(axis.Direction().Z()) > 0.999999:
                holes.append((axis.Location().X(), axis.Location().Y(), surface.Cylinder().Radius()))
        return holes, cones


def explored(shape, kind):
    explorer, found = TopExp_Explorer(shape, kind), []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def volume_of(solid):
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, properties, 1e-9)
    return properties.Mass()


def components(label):
    """(component, product) of an assembly."""
    found = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(label, found)
    pairs = []
    for i in range(1, found.Length() + 1):
        product = TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(found.Value(i), product)
        pairs.append((found.Value(i), product))
    return pairs


def name_of(label):
    name = TDataStd_Name()
    return name.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), name) else None


def entry_of(label):
    entry = TCollection_AsciiString()
    TDF_Tool.Entry_s(label, entry)
    return entry.ToCString()


def placed(component):
    """A component's motion as a 4x4 matrix."""
    move = XCAFDoc_ShapeTool.GetLocation_s(component).Transformation()
    matrix = numpy.eye(4)
    matrix[:3] = [[move.Value(row, column) for column in range(1, 5)] for row in range(1, 4)]
    return matrix


def volume_of_panel(panel):
    """mm3, exact: faces less openings and bores, less what countersinks take beyond their bores."""
    area = abs(paths.area(panel["outline"])) - sum(abs(paths.area(o["points"])) for o in panel["openings"])
    volume = (area - sum(math.pi * b["diameter"] ** 2 / 4 for b in panel["bores"])) * panel["thickness"]
    for bore in panel["bores"]:
        if bore["countersink"]:
            r, wide, depth = bore["diameter"] / 2, bore["countersink"]["diameter"] / 2, bore["countersink"]["depth"]
            volume -= math.pi * depth / 3 * (wide * wide + wide * r + r * r) - math.pi * r * r * depth
    return volume


def box_of_panel(panel):
    """(low, high) in the vehicle frame, arcs by their true extent; panels stand along the vehicle's axes."""
    u0, v0, u1, v1 = paths.bounds(panel["outline"])
    matrix = numpy.array(panel["placement"])
    corners = [matrix @ [u, v, w, 1] for u in (u0, u1) for v in (v0, v1) for w in (0, panel["thickness"])]
    return numpy.min(corners, axis=0)[:3], numpy.max(corners, axis=0)[:3]


def boxes_of_fitting(fitting):
    """{name in the model: (number of solids, box in the vehicle frame)}; None for a box that is not said."""
    name, kind = fitting["name"], fitting["kind"]
    if kind == "angle":
        return {name: (1, around(fitting["legs"]))}
    if kind == "slide":
        return {f"{name}/fixed": (1, None), f"{name}/moving": (1, None)}
    if kind == "turnbuckle":
        return {name: (1, None), f"{name}/eye": (1, around([fitting["eye"]]))}
    return {name: (len(fitting["spaces"]), around(fitting["spaces"]))} if fitting["spaces"] else {}


def around(spaces):
    return (
        numpy.min([space["low"] for space in spaces], axis=0),
        numpy.max([space["high"] for space in spaces], axis=0),
    )


def volume_of_angle(fitting):
    """mm3: the legs' boxes less the heel that both have, less the holes."""
    low, high = (numpy.array(corner) for corner in around(fitting["legs"]))
    sizes = [numpy.array(leg["high"]) - numpy.array(leg["low"]) for leg in fitting["legs"]]
    thickness = min(sizes[0].min(), sizes[1].min())
    length = fitting["length"]
    both = (numpy.prod(high - low) / length) ** 0.5
    holes = sum(map(len, fitting["holes"])) * math.pi * fitting["hole_diameter"] ** 2 / 4 * thickness
    return (2 * both - thickness) * thickness * length - holes


def faults(kit, path=None):
    """All faults of a folder's model.step."""
    model = Model(path or kit.folder / "model.step")
    found = of_tree(kit, model)
    by_name = {part.name: part for part in model.parts}
    expected = {name: (1, box_of_panel(panel)) for name, panel in kit.panels.items()}
    expected |= {bolt["name"]: (1, None) for bolt in kit.bolts}
    for fitting in kit.data["fittings"]:
        expected |= boxes_of_fitting(fitting)
    found += [f"{name}: missing" for name in sorted(expected.keys() - by_name.keys())]
    found += [f"{name}: belongs to nothing in kit.json" for name in sorted(by_name.keys() - expected.keys())]
    for name in expected.keys() & by_name.keys():
        shape, (solids, box) = model.shape(by_name[name]), expected[name]
        if len(shape.solids) != solids:
            found.append(f"{name}: {len(shape.solids)} solids, not {solids}")
        if box is not None and not numpy.allclose(shape.box(by_name[name].location), box, rtol=0, atol=NEAR):
            found.append(f"{name}: stands at {shape.box(by_name[name].location)}, not {box}")
    for part in model.parts:
        shape = model.shape(part)
        if not shape.valid or not shape.closed or shape.loose_faces or min(shape.volumes, default=0) <= 0:
            found.append(f"{part.name}: no sound solid")
    for name, panel in kit.panels.items():
        if name in by_name:
            found += [f"{name}: {fault}" for fault in of_panel(panel, model.shape(by_name[name]), by_name[name])]
    for bolt in kit.bolts:
        if bolt["name"] in by_name:
            found += of_axis(bolt["name"], by_name[bolt["name"]], bolt["origin"], bolt["direction"])
    for fitting in kit.data["fittings"]:
        found += of_fitting(fitting, model, by_name)
    return found


def of_axis(name, part, origin, direction):
    """A turned part begins at its origin and points along its own w."""
    off = numpy.abs(part.location[:3, 3] - origin).max(), numpy.abs(part.location[:3, 2] - direction).max()
    return [f"{name}: its axis is off by {off}"] if off[0] > NEAR or off[1] > 1e-6 else []


def of_fitting(fitting, model, by_name):
    name, kind = fitting["name"], fitting["kind"]
    if any(part not in by_name for part in boxes_of_fitting(fitting)):
        return []
    if kind == "angle":
        off = sum(model.shape(by_name[name]).volumes) / volume_of_angle(fitting) - 1
        return [f"{name}: its volume is off by a share of {off:.1e}"] if abs(off) > VOLUME else []
    if kind == "slide":
        parts = [by_name[f"{name}/{member}"] for member in ("fixed", "moving")]
        boxes = [model.shape(part).box(part.location) for part in parts]
        whole = numpy.minimum(boxes[0][0], boxes[1][0]), numpy.maximum(boxes[0][1], boxes[1][1])
        right = numpy.allclose(whole, around([fitting["space"]]), rtol=0, atol=NEAR)
        return [] if right else [f"{name}: stands at {whole}"]
    if kind == "turnbuckle":
        way = numpy.array(fitting["to"]) - fitting["from"]
        return of_axis(name, by_name[name], fitting["from"], way / numpy.linalg.norm(way))
    return []


def of_tree(kit, model):
    found = []
    if len(model.roots) != 1 or model.title != kit.data["name"]:
        found.append(f"{len(model.roots)} roots, called {model.title}")
    carcases = {panel["carcase"] for panel in kit.panels.values()}
    floors = {panel["carcase"] for panel in kit.panels.values() if panel["role"] == "floor"}
    if len(set(model.modules)) != len(model.modules) or set(model.modules) != carcases - floors:
        found.append(f"modules {model.modules}")
    names = [part.name for part in model.parts]
    found += [f"{name}: {names.count(name)} times" for name in sorted(set(names)) if names.count(name) > 1]
    for part in model.parts:
        if part.name in kit.panels and part.module not in (kit.panels[part.name]["carcase"], None):
            found.append(f"{part.name}: in {part.module}")
    return found


def of_panel(panel, shape, part):
    found = []
    off = sum(shape.volumes) / volume_of_panel(panel) - 1
    if abs(off) > VOLUME:
        found.append(f"its volume is off by a share of {off:.1e}")
    if not numpy.allclose(part.location, panel["placement"], rtol=0, atol=1e-6):
        found.append("its placement is not kit.json's")
    holes, cones = shape.round_walls()
    missing = [bore for bore in panel["bores"] if not any(is_at(hole, bore) for hole in holes)]
    if missing or len(holes) != len(panel["bores"]):
        found.append(f"{len(holes)} round walls for {len(panel['bores'])} bores, {len(missing)} of them not there")
    if cones != sum(bore["countersink"] is not None for bore in panel["bores"]):
        found.append(f"{cones} countersinks")
    return found


def is_at(hole, bore):
    return numpy.allclose(hole, (bore["u"], bore["v"], bore["diameter"] / 2), rtol=0, atol=NEAR)
