"""Where the points come from: pictures, a landmark file, or both."""

from __future__ import annotations

from attrs import evolve

from wellset.errors import InputError
from wellset.figure.sighting import PictureFacts, Sighting
from wellset.figure.views import Hand, View
from wellset.services.landmark_file import LandmarkFile, merge
from wellset.services.ports import PictureReader, Progress, Seen, SeenPicture
from wellset.services.request import Request, hand_of


def see(request: Request, *, reader: PictureReader, progress: Progress) -> Seen:
    """Sightings from the landmark file, the pictures, or both."""
    given = request.landmarks
    if not request.pictures and given is None:
        raise InputError(
            "There is nothing to assess",
            why="neither picture was given.",
            fix="Give --face-on, --down-the-line, or both.",
        )
    if given is None:
        return reader.look(request.pictures, hand=hand_of(request), progress=progress)
    return _see_with_file(request, given, reader=reader, progress=progress)


def _see_with_file(
    request: Request, given: LandmarkFile, /, *, reader: PictureReader, progress: Progress
) -> Seen:
    """Views the file places whole are taken from it; the others are looked at."""
    ready = {view for view in given.sightings if given.complete(view)}
    _check_usable(given, request, ready=ready)
    paths = {view: path for view, path in request.pictures.items() if view not in ready}
    seen = (
        reader.look(paths, hand=hand_of(request), progress=progress)
        if paths
        else Seen(hand=hand_of(request) or Hand.RIGHT, pictures={})
    )
    given = given.for_hand(seen.hand)
    pictures: dict[View, SeenPicture] = {}
    for view in View:
        if view in ready:
            pictures[view] = _given_picture(
                given.sightings[view], request, view=view, hand=seen.hand, reader=reader
            )
        elif view in seen.pictures:
            pictures[view] = _corrected(
                seen.pictures[view],
                given.sightings.get(view),
                sticks_given=view in given.sticks_given,
            )
    return evolve(seen, pictures=pictures)


def _check_usable(given: LandmarkFile, request: Request, /, *, ready: set[View]) -> None:
    missing = [view for view in given.sightings if view not in ready | set(request.pictures)]
    if missing:
        raise InputError(
            "The landmark file cannot be used alone",
            why=f"it places only some of the {missing[0].words} landmarks.",
            fix=f"Give the {missing[0].words} picture too, and the rest is looked for in it.",
        )
    if hand_of(request) is None and set(request.pictures) <= ready:
        raise InputError(
            "The landmark file cannot be used alone",
            why="it does not say whether the golfer plays right- or left-handed.",
            fix='Add "hand": "right" or "left" to it, or give --hand.',
        )


def _corrected(
    picture: SeenPicture, given: Sighting | None, /, *, sticks_given: bool
) -> SeenPicture:
    """What the reader saw, with the points of the file over it."""
    if given is None:
        return picture
    _check_same_picture(given, picture.sighting.picture)
    return evolve(picture, sighting=merge(given, picture.sighting, sticks_given=sticks_given))


def _check_same_picture(given: Sighting, facts: PictureFacts, /) -> None:
    """Pixels of one picture mean nothing in another."""
    size = (facts.width_px, facts.height_px)
    if size != (given.picture.width_px, given.picture.height_px):
        why = (
            f"the file speaks of {given.picture.width_px} x {given.picture.height_px} "
            f"pixels, the picture has {size[0]} x {size[1]}."
        )
    elif given.picture.sha256 and facts.sha256 and given.picture.sha256 != facts.sha256:
        why = f"its {given.view.words} points were placed on another file (`sha256` differs)."
    else:
        return
    raise InputError(
        "The landmark file does not belong to the picture",
        why=why,
        fix="Give the picture the landmarks were placed on; if it was only saved anew, delete "
        "`sha256` in the landmark file.",
        where=facts.name,
    )


def _given_picture(
    sighting: Sighting, request: Request, *, view: View, hand: Hand, reader: PictureReader
) -> SeenPicture:
    """A picture whose landmarks all come from the file; its pixels are only drawn on."""
    path, left = request.pictures.get(view), hand is Hand.LEFT
    if path is None:
        still = request.stills.get(view)
        return SeenPicture(sighting=sighting, rgb=None, mirrored=left, still=still)
    opened = reader.open(path)
    _check_same_picture(sighting, opened.facts)
    facts = evolve(
        opened.facts,
        focal_35mm=opened.facts.focal_35mm or sighting.picture.focal_35mm,
        was_cut=opened.facts.was_cut or sighting.picture.was_cut,
    )
    return SeenPicture(
        sighting=evolve(sighting, picture=facts),
        rgb=opened.rgb,
        mirrored=left,
        still=opened.still,
    )
