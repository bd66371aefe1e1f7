"""Floor plans as they come out of a printer: pages in pixels, and sheets laid side by side."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import cv2
import numpy as np
import pypdfium2
from numpy.typing import NDArray

from wellset.reports.floor.sheets import FloorPlan, floor_pdf
from wellset.reports.floor.tiles import BAND_MM, MARGIN_MM, OVERLAP_MM

Rgb = NDArray[np.uint8]
Array = NDArray[np.float64]

DPI: Final = 200.0
MM: Final = 25.4 / DPI
"""Millimetre a pixel."""
LEAST_AREA_MM2: Final = 20.0


def pages(pdf: bytes, *, dpi: float = DPI, last: int | None = None) -> list[Rgb]:
    """Pages in colour, shape (h, w, 3); only the last so many where asked."""
    with pypdfium2.PdfDocument(pdf) as document:
        count = len(document)
        first = 0 if last is None else count - last
        return [rgb(document[i], dpi=dpi) for i in range(first, count)]


def rgb(page: pypdfium2.PdfPage, *, dpi: float) -> Rgb:
    """A page in colour, red first."""
    shown = page.render(scale=dpi / 72, rev_byteorder=True).to_numpy()
    page.close()
    return np.array(shown[..., :3])


def texts(pdf: bytes) -> list[str]:
    """The words of each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def windows(plan: FloorPlan) -> Iterator[tuple[str, Array, Rgb]]:
    """Each sheet's name, where its drawing begins on the ground in millimetre, and its pixels."""
    tiling = plan.tiling
    sheets = pages(floor_pdf(plan), last=len(tiling.tiles))
    begin = round(MARGIN_MM / MM)
    for tile, sheet in zip(tiling.tiles, sheets, strict=True):
        width, height = np.rint((tiling.step + OVERLAP_MM) / MM).astype(int)
        assert sheet.shape[0] * MM > MARGIN_MM + height * MM + BAND_MM
        yield tile.name, tiling.low(tile), sheet[begin : begin + height, begin : begin + width]


def taped(plan: FloorPlan) -> tuple[Rgb, Array]:
    """The whole plan, later sheets over earlier ones, and the ground at its top left, mm."""
    parts = list(windows(plan))
    low = np.min([at for _, at, _ in parts], axis=0)
    places = [np.rint((at - low) / MM).astype(int) for _, at, _ in parts]
    size = np.max(
        [p + part.shape[1::-1] for p, (_, _, part) in zip(places, parts, strict=True)], axis=0
    )
    ground = np.full((size[1], size[0], 3), 255, dtype=np.uint8)
    for (x, y), (_, _, part) in zip(places, parts, strict=True):
        ground[y : y + part.shape[0], x : x + part.shape[1]] = part
    return ground, low


def near(picture: Rgb, colour: str) -> NDArray[np.bool_]:
    """Areas of a colour such as ``"#dfece5"``; specks of it along other lines are left out."""
    wanted = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])
    found = cv2.inRange(picture, np.array(wanted - 2), np.array(wanted + 2))
    _, labels, stats, _ = cv2.connectedComponentsWithStats(found, connectivity=4)
    large = stats[:, cv2.CC_STAT_AREA] > LEAST_AREA_MM2 / MM**2
    large[0] = False
    areas: NDArray[np.bool_] = large[labels]
    return areas


def ink(picture: Rgb) -> NDArray[np.bool_]:
    """Pixels of black or of our ink."""
    dark: NDArray[np.bool_] = picture.max(axis=-1) < 100
    return dark
