"""A student's picture with a few marks: where the body is, where to go, what is good.

Coordinates are pixels of the upright picture as taken. Sizes are in units of a
four-hundredth of the frame's width, as in :mod:`wellset.reports.marks`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import field, frozen
from markupsafe import Markup, escape
from numpy.typing import NDArray

from wellset.figure.views import View
from wellset.reports.marks import AMBER, CHALK, INK, UNITS_ACROSS, Box

Array = NDArray[np.float64]

MOSS: Final = "#1c6446"
LINEN: Final = "#f4f1e6"
BODY: Final = "#8fb3a1"
ASPECT: Final = 1.28
"""Height of the shown part over its width."""
LEAST_ARROW: Final = 30.0
"""Units: a shorter way is drawn as an arrow of this length, so that it can be seen."""
_BADGE: Final = 14.0
_AWAY: Final = 34.0
_LIMBS: Final = (
    ("shoulder", "elbow", 0.055),
    ("elbow", "wrist", 0.045),
    ("hip", "knee", 0.085),
    ("knee", "ankle", 0.065),
    ("shoe_heel", "shoe_toe", 0.045),
)
"""Limbs of the drawn body by their ends, and their thickness as a share of its height."""


def _pixels(value: object) -> Array:
    array = np.array(value, dtype=np.float64).reshape(-1, 2)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class ChangeMark:
    """Where something is and where it should go, shape (n, 2) each."""

    now_px: Array = field(converter=_pixels)
    aim_px: Array = field(converter=_pixels)
    badge_px: tuple[float, float]


@frozen(kw_only=True)
class GoodMark:
    """A tick beside something that is good."""

    at_px: tuple[float, float]
    badge_px: tuple[float, float]


@frozen(kw_only=True, eq=False)
class SheetPicture:
    """One picture of the sheet.

    Parameters
    ----------
    view : View
    title, alt : str
        What stands under it; what is told to those who cannot see it.
    frame : Box
        The part that is shown, pixel of the picture as taken.
    size_px : (int, int)
        Width and height of the whole picture.
    landmarks : mapping of landmark to (x, y)
        Where the solved set-up lies in it: the body is drawn when there is no picture.
    change : ChangeMark or None
    good : tuple of GoodMark
    """

    view: View
    title: str
    alt: str
    frame: Box
    size_px: tuple[int, int]
    landmarks: Mapping[str, tuple[float, float]]
    change: ChangeMark | None
    good: tuple[GoodMark, ...]

    @property
    def marks(self) -> int:
        """How many marks there are."""
        return len(self.good) + (self.change is not None)


def frame_round(pixels: Array, /, *, width_px: int, height_px: int) -> Box:
    """The part of a picture round golfer, club and ball.

    Parameters
    ----------
    pixels : (n, 2) array
        Where the set-up's landmarks lie.
    """
    low, high = pixels.min(axis=0), pixels.max(axis=0)
    tall = 1.26 * float(high[1] - low[1])
    wide = max(tall / ASPECT, 1.3 * float(high[0] - low[0]))
    tall = min(wide * ASPECT, height_px)
    wide = min(tall / ASPECT, width_px)
    tall = min(wide * ASPECT, height_px)
    # a little more room above than below: a head is higher than its landmarks
    middle = (low + high) / 2 - np.array([0.0, 0.035 * tall])
    x = float(np.clip(middle[0] - wide / 2, 0, width_px - wide))
    y = float(np.clip(middle[1] - tall / 2, 0, height_px - tall))
    return Box(x=round(x), y=round(y), width=max(int(wide), 1), height=max(int(tall), 1))


def badge_place(anchor: Array, /, *, busy: Array, frame: Box) -> tuple[float, float]:
    """Beside a place, as far as can be from what should stay visible.

    Parameters
    ----------
    anchor : (2,) array
    busy : (n, 2) array
    """
    unit = frame.width / UNITS_ACROSS
    turn = np.linspace(0, 2 * np.pi, 16, endpoint=False)
    ring = anchor + _AWAY * unit * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    edge = (_BADGE + 4) * unit
    low = np.array([frame.x, frame.y]) + edge
    high = np.array([frame.x + frame.width, frame.y + frame.height]) - edge
    ring = np.clip(ring, low, np.maximum(high, low))
    room = np.linalg.norm(ring[:, None] - busy[None], axis=2).min(axis=1)
    x, y = ring[int(np.argmax(room))]
    return float(x), float(y)


def _path(points: Array) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _stroke(points: Array, *, colour: str, width: float, unit: float, dash: str = "") -> str:
    path = _path(points)
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{path}" stroke="{INK}" stroke-width="{(width + 2.4) * unit:.2f}" '
        f'stroke-opacity="0.6"/>'
        f'<path d="{path}" stroke="{colour}" stroke-width="{width * unit:.2f}"{dashes}/>'
    )


def arrow_ends(start: Array, end: Array, /, *, least: float) -> Array:
    """An arrow from one place toward another, long enough to be seen, shape (2, 2)."""
    way = end - start
    length = float(np.hypot(*way))
    if length < 1e-6:
        return np.array([start, start])
    return np.array([start, start + way * max(least / length, 1.0)])


def _arrow(start: Array, end: Array, *, unit: float) -> str:
    ends = arrow_ends(start, end, least=LEAST_ARROW * unit)
    way = ends[1] - ends[0]
    length = float(np.hypot(*way))
    if length < 1e-6:
        return ""
    along = way / length
    across = np.array([-along[1], along[0]])
    neck = ends[1] - 13 * unit * along
    head = np.array([ends[1], neck + 7.5 * unit * across, neck - 7.5 * unit * across])
    return (
        _stroke(np.array([ends[0], neck]), colour=AMBER, width=4.2, unit=unit)
        + f'<path d="{_path(head)}Z" fill="{AMBER}" stroke="{INK}" stroke-opacity="0.6" '
        f'stroke-width="{1.2 * unit:.2f}" stroke-linejoin="round"/>'
    )


def _change(mark: ChangeMark, *, unit: float) -> str:
    now, aim = mark.now_px, mark.aim_px
    parts = []
    if len(now) > 1 and not _along(now, aim):
        parts.append(_stroke(now, colour=CHALK, width=4.0, unit=unit))
        parts.append(
            _stroke(aim, colour=AMBER, width=4.0, unit=unit, dash=f"{9 * unit:.1f} {6 * unit:.1f}")
        )
    far = int(np.argmax(np.hypot(*(aim - now).T)))
    pairs = range(len(now)) if _apart(now, aim) else (far,)
    for i in pairs:
        x, y = now[i]
        parts.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{5 * unit:.1f}" fill="{CHALK}" '
            f'stroke="{INK}" stroke-width="{1.6 * unit:.2f}"/>'
        )
        parts.append(_arrow(now[i], aim[i], unit=unit))
    x, y = mark.badge_px
    one = np.array([[x - 4 * unit, y - 3.6 * unit], [x + 0.6 * unit, y - 7.4 * unit],
                    [x + 0.6 * unit, y + 7.4 * unit]])  # fmt: skip
    parts.append(
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_BADGE * unit:.1f}" fill="{AMBER}" '
        f'stroke="{INK}" stroke-width="{1.4 * unit:.2f}"/>'
        f'<path d="{_path(one)}" stroke="{INK}" stroke-width="{3 * unit:.2f}"/>'
    )
    return "".join(parts)


def _apart(now: Array, aim: Array) -> bool:
    """Whether two points go opposite ways: feet that move apart or together."""
    steps = aim - now
    return len(now) == 2 and float(steps[0] @ steps[1]) < 0


def _along(now: Array, aim: Array) -> bool:
    """Whether the ends of a line only slide along it: then the line itself says nothing."""
    line = now[-1] - now[0]
    steps = aim - now
    across = np.abs(steps[:, 0] * line[1] - steps[:, 1] * line[0])
    size = float(np.hypot(*line)) * float(np.hypot(*steps.T).max())
    return size > 0 and float(across.max()) < 0.2 * size and _apart(now, aim)


def _good(mark: GoodMark, *, unit: float) -> str:
    (x, y), (px, py) = mark.badge_px, mark.at_px
    tick = np.array([[x - 6 * unit, y + 0.4 * unit], [x - 1.6 * unit, y + 5 * unit],
                     [x + 6.4 * unit, y - 5.4 * unit]])  # fmt: skip
    leader = np.array([[px, py], [x, y]])
    return (
        _stroke(leader, colour=CHALK, width=1.6, unit=unit)
        + f'<circle cx="{px:.1f}" cy="{py:.1f}" r="{3.4 * unit:.1f}" fill="{CHALK}" '
        f'stroke="{INK}" stroke-width="{1.2 * unit:.2f}"/>'
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{(_BADGE - 1) * unit:.1f}" fill="{MOSS}" '
        f'stroke="{CHALK}" stroke-width="{1.8 * unit:.2f}"/>'
        f'<path d="{_path(tick)}" stroke="{CHALK}" stroke-width="{3 * unit:.2f}"/>'
    )


def _body(picture: SheetPicture) -> str:
    """The solved body in the picture's own perspective, where the picture is missing."""
    seen = {name: np.array(place) for name, place in picture.landmarks.items()}
    if not seen:
        return ""
    heights = [float(place[1]) for place in seen.values()]
    tall = max(heights) - min(heights)

    def limb(names: Sequence[str], width: float) -> str:
        if not all(name in seen for name in names):
            return ""
        path = _path(np.array([seen[name] for name in names]))
        return f'<path d="{path}" stroke="{BODY}" stroke-width="{width * tall:.1f}"/>'

    parts = [
        limb([f"{lead}_{first}", f"{lead}_{second}"], width)
        for lead in ("trail", "lead")
        for first, second, width in _LIMBS
    ]
    parts.append(limb(["lead_shoulder", "lead_hip", "trail_hip", "trail_shoulder"], 0.10))
    parts.append(limb(["s1", "l3", "t12", "t8", "c7"], 0.12))
    club = limb(["grip_end", "shaft_end", "club_head"], 0.008).replace(BODY, INK)
    if "nose" in seen and "lead_ear" in seen:
        x, y = (seen["nose"] + seen["lead_ear"]) / 2
        parts.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{0.068 * tall:.1f}" fill="{MOSS}" '
            f'stroke="{LINEN}" stroke-width="{0.008 * tall:.1f}"/>'
        )
    if "ball" in seen:
        x, y = seen["ball"]
        club += (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{0.014 * tall:.1f}" fill="#ffffff" '
            f'stroke="{INK}" stroke-width="{0.005 * tall:.1f}"/>'
        )
    return "".join(parts) + club


def sheet_picture_svg(
    picture: SheetPicture, /, *, image: str, image_box: Box | None = None
) -> Markup:
    """A picture of the sheet with its marks.

    Parameters
    ----------
    picture : SheetPicture
    image : str
        Address of the picture; empty to draw the body instead.
    image_box : Box, optional
        Which part of the whole picture the image holds; the shown part when left out.
    """
    f = picture.frame
    held, unit = image_box or f, f.width / UNITS_ACROSS
    ground = (
        f'<image href="{escape(image)}" x="{held.x:g}" y="{held.y:g}" width="{held.width:g}" '
        f'height="{held.height:g}" preserveAspectRatio="none"/>'
        if image
        else f'<rect x="{f.x:g}" y="{f.y:g}" width="{f.width:g}" height="{f.height:g}" '
        f'fill="{LINEN}"/>{_body(picture)}'
    )
    marks = "".join(_good(each, unit=unit) for each in picture.good)
    if picture.change is not None:
        marks += _change(picture.change, unit=unit)
    return Markup(  # noqa: S704  # every piece of text was escaped above
        f'<svg class="sheet-picture" xmlns="http://www.w3.org/2000/svg" '
        f'viewBox="{f.x:g} {f.y:g} {f.width:g} {f.height:g}" width="{f.width:g}" '
        f'height="{f.height:g}" role="img" aria-label="{escape(picture.alt)}">'
        f'<g fill="none" stroke-linejoin="round" stroke-linecap="round">{ground}{marks}</g></svg>'
    )
