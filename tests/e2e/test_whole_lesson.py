"""A whole lesson with the real server: by a finger, a mouse, keys alone, and without scripts."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest
from attrs import frozen

import wellset
from tests.support.devices import PASSWORD, Device, Devices
from tests.support.filled_book import DEMO, SCENE, pictures
from tests.support.hands import Finger, Hand, Keys, Mouse, PlainMouse, number
from wellset.figure.views import View

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NAME: Final = "Robin Vale"
WORDS: Final = "Good work: keep the ball where the tee was."
DRILL: Final = "Ball on the rail"


@frozen(kw_only=True, eq=False)
class Served:
    """The program as a coach starts it."""

    address: str
    folder: Path


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("book")
    source = Path(wellset.__file__).parents[1]
    with subprocess.Popen(
        [sys.executable, "-m", "wellset", "serve", "--no-open", "--port", "0", "--data", folder],
        env={**os.environ, "PYTHONPATH": str(source), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        text=True,
    ) as program:
        assert program.stdout is not None
        told = iter(program.stdout.readline, "")
        port = next(found[1] for line in told if (found := re.search(r"localhost:(\d+)", line)))
        yield Served(address=f"http://localhost:{port}", folder=folder)
        program.terminate()


@pytest.fixture
def devices(browser: Browser, served: Served) -> Iterator[Devices]:
    opened = Devices(browser=browser, address=served.address)
    yield opened
    opened.put_away()


class Lesson:
    """One lesson from the door to the last click, on one device with one hand."""

    def __init__(self, device: Device, hand: Hand) -> None:
        self.device, self.hand, self.page = device, hand, device.page

    def button(self, name: str) -> Locator:
        """The button of this name."""
        return self.page.get_by_role("button", name=name, exact=True).first

    def link(self, name: str) -> Locator:
        """The link of this name."""
        return self.page.get_by_role("link", name=name, exact=True).first

    def field(self, name: str) -> Locator:
        """The field of this name in the page's forms."""
        return self.page.locator(f"main [name='{name}']:not([type=hidden])").first

    def summary(self, words: str) -> Locator:
        """What opens a part of the page."""
        return self.page.locator("summary", has_text=words)

    def heading(self, words: str) -> None:
        """Wait until the page says so."""
        self.page.get_by_role("heading", name=words).first.wait_for()

    def come_in(self) -> None:
        """The first device chooses the password; others give it."""
        self.device.go("/")
        again = self.page.locator("[name=again]").count() > 0
        self.hand.write(self.field("password"), PASSWORD)
        if again:
            self.hand.write(self.field("again"), PASSWORD)
        self.hand.press(self.button("Open the book" if again else "Sign in"))
        self.heading("Today")

    def add_student(self) -> None:
        """A minor whose guardian allows pictures, with tapes and a shoe size."""
        self.hand.press(self.link("Students"))
        self.hand.press(self.link("Add a student"))
        hand = self.hand
        hand.write(self.field("name"), NAME)
        hand.write(self.field("height"), "175 cm")
        hand.choose(self.field("hand"), "right-handed")
        hand.write(self.field("shoe"), "EU 43")
        hand.press(self.field("minor"))
        hand.write(self.field("guardian"), "Kim Vale")
        hand.write(self.field("contact"), "0123 456")
        hand.write(self.field("allowed_on"), "2026-11-01")
        hand.press(self.summary("Tape measures"))
        hand.write(self.field("tape_span"), "178 cm")
        hand.press(self.button("Save"))
        self.heading(NAME)
        assert "pictures allowed on 2026-11-01" in self.page.locator(".facts-list").inner_text()

    def fill_bag(self) -> None:
        """A standard bag."""
        self.hand.press(self.link("Bag"))
        self.hand.press(self.link("Fill in a standard bag"))
        self.hand.press(self.button("Save"))
        self.heading(NAME)
        assert "14 clubs" in self.page.locator(".facts-list").inner_text()

    def plan_and_begin(self) -> None:
        """A lesson tomorrow; but the student is here already."""
        tomorrow = (datetime.now(UTC) + timedelta(days=1)).strftime("%Y-%m-%d")
        self.hand.press(self.summary("Plan a lesson"))
        self.hand.write(self.field("day"), tomorrow)
        self.hand.write(self.field("time"), "09:00")
        self.hand.write(self.field("focus"), "Ball position")
        self.hand.press(self.button("Plan it"))
        self.hand.press(self.page.locator("#coming ~ .list a").first)
        self.heading("Lesson")
        assert "Planned for" in self.page.locator(".when").inner_text()
        self.hand.press(self.button("Begin it now"))
        self.page.get_by_text("Began at").wait_for()

    def take(self, folder: Path) -> str:
        """Two pictures, the work on them, the findings; the first change as it is read."""
        for view, path in pictures(folder).items():
            self.hand.give(self.field(view.value), path)
            self.sent(view)
        self.hand.press(self.button("Assess this set-up"))
        self.page.wait_for_url("**/setups/*")
        return self.first_change()

    def sent(self, view: View) -> None:
        """Wait until a picture has arrived; without scripts the form takes it along."""
        if not isinstance(self.hand, PlainMouse):
            ready = self.page.locator(f"label[for=f-{view.value}] .shot-state")
            ready.get_by_text("Ready").wait_for()

    def first_change(self) -> str:
        """What the findings say first."""
        title = self.page.locator("#first-title")
        title.wait_for()
        self.page.locator(".overlay image").first.wait_for()
        return title.inner_text()

    def mend_a_point(self) -> None:
        """Move one, see what it changes, keep it."""
        self.hand.press(self.link("Move points"))
        self.heading("Move points")
        plain = isinstance(self.hand, PlainMouse)
        if not plain:
            self.page.locator("[data-follow=first]:not(:empty)").wait_for()
        self.hand.move_point()
        if not plain:
            self.page.locator("[data-follow=rows] li").first.wait_for()
        where = ".coordinates >" if plain else ".strip" if self.on_phone else ".tools"
        self.hand.press(self.page.locator(f"{where} [data-save]"))
        self.page.wait_for_url(re.compile(r"/setups/\w+$"))
        self.first_change()

    @property
    def on_phone(self) -> bool:
        """Whether the page is laid out for a phone."""
        return isinstance(self.hand, Finger)

    def compare(self) -> None:
        """Before and after, side by side."""
        self.hand.press(self.link("Before and after"))
        self.heading("Before and after")
        assert self.page.locator(".side-by-side img").count() == 4
        ball = self.page.locator("tr", has_text="Ball position").locator("td")
        assert number(ball.nth(0).inner_text()) != number(ball.nth(1).inner_text())
        self.hand.press(self.page.locator(".trail a").last)

    def write_it_down(self) -> None:
        """Words to the student, a note, and a drill as homework."""
        self.hand.press(self.page.locator(".trail a").last)
        self.heading("Lesson")
        self.hand.write(self.field("for_student"), WORDS)
        self.hand.write(self.field("note"), "Quick learner.")
        self.hand.choose(self.field("homework_drill"), DRILL)
        self.hand.press(self.button("Save"))
        self.page.locator("legend", has_text="Homework 1").wait_for()
        assert self.field("homework_words").input_value() == DRILL

    def hand_over(self) -> str:
        """The sheet, and a link; answers with the link."""
        self.hand.press(self.link("The same as a page"))
        self.page.get_by_text(WORDS).wait_for()
        address = self.page.get_by_role("link", name="Print (PDF").get_attribute("href")
        pdf = self.device.context.request.get(f"{self.device.address}{address}")
        assert pdf.body().startswith(b"%PDF")
        self.hand.press(self.link("Show it on their phone"))
        self.hand.press(self.button("Make the link"))
        self.page.locator("svg.qr").wait_for()
        return self.page.locator("#f-link").input_value()

    def take_back(self) -> None:
        """End the link."""
        self.hand.press(self.button("Take it back"))
        self.page.get_by_text("None.").wait_for()

    def take_along(self) -> bytes:
        """Everything of the student in one file."""
        self.hand.press(self.page.locator(".trail a").first)
        self.heading(NAME)
        with self.page.expect_download() as coming:
            self.hand.press(self.link(f"Take everything of {NAME} along"))
        return Path(coming.value.path()).read_bytes()

    def forget(self) -> None:
        """Remove the student for good."""
        self.hand.press(self.summary("Remove this student"))
        self.hand.write(self.page.locator(".remove [name=name]"), NAME)
        self.hand.press(self.button("Remove for good"))
        self.heading("Students")


def kept(served: Served) -> set[Path]:
    """Pictures that lie in the book's folder."""
    return {each for each in (served.folder / "media").rglob("*") if each.is_file()}


@pytest.mark.parametrize("way", ["finger", "mouse", "keys", "no scripts"])
def test_a_lesson_goes_from_the_door_to_the_sheet_and_leaves_nothing_behind(
    devices: Devices, served: Served, way: str
) -> None:
    device = devices.stranger("phone" if way == "finger" else "laptop", scripts=way != "no scripts")
    hands: dict[str, type[Hand]] = {
        "finger": Finger,
        "mouse": Mouse,
        "keys": Keys,
        "no scripts": PlainMouse,
    }
    lesson = Lesson(device, hands[way](device=device))  # type: ignore[call-arg]
    before = kept(served)
    lesson.come_in()
    lesson.add_student()
    lesson.fill_bag()
    lesson.plan_and_begin()
    assert lesson.take(DEMO)
    lesson.mend_a_point()
    lesson.hand.press(lesson.link("Take another"))
    assert lesson.take(SCENE)
    lesson.compare()
    lesson.write_it_down()
    link = lesson.hand_over()
    student = devices.stranger("phone")
    student.page.goto(link)
    student.page.get_by_text(WORDS).wait_for()
    assert student.page.get_by_text("Quick learner").count() == 0
    assert student.page.get_by_text(DRILL).count() > 0
    assert student.complaints() == []
    student.go("/")
    assert student.page.url == f"{served.address}/sign-in?goal=%2F"
    lesson.take_back()
    student.page.goto(link)
    student.page.get_by_role("heading", name="This link shows nothing").wait_for()
    with zipfile.ZipFile(BytesIO(lesson.take_along())) as along:
        names = along.namelist()
    assert sum(name.endswith(".jpg") for name in names) >= 4
    assert any(name.endswith(".html") for name in names)
    lesson.forget()
    assert kept(served) <= before
    assert device.faults == []
