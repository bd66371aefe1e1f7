"""A kept set-up with everything it is assessed by."""

from __future__ import annotations

import json
from collections.abc import Mapping

from attrs import evolve, frozen

from wellset.advise import DrillBook
from wellset.equipment import Club, find_club
from wellset.errors import InputError
from wellset.figure.still import StillMoment, Stretch
from wellset.figure.views import View
from wellset.lessons import Bag, HowTaken, PlateFile, SetUp, StudentCard, WrittenUnits
from wellset.services.assessment import Student
from wellset.services.book import Pages
from wellset.services.documents import Document, validate
from wellset.services.drills_file import drills_in_force
from wellset.services.landmark_file import LandmarkFile
from wellset.services.media_store import MediaStore
from wellset.services.request import Request
from wellset.services.student_file import make_student
from wellset.services.weighing import PlateText
from wellset.standards import Standards, default_standards, load_standards


@frozen(kw_only=True, eq=False)
class Asked:
    """A kept set-up with everything it is assessed by."""

    setup: SetUp
    student: Student
    club: Club
    standards: Standards
    drills: DrillBook
    inches: bool
    plate: PlateText | None = None

    def request(self, *, paths: Mapping[View, str], landmarks: LandmarkFile | None) -> Request:
        """What to assess: pictures at these paths, points from this file, or both."""
        how = self.setup.how
        return Request(
            pictures=paths,
            student=self.student,
            club=self.club,
            standards=self.standards,
            drills=self.drills,
            shot=self.setup.shot or None,
            hand=self.student.hand,
            landmarks=landmarks,
            ground=how.ground,
            phone_level=how.phone_level,
            plate=self.plate,
            stills=kept_stills(self.setup) if landmarks is not None else {},
        )


def asked_about(
    pages: Pages, setup_id: str, *, media: MediaStore, how: HowTaken | None = None
) -> Asked:
    """A kept set-up with its student, club, plate and the standards in force.

    Parameters
    ----------
    how : HowTaken, optional
        How it was taken, where that is said anew.

    Raises
    ------
    MissingError
        When it is not there, or its plate's file is gone.
    """
    setup = pages.setup(setup_id)
    setup = setup if how is None else evolve(setup, how=how)
    card = pages.student(setup.student)
    return Asked(
        setup=setup,
        student=student_of(card),
        inches=card.units is WrittenUnits.INCHES,
        club=club_used(pages.bag(setup.student), setup.club, how=setup.how),
        standards=standards_in_force(pages),
        drills=drills_in_force(pages),
        plate=plate_text(media, setup.how.plate),
    )


def club_of(bag: Bag, name: str, /) -> Club:
    """The club of this name as it was measured in the bag, or a typical one."""
    return club_used(bag, name, how=HowTaken())


def club_used(bag: Bag, name: str, /, *, how: HowTaken) -> Club:
    """The club of a set-up: what was said of it there, else as in the bag, else typical.

    Raises
    ------
    InputError
        For an unknown name or an absurd number.
    EquipmentError
        For a club that breaks the rules.
    """
    wanted = find_club(name)
    entry = next((each for each in bag.clubs if each.club().name == wanted.name), None)
    if how.club_length_m is None and how.lie is None:
        return entry.club() if entry is not None else wanted
    length = entry.length_m if entry is not None else None
    lie = entry.lie if entry is not None else None
    return find_club(
        wanted.name,
        length=how.club_length_m if how.club_length_m is not None else length,
        lie=how.lie if how.lie is not None else lie,
        head_length=entry.head_length_m if entry is not None else None,
    )


def standards_in_force(pages: Pages, /) -> Standards:
    """The coach's current standards, or the default ones."""
    version = pages.current_standards()
    if version is None:
        return default_standards()
    return load_standards(version.text, where=version.name)


def student_of(card: StudentCard, /) -> Student:
    """The student whose card it is."""
    return make_student(height=None, file_text=card.file, where=card.name)


def plate_text(media: MediaStore, plate: PlateFile | None, /) -> PlateText | None:
    """A kept plate's file to be read; ``None`` without one.

    Raises
    ------
    MissingError
    """
    if plate is None:
        return None
    return plate_of_bytes(media.path(plate.media).read_bytes(), name=plate.name)


def plate_of_bytes(data: bytes, /, *, name: str) -> PlateText:
    """A plate's file from its bytes.

    Raises
    ------
    InputError
        When it holds no text.
    """
    try:
        return PlateText(text=data.decode("utf-8-sig"), where=name)
    except UnicodeDecodeError:
        raise InputError(
            "The pressure plate file cannot be used",
            why="it holds no text (UTF-8).",
            fix="Give a text file, saved as UTF-8.",
            where=name,
        ) from None


class _Stretch(Document):
    start_s: float
    end_s: float

    def stretch(self) -> Stretch:
        return Stretch(start_s=self.start_s, end_s=self.end_s)


class _Still(Document):
    window: _Stretch
    frames_s: tuple[float, ...]
    shown_s: float
    sway_mm: float | None
    shake_mm: float
    set_ups: tuple[_Stretch, ...]
    chosen: int
    swing_follows: bool

    def moment(self) -> StillMoment:
        return StillMoment(
            window=self.window.stretch(),
            frames_s=self.frames_s,
            shown_s=self.shown_s,
            sway_mm=self.sway_mm,
            shake_mm=self.shake_mm,
            set_ups=tuple(each.stretch() for each in self.set_ups),
            chosen=self.chosen,
            then_moves=self.swing_follows,
        )


def kept_stills(setup: SetUp, /) -> Mapping[View, StillMoment]:
    """The still moments of a set-up's clips, as its kept assessment tells them.

    Points that are moved afterwards lie in the same frames.
    """
    if not any(shown.moves for shown in setup.shown.values()):
        return {}  # spares the reading of a long document
    if not setup.assessment:
        return {}
    pictures = json.loads(setup.assessment).get("pictures", {})
    return {
        View(name): validate(
            _Still, part["still"], where=setup.id, what="A kept assessment"
        ).moment()
        for name, part in pictures.items()
        if part.get("still")
    }
