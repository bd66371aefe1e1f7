"""How a set-up was taken, as fields of a form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from attrs import frozen
from starlette.datastructures import UploadFile

from wellset.bootstrap.videos import seconds_of, swing_of
from wellset.figure.ground import GroundKind
from wellset.figure.still import Choice, StillMoment
from wellset.figure.views import View
from wellset.lessons import HowTaken, PlateFile
from wellset.units import degrees, parse_angle, parse_length
from wellset.web.forms import Form
from wellset.web.site import Site
from wellset.web.uploads import keep_plate

Value = TypeVar("Value")
THINGS = {
    GroundKind.STICK: "Sticks that lie",
    GroundKind.UPRIGHT: "Upright sticks and plumb lines",
    GroundKind.SHEET: "The marker sheet",
}


@frozen(kw_only=True)
class ClipFields:
    """Which set-up of a clip.

    Parameters
    ----------
    view : View
    start, swing : str
        As in their fields.
    found : tuple of (number, words)
        Set-ups that were found in it; empty before it was looked at.
    measured : int
        Which of them was measured.
    """

    view: View
    start: str
    swing: str
    found: tuple[tuple[str, str], ...] = ()
    measured: int = 0


@frozen(kw_only=True)
class HowFields:
    """What the form shows.

    Parameters
    ----------
    phone_level, sheet_aimed : bool
    things : tuple of (name, words, ticked)
        Things on the ground that may be left out.
    club_length, club_lie : str
    clips : tuple of ClipFields
    plate : str
        Name of the plate's file that is kept; empty without one.
    said : tuple of str
        What was said, in words.
    """

    phone_level: bool
    sheet_aimed: bool
    things: tuple[tuple[str, str, bool], ...]
    club_length: str
    club_lie: str
    clips: tuple[ClipFields, ...]
    plate: str
    said: tuple[str, ...]


def how_fields(
    how: HowTaken,
    /,
    *,
    inches: bool,
    clips: tuple[View, ...] = tuple(View),
    stills: Mapping[View, StillMoment] | None = None,
) -> HowFields:
    """The fields of a form that says how a set-up was taken.

    Parameters
    ----------
    how : HowTaken
    inches : bool
    clips : tuple of View
        Views of which a clip is, or may be, given.
    stills : mapping of View to StillMoment, optional
        What was found in the clips.
    """
    return HowFields(
        phone_level=how.phone_level,
        sheet_aimed=how.sheet_aimed,
        things=tuple((kind.value, words, kind in how.ignore) for kind, words in THINGS.items()),
        club_length=_length(how.club_length_m, inches=inches),
        club_lie="" if how.lie is None else f"{degrees(how.lie):.3g}",
        clips=tuple(
            _clip(view, how.choice(view), still=(stills or {}).get(view)) for view in clips
        ),
        plate=how.plate.name or "readings" if how.plate is not None else "",
        said=tuple(_said(how, inches=inches)),
    )


def _clip(view: View, choice: Choice, *, still: StillMoment | None) -> ClipFields:
    found = () if still is None else still.set_ups
    return ClipFields(
        view=view,
        start="" if choice.start_s is None else f"{choice.start_s:g}",
        swing="" if choice.swing is None else str(choice.swing),
        found=tuple(
            (str(number), f"number {number}, still from {each.start_s:.1f} to {each.end_s:.1f} s")
            for number, each in enumerate(found, start=1)
        ),
        measured=0 if still is None else still.chosen,
    )


def _length(value: float | None, *, inches: bool) -> str:
    if value is None:
        return ""
    return f"{value / 0.0254:.4g} in" if inches else f"{value * 100:.4g} cm"


def _said(how: HowTaken, *, inches: bool) -> list[str]:
    said = []
    if how.phone_level:
        said.append("the phone stood level and upright")
    if how.sheet_aimed:
        said.append("the marker sheet was aimed with care")
    if how.ignore:
        left = " and ".join(kind.words for kind in GroundKind if kind in how.ignore)
        said.append(f"left out: {left}")
    if how.club_length_m is not None:
        said.append(f"club of {_length(how.club_length_m, inches=inches)}")
    if how.lie is not None:
        said.append(f"lie {degrees(how.lie):.3g}°")
    for view, choice in how.choices:
        if choice.start_s is not None:
            said.append(f"{view.words} clip from {choice.start_s:g} s on")
        if choice.swing is not None:
            said.append(f"{view.words} clip, set-up number {choice.swing}")
    if how.plate is not None:
        said.append("a pressure plate was read")
    return said


def sent_how(site: Site, form: Form, /, *, before: HowTaken | None = None) -> HowTaken:
    """What a form says of how a set-up was taken.

    Parameters
    ----------
    before : HowTaken, optional
        What was said earlier: its plate stays unless another file comes or it is taken out.

    Raises
    ------
    InputError
    """
    return HowTaken(
        phone_level=form.ticked("phone_level"),
        sheet_aimed=form.ticked("sheet_aimed"),
        ignore=[kind for kind in GroundKind if form.ticked(f"ignore_{kind.value}")],
        choices={
            view: Choice(
                start_s=_read(form, f"{view.value}_start", reads=seconds_of),
                swing=_read(form, f"{view.value}_swing", reads=swing_of),
            )
            for view in View
        },
        club_length_m=_read(
            form, "club_length", reads=lambda t: parse_length(t, where="club length")
        ),
        lie=_read(form, "club_lie", reads=lambda t: parse_angle(t, where="club lie")),
        plate=_plate(site, form, before=before.plate if before is not None else None),
    )


def _read(form: Form, name: str, *, reads: Callable[[str], Value]) -> Value | None:
    text = form.text(name)
    return reads(text) if text else None


def _plate(site: Site, form: Form, *, before: PlateFile | None) -> PlateFile | None:
    upload = form.data.get("plate")
    if isinstance(upload, UploadFile) and upload.filename:
        return keep_plate(site, upload)
    return None if form.ticked("no_plate") else before
