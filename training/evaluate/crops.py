"""Cut-outs of a folder of scenes, made by the product's rule from the golfer's outline."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from training.golfers.pool import LANDMARKS
from training.pictures.cameras import CROP, CROP_SHIFT, SIZE
from wellset.vision.crops import Box, reduce_for, square_cutout

VIEWS = ("face_on", "down_the_line")


@frozen(kw_only=True, eq=False)
class Crops:
    """Cut-outs with truth; left-handers are mirrored, as in the product.

    Parameters
    ----------
    pictures : (N, 320, 320, 3) uint8 array
        Red, green, blue.
    points : (N, 37, 2) float array
        True points, pixels of the cut-out; NaN outside it.
    cm_per_px : (N, 37) float array
        Size of a pixel at each point's depth.
    views, names : (N,) str arrays
    at_address : (N,) bool array
        Whether golfer, view and hand are such as the network knows.
    """

    pictures: NDArray[np.uint8]
    points: NDArray[np.float64]
    cm_per_px: NDArray[np.float64]
    views: NDArray[np.str_]
    names: NDArray[np.str_]
    at_address: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.pictures)

    def with_pictures(self, pictures: NDArray[np.uint8]) -> Crops:
        """The same truth under changed pixels."""
        return evolve(self, pictures=pictures)

    def save(self, path: Path) -> None:
        """Write the cut-outs as one ``.npz`` file."""
        fields = ("pictures", "points", "cm_per_px", "views", "names", "at_address")
        np.savez_compressed(path, **{name: getattr(self, name) for name in fields})

    @staticmethod
    def load(path: Path) -> Crops:
        """Read what :meth:`save` wrote."""
        with np.load(path, allow_pickle=False) as file:
            return Crops(**{name: file[name] for name in file.files})


def read_scenes(folder: Path) -> Crops:
    """Cut-outs of every view of every scene in a folder.

    Raises
    ------
    FileNotFoundError
        The folder holds no scene.
    """
    truths = sorted(folder.glob("*/truth.json"))
    made = [
        _crop(path.parent, truth=truth, view=view)
        for path in truths
        for truth in [json.loads(path.read_text(encoding="utf-8"))]
        for view in VIEWS
        if view in truth.get("views", {})
    ]
    if not made:
        raise FileNotFoundError(f"{folder} holds no folder with a truth.json and two views.")
    return _stacked(made)


def _stacked(made: Sequence[Crops]) -> Crops:
    fields = ("pictures", "points", "cm_per_px", "views", "names", "at_address")
    return Crops(
        **{name: np.concatenate([getattr(each, name) for each in made]) for name in fields}
    )


def _crop(folder: Path, *, truth: dict[str, Any], view: str) -> Crops:
    """One view of one scene."""
    seen, left = truth["views"][view], truth["hand"] == "left"
    picture = cv2.cvtColor(_opened(folder / f"{view}.jpg"), cv2.COLOR_BGR2RGB)
    mask = _opened(folder / f"{view}_mask.png")[..., 0]
    names = [_other_side(name) if left else name for name in LANDMARKS]
    points = np.array([seen["landmarks_px"][name] for name in names], dtype=np.float64)
    depth = np.array([seen["depth_m"][name] for name in names])
    if left:
        picture, mask = picture[:, ::-1].copy(), mask[:, ::-1]
        points[:, 0] = seen["width"] - points[:, 0]
    down, across = np.nonzero(mask > 127)
    box = Box(left=across.min(), top=down.min(), right=across.max() + 1, bottom=down.max() + 1)
    middle = tuple(c + shift * box.height for c, shift in zip(box.centre, CROP_SHIFT, strict=True))
    cutout = square_cutout(centre_px=(middle[0], middle[1]), side_px=CROP * box.height, size=SIZE)
    drawn = reduce_for(np.asarray(picture, dtype=np.uint8), cutout=cutout).draw(cutout)
    placed = cutout.to_cutout(points)
    placed[((placed < 0.0) | (placed > SIZE)).any(axis=1)] = np.nan
    return Crops(
        pictures=drawn[None],
        points=placed[None],
        cm_per_px=(100.0 * depth / seen["K"][0][0] / cutout.scale)[None],
        views=np.array([view]),
        names=np.array([truth["name"]]),
        at_address=np.array([True]),
    )


def _opened(path: Path) -> NDArray[np.uint8]:
    """A picture file as blue, green, red.

    Raises
    ------
    FileNotFoundError
        It is not there or no picture.
    """
    opened = cv2.imread(str(path), cv2.IMREAD_COLOR)
    if opened is None:
        raise FileNotFoundError(f"{path} is no picture that can be opened.")
    return np.asarray(opened, dtype=np.uint8)


def _other_side(name: str) -> str:
    if name.endswith("_left"):
        return name.removesuffix("left") + "right"
    if name.endswith("_right"):
        return name.removesuffix("right") + "left"
    return name
