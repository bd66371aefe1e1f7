"""What all parts of the interface share: who may ask, and what an error looks like."""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Security
from fastapi.routing import APIRoute
from fastapi.security import APIKeyCookie

from wellset.web.api.models import Problem
from wellset.web.security.sessions import COOKIE

# Only told to readers here; the application's own guard stands before every router.
_SESSION: Final = APIKeyCookie(
    name=COOKIE, auto_error=False, scheme_name="session", description="Sign in at /sign-in."
)
ERRORS: Final[dict[int | str, dict[str, Any]]] = {
    401: {"model": Problem, "description": "Not signed in."},
    404: {"model": Problem, "description": "Not in the lesson book."},
    409: {"model": Problem, "description": "Changed meanwhile: load it again."},
    422: {"model": Problem, "description": "Cannot be used; the words say what and why."},
    507: {"model": Problem, "description": "Could not be kept: disk full, database locked."},
}

Limit = Annotated[int, Query(ge=1, le=200, description="How many at most.")]
Offset = Annotated[int, Query(ge=0, le=10_000_000, description="How many to pass over.")]


def interface_router(tag: str, /) -> APIRouter:
    """A router of one part of the interface."""
    return APIRouter(
        tags=[tag],
        responses=ERRORS,
        dependencies=[Security(_SESSION)],
        generate_unique_id_function=_name,
    )


def _name(route: APIRoute) -> str:
    return route.name
