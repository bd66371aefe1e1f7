"""Centres of mass against worked examples that others printed."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.body import (
    ANSUR_MEN,
    ANSUR_WOMEN,
    Sex,
    Survey,
    centre_of_mass,
    mass_model,
    reaction_board_distance,
    segment_centres,
)

# Coordinates in metres of Winter's textbook example, read in the notebook "Body segment
# parameters" of the Laboratory of Biomechanics and Motor Control, UFABC.
_FOOT_BALL = (1.011, 0.013)
_ANKLE = (0.849, 0.110)
_KNEE = (0.864, 0.549)
_HIP = (0.721, 0.928)


@pytest.mark.parametrize(
    ("sex", "percent"), [(Sex.MEN, 100.00), (Sex.WOMEN, 99.99)], ids=["men", "women"]
)
def test_de_levas_segments_add_up_to_a_body(sex: Sex, percent: float) -> None:
    # de Leva 1996, J Biomech 29:1223-1230, limbs counted twice; 0.02 points of rounding.
    assert 100 * mass_model(sex).total == pytest.approx(percent, abs=0.02)


@pytest.mark.parametrize("sex", list(Sex))
def test_dempster_and_winters_segments_add_up_to_a_body(sex: Sex) -> None:
    # Winter 2009, 4th ed., table 4.1.
    assert mass_model(sex, edition="Dempster-Winter").total == pytest.approx(1.0, abs=0.0002)


@pytest.mark.parametrize("sex", list(Sex))
def test_parts_of_the_trunk_weigh_what_the_trunk_weighs(sex: Sex) -> None:
    # de Leva 1996: upper, middle and lower trunk, 0.02 points of rounding.
    model = mass_model(sex)
    parts = sum(model.mass(f"{part} trunk").value for part in ("upper", "middle", "lower"))
    assert parts == pytest.approx(model.mass("trunk, C7").value, abs=0.0002)


@pytest.mark.parametrize(
    ("whole", "parts"),
    [
        ("whole leg", ("thigh", "shank", "foot")),
        ("whole arm", ("upper arm", "forearm", "hand")),
        ("forearm and hand", ("forearm", "hand")),
        ("shank and foot", ("shank", "foot")),
        ("trunk, head and neck", ("trunk", "head and neck")),
    ],
)
def test_composites_weigh_what_their_parts_weigh(whole: str, parts: tuple[str, ...]) -> None:
    # Winter 2009, 4th ed., table 4.1: both are printed.
    model = mass_model(Sex.POOLED, edition="Dempster-Winter")
    total = sum(model.mass(part).value for part in parts)
    assert total == pytest.approx(model.mass(whole).value, abs=0.0011)


def test_the_centre_of_a_leg_lies_where_the_notebook_puts_it() -> None:
    model = mass_model(Sex.MEN, edition="Dempster-Winter")
    rows = [model.segment(name) for name in ("thigh", "shank", "foot")]
    centres = segment_centres(
        [_HIP, _KNEE, _ANKLE],
        [_KNEE, _ANKLE, _FOOT_BALL],
        fractions=[row.centre_fraction for row in rows],
    )
    # Printed to a millimetre.
    assert centres == pytest.approx(
        np.array([[0.783, 0.764], [0.858, 0.359], [0.930, 0.062]]), abs=0.001
    )
    leg = centre_of_mass(centres, masses=[row.mass_fraction for row in rows])
    assert leg == pytest.approx([0.818, 0.584], abs=0.001)


@pytest.mark.parametrize(
    ("with_kg", "without_kg", "span", "mass", "metres", "tolerance"),
    [
        # Lecture slides, University of Delhi: inputs and formula; the result is cut off.
        (31.2, 10.7, 1.80, 52.0, 0.7096, 0.001),
        # A student laboratory's report, both axes of a board; printed 1.02 and 0.46 m.
        (74.0, 33.5, 2.01, 80.0, 1.018, 0.005),
        (41.0, 22.5, 2.01, 80.0, 0.46, 0.005),
    ],
    ids=["slides", "along", "across"],
)
def test_a_board_on_a_scale_finds_the_printed_centre(
    with_kg: float, without_kg: float, span: float, mass: float, metres: float, tolerance: float
) -> None:
    found = reaction_board_distance(
        reading_with=with_kg, reading_without=without_kg, span=span, mass=mass
    )
    assert found == pytest.approx(metres, abs=tolerance)


@pytest.mark.parametrize(
    ("survey", "centimetres", "percent"),
    [(ANSUR_MEN, 97.75, 55.7), (ANSUR_WOMEN, 91.17, 56.0)],
    ids=["men", "women"],
)
def test_a_standing_body_has_its_centre_at_the_usual_height(
    survey: Survey, centimetres: float, percent: float
) -> None:
    # Derived by hand from de Leva's masses and the survey's mean heights, hip at the
    # trochanterion and shoulder 4 cm below the acromion; the literature's bracket of 54 to 58 %
    # is from memory.
    height = {name: row.mean for name, row in survey.dimensions.items()}
    shoulder = height["acromial_height"] - 0.04
    elbow = height["acromial_height"] - height["acromion_radiale"]
    ends = {
        "vertex": survey.stature.mean,
        "c7": height["c7_height"],
        "mid_hip": height["trochanterion_height"],
        "shoulder": shoulder,
        "elbow": elbow,
        "wrist": height["wrist_height"],
        "fingertip": height["wrist_height"] - height["hand_length"],
        "hip": height["trochanterion_height"],
        "knee": height["knee_height"],
        "malleolus": height["ankle_height"],
        "heel": 0.0,
        "toe": 0.0,
    }
    model = mass_model(survey.sex).with_row("hand, to fingertip").with_row("shank, to malleolus")
    centre = sum(
        weight * ends[name.removeprefix("lead_").removeprefix("trail_")]
        for name, weight in model.point_weights().items()
    )
    # 0.5 cm: where the sole's centre lies and how the rows are rounded is not printed.
    assert 100 * centre == pytest.approx(centimetres, abs=0.5)
    assert 100 * centre / survey.stature.mean == pytest.approx(percent, abs=1.5)
