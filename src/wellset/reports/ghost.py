"""A figure as a body seen by a picture's camera: what is near covers what is far.

The same calm body as in the drawings of a plan, rounded limbs, the lead side darker; here
in perspective, as thick as it would be at its distance.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.figure import Figure
from wellset.reports.features import NEAR_M
from wellset.reports.marks import FAR, INK, PINE, Body, Part
from wellset.services.assessment import AssessedPicture

Array = NDArray[np.float64]

_LIMBS: Final = (
    ("hip", "knee", 0.080, 0.058),
    ("knee", "ankle", 0.056, 0.040),
    ("shoulder", "elbow", 0.050, 0.040),
    ("elbow", "wrist", 0.040, 0.030),
)
"""Limbs by their ends, and half how thick they are drawn there, metre (our drawing)."""
_SHOULDER_M: Final = 0.060
_HIP_M: Final = 0.090
_HAND_M: Final = 0.036
_HEAD_M: Final = 0.105
_NECK_M: Final = 0.050
_SHAFT_M: Final = 0.006
_GRIP_M: Final = 0.012
_CLUB_HEAD_M: Final = 0.022
_DIRECTIONS: Final = 36
_TURN: Final = np.linspace(0, 2 * np.pi, _DIRECTIONS, endpoint=False)
_WAYS: Final = np.stack([np.cos(_TURN), np.sin(_TURN)], axis=1)
_ROW: Final = np.arange(_DIRECTIONS)


def round_outline(centres: Array, spreads: Array, /) -> Array:
    """The convex outline round ellipses in a plane, shape (directions, 2).

    The farthest point of an ellipse ``c + L u`` (``u`` of unit length) along a direction ``d``
    is ``c + S d / sqrt(d' S d)`` with ``S = L L'``; the farthest over all ellipses lies on the
    outline, so that going round the directions goes round the outline.

    Parameters
    ----------
    centres : (n, 2) array
    spreads : (n, 2, 2) array
        ``S`` of each ellipse.
    """
    pushed = _WAYS @ spreads  # (n, directions, 2)
    reach = np.sqrt((pushed * _WAYS).sum(axis=2))
    farthest = np.argmax(centres @ _WAYS.T + reach, axis=0)
    outline: Array = centres[farthest] + pushed[farthest, _ROW] / reach[farthest, _ROW][:, None]
    return outline


@frozen(kw_only=True)
class _Ball:
    """A ball of the body: where, and how thick."""

    at: Array
    radius: float


@frozen(kw_only=True)
class _Piece:
    """Balls, and the skin stretched over them."""

    colour: str
    balls: tuple[_Ball, ...]


def body(figure: Figure, picture: AssessedPicture, /) -> Body | None:
    """The body of a figure over a picture; ``None`` when part of it lies at the lens.

    Parameters
    ----------
    figure : Figure
        In the world of the picture's camera.
    picture : AssessedPicture
    """
    camera, pieces = picture.camera, _pieces(figure)
    balls = [ball for piece in pieces for ball in piece.balls]
    centres, sizes = np.array([b.at for b in balls]), np.array([b.radius for b in balls])
    depth = camera.depth(centres)
    if depth.min() < NEAR_M:
        return None
    discs = ((sizes * camera.focal_px / depth) ** 2)[:, None, None] * np.eye(2)
    pixels = camera.project(centres)
    seen: list[tuple[float, Part]] = []
    first = 0
    for piece in pieces:
        own = slice(first, first + len(piece.balls))
        outline = picture.to_picture(round_outline(pixels[own], discs[own]))
        seen.append((float(depth[own].mean()), Part(colour=piece.colour, points_px=outline)))
        first = own.stop
    return Body(parts=tuple(part for _, part in sorted(seen, key=lambda each: -each[0])))


def _pieces(figure: Figure) -> list[_Piece]:
    pieces = [_trunk(figure), *_head(figure), *_club(figure)]
    for side, colour in (("trail", FAR), ("lead", PINE)):
        for first, second, thick, thin in _LIMBS:
            pieces.append(
                _piece(
                    colour,
                    (figure[f"{side}_{first}"], thick),
                    (figure[f"{side}_{second}"], thin),
                )
            )
        wrist = figure[f"{side}_wrist"]
        grip = figure["grip_end"] + _along_grip(figure, wrist)
        pieces.append(_piece(colour, (wrist, 0.9 * _HAND_M), (grip, _HAND_M)))
    return pieces


def _piece(colour: str, *balls: tuple[Array, float]) -> _Piece:
    return _Piece(colour=colour, balls=tuple(_Ball(at=at, radius=radius) for at, radius in balls))


def _along_grip(figure: Figure, wrist: Array) -> Array:
    """From the butt to the place of the grip nearest to a wrist."""
    shaft = figure["shaft_end"] - figure["grip_end"]
    share = float((wrist - figure["grip_end"]) @ shaft / (shaft @ shaft))
    nearest: Array = max(share, 0.03) * shaft
    return nearest


def _trunk(figure: Figure) -> _Piece:
    ends = [(figure[f"{side}_shoulder"], _SHOULDER_M) for side in ("lead", "trail")]
    ends += [(figure[f"{side}_hip"], _HIP_M) for side in ("lead", "trail")]
    return _piece(PINE, *ends, (figure["c7"], _NECK_M))


def _head(figure: Figure) -> Sequence[_Piece]:
    ears = (figure["lead_ear"] + figure["trail_ear"]) / 2
    head = (2 * ears + figure["nose"]) / 3
    return (
        _piece(PINE, (figure["c7"], _NECK_M), (ears, _NECK_M)),
        _piece(PINE, (head, _HEAD_M)),
    )


def _club(figure: Figure) -> Sequence[_Piece]:
    butt, end = figure["grip_end"], figure["shaft_end"]
    return (
        _piece(INK, (butt, _SHAFT_M), (end, _SHAFT_M)),
        _piece(INK, (butt, _GRIP_M), (butt + 0.25 * (end - butt), _GRIP_M)),
        _piece(INK, (end, _CLUB_HEAD_M), (figure["club_head"], _CLUB_HEAD_M)),
    )
