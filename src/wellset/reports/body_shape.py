"""A solved figure as outlines: limbs, trunk, head, shoes and club, for line drawings.

Where the figure has points on the body's outline (the back, the shoes), the outline runs
through them; elsewhere breadths are those of an ordinary adult and grow with the body. They are
our drawing (from memory of body tables, no source) and no measure reads them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.advise import Seen
from wellset.figure.figure import Figure
from wellset.figure.views import Hand
from wellset.reports.shoe import shoe_outline

Array = NDArray[np.float64]

NECK_LENGTH_M: Final = 0.52
"""Hip to neck of a golfer of ordinary size; breadths grow with it."""
LIMBS: Final = (
    ("hip", "knee", 0.086, 0.056, "thigh"),
    ("knee", "ankle", 0.056, 0.036, "shank"),
    ("shoulder", "elbow", 0.050, 0.039, "upper-arm"),
    ("elbow", "wrist", 0.039, 0.026, "forearm"),
)
"""Ends of each limb, its half-breadths there, metre, and its name."""
HAND_M: Final = 0.040
HEAD_M: Final = 0.098
NECK_M: Final = 0.052
SEAT_M: Final = 0.100
SEAT_BACK_M: Final = 0.022
"""Half-breadth of the seat from the side, and how far it lies behind the hip joints."""


def circle(centre: Array, radius: float, /) -> Array:
    """Points of a circle, (48, 2)."""
    turn = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    return np.asarray(centre + radius * np.column_stack([np.cos(turn), np.sin(turn)]))


def hull(points: Array, /) -> Array:
    """The outline around a set of points, (k, 2): Andrew's monotone chain."""
    ordered = sorted(map(tuple, points.tolist()))

    def half(rows: Sequence[tuple[float, ...]]) -> list[tuple[float, ...]]:
        kept: list[tuple[float, ...]] = []
        for x, y in rows:
            while len(kept) > 1 and (kept[-1][0] - kept[-2][0]) * (y - kept[-2][1]) <= (
                kept[-1][1] - kept[-2][1]
            ) * (x - kept[-2][0]):
                kept.pop()
            kept.append((x, y))
        return kept

    return np.array(half(ordered)[:-1] + half(ordered[::-1])[:-1])


def smooth(points: Array, /, *, closed: bool = True, pieces: int = 8) -> Array:
    """A soft line through points: Catmull and Rom's spline, (k, 2)."""
    n = len(points)
    at = np.linspace(0, 1, pieces, endpoint=False)[:, None]
    parts = []
    for i in range(n if closed else n - 1):
        a, b, c, d = (
            points[j % n] if closed else points[min(max(j, 0), n - 1)]
            for j in (i - 1, i, i + 1, i + 2)
        )
        parts.append(
            0.5
            * (
                2 * b
                + (c - a) * at
                + (2 * a - 5 * b + 4 * c - d) * at**2
                + (3 * b - a - 3 * c + d) * at**3
            )
        )
    return np.vstack([*parts, points[-1:]] if not closed else parts)


@frozen(kw_only=True, eq=False)
class Part:
    """One outline of the drawing.

    Parameters
    ----------
    name : str
        What it is, such as ``"lead thigh"``.
    outline : (N, 2) array, centimetre, y down
    """

    name: str
    outline: Array


@frozen(kw_only=True, eq=False)
class Sheet:
    """Where points of the world fall on the drawing, centimetre, y down.

    Parameters
    ----------
    figure : Figure
        In the frame of a right-hander.
    seen : Seen
    hand : Hand
        A left-hander is drawn mirrored.
    """

    figure: Figure
    seen: Seen
    hand: Hand
    size: float = field(init=False)

    @size.default
    def _size(self) -> float:
        middle = (self.figure["lead_hip"] + self.figure["trail_hip"]) / 2
        return float(np.linalg.norm(self.figure["c7"] - middle)) / NECK_LENGTH_M

    @property
    def way(self) -> float:
        """+1 where the target (from the side: the ball) lies to the drawing's right.

        Seen from above with the golfer below, a right-hander's target lies to the left.
        """
        mirrored = (self.hand is Hand.LEFT) != (self.seen is Seen.ABOVE)
        return -1.0 if mirrored else 1.0

    def at(self, points: Array, /) -> Array:
        """World to drawing, (..., 3) to (..., 2)."""
        x, y, z = points[..., 0], points[..., 1], points[..., 2]
        flat = {
            Seen.FRONT: (self.way * x, -z),
            Seen.SIDE: (-self.way * y, -z),
            Seen.ABOVE: (self.way * x, y),
        }[self.seen]
        return 100 * np.stack(flat, axis=-1)

    def point(self, name: str, /) -> Array:
        """One landmark on the drawing."""
        return self.at(self.figure[name])

    def middle(self, stem: str, /) -> Array:
        """Half way between the lead and the trail landmark, on the drawing."""
        return (self.point(f"lead_{stem}") + self.point(f"trail_{stem}")) / 2

    def long(self, metres: float, /) -> float:
        """A breadth of this body, centimetre."""
        return 100 * self.size * metres


def limb(sheet: Sheet, side: str, /, *, name: str) -> Part:
    """One limb, thick at its upper end."""
    first, second, upper, lower, _ = next(each for each in LIMBS if each[4] == name)
    ends = [
        circle(sheet.point(f"{side}_{stem}"), sheet.long(half))
        for stem, half in ((first, upper), (second, lower))
    ]
    if name == "thigh" and sheet.seen is Seen.SIDE:
        ends.append(seat(sheet, side).outline)
    return Part(name=f"{side} {name}", outline=hull(np.vstack(ends)))


def hand_part(sheet: Sheet, side: str) -> Part:
    """A hand, a little beyond the wrist."""
    elbow, wrist = sheet.figure[f"{side}_elbow"], sheet.figure[f"{side}_wrist"]
    along = (wrist - elbow) / np.linalg.norm(wrist - elbow)
    far = wrist + 0.07 * sheet.size * along
    ends = [circle(sheet.at(wrist), sheet.long(0.026)), circle(sheet.at(far), sheet.long(0.034))]
    return Part(name=f"{side} hand", outline=hull(np.vstack(ends)))


_SHOE_HEIGHTS: Final = ((0.0, 0.3, 0.6, 0.9, 1.0), (0.07, 0.085, 0.055, 0.035, 0.015))
"""Places along a shoe as shares of its length, and its height there, metre."""


def shoe(sheet: Sheet, side: str) -> Part:
    """A shoe: its outline on the ground, and above it."""
    outline = shoe_outline(sheet.figure, side)
    if sheet.seen is Seen.ABOVE:
        flat = np.column_stack([outline, np.zeros(len(outline))])
        return Part(name=f"{side} shoe", outline=sheet.at(flat))
    heel, toe = sheet.figure[f"{side}_shoe_heel"][:2], sheet.figure[f"{side}_shoe_toe"][:2]
    length = float(np.hypot(*(toe - heel)))
    along = ((outline - heel) @ (toe - heel)) / length**2
    tops = np.interp(along, _SHOE_HEIGHTS[0], _SHOE_HEIGHTS[1])
    inner = outline.mean(axis=0) + 0.8 * (outline - outline.mean(axis=0))
    cloud = [np.column_stack([outline, np.zeros(len(outline))]), np.column_stack([inner, tops])]
    return Part(name=f"{side} shoe", outline=hull(sheet.at(np.vstack(cloud))))


def trunk_frame(sheet: Sheet, /) -> tuple[Array, Array, Array]:
    """Mid-hip, and unit vectors forward and up the trunk, from the side on the drawing."""
    low, high = sheet.middle("hip"), sheet.point("c7")
    up = (high - low) / np.linalg.norm(high - low)
    forward = np.array([-up[1], up[0]]) * sheet.way
    return low, forward, up


def back_outline(sheet: Sheet, /) -> Array:
    """The outline of the back from the side, tail bone to neck, through the figure's points."""
    names = ("s1", "l3", "t12", "t8", "c7")
    return smooth(np.array([sheet.point(name) for name in names]), closed=False)


def trunk(sheet: Sheet, /) -> Part:
    """The trunk."""
    if sheet.seen is Seen.SIDE:
        return Part(name="trunk", outline=_trunk_from_side(sheet))
    if sheet.seen is Seen.ABOVE:
        rounds = [
            circle(sheet.point(f"{side}_{stem}"), sheet.long(half))
            for side in ("lead", "trail")
            for stem, half in (("shoulder", 0.06), ("hip", 0.085))
        ]
        return Part(name="trunk", outline=hull(np.vstack(rounds)))
    return Part(name="trunk", outline=_trunk_from_front(sheet))


def _trunk_from_side(sheet: Sheet) -> Array:
    low, forward, up = trunk_frame(sheet)
    tall = float(np.linalg.norm(sheet.point("c7") - low))

    def local(along: float, high: float) -> Array:
        return np.asarray(low + sheet.long(along) * forward + tall * high * up)

    front = [
        local(0.105, 0.93),
        sheet.point("sternum"),
        local(0.135, 0.50),
        local(0.130, 0.24),
        local(0.095, -0.02),
        local(0.01, -0.13),
    ]
    rear = sheet.middle("hip") + np.array([-sheet.way * sheet.long(0.5 * SEAT_M), 0.0])
    back = back_outline(sheet)
    return np.vstack([smooth(np.array([back[-1], *front]), closed=False), [rear], back])


def _trunk_from_front(sheet: Sheet) -> Array:
    shoulder = {side: sheet.point(f"{side}_shoulder") for side in ("lead", "trail")}
    hip = {side: sheet.point(f"{side}_hip") for side in ("lead", "trail")}
    out = {side: sheet.way * (1 if side == "lead" else -1) for side in ("lead", "trail")}
    half: dict[str, list[Array]] = {}
    for side in ("lead", "trail"):
        aside = np.array([out[side], 0.0])
        top, low = shoulder[side], hip[side]
        half[side] = [
            top + np.array([0.0, -sheet.long(0.045)]),
            top + aside * sheet.long(0.040),
            top + 0.35 * (low - top) + aside * sheet.long(0.012),
            top + 0.70 * (low - top) + aside * sheet.long(0.030),
            low + aside * sheet.long(0.078),
            low + aside * sheet.long(0.06) + np.array([0.0, sheet.long(0.08)]),
        ]
    return smooth(np.array([*half["lead"], *half["trail"][::-1]]), pieces=6)


def seat(sheet: Sheet, side: str, /) -> Part:
    """The seat from the side: where a wall or a stick behind the student touches."""
    behind = np.array([-sheet.way * sheet.long(SEAT_BACK_M), 0.0])
    return Part(
        name="seat", outline=circle(sheet.point(f"{side}_hip") + behind, sheet.long(SEAT_M))
    )


def head_centre(sheet: Sheet, /) -> Array:
    """Middle of the head on the drawing."""
    return np.asarray(sheet.middle("ear"))


def head(sheet: Sheet, /) -> tuple[Part, ...]:
    """Neck, head, and a cap, which shows where the face looks."""
    centre, nose = head_centre(sheet), sheet.point("nose")
    neck, reach = sheet.point("c7"), sheet.long(HEAD_M)
    if sheet.seen is Seen.SIDE:
        neck = neck + sheet.long(0.055) * trunk_frame(sheet)[1]
    rounds = [circle(neck, sheet.long(NECK_M)), circle(centre, sheet.long(0.8 * NECK_M))]
    face = (nose - centre) / max(float(np.linalg.norm(nose - centre)), 1e-9)
    crown = np.array([face[1], -face[0]]) * (sheet.way if sheet.seen is Seen.SIDE else 1.0)
    cap, brim = _CAPS[sheet.seen]

    def placed(points: Array) -> Array:
        return np.asarray(centre + reach * (points[:, :1] * face + points[:, 1:] * crown))

    worn = (Part(name="brim", outline=placed(brim)), Part(name="cap", outline=placed(cap)))
    return (
        Part(name="neck", outline=hull(np.vstack(rounds))),
        Part(name="head", outline=circle(centre, reach)),
        *(worn[::-1] if sheet.seen is Seen.FRONT else worn),
    )


def _arc(start_deg: float, end_deg: float, *, radius: float = 1.02) -> Array:
    turn = np.radians(np.linspace(start_deg, end_deg, 40))
    return radius * np.column_stack([np.cos(turn), np.sin(turn)])


def _oval(ahead: float, *, deep: float, wide: float) -> Array:
    turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    return np.column_stack([ahead + deep * np.cos(turn), wide * np.sin(turn)])


_CAPS: Final = {
    # along the face and toward the crown, in half-breadths of the head: cap, then brim
    Seen.SIDE: (
        np.vstack([_arc(22, 196), [[-0.2, 0.12]]]),
        np.array([[0.55, 0.52], [0.95, 0.62], [1.3, 0.50], [1.72, 0.26], [1.66, 0.16], [0.6, 0.2]]),
    ),
    Seen.FRONT: (_arc(66, 294), _oval(0.50, deep=0.36, wide=0.98)),
    Seen.ABOVE: (_arc(0, 360), _oval(0.95, deep=0.62, wide=0.74)),
}
