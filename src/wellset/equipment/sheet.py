"""The printed marker sheet: what is on it, for those who print it and those who look for it."""

from __future__ import annotations

from typing import Final

from attrs import frozen

Bits = tuple[tuple[int, ...], ...]


@frozen(kw_only=True)
class Marker:
    """A black square with a pattern of cells, on a light sheet.

    Parameters
    ----------
    name : str
        What the thing on the ground is called.
    bits : tuple of rows of 0 and 1
        The cells within the black border, which is one cell wide; 1 is white. The first
        row is the top of the sheet.
    side_m : float
        Side of the black square, metre.
    side_sd : float
        Relative standard uncertainty of the side.
    """

    name: str
    bits: Bits
    side_m: float
    side_sd: float

    @property
    def cells(self) -> int:
        """Cells along one side, border included."""
        return len(self.bits) + 2


PRINT_SCALE_SD: Final = 0.004
"""Relative: half a millimetre on the check ruler of 100 mm is what a person notices with a
household ruler; paper grows and shrinks by 0.1 to 0.3 % with damp (our judgement)."""

SHEET_MARKER: Final = Marker(
    name="sheet",
    bits=((1, 0, 1, 1), (0, 1, 0, 1), (0, 0, 1, 1), (0, 0, 1, 0)),
    side_m=0.16,
    side_sd=PRINT_SCALE_SD,
)
"""Number 0 of the ArUco dictionary ``DICT_4X4_50`` (Garrido-Jurado et al. 2014,
doi 10.1016/j.patcog.2014.01.005). Few cells, so that each is large in a picture taken from
hand height; of the fifty, none is less like itself when turned by a quarter."""

RULER_M: Final = 0.1
"""Length of the check ruler."""
