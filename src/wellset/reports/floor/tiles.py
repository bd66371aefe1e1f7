"""Cutting the ground into sheets of paper that a printer takes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.errors import InputError
from wellset.reports.floor.marks import SOFT, Array, Drawn, Mark, Path, Pen, Words
from wellset.reports.sheet import Paper

MARGIN_MM: Final = 10.0
"""Left white on every side: ordinary printers need 3 to 7 mm, some 12 mm at the foot, where the
band of words keeps clear of it (from memory)."""
BAND_MM: Final = 18.0
"""At the foot of every sheet: check ruler, name, map. The next sheet down covers it."""
OVERLAP_MM: Final = 10.0
"""What neighbours show both: the strip to glue on."""
MOST_SHEETS: Final = 120
"""More than this is not the stance of a person."""
_SHIFTS: Final = 30
"""How many places of the grid are tried, each way."""
_JOIN: Final = Pen(colour=SOFT, width=0.25, dash=(1.5, 1.5))
_DIAMOND: Final = Pen(colour=SOFT, width=0.35)
_DIAMOND_MM: Final = 6.0


@frozen(kw_only=True)
class Tile:
    """One sheet: its row from the top and column from the left, counted from 0."""

    row: int
    column: int

    @property
    def letter(self) -> str:
        """Of the row."""
        last = chr(ord("A") + self.row % 26)
        return last if self.row < 26 else f"A{last}"

    @property
    def name(self) -> str:
        """As it is printed: row by letter, column by number."""
        return f"{self.letter}{self.column + 1}"


@frozen(kw_only=True, eq=False)
class Tiling:
    """How the ground is cut.

    Parameters
    ----------
    paper : Paper
    landscape : bool
    origin : (2,) array
        Where the grid begins on the ground, millimetre.
    tiles : tuple of Tile
        The sheets to print, row by row; empty ones are left out.
    """

    paper: Paper
    landscape: bool
    origin: Array
    tiles: tuple[Tile, ...]

    @property
    def width_mm(self) -> float:
        """Of a sheet."""
        return self.paper.height_mm if self.landscape else self.paper.width_mm

    @property
    def height_mm(self) -> float:
        """Of a sheet."""
        return self.paper.width_mm if self.landscape else self.paper.height_mm

    @property
    def step(self) -> Array:
        """From one sheet's corner to the next one's, on the ground."""
        return _step(self.paper, landscape=self.landscape)

    @property
    def rows(self) -> int:
        """Of the whole grid."""
        return max(tile.row for tile in self.tiles) + 1

    @property
    def columns(self) -> int:
        """Of the whole grid."""
        return max(tile.column for tile in self.tiles) + 1

    def low(self, tile: Tile, /) -> Array:
        """Top left of what a sheet shows, on the ground."""
        corner: Array = self.origin + self.step * [tile.column, tile.row]
        return corner

    def high(self, tile: Tile, /) -> Array:
        """Bottom right of what a sheet shows, the strip to glue on included."""
        corner: Array = self.low(tile) + self.step + OVERLAP_MM
        return corner

    def joins(self) -> Iterator[Mark]:
        """Where sheets meet: a fine line, and a diamond that closes when they lie right."""
        for tile in self.tiles:
            low, high = self.low(tile), self.low(tile) + self.step
            beside = Tile(row=tile.row, column=tile.column + 1)
            if beside in self.tiles:
                yield from _join([high[0], low[1]], high, name=f"{tile.name}–{beside.name}")
            below = Tile(row=tile.row + 1, column=tile.column)
            if below in self.tiles:
                yield from _join([low[0], high[1]], high, name=f"{tile.name}–{below.name}")


def cut(drawn: Drawn, /, *, paper: Paper) -> Tiling:
    """The fewest sheets that hold every mark, upright or lengthwise.

    Parameters
    ----------
    drawn : Drawn
    paper : Paper

    Raises
    ------
    InputError
        When it would take an unreasonable number of sheets.
    """
    reach = np.vstack(
        [mark.reach for mark in drawn.marks if not (isinstance(mark, Words) and not mark.needed)]
    )
    both = [_fewest(reach, paper=paper, landscape=landscape) for landscape in (False, True)]
    best = min(both, key=lambda tiling: (len(tiling.tiles), tiling.rows * tiling.columns))
    if len(best.tiles) > MOST_SHEETS:
        raise InputError(
            "The floor plan is too large to print",
            why=f"it takes {len(best.tiles)} sheets.",
            fix="Check the student's height and the club's length.",
        )
    return best


def _step(paper: Paper, *, landscape: bool) -> Array:
    width, height = paper.width_mm, paper.height_mm
    if landscape:
        width, height = height, width
    return np.array([
        width - 2 * MARGIN_MM - OVERLAP_MM,
        height - 2 * MARGIN_MM - BAND_MM - OVERLAP_MM,
    ])  # fmt: skip


def _fewest(reach: Array, *, paper: Paper, landscape: bool) -> Tiling:
    """The grid's place that needs the fewest sheets which hang together."""
    step, low, high = _step(paper, landscape=landscape), reach.min(axis=0), reach.max(axis=0)
    shifts = np.linspace(0, 1, _SHIFTS, endpoint=False)
    across, down = (
        [np.floor((reach[:, k] - low[k]) / step[k] + s).astype(int) for s in shifts] for k in (0, 1)
    )
    # of equally many, the one that leaves as much white before as behind
    spare = [[abs(s + (s + (high[k] - low[k]) / step[k]) % 1 - 1) for s in shifts] for k in (0, 1)]
    width = max(int(c.max()) for c in across) + 1
    tried = sorted(
        (int(np.count_nonzero(np.bincount(y * width + x))), spare[0][i] + spare[1][j], i, j)
        for i, x in enumerate(across)
        for j, y in enumerate(down)
    )
    choices = ((i, j, _tiles(across[i], down[j])) for _, _, i, j in tried)
    fallback = (tried[0][2], tried[0][3], _tiles(across[tried[0][2]], down[tried[0][3]]))
    i, j, tiles = next((each for each in choices if _hang_together(each[2])), fallback)
    first = np.array([min(t.column for t in tiles), min(t.row for t in tiles)])
    return Tiling(
        paper=paper,
        landscape=landscape,
        origin=low + (first - [shifts[i], shifts[j]]) * step,
        tiles=tuple(
            Tile(row=t.row - int(first[1]), column=t.column - int(first[0])) for t in tiles
        ),
    )


def _tiles(columns: NDArray[np.int_], rows: NDArray[np.int_]) -> list[Tile]:
    """The sheets that hold something, row by row."""
    return [
        Tile(row=row, column=column)
        for row, column in sorted(set(zip(rows.tolist(), columns.tolist(), strict=True)))
    ]


def _hang_together(tiles: list[Tile]) -> bool:
    """Whether every sheet is taped to the rest along a side."""
    open_, reached = [tiles[0]], {tiles[0]}
    while open_:
        one = open_.pop()
        for row, column in ((-1, 0), (1, 0), (0, -1), (0, 1)):
            beside = Tile(row=one.row + row, column=one.column + column)
            if beside in tiles and beside not in reached:
                reached.add(beside)
                open_.append(beside)
    return len(reached) == len(tiles)


def _join(begin: object, end: object, *, name: str) -> Iterator[Mark]:
    """A join's line, and a diamond with its name at the middle."""
    a, b = np.array(begin, dtype=np.float64), np.array(end, dtype=np.float64)
    middle = (a + b) / 2
    d = _DIAMOND_MM
    yield Path(points=np.array([a, b]), pen=_JOIN)
    for place in (middle, a + 0.08 * (b - a), a + 0.92 * (b - a)):
        corners = place + np.array([[0, -d], [d, 0], [0, d], [-d, 0]])
        yield Path(points=corners, pen=_DIAMOND, closed=True)
    level = a[1] == b[1]
    at = middle + ([d + 1.5, -0.8] if level else [-0.8, -d - 1.5])
    yield Words(text=name, at=at, size=3.4, bold=False, colour=SOFT, upright=not level)
