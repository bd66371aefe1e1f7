"""Looking for the golfer: among people who stand out, among what might be people, everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from wellset.figure.views import View
from wellset.vision.crops import Box
from wellset.vision.general import GeneralModel
from wellset.vision.golfer import (
    STRANGE_DOUBT,
    SURE,
    Golfer,
    both_ways,
    detection_of,
    meet,
)
from wellset.vision.network import LandmarkNetwork
from wellset.vision.person import clear_people, faint_people, is_person, read_body
from wellset.vision.values import Pixels

SHARES: Final = (0.42, 0.6, 0.8)
STEP: Final = 0.5
MIDDLE: Final = 0.55
WIDTH_OF_GOLFER: Final = 0.4
"""Where the landmark network looks when nobody stands out: heights of the golfer against the
picture, steps across in that height, and middle of the body down the picture. Scenes have
golfers of 0.38 to 0.6 with their middle at 0.48 to 0.6; the network knows one from boxes a
quarter off in size or place."""

MOST_PLACES: Final = 3


def find_golfer(picture: Pixels, *, model: GeneralModel, network: LandmarkNetwork) -> Golfer | None:
    """The likeliest golfer of a picture, or ``None`` where nobody is in sight.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    model : GeneralModel
    network : LandmarkNetwork

    Returns
    -------
    Golfer or None
        Not yet checked for address, side or company.
    """
    best: Golfer | None = None
    for people in (clear_people, faint_people):
        for body in people(picture, model=model):
            tried = meet(picture, body=body, model=model, network=network)
            if tried.is_settled:
                return tried
            if best is None or tried.rank < best.rank:
                best = tried
        if best is not None and best.seen.doubt <= STRANGE_DOUBT:
            break
    if best is not None and (
        best.seen.doubt <= SURE or (best.seen.doubt <= STRANGE_DOUBT and is_person(best.body))
    ):
        return best
    return _searched(picture, model=model, network=network) or best


def _searched(picture: Pixels, *, model: GeneralModel, network: LandmarkNetwork) -> Golfer | None:
    """A golfer at rest whom the general model overlooked, or ``None``."""
    looks = [
        (both_ways(picture, box=box, ways=(False, True), network=network), box)
        for box in _places(*picture.shape[:2])
    ]
    looks.sort(key=lambda each: each[0][0].doubt)
    for (seen, mirrored, _), _ in looks[:MOST_PLACES]:
        body = read_body(picture, model=model, detection=detection_of(seen))
        start = seen.box(View.FACE_ON, mirrored=mirrored)
        tried = meet(picture, body=body, model=model, network=network, start=start)
        if tried.is_settled:
            return tried
    return None


def _places(height: int, width: int) -> Iterator[Box]:
    """Boxes that golfers of several sizes would fill, all over the picture."""
    for share in SHARES:
        tall = share * height
        wide = WIDTH_OF_GOLFER * tall
        steps = max(1, round((width - wide) / (STEP * tall)) + 1)
        across = np.linspace(wide / 2, width - wide / 2, steps) if steps > 1 else [width / 2]
        for x in across:
            middle = MIDDLE * height
            yield Box(
                left=x - wide / 2,
                top=middle - tall / 2,
                right=x + wide / 2,
                bottom=middle + tall / 2,
            )
