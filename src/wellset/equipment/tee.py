"""How high the ball sits above the ground."""

from __future__ import annotations

from typing import Final

from wellset.equipment.kinds import ClubKind
from wellset.units import Mark, Record

_ENTERED: Final = "2026-11-25"


def _height(value: float, sd: float, *, what: str, source: str) -> Record:
    return Record(
        value=value,
        sd=sd,
        unit="m",
        population=what,
        source=source,
        mark=Mark.PRACTICE,
        edition=_ENTERED,
    )


# A driver's crown stands about 60 mm above the ground; half a ball (21 mm) is seen above it.
_DRIVER: Final = _height(
    0.039, 0.008, what="ball teed for a driver", source="half of the ball above the crown"
)
_WOOD: Final = _height(
    0.012, 0.005, what="ball teed for a fairway wood", source="a third of the ball above the crown"
)
_IRON: Final = _height(
    0.006, 0.004, what="ball teed for an iron or hybrid", source="as on a good lie"
)
_GROUND: Final = _height(
    0.0, 0.003, what="ball on the ground", source="short grass or a mat, a little up or down"
)


def tee_height(kind: ClubKind, *, teed: bool | None = None) -> Record:
    """Gap between the ground and the underside of the ball, metres.

    Parameters
    ----------
    kind : ClubKind
    teed : bool or None
        Whether the ball is on a tee. Where nobody says so: a driver's ball is, others are
        not.

    Returns
    -------
    Record
        With its spread. The centre of the ball is a radius higher.
    """
    if teed is None:
        teed = kind is ClubKind.DRIVER
    if not teed or kind is ClubKind.PUTTER:
        return _GROUND
    if kind is ClubKind.DRIVER:
        return _DRIVER
    return _WOOD if kind is ClubKind.FAIRWAY_WOOD else _IRON
