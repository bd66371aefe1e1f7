"""Devices in front of the lesson book: a coach's phone and laptop in a real browser."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

import uvicorn
from attrs import define, field, frozen
from fastapi import FastAPI

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

CHROMIUM: Final = Path("/usr/bin/chromium")
PASSWORD: Final = "three small words"  # noqa: S105 - of the tests' own book
LONG_MS: Final = 30_000  # a busy machine; nothing is timed
Kind = Literal["phone", "laptop"]
KINDS: Final[tuple[Kind, ...]] = ("phone", "laptop")
SIZES: Final = {"phone": (390, 844), "laptop": (1280, 800)}
PHONE_AGENT: Final = (
    "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/130.0.0.0 Mobile Safari/537.36"
)
# Violations of the strict rules a page was sent with, kept where a test can read them.
_WATCH: Final = """
window.violated = [];
addEventListener("securitypolicyviolation", (e) =>
  window.violated.push(`${e.violatedDirective}: ${e.blockedURI || e.sourceFile} ${e.sample}`));
"""


@frozen(kw_only=True, eq=False)
class Device:
    """One device with its own cookies.

    Parameters
    ----------
    page : Page
        Its open tab.
    address : str
        Of the book.
    faults : list of str
        What the browser complained about, and whatever was asked of anybody else.
    """

    page: Page
    address: str
    faults: list[str]

    @property
    def context(self) -> BrowserContext:
        """The browser's profile."""
        return self.page.context

    def go(self, path: str, /) -> Page:
        """Open a page of the book."""
        self.page.goto(self.address + path)
        return self.page

    def complaints(self) -> list[str]:
        """Everything that went wrong on this device until now."""
        return [*self.faults, *self.page.evaluate("window.violated")]

    def sideways(self) -> int:
        """By how many pixels the page is wider than the screen."""
        wide: int = self.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        return wide

    def watch(self, page: Page) -> None:
        """Collect what goes wrong in a tab."""
        page.set_default_timeout(LONG_MS)
        page.on("pageerror", lambda error: self.faults.append(f"{page.url}: {error}"))
        page.on(
            "console",
            lambda told: (
                self.faults.append(f"{page.url}: {told.text}")
                if told.type in {"error", "warning"}
                else None
            ),
        )
        # Somebody who listens all the time: choosers opened while one is only being announced
        # would stay open unseen.
        page.on("filechooser", lambda _: None)
        page.on("request", lambda asked: self._asked(asked.url))

    def _asked(self, url: str) -> None:
        if not url.startswith((self.address + "/", "data:", "blob:", "about:")):
            self.faults.append(f"asked of somebody else: {url}")


@define(kw_only=True)
class Devices:
    """Opens devices and puts them away.

    Parameters
    ----------
    browser : Browser
    address : str
        Of the book.
    """

    browser: Browser
    address: str
    _open: list[BrowserContext] = field(factory=list)

    def stranger(self, kind: Kind, *, scripts: bool = True) -> Device:
        """A device that has not signed in."""
        width, height = SIZES[kind]
        mobile = kind == "phone"
        context = self.browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=mobile,
            is_mobile=mobile,
            user_agent=PHONE_AGENT if mobile else None,
            java_script_enabled=scripts,
            locale="en-GB",
        )
        self._open.append(context)
        context.add_init_script(_WATCH)
        device = Device(page=context.new_page(), address=self.address, faults=[])
        device.watch(device.page)
        return device

    def coach(self, kind: Kind, *, scripts: bool = True) -> Device:
        """A device that has signed in, choosing the password where none was chosen."""
        device = self.stranger(kind, scripts=scripts)
        page = device.go("/sign-in")
        if page.locator("input[name=again]").count():
            page.fill("input[name=again]", PASSWORD)
        page.fill("input[name=password]", PASSWORD)
        page.locator("main button").click()
        page.wait_for_url(f"{self.address}/")
        return device

    def put_away(self) -> None:
        """Close them all."""
        for context in self._open:
            context.close()
        self._open.clear()


@contextmanager
def browsing() -> Iterator[Browser]:
    """The machine's Chromium."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - it may not be installed

    with sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield started
        started.close()


@contextmanager
def serving(app: FastAPI) -> Iterator[str]:
    """The address of an application that is being served."""
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="warning", access_log=False))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://localhost:{port}"
    server.should_exit = True
    thread.join(30)
