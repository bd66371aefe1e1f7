"""Square cut-outs of a picture for the networks, and the way back to picture pixels.

All coordinates have their origin at the top-left corner with pixel centres at
+0.5, in the picture and in the cut-out alike.
"""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from attrs import field, frozen

from wellset.vision.values import Array, Pixels, affine, pair

BLUR_PER_REDUCTION: Final = 0.45
"""Standard deviation of the anti-alias blur, in pixels of the cut-out: the value the
landmark network was trained with."""

UNBLURRED_ABOVE: Final = 0.8
"""At this scale (cut-out pixels per picture pixel) and above no blur is applied; as trained."""


@frozen(kw_only=True, eq=False)
class Box:
    """An upright rectangle in a picture, in pixels."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Horizontal size, pixels."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Vertical size, pixels."""
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """Middle of the box, pixels."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def mirrored(self, width_px: float) -> Box:
        """The same box in the picture mirrored left to right."""
        return Box(
            left=width_px - self.right,
            top=self.top,
            right=width_px - self.left,
            bottom=self.bottom,
        )

    def overlap(self, other: Box) -> float:
        """Intersection over union with another box, 0 to 1."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        if across <= 0 or down <= 0:
            return 0.0
        both = across * down
        return both / (self.width * self.height + other.width * other.height - both)

    @staticmethod
    def around(points_px: Array) -> Box:
        """The smallest box that holds the points, ``(N, 2)``, pixels."""
        low, high = points_px.min(axis=0), points_px.max(axis=0)
        return Box(left=low[0], top=low[1], right=high[0], bottom=high[1])


@frozen(kw_only=True, eq=False)
class Cutout:
    """A square part of a picture, turned and scaled to ``size`` pixels.

    Parameters
    ----------
    size : int
        Side of the cut-out, pixels.
    picture_from_cutout : (2, 3) array
        Affine map from cut-out pixels to picture pixels (corner convention).
    """

    size: int
    picture_from_cutout: Array = field(converter=affine)

    @property
    def scale(self) -> float:
        """Cut-out pixels per picture pixel."""
        return float(1.0 / np.hypot(*self.picture_from_cutout[:, 0]))

    @property
    def is_mirrored(self) -> bool:
        """Whether the cut-out shows the picture mirrored left to right."""
        return bool(np.linalg.det(self.picture_from_cutout[:, :2]) < 0.0)

    @property
    def cutout_from_picture(self) -> Array:
        """The inverse affine map, ``(2, 3)``."""
        inverse = np.linalg.inv(self.picture_from_cutout[:, :2])
        return np.column_stack([inverse, -inverse @ self.picture_from_cutout[:, 2]])

    def to_picture(self, points: Array) -> Array:
        """Cut-out points ``(N, 2)`` as picture points, pixels."""
        affine = self.picture_from_cutout
        return np.asarray(points @ affine[:, :2].T + affine[:, 2])

    def to_cutout(self, points_px: Array) -> Array:
        """Picture points ``(N, 2)`` as cut-out points, pixels."""
        affine = self.cutout_from_picture
        return np.asarray(points_px @ affine[:, :2].T + affine[:, 2])

    def draw(self, picture: Pixels, *, outside: int) -> Pixels:
        """The cut-out's pixels by bilinear interpolation, without blur.

        Parameters
        ----------
        picture : (height, width, 3) uint8 array
        outside : int
            An OpenCV border mode for what lies outside the picture.
        """
        matrix = _between_centres(self.picture_from_cutout)
        drawn = cv2.warpAffine(
            picture,
            matrix,
            (self.size, self.size),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=outside,
        )
        return np.asarray(drawn, dtype=np.uint8)


def square_cutout(
    *,
    centre_px: tuple[float, float],
    side_px: float,
    size: int,
    turn: float = 0.0,
    mirrored: bool = False,
) -> Cutout:
    """A square of ``side_px`` around a point, turned by ``turn`` radians, as a cut-out.

    Parameters
    ----------
    centre_px : (float, float)
        Middle of the square, picture pixels.
    side_px : float
        Side of the square, picture pixels.
    size : int
        Side of the cut-out, pixels.
    turn : float
        Clockwise turn of the square on the screen, radian.
    mirrored : bool
        Whether the cut-out shows its part of the picture mirrored left to right.
    """
    step = side_px / size
    turned = step * np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    if mirrored:
        turned[:, 0] *= -1.0
    shift = np.array(centre_px) - turned @ np.array([size / 2.0, size / 2.0])
    return Cutout(size=size, picture_from_cutout=np.column_stack([turned, shift]))


@frozen(kw_only=True, eq=False)
class ReducedPicture:
    """A part of a picture, reduced and blurred so that cut-outs of it do not alias.

    Parameters
    ----------
    rgb : (h, w, 3) uint8 array
    origin_px : (2,) array
        Picture position of the part's top-left corner, pixels.
    factor : float
        Picture pixels per pixel of the part.
    """

    rgb: Pixels
    origin_px: Array = field(converter=pair)
    factor: float

    def draw(self, cutout: Cutout, *, outside: int = cv2.BORDER_REPLICATE) -> Pixels:
        """Draw a cut-out of the picture from this part.

        Parameters
        ----------
        cutout : Cutout
            In pixels of the whole picture.
        outside : int
            An OpenCV border mode for what lies outside the part; the edge repeats.
        """
        affine = cutout.picture_from_cutout
        shifted = np.column_stack([affine[:, :2], affine[:, 2] - self.origin_px]) / self.factor
        inner = Cutout(size=cutout.size, picture_from_cutout=shifted)
        return inner.draw(self.rgb, outside=outside)


def reduce_for(picture: Pixels, *, cutout: Cutout, margin: float = 0.15) -> ReducedPicture:
    """The part of a picture around a cut-out, blurred as the network was trained.

    The blur has a standard deviation of 0.45 cut-out pixels. Large pictures are first
    averaged over whole blocks, whose variance (k² - 1)/12 is taken off the blur, so the
    total is the same and the work stays small.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    cutout : Cutout
        The cut-out to be drawn, or one near it.
    margin : float
        What is kept around it, as a share of its side, so that jittered cut-outs fit too.
    """
    scale = cutout.scale
    left, top, right, bottom = _part(picture.shape[:2], cutout=cutout, margin=margin)
    part = picture[top:bottom, left:right]
    if scale >= UNBLURRED_ABOVE:
        return ReducedPicture(rgb=part, origin_px=np.array([left, top]), factor=1.0)
    # a cut-out that hardly touches the picture needs a part of a few pixels only
    blocks = max(1, min(int(0.5 / scale), *part.shape[:2]))
    variance = (BLUR_PER_REDUCTION / scale) ** 2 - (blocks**2 - 1) / 12.0
    if blocks > 1:
        height = part.shape[0] // blocks * blocks
        width = part.shape[1] // blocks * blocks
        part = np.asarray(
            cv2.resize(
                part[:height, :width],
                (width // blocks, height // blocks),
                interpolation=cv2.INTER_AREA,
            ),
            dtype=np.uint8,
        )
    blurred = cv2.GaussianBlur(part, (0, 0), float(np.sqrt(variance)) / blocks)
    return ReducedPicture(
        rgb=np.asarray(blurred, dtype=np.uint8),
        origin_px=np.array([left, top]),
        factor=float(blocks),
    )


def _part(shape: tuple[int, ...], *, cutout: Cutout, margin: float) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of the part of a picture that a cut-out needs."""
    size = float(cutout.size)
    corners = cutout.to_picture(np.array([[0.0, 0.0], [size, 0.0], [0.0, size], [size, size]]))
    room = margin * size / cutout.scale
    height, width = shape[0], shape[1]
    left = int(np.clip(np.floor(corners[:, 0].min() - room), 0, width - 2))
    top = int(np.clip(np.floor(corners[:, 1].min() - room), 0, height - 2))
    right = int(np.clip(np.ceil(corners[:, 0].max() + room), left + 2, width))
    bottom = int(np.clip(np.ceil(corners[:, 1].max() + room), top + 2, height))
    return left, top, right, bottom


def _between_centres(affine: Array) -> Array:
    """An affine map between corner-convention points as one between pixel indices."""
    linear = affine[:, :2]
    return np.column_stack([linear, affine[:, 2] + linear @ np.array([0.5, 0.5]) - 0.5])
