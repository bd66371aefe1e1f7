"""Where feet and ball of one club lie on the ground, as whoever stands there sees them.

Millimetre. The golfer stands at the bottom of the page and looks up it, over the ball: y runs
down the page from the ball to the golfer, x to the right. A right-hander's target lies to the
left, a left-hander's to the right. On a slope these are distances along the ground.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from wellset.prescribe import Ground
from wellset.reports.plan_contract import ClubPlan, PlanDocument
from wellset.reports.shoe import sole
from wellset.units import radians

Array = NDArray[np.float64]
Foot = Literal["lead", "trail"]
FEET: Final[tuple[Foot, Foot]] = ("lead", "trail")


def _read_only(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Shoe:
    """One shoe on the ground, millimetre.

    Parameters
    ----------
    heel, toe : (2,) arrays
        Hindmost point and toe tip.
    ankle_y : float
        Level of the ankle, where gaps are measured.
    edge_x : float
        Inner edge at that level.
    outline : (N, 2) array
    flare_deg : float
        Turned out, degree.
    """

    heel: Array = field(converter=_read_only)
    toe: Array = field(converter=_read_only)
    ankle_y: float
    edge_x: float
    outline: Array = field(converter=_read_only)
    flare_deg: float

    @property
    def length(self) -> float:
        """Heel to toe."""
        return float(np.hypot(*(self.toe - self.heel)))

    def moved(self, by: Array, /) -> Shoe:
        """The same shoe elsewhere."""
        return evolve(
            self,
            heel=self.heel + by,
            toe=self.toe + by,
            outline=self.outline + by,
            ankle_y=self.ankle_y + float(by[1]),
            edge_x=self.edge_x + float(by[0]),
        )


@frozen(kw_only=True, eq=False)
class Stance:
    """Feet and ball of one club, millimetre.

    Parameters
    ----------
    club : str
    head : float
        The club's head, heel to toe.
    target : float
        -1 where the target lies to the left (right-handers), +1 to the right.
    ball : (2,) array
    lead, trail : Shoe
    room_along, room_back : float
        How far the ball may lie along the target line, and to and from the toes, before
        anything leaves its window; 0 where the club fixes it.
    room_gap, room_flare_deg : float
        Likewise of the gap and of the lead foot's flare.
    fits : bool
    """

    club: str
    head: float
    target: float
    ball: Array = field(converter=_read_only)
    lead: Shoe
    trail: Shoe
    room_along: float
    room_back: float
    room_gap: float
    room_flare_deg: float
    fits: bool

    @property
    def gap(self) -> float:
        """Clear gap between the shoes, level with the ankles."""
        return self.target * (self.lead.edge_x - self.trail.edge_x)

    @property
    def ball_inside(self) -> float:
        """Ball's middle inside the lead shoe's inner edge; negative: outside."""
        return self.target * (self.lead.edge_x - float(self.ball[0]))

    @property
    def toe_line_at_ball(self) -> float:
        """Level of the line of the toes on the ball line."""
        a, b = self.trail.toe, self.lead.toe
        return float(a[1] + (self.ball[0] - a[0]) / (b[0] - a[0]) * (b[1] - a[1]))

    @property
    def ball_to_toes(self) -> float:
        """Ball's middle to the line of the toes."""
        return self.toe_line_at_ball - float(self.ball[1])

    def along(self, point: Array, /) -> float:
        """How far a point lies from the ball toward the target."""
        return self.target * float(point[0] - self.ball[0])

    def back(self, point: Array, /) -> float:
        """How far a point lies from the ball toward the golfer."""
        return float(point[1] - self.ball[1])

    def moved(self, by: Array, /) -> Stance:
        """The same stance elsewhere on the page."""
        return evolve(
            self, ball=self.ball + by, lead=self.lead.moved(by), trail=self.trail.moved(by)
        )


def stances_of(document: PlanDocument, /) -> tuple[Stance, ...]:
    """One stance for each club of a plan, the ball at (0, 0)."""
    return tuple(_stance(document, club) for club in document.clubs)


def _stance(document: PlanDocument, club: ClubPlan) -> Stance:
    target = -1.0 if document.hand == "right" else 1.0
    place = document.place
    ground = Ground(
        uphill=radians(place.uphill_deg), ball_above_feet=radians(place.ball_above_feet_deg)
    )
    turned = {
        name: np.array(point) @ ground.world_from_ground for name, point in club.points.items()
    }
    flat = {name: 1000 * p[:2] * [target, 1.0] for name, p in turned.items()}
    breadth = 1000 * document.student.shoe_breadth_m
    measures = club.measures
    stance_width = 1000 * measures["stance_width"].value
    return Stance(
        club=club.club,
        head=1000 * club.club_head_m,
        target=target,
        ball=flat["ball"],
        lead=_shoe(flat, "lead", breadth=breadth, target=target),
        trail=_shoe(flat, "trail", breadth=breadth, target=target),
        room_along=measures["ball_position"].tolerance / 100 * stance_width,
        room_back=1000 * measures["ball_to_toes"].tolerance,
        room_gap=1000 * measures["stance_gap"].tolerance,
        room_flare_deg=measures["lead_foot_flare"].tolerance,
        fits=not club.conflicts,
    )


def _shoe(flat: dict[str, Array], foot: Foot, *, breadth: float, target: float) -> Shoe:
    heel, toe, ankle = (flat[f"{foot}_{end}"] for end in ("shoe_heel", "shoe_toe", "ankle"))
    inward = -target if foot == "lead" else target
    outward = -inward
    return Shoe(
        heel=heel,
        toe=toe,
        ankle_y=float(ankle[1]),
        edge_x=float(ankle[0]) + inward * breadth / 2,
        outline=sole(heel, toe, inner=np.array([inward, 0.0]), heel_breadth=breadth),
        flare_deg=float(np.degrees(np.arctan2(outward * (toe - heel)[0], (heel - toe)[1]))),
    )
