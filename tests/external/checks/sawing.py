"""The cuts of sawn sheets, done one after the other on a rectangle, from cuts/*.csv alone.

What a cut leaves follows from the fence and the kerf; every panel must come out at the size that its outline in
kit.json has, as it lies on the sheet. Nothing here knows where a panel lies.
"""

import csv

from . import paths

SAME = 0.0015  # mm: the list has three decimals


def faults(kit):
    """All faults of cutting lists; none for a kit that is milled."""
    found = []
    sawn = [sheet for sheet in kit.sheets if sheet["saw"]]
    there = {path.name for path in (kit.folder / "cuts").glob("*")} if (kit.folder / "cuts").exists() else set()
    wanted = {f"{sheet['name']}.{ending}" for sheet in sawn for ending in ("csv", "svg")}
    found += [f"cuts/{name}: missing" for name in sorted(wanted - there)]
    found += [f"cuts/{name}: belongs to no sawn sheet" for name in sorted(there - wanted)]
    for sheet in sawn:
        path = kit.folder / "cuts" / f"{sheet['name']}.csv"
        if path.exists():
            with open(path, encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            found += [f"cuts of {sheet['name']}: {fault}" for fault in of_sheet(kit, sheet, rows)]
    return found


def as_it_lies(kit, placed):
    """Length and width of a panel on its sheet: those of the box around its outline, exchanged by a quarter turn."""
    left, bottom, right, top = paths.bounds(kit.panels[placed["panel"]]["outline"])
    size = (right - left, top - bottom)
    return size if placed["angle"] % 180 == 0 else size[::-1]


def same(a, b):
    return all(abs(x - y) <= SAME for x, y in zip(a, b))


def written(row, length, width):
    return (float(row[length]), float(row[width])) if row[length] else None


def of_sheet(kit, sheet, rows):
    found = []
    kerf, most = sheet["saw"]["kerf"], sheet["saw"]["stages"]
    wanted = {placed["panel"]: as_it_lies(kit, placed) for placed in sheet["placed"]}
    pieces = {"sheet": tuple(sheet["size"])}
    panels, stages = [], {}
    if not rows:
        # A panel that is the sheet as it comes.
        whole = [name for name, size in wanted.items() if same(size, sheet["size"])]
        return [] if len(wanted) == len(whole) == 1 else ["no cuts"]
    last = 0
    for number, row in enumerate(rows, 1):
        stage, name, across = int(row["stage"]), row["piece"], row["runs"] == "across"

        def say(fault):
            found.append(f"cut {number}: {fault}")

        if int(row["cut"]) != number:
            say(f"is numbered {row['cut']}")
        if stage < last:
            say(f"is of stage {stage} and comes after one of stage {last}")
        last = max(last, stage)
        if stage > 0 and stages.setdefault(stage, across) != across:
            say(f"runs otherwise than the rest of stage {stage}")
        if name not in pieces:
            say(f"divides {name}, which is not there")
            continue
        length, width = pieces.pop(name)
        fence = float(row["fence (mm)"])
        if abs(float(row["length of cut (mm)"]) - (width if across else length)) > SAME:
            say("is not as long as the piece that it divides")
        if across:
            left = [(fence, width), (length - fence - kerf, width)]
        else:
            left = [(length, fence), (length, width - fence - kerf)]
        sides = [
            (row["at the fence"], written(row, "its length (mm)", "its width (mm)"), left[0]),
            (row["beyond the blade"], written(row, "length (mm)", "width (mm)"), left[1]),
        ]
        for what, says, size in sides:
            kind, _, rest = what.partition(" ")
            if min(size) <= SAME:
                if kind != "nothing":
                    say(f"leaves {what} of {size}")
                continue
            if says is None or not same(says, size):
                say(f"leaves {what} of {size}, and says {says}")
            if kind == "part":
                panels.append(rest)
                if rest not in wanted or not same(wanted[rest], size):
                    say(f"cuts {rest} to {size} instead of {wanted.get(rest)}")
            elif kind in ("piece", "rest"):
                piece = rest.removeprefix("of ")
                if piece in pieces or (kind == "rest" and piece != name):
                    say(f"makes {what} out of {name}")
                pieces[piece] = size
            elif kind not in ("offcut", "waste"):
                say(f"leaves {what}")
    if most is not None and last > most:
        found.append(f"{last} stages, {most} are allowed")
    found += [f"{name} is never cut up" for name in pieces]
    if sorted(panels) != sorted(wanted):
        found.append(f"panels {sorted(panels)} come out instead of {sorted(wanted)}")
    return found
