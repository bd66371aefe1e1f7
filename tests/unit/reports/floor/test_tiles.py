"""Cutting the ground into sheets."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.errors import InputError
from wellset.reports.floor.marks import THIN, Drawn, Mark, Path, Words, box
from wellset.reports.floor.tiles import MARGIN_MM, OVERLAP_MM, Tile, cut
from wellset.reports.sheet import PAPERS, Paper

A4 = PAPERS["a4"]


def line(*points: tuple[float, float]) -> Mark:
    return Path(points=np.array(points), pen=THIN)


def sheets(paper: Paper, *marks: Mark) -> list[str]:
    return [tile.name for tile in cut(Drawn.of(marks), paper=paper).tiles]


def test_what_fits_one_sheet_takes_one() -> None:
    assert sheets(A4, Path(points=box([0, 0], [150, 200]), pen=THIN, closed=True)) == ["A1"]


def test_a_long_line_takes_the_paper_lengthwise() -> None:
    tiling = cut(Drawn.of([line((0, 0), (1000, 0))]), paper=A4)
    assert tiling.landscape
    # 297 mm less two margins and the strip to glue on
    assert len(tiling.tiles) == int(np.ceil(1000 / (297 - 2 * MARGIN_MM - OVERLAP_MM)))
    assert not cut(Drawn.of([line((0, 0), (0, 1000))]), paper=A4).landscape


def test_every_mark_lies_on_a_sheet() -> None:
    marks = [line((0, 0), (431, 620)), line((-200, 300), (90, 310))]
    tiling = cut(Drawn.of(marks), paper=PAPERS["letter"])
    for mark in marks:
        for point in mark.reach:
            assert any(
                (tiling.low(t) <= point + 1e-9).all() and (point <= tiling.high(t) + 1e-9).all()
                for t in tiling.tiles
            )


def test_sheets_with_nothing_on_them_are_left_out_and_the_rest_hangs_together() -> None:
    corner = [line((0, 0), (0, 900)), line((0, 900), (900, 900))]
    tiling = cut(Drawn.of(corner), paper=A4)
    assert len(tiling.tiles) < tiling.rows * tiling.columns
    reached = [tiling.tiles[0]]
    for tile in reached:
        reached += [
            t for t in tiling.tiles
            if t not in reached and abs(t.row - tile.row) + abs(t.column - tile.column) == 1
        ]  # fmt: skip
    assert len(reached) == len(tiling.tiles)


def test_words_that_may_be_cut_off_take_no_sheet_of_their_own() -> None:
    shoe = Path(points=box([0, 0], [150, 200]), pen=THIN, closed=True)
    far = [Words(text="far away", at=[600, 600], needed=needed) for needed in (False, True)]
    assert len(sheets(A4, shoe, far[0])) == 1
    assert len(sheets(A4, shoe, far[1])) > 1


def test_sheets_are_named_by_row_and_column() -> None:
    assert [Tile(row=r, column=c).name for r, c in ((0, 0), (2, 11), (26, 0))] == [
        "A1", "C12", "AA1",
    ]  # fmt: skip


def test_a_join_closes_on_both_sheets() -> None:
    tiling = cut(Drawn.of([line((0, 0), (400, 0))]), paper=A4)
    first, second = tiling.tiles[:2]
    assert tiling.high(first)[0] - tiling.low(second)[0] == pytest.approx(OVERLAP_MM)
    joins = [m for m in tiling.joins() if isinstance(m, Path) and not m.closed]
    assert joins[0].points[:, 0] == pytest.approx([tiling.low(second)[0]] * 2)


def test_ground_without_end_is_refused() -> None:
    with pytest.raises(InputError, match="too large to print"):
        cut(Drawn.of([line((0, 0), (60_000, 0))]), paper=A4)
