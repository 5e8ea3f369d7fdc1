"""model.glb as a mesh library reads it, against kit.json: names, gaps, normals, volume, place and motion of every part.

An edge of a closed mesh is run along as often one way as the other once corners at one place are one corner. Where two
boxes of one part touch, an edge is there twice each way; so only panels are held to be watertight in the strict sense.
"""

import json
import struct

import numpy
import trimesh

from . import model_step, paths

CHORD = 0.1  # mm between an arc and its chords
ROUNDING = 0.01  # mm that a place may be off besides
SMALLEST = 1e-7  # mm2: half a square micrometre would be no triangle

# From the file's metres with y up to the vehicle's millimetres.
TO_VEHICLE = 1000.0 * numpy.array([[0, 0, 1], [1, 0, 0], [0, 1, 0]])


def document_of(data):
    """The JSON in the container, and the bytes after it."""
    magic, version, length = struct.unpack_from("<4sII", data, 0)
    if (magic, version, length) != (b"glTF", 2, len(data)):
        raise ValueError("no container of glTF 2.0 of its own length")
    size, kind = struct.unpack_from("<I4s", data, 12)
    if kind != b"JSON" or size % 4:
        raise ValueError("no document in the container")
    return json.loads(data[20 : 20 + size]), data[20 + size :]


def container_of(document, rest):
    text = json.dumps(document).encode("ascii")
    text += b" " * (-len(text) % 4)
    return b"glTF" + struct.pack("<II", 2, 20 + len(text) + len(rest)) + struct.pack("<I4s", len(text), b"JSON") + text + rest


def faults(kit, path=None):
    path = path or kit.folder / "model.glb"
    document, _ = document_of(path.read_bytes())
    found = of_nodes(kit, document)
    scene = trimesh.load_scene(path, process=False)
    meshes = {name: merged(mesh) for name, mesh in scene.geometry.items()}
    for name, mesh in meshes.items():
        found += [f"mesh {name}: {fault}" for fault in of_mesh(mesh, scene.geometry[name])]
    seen = 0
    for name, panel in kit.panels.items():
        if name in scene.graph.nodes_geometry:
            seen += 1
            matrix, mesh = scene.graph.get(name)
            found += [f"{name}: {fault}" for fault in of_panel(panel, meshes[mesh], matrix)]
    if seen != len(kit.panels):
        found.append(f"{seen} of {len(kit.panels)} panels seen")
    return found


def merged(mesh):
    mesh = mesh.copy()
    # Exactly equal places are one corner: rounding to a ten-thousandth of a mm moves none onto another.
    mesh.merge_vertices(merge_norm=True, merge_tex=True, digits_vertex=4)
    return mesh


def of_nodes(kit, document):
    """Names, kinds, bodies and how they move."""
    nodes = document["nodes"]
    names = [node["name"] for node in nodes]
    found = [f"{name}: {names.count(name)} nodes" for name in sorted(set(names)) if names.count(name) > 1]
    parts = {node["name"]: node["extras"] for node in nodes if "mesh" in node}
    panels = {name for name, extras in parts.items() if extras["kind"] == "panel"}
    if panels != kit.panels.keys():
        found.append(f"panels that differ: {sorted(panels ^ kit.panels.keys())}")
    expected = set(kit.panels) | {bolt["name"] for bolt in kit.bolts}
    for fitting in kit.data["fittings"]:
        expected |= model_step.boxes_of_fitting(fitting).keys()
    if parts.keys() != expected:
        found.append(f"parts that differ: {sorted(parts.keys() ^ expected)[:9]}")
    for name in panels & kit.panels.keys():
        if parts[name]["body"] != kit.panels[name]["body"]:
            found.append(f"{name}: moves with {parts[name]['body']}")
    travels = {body["name"]: numpy.array(body["travel"], dtype=float) for body in kit.data["bodies"]}
    for name, extras in parts.items():
        way = numpy.array(extras.get("direction", [0, 0, 0])) * extras.get("travel", 0)
        if extras["body"] not in travels or numpy.abs(way - travels[extras["body"]]).max() > ROUNDING:
            found.append(f"{name}: its body does not move by {way}")
    children = [child for node in nodes for child in node.get("children", [])]
    if sorted(children) != list(range(1, len(nodes))) or document["scenes"][0]["nodes"] != [0]:
        found.append("the nodes are no tree below the first")
    return found


def of_mesh(mesh, shown):
    """Closed, outward, without triangles that are none; normals as the triangles face."""
    found = []
    edges = mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    one, count = numpy.unique(edges, axis=0, return_counts=True)
    other, back = numpy.unique(edges[:, ::-1], axis=0, return_counts=True)
    if not numpy.array_equal(one, other) or not numpy.array_equal(count, back):
        found.append("it has a gap")
    if mesh.volume <= 0:
        found.append("it is inside out")
    if mesh.area_faces.min() < SMALLEST or len(numpy.unique(numpy.sort(mesh.faces, axis=1), axis=0)) != len(mesh.faces):
        found.append("a triangle is none, or there twice")
    normals = shown.vertex_normals[shown.faces]
    if numpy.einsum("fci,fi->fc", normals, shown.face_normals).min() < 0.7:
        found.append("a normal does not go with its triangle")
    if numpy.abs(numpy.linalg.norm(normals, axis=2) - 1).max() > 1e-5:
        found.append("a normal has not the length 1")
    return found


def of_panel(panel, mesh, matrix):
    found = []
    if not mesh.is_watertight or not mesh.is_winding_consistent:
        found.append("it is not watertight")
    contours = [panel["outline"], *(opening["points"] for opening in panel["openings"])]
    round_ = sum(arc_length(contour) for contour in contours)
    round_ += sum(numpy.pi * wide(bore) for bore in panel["bores"])
    exact = model_step.volume_of_panel(panel)
    most = round_ * CHORD * panel["thickness"] + 1e-6 * exact
    if abs(mesh.volume - exact) > most:
        found.append(f"its volume is off by {mesh.volume - exact:.3f} mm3, where chords may take {most:.3f}")
    places = trimesh.transform_points(mesh.vertices, matrix) @ TO_VEHICLE.T
    low, high = model_step.box_of_panel(panel)
    off = max(numpy.abs(places.min(axis=0) - low).max(), numpy.abs(places.max(axis=0) - high).max())
    if off > CHORD + ROUNDING:
        found.append(f"it stands {off:.3f} mm off")
    return found


def wide(bore):
    return bore["countersink"]["diameter"] if bore["countersink"] else bore["diameter"]


def arc_length(contour):
    arcs = [paths.arc(a, b, bulge) for a, b, bulge in paths.sides(contour) if bulge]
    return sum(radius * abs(included) for _, radius, _, included in arcs)
