"""The kit fits in its bay, by a boolean kernel; and overlaps of a millimetre, planted in copies, are found."""

import copy

import pytest

from checks import bay


def test_every_panel_is_clear_of_the_bay(kit):
    assert bay.faults(kit) == []


def test_every_drawer_comes_out_past_all_others(kit):
    assert bay.strikes(kit.data) == []


def test_what_is_said_to_be_open_together_is_apart(kit):
    apart = {frozenset((pair["drawer"], pair["other"])) for pair in kit.data["together"] if pair["both_open"]}
    assert not bay.open_together(kit.data) & apart


def test_a_drawer_that_goes_the_wrong_way_is_found(kits):
    data = copy.deepcopy(kits[0].data)
    moving = next(body for body in data["bodies"] if any(body["travel"]))
    moving["travel"] = [500.0, 0.0, 0.0]
    assert {name for name, _ in bay.strikes(data)} & {p["name"] for p in data["panels"] if p["body"] == moving["name"]}


class Moved:
    """A kit whose panels are moved by some mm."""

    def __init__(self, kit, by):
        self.data = copy.deepcopy(kit.data)
        self.panels = {panel["name"]: panel for panel in self.data["panels"]}
        for panel in self.panels.values():
            for axis in range(3):
                panel["placement"][axis][3] += by[axis]


@pytest.mark.parametrize(
    "surface, axis, sign",
    [("seat back", 0, 1), ("door", 0, -1), ("left side", 1, 1), ("right side", 1, -1), ("roof", 2, 1), ("floor", 2, -1)],
)
def test_an_overlap_of_a_millimetre_is_found(kits, surface, axis, sign):
    kit = kits[0]
    by = [0.0, 0.0, 0.0]
    by[axis] = float(sign)
    behind = bay.solids_of_bay(kit.data["vehicle"]["bay"])[surface][0]
    by[axis] *= bay.room([bay.solid_of_panel(panel) for panel in kit.data["panels"]], [behind], by) + 1.0
    # Moved 1 mm farther than until it touched, the deepest panel is 1 mm in; a slanting surface counts along its way.
    found = [depth for _, name, depth in bay.overlaps(Moved(kit, by)) if name == surface]
    assert found and max(found) == pytest.approx(1.0, abs=0.06)


def test_arches_and_latches_are_found(kits):
    with_arches = [kit for kit in kits if kit.data["vehicle"]["bay"]["arches"] and kit.data["vehicle"]["bay"]["latches"]]
    assert with_arches, "no folder has a bay with arches and a latch"
    seen = set()
    for kit in with_arches:
        for i, axis in ((1, 1), (-1, 1), (-1, 0)):
            for far in (9.0, 16.0, 60.0, 300.0):
                by = [0.0, 0.0, 0.0]
                by[axis] = i * far
                seen |= {name.split(" ")[-2 if "latch" in name else -1] for _, name, _ in bay.overlaps(Moved(kit, by))}
    assert {"arch", "latch"} <= seen
