"""Wiring of the table of measures: from book or files to CSV or Parquet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from attrs import evolve

from wellset.bootstrap import _text
from wellset.bootstrap.book import open_desk, place_of, require_book
from wellset.bootstrap.keeping import write_pieces
from wellset.errors import InputError
from wellset.reports.measure_table import csv_chunks, parquet_table
from wellset.reports.writing import DATA
from wellset.services.measure_rows import MeasureRow, rows_of_book, rows_of_document

_CSV: Final = ".csv"
_PARQUET: Final = ".parquet"


def written_measures(
    file: str,
    *,
    of: str | None = None,
    sources: Sequence[str] = (),
    names: bool = False,
    data: str | None = None,
    database: str | None = None,
) -> str:
    """Write the table of measures; what to say of it.

    Parameters
    ----------
    file : str
        Ends in ``.csv`` or ``.parquet``.
    of : str, optional
        One student of the lesson book; everybody otherwise.
    sources : sequence of str
        Assessments in JSON, or their folders, in place of the book.
    names : bool
        Whether students' names go along.
    data, database : str, optional
        Where the lesson book lies.

    Raises
    ------
    WellsetError
    """
    goal = Path(file)
    if goal.suffix.lower() not in {_CSV, _PARQUET}:
        raise InputError(
            "The kind of table is not known",
            why=f"the file is called {goal.name!r}.",
            fix="Let its name end in .csv or .parquet.",
            where=file,
        )
    rows = _Counted(_rows(of=of, sources=sources, names=names, data=data, database=database))
    if goal.suffix.lower() == _PARQUET:
        write_pieces(goal, iter([parquet_table(rows, names=names)]))
    else:
        write_pieces(goal, csv_chunks(rows, names=names))
    return f"{file}: {rows.count} row{'' if rows.count == 1 else 's'}, one for each measure."


def measures_csv(
    *,
    of: str | None = None,
    sources: Sequence[str] = (),
    names: bool = False,
    data: str | None = None,
    database: str | None = None,
) -> Iterator[bytes]:
    """The same table as CSV, piece by piece; see :func:`written_measures`."""
    rows = _rows(of=of, sources=sources, names=names, data=data, database=database)
    return csv_chunks(rows, names=names)


class _Counted:
    """Rows, counted as they pass."""

    def __init__(self, rows: Iterator[MeasureRow]) -> None:
        self._rows = rows
        self.count = 0

    def __iter__(self) -> Iterator[MeasureRow]:
        for row in self._rows:
            self.count += 1
            yield row


def _told_apart(documents: Sequence[Iterator[MeasureRow]], /) -> Iterator[MeasureRow]:
    """All rows; files of one name are numbered, for their folders are often students' names."""
    read = [tuple(rows) for rows in documents]
    every = Counter(rows[0].source for rows in read if rows)
    seen: Counter[str | None] = Counter()
    for rows in read:
        name = rows[0].source if rows else None
        seen[name] += 1
        for row in rows:
            yield evolve(row, source=f"{name} ({seen[name]})") if every[name] > 1 else row


def _rows(
    *,
    of: str | None,
    sources: Sequence[str],
    names: bool,
    data: str | None,
    database: str | None,
) -> Iterator[MeasureRow]:
    if sources and of is not None:
        raise InputError(
            "Where the measures come from is said twice",
            why="both a student of the lesson book and assessment files were given.",
            fix="Give --of or --from, not both.",
        )
    if sources:
        files = [str(Path(each) / DATA) if Path(each).is_dir() else each for each in sources]
        texts = [(where, _text(where, what="assessment")) for where in files]
        documents = [rows_of_document(text, where=where, names=names) for where, text in texts]
        return _told_apart(documents)
    place = place_of(data=data, database=database)
    require_book(place, what="read measures from")
    return rows_of_book(open_desk(place), student=of, names=names)
