"""Markers in a landmark file."""

from __future__ import annotations

from typing import Annotated, Final, Literal

import numpy as np
from pydantic import Field, field_validator

from wellset.equipment.sheet import SHEET_MARKER, Marker
from wellset.figure.sighting import MarkerSighting
from wellset.services.documents import Document

_Number = Annotated[float, Field(allow_inf_nan=False)]
_Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]
_Corner = tuple[_Number, _Number]
_Spread = tuple[_Number, _Number, _Number]

MARKERS: Final[dict[str, Marker]] = {SHEET_MARKER.name: SHEET_MARKER}
LEAST_AREA_PX2: Final = 20.0
"""Corners that span less hold no square."""


class MarkerEntry(Document):
    """One marker as the file has it, in the picture as taken.

    The corners are those of the black square with the sheet's arrow pointing up: bottom
    right, top right, top left, bottom left.
    """

    name: Literal["sheet"] = "sheet"
    corners_px: tuple[_Corner, _Corner, _Corner, _Corner]
    sd_px: _Positive = 1.0
    covariances_px2: tuple[_Spread, _Spread, _Spread, _Spread] | None = None
    side_m: Annotated[float, Field(gt=0.01, lt=2, allow_inf_nan=False)] | None = None
    placed_by: Literal["model", "coach"] = "coach"

    @field_validator("corners_px")
    @classmethod
    def _spans(cls, value: tuple[_Corner, ...]) -> object:
        x, y = np.array(value).T
        area = 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
        if area < LEAST_AREA_PX2:
            raise ValueError("must be the four corners of the square, one after another")
        return value

    @field_validator("covariances_px2")
    @classmethod
    def _positive(cls, value: tuple[_Spread, ...] | None) -> object:
        if value is not None and not all(xx > 0 and xx * yy > xy**2 for xx, xy, yy in value):
            raise ValueError("must be xx, xy, yy of four positive definite covariances")
        return value

    def sighting(self) -> MarkerSighting:
        """The marker in the picture as taken."""
        known = MARKERS[self.name]
        side = self.side_m if self.side_m is not None else known.side_m
        covariance = (
            np.array([[[xx, xy], [xy, yy]] for xx, xy, yy in self.covariances_px2])
            if self.covariances_px2 is not None
            else np.stack([np.eye(2) * self.sd_px**2] * 4)
        )
        return MarkerSighting(
            name=self.name,
            corners_px=self.corners_px,
            covariance_px2=covariance,
            side_m=side,
            side_sd_m=known.side_sd * side,
            by_hand=self.placed_by == "coach",
        )


def marker_data(marker: MarkerSighting, /) -> dict[str, object]:
    """A marker in the picture as taken, as the file holds it."""
    return {
        "name": marker.name,
        "corners_px": np.round(marker.corners_px, 2).tolist(),
        "covariances_px2": [
            [float(f"{v:.4g}") for v in (s[0, 0], s[0, 1], s[1, 1])] for s in marker.covariance_px2
        ],
        "side_m": round(marker.side_m, 5),
        "placed_by": "coach" if marker.by_hand else "model",
    }
