"""The bag card: one page, folds in white, what it says."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pypdfium2.raw
import pytest

from tests.support.printed import pages, texts
from wellset.bootstrap.plan import plan_request
from wellset.reports.card import MISFIT, card_pdf, up_the_thigh
from wellset.reports.plan_contract import ConflictPart, PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.reports.sheet import PAPERS
from wellset.units import UnitSystem


@pytest.fixture(scope="module")
def document() -> PlanDocument:
    return plan_document(plan_request(height="170 cm", hand="left"))


def of_clubs(document: PlanDocument, count: int) -> PlanDocument:
    clubs = (document.clubs * 2)[:count]
    return document.model_copy(update={"clubs": clubs})


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [1, 7, 8, 14, 20])
def test_any_bag_is_one_page_and_nothing_lies_on_a_fold(
    document: PlanDocument, paper: str, count: int
) -> None:
    (page,) = pages(card_pdf(of_clubs(document, count), PAPERS[paper]), dpi=100)
    size = PAPERS[paper]
    assert np.array(page.shape[:2]) * 25.4 / 100 == pytest.approx(
        [size.height_mm, size.width_mm], abs=0.3
    )
    dark = page.max(axis=-1) < 120
    middle_y, middle_x = np.array(page.shape[:2]) // 2
    rim = round(7 / 25.4 * 100)  # the marks at the paper's edge
    near = round(1.5 / 25.4 * 100)
    assert not dark[middle_y - near : middle_y + near, rim:-rim].any()
    assert not dark[rim:-rim, middle_x - near : middle_x + near].any()
    # and it keeps clear of what a printer can't reach
    edge = round(4 / 25.4 * 100)
    cross = np.zeros_like(dark)
    cross[middle_y - near : middle_y + near], cross[:, middle_x - near : middle_x + near] = 1, 1
    for side in (np.s_[:edge], np.s_[-edge:], np.s_[:, :edge], np.s_[:, -edge:]):
        assert not (dark & ~cross)[side].any()


def test_every_club_has_its_numbers(document: PlanDocument) -> None:
    (said,) = texts(card_pdf(document, PAPERS["a4"]))
    for club in document.clubs:
        assert f"{club.floor.gap_club_heads:.1f} head" in said
        assert f"{club.floor.forward_bend_deg:.0f}°" in said
    assert "nearer the target" in said
    assert "doctor" in said


def test_inches_are_written_throughout(document: PlanDocument) -> None:
    (said,) = texts(card_pdf(document, PAPERS["letter"], units=UnitSystem.INCHES))
    assert " cm" not in said
    assert " in" in said


def test_a_club_that_does_not_fit_is_marked_and_told(document: PlanDocument) -> None:
    conflict = ConflictPart(
        code="window_not_reached", measure="arm_hang", facts=(), amount=2.0,
        message="The window for arm hang can't be kept.", remedies=(),
    )  # fmt: skip
    club = document.clubs[0].model_copy(update={"conflicts": (conflict,)})
    changed = document.model_copy(update={"clubs": (club, *document.clubs[1:])})
    (said,) = texts(card_pdf(changed, PAPERS["a4"]))
    assert f"{club.club} !" in said
    assert f"Arm hang out of its window: {club.club}." in said
    assert MISFIT.split(":", maxsplit=1)[0] in said


def test_the_same_card_is_the_same_tagged_bytes(document: PlanDocument) -> None:
    pdf = card_pdf(document, PAPERS["a4"])
    assert pdf == card_pdf(document, PAPERS["a4"])
    with pypdfium2.PdfDocument(pdf) as opened:
        assert pypdfium2.raw.FPDFCatalog_IsTagged(opened.raw)
        assert opened.get_metadata_dict()["Title"].startswith("Bag card")


@pytest.mark.parametrize(
    "name",
    ["Jos\u00e9 \u0141ukasz \u00d8stergaard-N\u00ed Bhriain the Third", "\u05d3\u05e0\u05d4",
     "\u0644\u064a\u0644\u0649 \u062d\u0633\u0646", "W" * 120],
)  # fmt: skip
def test_names_of_every_kind_leave_one_page(document: PlanDocument, name: str) -> None:
    student = document.student.model_copy(update={"name": name})
    pdf = card_pdf(document.model_copy(update={"student": student}), PAPERS["a4"])
    (said,) = texts(pdf)
    assert name[:2] in said or name[:2] in said[::-1]


@pytest.mark.parametrize(
    ("share", "words"),
    [(-0.3, "below the knee"), (0.0, "at the knee"), (0.33, "⅓ up"), (0.5, "½ up"),
     (0.67, "⅔ up"), (1.0, "at the hip"), (1.4, "above the hip")],
)  # fmt: skip
def test_a_height_is_told_against_the_thigh(share: float, words: str) -> None:
    assert up_the_thigh(share) == words
