"""What the kit costs: the machine's way measured by ezdxf in the files that it cuts, sums and packs worked out anew."""

import csv
import math
import re

import ezdxf
import pytest
from ezdxf import path

FLAT = 0.001  # mm between an arc and the chords that it is measured by


def length(entity):
    """mm along a polyline, arcs with it."""
    points = list(path.make_path(entity).flattening(FLAT))
    return sum(a.distance(b) for a, b in zip(points, points[1:]))


def ways(kit):
    """mm of contours, mm of engraving and holes in the files of single parts."""
    cut = engraved = holes = 0
    for (kind, _), file in kit.cut_files("dxf").items():
        if kind != "parts":
            continue
        for entity in ezdxf.readfile(file).modelspace():
            if entity.dxftype() == "LWPOLYLINE":
                if entity.dxf.layer == kit.layers["engraving"]:
                    engraved += length(entity)
                elif entity.closed and entity.dxf.layer in {kit.layers["outline"], kit.layers["opening"]}:
                    cut += length(entity)
    return cut, engraved, sum(len(panel["bores"]) for panel in kit.panels.values())


def test_the_machines_way_is_what_the_files_say(kit):
    quote = kit.data["quote"]
    if quote["saw_cuts"] or any(sheet.get("frozen") for sheet in kit.sheets):
        return  # a saw's outlines are no router's way: test_sawing.py counts its cuts
    cut, engraved, holes = ways(kit)
    assert quote["cut"] == pytest.approx(cut / 1000, abs=0.002)
    assert quote["engraved"] == pytest.approx(engraved / 1000, abs=0.002)
    assert quote["holes"] == holes
    assert quote["sheets"] == len(kit.sheets)
    speed = quote["speeds"]
    minutes = (
        (cut * speed["passes"] + engraved) / 1000 / speed["feed"]
        + holes * speed["hole"] / 60
        + len(kit.sheets) * speed["sheet_change"]
    )
    assert quote["machine_minutes"] == pytest.approx(minutes, abs=0.02)


def test_sums_are_sums_of_what_is_printed(kit):
    quote = kit.data["quote"]
    priced = [line for line in quote["lines"] if line["amount"] is not None]
    assert round(sum(line["amount"] for line in priced), 2) == pytest.approx(quote["total"], abs=1e-9)
    assert quote["unpriced"] == len(quote["lines"]) - len(priced)
    for line in quote["lines"]:
        if "offcuts worth keeping" in line["what"]:
            assert line["part"] == "boards" and line["amount"] <= 0, line
            continue
        # What nobody priced has no amount: nothing but what is in the rack costs nothing.
        assert (line["rate"] is None) == (line["amount"] is None), line
        if line["amount"] is None:
            continue
        assert line["amount"] > 0 or "from the rack" in line["what"], line
        # Rates are printed to 0.0001, quantities to 0.01.
        slack = 0.006 + 0.00006 * line["quantity"] + 0.006 * line["rate"]
        assert line["amount"] == pytest.approx(line["quantity"] * line["rate"], abs=slack), line


def rows(kit):
    with open(kit.folder / "order.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_orders_are_whole_packs_with_spares(kit):
    found = rows(kit)
    assert found
    for row in found:
        needed, spares, rack, pack, packs = (float(row[key] or 0) for key in ("needed", "spares", "in the rack", "pack of", "packs"))
        assert packs == max(0, math.ceil((needed + spares - rack) / pack - 1e-9)), row
        if packs == 0:
            assert float(row["amount"]) == 0, row
        elif row["amount"]:
            assert float(row["amount"]) == pytest.approx(packs * float(row["price of a pack"]), abs=0.0051), row


def test_every_bolt_of_the_kit_is_ordered(kit):
    """Bolts by their designation: as many as kit.json has."""
    wanted = {}
    for bolt in kit.bolts:
        name = f"{bolt['head_standard']} {bolt['thread']}x{bolt['length']:g}"
        wanted[name] = wanted.get(name, 0) + 1
    ordered = {row["item"]: float(row["needed"]) for row in rows(kit)}
    assert wanted
    for name, count in wanted.items():
        assert ordered[name] == count, name


def test_the_report_prints_the_same_total(kit):
    report = (kit.folder / "report.html").read_text(encoding="utf-8")
    section = re.search(r'<section id="quote">.*?</section>', report, re.S).group(0)
    assert f"{kit.data['quote']['total']:.2f}" in section
