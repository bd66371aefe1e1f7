"""Laying it without paper: what the list says."""

from __future__ import annotations

import re

import pytest

from wellset.bootstrap.plan import plan_request
from wellset.reports.floor.amounts import counted, on_tape, room, tall
from wellset.reports.floor.listing import listing, tees
from wellset.reports.floor.stance import Stance, stances_of
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.units import UnitSystem

CM, INCHES = UnitSystem.CENTIMETRES, UnitSystem.INCHES


@pytest.fixture(scope="module")
def document() -> PlanDocument:
    return plan_document(plan_request(height="165 cm", clubs=["5-iron", "putter"]))


@pytest.fixture(scope="module")
def stances(document: PlanDocument) -> tuple[Stance, ...]:
    return stances_of(document)


@pytest.mark.parametrize(
    ("mm", "units", "words"),
    [
        (321.4, CM, "32.1 cm"),
        (25.4, INCHES, "1 in"),
        (9.5, INCHES, "3/8 in"),
        (321.4, INCHES, "12 5/8 in"),  # 12.654 in by hand
        (-31.75, INCHES, "-1 1/4 in"),
        (0.2, INCHES, "0 in"),
    ],
)
def test_lengths_are_written_as_they_stand_on_a_tape(
    mm: float, units: UnitSystem, words: str
) -> None:
    assert on_tape(mm, units) == words


def test_room_that_cannot_be_laid_out_is_not_told() -> None:
    assert room(0.3, CM) == ""
    assert room(1.0, INCHES) == ""
    assert room(6.4, INCHES) == "± 1/4 in"


def test_things_are_counted_and_people_measured() -> None:
    assert counted(0.98, "head") == "1.0 head"
    assert counted(2.44, "head") == "2.4 heads"
    assert tall(1.78, INCHES) == "5 ft 10 in"


def test_tees_lie_where_the_plan_has_the_shoes(
    document: PlanDocument, stances: tuple[Stance, ...]
) -> None:
    for club, stance in zip(document.clubs, stances, strict=True):
        ball = club.points["ball"]
        for name, (along, back) in tees(stance).items():
            point = club.points[name.replace(" toe", "_shoe_toe").replace(" heel", "_shoe_heel")]
            assert (along, back) == pytest.approx(
                (1000 * (point[0] - ball[0]), 1000 * (point[1] - ball[1])), abs=0.02
            )


def test_one_clubs_table_says_which_way_from_the_ball(stances: tuple[Stance, ...]) -> None:
    rows = {row[0]: row[1:] for row in listing(stances[:1], units=CM).table.rows}
    assert rows["Lead toe"][0].endswith("toward the target")
    assert rows["Trail heel"][0].endswith("away from the target")
    assert float(rows["Lead heel"][1].split()[0]) > float(rows["Lead toe"][1].split()[0])


def test_a_bags_table_agrees_with_the_plan(
    document: PlanDocument, stances: tuple[Stance, ...]
) -> None:
    table = listing(stances, units=CM).table
    for club, row in zip(document.clubs, table.rows, strict=True):
        said = dict(zip(table.heads, row, strict=True))
        number = {k: float(re.findall(r"-?[\d.]+", v)[0]) for k, v in said.items() if k != "Club"
                  and re.search(r"\d", v)}  # fmt: skip
        floor = club.floor
        assert number["Gap"] == pytest.approx(100 * floor.gap_m, abs=0.06)
        assert number["In heads"] == pytest.approx(floor.gap_club_heads, abs=0.06)
        assert number["Ball in"] == pytest.approx(100 * floor.ball_from_lead_heel_m, abs=0.06)
        assert number["To toes"] == pytest.approx(100 * floor.ball_from_toes_m, abs=0.06)
        assert number["In shoes"] == pytest.approx(floor.ball_from_toes_shoes, abs=0.06)
