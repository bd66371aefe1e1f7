"""What one picture shows, as values: who placed each landmark, and how sure.

All pixel coordinates are in the upright picture (EXIF orientation applied) with
the origin at the top-left corner, x to the right, y down, and the centre of the
first pixel at (0.5, 0.5). Left-handed golfers' pictures are mirrored before they
get here (x becomes width - x), so lead is always on the same side.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from wellset.figure.views import View

Array = NDArray[np.float64]


def frozen_array(*shape: int) -> Callable[[object], Array]:
    """Converter to a read-only float64 array of the given shape."""

    def convert(value: object) -> Array:
        array = np.array(value, dtype=np.float64)
        if array.shape != shape:
            raise ValueError(f"expected an array of shape {shape}, got {array.shape}")
        array.setflags(write=False)
        return array

    return convert


def _pair(value: object) -> Array:
    return frozen_array(2)(value)


def _two_by_two(value: object) -> Array:
    return frozen_array(2, 2)(value)


def _corners(value: object) -> Array:
    return frozen_array(4, 2)(value)


def _corner_covariances(value: object) -> Array:
    return frozen_array(4, 2, 2)(value)


@frozen(kw_only=True, eq=False)
class ProposedByModel:
    """A landmark as the networks see it.

    Parameters
    ----------
    position_px : (2,) array, picture frame, pixel
    covariance_px2 : (2, 2) array, pixel squared
        Network spread, crop jitter and disagreement between the models together;
        the gap between rendered and real people is *not* in here.
    disagreement_px : float or None
        Distance to the general model's point beyond both spreads; ``None`` where
        the general model has no such point.
    """

    position_px: Array = field(converter=_pair)
    covariance_px2: Array = field(converter=_two_by_two)
    disagreement_px: float | None = None


@frozen(kw_only=True, eq=False)
class PlacedByCoach:
    """A landmark a person placed. It wins, and keeps what the model proposed."""

    position_px: Array = field(converter=_pair)
    covariance_px2: Array = field(converter=_two_by_two)
    proposal: ProposedByModel | None = None


@frozen(kw_only=True)
class NotSeen:
    """A landmark that has no place in this picture, and why.

    Parameters
    ----------
    why : str
    proposal : ProposedByModel or None
        What the model proposed where a person says that the point cannot be seen.
    """

    why: str
    proposal: ProposedByModel | None = None


Placement = ProposedByModel | PlacedByCoach | NotSeen


@frozen(kw_only=True, eq=False)
class StickSighting:
    """A straight stick lying on the ground (or standing), as a line in the picture.

    Parameters
    ----------
    ends_px : (2, 2) array, picture frame, pixel
        Two far-apart points on the stick's centre line. They are points *on the
        line*; they need not be the stick's ends.
    sd_px : float
        Standard uncertainty of each point across the line.
    ends_are_tips : bool
        Whether both points are the stick's own visible ends.
    by_hand : bool
        Whether a person placed it.
    """

    ends_px: Array = field(converter=_two_by_two)
    sd_px: float
    ends_are_tips: bool = False
    by_hand: bool = False


@frozen(kw_only=True, eq=False)
class MarkerSighting:
    """A printed square lying flat on the ground.

    Its corners are told apart by the sheet's own directions: *u* along its arrow, *v* to
    the golfer's side of the arrow (to the left of it; to the right in a left-hander's
    mirrored picture). An arrow aimed at the target points along +x, and *v* along +y.

    Parameters
    ----------
    name : str
        Which marker it is.
    corners_px : (4, 2) array, picture frame, pixel
        Corners of the black square at ``(u, v)`` = (−, −), (+, −), (+, +), (−, +).
    covariance_px2 : (4, 2, 2) array, pixel squared
    side_m : float
        Side of the square, metre.
    side_sd_m : float
        Its standard uncertainty: how exactly it was printed.
    """

    name: str
    corners_px: Array = field(converter=_corners)
    covariance_px2: Array = field(converter=_corner_covariances)
    side_m: float
    side_sd_m: float
    by_hand: bool = False

    def mirrored(self, *, width_px: int) -> MarkerSighting:
        """The same marker in the picture mirrored left to right; twice gives it back.

        A mirror leaves the arrow's direction and swaps its two sides.
        """
        other_side = [3, 2, 1, 0]
        turned = self.corners_px[other_side] * [-1.0, 1.0] + [width_px, 0.0]
        # adding zero turns -0 into 0
        spread = self.covariance_px2[other_side] * [[1.0, -1.0], [-1.0, 1.0]] + 0.0
        return evolve(self, corners_px=turned, covariance_px2=spread)


@frozen(kw_only=True)
class PictureFacts:
    """What is known about a picture file, without its pixels."""

    name: str
    width_px: int
    height_px: int
    focal_35mm: float | None
    """The 35 mm-equivalent focal length tag, in millimetres, or ``None``."""
    sha256: str = ""
    was_cut: bool = False
    """Whether it was probably cut after it was taken: the tag may then not fit, and the
    camera's axis need not run through the picture's middle."""


@frozen(kw_only=True, eq=False)
class Sighting:
    """Everything read off one picture.

    Parameters
    ----------
    view : View
    picture : PictureFacts
    landmarks : mapping of name to Placement
    sticks : tuple of StickSighting
    replaced_sticks : tuple of StickSighting
        Found sticks that gave way to those a person gave; kept, not used.
    """

    view: View
    picture: PictureFacts
    landmarks: Mapping[str, Placement]
    sticks: tuple[StickSighting, ...] = ()
    replaced_sticks: tuple[StickSighting, ...] = ()
    markers: tuple[MarkerSighting, ...] = ()
