"""What went wrong, as a page or as JSON: the one table of statuses."""

from __future__ import annotations

from typing import Final

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse
from starlette.exceptions import HTTPException

from wellset import errors as e
from wellset.web.entry import NotSignedInError
from wellset.web.rendering import render

STATUS: Final[dict[type[e.WellsetError], int]] = {
    e.MissingError: 404,
    e.ConflictError: 409,
    e.InputError: 422,
    e.PictureError: 422,
    e.SceneError: 422,
    e.EquipmentError: 422,
    e.StandardsError: 422,
    e.EstimationError: 422,
    e.OutputError: 507,
    e.StorageError: 507,
}
_WORDS: Final = {
    403: ("You may not do this", "the request came from elsewhere.", "Go back and try again."),
    404: ("There is no such page", "the link is wrong or old.", "Start from Today."),
    405: ("This page cannot do that", "the link is wrong.", "Start from Today."),
    413: ("This is too large", "it has more than this page takes.", "Send less at a time."),
}


def status_of(error: e.WellsetError, /) -> int:
    """The HTTP status of one of our errors."""
    return next(status for kind, status in STATUS.items() if isinstance(error, kind))


def wants_json(request: Request, /) -> bool:
    """Whether a program asks rather than a person."""
    return request.url.path.startswith("/api/") or "application/json" in request.headers.get(
        "accept", ""
    )


def problem(request: Request, error: e.WellsetError, *, status: int) -> Response:
    """An error as what, why and how to mend it."""
    parts = {"what": error.what, "why": error.why, "fix": error.fix, "where": error.where}
    if wants_json(request):
        return JSONResponse({"error": parts}, status_code=status)
    shown = {"problem": parts, "sent": request.method == "POST"}
    return render(request, "pages/problem.html", shown=shown, status=status)


def add_problems(app: FastAPI, /) -> None:
    """Teach an application to answer errors."""

    @app.exception_handler(e.WellsetError)
    def ours(request: Request, error: e.WellsetError) -> Response:
        return problem(request, error, status=status_of(error))

    @app.exception_handler(NotSignedInError)
    def stranger(request: Request, error: NotSignedInError) -> Response:
        if wants_json(request):
            told = e.InputError(
                "You are not signed in", why="this device has no session.", fix="Sign in first."
            )
            return problem(request, told, status=401)
        return RedirectResponse(error.page, status_code=303)

    @app.exception_handler(RequestValidationError)
    def wrong_form(request: Request, error: RequestValidationError) -> Response:
        places = ", ".join(".".join(str(p) for p in each["loc"][1:]) for each in error.errors())
        told = e.InputError(
            "The form cannot be used",
            why=f"these entries are missing or wrong: {places}.",
            fix="Mend them, then send it again.",
        )
        return problem(request, told, status=422)

    @app.exception_handler(HTTPException)
    def plain(request: Request, error: HTTPException) -> Response:
        what, why, fix = _WORDS.get(
            error.status_code, ("This cannot be done", f"{error.detail}.", "Go back.")
        )
        told = e.InputError(what, why=why, fix=fix)
        return problem(request, told, status=error.status_code)

    @app.exception_handler(Exception)
    def fault(request: Request, error: Exception) -> Response:
        told = e.StorageError(
            "A fault in the program",
            why=f"{type(error).__name__}; nothing was half saved.",
            fix="Try again; if it happens again, report it with the program's output.",
        )
        return problem(request, told, status=500)
