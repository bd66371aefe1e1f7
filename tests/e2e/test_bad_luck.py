"""Bad luck in a browser: nothing that was typed or moved is lost, or it is said."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import pytest
from attrs import evolve

from tests.e2e.conftest import Book
from tests.support.devices import PASSWORD, Device, Devices
from tests.support.filled_book import DEMO
from tests.support.hands import Keys, Mouse, chosen_point
from wellset.web.security.sessions import COOKIE

pytestmark = [pytest.mark.browser, pytest.mark.slow]

EVIL: Final = '<script>window.taken=1</script><img src=x onerror="window.taken=1">\''
NOTE: Final = "Weight was in the heels.\nBetter after the second drill."


def moved(device: Device, setup: str) -> None:
    """Open the points of a set-up and move one by the arrow keys."""
    page = device.go(f"/setups/{setup}/points")
    page.locator("[data-follow=first]:not(:empty)").wait_for()
    chosen_point(page)
    page.locator("[data-view=face_on] [data-frame]").focus()
    page.keyboard.press("Shift+ArrowRight")
    page.locator("[data-follow=rows] li").first.wait_for()


def place(book: Book, setup: str) -> float:
    """Where the kept point lies, across."""
    with book.filled.desk.book.reading() as pages:
        found = re.search(
            r'"lead_ankle":\s*\{[^}]*?"x_px":\s*([\d.]+)', pages.setup(setup).landmarks
        )
    assert found is not None
    return float(found[1])


def end_session(device: Device) -> None:
    """As when the coach signs all devices out elsewhere."""
    device.context.clear_cookies(name=COOKIE)


def sign_in(device: Device) -> None:
    """On the page that asks for it."""
    device.page.fill("input[name=password]", PASSWORD)
    device.page.get_by_role("button", name="Sign in").click()


def test_of_two_tabs_that_move_the_same_points_the_later_one_is_asked(
    devices: Devices, book: Book
) -> None:
    setup = book.filled.other
    first, second = devices.coach("laptop"), devices.coach("phone")
    moved(first, setup)
    moved(second, setup)
    begin = place(book, setup)
    first.page.locator(".tools .save").click()
    first.page.wait_for_url(re.compile(r"/setups/\w+$"))
    second.page.keyboard.press("Shift+ArrowRight")
    second.page.locator(".strip [data-save]").tap()
    dialog = second.page.locator("dialog")
    dialog.get_by_role("heading", name="Somebody saved newer points").wait_for()
    assert place(book, setup) == pytest.approx(begin + 10, abs=0.06)
    dialog.get_by_role("button", name="Save mine over them").tap()
    second.page.wait_for_url(re.compile(r"/setups/\w+$"))
    assert place(book, setup) == pytest.approx(begin + 20, abs=0.06)


def test_what_was_typed_comes_back_after_the_session_ended_in_the_middle(
    devices: Devices, book: Book
) -> None:
    device = devices.coach("phone")
    page = device.go(f"/lessons/{book.filled.minor_lesson}")
    page.fill("[name=note]", NOTE)
    end_session(device)
    page.get_by_role("button", name="Save").tap()
    page.get_by_text("You were signed out meanwhile").wait_for()
    page.get_by_text("It is still in this tab").wait_for()
    sign_in(device)
    page.get_by_text("What you typed is back").wait_for()
    assert page.input_value("[name=note]") == NOTE
    page.get_by_role("button", name="Save").tap()
    page.get_by_text("What you typed is back").wait_for(state="detached")
    assert page.input_value("[name=note]") == NOTE
    assert page.evaluate("sessionStorage.length") == 0
    assert device.complaints() == []


def test_without_scripts_it_is_said_that_a_form_was_not_kept(devices: Devices, book: Book) -> None:
    device = devices.coach("laptop", scripts=False)
    page = device.go(f"/students/{book.filled.student}/edit")
    page.fill("[name=note]", NOTE)
    end_session(device)
    page.get_by_role("button", name="Save").click()
    page.get_by_text("what you sent was not kept").wait_for()
    page.get_by_text("use your browser’s Back button").wait_for()
    sign_in(device)
    page.wait_for_url(f"{book.address}/students/{book.filled.student}/edit")


def test_what_was_typed_comes_back_when_somebody_else_saved_meanwhile(
    devices: Devices, book: Book
) -> None:
    path = f"/lessons/{book.filled.planned}"
    late, early = devices.coach("laptop"), devices.coach("laptop")
    late.go(path).fill("[name=note]", NOTE)
    early.go(path).fill("[name=for_student]", "Bring the driver.")
    early.page.get_by_role("button", name="Save").click()
    early.page.wait_for_load_state()
    late.page.get_by_role("button", name="Save").click()
    late.page.get_by_role("link", name="Back to the form").click()
    late.page.get_by_text("What you typed is back").wait_for()
    assert late.page.input_value("[name=note]") == NOTE
    assert late.page.input_value("[name=for_student]") == "Bring the driver."


def test_a_password_is_never_kept_in_the_tab(devices: Devices) -> None:
    device = devices.coach("laptop")
    page = device.go("/settings")
    page.fill("[name=old]", "not the password")
    page.fill("[name=password]", "another one altogether")
    page.fill("[name=again]", "another one altogether")
    page.get_by_role("button", name="Change it").click()
    page.locator(".trouble").wait_for()
    assert page.evaluate("sessionStorage.length") == 0


def test_points_stay_on_the_page_while_the_server_is_out_of_reach_or_the_session_over(
    devices: Devices, book: Book
) -> None:
    setup = book.filled.setup
    device = devices.coach("laptop")
    moved(device, setup)
    page, begin = device.page, place(book, setup)
    device.context.set_offline(True)
    Mouse(device=device).move_point()
    page.locator("[data-follow=trouble]").get_by_text("The book does not answer").wait_for()
    page.locator(".tools .save").click()
    page.locator("[data-save-trouble]").get_by_text("Your points are still").wait_for()
    device.context.set_offline(False)
    end_session(device)
    page.locator(".tools .save").click()
    page.locator("[data-save-trouble]").get_by_text("You were signed out").wait_for()
    assert place(book, setup) == begin
    other = device.context.new_page()
    sign_in(evolve(device, page=(other.goto(f"{book.address}/sign-in"), other)[1]))
    other.wait_for_url(f"{book.address}/")
    page.locator(".tools .save").click()
    page.wait_for_url(re.compile(r"/setups/\w+$"))
    assert place(book, setup) > begin + 20


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_an_archive_that_calls_itself_a_picture_is_refused_in_words(
    devices: Devices, book: Book, tmp_path: Path, *, scripts: bool
) -> None:
    false = tmp_path / "face_on.jpg"
    false.write_bytes(b"PK\x03\x04" + b"\0" * 500)
    device = devices.coach("laptop", scripts=scripts)
    page = device.go(f"/lessons/{book.filled.lesson}")
    Mouse(device=device).give(page.locator("[name=face_on]"), false)
    if scripts:
        told = page.locator(".shot-state.bad")
        told.wait_for()
        assert page.get_by_role("button", name="Assess this set-up").is_enabled()
        Mouse(device=device).give(page.locator("#f-face_on"), DEMO / "face_on.jpg")
        page.get_by_text("Ready: face_on.jpg").wait_for()
    else:
        page.get_by_role("button", name="Assess this set-up").click()
        page.locator("main .trouble").get_by_text("What to do").wait_for()


def test_markup_in_a_name_is_shown_as_it_was_typed_and_does_nothing(devices: Devices) -> None:
    device = devices.coach("laptop")
    page = device.go("/students/new")
    page.fill("[name=name]", EVIL)
    page.fill("[name=height]", "175 cm")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("heading", name=EVIL).wait_for()
    Keys(device=device).press(page.get_by_role("button", name="Begin a lesson"))
    page.get_by_role("link", name=EVIL).first.wait_for()
    for path in ("/", "/students", "/lessons/new"):
        device.go(path).get_by_text(EVIL).first.wait_for()
    assert page.evaluate("window.taken") is None
    assert device.complaints() == []
