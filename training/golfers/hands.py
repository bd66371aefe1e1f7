"""Hands: how one lies on a handle, and how its fingers close."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from attrs import field, frozen

from training.bodies.store import Array
from training.golfers.figure import Figure
from training.golfers.turning import about, between, cross, frame, length, unit

HANDLE_RADIUS_M = 0.0125
GRIP_DIAGONAL = np.radians(36)
"""How far the handle slants from straight across the fingers toward their tips."""

FLESH_M = 0.0125
"""From the line of the knuckle joints to the skin of the palm."""

THUMB_RADIUS_M = 0.009


@frozen(kw_only=True, eq=False)
class Hand:
    """One hand at rest.

    Parameters
    ----------
    side : str
    wrist, centre : (3,) arrays, metre
        The wrist joint, and where the axis of a handle passes through the grip.
    forward, palm : (3,) unit vectors
        From the wrist to the fingers, and out of the palm.
    handle : (3,) unit vector
        Direction of a club's handle in the grip, from its end to the head.
    curl : (3,) unit vector
        About which the fingers close.
    """

    side: str
    wrist: Array = field(repr=False)
    centre: Array = field(repr=False)
    forward: Array = field(repr=False)
    palm: Array = field(repr=False)
    handle: Array = field(repr=False)
    curl: Array = field(repr=False)


@lru_cache(maxsize=8)
def hand_of(figure: Figure, side: str) -> Hand:
    """The hand of a figure at rest."""
    knuckle = {f: figure.head(f"finger{f}-1.{side}") for f in (2, 3, 4, 5)}
    wrist = figure.head(f"wrist.{side}")
    forward = unit((knuckle[3] + knuckle[4]) / 2 - wrist)
    across = knuckle[5] - knuckle[2]  # index to little finger
    across = unit(across - forward * (across @ forward))
    middle = np.mean(list(knuckle.values()), axis=0)
    tips = np.mean([figure.head(f"finger{f}-3.{side}") for f in knuckle], axis=0) - middle
    palm = cross(forward, across)
    palm = palm if palm @ tips > 0 else -palm  # fingers bend a little at rest, palmward
    curl = across if cross(across, forward) @ palm > 0 else -across
    return Hand(
        side=side,
        wrist=wrist,
        centre=middle + palm * (HANDLE_RADIUS_M + FLESH_M) - forward * 0.004,
        forward=forward,
        palm=palm,
        handle=-np.cos(GRIP_DIAGONAL) * across + np.sin(GRIP_DIAGONAL) * forward,
        curl=curl,
    )


def on_handle(hand: Hand, *, at: Array, along: Array, palm: Array) -> tuple[Array, Array]:
    """Where the wrist must be, and the hand's turn, to hold a handle.

    Parameters
    ----------
    hand : Hand
    at : (3,) array, metre
        Point of the handle's axis in the middle of the grip.
    along : (3,) array
        From the handle's end to the head.
    palm : (3,) array
        Where the palm faces.
    """
    R = frame(along, palm) @ frame(hand.handle, hand.palm).T
    return at + R @ (hand.wrist - hand.centre), R


def finger_turns(figure: Figure, hand: Hand, *, ease: float = 1.0) -> dict[str, Array]:
    """Fingers closed round a handle, thumb along it; ``ease`` below one opens them."""
    turns = {}
    for finger in (2, 3, 4, 5):
        # the index finger lies lower on the handle and less closed: a trigger
        looser = 0.85 if finger == 2 else 1.0
        for joint, angle in ((1, 62), (2, 72), (3, 45)):
            bend = np.radians(angle) * ease * looser
            turns[f"finger{finger}-{joint}.{hand.side}"] = about(hand.curl, bend)
    turns[f"finger1-1.{hand.side}"] = _thumb_on_handle(figure, hand)
    return turns


def _thumb_on_handle(figure: Figure, hand: Hand) -> Array:
    """Turn of the thumb's root that lays its tip on the handle, toward the head."""
    root, last = (figure.head(f"finger1-{joint}.{hand.side}") for joint in (1, 3))
    thumb = last - root
    reach = 1.5 * length(thumb)  # the last bone begins at its nail
    nearest = hand.centre + hand.handle * ((root - hand.centre) @ hand.handle)
    out = root - nearest
    beside = HANDLE_RADIUS_M + THUMB_RADIUS_M
    along = np.sqrt(max(reach**2 - (length(out) - beside) ** 2, 0.25 * reach**2))
    tip = nearest + along * hand.handle + beside * unit(out)
    return between(unit(thumb), unit(tip - root))


def relaxed_turns(hand: Hand) -> dict[str, Array]:
    """Fingers as they hang: a little bent, more so toward the little finger."""
    return {
        f"finger{finger}-{joint}.{hand.side}": about(hand.curl, np.radians(angle + 3 * finger))
        for finger in (2, 3, 4, 5)
        for joint, angle in ((1, 8), (2, 14), (3, 8))
    }
