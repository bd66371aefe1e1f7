"""A reader of pictures that knows beforehand what they show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import Factory, evolve, field, frozen
from numpy.typing import NDArray

from wellset.errors import PictureError
from wellset.figure.notes import Note
from wellset.figure.sighting import PictureFacts, Sighting
from wellset.figure.still import Choice
from wellset.figure.views import Hand, View
from wellset.services.ports import OpenedPicture, PictureReader, Progress, Seen, SeenPicture

NOTE = Note(code="grey_picture", message="The picture is grey.", remedy="Nothing.")


@frozen(kw_only=True, eq=False)
class Looked:
    """What the reader was asked to look at, and as whose picture."""

    paths: Mapping[View, str]
    hand: Hand | None


@frozen(kw_only=True, eq=False)
class FakeReader:
    """Shows given sightings, whatever the files hold; files are named by their view.

    Parameters
    ----------
    sightings : sequence of Sighting
        In the mirrored frame for a left-hander, as a real reader gives them.
    hand : Hand
        The hand it recognises when nobody says which.
    looked : list of Looked
        Every look it was asked for.
    chosen : list of mapping of path to Choice
        Every choice among the set-ups of videos it was told.
    """

    sightings: Sequence[Sighting]
    hand: Hand = Hand.RIGHT
    looked: list[Looked] = field(default=Factory(list))
    chosen: list[Mapping[str, Choice]] = field(default=Factory(list))

    def choosing(self, choices: Mapping[str, Choice], /) -> FakeReader:
        """The same: it knows no videos; what was wanted is written down."""
        self.chosen.append(dict(choices))
        return self

    def open(self, path: str, /) -> OpenedPicture:
        """A plain picture of the right size."""
        facts = self._seen(View(path.removesuffix(".jpg"))).picture
        return OpenedPicture(facts=facts, rgb=plain(facts))

    def look(self, paths: Mapping[View, str], *, hand: Hand | None, progress: Progress) -> Seen:
        """The sightings of the views asked for."""
        self.looked.append(Looked(paths=dict(paths), hand=hand))
        progress("Reading", 0.5)
        sure = hand or self.hand
        return Seen(
            hand=sure,
            pictures={
                view: SeenPicture(
                    sighting=self._seen(view),
                    rgb=plain(self._seen(view).picture),
                    mirrored=sure is Hand.LEFT,
                    notes=(evolve(NOTE, where=path),),
                )
                for view, path in paths.items()
            },
            notes=(NOTE,),
        )

    def _seen(self, view: View) -> Sighting:
        for sighting in self.sightings:
            if sighting.view is view:
                return sighting
        raise PictureError("No such picture", why="it was never shown.", fix="Show it.")


def plain(facts: PictureFacts) -> NDArray[np.uint8]:
    """Black pixels of a picture's size."""
    return np.zeros((facts.height_px, facts.width_px, 3), dtype=np.uint8)


def as_port(reader: FakeReader) -> PictureReader:
    """The fake as what the use cases ask for: the type checker holds it to the port."""
    return reader
