"""Pictures worse, and golfers odder, than anything the network was trained on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

import cv2
import numpy as np
import torch
from numpy.typing import NDArray

from training.evaluate.crops import VIEWS, Crops
from training.pictures.cameras import DOWN_THE_LINE, FACE_ON, REFUSED
from training.pictures.renderer import Renderer
from training.pictures.stock import Stock

Picture = NDArray[np.uint8]
Spoiler = Callable[[Picture, np.random.Generator], Picture]


def _bytes(values: NDArray[np.floating]) -> Picture:
    return np.asarray(np.clip(np.rint(values), 0, 255), dtype=np.uint8)


def _noisy(picture: Picture, rng: np.random.Generator, *, share: float) -> Picture:
    return _bytes(picture + 255.0 * share * rng.standard_normal(picture.shape))


def _compressed(picture: Picture, _: np.random.Generator) -> Picture:
    coded = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, 12])[1]
    return np.asarray(cv2.imdecode(coded, cv2.IMREAD_COLOR), dtype=np.uint8)


def _smeared(picture: Picture, _: np.random.Generator) -> Picture:
    kernel = np.zeros((7, 7))
    kernel[3] = 1.0 / 7.0
    return np.asarray(cv2.filter2D(picture, -1, kernel), dtype=np.uint8)


def _covered(picture: Picture, rng: np.random.Generator) -> Picture:
    spoiled = picture.copy()
    for _box in range(3):
        middle, half = rng.integers(40, 280, 2), rng.integers(8, 26, 2)
        low, high = np.maximum(middle - half, 0), middle + half
        spoiled[low[1] : high[1], low[0] : high[0]] = rng.integers(0, 255, 3)
    return spoiled


SPOILERS: Final[dict[str, Spoiler]] = {
    "as they are": lambda picture, _: picture,
    "blurred, 2 px": lambda picture, _: np.asarray(
        cv2.GaussianBlur(picture, (0, 0), 2.0), dtype=np.uint8
    ),
    "moved, 7 px": _smeared,
    "noise, 10 %": lambda picture, rng: _noisy(picture, rng, share=0.1),
    "JPEG quality 12": _compressed,
    "a fifth of the light": lambda picture, rng: _noisy(_bytes(0.2 * picture), rng, share=0.02),
    "grey": lambda picture, _: _bytes(
        np.broadcast_to(picture.mean(axis=2, keepdims=True), picture.shape)
    ),
    "three boxes in front": _covered,
}
"""What is done to the scenes' pictures."""


def spoiled(crops: Crops, *, how: str, seed: int = 1) -> Crops:
    """The same scenes under one of :data:`SPOILERS`."""
    rng = np.random.default_rng(seed)
    pictures = [SPOILERS[how](picture, rng) for picture in crops.pictures]
    return crops.with_pictures(np.stack(pictures))


DRAWN: Final = {
    "drawn, as trained": (1.0, 1.0),
    "drawn, clothes 2.5 × looser": (2.5, 1.0),
    "drawn, proportions 3 × odder": (1.0, 3.0),
}
"""Looseness of clothes and oddness of proportions, times those of the training."""


def drawn(pool: Path, *, how: str, count: int = 48, seed: int = 5) -> Crops:
    """Fresh pictures of the golfers of a pool that are at address, drawn on the processor.

    Parameters
    ----------
    pool : pathlib.Path
        Golfers the network was not trained on.
    how : str
        One of :data:`DRAWN`.
    count : int
    seed : int
    """
    looser, odder = DRAWN[how]
    views = torch.arange(count) % 2
    return _drawn(pool, views=views, seed=seed, odd={"looser": looser, "odder": odder})


def address_views(pool: Path, *, count: int = 96, seed: int = 9) -> Crops:
    """Golfers at address or not, seen from everywhere: a third from where none can be read."""
    views = torch.arange(count) % 3
    return _drawn(pool, views=views, seed=seed, odd={})


def _drawn(pool: Path, *, views: torch.Tensor, seed: int, odd: dict[str, float]) -> Crops:
    stock = Stock("cpu", folder=pool)
    stock.refresh(wait=True)
    renderer = Renderer(stock, seed=seed, **odd)
    plan = renderer.plan(len(views), views=views)
    pictures = renderer.draw(plan).permute(0, 2, 3, 1).numpy()
    points = plan.points.numpy().astype(np.float64)
    points[~plan.known.numpy() | ~plan.posed.numpy()[:, None]] = np.nan
    names = {FACE_ON: VIEWS[0], DOWN_THE_LINE: VIEWS[1], REFUSED: "refused"}
    return Crops(
        pictures=_bytes(255.0 * pictures.astype(np.float64)),
        points=points,
        cm_per_px=plan.cm_per_px.numpy().astype(np.float64),
        views=np.array([names[int(view)] for view in views]),
        names=np.array([f"drawn_{i:03}" for i in range(len(views))]),
        at_address=plan.at_address.numpy(),
    )
