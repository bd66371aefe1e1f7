"""What a small change of the set-up does to the strike: a model, not a measurement.

The club head swings on a circle in a plane that leans like the shaft at address, lowest
under the hub, the lead armpit. Nothing moves between address and impact but the arms and
the club, so whatever carries the hub carries the arc with it. All in closed form. A full
swing on level ground is meant, not a putt.

Frame: world, x to the target; slopes and angles in radian, lengths in metre.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.figure.figure import Figure

Array = NDArray[np.float64]

BALL_WIDTH_M: Final = 0.04267
"""Least diameter of a ball (rules of equipment), the step in which a ball is moved."""
CHEST_STEP_M: Final = 0.02
"""About what a coach's word moves a chest by."""
PRESSURE_STEP: Final = 0.10
"""Ten points of the weight."""


class BallOffTheArcError(ValueError):
    """A ball that the club head's circle doesn't pass over."""


@frozen(kw_only=True)
class Strike:
    """How the head meets the ball.

    Parameters
    ----------
    low_point : float
        How far past the ball the arc is lowest, metre, + toward the target.
    attack : float
        Angle of the head's path above level, radian; negative: coming down.
    path : float
        Direction of the head's path over the ground, radian; + outward, away from the golfer.
    height : float
        Of the head above the lowest level of the arc when nothing was changed, metre.
    """

    low_point: float
    attack: float
    path: float
    height: float


@frozen(kw_only=True)
class Arc:
    """A circle that the club head swings on.

    Parameters
    ----------
    radius : float
        Hub to club head, metre.
    slope : float
        Of the plane against the ground, radian.
    low_point : float
        Where along the target line it is lowest, metre from the ball, + toward the target.
    aim : float
        Direction of the plane's line on the ground, radian, + outward.
    lift : float
        How much higher the whole arc lies than when nothing was changed, metre.
    """

    radius: float
    slope: float
    low_point: float
    aim: float = 0.0
    lift: float = 0.0

    def strike(self) -> Strike:
        """The head at the ball.

        With ``sin phi = x / R`` for a ball ``x`` past the low point, the head is
        ``R (1 - cos phi) sin slope`` above its lowest, climbs by ``sin phi sin slope`` and has
        turned inward by ``tan phi cos slope`` (plane geometry of a circle).

        Raises
        ------
        BallOffTheArcError
            The ball lies farther from the low point than the radius.
        """
        sine = -self.low_point / self.radius
        if abs(sine) >= 1:
            raise BallOffTheArcError("the ball lies off the arc")
        phi = math.asin(sine)
        return Strike(
            low_point=self.low_point,
            attack=math.asin(sine * math.sin(self.slope)),
            path=self.aim - math.atan(math.tan(phi) * math.cos(self.slope)),
            height=self.radius * (1 - math.cos(phi)) * math.sin(self.slope) + self.lift,
        )


@frozen(kw_only=True)
class Moved:
    """One change and what follows from it.

    Parameters
    ----------
    what : str
        ``"ball"``, ``"chest"`` or ``"pressure"``.
    amount : float
        How far, + toward the target; metre, or share of the weight.
    strike : Strike
        With this change alone.
    """

    what: str
    amount: float
    strike: Strike


@frozen(kw_only=True)
class SwingArc:
    """The arc of one set-up, and what small changes do to it.

    Parameters
    ----------
    arc : Arc
    strike : Strike
        With nothing changed.
    moved : tuple of Moved
    """

    arc: Arc
    strike: Strike
    moved: tuple[Moved, ...]


def arc_of(figure: Figure, /) -> Arc:
    """The arc that a set-up suggests.

    The radius is that of the lead arm and the club stretched to one line, the slope that of
    the shaft seen from behind, the low point under the lead armpit (common practice, no
    source; coaches also say the lead shoulder, which comes out a degree steeper than
    published averages of tour players) and the plane's line on the ground the target line.

    Parameters
    ----------
    figure : Figure
        On level ground.
    """
    shoulder, wrist, end = (figure[n] for n in ("lead_shoulder", "lead_wrist", "shaft_end"))
    _, back, up = figure["grip_end"] - end
    return Arc(
        radius=float(np.linalg.norm(shoulder - wrist) + np.linalg.norm(wrist - end)),
        slope=math.atan2(up, back),
        low_point=float(figure["lead_armpit"][0] - figure["ball"][0]),
    )


def swing_arc(figure: Figure, /) -> SwingArc:
    """The arc of a set-up on level ground, with the ball, chest and pressure moved either way.

    Parameters
    ----------
    figure : Figure

    Raises
    ------
    BallOffTheArcError
    """
    arc = arc_of(figure)
    steps = (
        ("ball", BALL_WIDTH_M, (-1.0, 0.0)),
        ("chest", CHEST_STEP_M, _hub_by_chest(figure)),
        ("pressure", PRESSURE_STEP, (_hub_by_pressure(figure), 0.0)),
    )
    return SwingArc(
        arc=arc,
        strike=arc.strike(),
        moved=tuple(
            Moved(
                what=what,
                amount=amount,
                strike=evolve(
                    arc, low_point=arc.low_point + amount * aside, lift=amount * lift
                ).strike(),
            )
            for what, step, (aside, lift) in steps
            for amount in (step, -step)
        ),
    )


def _hub_by_chest(figure: Figure) -> tuple[float, float]:
    """How far the hub goes aside and up when the chest goes a metre toward the target.

    The trunk tilts about the middle of the hips: the hub goes sideways as its own height over
    them says, and up or down as it lies beside them.
    """
    hips = (figure["lead_hip"] + figure["trail_hip"]) / 2
    turn = 1 / float(figure["sternum"][2] - hips[2])
    beside, _, above = figure["lead_armpit"] - hips
    return turn * float(above), -turn * float(beside)


def _hub_by_pressure(figure: Figure) -> float:
    """How far the hub goes toward the target when all weight goes from one foot to the other.

    The body slides over the feet, trunk and arms as one, the legs leaning along.
    """
    stance = float(figure["lead_ankle"][0] - figure["trail_ankle"][0])
    hips = float(figure["lead_hip"][2] + figure["trail_hip"][2]) / 2
    ankles = float(figure["lead_ankle"][2] + figure["trail_ankle"][2]) / 2
    carried = np.clip((figure.points[:, 2] - ankles) / (hips - ankles), 0.0, 1.0)
    return stance / float(figure.mass_weights @ carried)
