"""Whether this is a golfer at address, which view it is, and which way the golfer plays.

The limits were set on half of the scenes and on golfers drawn in swings and from
other sides, and verified on others; the numbers stand beside each limit.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from attrs import frozen

from wellset.errors import SceneError
from wellset.figure.notes import Note
from wellset.figure.views import Hand, View
from wellset.vision.golfer import AT_REST, STRANGE_DOUBT, Golfer
from wellset.vision.person import is_person

RESTLESS: Final = 1.1
"""Unrest (how much surer the network is of the legs than of arms and club, log ratio) beyond
which a picture is refused. At address at most :data:`~wellset.vision.golfer.AT_REST`, used
with a remark between the two; drawn swings 1.9 to 5.7, early take-aways seen down the line
0.9 to 2.2."""

CLUB_AT_REST: Final = {View.FACE_ON: 0.6, View.DOWN_THE_LINE: 0.15}
"""How much harder the club may be to read than the body (log ratio). At address 48 scenes give
at most 0.3 face-on and -0.2 down the line, grey, dark, blurred or heavily compressed no more
than that but for one in 50. As the club goes away it passes these 0.3 and 0.4 s after the
start in the two clips at hand, the body hardly moved; it then gets a remark, and is refused
once arms and hands look strange."""

HANDS_HIGH: Final = -0.08
HANDS_ASIDE: Final = 0.15
HANDS_OVERHEAD: Final = -0.25
"""Hands from the hips in body heights, down and across. Scenes: -0.02 to 0.13 down, at most
0.06 across seen face-on; half-way back -0.2 to -0.07 down and beyond 0.25 across; top and
finish -0.47 to -0.25 down."""

UPRIGHT_DEG: Final = 18.0
"""Lean of hips to shoulders below which nobody is at address: scenes 36 to 51 degrees down
the line, drawn golfers standing tall 11 to 16 (the network makes them bend a little)."""

ASIDE: Final = 0.15
"""Distance of the golfer's middle from the picture's, across, as a share of the diagonal, beyond
which a picture cut to an ordinary shape cannot be told from a camera turned away. The 48 pictures
of the scenes have at most 0.04. A camera of 26 mm turned by 12 degrees gives 0.13, and its pictures
are measured rightly; cut out of the side of a wide picture, with 0.2 and more, they were measured
wrongly without a word."""

TARGET_SIDE_UNREST: Final = 0.18
"""A golfer facing left is a left-hander seen down the line, or a right-hander seen from the
target's side. Mirrored, the network knows the first (unrest at most 0.05, like any scene)
and half knows the second (0.22 to 0.66 over 14 drawn golfers)."""

PREFERENCE_SCALE: Final = 0.08
UNSURE_PREFERENCE: Final = 0.12
"""Face-on, the network is surer by this log ratio of the way round a golfer really plays:
0.36 to 0.93 on the scenes, 0.26 to 0.93 on drawn golfers up to 30 degrees off square."""


@frozen(kw_only=True)
class HandGuess:
    """Which way the golfer plays, as one picture suggests.

    Parameters
    ----------
    hand : Hand
    confidence : float
        Probability, 0.5 to 1.
    """

    hand: Hand
    confidence: float


def is_nobody(golfer: Golfer) -> bool:
    """Whether what was found is no person after all."""
    return golfer.seen.doubt > STRANGE_DOUBT and not is_person(golfer.body)


def nobody(*, name: str, turned: bool) -> SceneError:
    """The error for a picture without a golfer.

    Parameters
    ----------
    name : str
        The picture's name.
    turned : bool
        Whether somebody stands out once the picture is turned.
    """
    if turned:
        return SceneError(
            "The picture lies on its side or upside down",
            why="a person stands out only once it is turned.",
            fix="Turn it upright and save it, or use the original file from the phone.",
            where=name,
        )
    return SceneError(
        "Nobody was found in the picture",
        why="no person stands out clearly enough, neither in the whole picture nor in parts of it.",
        fix="Take it so that the golfer fills at least a third of the picture's height, in good "
        "light, with nothing in front.",
        where=name,
    )


def check_address(golfer: Golfer, *, name: str) -> tuple[Note, ...]:
    """Refuse a picture that shows no golfer at address; remark on what is doubtful.

    Parameters
    ----------
    golfer : Golfer
        As found.
    name : str
        The picture's name, for messages.

    Returns
    -------
    tuple of Note

    Raises
    ------
    SceneError
        A swing under way, standing upright, or a side the network never saw.
    """
    for refuse in (_behind, _swing, _corner, _upright, _strange):
        refusal = refuse(golfer, name)
        if refusal is not None:
            raise refusal
    return _remarks(golfer, name=name)


def hand_from(golfer: Golfer) -> HandGuess:
    """Which way the golfer plays, from one picture alone.

    Face-on the two mirror images of the picture are compared; down the line the
    golfer faces right or left.
    """
    hand = Hand.LEFT if golfer.mirrored else Hand.RIGHT
    if golfer.facing.view is View.DOWN_THE_LINE:
        if hand is Hand.RIGHT:
            return HandGuess(hand=hand, confidence=0.98)
        known = golfer.seen.unrest <= TARGET_SIDE_UNREST
        return HandGuess(hand=hand, confidence=0.9 if known else 0.5)
    confidence = 1.0 / (1.0 + np.exp(-golfer.preference / PREFERENCE_SCALE))
    return HandGuess(hand=hand, confidence=float(confidence))


def choose_among(golfer: Golfer, rivals: tuple[Golfer, ...], *, name: str) -> Golfer:
    """The golfer among several people of similar size.

    Parameters
    ----------
    golfer : Golfer
        The likeliest one.
    rivals : tuple of Golfer
        The others.
    name : str
        The picture's name, for messages.

    Raises
    ------
    SceneError
        Two or more stand at address.
    """
    standing = [each for each in (golfer, *rivals) if _looks_at_address(each)]
    if len(standing) > 1:
        heights = " and ".join(f"{each.box.height:.0f}" for each in standing[:2])
        raise SceneError(
            "Several people stand over a ball in this picture",
            why=f"{len(standing)} people of similar size look like the golfer ({heights} pixels "
            "tall).",
            fix="Take the picture again with the student alone, or cut the others off.",
            where=name,
        )
    return standing[0] if standing else golfer


def company_note(count: int, *, name: str) -> Note:
    """The remark that others stand in the picture."""
    people = "Another person stands" if count == 1 else f"{count} other people stand"
    return Note(
        code="other_people",
        message=f"{people} in the picture; the one at address over the ball was measured.",
        remedy="Check in the drawing that the right person was taken.",
        where=name,
    )


def is_aside(golfer: Golfer) -> bool:
    """Whether the golfer stands so far from the picture's middle that it may have been cut."""
    width, height = golfer.seen.picture_px
    off = abs(golfer.box.centre[0] - width / 2)
    return bool(off > ASIDE * np.hypot(width, height))


def aside_note(*, name: str) -> Note:
    """The remark that the golfer stands at the picture's side."""
    return Note(
        code="golfer_aside",
        message="The golfer stands far from the middle of the picture. Either the camera was "
        "turned away, or the picture was cut; where its middle was is taken as unknown, and the "
        "ranges allow for that.",
        remedy="Aim the camera at the golfer, and give the uncut picture.",
        where=name,
    )


def _looks_at_address(golfer: Golfer) -> bool:
    return golfer.seen.doubt <= STRANGE_DOUBT and golfer.seen.unrest <= RESTLESS


def _swing(golfer: Golfer, name: str) -> SceneError | None:
    """Hands or club are not where they are at address."""
    facing, unrest = golfer.facing, golfer.seen.unrest
    reasons: list[str] = []
    if facing.hands_below < HANDS_HIGH:
        reasons.append(
            f"the hands are {-100 * facing.hands_below:.0f} % of the body's height above the hips"
        )
    aside = abs(facing.hands_across)
    if facing.view is View.FACE_ON and aside > HANDS_ASIDE:
        reasons.append(f"the hands are {100 * aside:.0f} % of the body's height beside the hips")
    if unrest > RESTLESS:
        reasons.append(
            f"arms and club look {np.exp(unrest):.0f} times less like a golfer at "
            "address than the legs do"
        )
    high = facing.hands_below < HANDS_OVERHEAD
    if unrest <= AT_REST and not high:
        return None
    if unrest <= RESTLESS and not high and not reasons:
        return None
    return SceneError(
        "The golfer is not at address",
        why=f"{_listed(reasons)}.",
        fix="Give a picture of the still moment before the club moves, with hands and club "
        "head down at the ball.",
        where=name,
    )


def _listed(reasons: list[str]) -> str:
    """One, one and another, or one, another and a third."""
    *first, last = reasons
    return f"{', '.join(first)} and {last}" if first else last


def _behind(golfer: Golfer, name: str) -> SceneError | None:
    """The golfer's back is to the camera."""
    facing = golfer.facing
    if not facing.from_behind or facing.hands_below < HANDS_OVERHEAD:
        return None
    return SceneError(
        "The golfer is seen from behind",
        why=f"chest and hips are turned {abs(np.degrees(facing.turn)):.0f} degrees away from the "
        "camera.",
        fix="Stand in front of the chest for the face-on picture, and behind the golfer on "
        "the line of the toes, looking at the target, for the down-the-line picture.",
        where=name,
    )


def _corner(golfer: Golfer, name: str) -> SceneError | None:
    """The camera stood at a corner."""
    if golfer.facing.view is not None:
        return None
    return SceneError(
        "The picture is neither face-on nor down-the-line",
        why=f"chest and hips are turned {abs(np.degrees(golfer.facing.turn)):.0f} degrees to the "
        "camera; 0 is face-on, 90 is down-the-line.",
        fix="Take it square to the chest, or square along the line of the toes.",
        where=name,
    )


def _upright(golfer: Golfer, name: str) -> SceneError | None:
    """The golfer stands tall instead of bending to the ball."""
    along = golfer.facing.view is View.DOWN_THE_LINE
    lean = golfer.seen.bend if along else golfer.facing.bend_to_camera
    degrees = float(np.degrees(lean))
    if degrees >= UPRIGHT_DEG or (not along and golfer.seen.unrest <= AT_REST):
        return None
    return SceneError(
        "The golfer stands upright",
        why=f"hips to shoulders lean only {max(degrees, 0.0):.0f} degrees; at address it is "
        "at least 20.",
        fix="Give a picture taken when the club head rests behind the ball.",
        where=name,
    )


def _strange(golfer: Golfer, name: str) -> SceneError | None:
    """The network does not know what it sees."""
    doubt = golfer.seen.doubt
    if doubt <= STRANGE_DOUBT:
        return None
    return SceneError(
        "The golfer cannot be read in this picture",
        why=f"the points are uncertain by {100 * np.exp(doubt):.1f} % of the golfer's height; "
        "0.1 to 0.5 % is usual. The picture may be taken from an unusual side, be very dark or "
        "blurred, or the golfer may be half hidden.",
        fix="Take it again square to the golfer, in good light, with nothing in between.",
        where=name,
    )


def _remarks(golfer: Golfer, *, name: str) -> tuple[Note, ...]:
    doubtful: tuple[Callable[[Golfer, str], Note | None], ...] = (_oblique, _uneasy)
    return tuple(note for each in doubtful if (note := each(golfer, name)) is not None)


def _oblique(golfer: Golfer, name: str) -> Note | None:
    facing = golfer.facing
    if not facing.is_oblique or facing.view is None:
        return None
    off = abs(np.degrees(facing.turn)) - (0.0 if facing.view is View.FACE_ON else 87.0)
    return Note(
        code="camera_off_square",
        message=f"The camera stood about {abs(off):.0f} degrees off the {facing.view.words} "
        "position.",
        remedy="Stand square to the golfer: in front of the chest, or on the line of the toes.",
        where=name,
    )


def _uneasy(golfer: Golfer, name: str) -> Note | None:
    unrest = golfer.seen.unrest
    view = golfer.facing.view
    club = golfer.seen.club_unrest(view) if view is not None else -np.inf
    if unrest <= AT_REST and view is not None and club > CLUB_AT_REST[view]:
        return Note(
            code="maybe_not_still",
            message="Club head or shaft are harder to read than the body; the club may already be "
            "moving.",
            remedy="Check the club head in the drawing; if it does not rest by the ball, give a "
            "picture taken earlier.",
            where=name,
        )
    if unrest <= AT_REST:
        return None
    return Note(
        code="maybe_not_still",
        message=f"Arms and club are {np.exp(unrest):.1f} times harder to read than the legs; "
        "the club may already be moving, or be hard to see.",
        remedy="Check hands and club head in the drawing, and move the points if needed.",
        where=name,
    )
