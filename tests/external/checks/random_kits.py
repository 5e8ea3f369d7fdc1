"""Specs of kits made up from a seed: a measured bay that tapers, leans and has arches, and carcases with drawers in it.

Sizes are invented. Nothing of the program's is used: a spec is text, as a workshop would write it.
"""

import random


def spec(seed, less=(0, 0, 0)):
    """A spec as text; the bay is `less` mm shorter, narrower and lower than the kit was made for."""
    random_ = random.Random(f"kits in bays {seed}")
    bay, free = bay_of(random_, less)
    return f"name: made-up-{seed}\nbay:\n{bay}nesting: {{effort: 0}}\ncarcases:\n" + carcases(random_, free)


def bay_of(random_, less):
    """The bay, and the length, width, height and rake of the space in which the kit is to stand."""
    depth, width, height = random_.randint(900, 1600), random_.randint(1000, 1400), random_.randint(700, 1100)
    rake = random_.choice([0, 0, 5, 12, 20])
    taper, lean = random_.choice([0, 0, 40, 90]), random_.choice([0, 0, 25, 60])
    arch = random_.choice([0, 0, 120, 180])
    # The arches are told by how far they are from the middle, so they come in as the walls do.
    free = (depth - 60, width - 2 * arch - taper - 2 * lean - 60, height - 60, rake)
    x, y, z = less
    lines = [f"depth: {depth - x}", f"height: {height - z}"]
    if rake:
        lines.append(f"seat_back: {{rake: {rake}}}")
    wide, narrow = width - y, width - taper - y
    between = (narrow if not arch else wide - taper - 2 * arch)
    stations = [(0, wide), (depth, narrow)]
    rows = [f"{{x: {at}, widths: [{w}, {w - 2 * lean}]}}" for at, w in stations]
    lines.append(f"sides: {{heights: [0, {height}], stations: [{', '.join(rows)}]}}")
    lines.append(f"width: {between}")
    if arch:
        from_, inner = random_.randint(150, 300), (wide - taper) / 2 - arch
        to, high = from_ + random_.randint(300, 500), random_.randint(200, 290)
        each = f"{{from: {from_}, to: {to}, height: {high}, from_centre: {inner}}}"
        lines.append(f"arches: {{left: {each}, right: {each}}}")
    return "".join(f"  {line}\n" for line in lines), free


def carcases(random_, free):
    length, width, height, rake = free
    height = min(height, random_.randint(300, 520))
    if rake:
        length -= 0.4 * height  # the back stands where the seat is at the deck, or leans with it
    count = random_.choice([1, 1, 2])
    each = int(width / count) - 14
    text = ""
    for number in range(count):
        at = (number - (count - 1) / 2) * (each + 24)
        lines = [
            f"id: c{number}",
            f"width: {each}",
            f"depth: {int(length)}",
            f"height: {height}",
            f"at: {{x: 12, y: {at}, z: 12}}",
            f"panel: {random_.choice(['birch-12', 'birch-15', 'poplar-15'])}",
        ]
        if rake and random_.random() < 0.5:
            lines.append(f"rake: {rake}")
        lines.append("drawers: {panel: birch-9}")
        lines += cells(random_, each, height, number)
        text += "  - " + "\n    ".join(lines) + "\n"
    return text


def cells(random_, width, height, carcase):
    """Columns of rows of drawers and open bays, as many as there is room for."""
    columns = max(1, min(3, width // 420, random_.randint(1, 3)))
    lines = ["columns:"]
    for column in range(columns):
        rows = max(1, min(2, height // 200, random_.randint(1, 2)))
        named = []
        for row in range(rows):
            what = "drawer: {slide: heavy-600}" if random_.random() < 0.7 else "open: {}"
            named.append(f"{{id: k{carcase}{column}{row}, {what}}}")
        lines.append(f"  - {{rows: [{', '.join(named)}]}}")
    return lines
