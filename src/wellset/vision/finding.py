"""The golfer of a picture: found, alone, at address, or refused in words."""

from __future__ import annotations

from attrs import frozen

from wellset.figure.notes import Note
from wellset.vision.crowd import company, freed
from wellset.vision.general import GeneralModel
from wellset.vision.golfer import SURE, Golfer
from wellset.vision.network import LandmarkNetwork
from wellset.vision.person import lies_turned
from wellset.vision.recognise import (
    aside_note,
    check_address,
    choose_among,
    company_note,
    is_aside,
    is_nobody,
    nobody,
)
from wellset.vision.search import find_golfer
from wellset.vision.values import Pixels


@frozen(kw_only=True, eq=False)
class Found:
    """A picture's golfer.

    Parameters
    ----------
    golfer : Golfer
    aside : bool
        Whether the golfer stands far from the picture's middle.
    rgb : (height, width, 3) uint8 array
        The picture with people near the golfer painted over; itself where there are none.
    notes : tuple of Note
    """

    golfer: Golfer
    aside: bool
    rgb: Pixels
    notes: tuple[Note, ...]


def find(picture: Pixels, *, name: str, model: GeneralModel, network: LandmarkNetwork) -> Found:
    """The golfer of one picture, checked to be alone and at address.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    name : str
        The picture's name, for messages.
    model : GeneralModel
    network : LandmarkNetwork

    Raises
    ------
    SceneError
        Nobody, several golfers, no address, or a side that cannot be measured.
    """
    golfer = find_golfer(picture, model=model, network=network)
    if golfer is None or is_nobody(golfer):
        raise nobody(name=name, turned=lies_turned(picture, model=model))
    if golfer.seen.doubt > SURE and golfer.facing.is_lying:
        raise nobody(name=name, turned=True)
    others = company(picture, golfer=golfer, model=model, network=network)
    chosen = choose_among(golfer, others.rivals, name=name)
    people = others.people if chosen is golfer else (golfer.body,)
    chosen, cleared = freed(picture, golfer=chosen, people=people, model=model, network=network)
    notes = check_address(chosen, name=name)
    if others.rivals:
        notes = (*notes, company_note(len(others.rivals), name=name))
    aside = is_aside(chosen)
    if aside:
        notes = (*notes, aside_note(name=name))
    return Found(golfer=chosen, aside=aside, rgb=cleared, notes=notes)
