"""The live page in a real browser, fed by the real program, which BAYWRIGHT names.

The browser is the system's package `chromium`. It draws without a graphics card, so that any machine will do.
"""

import os
import pathlib
import queue
import shutil
import subprocess
import threading
import time

import pytest
from playwright.sync_api import expect, sync_playwright

DESIGNS = pathlib.Path(__file__).parents[2] / "demo-designs"
WIDE = {"width": 1280, "height": 900}
NARROW = {"width": 390, "height": 844}
# A program built without optimisation needs some seconds per state.
PATIENCE = 90_000


class Live:
    """The program, following a design in a folder of its own."""

    def __init__(self, program, folder, edit=lambda text: text):
        shutil.copytree(DESIGNS, folder)
        self.folder = folder
        self.spec = folder / "weir-wagon" / "design.yaml"
        self.good = self.spec.read_text()
        self.spec.write_text(edit(self.good))
        self.log = (folder.parent / "live.log").open("w")
        self.process = subprocess.Popen(
            [str(pathlib.Path(program).resolve()), "live", str(self.spec), "--port", "0"],
            stdout=subprocess.PIPE, stderr=self.log, text=True, cwd=self.spec.parent,
        )
        lines = queue.Queue()
        threading.Thread(target=lambda: lines.put(self.process.stdout.readline()), daemon=True).start()
        self.address = lines.get(timeout=60).strip()
        assert self.address.startswith("http://127.0.0.1:"), f"the program said {self.address!r}"

    def write(self, text):
        self.spec.write_text(text)

    def change(self, old, new):
        assert old in self.good, f"the demo design no longer holds {old!r}"
        self.write(self.good.replace(old, new))

    def stop(self):
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()
        self.log.close()


@pytest.fixture
def live(program, tmp_path):
    running = Live(program, tmp_path / "designs")
    yield running
    running.stop()


@pytest.fixture(scope="module")
def browser():
    path = shutil.which("chromium")
    if path is None:
        pytest.fail("there is no browser: install the package `chromium`")
    with sync_playwright() as playwright:
        flags = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
        chromium = playwright.chromium.launch(executable_path=path, args=flags)
        yield chromium
        chromium.close()


@pytest.fixture
def opened(browser, live):
    """Opens pages that show a kit; in the end none of them may have complained."""
    contexts, complaints = [], []

    def open_page(viewport=WIDE, **more):
        context = browser.new_context(viewport=viewport, **more)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        page.on("console", lambda message: complaints.append(message.text) if message.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto(live.address)
        shows(page, "good")
        return page

    open_page.complaints = complaints
    yield open_page
    for context in contexts:
        context.close()
    assert complaints == []


def shows(page, kit):
    """Waits for a kit that is "good", "last" (the last good one) or "none", and for its frame."""
    page.wait_for_selector(f'#main[data-kit="{kit}"]', state="attached")
    page.wait_for_function("() => Number(document.documentElement.dataset.drawn) > 0")


def all_drawn(page):
    """Waits for the sheets too, and until nothing better is looked for: the page then stands still."""
    page.wait_for_selector("#sheets-body:not(.former) figure")
    page.wait_for_function("() => document.getElementById('nesting').textContent === ''")


def picture(page):
    # Two frames, so that what was asked for is drawn and shown.
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 0))))")
    return page.locator("#canvas").screenshot()


def differs_from(page, picture_before):
    """Whether the picture becomes another one: a frame drawn without a graphics card takes its time."""
    return within(lambda: picture(page) != picture_before)


def another(page, *known):
    """A picture that is none of those."""
    found = []
    assert within(lambda: found.append(picture(page)) or found[-1] not in known), "the picture does not change"
    return found[-1]


def is_again(page, picture_before):
    """Whether the picture becomes that one."""
    return within(lambda: picture(page) == picture_before)


def within(holds, seconds=15):
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if holds():
            return True
    return False


def slide(page, name, value):
    page.locator(f"#{name}").fill(str(value))


def test_a_kit_is_drawn(opened):
    page = opened()
    assert page.title() == "weir-wagon"
    first = picture(page)
    assert first == picture(page), "the picture moves though nothing changed"
    expect(page.locator("#none")).to_have_text("None by these checks.")
    assert page.locator("#figures-body tr").count() > 5
    assert page.locator("#parts-body tr").count() > 28
    page.get_by_role("button", name="Above").click()
    assert differs_from(page, first)
    all_drawn(page)
    assert page.locator("#sheets-body figure").count() == 5
    assert page.locator("#front-picture").evaluate("(image) => image.complete && image.naturalWidth > 0")


def test_marks_tell_when_a_state_was_drawn(opened):
    page = opened()
    all_drawn(page)
    took = page.evaluate("""() => {
        const number = document.documentElement.dataset.drawn;
        const at = (name) => performance.getEntriesByName(`${name}-${number}`).at(-1).startTime;
        return at('drawn') - at('event');
    }""")
    assert 0 < took < 5000


def test_a_depth_changes_picture_figures_and_marks(opened, live):
    page = opened()
    slide(page, "open", 100)
    page.get_by_role("button", name="Fit").click()
    all_drawn(page)
    before = picture(page)
    live.change("depth: 802", "depth: 760")
    page.wait_for_selector("#parts-body .tag.changed")
    assert differs_from(page, before)
    expect(page.locator("#open-said")).to_have_text("100 % open")
    moved = page.locator("#figures-body tr.moved").first
    assert "→" in moved.inner_text()
    expect(page.locator('#parts-body tr[data-part="main-ropes-box-bottom"] .tag')).to_have_text("changed")
    page.wait_for_selector('#sheets-body:not(.former) g.changed[data-name="main-ropes-box-bottom"]')


def test_a_picked_part_lights_up_everywhere(opened):
    page = opened()
    all_drawn(page)
    before = picture(page)
    page.locator('#parts-body button[data-name="main-base"]').click()
    assert differs_from(page, before)
    expect(page.locator("#picked-name")).to_have_text("main-base")
    assert "kg" in page.locator("#picked-facts").inner_text()
    assert page.locator("#sheets-body g.picked").get_attribute("data-name") == "main-base"
    assert page.locator("#parts-body tr.picked").get_attribute("data-part") == "main-base"
    page.keyboard.press("Escape")
    assert page.locator(".picked").count() == 0
    assert is_again(page, before)
    page.locator('#sheets-body g[data-name="main-deck"]').press("Enter")
    assert page.locator("#parts-body tr.picked").get_attribute("data-part") == "main-deck"


def test_a_click_in_space_picks_what_lies_there(opened):
    page = opened()
    page.locator("#show-door").uncheck()
    page.get_by_role("button", name="Tailgate").click()
    box = page.locator("#canvas").bounding_box()
    names = set()
    for x in (0.3, 0.4, 0.5, 0.6, 0.7):
        for y in (0.6, 0.7, 0.8):
            page.mouse.click(box["x"] + x * box["width"], box["y"] + y * box["height"])
            if page.locator("#picked").is_visible():
                names.add(page.locator("#picked-name").inner_text())
                page.keyboard.press("Escape")
    assert "main-ropes-front" in names and len(names) >= 3, names


def test_sliders_and_section_change_the_picture(opened):
    page = opened()
    pictures = [picture(page)]
    for name in ("open", "explode"):
        slide(page, name, 100)
        pictures.append(another(page, *pictures))
        slide(page, name, 0)
        assert is_again(page, pictures[0]), f"{name} does not go back"
    for axis in "xyz":
        page.locator("#axis").select_option(axis)
        pictures.append(another(page, *pictures))
    page.locator("#axis").select_option("")
    assert is_again(page, pictures[0])
    for name in ("bay", "arch", "door", "edges"):
        page.locator(f"#show-{name}").click()
        pictures.append(another(page, *pictures))


def test_one_body_opens_by_itself(opened):
    page = opened()
    shut = picture(page)
    page.locator('#parts-body button[data-name="main-ropes-front"]').click()
    picked = another(page, shut)
    page.locator("#open-one").click()
    another(page, shut, picked)
    expect(page.locator("#open-one")).to_contain_text("Shut")
    page.locator("#open-one").click()
    page.keyboard.press("Escape")
    assert is_again(page, shut)


def test_keys_turn_the_view(opened):
    page = opened()
    page.locator("#canvas").focus()
    page.keyboard.press("0")
    before = picture(page)
    page.keyboard.press("ArrowLeft")
    turned = another(page, before)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("+")
    another(page, before, turned)
    page.keyboard.press("0")
    assert is_again(page, before)


class Fingers:
    """Real touches, as the browser gets them from a screen: places in shares of the picture."""

    def __init__(self, page):
        self.page = page
        self.session = page.context.new_cdp_session(page)
        self.box = page.locator("#canvas").bounding_box()

    def send(self, kind, *places):
        points = [{"x": self.box["x"] + x * self.box["width"], "y": self.box["y"] + y * self.box["height"], "id": i}
                  for i, (x, y) in enumerate(places)]
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def go(self, starts, ends, steps=8):
        self.send("touchStart", *starts)
        for step in range(1, steps + 1):
            share = step / steps
            self.send("touchMove", *[tuple(a + (b - a) * share for a, b in zip(start, end)) for start, end in zip(starts, ends)])
        self.send("touchEnd")


def test_near_by_there_is_every_hole_and_from_afar_no_more_than_is_seen(opened, live):
    """In this browser a processor draws, so the page takes the model with all holes only when somebody looks closely."""
    page = opened()
    all_drawn(page)
    taken = []
    page.on("request", lambda request: taken.append(request.url.rsplit("/", 2)[-2]))
    canvas = page.locator("#canvas")
    canvas.focus()
    far = picture(page)
    drawn = "() => document.documentElement.dataset.drawn"
    before = page.evaluate(drawn)
    live.change("depth: 802", "depth: 760")
    page.wait_for_function(f"(before) => ({drawn})() !== before", arg=before)
    all_drawn(page)
    fit = page.get_by_role("button", name="Fit")
    fit.click()
    far = another(page, far)
    assert is_again(page, far), "the picture does not come to rest"
    assert "fine" not in taken
    expect(page.locator("#plain")).to_be_visible()
    for _ in range(12):
        canvas.press("+")
    assert within(lambda: page.wait_for_timeout(50) or "fine" in taken), taken
    near = another(page, far)
    expect(page.locator("#plain")).to_be_hidden()
    # What is picked stays so in the other model.
    page.locator('button[data-name="main-deck"]').click()
    lit = another(page, near)
    for _ in range(12):
        canvas.press("-")
    fit.click()
    back = another(page, lit)
    page.keyboard.press("Escape")
    assert differs_from(page, back)
    assert is_again(page, far)


@pytest.mark.parametrize("viewport", [WIDE, NARROW], ids=["wide", "narrow"])
def test_fingers_turn_shift_and_bring_nearer(opened, viewport):
    page = opened(viewport, has_touch=True)
    all_drawn(page)
    page.locator("#canvas").scroll_into_view_if_needed()
    fingers = Fingers(page)
    scrolled = page.evaluate("scrollY")
    first = picture(page)
    # One finger turns: fitting the kit in again does not turn it back.
    fingers.go([(0.3, 0.5)], [(0.6, 0.6)])
    turned = another(page, first)
    page.get_by_role("button", name="Fit").click()
    fitted = another(page, first)
    page.get_by_role("button", name="Slanted").click()
    assert is_again(page, first)
    # Two fingers apart bring it nearer, together take it away, side by side shift it; none of that turns it.
    for starts, ends in [
        ([(0.45, 0.5), (0.55, 0.5)], [(0.25, 0.5), (0.75, 0.5)]),
        ([(0.2, 0.4), (0.8, 0.6)], [(0.4, 0.45), (0.6, 0.55)]),
        ([(0.4, 0.4), (0.5, 0.5)], [(0.6, 0.5), (0.7, 0.6)]),
    ]:
        fingers.go(starts, ends)
        another(page, first, turned, fitted)
        page.get_by_role("button", name="Fit").click()
        assert is_again(page, first)
    assert page.evaluate("scrollY") == scrolled, "the page itself went along"
    assert page.locator("#picked").is_hidden(), "a drag has picked a part"
    # A tap picks what lies there.
    fingers.go([(0.5, 0.6)], [(0.5, 0.6)], steps=1)
    expect(page.locator("#picked")).to_be_visible()


def test_one_finger_of_two_may_leave_first(opened):
    page = opened(has_touch=True)
    fingers = Fingers(page)
    first = picture(page)
    fingers.send("touchStart", (0.4, 0.5), (0.6, 0.5))
    fingers.send("touchMove", (0.3, 0.5), (0.7, 0.5))
    nearer = another(page, first)
    # A finger that is not named any more has left. The other goes on alone, without a jump and without picking anything.
    fingers.send("touchMove", (0.3, 0.5))
    assert not within(lambda: picture(page) != nearer, 1), "it jumped when a finger left"
    fingers.send("touchMove", (0.4, 0.5))
    another(page, first, nearer)
    fingers.send("touchEnd")
    assert page.locator("#picked").is_hidden()
    # Taken away by the system in the midst of a drag.
    fingers.send("touchStart", (0.4, 0.5))
    fingers.send("touchMove", (0.6, 0.5))
    fingers.send("touchCancel")
    page.get_by_role("button", name="Fit").click()
    page.get_by_role("button", name="Slanted").click()
    assert is_again(page, first)


def test_a_lost_graphics_context_comes_back_with_the_newest_kit(opened, live):
    page = opened()
    all_drawn(page)
    page.locator('#parts-body button[data-name="main-back"]').click()
    slide(page, "open", 50)
    before = picture(page)
    lose = """() => {
        const gl = document.getElementById('canvas').getContext('webgl2');
        window.lost = gl.getExtension('WEBGL_lose_context');
        window.lost.loseContext();
        return new Promise((done) => setTimeout(() => done(gl.isContextLost()), 100));
    }"""
    back = """() => new Promise((done) => {
        document.getElementById('canvas').addEventListener('webglcontextrestored', () => setTimeout(done, 0), { once: true });
        window.lost.restoreContext();
    })"""
    assert page.evaluate(lose)
    # Whoever turns, points or opens meanwhile meets no error.
    page.locator("#canvas").press("ArrowLeft")
    page.locator("#canvas").press("ArrowRight")
    page.locator("#canvas").click(position={"x": 5, "y": 5})
    expect(page.locator("#picked")).to_be_hidden()
    page.locator('#parts-body button[data-name="main-back"]').click()
    page.evaluate(back)
    assert is_again(page, before)
    # A state that comes while there is none is what is shown afterwards, as a page shows it that never lost anything.
    assert page.evaluate(lose)
    live.change("depth: 802", "depth: 760")
    page.wait_for_selector("#parts-body .tag.changed")
    all_drawn(page)
    page.evaluate(back)
    other = opened()
    all_drawn(other)
    other.locator('#parts-body button[data-name="main-back"]').click()
    slide(other, "open", 50)
    assert within(lambda: before != picture(page) == picture(other)), "it is not what a page shows that lost nothing"
    expect(page.locator("#picked-name")).to_have_text("main-back")
    # The browser itself tells of the loss.
    opened.complaints[:] = [text for text in opened.complaints if "CONTEXT_LOST" not in text and "context lost" not in text.lower()]


def test_with_an_error_the_last_good_kit_stays(opened, live):
    page = opened()
    rows = page.locator("#parts-body tr").count()
    line = 1 + live.good[: live.good.index("slide: heavy-800")].count("\n")
    live.change("slide: heavy-800", "slide: heavy-801")
    shows(page, "last")
    expect(page.locator("#stale")).to_contain_text("last good kit")
    expect(page.locator("#stamp")).to_be_visible()
    expect(page.locator("#findings-list li.error").first).to_contain_text(f"design.yaml:{line}:")
    expect(page.locator("#findings-list li.error pre").first).to_contain_text("heavy-801")
    assert page.locator("#parts-body tr").count() == rows
    live.write(live.good)
    shows(page, "good")
    expect(page.locator("#stale")).to_be_hidden()
    assert page.locator("#findings-list li.error").count() == 0


def test_an_error_from_the_start_shows_only_findings(browser, program, tmp_path):
    live = Live(program, tmp_path / "designs", lambda text: text.replace("slide: heavy-800", "slide: heavy-801"))
    context = browser.new_context(viewport=WIDE)
    try:
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        page.goto(live.address)
        page.wait_for_selector("#findings-list li.error")
        expect(page.locator("#stale")).to_contain_text("no kit to show yet")
        expect(page.locator("#canvas")).to_be_hidden()
        live.write(live.good)
        shows(page, "good")
        expect(page.locator("#canvas")).to_be_visible()
    finally:
        context.close()
        live.stop()


def test_a_file_replaced_by_another_is_seen(opened, live):
    page = opened()
    other = live.spec.with_name("design.yaml.new")
    other.write_text(live.good.replace("depth: 802", "depth: 760"))
    os.replace(other, live.spec)
    page.wait_for_selector("#parts-body .tag.changed")


def test_a_file_may_go_and_come_back(opened, live):
    page = opened()
    live.spec.unlink()
    shows(page, "last")
    assert page.locator("#findings-list li.error").count() > 0
    live.write(live.good)
    shows(page, "good")


def test_two_pages_follow_the_same_files(opened, live):
    pages = [opened(), opened(NARROW)]
    live.change("depth: 802", "depth: 760")
    for page in pages:
        page.wait_for_selector("#parts-body .tag.changed", state="attached")
        all_drawn(page)
    # The last rounds of the nesting may reach one page before the other.
    drawn = {"one", "other"}
    deadline = time.monotonic() + PATIENCE / 1000
    while len(drawn) > 1 and time.monotonic() < deadline:
        drawn = {page.evaluate("document.documentElement.dataset.drawn") for page in pages}
        pages[0].wait_for_timeout(100)
    assert len(drawn) == 1


def test_what_was_set_stays_over_a_change(opened, live):
    page = opened()
    all_drawn(page)
    slide(page, "open", 40)
    page.get_by_role("button", name="Tailgate").click()
    page.locator('#parts-body button[data-name="main-back"]').click()
    page.locator("#panels").evaluate("(panels) => panels.scrollTo(0, 700)")
    drawn = page.evaluate("document.documentElement.dataset.drawn")
    live.change("load: 30", "load: 29")
    page.wait_for_function("(before) => document.documentElement.dataset.drawn !== before", arg=drawn)
    all_drawn(page)
    expect(page.locator("#open")).to_have_value("40")
    expect(page.locator("#picked-name")).to_have_text("main-back")
    assert page.locator("#panels").evaluate("(panels) => panels.scrollTop") == 700


def test_the_set_is_made_on_request(opened, live):
    page = opened()
    assert not list(live.folder.parent.rglob("kit.json"))
    page.locator("#make").click()
    expect(page.locator("#made")).to_contain_text("Made: ", timeout=PATIENCE)
    assert list(live.folder.parent.rglob("kit.json"))


def test_a_server_that_is_away_is_missed(opened, live):
    page = opened()
    expect(page.locator("#link")).to_have_text("live")
    live.process.kill()
    expect(page.locator("#link")).to_contain_text("away")
    # The browser itself notes each try that failed.
    opened.complaints[:] = [text for text in opened.complaints if "ERR_" not in text]


@pytest.mark.parametrize("viewport", [WIDE, NARROW], ids=["wide", "narrow"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_reaches_past_the_page(opened, live, viewport, scheme):
    page = opened(viewport, color_scheme=scheme)
    for text in (live.good, live.good.replace("slide: heavy-800", "slide: heavy-801")):
        live.write(text)
        shows(page, "good" if text == live.good else "last")
        page.locator("#parts-body button").first.click()
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        assert page.evaluate("""() => [...document.querySelectorAll('#panels, .space')]
            .every((element) => element.scrollWidth <= element.clientWidth)""")
        page.keyboard.press("Escape")
