"""The description of the interface, for signed-in devices."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response
from fastapi.responses import JSONResponse

router = APIRouter(include_in_schema=False)


@router.get("/api/openapi.json")
def openapi(request: Request) -> Response:
    """The interface in OpenAPI."""
    return JSONResponse(request.app.openapi())
