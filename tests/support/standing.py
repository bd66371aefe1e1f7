"""Judged set-ups of rendered scenes with where their golfers would stand."""

from __future__ import annotations

from functools import cache

from attrs import evolve

from tests.support.reports import assessment
from wellset.advise import first_change
from wellset.figure.views import View
from wellset.services.assessment import Assessment, Student
from wellset.services.corrections import Judged
from wellset.services.first_change import answer_of, ranked_by
from wellset.services.memory import Memory
from wellset.services.standing import where_to_stand
from wellset.standards import default_standards


@cache
def standing(
    scene: str = "mid_iron_neutral_21",
    *,
    views: tuple[View, ...] = tuple(View),
    posture: str = "standing",
) -> Assessment:
    """A whole assessment with its first change computed, the plan and the change drawn in."""
    found = assessment(scene, views=views)
    student: Student = evolve(found.student, posture=posture)
    answer = answer_of(found.fit.figure, build=student.build, club=found.club)
    ranked = ranked_by(answer, found.findings, figure=found.fit.figure, measures=found.measures)
    advice = first_change(found.findings, ranked)
    judged = Judged(measures=found.measures, findings=found.findings, advice=advice, answer=answer)
    return evolve(
        found,
        student=student,
        advice=advice,
        stand=where_to_stand(
            found.fit,
            judged,
            student=student,
            club=found.club,
            shot=found.shot,
            standards=default_standards(),
            memory=Memory(),
        ),
    )
