"""What is asked of an assessment."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import field, frozen

from wellset.advise import DrillBook, house_book
from wellset.assess import Setting, body_knowledge, club_knowledge
from wellset.equipment import Club
from wellset.figure.ground import GroundUse
from wellset.figure.still import StillMoment
from wellset.figure.views import Hand, View
from wellset.services.assessment import Student
from wellset.services.landmark_file import LandmarkFile
from wellset.services.weighing import PlateText
from wellset.standards import Standards, shot_for, shot_named


@frozen(kw_only=True, eq=False)
class Request:
    """What a coach asks: pictures, student, club, shot, and by whose standards."""

    pictures: Mapping[View, str]
    student: Student
    club: Club
    standards: Standards
    shot: str | None = None
    hand: Hand | None = None
    landmarks: LandmarkFile | None = None
    rendered_to_real: bool = field(default=True)
    drawn_scene: bool = False
    """Whether the pictures are of a rendered scene, with sticks that point exactly."""
    phone_level: bool = False
    """Whether somebody says that the phones stood level and upright by their own level."""
    drills: DrillBook = field(factory=house_book)
    ground: GroundUse = field(factory=GroundUse)
    plate: PlateText | None = None
    """A pressure plate's file of the same set-up."""
    stills: Mapping[View, StillMoment] = field(factory=dict)
    """When the points of a file that lie in a clip's frame were still, where no clip is given."""


def setting_of(request: Request) -> Setting:
    """Everything about the assessment except the pictures' points."""
    return Setting(
        body=body_knowledge(request.student.build),
        club=club_knowledge(request.club),
        level=request.phone_level,
        drawn=request.drawn_scene,
    )


def shot_of(request: Request, /) -> str:
    """The kind of shot: as asked, or as follows from the club."""
    return shot_named(request.shot) if request.shot is not None else shot_for(request.club.kind)


def hand_of(request: Request, /) -> Hand | None:
    """The hand as somebody says; ``None`` when it is to be recognised."""
    from_file = request.landmarks.hand if request.landmarks is not None else None
    return request.hand or from_file or request.student.hand
