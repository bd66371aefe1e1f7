"""Marks of the face-on picture: stance, ball, pelvis, chest, head, shoulders, shaft."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.reports.features import Feature, Scene, angle_from, half_width
from wellset.reports.marks import Mark, Role

Array = NDArray[np.float64]

UP: Final = np.array([0.0, 0.0, 1.0])
TO_TARGET: Final = np.array([1.0, 0.0, 0.0])
BEFORE_TOES_M: Final = 0.07
"""The stance ruler lies this far in front of the toes, so that the shoes do not hide it."""


def backbone(scene: Scene, /) -> list[Mark]:
    """From the middle of the hips to the breastbone."""
    return [scene.line(Role.OUTLINE, start=scene.mid("hip"), end=scene.figure["sternum"])]


def reference(scene: Scene, /) -> list[Mark]:
    """The vertical over the middle of the ankles, from which shifts are read."""
    x, y = scene.mid("ankle")[0], scene.mid("hip")[1]
    top = float(scene.figure["sternum"][2]) + 0.08
    return [scene.line(Role.REFERENCE, start=np.array([x, y, 0.0]), end=np.array([x, y, top]))]


def _ruler_y(scene: Scene) -> float:
    toes = min(scene.figure[f"{side}_shoe_toe"][1] for side in ("lead", "trail"))
    return float(toes) - BEFORE_TOES_M


def _stance(scene: Scene) -> Feature | None:
    """A ruler on the ground from ankle to ankle, in front of the toes."""
    if scene.measured("stance_width") is None:
        return None
    y = _ruler_y(scene)
    ends = [np.array([scene.figure[f"{side}_ankle"][0], y, 0.0]) for side in ("trail", "lead")]
    across = np.array([0.0, 0.05, 0.0])
    marks = (
        scene.line(Role.RULER, start=ends[0], end=ends[1]),
        *(scene.line(Role.RULER, start=end - across / 2, end=end + across) for end in ends),
    )
    place = scene.project(ends[0] + 0.2 * (ends[1] - ends[0]))[0]
    return Feature(measure="stance_width", marks=marks, anchor_px=place, always=True)


def _gap(scene: Scene) -> Feature | None:
    """The clear gap between the shoes, as a bar behind the stance ruler."""
    result = scene.measured("stance_gap")
    if result is None:
        return None
    y = float(scene.mid("ankle")[1])
    x = float(scene.mid("ankle")[0])
    half = result.value / 2
    ends = [np.array([x - half, y, 0.0]), np.array([x + half, y, 0.0])]
    up = np.array([0.0, 0.0, 0.05])
    marks = (
        scene.line(Role.RULER, start=ends[0], end=ends[1]),
        *(scene.line(Role.RULER, start=end - up, end=end + up) for end in ends),
    )
    place = scene.project((ends[0] + ends[1]) / 2)
    return Feature(measure="stance_gap", marks=marks, anchor_px=place[0])


def _ball(scene: Scene) -> Feature | None:
    """Where the ball falls on the stance ruler: straight back from the ball on the ground."""
    result = scene.measured("ball_position")
    if result is None:
        return None
    y = _ruler_y(scene)
    trail, lead = (float(scene.figure[f"{side}_ankle"][0]) for side in ("trail", "lead"))

    def at(percent: float) -> Array:
        return np.array([trail + percent / 100 * (lead - trail), y, 0.0])

    half, deep = half_width(result), np.array([0.0, 0.035, 0.0])
    low, high, place = at(result.value - half), at(result.value + half), at(result.value)
    ball = scene.figure["ball"] * [1, 1, 0]
    marks = (
        scene.area(Role.BAND, [low - deep, high - deep, high + deep, low + deep]),
        scene.line(Role.TICK, start=place - 1.3 * deep, end=place + 1.3 * deep),
        scene.line(Role.PLUMB, start=ball, end=place),
    )
    return Feature(
        measure="ball_position", marks=marks, anchor_px=scene.project(place)[0], always=True
    )


def _shift(scene: Scene, measure: str, *, point: Array) -> Feature | None:
    """A level tick from the middle vertical to the pelvis or chest, with its interval."""
    result = scene.measured(measure)
    if result is None:
        return None
    centre = np.array([scene.mid("ankle")[0], scene.mid("hip")[1], point[2]])
    end, side = centre + result.value * TO_TARGET, half_width(result) * TO_TARGET
    up = np.array([0.0, 0.0, 0.025])
    marks = (
        scene.area(Role.BAND, [end - side - up, end + side - up, end + side + up, end - side + up]),
        scene.line(Role.TICK, start=end - up, end=end + up),
        scene.line(Role.PLUMB, start=centre, end=end),
    )
    return Feature(measure=measure, marks=marks, anchor_px=scene.project(end)[0], always=True)


def _head(scene: Scene) -> Feature | None:
    """A plumb line from the nose to the ground at the ball's distance."""
    result = scene.measured("head_behind_ball")
    if result is None:
        return None
    nose = scene.figure["nose"]
    low, high = np.array([nose[0], nose[1], 0.0]), nose
    side = half_width(result) * TO_TARGET
    marks = (
        scene.area(Role.BAND, [low - side, low + side, high + side, high - side]),
        scene.line(Role.PLUMB, start=low, end=high),
    )
    place = scene.project(low + 0.6 * (high - low))
    return Feature(measure="head_behind_ball", marks=marks, anchor_px=place[0])


def _tilt(scene: Scene) -> Feature | None:
    result = scene.measured("shoulder_tilt")
    if result is None:
        return None
    trail, lead = scene.figure["trail_shoulder"], scene.figure["lead_shoulder"]
    marks, middle = angle_from(
        scene,
        trail,
        towards=(TO_TARGET, UP),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=float(np.linalg.norm(lead - trail)),
    )
    marks.append(scene.line(Role.ANGLE, start=trail, end=lead))
    return Feature(measure="shoulder_tilt", marks=tuple(marks), anchor_px=middle)


def _side_bend(scene: Scene) -> Feature | None:
    result = scene.measured("side_bend")
    if result is None:
        return None
    hip, chest = scene.mid("hip"), scene.figure["sternum"]
    marks, middle = angle_from(
        scene,
        hip,
        towards=(UP, -TO_TARGET),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=0.9 * float(np.linalg.norm(chest - hip)),
    )
    marks.append(scene.line(Role.ANGLE, start=hip, end=chest))
    return Feature(measure="side_bend", marks=tuple(marks), anchor_px=middle)


def _lean(scene: Scene) -> Feature | None:
    result = scene.measured("shaft_lean")
    if result is None:
        return None
    head, butt = scene.figure["club_head"], scene.figure["grip_end"]
    marks, middle = angle_from(
        scene,
        head,
        towards=(UP, TO_TARGET),
        angle_deg=result.value,
        half_deg=half_width(result),
        radius=0.6 * float(np.linalg.norm(butt - head)),
    )
    return Feature(measure="shaft_lean", marks=tuple(marks), anchor_px=middle)


def _height(scene: Scene) -> Feature | None:
    result = scene.measured("handle_height")
    if result is None:
        return None
    butt = scene.figure["grip_end"]
    marks = (scene.line(Role.RULER, start=butt * [1, 1, 0], end=butt),)
    place = scene.project(butt / [1, 1, 2])
    return Feature(measure="handle_height", marks=marks, anchor_px=place[0])


def features(scene: Scene, /) -> Iterator[Feature]:
    """Every measure that this picture can show."""
    found = (
        _stance(scene),
        _ball(scene),
        _shift(scene, "pelvis_shift", point=scene.mid("hip")),
        _shift(scene, "chest_shift", point=scene.figure["sternum"]),
        _gap(scene),
        _head(scene),
        _tilt(scene),
        _side_bend(scene),
        _lean(scene),
        _height(scene),
    )
    return (feature for feature in found if feature is not None)
