"""A lesson's use cases on a real book, with a reader that knows what pictures show."""

from __future__ import annotations

import json
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event

import pytest
from attrs import evolve

from tests.fakes.reader import FakeReader
from tests.support.sightings import scene_sightings
from wellset.errors import ConflictError, InputError, SceneError
from wellset.figure.views import Hand, View
from wellset.jobs import JobLine
from wellset.lessons import Guardian, Lesson, SetUp, SetUpState, Shown, StudentCard
from wellset.reports.kept import ReportWriter
from wellset.services.book import Job, JobState
from wellset.services.lesson_work import Desk, assess_kept, document_of, refit, take_setup
from wellset.services.moving import Bench
from wellset.services.ports import OpenedPicture, Progress, Seen
from wellset.storage import FolderMedia, SqlBook

WHEN = "2026-11-25T10:00:00Z"
SCENE = "mid_iron_neutral_21"


class KnownPictures(FakeReader):
    """Shows the scene, whatever the lent files are called."""

    def look(self, paths: Mapping[View, str], *, hand: Hand | None, progress: Progress) -> Seen:
        assert all(Path(path).read_bytes() for path in paths.values())
        return super().look(paths, hand=hand, progress=progress)


class Refusing(KnownPictures):
    def look(self, paths: Mapping[View, str], **_: object) -> Seen:
        name = Path(paths[View.FACE_ON]).name
        raise SceneError("Nobody is in sight", why="it shows grass.", fix="Retake it.", where=name)

    def open(self, path: str, /) -> OpenedPicture:
        raise AssertionError(path)


@pytest.fixture
def desk(book: SqlBook, tmp_path: Path) -> Desk:
    with book.writing() as pages:
        pages.save_student(
            StudentCard(
                id="robin",
                name="Robin Vale",
                file='{"schema": "wellset.student/1", "height": "175 cm", "hand": "right"}',
                created_at=WHEN,
                changed_at=WHEN,
            )
        )
        pages.save_lesson(
            Lesson(id="first", student="robin", starts_at=WHEN, created_at=WHEN, changed_at=WHEN)
        )
    return Desk(
        book=book,
        media=FolderMedia(tmp_path / "media"),
        now=lambda: WHEN,
        writer=ReportWriter(),
    )


@pytest.fixture(scope="module")
def reader() -> KnownPictures:
    return KnownPictures(sightings=scene_sightings(SCENE))


def shown(desk: Desk) -> dict[View, Shown]:
    return {
        view: Shown(
            media=desk.media.keep(iter([view.value.encode()]), most=100).media,
            name=f"../{view.words}.jpg",
            kind="image/jpeg",
        )
        for view in View
    }


def taken(desk: Desk) -> tuple[SetUp, Job]:
    return take_setup(desk, lesson_id="first", club="7i", shot="", shown=shown(desk))


def test_a_set_up_waits_in_line_until_it_is_assessed(desk: Desk, reader: KnownPictures) -> None:
    setup, job = taken(desk)
    assert (setup.club, setup.state, job.subject) == ("7-iron", SetUpState.WAITING, setup.id)
    done = assess_kept(desk, setup.id, reader=reader)
    with desk.book.reading() as pages:
        assert pages.setup(setup.id) == done
        ((_, readings),) = pages.readings_of("robin")
    document = document_of(done)
    assert done.state is SetUpState.ASSESSED
    assert document["schema"] == "wellset.assessment/1"
    measures = json.loads(done.assessment)["measures"]
    assert readings["forward_bend"].value == pytest.approx(
        measures["forward_bend"]["value"], abs=0.01
    )
    assert done.summary.inside + done.summary.outside + done.summary.undecided > 10


def test_a_refused_set_up_says_why_under_the_name_the_picture_had(desk: Desk) -> None:
    setup, _ = taken(desk)
    refused = assess_kept(desk, setup.id, reader=Refusing(sightings=()))
    assert refused.state is SetUpState.REFUSED
    assert refused.refusal == "_face-on.jpg: Nobody is in sight: it shows grass. Retake it."


def test_a_moved_point_moves_the_numbers_without_looking_again(
    desk: Desk, reader: KnownPictures
) -> None:
    setup, _ = taken(desk)
    before = assess_kept(desk, setup.id, reader=reader)
    looks = len(reader.looked)
    landmarks = json.loads(before.landmarks)
    point = landmarks["views"]["down_the_line"]["landmarks"]["lead_knee"]
    moved = {"x_px": point["x_px"] + 30, "y_px": point["y_px"], "placed_by": "coach"}
    landmarks["views"]["down_the_line"]["landmarks"]["lead_knee"] = moved
    after = refit(desk, setup.id, landmarks=json.dumps(landmarks), version=before.version)
    assert after.version == before.version + 1
    assert len(reader.looked) == looks
    old, new = (json.loads(s.assessment)["measures"]["lead_knee_flex"] for s in (before, after))
    assert abs(new["value"] - old["value"]) > old["sd"]


def test_points_moved_in_an_older_tab_are_not_saved_over_newer_ones(
    desk: Desk, reader: KnownPictures
) -> None:
    setup, _ = taken(desk)
    before = assess_kept(desk, setup.id, reader=reader)
    refit(desk, setup.id, landmarks=before.landmarks, version=before.version)
    with pytest.raises(ConflictError, match="changed meanwhile"):
        refit(desk, setup.id, landmarks=before.landmarks, version=before.version)


def test_nothing_to_look_at_and_pictures_that_nobody_allowed_are_refused(desk: Desk) -> None:
    with pytest.raises(InputError, match="nothing to assess"):
        take_setup(desk, lesson_id="first", club="7i", shot="", shown={})
    with desk.book.writing() as pages:
        pages.save_student(
            evolve(pages.student("robin"), minor=True, guardian=Guardian(name="Bea"))
        )
    with pytest.raises(InputError, match="no guardian has allowed"):
        taken(desk)


def test_the_line_does_every_job_and_nobody_is_left_waiting(desk: Desk) -> None:
    jobs = [taken(desk)[1] for _ in range(3)]
    done = Event()

    def work(job_id: str) -> None:
        with desk.book.writing() as pages:
            job = pages.job(job_id)
            pages.update_job(evolve(job, state=JobState.DONE))
        if all_done():
            done.set()

    def all_done() -> bool:
        with desk.book.reading() as pages:
            return all(pages.job(job.id).state is JobState.DONE for job in jobs)

    line = JobLine(
        book=desk.book,
        work=work,
        new_executor=lambda: ThreadPoolExecutor(2),
        workers=2,
        now=lambda: WHEN,
    )
    line.start()
    assert done.wait(20)
    line.stop()


def test_a_job_that_fails_is_kept_with_the_reason(desk: Desk) -> None:
    _, job = taken(desk)
    over = Event()

    def work(_: str) -> None:
        over.set()
        raise ZeroDivisionError("by hand")

    line = JobLine(
        book=desk.book,
        work=work,
        new_executor=lambda: ThreadPoolExecutor(1),
        workers=1,
        now=lambda: WHEN,
    )
    line.start()
    assert over.wait(20)
    line.stop()
    with desk.book.reading() as pages:
        failed = pages.job(job.id)
    assert failed.state is JobState.FAILED
    assert "ZeroDivisionError: by hand" in failed.problem


@pytest.mark.parametrize(("tries", "state"), [(1, JobState.WAITING), (2, JobState.FAILED)])
def test_a_job_in_a_killed_program_is_tried_once_more_then_reported(
    desk: Desk, tries: int, state: JobState
) -> None:
    _, job = taken(desk)
    with desk.book.writing() as pages:
        pages.update_job(evolve(job, state=JobState.RUNNING, tries=tries))
    line = JobLine(
        book=desk.book,
        work=lambda _: None,
        new_executor=lambda: ThreadPoolExecutor(1),
        workers=0,
        now=lambda: WHEN,
    )
    line._put_back()
    with desk.book.reading() as pages:
        assert pages.job(job.id).state is state


def test_points_kept_again_and_again_read_as_if_solved_afresh(
    desk: Desk, reader: KnownPictures
) -> None:
    """The bench begins at earlier solutions and remembers; the answer is that of a fresh look."""
    setup, _ = taken(desk)
    kept = assess_kept(desk, setup.id, reader=reader)
    bench = Bench()
    for name, dx, dy in (
        ("lead_knee", 40.0, 0.0),
        ("lead_knee", -25.0, 10.0),
        ("c7", 0.0, -30.0),
        ("grip_end", 12.0, 8.0),
        ("lead_knee", 15.0, -4.0),
    ):
        landmarks = json.loads(kept.landmarks)
        points = landmarks["views"]["down_the_line"]["landmarks"]
        old = points[name]
        points[name] = {"x_px": old["x_px"] + dx, "y_px": old["y_px"] + dy, "placed_by": "coach"}
        kept = bench.keep(desk, setup.id, landmarks=json.dumps(landmarks), version=kept.version)
    afresh = refit(desk, setup.id, landmarks=kept.landmarks, version=kept.version)
    warm, cold = json.loads(kept.assessment), json.loads(afresh.assessment)
    for name, measure in cold["measures"].items():
        if measure["value"] is None:
            assert warm["measures"][name]["value"] is None
            continue
        # documents round; a fiftieth of the uncertainty is far below what they mean
        off = abs(warm["measures"][name]["value"] - measure["value"])
        assert off < 0.02 * measure["sd"] + 1e-4
    for part in ("findings", "advice"):
        said = [[(each["measure"], each.get("verdict")) for each in d[part]] for d in (warm, cold)]
        assert said[0] == said[1]
    told = [d["corrections"]["points"] for d in (warm, cold)]
    beyond = [{(p["landmark"], p["beyond_network"]) for p in points} for points in told]
    assert beyond[0] == beyond[1]


def test_what_is_remembered_is_forgotten_when_the_student_changes(
    desk: Desk, reader: KnownPictures
) -> None:
    setup, _ = taken(desk)
    kept = assess_kept(desk, setup.id, reader=reader)
    bench = Bench()
    kept = bench.keep(desk, setup.id, landmarks=kept.landmarks, version=kept.version)
    before = json.loads(kept.assessment)["student"]["stature_m"]
    with desk.book.writing() as pages:
        card = pages.student(setup.student)
        taller = json.loads(card.file) | {"height": "190 cm"}
        pages.save_student(evolve(card, file=json.dumps(taller)))
    kept = bench.keep(desk, setup.id, landmarks=kept.landmarks, version=kept.version)
    assert json.loads(kept.assessment)["student"]["stature_m"] == pytest.approx(1.90)
    assert before != pytest.approx(1.90)


def test_the_bench_refuses_points_of_an_older_tab(desk: Desk, reader: KnownPictures) -> None:
    setup, _ = taken(desk)
    kept = assess_kept(desk, setup.id, reader=reader)
    bench = Bench()
    bench.keep(desk, setup.id, landmarks=kept.landmarks, version=kept.version)
    with pytest.raises(ConflictError, match="changed meanwhile"):
        bench.keep(desk, setup.id, landmarks=kept.landmarks, version=kept.version)
