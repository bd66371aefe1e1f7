"""The marker sheet as it comes out of a printer: measured in a raster of the PDF."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
import pypdfium2
import pypdfium2.raw
import pytest
from numpy.typing import NDArray

from tests.support.sheets import sheet_raster
from wellset.equipment.sheet import SHEET_MARKER
from wellset.reports.sheet import PAPERS, STEPS, placed, sheet_pdf

DPI = 600.0
MM = 25.4 / DPI


def document(paper: str) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(sheet_pdf(PAPERS[paper]))


def pages(paper: str) -> Iterator[pypdfium2.PdfPage]:
    with document(paper) as opened:
        for page in opened:
            yield page
            page.close()


def run_of_black(line: NDArray[np.uint8]) -> tuple[float, float]:
    """First and last edge of the black in a line of pixels, in pixels, part pixels counted."""
    dark = 1.0 - line / 255.0
    (inside,) = np.nonzero(dark > 0.5)
    first, last = int(inside[0]), int(inside[-1])
    before = dark[first - 1] if first else 0.0
    return first + (1 - dark[first]) - before, last + dark[last] + dark[last + 1]


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheet_is_one_page_of_the_papers_size(paper: str) -> None:
    sizes = [page.get_size() for page in pages(paper)]
    # ISO 216 A4 is 210 x 297 mm; US letter is 8.5 x 11 inches
    wanted = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[paper]
    assert np.array(sizes) * 25.4 / 72 == pytest.approx(np.array([wanted]), abs=0.01)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_check_ruler_is_100_mm_long_within_a_tenth(paper: str) -> None:
    at, grey = placed(PAPERS[paper]), sheet_raster(paper, DPI)
    row = round((at.ruler_top + 0.3) / MM)
    beyond = round((at.ruler_left + at.ruler_length + 2) / MM)
    start, end = run_of_black(grey[row, :beyond])
    assert (end - start) * MM == pytest.approx(100.0, abs=0.1)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_square_has_the_side_that_is_looked_for(paper: str) -> None:
    at, grey = placed(PAPERS[paper]), sheet_raster(paper, DPI)
    middle = round((at.square_top + 8) / MM)  # through the border, where all is black
    left, right = run_of_black(grey[middle])
    column = grey[: round((at.ruler_top - 4) / MM), round((at.square_left + 8) / MM)]
    top, bottom = run_of_black(column)
    side = 1000 * SHEET_MARKER.side_m
    # the raster draws whole pixels: one at each edge, 0.042 mm each
    assert np.array([right - left, bottom - top]) * MM == pytest.approx([side, side], abs=0.09)
    assert left * MM == pytest.approx(at.square_left, abs=0.05)


@pytest.mark.parametrize("paper", PAPERS)
def test_an_independent_detector_reads_the_printed_marker(paper: str) -> None:
    published = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    found, ids, _ = cv2.aruco.ArucoDetector(published).detectMarkers(sheet_raster(paper))
    assert ids.tolist() == [[0]]
    corners = (np.array(found[0][0]) + 0.5) * 25.4 / 150
    at = placed(PAPERS[paper])
    # first comes the marker's own top left, then clockwise: the arrow points up the page
    assert corners[0] == pytest.approx([at.square_left, at.square_top], abs=0.2)
    assert corners[1] == pytest.approx([at.square_left + 160, at.square_top], abs=0.2)


def test_the_pattern_is_number_0_of_the_published_dictionary() -> None:
    published = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    bits = cv2.aruco.Dictionary.getBitsFromByteList(published.bytesList[:1], 4)
    assert tuple(map(tuple, bits.tolist())) == SHEET_MARKER.bits


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_sheet_is_the_same_bytes(paper: str) -> None:
    assert sheet_pdf(PAPERS[paper]) == sheet_pdf(PAPERS[paper])


@pytest.mark.parametrize("paper", PAPERS)
def test_a_screen_reader_gets_tagged_words_in_their_order(paper: str) -> None:
    with document(paper) as opened:
        assert pypdfium2.raw.FPDFCatalog_IsTagged(opened.raw)
        assert opened.get_metadata_dict()["Title"]
    (text,) = (" ".join(page.get_textpage().get_text_bounded().split()) for page in pages(paper))
    places = [text.find(" ".join(step.split())[:30]) for step in STEPS]
    assert min(places) > 0
    assert places == sorted(places)
    assert "100 mm" in text
