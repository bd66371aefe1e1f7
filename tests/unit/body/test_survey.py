"""Survey rows as records."""

from __future__ import annotations

import pytest

from wellset.body import ANSUR_MEN, ANSUR_WOMEN, DRILLIS_CONTINI, STATURE_SHARES, Survey
from wellset.units import Mark


@pytest.mark.parametrize("survey", [ANSUR_MEN, ANSUR_WOMEN], ids=["men", "women"])
def test_every_dimension_is_a_record_with_its_people_and_source(
    survey: Survey,
) -> None:
    for name in ("stature", *survey.dimensions):
        record = survey.record(name)
        assert 0 < record.spread < record.value < 2
        assert record.unit == "m"
        assert record.population == survey.population
        assert "Natick" in record.source


def test_a_share_of_stature_that_was_not_computed_is_not_made_up() -> None:
    with pytest.raises(KeyError):
        ANSUR_MEN.fraction("heel_breadth")
    with pytest.raises(KeyError):
        ANSUR_MEN.regression("heel_breadth")


def test_a_fitted_regression_goes_before_a_derived_one() -> None:
    assert ANSUR_MEN.regression("wrist_height").mark is Mark.READ
    assert ANSUR_MEN.regression("knee_height").mark is Mark.DERIVED


def test_the_textbook_shares_print_no_spread() -> None:
    for record in STATURE_SHARES.values():
        assert record.sd is None
        assert record.source == DRILLIS_CONTINI.source
