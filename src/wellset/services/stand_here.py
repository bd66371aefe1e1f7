"""Where this student would stand: the plan, and the set-up after the first change.

Both are figures in the world of the assessed pictures, with the ball as the anchor, so they
can be drawn over them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess import CameraState, Fit, Projection, projection, unfit
from wellset.figure.figure import Figure
from wellset.figure.landmarks import INDEX
from wellset.figure.views import View
from wellset.prescribe import Plan

Array = NDArray[np.float64]

FEET: Final = ("lead", "trail")
MOST_OFF_M: Final = 0.25
"""Half of a mark's 95 % range on the ground beyond which nothing is drawn (our judgement): with
the marks that far off, the lead shoe could stand where the middle of the stance belongs."""
_REACH: Final = 2.4477
"""Square root of the 95 % point of chi-square with two degrees of freedom (5.991)."""


@frozen(kw_only=True)
class FootStep:
    """How one foot would move from where it stands to where the plan has it.

    Parameters
    ----------
    foot : str
        ``lead`` or ``trail``.
    along, back : float
        Of the heel: toward the target, and away from the ball, metre.
    turn : float
        Turned outward, radian.
    along_sd, back_sd, turn_sd : float
        Standard uncertainties of where the foot is now.
    """

    foot: str
    along: float
    back: float
    turn: float
    along_sd: float
    back_sd: float
    turn_sd: float


@frozen(kw_only=True, eq=False)
class Drawable:
    """Whether, and how surely, marks on the ground can be drawn in one picture.

    Parameters
    ----------
    projection : Projection
    off : float
        Half of the 95 % range of the least sure mark, along its longest direction, metre.
    target_line_sd, square_sd : float
        Of the target line's direction, and of the one from the ball straight to the golfer,
        as drawn, radian.
    why_not : str
        Why nothing is drawn; empty when something is.
    """

    projection: Projection
    off: float
    target_line_sd: float
    square_sd: float
    why_not: str = ""


@frozen(kw_only=True, eq=False)
class StandHere:
    """Where to stand, in the world of the assessed pictures.

    Parameters
    ----------
    plan : Plan or None
        For this club and shot, from the student's build and the standards.
    why_no_plan : str
        In a sentence; empty when there is one.
    changed : Figure or None
        The assessed set-up after the first change alone.
    change : str
        Measure of the first change; empty when there is none to show.
    steps : tuple of FootStep
        From the assessed feet to those of the plan.
    views : mapping of View to Drawable
    """

    plan: Plan | None
    why_no_plan: str
    changed: Figure | None
    change: str
    steps: tuple[FootStep, ...]
    views: Mapping[View, Drawable]


def stand_here(
    fit: Fit,
    *,
    plan: Plan | None,
    why_no_plan: str,
    cameras: Mapping[View, CameraState],
    changed: Figure | None,
    change: str,
) -> StandHere:
    """Set plan and change into the world of an assessed set-up.

    Parameters
    ----------
    fit : Fit
    plan : Plan or None
    why_no_plan : str
    cameras : mapping of View to CameraState
        How the phones were held.
    changed : Figure or None
        After the first change.
    change : str
        Its measure.
    """
    shown = plan.figure if plan is not None else fit.figure
    return StandHere(
        plan=plan,
        why_no_plan=why_no_plan,
        changed=changed,
        change=change if changed is not None else "",
        steps=_steps(fit, plan) if plan is not None else (),
        views={
            view: _drawable(fit, view, figure=shown, state=state) for view, state in cameras.items()
        },
    )


def _drawable(fit: Fit, view: View, *, figure: Figure, state: CameraState) -> Drawable:
    seen = projection(fit, view)
    feet = np.array([figure[f"{foot}_shoe_{end}"] for foot in FEET for end in ("heel", "toe")])
    largest = np.linalg.eigvalsh(seen.spread_on_the_ground(feet * [1, 1, 0])).max()
    off = _REACH * float(np.sqrt(largest))
    wrong = unfit(state)
    why = ""
    if wrong is not None:
        why = f"{wrong.why[0].upper()}{wrong.why[1:]} {wrong.fix}"
    elif fit.known.undetermined:
        why = (
            "Nothing in the pictures fixes all of the camera. Take both pictures, with the whole "
            "golfer and the ball in them."
        )
    elif off > MOST_OFF_M:
        why = (
            f"Marks on the ground would be good to {100 * off:.0f} cm only. Lay a stick on the "
            "target line, hold the phone level, and take the picture again."
        )
    return Drawable(
        projection=seen,
        off=off,
        target_line_sd=seen.target_line_sd,
        square_sd=seen.square_sd,
        why_not=why,
    )


def _steps(fit: Fit, plan: Plan) -> tuple[FootStep, ...]:
    steps = []
    for foot, sign in zip(FEET, (1.0, -1.0), strict=True):
        now, then = (_heel_and_flare(f, foot, sign=sign) for f in (fit.figure, plan.figure))
        sd = np.sqrt(_variance(fit.figure, foot, sign=sign))
        along, back, turn = then - now
        steps.append(
            FootStep(
                foot=foot,
                along=float(along),
                back=float(back),
                turn=float(turn),
                along_sd=float(sd[0]),
                back_sd=float(sd[1]),
                turn_sd=float(sd[2]),
            )
        )
    return tuple(steps)


def _heel_and_flare(figure: Figure, foot: str, *, sign: float) -> Array:
    """Heel along x and y, and how far the foot is turned out, radian."""
    heel, toe = figure[f"{foot}_shoe_heel"], figure[f"{foot}_shoe_toe"]
    x, y = (toe - heel)[:2]
    return np.array([heel[0], heel[1], np.arctan2(sign * x, -y)])


def _variance(figure: Figure, foot: str, *, sign: float) -> Array:
    """Variances of the same three."""
    heel, toe = (3 * INDEX[f"{foot}_shoe_{end}"] for end in ("heel", "toe"))
    x, y = (figure[f"{foot}_shoe_toe"] - figure[f"{foot}_shoe_heel"])[:2]
    by_x, by_y = -sign * y / (x * x + y * y), sign * x / (x * x + y * y)
    variance = np.zeros(3)
    for factor in figure.factors.values():
        turned = by_x * (factor[toe] - factor[heel]) + by_y * (factor[toe + 1] - factor[heel + 1])
        rows = np.stack([factor[heel], factor[heel + 1], turned])
        variance += (rows**2).sum(axis=1)
    return variance
