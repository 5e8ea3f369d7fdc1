"""Small cut lists nested by `baywright nest`, against exact answers: the bound is at most the fewest sheets there can
be, and that is at most what we use; and we use no more than that.

BAYWRIGHT names the program. See checks/optimum.py for the answers.
"""

import concurrent.futures
import csv
import json
import random
import subprocess

import pytest

from checks import optimum

CASES = 60


def case(seed, saw):
    """Sheet, gap, trim and 3 to 9 rectangles, in mm; as many as fill the sheets nearly, so that something is at
    stake. Lengths are multiples of 10 or of 37, so that sums do not all meet."""
    random_ = random.Random(f"rectangles {seed} {saw}")
    step = random_.choice([10, 37, 50])
    sheet = (random_.randint(10, 30) * step, random_.randint(8, 20) * step)
    gap, trim = random_.choice([0, 3, 4, 8]), random_.choice([0, 0, 10])
    largest = random_.choice([0.4, 0.7, 0.9])
    turns = random_.choice([True, True, False])
    rectangles, area = [], 0
    full = random_.choice([0.8, 0.9, 0.97, 1.0]) * random_.choice([1, 1, 2, 3]) * sheet[0] * sheet[1]
    while len(rectangles) < 9 and (area < full or len(rectangles) < 3):
        w, h = (max(random_.randint(2, int(side / step * largest)) * step, step) for side in sheet)
        w, h = min(w, sheet[0] - 2 * trim), min(h, sheet[1] - 2 * trim)
        area += (w + gap) * (h + gap)
        rectangles.append((w, h, turns and random_.random() < 0.8))
    return sheet, gap, trim, rectangles


def nested(program, folder, rectangles, sheets, gap, trim, saw):
    """What the program says for machines of the sheets, which are as its option wants them."""
    folder.mkdir()
    with open(folder / "parts.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file)
        table.writerow(["name", "length", "width", "grain"])
        for number, (w, h, turns) in enumerate(rectangles):
            table.writerow([f"part-{number}", w, h, "free" if turns else "kept"])
    options = [text for sheet in sheets for text in ("--sheet", sheet)]
    # The exact answers know no limit to the stages of the saw's cuts.
    options += ["--saw", "--kerf", str(gap), "--stages", "20"] if saw else ["--gap", str(gap)]
    options += ["--trim", str(trim), "--format", "json", "--out", str(folder / "out")]
    command = [program, "nest", str(folder / "parts.csv"), *options]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr + run.stdout
    [group] = json.loads(run.stdout)["sheets"]["materials"]
    return group


def grown(rectangles, gap):
    return [(w + gap, h + gap, turns) for w, h, turns in rectangles]


def usable(sheet, gap, trim):
    return tuple(side - 2 * trim + gap for side in sheet)


@pytest.mark.parametrize("saw", [False, True], ids=["router", "saw"])
def test_the_fewest_sheets(program, tmp_path, saw):
    exact = optimum.fewest_sawn if saw else optimum.fewest_free

    def judged(seed):
        sheet, gap, trim, rectangles = case(seed, saw)
        best = exact(grown(rectangles, gap), usable(sheet, gap, trim))
        sheets = [f"{sheet[0]}x{sheet[1]}"]
        group = nested(program, tmp_path / str(seed), rectangles, sheets, gap, trim, saw)
        return group["at_least"], best, group["sheets"]

    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        answers = dict(enumerate(threads.map(judged, range(CASES))))
    wrong = {seed: answer for seed, answer in answers.items() if not answer[0] <= answer[1] == answer[2]}
    assert wrong == {}, "seed: (our bound, fewest, ours)"
    # Worth asking only if the answers are not all alike, and not all given by the area.
    assert len({best for _, best, _ in answers.values()}) >= 3


def mixed(seed):
    """Two or three kinds of sheet with prices, of which the first are few and the last, which holds every rectangle,
    are as many as it takes; gap, trim and 3 to 6 rectangles."""
    random_ = random.Random(f"mixed stock {seed}")
    step = random_.choice([10, 37])
    whole = (random_.randint(14, 24) * step, random_.randint(10, 14) * step)
    kinds = []
    for _ in range(random_.randint(1, 2)):
        part = [max(int(side / step * random_.uniform(0.4, 0.8)), 4) * step for side in whole]
        kinds.append((*part, random_.randint(1, 6), random_.randint(1, 2)))
    kinds.append((*whole, random_.randint(5, 12), None))
    gap, trim = random_.choice([0, 3, 4]), random_.choice([0, 10])
    rectangles = []
    for _ in range(random_.randint(3, 6)):
        w, h = (random_.randint(3, int(side / step * 0.7)) * step for side in whole)
        rectangles.append((w, h, random_.random() < 0.6))
    return kinds, gap, trim, rectangles


def test_the_cheapest_of_several_kinds(program, tmp_path):
    def judged(seed):
        kinds, gap, trim, rectangles = mixed(seed)
        grid = [(*usable(kind[:2], gap, trim), kind[2], kind[3] or len(rectangles)) for kind in kinds]
        best = optimum.cheapest_free(grown(rectangles, gap), grid)
        sheets = [f"{w}x{h}{f'*{number}' if number else ''}@{price}" for w, h, price, number in kinds]
        group = nested(program, tmp_path / str(seed), rectangles, sheets, gap, trim, False)
        prices = {f"{w}x{h}": price for w, h, price, _ in kinds}
        return best, sum(prices[name] * number for name, number in group["stock"].items())

    with concurrent.futures.ThreadPoolExecutor(2) as threads:
        answers = dict(enumerate(threads.map(judged, range(CASES))))
    wrong = {seed: answer for seed, answer in answers.items() if answer[0] != answer[1]}
    assert wrong == {}, "seed: (cheapest, ours)"


def test_exact_answers_by_hand():
    """Four laths around a hole lie on a sheet that no saw cuts them from; a turn makes room for a second part."""
    wheel = [(6, 4, False), (4, 6, False), (6, 4, False), (4, 6, False)]
    assert optimum.fewest_free(wheel, (10, 10)) == 1
    assert optimum.fewest_sawn(wheel, (10, 10)) == 2
    for turns, fewest in [(False, 2), (True, 1)]:
        pair = [(6, 4, turns), (4, 6, turns)]
        for exact in (optimum.fewest_free, optimum.fewest_sawn):
            assert exact(pair, (6, 8)) == fewest
