"""Empirical numbers as records."""

from __future__ import annotations

import pytest

from wellset.units import Edition, Mark, Record


def _record(*, sd: float | None = 0.1, source: str = "a paper") -> Record:
    return Record(
        value=1.0,
        sd=sd,
        unit="m",
        population="adults",
        source=source,
        mark=Mark.READ,
        edition="2026-11-25",
    )


def test_a_number_without_a_source_is_refused() -> None:
    with pytest.raises(ValueError, match="source"):
        _record(source="")


def test_a_negative_spread_is_refused() -> None:
    with pytest.raises(ValueError, match="sd"):
        _record(sd=-0.1)


def test_an_unknown_spread_is_never_taken_for_zero() -> None:
    assert _record(sd=0.0).spread == 0.0
    with pytest.raises(ValueError, match="no spread is known"):
        _ = _record(sd=None).spread


def test_an_edition_says_its_name_and_day() -> None:
    edition = Edition(name="A table", date="2026-11-25", source="a book")
    assert str(edition) == "A table (entered 2026-11-25)"
    with pytest.raises(ValueError, match="date"):
        Edition(name="A table", date="yesterday", source="a book")
