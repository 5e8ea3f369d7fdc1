"""How long the live page takes from a saved spec to its picture: the release program, and chromium without a graphics card.

    cargo build --release
    target/external-venv/bin/python tests/benches/live.py [SAVES]

It follows the largest demo, saves it SAVES times (20) with another depth of a carcase, and prints how long it took until the
page heard of the new state, and until that state's frame was drawn and worked off. The virtual environment is the one that
tests/run makes; BAYWRIGHT names another program, DEMO another demo. Nothing is asserted here: a time says how fast this
machine is, and what else it does. At the end stands the longest that one frame took while the view was turned.
"""

import os
import pathlib
import queue
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time

from playwright.sync_api import sync_playwright

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("BAYWRIGHT", ROOT / "target" / "release" / "baywright")).resolve()
DEMO = os.environ.get("DEMO", "spoke-van")
PATIENCE = 60_000
FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]

# The marks of the first state that the page was told of since a moment, in ms since 1970; null while it is not drawn.
FIRST_SINCE = """(since) => {
    const all = performance.getEntriesByType('mark').filter((mark) => performance.timeOrigin + mark.startTime >= since);
    const event = all.find((mark) => mark.name.startsWith('event-'));
    const drawn = all.find((mark) => mark.name.startsWith('drawn-'));
    return event && drawn ? [event, drawn].map((mark) => performance.timeOrigin + mark.startTime) : null;
}"""
NOW = "() => performance.timeOrigin + performance.now()"
AT_REST = """() => document.getElementById('nesting').textContent === ''
    && document.querySelector('#sheets-body:not(.former) figure')"""
TURN = """async () => {
    const canvas = document.getElementById('canvas');
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    let longest = 0;
    for (let i = 0; i < 30; i++) {
        const before = performance.now();
        canvas.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowLeft' }));
        await frame();
        await frame();
        longest = Math.max(longest, performance.now() - before);
    }
    return longest / 2;
}"""


def started(spec):
    """The program, following a spec, and the address of its page."""
    command = [str(PROGRAM), "live", str(spec), "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    lines = queue.Queue()
    threading.Thread(target=lambda: lines.put(process.stdout.readline()), daemon=True).start()
    return process, lines.get(timeout=60).strip()


def offset(page):
    """ms by which the page's clock is ahead of ours."""
    found = []
    for _ in range(5):
        before = time.time() * 1000
        theirs = page.evaluate(NOW)
        after = time.time() * 1000
        found.append((after - before, theirs - (before + after) / 2))
    return min(found)[1]


def saved(page, spec, text):
    """Saves a spec; ms until the page heard of the new state, and until it was drawn."""
    page.wait_for_function(AT_REST)
    page.wait_for_timeout(300)
    ahead = offset(page)
    spec.write_text(text)
    # Written is when it is there for others; a state of before cannot come any more, since the page is at rest.
    since = time.time() * 1000 + ahead
    page.wait_for_timeout(400)
    marks = None
    while marks is None:
        marks = page.evaluate(FIRST_SINCE, since)
        page.wait_for_timeout(50)
    return [mark - since for mark in marks]


def said(what, times):
    least, middle, most = min(times), statistics.median(times), max(times)
    print(f"{what:>18}: {least:6.0f} {middle:6.0f} {most:6.0f} ms  (least, median, most of {len(times)})")


def main():
    saves = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        designs = pathlib.Path(folder) / "designs"
        shutil.copytree(ROOT / "demo-designs", designs)
        spec = designs / DEMO / "design.yaml"
        good = spec.read_text()
        depth = re.search(r"depth: (\d+)", good)
        process, address = started(spec)
        try:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            page.set_default_timeout(PATIENCE)
            page.goto(address)
            page.wait_for_function("() => Number(document.documentElement.dataset.drawn) > 0")
            times = []
            for i in range(saves + 2):
                other = f"depth: {int(depth[1]) - 1 - i % 7}"
                times.append(saved(page, spec, good[: depth.start()] + other + good[depth.end():]))
            # The first ones find caches cold.
            events, drawn = zip(*times[2:])
            print(f"{DEMO}, saved with another depth; load {os.getloadavg()[0]:.1f}")
            said("save to event", events)
            said("event to frame", [b - a for a, b in times[2:]])
            said("save to frame", drawn)
            page.wait_for_function(AT_REST)
            print(f"{'turning the view':>18}: {page.evaluate(TURN):6.0f} ms for the slowest frame")
            browser.close()
        finally:
            process.kill()
            process.wait()


if __name__ == "__main__":
    main()
