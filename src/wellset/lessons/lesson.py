"""A lesson: set-ups that were seen, what was said about them, what to do at home."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType

from attrs import field, frozen

from wellset.figure.views import View
from wellset.lessons.moments import moment, optional_day, optional_moment
from wellset.lessons.taken import HowTaken
from wellset.lessons.words import one_line, paragraphs


def _homework(text: str) -> str:
    return paragraphs(text, what="homework", most=2000)


def _dose(text: str) -> str:
    return one_line(text, what="dose", most=200)


def _file_name(text: str) -> str:
    return one_line(text, what="file name", most=255)


def _club(text: str) -> str:
    return one_line(text, what="club", most=60, least=1)


def _refusal(text: str) -> str:
    return paragraphs(text, what="refusal", most=2000)


def _focus(text: str) -> str:
    return one_line(text, what="focus", most=200)


def _note(text: str) -> str:
    return paragraphs(text, what="note", most=20_000)


def _for_student(text: str) -> str:
    return paragraphs(text, what="words to the student", most=2000)


class HomeworkState(StrEnum):
    """Whether an exercise was done, as the student says next time."""

    GIVEN = "given"
    DONE = "done"
    PARTLY = "partly"
    NOT_DONE = "not done"


@frozen(kw_only=True)
class Homework:
    """One exercise to do at home.

    Parameters
    ----------
    drill : str
        Id of a drill, or ``""`` for the coach's own words alone.
    words : str
        What to do.
    dose : str
        How often and how long.
    state : HomeworkState
    due : str or None
        Day.
    """

    drill: str = ""
    words: str = field(converter=_homework)
    dose: str = field(default="", converter=_dose)
    state: HomeworkState = field(default=HomeworkState.GIVEN, converter=HomeworkState)
    due: str | None = field(default=None, converter=optional_day)


@frozen(kw_only=True)
class Shown:
    """A picture or clip of a set-up as the media store keeps it.

    Parameters
    ----------
    media : str
        SHA-256 of the bytes: the name under which the store keeps them.
    name : str
        What the file was called.
    kind : str
        Media type, such as ``"image/jpeg"``.
    preview : str
        SHA-256 of the upright picture as a browser shows it (for a clip, the frame that was
        measured), without any tag; ``""`` before it was looked at.
    """

    media: str
    name: str = field(converter=_file_name)
    kind: str
    preview: str = ""

    @property
    def moves(self) -> bool:
        """Whether it is a clip."""
        return self.kind.startswith("video/")


class SetUpState(StrEnum):
    """How far a set-up has come."""

    WAITING = "waiting"
    ASSESSED = "assessed"
    REFUSED = "refused"


@frozen(kw_only=True)
class Summary:
    """What lists show of an assessed set-up without opening its document.

    Parameters
    ----------
    first_change : str
        Measure id, or ``""`` when nothing needs changing.
    inside, outside, undecided : int
        Numbers of findings.
    """

    first_change: str = ""
    inside: int = 0
    outside: int = 0
    undecided: int = 0


def _exercises(homework: Iterable[Homework]) -> tuple[Homework, ...]:
    return tuple(homework)


def _frozen_views(shown: Mapping[View, Shown]) -> Mapping[View, Shown]:
    return MappingProxyType({view: shown[view] for view in View if view in shown})


@frozen(kw_only=True)
class SetUp:
    """One set-up seen in a lesson.

    What was observed is kept (media, landmarks with who placed them, club and shot as
    chosen); the assessment is a dated record that can be made again from it.

    Parameters
    ----------
    id, lesson, student : str
    version : int
        Counts the saves of the landmarks.
    taken_at : str
        Moment.
    club : str
        Name, as in the bag.
    shot : str
        Kind of shot of the standards, or ``""`` to follow from the club.
    shown : mapping of View to Shown
    how : HowTaken
        What the coach says besides: phone, ground, club, clips and plate.
    landmarks : str
        The landmark file (``wellset.landmarks/1``) as it stands, or ``""`` before seeing.
    standards : str
        Digest of the standards it was judged by, or ``""``.
    assessment : str
        The assessment document (``wellset.assessment/…``), or ``""``.
    findings : str
        The same as a part of a page, so that it is shown at once.
    assessed_at : str or None
    summary : Summary
    state : SetUpState
    refusal : str
        Why it could not be assessed, in a sentence.
    """

    id: str
    lesson: str
    student: str
    version: int = 0
    taken_at: str = field(converter=moment)
    club: str = field(converter=_club)
    shot: str = ""
    shown: Mapping[View, Shown] = field(factory=dict, converter=_frozen_views)
    how: HowTaken = field(factory=HowTaken)
    landmarks: str = ""
    standards: str = ""
    assessment: str = ""
    findings: str = ""
    assessed_at: str | None = field(default=None, converter=optional_moment)
    summary: Summary = field(factory=Summary)
    state: SetUpState = field(default=SetUpState.WAITING, converter=SetUpState)
    refusal: str = field(default="", converter=_refusal)


@frozen(kw_only=True)
class Lesson:
    """One lesson of one student.

    Parameters
    ----------
    id, student : str
    version : int
    starts_at : str
        Moment; in the future while it is planned.
    focus : str
        What is worked on, in a few words.
    note : str
        The coach's own.
    for_student : str
        The coach's words to the student: they stand on the lesson sheet and the shared page.
    homework : tuple of Homework
    looked_at : bool
        Whether the coach has looked at what came in; remote set-ups start without.
    created_at, changed_at : str
        Moments.
    """

    id: str
    student: str
    version: int = 0
    starts_at: str = field(converter=moment)
    focus: str = field(default="", converter=_focus)
    note: str = field(default="", converter=_note)
    for_student: str = field(default="", converter=_for_student)
    homework: tuple[Homework, ...] = field(default=(), converter=_exercises)
    looked_at: bool = True
    created_at: str = field(converter=moment)
    changed_at: str = field(converter=moment)
