"""What is printed: every panel has one name everywhere, labels can be read by a scanner, drawings say what kit.json says.

Pages are read by one PDF library and drawn by another; codes are read by a library of bar codes.
"""

import csv
import json
import re
import struct
import xml.etree.ElementTree as ET

import pypdf
import pypdfium2
import pytest
import zxingcpp

SVG = "{http://www.w3.org/2000/svg}"


def glb_names(kit):
    data = (kit.folder / "model.glb").read_bytes()
    length = struct.unpack_from("<I", data, 12)[0]
    document = json.loads(data[20 : 20 + length])
    return {node.get("name") for node in document["nodes"]}


def pages(kit, name):
    return [page.extract_text() for page in pypdf.PdfReader(kit.folder / name).pages]


def scanned(kit):
    """Texts of all codes on the sheets of labels."""
    document = pypdfium2.PdfDocument(kit.folder / "labels.pdf")
    found = []
    for page in document:
        image = page.render(scale=4).to_numpy()
        codes = zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)
        # A corner of a code can look like a smaller code of another kind.
        found += [code.text for code in codes if str(code.format) == "QR Code"]
    return found


def test_a_panel_has_one_name_everywhere(kit):
    names = set(kit.panels)
    assert {path.stem for path in (kit.folder / "parts").glob("*.dxf")} == names
    drawings = {path.stem for path in (kit.folder / "drawings").glob("*.svg")}
    assert {stem.split(".page-")[0] for stem in drawings} == names
    with open(kit.folder / "cut-list.csv", encoding="utf-8", newline="") as file:
        assert {row["panel"] for row in csv.DictReader(file)} == names
    assert names <= glb_names(kit)
    placed = {part["panel"] for sheet in kit.sheets for part in sheet["placed"]}
    assert placed == names
    report = (kit.folder / "report.html").read_text(encoding="utf-8")
    printed = re.sub(r"\s", "", "".join(pages(kit, "report.pdf")))
    for name in names:
        assert f">{name}<" in report, name
        assert name in printed, name


def test_a_scanner_reads_every_label(kit):
    assert sorted(scanned(kit)) == sorted(kit.panels)


def test_labels_say_what_kit_json_says(kit):
    text = re.sub(r"\s+", " ", " ".join(pages(kit, "labels.pdf")))
    joined = text.replace(" ", "")
    assert "\u2026" not in text
    for name, panel in kit.panels.items():
        assert name in joined, name
        length, width = (f"{round(side, 1):g}" for side in panel["size"])
        assert f"{length} x {width} mm" in text, name
        nominal, actual = panel["nominal_thickness"], panel["thickness"]
        thick = f"{nominal:g} mm" if nominal == actual else f"{nominal:g} mm (actual {actual:g} mm)"
        assert f"{panel['material']}, {thick}" in text, name


def test_the_printed_figures_are_those_of_kit_json(kit):
    text = " ".join(pages(kit, "report.pdf"))
    assert f"{kit.data['mass']['total']:.3f}" in text
    assert f"{kit.data['quote']['total']:.2f}" in text
    for budget in kit.data["budgets"]:
        assert f"{budget['total']:.2f}" in text, budget["scenario"]
    assert kit.data["edition"]["inputs_sha256"] in re.sub(r"\s", "", text)
    # A letter that the font does not have.
    assert "\ufffd" not in text


def test_every_page_has_its_size_and_its_font(kit):
    for name in ("report.pdf", "labels.pdf"):
        reader = pypdf.PdfReader(kit.folder / name)
        assert len(reader.pages) >= 1
        for page in reader.pages:
            sides = sorted(float(side) / 72 * 25.4 for side in (page.mediabox.width, page.mediabox.height))
            assert sides == pytest.approx([210, 297], abs=0.1) or sides == pytest.approx([215.9, 279.4], abs=0.1)
            fonts = page["/Resources"].get("/Font", {})
            for font in fonts.values():
                descendant = font.get_object().get("/DescendantFonts", [font])[0].get_object()
                descriptor = descendant["/FontDescriptor"].get_object()
                assert any(key in descriptor for key in ("/FontFile2", "/FontFile3")), name


def numbers(kit, stem):
    root = ET.parse(kit.folder / "drawings" / f"{stem}.svg").getroot()
    return {text.text.strip() for text in root.iter(f"{SVG}text") if text.get("class") == "number"}


def test_a_drawing_has_the_places_of_all_holes(kit):
    """Each hole's place along both edges stands beside the drawing, or in the list below it."""
    for name, panel in kit.panels.items():
        stems = [path for path in (kit.folder / "drawings").glob(f"{name}.*svg") if path.stem.split(".page-")[0] == name]
        text = " ".join(" ".join(ET.parse(path).getroot().itertext()) for path in stems)
        left = min(point[0] for point in panel["outline"])
        low = min(point[1] for point in panel["outline"])
        places = set(re.findall(r"\d+(?:\.\d)?", text))
        for bore in panel["bores"]:
            for place in (bore["u"] - left, bore["v"] - low):
                near = {f"{round(place + off, 1):g}" for off in (0, -0.05, 0.05)}
                assert near & places, (name, place)
        assert len(panel["bores"]) == sum(
            text.get("class") == "letter" for text in ET.parse(kit.folder / "drawings" / f"{name}.svg").getroot().iter(f"{SVG}text")
        ), name
        assert f"{panel['thickness']:g}" in numbers(kit, name), name
