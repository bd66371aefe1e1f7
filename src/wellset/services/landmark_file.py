"""The landmarks of a run as a file that a person or another program can correct.

Coordinates are in the upright picture as taken (also for left-handers), in pixels from
the top-left corner.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Final, Literal

import numpy as np
from attrs import evolve, frozen
from pydantic import Field, field_validator, model_validator

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

SCHEMA: Final = "wellset.landmarks/1"
HAND_SD_OF_HEIGHT: Final = 0.0025
"""Spread of a point placed by hand without one, as a share of the picture's height: about
half a centimetre when the golfer fills most of the picture (our judgement)."""


class _Point(Document):
    x_px: float = Field(allow_inf_nan=False)
    y_px: float = Field(allow_inf_nan=False)
    sd_px: float | None = Field(default=None, gt=0, allow_inf_nan=False)
    covariance_px2: tuple[float, float, float] | None = None
    placed_by: Literal["model", "coach"] = "coach"
    disagreement_px: float | None = None
    proposal: _Point | None = None

    @field_validator("covariance_px2")
    @classmethod
    def _positive(cls, value: tuple[float, float, float] | None) -> object:
        if value is not None and not (value[0] > 0 and value[0] * value[2] > value[1] ** 2):
            raise ValueError("must be xx, xy, yy of a positive definite covariance")
        return value


class _Unseen(Document):
    not_seen: str


class _Stick(Document):
    ends_px: tuple[tuple[float, float], tuple[float, float]]
    sd_px: float = Field(default=1.0, gt=0)
    ends_are_tips: bool = False


class _Picture(Document):
    name: str = ""
    width_px: int = Field(gt=0)
    height_px: int = Field(gt=0)
    focal_35mm: float | None = Field(default=None, gt=5, lt=1000)
    sha256: str = ""


class _View(Document):
    picture: _Picture
    landmarks: dict[str, _Point | _Unseen]
    sticks: tuple[_Stick, ...] = ()

    @model_validator(mode="after")
    def _known_and_inside(self) -> _View:
        for name, point in self.landmarks.items():
            if name not in LANDMARKS:
                raise ValueError(f"landmarks.{name} is not a landmark")
            if isinstance(point, _Point):
                margin_x, margin_y = 0.5 * self.picture.width_px, 0.5 * self.picture.height_px
                if not (
                    -margin_x <= point.x_px <= self.picture.width_px + margin_x
                    and -margin_y <= point.y_px <= self.picture.height_px + margin_y
                ):
                    raise ValueError(f"landmarks.{name} lies far outside the picture")
        return self


class _File(Document):
    schema_: Literal["wellset.landmarks/1"] = Field(alias="schema")
    hand: Hand | None = None
    views: dict[View, _View] = Field(min_length=1)


@frozen(kw_only=True, eq=False)
class LandmarkFile:
    """Landmarks given by a file, in the frame the estimate uses (left-handers mirrored)."""

    hand: Hand | None
    sightings: Mapping[View, Sighting]

    def complete(self, view: View) -> bool:
        """Whether the file places, or rules out, every landmark of a view."""
        return view in self.sightings and set(self.sightings[view].landmarks) == set(LANDMARKS)


def _covariance(point: _Point, *, height: int, mirrored: bool) -> np.ndarray:
    if point.covariance_px2 is not None:
        xx, xy, yy = point.covariance_px2
        sign = -1 if mirrored else 1
        return np.array([[xx, sign * xy], [sign * xy, yy]])
    sd = point.sd_px if point.sd_px is not None else HAND_SD_OF_HEIGHT * height
    return np.eye(2) * sd**2


def _placement(point: _Point | _Unseen, *, picture: _Picture, mirrored: bool) -> Placement:
    if isinstance(point, _Unseen):
        return NotSeen(why=point.not_seen)
    x = picture.width_px - point.x_px if mirrored else point.x_px
    covariance = _covariance(point, height=picture.height_px, mirrored=mirrored)
    if point.placed_by == "model":
        return ProposedByModel(
            position_px=(x, point.y_px),
            covariance_px2=covariance,
            disagreement_px=point.disagreement_px,
        )
    proposal = (
        _placement(
            point.proposal.model_copy(update={"placed_by": "model"}),
            picture=picture,
            mirrored=mirrored,
        )
        if point.proposal
        else None
    )
    return PlacedByCoach(
        position_px=(x, point.y_px),
        covariance_px2=covariance,
        proposal=proposal if isinstance(proposal, ProposedByModel) else None,
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
    chosen = hand or file.hand
    mirrored = chosen is Hand.LEFT
    sightings = {
        view: Sighting(
            view=view,
            picture=PictureFacts(**content.picture.model_dump()),
            landmarks={
                name: _placement(point, picture=content.picture, mirrored=mirrored)
                for name, point in content.landmarks.items()
            },
            sticks=tuple(
                mirror_stick(
                    StickSighting(ends_px=s.ends_px, sd_px=s.sd_px, ends_are_tips=s.ends_are_tips),
                    width_px=content.picture.width_px if mirrored else None,
                )
                for s in content.sticks
            ),
        )
        for view, content in file.views.items()
    }
    return LandmarkFile(hand=chosen, sightings=sightings)


def mirror_stick(stick: StickSighting, *, width_px: int | None) -> StickSighting:
    """The stick in the mirrored picture; unchanged when there is no width."""
    if width_px is None:
        return stick
    ends = np.array(stick.ends_px)
    ends[:, 0] = width_px - ends[:, 0]
    return evolve(stick, ends_px=ends)


def merge(given: Sighting, seen: Sighting, /) -> Sighting:
    """Points a person placed win over what the networks saw; sticks given replace theirs."""
    landmarks = dict(seen.landmarks)
    for name, placement in given.landmarks.items():
        if isinstance(placement, ProposedByModel):
            continue
        proposal = seen.landmarks.get(name)
        landmarks[name] = (
            evolve(placement, proposal=proposal)
            if isinstance(placement, PlacedByCoach) and isinstance(proposal, ProposedByModel)
            else placement
        )
    return evolve(seen, landmarks=landmarks, sticks=given.sticks or seen.sticks)


def _point_data(place: Placement, *, width: int | None) -> dict[str, object]:
    if isinstance(place, NotSeen):
        return {"not_seen": place.why}
    x, y = place.position_px
    (xx, xy), (_, yy) = place.covariance_px2
    data: dict[str, object] = {
        "x_px": round(float(width - x if width is not None else x), 2),
        "y_px": round(float(y), 2),
        "covariance_px2": [float(f"{v:.4g}") for v in (xx, -xy if width is not None else xy, yy)],
        "placed_by": "coach" if isinstance(place, PlacedByCoach) else "model",
    }
    if isinstance(place, ProposedByModel) and place.disagreement_px is not None:
        data["disagreement_px"] = round(place.disagreement_px, 2)
    if isinstance(place, PlacedByCoach) and place.proposal is not None:
        data["proposal"] = _point_data(place.proposal, width=width)
    return data


def landmark_file_text(hand: Hand, sightings: Mapping[View, Sighting], /) -> str:
    """The landmarks a run used, as the text of a landmark file."""
    views: dict[str, object] = {}
    for view, s in sightings.items():
        width = s.picture.width_px if hand is Hand.LEFT else None
        views[view.value] = {
            "picture": {
                "name": s.picture.name,
                "width_px": s.picture.width_px,
                "height_px": s.picture.height_px,
                "focal_35mm": s.picture.focal_35mm,
                "sha256": s.picture.sha256,
            },
            "landmarks": {
                name: _point_data(s.landmarks[name], width=width)
                for name in LANDMARKS
                if name in s.landmarks
            },
            "sticks": [
                {
                    "ends_px": np.round(mirror_stick(stick, width_px=width).ends_px, 2).tolist(),
                    "sd_px": round(stick.sd_px, 3),
                    "ends_are_tips": stick.ends_are_tips,
                }
                for stick in s.sticks
            ],
        }
    return json.dumps({"schema": SCHEMA, "hand": hand.value, "views": views}, indent=1) + "\n"
