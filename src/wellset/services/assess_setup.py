"""Use case: one or two pictures in, a judged set-up out."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve, frozen

from wellset.advise import Finding, findings, first_change, settle_all
from wellset.assess import Fit, Setting, Solved, fit, judge_all, refit
from wellset.figure.notes import Note
from wellset.figure.sighting import Sighting
from wellset.figure.views import View
from wellset.services.about import notes_about, versions_of
from wellset.services.assessment import AssessedPicture, Assessment
from wellset.services.corrections import Corrections, Judged, compare
from wellset.services.drill_choice import practice_of
from wellset.services.enough import check_enough, shows_enough
from wellset.services.first_change import answer_of, anything_outside, rooted_by
from wellset.services.memory import Memory, told_apart
from wellset.services.ports import PictureReader, Progress, Seen, SeenPicture, silent
from wellset.services.request import Request, setting_of, shot_of
from wellset.services.seeing import see
from wellset.services.stand_here import StandHere
from wellset.services.standing import where_to_stand
from wellset.services.student_scale import student_scale
from wellset.services.weighing import Weighed, check_plate, weigh

__all__ = ["SHARE_OF_SEEING", "Request", "assess_setup", "setting_of"]

SHARE_OF_SEEING = 0.85
"""Share of the whole time that looking at the pictures takes."""


def assess_setup(
    request: Request,
    *,
    reader: PictureReader,
    progress: Progress = silent,
    near: Fit | None = None,
    thorough: bool = True,
    memory: Memory | None = None,
) -> Assessment:
    """See, measure and judge one set-up.

    Parameters
    ----------
    request : Request
    reader : PictureReader
        Finds golfer, club, ball and things on the ground in picture files.
    progress : callable
        Told each step and the share done.
    near : Fit or None
        Where the search begins: the solution of the same views for slightly other points.
    thorough : bool
        Whether further solutions tell what to change first, what corrections changed and
        what would decide undecided checks. Otherwise the order of checking alone says what
        comes first.
    memory : Memory or None
        Of earlier assessments of this set-up by the same student, club, shot and standards.

    Raises
    ------
    WellsetError
        When a value, a picture or the scene cannot be used; the message says which.
    """
    return _Work.begun(request, reader=reader, progress=progress, near=near, memory=memory).done(
        thorough=thorough, progress=progress
    )


@frozen(kw_only=True, eq=False)
class _Work:
    """An assessment on its way: seen and solved, not yet judged.

    Parameters
    ----------
    request : Request
    seen : Seen
    sightings : list of Sighting
    setting : Setting
        With the plate's word, where it is believed.
    solved : Fit
    weighed : Weighed or None
    memory : Memory
    """

    request: Request
    seen: Seen
    sightings: list[Sighting]
    setting: Setting
    solved: Fit
    weighed: Weighed | None
    memory: Memory

    @classmethod
    def begun(
        cls,
        request: Request,
        *,
        reader: PictureReader,
        progress: Progress,
        near: Fit | None,
        memory: Memory | None,
    ) -> _Work:
        """See and solve."""
        shot_of(request)  # a wrong one is refused before anything is looked for
        check_plate(request.plate)
        seen = see(
            request,
            reader=reader,
            progress=lambda step, share: progress(step, SHARE_OF_SEEING * share),
        )
        check_enough(seen)
        progress("Solving cameras, body and club together", SHARE_OF_SEEING)
        setting = setting_of(request)
        sightings = [seen.pictures[view].sighting for view in View if view in seen.pictures]
        solved = _solved(request, setting, sightings=sightings, near=near)
        weighed = weigh(request.plate, solved, hand=seen.hand, sightings=sightings)
        if weighed is not None and weighed.used:
            setting = evolve(setting, plate=weighed.says.means)
            solved = _solved(request, setting, sightings=sightings, near=solved)
        return cls(
            request=request,
            seen=seen,
            sightings=sightings,
            setting=setting,
            solved=solved,
            weighed=weighed,
            # what a plate says isn't part of the questions that are remembered
            memory=memory if memory is not None and request.plate is None else Memory(),
        )

    def done(self, *, thorough: bool, progress: Progress) -> Assessment:
        """Judge, and work out what belongs to a thorough answer."""
        progress("Judging the set-up against the standards", 0.95)
        asked, student = self.request, self.request.student
        judged = _judged(self.solved, self.sightings, request=asked, ranked=thorough)
        corrections = self._corrections(judged) if thorough else None
        own = practice_of(judged.advice, judged.findings, book=asked.drills, student=student)
        return Assessment(
            hand=self.seen.hand,
            student=student,
            club=asked.club,
            shot=shot_of(asked),
            fit=self.solved,
            pictures={
                view: _assessed(picture, self.solved, view=view)
                for view, picture in self.seen.pictures.items()
            },
            measures=judged.measures,
            findings=self._settled(judged) if thorough else judged.findings,
            advice=own.advice,
            versions=versions_of(student, asked.standards),
            notes=self._notes(corrections),
            corrections=corrections,
            stand=self._stand(judged) if thorough else None,
            weighed=self.weighed,
            drills=own.drills,
        )

    def _notes(self, corrections: Corrections | None) -> tuple[Note, ...]:
        return (
            *self.seen.notes,
            *notes_about(self.request.student, self.solved),
            *(self.weighed.notes if self.weighed is not None else ()),
            *(corrections.notes if corrections is not None else ()),
        )

    def _settled(self, judged: Judged) -> tuple[Finding, ...]:
        """The findings, each undecided one with what would decide it."""
        return settle_all(
            judged.findings,
            solved=Solved(
                fit=self.solved,
                setting=self.setting,
                sightings=self.sightings,
                build=self.request.student.build,
                rendered_to_real=self.request.rendered_to_real,
            ),
            decision=self.request.standards.decision,
        )

    def _stand(self, judged: Judged) -> StandHere:
        """Where this student would stand."""
        return where_to_stand(
            self.solved,
            judged,
            student=self.request.student,
            club=self.request.club,
            shot=shot_of(self.request),
            standards=self.request.standards,
            memory=self.memory,
        )

    def _corrections(self, judged: Judged) -> Corrections | None:
        """What a person's corrections changed, if there are any."""
        asked = self.request
        return compare(
            self.solved,
            judged,
            sightings=self.sightings,
            solve=lambda other, near: self.memory.once(
                ("solved", told_apart(other)),
                lambda: refit(
                    self.setting, other, near=near, rendered_to_real=asked.rendered_to_real
                ),
            ),
            judge=lambda other, seen: self.memory.once(
                ("judged", told_apart(seen)), lambda: _judged(other, seen, request=asked)
            ),
            can_be_solved=lambda other: all(
                shows_enough(sighting, of=len(other)) for sighting in other
            ),
        )


def _solved(
    request: Request, setting: Setting, *, sightings: Sequence[Sighting], near: Fit | None
) -> Fit:
    if near is not None:
        return refit(setting, sightings, near=near, rendered_to_real=request.rendered_to_real)
    return fit(setting, sightings, rendered_to_real=request.rendered_to_real, use=request.ground)


def _judged(
    solved: Fit, sightings: Sequence[Sighting], *, request: Request, ranked: bool = True
) -> Judged:
    """Measures of a solution, and what the standards say of them."""
    measures, build, club = judge_all(solved, sightings), request.student.build, request.club
    scale = student_scale(build, club, stance=measures["stance_width"])
    windows = request.standards.windows_for(shot_of(request), scale=scale)
    found = findings(measures, windows, decision=request.standards.decision)
    if not ranked:
        return Judged(measures=measures, findings=found, advice=first_change(found))
    asked = anything_outside(found)
    answer = answer_of(solved.figure, build=build, club=club) if asked else None
    changes = rooted_by(
        answer, found, figure=solved.figure, measures=measures, build=build, club=club
    )
    return Judged(
        measures=measures, findings=found, advice=first_change(found, changes), answer=answer
    )


def _assessed(picture: SeenPicture, solved: Fit, *, view: View) -> AssessedPicture:
    return AssessedPicture(
        sighting=picture.sighting,
        camera=solved.cameras[view],
        camera_sd=solved.camera_sd[view],
        rgb=picture.rgb,
        mirrored=picture.mirrored,
        notes=picture.notes,
        still=picture.still,
    )
