"""The cutting lists of sawn sheets, done on a rectangle, give every panel its size."""

from checks import sawing


def test_sawing(kit):
    assert sawing.faults(kit) == []
