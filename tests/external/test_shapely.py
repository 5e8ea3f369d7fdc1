"""Holes lie within panels, panels within sheets, and areas and masses follow from the contours."""

from checks import shapes


def test_panels_and_sheets(kit):
    assert shapes.faults(kit) == []
