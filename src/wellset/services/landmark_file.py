"""The landmarks of a run as a file that a person or another program can correct.

Coordinates are in the upright picture as taken (also for left-handers), in pixels from
the top-left corner.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Annotated, Final, Literal, TypeVar

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray
from pydantic import AfterValidator, Discriminator, Field, Tag, field_validator, model_validator

from wellset.errors import InputError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import (
    NotSeen,
    PictureFacts,
    PlacedByCoach,
    Placement,
    ProposedByModel,
    Sighting,
    StickSighting,
)
from wellset.figure.views import Hand, View
from wellset.services.documents import Document, parse_json, validate
from wellset.services.marker_file import MarkerEntry, marker_data

Array = NDArray[np.float64]
_Placed = TypeVar("_Placed", ProposedByModel, PlacedByCoach)

SCHEMA: Final = "wellset.landmarks/1"
HAND_SD_OF_HEIGHT: Final = 0.0025
"""Spread of a point placed by hand without one, as a share of the picture's height: about
half a centimetre when the golfer fills most of the picture (our judgement)."""


def _one_line(value: str) -> str:
    if not value.isprintable():
        raise ValueError("must be one line of readable characters")
    return value


_Number = Annotated[float, Field(allow_inf_nan=False)]
_Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]


class _Point(Document):
    x_px: _Number
    y_px: _Number
    sd_px: _Positive | None = None
    covariance_px2: tuple[_Number, _Number, _Number] | None = None
    placed_by: Literal["model", "coach"] = "coach"
    disagreement_px: _Number | None = None
    proposal: _Point | None = None

    @field_validator("covariance_px2")
    @classmethod
    def _positive(cls, value: tuple[float, float, float] | None) -> object:
        if value is not None and not (value[0] > 0 and value[0] * value[2] > value[1] ** 2):
            raise ValueError("must be xx, xy, yy of a positive definite covariance")
        return value


_Line = Annotated[str, Field(max_length=255), AfterValidator(_one_line)]


class _Unseen(Document):
    not_seen: _Line
    proposal: _Point | None = None


def _which(value: object) -> str:
    return "_unseen" if isinstance(value, dict) and "not_seen" in value else "_point"


_Entry = Annotated[
    Annotated[_Point, Tag("_point")] | Annotated[_Unseen, Tag("_unseen")], Discriminator(_which)
]


def _known(name: str) -> str:
    if name not in LANDMARKS:
        raise ValueError("there is no landmark of this name")
    return name


class _Stick(Document):
    ends_px: tuple[tuple[_Number, _Number], tuple[_Number, _Number]]
    sd_px: _Positive = 1.0
    ends_are_tips: bool = False
    placed_by: Literal["model", "coach"] = "coach"

    @field_validator("ends_px")
    @classmethod
    def _apart(cls, value: tuple[tuple[float, float], ...]) -> object:
        if value[0] == value[1]:
            raise ValueError("must be two different points of the stick")
        return value


class _Picture(Document):
    name: _Line = ""
    width_px: int = Field(gt=0)
    height_px: int = Field(gt=0)
    focal_35mm: float | None = Field(default=None, gt=5, lt=1000)
    sha256: _Line = ""
    was_cut: bool = False


class _View(Document):
    picture: _Picture
    landmarks: dict[Annotated[str, AfterValidator(_known)], _Entry]
    sticks: tuple[_Stick, ...] | None = None
    replaced_sticks: tuple[_Stick, ...] = ()
    markers: tuple[MarkerEntry, ...] | None = None

    @model_validator(mode="after")
    def _inside(self) -> _View:
        width, height = self.picture.width_px, self.picture.height_px
        outside = [
            f"landmarks.{name}"
            for name, point in self.landmarks.items()
            if isinstance(point, _Point)
            and not (
                -0.5 * width <= point.x_px <= 1.5 * width
                and -0.5 * height <= point.y_px <= 1.5 * height
            )
        ]
        if outside:
            raise ValueError(f"far outside the picture: {', '.join(outside)}")
        return self


class _File(Document):
    schema_: Literal["wellset.landmarks/1"] = Field(alias="schema")
    hand: Hand | None = None
    views: dict[View, _View] = Field(min_length=1)


@frozen(kw_only=True, eq=False)
class LandmarkFile:
    """Landmarks given by a file.

    Parameters
    ----------
    hand : Hand or None
        ``None`` when neither the file nor the request names it.
    sightings : mapping of View to Sighting
        In the frame the estimate uses (mirrored for a left-hander); as taken while the
        hand is not known.
    sticks_given : frozenset of View
        Views whose sticks the file gives, be it none at all.
    """

    hand: Hand | None
    sightings: Mapping[View, Sighting]
    sticks_given: frozenset[View] = frozenset()

    def for_hand(self, hand: Hand, /) -> LandmarkFile:
        """The same landmarks once the hand is known; a hand already named stays."""
        if self.hand is not None:
            return self
        left = hand is Hand.LEFT
        turned = {view: mirror(s) if left else s for view, s in self.sightings.items()}
        return evolve(self, hand=hand, sightings=turned)

    def complete(self, view: View) -> bool:
        """Whether the file places, or rules out, every landmark of a view."""
        return view in self.sightings and set(self.sightings[view].landmarks) == set(LANDMARKS)


def mirror(sighting: Sighting, /) -> Sighting:
    """The sighting of the picture mirrored left to right; twice gives it back."""
    width = sighting.picture.width_px
    return evolve(
        sighting,
        landmarks={n: _mirror_place(p, width=width) for n, p in sighting.landmarks.items()},
        sticks=_mirror_sticks(sighting.sticks, width=width),
        replaced_sticks=_mirror_sticks(sighting.replaced_sticks, width=width),
        markers=tuple(marker.mirrored(width_px=width) for marker in sighting.markers),
    )


def _mirror_sticks(sticks: tuple[StickSighting, ...], *, width: int) -> tuple[StickSighting, ...]:
    return tuple(evolve(s, ends_px=_mirror_x(s.ends_px, width=width)) for s in sticks)


def _mirror_x(pixels: Array, *, width: int) -> Array:
    return np.array([width, 0.0]) + pixels * [-1.0, 1.0]


def _mirror_point(point: _Placed, /, *, width: int) -> _Placed:
    return evolve(
        point,
        position_px=_mirror_x(point.position_px, width=width),
        # adding zero turns -0 into 0
        covariance_px2=point.covariance_px2 * [[1.0, -1.0], [-1.0, 1.0]] + 0.0,
    )


def _mirror_place(place: Placement, /, *, width: int) -> Placement:
    if isinstance(place, ProposedByModel):
        return _mirror_point(place, width=width)
    old = place.proposal
    proposal = _mirror_point(old, width=width) if old is not None else None
    kept = evolve(place, proposal=proposal)
    return kept if isinstance(kept, NotSeen) else _mirror_point(kept, width=width)


def _covariance(point: _Point, *, height: int) -> Array:
    if point.covariance_px2 is not None:
        xx, xy, yy = point.covariance_px2
        return np.array([[xx, xy], [xy, yy]])
    sd = point.sd_px if point.sd_px is not None else HAND_SD_OF_HEIGHT * height
    return np.eye(2) * sd**2


def _placement(point: _Point | _Unseen, *, height: int) -> Placement:
    if isinstance(point, _Point) and point.placed_by == "model":
        return _proposed(point, height=height)
    proposal = _proposed(point.proposal, height=height) if point.proposal else None
    if isinstance(point, _Unseen):
        return NotSeen(why=point.not_seen, proposal=proposal)
    return PlacedByCoach(
        position_px=(point.x_px, point.y_px),
        covariance_px2=_covariance(point, height=height),
        proposal=proposal,
    )


def _proposed(point: _Point, *, height: int) -> ProposedByModel:
    return ProposedByModel(
        position_px=(point.x_px, point.y_px),
        covariance_px2=_covariance(point, height=height),
        disagreement_px=point.disagreement_px,
    )


def read_landmarks(text: str, *, where: str, hand: Hand | None = None) -> LandmarkFile:
    """Landmarks from the text of a landmark file.

    Parameters
    ----------
    text : str
    where : str
        The file's name, for messages.
    hand : Hand or None
        Overrides the file's own.

    Raises
    ------
    InputError
        Naming every wrong entry with its path.
    """
    data = parse_json(text, where=where, what="The landmark file")
    file = validate(_File, data, where=where, what="The landmark file")
    if hand is not None and file.hand is not None and hand is not file.hand:
        raise InputError(
            "The landmark file cannot be used",
            why=f"it says the golfer is {file.hand.value}-handed, the request {hand.value}-handed.",
            fix="Correct `hand` in the file, or leave the option out.",
            where=where,
        )
    taken = {view: _sighting(view, content) for view, content in file.views.items()}
    given = frozenset(view for view, content in file.views.items() if content.sticks is not None)
    read = LandmarkFile(hand=None, sightings=taken, sticks_given=given)
    chosen = hand or file.hand
    return read.for_hand(chosen) if chosen is not None else read


def _sighting(view: View, content: _View, /) -> Sighting:
    """One view of the file, in the picture as taken."""
    height = content.picture.height_px
    return Sighting(
        view=view,
        picture=PictureFacts(**content.picture.model_dump()),
        landmarks={n: _placement(point, height=height) for n, point in content.landmarks.items()},
        sticks=tuple(map(_stick, content.sticks or ())),
        replaced_sticks=tuple(map(_stick, content.replaced_sticks)),
        markers=tuple(marker.sighting() for marker in content.markers or ()),
    )


def _stick(stick: _Stick, /) -> StickSighting:
    return StickSighting(
        ends_px=stick.ends_px,
        sd_px=stick.sd_px,
        ends_are_tips=stick.ends_are_tips,
        by_hand=stick.placed_by == "coach",
    )


def merge(given: Sighting, seen: Sighting, /, *, sticks_given: bool) -> Sighting:
    """What a person placed wins over what was found, which is kept beside it.

    Parameters
    ----------
    given, seen : Sighting
        From the file, and from the picture.
    sticks_given : bool
        Whether the file speaks of sticks; those a person placed, or none, then replace
        the found ones.
    """
    landmarks = dict(seen.landmarks)
    for name, placement in given.landmarks.items():
        if isinstance(placement, ProposedByModel):
            continue
        found = seen.landmarks.get(name)
        landmarks[name] = (
            evolve(placement, proposal=found) if isinstance(found, ProposedByModel) else placement
        )
    by_hand = tuple(marker for marker in given.markers if marker.by_hand)
    seen = evolve(seen, markers=by_hand or seen.markers)
    placed = tuple(stick for stick in given.sticks if stick.by_hand)
    if not sticks_given or (given.sticks and not placed):
        return evolve(seen, landmarks=landmarks)
    return evolve(seen, landmarks=landmarks, sticks=placed, replaced_sticks=seen.sticks)


def _point_data(place: Placement, /) -> dict[str, object]:
    if isinstance(place, NotSeen):
        old = place.proposal
        return {"not_seen": place.why} | ({"proposal": _point_data(old)} if old else {})
    x, y = place.position_px
    (xx, xy), (_, yy) = place.covariance_px2
    data: dict[str, object] = {
        "x_px": round(float(x), 2),
        "y_px": round(float(y), 2),
        "covariance_px2": [float(f"{v:.4g}") for v in (xx, xy, yy)],
        "placed_by": "coach" if isinstance(place, PlacedByCoach) else "model",
    }
    if isinstance(place, ProposedByModel) and place.disagreement_px is not None:
        data["disagreement_px"] = round(place.disagreement_px, 2)
    if isinstance(place, PlacedByCoach) and place.proposal is not None:
        data["proposal"] = _point_data(place.proposal)
    return data


def _view_data(sighting: Sighting, /) -> dict[str, object]:
    picture = sighting.picture
    return {
        "picture": {
            "name": picture.name,
            "width_px": picture.width_px,
            "height_px": picture.height_px,
            "focal_35mm": picture.focal_35mm,
            "sha256": picture.sha256,
            "was_cut": picture.was_cut,
        },
        "landmarks": {
            name: _point_data(sighting.landmarks[name])
            for name in LANDMARKS
            if name in sighting.landmarks
        },
        "sticks": [_stick_data(stick) for stick in sighting.sticks],
        **(
            {"replaced_sticks": [_stick_data(stick) for stick in sighting.replaced_sticks]}
            if sighting.replaced_sticks
            else {}
        ),
        **(
            {"markers": [marker_data(marker) for marker in sighting.markers]}
            if sighting.markers
            else {}
        ),
    }


def _stick_data(stick: StickSighting, /) -> dict[str, object]:
    return {
        "ends_px": np.round(stick.ends_px, 2).tolist(),
        "sd_px": round(stick.sd_px, 3),
        "ends_are_tips": stick.ends_are_tips,
        "placed_by": "coach" if stick.by_hand else "model",
    }


def landmark_file_text(hand: Hand, sightings: Mapping[View, Sighting], /) -> str:
    """The landmarks a run used, as the text of a landmark file."""
    left = hand is Hand.LEFT
    views = {view.value: _view_data(mirror(s) if left else s) for view, s in sightings.items()}
    return json.dumps({"schema": SCHEMA, "hand": hand.value, "views": views}, indent=1) + "\n"
