"""Mass tables and centres of mass."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.body import (
    MASS_EDITIONS,
    Sex,
    centre_of_mass,
    mass_model,
    reaction_board_distance,
    segment_centres,
)
from wellset.errors import InputError


@pytest.mark.parametrize("edition", MASS_EDITIONS)
@pytest.mark.parametrize("sex", list(Sex))
def test_point_weights_add_up_to_the_whole_body(edition: str, sex: Sex) -> None:
    weights = mass_model(sex, edition=edition).point_weights()
    assert sum(weights.values()) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("edition", MASS_EDITIONS)
def test_point_weights_give_the_same_centre_as_the_segments(edition: str) -> None:
    model = mass_model(Sex.WOMEN, edition=edition)
    rng = np.random.default_rng(3)
    points = {name: rng.normal(size=3) for name in model.point_weights()}
    for name in ("c7", "mid_ear", "mid_hip", "mid_shoulder", "vertex"):
        points.setdefault(name, rng.normal(size=3))
    rows = []
    for segment in model.segments:
        for side in ("lead_", "trail_") if segment.paired else ("",):
            # A point of weight zero may be missing; it is then the end the centre leaves out.
            lower = points.get(side + segment.lower, np.zeros(3))
            upper = points.get(side + segment.upper, np.zeros(3))
            rows.append((upper, lower, segment.centre_fraction, segment.mass_fraction))
    upper, lower, fractions, masses = (np.array(column) for column in zip(*rows, strict=True))
    centre = centre_of_mass(segment_centres(upper, lower, fractions=fractions), masses=masses)
    weighted = sum(w * points[name] for name, w in model.point_weights().items())
    assert weighted == pytest.approx(centre, abs=1e-12)


def test_the_pooled_table_is_the_mean_of_men_and_women() -> None:
    men, women, both = (mass_model(sex) for sex in Sex)
    for m, w, b in zip(men.segments, women.segments, both.segments, strict=True):
        assert b.mass_fraction == pytest.approx((m.mass_fraction + w.mass_fraction) / 2)
        assert b.centre_fraction == pytest.approx((m.centre_fraction + w.centre_fraction) / 2)


def test_the_trunk_can_be_taken_between_other_ends() -> None:
    model = mass_model(Sex.MEN).with_row("trunk, mid-shoulder")
    assert model.total == pytest.approx(1.0, abs=1e-9)
    assert "mid_shoulder" in model.point_weights()
    assert {s.name for s in model.segments} & {"trunk, C7"} == set()
    assert model.segment("trunk, C7").upper == "c7"


def test_a_row_the_table_does_not_have_is_an_error() -> None:
    with pytest.raises(KeyError):
        mass_model(Sex.MEN).segment("tail")


def test_records_of_a_table_name_its_source() -> None:
    record = mass_model(Sex.MEN).mass("thigh")
    assert record.value == pytest.approx(0.1416)
    assert "de Leva" in record.source
    assert mass_model(Sex.MEN).centre("thigh").value == pytest.approx(0.4095)


def test_an_unknown_table_of_masses_is_refused_by_name() -> None:
    with pytest.raises(InputError, match="Dempster"):
        mass_model(Sex.MEN, edition="my own")


@pytest.mark.parametrize("masses", [[1.0], [1.0, -1.0], [0.0, 0.0], [1.0, float("nan")]])
def test_masses_that_make_no_centre_are_refused(masses: list[float]) -> None:
    with pytest.raises(InputError, match="centre of mass"):
        centre_of_mass([[0.0, 0.0], [1.0, 0.0]], masses=masses)


def test_a_board_needs_a_person_on_it() -> None:
    with pytest.raises(InputError, match="board"):
        reaction_board_distance(reading_with=30, reading_without=10, span=2, mass=0)
