"""The checks of strength worked out anew from kit.json: panels against finite elements and beams, slides and points by statics,
latches, straps and joints from their formulas.

Formulas and worked examples are tested where they stand (the crate of formulas); here other people's programs judge what the
program makes of a whole kit.
"""

import itertools
import math

import pytest
from anastruct import SystemElements

from checks import plates

# m/s2, standard gravity.
G = 9.80665


def setting(kit, key):
    row = next(row for row in kit.data["strength"]["settings"] if row["key"] == key)
    return float(row["value"].split()[0])


def checked(kit):
    for panel in kit.data["strength"]["panels"]:
        for load in panel["loads"]:
            yield panel, load


def test_settings_say_what_they_rest_on(kit):
    rows = kit.data["strength"]["settings"]
    assert len(rows) == len({row["key"] for row in rows}) >= 19
    assert all(row["basis"] and row["value"] for row in rows)


def beam(span, at, length, force, ei, spread):
    """(greatest moment, greatest sag) of a beam on two supports by a solver for frames: N mm, mm."""
    # What would lie beyond the span presses on the rest of its foot.
    start, end = max(0.0, at - length / 2), min(span, at + length / 2)
    places = {0.0, span, *(span * i / 40 for i in range(41))}
    places |= {start, at, end} if not spread else set()
    places = sorted(places)
    places = [p for i, p in enumerate(places) if i == 0 or p - places[i - 1] > 1e-6]
    system = SystemElements(EI=ei, EA=1e12)
    for a, b in itertools.pairwise(places):
        system.add_element(location=[[a, 0], [b, 0]])
    node = {place: system.find_node_id([place, 0]) for place in places}
    system.add_support_hinged(node_id=node[places[0]])
    system.add_support_roll(node_id=node[places[-1]], direction="x")
    for i, (a, b) in enumerate(itertools.pairwise(places), 1):
        middle = (a + b) / 2
        if spread:
            system.q_load(q=-force, element_id=i)
        elif length > 0 and start < middle < end:
            system.q_load(q=-force / (end - start), element_id=i)
    if not spread and length == 0:
        system.point_load(node_id=node[min(node, key=lambda p: abs(p - at))], Fy=-force)
    system.solve()
    results = system.get_element_results(element_id=0)
    moment = max(max(abs(result["Mmin"]), abs(result["Mmax"])) for result in results)
    sag = max(abs(each["uy"]) for each in system.get_node_displacements(node_id=0))
    return moment, sag


def test_strips_bend_as_beams(kit):
    seen = set()
    for panel, load in checked(kit):
        if load["method"] != "strip":
            continue
        i = "uv".index(load["way"])
        sheet = panel["sheet"]
        inertia = load["width"] * sheet["thickness"] ** 3 / 12
        at, length = load["at"][0], load["length"][0]
        key = (load["spread"], round(load["spans"][0]), round(at), round(length))
        if key in seen or len(seen) > 12:
            continue
        seen.add(key)
        span, ei = load["spans"][0], sheet["modulus"][i] * inertia
        moment, sag = beam(span, at, length, load["force"], ei, load["spread"])
        assert load["moments"][i] == pytest.approx(moment, rel=1e-2), (panel["panel"], load)
        # A load that is spread over its foot sags less than one on a line, which the program takes: at most 1.6 times.
        line = 1.02 + 0.6 * length / span
        assert sag * (1 - 1e-2) <= load["sag"] <= sag * line + 1e-6, (panel["panel"], load, sag)
        stress = 6 * load["moments"][i] / (load["width"] * sheet["thickness"] ** 2)
        assert load["stresses"][i] == pytest.approx(stress, rel=1e-4)
        assert load["stresses"][1 - i] == 0.0


def test_plates_bend_as_finite_elements_do(kit):
    for panel, load in checked(kit):
        if load["method"] != "plate":
            continue
        sheet = panel["sheet"]
        sides, middle, size = load["spans"], load["at"], load["length"]
        if load["spread"]:
            # All of the panel bears it; the plate is what lies between the lines.
            continue
        sag, mx, my = plates.orthotropic(
            sides, sheet["thickness"], sheet["modulus"], sheet["shear_modulus"], sheet["poisson"], load["force"], middle, size, False
        )
        assert load["sag"] == pytest.approx(sag, rel=0.02), panel["panel"]
        assert load["moments"][0] >= 0.93 * mx * 0.9 and load["moments"][1] >= 0.93 * my * 0.9, (panel["panel"], load, mx, my)


def test_the_width_that_bears_a_load_is_on_the_safe_side():
    """The rule for strips under a load, 0.9 c + 0.36 L .. inside and 0.65 c + 0.14 L .. at a free edge, against plates on two edges."""
    worst = math.inf
    for (along, across, shear, poisson), span, off, foot in itertools.product(
        [(10719, 6781, 620, 0.05), (6781, 10719, 620, 0.05), (12737, 4763, 620, 0.05), (70000, 70000, 26900, 0.3)],
        [200, 600],
        [0.0, 40.0, 240.0],
        [40, 75],
    ):
        thick, wide, force = 12.0, 900.0, 981.0
        sag, mx, my = plates.orthotropic(
            [span, wide], thick, [along, across], shear, poisson, force, [span / 2, foot / 2 + off], [foot, foot], True, 24
        )
        spread = span * (across / along) ** 0.25
        inside, edge = 0.9 * foot + 0.36 * spread, 0.65 * foot + 0.14 * spread
        width = edge + (inside - edge) * min(1.0, off / (0.25 * span))
        moment = force * (span / 4 - foot / 8) / width
        sagged = force * span**3 / (48 * along * width * thick**3 / 12)
        worst = min(worst, moment / mx, sagged / sag)
        # Across the strip the wood is bent, too; it is no weaker there than its stiffness says.
        assert my / (across / along) ** 0.5 <= 1.05 * moment, (along, span, off, foot, my, moment)
    assert 0.99 <= worst <= 1.2, worst


def test_the_width_in_the_kits_is_that_of_the_rule(kit):
    for panel, load in checked(kit):
        if load["method"] != "strip" or load["spread"] or "knees" not in load["what"]:
            continue
        i = "uv".index(load["way"])
        sheet, span, foot = panel["sheet"], load["spans"][0], load["length"][0]
        spread = span * (sheet["modulus"][1 - i] / sheet["modulus"][i]) ** 0.25
        least, most = 0.65 * foot + 0.14 * spread, 0.9 * foot + 0.36 * spread
        assert load["width"] <= most + 1e-3
        # Narrower only where the panel is, or where a small opening takes some of it.
        if load["width"] < least - 1e-3:
            points = [point["at"] if "at" in point else point for point in kit.panels[panel["panel"]]["outline"]]
            assert load["width"] < max(max(p[:2]) for p in points)


def test_isotropic_plates_by_another_program():
    """A plate of aluminium, 600 x 400 x 3 under 1 kPa: Timoshenko's alpha for b/a 1.5, 0.00772, and PyNite."""
    sag = plates.isotropic((600.0, 400.0), 3.0, 70000.0, 0.3, 0.001, 20.0)
    stiffness = 70000.0 * 27 / (12 * (1 - 0.09))
    assert sag == pytest.approx(0.00772 * 0.001 * 400**4 / stiffness, rel=0.01)


def test_cases_are_sums_of_their_loads(kit):
    for panel in kit.data["strength"]["panels"]:
        if panel["used"] is None:
            assert panel["unknown"] and not panel["cases"]
            continue
        sheet = panel["sheet"]
        worst = 0.0
        for case in panel["cases"]:
            loads = panel["loads"]
            if case["name"] != "for a moment":
                loads = [load for load in loads if "knees" not in load["what"]]
            strength = [f * case["k_mod"] / sheet["gamma"] for f in sheet["bending"]]
            used = sum(max(s / f for s, f in zip(load["stresses"], strength)) for load in loads) * case["factor"]
            assert case["stress_used"] == pytest.approx(used, rel=1e-4, abs=2e-6), (panel["panel"], case)
            worst = max(worst, case["stress_used"], case["sag_used"] or 0.0)
        assert panel["used"] == pytest.approx(worst, rel=1e-6)


def test_slides_are_in_balance(kit):
    """Each slide's fixed member as a stiff beam on springs, one for each bolt, with the drawer's weight beyond its end."""
    for slide in kit.data["strength"]["slides"]:
        bolts, beyond = slide["bolts"], slide["beyond"]
        places = sorted({-beyond, *bolts})
        system = SystemElements(EI=1e15, EA=1e15)
        for a, b in itertools.pairwise(places):
            system.add_element(location=[[a, 0], [b, 0]])
        node = {place: system.find_node_id([place, 0]) for place in places}
        for place in bolts:
            system.add_support_spring(node_id=node[place], translation=2, k=1000.0)
        system.add_support_roll(node_id=node[bolts[0]], direction="y")
        system.point_load(node_id=node[-beyond], Fy=-slide["weight"])
        system.solve()
        for place, down in zip(bolts, slide["out"]):
            pushed = 1000.0 * system.get_node_displacements(node_id=node[place])["uy"]
            assert abs(pushed) == pytest.approx(abs(down), rel=5e-3, abs=0.5), (slide["slide"], place)
        assert sum(slide["out"]) == pytest.approx(slide["weight"], rel=1e-6)
        assert sum(slide["moving"]) == pytest.approx(slide["weight"], rel=1e-6)


def test_pairs_of_slides_carry_what_the_drawers_weigh(kit):
    factor = kit.data["strength"]["slide_factor"]
    for drawer in kit.data["drawers"]:
        pair = [slide for slide in kit.data["strength"]["slides"] if slide["drawer"] == drawer["name"]]
        assert len(pair) == 2
        assert sum(slide["weight"] for slide in pair) == pytest.approx(drawer["carried"] * G, rel=1e-6)
        rating = next(each["rating_pair"] for each in kit.data["fittings"] if each["name"] == pair[0]["slide"])
        if rating:
            assert pair[0]["used"] == pytest.approx(drawer["carried"] / (rating * factor), rel=1e-4)


def test_drawers_take_what_slides_latch_and_bottom_take(kit):
    """The least of the limits, each from its own figures; a bottom under an even load is in proportion."""
    strength = kit.data["strength"]
    drawers = {drawer["name"]: drawer for drawer in kit.data["drawers"]}
    panels = {panel["panel"]: panel for panel in strength["panels"]}
    for takes in strength["takes"]:
        drawer = drawers[takes["drawer"]]
        there = drawer["carried"] - drawer["load"]
        slides = [slide for slide in strength["slides"] if slide["drawer"] == takes["drawer"]]
        limits = {"slides": [slide["used"] for slide in slides]}
        limits["latch"] = [latch["used"] for latch in strength["latches"] if latch["name"] == takes["drawer"]]
        tips = [tips for tips in strength["tipping"] if tips["drawer"] == takes["drawer"] and tips["factor"]]
        limits["loose module"] = [setting(kit, "tipping_factor") / each["factor"] for each in tips]
        names = tuple(slide["slide"] + " " for slide in slides)
        limits["joint"] = [joint["used"] for joint in strength["joints"] if joint["name"].startswith(names)]
        kilograms = {
            kind: drawer["carried"] / max(used) - there for kind, used in limits.items() if used and None not in used
        }
        bottom = panels[drawer["bottom"]]
        if any(load["what"] == "what lies in it" for load in bottom["loads"]) and len(bottom["loads"]) == 2:
            kilograms["panel"] = bottom["at_limit"]
            least = min(kilograms, key=kilograms.get)
            assert takes["most"] == pytest.approx(max(kilograms[least], 0), rel=1e-3, abs=1e-3), takes
            assert takes["first"] == least, takes
        else:
            assert takes["most"] <= min(kilograms.values()) + 1e-3, takes
        assert ("latch" in takes["unknown"]) == (None in limits["latch"])


def test_latches(kit):
    factor, slope = setting(kit, "latch_factor"), math.radians(setting(kit, "latch_slope"))
    carried = {drawer["name"]: drawer["carried"] for drawer in kit.data["drawers"]}
    for latch in kit.data["strength"]["latches"]:
        weight = latch["mass"] * G
        if latch["name"] in carried:
            assert latch["mass"] == pytest.approx(carried[latch["name"]], abs=1e-5)
        assert latch["needed"] == pytest.approx(factor * max(0.5 * weight, math.sin(slope) * weight), rel=1e-6)
        assert latch["stop"] == pytest.approx(0.8 * weight * setting(kit, "restraint_factor"), rel=1e-6)
        if latch["holds"]:
            assert latch["used"] == pytest.approx(latch["needed"] / latch["holds"], rel=1e-5)


def test_points_hold_each_case(kit):
    """Bolts into the vehicle, of modules that only bolts hold: sums of forces and moments, from the bolts' places."""
    points = kit.data["strength"]["anchors"]
    if any(point["tied"] for point in points):
        points = []
    factor = setting(kit, "restraint_factor")
    bolts = {bolt["name"]: bolt["origin"] for bolt in kit.data["bolts"]}
    modules = {}
    for point in points:
        modules.setdefault((point["mass"], tuple(point["centre"])), []).append(point)
    for (mass, centre), group in modules.items():
        places = [next(at for name, at in bolts.items() if name.startswith(f"{p['carcase']}+{p['point']}")) for p in group]
        for i, axis, sign in [(0, 0, 1), (1, 0, -1), (2, 1, 1), (3, 1, -1)]:
            cases = [point["cases"][i] for point in group]
            force = cases[0]["share"] * mass * G * factor
            total = [sum(case["shear"][a] for case in cases) for a in range(2)]
            assert sign * total[axis] == pytest.approx(force, rel=1e-5)
            edge = max(sign * group[0]["base"][0][axis], sign * group[0]["base"][1][axis])
            held = sum(case["tension"] * (edge - sign * at[axis]) for case, at in zip(cases, places))
            assert held == pytest.approx(force * (centre[2] - group[0]["base"][0][2]), rel=1e-5)


def test_points_are_used_by_their_worst_case(kit):
    for point in kit.data["strength"]["anchors"]:
        if point["used"] is not None:
            worst = max(case["force"] for case in point["cases"])
            assert point["used"] == pytest.approx(worst / point["rating"], rel=1e-5)
            if not point["tied"]:
                for case in point["cases"]:
                    assert case["force"] == pytest.approx(math.hypot(*case["shear"], case["tension"]), rel=1e-5)
        else:
            assert point["unknown"]


def test_straps(kit):
    friction, tension = setting(kit, "friction"), setting(kit, "strap_tension")
    factor = setting(kit, "restraint_factor")
    for strap in kit.data["strength"]["straps"]:
        weight = strap["mass"] * G
        for share, n in zip((0.8, 0.5, 0.5), strap["by_friction"]):
            missing = max(0.0, (share - friction) * weight * factor)
            wanted = missing / (2 * friction * math.sin(math.radians(80)) * tension)
            assert n == pytest.approx(wanted, rel=1e-4, abs=1e-6)
        assert strap["wanted"] == max(1, math.ceil(max(strap["by_friction"]) - 1e-9))


# M4 to M10, mm2: ISO 898-1.
STRESS_AREA = {4: 8.78, 5: 14.2, 6: 20.1, 8: 36.6, 10: 58.0}


def test_bolts_bear_what_their_standard_says(kit):
    diameters = {bolt["name"]: bolt["diameter"] for bolt in kit.data["bolts"]}
    for joint in kit.data["strength"]["joints"]:
        if joint["used"] is None:
            assert joint["unknown"]
            continue
        area = STRESS_AREA[round(diameters[joint["worst"]])]
        ways = {way["what"]: way for way in joint["resistances"]}
        assert ways["bolt sheared"]["force"] == pytest.approx(0.6 * 800 * area / 1.25, rel=1e-3)
        assert ways["bolt torn"]["force"] == pytest.approx(0.9 * 800 * area / 1.25, rel=1e-3)
        for way in joint["resistances"]:
            acting = joint["tension"] if way["what"] in ("bolt torn", "washer drawn through", "leg of the angle bent") else None
            if acting is not None and way["used"]:
                assert way["used"] == pytest.approx(acting / way["force"], rel=1e-3, abs=1e-6)
        assert joint["used"] >= max(way["used"] for way in joint["resistances"]) - 1e-6


def test_wood_around_bolts_of_slides(kit):
    """Thin steel on plywood: 0.4 f_h t d, or less near an end; f_h = 0.11 (1 - 0.01 d) 630 in birch (EN 1995-1-1 8.9, 8.36)."""
    bolts = {bolt["name"]: bolt for bolt in kit.data["bolts"]}
    panels = {panel["name"]: panel for panel in kit.data["panels"]}
    seen = 0
    for joint in kit.data["strength"]["joints"]:
        if not joint["name"].endswith((" fixed", " moving")) or joint["used"] is None:
            continue
        bolt = bolts[joint["worst"]]
        boards = [panels[name] for name in bolt["panels"]]
        if len(boards) != 1 or not boards[0]["material"].startswith("birch"):
            continue
        d, t = bolt["diameter"], boards[0]["thickness"]
        short = 0.9 if joint["case"] == "drawn out" else 1.1
        full = 0.4 * 0.11 * (1 - 0.01 * d) * 630 * t * d * short / 1.3
        wood = next(way for way in joint["resistances"] if way["what"].startswith("wood crushed"))
        assert wood["force"] <= full * (1 + 1e-6)
        # No nearer to an end than three diameters.
        assert wood["force"] >= full * 3 * d / 60 * (1 - 1e-6)
        seen += 1
    assert seen or not kit.data["drawers"]
