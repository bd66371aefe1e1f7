"""Settings: where the book lies, the password, signing out."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response

from wellset.web.forms import SentForm
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@frozen(kw_only=True)
class Settings:
    """The settings page.

    Parameters
    ----------
    place : str
        Where the book lies.
    lan : bool
        Whether other devices may come in.
    problem, done : str
        What went wrong, or what was changed.
    """

    place: str
    lan: bool
    problem: str = ""
    done: str = ""


@router.get("/settings")
def settings(request: Request, site: SiteNow) -> Response:
    """The settings page."""
    shown = Settings(place=site.options.place, lan=site.options.lan)
    return render(request, "pages/settings.html", shown=shown)


@router.post("/settings/password")
def change_password(request: Request, site: SiteNow, form: SentForm) -> Response:
    """Change the password; the other devices have to sign in anew."""
    problem = _unfit(site, form)
    done = ""
    if not problem:
        site.passwords.choose(form.text("password"))
        site.sessions.end_all()
        done = "The password is changed. Every device has to sign in with it."
    shown = Settings(place=site.options.place, lan=site.options.lan, problem=problem, done=done)
    response = render(request, "pages/settings.html", shown=shown, status=422 if problem else 200)
    if done:
        site.sessions.begin(response, secure=request.url.scheme == "https")
    return response


def _unfit(site: SiteNow, form: SentForm) -> str:
    if not site.passwords.fits(form.text("old")):
        return "The old password is not right. Type it again."
    if form.text("password") != form.text("again"):
        return "The two new passwords differ. Type both again."
    return ""
