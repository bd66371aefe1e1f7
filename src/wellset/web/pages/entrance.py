"""Choosing the password at the first start, signing in and out."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import urlsplit

from attrs import frozen
from fastapi import APIRouter, Form, Request, Response
from fastapi.responses import RedirectResponse

from wellset.errors import InputError
from wellset.web.forms import SentForm
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)
_LOOPBACK = {"127.0.0.1", "::1", "testclient"}
Typed = Annotated[str, Form()]


@frozen(kw_only=True)
class Entrance:
    """The pages `first` and `sign-in`."""

    problem: str = ""
    goal: str = "/"
    place: str = ""
    unsent: bool = False


def _caller(request: Request) -> str:
    return request.client.host if request.client is not None else "unknown"


def own_page(goal: str, /) -> str:
    """A page of ours to go on to; anything else becomes the start page."""
    parts = urlsplit(goal)
    plain = not parts.scheme and not parts.netloc and goal.startswith("/")
    return goal if plain and not goal.startswith("//") and "\\" not in goal else "/"


@router.get("/first")
def first(request: Request, site: SiteNow) -> Response:
    """Choose the password, at the first start and on the coach's own machine only."""
    if site.passwords.is_set:
        return RedirectResponse("/sign-in", status_code=303)
    _require_first(request, site)
    return render(request, "pages/first.html", shown=Entrance(place=site.options.place))


@router.post("/first")
def choose(request: Request, site: SiteNow, password: Typed = "", again: Typed = "") -> Response:
    """Keep the password and let this device in."""
    _require_first(request, site)
    try:
        _require_the_same(password, again)
        site.passwords.choose(password)
    except InputError as error:
        shown = Entrance(problem=error.sentence, place=site.options.place)
        return render(request, "pages/first.html", shown=shown, status=422)
    return _let_in(request, site, goal="/")


@router.get("/sign-in")
def sign_in(request: Request, site: SiteNow, goal: str = "/", *, unsent: bool = False) -> Response:
    """Ask for the password; say where a form was sent after the session had ended."""
    if not site.passwords.is_set:
        return RedirectResponse("/first", status_code=303)
    shown = Entrance(goal=own_page(goal), unsent=unsent)
    return render(request, "pages/sign-in.html", shown=shown)


@router.post("/sign-in")
def enter(request: Request, site: SiteNow, password: Typed = "", goal: Typed = "/") -> Response:
    """Check the password, slower with every wrong one."""
    who = _caller(request)
    wait = site.throttle.wait_s(who)
    if wait > 0:
        shown = Entrance(problem=_slower(wait), goal=own_page(goal))
        return render(request, "pages/sign-in.html", shown=shown, status=429)
    if not site.passwords.fits(password):
        site.throttle.wrong(who)
        shown = Entrance(problem="That is not the password. Type it again.", goal=own_page(goal))
        return render(request, "pages/sign-in.html", shown=shown, status=401)
    site.throttle.right(who)
    return _let_in(request, site, goal=own_page(goal))


@router.post("/sign-out")
def sign_out(site: SiteNow, form: SentForm) -> Response:
    """Let this device out, or all of them."""
    response = RedirectResponse("/sign-in", status_code=303)
    if form.ticked("all"):
        site.sessions.end_all()
    site.sessions.end(response)
    return response


def _require_the_same(password: str, again: str) -> None:
    if password != again:
        raise InputError(
            "The two passwords differ", why="they must be the same.", fix="Type both again."
        )


def _slower(wait: float) -> str:
    return f"Too many wrong passwords. Wait {max(1, round(wait))} s, then type it again."


def _let_in(request: Request, site: Site, *, goal: str) -> Response:
    response = RedirectResponse(goal, status_code=303)
    site.sessions.begin(response, secure=request.url.scheme == "https")
    return response


def _require_first(request: Request, site: Site) -> None:
    if site.passwords.is_set:
        raise InputError(
            "The password is chosen already",
            why="this page is for the first start only.",
            fix="Sign in; the password can be changed in the settings.",
        )
    if _caller(request) not in _LOOPBACK:
        raise InputError(
            "The password must be chosen on the coach's own machine",
            why="this device is another one.",
            fix="Open the program's page on the machine it runs on.",
        )
