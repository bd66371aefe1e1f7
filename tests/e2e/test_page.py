"""The written page in a real browser: readable on a phone, on a laptop and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.reports import assessment
from wellset.figure.views import View
from wellset.reports.writing import write_report

BROWSER = Path("/usr/bin/chromium")
SIZES = [(390, 844), (1280, 900)]

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

pytestmark = [
    pytest.mark.browser,
    pytest.mark.slow,
    pytest.mark.skipif(not BROWSER.exists(), reason=f"there is no browser at {BROWSER}"),
]


@pytest.fixture(scope="module")
def browser() -> Iterator[object]:
    with playwright.sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=str(BROWSER),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield started
        started.close()


@pytest.fixture(scope="module", params=["two pictures", "one picture"])
def address(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> str:
    views = tuple(View) if request.param == "two pictures" else (View.FACE_ON,)
    written = write_report(assessment(views=views), tmp_path_factory.mktemp("report"))
    return written.page.as_uri()


@pytest.fixture(params=SIZES, ids=["phone", "laptop"])
def shown(request: pytest.FixtureRequest, browser: object, address: str) -> Iterator[object]:
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, offline=True)  # type: ignore[attr-defined]
    page = context.new_page()
    page.asked = []
    page.on("request", lambda request: page.asked.append(request.url))
    page.goto(address)
    yield page
    context.close()


def test_nothing_is_wider_than_the_window(shown: object) -> None:
    wide = shown.evaluate("document.documentElement.scrollWidth - window.innerWidth")  # type: ignore[attr-defined]
    assert wide <= 0


def test_the_page_asks_for_nothing_but_itself(shown: object) -> None:
    asked = [url for url in shown.asked if not url.startswith("data:")]  # type: ignore[attr-defined]
    assert asked == [shown.url]  # type: ignore[attr-defined]


def test_the_pictures_are_there_and_labels_are_large_enough_to_read(shown: object) -> None:
    heights = shown.evaluate(  # type: ignore[attr-defined]
        "[...document.querySelectorAll('.overlay .label rect')]"
        ".map(e => e.getBoundingClientRect().height)"
    )
    assert heights
    assert min(heights) >= 18  # a line of 11-pixel text with room above and below
    images = shown.evaluate(  # type: ignore[attr-defined]
        "[...document.querySelectorAll('.overlay image')]"
        ".every(e => e.getBoundingClientRect().width > 200)"
    )
    assert images


def test_the_first_thing_to_read_is_on_the_first_screen(shown: object) -> None:
    top = shown.evaluate(  # type: ignore[attr-defined]
        "document.querySelector('#first-title').getBoundingClientRect().bottom"
    )
    assert top < shown.viewport_size["height"]  # type: ignore[attr-defined]


def test_the_table_of_sources_opens_with_the_keyboard(shown: object) -> None:
    assert not shown.locator("table.sources").is_visible()  # type: ignore[attr-defined]
    shown.locator("summary", has_text="Show the table").focus()  # type: ignore[attr-defined]
    shown.keyboard.press("Enter")  # type: ignore[attr-defined]
    assert shown.locator("table.sources").is_visible()  # type: ignore[attr-defined]


def test_no_barrier_is_found_by_the_accessibility_engine(shown: object) -> None:
    axe = pytest.importorskip(
        "axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed"
    )
    found = axe.Axe().run(shown)
    assert found.violations_count == 0, found.generate_report()


def test_the_page_prints_on_a4(browser: object, address: str) -> None:
    context = browser.new_context()  # type: ignore[attr-defined]
    page = context.new_page()
    page.goto(address)
    data = page.pdf(format="A4", prefer_css_page_size=True)
    context.close()
    assert data.startswith(b"%PDF")
    assert 2 <= data.count(b"/Type /Page\n") <= 12
