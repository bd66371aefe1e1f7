"""Picture files to sightings: the adapter that the services' picture port asks for."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Final

import numpy as np
from attrs import evolve, frozen

from wellset.equipment.sheet import SHEET_MARKER, Marker
from wellset.errors import SceneError
from wellset.figure.landmarks import BODY_LANDMARKS
from wellset.figure.notes import Note
from wellset.figure.sighting import MarkerSighting, NotSeen, Placement, Sighting, StickSighting
from wellset.figure.still import Choice, StillMoment
from wellset.figure.views import Hand, View
from wellset.services.ports import OpenedPicture, Progress, Seen, SeenPicture, silent
from wellset.vision.clip_files import is_video
from wellset.vision.film import Film, read_film, with_sway
from wellset.vision.film_reading import read_film_frames, sway_mm
from wellset.vision.finding import find
from wellset.vision.general import GeneralModel
from wellset.vision.golfer import turned
from wellset.vision.looks import Look
from wellset.vision.markers import find_markers
from wellset.vision.network import LandmarkNetwork
from wellset.vision.pairing import Candidate, agree_on_hand, settle_views
from wellset.vision.pictures import Picture, read_picture
from wellset.vision.placements import disagreement_note, missing_note, place
from wellset.vision.reading import Reading, read
from wellset.vision.silhouette import Silhouette, silhouette_of
from wellset.vision.sticks import find_sticks
from wellset.vision.values import Array, Pixels

DEFAULT_CROPS: Final = 5
MOST_THREADS: Final = 4
"""More threads than this hardly speed the small network up."""

FEWEST_BODY_POINTS: Final = 19
"""Of 29 body landmarks; with fewer in the picture there is no set-up to speak of."""

SHARE_OF_OPENING: Final = 0.1
SHARE_OF_FINDING: Final = 0.45
"""Where the bar stands after the files are read, and after the golfers are found."""


@frozen(kw_only=True, eq=False)
class LookedAtPicture(SeenPicture):
    """A seen picture with what only this room knows.

    Parameters
    ----------
    silhouette : Silhouette
        The golfer's outline in the sighting's frame.
    turn : float
        Turn of the golfer's chest and hips to the camera, radian; 0 is face-on.
    view_confidence : float
        Probability of the recognised view, 0.5 to 1.
    """

    silhouette: Silhouette
    turn: float
    view_confidence: float


class Reader:
    """Finds golfer, club, ball and sticks in picture files.

    Parameters
    ----------
    crops : int
        Cut-outs read by the landmark network for each picture, 1 to 9.
    threads : int, optional
        Threads of the landmark network; as many as there are processors if left out,
        at most four.
    trust_views : bool
        Whether a picture is used as the view it was given for, even when it looks like
        the other one.
    markers : sequence of Marker
        What is looked for on the ground; the sheet's own marker if left out.
    choices : mapping of path to Choice, optional
        Which set-up of a video is wanted.
    """

    def __init__(
        self,
        *,
        crops: int = DEFAULT_CROPS,
        threads: int | None = None,
        trust_views: bool = False,
        markers: Sequence[Marker] = (SHEET_MARKER,),
        choices: Mapping[str, Choice] | None = None,
    ) -> None:
        self._crops = crops
        self._threads = threads or min(os.cpu_count() or 1, MOST_THREADS)
        self._trust_views = trust_views
        self._markers = tuple(markers)
        self._choices = dict(choices or {})

    @cached_property
    def network(self) -> LandmarkNetwork:
        """The landmark network, loaded when first needed."""
        return LandmarkNetwork(threads=self._threads)

    @cached_property
    def model(self) -> GeneralModel:
        """The general model, loaded when first needed."""
        return GeneralModel()

    def choosing(self, choices: Mapping[str, Choice], /) -> Reader:
        """A reader that wants these set-ups of videos, with the same networks."""
        other = Reader(
            crops=self._crops,
            threads=self._threads,
            trust_views=self._trust_views,
            markers=self._markers,
            choices=choices,
        )
        vars(other).update(network=self.network, model=self.model)
        return other

    def open(self, path: str, /) -> OpenedPicture:
        """Read a file's pixels and facts only; of a video, those of its still moment.

        Raises
        ------
        PictureError
        SceneError
            A video has no still moment at address.
        """
        film = self._film(path) if is_video(path) else None
        picture = read_picture(Path(path)) if film is None else film.picture
        return OpenedPicture(
            facts=picture.facts, rgb=picture.rgb, still=None if film is None else film.moment
        )

    def _film(self, path: str) -> Film:
        choice = self._choices.get(path, Choice())
        return read_film(path, choice=choice, model=self.model, network=self.network)

    def look(
        self,
        paths: Mapping[View, str],
        *,
        hand: Hand | None = None,
        progress: Progress = silent,
    ) -> Seen:
        """Find the golfer, club, ball and sticks in one or two pictures or videos.

        Parameters
        ----------
        paths : mapping of View to file
            One or two pictures by the view they are given for. Two that were exchanged
            are put right, with a note.
        hand : Hand, optional
            Recognised if left out.
        progress : callable
            Told each step in words and the share that is done.

        Returns
        -------
        Seen
            Its pictures are :class:`LookedAtPicture`.

        Raises
        ------
        PictureError
            A file is not a usable picture.
        SceneError
            A picture shows nobody, several people, no address, or the wrong view.
        """
        pictures, films = self._opened(paths, progress=progress)
        found, remarks = self._found(pictures, progress=progress)
        settled, view_notes = settle_views(found, trust=self._trust_views)
        sure, hand_notes = agree_on_hand(settled, hand=hand)
        seen: dict[View, SeenPicture] = {}
        for done, (view, candidate) in enumerate(settled.items()):
            share = (1.0 - SHARE_OF_FINDING) * done / len(settled)
            progress(f"Reading the {view.words} picture", SHARE_OF_FINDING + share)
            given_as = candidate.claimed
            read_so = self._read(
                pictures[given_as],
                film=films.get(given_as),
                candidate=candidate,
                view=view,
                hand=sure,
            )
            seen[view] = evolve(read_so, notes=(*remarks[given_as], *read_so.notes))
        progress("Pictures read", 1.0)
        return Seen(hand=sure, pictures=seen, notes=(*view_notes, *hand_notes))

    def _opened(
        self, paths: Mapping[View, str], *, progress: Progress
    ) -> tuple[dict[View, Picture], dict[View, Film]]:
        """The pictures, and of videos their still moments."""
        pictures: dict[View, Picture] = {}
        films: dict[View, Film] = {}
        for done, (view, path) in enumerate(paths.items()):
            share = SHARE_OF_OPENING * done / len(paths)
            if is_video(path):
                progress(f"Looking for the still moment in {Path(path).name}", share)
                films[view] = self._film(path)
                pictures[view] = films[view].picture
            else:
                progress(f"Opening {Path(path).name}", share)
                pictures[view] = read_picture(Path(path))
        return pictures, films

    def _found(
        self, pictures: dict[View, Picture], *, progress: Progress
    ) -> tuple[dict[View, Candidate], dict[View, tuple[Note, ...]]]:
        """The golfer of each picture, and what there is to say; marks pictures that were cut."""
        found: dict[View, Candidate] = {}
        remarks: dict[View, tuple[Note, ...]] = {}
        for done, (view, picture) in enumerate(list(pictures.items())):
            share = (SHARE_OF_FINDING - SHARE_OF_OPENING) * done / len(pictures)
            name = picture.facts.name
            progress(f"Finding the golfer in {name}", SHARE_OF_OPENING + share)
            each = find(picture.rgb, name=name, model=self.model, network=self.network)
            found[view] = Candidate(name=name, claimed=view, golfer=each.golfer, cleared=each.rgb)
            remarks[view] = (*picture.notes, *each.notes)
            if each.aside:
                pictures[view] = evolve(picture, facts=evolve(picture.facts, was_cut=True))
        return found, remarks

    def _reading(
        self, cleared: Pixels, film: Film | None, *, first: Look, view: View, mirrored: bool
    ) -> Reading:
        """Where the points are, from one picture or from the frames of a film."""
        if film is not None:
            return read_film_frames(
                self.network, film, cleared=cleared, first=first, view=view, mirrored=mirrored
            )
        return read(
            self.network, cleared, first=first, view=view, mirrored=mirrored, crops=self._crops
        )

    def _read(
        self,
        picture: Picture,
        *,
        film: Film | None,
        candidate: Candidate,
        view: View,
        hand: Hand,
    ) -> LookedAtPicture:
        mirrored = hand is Hand.LEFT
        cleared = candidate.cleared if candidate.cleared is not None else picture.rgb
        golfer = turned(candidate.golfer, picture=cleared, mirrored=mirrored, network=self.network)
        reading = self._reading(cleared, film, first=golfer.seen, view=view, mirrored=mirrored)
        facts = picture.facts
        size = {"width_px": facts.width_px, "height_px": facts.height_px}
        silhouette = silhouette_of(golfer.body, **size)
        landmarks = place(
            reading,
            body=golfer.body,
            silhouette=silhouette,
            view=view,
            mirrored=mirrored,
            **size,
        )
        _check_enough(landmarks, name=facts.name)
        silhouette = silhouette.mirrored() if mirrored else silhouette
        notes = [
            missing_note(landmarks, name=facts.name),
            disagreement_note(landmarks, name=facts.name),
        ]
        sticks = _sticks(picture, silhouette=silhouette, landmarks=landmarks, mirrored=mirrored)
        sheets = _markers(picture, markers=self._markers, landmarks=landmarks, mirrored=mirrored)
        return LookedAtPicture(
            sighting=Sighting(
                view=view, picture=facts, landmarks=landmarks, sticks=sticks, markers=sheets
            ),
            rgb=picture.rgb,
            mirrored=mirrored,
            notes=tuple(note for note in notes if note is not None),
            silhouette=silhouette,
            turn=golfer.facing.turn,
            view_confidence=golfer.facing.confidence,
            still=_still(film, reading),
        )


def _still(film: Film | None, reading: Reading) -> StillMoment | None:
    """The still moment with its sway, where the picture is of a video."""
    if film is None:
        return None
    return with_sway(film.moment, sway_mm=sway_mm(reading, mm_per_px=film.mm_per_px))


def _check_enough(landmarks: Mapping[str, Placement], *, name: str) -> None:
    unseen = [each for each in BODY_LANDMARKS if isinstance(landmarks[each], NotSeen)]
    seen = len(BODY_LANDMARKS) - len(unseen)
    if seen >= FEWEST_BODY_POINTS:
        return
    raise SceneError(
        "Too little of the golfer is in the picture",
        why=f"only {seen} of {len(BODY_LANDMARKS)} points of the body can be seen.",
        fix="Step back so that the whole golfer, the club and the ball are in the picture.",
        where=name,
    )


def _sticks(
    picture: Picture,
    *,
    silhouette: Silhouette,
    landmarks: Mapping[str, Placement],
    mirrored: bool,
) -> tuple[StickSighting, ...]:
    """Sticks in the sighting's frame."""
    points: dict[str, Array] = {
        name: place.position_px
        for name, place in landmarks.items()
        if not isinstance(place, NotSeen)
    }
    rgb = np.ascontiguousarray(picture.rgb[:, ::-1]) if mirrored else picture.rgb
    return find_sticks(rgb, person_mask=silhouette.in_picture, landmarks=points)


def _markers(
    picture: Picture,
    *,
    markers: Sequence[Marker],
    landmarks: Mapping[str, Placement],
    mirrored: bool,
) -> tuple[MarkerSighting, ...]:
    """Markers in the sighting's frame; they are read in the picture as taken."""
    width = picture.facts.width_px
    points: dict[str, Array] = {
        name: np.array([width, 0.0]) + place.position_px * [-1.0, 1.0]
        if mirrored
        else place.position_px
        for name, place in landmarks.items()
        if not isinstance(place, NotSeen)
    }
    found = find_markers(picture.rgb, landmarks=points, markers=markers)
    return tuple(each.mirrored(width_px=width) for each in found) if mirrored else found
