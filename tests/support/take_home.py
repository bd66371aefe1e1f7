"""Kept assessments and plans of rendered scenes, for the tests of sheets to take home."""

from __future__ import annotations

from functools import cache

import pypdfium2
import pypdfium2.raw as pdfium

from tests.support.reports import assessment
from wellset.equipment import find_club
from wellset.figure.views import Hand, View
from wellset.reports.contract import AssessmentDocument, MeasuredValue
from wellset.reports.json_contract import assessment_document
from wellset.reports.plan_contract import ClubPlan
from wellset.reports.plan_json import plan_document
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.student_file import make_student
from wellset.standards import default_standards

REACHING = "fairway_wood_left_handed_reaching_21"
LEFT_HANDED = "mid_iron_left_handed_weight_in_heels_01"
NEUTRAL = "mid_iron_neutral_21"
BALL_BACK = "mid_iron_ball_too_far_back_21"


@cache
def document(
    scene: str = BALL_BACK, *, views: tuple[View, ...] = tuple(View), name: str = "Sam Poole"
) -> AssessmentDocument:
    """A kept assessment."""
    return assessment_document(assessment(scene, views=views, name=name))


@cache
def plan(*, club: str = "7-iron", hand: Hand = Hand.RIGHT, height: str = "178 cm") -> ClubPlan:
    """A plan for one club."""
    student: Student = make_student(height=height)
    request = PlanRequest(
        student=student,
        clubs=(BagEntry(club=find_club(club)),),
        standards=default_standards(),
        hand=hand,
    )
    return plan_document(plan_bag(request)).clubs[0]


def with_verdicts(kept: AssessmentDocument, verdict: str) -> AssessmentDocument:
    """The same set-up, every check of it judged alike and nothing advised."""
    findings = tuple(
        each.model_copy(update={"verdict": verdict, "side": None}) for each in kept.findings
    )
    return kept.model_copy(update={"findings": findings, "advice": ()})


def with_first(kept: AssessmentDocument, measure: str, *, amount: float) -> AssessmentDocument:
    """The same set-up with another first change."""
    first = kept.advice[0].model_copy(
        update={
            "kind": "first_change",
            "measure": measure,
            "amount": amount,
            "right": (),
            "drill": None,
        }
    )
    assert isinstance(kept.measures[measure], MeasuredValue)
    return kept.model_copy(update={"advice": (first,)})


def text_of(pdf: bytes) -> list[str]:
    """Words of each page, in one line."""
    return [
        " ".join(page.get_textpage().get_text_range().replace("\ufffe", "-").split())
        for page in pypdfium2.PdfDocument(pdf)
    ]


def tags_of(pdf: bytes) -> list[tuple[str, str]]:
    """Tags of all pages with the words told in place of pictures."""
    found: list[tuple[str, str]] = []
    for page in pypdfium2.PdfDocument(pdf):
        tree = pdfium.FPDF_StructTree_GetForPage(page.raw)
        for i in range(pdfium.FPDF_StructTree_CountChildren(tree)):
            _walk(pdfium.FPDF_StructTree_GetChildAtIndex(tree, i), found)
    return found


def _walk(element: object, found: list[tuple[str, str]]) -> None:
    if not element:
        return
    found.append(
        (
            _words(pdfium.FPDF_StructElement_GetType, element),
            _words(pdfium.FPDF_StructElement_GetAltText, element),
        )
    )
    for i in range(pdfium.FPDF_StructElement_CountChildren(element)):
        _walk(pdfium.FPDF_StructElement_GetChildAtIndex(element, i), found)


def _words(ask: object, element: object) -> str:
    size = ask(element, None, 0)  # type: ignore[operator]
    if not size:
        return ""
    buffer = pdfium.ctypes.create_string_buffer(size)
    ask(element, buffer, size)  # type: ignore[operator]
    return str(buffer.raw.decode("utf-16-le").rstrip("\0"))
