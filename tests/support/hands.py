"""The same lesson by a finger, by a mouse, by keys alone, and by a mouse while scripts are off."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final, Protocol

from attrs import frozen

from tests.support.devices import Device

if TYPE_CHECKING:
    from playwright.sync_api import FileChooser, Locator, Page

MOST_TABS: Final = 400
"""Steps after which something counts as out of reach of the keyboard."""
POINT: Final = "Lead ankle"
STEP_PX: Final = 30


class Hand(Protocol):
    """What a person does to a page."""

    def press(self, what: Locator, /) -> None:
        """A button, link or summary."""

    def write(self, field: Locator, words: str, /) -> None:
        """Put words into an empty field."""

    def choose(self, field: Locator, option: str, /) -> None:
        """One of a list, by its words."""

    def give(self, field: Locator, file: Path, /) -> None:
        """A file, through the chooser of the system."""

    def move_point(self) -> None:
        """Move a point of the face-on picture sideways, in the editor that is open."""


@frozen(kw_only=True, eq=False)
class Finger:
    """A finger on a phone."""

    device: Device

    def press(self, what: Locator, /) -> None:
        """Tap."""
        what.tap()

    def write(self, field: Locator, words: str, /) -> None:
        """Tap it, then type on the phone's own keyboard."""
        field.tap()
        field.fill(words)

    def choose(self, field: Locator, option: str, /) -> None:
        """The phone shows its own list."""
        field.select_option(label=option)

    def give(self, field: Locator, file: Path, /) -> None:
        """Tap the field; the phone shows its camera and pictures."""
        _given(self.device.page, file, by=field.tap)

    def move_point(self) -> None:
        """Drag it."""
        page = self.device.page
        page.locator("[data-view=face_on] [data-frame]").scroll_into_view_if_needed()
        x, y = chosen_point(page)
        touch = page.context.new_cdp_session(page)
        for kind, far in (("touchStart", 0), ("touchMove", STEP_PX / 2), ("touchMove", STEP_PX)):
            points = [{"x": x + far, "y": y}]
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        touch.detach()


@frozen(kw_only=True, eq=False)
class Mouse:
    """A mouse on a laptop."""

    device: Device

    def press(self, what: Locator, /) -> None:
        """Click."""
        what.click()

    def write(self, field: Locator, words: str, /) -> None:
        """Type."""
        field.fill(words)

    def choose(self, field: Locator, option: str, /) -> None:
        """From the list."""
        field.select_option(label=option)

    def give(self, field: Locator, file: Path, /) -> None:
        """Click the field."""
        _given(self.device.page, file, by=field.click)

    def move_point(self) -> None:
        """Drag it."""
        page = self.device.page
        x, y = chosen_point(page)
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + STEP_PX, y, steps=4)
        page.mouse.up()


@frozen(kw_only=True, eq=False)
class PlainMouse(Mouse):
    """A mouse, while scripts are off: points are moved in the table."""

    def move_point(self) -> None:
        """Type another place."""
        field = self.device.page.locator("[name='x:face_on:lead_ankle']")
        field.fill(f"{float(field.input_value()) + STEP_PX:.1f}")


@frozen(kw_only=True, eq=False)
class Keys:
    """The keyboard alone: whatever is used is reached with the tab key first."""

    device: Device

    def reach(self, what: Locator, /) -> None:
        """Go on with the tab key until it has the focus."""
        what.wait_for(state="attached")
        self.device.page.wait_for_load_state()
        for _ in range(MOST_TABS):
            if what.evaluate("(e) => e === document.activeElement"):
                return
            self.device.page.keyboard.press("Tab")
        message = f"the keyboard does not reach {what}"
        raise AssertionError(message)

    def press(self, what: Locator, /) -> None:
        """Enter, or the space bar on a box to tick."""
        self.reach(what)
        box = what.evaluate("(e) => e.type === 'checkbox'")
        self.device.page.keyboard.press("Space" if box else "Enter")

    def write(self, field: Locator, words: str, /) -> None:
        """Type; into fields of days and times as their parts follow each other."""
        self.reach(field)
        keys, kind = self.device.page.keyboard, field.get_attribute("type")
        if kind == "date":
            year, month, day = words.split("-")
            keys.type(f"{day}{month}{year}")
            if field.input_value() != words:  # the machine writes its days the other way about
                keys.press("ArrowLeft")
                keys.press("ArrowLeft")
                keys.type(f"{month}{day}{year}")
        elif kind == "time":
            keys.type(words.replace(":", "") + "AM")  # passed over on a clock of 24 hours
        else:
            keys.type(words)

    def choose(self, field: Locator, option: str, /) -> None:
        """Type the words: the list follows."""
        self.reach(field)
        self.device.page.keyboard.type(option)

    def give(self, field: Locator, file: Path, /) -> None:
        """Enter opens the chooser."""
        self.reach(field)
        _given(self.device.page, file, by=lambda: self.device.page.keyboard.press("Enter"))

    def move_point(self) -> None:
        """Choose it from the list, go to the picture, use the arrow keys."""
        page = self.device.page
        self.choose(page.locator("[data-tool=point]"), POINT)
        self.reach(page.locator("[data-view=face_on] [data-frame]"))
        for _ in range(STEP_PX // 10):
            page.keyboard.press("Shift+ArrowRight")


def chosen_point(page: Page, /) -> tuple[float, float]:
    """Choose the point and say where it is on the screen."""
    page.locator("[data-tool=point]").select_option(label=POINT)
    box = page.locator("[data-view=face_on] [data-frame] > svg .ring").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def _given(page: Page, file: Path, *, by: Callable[[], None]) -> None:
    with page.expect_file_chooser() as opened:
        by()
    chooser: FileChooser = opened.value
    chooser.set_files(file)


def number(text: str, /) -> float:
    """The first number of a sentence."""
    found = re.search(r"[−-]?\d+(\.\d+)?", text)
    assert found is not None, text
    return float(found[0].replace("−", "-"))
