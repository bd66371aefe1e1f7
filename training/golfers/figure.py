"""One rest body, ready to be posed: bones, weights, and places on the skin by name."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property, lru_cache

import numpy as np
from attrs import field, frozen
from scipy.sparse import csc_matrix

from training.bodies.store import Array, Indices, Rig
from training.golfers.places import Mass, Place, find_places, mass_of
from training.golfers.surface import vertex_normals


@frozen(kw_only=True, eq=False)
class Figure:
    """A rest body in the model frame: X to its left, Y backward, Z up.

    Parameters
    ----------
    rig : Rig
    vertices : (V, 3) array, metre
    heads : (J, 3) array, metre
        Where each bone begins.
    female : bool
    """

    rig: Rig = field(repr=False)
    vertices: Array = field(repr=False)
    heads: Array = field(repr=False)
    female: bool

    @cached_property
    def index(self) -> dict[str, int]:
        """Bone name → number."""
        return {name: i for i, name in enumerate(self.rig.bones)}

    def head(self, bone: str) -> Array:
        """(3,) where a bone begins."""
        return np.asarray(self.heads[self.index[bone]], dtype=np.float64)

    @cached_property
    def on_skin(self) -> Indices:
        """Vertices that the skin uses."""
        return np.unique(self.rig.skin)

    @cached_property
    def floor(self) -> float:
        """Z of the sole of the bare foot, metre."""
        return float(self.vertices[self.on_skin, 2].min())

    @cached_property
    def height_m(self) -> float:
        """Barefoot height."""
        return float(np.ptp(self.vertices[self.on_skin, 2]))

    @cached_property
    def scale(self) -> float:
        """Height over 1.75 m: sizes of clothes and gaps go with it."""
        return self.height_m / 1.75

    @cached_property
    def normals(self) -> Array:
        """(V, 3) unit normals of the skin at rest."""
        return vertex_normals(self.vertices, faces=self.rig.skin)

    def share(self, *names: str) -> Array:
        """(V,) how much of each vertex hangs on the bones named, or named ``start*``."""
        return _share(self.rig, names)

    @cached_property
    def places(self) -> Mapping[str, Place]:
        """Named places of the skin as means of vertices."""
        return find_places(self)

    @cached_property
    def mass(self) -> Mass:
        """What the centre of mass needs."""
        return mass_of(self)


@lru_cache(maxsize=256)
def _share(rig: Rig, names: tuple[str, ...]) -> Array:
    def meant(bone: str) -> bool:
        return any(bone == n or (n.endswith("*") and bone.startswith(n[:-1])) for n in names)

    columns = [i for i, bone in enumerate(rig.bones) if meant(bone)]
    total = np.asarray(_by_column(rig)[:, columns].sum(1)).ravel()
    total.setflags(write=False)
    return total


@lru_cache(maxsize=4)
def _by_column(rig: Rig) -> csc_matrix:
    return csc_matrix(rig.weights)


def blend(figure: Figure, *, A: Array, heads: Array) -> Array:
    """Linear blend skinning: each vertex moves with its bones' affine maps, by weight.

    Parameters
    ----------
    figure : Figure
    A : (J, 3, 3) array
        What each bone does to directions.
    heads : (J, 3) array
        Where each bone begins afterwards.
    """
    shift = heads - np.einsum("jab,jb->ja", A, figure.heads)
    M = figure.rig.weights @ np.concatenate([A.reshape(len(A), 9), shift], axis=1)
    out = np.einsum("vab,vb->va", M[:, :9].reshape(-1, 3, 3), figure.vertices) + M[:, 9:]
    return np.asarray(out, dtype=np.float64)
