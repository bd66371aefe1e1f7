"""The description of the interface, for signed-in devices."""

from __future__ import annotations

from functools import cache

from fastapi import APIRouter, FastAPI, Response
from fastapi.responses import JSONResponse

from wellset import __version__
from wellset.web.api import drills, lessons, media, points, setups, students, take_home

router = APIRouter(include_in_schema=False)

PARTS = (students, lessons, setups, points, media, take_home, drills)
"""The parts of the interface, in the order of its description."""

ABOUT = """\
The lesson book for programs: the same use cases as its pages, as JSON.

Sign in once and keep the cookie; there are no other tokens. A request that changes something
carries the header `X-Wellset-Client` with a name of your program: a browser's page from
elsewhere cannot send it. Every error has the same shape: what, why, fix, where. What can be
changed has a version: send back the one you read, and a change by somebody else in between is
answered with 409 instead of being lost.
"""


@cache
def description() -> dict[str, object]:
    """The interface in OpenAPI."""
    whole = FastAPI(title="Wellset", version=__version__, description=ABOUT)
    for part in PARTS:
        whole.include_router(part.router)
    return whole.openapi()


@router.get("/api/openapi.json")
def openapi() -> Response:
    """The interface in OpenAPI."""
    return JSONResponse(description())
