"""Golfers in motion from an address: waggle, take-away, top of the back-swing, finish.

Hands and club turn about the middle of the shoulders in planes of their own, the trunk
turns under them; hands that come too far out of reach are drawn in.
"""

from __future__ import annotations

import numpy as np
from attrs import evolve, frozen

from training.bodies.store import Array
from training.golfers.address import Address, arm_stretch, palms, take_hold
from training.golfers.bones import SIDES
from training.golfers.clubs import BALL_RADIUS_M, HANDS_M, HeldClub
from training.golfers.hands import hand_of, on_handle
from training.golfers.moment import Moment
from training.golfers.pose import Foot, Pose, Posture, flat_foot
from training.golfers.turning import about, about_z, cross, unit

REACHABLE = 0.985
"""Stretch of the arms above which hands are drawn in."""


@frozen(kw_only=True)
class Turn:
    """How far a swing has gone; radians, positive away from the target.

    Parameters
    ----------
    hips, chest : float
        Pelvis and shoulders against address.
    hands, club : float
        Round their planes.
    lift : float
        Straightening of the trunk.
    to_lead_m : float
        Pelvis toward the target.
    heel_up : float
        Trail heel off the ground.
    """

    hips: float = 0.0
    chest: float = 0.0
    hands: float = 0.0
    club: float = 0.0
    lift: float = 0.0
    to_lead_m: float = 0.0
    heel_up: float = 0.0


def random_turn(kind: str, *, rng: np.random.Generator) -> Turn:
    """Draw how far a waggle, take-away, back-swing or finish has gone."""
    d = np.radians

    def deg(low: float, high: float) -> float:
        return float(d(rng.uniform(low, high)))

    if kind == "waggle":
        return Turn(hands=deg(-4, 14), club=deg(12, 75), chest=deg(-2, 6))
    if kind == "takeaway":
        share = rng.uniform(0.3, 1.0)
        return Turn(
            hips=share * deg(8, 22), chest=share * deg(30, 50), hands=share * deg(45, 75),
            club=share * deg(70, 110), to_lead_m=-0.02 * share,
        )  # fmt: skip
    if kind == "top":
        return Turn(
            hips=deg(30, 55), chest=deg(75, 100), hands=deg(120, 165), club=deg(200, 275),
            to_lead_m=rng.uniform(-0.03, 0.02),
        )  # fmt: skip
    return Turn(
        hips=-deg(60, 95), chest=-deg(90, 125), hands=-deg(135, 175), club=-deg(200, 300),
        lift=deg(18, 34), to_lead_m=rng.uniform(0.05, 0.12), heel_up=deg(25, 65),
    )  # fmt: skip


def swung(address: Address, *, kind: str, rng: np.random.Generator) -> Moment:
    """A moment of the swing that starts from an address."""
    turn = random_turn(kind, rng=rng)
    posture = _body(address, turn)
    body = posture.settle()
    held = _within_reach(_swung_club(address, turn, body=body), body=body, address=address)
    out = address.stance.setup.elbow_out
    palm = palms_of(address, held)
    take_hold(posture, held, body=body, palm=palm, elbow_out=out)
    for side in SIDES:
        posture.grip(side, gripping=True)
    club = address.stance.club
    there = kind != "finish" or rng.random() < 0.15
    return Moment(
        kind=kind,
        pose=posture.settle().moved(shift=address.shift),
        club=held.shifted(address.shift),
        ball=np.array([0, 0, BALL_RADIUS_M + club.tee_m]) if there else None,
        bag=club,
    )


def _body(address: Address, turn: Turn) -> Posture:
    stance, x = address.stance, address.unknowns
    trunk = stance.trunk(x)
    trunk = evolve(
        trunk,
        pitch=trunk.pitch - turn.lift,
        yaw=trunk.yaw - turn.hips,
        twist=trunk.twist - (turn.chest - turn.hips),
        # the head stays behind
        head_turn=trunk.head_turn + 0.75 * turn.chest,
        head_down=trunk.head_down - 0.5 * turn.lift,
    )
    pelvis = np.array(
        [
            stance.setup.pelvis_shift_m + turn.to_lead_m,
            x[0] - 0.25 * turn.lift * 0.3,
            x[1] + 0.05 * turn.lift,
        ]
    )
    posture = Posture(stance.figure, trunk=trunk, pelvis=pelvis)
    for side, foot in _feet(address, turn).items():
        toward = unit(about_z(-0.5 * turn.hips) @ stance.ahead + foot.R @ np.array([0, -1.0, 0]))
        posture.leg(side, foot, knee_toward=toward)
    return posture


def _feet(address: Address, turn: Turn) -> dict[str, Foot]:
    feet = dict(address.stance.feet)
    if turn.heel_up:
        s = address.stance.setup
        at = feet["R"].ankle
        spin = 0.5 * turn.heel_up  # the trail foot turns toward the target on its toes
        flare = np.radians(s.trail_flare_deg - s.foot_line_deg) - spin
        figure = address.stance.figure
        feet["R"] = flat_foot(figure, "R", at=at, flare=flare, heel_up=turn.heel_up)
    return feet


def _swung_club(address: Address, turn: Turn, *, body: Pose) -> HeldClub:
    before = address.club.shifted(-address.shift)
    pose = address.pose.moved(shift=-address.shift)
    old, new = _shoulders(pose), _shoulders(body)
    target = np.array([1.0, 0, 0])
    arms = before.grip_middle - old
    # turning these about +X × arm sends the hands down–back–up, away from the target first
    hands = about(unit(cross(target, arms)), turn.hands)
    shaft = about(unit(cross(target, before.along)), turn.club)
    grip = new + hands @ arms
    club = before.turned(shaft, about=before.grip_middle)
    return club.shifted(grip - before.grip_middle)


def _shoulders(pose: Pose) -> Array:
    return (pose.joint("upperarm01.L") + pose.joint("upperarm01.R")) / 2


def palms_of(address: Address, held: HeldClub) -> dict[str, Array]:
    """Where the palms face: as at address, carried along with the club."""
    before = address.club
    turn = np.radians(address.stance.setup.grip_turn_deg)
    Q = held.axes @ before.axes.T
    return {side: Q @ palm for side, palm in palms(before.along, turn=turn).items()}


def _within_reach(held: HeldClub, *, body: Pose, address: Address) -> HeldClub:
    """Draw the club in toward the shoulders until both wrists can be where they must."""
    shoulders = _shoulders(body)
    palm = palms_of(address, held)
    for _ in range(12):
        stretch = max(_stretch(held, side, body=body, palm=palm[side]) for side in SIDES)
        if stretch <= REACHABLE:
            break
        held = held.shifted(0.12 * (shoulders - held.grip_middle))
    return held


def _stretch(held: HeldClub, side: str, *, body: Pose, palm: Array) -> float:
    at = held.butt + held.along * (held.grip_down_m + HANDS_M[side])
    wrist, _ = on_handle(hand_of(body.figure, side), at=at, along=held.along, palm=palm)
    return arm_stretch(body, side, wrist=wrist)
