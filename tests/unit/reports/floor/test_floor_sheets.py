"""The floor plan as it comes out of a printer: measured in rasters of the PDF."""

from __future__ import annotations

import ctypes
from functools import cache
from itertools import pairwise

import cv2
import numpy as np
import pypdfium2
import pypdfium2.raw
import pytest
from numpy.typing import NDArray

from tests.support.printed import MM, Rgb, ink, near, pages, taped, texts, windows
from wellset.bootstrap.plan import plan_request
from wellset.equipment.rules import LEAST_BALL_DIAMETER
from wellset.reports.floor.marks import LEAD, STICK
from wellset.reports.floor.sheets import FloorPlan, floor_pdf, floor_plan
from wellset.reports.floor.tiles import MARGIN_MM, OVERLAP_MM
from wellset.reports.plan_contract import ClubPlan, ConflictPart, PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.reports.sheet import PAPERS

OUTLINE_MM = 0.9
"""Breadth of a shoe's outline; half of it lies inside."""
CLUBS = ("driver", "7-iron", "sand wedge")


@cache
def document(hand: str, height: str = "178 cm") -> PlanDocument:
    return plan_document(plan_request(height=height, clubs=CLUBS, hand=hand))


@cache
def on_the_ground(paper: str, hand: str, club: str) -> Rgb:
    """The taped sheets."""
    return taped(plan(paper, hand, club))[0]


@cache
def plan(paper: str = "a4", hand: str = "right", club: str | None = "7-iron") -> FloorPlan:
    return floor_plan(document(hand), paper=PAPERS[paper], club=club)


def club_of(one: FloorPlan) -> ClubPlan:
    """What the plan's JSON says of the club."""
    (found,) = (c for c in one.document.clubs if c.club == one.stances[0].club)
    return found


def run_mm(line: NDArray[np.bool_]) -> float:
    inside = np.flatnonzero(line)
    return float(inside[-1] - inside[0] + 1)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("club", ["driver", None])
def test_every_sheet_has_a_ruler_of_100_mm_within_a_tenth(paper: str, club: str | None) -> None:
    one, dpi = plan(paper, club=club), 600.0
    tiling = one.tiling
    with pypdfium2.PdfDocument(floor_pdf(one)) as opened:
        for i in range(len(opened) - len(tiling.tiles), len(opened)):
            page = opened[i]
            assert np.array(page.get_size()) * 25.4 / 72 == pytest.approx(
                [tiling.width_mm, tiling.height_mm], abs=0.01
            )
            top = MARGIN_MM + tiling.step[1] + OVERLAP_MM + 2.5 + 0.1
            crop = (0, (tiling.height_mm - top - 0.4) * 72 / 25.4, 0, top * 72 / 25.4)
            shown = page.render(scale=dpi / 72, crop=crop, rev_byteorder=True).to_numpy()
            row = np.array(shown[shown.shape[0] // 2, : round(112 / 25.4 * dpi), :3]).max(axis=-1)
            assert run_mm(row < 128) * 25.4 / dpi == pytest.approx(100.0, abs=0.1)
            page.close()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("club", ["driver", None])
def test_what_neighbouring_sheets_both_show_lies_at_one_place(paper: str, club: str | None) -> None:
    one = plan(paper, club=club)
    parts = {name: (at, part) for name, at, part in windows(one)}
    tiles = {tile.name: tile for tile in one.tiling.tiles}
    reach = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * round(0.5 / MM) + 1,) * 2)
    compared = 0
    for name, (at, part) in parts.items():
        for other, (there, beside) in parts.items():
            row, column = (
                tiles[other].row - tiles[name].row,
                tiles[other].column - tiles[name].column,
            )
            if (row, column) not in {(0, 1), (1, 0)}:
                continue
            x, y = np.rint((there - at) / MM).astype(int)
            first = ink(part[y:, x:])
            second = ink(beside[: first.shape[0], : first.shape[1]])
            first = first[: second.shape[0], : second.shape[1]]
            rim = round(0.6 / MM)  # what crosses the strip's rim is seen on one side of it only
            for a, b in ((first, second), (second, first)):
                wide = cv2.dilate(b.astype(np.uint8), reach) > 0
                assert not (a & ~wide)[rim:-rim, rim:-rim].any(), (name, other)
                compared += int(a[rim:-rim, rim:-rim].sum())
    assert compared * MM * MM > 20  # square millimetres of ink, or nothing was compared


@pytest.mark.parametrize(
    ("paper", "hand", "club"),
    [
        ("a4", "right", "driver"),
        ("a4", "left", "sand wedge"),
        ("letter", "right", "7-iron"),
        ("letter", "left", "driver"),
    ],
)
def test_shoe_and_ball_lie_on_the_taped_sheets_as_the_plan_says(
    paper: str, hand: str, club: str
) -> None:
    one = plan(paper, hand, club)
    picture = on_the_ground(paper, hand, club)
    said = club_of(one)
    lead = near(picture, LEAD.fill)
    # the shoe's length: the two points of its inside that are farthest apart
    hull = cv2.convexHull(np.argwhere(lead).astype(np.float32))[:, 0]
    far = max(float(np.hypot(*(hull - p).T).max()) for p in hull)
    heel, toe = (np.array(said.points[f"lead_shoe_{end}"]) for end in ("heel", "toe"))
    assert (far + 1) * MM + OUTLINE_MM == pytest.approx(1000 * np.hypot(*(toe - heel)[:2]), abs=0.5)

    x, y = ball_px(picture)
    floor = said.floor
    # from the ball to the line of the toes, the lower edge of the stick that lies on it
    stick = near(picture, STICK.fill)
    edges = [np.flatnonzero(stick[:, round(x + dx)])[-1] + 1 for dx in (-20 / MM, 20 / MM)]
    toes = float(np.mean(edges)) * MM + 0.4  # half the line's breadth
    assert toes - y * MM == pytest.approx(1000 * floor.ball_from_toes_m, abs=0.5)
    # from the ball to the inner edge of the lead shoe, level with the ankle
    ankle = said.points["lead_ankle"][1] - said.points["ball"][1]
    row = np.flatnonzero(lead[round(y + 1000 * ankle / MM)])
    target = -1 if hand == "right" else 1
    slant = 1 / np.cos(np.radians(floor.lead_foot_flare_deg))
    edge = (row[-1] + 1 if target < 0 else row[0]) * MM - target * OUTLINE_MM / 2 * slant
    inside = target * (edge - x * MM)
    assert inside == pytest.approx(1000 * floor.ball_from_lead_heel_m, abs=0.5)


def ball_px(picture: Rgb) -> tuple[float, float]:
    """Middle of the ball: where a ring of its size meets most ink."""
    across = 1000 * LEAST_BALL_DIAMETER.value
    size = 2 * round((across / 2 + 2) / MM) + 1
    ring = np.zeros((size, size), dtype=np.float32)
    middle = size // 2
    fine = 16  # sixteenths of a pixel
    cv2.circle(ring, (middle * fine,) * 2, round(across / 2 / MM * fine), 1.0,
               5, shift=4)  # fmt: skip
    match = cv2.matchTemplate(ink(picture).astype(np.float32), ring, cv2.TM_CCORR)
    _, most, _, (x, y) = cv2.minMaxLoc(match)
    assert most > 0.6 * ring.sum()
    return float(x + middle) + 0.5, float(y + middle) + 0.5


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_target_lies_where_this_golfer_has_it(hand: str) -> None:
    picture = on_the_ground("a4", hand, "driver" if hand == "right" else "sand wedge")
    x, _ = ball_px(picture)
    lead = np.flatnonzero(near(picture, LEAD.fill).any(axis=0)).mean()
    assert bool(lead < x) is (hand == "right")


def test_sheets_without_a_mark_are_left_out() -> None:
    tiling = plan("a4", club=None).tiling
    assert len(tiling.tiles) < tiling.rows * tiling.columns
    for _, _, part in windows(plan("a4", club=None)):
        assert (part < 128).any()


@pytest.mark.parametrize("club", ["7-iron", None])
def test_the_same_plan_is_the_same_bytes(club: str | None) -> None:
    first = floor_pdf(plan(club=club))
    again = floor_plan(document("right"), paper=PAPERS["a4"], club=club)
    assert floor_pdf(again) == first


def test_every_sheet_says_its_name_and_the_first_how_to_use_it() -> None:
    one = plan()
    said = texts(floor_pdf(one))
    names = [tile.name for tile in one.tiling.tiles]
    for name, words in zip(names, said[-len(names) :], strict=True):
        assert f"Sheet {name}" in words
        assert "100 mm" in words
    assert "actual size" in said[0]
    assert "slips" in said[0]
    assert "Without paper" in " ".join(said)


def test_a_screen_reader_is_told_what_each_sheet_shows() -> None:
    one = plan()
    with pypdfium2.PdfDocument(floor_pdf(one)) as opened:
        assert pypdfium2.raw.FPDFCatalog_IsTagged(opened.raw)
        assert opened.get_metadata_dict()["Title"].startswith("Floor plan at true size")
        told = [alts(page) for page in opened]
    sheets = told[-len(one.tiling.tiles) :]
    assert all(any(alt.startswith("Sheet ") for alt in page) for page in sheets)
    assert sum("lead shoe" in alt for page in sheets for alt in page) >= 1


def alts(page: pypdfium2.PdfPage) -> list[str]:
    """The words that stand for pictures on a page."""
    raw = pypdfium2.raw
    tree = raw.FPDF_StructTree_GetForPage(page.raw)
    waiting = [
        raw.FPDF_StructTree_GetChildAtIndex(tree, i)
        for i in range(raw.FPDF_StructTree_CountChildren(tree))
    ]
    found = []
    while waiting:
        element = waiting.pop()
        if not element:
            continue
        size = raw.FPDF_StructElement_GetAltText(element, None, 0)
        if size > 2:
            held = ctypes.create_string_buffer(size)
            raw.FPDF_StructElement_GetAltText(element, held, size)
            found.append(held.raw.decode("utf-16-le").rstrip("\x00"))
        waiting += [
            raw.FPDF_StructElement_GetChildAtIndex(element, i)
            for i in range(raw.FPDF_StructElement_CountChildren(element))
        ]
    raw.FPDF_StructTree_Close(tree)
    return found


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("Jos\u00e9 \u0141ukasz \u00d8stergaard-N\u00ed Bhriain", "\u0141ukasz"),
        ("\u05d3\u05e0\u05d4 \u05dc\u05d5\u05d9", "\u05dc"),
        ("\u0644\u064a\u0644\u0649 \u062d\u0633\u0646", "\u062d"),
        ("Maximiliana " * 9, "Maximiliana"),
    ],
)
def test_names_of_every_kind_are_set_and_stay_on_the_sheet(name: str, found: str) -> None:
    student = document("right").student.model_copy(update={"name": name.strip()})
    named = document("right").model_copy(update={"student": student})
    one = floor_plan(named, paper=PAPERS["letter"], club="sand wedge")
    pdf = floor_pdf(one)
    assert found in texts(pdf)[0]
    plain = floor_plan(document("right"), paper=PAPERS["letter"], club="sand wedge")
    assert len(texts(pdf)) == len(texts(floor_pdf(plain)))


def test_a_junior_has_small_shoes_and_no_words_over_the_edge() -> None:
    small = floor_plan(document("right", "120 cm"), paper=PAPERS["a4"], club="7-iron")
    usual = plan()
    assert small.stances[0].lead.length < 0.75 * usual.stances[0].lead.length
    assert len(small.tiling.tiles) <= len(usual.tiling.tiles)


def test_a_club_that_does_not_fit_is_told_on_the_first_sheet() -> None:
    conflict = ConflictPart(
        code="window_not_reached", measure="arm_hang", facts=(), amount=2.0,
        message="The window for arm hang can't be kept.", remedies=(),
    )  # fmt: skip
    clubs = tuple(
        c.model_copy(update={"conflicts": (conflict,)}) for c in document("right").clubs * 2
    )
    misfit = document("right").model_copy(update={"clubs": clubs})
    said = texts(floor_pdf(floor_plan(misfit, paper=PAPERS["a4"], club="driver")))
    assert conflict.message in said[0]
    assert "2 more: see the plan" in texts(floor_pdf(floor_plan(misfit, paper=PAPERS["a4"])))[0]


def test_a_very_wide_stance_takes_more_sheets_that_hang_together() -> None:
    club = next(c for c in document("right").clubs if c.club == "driver")
    points = {
        name: (x - 0.9 if name.startswith("trail_") else x, y, z)
        for name, (x, y, z) in club.points.items()
    }
    wide = document("right").model_copy(
        update={"clubs": (club.model_copy(update={"points": points}),)}
    )
    one = floor_plan(wide, paper=PAPERS["letter"])
    assert len(one.tiling.tiles) > len(plan("letter", club="driver").tiling.tiles)
    assert one.stances[0].gap == pytest.approx(1000 * (club.floor.gap_m + 0.9), abs=0.2)
    columns = sorted({tile.column for tile in one.tiling.tiles})
    assert all(b - a == 1 for a, b in pairwise(columns))


def test_a_slope_is_drawn_along_the_ground() -> None:
    level = plan_request(height="178 cm", clubs=["7-iron"], slopes=["uphill 10"])
    stance = floor_plan(plan_document(level), paper=PAPERS["a4"]).stances[0]
    flat = level.plans[0].floor
    # the gap is measured level; along a slope of 10 degrees the ankles lie farther apart
    ankles = flat.gap + level.plans[0].scene.skeleton.scalars[0]
    along = ankles / np.cos(np.radians(10)) - level.plans[0].scene.skeleton.scalars[0]
    assert stance.gap == pytest.approx(1000 * along, abs=1.0)
    assert stance.lead.length == pytest.approx(
        1000 * level.plans[0].scene.skeleton.shoe_length, abs=0.1
    )


def test_first_pages_hold_nothing_of_the_ground() -> None:
    one = plan()
    count = len(texts(floor_pdf(one))) - len(one.tiling.tiles)
    assert count == 2
    assert len(pages(floor_pdf(one), dpi=20, last=None)) == count + len(one.tiling.tiles)
