"""Kits made from a text, for checks that make up specs of their own."""

import json
import subprocess


def of_spec(program, folder, text):
    """The folder of the kit, or none and the names of the rules that stopped it."""
    spec, out = folder / "kit.yaml", folder / "out"
    spec.write_text(text, encoding="utf-8")
    made = subprocess.run(
        [program, "make", str(spec), "--out", str(out), "--format", "json"], capture_output=True, text=True, check=False
    )
    if made.returncode == 0:
        return out, []
    found = json.loads(made.stdout or made.stderr)
    findings = found["findings"] if isinstance(found, dict) else found
    return None, [finding["rule"] for finding in findings if finding["severity"] == "error"]


def kit_of(out):
    """What a folder's kit.json says."""
    return json.loads((out / "kit.json").read_text(encoding="utf-8"))
