"""What a small change does to the strike, in a coach's words: a table marked as a model."""

from __future__ import annotations

import math
from typing import Final

from attrs import frozen

from wellset.advise import BallOffTheArcError, Moved, Strike, SwingArc, swing_arc
from wellset.prescribe import Plan
from wellset.units import UnitSystem, format_length

PUTT: Final = "putt"
ASSUMED: Final = (
    "A model, not a measurement: the club head swings on a circle in a plane that leans like the "
    "shaft, lowest under the lead armpit, and nothing but arms and club moves from the set-up to "
    "the ball. Directions are surer than sizes, and a player can make up for each of them in the "
    "swing."
)
HEADS: Final = ("Change", "Lowest point", "Attack", "Path", "At the ball")
_SMALL_DEG: Final = 0.05
_SMALL_MM: Final = 0.5


@frozen(kw_only=True)
class ArcTable:
    """The table of one club.

    Parameters
    ----------
    assumed : str
        What the model takes for granted.
    heads : tuple of str
    rows : tuple of tuples of str
        The set-up as it is, then one change each.
    """

    assumed: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def arc_of_plan(plan: Plan, /) -> SwingArc | None:
    """The arc of a plan; none where the model says nothing.

    That is for a putt, on a slope, and with a ball so far from the lead armpit that no circle
    through club and arm reaches it, which only windows beyond all sense bring about.
    """
    ground = plan.scene.ground
    if plan.shot == PUTT or not ground.is_level:
        return None
    try:
        return swing_arc(plan.figure)
    except BallOffTheArcError:
        return None


def arc_table(arc: SwingArc, /, *, units: UnitSystem) -> ArcTable:
    """An arc and its changes in words."""
    base = arc.strike
    first = (
        "This set-up",
        _low_point(base, units),
        _attack(base),
        _path(base),
        "",
    )
    return ArcTable(
        assumed=ASSUMED,
        heads=HEADS,
        rows=(first, *(_row(moved, base, units=units) for moved in arc.moved)),
    )


def _row(moved: Moved, base: Strike, *, units: UnitSystem) -> tuple[str, ...]:
    now = moved.strike
    return (
        _what(moved, units),
        _low_point(now, units),
        _attack(now),
        _path(now),
        _height(1e3 * (now.height - base.height)),
    )


def _what(moved: Moved, units: UnitSystem) -> str:
    toward = moved.amount > 0
    size = format_length(abs(moved.amount), system=units)
    if moved.what == "ball":
        return f"Ball one ball-width ({size}) {'toward the target' if toward else 'back'}"
    if moved.what == "chest":
        return f"Chest {size} {'toward the target' if toward else 'away from it'}"
    return (
        f"{abs(moved.amount):.0%} more weight on the {'lead' if toward else 'trail'} foot".replace(
            "%", " %"
        )
    )


def _low_point(strike: Strike, units: UnitSystem) -> str:
    size = format_length(abs(strike.low_point), system=units)
    if size.startswith("0 "):
        return "at the ball"
    return f"{size} {'past' if strike.low_point > 0 else 'before'} the ball"


def _attack(strike: Strike) -> str:
    degrees = math.degrees(strike.attack)
    if abs(degrees) < _SMALL_DEG:
        return "level"
    return f"{abs(degrees):.1f}° {'up' if degrees > 0 else 'down'}"


def _path(strike: Strike) -> str:
    degrees = math.degrees(strike.path)
    if abs(degrees) < _SMALL_DEG:
        return "straight"
    return f"{abs(degrees):.1f}° from {'inside' if degrees > 0 else 'outside'}"


def _height(millimetres: float) -> str:
    if abs(millimetres) < _SMALL_MM:
        return "as high"
    if millimetres > 0:
        return f"{millimetres:.0f} mm higher (thinner)"
    return f"{-millimetres:.0f} mm lower (nearer the turf)"
