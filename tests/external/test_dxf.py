"""Every DXF is clean, ready to cut, and equal to kit.json."""

from checks import dxf


def test_dxf(kit):
    assert dxf.faults(kit) == []
