"""Where a phone was held so that no number read in its picture can be trusted.

The geometry itself is solved for, and its intervals stay honest however a phone is held: on
simulated pictures up to 48 degrees off square, 20 degrees tilted, 14 degrees rolled or from
1.3 m away, errors keep within what the intervals state. What fails first are the points: the
landmark network learnt from phones that stood 2.1 to 7.4 m away, within some 25 degrees of
square and held within 7 degrees of level. Beyond the limits here its spread says nothing,
so the measures that are read in that picture are withheld; the others stay.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen

from wellset.assess.camera_check import CameraState

OFF_SQUARE: Final = np.radians(30.0)
ROLL: Final = np.radians(12.0)
TILT: Final = np.radians(28.0)
NEAR_M: Final = 1.5
"""Limits of the angle from square, roll, tilt and distance: a little beyond all that the
network has seen (our judgement)."""


@frozen(kw_only=True)
class Unfit:
    """Why one phone's picture supports no measure that is read in it, and how to retake it."""

    why: str
    fix: str


def _degrees(angle: float) -> str:
    return f"{abs(np.degrees(angle)):.0f}°"


def unfit(state: CameraState, /) -> Unfit | None:
    """What is wrong with a phone so far off that its points were never tested there.

    Parameters
    ----------
    state : CameraState

    Returns
    -------
    Unfit or None
        ``None`` when the picture is usable.
    """
    view = state.view.words
    place = (
        "in front of the middle of the stance"
        if view == "face-on"
        else "behind the golfer on the line between hands and toes"
    )
    bearing, roll, tilt = state.bearing.value, state.roll.value, state.tilt.value
    if abs(bearing) > OFF_SQUARE:
        return Unfit(
            why=f"the {view} phone saw the golfer from {_degrees(bearing)} off square; beyond "
            f"{_degrees(OFF_SQUARE)} its points were never tested.",
            fix=f"Retake the {view} picture from {place}.",
        )
    if abs(roll) > ROLL:
        return Unfit(
            why=f"the {view} phone was rolled by {_degrees(roll)}; beyond {_degrees(ROLL)} its "
            "points were never tested.",
            fix=f"Retake the {view} picture with the phone level.",
        )
    if abs(tilt) > TILT:
        return Unfit(
            why=f"the {view} phone looked {'up' if tilt > 0 else 'down'} by {_degrees(tilt)}; "
            f"beyond {_degrees(TILT)} its points were never tested.",
            fix=f"Retake the {view} picture from hip height with the phone upright.",
        )
    if state.distance.value < NEAR_M:
        return Unfit(
            why=f"the {view} phone was only {state.distance.value:.1f} m away; nearer than "
            f"{NEAR_M} m its points were never tested.",
            fix=f"Retake the {view} picture from about 3 m away.",
        )
    return None
