"""Arms of a target that do something else than hold the club; the rest stays as planned.

Shoulders stay where the plan has them and both arm bones keep their lengths: only the elbow is
looked for, on the circle that both lengths leave it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from wellset.advise import Arms, Seen
from wellset.figure.figure import Figure
from wellset.figure.landmarks import INDEX
from wellset.figure.views import Hand
from wellset.reports.body_shape import HEAD_M, NECK_LENGTH_M, Sheet, back_outline, hull, seat

Array = NDArray[np.float64]
Place = tuple[Array, Array]
"""Where a wrist goes, and which way its elbow points, metre, world."""

SIGNS: Final = {"lead": 1.0, "trail": -1.0}
CANE_M: Final = 1.0
"""Length of the club that one leans on, for a body of ordinary size."""
_NEARLY_STRAIGHT: Final = 0.995
"""How far an arm is stretched at most, as a share of its length: no elbow locks."""
_BACK: Final = np.array([0.0, 1.0, -0.2])


@frozen(kw_only=True, eq=False)
class _Body:
    """A figure with the directions of its trunk."""

    figure: Figure
    middle: Array = field(init=False)
    up: Array = field(init=False)
    forward: Array = field(init=False)
    size: float = field(init=False)

    @middle.default
    def _middle(self) -> Array:
        return (self.figure["lead_hip"] + self.figure["trail_hip"]) / 2

    @up.default
    def _up(self) -> Array:
        along = self.figure["c7"] - self.middle
        return np.asarray(along / np.linalg.norm(along))

    @forward.default
    def _forward(self) -> Array:
        ahead = self.figure["sternum"] - self.middle
        square = ahead - (ahead @ self.up) * self.up
        return np.asarray(square / np.linalg.norm(square))

    @size.default
    def _size(self) -> float:
        return float(np.linalg.norm(self.figure["c7"] - self.middle)) / NECK_LENGTH_M

    def arm(self, side: str) -> float:
        """Shoulder to wrist along the bones."""
        at = [self.figure[f"{side}_{stem}"] for stem in ("shoulder", "elbow", "wrist")]
        return float(np.linalg.norm(at[1] - at[0]) + np.linalg.norm(at[2] - at[1]))

    def off(self, forward: float, up: float, *, aside: float = 0.0) -> Array:
        """A step in the trunk's own directions, for a body of ordinary size."""
        step = forward * self.forward + up * self.up + np.array([aside, 0.0, 0.0])
        return np.asarray(self.size * step)


def _hang(body: _Body, side: str) -> Place:
    down = np.array([0.02 * SIGNS[side], -0.01, -_NEARLY_STRAIGHT * body.arm(side)])
    return body.figure[f"{side}_shoulder"] + down, _BACK


def _measuring(body: _Body, side: str) -> Place:
    """A fist between the grip and the leg."""
    butt = body.figure["grip_end"]
    return butt + body.size * np.array([0.05 * SIGNS[side], 0.03, 0.05]), _BACK


def _low_back(body: _Body, side: str) -> Place:
    return body.figure["l3"] + body.off(-0.02, 0.0, aside=0.04 * SIGNS[side]), np.array(
        [SIGNS[side], 0.6, 0.0]
    )


def _beside(body: _Body, side: str) -> Place:
    share = 0.95 if side == "lead" else 0.985
    down = np.array([0.05 * SIGNS[side], 0.08, -share * body.arm(side)])
    return body.figure[f"{side}_shoulder"] + down, _BACK


def _at_hips(body: _Body, side: str) -> Place:
    at = body.figure[f"{side}_hip"] + body.off(0.15, 0.03, aside=0.09 * SIGNS[side])
    return at, np.array([SIGNS[side], 0.6, 0.0])


def _crossed(body: _Body, side: str) -> Place:
    other = "trail" if side == "lead" else "lead"
    at = body.figure[f"{other}_shoulder"] + body.off(0.11, -0.04)
    return at, -body.up + np.array([0.4 * SIGNS[side], 0.0, 0.0])


def _behind(body: _Body, side: str) -> Place:
    if side == "lead":
        at = body.figure["c7"] + body.off(-0.05, 0.10, aside=0.06)
        return at, body.up + np.array([1.2, 0.0, 0.0]) - 0.3 * body.forward
    return body.figure["l3"] + body.off(-0.03, 0.0, aside=-0.05), np.array([-1.0, 0.4, 0.0])


def _on_cane(body: _Body, side: str) -> Place:
    top = cane_top(body.figure)
    at = top + body.size * np.array([0.03 * SIGNS[side], 0.05, 0.035])
    return at, np.array([0.5 * SIGNS[side], 0.2, -1.0])


_PLACES: Final[Mapping[Arms, Mapping[str, Callable[[_Body, str], Place]]]] = MappingProxyType(
    {
        Arms.CLUB: {},
        Arms.HANG: {"lead": _hang, "trail": _hang},
        Arms.TRAIL_HANG: {"trail": _hang},
        Arms.LEAD_ONLY: {"trail": _measuring},
        Arms.HIPS: {"lead": _at_hips, "trail": _at_hips},
        Arms.CROSSED: {"lead": _crossed, "trail": _crossed},
        Arms.BEHIND: {"lead": _behind, "trail": _behind},
        Arms.LOW_BACK: {"trail": _low_back},
        Arms.SIDES: {"lead": _beside, "trail": _beside},
        Arms.CANE: {"lead": _on_cane, "trail": _on_cane},
    }
)


def posed(figure: Figure, arms: Arms, /) -> Figure:
    """A plan's figure with its arms as a drill asks."""
    body, points = _Body(figure=figure), figure.points.copy()
    for side, place in _PLACES[arms].items():
        wrist, pole = place(body, side)
        elbow, wrist = _reach(figure, side, wrist=wrist, pole=pole)
        points[INDEX[f"{side}_elbow"]] = elbow
        points[INDEX[f"{side}_wrist"]] = wrist
    if arms is Arms.BEHIND:
        _lift_head(points, body)
    return evolve(figure, points=points)


def cane_top(figure: Figure, /) -> Array:
    """The end of a long club that stands upright before the student, metre, world."""
    body = _Body(figure=figure)
    shoulder = (figure["lead_shoulder"] + figure["trail_shoulder"]) / 2
    top = np.array([shoulder[0], 0.0, CANE_M * body.size])
    drop = shoulder[2] - top[2]
    reach = 0.93 * body.arm("trail")
    top[1] = shoulder[1] - np.sqrt(max(reach**2 - drop**2, 0.0))
    return top


def _reach(figure: Figure, side: str, *, wrist: Array, pole: Array) -> tuple[Array, Array]:
    """Elbow and wrist of an arm whose wrist should be at a place.

    Where the arm is too short the wrist stays on the line to that place.
    """
    shoulder = figure[f"{side}_shoulder"]
    upper = float(np.linalg.norm(figure[f"{side}_elbow"] - shoulder))
    fore = float(np.linalg.norm(figure[f"{side}_wrist"] - figure[f"{side}_elbow"]))
    line = wrist - shoulder
    wanted = float(np.linalg.norm(line))
    far = min(wanted, _NEARLY_STRAIGHT * (upper + fore))
    far = max(far, 1.05 * abs(upper - fore))
    along = line / wanted
    # the elbow lies on a circle about the line from shoulder to wrist (law of cosines)
    share = (upper**2 - fore**2 + far**2) / (2 * far)
    aside = pole - (pole @ along) * along
    aside = aside / np.linalg.norm(aside)
    height = np.sqrt(max(upper**2 - share**2, 0.0))
    return shoulder + share * along + height * aside, shoulder + far * along


def back_line(figure: Figure, /) -> tuple[Array, Array]:
    """Where a straight stick laid on seat and back touches both, side view (y, z), metre."""
    sheet = Sheet(figure=figure, seen=Seen.SIDE, hand=Hand.RIGHT)
    seats = [seat(sheet, side).outline for side in SIGNS]
    both = hull(np.vstack([*seats, back_outline(sheet)]))
    edges = np.roll(both, -1, axis=0) - both
    # of what looks back, the longest edge: from seat to back nothing between them touches
    square = np.column_stack([edges[:, 1], -edges[:, 0]])
    outward = np.sign(((both + edges / 2 - both.mean(axis=0)) * square).sum(axis=1))
    looks_back = outward * square[:, 0] < 0
    i = int(np.argmax(np.linalg.norm(edges, axis=1) * looks_back))
    low, high = sorted((both[i], both[i] + edges[i]), key=lambda p: -float(p[1]))
    return -low / 100, -high / 100


def _lift_head(points: Array, body: _Body) -> None:
    """Turn the head about the neck until its back lies on the stick along the back."""
    low, high = back_line(body.figure)
    neck = (body.figure["c7"] + body.off(0.055, 0.0))[1:]
    along = (high - low) / np.linalg.norm(high - low)
    ahead = np.array([-along[1], along[0]])  # toward the ball: y falls
    rows = [INDEX[n] for n in ("nose", "lead_ear", "trail_ear", "lead_eye", "trail_eye")]
    ears = (points[rows[1]] + points[rows[2]])[1:] / 2 - neck
    turns = np.radians(np.linspace(-80, 60, 561))
    lifted = np.stack([_turned(ears, by) for by in turns]) + neck
    off = (lifted - low) @ ahead - HEAD_M * body.size
    by = float(turns[int(np.argmin(np.abs(off)))])
    for row in rows:
        points[row, 1:] = neck + _turned(points[row, 1:] - neck, by)


def _turned(step: Array, by: float) -> Array:
    """A step in the side view, turned; positive lifts the face."""
    c, s = np.cos(by), np.sin(by)
    return np.array([c * step[0] + s * step[1], -s * step[0] + c * step[1]])
