"""Which still moment of a clip is the set-up: at address, the last before a swing.

A still moment counts when the golfer is at address in it. Two that are parted by a waggle only,
when body and hands stay where they are, belong to one set-up, whose last one is measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum
from typing import Final

import numpy as np
from attrs import frozen

from wellset.errors import SceneError
from wellset.vision.camera_motion import camera_motion, corners
from wellset.vision.clips import Samples
from wellset.vision.facing import facing_of
from wellset.vision.golfer import meet
from wellset.vision.network import LandmarkNetwork
from wellset.vision.recognise import HANDS_HIGH, check_address, is_nobody, nobody
from wellset.vision.spans import Span
from wellset.vision.stages import Stages
from wellset.vision.values import Array

LEFT_ADDRESS: Final = 0.1
"""How far head, shoulders, hips or hands are from their place at address, in reaches (about a
metre), when the golfer has left it. Over a waggle and its pauses the general model's points
moved at most 0.03; walking in and swinging, 0.1 to 0.26."""

COMPARED: Final = {"nose": (0,), "shoulders": (11, 12), "hips": (23, 24), "wrists": (15, 16)}
"""Rows of the general model."""

MOST_SPANS: Final = 12
MOST_BETWEEN: Final = 12
"""Still moments that are looked at in a clip, and pictures between two of them: a swing takes
more than a second, so a picture each half second finds one within six seconds."""

CUT_SHORT_S: Final = 2.0
"""A clip that ends within this time of the club's first movement was cut off in the swing."""


START_S: Final = 1.0


class Afterwards(IntEnum):
    """What follows a set-up, the more telling the higher."""

    NOTHING = 0
    LEFT = 1
    CUT_SHORT = 2
    SWING = 3


@frozen(kw_only=True)
class SetUp:
    """A still moment at address and what follows it."""

    span: Span
    afterwards: Afterwards

    @property
    def then_swings(self) -> bool:
        """Whether the club starts back afterwards."""
        return self.afterwards >= Afterwards.CUT_SHORT


@frozen(kw_only=True, eq=False)
class Onlooker:
    """Looks at samples of a clip with both networks, knowing where the golfer is in each."""

    stages: Stages
    network: LandmarkNetwork
    name: str

    @property
    def samples(self) -> Samples:
        """The clip's samples."""
        return self.stages.samples

    def refusal(self, span: Span) -> SceneError | None:
        """Why a still moment shows nobody at address, or ``None`` where it does."""
        row = self.stages.colour_row(span.middle)
        picture = self.samples.colour[self.samples.colour_rows.index(row)]
        body = self.stages.body(row)
        hands = facing_of(body).hands_below
        if hands < HANDS_HIGH:  # needs no look of the landmark network, which takes longer
            return SceneError(
                "The golfer is not at address",
                why=f"the hands are {-100 * hands:.0f} % of the body's height above the hips.",
                fix="Give a clip in which the student stands still over the ball.",
                where=self.name,
            )
        golfer = meet(picture, body=body, model=self.stages.model, network=self.network)
        if is_nobody(golfer):
            return nobody(name=self.name, turned=False)
        try:
            check_address(golfer, name=self.name)
        except SceneError as error:
            return error
        return None

    def between(self, span: Span, *, until: int) -> Afterwards:
        """Whether the golfer leaves the place of a still moment before a later sample."""
        samples = self.samples
        rows = [row for row in samples.colour_rows if span.last < row < until]
        rows = rows[:: max(1, -(-len(rows) // MOST_BETWEEN))]
        stage = self.stages.each[span.middle]
        reference = _points(self.stages.body(self.stages.colour_row(span.middle)).points_px)
        followed = corners(samples.grey[span.last], where=stage.still)
        result = Afterwards.NOTHING
        for row in rows:
            body = self.stages.body(row)
            if facing_of(body).hands_below < HANDS_HIGH:
                return Afterwards.SWING
            camera = camera_motion(
                samples.grey[span.last], samples.grey[row], followed=followed, at_feet=stage.feet
            )
            away = np.hypot(*(_points(camera.back(body.points_px)) - reference).T)
            if away.max() > LEFT_ADDRESS * stage.reach_px:
                result = Afterwards.LEFT
        return result

    def starts_in_a_swing(self) -> bool:
        """Whether the hands are above the hips within the first second."""
        start = self.samples.times_s[0]
        return any(
            facing_of(self.stages.body(row)).hands_below < HANDS_HIGH
            for row in self.samples.colour_rows
            if self.samples.times_s[row] - start <= START_S
        )


def set_ups(spans: Sequence[Span], *, onlooker: Onlooker) -> tuple[SetUp, ...]:
    """The set-ups of a clip in their order.

    Parameters
    ----------
    spans : sequence of Span
        Still moments.
    onlooker : Onlooker

    Raises
    ------
    SceneError
        There is no still moment, or none at address.
    """
    looked = sorted(spans, key=lambda span: span.first - span.last)[:MOST_SPANS]
    refusals = {span: onlooker.refusal(span) for span in sorted(looked, key=lambda s: s.first)}
    at_address = [span for span, why in refusals.items() if why is None]
    if not at_address:
        longest = refusals[looked[0]] if looked else None
        raise _no_set_up(onlooker, longest=looked[0] if looked else None, why=longest)
    found: list[SetUp] = []
    ends = [*(span.first for span in at_address[1:]), onlooker.samples.count]
    for span, until in zip(at_address, ends, strict=True):
        follows = onlooker.between(span, until=until)
        last = until == onlooker.samples.count
        if follows is Afterwards.NOTHING and not last:
            continue  # a waggle: the next still moment is of the same set-up
        if follows < Afterwards.SWING and last:
            follows = max(follows, _cut_short(span, samples=onlooker.samples))
        found.append(SetUp(span=span, afterwards=follows))
    return tuple(found)


def preferred(found: Sequence[SetUp]) -> int:
    """Index of the set-up to measure: the last that a swing follows.

    Practice swings come before the one that counts, and somebody who stands at address after
    the ball has gone doesn't swing.
    """
    best = max(each.afterwards for each in found)
    return max(i for i, each in enumerate(found) if each.afterwards is best)


def _cut_short(span: Span, *, samples: Samples) -> Afterwards:
    left = samples.times_s[-1] - samples.times_s[span.last]
    moves = samples.count - 1 - span.last >= 2
    return Afterwards.CUT_SHORT if moves and left <= CUT_SHORT_S else Afterwards.NOTHING


def _points(points_px: Array) -> Array:
    return np.array([points_px[list(rows)].mean(axis=0) for rows in COMPARED.values()])


def _no_set_up(onlooker: Onlooker, *, longest: Span | None, why: SceneError | None) -> SceneError:
    samples, name = onlooker.samples, onlooker.name
    fix = (
        "Start the recording before the student takes the stance, hold still over the ball for "
        "a second, and let it run on; or give a picture taken at address."
    )
    looked = f"from {samples.times_s[0]:.1f} to {samples.times_s[-1]:.1f} s"
    if samples.broke_off:
        fix = (
            f"The file breaks off after {samples.times_s[-1]:.1f} s: copy it again from the phone."
        )
    if longest is None or why is None:
        swings = onlooker.starts_in_a_swing()
        starts = " The hands are up as it begins: it starts in the swing." if swings else ""
        return SceneError(
            "There is no still moment in the clip",
            why=f"golfer, club or camera move all the time {looked}.{starts}",
            fix=fix,
            where=name,
        )
    start, end = samples.times_s[longest.first], samples.times_s[longest.last]
    return SceneError(
        "The clip shows no still moment at address",
        why=f"looked through {looked}; it stands still longest from {start:.1f} to {end:.1f} s, "
        f"and there: {why.what[0].lower()}{why.what[1:]}, {why.why}",
        fix=fix,
        where=name,
    )
