"""What a student is shown moves as the measure is defined."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from tests.support.reports import assessment
from wellset.figure.landmarks import LANDMARKS
from wellset.measures import MEASURES, Unit
from wellset.reports.moves import at, moving

STEP = {Unit.METRE: 0.03, Unit.DEGREE: 6.0, Unit.PERCENT: 8.0}
ELSEWHERE = {"stance_width", "stance_gap", "heel_toe_balance", "lead_share"}
"""Drawn at the toes, or on the ground: the measure's own points lie elsewhere."""
MIDDLES = ("hip", "shoulder", "knee", "armpit", "shoe_toe")


@pytest.mark.parametrize("measure", sorted(set(MEASURES) - ELSEWHERE))
@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_moving_what_is_shown_changes_the_measure_by_the_amount(measure: str, sign: float) -> None:
    one, figure = MEASURES[measure], assessment().fit.figure
    amount = sign * STEP[one.unit]
    way = moving(measure, assessment().points, amount=amount)
    points = figure.points.copy()
    for now, aim in zip(way.now, way.aim, strict=True):
        here = np.isclose(points, now).all(axis=1)
        points[here] = aim
        for stem in MIDDLES:
            if np.allclose(at(assessment().points, f"mid {stem}"), now):
                for lead in ("lead", "trail"):
                    points[LANDMARKS.index(f"{lead}_{stem}")] += aim - now
    before, after = (
        float(one.formula(each.state)) * one.published_per_si
        for each in (figure, evolve(figure, points=points))
    )
    # a knee's two bones and a leaning club or back are not flat in the view: a tenth is allowed
    assert after - before == pytest.approx(amount, rel=0.1)


@pytest.mark.parametrize("measure", ["stance_width", "stance_gap"])
def test_feet_part_by_the_whole_amount_between_them(measure: str) -> None:
    way = moving(measure, assessment().points, amount=0.06)
    trail, lead = way.aim - way.now
    assert lead[0] - trail[0] == pytest.approx(0.06)


def test_weight_moves_toward_the_toes_and_toward_the_lead_foot() -> None:
    toward_toes = moving("heel_toe_balance", assessment().points, amount=10.0)
    toward_lead = moving("lead_share", assessment().points, amount=10.0)
    assert (toward_toes.aim - toward_toes.now)[0, 1] < 0  # y runs from the ball to the golfer
    assert (toward_lead.aim - toward_lead.now)[0, 0] > 0  # x runs to the target
