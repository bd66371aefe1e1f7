"""Set-ups: take one, follow the work on it, move its points."""

from __future__ import annotations

import json

from attrs import asdict
from fastapi import Response
from fastapi.responses import JSONResponse

from wellset.errors import MissingError
from wellset.figure.ground import GroundKind
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import HowTaken, PlateFile, SetUp
from wellset.services.book import Job
from wellset.services.how_taken import say_how
from wellset.services.lesson_book import remove_setup
from wellset.services.lesson_work import again, picture_address, take_setup
from wellset.units import degrees, radians
from wellset.web.api.models import (
    HowTakenPart,
    JobKept,
    LandmarksChanged,
    Listed,
    MomentWanted,
    PictureKept,
    PlateSent,
    SetUpKept,
    SetUpSent,
    SetUpTaken,
)
from wellset.web.api.routing import interface_router
from wellset.web.site import SiteNow
from wellset.web.uploads import kept_before

router = interface_router("Set-ups")


@router.get("/api/lessons/{lesson_id}/setups")
def list_setups(site: SiteNow, lesson_id: str) -> Listed[SetUpKept]:
    """A lesson's set-ups in the order they were taken."""
    with site.desk.book.reading() as pages:
        pages.lesson(lesson_id)
        found = pages.setups_of(lesson_id)
    return Listed(items=[_setup(each) for each in found], total=len(found))


@router.post("/api/lessons/{lesson_id}/setups", status_code=201)
def add_setup(site: SiteNow, lesson_id: str, sent: SetUpSent) -> SetUpTaken:
    """Take a set-up from pictures that were sent before; the work on it begins."""
    setup, job = take_setup(
        site.desk,
        lesson_id=lesson_id,
        club=sent.club,
        shot=sent.shot,
        shown={
            View(view): kept_before(site, media=picture.media, name=picture.name)
            for view, picture in sent.pictures.items()
        },
        how=_how_taken(sent.how) if sent.how is not None else None,
    )
    site.line.nudge()
    return SetUpTaken(setup=_setup(setup), job=_job(job))


@router.get("/api/setups/{setup_id}")
def get_setup(site: SiteNow, setup_id: str) -> SetUpKept:
    """One set-up."""
    return _setup(_found(site, setup_id))


@router.delete("/api/setups/{setup_id}", status_code=204)
def delete_setup(site: SiteNow, setup_id: str) -> Response:
    """Remove a set-up for good, its pictures too."""
    remove_setup(site.desk, setup_id)
    return Response(status_code=204)


@router.get("/api/setups/{setup_id}/assessment")
def get_assessment(site: SiteNow, setup_id: str) -> Response:
    """Everything that was measured and found: a `wellset.assessment` document."""
    return _document(_found(site, setup_id).assessment)


@router.get("/api/setups/{setup_id}/landmarks")
def get_landmarks(site: SiteNow, setup_id: str) -> Response:
    """The points: a landmark file, in pixels of the upright pictures."""
    return _document(_found(site, setup_id).landmarks)


@router.put("/api/setups/{setup_id}/landmarks")
def change_landmarks(site: SiteNow, setup_id: str, sent: LandmarksChanged) -> SetUpKept:
    """Move points: the set-up is solved and judged anew, without looking at the pictures."""
    text = json.dumps(sent.landmarks)
    kept = site.bench.keep(site.desk, setup_id, landmarks=text, version=sent.version)
    return _setup(kept)


@router.put("/api/setups/{setup_id}/how")
def change_how_taken(site: SiteNow, setup_id: str, sent: HowTakenPart) -> SetUpKept:
    """Say how it was taken: the same points are solved anew, the whole of it is kept.

    Only another moment of a clip, or a set-up that was not assessed, is looked at again: its
    state is `waiting` then, and its job tells how far the work is.
    """
    if say_how(site.desk, setup_id, how=_how_taken(sent)):
        site.line.nudge()
    return _setup(_found(site, setup_id))


@router.get("/api/setups/{setup_id}/jobs")
def list_jobs(site: SiteNow, setup_id: str) -> Listed[JobKept]:
    """The work on a set-up, newest first."""
    with site.desk.book.reading() as pages:
        pages.setup(setup_id)
        found = pages.jobs_about(setup_id)
    return Listed(items=[_job(each) for each in found], total=len(found))


@router.post("/api/setups/{setup_id}/jobs", status_code=201)
def add_job(site: SiteNow, setup_id: str) -> JobKept:
    """Look at the pictures of a set-up once more."""
    job = again(site.desk, setup_id)
    site.line.nudge()
    return _job(job)


@router.get("/api/jobs/{job_id}")
def get_job(site: SiteNow, job_id: str) -> JobKept:
    """How far a piece of work is."""
    with site.desk.book.reading() as pages:
        return _job(pages.job(job_id))


def _found(site: SiteNow, setup_id: str) -> SetUp:
    with site.desk.book.reading() as pages:
        return pages.setup(setup_id)


def _document(text: str) -> Response:
    if not text:
        raise MissingError(
            "There is no such document yet",
            why="the set-up was not assessed.",
            fix="Wait for its job, or look at the reason in its refusal.",
        )
    return Response(text, media_type=JSONResponse.media_type)


def _setup(setup: SetUp) -> SetUpKept:
    return SetUpKept(
        id=setup.id,
        lesson=setup.lesson,
        student=setup.student,
        version=setup.version,
        taken_at=setup.taken_at,
        club=setup.club,
        shot=setup.shot,
        pictures={
            view.value: PictureKept(
                media=shown.media,
                name=shown.name,
                kind=shown.kind,
                original=f"/setups/{setup.id}/{view.value}/original",
                upright=picture_address(setup.id, view, shown=shown) if shown.preview else "",
            )
            for view, shown in setup.shown.items()
        },
        how=_how_part(setup.how),
        state=setup.state.value,
        refusal=setup.refusal,
        standards=setup.standards,
        assessed_at=setup.assessed_at,
        **asdict(setup.summary),
    )


def _how_taken(part: HowTakenPart) -> HowTaken:
    plate = part.plate
    return HowTaken(
        phone_level=part.phone_level,
        sheet_aimed=part.sheet_aimed,
        ignore=part.ignore,
        choices={View(view): Choice(**each.model_dump()) for view, each in part.clips.items()},
        club_length_m=part.club_length_m,
        lie=radians(part.lie_deg) if part.lie_deg is not None else None,
        plate=PlateFile(**plate.model_dump()) if plate is not None else None,
    )


def _how_part(how: HowTaken) -> HowTakenPart:
    return HowTakenPart(
        phone_level=how.phone_level,
        sheet_aimed=how.sheet_aimed,
        ignore=[kind.value for kind in GroundKind if kind in how.ignore],
        clips={view.value: MomentWanted(**asdict(choice)) for view, choice in how.choices},
        club_length_m=how.club_length_m,
        lie_deg=degrees(how.lie) if how.lie is not None else None,
        plate=PlateSent(**asdict(how.plate)) if how.plate is not None else None,
    )


def _job(job: Job) -> JobKept:
    shown = {name: value for name, value in asdict(job).items() if name != "arguments"}
    return JobKept(**{**shown, "state": job.state.value})
