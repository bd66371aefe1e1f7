"""How the body goes where a measure should go: from its points now to its points then.

It serves drawings and words for a student ("your hands come a hand's breadth closer"), not
the measures themselves: only the part that the measure is about moves, the rest stays.
World frame: x to the target, y from the ball to the golfer, z up, metre.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.views import View
from wellset.measures import MEASURES, Unit

Array = NDArray[np.float64]
Points = Mapping[str, Array]
"""Places of landmarks, shape (3,) each."""

FRONT: Final = View.FACE_ON
SIDE: Final = View.DOWN_THE_LINE


@frozen(kw_only=True, eq=False)
class Moving:
    """Something now and then.

    Parameters
    ----------
    now, aim : (n, 3) arrays
        The same points of a line, or one point, n >= 1; the last one is what moves farthest.
    """

    now: Array
    aim: Array

    @property
    def distance(self) -> float:
        """How far the part that moves farthest goes, metre."""
        return float(np.linalg.norm(self.aim - self.now, axis=1).max())


@frozen(kw_only=True)
class Showing:
    """How one measure is shown.

    Parameters
    ----------
    view : View
        The picture that shows it.
    move : callable
        From points and an amount (radian, metre or a share, signed) to what moves.
    """

    view: View
    move: Callable[[Points, float], Moving]


def at(points: Points, name: str, /) -> Array:
    """A landmark, or the middle of a pair: ``"mid hip"``."""
    if name.startswith("mid "):
        stem = name[4:]
        return np.asarray((points[f"lead_{stem}"] + points[f"trail_{stem}"]) / 2)
    return points[name]


def _turned(vectors: Array, angle: float, *, about: int) -> Array:
    """Vectors turned about a world axis by the right-hand rule."""
    first, second = ((1, 2), (2, 0), (0, 1))[about]
    out = vectors.copy()
    cos, sin = np.cos(angle), np.sin(angle)
    out[..., first] = cos * vectors[..., first] - sin * vectors[..., second]
    out[..., second] = sin * vectors[..., first] + cos * vectors[..., second]
    return out


def _turn(
    *names: str, about: int, sign: float, pivot: str | None = None
) -> Callable[[Points, float], Moving]:
    """A line of points that turns about its first one, or about another point."""

    def move(points: Points, amount: float) -> Moving:
        now = np.array([at(points, name) for name in names])
        middle = at(points, pivot) if pivot else now[0]
        return Moving(now=now, aim=middle + _turned(now - middle, sign * amount, about=about))

    return move


def _bend(*names: str, sign: float) -> Callable[[Points, float], Moving]:
    """Three points of which the last turns about the middle one in the side view."""

    def move(points: Points, amount: float) -> Moving:
        now = np.array([at(points, name) for name in names])
        aim = now.copy()
        aim[2] = now[1] + _turned(now[2] - now[1], sign * amount, about=0)
        return Moving(now=now, aim=aim)

    return move


def _shift(
    name: str, *, axis: int, sign: float, scale: Callable[[Points], float] | None = None
) -> Callable[[Points, float], Moving]:
    """A point that moves along a world axis."""

    def move(points: Points, amount: float) -> Moving:
        now = at(points, name)[None]
        step = np.zeros(3)
        step[axis] = sign * amount * (scale(points) if scale else 1.0)
        return Moving(now=now, aim=now + step)

    return move


def _knee(lead: str) -> Callable[[Points, float], Moving]:
    """Hip, knee and ankle; the knee goes forward or back until the leg bends as it should."""

    def move(points: Points, amount: float) -> Moving:
        now = np.array([points[f"{lead}_{part}"] for part in ("hip", "knee", "ankle")])
        thigh, shank = (float(np.linalg.norm(now[i] - now[i + 1])) for i in (0, 1))
        aim = now.copy()
        # the angle at a knee pushed out by d between bones a and b grows by about d/a + d/b
        aim[1, 1] -= amount / (1 / thigh + 1 / shank)
        return Moving(now=now, aim=aim)

    return move


def _feet(points: Points, amount: float) -> Moving:
    """Both feet, each by half of what is wanted between them."""
    now = np.array([points[f"{lead}_shoe_toe"] for lead in ("trail", "lead")])
    half = np.array([amount / 2, 0.0, 0.0])
    return Moving(now=now, aim=now + np.array([-half, half]))


def _lead_along(points: Points) -> float:
    return float(points["lead_ankle"][0] - points["trail_ankle"][0])


def _shoe(points: Points) -> float:
    return float(np.linalg.norm(points["lead_shoe_toe"] - points["lead_shoe_heel"]))


def _weight_along_feet(points: Points, amount: float) -> Moving:
    """The middle of the weight, drawn on the ground between the feet."""
    middle = (at(points, "mid shoe_heel") + at(points, "mid shoe_toe")) / 2
    now = np.array([[middle[0], middle[1], 0.0]])
    return Moving(now=now, aim=now + np.array([0.0, -amount * _shoe(points), 0.0]))


def _weight_between_feet(points: Points, amount: float) -> Moving:
    middle = at(points, "mid foot_ball")
    now = np.array([[middle[0], middle[1], 0.0]])
    return Moving(now=now, aim=now + np.array([amount * _lead_along(points), 0.0, 0.0]))


_SHOWN: Final[Mapping[str, Showing]] = MappingProxyType(
    {
        "stance_width": Showing(view=FRONT, move=_feet),
        "stance_gap": Showing(view=FRONT, move=_feet),
        "ball_position": Showing(
            view=FRONT, move=_shift("ball", axis=0, sign=1, scale=_lead_along)
        ),
        "ball_to_toes": Showing(view=SIDE, move=_shift("mid shoe_toe", axis=1, sign=1)),
        "lead_foot_flare": Showing(
            view=FRONT, move=_turn("lead_shoe_heel", "lead_shoe_toe", about=2, sign=1)
        ),
        "trail_foot_flare": Showing(
            view=FRONT, move=_turn("trail_shoe_heel", "trail_shoe_toe", about=2, sign=-1)
        ),
        "foot_line": Showing(
            view=SIDE, move=_turn("trail_shoe_toe", "lead_shoe_toe", about=2, sign=1)
        ),
        "hip_line": Showing(
            view=SIDE, move=_turn("trail_hip", "lead_hip", about=2, sign=1, pivot="mid hip")
        ),
        "shoulder_line": Showing(
            view=SIDE,
            move=_turn("trail_shoulder", "lead_shoulder", about=2, sign=1, pivot="mid shoulder"),
        ),
        "forward_bend": Showing(view=SIDE, move=_turn("mid hip", "c7", about=0, sign=1)),
        "upper_back_curve": Showing(view=SIDE, move=_bend("t12", "t8", "c7", sign=1)),
        "low_back_curve": Showing(view=SIDE, move=_bend("s1", "l3", "t12", sign=-1)),
        "lead_knee_flex": Showing(view=SIDE, move=_knee("lead")),
        "trail_knee_flex": Showing(view=SIDE, move=_knee("trail")),
        "arm_hang": Showing(view=SIDE, move=_turn("mid shoulder", "grip_mid", about=0, sign=-1)),
        "hand_gap": Showing(view=SIDE, move=_shift("grip_end", axis=1, sign=-1)),
        "heel_toe_balance": Showing(view=SIDE, move=_weight_along_feet),
        "lead_share": Showing(view=FRONT, move=_weight_between_feet),
        "armpit_plumb": Showing(view=SIDE, move=_shift("mid armpit", axis=1, sign=1)),
        "knee_plumb": Showing(view=SIDE, move=_shift("mid knee", axis=1, sign=1)),
        "pelvis_shift": Showing(view=FRONT, move=_shift("mid hip", axis=0, sign=1)),
        "chest_shift": Showing(view=FRONT, move=_shift("sternum", axis=0, sign=1)),
        "head_behind_ball": Showing(view=FRONT, move=_shift("nose", axis=0, sign=-1)),
        "side_bend": Showing(view=FRONT, move=_turn("mid hip", "sternum", about=1, sign=-1)),
        "shoulder_tilt": Showing(
            view=FRONT,
            move=_turn("lead_shoulder", "trail_shoulder", about=1, sign=-1, pivot="mid shoulder"),
        ),
        "shaft_lean": Showing(view=FRONT, move=_turn("club_head", "grip_end", about=1, sign=1)),
        "shaft_angle": Showing(view=SIDE, move=_turn("club_head", "grip_end", about=0, sign=1)),
        "handle_height": Showing(view=SIDE, move=_shift("grip_end", axis=2, sign=1)),
    }
)


def view_of(measure: str, /) -> View:
    """The picture that shows a measure to a student."""
    return _SHOWN[measure].view


def moving(measure: str, points: Points, *, amount: float) -> Moving:
    """What moves, from now to then.

    Parameters
    ----------
    measure : str
    points : mapping of landmark to (3,) array
        A set-up, world frame, metre.
    amount : float
        How far the measure should go, in its published unit.
    """
    one = MEASURES[measure]
    share = 0.01 if one.unit is Unit.PERCENT else 1.0
    return _SHOWN[measure].move(points, share * amount / one.published_per_si)
