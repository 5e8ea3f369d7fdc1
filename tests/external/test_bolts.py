"""Every bolt passes through a concentric bore in exactly the panels that it lists."""

from checks import bolts


def test_bolts(kit):
    assert bolts.faults(kit) == []
