"""Cut lists made up from a seed: rectangles, L shapes, discs, rings, frames and slots, as a CSV with DXF drawings.

A part is a dictionary: name, quantity, grain (`free`, `kept`, `across`), turn and either_face as in the cut list, and
its contours, an outline and openings, as paths of (x, y, bulge). Rectangles without an opening go into the list with
their sizes, all else as a drawing of its own.
"""

import csv
import math
import random

import ezdxf

QUARTER = math.tan(math.pi / 8)


def rectangle(x, y, length, width):
    return [(x, y, 0.0), (x + length, y, 0.0), (x + length, y + width, 0.0), (x, y + width, 0.0)]


def circle(x, y, radius):
    return [(x + radius, y, 1.0), (x - radius, y, 1.0)]


def slot(x, y, length, width):
    """With half rounds at both ends, all of it within length x width."""
    r = width / 2
    return [(x + r, y, 0.0), (x + length - r, y, 1.0), (x + length - r, y + width, 0.0), (x + r, y + width, 1.0)]


def rounded(x, y, length, width, r):
    return [
        (x + r, y, 0.0),
        (x + length - r, y, QUARTER),
        (x + length, y + r, 0.0),
        (x + length, y + width - r, QUARTER),
        (x + length - r, y + width, 0.0),
        (x + r, y + width, QUARTER),
        (x, y + width - r, 0.0),
        (x, y + r, QUARTER),
    ]


def l_shape(length, width, leg, inner):
    """With a rounded inner corner where `inner` is not 0."""
    if inner == 0:
        return [(0, 0, 0.0), (length, 0, 0.0), (length, leg, 0.0), (leg, leg, 0.0), (leg, width, 0.0), (0, width, 0.0)]
    corner = [(leg + inner, leg, -QUARTER), (leg, leg + inner, 0.0)]
    return [(0, 0, 0.0), (length, 0, 0.0), (length, leg, 0.0), *corner, (leg, width, 0.0), (0, width, 0.0)]


def contours(random, large):
    """An outline and openings; `large` is about the greatest size, mm."""
    kind = random.choice(["plain", "plain", "plain", "l", "l", "disc", "disc", "ring", "ring", "frame", "slotted", "half"])
    a, b = (random.randint(large // 4, large) for _ in range(2))
    low, high = min(a, b), max(a, b)
    if kind == "plain":
        return rectangle(0, 0, a, b), []
    if kind == "l":
        leg = random.randint(low // 5, low // 2)
        return l_shape(a, b, leg, random.choice([0, min(6, (low - leg) // 2)])), []
    if kind == "disc":
        return circle(low / 2, low / 2, low / 2), []
    if kind == "ring":
        return circle(0, 0, high / 2), [circle(0, 0, high * random.choice([0.3, 0.4, 0.45]))]
    if kind == "frame":
        rim = random.randint(low // 10 + 1, low // 5 + 1)
        opening = rounded(rim, rim, a - 2 * rim, b - 2 * rim, random.choice([1, rim / 2, (low - 2 * rim) / 4]))
        return rounded(0, 0, a, b, rim), [opening]
    if kind == "slotted":
        wide = low / 6
        slots = [slot(a / 8, b * share, a * 0.75, wide) for share in (0.2, 0.6)]
        return rectangle(0, 0, a, b), slots
    return [(0, 0, 0.0), (high, 0, 1.0)], []


def case(seed):
    """Sheet, clearances and parts, each of which fits the sheet as it is drawn and, if its grain runs across, turned."""
    random_ = random.Random(f"true shapes {seed}")
    width = random_.randint(300, 700)
    sheet = (random_.randint(width, 1200), width)
    trim = random_.choice([0, 0, 5, 12.5])
    large = int((width - 2 * trim) * random_.choice([0.3, 0.5, 0.95]))
    parts = []
    for number in range(random_.randint(2, 7)):
        outline, openings = contours(random_, large)
        grain = random_.choice(["free", "free", "kept", "across"])
        turn = grain == "free" or random_.random() < 0.7
        parts.append(
            {
                "name": f"part-{number}",
                "quantity": random_.choice([1, 1, 2, 3, 5]),
                "grain": grain,
                "turn": turn,
                "either_face": random_.random() < 0.3,
                "outline": outline,
                "openings": openings,
            }
        )
    return {"seed": seed, "sheet": sheet, "gap": random_.choice([0, 3, 4, 6.35, 8]), "trim": trim, "parts": parts}


def write(case_, folder):
    """The cut list and its drawings; gives the list's path."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "parts.csv"
    with open(path, "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file)
        table.writerow(["name", "length", "width", "quantity", "grain", "turn", "face", "outline"])
        for part in case_["parts"]:
            size, drawing = ("", ""), f"{part['name']}.dxf"
            outline = part["outline"]
            if not part["openings"] and len(outline) == 4 and outline[0] == (0, 0, 0.0):
                size, drawing = outline[2][:2], ""
            else:
                draw(part, folder / drawing)
            turn, face = "yes" if part["turn"] else "no", "either" if part["either_face"] else "up"
            table.writerow([part["name"], *size, part["quantity"], part["grain"], turn, face, drawing])
    return path


def draw(part, path):
    """Circles as circles, all else as polylines."""
    document = ezdxf.new("R2000")
    document.units = ezdxf.units.MM
    space = document.modelspace()
    for contour in (part["outline"], *part["openings"]):
        if len(contour) == 2 and all(bulge == 1.0 for _, _, bulge in contour):
            (right, y, _), (left, _, _) = contour
            space.add_circle(((left + right) / 2, y), (right - left) / 2)
        else:
            space.add_lwpolyline(contour, "xyb", close=True)
    document.saveas(path)
