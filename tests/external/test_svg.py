"""Every SVG has its true size and the circles and contours of the DXF beside it."""

from checks import svg


def test_svg(kit):
    assert svg.faults(kit) == []
