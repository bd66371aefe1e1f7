"""A student's lesson sheet on two pages of paper."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Final

from wellset.figure.views import View
from wellset.reports.lesson_sheet_model import Drawn, LessonSheet, Stand, Task
from wellset.reports.sheet import Paper
from wellset.reports.sheet_picture import SheetPicture, sheet_picture_svg
from wellset.reports.sheet_titles import (
    TITLES,
    cards,
    facts_of,
    greeting,
    nothing_to_practise,
)
from wellset.reports.typesetting import typeset

_TEMPLATE: Final = "lesson-sheet.typ"


def lesson_sheet_pdf(
    sheet: LessonSheet, /, *, paper: Paper, pictures: Mapping[View, bytes] | None = None
) -> bytes:
    """The sheet as a tagged PDF of two pages, the same bytes each time.

    Parameters
    ----------
    sheet : LessonSheet
    paper : Paper
    pictures : mapping of View to bytes, optional
        JPEG of the shown part of each picture (:func:`wellset.reports.sheet_crop.cropped`); a
        body is drawn where there is none.
    """
    files, shown = picture_files(sheet, pictures or {})
    figures = [_figure(each, index, files=files) for index, each in enumerate(sheet.figures)]
    given: dict[str, object] = {
        "width": paper.width_mm,
        "height": paper.height_mm,
        **TITLES,
        "no-tasks": nothing_to_practise(sheet),
        "title": sheet.title,
        "greeting": greeting(sheet),
        "name": sheet.name,
        "date": sheet.date,
        "club": sheet.club,
        "note": sheet.note,
        "explained": sheet.explained,
        "pictures": shown,
        "one-picture": ONE_PICTURE if len(shown) == 1 else "",
        "key": [list(each) for each in sheet.key],
        "change": None
        if sheet.change is None
        else {
            "headline": sheet.change.headline,
            "what": sheet.change.what,
            "amount": sheet.change.amount,
            "why": sheet.change.why,
            "feel": sheet.change.feel,
            "check": sheet.change.check,
        },
        "calm-title": sheet.calm_title,
        "calm": sheet.calm,
        "good": list(sheet.good),
        "tasks": [_task(each) for each in sheet.tasks],
        "more-tasks": sheet.more_tasks,
        "figures": figures,
        "stand": _stand(sheet.stand) if sheet.stand is not None else None,
        "cards": [
            {"title": title, "lead": lead, "points": list(points), "after": after}
            for title, lead, points, after in cards(sheet)
        ],
        "cautions": list(sheet.cautions),
    }
    return typeset(_TEMPLATE, given=given, files=files)


ONE_PICTURE: Final = (
    "Only one picture was taken. With both, one from the front and one from behind, more can be "
    "seen."
)


def picture_files(
    sheet: LessonSheet, pictures: Mapping[View, bytes], /
) -> tuple[dict[str, bytes], list[dict[str, object]]]:
    """The sheet's pictures as files for the typesetter, and what it is told of them."""
    files: dict[str, bytes] = {}
    return files, [_picture(each, files=files, pictures=pictures) for each in sheet.pictures]


def _picture(
    picture: SheetPicture, *, files: dict[str, bytes], pictures: Mapping[View, bytes]
) -> dict[str, object]:
    image = ""
    if picture.view in pictures:
        data = base64.b64encode(pictures[picture.view]).decode("ascii")
        image = f"data:image/jpeg;base64,{data}"
    name = f"{picture.view.value}.svg"
    files[name] = sheet_picture_svg(picture, image=image).encode()
    return {"file": name, "title": picture.title, "alt": picture.alt}


def _figure(drawn: Drawn, index: int, *, files: dict[str, bytes]) -> dict[str, object]:
    name = f"figure-{index}.svg"
    files[name] = drawn.svg.encode()
    return {
        "file": name,
        "title": drawn.title,
        "alt": drawn.alt,
        "width": drawn.width,
        "height": drawn.height,
    }


def _task(task: Task) -> dict[str, object]:
    return {
        "title": task.title,
        "purpose": task.purpose,
        "steps": list(task.steps),
        "facts": [list(each) for each in facts_of(task)],
        "caution": task.caution,
    }


def _stand(stand: Stand) -> dict[str, object]:
    return {
        "title": stand.title,
        "club": stand.club,
        "heads": ["What", "By hand", "On a tape"],
        "lines": [
            {"what": each.what, "hand": each.by_hand, "tape": each.tape} for each in stand.lines
        ],
        "explained": stand.explained,
        "doubt": stand.doubt,
    }
