"""Measures as a file for whoever analyses them: of one student, or of the whole book."""

from __future__ import annotations

from enum import StrEnum

from fastapi import APIRouter, Response
from fastapi.responses import StreamingResponse

from wellset.reports.measure_table import csv_chunks, parquet_table
from wellset.services.measure_rows import rows_of_book
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)


class TableKind(StrEnum):
    """How the table is written."""

    CSV = "csv"
    PARQUET = "parquet"


@router.get("/measures")
def of_everybody(
    site: SiteNow, *, kind: TableKind = TableKind.CSV, names: bool = False
) -> Response:
    """The measures of every student."""
    return table_answer(site, kind, student=None, names=names)


@router.get("/students/{student_id}/measures")
def of_student(
    site: SiteNow, *, student_id: str, kind: TableKind = TableKind.CSV, names: bool = False
) -> Response:
    """The measures of one student."""
    return table_answer(site, kind, student=student_id, names=names)


def table_answer(site: Site, kind: TableKind, *, student: str | None, names: bool) -> Response:
    """The table of one student's measures, or of everybody's.

    Raises
    ------
    MissingError
        For an unknown student, before anything is sent.
    """
    if student is not None:
        with site.desk.book.reading() as pages:
            pages.student(student)
    rows = rows_of_book(site.desk, student=student, names=names)
    headers = {
        "content-disposition": f'attachment; filename="wellset-measures.{kind.value}"',
        "cache-control": "private, no-store",
    }
    if kind is TableKind.PARQUET:
        return Response(
            parquet_table(rows, names=names),
            media_type="application/vnd.apache.parquet",
            headers=headers,
        )
    return StreamingResponse(
        csv_chunks(rows, names=names), media_type="text/csv; charset=utf-8", headers=headers
    )
