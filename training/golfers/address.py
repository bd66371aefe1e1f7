"""Golfers at address: the pose in which all the set-up's numbers hold at once."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from attrs import field, frozen
from scipy.sparse import csr_matrix

from training.bodies.store import Array
from training.golfers.bones import SIDES
from training.golfers.clubs import (
    BALL_RADIUS_M,
    FACE_BEHIND_BALL_M,
    GRIP_MIDDLE_M,
    HANDS_M,
    Club,
    HeldClub,
    head_axes,
)
from training.golfers.figure import Figure
from training.golfers.hands import hand_of, on_handle
from training.golfers.places import Place
from training.golfers.pose import SOLE_M, Foot, Pose, Posture, Trunk, flat_foot
from training.golfers.setup import SetUp
from training.golfers.turning import about_z, cross, length, unit

UNKNOWNS = ("pelvis_y", "pelvis_z", "pitch", "reach", "side_low", "side_high", "twist")
_LARGEST_STEP = np.array([0.06, 0.025, 0.15, 0.08, 0.1, 0.1, 0.15])
_SCALES = np.array([0.5, 0.5, 0.3, 0.002, 0.002, 0.5, 0.5])
"""What counts as one unit of misfit: per cent, degrees, degrees, share, metre, degrees."""

_DEGREES_PER_STRETCH = 120.0

UNSOLVED = 400.0
"""Sum of squared misfits beyond which a set-up is impossible for the body."""


@frozen(kw_only=True, eq=False)
class Stance:
    """A golfer with a club over a ball, feet about the origin, before it is solved.

    Parameters
    ----------
    figure : Figure
    club : Club
    setup : SetUp
    """

    figure: Figure
    club: Club
    setup: SetUp

    @cached_property
    def feet(self) -> dict[str, Foot]:
        """Both feet on the ground."""
        s = self.setup
        turn = about_z(np.radians(s.foot_line_deg))
        feet = {}
        for side, sign, flare in (("L", 1, s.lead_flare_deg), ("R", -1, s.trail_flare_deg)):
            at = turn @ np.array([sign * s.stance_m / 2, 0, 0])
            out = np.radians(flare + sign * s.foot_line_deg)
            feet[side] = flat_foot(self.figure, side, at=at, flare=out)
        return feet

    @cached_property
    def ahead(self) -> Array:
        """(3,) square to the foot line, toward the ball."""
        return np.asarray(about_z(np.radians(self.setup.foot_line_deg)) @ np.array([0, -1.0, 0]))

    def trunk(self, x: Array) -> Trunk:
        """The trunk's bends for given unknowns."""
        s = self.setup
        hips, shoulders = np.radians(s.hip_line_deg), np.radians(s.shoulder_line_deg)
        return Trunk(
            pitch=x[2],
            yaw=hips,
            side_low=x[4],
            side_high=x[5],
            twist=shoulders - hips + x[6],
            round_upper=np.radians(s.round_upper_deg),
            arch_lower=np.radians(s.arch_lower_deg),
            head_down=np.radians(s.head_down_deg),
            head_turn=np.radians(s.head_turn_deg),
            shoulder_drop=np.radians(s.shoulder_drop_deg),
            shoulders_forward=np.radians(s.shoulders_forward_deg),
        )

    def stand(self, x: Array) -> tuple[Posture, dict[str, Array]]:
        """Trunk and legs; and the knees."""
        pelvis = np.array([self.setup.pelvis_shift_m, x[0], x[1]])
        posture = Posture(self.figure, trunk=self.trunk(x), pelvis=pelvis)
        knees = {}
        for side, sign in (("L", 1), ("R", -1)):
            foot = self.feet[side]
            toward = 0.65 * self.ahead + 0.35 * (foot.R @ np.array([0, -1.0, 0]))
            toward = unit(toward + np.array([-sign * 0.02, 0, 0]))
            knees[side] = posture.leg(side, foot, knee_toward=toward)
        return posture, knees

    def hold(self, shoulders: Array, *, reach: float) -> HeldClub:
        """The club soled behind the ball, hands hung from the middle of the shoulders."""
        s, club = self.setup, self.club
        hang, lean = np.radians(s.arm_hang_deg), np.radians(s.shaft_lean_deg)
        y, z = shoulders[1] - reach * np.sin(hang), shoulders[2] - reach * np.cos(hang)
        ball_x = (s.ball_percent / 100 - 0.5) * s.stance_m
        head_x = ball_x - BALL_RADIUS_M - FACE_BEHIND_BALL_M
        grip_x = head_x + z * np.tan(lean)
        to_sole = club.length_m - GRIP_MIDDLE_M - s.grip_down_m
        level = np.sqrt(max(to_sole**2 - z**2 - (grip_x - head_x) ** 2, 1e-4))
        grip = np.array([grip_x, y, z])
        along = unit(np.array([head_x, y - level, 0]) - grip)
        return HeldClub(
            club=club,
            butt=grip - along * (GRIP_MIDDLE_M + s.grip_down_m),
            along=along,
            axes=head_axes(along, lie_deg=club.lie_deg),
            grip_down_m=s.grip_down_m,
        )

    def ball(self, held: HeldClub) -> Array:
        """(3,) on the ground under the ball."""
        x = (self.setup.ball_percent / 100 - 0.5) * self.setup.stance_m
        return np.array([x, held.sole[1] - self.club.face_m, 0])


def palms(along: Array, *, turn: float) -> dict[str, Array]:
    """Where the palms face on a handle: each other, both turned away from the target."""
    level = unit(cross(along, np.array([0, 0, 1.0])))
    level = level if level[0] > 0 else -level
    above = unit(cross(level, along))
    above = above if above[2] > 0 else -above
    lift = np.tan(turn) * above
    return {"L": unit(-level - lift), "R": unit(level - lift)}


def take_hold(
    posture: Posture, held: HeldClub, *, body: Pose, palm: dict[str, Array], elbow_out: float
) -> dict[str, float]:
    """Both hands on the club, one below the other; returns how far each arm is stretched."""
    stretch = {}
    for side, sign in (("L", 1), ("R", -1)):
        at = held.butt + held.along * (held.grip_down_m + HANDS_M[side])
        hand = hand_of(posture.figure, side)
        wrist, R = on_handle(hand, at=at, along=held.along, palm=palm[side])
        back = body.turn("spine01") @ np.array([sign * elbow_out, 0.75, -0.25])
        toward = back + np.array([0, 0.3, -0.2])
        posture.arm(side, wrist, body=body, hand=R, elbow_toward=toward)
        stretch[side] = arm_stretch(body, side, wrist=wrist)
    return stretch


def arm_stretch(body: Pose, side: str, *, wrist: Array) -> float:
    """Distance from shoulder to wrist over the length of the arm."""
    H = body.figure.head
    upper, fore, hand = (f"{n}.{side}" for n in ("upperarm01", "lowerarm01", "wrist"))
    whole = length(H(fore) - H(upper)) + length(H(hand) - H(fore))
    return length(wrist - body.joint(upper)) / whole


def shoulder_tilt_deg(pose: Pose) -> float:
    """How much lower the trail shoulder is, face-on."""
    line = pose.joint("upperarm01.L") - pose.joint("upperarm01.R")
    return float(np.degrees(np.arctan2(line[2], line[0])))


@frozen(kw_only=True, eq=False)
class Address:
    """A solved address, moved so that the ball is over the origin.

    Parameters
    ----------
    stance : Stance
    unknowns : (7,) array, as `UNKNOWNS`
    misfit : float
        Sum of squares left; above `UNSOLVED` the pose isn't what was asked for.
    pose : Pose
    club : HeldClub
    shift : (3,) array, metre
        Added to the stance's frame to get here.
    """

    stance: Stance = field(repr=False)
    unknowns: Array
    misfit: float
    pose: Pose = field(repr=False)
    club: HeldClub = field(repr=False)
    shift: Array


def solve(stance: Stance, *, start: Array | None = None) -> Address:
    """Find the address by Gauss–Newton steps of limited length.

    Parameters
    ----------
    stance : Stance
    start : (7,) array, optional
        Unknowns of a like stance; an upright golfer when left out.
    """
    solver = _Solver(stance)
    x = _start(stance) if start is None else start
    r = solver.misfits(x)
    best = (float(r @ r), x)
    for _ in range(18):
        J = np.stack([(solver.misfits(x + d) - r) / 1e-3 for d in 1e-3 * np.eye(7)], axis=1)
        step = np.clip(np.linalg.lstsq(J, -r)[0], -_LARGEST_STEP, _LARGEST_STEP)
        x = x + step
        r = solver.misfits(x)
        cost = float(r @ r)
        done = abs(best[0] - cost) < 1e-4 and np.abs(step).max() < 1e-3
        best = (cost, x) if cost < best[0] else best
        if done:
            break
    return _address(stance, best[1], misfit=best[0])


def _start(stance: Stance) -> Array:
    figure = stance.figure
    leg = figure.head("upperleg01.L")[2] - figure.floor
    apart = max(stance.setup.stance_m / 2 - 0.1, 0)
    height = np.sqrt(max(leg**2 - apart**2, 0.3 * leg**2)) + SOLE_M - 0.045
    side = np.radians(4)
    reach = 0.62 * figure.scale
    return np.array([0.13, height, np.radians(25), reach, side, side, 0.0])


def _address(stance: Stance, x: Array, *, misfit: float) -> Address:
    posture, _ = stance.stand(x)
    body = posture.settle()
    shoulders = (body.joint("upperarm01.L") + body.joint("upperarm01.R")) / 2
    held = stance.hold(shoulders, reach=x[3])
    s = stance.setup
    palm = palms(held.along, turn=np.radians(s.grip_turn_deg))
    take_hold(posture, held, body=body, palm=palm, elbow_out=s.elbow_out)
    for side in SIDES:
        posture.grip(side, gripping=True)
    shift = -stance.ball(held)
    return Address(
        stance=stance,
        unknowns=x,
        misfit=misfit,
        pose=posture.settle().moved(shift=shift),
        club=held.shifted(shift),
        shift=shift,
    )


class _Solver:
    """Misfits of a stance, computed with the few bones and vertices that they need."""

    def __init__(self, stance: Stance) -> None:
        self.stance = stance
        figure = stance.figure
        self.bones, into = _trunk_and_limbs(figure)
        rig = figure.rig
        names = ("C7", "sternum", "heel.L", "heel.R", "toe.L", "toe.R")
        used = np.unique(np.concatenate([figure.places[n].vertices for n in names]))
        self.places: dict[str, Place] = {
            n: Place(
                vertices=np.searchsorted(used, figure.places[n].vertices),
                weights=figure.places[n].weights,
            )
            for n in names
        }
        self.rest = figure.vertices[used]
        self.weights = np.asarray((rig.weights[used] @ into).todense())
        self.share = into.T @ figure.mass.share
        self.moment = into.T @ figure.mass.moment
        self.target = _wanted(stance.setup)

    def misfits(self, x: Array) -> Array:
        """(7,) what the pose has, less what it should have, in units of `_SCALES`."""
        stance, s = self.stance, self.stance.setup
        posture, knees = stance.stand(x)
        body = posture.settle(self.bones)
        left, right = body.joint("upperarm01.L"), body.joint("upperarm01.R")
        held = stance.hold((left + right) / 2, reach=x[3])
        palm = palms(held.along, turn=np.radians(s.grip_turn_deg))
        stretch = take_hold(posture, held, body=body, palm=palm, elbow_out=s.elbow_out)
        pose = posture.settle(self.bones)
        shift = pose.P - np.einsum("jab,jb->ja", pose.R, pose.figure.heads)
        com = np.einsum("jab,jb->a", pose.R, self.moment) + self.share @ shift
        skin = self._skin(pose.R, shift)
        hips = (posture.hip("L") + posture.hip("R")) / 2
        c7, sternum = self.places["C7"].of(skin) - hips, self.places["sternum"].of(skin)
        line = left - right
        has = np.array(
            [
                self._balance(skin, com),
                np.mean(
                    [_flex(posture.hip(q), knees[q], ankle=stance.feet[q].ankle) for q in SIDES]
                ),
                np.degrees(np.arctan2(-c7[1], c7[2])),
                max(stretch["L"], stretch["R"] - 0.014),
                hips[0] - sternum[0],
                np.degrees(np.arctan2(line[1], line[0])),
                np.degrees(np.arctan2(line[2], line[0])),
            ]
        )
        if s.lead_over_trail is not None:
            # in place of the tilt, as many degrees as make a like difference
            has[-1] = (stretch["L"] - stretch["R"]) * _DEGREES_PER_STRETCH
        return np.asarray((has - self.target) / _SCALES)

    def _skin(self, R: Array, shift: Array) -> Array:
        M = self.weights @ np.concatenate([R.reshape(len(R), 9), shift], axis=1)
        turned = np.einsum("vab,vb->va", M[:, :9].reshape(-1, 3, 3), self.rest)
        return np.asarray(turned + M[:, 9:], dtype=np.float64)

    def _balance(self, skin: Array, com: Array) -> float:
        """Centre of mass from the heels to the tips of the toes, per cent."""
        heel, toe = (
            (self.places[f"{end}.L"].of(skin) + self.places[f"{end}.R"].of(skin)) / 2
            for end in ("heel", "toe")
        )
        ahead = self.stance.ahead
        return float(100 * ((com - heel) @ ahead) / ((toe - heel) @ ahead))


def _wanted(s: SetUp) -> Array:
    arms = None if s.lead_over_trail is None else s.lead_over_trail * _DEGREES_PER_STRETCH
    return np.array([
        s.weight_toe_percent, s.knee_flex_deg, s.trunk_bend_deg, s.arm_extension,
        s.chest_shift_m, s.shoulder_line_deg, s.shoulder_tilt_deg if arms is None else arms,
    ])  # fmt: skip


def _flex(hip: Array, knee: Array, *, ankle: Array) -> float:
    cosine = unit(knee - hip) @ unit(ankle - knee)
    return float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))


def _trunk_and_limbs(figure: Figure) -> tuple[list[int], csr_matrix]:
    """Bones that bend while solving, and the matrix that hangs the others on them."""
    still = ("finger", "metacarpal", "toe", "eye")
    bones = [i for i, n in enumerate(figure.rig.bones) if not n.startswith(still)]
    kept, owner = set(bones), []
    for i in range(len(figure.heads)):
        bone = i
        while bone not in kept:
            bone = figure.rig.parents[bone]
        owner.append(bone)
    n = len(owner)
    return bones, csr_matrix((np.ones(n), (range(n), owner)), shape=(n, n))
