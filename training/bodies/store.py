"""A file of rest bodies that can be read without the body model."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from scipy.sparse import csr_matrix

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

VERTICES_PER_METRE = 12000.0
MARKS = ("face", "lips", "ears")
"""Places on the skin that clothes, hair and colours need to know."""


@frozen(kw_only=True, eq=False)
class Rig:
    """What all bodies share: bones, skinning weights, triangles.

    Parameters
    ----------
    bones : tuple of str
    parents : tuple of int
        Index of each bone's parent, −1 for the root. Parents come first.
    weights : (V, J) sparse array
        Share of each bone in each vertex; rows sum to one.
    skin, eyes, hair : (F, 3) int arrays
        Triangles of the skin, the eyeballs, and a fall of long hair.
    marks : dict of (F,) float arrays
        How much each triangle of the skin belongs to each of `MARKS`, 0 … 1.
    """

    bones: tuple[str, ...]
    parents: tuple[int, ...]
    weights: csr_matrix
    skin: Indices
    eyes: Indices
    hair: Indices
    marks: dict[str, Array]


@frozen(kw_only=True, eq=False)
class Bodies:
    """A handful of rest bodies on one rig.

    Model frame: metres, X to the body's left, Y backward, Z up.

    Parameters
    ----------
    rig : Rig
    vertices : (N, V, 3) int16 array, metre × 12000
    heads : (N, J, 3) float32 array, metre
        Where each bone begins.
    heights_m : (N,) array
    genders, ages : (N,) arrays, the body model's dials
    """

    rig: Rig
    vertices: NDArray[np.int16]
    heads: NDArray[np.float32]
    heights_m: Array
    genders: Array
    ages: Array

    def __len__(self) -> int:
        return len(self.vertices)


def save(bodies: Bodies, path: Path) -> None:
    """Write bodies to a compressed ``.npz``."""
    rig = bodies.rig
    weights = csr_matrix(rig.weights)
    np.savez_compressed(
        path,
        allow_pickle=False,
        vertices=bodies.vertices,
        heads=bodies.heads,
        heights_m=bodies.heights_m,
        genders=bodies.genders,
        ages=bodies.ages,
        bones=np.array(rig.bones),
        parents=np.array(rig.parents, dtype=np.int16),
        # finer than the model's own
        weight_values=np.round(weights.data * 60000).astype(np.uint16),
        weight_columns=weights.indices.astype(np.uint8),
        weight_rows=weights.indptr.astype(np.int32),
        **{name: getattr(rig, name).astype(np.uint16) for name in ("skin", "eyes", "hair")},
        **{f"mark_{k}": np.round(v * 255).astype(np.uint8) for k, v in rig.marks.items()},
    )


def load(path: Path) -> Bodies:
    """Read what `save` wrote.

    Raises
    ------
    KeyError
        When the file holds something else.
    """
    with np.load(path, allow_pickle=False) as file:
        return Bodies(
            rig=_rig(file),
            vertices=file["vertices"],
            heads=file["heads"],
            heights_m=file["heights_m"],
            genders=file["genders"],
            ages=file["ages"],
        )


def _rig(file: Any) -> Rig:  # noqa: ANN401 - numpy's file type is private
    shape = (file["vertices"].shape[1], len(file["bones"]))
    values = file["weight_values"].astype(np.float64)
    weights = csr_matrix((values, file["weight_columns"], file["weight_rows"]), shape=shape)
    sums = np.asarray(weights.sum(1)).ravel()
    weights.data /= np.repeat(sums, np.diff(weights.indptr))
    return Rig(
        bones=tuple(str(name) for name in file["bones"]),
        parents=tuple(int(i) for i in file["parents"]),
        weights=weights,
        skin=file["skin"].astype(np.int64),
        eyes=file["eyes"].astype(np.int64),
        hair=file["hair"].astype(np.int64),
        marks={name: file[f"mark_{name}"] / 255.0 for name in MARKS},
    )
