"""What a person reads off the same pictures with straight lines and one scale each.

The detector's points are the same as ours; there is no camera model. The scale comes from
the club, whose length and lie are known: in the down-the-line picture the shaft is seen
nearly at full length, in the face-on picture it rises by length times sine of lie.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import atan2, degrees, hypot, radians, sin

import numpy as np
from numpy.typing import NDArray

from wellset.figure.sighting import NotSeen, Sighting
from wellset.figure.views import View

Array = NDArray[np.float64]


class _Front:
    """Face-on picture: x to the target, z up, metre."""

    def __init__(self, sighting: Sighting, *, rise: float) -> None:
        self._points = _pixels(sighting)
        shaft = self._points["shaft_end"][1] - self._points["grip_end"][1]
        self._scale = rise / shaft

    def __getitem__(self, name: str) -> Array:
        if name.startswith("mid_"):
            return (self["lead_" + name[4:]] + self["trail_" + name[4:]]) / 2
        x, y = self._points[name]
        return np.asarray(np.array([x, -y]) * self._scale)


class _Side(_Front):
    """Down-the-line picture: y away from the ball, z up, metre."""

    def __init__(self, sighting: Sighting, *, length: float) -> None:
        self._points = {n: np.array([-p[0], p[1]]) for n, p in _pixels(sighting).items()}
        self._scale = length / hypot(*(self._points["shaft_end"] - self._points["grip_end"]))


def _pixels(sighting: Sighting) -> Mapping[str, Array]:
    return {
        name: place.position_px
        for name, place in sighting.landmarks.items()
        if not isinstance(place, NotSeen)
    }


def _lean(top: Array, bottom: Array) -> float:
    """Angle of bottom -> top from vertical, degrees, + toward larger first coordinate."""
    return degrees(atan2(top[0] - bottom[0], top[1] - bottom[1]))


def _front_measures(f: _Front) -> dict[str, float]:
    ankles = f["lead_ankle"][0] - f["trail_ankle"][0]
    shoulder = f["lead_shoulder"] - f["trail_shoulder"]
    return {
        "stance_width": ankles,
        "ball_position": 100 * (f["ball"][0] - f["trail_ankle"][0]) / ankles,
        "pelvis_shift": f["mid_hip"][0] - f["mid_ankle"][0],
        "chest_shift": f["sternum"][0] - f["mid_ankle"][0],
        "head_behind_ball": f["ball"][0] - f["nose"][0],
        "side_bend": -_lean(f["sternum"], f["mid_hip"]),
        "shoulder_tilt": degrees(atan2(shoulder[1], shoulder[0])),
        "shaft_lean": _lean(f["grip_end"], f["shaft_end"]),
    }


def _side_measures(s: _Side) -> dict[str, float]:
    grip = s["grip_mid"] - s["mid_shoulder"]
    shaft = s["grip_end"] - s["shaft_end"]
    flex = {
        f"{side}_knee_flex": _lean(s[f"{side}_hip"], s[f"{side}_knee"])
        - _lean(s[f"{side}_knee"], s[f"{side}_ankle"])
        for side in ("lead", "trail")
    }
    return {
        "ball_to_toes": s["mid_shoe_toe"][0] - s["ball"][0],
        "forward_bend": -_lean(s["c7"], s["mid_hip"]),
        "upper_back_curve": -_lean(s["c7"], s["t8"]) + _lean(s["t8"], s["t12"]),
        "low_back_curve": -_lean(s["l3"], s["s1"]) + _lean(s["t12"], s["l3"]),
        "arm_hang": degrees(atan2(-grip[0], -grip[1])),
        "armpit_plumb": s["mid_armpit"][0] - s["mid_foot_ball"][0],
        "knee_plumb": s["mid_knee"][0] - s["mid_foot_ball"][0],
        "shaft_angle": degrees(atan2(shaft[1], shaft[0])),
        "handle_height": s["grip_end"][1] - s["ball"][1],
        **{name: abs(value) for name, value in flex.items()},
    }


def naive_measures(
    sightings: Mapping[View, Sighting], *, club_length: float, club_lie_deg: float
) -> dict[str, float]:
    """Measures by line drawing, in published units; those a line can't give are left out."""
    found: dict[str, float] = {}
    readers: tuple[tuple[View, Callable[[Sighting], dict[str, float]]], ...] = (
        (
            View.FACE_ON,
            lambda s: _front_measures(_Front(s, rise=club_length * sin(radians(club_lie_deg)))),
        ),
        (View.DOWN_THE_LINE, lambda s: _side_measures(_Side(s, length=club_length))),
    )
    for view, read in readers:
        if view in sightings:
            try:
                found |= read(sightings[view])
            except KeyError:  # a point is hidden: a person couldn't draw the line either
                continue
    return found
