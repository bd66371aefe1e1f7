"""The drill book in the lesson book."""

from __future__ import annotations

import re
from html import unescape

import pytest
from attrs import evolve
from fastapi import FastAPI
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import JPEG, SCENE, lesson, send
from tests.support.sightings import scene_sightings
from wellset.advise import Fault, Origin, Side, house_book
from wellset.figure.views import Hand
from wellset.lessons import Homework, StudentCard
from wellset.services.drills_file import drills_in_force
from wellset.services.lesson_work import Desk, assess_kept

__all__ = ["lesson"]

MINE = {
    "title": "Bow to the <bench>",
    "purpose": "A bench says when your hips have gone far enough.",
    "needs": "a bench\n",
    "steps": "Stand before a bench.\n\nPush your hips back until they touch it.",
    "check": "Your hips touched first.",
    "dose": "Six times a day.",
    "caution": "back",
    "level": "easy",
    "helps_forward_bend-low": "first",
    "helps_low_back_curve-low": "also",
    "instead_balance": "cane_bow",
    "d0_from": "side",
    "d0_arms": "hang",
    "d0_fault": "on",
    "d0_prop0": "stool",
    "d0_words0": "Hips find it",
    "d0_caption": "Hips back.",
}


def write(coach: TestClient, **changes: str) -> str:
    """Keep a drill of one's own; its path."""
    token = token_of(coach.get("/drills/new").text)
    answer = coach.post("/drills/new", data={"token": token, **MINE, **changes})
    assert answer.status_code == 200, answer.text
    return answer.url.path


def titles(page: str) -> list[str]:
    listed = re.findall(r'<span class="about"><b>(.*?)</b>', page)
    return [unescape(title) for title in listed]


def book(desk: Desk) -> list[str]:
    with desk.book.reading() as pages:
        return [drill.id for drill in drills_in_force(pages)]


def test_every_house_drill_is_listed_with_its_drawing(coach: TestClient) -> None:
    page = coach.get("/drills").text
    assert titles(page) == [drill.title for drill in house_book()]
    addresses = re.findall(r'<img src="(/drills/\w+/drawing\.svg\?v=\w+)"', page)
    assert len(addresses) == len(house_book().drills)
    drawing = coach.get(addresses[0])
    assert drawing.headers["content-type"] == "image/svg+xml"
    assert drawing.text.startswith("<svg")
    assert "<text" not in drawing.text


def test_drills_are_found_by_what_they_help_and_by_their_words(coach: TestClient) -> None:
    found = titles(coach.get("/drills", params={"measure": "forward_bend"}).text)
    assert found[:2] == ["Hips to the wall", "Tall, then bow"]
    assert len(found) < 10
    assert titles(coach.get("/drills", params={"text": "TOWEL lightly"}).text) == [
        "Towel under the arms"
    ]
    nothing = coach.get("/drills", params={"text": "zebra <b>"}).text
    assert "No drill is like this" in nothing
    assert "zebra <b>" not in nothing


@pytest.mark.parametrize("name", [drill.id for drill in house_book()][::6])
def test_a_drill_has_a_page_with_words_and_drawings(coach: TestClient, name: str) -> None:
    drill = house_book().get(name)
    assert drill is not None
    page = coach.get(f"/drills/{name}").text
    for words in (drill.purpose, *drill.steps, drill.feel, drill.self_check, drill.caution):
        assert words in unescape(page)
    assert page.count("drill-drawing target") == len(drill.drawings)
    assert "an ordinary golfer" in page


def test_a_drill_is_drawn_for_a_student_with_a_club_and_printed(
    coach: TestClient, desk: Desk
) -> None:
    student(desk, hand=Hand.LEFT)
    page = coach.get("/drills/hips_to_wall?student=robin&club=driver").text
    assert "Drawn for Robin with the driver" in page
    assert coach.get("/drills/hips_to_wall").text != page
    paper = coach.get("/drills/hips_to_wall/sheet.pdf?student=robin&club=driver")
    assert paper.content.startswith(b"%PDF")


def student(desk: Desk, *, hand: Hand = Hand.RIGHT, more: str = "") -> None:
    when = desk.now()
    file = f'{{"schema": "wellset.student/1", "height": "170 cm", "hand": "{hand}"{more}}}'
    with desk.book.writing() as pages:
        pages.save_student(
            StudentCard(id="robin", name="Robin", file=file, created_at=when, changed_at=when)
        )


def test_a_coach_adds_a_drill_which_then_comes_up_by_itself(coach: TestClient, desk: Desk) -> None:
    path = write(coach)
    assert path == "/drills/bow_to_the_bench"
    page = coach.get(path).text
    assert "Bow to the &lt;bench&gt;" in page
    assert "yours" in page
    assert "drill-drawing target from-side" in page
    with desk.book.reading() as pages:
        drills = drills_in_force(pages)
    own = drills.suited(Fault(measure="forward_bend", side=Side.LOW))
    assert own is not None
    assert (own.id, own.origin, len(own.steps)) == ("bow_to_the_bench", Origin.OWN, 2)
    assert own.caution == house_book().cautions["back"]
    again = write(coach)
    assert again == "/drills/bow_to_the_bench_2"


def test_the_form_shows_what_is_kept_and_keeps_what_it_shows(coach: TestClient, desk: Desk) -> None:
    with desk.book.reading() as pages:
        before = drills_in_force(pages).get("hips_to_wall")
    page = coach.get("/drills/hips_to_wall/edit").text
    coach.post("/drills/hips_to_wall/edit", data=fields(page))
    with desk.book.reading() as pages:
        after = drills_in_force(pages).get("hips_to_wall")
    assert before is not None
    assert after == evolve(before, origin=Origin.EDITED)


def fields(page: str) -> dict[str, str]:
    """Everything the form of a drill holds."""
    form = page[page.index("<form method") :]
    found: dict[str, str] = {}
    for tag in re.findall(r"<input [^>]*>", form):
        name, value = re.search(r'name="([^"]*)"', tag), re.search(r'value="([^"]*)"', tag)
        if name is None or ('type="checkbox"' in tag and " checked" not in tag):
            continue
        found[name[1]] = unescape(value[1]) if value is not None else "on"
    for name_, body in re.findall(
        r'<textarea [^>]*name="(\w+)"[^>]*>(.*?)</textarea>', form, re.DOTALL
    ):
        found[name_] = unescape(body)
    for name_, body in re.findall(
        r'<select [^>]*name="([\w-]+)"[^>]*>(.*?)</select>', form, re.DOTALL
    ):
        chosen = re.search(r'<option value="([^"]*)" selected', body)
        found[name_] = unescape(chosen[1]) if chosen is not None else ""
    return found


def test_a_house_drill_is_changed_and_put_back_as_it_came(coach: TestClient, desk: Desk) -> None:
    page = coach.get("/drills/hips_to_wall/edit").text
    changed = coach.post(
        "/drills/hips_to_wall/edit", data={**fields(page), "title": "Bottom to the wall"}
    )
    assert "changed by you" in changed.text
    assert "Bottom to the wall" in titles(coach.get("/drills").text)
    token = token_of(changed.text)
    back = coach.post("/drills/hips_to_wall/restore", data={"token": token})
    assert "Hips to the wall" in back.text
    assert book(desk) == [drill.id for drill in house_book()]


def test_a_hidden_drill_is_not_offered_but_can_come_back(coach: TestClient, desk: Desk) -> None:
    token = token_of(coach.get("/drills/eyes_shut").text)
    coach.post("/drills/eyes_shut/hide", data={"token": token, "hidden": "yes"})
    assert "eyes_shut" not in book(desk)
    assert "Hidden drills" in coach.get("/drills").text
    assert "This drill is hidden" in coach.get("/drills/eyes_shut").text
    coach.post("/drills/eyes_shut/hide", data={"token": token, "hidden": "no"})
    assert "eyes_shut" in book(desk)


def test_an_earlier_version_is_put_back_in_force(coach: TestClient, desk: Desk) -> None:
    path = write(coach)
    token = token_of(coach.get(path).text)
    gone = coach.post(f"{path}/restore", data={"token": token})
    assert gone.url.path == "/drills"
    assert "bow_to_the_bench" not in book(desk)
    page = coach.get("/drills").text
    added = re.search(r"Added: .*?name=\"digest\" value=\"([0-9a-f]{64})\"", page, re.DOTALL)
    assert added is not None
    coach.post("/drills/use", data={"token": token, "digest": added[1]})
    assert "bow_to_the_bench" in book(desk)


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("steps", " ", "steps"),
        ("d0_prop0", "nose_plumb", "can't be drawn from the side"),
        ("caution", "spine", "there is no caution spine"),
        ("instead_balance", "eyes_shut", "doesn't suit unsteady feet either"),
        ("title", "", "it has no title"),
    ],
)
def test_a_wrong_entry_is_told_and_nothing_typed_is_lost(
    coach: TestClient, desk: Desk, field: str, value: str, message: str
) -> None:
    token = token_of(coach.get("/drills/new").text)
    answer = coach.post("/drills/new", data={"token": token, **MINE, field: value})
    assert answer.status_code == 422
    assert message in unescape(answer.text)
    assert "Push your hips back" in answer.text or field == "steps"
    assert book(desk) == [drill.id for drill in house_book()]


def test_a_drill_that_others_lean_on_cannot_be_removed(coach: TestClient, desk: Desk) -> None:
    first = write(coach)
    write(coach, title="Second", instead_back=first.removeprefix("/drills/"))
    token = token_of(coach.get(first).text)
    answer = coach.post(f"{first}/restore", data={"token": token})
    assert answer.status_code == 422
    assert "there is no drill bow_to_the_bench" in answer.text
    assert "bow_to_the_bench" in book(desk)


def test_a_drill_that_is_none_is_missed(coach: TestClient) -> None:
    for path in ("", "/edit", "/sheet.pdf", "/drawing.svg"):
        assert coach.get(f"/drills/nothing{path}").status_code == 404


def test_drills_are_for_signed_in_devices_only(stranger: TestClient) -> None:
    for path in ("/drills", "/drills/hips_to_wall", "/drills/new", "/drills/eyes_shut/sheet.pdf"):
        answer = stranger.get(path, follow_redirects=False)
        assert answer.status_code in {303, 401}


def assessed(coach: TestClient, desk: Desk, lesson: str) -> str:
    page = send(coach, lesson, face_on=("a.jpg", JPEG), down_the_line=("b.jpg", JPEG + b"x"))
    setup_id = str(page.url.path.removeprefix("/setups/"))  # type: ignore[attr-defined]
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    return setup_id


def test_homework_offers_the_drills_of_the_first_change_first_and_fills_itself(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    assessed(coach, desk, lesson)
    page = coach.get(lesson).text
    group = re.search(r'<optgroup label="For the first change">(.*?)</optgroup>', page, re.DOTALL)
    assert group is not None
    assert "Feet on the clock" in group[1]
    version = re.search(r'name="version" value="(\d+)"', page)
    assert version is not None
    data = {
        "token": token_of(page), "version": version[1], "focus": "", "note": "",
        "homework_words": "", "homework_dose": "", "homework_drill": "foot_clock",
        "homework_state": "given", "homework_due": "",
    }  # fmt: skip
    coach.post(lesson, data=data)
    with desk.book.reading() as pages:
        (task,) = pages.lesson(lesson.removeprefix("/lessons/")).homework
    drill = house_book().get("foot_clock")
    assert drill is not None
    assert (task.drill, task.words, task.dose) == ("foot_clock", drill.title, drill.dose)


def test_the_students_page_shows_the_homeworks_drill_drawn(
    coach: TestClient, desk: Desk, lesson: str, app: FastAPI
) -> None:
    assessed(coach, desk, lesson)
    with desk.book.writing() as pages:
        kept = pages.lesson(lesson.removeprefix("/lessons/"))
        tasks = (
            Homework(words="Every morning", drill="foot_clock"),
            Homework(words="Walk", drill="a_drill_long_gone"),
        )
        pages.save_lesson(evolve(kept, homework=tasks))
    token = token_of(coach.get(f"{lesson}/share").text)
    made = coach.post(f"{lesson}/share", data={"token": token, "days": "3"}).text
    link = re.search(r'value="http://testserver(/s/[\w-]{43})"', made)
    assert link is not None
    phone = TestClient(app, client=("192.168.1.20", 5000))
    page = phone.get(link[1]).text
    first, homework = page.split('id="homework"')
    assert "drill-drawing target" in first  # of the first change
    assert "Feet on the clock" in homework
    assert "drill-drawing target" in homework
    assert "drill-drawing fault" in homework
    assert "Walk" in homework
    assert phone.get("/s/drill.css").text.startswith(".purpose")


def test_what_a_student_must_spare_is_asked_kept_and_minded(coach: TestClient, desk: Desk) -> None:
    form = coach.get("/students/new").text
    assert "Drills must spare" in form
    data = {
        "token": token_of(form), "name": "Kim", "height": "170 cm", "units": "cm",
        "version": "0", "careful_back": "on", "careful_balance": "on",
    }  # fmt: skip
    page = coach.post("/students/new", data=data)
    assert page.status_code == 200, page.text
    student_id = page.url.path.removeprefix("/students/")
    with desk.book.reading() as pages:
        file = pages.student(student_id).file
    assert '"careful_with": ["back", "balance"]' in file
    edit = coach.get(f"/students/{student_id}/edit").text
    assert re.search(r'name="careful_back"[^>]* checked', edit)
    assert not re.search(r'name="careful_hip"[^>]* checked', edit)
