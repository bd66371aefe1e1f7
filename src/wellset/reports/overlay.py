"""Our own drawing over a picture: what was read, what was solved, and how sure it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import PictureFacts
from wellset.figure.views import View
from wellset.reports import features_front, features_side
from wellset.reports.features import SAMPLES, Feature, Scene, ground_lines, skeleton, spots
from wellset.reports.labels import Wish, place
from wellset.reports.marks import Area, Box, Drawing, Line, Mark, Role

Array = NDArray[np.float64]

MOST_LABELS: Final = 3
HEAD_RADIUS_M: Final = 0.13
"""Half a head's height with a cap on (from memory); only labels are kept off it."""
_DEFAULT: Final = {
    View.FACE_ON: ("ball_position", "stance_width", "chest_shift"),
    View.DOWN_THE_LINE: ("forward_bend", "armpit_plumb", "heel_toe_balance"),
}
_ASPECT: Final = 1.12
"""Height of the shown part over its width: a golfer at address with room for labels."""


def shown_part(scene: Scene, /) -> Box:
    """The part of the picture round golfer, club and ball, with room for labels."""
    pixels = scene.project(np.array([scene.figure[n] for n in LANDMARKS]))
    return part_round(pixels, facts=scene.picture.sighting.picture)


def part_round(pixels: Array, /, *, facts: PictureFacts) -> Box:
    """The part of a picture round some points, shape (n, 2), with room for labels."""
    low, high = pixels.min(axis=0), pixels.max(axis=0)
    tall = 1.2 * float(high[1] - low[1])
    wide = max(tall / _ASPECT, 1.7 * float(high[0] - low[0]))
    wide, tall = min(wide, facts.width_px), min(max(tall, wide * _ASPECT), facts.height_px)
    middle = (low + high) / 2
    x = float(np.clip(middle[0] - wide / 2, 0, facts.width_px - wide))
    y = float(np.clip(middle[1] - tall / 2, 0, facts.height_px - tall))
    return Box(x=round(x), y=round(y), width=int(wide), height=int(tall))


def _chosen(features: Sequence[Feature], *, view: View, order: Sequence[str]) -> list[Feature]:
    by_measure = {f.measure: f for f in features}
    wanted = dict.fromkeys([*order, *_DEFAULT[view]])
    return [by_measure[m] for m in wanted if m in by_measure][:MOST_LABELS]


def _head(scene: Scene) -> Array:
    """Points over the head, cap included."""
    turn = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    right, _, up = scene.picture.camera.axes
    ring = np.cos(turn)[:, None] * right + np.sin(turn)[:, None] * up
    middle = scene.mid("ear") + 0.03 * up
    return scene.project(np.concatenate([middle + HEAD_RADIUS_M * r * ring for r in (0.5, 1.0)]))


def _busy(scene: Scene, marks: Sequence[Mark]) -> Array:
    """Points that a label should not hide: along the limbs, and the landmarks."""
    points = [scene.project(np.array([scene.figure[n] for n in LANDMARKS])), _head(scene)]
    share = np.linspace(0, 1, 6)[:, None]
    for stem in ("shoulder", "hip", "knee", "wrist"):
        trail, lead = scene.figure[f"trail_{stem}"], scene.figure[f"lead_{stem}"]
        points.append(scene.project(trail + share * (lead - trail)))
    for mark in marks:
        if isinstance(mark, Line) and mark.role not in {Role.TARGET, Role.STICK}:
            step = max(len(mark.points_px) * 6 // SAMPLES, 1)
            line = mark.points_px[::step]
            points += [a + share * (b - a) for a, b in pairwise(line)]
    return np.concatenate(points)


def draw(
    scene: Scene,
    /,
    *,
    order: Sequence[str],
    texts: Mapping[str, str],
    verdicts: Mapping[str, str],
) -> Drawing:
    """Everything drawn over one picture.

    Parameters
    ----------
    order : sequence of str
        Measures by how much they matter here; the first few that this picture can show
        get a label.
    texts : mapping of measure to str
        The label of each measure.
    verdicts : mapping of measure to str
        ``inside``, ``outside`` or ``undecided``, where it was judged.
    """
    view = scene.picture.sighting.view
    room = features_front if view is View.FACE_ON else features_side
    found = list(room.features(scene))
    chosen = _chosen(found, view=view, order=order)
    labelled = {f.measure for f in chosen}
    shown = [f for f in found if f.always or f.measure in labelled]
    body = [*skeleton(scene), *room.backbone(scene)]
    special = [mark for f in shown for mark in f.marks]
    marks: list[Mark] = [
        *ground_lines(scene),
        *(m for m in special if isinstance(m, Area)),
        *body,
        *room.reference(scene),
        *(m for m in special if not isinstance(m, Area)),
        *spots(scene),
    ]
    wishes = [
        Wish(
            text=texts[f.measure],
            verdict=verdicts.get(f.measure, ""),
            measure=f.measure,
            anchor_px=f.anchor_px,
        )
        for f in chosen
        if f.measure in texts
    ]
    frame = shown_part(scene)
    labels = place(wishes, frame=frame, busy=_busy(scene, [*body, *special]))
    kept = tuple(m for m in marks if not isinstance(m, Line | Area) or len(m.points_px) > 1)
    return Drawing(frame=frame, marks=kept, labels=labels)
