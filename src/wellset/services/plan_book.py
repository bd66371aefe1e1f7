"""Use case: work out a student's plan and keep it."""

from __future__ import annotations

import json
from collections.abc import Sequence

from attrs import asdict, frozen

from wellset.equipment import Club
from wellset.services.asked import standards_in_force, student_of
from wellset.services.bag_file import BagEntry, usual_bag
from wellset.services.book import Pages, PlanRecord
from wellset.services.lesson_work import Desk
from wellset.services.place_words import ground_from_words, wind_from_words
from wellset.services.plan_bag import PlanRequest, plan_bag


@frozen(kw_only=True)
class PlanAsked:
    """What a plan was worked out from, beside student, bag and standards.

    Parameters
    ----------
    slopes : tuple of str
        As a coach writes them: ``"uphill 6"``.
    wind : str
    """

    slopes: tuple[str, ...] = ()
    wind: str = "none"


def make_plan(desk: Desk, student_id: str, *, asked: PlanAsked) -> PlanRecord:
    """Solve the student's whole bag and keep the plan in place of the last.

    Raises
    ------
    MissingError
    InputError
        For a slope that isn't understood, or a way to play that isn't modelled.
    """
    with desk.book.reading() as pages:
        card = pages.student(student_id)
        request = _request(pages, student_id, asked=asked)
    bag = plan_bag(request)
    words = desk.writer.plan(bag, inches=card.units == "in")
    record = PlanRecord(
        student=student_id,
        made_at=desk.now(),
        asked=json.dumps({**asdict(asked), "standards": request.standards.digest}),
        document=words.document,
        page=words.page,
    )
    with desk.book.writing() as pages:
        pages.save_plan(record)
    return record


def asked_of(record: PlanRecord, /) -> PlanAsked:
    """What a kept plan was worked out from."""
    data = json.loads(record.asked)
    return PlanAsked(slopes=tuple(data["slopes"]), wind=data["wind"])


def _request(pages: Pages, student_id: str, *, asked: PlanAsked) -> PlanRequest:
    return PlanRequest(
        student=student_of(pages.student(student_id)),
        clubs=_clubs([entry.club() for entry in pages.bag(student_id).clubs]),
        standards=standards_in_force(pages),
        ground=ground_from_words(asked.slopes),
        wind=wind_from_words(asked.wind),
    )


def _clubs(clubs: Sequence[Club]) -> tuple[BagEntry, ...]:
    return tuple(BagEntry(club=club) for club in clubs) or usual_bag()
