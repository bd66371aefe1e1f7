"""Golfers who are not over a ball: standing, walking, leaning, picking up."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
from attrs import field, frozen

from training.bodies.store import Array
from training.golfers.bones import SIDES
from training.golfers.clubs import BALL_RADIUS_M, HANDS_M, Club, HeldClub, head_axes
from training.golfers.figure import Figure
from training.golfers.hands import hand_of, on_handle
from training.golfers.moment import Moment
from training.golfers.pose import Foot, Pose, Posture, Trunk, flat_foot
from training.golfers.turning import about, about_z, cross, length, unit

FORWARD = np.array([0, -1.0, 0])


@frozen(kw_only=True, eq=False)
class Standing:
    """A body on its feet, before its arms are placed.

    Parameters
    ----------
    figure : Figure
    club : Club
    trunk : Trunk
    feet : dict of Foot, by side
    knee_bend : float
        Of the straighter leg, radian.
    """

    figure: Figure = field(repr=False)
    club: Club
    trunk: Trunk
    feet: dict[str, Foot] = field(repr=False)
    knee_bend: float

    def posture(self) -> tuple[Posture, Pose]:
        """Trunk and legs with the centre of mass over the feet; and how they stand."""
        middle = (self.feet["L"].ankle + self.feet["R"].ankle) / 2
        pelvis = np.array([middle[0], middle[1] + 0.03, 0.0])
        posture, body = self._over(pelvis)
        for _ in range(3):
            # ankles stand behind the middle of the foot
            pelvis[1] += middle[1] - 0.05 * self.figure.scale - body.centre_of_mass[1]
            pelvis[0] += middle[0] - body.centre_of_mass[0]
            posture, body = self._over(pelvis)
        return posture, body

    def _over(self, pelvis: Array) -> tuple[Posture, Pose]:
        posture = Posture(self.figure, trunk=self.trunk, pelvis=pelvis)
        high = min(
            self.feet[q].ankle[2]
            + np.sqrt(max(self._reach(q) ** 2 - _level(posture.hip(q) - self.feet[q].ankle), 0.01))
            - (posture.hip(q)[2] - pelvis[2])
            for q in SIDES
        )
        posture = Posture(self.figure, trunk=self.trunk, pelvis=np.array([*pelvis[:2], high]))
        for q in SIDES:
            toes = self.feet[q].R @ FORWARD
            toward = unit(about_z(self.trunk.yaw) @ FORWARD + toes * [1, 1, 0])
            posture.leg(q, self.feet[q], knee_toward=toward)
        return posture, posture.settle()

    def _reach(self, side: str) -> float:
        """Hip to ankle with the knee bent (law of cosines)."""
        H = self.figure.head
        knee = H(f"lowerleg01.{side}")
        a, b = length(knee - H(f"upperleg01.{side}")), length(H(f"foot.{side}") - knee)
        return float(np.sqrt(a * a + b * b + 2 * a * b * np.cos(self.knee_bend)))


def _level(v: Array) -> float:
    return float(v[0] ** 2 + v[1] ** 2)


def hang(posture: Posture, side: str, *, body: Pose, out: Array) -> None:
    """Let an arm hang: the wrist below the shoulder, moved by ``out`` (share of the arm)."""
    sign = 1 if side == "L" else -1
    shoulder = body.joint(f"upperarm01.{side}")
    reach = arm_length(body.figure, side)
    facing = _facing(body)
    down = np.array([sign * out[0], 0, 0]) @ facing.T + facing @ np.array([0, -out[1], 0])
    wrist = shoulder + reach * out[2] * unit(down + np.array([0, 0, -1.0]))
    back = facing @ np.array([sign * 0.3, 0.8, 0])
    posture.arm(side, wrist, body=body, hand=None, elbow_toward=back)
    posture.grip(side, gripping=False)


def _facing(body: Pose) -> Array:
    """The way the chest faces, levelled: columns to its left, its back, and up."""
    left = body.joint("upperarm01.L") - body.joint("upperarm01.R")
    left = unit(left * [1, 1, 0])
    return np.stack([left, cross(np.array([0, 0, 1.0]), left), np.array([0, 0, 1.0])], axis=1)


def arm_length(figure: Figure, side: str) -> float:
    """Shoulder to wrist with the elbow straight."""
    H = figure.head
    elbow = H(f"lowerarm01.{side}")
    return length(elbow - H(f"upperarm01.{side}")) + length(H(f"wrist.{side}") - elbow)


def carry(
    posture: Posture, side: str, *, body: Pose, club: Club, out: Array, along: Array, down_m: float
) -> HeldClub:
    """Hold the club in one hanging hand.

    Parameters
    ----------
    posture : Posture
    side : str
    body : Pose
    club : Club
    out : (3,) array
        Sideways, forward, and share of the arm's length, as in `hang`.
    along : (3,) array
        Direction of the club from grip to head, in the chest's level frame.
    down_m : float
        How far below the end of the grip the hand is.
    """
    sign = 1 if side == "L" else -1
    facing = _facing(body)
    direction = unit(facing @ along)
    down = facing @ np.array([sign * out[0], -out[1], 0]) + np.array([0, 0, -1.0])
    shoulder = body.joint(f"upperarm01.{side}")
    at = shoulder + arm_length(posture.figure, side) * out[2] * unit(down)
    palm = facing @ np.array([-sign, 0.15, 0.1])
    wrist, R = on_handle(hand_of(posture.figure, side), at=at, along=direction, palm=palm)
    back = facing @ np.array([sign * 0.35, 0.8, 0])
    posture.arm(side, wrist, body=body, hand=R, elbow_toward=back)
    posture.grip(side, gripping=True)
    return HeldClub(
        club=club,
        butt=at - direction * down_m,
        along=direction,
        axes=head_axes(direction, lie_deg=club.lie_deg),
        grip_down_m=max(down_m - HANDS_M["L"], 0.0),
    )


Maker = Callable[..., Moment]


def _feet(figure: Figure, rng: np.random.Generator, *, apart: float) -> dict[str, Foot]:
    stagger = rng.normal(0, 0.04)
    return {
        q: flat_foot(
            figure,
            q,
            at=np.array([sign * apart / 2, sign * stagger]),
            flare=np.radians(rng.normal(12, 8)),
        )
        for q, sign in (("L", 1), ("R", -1))
    }


def _upright(rng: np.random.Generator, *, pitch_deg: float = 2) -> Trunk:
    d = np.radians
    return Trunk(
        pitch=d(rng.normal(pitch_deg, 4)),
        side_low=d(rng.normal(0, 3)),
        side_high=d(rng.normal(0, 3)),
        twist=d(rng.normal(0, 12)),
        round_upper=d(rng.normal(4, 6)),
        arch_lower=d(rng.normal(-4, 4)),
        head_down=d(rng.uniform(-20, 35)),
        head_turn=d(rng.uniform(-60, 60)),
        shoulder_drop=d(rng.normal(0, 2)),
        shoulders_forward=d(rng.normal(0, 5)),
    )


def standing(figure: Figure, *, club: Club, rng: np.random.Generator) -> Moment:
    """Upright, the club in one hand, the other arm hanging."""
    stance = Standing(
        figure=figure,
        club=club,
        trunk=_upright(rng),
        feet=_feet(figure, rng, apart=rng.uniform(0.14, 0.4)),
        knee_bend=np.radians(rng.uniform(4, 15)),
    )
    return _with_one_hand(stance, rng=rng, kind="standing")


def walking(figure: Figure, *, club: Club, rng: np.random.Generator) -> Moment:
    """In the middle of a step, the club in one hand."""
    step = rng.uniform(0.25, 0.75) * figure.scale
    ahead = str(rng.choice(SIDES))
    feet = {}
    for q, sign in (("L", 1), ("R", -1)):
        front = q == ahead
        feet[q] = flat_foot(
            figure,
            q,
            at=np.array([sign * rng.uniform(0.05, 0.1), (-0.5 if front else 0.5) * step]),
            flare=np.radians(rng.normal(7, 5)),
            heel_up=0.0 if front else float(step * rng.uniform(0.3, 0.9)),
        )
    stance = Standing(
        figure=figure,
        club=club,
        trunk=_upright(rng, pitch_deg=6),
        feet=feet,
        knee_bend=np.radians(rng.uniform(5, 25)),
    )
    return _with_one_hand(stance, rng=rng, kind="walking")


def _with_one_hand(stance: Standing, *, rng: np.random.Generator, kind: str) -> Moment:
    posture, body = stance.posture()
    side = str(rng.choice(SIDES))
    sign = 1 if side == "L" else -1
    along = np.array([sign * rng.normal(0.1, 0.25), -rng.uniform(0.15, 1.2), -1.0])
    out = np.array([rng.uniform(0.1, 0.35), rng.uniform(-0.1, 0.5), rng.uniform(0.86, 0.97)])
    held = carry(
        posture, side, body=body, club=stance.club, out=out, along=along,
        down_m=float(rng.choice([0.07, rng.uniform(0.07, 0.3)])),
    )  # fmt: skip
    other = "R" if side == "L" else "L"
    out = np.array([rng.uniform(0.02, 0.25), rng.uniform(-0.25, 0.45), rng.uniform(0.88, 0.985)])
    hang(posture, other, body=body, out=out)
    return _placed(posture, held, stance=stance, rng=rng, kind=kind)


def leaning(figure: Figure, *, club: Club, rng: np.random.Generator) -> Moment:
    """Resting on the club: its head on the ground, one or both hands on its end."""
    stance = Standing(
        figure=figure,
        club=club,
        trunk=_upright(rng, pitch_deg=8),
        feet=_feet(figure, rng, apart=rng.uniform(0.12, 0.35)),
        knee_bend=np.radians(rng.uniform(3, 15)),
    )
    posture, body = stance.posture()
    side = str(rng.choice(SIDES))
    sign = 1 if side == "L" else -1
    facing = _facing(body)
    both = rng.random() < 0.4
    aside = 0.0 if both else sign * rng.uniform(0.15, 0.4)
    foot = body.joint(f"foot.{side}") * [1, 1, 0]
    pelvis = body.joint("root") * [1, 1, 0]
    ground = (pelvis if both else foot) + facing @ np.array([aside, -rng.uniform(0.2, 0.45), 0])
    tilt = facing @ np.array([-sign * rng.uniform(0, 0.12), rng.uniform(0, 0.25), 1.0])
    along = -unit(tilt)
    butt = ground - along * club.length_m
    for q in SIDES if both else (side,):
        over = butt + along * (0.01 if q == side else 0.03)
        _palm_on(posture, q, body=body, at=over, fingers=facing @ FORWARD)
    if not both:
        hang(posture, "R" if side == "L" else "L", body=body, out=np.array([0.1, 0.05, 0.97]))
    held = HeldClub(
        club=club, butt=butt, along=along, axes=head_axes(along, lie_deg=club.lie_deg),
        grip_down_m=0.0,
    )  # fmt: skip
    return _placed(posture, held, stance=stance, rng=rng, kind="leaning_on_club")


def _palm_on(posture: Posture, side: str, *, body: Pose, at: Array, fingers: Array) -> None:
    """Lay a palm on top of something."""
    hand = hand_of(posture.figure, side)
    sign = 1 if side == "L" else -1
    across = cross(fingers, np.array([0, 0, 1.0])) * sign
    wrist, R = on_handle(
        hand, at=at, along=unit(0.6 * fingers - 0.8 * across), palm=-np.array([0, 0, 1.0])
    )
    out = _facing(body) @ np.array([sign * 0.8, 0.5, 0])
    posture.arm(side, wrist, body=body, hand=R, elbow_toward=out)
    posture.grip(side, gripping=False)


def hands_on_hips(figure: Figure, *, club: Club, rng: np.random.Generator) -> Moment:
    """Both hands on the hips, or one of them and the club in the other."""
    stance = Standing(
        figure=figure,
        club=club,
        trunk=_upright(rng),
        feet=_feet(figure, rng, apart=rng.uniform(0.16, 0.45)),
        knee_bend=np.radians(rng.uniform(3, 12)),
    )
    posture, body = stance.posture()
    facing = _facing(body)
    held = None
    free = list(SIDES)
    if rng.random() < 0.4:
        side = free.pop(int(rng.integers(2)))
        out = np.array([0.15, rng.uniform(0, 0.2), 0.95])
        along = np.array([0.1, -rng.uniform(0.1, 0.5), -1.0])
        held = carry(posture, side, body=body, club=club, out=out, along=along, down_m=0.08)
    for q in free:
        sign = 1 if q == "L" else -1
        waist = body.joint("spine05")
        wide = (0.17 + 0.02 * rng.normal()) * figure.scale
        wrist = waist + facing @ np.array([sign * wide, rng.uniform(-0.03, 0.08), 0.03])
        out = facing @ np.array([sign * 1.0, rng.uniform(0, 0.6), 0])
        posture.arm(q, wrist, body=body, hand=None, elbow_toward=out)
        posture.grip(q, gripping=False)
    return _placed(posture, held, stance=stance, rng=rng, kind="hands_on_hips")


def picking_up(figure: Figure, *, club: Club, rng: np.random.Generator) -> Moment:
    """Bent down to the ball or the tee, one hand reaching, the club in the other."""
    pitch = np.radians(rng.uniform(50, 85))
    trunk = Trunk(
        pitch=float(pitch),
        twist=np.radians(rng.normal(0, 10)),
        round_upper=np.radians(rng.uniform(5, 30)),
        arch_lower=np.radians(-rng.uniform(5, 25)),
        head_down=np.radians(rng.uniform(-25, 15)),
        head_turn=np.radians(rng.normal(0, 10)),
        shoulders_forward=np.radians(15),
    )
    stance = Standing(
        figure=figure,
        club=club,
        trunk=trunk,
        feet=_feet(figure, rng, apart=rng.uniform(0.18, 0.5)),
        knee_bend=np.radians(rng.uniform(10, 70)),
    )
    posture, body = stance.posture()
    side = str(rng.choice(SIDES))
    other = "R" if side == "L" else "L"
    down = body.joint(f"upperarm01.{side}")
    low = max(down[2] - 0.97 * arm_length(figure, side), 0.06)
    reach = np.array([down[0] * 0.5, down[1] - 0.06, low])
    back = _facing(body) @ np.array([0.3, 0.5, 0.5])
    posture.arm(side, reach, body=body, hand=None, elbow_toward=back)
    posture.grip(side, gripping=False)
    out = np.array([rng.uniform(0.1, 0.4), rng.uniform(-0.2, 0.2), rng.uniform(0.7, 0.95)])
    along = np.array([rng.normal(0, 0.4), rng.normal(-0.5, 0.5), -0.7])
    held = carry(posture, other, body=body, club=club, out=out, along=along, down_m=0.09)
    spot = np.array([reach[0], reach[1] - 0.08, 0.0])
    ball_in_hand = rng.random() < 0.5
    moment = _placed(posture, held, stance=stance, rng=rng, kind="picking_up_ball", spot=spot)
    if ball_in_hand:
        return Moment(kind=moment.kind, pose=moment.pose, club=moment.club, ball=None, bag=club)
    return moment


def _placed(
    posture: Posture,
    held: HeldClub | None,
    *,
    stance: Standing,
    rng: np.random.Generator,
    kind: str,
    spot: Array | None = None,
) -> Moment:
    """Turn the golfer about, and put the origin where a ball may lie."""
    pose = posture.settle()
    free = kind in {"standing", "walking", "hands_on_hips", "leaning_on_club"}
    yaw = float(rng.choice([rng.normal(0, 0.3), rng.uniform(-np.pi, np.pi)])) if free else 0.0
    Q = about(np.array([0, 0, 1.0]), yaw)
    if spot is None:
        # as far from the ball as at address, give or take a step
        spot = Q.T @ np.array([rng.normal(0, 0.25), -rng.uniform(0.4, 1.1), 0])
    shift = -(Q @ spot)
    club = held.turned(Q, about=np.zeros(3)).shifted(shift) if held else None
    there = kind == "picking_up_ball" or rng.random() < 0.6
    ball = np.array([0, 0, BALL_RADIUS_M + stance.club.tee_m]) if there else None
    return Moment(
        kind=kind, pose=pose.moved(turn=Q, shift=shift), club=club, ball=ball, bag=stance.club
    )


FREE: Mapping[str, Maker] = {
    "standing": standing,
    "walking": walking,
    "leaning_on_club": leaning,
    "hands_on_hips": hands_on_hips,
    "picking_up_ball": picking_up,
}
"""Moments away from the ball, by kind."""
