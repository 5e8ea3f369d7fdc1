"""Exact answers for a handful of rectangles: the fewest sheets, wherever they may lie or by cuts from edge to edge.

Everything is in whole units with the gap already in it: a rectangle of w x h on a sheet of W x H with the gap g between
parts is one of (w + g) x (h + g) on (W + g) x (H + g) without. Free packings are solved by CP-SAT of OR-tools, sawn
ones by joining pieces two by two.
"""

import functools

from ortools.sat.python import cp_model


def ways(rectangle, sheet):
    """The sizes in which a rectangle (w, h, may turn) may lie on a sheet."""
    w, h, turns = rectangle
    both = [(w, h)] + ([(h, w)] if turns and w != h else [])
    return [(a, b) for a, b in both if a <= sheet[0] and b <= sheet[1]]


def fit_free(rectangles, sheets, seconds=600.0):
    """Whether the rectangles lie together on these sheets, [(W, H)]; all in one picture, the sheets in a row."""
    model = cp_model.CpModel()
    starts = [0]
    for length, _ in sheets:
        starts.append(starts[-1] + length)
    along, across = [], []
    for rectangle in rectangles:
        lies = []
        for w, h in dict.fromkeys(way for sheet in sheets for way in ways(rectangle, sheet)):
            for (length, width), start in zip(sheets, starts):
                if w > length or h > width:
                    continue
                here = model.new_bool_var("")
                x = model.new_int_var(start, start + length - w, "")
                y = model.new_int_var(0, width - h, "")
                along.append(model.new_optional_fixed_size_interval_var(x, w, here, ""))
                across.append(model.new_optional_fixed_size_interval_var(y, h, here, ""))
                lies.append(here)
        model.add_exactly_one(lies)
    model.add_no_overlap_2d(along, across)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE), solver.status_name(status)
    return status != cp_model.INFEASIBLE


def fewest_free(rectangles, sheet):
    """The fewest sheets of one size, tried from the area's bound upwards."""
    area = sum(w * h for w, h, _ in rectangles)
    n = max(-(-area // (sheet[0] * sheet[1])), 1)
    while not fit_free(rectangles, [sheet] * n):
        n += 1
    return n


def cheapest_free(rectangles, kinds):
    """The least sum of costs of sheets that hold the rectangles; kinds are (W, H, cost, number of them). Tried by
    rising cost."""
    choices = [()]
    for _, _, _, number in kinds:
        choices = [choice + (n,) for choice in choices for n in range(min(number, len(rectangles)) + 1)]
    area = sum(w * h for w, h, _ in rectangles)

    def cost(choice):
        return sum(n * kind[2] for n, kind in zip(choice, kinds))

    for choice in sorted(choices, key=lambda choice: (cost(choice), choice)):
        sheets = [kind[:2] for n, kind in zip(choice, kinds) for _ in range(n)]
        held = all(any(ways(rectangle, sheet) for sheet in sheets) for rectangle in rectangles)
        if held and sum(w * h for w, h in sheets) >= area and fit_free(rectangles, sheets):
            return cost(choice)
    return None


def fewest_sawn(rectangles, sheet):
    """The fewest sheets of one size that a saw can cut, every cut from edge to edge of the piece it divides."""
    everything = (1 << len(rectangles)) - 1

    @functools.cache
    def pieces(chosen):
        """The sizes of pieces from which the chosen can be cut, none of them larger than another both ways."""
        if chosen & (chosen - 1) == 0:
            return least(ways(rectangles[chosen.bit_length() - 1], sheet))
        found = set()
        some = (chosen - 1) & chosen
        while some:
            if some > chosen ^ some:
                for w, h in pieces(some):
                    for a, b in pieces(chosen ^ some):
                        found.add((w + a, max(h, b)))
                        found.add((max(w, a), h + b))
            some = (some - 1) & chosen
        return least(size for size in found if size[0] <= sheet[0] and size[1] <= sheet[1])

    @functools.cache
    def sheets(chosen):
        if not chosen:
            return 0
        fewest = chosen.bit_count()
        # The lowest lies on some sheet: the others that lie with it are tried.
        lowest = chosen & -chosen
        others = rest = chosen ^ lowest
        while True:
            if pieces(lowest | rest):
                fewest = min(fewest, 1 + sheets(others ^ rest))
            if not rest:
                return fewest
            rest = (rest - 1) & others

    return sheets(everything)


def least(sizes):
    """Those sizes that are not at least as large as another both ways."""
    kept, lowest = [], None
    for w, h in sorted(set(sizes)):
        if lowest is None or h < lowest:
            kept.append((w, h))
            lowest = h
    return tuple(kept)
