"""Bring club, body and set-up together, so that the club's sole lies on the ground.

A random body with a random bend holds its hands too high or too low for most clubs.
Golfers mend that with a fitted club and with how far they bend; so do these.
"""

from __future__ import annotations

import numpy as np
from attrs import evolve

from training.golfers.address import UNSOLVED, Address, Stance, shoulder_tilt_deg, solve
from training.golfers.clubs import GRIP_MIDDLE_M

LENGTHS = (0.94, 1.07)
"""How much shorter or longer than usual a club may be fitted: chosen."""

SPREAD_DEG, WIDEST_DEG = 6.0, 14.0
"""Shaft against the club's lie: spread and limit of what is asked for."""

TOLERANCE_DEG = 2.0
TILTS_DEG = (-4.0, 30.0)
"""How far shoulders tilt; where a straight lead arm asks for more, the golfer is drawn anew."""

_BEND_PER_M = 120.0
_KNEES_PER_M = 50.0
"""Degrees that lower the hands by a metre, near a usual address; only a first guess, as
the address is solved anew after each step."""


def shaft_over_lie_deg(address: Address) -> float:
    """How much steeper the shaft stands than the club's lie."""
    along = address.club.along
    return float(np.degrees(np.arcsin(-along[2])) - address.club.club.lie_deg)


def fitted(stance: Stance, *, rng: np.random.Generator) -> Address | None:
    """Solve an address whose shaft stands nearly as the club was made to; or ``None``.

    ``None`` when the body can't hold the club so within reason.
    """
    wanted = float(np.clip(rng.normal(0, SPREAD_DEG), -WIDEST_DEG, WIDEST_DEG))
    usual_m = stance.club.length_m
    address = solve(stance)
    for _ in range(4):
        off = abs(shaft_over_lie_deg(address) - wanted)
        if not address.misfit < UNSOLVED or (off < TOLERANCE_DEG and _soled(address)):
            break
        stance = _nearer(stance, address, wanted=wanted, usual_m=usual_m)
        address = solve(stance, start=address.unknowns)
    return address if _fair(address) else None


def _soled(address: Address) -> bool:
    return bool(abs(address.club.sole[2]) < 1e-3)


def _fair(address: Address) -> bool:
    low, high = TILTS_DEG
    tilted = low < shoulder_tilt_deg(address.pose) < high
    shaft = abs(shaft_over_lie_deg(address)) < WIDEST_DEG
    return address.misfit < UNSOLVED and _soled(address) and tilted and shaft


def _nearer(stance: Stance, address: Address, *, wanted: float, usual_m: float) -> Stance:
    s, club = stance.setup, stance.club
    hands = address.club.grip_middle[2]
    below = GRIP_MIDDLE_M + s.grip_down_m
    sine = np.sin(np.radians(club.lie_deg + wanted))
    low, high = LENGTHS
    length = float(np.clip(hands / sine + below, low * usual_m, high * usual_m))
    too_high = hands - (length - below) * sine
    setup = evolve(
        s,
        trunk_bend_deg=float(np.clip(s.trunk_bend_deg + _BEND_PER_M * too_high, 14, 60)),
        knee_flex_deg=float(np.clip(s.knee_flex_deg + _KNEES_PER_M * too_high, 3, 50)),
    )
    return Stance(figure=stance.figure, club=evolve(club, length_m=length), setup=setup)
