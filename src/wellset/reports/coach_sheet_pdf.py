"""The coach's sheet as a PDF, as many pages as it needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import asdict

from wellset.figure.views import View
from wellset.reports.coach_sheet import CoachSheet, Said
from wellset.reports.floor.amounts import apart
from wellset.reports.lesson_sheet_pdf import picture_files
from wellset.reports.sheet import Paper
from wellset.reports.typesetting import typeset


def coach_sheet_pdf(
    sheet: CoachSheet, /, *, paper: Paper, pictures: Mapping[View, bytes] | None = None
) -> bytes:
    """The sheet as a tagged PDF, the same bytes each time.

    Parameters
    ----------
    sheet : CoachSheet
    paper : Paper
    pictures : mapping of View to bytes, optional
        See :func:`wellset.reports.lesson_sheet_pdf.lesson_sheet_pdf`.
    """
    files, shown = picture_files(sheet.student, pictures or {})
    given: dict[str, object] = {
        "width": paper.width_mm,
        "height": paper.height_mm,
        "title": f"Coach's sheet: {sheet.student.name}" if sheet.student.name else "Coach's sheet",
        "name": sheet.student.name or "A student",
        "who": apart(sheet.student.name or "A student"),
        "club": sheet.student.club,
        "date": sheet.student.date,
        "facts": [list(each) for each in sheet.facts],
        "pictures": shown,
        "first": _said(sheet.first),
        "rows": [asdict(each) for each in sheet.rows],
        "plain": [asdict(each) for each in sheet.plain],
        "sections": [
            {"title": title, "items": _said(items)}
            for title, items in (
                ("Not measurable in these pictures", sheet.missing),
                ("What would settle the undecided", sheet.settling),
                ("How the phones were held", sheet.phones),
                ("About the pictures", sheet.notes),
                ("Homework given", sheet.homework),
            )
            if items
        ],
        "cautions": list(sheet.cautions),
        "versions": [list(each) for each in sheet.versions],
    }
    return typeset("coach-sheet.typ", given=given, files=files)


def _said(items: Sequence[Said]) -> list[dict[str, str]]:
    return [{"title": each.title, "words": each.words} for each in items]
