"""The result of assessing one set-up: what every door shows."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.advise import Advice, BodyLimit, Drill, Finding
from wellset.assess import CameraState, Fit, camera_states
from wellset.body import Build
from wellset.equipment import Club
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.notes import Note
from wellset.figure.sighting import Sighting
from wellset.figure.still import StillMoment
from wellset.figure.views import Hand, View
from wellset.geometry import Camera
from wellset.measures import MeasureResult
from wellset.prescribe import Limits
from wellset.services.corrections import Corrections
from wellset.services.stand_here import StandHere
from wellset.services.weighing import Weighed

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Student:
    """Whose set-up it is: a name to print, hand, build, and what limits a plan.

    Parameters
    ----------
    posture : str
        ``standing``, ``seated`` or ``one-armed``; only a plan asks.
    age : int or None
        Years; only said to judge whether the tables fit, and for drills that ask for balance.
    careful_with : frozenset of BodyLimit
        What the coach says drills must spare.
    """

    name: str = ""
    hand: Hand | None = None
    build: Build
    limits: Limits = field(factory=Limits)
    posture: str = "standing"
    age: int | None = None
    careful_with: frozenset[BodyLimit] = frozenset()


@frozen(kw_only=True, eq=False)
class AssessedPicture:
    """One picture with what was read off it and where the solved figure falls in it.

    Parameters
    ----------
    sighting : Sighting
        What the networks, or a person, saw (mirrored frame for a left-hander).
    camera : Camera
        The estimated camera, in the same frame.
    camera_sd : (10,) array
        Standard uncertainties of its parameters.
    rgb : (height, width, 3) uint8 array or None
        The upright picture as taken, never mirrored; ``None`` when only landmarks were
        given.
    mirrored : bool
    notes : tuple of Note
    still : StillMoment or None
        What was measured of a video; ``None`` for a picture.
    """

    sighting: Sighting
    camera: Camera
    camera_sd: Array
    rgb: NDArray[np.uint8] | None
    mirrored: bool
    notes: tuple[Note, ...] = ()
    still: StillMoment | None = None

    def to_picture(self, pixels: Array, /) -> Array:
        """From the sighting's frame to the picture as taken, shape (..., 2)."""
        if not self.mirrored:
            return np.asarray(pixels)
        flipped = np.array(pixels, dtype=np.float64)
        flipped[..., 0] = self.sighting.picture.width_px - flipped[..., 0]
        return flipped

    def project(self, points_world: Array, /) -> Array:
        """World points as pixels of the picture as taken, shape (N, 2)."""
        return self.to_picture(self.camera.project(points_world))


@frozen(kw_only=True)
class Versions:
    """What produced the numbers, so that a lesson can be recomputed."""

    program: str
    tables: tuple[str, ...]
    standards: str


@frozen(kw_only=True, eq=False)
class Assessment:
    """A judged set-up.

    Parameters
    ----------
    measures : mapping of id to Measured or NotMeasurable
        Every measure of the catalogue, in its order.
    findings : tuple of Finding
        One for each window of the standards, in the order of checking.
    advice : Advice
        What to change first, and the two that stay.
    corrections : Corrections or None
        What a person's corrections changed; ``None`` when nothing was corrected.
    stand : StandHere or None
        Where this student would stand; ``None`` when it was not asked for.
    weighed : Weighed or None
        What a pressure plate said; ``None`` without one.
    drills : mapping of measure id to Drill
        For each finding that is surely outside, the drill that suits this student.
    """

    hand: Hand
    student: Student
    club: Club
    shot: str
    fit: Fit
    pictures: Mapping[View, AssessedPicture]
    measures: Mapping[str, MeasureResult]
    findings: tuple[Finding, ...]
    advice: Advice
    versions: Versions
    notes: tuple[Note, ...] = field(default=())
    corrections: Corrections | None = None
    stand: StandHere | None = None
    weighed: Weighed | None = None
    drills: Mapping[str, Drill] = field(factory=dict)

    @property
    def camera_states(self) -> Mapping[View, CameraState]:
        """How each phone was held, in the frame of the estimate (left-handers mirrored)."""
        return camera_states(self.fit)

    @property
    def points(self) -> Mapping[str, Array]:
        """World position of every landmark, metre (design frame; lead is +x)."""
        return {name: self.fit.figure[name] for name in LANDMARKS}
