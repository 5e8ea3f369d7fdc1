"""The folder's own promises: kit.json keeps to the schema that the program prints, the manifest's hashes are those of
the files, and the tables say what kit.json says."""

import csv
import hashlib
import json
import math
import os
import pathlib

import jsonschema
import pytest


def rows(kit, name):
    with open(kit.folder / name, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.fixture
def schema():
    path = os.environ.get("BAYWRIGHT_KIT_SCHEMA")
    assert path, "BAYWRIGHT_KIT_SCHEMA names no file (`baywright schema kit` prints it)"
    return json.loads(pathlib.Path(path).read_text(encoding="utf-8"))


def test_kit_json_keeps_to_its_schema(kit, schema):
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(kit.data)


def test_the_schema_refuses_a_damaged_kit(kit, schema):
    validator = jsonschema.Draft202012Validator(schema)
    damaged = json.loads(json.dumps(kit.data))
    del damaged["panels"][0]["thickness"]
    damaged["bolts"][0]["diameter"] = "six"
    assert len(list(validator.iter_errors(damaged))) >= 2


def test_the_manifest_has_every_file_and_its_hash(kit):
    manifest = json.loads((kit.folder / "manifest.json").read_text(encoding="utf-8"))
    listed = {entry["path"]: entry["sha256"] for entry in manifest["outputs"]}
    there = {
        path.relative_to(kit.folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in kit.folder.rglob("*")
        if path.is_file() and path.name != "manifest.json"
    }
    assert listed == there and len(there) > 10
    assert manifest["inputs"] and all(len(entry["sha256"]) == 64 for entry in manifest["inputs"])


def test_the_set_says_which_state_it_is(kit):
    """One hash over those of the inputs, in the manifest, in kit.json, in the report and on every sheet."""
    manifest = json.loads((kit.folder / "manifest.json").read_text(encoding="utf-8"))
    lines = "".join(entry["sha256"] + "\n" for entry in manifest["inputs"])
    said = manifest["set"]
    assert said["inputs_sha256"] == hashlib.sha256(lines.encode("ascii")).hexdigest()
    assert kit.data["edition"] == {key: said[key] for key in ("revision", "inputs_sha256")}
    assert (said["name"], said["version"]) == (kit.data["name"], kit.data["generator"]["version"])
    shown = said["inputs_sha256"][:12]
    assert f"<dt>Inputs</dt><dd>{shown}</dd>" in (kit.folder / "report.html").read_text(encoding="utf-8")
    for sheet in kit.sheets:
        cut = sheet["edition"]["inputs_sha256"][:12]
        assert sheet["frozen"] or cut == shown
        for ending in ("dxf", "svg"):
            assert cut in (kit.folder / "sheets" / f"{sheet['name']}.{ending}").read_text(encoding="utf-8"), sheet["name"]


def test_the_cut_list_is_the_kit(kit):
    table = {row["panel"]: row for row in rows(kit, "cut-list.csv")}
    panels = {panel["name"]: panel for panel in kit.data["panels"]}
    assert table.keys() == panels.keys() and panels
    for name, row in table.items():
        assert math.isclose(float(row["mass (kg)"]), panels[name]["mass"], abs_tol=1e-6), name
        assert row["material"] == panels[name]["material"]


def test_masses_add_up(kit):
    total = kit.data["mass"]["total"]
    fittings = [fitting for fitting in kit.data["fittings"] if not fitting.get("equipment")]
    parts = [part["mass"] for part in kit.data["panels"] + fittings]
    bolts = sum(bolt["mass"] for bolt in kit.data["bolts"])
    # Bolts are rounded one by one here and as one sum there.
    assert math.isclose(sum(parts) + bolts, total, abs_tol=1e-6 * (1 + len(kit.data["bolts"])))
    printed = [row for row in rows(kit, "mass.csv")]
    assert math.isclose(float(printed[-1]["mass (kg)"]), total, abs_tol=1e-9)


def test_bags_add_up_to_the_hardware_list(kit):
    key = lambda row: tuple(row[name] for name in ("standard", "kind", "size", "length (mm)", "unit"))
    sums = {}
    for row in rows(kit, "hardware-bags.csv"):
        sums[key(row)] = sums.get(key(row), 0) + int(row["needed"])
        assert row["bag"] and row["step"]
    listed = {key(row): int(row["needed"]) for row in rows(kit, "hardware.csv") if not row["kind"].startswith("angle")}
    assert sums == listed and len(sums) > 3


def test_the_hardware_list_has_every_bolt_and_nut(kit):
    table = rows(kit, "hardware.csv")
    count = lambda end: sum(int(row["needed"]) for row in table if row["kind"].endswith(end) and row["unit"] == "pcs")
    bolts = kit.data["bolts"]
    eyes = sum(fitting["kind"] == "turnbuckle" for fitting in kit.data["fittings"])
    assert count("bolt") == len(bolts) + eyes > 0
    assert count("nut") == sum(bolt["nut"] is not None for bolt in bolts)
    for row in table:
        if row["unit"] == "pcs" and row["kind"].endswith(("bolt", "nut", "washer")):
            assert int(row["order"]) >= int(row["needed"]) + 2, row
