"""Moving points in a real browser: on a phone by touch, on a laptop by keys, without scripts."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

import pytest
import uvicorn
from attrs import frozen

from tests.fakes.line import FakeLine
from tests.fakes.reader import FakeReader
from tests.support.sightings import hidden, scene_sightings
from wellset.bootstrap.book import moment_now
from wellset.figure.views import View
from wellset.lessons import Lesson, Shown, StudentCard
from wellset.reports.kept import ReportWriter
from wellset.services.lesson_work import Desk, assess_kept, refit, take_setup
from wellset.storage import FolderMedia, SqlBook, sqlite_url, upgrade
from wellset.web import Options, create_app

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

BROWSER = Path("/usr/bin/chromium")
PASSWORD = "three small words"  # noqa: S105 - of the tests' own book
PHONE, LAPTOP = (390, 844), (1280, 800)
FRONT = "[data-view=face_on] [data-frame] > svg"
WHEN = "2026-11-25T10:00:00Z"
LONG_MS = 60_000  # a busy machine; nothing is timed

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

pytestmark = [
    pytest.mark.browser,
    pytest.mark.slow,
    pytest.mark.skipif(not BROWSER.exists(), reason=f"there is no browser at {BROWSER}"),
]


@frozen(kw_only=True)
class Served:
    """A book that is being served."""

    desk: Desk
    address: str

    def landmarks(self, setup: str) -> dict[str, Any]:
        with self.desk.book.reading() as pages:
            kept = json.loads(pages.setup(setup).landmarks)
        found: dict[str, Any] = kept["views"]["face_on"]["landmarks"]
        return found


class Opening(Protocol):
    """Opens the set-up's points on a device that is signed in."""

    def __call__(
        self, size: tuple[int, int], *, scripts: bool = True, editor: bool = True
    ) -> Page: ...


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with playwright.sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=str(BROWSER),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield started
        started.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("book")
    upgrade(sqlite_url(folder / "book.db"))
    book = SqlBook(sqlite_url(folder / "book.db"))
    desk = Desk(
        book=book, media=FolderMedia(folder / "media"), now=moment_now, writer=ReportWriter()
    )
    with book.writing() as pages:
        file = '{"schema": "wellset.student/1", "height": "175 cm", "hand": "right"}'
        pages.save_student(
            StudentCard(id="robin", name="Robin", file=file, created_at=WHEN, changed_at=WHEN)
        )
        pages.save_lesson(
            Lesson(id="l", student="robin", starts_at=WHEN, created_at=WHEN, changed_at=WHEN)
        )
    app = create_app(desk, line=FakeLine(), options=Options(place=str(folder)))
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="warning", access_log=False))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield Served(desk=desk, address=f"http://localhost:{port}")
    server.should_exit = True
    thread.join(30)
    book.close()


@pytest.fixture
def setup(served: Served) -> str:
    """A set-up assessed from points that a scene truly has, one of them hidden."""
    shown = {
        view: Shown(
            media=served.desk.media.keep(iter([view.value.encode()]), most=100).media,
            name=f"{view.value}.jpg",
            kind="image/jpeg",
        )
        for view in View
    }
    setup, _ = take_setup(served.desk, lesson_id="l", club="7i", shot="", shown=shown)
    front, side = scene_sightings("mid_iron_neutral_21")
    assess_kept(
        served.desk, setup.id, reader=FakeReader(sightings=[hidden(front, "trail_ear"), side])
    )
    return setup.id


@pytest.fixture
def faults() -> list[str]:
    """What the browser complains about."""
    return []


@pytest.fixture
def opened(browser: Browser, served: Served, setup: str, faults: list[str]) -> Iterator[Opening]:
    contexts: list[BrowserContext] = []

    def opening(size: tuple[int, int], *, scripts: bool = True, editor: bool = True) -> Page:
        touch = size == PHONE
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            has_touch=touch,
            is_mobile=touch,
            java_script_enabled=scripts,
        )
        contexts.append(context)
        if not editor:
            context.route("**/landmark-editor/*.js", lambda route: route.abort())
        page = context.new_page()
        page.set_default_timeout(LONG_MS)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
        page.goto(f"{served.address}/setups/{setup}/points")
        if page.locator("input[name=again]").count():
            page.fill("input[name=again]", PASSWORD)
        page.fill("input[name=password]", PASSWORD)
        page.locator("main button").click()
        page.goto(f"{served.address}/setups/{setup}/points")
        if scripts and editor:
            page.locator("[data-follow=first]:not(:empty)").wait_for()
        return page

    yield opening
    for context in contexts:
        context.close()


def handle(page: Page, words: str) -> tuple[float, float]:
    """Where a point is on the screen: the ring round the chosen one."""
    page.locator("[data-tool=point]").select_option(label=words)
    box = page.locator(f"{FRONT} .ring").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def edge(page: Page) -> tuple[float, float]:
    """A place in the picture where there are no points."""
    frame = page.locator("[data-view=face_on] [data-frame]").bounding_box()
    assert frame is not None
    return frame["x"] + 12, frame["y"] + 200


def swipe(
    page: Page, begin: tuple[float, float], end: tuple[float, float], *, steps: int
) -> Callable[[], None]:
    """One finger, pressed and moved; the answer lifts it."""
    touch = page.context.new_cdp_session(page)

    def send(kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": x, "y": y} for x, y in places]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", begin)
    for i in range(1, steps + 1):
        share = i / steps
        x, y = (a + share * (b - a) for a, b in zip(begin, end, strict=True))
        send("touchMove", (x, y))
    return lambda: send("touchEnd")


def test_a_finger_on_a_phone_drags_a_point_and_the_numbers_follow(
    opened: Opening, served: Served, setup: str, faults: list[str]
) -> None:
    page = opened(PHONE)
    before = served.landmarks(setup)["lead_ankle"]
    page.locator("[data-view=face_on] [data-frame]").scroll_into_view_if_needed()
    begin = handle(page, "Lead ankle")
    scrolled = page.evaluate("window.scrollY")
    lift = swipe(page, begin, (begin[0] + 30, begin[1] - 4), steps=6)
    loupe = page.locator("[data-view=face_on] .loupe")
    loupe.wait_for()
    glass = loupe.bounding_box()
    assert glass is not None
    assert glass["y"] + glass["height"] < begin[1] - 20  # above the finger
    lift()
    page.locator("[data-follow=rows] li").first.wait_for()
    assert loupe.is_hidden()
    assert page.evaluate("window.scrollY") == scrolled
    assert page.locator(f"{FRONT} .ghost").count() == 1
    strip = page.locator("[data-follow=short]").inner_text()
    assert strip.split(":")[0] in page.locator("[data-follow=rows] li b").first.inner_text()
    page.locator(".strip [data-save]").click()
    page.wait_for_url(f"**/setups/{setup}")
    after = served.landmarks(setup)["lead_ankle"]
    assert after["placed_by"] == "coach"
    assert after["x_px"] > before["x_px"] + 20
    assert after["proposal"]["x_px"] == before["x_px"]
    assert faults == []


def test_a_finger_beside_the_points_is_left_to_the_page_until_the_picture_is_enlarged(
    opened: Opening,
) -> None:
    page = opened(PHONE)
    page.evaluate(
        "window.taken = []; addEventListener('touchstart', e => taken.push(e.defaultPrevented))"
    )
    page.locator("[data-view=face_on] [data-frame]").scroll_into_view_if_needed()
    on = handle(page, "Lead ankle")
    beside = edge(page)
    swipe(page, beside, beside, steps=1)()
    swipe(page, on, on, steps=1)()
    page.locator("[data-view=face_on] [data-zoom=in]").click()
    beside = edge(page)
    swipe(page, beside, beside, steps=1)()
    assert page.evaluate("window.taken") == [False, True, True]


def test_a_point_without_a_place_is_placed_by_a_tap(opened: Opening) -> None:
    page = opened(PHONE)
    page.locator("[data-view=face_on] .chip", has_text="trail ear").tap()
    frame = page.locator("[data-view=face_on] [data-frame]")
    frame.scroll_into_view_if_needed()
    frame.tap(position={"x": 60, "y": 80})
    page.locator(f"{FRONT} path.spot.coach").wait_for()
    assert page.locator("[data-view=face_on] [data-unplaced]").is_hidden()
    page.locator("[data-tool=back]").tap()
    page.locator("[data-view=face_on] .chip", has_text="trail ear").wait_for()


def test_everything_can_be_done_with_the_keys(
    opened: Opening, served: Served, setup: str, faults: list[str]
) -> None:
    page = opened(LAPTOP)
    before = served.landmarks(setup)
    page.locator("[data-tool=point]").focus()
    page.keyboard.type("Lead knee")
    for _ in range(12):  # over the bar's buttons to the first picture
        if page.evaluate("document.activeElement.matches('[data-view=face_on] [data-frame]')"):
            break
        page.keyboard.press("Tab")
    press = page.keyboard.press
    for key in ("Shift+ArrowRight", "Shift+ArrowRight", "ArrowUp", "ArrowUp", "ArrowUp"):
        press(key)
    said = page.locator("[data-say]")
    wanted = f"lead knee: {before['lead_knee']['x_px'] + 20:.0f} across"
    assert wanted in said.inner_text()
    press("n")
    press("Delete")
    page.locator("[data-view=face_on] .chip", has_text="trail knee").wait_for()
    press("Control+z")
    assert page.locator("[data-view=face_on] .chip", has_text="trail knee").count() == 0
    press("Control+y")
    press("b")
    press("Delete")
    page.locator("[data-follow=rows] li").first.wait_for()
    page.locator(".tools .save").focus()
    press("Enter")
    page.wait_for_url(f"**/setups/{setup}")
    after = served.landmarks(setup)
    assert after["lead_knee"]["x_px"] == pytest.approx(before["lead_knee"]["x_px"] + 20, abs=0.01)
    assert after["lead_knee"]["y_px"] == pytest.approx(before["lead_knee"]["y_px"] - 3, abs=0.01)
    assert after["trail_knee"]["not_seen"] == "ruled out by the coach"
    assert faults == []


def test_a_mouse_drags_and_undo_brings_it_all_back(opened: Opening, faults: list[str]) -> None:
    page = opened(LAPTOP)
    x, y = handle(page, "Trail ankle")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 40, y, steps=5)
    page.mouse.up()
    page.locator("[data-follow=rows] li").first.wait_for()
    page.locator("[data-tool=undo]").click()
    page.locator("[data-follow=none]", has_text="Nothing has moved yet").wait_for()
    assert page.locator("[data-tool=undo]").is_disabled()
    assert faults == []


def test_the_table_leads_the_picture_and_follows_it(opened: Opening) -> None:
    page = opened(LAPTOP)
    page.locator("[data-table] > summary").click()
    field = page.locator("[name='x:face_on:lead_wrist']")
    place = float(field.input_value())
    field.fill(f"{place + 25:.1f}")
    field.press("Tab")
    row = page.locator("tr[data-view=face_on][data-name=lead_wrist]")
    assert "placed by you" in row.locator("[data-stands]").inner_text()
    assert page.locator(f"{FRONT} path.spot.coach").count() == 1
    page.locator("[data-tool=undo]").click()
    assert float(field.input_value()) == place


def test_the_later_tab_is_asked_which_points_count(
    opened: Opening, served: Served, setup: str
) -> None:
    page = opened(LAPTOP)
    with served.desk.book.reading() as pages:
        kept = pages.setup(setup)
    theirs = json.loads(kept.landmarks)
    theirs["views"]["face_on"]["landmarks"]["nose"] = {"not_seen": "ruled out by the coach"}
    refit(served.desk, setup, landmarks=json.dumps(theirs), version=kept.version)
    handle(page, "Lead hip")
    page.locator("[data-view=face_on] [data-frame]").focus()
    page.keyboard.press("Shift+ArrowLeft")
    page.locator(".tools .save").click()
    dialog = page.locator("dialog")
    dialog.get_by_text("Go on moving").click()
    assert page.locator(f"{FRONT} path.spot.coach").count() == 1
    page.locator(".tools .save").click()
    dialog.get_by_text("Load the newer points").click()
    page.locator("[data-view=face_on] .chip", has_text="nose").wait_for()
    assert page.locator(f"{FRONT} path.spot.coach").count() == 0

    handle(page, "Lead hip")
    page.locator("[data-view=face_on] [data-frame]").focus()
    page.keyboard.press("Shift+ArrowLeft")
    refit(served.desk, setup, landmarks=json.dumps(theirs), version=kept.version + 1)
    page.locator(".tools .save").click()
    dialog.get_by_text("Save mine over them").click()
    page.wait_for_url(f"**/setups/{setup}")
    assert served.landmarks(setup)["lead_hip"]["placed_by"] == "coach"


def test_without_scripts_the_table_moves_a_point(
    opened: Opening, served: Served, setup: str
) -> None:
    page = opened(LAPTOP, scripts=False)
    before = served.landmarks(setup)["lead_elbow"]
    assert page.locator(".tools").is_hidden()
    assert page.locator("[data-view=face_on] .still").count() == 35
    page.fill("[name='x:face_on:lead_elbow']", f"{before['x_px'] + 12:.1f}")
    page.locator(".coordinates > [data-save]").click()
    page.wait_for_url(f"**/setups/{setup}")
    after = served.landmarks(setup)["lead_elbow"]
    assert after["placed_by"] == "coach"
    assert after["x_px"] == pytest.approx(before["x_px"] + 12, abs=0.06)


@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
@pytest.mark.parametrize("editor", [True, False], ids=["editor", "plain form"])
def test_nothing_is_wider_than_the_window_and_no_barrier_is_found(
    opened: Opening, *, size: tuple[int, int], editor: bool
) -> None:
    axe = pytest.importorskip(
        "axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed"
    )
    page = opened(size, editor=editor)
    if editor:
        handle(page, "Lead knee")
        page.locator("[data-table] > summary").click()
        page.locator(".help-marks > summary").click()
    wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wide <= 0
    found = axe.Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
