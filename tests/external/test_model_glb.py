"""model.glb of every kit as a mesh library reads it, and faults planted in one that the check must find."""

import re
import struct

import pytest

from checks import model_glb


def test_model_glb(kit):
    assert model_glb.faults(kit) == []


# Faults of the document: each changes a node, or where the numbers of a mesh are read from.


def part(document, kind):
    return next(node for node in document["nodes"] if node.get("extras", {}).get("kind") == kind)


def renames_a_panel(document, _):
    part(document, "panel")["name"] += "-x"


def names_two_alike(document, _):
    one, other = [node for node in document["nodes"] if node.get("extras", {}).get("kind") == "hardware"][:2]
    other["name"] = one["name"]


def moves_a_panel(document, _):
    part(document, "panel")["matrix"][13] += 1.0


def is_in_inches(document, _):
    document["nodes"][0]["matrix"] = [value * 25.4 for value in document["nodes"][0]["matrix"][:15]] + [1.0]


def has_x_up(document, _):
    matrix = document["nodes"][0]["matrix"]
    document["nodes"][0]["matrix"] = matrix[4:8] + matrix[8:12] + matrix[:4] + matrix[12:]


def forgets_a_travel(document, _):
    del next(node for node in document["nodes"] if "travel" in node.get("extras", {}))["extras"]["travel"]


def moves_with_another(document, _):
    bodies = {node["extras"]["body"] for node in document["nodes"] if "mesh" in node}
    panel = part(document, "panel")
    panel["extras"]["body"] = next(body for body in sorted(bodies) if body != panel["extras"]["body"])


def drops_a_part(document, _):
    del part(document, "hardware")["mesh"]


# Faults of the numbers.


def span(document, accessor):
    view = document["bufferViews"][document["accessors"][accessor]["bufferView"]]
    # 8 bytes of the second chunk's own head.
    return 8 + view["byteOffset"]


def mesh_of_panel(document):
    return document["meshes"][part(document, "panel")["mesh"]]["primitives"][0]


def turns_a_triangle_round(document, numbers):
    at = span(document, mesh_of_panel(document)["indices"])
    numbers[at : at + 8] = numbers[at + 4 : at + 8] + numbers[at : at + 4]


def leaves_a_triangle_out(document, numbers):
    at = span(document, mesh_of_panel(document)["indices"])
    numbers[at : at + 4] = numbers[at + 4 : at + 8]


def moves_a_corner(document, numbers):
    at = span(document, mesh_of_panel(document)["attributes"]["POSITION"])
    struct.pack_into("<f", numbers, at, struct.unpack_from("<f", numbers, at)[0] + 0.01)


def turns_a_normal_round(document, numbers):
    at = span(document, mesh_of_panel(document)["attributes"]["NORMAL"])
    struct.pack_into("<3f", numbers, at, *(-value for value in struct.unpack_from("<3f", numbers, at)))


PLANTED = {
    renames_a_panel: "panels that differ",
    names_two_alike: "2 nodes",
    moves_a_panel: "mm off",
    is_in_inches: "mm off",
    has_x_up: "mm off",
    forgets_a_travel: "does not move",
    moves_with_another: "moves with",
    drops_a_part: "parts that differ",
    turns_a_triangle_round: "gap",
    leaves_a_triangle_out: "gap",
    moves_a_corner: "gap",
    turns_a_normal_round: "normal",
}


@pytest.mark.parametrize("plant", PLANTED, ids=lambda plant: plant.__name__)
def test_planted_faults_are_found(kits, plant, tmp_path):
    kit = min((kit for kit in kits if kit.data["drawers"]), key=lambda kit: (kit.folder / "model.glb").stat().st_size)
    document, rest = model_glb.document_of((kit.folder / "model.glb").read_bytes())
    numbers = bytearray(rest)
    plant(document, numbers)
    changed = tmp_path / "model.glb"
    changed.write_bytes(model_glb.container_of(document, bytes(numbers)))
    found = model_glb.faults(kit, changed)
    assert any(re.search(PLANTED[plant], fault) for fault in found), found
