"""model.step of every kit as a CAD kernel reads it, and faults planted in one that the check must find."""

import hashlib
import json
import re

import pytest

from checks import model_step, part21


# What was found in models that were read already: how sheets are cut changes no model, so several folders hold the same.
READ = {}


def test_model_step(kit):
    parts = json.dumps([kit.data[key] for key in ("name", "panels", "bolts", "fittings", "bodies")])
    key = hashlib.sha256((parts + text_of(kit)).encode()).hexdigest()
    if key not in READ:
        READ[key] = model_step.faults(kit)
    assert READ[key] == []


def test_faces_as_they_are_written(kit):
    assert part21.faults(text_of(kit)) == []


def test_no_clock_and_no_name_of_a_machine(kit):
    head = text_of(kit).split("DATA;")[0]
    assert "FILE_NAME('model.step','1970-01-01T00:00:00',(''),(''),'baywright','baywright','');" in head


def once(pattern, by):
    """Replaces the first match; there must be one."""

    def plant(text):
        changed, count = re.subn(pattern, by, text, count=1)
        assert count == 1, pattern
        return changed

    return plant


def moves_a_part(text):
    """The frame of the last occurrence is put at a place of its own, a millimetre to the left."""
    frame = re.findall(r"ITEM_DEFINED_TRANSFORMATION\('','',#\d+,(#\d+)\)", text)[0]
    place, rest = re.search(rf"\n{frame}=AXIS2_PLACEMENT_3D\('',(#\d+),(.*?)\);", text).groups()
    x, y, z = re.search(rf"\n{place}=CARTESIAN_POINT\('',\((.*?),(.*?),(.*?)\)\);", text).groups()
    point = f"#9999999=CARTESIAN_POINT('',({x},{float(y) + 1.0},{z}));"
    text = text.replace(f"\n{frame}=AXIS2_PLACEMENT_3D('',{place},", f"\n{frame}=AXIS2_PLACEMENT_3D('',#9999999,")
    return text.replace("DATA;\n", f"DATA;\n{point}\n")


def drops_an_occurrence(text):
    used = re.search(r"\n(#\d+)=NEXT_ASSEMBLY_USAGE_OCCURRENCE", text).group(1)
    shape = re.search(rf"\n(#\d+)=PRODUCT_DEFINITION_SHAPE\('','',{used}\);", text).group(1)
    lines = text.split("\n")
    gone = (f"{used}=", f"{shape}=")
    return "\n".join(line for line in lines if not line.startswith(gone) and not line.endswith(f",{shape});"))


PLANTED = {
    "opens a shell": (once(r"CLOSED_SHELL\('',\(#\d+,", "CLOSED_SHELL('',("), "no sound solid"),
    "widens a bore": (once(r"(CYLINDRICAL_SURFACE\('',#\d+),(\d+\.\d*)\)", r"\1,1\2)"), "round walls|no sound solid|volume is off"),
    "is in centimetres": (once(r"\.MILLI\.", ".CENTI."), "volume is off"),
    "makes a countersink steeper": (once(r"0\.785398163397", "0.7"), "no sound solid|volume is off"),
    "renames a panel": (once(r"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+',)'", r"\1'x"), "missing"),
    "drops a part": (drops_an_occurrence, "missing"),
    "moves a part": (moves_a_part, "placement is not"),
}


def size(kit):
    return (kit.folder / "model.step").stat().st_size


@pytest.fixture
def smallest(kits):
    """The smallest kit with a countersink, so that every fault can be planted."""
    return next(kit for kit in sorted(kits, key=size) if "CONICAL_SURFACE" in text_of(kit))


def text_of(kit):
    return (kit.folder / "model.step").read_text(encoding="ascii")


@pytest.mark.parametrize("planted", PLANTED)
def test_planted_faults_are_found(smallest, planted, tmp_path):
    plant, told = PLANTED[planted]
    text = text_of(smallest)
    changed = tmp_path / "model.step"
    changed.write_text(plant(text), encoding="ascii")
    found = model_step.faults(smallest, changed)
    assert any(re.search(told, fault) for fault in found), found


# What the kernel mends in silence.
AS_WRITTEN = {
    "turns a bore's wall inside out": (once(r"(ADVANCED_FACE\([^;]*),\.F\.\)", r"\1,.T.)"), "its rim runs the wrong way"),
    "turns a plane round": (once(r"(ADVANCED_FACE\([^;]*),\.T\.\)", r"\1,.F.)"), "wrong way"),
    "runs along an edge the other way": (once(r"(ORIENTED_EDGE\([^;]*),\.T\.\)", r"\1,.F.)"), "used|open"),
    "bends an edge off its surface": (once(r"(CYLINDRICAL_SURFACE\('',#\d+,\d+\.\d*)\)", r"\g<1>001)"), "off its surface"),
    "leaves a face out": (once(r"CLOSED_SHELL\('',\(#\d+,", "CLOSED_SHELL('',("), "used"),
}


@pytest.mark.parametrize("planted", AS_WRITTEN)
def test_faults_of_the_text_are_found(smallest, planted):
    plant, told = AS_WRITTEN[planted]
    found = part21.faults(plant(text_of(smallest)))
    assert any(re.search(told, fault) for fault in found), found
