"""The formulas of the measures, in metre, radian and per cent.

Every function takes a :class:`~wellset.figure.figure.FigureState` with any batch axes and
must stay analytic (no ``abs``, ``norm``, ``conj`` or ``max`` of the values themselves).
World frame: x to the target, y from the ball to the golfer, z up.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import FigureState
from wellset.geometry import angle, bend

Array = NDArray[np.float64]


def _side_lean(top: Array, bottom: Array) -> Array:
    """Side view: lean of bottom -> top from vertical, + toward the ball."""
    v = top - bottom
    return angle(-v[..., 1], v[..., 2])


def _front_lean(top: Array, bottom: Array) -> Array:
    """Front view: lean of bottom -> top from vertical, + toward the target."""
    v = top - bottom
    return angle(v[..., 0], v[..., 2])


def stance_width(s: FigureState) -> Array:
    """x-distance between the ankle joint centres."""
    return s["lead_ankle"][..., 0] - s["trail_ankle"][..., 0]


def stance_gap(s: FigureState) -> Array:
    """Clear x-gap between the inner edges of the shoes at the ankles."""
    return stance_width(s) - s.scalar("shoe_breadth")


def ball_position(s: FigureState) -> Array:
    """Ball x from trail ankle (0) to lead ankle (100)."""
    return 100 * (s["ball"][..., 0] - s["trail_ankle"][..., 0]) / stance_width(s)


def ball_to_toes(s: FigureState) -> Array:
    """Distance along y from the ball to the line through both toe tips, at the ball's x."""
    trail, line = s["trail_shoe_toe"], s["lead_shoe_toe"] - s["trail_shoe_toe"]
    along = (s["ball"][..., 0] - trail[..., 0]) / line[..., 0]
    return trail[..., 1] + along * line[..., 1] - s["ball"][..., 1]


def foot_flare(side: str) -> Callable[[FigureState], Array]:
    """Plan view: heel -> toe against -y, + turned outward."""
    outward = 1.0 if side == "lead" else -1.0

    def formula(s: FigureState) -> Array:
        v = s[f"{side}_shoe_toe"] - s[f"{side}_shoe_heel"]
        return angle(outward * v[..., 0], -v[..., 1])

    return formula


def plan_line(stem: str) -> Callable[[FigureState], Array]:
    """Plan view: trail -> lead line against the target line, + open."""

    def formula(s: FigureState) -> Array:
        v = s[f"lead_{stem}"] - s[f"trail_{stem}"]
        return angle(v[..., 1], v[..., 0])

    return formula


def nape(s: FigureState) -> Array:
    """C7 itself: the outline point moved in, square to the back, by collar and hair."""
    back = s["c7"] - s["t8"]
    along = back / np.sqrt((back * back)[..., 1:].sum(-1))[..., None]
    zero = np.zeros_like(along[..., 0])
    outward = np.stack([zero, along[..., 2], -along[..., 1]], axis=-1)
    inner: Array = s["c7"] - s.scalar("nape_cloth")[..., None] * outward
    return inner


def forward_bend(s: FigureState) -> Array:
    """Side view: mid-hip -> C7 from vertical, + toward the ball."""
    return _side_lean(nape(s), s.mid("hip"))


def upper_back_curve(s: FigureState) -> Array:
    """Side view: turn between T12 -> T8 and T8 -> C7 on the outline, + rounded."""
    return _side_lean(s["c7"], s["t8"]) - _side_lean(s["t8"], s["t12"])


def low_back_curve(s: FigureState) -> Array:
    """Side view: turn between S1 -> L3 and L3 -> T12 on the outline, + arched."""
    return _side_lean(s["l3"], s["s1"]) - _side_lean(s["t12"], s["l3"])


def knee_flex(side: str) -> Callable[[FigureState], Array]:
    """180 degrees minus the hip-knee-ankle angle."""

    def formula(s: FigureState) -> Array:
        knee = s[f"{side}_knee"]
        return bend(knee - s[f"{side}_hip"], s[f"{side}_ankle"] - knee)

    return formula


def arm_hang(s: FigureState) -> Array:
    """Side view: mid-shoulder -> grip centre from vertical, + reaching out."""
    v = s["grip_mid"] - s.mid("shoulder")
    return angle(-v[..., 1], -v[..., 2])


def hand_gap(s: FigureState) -> Array:
    """Side view: horizontal gap from the butt to the front of the nearer thigh."""
    butt = s["grip_end"]
    fronts = []
    for side in ("lead", "trail"):
        hip, knee = s[f"{side}_hip"], s[f"{side}_knee"]
        along = (butt[..., 2] - hip[..., 2]) / (knee[..., 2] - hip[..., 2])
        fronts.append(hip[..., 1] + along * (knee[..., 1] - hip[..., 1]))
    lead, trail = fronts
    front = np.where(np.real(lead) < np.real(trail), lead, trail)
    return front - s.scalar("thigh_half_depth") - butt[..., 1]


def heel_toe_balance(s: FigureState) -> Array:
    """Centre of mass along the feet, heel 0, toe 100, mean of both feet."""
    heel, toe = s.mid("shoe_heel"), s.mid("shoe_toe")
    line = s["lead_ankle"] - s["trail_ankle"]
    # across the foot line, toward the ball: (y, -x) of the line in plan view
    across_x, across_y = line[..., 1], -line[..., 0]

    def along(v: Array) -> Array:
        return v[..., 0] * across_x + v[..., 1] * across_y

    return 100 * along(s.centre_of_mass - heel) / along(toe - heel)


def lead_share(s: FigureState) -> Array:
    """Share of weight on the lead foot implied by the centre of mass."""
    trail = s["trail_ankle"][..., 0]
    return 100 * (s.centre_of_mass[..., 0] - trail) / stance_width(s)


def plumb(stem: str) -> Callable[[FigureState], Array]:
    """Side view: the part's y minus the ball-of-foot y, + behind."""

    def formula(s: FigureState) -> Array:
        return s.mid(stem)[..., 1] - s.mid("foot_ball")[..., 1]

    return formula


def pelvis_shift(s: FigureState) -> Array:
    """Front view: mid-hip x minus mid-ankle x, + toward the target."""
    return s.mid("hip")[..., 0] - s.mid("ankle")[..., 0]


def chest_shift(s: FigureState) -> Array:
    """Front view: sternum x minus mid-ankle x, + toward the target."""
    return s["sternum"][..., 0] - s.mid("ankle")[..., 0]


def head_behind_ball(s: FigureState) -> Array:
    """Front view: ball x minus nose x, + behind."""
    return s["ball"][..., 0] - s["nose"][..., 0]


def side_bend(s: FigureState) -> Array:
    """Front view: mid-hip -> sternum from vertical, + away from the target."""
    return -_front_lean(s["sternum"], s.mid("hip"))


def shoulder_tilt(s: FigureState) -> Array:
    """Front view: shoulder line from level, + lead shoulder higher."""
    v = s["lead_shoulder"] - s["trail_shoulder"]
    return angle(v[..., 2], v[..., 0])


def shaft_lean(s: FigureState) -> Array:
    """Front view: shaft from vertical, + hands toward the target."""
    return _front_lean(s["grip_end"], s["shaft_end"])


def shaft_angle(s: FigureState) -> Array:
    """Side view: shaft from the ground."""
    v = s["grip_end"] - s["shaft_end"]
    return angle(v[..., 2], v[..., 1])


def handle_height(s: FigureState) -> Array:
    """Height of the butt of the grip."""
    return s["grip_end"][..., 2]
