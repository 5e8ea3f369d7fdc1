"""An output folder as its files show it: kit.json and the cut files beside it."""

import json
import pathlib


class Kit:
    """kit.json of a folder, with panels and layers by name."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        with open(self.folder / "kit.json", encoding="utf-8") as file:
            self.data = json.load(file)
        self.panels = {panel["name"]: panel for panel in self.data["panels"]}
        self.bolts = self.data["bolts"]
        self.sheets = self.data["sheets"]
        self.layers = self.data["layers"]

    def save(self):
        with open(self.folder / "kit.json", "w", encoding="utf-8") as file:
            json.dump(self.data, file)

    def cut_files(self, ending):
        """{(folder, stem): path} of all cut files with an ending."""
        return {
            (kind, path.stem): path
            for kind in ("sheets", "parts")
            for path in sorted((self.folder / kind).glob(f"*.{ending}"))
        }

    def expected_stems(self):
        """(folder, stem) of every cut file that must be there."""
        return {("sheets", sheet["name"]) for sheet in self.sheets} | {("parts", name) for name in self.panels}

    def depth_layer(self, key, depth):
        """The depth with at most two decimals, `_` for the point: 3.72 -> 3_72, 4.0 -> 4."""
        text = f"{depth:.2f}".rstrip("0").rstrip(".").replace(".", "_")
        return self.layers[key].replace("{depth}", text)

    def countersink_layer(self, depth):
        return self.depth_layer("countersink", depth)

    def skin_layer(self, panel):
        return self.depth_layer("skin", panel["thickness"] - self.data["workshop"]["holding"]["skin"])

    def declared_layers(self):
        names = {name for key, name in self.layers.items() if key not in ("countersink", "skin")}
        names |= {self.skin_layer(panel) for panel in self.panels.values()}
        sinks = (bore["countersink"] for panel in self.panels.values() for bore in panel["bores"])
        return names | {self.countersink_layer(sink["depth"]) for sink in sinks if sink}


def missing_or_extra(kit, ending):
    """Faults for cut files that should be there and are not, or are there and should not."""
    expected, found = kit.expected_stems(), set(kit.cut_files(ending))
    faults = [f"{a}/{b}.{ending}: missing" for a, b in sorted(expected - found)]
    faults += [f"{a}/{b}.{ending}: belongs to nothing in kit.json" for a, b in sorted(found - expected)]
    for kind in ("sheets", "parts"):
        if not any(folder == kind for folder, _ in found):
            faults.append(f"{kind}: no .{ending} file seen")
    return faults
