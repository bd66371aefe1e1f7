"""Templates to answers."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cache
from importlib import resources

from attrs import AttrsInstance, fields
from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined

from wellset import __version__


@cache
def environment() -> Environment:
    """The templates of this room: everything escaped, nothing undefined."""
    made = Environment(
        loader=PackageLoader("wellset.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals.update(static=static, version=__version__)
    return made


@cache
def static(name: str) -> str:
    """Address of a file under ``static/``; changes when the file does, so it may be kept."""
    data = resources.files("wellset.web").joinpath("static", *name.split("/")).read_bytes()
    return f"/static/{name}?v={hashlib.sha256(data).hexdigest()[:12]}"


def render(
    request: Request,
    template: str,
    *,
    shown: AttrsInstance | Mapping[str, object],
    status: int = 200,
) -> HTMLResponse:
    """One page.

    Parameters
    ----------
    template : str
        Under ``templates/``.
    shown : attrs value or mapping
        What the page shows.
    """
    if isinstance(shown, Mapping):
        names = dict(shown)
    else:
        names = {each.name: getattr(shown, each.name) for each in fields(type(shown))}
    site = request.app.state.site
    session = site.sessions.who(request)
    names.update(
        path=request.url.path,
        local=site.local,
        signed_in=session is not None,
        token=site.sessions.token(session) if session is not None else "",
    )
    return HTMLResponse(environment().get_template(template).render(names), status_code=status)
