"""What a coach's corrections changed: the set-up solved again without them.

The solution with the corrected points is the result. Beside it the set-up is solved a
second time with the networks' own values, and a third time with the corrected points
left out, which tells where everything else expects them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

import numpy as np
from attrs import evolve, frozen

from wellset.advise import Advice, Finding, Verdict
from wellset.assess import Expected, Fit, expected, uncertainty_of_proposal
from wellset.figure.ground import GroundKind
from wellset.figure.landmarks import other_side
from wellset.figure.notes import Note
from wellset.figure.sighting import NotSeen, PlacedByCoach, Placement, Sighting
from wellset.figure.views import View
from wellset.measures import Measured, MeasureResult
from wellset.prescribe import WhatIf

POSSIBLE: Final = 3.03
"""Distance, in the networks' own standard uncertainties, beyond which a place was not
thought possible: 99 % of a normal distribution in two dimensions lie within it."""

WILD: Final = 4.0
"""Distance from where everything else expects a point, in the uncertainties of both
together, beyond which a corrected point is remarked on; as for the networks' points."""

NEAR: Final = 2.5
"""A point that far off, but this near to its twin's place, looks exchanged with it (95 % of
a normal distribution in two dimensions lie within)."""

NO_VALUE: Final = "not seen by the networks"


@frozen(kw_only=True, eq=False)
class MovedPoint:
    """A landmark that a coach placed, or ruled out.

    Parameters
    ----------
    view : View
    landmark : str
    ruled_out : bool
        Whether the coach said that it cannot be seen.
    moved_px, moved_m : float or None
        From the network's place, in the picture and at the landmark's distance;
        ``None`` where there is no such place.
    sds : float or None
        The same in the network's own standard uncertainty, the gap to real people
        included.
    """

    view: View
    landmark: str
    ruled_out: bool
    moved_px: float | None = None
    moved_m: float | None = None
    sds: float | None = None

    @property
    def beyond(self) -> bool:
        """Whether the network thought the coach's place impossible."""
        return self.sds is not None and self.sds > POSSIBLE


@frozen(kw_only=True)
class MovedSticks:
    """Sticks of one picture that a person gave in place of found ones."""

    view: View
    given: int
    found: int


@frozen(kw_only=True, eq=False)
class Judged:
    """Measures of one solution, and what follows from them.

    Parameters
    ----------
    answer : WhatIf or None
        How the set-up answers to a change, where that was asked.
    """

    measures: Mapping[str, MeasureResult]
    findings: tuple[Finding, ...]
    advice: Advice
    answer: WhatIf | None = None


@frozen(kw_only=True, eq=False)
class MovedMeasure:
    """One measure before and after the corrections."""

    before: MeasureResult
    after: MeasureResult

    @property
    def change(self) -> float | None:
        """After minus before, in the measure's unit; ``None`` without two numbers."""
        if isinstance(self.before, Measured) and isinstance(self.after, Measured):
            return self.after.value - self.before.value
        return None

    @property
    def sds(self) -> float | None:
        """The change in standard uncertainties of the value before."""
        if self.change is None or not isinstance(self.before, Measured):
            return None
        return self.change / self.before.sd


@frozen(kw_only=True)
class MovedFinding:
    """A check whose verdict the corrections changed."""

    measure: str
    before: Verdict
    after: Verdict


@frozen(kw_only=True, eq=False)
class Corrections:
    """What was corrected, and what that changed.

    Parameters
    ----------
    points : tuple of MovedPoint
    sticks : tuple of MovedSticks
    measures : mapping of id to MovedMeasure
        Empty when there is nothing to compare with.
    findings : tuple of MovedFinding
    first_before, first_after : str or None
        The measure to change first without and with the corrections.
    not_compared : str
        Why there is no second solution; empty when there is one.
    notes : tuple of Note
        Corrected points that disagree with everything else, and sticks that were no use.
    """

    points: tuple[MovedPoint, ...]
    sticks: tuple[MovedSticks, ...]
    measures: Mapping[str, MovedMeasure]
    findings: tuple[MovedFinding, ...]
    first_before: str | None
    first_after: str | None
    not_compared: str = ""
    notes: tuple[Note, ...] = ()


TOO_FEW: Final = (
    "The file keeps too few of the networks' own points to solve without the corrections."
)

Solve = Callable[[Sequence[Sighting], Fit], Fit]
"""Solve for other sightings of the same pictures, begun at a solution that is near."""


def is_corrected(sightings: Sequence[Sighting], /) -> bool:
    """Whether a person placed or ruled out anything."""
    return any(_corrected(s) or _sticks_corrected(s) for s in sightings)


def compare(
    solved: Fit,
    judged: Judged,
    /,
    *,
    sightings: Sequence[Sighting],
    solve: Solve,
    judge: Callable[[Fit, Sequence[Sighting]], Judged],
    can_be_solved: Callable[[Sequence[Sighting]], bool],
) -> Corrections | None:
    """What the corrections in some sightings changed; ``None`` where there are none.

    Parameters
    ----------
    solved, judged : Fit, Judged
        The solution with the corrections, and what it means.
    sightings : sequence of Sighting
        With the corrections in them.
    solve : callable
        Solves for other sightings of the same pictures.
    judge : callable
        What such a solution means.
    can_be_solved : callable
        Whether sightings hold enough to be solved.
    """
    if not is_corrected(sightings):
        return None
    plain = [_uncorrected(s) for s in sightings]
    own = solve(plain, solved) if can_be_solved(plain) else None
    before = judge(own, plain) if own is not None else None
    notes = list(_unused_sticks(solved, sightings))
    if can_be_solved(_left_out(sightings)):
        notes += _wild(sightings, solve=solve, near=own or solved)
    return Corrections(
        points=tuple(
            _moved(s, name, solved=solved) for s in sightings for name in sorted(_corrected(s))
        ),
        sticks=tuple(
            MovedSticks(view=s.view, given=len(s.sticks), found=len(s.replaced_sticks))
            for s in sightings
            if _sticks_corrected(s)
        ),
        measures=_moved_measures(before, judged) if before is not None else {},
        findings=_moved_findings(before, judged) if before is not None else (),
        first_before=_first(before) if before is not None else None,
        first_after=_first(judged),
        not_compared="" if before is not None else TOO_FEW,
        notes=tuple(notes),
    )


def _corrected(sighting: Sighting, /) -> dict[str, PlacedByCoach | NotSeen]:
    return {
        name: place
        for name, place in sighting.landmarks.items()
        if isinstance(place, PlacedByCoach)
        or (isinstance(place, NotSeen) and place.proposal is not None)
    }


def _sticks_corrected(sighting: Sighting, /) -> bool:
    return bool(sighting.replaced_sticks) or any(stick.by_hand for stick in sighting.sticks)


def _uncorrected(sighting: Sighting, /) -> Sighting:
    """The sighting as the networks saw it."""
    own: dict[str, Placement] = {
        name: place.proposal or NotSeen(why=NO_VALUE)
        for name, place in _corrected(sighting).items()
    }
    found = tuple(stick for stick in sighting.sticks if not stick.by_hand)
    return evolve(
        sighting,
        landmarks={**sighting.landmarks, **own},
        sticks=(*found, *sighting.replaced_sticks),
        replaced_sticks=(),
    )


def _left_out(sightings: Sequence[Sighting], /) -> list[Sighting]:
    """The sightings without what a person placed."""
    return [
        evolve(
            s,
            landmarks={**s.landmarks, **{name: NotSeen(why="left out") for name in _corrected(s)}},
        )
        for s in sightings
    ]


def _moved(sighting: Sighting, name: str, /, *, solved: Fit) -> MovedPoint:
    place = _corrected(sighting)[name]
    ruled_out = isinstance(place, NotSeen)
    own = place.proposal
    if own is None or isinstance(place, NotSeen):
        return MovedPoint(view=sighting.view, landmark=name, ruled_out=ruled_out)
    here = expected(solved, name, view=sighting.view)
    apart = place.position_px - own.position_px
    distance = float(np.hypot(*apart))
    spread = uncertainty_of_proposal(own, name, pixels_per_metre=here.pixels_per_metre)
    return MovedPoint(
        view=sighting.view,
        landmark=name,
        ruled_out=False,
        moved_px=distance,
        moved_m=distance / here.pixels_per_metre,
        sds=float(np.sqrt(apart @ np.linalg.solve(spread + place.covariance_px2, apart))),
    )


def _unused_sticks(solved: Fit, sightings: Sequence[Sighting], /) -> Iterator[Note]:
    """Remarks on sticks a person gave that lie no way a stick is expected to lie."""
    used = [stick.sighting for stick in solved.sticks]
    for s in sightings:
        for stick in s.sticks:
            unused = stick.by_hand and not any(stick is one for one in used)
            if unused and not solved.use.ignore & {GroundKind.STICK, GroundKind.UPRIGHT}:
                yield Note(
                    code="stick_not_used",
                    message=f"A stick given by hand in the {s.view.words} picture could not be "
                    "used: it lies neither along the target line nor across it, nor upright, or "
                    "there is another one that way.",
                    remedy="Check its two points in the landmark file.",
                    where=s.view.value,
                )


def _wild(sightings: Sequence[Sighting], /, *, solve: Solve, near: Fit) -> Iterator[Note]:
    """Remarks on corrected points that everything else expects elsewhere."""
    placed = {
        (s.view, name): place
        for s in sightings
        for name, place in _corrected(s).items()
        if isinstance(place, PlacedByCoach)
    }
    if not placed:
        return
    rest = solve(_left_out(sightings), near)
    for (view, name), place in placed.items():
        here, twin = (expected(rest, each, view=view) for each in (name, other_side(name)))
        note = _remark(name, place, view=view, here=here, twin=twin)
        if note is not None:
            yield note


def _remark(
    name: str, place: PlacedByCoach, /, *, view: View, here: Expected, twin: Expected
) -> Note | None:
    away = here.distance(place.position_px, covariance_px2=place.covariance_px2)
    if away <= WILD:
        return None
    pixels = float(np.hypot(*(place.position_px - here.position_px)))
    words, other = name.replace("_", " "), other_side(name)
    exchanged = (
        other != name
        and twin.distance(place.position_px, covariance_px2=place.covariance_px2) <= NEAR
    )
    remedy = (
        f"It lies where the {other.replace('_', ' ')} is expected: see whether the two sides "
        "were exchanged."
        if exchanged
        else "Look at it again; if it is right, leave it, and mistrust the other points."
    )
    return Note(
        code="corrected_point_apart",
        message=f"The {words} placed by hand in the {view.words} picture lies {pixels:.0f} pixels "
        f"(about {100 * pixels / here.pixels_per_metre:.0f} cm, {away:.0f} times the uncertainty) "
        "from where everything else expects it. It was used as placed.",
        remedy=remedy,
        where=view.value,
    )


def _moved_measures(before: Judged, after: Judged) -> Mapping[str, MovedMeasure]:
    return {
        id_: MovedMeasure(before=before.measures[id_], after=result)
        for id_, result in after.measures.items()
    }


def _moved_findings(before: Judged, after: Judged) -> tuple[MovedFinding, ...]:
    old = {finding.measure: finding.verdict for finding in before.findings}
    return tuple(
        MovedFinding(measure=f.measure, before=old[f.measure], after=f.verdict)
        for f in after.findings
        if old[f.measure] is not f.verdict
    )


def _first(judged: Judged) -> str | None:
    return judged.advice.first.measure if judged.advice.first is not None else None
