"""Every page of the book on a phone and on a laptop: no barrier, no scroll sideways, no complaint.

The pages are those the application has: a new one is looked at without being named here, and fails
until it is told what to show where its address asks for something.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

import pytest
from attrs import frozen
from fastapi.routing import iter_route_contexts
from jinja2 import Template

import wellset.web
from tests.e2e.conftest import Book, new_book
from tests.support.devices import KINDS, Device, Devices, Kind
from wellset.advise import house_book
from wellset.web.rendering import environment

if TYPE_CHECKING:
    from playwright.sync_api import Browser

axe = pytest.importorskip(
    "axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed"
)

pytestmark = [pytest.mark.browser, pytest.mark.slow]

TEMPLATES: Final = Path(wellset.web.__file__).parent / "templates" / "pages"
FINGER_PX: Final = 44
"""Least height and width of what is tapped; WCAG 2.2, success criterion 2.5.5."""
OK: Final = 200
GRAVE: Final = {"serious", "critical"}
# What is tapped on the way through a lesson; a link inside a sentence is as high as its line.
TARGETS: Final = (
    ".button, button, .nav a, .list a, summary, select, textarea, "
    "input:not([type=hidden]):not([type=checkbox]):not([type=radio]):not([type=file])"
)
_SMALL: Final = """(wanted) => [...document.querySelectorAll(wanted.what)]
  .filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.closest("[hidden]"))
  .map((e) => ({ e, box: e.getBoundingClientRect() }))
  .filter(({ box }) => box.width > 2 && (box.height < wanted.least || box.width < wanted.least))
  .map(({ e, box }) => `${e.outerHTML.slice(0, 90)} ${box.width} x ${box.height}`)"""


@frozen(kw_only=True, eq=False)
class Seen:
    """What was found on one page.

    Parameters
    ----------
    barriers : list of str
        Serious and critical findings of the accessibility engine.
    sideways : int
        Pixels by which it is wider than the screen.
    complaints : list of str
        Of the browser: scripts, strict rules, requests to others.
    small : list of str
        What is too small to tap.
    """

    barriers: list[str]
    sideways: int
    complaints: list[str]
    small: list[str]


@frozen(kw_only=True, eq=False)
class Walk:
    """All pages as one device saw them.

    Parameters
    ----------
    pages : mapping of address to Seen
    templates : set of str
        Templates that were shown.
    """

    pages: dict[str, Seen]
    templates: set[str]

    def failing(self, part: str) -> dict[str, object]:
        """Pages on which a part is not as it should be."""
        return {path: getattr(s, part) for path, s in self.pages.items() if getattr(s, part)}


def known(book: Book) -> dict[str, str]:
    """What stands for each part of an address."""
    filled = book.filled
    return {
        "student_id": filled.student,
        "lesson_id": filled.lesson,
        "setup_id": filled.setup,
        "secret": filled.secret,
        "view": "face_on",
        "media": "0" * 64,
        "job_id": "none",
        "drill_id": house_book().drills[0].id,
    }


def asked(book: Book) -> dict[str, str]:
    """What some addresses ask for beside their path."""
    return {"/setups/{setup_id}/compare": f"?other={book.filled.other}"}


def routes(book: Book) -> list[str]:
    """Addresses of everything that can be opened, filled in."""
    parts, questions = known(book), asked(book)
    found = []
    for route in iter_route_contexts(book.app.routes):
        if route.path is None or "GET" not in (route.methods or ()):
            continue
        unknown = set(re.findall(r"\{(\w+)\}", route.path)) - set(parts)
        assert not unknown, f"say what {unknown} in {route.path} stands for, so that it is seen"
        path = re.sub(r"\{(\w+)\}", lambda part: parts[part[1]], route.path)
        found.append(path + questions.get(route.path, ""))
    return found


def more(book: Book) -> list[str]:
    """The same pages in other states."""
    filled = book.filled
    return [
        "/students?text=nobody",
        f"/students/{filled.minor}",
        f"/students/{filled.minor}/bag",
        f"/students/{filled.minor}/bag?fill=standard",
        f"/students/{filled.minor}/plan",
        f"/students/{filled.minor}/progress",
        f"/students/{filled.student}/laid-out?club=7-iron",
        f"/lessons/{filled.minor_lesson}",
        f"/lessons/{filled.planned}",
        f"/lessons/{filled.planned}/share",
        f"/setups/{filled.refused}",
        f"/setups/{filled.waiting}",
        "/standards?shot=driver",
        f"/drills?student={filled.student}&text=stick",
    ]


def look(device: Device) -> Seen:
    """Everything to be known about the page that is open."""
    barriers = [
        f"{each['impact']} {each['id']}: {each['help']} at "
        + ", ".join(str(node["target"]) for node in each["nodes"][:4])
        for each in axe.Axe().run(device.page).response["violations"]
        if each["impact"] in GRAVE
    ]
    small = device.page.evaluate(_SMALL, {"what": TARGETS, "least": FINGER_PX})
    seen = Seen(
        barriers=barriers,
        sideways=max(device.sideways(), 0),
        complaints=device.complaints(),
        small=small,
    )
    device.faults.clear()
    return seen


def pages_of(
    device: Device, paths: Iterable[str], *, status: int = 200
) -> Iterator[tuple[str, Seen]]:
    """Look at those of some addresses that lead to pages."""
    for path in paths:
        told = device.context.request.get(device.address + path, max_redirects=0)
        if not told.headers.get("content-type", "").startswith("text/html"):
            continue
        assert told.status == status, path
        device.go(path)
        if status != OK:  # the console repeats the status of an answer that refuses
            device.faults.clear()
        yield f"{path} ({status})", look(device)


def sent(device: Device, book: Book) -> Iterator[tuple[str, Seen]]:
    """Pages that only answer a form."""
    page, filled = device.page, book.filled
    device.go("/standards")
    page.get_by_role("button", name="Try on past lessons").click()
    yield "the standards tried", look(device)
    device.go(f"/lessons/{filled.lesson}/share")
    page.get_by_role("button", name="Make the link").click()
    page.locator(".link-new").wait_for()
    yield "a new link", look(device)
    device.go(f"/students/{filled.student}")
    page.locator(".remove summary").click()
    page.locator("#f-name").fill("somebody else")
    page.get_by_role("button", name="Remove for good").click()
    page.get_by_role("heading", name="The student was not removed").wait_for()
    device.faults.clear()  # the console repeats the status of an answer that refuses
    yield "a refusal", look(device)


def empty(devices: Devices, kind: Kind) -> Iterator[tuple[str, Seen]]:
    """A book that holds nothing yet."""
    stranger = devices.stranger(kind)
    yield from pages_of(stranger, ["/first"])
    yield from pages_of(devices.coach(kind), ["/", "/students", "/lessons/new", "/standards"])


@pytest.fixture(scope="module", params=KINDS)
def walk(
    request: pytest.FixtureRequest,
    browser: Browser,
    book: Book,
    tmp_path_factory: pytest.TempPathFactory,
) -> Walk:
    """Every page, seen by a phone or by a laptop."""
    kind = cast("Kind", request.param)
    devices = Devices(browser=browser, address=book.address)
    shown: set[str] = set()
    finding = environment().get_template

    def found(name: str, parent: str | None = None) -> Template:
        shown.add(name)
        return finding(name, parent)

    with pytest.MonkeyPatch.context() as patched, new_book(tmp_path_factory) as address:
        patched.setattr(environment(), "get_template", found)
        first = Devices(browser=browser, address=address)
        pages = {f"empty {path}": seen for path, seen in empty(first, kind)}
        first.put_away()
        coach, filled = devices.coach(kind), book.filled
        # What a link shows beside the plan is what the coach compared before.
        coach.context.request.get(f"{book.address}/setups/{filled.setup}/check")
        pages |= dict(pages_of(coach, [*routes(book), *more(book)]))
        pages |= dict(sent(coach, book))
        stranger = devices.stranger(kind)
        shared = [path for path in routes(book) if path.startswith("/s/")]
        pages |= dict(pages_of(stranger, ["/sign-in", *shared]))
        pages |= dict(pages_of(stranger, ["/s/wrong", "/nowhere"], status=404))
    devices.put_away()
    return Walk(pages=pages, templates=shown)


def test_no_page_has_a_serious_barrier(walk: Walk) -> None:
    assert walk.failing("barriers") == {}


def test_no_page_is_wider_than_the_screen(walk: Walk) -> None:
    assert walk.failing("sideways") == {}


def test_no_page_makes_the_browser_complain_or_ask_anybody_else(walk: Walk) -> None:
    assert walk.failing("complaints") == {}


def test_whatever_is_tapped_on_the_way_is_large_enough_for_a_finger(walk: Walk) -> None:
    assert walk.failing("small") == {}


def test_every_template_of_a_page_was_looked_at(walk: Walk) -> None:
    assert {f"pages/{each.name}" for each in TEMPLATES.glob("*.html")} - walk.templates == set()
