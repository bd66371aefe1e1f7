"""What follows at once when a coach moves points: the measures that moved, and the lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.advise import Verdict
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.notes import Note
from wellset.figure.views import View
from wellset.measures import MEASURES, Measured, MeasureResult
from wellset.reports import features_front, features_side
from wellset.reports.features import Scene, ground_lines
from wellset.reports.marks import Line, Role
from wellset.reports.words import give_or_take
from wellset.services.assessment import Assessment
from wellset.services.moving import Moved
from wellset.units import UnitSystem

Array = NDArray[np.float64]

NO_NUMBER: Final = "no number"
_LINES: Final = frozenset({Role.PLUMB, Role.REFERENCE, Role.TARGET, Role.RULER})
_DOWN_AND_UP_M: Final = (-0.05, 0.05)
"""Steps from a landmark that show the way of a plumb line in a picture."""


@frozen(kw_only=True)
class FollowRow:
    """One measure before and after.

    Parameters
    ----------
    title : str
    before, after : str
        With their intervals, in the coach's units; :data:`NO_NUMBER` where there is none.
    verdict_before, verdict : str
        ``inside``, ``outside``, ``undecided``, or ``""`` where it is not judged.
    """

    measure: str
    title: str
    before: str
    after: str
    verdict_before: str
    verdict: str


@frozen(kw_only=True, eq=False)
class Guide:
    """A line of the solved set-up in a picture as taken, shape (n, 2)."""

    role: Role
    points_px: Array


@frozen(kw_only=True, eq=False)
class ViewGuides:
    """What a picture shows of the solution.

    Parameters
    ----------
    lines : tuple of Guide
        Plumb lines, their reference, the target line and the rulers.
    up : mapping of landmark to (2,) array
        The way of a plumb line through the landmark in the picture as taken, of unit
        length, toward the sky.
    """

    lines: tuple[Guide, ...]
    up: Mapping[str, Array]


@frozen(kw_only=True, eq=False)
class Following:
    """What moved points change.

    Parameters
    ----------
    rows : tuple of FollowRow
        Measures whose shown value or verdict changed, the most changed first.
    first_before, first : str
        Title of the first change as kept and now; empty when nothing needs changing. The
        latter is ``None`` when it was not asked for.
    notes : tuple of Note
        What is doubtful now and was not before.
    views : mapping of View to ViewGuides
    """

    rows: tuple[FollowRow, ...]
    first_before: str
    first: str | None
    notes: tuple[Note, ...]
    views: Mapping[View, ViewGuides]


def following(moved: Moved, /) -> Following:
    """Put into words and lines what moved points change."""
    before, after = moved.before, moved.after
    units = UnitSystem.INCHES if moved.inches else UnitSystem.CENTIMETRES
    known = {note.message for note in before.notes}
    return Following(
        rows=_rows(before, after, units=units),
        first_before=_title(moved.first_before),
        first=_title(moved.first) if moved.first is not None else None,
        notes=tuple(note for note in after.notes if note.message not in known),
        views={view: _guides(after, view) for view in after.pictures},
    )


def _title(measure: str, /) -> str:
    return MEASURES[measure].title if measure in MEASURES else ""


def _rows(before: Assessment, after: Assessment, *, units: UnitSystem) -> tuple[FollowRow, ...]:
    old, new = _verdicts(before), _verdicts(after)
    rows: list[tuple[float, FollowRow]] = []
    for id_, result in after.measures.items():
        was = before.measures[id_]
        row = FollowRow(
            measure=id_,
            title=MEASURES[id_].title,
            before=_words(was, units),
            after=_words(result, units),
            verdict_before=old.get(id_, ""),
            verdict=new.get(id_, ""),
        )
        if (row.before, row.verdict_before) != (row.after, row.verdict):
            rows.append((_step(was, result), row))
    return tuple(row for _, row in sorted(rows, key=lambda each: -each[0]))


def _verdicts(assessment: Assessment, /) -> dict[str, Verdict]:
    return {f.measure: f.verdict for f in assessment.findings if isinstance(f.result, Measured)}


def _words(result: MeasureResult, units: UnitSystem) -> str:
    return give_or_take(result, units) if isinstance(result, Measured) else NO_NUMBER


def _step(before: MeasureResult, after: MeasureResult) -> float:
    """The change in standard uncertainties; without end when a number came or went."""
    if isinstance(before, Measured) and isinstance(after, Measured):
        return abs(after.value - before.value) / before.sd
    return float("inf")


def _guides(assessment: Assessment, view: View) -> ViewGuides:
    picture = assessment.pictures[view]
    scene = Scene(picture=picture, figure=assessment.fit.figure, measures=assessment.measures)
    room = features_front if view is View.FACE_ON else features_side
    marks = [
        *ground_lines(scene)[:1],
        *room.reference(scene),
        *(mark for feature in room.features(scene) if feature.always for mark in feature.marks),
    ]
    return ViewGuides(
        lines=tuple(
            Guide(role=mark.role, points_px=_ends(mark.points_px))
            for mark in marks
            if isinstance(mark, Line) and mark.role in _LINES and len(mark.points_px) > 1
        ),
        up=_ways_up(scene),
    )


def _ends(pixels: Array, /) -> Array:
    """Fewer points of a line that hardly bends."""
    step = max((len(pixels) - 1) // 4, 1)
    return np.concatenate([pixels[:-1:step], pixels[-1:]])


def _ways_up(scene: Scene, /) -> dict[str, Array]:
    points = np.array([scene.figure[name] for name in LANDMARKS])
    low, high = (scene.picture.project(points + np.array([0.0, 0.0, up])) for up in _DOWN_AND_UP_M)
    ways = (high - low) / np.linalg.norm(high - low, axis=1, keepdims=True)
    return dict(zip(LANDMARKS, ways, strict=True))


def landmark_words(names: Sequence[str] = LANDMARKS, /) -> dict[str, str]:
    """What coaches call the landmarks."""
    return {name: _SPOKEN.get(name, name.replace("_", " ")) for name in names}


_SPOKEN: Final = {
    "lead_shoe_heel": "heel of the lead shoe",
    "trail_shoe_heel": "heel of the trail shoe",
    "lead_shoe_toe": "toe of the lead shoe",
    "trail_shoe_toe": "toe of the trail shoe",
    "lead_foot_ball": "ball of the lead foot",
    "trail_foot_ball": "ball of the trail foot",
    "c7": "base of the neck",
    "t8": "back, between the shoulder blades",
    "t12": "back, end of the ribs",
    "l3": "lower back",
    "s1": "back, top of the pelvis",
    "sternum": "breastbone",
    "grip_mid": "middle of the hands",
    "grip_end": "end of the grip",
    "shaft_end": "end of the shaft",
    "club_head": "club head",
}
