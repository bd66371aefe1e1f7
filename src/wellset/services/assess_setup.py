"""Use case: one or two pictures in, a judged set-up out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import evolve, field, frozen

from wellset.advise import DrillBook, Finding, findings, first_change, house_book, settle_all
from wellset.assess import (
    Fit,
    Setting,
    Solved,
    body_knowledge,
    club_knowledge,
    fit,
    judge_all,
    refit,
)
from wellset.equipment import Club
from wellset.errors import InputError
from wellset.figure.ground import GroundUse
from wellset.figure.sighting import PictureFacts, Sighting
from wellset.figure.views import Hand, View
from wellset.services.about import notes_about, versions_of
from wellset.services.assessment import AssessedPicture, Assessment, Student
from wellset.services.corrections import Corrections, Judged, compare
from wellset.services.drill_choice import practice_of
from wellset.services.enough import check_enough, shows_enough
from wellset.services.first_change import answer_of, anything_outside, rooted_by
from wellset.services.landmark_file import LandmarkFile, merge
from wellset.services.memory import Memory, told_apart
from wellset.services.ports import PictureReader, Progress, Seen, SeenPicture, silent
from wellset.services.standing import where_to_stand
from wellset.services.student_scale import student_scale
from wellset.services.weighing import PlateText, check_plate, weigh
from wellset.standards import Standards, shot_for, shot_named

SHARE_OF_SEEING = 0.85
"""Share of the whole time that looking at the pictures takes."""


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


def assess_setup(
    request: Request,
    *,
    reader: PictureReader,
    progress: Progress = silent,
    near: Fit | None = None,
    thorough: bool = True,
    memory: Memory | None = None,
) -> Assessment:
    """See, measure and judge one set-up.

    Parameters
    ----------
    request : Request
    reader : PictureReader
        Finds golfer, club, ball and things on the ground in picture files.
    progress : callable
        Told each step and the share done.
    near : Fit or None
        Where the search begins: the solution of the same views for slightly other points.
    thorough : bool
        Whether further solutions tell what to change first, what corrections changed and
        what would decide undecided checks. Otherwise the order of checking alone says what
        comes first.
    memory : Memory or None
        Of earlier assessments of this set-up by the same student, club, shot and standards.

    Raises
    ------
    WellsetError
        When a value, a picture or the scene cannot be used; the message says which.
    """
    # what a plate says isn't part of the questions that are remembered
    memory = memory if memory is not None and request.plate is None else Memory()
    _shot(request)  # a wrong one is refused before anything is looked for
    check_plate(request.plate)
    seen = _see(
        request,
        reader=reader,
        progress=lambda step, share: progress(step, SHARE_OF_SEEING * share),
    )
    check_enough(seen)
    progress("Solving cameras, body and club together", SHARE_OF_SEEING)
    setting = setting_of(request)
    sightings = [seen.pictures[view].sighting for view in View if view in seen.pictures]
    solved = _solved(request, setting, sightings=sightings, near=near)
    progress("Judging the set-up against the standards", 0.95)
    weighed = weigh(request.plate, solved, hand=seen.hand, sightings=sightings)
    if weighed is not None and weighed.used:
        setting = evolve(setting, plate=weighed.says.means)
        solved = _solved(request, setting, sightings=sightings, near=solved)
    judged = _judged(solved, sightings, request=request, ranked=thorough)
    found, corrections, stand = judged.findings, None, None
    if thorough:
        found = _settled(judged, solved, sightings=sightings, request=request, setting=setting)
        corrections = _corrections(
            solved,
            judged,
            sightings=sightings,
            request=request,
            setting=setting,
            memory=memory,
        )
        stand = where_to_stand(
            solved,
            judged,
            student=request.student,
            club=request.club,
            shot=_shot(request),
            standards=request.standards,
            memory=memory,
        )
    own = practice_of(judged.advice, judged.findings, book=request.drills, student=request.student)
    return Assessment(
        hand=seen.hand,
        student=request.student,
        club=request.club,
        shot=_shot(request),
        fit=solved,
        pictures={
            view: _assessed(picture, solved, view=view) for view, picture in seen.pictures.items()
        },
        measures=judged.measures,
        findings=found,
        advice=own.advice,
        versions=versions_of(request.student, request.standards),
        notes=(
            *seen.notes,
            *notes_about(request.student, solved),
            *(weighed.notes if weighed is not None else ()),
            *(corrections.notes if corrections is not None else ()),
        ),
        corrections=corrections,
        stand=stand,
        weighed=weighed,
        drills=own.drills,
    )


def setting_of(request: Request) -> Setting:
    """Everything about the assessment except the pictures' points."""
    return Setting(
        body=body_knowledge(request.student.build),
        club=club_knowledge(request.club),
        level=request.phone_level,
        drawn=request.drawn_scene,
    )


def _shot(request: Request) -> str:
    return shot_named(request.shot) if request.shot is not None else shot_for(request.club.kind)


def _solved(
    request: Request, setting: Setting, *, sightings: Sequence[Sighting], near: Fit | None
) -> Fit:
    if near is not None:
        return refit(setting, sightings, near=near, rendered_to_real=request.rendered_to_real)
    return fit(setting, sightings, rendered_to_real=request.rendered_to_real, use=request.ground)


def _settled(
    judged: Judged,
    solved: Fit,
    *,
    sightings: Sequence[Sighting],
    request: Request,
    setting: Setting,
) -> tuple[Finding, ...]:
    """The findings, each undecided one with what would decide it."""
    return settle_all(
        judged.findings,
        solved=Solved(
            fit=solved,
            setting=setting,
            sightings=sightings,
            build=request.student.build,
            rendered_to_real=request.rendered_to_real,
        ),
        decision=request.standards.decision,
    )


def _judged(
    solved: Fit, sightings: Sequence[Sighting], *, request: Request, ranked: bool = True
) -> Judged:
    """Measures of a solution, and what the standards say of them."""
    measures, build, club = judge_all(solved, sightings), request.student.build, request.club
    scale = student_scale(build, club, stance=measures["stance_width"])
    windows = request.standards.windows_for(_shot(request), scale=scale)
    found = findings(measures, windows, decision=request.standards.decision)
    if not ranked:
        return Judged(measures=measures, findings=found, advice=first_change(found))
    asked = anything_outside(found)
    answer = answer_of(solved.figure, build=build, club=club) if asked else None
    changes = rooted_by(
        answer, found, figure=solved.figure, measures=measures, build=build, club=club
    )
    return Judged(
        measures=measures, findings=found, advice=first_change(found, changes), answer=answer
    )


def _corrections(
    solved: Fit,
    judged: Judged,
    *,
    sightings: Sequence[Sighting],
    request: Request,
    setting: Setting,
    memory: Memory,
) -> Corrections | None:
    """What a person's corrections changed, if there are any."""
    real = request.rendered_to_real
    return compare(
        solved,
        judged,
        sightings=sightings,
        solve=lambda other, near: memory.once(
            ("solved", told_apart(other)),
            lambda: refit(setting, other, near=near, rendered_to_real=real),
        ),
        judge=lambda other, seen: memory.once(
            ("judged", told_apart(seen)), lambda: _judged(other, seen, request=request)
        ),
        can_be_solved=lambda other: all(
            shows_enough(sighting, of=len(other)) for sighting in other
        ),
    )


def _see(request: Request, *, reader: PictureReader, progress: Progress) -> Seen:
    """Sightings from the landmark file, the pictures, or both."""
    given = request.landmarks
    if not request.pictures and given is None:
        raise InputError(
            "There is nothing to assess",
            why="neither picture was given.",
            fix="Give --face-on, --down-the-line, or both.",
        )
    if given is None:
        return reader.look(request.pictures, hand=_hand(request), progress=progress)
    return _see_with_file(request, given, reader=reader, progress=progress)


def _see_with_file(
    request: Request, given: LandmarkFile, /, *, reader: PictureReader, progress: Progress
) -> Seen:
    """Views the file places whole are taken from it; the others are looked at."""
    ready = {view for view in given.sightings if given.complete(view)}
    _check_usable(given, request, ready=ready)
    paths = {view: path for view, path in request.pictures.items() if view not in ready}
    seen = (
        reader.look(paths, hand=_hand(request), progress=progress)
        if paths
        else Seen(hand=_hand(request) or Hand.RIGHT, pictures={})
    )
    given = given.for_hand(seen.hand)
    pictures: dict[View, SeenPicture] = {}
    for view in View:
        if view in ready:
            pictures[view] = _given_picture(
                given.sightings[view], request.pictures.get(view), hand=seen.hand, reader=reader
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
    if _hand(request) is None and set(request.pictures) <= ready:
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


def _hand(request: Request) -> Hand | None:
    from_file = request.landmarks.hand if request.landmarks is not None else None
    return request.hand or from_file or request.student.hand


def _given_picture(
    sighting: Sighting, path: str | None, *, hand: Hand, reader: PictureReader
) -> SeenPicture:
    """A picture whose landmarks all come from the file; its pixels are only drawn on."""
    if path is None:
        return SeenPicture(sighting=sighting, rgb=None, mirrored=hand is Hand.LEFT)
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
        mirrored=hand is Hand.LEFT,
        still=opened.still,
    )


def _assessed(picture: SeenPicture, solved: Fit, *, view: View) -> AssessedPicture:
    return AssessedPicture(
        sighting=picture.sighting,
        camera=solved.cameras[view],
        camera_sd=solved.camera_sd[view],
        rgb=picture.rgb,
        mirrored=picture.mirrored,
        notes=picture.notes,
        still=picture.still,
    )
