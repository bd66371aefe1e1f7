"""Draws show what a straight line misses: a limb near straight can only bend."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from tests.support.sightings import fit_scene
from wellset.figure.figure import Figure
from wellset.figure.landmarks import INDEX
from wellset.measures import MEASURES, drawn_sd, drawn_states, evaluate


@pytest.fixture(scope="module")
def figure() -> Figure:
    return fit_scene("mid_iron_neutral_21").figure


def known_to(figure: Figure, sd: float) -> Figure:
    """The same points, each known to `sd` in every direction."""
    size = figure.points.size
    factor = np.zeros((size + len(figure.scalars), size))
    factor[:size] = sd * np.eye(size)
    return evolve(figure, factors={"points": factor})


@pytest.mark.parametrize("name", ["forward_bend", "stance_width", "lead_knee_flex", "arm_hang"])
def test_draws_agree_with_the_straight_line_where_it_holds(figure: Figure, name: str) -> None:
    known = known_to(figure, 0.001)
    linear = evaluate(MEASURES[name], known).sd
    # 64 draws: the root mean square is known to 1/sqrt(128), 9 %.
    drawn = drawn_sd(MEASURES[name], known, states=drawn_states(known))
    assert drawn == pytest.approx(linear, rel=0.3)


def test_a_straight_knee_of_unknown_depth_is_known_far_worse_than_the_line_says(
    figure: Figure,
) -> None:
    points = np.array(figure.points)
    hip, knee, ankle = (INDEX[f"lead_{stem}"] for stem in ("hip", "knee", "ankle"))
    points[knee] = (points[hip] + points[ankle]) / 2 + [0.002, 0, 0]
    straight = evolve(figure, points=points, factors={})
    factor = np.zeros((points.size + len(figure.scalars), 1))
    factor[3 * knee + 1] = 0.05  # 5 cm toward the camera or away from it
    unsure = evolve(straight, factors={"depth": factor})
    measure = MEASURES["lead_knee_flex"]
    assert evaluate(measure, unsure).sd < 5.0
    assert drawn_sd(measure, unsure, states=drawn_states(unsure)) > 8.0
