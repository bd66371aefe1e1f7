"""Moving the points of a set-up: a table of coordinates, and the pictures over it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse

from wellset.errors import ConflictError, EstimationError, InputError, SceneError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.lessons import Lesson, SetUp, StudentCard
from wellset.reports.following import landmark_words
from wellset.services.landmark_file import read_landmarks
from wellset.services.lesson_work import picture_address
from wellset.services.moving import points_of
from wellset.services.points import Deed, PointEdit, StickEdit, edited, proposal_of
from wellset.web.forms import Form, SentForm
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)

_Data = dict[str, Any]
_WORDS: Final = landmark_words()
_ROOM: Final = 0.07
"""Room round the points in a picture that shows a golfer, share of the points' box."""


@frozen(kw_only=True)
class PointRow:
    """One landmark in a picture.

    Parameters
    ----------
    name, words : str
        Its name in files, and what coaches call it.
    number : int
        As drawn beside it while scripts are off.
    x, y : str
        As shown in the fields; empty where it has no place.
    stands : str
        Who placed it, or why it has no place.
    moved : bool
        Whether a person changed it.
    """

    name: str
    words: str
    number: int
    x: str
    y: str
    stands: str
    moved: bool


@frozen(kw_only=True)
class StickRow:
    """One stick on the ground: the fields of its two points, ``x, y, x, y``."""

    number: int
    ends: tuple[str, str, str, str]
    stands: str


@frozen(kw_only=True)
class Box:
    """Part of a picture, pixel."""

    x: float
    y: float
    width: float
    height: float


@frozen(kw_only=True)
class PointsView:
    """One picture with its points.

    Parameters
    ----------
    view : View
    address : str
        Of the picture.
    width, height : int
        Of the full picture, pixel.
    box : Box
        The part with the golfer, shown while scripts are off.
    rows : tuple of PointRow
    sticks : tuple of StickRow
        With an empty one at the end, for a stick that was not found.
    """

    view: View
    address: str
    width: int
    height: int
    box: Box
    rows: tuple[PointRow, ...]
    sticks: tuple[StickRow, ...]


@frozen(kw_only=True)
class PointsPage:
    """The points of a set-up.

    Parameters
    ----------
    setup : SetUp
    lesson : Lesson
    student : StudentCard
    views : tuple of PointsView
    base : str
        The landmark file that the fields start from.
    version : int
        Of the set-up that saving writes over.
    words : str
        What coaches call the landmarks, as JSON.
    trouble : str
        Why the points could not be saved.
    newer : bool
        Whether somebody else saved meanwhile, and the coach must choose.
    """

    setup: SetUp
    lesson: Lesson
    student: StudentCard
    views: tuple[PointsView, ...]
    base: str
    version: int
    words: str = json.dumps(_WORDS)
    trouble: str = ""
    newer: bool = False


@router.get("/setups/{setup_id}/points")
def points(request: Request, site: SiteNow, setup_id: str) -> Response:
    """The points as they are kept."""
    return _page(request, site, setup_id)


@router.post("/setups/{setup_id}/points")
def save(request: Request, site: SiteNow, setup_id: str, form: SentForm) -> Response:
    """Keep the points of the table; where somebody else saved meanwhile, ask."""
    base, version = form.text("landmarks"), form.number("version")
    read_landmarks(base, where="the form")
    changed = base
    try:
        changed = edited(base, _edits(form, json.loads(base)))
        site.bench.keep(site.desk, setup_id, landmarks=changed, version=version)
    except ConflictError as error:
        return _page(
            request, site, setup_id, base=changed, trouble=error.sentence, newer=True, status=409
        )
    except (InputError, SceneError, EstimationError) as error:
        return _page(
            request,
            site,
            setup_id,
            base=base,
            typed=dict(form.starting("")),
            trouble=error.sentence,
            version=version,
            status=422,
        )
    return RedirectResponse(f"/setups/{setup_id}", status_code=303)


def _page(
    request: Request,
    site: Site,
    setup_id: str,
    *,
    base: str = "",
    typed: Mapping[str, str] | None = None,
    trouble: str = "",
    newer: bool = False,
    version: int | None = None,
    status: int = 200,
) -> Response:
    with site.desk.book.reading() as pages:
        setup = points_of(pages, setup_id)
        lesson, student = pages.lesson(setup.lesson), pages.student(setup.student)
    base = base or setup.landmarks
    shown = PointsPage(
        setup=setup,
        lesson=lesson,
        student=student,
        views=tuple(_views(setup, json.loads(base), typed=typed or {})),
        base=base,
        version=setup.version if version is None else version,
        trouble=trouble,
        newer=newer,
    )
    return render(request, "pages/points.html", shown=shown, status=status)


def _views(setup: SetUp, data: _Data, *, typed: Mapping[str, str]) -> Iterator[PointsView]:
    for view, shown in setup.shown.items():
        if view.value not in data["views"]:
            continue
        content = data["views"][view.value]
        entries = content["landmarks"]
        yield PointsView(
            view=view,
            address=picture_address(setup.id, view, shown=shown),
            width=content["picture"]["width_px"],
            height=content["picture"]["height_px"],
            box=_box(content),
            rows=tuple(
                _row(view, name, entry=entries[name], number=i, typed=typed)
                for i, name in enumerate(LANDMARKS, start=1)
                if name in entries
            ),
            sticks=tuple(_stick_rows(view, content.get("sticks") or [], typed=typed)),
        )


def _box(content: _Data, /) -> Box:
    """The part of a picture round its points, with room above for a cap."""
    width, height = content["picture"]["width_px"], content["picture"]["height_px"]
    placed = [each for each in content["landmarks"].values() if "x_px" in each]
    across = [each["x_px"] for each in placed] or [0.0, width]
    down = [each["y_px"] for each in placed] or [0.0, height]
    room = _ROOM * max(max(across) - min(across), max(down) - min(down))
    x, y = max(min(across) - room, 0.0), max(min(down) - 2 * room, 0.0)
    return Box(
        x=round(x, 1),
        y=round(y, 1),
        width=round(min(max(across) + room, width) - x, 1),
        height=round(min(max(down) + room, height) - y, 1),
    )


def _row(view: View, name: str, *, entry: _Data, number: int, typed: Mapping[str, str]) -> PointRow:
    x, y = _shown(entry)
    own = proposal_of(entry)
    moved = entry.get("placed_by") == "coach" or ("not_seen" in entry and own is not None)
    return PointRow(
        name=name,
        words=_WORDS[name],
        number=number,
        x=typed.get(f"x:{view.value}:{name}", x),
        y=typed.get(f"y:{view.value}:{name}", y),
        stands=_stands(entry, own=own),
        moved=moved,
    )


def _shown(entry: _Data, /) -> tuple[str, str]:
    """Coordinates as the fields show them: to a tenth of a pixel."""
    if "not_seen" in entry:
        return "", ""
    return f"{entry['x_px']:.1f}", f"{entry['y_px']:.1f}"


def _stands(entry: _Data, *, own: _Data | None) -> str:
    if "not_seen" in entry:
        return f"no place: {entry['not_seen']}"
    if entry.get("placed_by") == "model":
        return "network’s place"
    return f"placed by you; network: {', '.join(_shown(own))}" if own else "placed by you"


def _stick_rows(view: View, sticks: list[_Data], *, typed: Mapping[str, str]) -> Iterator[StickRow]:
    for number, stick in enumerate([*sticks, None]):
        ends = [v for end in stick["ends_px"] for v in end] if stick else []
        a, b, c, d = (
            typed.get(f"stick:{view.value}:{number}:{i}", f"{ends[i]:.1f}" if ends else "")
            for i in range(4)
        )
        stands = "" if stick is None else "found"
        if stick and stick.get("placed_by") == "coach":
            stands = "placed by you"
        yield StickRow(number=number, ends=(a, b, c, d), stands=stands)


def _edits(form: Form, data: _Data, /) -> Iterator[PointEdit | StickEdit]:
    """What the fields say otherwise than the file they were opened with."""
    for view in View:
        content = data["views"].get(view.value)
        if content is None:
            continue
        for name, entry in content["landmarks"].items():
            edit = _edit(form, view, name=name, entry=entry)
            if edit is not None:
                yield edit
        yield from _stick_edits(form, view, sticks=content.get("sticks") or [])


def _edit(form: Form, view: View, *, name: str, entry: _Data) -> PointEdit | None:
    at = f"{view.value}:{name}"
    deed = form.text(f"do:{at}")
    if deed in {Deed.BACK, Deed.RULE_OUT}:
        return PointEdit(view=view, landmark=name, deed=Deed(deed))
    texts = form.text(f"x:{at}"), form.text(f"y:{at}")
    if texts == _shown(entry) or not any(texts):
        return None
    x, y = (_number(text, of=f"the {_WORDS[name]} in the {view.words} picture") for text in texts)
    return PointEdit(view=view, landmark=name, deed=Deed.PLACE, at_px=(x, y))


def _stick_edits(form: Form, view: View, *, sticks: list[_Data]) -> Iterator[StickEdit]:
    for row in _stick_rows(view, sticks, typed={}):
        at = f"stick:{view.value}:{row.number}"
        texts = tuple(form.text(f"{at}:{i}") for i in range(4))
        if form.ticked(f"{at}:away"):
            yield StickEdit(view=view, number=row.number, ends_px=None)
        elif texts != row.ends and any(texts):
            a, b, c, d = (_number(t, of=f"a stick in the {view.words} picture") for t in texts)
            yield StickEdit(view=view, number=row.number, ends_px=((a, b), (c, d)))


def _number(text: str, *, of: str) -> float:
    try:
        return round(float(text.replace(",", ".")), 2)
    except ValueError:
        raise InputError(
            "The points cannot be used",
            why=f'{of} stands at "{text[:40]}", which is no number.'
            if text
            else f"{of} has only one of its numbers.",
            fix="Give both numbers, in pixels from the picture's top left corner.",
        ) from None
