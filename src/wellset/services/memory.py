"""What is worked out once for a set-up and holds while its points are moved."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from threading import Lock
from typing import Final, TypeVar, cast

from attrs import define, field

from wellset.figure.sighting import NotSeen, PlacedByCoach, Placement, ProposedByModel, Sighting

KEPT: Final = 12
"""Answers remembered: a few solutions, their judgements, and the plan."""

Answer = TypeVar("Answer")


@define(eq=False)
class Memory:
    """Answers to questions that are asked again, for one student, club, shot and standards.

    A question is told apart by everything its answer follows from, so that an answer out of
    the memory is the answer.
    """

    _answers: OrderedDict[Hashable, object] = field(factory=OrderedDict, init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def once(self, question: Hashable, work: Callable[[], Answer]) -> Answer:
        """The answer, worked out where it isn't remembered."""
        with self._lock:
            if question in self._answers:
                self._answers.move_to_end(question)
                return cast("Answer", self._answers[question])
        answer = work()
        with self._lock:
            self._answers[question] = answer
            while len(self._answers) > KEPT:
                self._answers.popitem(last=False)
        return answer


def told_apart(sightings: Sequence[Sighting], /) -> Hashable:
    """Everything in sightings that a solution follows from."""
    return tuple(
        (
            s.view,
            s.picture,
            tuple((name, _placed(place)) for name, place in s.landmarks.items()),
            tuple((k.ends_px.tobytes(), k.sd_px, k.ends_are_tips, k.by_hand) for k in s.sticks),
            tuple(
                (m.name, m.corners_px.tobytes(), m.covariance_px2.tobytes(), m.side_m, m.side_sd_m)
                for m in s.markers
            ),
        )
        for s in sightings
    )


def _placed(place: Placement) -> Hashable:
    if isinstance(place, NotSeen):
        return (place.why, _proposed(place.proposal))
    own = (place.position_px.tobytes(), place.covariance_px2.tobytes())
    if isinstance(place, PlacedByCoach):
        return ("coach", own, _proposed(place.proposal))
    return (own, place.disagreement_px)


def _proposed(place: ProposedByModel | None) -> Hashable:
    return None if place is None else _placed(place)
