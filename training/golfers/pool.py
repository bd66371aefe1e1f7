"""A pool: a file of a few posed, dressed, labelled golfers.

One ``.npz`` holds ``count`` golfers (six, as a rule). The arrays of golfer ``i``
carry its number at the end of their names:

==========  ================  =====================================================
``V{i}``    int16 (V, 3)      vertices, metres × 8000, world frame
``N{i}``    int8 (V, 3)       vertex normals × 127, pointing out
``F{i}``    int32 (F, 3)      triangles, counter-clockwise seen from outside
``C{i}``    uint8 (F,)        class of each triangle, an index into `CLASSES`
``M{i}``    uint8 (F, 3)      colour of each triangle × 128: multiplied into the colour
                              that the picture gives to the class; for class ``fixed``
                              it *is* the (linear) colour
``L{i}``    float32 (37, 3)   landmarks in metres, world frame, rows as `LANDMARKS`
``hull{i}`` float32 (192, 3)  points of the person's hull, metres: the box in a picture
==========  ================  =====================================================

These names, types and scales have not changed since the first network. New beside
them, one entry per golfer in each:

==============  ==================  ===============================================
``count``       int                 number of golfers in the file (was always six)
``at_address``  bool (n,)           whether this is a golfer at address
``kind``        str (n,)            what the golfer does: ``address``, ``standing``,
                                    ``waggle``, ``top`` …, one of `KINDS`
``hand``        str (n,)            ``right`` or ``left``: the side that the golfer
                                    shown plays from
``club``        str (n,)            kind of club in hand
``garments``    str (n,)            what is worn, `GARMENTS` parted by commas
``known``       bool (n, 37)        whether the landmark exists: with the ball picked
                                    up there is none on the ground. Mask the others.
==============  ==================  ===============================================

World frame: metres; the origin is on the ground under the ball, X toward the target,
Y from the ball to the golfer, Z up (the frame of a right-handed golfer; a left-handed
one from `mirrored` has X away from the target). ``left`` and ``right`` in the names of
landmarks are the golfer's own.

What an older reader must change: read ``count`` instead of six, and mask by ``known``.
The list of classes is the same: a skirt is class ``bottom``, a jacket ``shirt``, a hat
``cap`` and its brim ``brim``, long hair ``hair``.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any, TypeVar

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

CLASSES = (
    "skin", "fixed", "shirt", "shirt2", "bottom", "belt", "shoe", "sole", "hair", "cap",
    "brim", "glove", "sock", "grip", "shaft", "head", "ball", "tee", "brow",
)  # fmt: skip
"""What a triangle can be; its place here is the number in ``C``."""

_SIDED = (
    "eye", "ear", "shoulder", "elbow", "wrist", "hip", "knee", "ankle",
    "shoe_heel", "shoe_toe", "foot_ball", "armpit",
)  # fmt: skip

LANDMARKS = (
    "nose",
    *(f"{name}_{side}" for name in _SIDED for side in ("left", "right")),
    "C7_cloth", "T8_cloth", "T12L1_cloth", "L3_cloth", "S1_cloth", "sternum_cloth",
    "head_top", "grip_mid", "grip_end", "shaft_end", "club_head", "ball",
)  # fmt: skip
"""The 37 points, in the order of the network's outputs."""

KINDS = (
    "address", "standing", "walking", "waggle", "takeaway", "top", "finish",
    "leaning_on_club", "picking_up_ball", "hands_on_hips",
)  # fmt: skip
"""What a golfer of a pool may be doing."""

GARMENTS = (
    "short_sleeves", "long_sleeves", "sleeveless", "jacket", "trousers", "shorts",
    "three_quarter_trousers", "skirt", "dress", "tucked_in", "hanging_out", "loose",
    "cap", "visor", "sun_hat", "wool_hat", "bald", "short_hair", "medium_hair",
    "pony_tail", "long_hair", "bun", "beard", "glove", "two_gloves", "socks", "knee_socks",
)  # fmt: skip
"""What a golfer of a pool may wear."""

VERTICES_PER_METRE = 8000.0
LARGEST_M = 32767 / VERTICES_PER_METRE
"""Vertices farther than this from the origin don't fit the format."""

Scalar = TypeVar("Scalar", bound=np.generic)

_ARRAYS = {
    "V": "vertices", "N": "normals", "F": "faces", "C": "classes",
    "M": "colours", "L": "landmarks_m", "hull": "hull_m",
}  # fmt: skip


def _read_only(value: object, kind: type[Scalar]) -> NDArray[Scalar]:
    array = np.array(value, dtype=kind)
    array.setflags(write=False)
    return array


def _int8(value: object) -> NDArray[np.int8]:
    return _read_only(value, np.int8)


def _int16(value: object) -> NDArray[np.int16]:
    return _read_only(value, np.int16)


def _int32(value: object) -> NDArray[np.int32]:
    return _read_only(value, np.int32)


def _uint8(value: object) -> NDArray[np.uint8]:
    return _read_only(value, np.uint8)


def _float32(value: object) -> NDArray[np.float32]:
    return _read_only(value, np.float32)


def _truth(value: object) -> NDArray[np.bool_]:
    return _read_only(value, np.bool_)


@frozen(kw_only=True, eq=False)
class Golfer:
    """One golfer of a pool, in the file's own numbers (see the module's text).

    Parameters
    ----------
    vertices : (V, 3) int16 array, metre × 8000
    normals : (V, 3) int8 array, × 127
    faces : (F, 3) int32 array
    classes : (F,) uint8 array, indices into `CLASSES`
    colours : (F, 3) uint8 array, × 128
    landmarks_m : (37, 3) float32 array, metre
    hull_m : (192, 3) float32 array, metre
    known : (37,) bool array
    at_address : bool
    kind, hand, club : str
    garments : tuple of str
    """

    vertices: NDArray[np.int16] = field(converter=_int16)
    normals: NDArray[np.int8] = field(converter=_int8)
    faces: NDArray[np.int32] = field(converter=_int32)
    classes: NDArray[np.uint8] = field(converter=_uint8)
    colours: NDArray[np.uint8] = field(converter=_uint8)
    landmarks_m: NDArray[np.float32] = field(converter=_float32)
    hull_m: NDArray[np.float32] = field(converter=_float32)
    known: NDArray[np.bool_] = field(converter=_truth)
    at_address: bool
    kind: str
    hand: str
    club: str
    garments: tuple[str, ...]

    @property
    def vertices_m(self) -> NDArray[np.float64]:
        """(V, 3) vertices in metres."""
        return self.vertices / VERTICES_PER_METRE


def save(golfers: Sequence[Golfer], path: Path) -> None:
    """Write golfers to ``path`` (``.npz``); a reader never sees half a file."""
    arrays: dict[str, NDArray[Any]] = {"count": np.array(len(golfers))}
    for i, golfer in enumerate(golfers):
        arrays |= {f"{key}{i}": getattr(golfer, name) for key, name in _ARRAYS.items()}
    arrays["at_address"] = np.array([g.at_address for g in golfers], dtype=np.bool_)
    arrays["known"] = np.array([g.known for g in golfers]).reshape(-1, len(LANDMARKS))
    for name in ("kind", "hand", "club"):
        arrays[name] = np.array([getattr(g, name) for g in golfers], dtype=np.str_)
    arrays["garments"] = np.array([",".join(g.garments) for g in golfers], dtype=np.str_)
    half = path.with_name(path.name + ".part")
    with half.open("wb") as file:
        np.savez(file, allow_pickle=False, **arrays)
    os.replace(half, path)  # noqa: PTH105 - one step, also over an older file


def load(path: Path) -> list[Golfer]:
    """Read the golfers of one file.

    Raises
    ------
    KeyError
        When the file is no pool.
    """
    with np.load(path, allow_pickle=False) as file:
        return [_golfer(file, i) for i in range(int(file["count"]))]


def _golfer(file: Any, i: int) -> Golfer:  # noqa: ANN401 - numpy's file type is private
    return Golfer(
        **{name: file[f"{key}{i}"] for key, name in _ARRAYS.items()},
        known=file["known"][i],
        at_address=bool(file["at_address"][i]),
        kind=str(file["kind"][i]),
        hand=str(file["hand"][i]),
        club=str(file["club"][i]),
        garments=tuple(str(file["garments"][i]).split(",")),
    )


def mirrored(golfer: Golfer) -> Golfer:
    """The same golfer playing from the other side: X becomes −X, left becomes right.

    Triangles are turned round so that they still face outward. Only a left-handed
    picture that is *not* mirrored back needs this; the network itself sees every golfer
    as a right-hander.
    """
    flip = np.array([-1, 1, 1])
    swapped = [LANDMARKS.index(_other_side(name)) for name in LANDMARKS]
    return evolve(
        golfer,
        vertices=golfer.vertices * flip,
        normals=golfer.normals * flip,
        faces=golfer.faces[:, ::-1],
        landmarks_m=golfer.landmarks_m[swapped] * flip,
        hull_m=golfer.hull_m * flip,
        known=golfer.known[swapped],
        hand="left" if golfer.hand == "right" else "right",
    )


def _other_side(name: str) -> str:
    if name.endswith("_left"):
        return name.removesuffix("left") + "right"
    if name.endswith("_right"):
        return name.removesuffix("right") + "left"
    return name
