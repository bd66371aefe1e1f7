"""A kept assessment as pictures of the lesson sheet: where things fall, and the few marks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.advise import take_home
from wellset.assess.cameras import BASE
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS, Camera
from wellset.reports.contract import AssessmentDocument, PicturePart, SeenPoint
from wellset.reports.moves import moving, view_of
from wellset.reports.sheet_picture import (
    ChangeMark,
    GoodMark,
    SheetPicture,
    badge_place,
    frame_round,
)
from wellset.units import radians

Array = NDArray[np.float64]

MOST_MARKS: Final = 3
"""In both pictures together."""
TITLES: Final = {
    View.FACE_ON: "From the front",
    View.DOWN_THE_LINE: "From behind, looking at the target",
}


@frozen(kw_only=True, eq=False)
class Shown:
    """One picture with its estimated camera.

    The published camera leaves out the lens's small terms; what they shift is taken from
    where the published landmarks fall.
    """

    part: PicturePart
    camera: Camera
    shift_px: Array

    def project(self, points_world: Array, /) -> Array:
        """Pixels of the picture as taken, shape (n, 2)."""
        return _as_taken(self.camera.project(points_world), self.part) + self.shift_px


def _as_taken(pixels: Array, part: PicturePart) -> Array:
    if not part.mirrored:
        return pixels
    return np.stack([part.width_px - pixels[:, 0], pixels[:, 1]], axis=1)


def points_of(document: AssessmentDocument, /) -> Mapping[str, Array]:
    """World position of every landmark, metre."""
    return {name: np.array(part.position_m) for name, part in document.points.items()}


def shown(document: AssessmentDocument, view: View, /) -> Shown:
    """A picture of the document with its camera."""
    part = document.pictures[view.value]
    camera = _camera(part, view=view)
    points = points_of(document)
    seen = {
        name: np.array(each.solved_px)
        for name, each in part.landmarks.items()
        if isinstance(each, SeenPoint) and each.solved_px is not None and name in points
    }
    shift = np.zeros(2)
    if seen:
        drawn = _as_taken(camera.project(np.array([points[name] for name in seen])), part)
        shift = np.median(np.array(list(seen.values())) - drawn, axis=0)
    return Shown(part=part, camera=camera, shift_px=shift)


def _camera(part: PicturePart, *, view: View) -> Camera:
    kept = part.camera
    values = {
        "log_focal": float(np.log(kept.focal_px.value)),
        "yaw": radians(kept.yaw_deg.value),
        "pitch": radians(kept.pitch_deg.value),
        "roll": radians(kept.roll_deg.value),
        "x": kept.position_m[0].value,
        "y": kept.position_m[1].value,
        "z": kept.position_m[2].value,
    }
    return Camera(
        parameters=np.array([values.get(name, 0.0) for name in CAMERA_PARAMETERS]),
        base=BASE[view],
        width_px=part.width_px,
        height_px=part.height_px,
    )


def pictures_of(
    document: AssessmentDocument,
    /,
    *,
    change: tuple[str, float] | None,
    good: Sequence[str],
) -> tuple[SheetPicture, ...]:
    """The pictures with at most :data:`MOST_MARKS` marks in all.

    Parameters
    ----------
    document : AssessmentDocument
    change : (measure, amount) or None
        The first change; amount in the measure's published unit.
    good : sequence of measures
        What is good already, the most telling first.
    """
    taken = {View(name): shown(document, View(name)) for name in document.pictures}
    ticks = _ticks(list(taken), change=change, good=good)
    points = points_of(document)
    return tuple(
        _picture(
            view,
            taken[view],
            points=points,
            change=change if change is not None and view_of(change[0]) is view else None,
            good=ticks.get(view, ()),
        )
        for view in View
        if view in taken
    )


def _ticks(
    views: Sequence[View], *, change: tuple[str, float] | None, good: Sequence[str]
) -> Mapping[View, tuple[str, ...]]:
    """Which good things get a tick where: one in each picture first, never near the change."""
    room = MOST_MARKS - (change is not None and view_of(change[0]) in views)
    moved = {take_home()[change[0]].moves} if change is not None else set()
    chosen: dict[View, list[str]] = {view: [] for view in views}
    for most in (1, 2, MOST_MARKS):
        for name in good:
            view = view_of(name)
            fits = view in chosen and len(chosen[view]) < most and room > 0
            if fits and take_home()[name].moves not in moved:
                moved.add(take_home()[name].moves)
                chosen[view].append(name)
                room -= 1
    return {view: tuple(names) for view, names in chosen.items()}


def _picture(
    view: View,
    scene: Shown,
    *,
    points: Mapping[str, Array],
    change: tuple[str, float] | None,
    good: Sequence[str],
) -> SheetPicture:
    part = scene.part
    body = scene.project(np.array([points[name] for name in LANDMARKS]))
    frame = frame_round(body, width_px=part.width_px, height_px=part.height_px)
    busy, mark = [body], None
    if change is not None:
        way = moving(change[0], points, amount=change[1])
        now, aim = scene.project(way.now), scene.project(way.aim)
        busy += [now, aim, (now + aim) / 2]
        badge = badge_place(aim[-1], busy=np.concatenate(busy), frame=frame)
        mark = ChangeMark(now_px=now, aim_px=aim, badge_px=badge)
        busy.append(np.array([badge]))
    ticks = []
    for name in good:
        anchor = scene.project(moving(name, points, amount=0.0).now)[-1]
        place = badge_place(anchor, busy=np.concatenate(busy), frame=frame)
        busy.append(np.array([place]))
        ticks.append(GoodMark(at_px=(float(anchor[0]), float(anchor[1])), badge_px=place))
    return SheetPicture(
        view=view,
        title=TITLES[view],
        alt=_alt(view, change=change, good=good),
        frame=frame,
        size_px=(part.width_px, part.height_px),
        landmarks={
            name: (float(x), float(y)) for name, (x, y) in zip(LANDMARKS, body, strict=True)
        },
        change=mark,
        good=tuple(ticks),
    )


def _alt(view: View, *, change: tuple[str, float] | None, good: Sequence[str]) -> str:
    words = [f"You over the ball, seen {TITLES[view][0].lower()}{TITLES[view][1:]}."]
    if change is not None:
        told = take_home()[change[0]]
        words.append(f"An arrow shows which way to move {told.moves}: {told.way(change[1]).way}.")
    words += [f"A tick: {take_home()[name].good}" for name in good]
    return " ".join(words)
