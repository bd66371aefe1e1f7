"""The golfer in one picture: both models' first answers, agreed on who and which way round."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen

from wellset.figure.landmarks import INDEX
from wellset.figure.views import View
from wellset.vision.crops import Box, Cutout
from wellset.vision.facing import Facing, facing_of
from wellset.vision.general import ROOM_AROUND, Body, Detection, GeneralModel
from wellset.vision.looks import Look, look
from wellset.vision.network import LandmarkNetwork
from wellset.vision.person import (
    golfer_box,
    read_body,
)
from wellset.vision.reading import lay_cutouts
from wellset.vision.values import Array, Pixels

SURE: Final = -5.0
"""A look with less doubt than this is taken at once. On the scenes golfers at address have
-6.8 to -6.5, at worst -6.0 when grey, dark or heavily compressed; looks at no golfer have
-2 to -4. Real photographs were never measured; they are expected about 1.3 higher."""

STRANGE_DOUBT: Final = -4.6
"""Doubt above which the network does not know what it sees: a spread of 2.3 cut-out pixels,
against 0.3 on scenes. Golfers drawn from behind give -5.6 to -5.1 at best, finished swings
-5.8 to -4.4; other checks catch those."""

AT_REST: Final = 0.6
"""Unrest up to which the network's points are taken at their word: at address 48 scenes give
-0.31 to 0.05, also when grey, dark, blurred or heavily compressed at most 0.65; drawn
golfers up to 45 degrees off square -0.5 to 0.55."""

UNSETTLED: Final = -5.5
"""Above this, or when the look's box differs, the network looks again where it saw the body."""

SAME_BOX: Final = 0.72
"""Overlap of the first guessed box with the look's own box that needs no second look."""

SAME_PLACE: Final = 0.92
"""The same where the network is unsure of the body, or restless: a cut-out laid a little
better may still settle it."""

MOST_LOOKS: Final = 3

SAME_BODY: Final = 0.08
"""Median distance of the two models' points, in golfer heights, beyond which the general
model looked at the wrong place and reads again from the network's points. On the scenes the
models lie 0.02 apart."""

WELL_LAID: Final = 0.22
"""How far the general model's cut-out may be off in size (log ratio) and place (in radii)
before it reads again: cut-outs a third too small misplaced the feet in two of 48 pictures."""

SHARED_POINTS: Final = {
    "nose": (0, 0),
    "shoulder": (11, 12),
    "hip": (23, 24),
    "knee": (25, 26),
    "ankle": (27, 28),
}
"""Points both models have, and their rows in the general one, left and right."""


@frozen(kw_only=True, eq=False)
class Golfer:
    """Who was found, and how the models see them.

    Parameters
    ----------
    body : Body
        The general model's points and outline.
    facing : Facing
        How the body stands to the camera.
    seen : Look
        The landmark network's look the right way round.
    other_way : Look or None
        Its look with the picture the other way round, where both were tried.
    mirrored : bool
        Whether ``seen`` is of the picture mirrored left to right.
    """

    body: Body
    facing: Facing
    seen: Look
    other_way: Look | None
    mirrored: bool

    @property
    def preference(self) -> float:
        """How much surer the network is this way round than the other (log ratio)."""
        if self.other_way is None:
            return 0.0
        return float((self.other_way.log_spread - self.seen.log_spread).mean())

    @property
    def is_settled(self) -> bool:
        """Whether the network surely knows a golfer at rest here."""
        return self.seen.doubt <= SURE and self.seen.unrest <= AT_REST

    @property
    def rank(self) -> tuple[bool, float]:
        """The lower, the likelier this is the golfer meant."""
        return not self.is_settled, self.seen.doubt

    @property
    def box(self) -> Box:
        """The golfer's box as the network sees it, pixels."""
        return self.seen.box(self.facing.view or View.FACE_ON, mirrored=self.mirrored)

    def the_other_way(self) -> Golfer:
        """The same golfer, taken for one of the other hand, where both ways were tried."""
        if self.other_way is None:
            return self
        return evolve(self, seen=self.other_way, other_way=self.seen, mirrored=not self.mirrored)


def meet(
    picture: Pixels,
    *,
    body: Body,
    model: GeneralModel,
    network: LandmarkNetwork,
    looks: int = MOST_LOOKS,
    start: Box | None = None,
) -> Golfer:
    """Look at one person with the landmark network and let the two models agree.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    body : Body
        The person, as the general model sees them.
    model : GeneralModel
    network : LandmarkNetwork
    looks : int
        How often the network may look before it settles.
    start : Box, optional
        Where it looks first, where the general model's body is not to be trusted.
    """
    golfer = _look_at(
        picture, body=body, facing=facing_of(body), network=network, looks=looks, start=start
    )
    there = detection_of(golfer.seen)
    well_laid = _apart(golfer) <= SAME_BODY and _lies_around(body.cutout, there)
    if not well_laid and golfer.seen.doubt <= SURE:
        golfer = _with_body(
            golfer,
            body=read_body(picture, model=model, detection=there),
            picture=picture,
            network=network,
        )
    return _turned_as_seen(golfer, picture=picture, network=network)


def _with_body(golfer: Golfer, *, body: Body, picture: Pixels, network: LandmarkNetwork) -> Golfer:
    """The golfer with a better reading of the general model, looked at anew if it turns."""
    facing = facing_of(body)
    same_way = facing.to_the_right == golfer.facing.to_the_right
    if facing.view is golfer.facing.view and (same_way or facing.view is View.FACE_ON):
        return evolve(golfer, body=body, facing=facing)
    return _look_at(picture, body=body, facing=facing, network=network)


def _turned_as_seen(golfer: Golfer, *, picture: Pixels, network: LandmarkNetwork) -> Golfer:
    """The turn to the camera as the network's points tell it, where it knows the golfer.

    The general model guesses depth from one picture and now and then takes front for
    back; the network's points are sharper, but mean something at address only.
    """
    if golfer.seen.doubt > SURE or golfer.seen.unrest > AT_REST:
        return golfer
    turn = golfer.seen.turn * (-1.0 if golfer.mirrored else 1.0)
    facing = evolve(golfer.facing, turn=turn)
    if facing.view is golfer.facing.view or golfer.other_way is not None:
        return evolve(golfer, facing=facing)
    return _look_at(picture, body=golfer.body, facing=facing, network=network)


def _look_at(
    picture: Pixels,
    *,
    body: Body,
    facing: Facing,
    network: LandmarkNetwork,
    looks: int = MOST_LOOKS,
    start: Box | None = None,
) -> Golfer:
    """A few looks, each laid where the last one saw the body."""
    along = facing.view is View.DOWN_THE_LINE and start is None
    ways = (not facing.to_the_right,) if along else (False, True)
    box = start or golfer_box(body)
    best = both_ways(picture, box=box, ways=ways, network=network)
    for _ in range(looks - 1):
        seen, mirrored = best[0], best[1]
        own = seen.box(facing.view or View.FACE_ON, mirrored=mirrored)
        alike = own.overlap(box)
        settled = seen.doubt <= UNSETTLED and seen.unrest <= AT_REST
        if alike >= (SAME_BOX if settled else SAME_PLACE):
            break
        again = both_ways(picture, box=own, ways=ways, network=network)
        if again[0].doubt > seen.doubt:
            break
        best, box = again, own
    return Golfer(body=body, facing=facing, seen=best[0], other_way=best[2], mirrored=best[1])


def both_ways(
    picture: Pixels, *, box: Box, ways: tuple[bool, ...], network: LandmarkNetwork
) -> tuple[Look, bool, Look | None]:
    """The better of the plain and the mirrored look, whether it is mirrored, the other one."""
    cutouts = [lay_cutouts(box, crops=1, mirrored=way)[0] for way in ways]
    looks = look(network, picture, cutouts=cutouts, height_px=box.height)
    if len(looks) == 1:
        return looks[0], ways[0], None
    totals = [each.log_spread.mean() for each in looks]
    first = int(np.argmin(totals))
    return looks[first], ways[first], looks[1 - first]


def _shared(golfer: Golfer) -> tuple[Array, Array]:
    """The points both models have, network's and general model's, same order."""
    ours: list[Array] = []
    theirs: list[Array] = []
    sides = ("trail", "lead") if golfer.mirrored else ("lead", "trail")
    for stem, rows in SHARED_POINTS.items():
        names = (stem, stem) if stem == "nose" else tuple(f"{side}_{stem}" for side in sides)
        for name, row in zip(names, rows, strict=True):
            ours.append(golfer.seen.points_px[INDEX[name]])
            theirs.append(golfer.body.points_px[row])
    return np.array(ours), np.array(theirs)


def _apart(golfer: Golfer) -> float:
    """Median distance of the two models' points, golfer heights."""
    return float(np.median(_distances(golfer)))


def mean_apart(golfer: Golfer) -> float:
    """Mean distance of the two models' points, golfer heights: it tells of a few points far off."""
    return float(np.mean(_distances(golfer)))


def _distances(golfer: Golfer) -> Array:
    ours, theirs = _shared(golfer)
    return np.asarray(np.hypot(*(ours - theirs).T) / golfer.seen.height_px)


def _lies_around(cutout: Cutout, there: Detection) -> bool:
    """Whether the general model's cut-out lay where the network saw the body."""
    reach = cutout.size / cutout.scale / (2.0 * ROOM_AROUND)
    middle = cutout.to_picture(np.array([[cutout.size / 2.0, cutout.size / 2.0]]))[0]
    moved = float(np.hypot(*(middle - there.hips_px))) / there.reach_px
    return bool(abs(np.log(reach / there.reach_px)) <= WELL_LAID and moved <= WELL_LAID)


def detection_of(seen: Look) -> Detection:
    """Where the general model should look, from the network's points."""
    points = seen.points_px
    hips = points[[INDEX["lead_hip"], INDEX["trail_hip"]]].mean(axis=0)
    chest = points[[INDEX["lead_shoulder"], INDEX["trail_shoulder"]]].mean(axis=0)
    reach = 1.05 * float(np.hypot(*(points[: INDEX["c7"]] - hips).T).max())
    upward = (chest - hips) / np.hypot(*(chest - hips))
    return Detection(
        score=1.0, head=Box.around(points[:5]), hips_px=hips, top_px=hips + upward * reach
    )


def turned(golfer: Golfer, *, picture: Pixels, mirrored: bool, network: LandmarkNetwork) -> Golfer:
    """The same golfer seen the wanted way round, looked at again if need be."""
    if golfer.mirrored == mirrored:
        return golfer
    if golfer.other_way is not None:
        return golfer.the_other_way()
    box = golfer.box
    cutouts = lay_cutouts(box, crops=1, mirrored=mirrored)
    seen = look(network, picture, cutouts=cutouts, height_px=box.height)[0]
    return evolve(golfer, seen=seen, other_way=golfer.seen, mirrored=mirrored)
