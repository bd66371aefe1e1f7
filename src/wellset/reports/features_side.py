"""Marks of the down-the-line picture: plumb lines, bend, balance, shaft."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.reports.features import Feature, Scene, angle_from, half_width
from wellset.reports.marks import Mark, Role

Array = NDArray[np.float64]

UP: Final = np.array([0.0, 0.0, 1.0])
TO_BALL: Final = np.array([0.0, -1.0, 0.0])
TO_GOLFER: Final = np.array([0.0, 1.0, 0.0])
BACK: Final = ("s1", "l3", "t12", "t8", "c7")


def backbone(scene: Scene, /) -> list[Mark]:
    """The outline of the back."""
    return [scene.chain(Role.OUTLINE, BACK)]


def reference(scene: Scene, /) -> list[Mark]:
    """The vertical over the balls of the feet, from which the plumb lines are read."""
    x, y, _ = scene.mid("foot_ball")
    top = float(scene.mid("armpit")[2]) + 0.06
    return [scene.line(Role.REFERENCE, start=np.array([x, y, 0.0]), end=np.array([x, y, top]))]


def _plumb(scene: Scene, stem: str) -> Feature | None:
    """A vertical dropped from a landmark, its interval as a band round it.

    It hangs in the plane of the reference line, so that a camera off square does not
    shift one against the other.
    """
    result = scene.measured(f"{stem}_plumb")
    if result is None:
        return None
    x, foot, _ = scene.mid("foot_ball")
    top, y, half = float(scene.mid(stem)[2]), foot + result.value, half_width(result)
    low, high = np.array([x, y, 0.0]), np.array([x, y, top])
    side = half * TO_GOLFER
    marks = (
        scene.area(Role.BAND, [low - side, low + side, high + side, high - side]),
        scene.line(Role.PLUMB, start=low, end=high),
        scene.line(Role.TICK, start=np.array([x, foot, 0.0]), end=low),
    )
    place = scene.project(low + (0.55 if stem == "armpit" else 0.7) * (high - low))
    return Feature(measure=f"{stem}_plumb", marks=marks, anchor_px=place[0], always=True)


def _forward_bend(scene: Scene) -> Feature | None:
    result = scene.measured("forward_bend")
    if result is None:
        return None
    hip, neck = scene.mid("hip"), scene.figure["c7"]
    marks, middle = angle_from(
        scene,
        hip,
        towards=(UP, TO_BALL),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=0.6 * float(np.linalg.norm(neck - hip)),
    )
    marks.append(scene.line(Role.ANGLE, start=hip, end=neck))
    return Feature(measure="forward_bend", marks=tuple(marks), anchor_px=middle, always=True)


def _arm_hang(scene: Scene) -> Feature | None:
    result = scene.measured("arm_hang")
    if result is None:
        return None
    shoulder, grip = scene.mid("shoulder"), scene.figure["grip_mid"]
    marks, middle = angle_from(
        scene,
        shoulder,
        towards=(-UP, TO_BALL),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=0.75 * float(np.linalg.norm(grip - shoulder)),
    )
    marks.append(scene.line(Role.ANGLE, start=shoulder, end=grip))
    return Feature(measure="arm_hang", marks=tuple(marks), anchor_px=middle)


def _shaft_angle(scene: Scene) -> Feature | None:
    result = scene.measured("shaft_angle")
    if result is None:
        return None
    head = scene.figure["club_head"] * [1, 1, 0]
    marks, middle = angle_from(
        scene,
        head,
        towards=(TO_GOLFER, UP),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=0.3,
    )
    return Feature(measure="shaft_angle", marks=tuple(marks), anchor_px=middle)


def _balance(scene: Scene) -> Feature | None:
    """A ruler under the nearer shoe from heel to toe, with the balance marked on it."""
    result = scene.measured("heel_toe_balance")
    if result is None:
        return None
    x = float(scene.figure["trail_foot_ball"][0]) - 0.08
    heel = np.array([x, scene.mid("shoe_heel")[1], 0.0])
    toe = np.array([x, scene.mid("shoe_toe")[1], 0.0])
    half, up = half_width(result), np.array([0.0, 0.0, 0.035])

    def at(percent: float) -> Array:
        return np.asarray(heel + percent / 100 * (toe - heel))

    low, high = at(result.value - half), at(result.value + half)
    marks = (
        scene.line(Role.RULER, start=heel, end=toe),
        scene.line(Role.RULER, start=heel, end=heel + up),
        scene.line(Role.RULER, start=toe, end=toe + up),
        scene.area(Role.BAND, [low, high, high + up, low + up]),
        scene.line(Role.TICK, start=at(result.value), end=at(result.value) + up),
    )
    place = scene.project(at(result.value))
    return Feature(measure="heel_toe_balance", marks=marks, anchor_px=place[0], always=True)


def _gap(scene: Scene, measure: str, *, start: Array) -> Feature | None:
    """A level ruler from a point toward the golfer, with its end's interval."""
    result = scene.measured(measure)
    if result is None:
        return None
    end, side = start + result.value * TO_GOLFER, half_width(result) * TO_GOLFER
    up = np.array([0.0, 0.0, 0.03])
    marks = (
        scene.line(Role.RULER, start=start, end=end),
        scene.area(Role.BAND, [end - side - up, end + side - up, end + side + up, end - side + up]),
        scene.line(Role.TICK, start=end - up, end=end + up),
    )
    return Feature(measure=measure, marks=marks, anchor_px=scene.project((start + end) / 2)[0])


def _curve(scene: Scene, measure: str, *, names: tuple[str, str, str]) -> Feature | None:
    if scene.measured(measure) is None:
        return None
    line = scene.chain(Role.ANGLE, names)
    place = scene.project(scene.figure[names[1]])
    return Feature(measure=measure, marks=(line,), anchor_px=place[0])


def _line_across(scene: Scene, measure: str, *, stem: str) -> Feature | None:
    """The line through a trail and a lead point, carried on toward the target."""
    if scene.measured(measure) is None:
        return None
    trail, lead = scene.figure[f"trail_{stem}"], scene.figure[f"lead_{stem}"]
    start, end = trail - 0.6 * (lead - trail), lead + 1.5 * (lead - trail)
    marks = (scene.line(Role.ANGLE, start=start, end=end),)
    return Feature(measure=measure, marks=marks, anchor_px=scene.project(trail)[0])


def features(scene: Scene, /) -> Iterator[Feature]:
    """Every measure that this picture can show."""
    ball = scene.figure["ball"] * [1, 1, 0]
    found = (
        _plumb(scene, "armpit"),
        _plumb(scene, "knee"),
        _forward_bend(scene),
        _balance(scene),
        _arm_hang(scene),
        _shaft_angle(scene),
        _gap(scene, "hand_gap", start=scene.figure["grip_end"]),
        _gap(scene, "ball_to_toes", start=ball),
        _curve(scene, "upper_back_curve", names=("t12", "t8", "c7")),
        _curve(scene, "low_back_curve", names=("s1", "l3", "t12")),
        _line_across(scene, "foot_line", stem="shoe_toe"),
        _line_across(scene, "hip_line", stem="hip"),
        _line_across(scene, "shoulder_line", stem="shoulder"),
        _curve(scene, "trail_knee_flex", names=("trail_hip", "trail_knee", "trail_ankle")),
    )
    return (feature for feature in found if feature is not None)
