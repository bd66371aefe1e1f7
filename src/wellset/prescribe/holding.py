"""How a club stands at address beyond what its maker says: toe-up, place of the ball, grip."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from wellset.equipment import STANDARD_BALL, Club, ClubKind, tee_height
from wellset.prescribe.pose import ClubOnGround
from wellset.units import Mark, Record, radians

_ENTERED: Final = "2026-11-25"


def _toe_up(value_deg: float, *, why: str) -> Record:
    return Record(
        value=radians(value_deg),
        sd=radians(2.0),
        unit="rad",
        population="full shots",
        source=why,
        mark=Mark.ASSUMED,
        edition=_ENTERED,
    )


_WOOD: Final = "between a driver and an iron"
TOE_UP: Final[Mapping[ClubKind, Record]] = MappingProxyType(
    {
        ClubKind.DRIVER: _toe_up(
            8.0,
            why="hands sit lower at address than at impact, and the shaft bows down in the swing: "
            "a driver of 58° is usually seen at about 46 to 52°",
        ),
        ClubKind.FAIRWAY_WOOD: _toe_up(6.0, why=_WOOD),
        ClubKind.HYBRID: _toe_up(5.0, why=_WOOD),
        **{
            kind: _toe_up(
                4.0, why="hands sit lower at address than at impact; a finger fits under the toe"
            )
            for kind in (
                ClubKind.LONG_IRON,
                ClubKind.MID_IRON,
                ClubKind.SHORT_IRON,
                ClubKind.WEDGE,
            )
        },
        ClubKind.PUTTER: _toe_up(0.0, why="a putter is soled flat"),
    }
)
"""How far the toe is asked to stand off flat where nobody says otherwise; our judgement."""


TOE_UP_RANGE: Final = math.radians(4.0)
"""How far from its kind's usual toe-up a body may take a club that nobody gave one, radian;
beyond, the club doesn't fit and is said not to (our judgement)."""


def _reach(value: float, *, what: str) -> Record:
    return Record(
        value=value,
        sd=0.006,
        unit="m",
        population=what,
        source="heads of 24 rendered golfers' clubs, drawn to ordinary sizes",
        mark=Mark.DERIVED,
        edition=_ENTERED,
    )


HEAD_REACH: Final[Mapping[ClubKind, Record]] = MappingProxyType(
    {
        ClubKind.DRIVER: _reach(0.052, what="drivers"),
        ClubKind.FAIRWAY_WOOD: _reach(0.045, what="fairway woods"),
        ClubKind.PUTTER: _reach(0.012, what="putters"),
        **{
            kind: _reach(0.036, what="irons and hybrids")
            for kind in (
                ClubKind.HYBRID,
                ClubKind.LONG_IRON,
                ClubKind.MID_IRON,
                ClubKind.SHORT_IRON,
                ClubKind.WEDGE,
            )
        },
    }
)
"""From where the shaft's line meets the ground to the middle of the ball, toward the ball."""


def on_the_ground(
    club: Club, /, *, toe_up: float | None = None, grip_down: float = 0.0
) -> ClubOnGround:
    """The club as it is set down behind the ball.

    Parameters
    ----------
    club : Club
    toe_up : float or None
        Radian; the usual of its kind where nobody asks for another.
    grip_down : float
        Metre.
    """
    usual = TOE_UP[club.kind]
    return ClubOnGround(
        length=club.length_m,
        lie=club.lie,
        toe_up=usual.value if toe_up is None else toe_up,
        toe_up_sd=(usual.sd or 0.0) if toe_up is None else 0.0,
        head_reach=HEAD_REACH[club.kind].value,
        ball_height=STANDARD_BALL.radius_m + tee_height(club.kind).value,
        grip_down=grip_down,
    )
