"""One moment of a golfer: body, club and ball, wherever they are."""

from __future__ import annotations

from attrs import field, frozen

from training.bodies.store import Array
from training.golfers.clubs import Club, HeldClub
from training.golfers.pose import Pose


@frozen(kw_only=True, eq=False)
class Moment:
    """What there is to see before anyone is dressed.

    Parameters
    ----------
    kind : str
        One of ``pool.KINDS``.
    pose : Pose
    club : HeldClub or None
        ``None`` with empty hands.
    ball : (3,) array or None, metre
        Middle of the ball; ``None`` when there is none.
    bag : Club
        The club that this golfer has, in hand or not.
    """

    kind: str
    pose: Pose = field(repr=False)
    club: HeldClub | None = field(repr=False)
    ball: Array | None
    bag: Club
