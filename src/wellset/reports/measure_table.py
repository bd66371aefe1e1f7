"""Measures as CSV and as Parquet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from typing import Final

import attrs

from wellset import __version__
from wellset.reports.parquet import Cell, Column, Kind, parquet_bytes
from wellset.services.measure_rows import MeasureRow

_KINDS: Final = {"float": Kind.NUMBER, "float | None": Kind.NUMBER, "bool": Kind.TRUTH}
_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
_AT_ONCE: Final = 500


def column_names(*, names: bool) -> tuple[str, ...]:
    """The columns in order; `names` adds the student's name."""
    every = (field.name for field in attrs.fields(MeasureRow))
    return tuple(name for name in every if names or name != "name")


def csv_chunks(rows: Iterable[MeasureRow], /, *, names: bool = False) -> Iterator[bytes]:
    """A CSV file piece by piece: UTF-8, commas, a head line, nothing where nothing is known.

    A text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    columns = column_names(names=names)
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\r\n")
    writer.writerow(columns)
    for number, row in enumerate(rows, start=1):
        writer.writerow([_cell(getattr(row, name)) for name in columns])
        if number % _AT_ONCE == 0:
            yield buffer.getvalue().encode()
            buffer.seek(0)
            buffer.truncate()
    yield buffer.getvalue().encode()


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_FORMULA) else value
    return repr(value)


def parquet_table(rows: Iterable[MeasureRow], /, *, names: bool = False) -> bytes:
    """A Parquet file with the same columns: texts, doubles and one truth."""
    columns = column_names(names=names)
    cells: dict[str, list[Cell]] = {name: [] for name in columns}
    for row in rows:
        for name in columns:
            cells[name].append(getattr(row, name))
    kinds = {field.name: str(field.type) for field in attrs.fields(MeasureRow)}
    return parquet_bytes(
        [
            Column(name=name, kind=_KINDS.get(kinds[name], Kind.TEXT), cells=cells[name])
            for name in columns
        ],
        made_by=f"wellset {__version__}",
    )
