"""The whole bag on one plan: marks by club, names that can be read."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import pytest
from attrs import evolve

from wellset.bootstrap.plan import plan_request
from wellset.reports.floor.ladder import SAME_MM, at_the_lead_heel, whole_bag
from wellset.reports.floor.marks import Mark, Path, Words
from wellset.reports.floor.stance import Stance, stances_of
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.plan_json import plan_document


@pytest.fixture(scope="module")
def document() -> PlanDocument:
    return plan_document(plan_request(height="178 cm"))


@pytest.fixture(scope="module")
def stances(document: PlanDocument) -> tuple[Stance, ...]:
    return stances_of(document)


@pytest.fixture(scope="module")
def marks(stances: tuple[Stance, ...]) -> tuple[Mark, ...]:
    return whole_bag(stances)


def paths(marks: Sequence[Mark], begin: str) -> dict[str, Path]:
    return {m.shows: m for m in marks if isinstance(m, Path) and m.shows.startswith(begin)}


def test_every_club_has_its_ball_and_its_trail_toe(
    stances: tuple[Stance, ...], marks: tuple[Mark, ...]
) -> None:
    for begin in ("ball for ", "trail toe for "):
        named = [
            club for shows in paths(marks, begin) for club in shows.removeprefix(begin).split(", ")
        ]
        assert sorted(named) == sorted(stance.club for stance in stances)


def test_balls_lie_from_the_lead_heel_as_the_plan_says(
    document: PlanDocument, marks: tuple[Mark, ...]
) -> None:
    centres = {
        club: ring.points.mean(axis=0)
        for shows, ring in paths(marks, "ball for ").items()
        for club in shows.removeprefix("ball for ").split(", ")
    }
    for club in document.clubs:
        ball, heel = (np.array(club.points[n][:2]) for n in ("ball", "lead_shoe_heel"))
        # a right-hander's target lies to the left of the page
        wanted = 1000 * (ball - heel) * [-1, 1]
        assert centres[club.club] == pytest.approx(wanted, abs=SAME_MM)


def test_each_ball_has_its_own_cross_exactly(
    stances: tuple[Stance, ...], marks: tuple[Mark, ...]
) -> None:
    middles = [m.points.mean(axis=0) for m in marks if isinstance(m, Path) and len(m.points) == 2]
    for stance in at_the_lead_heel(stances):
        assert min(float(np.hypot(*(m - stance.ball))) for m in middles) < 1e-6


def test_no_name_lies_over_another(marks: tuple[Mark, ...]) -> None:
    boxes = [(m.reach.min(axis=0), m.reach.max(axis=0)) for m in marks if isinstance(m, Words)]
    for (low, high), (low2, high2) in combinations(boxes, 2):
        apart = np.maximum(low - high2, low2 - high).max()
        assert apart > -1.0  # letters' boxes are generous


def test_a_lead_shoe_that_turns_otherwise_is_named_at_its_toe(
    stances: tuple[Stance, ...],
) -> None:
    *most, last = stances
    turned = evolve(last.lead, toe=last.lead.toe - np.array([30.0, 0.0]))
    marks = whole_bag([*most, evolve(last, lead=turned)])
    assert f"lead toe for {last.club}" in paths(marks, "lead toe")
    texts = {m.text for m in marks if isinstance(m, Words)}
    assert "most clubs" in texts
