"""The application: doors, pages, static files."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager

from fastapi import Depends, FastAPI
from starlette.middleware import Middleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from wellset import __version__
from wellset.services.lesson_work import Desk
from wellset.web.api import description
from wellset.web.entry import signed_in
from wellset.web.limits import BodyLimits
from wellset.web.pages import (
    check,
    drills,
    entrance,
    handover,
    lessons,
    measures,
    plan,
    points,
    progress,
    settings,
    setups,
    sharing,
    sheets,
    standards,
    students,
    take_home,
    today,
)
from wellset.web.problems import add_problems
from wellset.web.security.doors import Doors
from wellset.web.security.passwords import Passwords
from wellset.web.security.sessions import Sessions
from wellset.web.site import Line, Options, Site

BOOK_PAGES = (
    today,
    students,
    plan,
    take_home,
    progress,
    lessons,
    setups,
    check,
    points,
    standards,
    drills,
    sharing,
    sheets,
    handover,
    measures,
    settings,
)
"""Pages for signed-in devices only."""
INTERFACE = (description, *description.PARTS)
"""What programs use, signed in likewise."""


class _Kept(StaticFiles):
    """Files: browsers may keep those whose address changes with them, and ask about others.

    Scripts that another script imports have plain addresses.
    """

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        named = scope["query_string"].startswith(b"v=")
        response.headers["cache-control"] = (
            "public, max-age=31536000, immutable" if named else "no-cache"
        )
        return response


def create_app(
    desk: Desk,
    *,
    line: Line,
    options: Options,
    on_start: Callable[[], None] | None = None,
    on_stop: Callable[[], None] | None = None,
) -> FastAPI:
    """The lesson book as a web application.

    Parameters
    ----------
    desk : Desk
    line : Line
        The line of background work.
    options : Options
    on_start, on_stop : callable, optional
        Called when the server begins and ends.
    """
    app = FastAPI(
        title="Wellset",
        version=__version__,
        lifespan=_life(on_start, on_stop),
        docs_url=None,  # the usual page of the interface loads scripts from elsewhere
        redoc_url=None,
        openapi_url=None,  # a router of ours serves it, to signed-in devices
        telemetry={"auto_configure": False},
        middleware=[
            Middleware(Doors, lan=options.lan),
            Middleware(BodyLimits, most_upload=options.most_upload),
        ],
    )
    app.state.site = Site(
        desk=desk,
        line=line,
        options=options,
        passwords=Passwords(book=desk.book),
        sessions=Sessions(book=desk.book),
    )
    add_problems(app)
    app.include_router(entrance.router)
    app.include_router(sheets.door)
    app.include_router(check.door)
    app.include_router(sharing.door)
    for page in (*BOOK_PAGES, *INTERFACE):
        app.include_router(page.router, dependencies=[Depends(signed_in)])
    app.mount("/static", _Kept(packages=[("wellset.web", "static")]), name="static")
    return app


def _life(
    on_start: Callable[[], None] | None, on_stop: Callable[[], None] | None
) -> Callable[[FastAPI], AbstractAsyncContextManager[None]]:
    """What happens when the server begins and when it ends."""

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        if on_start is not None:
            on_start()
        yield
        if on_stop is not None:
            on_stop()

    return life
