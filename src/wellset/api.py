"""The Python door: the same results as the command line prints and the pages show."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Unpack

from wellset import bootstrap
from wellset.bootstrap import check as _check
from wellset.bootstrap import plan as _plan
from wellset.services import what_if as _what_if
from wellset.services.assessment import Assessment
from wellset.services.check_plan import Check
from wellset.services.plan_bag import BagPlan
from wellset.services.ports import Progress, silent
from wellset.services.what_if import Followed


def assess(
    *,
    face_on: str | Path | None = None,
    down_the_line: str | Path | None = None,
    club: str,
    height: str | None = None,
    club_length: str | None = None,
    club_lie: str | float | None = None,
    shot: str | None = None,
    student: str | Path | None = None,
    standards: str | Path | None = None,
    hand: str | None = None,
    landmarks: str | Path | None = None,
    ignore_ground: Sequence[str] = (),
    sheet_aimed: bool = False,
    phone_level: bool = False,
    plate: str | Path | None = None,
    start: Sequence[str] = (),
    swing: Sequence[str] = (),
    rendered_to_real: bool = True,
    drawn_scene: bool = False,
    progress: Progress = silent,
) -> Assessment:
    """Measure and judge one set-up from one or two pictures at address.

    Parameters
    ----------
    face_on, down_the_line : path, optional
        Picture files (JPEG, PNG, HEIC) or videos (MP4, MOV); either may be left out.
    club : str
        A club ("7-iron", "sand wedge") or a kind ("mid iron").
    height : str, optional
        Barefoot height with its unit; needed unless the student file has it.
    club_length, club_lie : str, optional
        Length with its unit; lie in degrees. Ordinary values of the club otherwise.
    shot : str, optional
        Kind of shot in the standards; follows from the club.
    student, standards, landmarks : path, optional
        Student file, coach's own standards, landmarks to use or correct.
    hand : "right" or "left", optional
        Recognised when left out.
    ignore_ground : sequence of str
        Found things on the ground to leave out: "stick", "upright", "sheet", or "all".
    sheet_aimed : bool
        Whether the marker sheet's arrow was pointed at the target with care.
    phone_level : bool
        Whether the phones stood level and upright by their own level.
    plate : path, optional
        Readings of a pressure plate under the student's feet while the pictures were taken.
    start, swing : sequence of str, optional
        Which set-up of a video: the first after a time in seconds, or that of a number;
        ``"face-on=12.5"`` means one video of two.
    rendered_to_real : bool
        Whether intervals allow for real people being harder to see than rendered ones.
        Switch it off only to measure rendered scenes.
    drawn_scene : bool
        Whether the pictures are of a rendered scene, where sticks point exactly and both
        show one moment. Only to measure such scenes.
    progress : callable, optional
        Called with each step in words and the share done.

    Returns
    -------
    Assessment

    Raises
    ------
    WellsetError
        Saying what is wrong, where, and how to mend it.

    Examples
    --------
    >>> import wellset
    >>> wellset.assess(club="7-iron", height="178")
    Traceback (most recent call last):
    ...
    wellset.errors.InputError: ...
    """
    return bootstrap.assess_request(
        face_on=face_on,
        down_the_line=down_the_line,
        club=club,
        height=height,
        club_length=club_length,
        club_lie=club_lie,
        shot=shot,
        student=student,
        standards=standards,
        hand=hand,
        landmarks=landmarks,
        ignore_ground=ignore_ground,
        sheet_aimed=sheet_aimed,
        phone_level=phone_level,
        plate=plate,
        start=start,
        swing=swing,
        rendered_to_real=rendered_to_real,
        drawn_scene=drawn_scene,
        progress=progress,
    )


def prescribe(
    *,
    height: str | None = None,
    student: str | Path | None = None,
    bag: str | Path | None = None,
    clubs: Sequence[str] = (),
    hand: str | None = None,
    shot: str | None = None,
    slopes: Sequence[str] = (),
    wind: str | None = None,
    standards: str | Path | None = None,
) -> BagPlan:
    """Work out how a student should stand with each club.

    Parameters
    ----------
    height : str, optional
        Barefoot height with its unit; needed unless the student file has it.
    student, bag, standards : path, optional
        Student file, bag file, coach's own standards.
    clubs : sequence of str
        Clubs by name instead of a bag; with neither, fourteen usual clubs.
    hand : "right" or "left", optional
    shot : str, optional
        Kind of shot in the standards; follows from each club.
    slopes : sequence of str
        ``"uphill 6"``, ``"ball above feet 8"`` and so on, degrees.
    wind : str, optional
        ``"against"``, ``"with"`` or ``"none"``.

    Returns
    -------
    BagPlan

    Raises
    ------
    WellsetError
        Saying what is wrong, where, and how to mend it.

    Examples
    --------
    >>> import wellset
    >>> plan = wellset.prescribe(height="178 cm", clubs=["7-iron"]).plans[0]
    >>> plan.fits
    True
    >>> wellset.prescribe(height="178 cm", clubs=["broom"])
    Traceback (most recent call last):
    ...
    wellset.errors.InputError: ...
    """
    return _plan.plan_request(
        height=height,
        student=student,
        bag=bag,
        clubs=clubs,
        hand=hand,
        shot=shot,
        slopes=slopes,
        wind=wind,
        standards=standards,
    )


def report(
    assessment: Assessment | str | Path,
    /,
    *,
    reader: str = "student",
    paper: str = "a4",
    units: str = "cm",
    name: str = "",
    day: str = "",
    next_day: str = "",
    note: str = "",
    plan: str | Path | None = None,
) -> bytes:
    """Make a sheet to take home, as the bytes of a PDF.

    Parameters
    ----------
    assessment : Assessment or path
        From :func:`assess`, or the folder or ``assessment.json`` of one that was written.
    reader : "student" or "coach"
        Two pages in plain words, or everything that was measured.
    paper : "a4" or "letter"
    units : "cm" or "in"
    name : str
        The student's; that of the assessment otherwise.
    day, next_day : str
        Of this lesson and the next: ``"2026-11-25"``.
    note : str
        Your words to the student.
    plan : path, optional
        A plan with this club; worked out now otherwise.

    Returns
    -------
    bytes

    Raises
    ------
    WellsetError
        Saying what is wrong, where, and how to mend it.
    """
    # The typesetter is loaded only where a sheet is made.
    from wellset.bootstrap import report as made
    from wellset.reports.lesson_sheet import LessonFacts

    wanted = made.Wanted(
        reader=reader,
        paper=paper,
        units=units,
        facts=LessonFacts(name=name, day=day, next_day=next_day, note=note),
    )
    source = (
        made.source_of(assessment, plan=plan, standards=bootstrap.standards_of(None))
        if isinstance(assessment, Assessment)
        else made.kept_source(assessment, given={}, plan=plan)
    )
    return made.sheet_bytes(source, wanted)


def what_if(
    assessment: Assessment,
    measure: str,
    *,
    to: float | None = None,
    standards: str | Path | None = None,
) -> Followed:
    """Put one measure of an assessed set-up right; the body follows the cheapest way.

    Parameters
    ----------
    assessment : Assessment
        As :func:`assess` gives it.
    measure : str
        Its id, such as "forward_bend".
    to : float, optional
        Where it is put, in the measure's unit; its window's target otherwise.
    standards : path, optional
        The coach's own, if the set-up was judged by them: they say how sure "inside" must be.

    Returns
    -------
    Followed
        All measures after the change, and which checks come right with it.

    Raises
    ------
    WellsetError
        Saying what is wrong, where, and how to mend it.
    """
    decision = bootstrap.standards_of(standards).decision
    return _what_if.what_if(assessment, measure, to=to, decision=decision)


def check(
    *,
    plan: str | Path | None = None,
    progress: Progress = silent,
    **typed: Unpack[bootstrap.Typed],
) -> Check:
    """Compare a student's new pictures with their plan, not with a general window.

    Parameters
    ----------
    plan : path, optional
        A plan as `wellset plan --json` writes it. Worked out for this student, club and shot
        when left out. The student's height may be left out with it.
    progress : callable, optional
        Called with each step in words and the share done.
    **typed
        Everything else as for :func:`assess`.

    Returns
    -------
    Check
        Its `to_do` holds at most three findings, the first change first.

    Raises
    ------
    WellsetError
        Saying what is wrong, where, and how to mend it.

    Examples
    --------
    >>> import wellset
    >>> wellset.check(club="7-iron", height="178 cm", plan="none.json")
    Traceback (most recent call last):
    ...
    wellset.errors.InputError: ...
    """
    return _check.check_request(plan=plan, progress=progress, **typed)
