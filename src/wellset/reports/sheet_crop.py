"""The shown part of a picture as a file, from pixels or from a kept picture."""

from __future__ import annotations

from typing import Final

import numpy as np
from PIL import Image

from wellset.reports.marks import Box
from wellset.reports.paint import Pixels, jpeg_bytes
from wellset.reports.sheet_picture import SheetPicture

MOST_PIXELS: Final = 1100
"""Of the longer side: 85 mm of paper at 300 dots an inch are a thousand."""


def cropped(picture: SheetPicture, source: Pixels | Image.Image, /) -> bytes:
    """A JPEG of the shown part, without any tag.

    Parameters
    ----------
    picture : SheetPicture
    source : (height, width, 3) uint8 array or image
        The whole upright picture, in any size.
    """
    whole = source if isinstance(source, Image.Image) else Image.fromarray(np.asarray(source))
    f: Box = picture.frame
    x_scale, y_scale = whole.width / picture.size_px[0], whole.height / picture.size_px[1]
    box = (
        round(f.x * x_scale),
        round(f.y * y_scale),
        max(round((f.x + f.width) * x_scale), round(f.x * x_scale) + 1),
        max(round((f.y + f.height) * y_scale), round(f.y * y_scale) + 1),
    )
    part = whole.convert("RGB").crop(box)
    part.thumbnail((MOST_PIXELS, MOST_PIXELS), Image.Resampling.LANCZOS)
    return jpeg_bytes(part)
