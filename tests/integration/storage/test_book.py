"""The same tests run on SQLite and on PostgreSQL."""

from __future__ import annotations

import threading

import pytest
from attrs import evolve

from wellset.errors import ConflictError, MissingError
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import (
    BagClub,
    Guardian,
    Homework,
    HowTaken,
    Lesson,
    PlateFile,
    Reading,
    SetUp,
    Shown,
    StudentCard,
    Summary,
)
from wellset.services.book import (
    Comparison,
    DrillsVersion,
    Job,
    JobState,
    PlanRecord,
    Share,
    StandardsVersion,
)
from wellset.storage import SqlBook, upgrade

WHEN = "2026-11-25T10:00:00Z"
LATER = "2026-11-26T10:00:00Z"
SECRET = "d" * 64
GUARDIAN = Guardian(name="Bea Vale", contact="next door", pictures_allowed_on="2026-11-01")
CARD = StudentCard(
    id="robin",
    file='{"schema": "wellset.student/1", "height": "175 cm"}',
    name="Róbin Vale",
    hand="right",
    minor=True,
    guardian=GUARDIAN,
    created_at=WHEN,
    changed_at=WHEN,
)
LESSON = Lesson(
    id="first",
    student="robin",
    starts_at=WHEN,
    homework=(Homework(drill="hinge", words="Ten bends a day", due="2026-12-01"),),
    created_at=WHEN,
    changed_at=WHEN,
)
SETUP = SetUp(
    id="setup",
    lesson="first",
    student="robin",
    taken_at=WHEN,
    club="7-iron",
    shown={View.FACE_ON: Shown(media="a" * 64, name="front.jpg", kind="image/jpeg")},
    how=HowTaken(
        phone_level=True,
        choices={View.FACE_ON: Choice(swing=2)},
        lie=1.09,
        plate=PlateFile(media="b" * 64, name="feet.csv"),
    ),
    landmarks='{"schema": "wellset.landmarks/1"}',
)
ASSESSED = {"forward_bend": Reading(when=WHEN, value=38.0, sd=0.9)}


def fill(book: SqlBook) -> None:
    with book.writing() as pages:
        pages.save_student(CARD)
        pages.save_lesson(LESSON)
        pages.save_setup(SETUP, readings=ASSESSED)


def test_what_was_saved_comes_back_as_it_was(book: SqlBook) -> None:
    fill(book)
    with book.reading() as pages:
        assert pages.student("robin") == evolve(CARD, version=1)
        assert pages.lesson("first") == evolve(LESSON, version=1)
        assert pages.setup("setup") == evolve(SETUP, version=1)
        assert pages.setups_of("first") == (evolve(SETUP, version=1),)
        ((listed, readings),) = pages.readings_of("robin")
    assert readings == ASSESSED
    assert listed.landmarks == ""


def test_upgrading_an_up_to_date_book_changes_nothing(book: SqlBook, url: str) -> None:
    fill(book)
    upgrade(url)
    with book.reading() as pages:
        assert pages.student("robin").name == "Róbin Vale"


def test_the_later_of_two_edits_is_refused(book: SqlBook) -> None:
    fill(book)
    with book.reading() as pages:
        mine, theirs = pages.student("robin"), pages.student("robin")
    with book.writing() as pages:
        assert pages.save_student(evolve(theirs, note="theirs")).version == 2
    with pytest.raises(ConflictError, match="changed meanwhile"), book.writing() as pages:
        pages.save_student(evolve(mine, note="mine"))
    with book.reading() as pages:
        assert pages.student("robin").note == "theirs"


def test_an_edit_of_a_removed_student_does_not_bring_them_back(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        card = pages.student("robin")
        pages.remove_student("robin")
    with pytest.raises(MissingError, match="not in the lesson book"), book.writing() as pages:
        pages.save_student(card)


def test_an_error_inside_a_change_undoes_all_of_it(book: SqlBook) -> None:
    def half() -> None:
        with book.writing() as pages:
            pages.save_student(CARD)
            pages.remove_lesson("never given")

    with pytest.raises(MissingError):
        half()
    with book.reading() as pages:
        assert pages.find_students().total == 0


@pytest.mark.parametrize("text", ["robin", "VALE", "val rob", "róbin", ""])
def test_a_student_is_found_by_any_part_of_the_name_without_case_or_accents(
    book: SqlBook, text: str
) -> None:
    fill(book)
    with book.reading() as pages:
        assert [card.id for card in pages.find_students(text).items] == ["robin"]


@pytest.mark.parametrize("text", ["robyn", "%", "_", "vale' OR 1=1"])
def test_signs_of_the_query_language_are_only_letters_in_a_search(book: SqlBook, text: str) -> None:
    fill(book)
    with book.reading() as pages:
        assert pages.find_students(text).total == 0


def test_students_come_in_slices_in_order_of_name(book: SqlBook) -> None:
    with book.writing() as pages:
        for name in ("Zoe", "álvaro", "Bob", "Élise"):
            pages.save_student(evolve(CARD, id=name, name=name))
    with book.reading() as pages:
        first, second = pages.find_students(limit=2), pages.find_students(limit=2, offset=2)
    assert [card.name for card in (*first.items, *second.items)] == [
        "álvaro", "Bob", "Élise", "Zoe",
    ]  # fmt: skip
    assert first.total == second.total == 4


def test_removing_a_student_removes_all_of_theirs_and_names_the_media(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        assert pages.remove_student("robin") == ("a" * 64, "b" * 64)
    with book.reading() as pages:
        for read in (pages.lesson, pages.setup, pages.student):
            with pytest.raises(MissingError):
                read({"lesson": "first", "setup": "setup"}.get(read.__name__, "robin"))


def test_media_that_another_set_up_shows_are_kept(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        pages.save_setup(evolve(SETUP, id="again"))
        assert pages.remove_setup("setup") == ()
        assert pages.remove_lesson("first") == ("a" * 64, "b" * 64)


def test_a_set_up_keeps_its_readings_when_only_its_landmarks_are_saved(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        setup = pages.setup("setup")
        moved = pages.save_setup(evolve(setup, landmarks="{}", summary=Summary(outside=3)))
    with book.reading() as pages:
        assert pages.setup("setup") == moved
        assert pages.readings_of("robin", measure="forward_bend")[0][1] == ASSESSED
        assert pages.readings_of("robin", measure="arm_hang")[0][1] == {}
        assert pages.readings_of("robin", club="driver") == []


def test_lessons_are_found_by_day_and_by_what_awaits_a_look(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        pages.save_lesson(evolve(LESSON, id="second", starts_at=LATER, looked_at=False))
    with book.reading() as pages:
        day = pages.lessons_between("2026-11-25T00:00:00Z", "2026-11-26T00:00:00Z")
        assert [lesson.id for lesson in day] == ["first"]
        assert [lesson.id for lesson in pages.lessons_to_look_at().items] == ["second"]
        assert [lesson.id for lesson in pages.lessons_of("robin").items] == ["second", "first"]
        assert pages.lessons_of("robin", limit=1).total == 2


def test_a_bag_is_empty_until_one_is_kept(book: SqlBook) -> None:
    fill(book)
    with book.writing() as pages:
        bag = pages.bag("robin")
        assert bag.clubs == ()
        kept = pages.save_bag(evolve(bag, clubs=[BagClub(name="7-iron", length_m=0.94)]))
        assert pages.bag("robin") == kept
        with pytest.raises(MissingError):
            pages.save_bag(evolve(bag, student="nobody"))


def test_only_one_version_of_the_standards_is_current(book: SqlBook) -> None:
    old = StandardsVersion(digest="a", name="mine", text="1", saved_at=WHEN, current=True)
    new = StandardsVersion(digest="b", name="mine", text="2", saved_at=LATER, current=True)
    with book.writing() as pages:
        assert pages.current_standards() is None
        pages.save_standards(old)
        pages.save_standards(new)
        assert pages.current_standards() == new
        assert pages.standards_versions() == (new, evolve(old, current=False))
        pages.save_standards(old)
        assert pages.current_standards() == old


def test_a_plan_takes_the_place_of_the_last(book: SqlBook) -> None:
    fill(book)
    first = PlanRecord(student="robin", made_at=WHEN, asked="{}", document='{"clubs": []}')
    with book.writing() as pages:
        assert pages.plan("robin") is None
        pages.save_plan(first)
        pages.save_plan(evolve(first, made_at=LATER))
        assert pages.plan("robin") == evolve(first, made_at=LATER)


def test_a_comparison_takes_the_place_of_the_last_and_goes_with_its_set_up(book: SqlBook) -> None:
    fill(book)
    first = Comparison(
        setup="setup", version=1, made_at=WHEN, made_of="e" * 64, document="{}", page="<p>"
    )
    with book.writing() as pages:
        assert pages.comparison("setup") is None
        pages.save_comparison(first)
        pages.save_comparison(evolve(first, version=2, made_at=LATER))
        assert pages.comparison("setup") == evolve(first, version=2, made_at=LATER)
        pages.remove_setup("setup")
    with book.reading() as pages:
        assert pages.comparison("setup") is None


def test_a_link_is_found_by_the_digest_of_its_secret_and_can_be_revoked(book: SqlBook) -> None:
    fill(book)
    share = Share(id="s", lesson="first", secret_digest=SECRET, created_at=WHEN, expires_at=LATER)
    with book.writing() as pages:
        pages.save_share(share)
        assert pages.share(SECRET) == share
        assert pages.share("e") is None
        pages.save_share(evolve(share, revoked_at=LATER))
        assert pages.shares_of("first") == (evolve(share, revoked_at=LATER),)


def test_a_setting_is_kept_changed_and_removed(book: SqlBook) -> None:
    with book.writing() as pages:
        for value in ("one", "two", None):
            pages.save_setting("password", value)
            assert pages.setting("password") == value


def _job(name: str) -> Job:
    return Job(id=name, kind="assess", subject="setup", created_at=WHEN, changed_at=WHEN)


def test_each_job_is_claimed_once_however_many_ask(book: SqlBook) -> None:
    with book.writing() as pages:
        for i in range(40):
            pages.add_job(_job(f"{i:02}"))
    claimed: list[str] = []

    def work() -> None:
        while True:
            with book.writing() as pages:
                job = pages.claim_job(now=LATER)
            if job is None:
                return
            claimed.append(job.id)

    _together([work] * 4)
    assert sorted(claimed) == [f"{i:02}" for i in range(40)]


def test_a_job_that_ran_when_the_program_died_is_found_again(book: SqlBook) -> None:
    with book.writing() as pages:
        pages.add_job(_job("one"))
        taken = pages.claim_job(now=LATER)
    assert taken is not None
    assert (taken.state, taken.tries) == (JobState.RUNNING, 1)
    with book.writing() as pages:
        assert pages.abandoned_jobs() == (taken,)
        pages.update_job(evolve(taken, state=JobState.DONE))
        assert pages.abandoned_jobs() == ()
        assert [job.state for job in pages.jobs_about("setup")] == [JobState.DONE]


def test_200_edits_at_once_lose_nothing(book: SqlBook) -> None:
    with book.writing() as pages:
        pages.save_student(CARD)
    refused = []

    def edit() -> None:
        for _ in range(50):
            while True:
                with book.reading() as pages:
                    card = pages.student("robin")
                count = int(card.note or "0")
                try:
                    with book.writing() as pages:
                        pages.save_student(evolve(card, note=str(count + 1)))
                except ConflictError:
                    refused.append(count)
                else:
                    break

    _together([edit] * 4)
    with book.reading() as pages:
        assert pages.student("robin").note == "200"


def _together(works: list) -> None:  # type: ignore[type-arg]
    threads = [threading.Thread(target=work) for work in works]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def test_only_one_version_of_the_drills_is_current(book: SqlBook) -> None:
    old = DrillsVersion(
        digest="a", name="Mine", what="Added: x", text="1", saved_at=WHEN, current=True
    )
    new = evolve(old, digest="b", saved_at=LATER)
    with book.writing() as pages:
        assert pages.current_drills() is None
        pages.save_drills(old)
        pages.save_drills(new)
        assert pages.current_drills() == new
        assert pages.drills_versions() == (new, evolve(old, current=False))
