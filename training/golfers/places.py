"""Places on a body by name: where the labels come from, and where its mass lies."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np
from attrs import frozen

from training.bodies.store import Array, Indices
from training.golfers.bones import foot_bones

if TYPE_CHECKING:
    from training.golfers.figure import Figure

TRUNK = ("spine*", "root", "pelvis*", "neck01", "breast*", "neck02")


@frozen(kw_only=True, eq=False)
class Place:
    """A weighted mean of a few vertices."""

    vertices: Indices
    weights: Array

    def of(self, points: Array) -> Array:
        """(3,) where the place lies among the (V, 3) points."""
        return np.asarray(self.weights @ points[self.vertices], dtype=np.float64)


def _mean(vertices: Indices) -> Place:
    return Place(vertices=vertices, weights=np.full(len(vertices), 1 / len(vertices)))


def find_places(figure: Figure) -> Mapping[str, Place]:
    """All named places of a figure.

    ``C7``, ``T8``, ``T12L1``, ``L3``, ``S1`` on the mid-back, ``sternum``, ``nose``,
    ``head_top``, and with ``.L`` or ``.R``: ``ear``, ``heel``, ``toe``, ``armpit``.
    """
    found = {**_back(figure), **_head(figure)}
    for side, sign in (("L", 1), ("R", -1)):
        found[f"ear.{side}"] = _ear(figure, sign)
        found[f"heel.{side}"], found[f"toe.{side}"] = _foot(figure, side)
        found[f"armpit.{side}"] = _armpit(figure, side)
    return found


def _back(figure: Figure) -> dict[str, Place]:
    """Levels of the spine on the mid-line of the skin."""
    V, N = figure.vertices, figure.normals
    middle = figure.on_skin[np.abs(V[figure.on_skin, 0]) < 2e-3]
    middle = middle[figure.share(*TRUNK)[middle] > 0.5]
    middle = middle[np.argsort(V[middle, 2])]
    above_seat = V[middle, 2] > figure.head("root")[2] - 0.02
    back = middle[(N[middle, 1] > 0.25) & above_seat]
    front = middle[N[middle, 1] < -0.25]
    level = {
        "C7": figure.head("neck01")[2],
        "T8": figure.head("spine01")[2],
        "T12L1": figure.head("spine02")[2],
        "L3": figure.head("spine03")[2],
        "S1": figure.head("spine04")[2] - 0.015 * figure.scale,
    }
    found = {name: _at_height(figure, back, z=z) for name, z in level.items()}
    # mid upper breastbone: a little below the inner ends of the collar-bones
    z = figure.head("clavicle.L")[2] - 0.045 * figure.scale
    return {**found, "sternum": _at_height(figure, front, z=z)}


def _at_height(figure: Figure, line: Indices, *, z: float) -> Place:
    heights = figure.vertices[line, 2]
    k = int(np.clip(np.searchsorted(heights, z), 1, len(line) - 1))
    share = np.clip((z - heights[k - 1]) / (heights[k] - heights[k - 1] + 1e-9), 0, 1)
    return Place(vertices=line[k - 1 : k + 1], weights=np.array([1 - share, share]))


def _head(figure: Figure) -> dict[str, Place]:
    V = figure.vertices
    head = figure.on_skin[figure.share("head")[figure.on_skin] > 0.5]
    face = head[np.abs(V[head, 0]) < 0.03]
    return {
        "nose": _mean(face[[np.argmin(V[face, 1])]]),
        "head_top": _mean(head[[np.argmax(V[head, 2])]]),
    }


def _ear(figure: Figure, sign: int) -> Place:
    """The forty vertices of the head farthest to the side."""
    V = figure.vertices
    half = figure.on_skin[figure.share("head")[figure.on_skin] > 0.5]
    half = half[V[half, 0] * sign > 0]
    return _mean(half[np.argsort(-V[half, 0] * sign, kind="stable")[:40]])


def _foot(figure: Figure, side: str) -> tuple[Place, Place]:
    V = figure.vertices
    foot = figure.on_skin[figure.share(*foot_bones(side))[figure.on_skin] > 0.5]
    height = np.maximum(V[foot, 2] - V[foot, 2].min() - 0.03, 0)
    heel = foot[np.argsort(-V[foot, 1] + 2 * height, kind="stable")[:6]]
    return _mean(heel), _mean(foot[[np.argmin(V[foot, 1])]])


def _armpit(figure: Figure, side: str) -> Place:
    """Where arm and trunk meet underneath: skin that faces down and hangs on both."""
    V, N = figure.vertices, figure.normals
    names = ("upperarm01", "shoulder01", "upperarm02", "clavicle")
    arm = figure.share(*(f"{name}.{side}" for name in names))
    shoulder = figure.head(f"upperarm01.{side}")
    drop = shoulder[2] - V[:, 2]
    usual = (arm > 0.12) & (figure.share("spine*") > 0.05) & (N[:, 2] < -0.35)
    usual &= (drop > 0.01) & (drop < 0.16)
    near = np.intersect1d(np.flatnonzero(usual), figure.on_skin)
    if not len(near):
        wider = (arm > 0.05) & (drop > 0.03) & (drop < 0.16)
        near = np.intersect1d(np.flatnonzero(wider), figure.on_skin)
    score = V[near, 2] - np.abs(V[near, 1] - shoulder[1])
    return _mean(near[np.argsort(-score, kind="stable")[:6]])


@frozen(kw_only=True, eq=False)
class Mass:
    """First moments of the body per bone: its centre of mass is linear in the bones' maps.

    Parameters
    ----------
    share : (J,) array
        Volume that hangs on each bone, over the whole.
    moment : (J, 3) array, metre
        The same, times where it lies at rest.
    """

    share: Array
    moment: Array

    def centre(self, R: Array, shift: Array) -> Array:
        """(3,) centre of mass when bone ``j`` maps x to ``R[j] x + shift[j]``."""
        turned = np.einsum("jab,jb->a", R, self.moment)
        return np.asarray(turned + self.share @ shift, dtype=np.float64)


def mass_of(figure: Figure) -> Mass:
    """The body's mass by bone, taken as of one density.

    The volume is that of the pyramids from one inner point over the triangles of the
    skin; each corner takes a third.
    """
    V, F = figure.vertices, figure.rig.skin
    a, b, c = V[F[:, 0]], V[F[:, 1]], V[F[:, 2]]
    inside = V[figure.on_skin].mean(0)
    volume = np.einsum("ij,ij->i", a - inside, np.cross(b - inside, c - inside))
    share = np.bincount(F.ravel(), np.repeat(volume / volume.sum() / 3, 3), minlength=len(V))
    W = figure.rig.weights
    return Mass(share=W.T @ share, moment=W.T @ (share[:, None] * V))
