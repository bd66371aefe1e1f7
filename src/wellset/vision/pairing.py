"""Two pictures of one set-up: which is which, and which way the golfer plays."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen

from wellset.errors import SceneError
from wellset.figure.notes import Note
from wellset.figure.views import Hand, View
from wellset.vision.golfer import Golfer
from wellset.vision.recognise import UNSURE_PREFERENCE, hand_from
from wellset.vision.values import Pixels

CERTAIN: Final = 0.9
"""Confidence from which a recognised view contradicts the one named by the caller."""


@frozen(kw_only=True, eq=False)
class Candidate:
    """One picture's golfer with the picture's name and the view the caller named.

    Parameters
    ----------
    name : str
    claimed : View
    golfer : Golfer
    cleared : (height, width, 3) uint8 array or None
        The picture with other people painted over, where it differs.
    """

    name: str
    claimed: View
    golfer: Golfer
    cleared: Pixels | None = None

    @property
    def recognised(self) -> View:
        """The view as the body's turn says."""
        return self.golfer.facing.view or self.claimed


def settle_views(
    pictures: Mapping[View, Candidate], *, trust: bool = False
) -> tuple[Mapping[View, Candidate], tuple[Note, ...]]:
    """Refuse pictures that show another view than named; exchange two that are swapped.

    Parameters
    ----------
    pictures : mapping of View to Candidate
        By the view the caller named.
    trust : bool
        Whether the caller's word goes: a contradiction is then only remarked on.

    Returns
    -------
    pictures : mapping of View to Candidate
        By the view they show.
    notes : tuple of Note

    Raises
    ------
    SceneError
        Both pictures are from the same side, or the only one is of the other view.
    """
    wrong = [
        each
        for each in pictures.values()
        if each.recognised is not each.claimed and each.golfer.facing.confidence >= CERTAIN
    ]
    if not wrong:
        return pictures, ()
    if trust:
        return pictures, tuple(_contradiction(each) for each in wrong)
    if len(wrong) == 2:
        exchanged = {each.recognised: each for each in wrong}
        return exchanged, (_exchanged(wrong),)
    if len(pictures) == 2 and len(wrong) == 1:
        names = " and ".join(each.name for each in pictures.values())
        seen = wrong[0].recognised.words
        missing = wrong[0].claimed.words
        raise SceneError(
            "Both pictures are from the same side",
            why=f"{names} both look {seen} (turned {_turns(pictures)} degrees to the camera; 0 is "
            "face-on, 90 down-the-line).",
            fix=f"Give a {missing} picture in place of {wrong[0].name}.",
            where=wrong[0].name,
        )
    raise SceneError(
        f"The picture is not {wrong[0].claimed.words}",
        why=f"it looks {wrong[0].recognised.words}: the golfer is turned {_turns(pictures)} "
        "degrees to the camera (0 is face-on, 90 down-the-line).",
        fix=f"Give it as the {wrong[0].recognised.words} picture.",
        where=wrong[0].name,
    )


def agree_on_hand(
    pictures: Mapping[View, Candidate], *, hand: Hand | None
) -> tuple[Hand, tuple[Note, ...]]:
    """Right- or left-handed, from all pictures together.

    A face-on picture decides; a down-the-line picture must then face the fitting way,
    or it was taken from the target's side.

    Parameters
    ----------
    pictures : mapping of View to Candidate
    hand : Hand or None
        What the caller says; it wins.

    Returns
    -------
    hand : Hand
    notes : tuple of Note

    Raises
    ------
    SceneError
        The down-the-line picture is taken from the target's side, or nothing tells.
    """
    front, along = pictures.get(View.FACE_ON), pictures.get(View.DOWN_THE_LINE)
    notes: tuple[Note, ...] = ()
    decided = hand
    if front is not None:
        guess = hand_from(front.golfer)
        if decided is None and front.golfer.preference >= UNSURE_PREFERENCE:
            decided = guess.hand
        elif decided is not None and decided is not guess.hand and guess.confidence >= CERTAIN:
            notes = (_other_hand(front, hand=decided),)
    if along is None:
        return _or_unknown(decided, front), notes
    guess = hand_from(along.golfer)
    if decided is None:
        if guess.confidence < CERTAIN and front is None:
            raise _ambiguous(along)
        return guess.hand, notes
    if guess.hand is not decided:
        raise _target_side(along, hand=decided)
    return decided, notes


def _turns(pictures: Mapping[View, Candidate]) -> str:
    return " and ".join(
        f"{np.degrees(abs(each.golfer.facing.turn)):.0f}" for each in pictures.values()
    )


def _exchanged(pictures: list[Candidate]) -> Note:
    first, second = pictures
    return Note(
        code="views_exchanged",
        message=f"The pictures were given the wrong way round: {first.name} is "
        f"{first.recognised.words} and {second.name} {second.recognised.words}. They are used so.",
        remedy="Nothing, if that is right.",
        where=first.name,
    )


def _contradiction(picture: Candidate) -> Note:
    return Note(
        code="view_contradicted",
        message=f"The picture looks {picture.recognised.words} but was given as "
        f"{picture.claimed.words}; it is used as given.",
        remedy="Check which picture is which.",
        where=picture.name,
    )


def _other_hand(picture: Candidate, *, hand: Hand) -> Note:
    other = Hand.LEFT if hand is Hand.RIGHT else Hand.RIGHT
    return Note(
        code="hand_contradicted",
        message=f"The golfer looks {other.value}-handed but was given as {hand.value}-handed; "
        "it is used as given.",
        remedy="Check the hand, and that the picture is not a mirror image.",
        where=picture.name,
    )


def _or_unknown(hand: Hand | None, front: Candidate | None) -> Hand:
    if hand is not None:
        return hand
    raise SceneError(
        "The picture does not tell whether the golfer plays right- or left-handed",
        why="both ways round it looks almost equally like a golfer at address.",
        fix="Say which hand the golfer plays with, right or left.",
        where=front.name if front is not None else "",
    )


def _ambiguous(picture: Candidate) -> SceneError:
    return SceneError(
        "The picture does not tell a left-hander from a picture taken on the target's side",
        why="the golfer faces the left of the picture, and no face-on picture was given.",
        fix="Say that the hand is left if the golfer plays left-handed; otherwise take the picture "
        "from behind the golfer, looking at the target.",
        where=picture.name,
    )


def _target_side(picture: Candidate, *, hand: Hand) -> SceneError:
    faces = "left" if hand is Hand.RIGHT else "right"
    return SceneError(
        "The down-the-line picture was taken from the target's side",
        why=f"a {hand.value}-handed golfer seen from behind, looking at the target, does not face "
        f"the {faces} of the picture, and this one does.",
        fix="Stand behind the golfer on the line of the toes and look at the target; or say that "
        f"the hand is {faces} if the golfer plays {faces}-handed.",
        where=picture.name,
    )
