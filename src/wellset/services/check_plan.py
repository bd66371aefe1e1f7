"""Use case: a student's new pictures compared with their plan, not with a general window."""

from __future__ import annotations

from typing import Final

from attrs import evolve, frozen

from wellset import __version__
from wellset.advise import Advice, Finding, Verdict, findings, first_change, settle_all
from wellset.assess import Solved
from wellset.figure.notes import Note
from wellset.services.assess_setup import Request, assess_setup, setting_of
from wellset.services.assessment import Assessment
from wellset.services.bag_file import BagEntry
from wellset.services.drill_choice import practice_of
from wellset.services.first_change import ranked_changes
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.plan_target import PlanTarget, target_of_plan
from wellset.services.ports import PictureReader, Progress, silent
from wellset.services.student_scale import student_scale

MOST_TO_DO: Final = 3
TOO_FINE: Final = (
    "The plan leaves less room here than pictures can tell. Nothing says that it is wrong: go by "
    "what is laid on the ground."
)
OTHER_HEIGHT_M: Final = 0.02
"""A plan for a student this much taller or smaller is somebody else's (our judgement)."""
OTHER_CLUB_M: Final = 0.013
"""Half an inch: a club that differs more is another club."""


@frozen(kw_only=True, eq=False)
class Check:
    """A set-up compared with a plan.

    Parameters
    ----------
    assessment : Assessment
        Its findings and advice are those against the plan.
    target : PlanTarget
    """

    assessment: Assessment
    target: PlanTarget

    @property
    def findings(self) -> tuple[Finding, ...]:
        """One for each measure of the plan, in the order of checking."""
        return self.assessment.findings

    @property
    def advice(self) -> Advice:
        """What to do first, computed as ever."""
        return self.assessment.advice

    @property
    def to_do(self) -> tuple[Finding, ...]:
        """At most three things, the first change first."""
        first = self.advice.first
        return () if first is None else (first, *self.advice.then)[:MOST_TO_DO]

    def of(self, verdict: Verdict, /) -> tuple[Finding, ...]:
        """Findings with a verdict, in the order of checking."""
        return tuple(f for f in self.findings if f.verdict is verdict)

    @property
    def look_next(self) -> tuple[str, ...]:
        """What to look for when the student stands there the next time, in sentences."""
        return _look_next(self)


def check_setup(
    request: Request,
    *,
    target: PlanTarget | None = None,
    reader: PictureReader,
    progress: Progress = silent,
) -> Check:
    """See and measure a set-up, and compare it with a plan.

    Parameters
    ----------
    request : Request
        The pictures, as for an assessment. Its standards say how sure a verdict must be, in
        what order is checked, and what a plan is made from.
    target : PlanTarget, optional
        The plan; worked out for this student, club and shot when left out.
    reader : PictureReader
    progress : callable

    Raises
    ------
    WellsetError
    """
    assessed = assess_setup(request, reader=reader, progress=progress, thorough=False)
    wanted = target if target is not None else _planned(request, assessed)
    progress("Comparing with the plan", 0.97)
    return Check(assessment=_judged(request, assessed, target=wanted), target=wanted)


def _planned(request: Request, assessed: Assessment) -> PlanTarget:
    student = evolve(request.student, hand=assessed.hand)
    bag = plan_bag(
        PlanRequest(
            student=student,
            clubs=(BagEntry(club=request.club),),
            standards=request.standards,
            shot=assessed.shot,
            hand=assessed.hand,
        )
    )
    return target_of_plan(
        bag.plans[0],
        hand=assessed.hand,
        stature=student.build.stature,
        sloping=False,
        standards=request.standards.version,
        program=__version__,
    )


def _judged(request: Request, assessed: Assessment, *, target: PlanTarget) -> Assessment:
    """The assessment with findings and advice against the plan."""
    build, measures = request.student.build, assessed.measures
    scale = student_scale(build, request.club, stance=measures["stance_width"])
    usual = request.standards.windows_for(assessed.shot, scale=scale)
    decision = request.standards.decision
    found = findings(measures, target.windows(usual), decision=decision)
    changes = ranked_changes(
        assessed.fit.figure, found, measures=measures, build=build, club=request.club
    )
    setting = setting_of(request)
    if assessed.weighed is not None and assessed.weighed.used:
        setting = evolve(setting, plate=assessed.weighed.says.means)
    solved = Solved(
        fit=assessed.fit,
        setting=setting,
        sightings=[picture.sighting for picture in assessed.pictures.values()],
        build=build,
        rendered_to_real=request.rendered_to_real,
    )
    own = practice_of(
        first_change(found, changes), found, book=request.drills, student=request.student
    )
    return evolve(
        assessed,
        findings=tuple(
            _of_a_plan(finding) for finding in settle_all(found, solved=solved, decision=decision)
        ),
        advice=own.advice,
        drills=own.drills,
        notes=(*assessed.notes, *_notes(assessed, target)),
    )


def _of_a_plan(finding: Finding) -> Finding:
    """What would settle it, where nothing does: a plan's room cannot be widened as a window can."""
    settling, judgement = finding.settling, finding.judgement
    if settling is None or settling.step or judgement is None or judgement.can_be_inside:
        return finding
    return evolve(finding, settling=evolve(settling, what=TOO_FINE))


def _notes(assessed: Assessment, target: PlanTarget) -> list[Note]:
    """What makes the plan doubtful for this set-up."""
    notes = []
    stature = assessed.student.build.stature
    if abs(stature - target.stature) > OTHER_HEIGHT_M or assessed.hand is not target.hand:
        notes.append(
            Note(
                code="plan_of_another",
                message=f"The plan is for a {target.hand.value}-handed student of "
                f"{100 * target.stature:.0f} cm; this one is {assessed.hand.value}-handed and "
                f"{100 * stature:.0f} cm.",
                remedy="Make sure that it is this student's plan, or make a new one.",
                where=target.name,
            )
        )
    if abs(assessed.club.length_m - target.club_length) > OTHER_CLUB_M:
        notes.append(
            Note(
                code="plan_of_another_club",
                message=f"The plan is for a {target.club} of {100 * target.club_length:.1f} cm; "
                f"this one has {100 * assessed.club.length_m:.1f} cm.",
                remedy="Give the club's measured length, or make the plan anew.",
                where=target.name,
            )
        )
    if target.sloping:
        notes.append(
            Note(
                code="plan_on_a_slope",
                message="The plan is for a slope; pictures are measured as on level ground.",
                remedy="Compare with a plan for level ground, and take the pictures there.",
                where=target.name,
            )
        )
    return notes


def _look_next(check: Check) -> tuple[str, ...]:
    advice, unsure = check.advice, check.of(Verdict.UNDECIDED)
    if advice.first is not None:
        lines = [
            f"{advice.drill.self_check} Then take both pictures again."
            if advice.drill is not None
            else "Take both pictures again when this is changed."
        ]
        if advice.right:
            titles = [f.title for f in check.findings if f.measure in advice.right]
            lines.append(f"These should come right with it: {_listed(titles)}.")
        if advice.then:
            titles = [f.title for f in advice.then]
            lines.append(f"Only then look at this: {_listed(titles)}.")
        return tuple(lines)
    if unsure:
        titles = [f.title for f in unsure[:MOST_TO_DO]]
        more = len(unsure) - len(titles)
        tail = f", and {more} more" if more else ""
        lines = [f"These pictures can't tell yet: {_listed(titles)}{tail}."]
        settle = next((f.settle for f in unsure if f.settle), "")
        return (*lines, settle) if settle else tuple(lines)
    return ("Everything is as planned. Keep it, and take the next club.",)


def _listed(titles: list[str]) -> str:
    plain = [title[0].lower() + title[1:] for title in titles]
    return plain[0] if len(plain) == 1 else f"{', '.join(plain[:-1])} and {plain[-1]}"
