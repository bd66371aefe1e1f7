"""Printing the marker sheet."""

from __future__ import annotations

from pathlib import Path

from wellset.errors import InputError
from wellset.reports.sheet import PAPERS, sheet_pdf
from wellset.reports.writing import write_file


def write_sheet(path: str | Path, /, *, paper: str) -> Path:
    """Write the marker sheet as a PDF.

    Parameters
    ----------
    path : str or Path
    paper : str
        "a4" or "letter".

    Raises
    ------
    InputError
        The paper is not known.
    OutputError
        The file cannot be written.
    """
    if paper not in PAPERS:
        raise InputError(
            "The paper is not known",
            why=f"it is {paper!r}.",
            fix=f"Say {' or '.join(PAPERS)}.",
        )
    return write_file(Path(path), sheet_pdf(PAPERS[paper]))
