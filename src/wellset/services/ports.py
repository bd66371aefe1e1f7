"""What the use cases need from the outside world."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.figure.notes import Note
from wellset.figure.sighting import PictureFacts, Sighting
from wellset.figure.still import Choice, StillMoment
from wellset.figure.views import Hand, View

Progress = Callable[[str, float], None]
"""Told what is being done, in words, and the share of the whole that is done (0 to 1)."""


def silent(_step: str, _share: float) -> None:
    """Tell nobody."""


@frozen(kw_only=True, eq=False)
class SeenPicture:
    """One picture after it was looked at.

    Parameters
    ----------
    sighting : Sighting
        Landmarks and sticks in the frame of the mirrored picture for a left-hander, so
        that lead is always on the same side.
    rgb : (height, width, 3) uint8 array or None
        The upright picture as the camera took it, never mirrored; ``None`` when only
        landmarks were given.
    mirrored : bool
        Whether the sighting is in the mirrored frame (x becomes width - x).
    notes : tuple of Note
    still : StillMoment or None
        What was measured of a video; ``None`` for a picture.
    """

    sighting: Sighting
    rgb: NDArray[np.uint8] | None
    mirrored: bool
    notes: tuple[Note, ...] = ()
    still: StillMoment | None = None


@frozen(kw_only=True, eq=False)
class Seen:
    """Both pictures, or one, after they were looked at."""

    hand: Hand
    pictures: Mapping[View, SeenPicture]
    notes: tuple[Note, ...] = field(default=())


@frozen(kw_only=True, eq=False)
class OpenedPicture:
    """A picture file's pixels and facts, nothing looked for in it.

    Of a video, those of the frame shown, and `still` says when that was.
    """

    facts: PictureFacts
    rgb: NDArray[np.uint8]
    still: StillMoment | None = None


class PictureReader(Protocol):
    """Turns picture files into sightings."""

    def choosing(self, choices: Mapping[str, Choice], /) -> PictureReader:
        """A reader that wants these set-ups of videos, by their paths."""

    def open(self, path: str, /) -> OpenedPicture:
        """Read a file's pixels and facts only.

        Raises
        ------
        PictureError
        """

    def look(
        self,
        paths: Mapping[View, str],
        *,
        hand: Hand | None,
        progress: Progress,
    ) -> Seen:
        """Find the golfer, club, ball and sticks in one or two pictures.

        Parameters
        ----------
        paths : mapping of view to file
        hand : Hand or None
            ``None`` to recognise it.

        Raises
        ------
        PictureError
            A file is not a usable picture.
        SceneError
            A picture shows nobody, several people, no address, or the wrong view.
        """
