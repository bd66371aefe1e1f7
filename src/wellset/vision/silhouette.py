"""The golfer's outline as a mask, for drawing and for checks."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from attrs import field, frozen

from wellset.vision.crops import Box
from wellset.vision.general import Body
from wellset.vision.values import Mask, mask

INSIDE_ABOVE: Final = 0.5
"""Outline probability that counts as the golfer; as published with the model."""


@frozen(kw_only=True, eq=False)
class Silhouette:
    """Which pixels show the golfer (body and clothes, hardly the club).

    Parameters
    ----------
    left, top : int
        Picture column and row of the mask's first pixel.
    mask : (h, w) bool array, read-only
        One entry a picture pixel, only around the golfer.
    width_px, height_px : int
        Size of the picture.
    """

    left: int
    top: int
    mask: Mask = field(converter=mask)
    width_px: int
    height_px: int

    @property
    def box(self) -> Box:
        """The box that the mask fills, pixels."""
        rows, columns = self.mask.shape
        return Box(
            left=float(self.left),
            top=float(self.top),
            right=float(self.left + columns),
            bottom=float(self.top + rows),
        )

    @property
    def in_picture(self) -> Mask:
        """The mask on the whole picture, ``(height, width)`` bool."""
        whole = np.zeros((self.height_px, self.width_px), dtype=np.bool_)
        rows, columns = self.mask.shape
        whole[self.top : self.top + rows, self.left : self.left + columns] = self.mask
        return whole

    def mirrored(self) -> Silhouette:
        """The same in the picture mirrored left to right."""
        return Silhouette(
            left=self.width_px - self.left - self.mask.shape[1],
            top=self.top,
            mask=self.mask[:, ::-1],
            width_px=self.width_px,
            height_px=self.height_px,
        )


def silhouette_of(body: Body, *, width_px: int, height_px: int) -> Silhouette:
    """The general model's outline brought to picture pixels.

    Parameters
    ----------
    body : Body
    width_px, height_px : int
        Size of the picture.
    """
    size = float(body.cutout.size)
    corners = body.cutout.to_picture(np.array([[0.0, 0.0], [size, 0.0], [0.0, size], [size, size]]))
    left, top = (int(x) for x in np.maximum(np.floor(corners.min(axis=0)), 0))
    right = int(min(np.ceil(corners[:, 0].max()), width_px))
    bottom = int(min(np.ceil(corners[:, 1].max()), height_px))
    affine = body.cutout.cutout_from_picture
    shift = affine[:, 2] + affine[:, :2] @ np.array([left + 0.5, top + 0.5]) - 0.5
    drawn = cv2.warpAffine(
        (body.outline * 255.0).astype(np.uint8),
        np.column_stack([affine[:, :2], shift]),
        (max(right - left, 1), max(bottom - top, 1)),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
    )
    inside = np.asarray(drawn) > INSIDE_ABOVE * 255.0
    rows, columns = np.flatnonzero(inside.any(axis=1)), np.flatnonzero(inside.any(axis=0))
    if rows.size:
        inside = inside[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
        left, top = left + int(columns[0]), top + int(rows[0])
    return Silhouette(left=left, top=top, mask=inside, width_px=width_px, height_px=height_px)
