"""Axle loads as the reactions of a beam on two supports, worked out by a solver for frames, and the demos' planned figures.

Reads only kit.json. The vehicle is a beam with a support under each axle; what it weighs by itself stands on the supports.
"""

import pytest
from anastruct import SystemElements

# What one of the printed lines may be off.
ROUNDED = 0.005

# The plans of the demo vehicles, worked out by hand before the kits were drawn: total, front axle, rear axle, kg.
PLANNED = {
    ("weir-wagon", "planned"): (2960.4, 1356.3, 1604.1),
    ("spoke-van", "planned"): (2450.0, 1155.0, 1295.0),
    ("paddock-ute", "stage-1"): (3255.0, None, 2014.6),
    ("paddock-ute", "stage-2"): (3210.2, None, 1931.3),
    ("paddock-ute", "stage-3"): (3184.2, None, 1904.8),
    ("paddock-ute", "stage-4"): (3064.2, None, 1736.7),
}


def reactions(wheelbase, loads):
    """(front, rear) of a beam with loads [(mm forward of the rear axle, kg)]."""
    places = sorted({0.0, wheelbase, *(ahead for ahead, _ in loads)})
    beam = SystemElements()
    for a, b in zip(places, places[1:]):
        beam.add_element(location=[[a / 1000, 0], [b / 1000, 0]])
    node = {place: beam.find_node_id([place / 1000, 0]) for place in places}
    beam.add_support_hinged(node_id=node[0.0])
    beam.add_support_roll(node_id=node[wheelbase], direction="x")
    for place in places:
        mass = sum(mass for ahead, mass in loads if ahead == place)
        if mass:
            beam.point_load(node_id=node[place], Fy=-mass)
    beam.solve()
    results = {each["id"]: each["Fy"] for each in beam.get_node_results_system()}
    # The solver gives what the supports do to the beam, with its own sign.
    return abs(results[node[wheelbase]]), abs(results[node[0.0]])


def test_axles_are_the_reactions_of_a_beam(kit):
    for budget in kit.data["budgets"]:
        vehicle, *carried = budget["lines"]
        loads = [(line["ahead"], line["mass"]) for line in carried]
        loads += [(budget["wheelbase"], vehicle["front"]), (0.0, vehicle["rear"])]
        front, rear = reactions(budget["wheelbase"], loads)
        slack = ROUNDED * (len(carried) + 1)
        assert budget["front"] == pytest.approx(front, abs=slack), budget["scenario"]
        assert budget["rear"] == pytest.approx(rear, abs=slack), budget["scenario"]


def test_left_and_right_are_the_reactions_of_a_beam_across(kit):
    for budget in kit.data["budgets"]:
        if budget["sides"] is None:
            continue
        track = budget["track"]
        # From the right tyres.
        loads = [(track / 2 + line["left"], line["mass"]) for line in budget["lines"]]
        left, right = reactions(track, loads)
        slack = ROUNDED * (len(loads) + 1)
        assert budget["sides"] == pytest.approx([left, right], abs=slack), budget["scenario"]


def test_lines_and_margins_add_up_to_the_digit(kit):
    for budget in kit.data["budgets"]:
        lines = budget["lines"]
        for key, total in (("mass", "total"), ("front", "front"), ("rear", "rear")):
            assert round(sum(line[key] for line in lines), 2) == budget[total], (budget["scenario"], key)
        for verdict in budget["verdicts"]:
            assert round(verdict["limit"] - verdict["value"], 2) == verdict["margin"], verdict
            assert verdict["passes"] == (verdict["margin"] >= 0)
        # What is over a limit is either only compared, or would have been an error.
        assert budget["comparison"] or all(verdict["passes"] for verdict in budget["verdicts"])


def test_the_kit_counts_with_the_mass_that_it_has(kit):
    seen = 0
    for budget in kit.data["budgets"]:
        # A line for each module.
        lines = [line["mass"] for line in budget["lines"] if line["kind"] == "kit"]
        seen += len(lines)
        slack = ROUNDED * len(lines) + 1e-9
        assert not lines or sum(lines) == pytest.approx(kit.data["mass"]["total"], abs=slack), budget["scenario"]
    assert seen or not kit.data["budgets"]


def test_the_demos_plans_come_out(kits):
    seen = {}
    for kit in kits:
        for budget in kit.data["budgets"]:
            seen[kit.data["name"], budget["scenario"]] = budget
    for key, (total, front, rear) in PLANNED.items():
        budget = seen[key]
        assert budget["total"] == total, key
        assert budget["rear"] == pytest.approx(rear, abs=0.05), key
        assert front is None or budget["front"] == pytest.approx(front, abs=0.05), key
    # The third stage is light enough in all, but not on its rear axle.
    verdicts = {verdict["what"]: verdict["passes"] for verdict in seen["paddock-ute", "stage-3"]["verdicts"]}
    assert verdicts["gross vehicle mass"] and not verdicts["rear axle"]
