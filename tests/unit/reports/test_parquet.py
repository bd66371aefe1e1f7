"""Parquet files of our own, read back by an independent program (the Rust crate `parquet`)."""

from __future__ import annotations

from io import BytesIO

import pytest
from arro3.io import read_parquet
from hypothesis import given, settings
from hypothesis import strategies as st

from wellset.reports.parquet import Cell, Column, Kind, parquet_bytes

KINDS: dict[Kind, st.SearchStrategy[Cell]] = {
    Kind.TEXT: st.text(alphabet=st.characters(codec="utf-8")),
    Kind.NUMBER: st.floats(allow_nan=False),
    Kind.TRUTH: st.booleans(),
}


def read_back(columns: list[Column]) -> dict[str, list[Cell]]:
    table = read_parquet(BytesIO(parquet_bytes(columns, made_by="a test"))).read_all()
    return {name: list(table[name].to_pylist()) for name in table.schema.names}


@st.composite
def tables(draw: st.DrawFn) -> list[Column]:
    rows = draw(st.integers(0, 40))
    kinds = draw(st.lists(st.sampled_from(list(Kind)), min_size=1, max_size=20))
    return [
        Column(
            name=f"c{i}",
            kind=kind,
            cells=draw(st.lists(st.none() | KINDS[kind], min_size=rows, max_size=rows)),
        )
        for i, kind in enumerate(kinds)
    ]


@settings(max_examples=60, deadline=None)
@given(tables())
def test_every_table_is_read_back_as_it_was_by_another_program(columns: list[Column]) -> None:
    assert read_back(columns) == {column.name: list(column.cells) for column in columns}


def test_many_rows_are_read_back_too() -> None:
    cells = [None if i % 7 == 0 else i / 3 for i in range(20_001)]
    assert read_back([Column(name="x", kind=Kind.NUMBER, cells=cells)]) == {"x": cells}


def test_the_same_table_is_the_same_bytes() -> None:
    columns = [Column(name="x", kind=Kind.TEXT, cells=["a", None, "é"])]
    first, second = (parquet_bytes(columns, made_by="w") for _ in range(2))
    assert first == second
    # magic number at both ends: Apache Parquet's format page, "File format"
    assert (first[:4], first[-4:]) == (b"PAR1", b"PAR1")


def test_columns_of_different_lengths_are_refused() -> None:
    columns = [Column(name=n, kind=Kind.TEXT, cells=["a"] * k) for n, k in (("a", 1), ("b", 2))]
    with pytest.raises(ValueError, match="different lengths"):
        parquet_bytes(columns, made_by="w")
