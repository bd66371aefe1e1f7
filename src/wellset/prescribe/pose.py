"""From a few parameters to all points: where feet, joints, hands and club are.

The parameters are joints as points, and angles for what turns as one piece. Feet are flat
and the club is soled by construction; segments between joints keep their lengths by hard
terms. Everything is analytic and takes complex parameters, so derivatives are exact by a
complex step.

Frame: world, x to the target, y from the ball to the golfer, z against gravity. Feet and
club are placed in the ground's own frame and turned with it.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from wellset.estimation import Layout, lay_out
from wellset.figure.figure import STATE_SIZE
from wellset.figure.landmarks import INDEX
from wellset.prescribe.ground import Ground
from wellset.prescribe.skeleton import ARMPIT_FROM_SHOULDER, TRUNK_POINTS, Skeleton

Array = NDArray[np.float64]

SIDES: Final = (("lead", 1.0, 0), ("trail", -1.0, 1))
"""Name, sign of x, and index of each side."""

LAYOUT: Final[Layout] = lay_out(
    [
        ("lead_foot", ("lead_foot.x", "lead_foot.y", "lead_foot.flare")),
        ("trail_foot", ("trail_foot.x", "trail_foot.y", "trail_foot.flare")),
        ("mid_hip", [f"mid_hip.{axis}" for axis in "xyz"]),
        ("pelvis", ("pelvis.open", "pelvis.lead_up")),
        ("lead_knee", [f"lead_knee.{axis}" for axis in "xyz"]),
        ("trail_knee", [f"trail_knee.{axis}" for axis in "xyz"]),
        ("trunk", ("trunk.forward", "trunk.away", "trunk.open")),
        ("back", ("back.upper", "back.lower")),
        ("lead_girdle", ("lead_girdle.forward", "lead_girdle.up")),
        ("trail_girdle", ("trail_girdle.forward", "trail_girdle.up")),
        ("lead_elbow", [f"lead_elbow.{axis}" for axis in "xyz"]),
        ("trail_elbow", [f"trail_elbow.{axis}" for axis in "xyz"]),
        ("lead_grip", ("lead_grip.set", "lead_grip.roll")),
        ("trail_grip", ("trail_grip.set", "trail_grip.roll")),
        ("shaft_lean", ("shaft_lean",)),
        ("toe_up", ("toe_up",)),
        ("extra_length", ("extra_length",)),
    ]
)
"""What each parameter is; metre and radian. ``back.*`` move T8 and L3 out from the trunk."""

BUTT_TO_LEAD_HAND_M: Final = 0.080
"""Butt to the middle of the lead hand (24 rendered golfers: hands' middle 11.8 cm down, hands
7.1 cm apart)."""


RELAXED_GRIP: Final = float(np.radians(33.0))
"""From square above the shaft, up the shaft, to the wrist, seen from the hand's middle: both
wrists of the same golfers, spread 4 degrees."""


@frozen(kw_only=True, eq=False)
class ClubOnGround:
    """The club in hand as the pose needs it.

    Parameters
    ----------
    length : float
        Sole to butt, metre.
    lie : float
        Built lie, radian.
    toe_up : float
        How far the toe is asked to stand off flat, radian: the shaft is that much flatter.
    toe_up_sd : float
        How freely the body may choose another, radian, one standard deviation; 0: exactly as
        asked.
    head_reach : float
        From the shaft's end to the ball's middle, toward the ball, metre.
    behind : float
        How far the shaft's end stays behind the ball, metre.
    ball_height : float
        Ball's centre above the ground, metre.
    grip_down : float
        How far down the grip the hands are taken, metre.
    """

    length: float
    lie: float
    toe_up: float = 0.0
    toe_up_sd: float = 0.0
    head_reach: float
    behind: float = 0.035
    ball_height: float
    grip_down: float = 0.0

    def scaled(self, factor: float, /) -> ClubOnGround:
        """The same club, every length times the factor."""
        names = ("length", "head_reach", "behind", "ball_height", "grip_down")
        return evolve(self, **{name: getattr(self, name) * factor for name in names})


_RIDERS: Final = (
    *((name, 1.0) for name in ("s1", "l3", "t12", "t8", "c7", "sternum", "nose")),
    *((stem, sign) for stem in ("ear", "eye") for _, sign, _ in SIDES),
)
_RIDER_AT: Final = [
    INDEX[stem if stem in INDEX else f"{'lead' if sign > 0 else 'trail'}_{stem}"]
    for stem, sign in _RIDERS
]
_T8, _L3 = (next(i for i, (n, _) in enumerate(_RIDERS) if n == name) for name in ("t8", "l3"))


@frozen(kw_only=True, eq=False)
class Scene:
    """A body, a club and the ground: everything that turns parameters into points."""

    skeleton: Skeleton
    club: ClubOnGround
    ground: Ground = field(factory=Ground)
    turn: Array = field(init=False, repr=False)
    """World from ground, (3, 3); kept because every evaluation uses it."""
    riders: Array = field(init=False, repr=False)
    """Points that ride on the trunk, in it, metre, in the order of their names."""

    @turn.default
    def _turn(self) -> Array:
        return self.ground.world_from_ground

    @riders.default
    def _riders(self) -> Array:
        local = [TRUNK_POINTS[stem] for stem, _ in _RIDERS]
        signs = [(sign, 1.0, 1.0) for _, sign in _RIDERS]
        riding: Array = np.array(local) * np.array(signs) * self.skeleton.hip_to_neck
        return riding

    @property
    def hands_along_grip(self) -> Array:
        """Butt to the middle of the lead and of the trail hand, metre, shape (2,)."""
        first = BUTT_TO_LEAD_HAND_M * self.skeleton.size + self.club.grip_down
        return np.array([first, first + self.skeleton.hand_breadth])


def place(parameters: Array, scene: Scene, /) -> Array:
    """All points and scalars of a figure, shape (..., STATE_SIZE).

    Parameters
    ----------
    parameters : (..., n) array, real or complex
        In the order of :data:`LAYOUT`.
    scene : Scene
    """
    values = np.empty((*parameters.shape[:-1], STATE_SIZE), dtype=parameters.dtype)
    _place_feet(values, parameters, scene=scene)
    _place_legs(values, parameters, scene=scene)
    _place_trunk(values, parameters, scene=scene)
    for name, _, _ in SIDES:
        _put(values, f"{name}_elbow", at=parameters[..., LAYOUT[f"{name}_elbow"]])
    _place_club(values, parameters, scene=scene)
    values[..., 3 * len(INDEX) :] = scene.skeleton.scalars
    return values


def point(values: Array, name: str, /) -> Array:
    """One landmark out of the values, shape (..., 3)."""
    start = 3 * INDEX[name]
    return values[..., start : start + 3]


def _put(values: Array, name: str, *, at: Array) -> None:
    start = 3 * INDEX[name]
    values[..., start : start + 3] = at


def _place_feet(values: Array, q: Array, *, scene: Scene) -> None:
    """Ankle, heel, toe and ball of each flat foot, in the ground's frame, turned with it."""
    body, turn = scene.skeleton, scene.turn.T
    ends, back = body.shoe_end_height, body.heel_to_ankle
    parts = (
        ("ankle", 0.0, body.ankle_height),
        ("shoe_heel", -back, ends),
        ("shoe_toe", body.shoe_length - back, ends),
        ("foot_ball", body.heel_to_ball - back, body.foot_ball_height),
    )
    for name, sign, _ in SIDES:
        foot = q[..., LAYOUT[f"{name}_foot"]]
        along_x, along_y = sign * np.sin(foot[..., 2]), -np.cos(foot[..., 2])
        at = np.empty((*q.shape[:-1], 3), dtype=q.dtype)
        for stem, along, height in parts:
            at[..., 0] = foot[..., 0] + along * along_x
            at[..., 1] = foot[..., 1] + along * along_y
            at[..., 2] = height
            _put(values, f"{name}_{stem}", at=at @ turn)


def _place_legs(values: Array, q: Array, *, scene: Scene) -> None:
    middle = q[..., LAYOUT["mid_hip"]]
    pelvis = q[..., LAYOUT["pelvis"]]
    opened, lead_up = pelvis[..., 0], pelvis[..., 1]
    level = np.cos(lead_up)
    across = np.stack([np.cos(opened) * level, np.sin(opened) * level, np.sin(lead_up)], axis=-1)
    half = scene.skeleton.hip_spacing / 2
    for name, sign, _ in SIDES:
        _put(values, f"{name}_hip", at=middle + sign * half * across)
        _put(values, f"{name}_knee", at=q[..., LAYOUT[f"{name}_knee"]])


def trunk_axes(q: Array, /) -> Array:
    """Axes of the trunk in the world, shape (..., 3, 3): rows lead, forward, up.

    The trunk turns open about its own axis, tilts away from the target, then bends forward,
    so that the side view shows exactly the forward bend.
    """
    angles = q[..., LAYOUT["trunk"]]
    c, s = np.cos(angles), np.sin(angles)
    cb, ca, co = (c[..., i] for i in range(3))
    sb, sa, so = (s[..., i] for i in range(3))
    axes = np.empty((*angles.shape[:-1], 3, 3), dtype=q.dtype)
    # open: lead -> co lead - so forward; away: lead -> ca lead + sa up, up -> ca up - sa lead;
    # bend: forward (0, -cb, -sb), up (0, -sb, cb)
    axes[..., 0, 0] = co * ca
    axes[..., 0, 1] = -co * sa * sb + so * cb
    axes[..., 0, 2] = co * sa * cb + so * sb
    axes[..., 1, 0] = so * ca
    axes[..., 1, 1] = -so * sa * sb - co * cb
    axes[..., 1, 2] = so * sa * cb - co * sb
    axes[..., 2, 0] = -sa
    axes[..., 2, 1] = -ca * sb
    axes[..., 2, 2] = ca * cb
    return axes


def _place_trunk(values: Array, q: Array, *, scene: Scene) -> None:
    body, axes = scene.skeleton, trunk_axes(q)
    origin, back = q[..., LAYOUT["mid_hip"]], q[..., LAYOUT["back"]]
    at = np.empty((*q.shape[:-1], *scene.riders.shape), dtype=q.dtype)
    at[...] = scene.riders
    at[..., _T8, 1] -= back[..., 0]
    at[..., _L3, 1] -= back[..., 1]
    points = values[..., : 3 * len(INDEX)].reshape(*q.shape[:-1], len(INDEX), 3)
    points[..., _RIDER_AT, :] = origin[..., None, :] + at @ axes
    values[..., : 3 * len(INDEX)] = points.reshape(*q.shape[:-1], -1)
    for side, sign, _ in SIDES:
        shoulder = _shoulder(q, body, side=side, sign=sign)
        _put(values, f"{side}_shoulder", at=origin + (shoulder[..., None, :] @ axes)[..., 0, :])
        armpit = shoulder + np.array(ARMPIT_FROM_SHOULDER) * [sign, 1, 1] * body.hip_to_neck
        _put(values, f"{side}_armpit", at=origin + (armpit[..., None, :] @ axes)[..., 0, :])


def _shoulder(q: Array, body: Skeleton, *, side: str, sign: float) -> Array:
    """Shoulder centre in the trunk: the collarbone swings forward and up about its foot."""
    girdle = q[..., LAYOUT[f"{side}_girdle"]]
    forward, up = girdle[..., 0], girdle[..., 1]
    reach = body.shoulder[0] - body.collarbone_foot[0]
    out = np.cos(up)
    swung = np.stack([sign * np.cos(forward) * out, np.sin(forward) * out, np.sin(up)], axis=-1)
    at: Array = body.collarbone_foot * [sign, 1, 1] + reach * swung
    return at


def _place_club(values: Array, q: Array, *, scene: Scene) -> None:
    """Soled club: rolled to the asked toe-up, leant about the line heel to toe; the hands."""
    club, turn = scene.club, scene.turn.T
    lean, flat = q[..., LAYOUT["shaft_lean"].start], club.lie - q[..., LAYOUT["toe_up"].start]
    sin_lean, cos_lean = np.sin(lean), np.cos(lean)
    rise, reach = np.sin(flat), np.cos(flat)
    axes = np.zeros((*lean.shape, 3, 3), dtype=q.dtype)  # rows: up the shaft, above it, across
    axes[..., 0, 0], axes[..., 0, 1], axes[..., 0, 2] = rise * sin_lean, reach, rise * cos_lean
    axes[..., 1, 0], axes[..., 1, 1], axes[..., 1, 2] = reach * sin_lean, -rise, reach * cos_lean
    axes[..., 2, 0], axes[..., 2, 2] = cos_lean, -sin_lean
    axes = axes @ turn
    up, above, across = axes[..., 0, :], axes[..., 1, :], axes[..., 2, :]
    ball = np.array([0.0, 0.0, club.ball_height / scene.turn[2, 2]])
    foot = ball - scene.turn[:, 2] * club.ball_height
    end = foot + np.array([-club.behind, club.head_reach, 0.0]) @ turn
    length = (club.length + q[..., LAYOUT["extra_length"].start])[..., None]
    butt = end + length * up
    _put(values, "ball", at=ball)
    _put(values, "shaft_end", at=end)
    _put(values, "grip_end", at=butt)
    _put(values, "grip_mid", at=butt - scene.hands_along_grip.mean() * up)
    head = [-0.37 * club.behind, -0.35 * club.head_reach, 0.03 * scene.skeleton.size]
    _put(values, "club_head", at=end + np.array(head) @ turn)
    for name, _, side in SIDES:
        hold = q[..., LAYOUT[f"{name}_grip"]]
        set_, roll = RELAXED_GRIP + hold[..., 0], hold[..., 1]
        flat_roll = np.cos(roll)[..., None]
        way = flat_roll * (np.cos(set_)[..., None] * above + np.sin(set_)[..., None] * up)
        way = way + np.sin(roll)[..., None] * across
        hand = butt - scene.hands_along_grip[side] * up
        _put(values, f"{name}_wrist", at=hand + scene.skeleton.wrist_to_grip[side] * way)
