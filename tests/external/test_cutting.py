"""Sheets are cut in order, from off the corners, and hold their small parts."""

from checks import cutting


def test_cutting(kit):
    assert cutting.faults(kit) == []
