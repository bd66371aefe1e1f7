"""What a relaxed body does by itself, and what its joints can't do.

Rows of :func:`relaxed` are soft and only decide what ground, club, balance and the coach's
windows leave open. Spreads are our judgement where no source is named; lengths grow with
the body.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import BUILD_SCALARS, POINT_COUNT
from wellset.figure.landmarks import INDEX
from wellset.prescribe.aims import Aim
from wellset.prescribe.pose import LAYOUT, SIDES, Scene
from wellset.prescribe.skeleton import Skeleton

Array = NDArray[np.float64]

RELAXED_ELBOW_DEG: Final = (12.0, 20.0)
"""Flex of the lead and the trail elbow in hanging arms; the trail hand is lower, so that arm
is stretched no more than the lead one."""
FOREARM_TO_SHAFT_DEG: Final = (20.0, 28.0)
"""Angle between forearm and shaft, lead and trail: 18 ± 6 and 30 ± 3 on 24 rendered golfers."""
KNEE_FOLLOWS_FOOT: Final = 0.35
"""Share of a foot's flare that its knee points to, same golfers."""
ARM_SHORT_SD_M: Final = 0.015
"""How far shoulder and wrist may come nearer than with relaxed elbows: what 18 degrees more flex
do. Counted as a distance, not an angle, so that two arms that have to shorten share it; by the
angle, one bent far and one straight would rest as well as both bent."""
ELBOW_BACK: Final = (0.0, 0.95, -0.31)
"""Where a bent elbow points at address: back and a little down, same golfers."""
ELBOW_BACK_M: Final = 0.04
ELBOW_BACK_SD_M: Final = 0.06
"""How far back it lies from the middle of the arm, weakly: it decides little and steadies the
search."""
ELBOW_ASIDE_SD_M: Final = 0.018
"""How far a bent elbow strays sideways from the arm; it points back, 24 rendered golfers."""

JOINT_LIMITS_DEG: Final = {
    "spine_side": (-25.0, 25.0),
    "spine_turn": (-35.0, 35.0),
    "lead_shoulder_forward": (-20.0, 25.0),
    "trail_shoulder_forward": (-20.0, 25.0),
    "lead_shoulder_up": (-12.0, 25.0),
    "trail_shoulder_up": (-12.0, 25.0),
    "lead_ankle_bend": (-30.0, 25.0),
    "trail_ankle_bend": (-30.0, 25.0),
    "lead_wrist_set": (0.0, 50.0),
    "trail_wrist_set": (0.0, 50.0),
}
"""Ranges of healthy adults' joints in degrees, from memory of clinical tables (side bend of
the spine 25 to 35, turn 30 to 45, ankle bend 20 to 30, wrist set 30 to 40 toward the little
finger), from the pose that the skeleton calls rest. ``ankle_bend`` is the shank's lean from
square to the sole."""

JOINT_LIMITS: Final = tuple(
    Aim(
        quantity=name,
        low=low,
        high=high,
        target=(low + high) / 2,
        half_width=(high - low) / 2,
        is_limit=True,
    )
    for name, (low, high) in JOINT_LIMITS_DEG.items()
)

ROUNDED_M: Final = 0.004
"""Width of the rounded corner of the gap between hands and thighs; its error stays inside the
margins of the windows."""

_PAIRS: Final = tuple(
    (f"{side}_{a}", f"{side}_{b}")
    for a, b in (("hip", "knee"), ("knee", "ankle"), ("shoulder", "elbow"), ("elbow", "wrist"))
    for side in ("lead", "trail")
)
_FROM: Final = [INDEX[a] for a, _ in _PAIRS]
_TO: Final = [INDEX[b] for _, b in _PAIRS]


def points_of(values: Array, /) -> Array:
    """The points as (..., N, 3)."""
    points: Array = values[..., : 3 * POINT_COUNT].reshape(*values.shape[:-1], POINT_COUNT, 3)
    return points


def down_the_shaft(values: Array, /) -> Array:
    """Unit vector from butt to sole, shape (..., 3)."""
    points = points_of(values)
    down = points[..., INDEX["shaft_end"], :] - points[..., INDEX["grip_end"], :]
    way: Array = down / np.sqrt((down * down).sum(-1))[..., None]
    return way


def bones(values: Array, /) -> Array:
    """Vectors along thighs, shanks, upper arms and forearms, lead and trail, (..., 8, 3)."""
    points = points_of(values)
    along: Array = points[..., _TO, :] - points[..., _FROM, :]
    return along


def bone_lengths(scene: Scene, /) -> Array:
    """What their lengths must be, metre, shape (8,)."""
    body = scene.skeleton
    return np.concatenate([body.thigh, body.shank, body.upper_arm, body.forearm])


def lengths(along: Array, scene: Scene, /) -> Array:
    """What bones lack or exceed, metre, shape (..., 8): must vanish.

    ``(d² - L²) / 2 L`` is ``d - L`` to first order and analytic.
    """
    wanted = bone_lengths(scene)
    off: Array = ((along * along).sum(-1) - wanted**2) / (2 * wanted)
    return off


def relaxed(q: Array, values: Array, *, scene: Scene) -> Array:
    """Residuals of a relaxed body, shape (..., m)."""
    return np.concatenate(
        [_turns(q, scene), _knees(q, values, scene=scene), _arms(values, scene)], axis=-1
    )


def _turns(q: Array, scene: Scene) -> Array:
    opened, lead_up = (q[..., LAYOUT["pelvis"]][..., i] for i in (0, 1))
    trunk = q[..., LAYOUT["trunk"]]
    girdle = q[..., LAYOUT["lead_girdle"].start : LAYOUT["trail_girdle"].stop]
    back = q[..., LAYOUT["back"]]
    grip = q[..., LAYOUT["lead_grip"].start : LAYOUT["trail_grip"].stop]
    two = np.radians(2.0)
    stacked = np.stack(
        [
            opened / two,
            (lead_up - scene.ground.uphill) / two,
            (trunk[..., 1] - lead_up) / np.radians(8.0),
            (trunk[..., 2] - opened) / np.radians(4.0),
        ],
        axis=-1,
    )
    return np.concatenate(
        [
            stacked,
            girdle / np.radians(7.0),
            grip / np.radians(10.0),
            back / (0.02 * scene.skeleton.size),
        ],
        axis=-1,
    )


def _foot_ways(q: Array, scene: Scene) -> Array:
    """Where knees should point, in the world, unit vectors, (..., 2, 3)."""
    ways = []
    for side, sign, _ in SIDES:
        flare = KNEE_FOLLOWS_FOOT * q[..., LAYOUT[f"{side}_foot"].start + 2]
        zero = np.zeros_like(flare)
        ways.append(np.stack([sign * np.sin(flare), -np.cos(flare), zero], axis=-1))
    return np.stack(ways, axis=-2) @ scene.turn.T


def _knee_offsets(values: Array) -> Array:
    """Knees from half-way between hip and ankle, (..., 2, 3)."""
    points = points_of(values)
    knee, hip, ankle = (
        points[..., [INDEX[f"lead_{stem}"], INDEX[f"trail_{stem}"]], :]
        for stem in ("knee", "hip", "ankle")
    )
    return knee - (hip + ankle) / 2


def _knees(q: Array, values: Array, *, scene: Scene) -> Array:
    """Knees bend forward over the feet, not inward or outward."""
    size, way, offset = scene.skeleton.size, _foot_ways(q, scene), _knee_offsets(values)
    aside = offset[..., 0] * way[..., 1] - offset[..., 1] * way[..., 0]
    forward = (offset * way).sum(-1)
    # never backward: a straight leg has offset 0
    behind = np.where(np.real(forward) < 0.01 * size, forward - 0.01 * size, 0)
    return np.concatenate([aside / (0.015 * size), behind / (0.001 * size)], axis=-1)


def _relaxed_reach(body: Skeleton) -> Array:
    """Shoulder to wrist with relaxed elbows, lead and trail, metre (law of cosines)."""
    bent = np.cos(np.radians(RELAXED_ELBOW_DEG))
    squared = body.upper_arm**2 + body.forearm**2 + 2 * body.upper_arm * body.forearm * bent
    return np.sqrt(squared)


def _arms(values: Array, scene: Scene) -> Array:
    """Elbows a little bent and back, wrists above the shaft, the shaft in line with the arms."""
    body, points = scene.skeleton, points_of(values)
    shoulder, elbow, wrist = (
        points[..., [INDEX[f"lead_{stem}"], INDEX[f"trail_{stem}"]], :]
        for stem in ("shoulder", "elbow", "wrist")
    )
    reach = wrist - shoulder
    reach = np.sqrt((reach * reach).sum(-1))
    short = (reach - _relaxed_reach(body)) / (ARM_SHORT_SD_M * body.size)
    bend = elbow - (shoulder + wrist) / 2
    ahead = np.where(np.real(bend[..., 1]) < 0.005 * body.size, bend[..., 1] - 0.005 * body.size, 0)
    aside = bend[..., 0] / (ELBOW_ASIDE_SD_M * body.size)
    down = down_the_shaft(values)
    fore = wrist - elbow
    cosine = (fore * down[..., None, :]).sum(-1) / body.forearm
    line = (cosine - np.cos(np.radians(FOREARM_TO_SHAFT_DEG))) / 0.06
    back = (bend @ np.array(ELBOW_BACK) - ELBOW_BACK_M * body.size) / (ELBOW_BACK_SD_M * body.size)
    return np.concatenate([short, aside, ahead / (0.002 * body.size), back, line], axis=-1)


def smooth_hand_gap(values: Array, /) -> Array:
    """The measure ``hand_gap`` without its corner where both thighs are equally near.

    ``min(a, b)`` is ``(a + b - |a - b|) / 2``; the modulus is rounded off over
    :data:`ROUNDED_M`, so the gap reads at most half of that too small.
    """
    points = points_of(values)
    butt = points[..., INDEX["grip_end"], :]
    gaps = []
    for side, _, _ in SIDES:
        hip, knee = points[..., INDEX[f"{side}_hip"], :], points[..., INDEX[f"{side}_knee"], :]
        along = (butt[..., 2] - hip[..., 2]) / (knee[..., 2] - hip[..., 2])
        gaps.append(hip[..., 1] + along * (knee[..., 1] - hip[..., 1]) - butt[..., 1])
    lead, trail = gaps
    apart = np.sqrt((lead - trail) ** 2 + ROUNDED_M**2)
    front = values[..., 3 * POINT_COUNT + BUILD_SCALARS.index("thigh_half_depth")]
    gap: Array = (lead + trail - apart) / 2 - front
    return gap


def joint_angles(q: Array, values: Array, *, scene: Scene) -> Array:
    """Angles of :data:`JOINT_LIMITS_DEG` in its order, degree, shape (..., 10)."""
    pelvis, trunk = q[..., LAYOUT["pelvis"]], q[..., LAYOUT["trunk"]]
    lead, trail = q[..., LAYOUT["lead_girdle"]], q[..., LAYOUT["trail_girdle"]]
    turns = np.stack(
        [
            trunk[..., 1] - pelvis[..., 1],
            trunk[..., 2] - pelvis[..., 0],
            lead[..., 0],
            trail[..., 0],
            lead[..., 1],
            trail[..., 1],
        ],
        axis=-1,
    )
    points, body = points_of(values), scene.skeleton
    sides = [[INDEX[f"{side}_{stem}"] for side in ("lead", "trail")] for stem in
             ("knee", "ankle", "elbow", "wrist", "shoe_toe", "shoe_heel")]  # fmt: skip
    knee, ankle, elbow, wrist, toe, heel = (points[..., s, :] for s in sides)
    way = (toe - heel) / body.shoe_length
    lean = ((knee - ankle) * way).sum(-1) / body.shank
    down = down_the_shaft(values)
    set_ = ((wrist - elbow) * down[..., None, :]).sum(-1) / body.forearm
    radians = np.concatenate([turns, _arcsin(lean), np.pi / 2 - _arcsin(_capped(set_))], axis=-1)
    degrees: Array = np.degrees(1.0) * radians
    return degrees


def _capped(x: Array) -> Array:
    """Keep a cosine a hair below 1, where its angle has no derivative."""
    return np.where(np.real(x) > 0.9999, 0.9999 + 0 * x, x)


def _arcsin(x: Array) -> Array:
    """Arc sine with the exact first-order change in the imaginary part."""
    if not np.iscomplexobj(x):
        return np.arcsin(np.clip(x, -0.9999, 0.9999))
    real = np.clip(np.real(x), -0.9999, 0.9999)
    change = np.imag(x) / np.sqrt(1 - real**2)
    stepped: Array = np.arcsin(real) + 1j * change
    return stepped
