"""The golfers of a pool, on the device, growing while the pool's makers go on."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from functools import cache
from pathlib import Path
from typing import Final
from zipfile import BadZipFile

import numpy as np
import torch
from attrs import frozen
from numpy.typing import NDArray
from torch import Tensor

from training.golfers.pool import CLASSES, LANDMARKS, VERTICES_PER_METRE, Golfer, load, mirrored
from training.pictures.looks import Swell, material_table

ON_CLOTH: Final = tuple(i for i, name in enumerate(LANDMARKS) if name.endswith("_cloth"))
"""Landmarks that move with the cloth."""

READERS: Final = 8

_MESHES: Final[dict[str, type[np.generic]]] = {
    "vertices": np.int16,
    "normals": np.int8,
    "faces": np.int32,
    "classes": np.uint8,
    "colours": np.uint8,
}


@frozen(kw_only=True, eq=False)
class _Read:
    """A golfer with what drawing and labelling need to know beside him.

    Parameters
    ----------
    golfer : training.golfers.pool.Golfer
    vertex_class : (V,) uint8 array
        Class of each vertex: that of a face it belongs to.
    cloth_normal : (6, 3) float32 array
        Normal of the cloth nearest to each landmark on cloth.
    cloth_lower : (6,) bool array
        Whether that is lower cloth.
    """

    golfer: Golfer
    vertex_class: NDArray[np.uint8]
    cloth_normal: NDArray[np.float32]
    cloth_lower: NDArray[np.bool_]


class Stock:
    """Meshes and landmarks of all golfers read so far, as tensors laid end to end.

    Left-handed golfers are turned into right-handed ones: the network knows no others.

    Parameters
    ----------
    device : str
    folder : pathlib.Path
        A pool; :meth:`refresh` reads what has been added to it.
    most : int
        Golfers to keep at most.
    """

    def __init__(self, device: str, *, folder: Path, most: int = 14_000) -> None:
        self.device = device
        self.folder = folder
        self.most = most
        self.largest = (0, 0)
        self._asked: set[Path] = set()
        self._coming: list[Future[list[_Read]]] = []
        self._readers = ThreadPoolExecutor(READERS)
        self._parts: dict[str, Tensor] = {}

    def __len__(self) -> int:
        return len(self._parts["landmarks"]) if self._parts else 0

    def __getitem__(self, name: str) -> Tensor:
        """A tensor over all golfers.

        ``vertices``, ``normals``, ``faces``, ``classes``, ``colours`` and ``vertex_class`` are
        laid end to end; ``spans`` says where each golfer's begin; ``landmarks``, ``known``,
        ``outline``, ``at_address``, ``cloth_normal`` and ``cloth_lower`` have a row a golfer.
        """
        return self._parts[name]

    def refresh(self, *, wait: bool = False) -> int:
        """Take what was read from the pool since the last call, and begin to read what is new.

        Parameters
        ----------
        wait : bool
            Whether to wait for the new files too.

        Returns
        -------
        int
            How many golfers came.
        """
        if len(self) < self.most:
            fresh = sorted(set(self.folder.glob("*.npz")) - self._asked)
            self._asked.update(fresh)
            self._coming += [self._readers.submit(_read, path) for path in fresh]
        ready = [each for each in self._coming if wait or each.done()]
        self._coming = [each for each in self._coming if each not in ready]
        read = [golfer for each in ready for golfer in each.result()]
        if read:
            self._append(read)
        return len(read)

    def _append(self, read: Sequence[_Read]) -> None:
        """Lay new golfers behind those that are there."""
        parts = self._meshes(read) | self._points(read)
        old = self._parts
        self._parts = {
            name: torch.cat([old[name], part]) if old else part for name, part in parts.items()
        }
        spans = self._parts["spans"]
        self.largest = int(spans[:, 1].max()), int(spans[:, 3].max())

    def _meshes(self, read: Sequence[_Read]) -> dict[str, Tensor]:
        golfers = [each.golfer for each in read]
        parts = {
            name: self._send(np.concatenate([getattr(each, name) for each in golfers]), kind)
            for name, kind in _MESHES.items()
        }
        vertex = len(self._parts["vertices"]) if self._parts else 0
        face = len(self._parts["faces"]) if self._parts else 0
        spans = []
        for each in golfers:
            spans.append((vertex, len(each.vertices), face, len(each.faces)))
            vertex, face = vertex + len(each.vertices), face + len(each.faces)
        parts["spans"] = torch.tensor(spans, dtype=torch.int32, device=self.device)
        owners = np.concatenate([each.vertex_class for each in read])
        parts["vertex_class"] = self._send(owners, np.uint8)
        return parts

    def _points(self, read: Sequence[_Read]) -> dict[str, Tensor]:
        golfers = [each.golfer for each in read]
        address = [np.array([each.at_address]) for each in golfers]
        return {
            "landmarks": self._send(np.stack([g.landmarks_m for g in golfers]), np.float32),
            "outline": self._send(np.stack([g.hull_m for g in golfers]), np.float32),
            "known": self._send(np.stack([g.known for g in golfers]), np.bool_),
            "at_address": self._send(np.stack(address), np.bool_),
            "cloth_normal": self._send(np.stack([r.cloth_normal for r in read]), np.float32),
            "cloth_lower": self._send(np.stack([r.cloth_lower for r in read]), np.bool_),
        }

    def _send(self, array: NDArray[np.generic], kind: type[np.generic]) -> Tensor:
        return torch.from_numpy(np.array(array, dtype=kind)).to(self.device)


def _read(path: Path) -> list[_Read]:
    """The golfers of a file, all right-handed; none if the file is broken."""
    try:
        golfers = load(path)
    except (BadZipFile, EOFError, KeyError, OSError, ValueError):
        return []
    return [_prepared(mirrored(each) if each.hand == "left" else each) for each in golfers]


def _prepared(golfer: Golfer) -> _Read:
    owner = np.zeros(len(golfer.vertices), dtype=np.uint8)
    owner[golfer.faces.ravel()] = np.repeat(golfer.classes, 3)
    swells = _swells()[owner]
    cloth = np.flatnonzero(swells != Swell.NONE)
    places = golfer.vertices[cloth].astype(np.float32) / np.float32(VERTICES_PER_METRE)
    points = golfer.landmarks_m[list(ON_CLOTH)]
    nearest = cloth[[int(((places - each) ** 2).sum(axis=1).argmin()) for each in points]]
    return _Read(
        golfer=golfer,
        vertex_class=owner,
        cloth_normal=golfer.normals[nearest].astype(np.float32) / np.float32(127.0),
        cloth_lower=swells[nearest] == Swell.LOWER,
    )


@cache
def _swells() -> NDArray[np.int32]:
    """Swell of each class."""
    swells: NDArray[np.int32] = material_table(CLASSES, device="cpu")[1].numpy()
    return swells
