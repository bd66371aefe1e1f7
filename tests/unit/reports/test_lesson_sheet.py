"""The student's lesson sheet: two pages, plain words, few marks, whatever is written on it."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import numpy as np
import pypdfium2
import pytest

from tests.support.readability import grade
from tests.support.reports import plain_picture
from tests.support.take_home import (
    LEFT_HANDED,
    NEUTRAL,
    REACHING,
    document,
    plan,
    tags_of,
    text_of,
    with_first,
    with_verdicts,
)
from wellset.advise import take_home
from wellset.figure.views import Hand, View
from wellset.measures import MEASURES
from wellset.reports.coach_sheet import coach_sheet
from wellset.reports.coach_sheet_pdf import coach_sheet_pdf
from wellset.reports.lesson_sheet import Homework, LessonFacts, clipped, lesson_sheet
from wellset.reports.lesson_sheet_model import MOST_TASKS, LessonSheet, Task
from wellset.reports.lesson_sheet_page import lesson_sheet_html
from wellset.reports.lesson_sheet_pdf import lesson_sheet_pdf
from wellset.reports.sheet import PAPERS, Paper
from wellset.reports.sheet_crop import cropped
from wellset.reports.sheet_scene import MOST_MARKS
from wellset.reports.sheet_titles import PAGE_WORDS, TITLES, cards, facts_of
from wellset.units import UnitSystem

FACTS = LessonFacts(day="2026-11-25", next_day="2026-12-09", next_time="16:30", note="Well done.")
LONG = (
    "Maximiliana Konstantina-Theodora von und zu Hohenwaldenburg-Unterschwarzenfels the Third of "
)
LONG = (LONG + "the Far Northern Isles")[:120]
DRILL = Task(
    title="Club on the belt",
    purpose="To feel where the hips point.",
    steps=("Lay a stick along your aim.", "Hold a club across your hips.", "Turn and look down."),
    works="The two run side by side.",
    dose="Eight times, three days this week.",
    caution="Turn only as far as is easy.",
)
MUCH = (
    *(
        Homework(words=f"Number {n}. " + "Swing slowly and stop at the top. " * 20, dose="Daily")
        for n in range(3)
    ),
    Homework(words="For your hips.", drill=DRILL, drill_id="belt_club", due="2026-12-01"),
)
MUCH_TO_SAY = LessonFacts(name=LONG, day="2026-11-25", note="Dear all. " * 90, homework=MUCH)
ARABIC = "سليم بن عمر العطار"
ACCENTED = "Zoë Łukasiewicz-Ångström Đặng"
INCHES = UnitSystem.INCHES

MADE: dict[str, Callable[[], LessonSheet]] = {
    "plain": lambda: lesson_sheet(document(), facts=FACTS, plan=plan()),
    "long name and much homework": lambda: lesson_sheet(document(), facts=MUCH_TO_SAY, plan=plan()),
    "right-to-left name": lambda: lesson_sheet(
        document(), facts=LessonFacts(name=ARABIC, day="2026-11-25"), plan=plan()
    ),
    "accented name": lambda: lesson_sheet(
        document(), facts=LessonFacts(name=ACCENTED), plan=plan()
    ),
    "one picture": lambda: lesson_sheet(
        document(views=(View.DOWN_THE_LINE,)), facts=FACTS, plan=plan()
    ),
    "front picture only": lambda: lesson_sheet(
        document(views=(View.FACE_ON,)), facts=FACTS, plan=plan()
    ),
    "inches": lambda: lesson_sheet(document(), facts=FACTS, plan=plan(), units=INCHES),
    "left-handed": lambda: lesson_sheet(
        document(LEFT_HANDED), facts=FACTS, plan=plan(hand=Hand.LEFT)
    ),
    "left-handed, reaching": lambda: lesson_sheet(document(REACHING), facts=FACTS, plan=plan()),
    "nothing to change": lambda: lesson_sheet(
        with_verdicts(document(NEUTRAL), "inside"), facts=FACTS, plan=plan()
    ),
    "everything undecided": lambda: lesson_sheet(
        with_verdicts(document(), "undecided"), facts=FACTS, plan=plan()
    ),
    "no name and no history": lambda: lesson_sheet(document(name=""), plan=plan()),
    "name without a space": lambda: lesson_sheet(
        document(), facts=LessonFacts(name="Hohenwaldenburg" * 8, day="2026-11-25"), plan=plan()
    ),
    "no plan": lambda: lesson_sheet(document(), facts=FACTS),
}
CASES = tuple(MADE)
FOOTERS = tuple(f"{TITLES['footer']} {words}" for words in PAGE_WORDS)


@cache
def sheet_of(case: str) -> LessonSheet:
    """Make the sheet of a named case."""
    return MADE[case]()


@cache
def pdf_of(case: str, paper: str) -> bytes:
    """Set the sheet of a named case on paper."""
    sheet = sheet_of(case)
    pictures = {p.view: cropped(p, plain_picture(*p.size_px)) for p in sheet.pictures}
    return lesson_sheet_pdf(sheet, paper=PAPERS[paper], pictures=pictures)


def sentences(sheet: LessonSheet) -> list[str]:
    """Everything a student reads in whole sentences."""
    words = [sheet.explained, *sheet.good, *sheet.cautions, sheet.calm, sheet.open_checks]
    if sheet.change is not None:
        change = sheet.change
        words += [change.what, change.amount, change.why, change.feel, change.check]
    for task in sheet.tasks:
        words += [task.purpose, *task.steps, task.works, task.dose, task.caution]
    words += [sheet.film.when, *sheet.film.how, *sheet.film.last_time]
    if sheet.stand is not None:
        words.append(sheet.stand.explained)
    return [each for each in words if each]


def coach_pdf(sheet: LessonSheet, *, paper: Paper) -> bytes:
    """Set the coach's sheet for the same student."""
    facts = LessonFacts(name=sheet.name, day="2026-11-25")
    return coach_sheet_pdf(coach_sheet(document(), facts=facts, plan=plan()), paper=paper)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", CASES)
def test_a_sheet_has_two_pages_of_the_papers_size(case: str, paper: str) -> None:
    found = pypdfium2.PdfDocument(pdf_of(case, paper))
    wanted = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[paper]
    sizes = np.array([page.get_size() for page in found]) * 25.4 / 72
    assert sizes == pytest.approx(np.array([wanted, wanted]), abs=0.01)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", CASES)
def test_nothing_falls_off_a_page(case: str, paper: str) -> None:
    """What stands last on each page can be read from the file."""
    sheet, (first, second) = sheet_of(case), text_of(pdf_of(case, paper))
    assert "Trail means the other side." in first
    assert "Page 1 of 2" in first
    assert sheet.cautions[-1] in second
    assert "Page 2 of 2" in second
    for page, footer in zip(pypdfium2.PdfDocument(pdf_of(case, paper)), FOOTERS, strict=True):
        # nothing but the footer stands in the lower margin of 15 mm, 42.5 points
        low = page.get_textpage().get_text_bounded(bottom=0, top=41)
        assert " ".join(low.split()) == footer


@pytest.mark.parametrize("of", [lesson_sheet_pdf, coach_pdf])
def test_a_name_without_a_space_stays_within_the_margins(
    of: Callable[..., bytes],
) -> None:
    page = pypdfium2.PdfDocument(of(sheet_of("name without a space"), paper=PAPERS["a4"]))[0]
    letters = page.get_textpage()
    right = max(letters.get_charbox(n)[2] for n in range(letters.count_chars()))
    assert right < (210 - 14 + 0.5) * 72 / 25.4  # the margin is 14 mm


def test_where_pictures_told_nothing_nobody_is_told_that_all_is_well() -> None:
    """To repeat a set-up, or to hear that nothing else must change, is to have been seen."""
    first, second = text_of(pdf_of("everything undecided", "a4"))
    assert "Your pictures can't tell yet" in first
    assert "Take new pictures first." in second
    assert "As soon as you can" in second
    for told in ("just as you did", "Nothing else has to change", "week of practice"):
        assert told not in second
        assert told in text_of(pdf_of("nothing to change", "a4"))[1]
    page = lesson_sheet_html(sheet_of("everything undecided"))
    assert "Take new pictures first." in page
    assert "just as you did" not in page


def test_what_comes_right_with_the_change_is_told_in_words_that_agree() -> None:
    """What follows may be one thing or several: hands, arms, a knee."""
    kept = document()
    first, *rest = kept.advice
    for right, count in ((("hand_gap",), "two"), (("hand_gap", "lead_knee_flex"), "three")):
        told = first.model_copy(update={"measure": "ball_to_toes", "right": right, "amount": 0.05})
        changed = kept.model_copy(update={"advice": (told, *rest)})
        sheet = lesson_sheet(changed, facts=FACTS, plan=plan())
        assert sheet.change is not None
        assert sheet.change.why.endswith(f"too. So you mend {count} things with one change.")
        assert "itself" not in sheet.change.why


def test_a_change_without_a_drill_is_left_to_the_coach_and_not_to_repeating_the_old() -> None:
    kept = document()
    bare = tuple(part.model_copy(update={"drill": None}) for part in kept.advice)
    sheet = lesson_sheet(kept.model_copy(update={"advice": bare}), facts=FACTS, plan=plan())
    assert sheet.change is not None
    assert not sheet.tasks
    for shown in (
        text_of(lesson_sheet_pdf(sheet, paper=PAPERS["a4"]))[1],
        lesson_sheet_html(sheet),
    ):
        assert "just as your coach shows you" in shown
        assert "just as you did" not in shown


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", CASES)
def test_the_first_page_says_what_to_change_first(case: str, paper: str) -> None:
    sheet, (first, _) = sheet_of(case), text_of(pdf_of(case, paper))
    if sheet.change is None:
        assert sheet.calm_title in first
    else:
        for words in (sheet.change.headline, sheet.change.why, sheet.change.check):
            assert words in first
    assert sheet.club in first
    assert sheet.date in first


def test_a_name_in_any_script_stands_on_the_sheet() -> None:
    assert "Zoë Łukasiewicz-Ångström Đặng" in text_of(pdf_of("accented name", "a4"))[0]
    assert LONG.split()[-1] in text_of(pdf_of("long name and much homework", "a4"))[0]
    # letters of Arabic may come out in their joined forms; the word's first letter does not
    arabic = text_of(pdf_of("right-to-left name", "a4"))[0]
    assert re.search(r"[\u0600-\u06ff\ufb50-\ufeff]{3}", arabic)


@pytest.mark.parametrize("case", ["plain", "right-to-left name", "long name and much homework"])
def test_a_sheet_uses_none_but_our_letters(case: str) -> None:
    fonts = {
        each.get_font().get_base_name()
        for page in pypdfium2.PdfDocument(pdf_of(case, "a4"))
        for each in page.get_objects()
        if isinstance(each, pypdfium2.PdfTextObj)
    }
    assert fonts
    assert all("NotoSans" in each for each in fonts)


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_a_coachs_sheet_keeps_the_name_and_the_club_apart_at_its_foot(paper: Paper) -> None:
    """A name from right to left must not pull the club's number to its other side."""
    kept, club = document(), "7-iron"
    kept = kept.model_copy(update={"club": kept.club.model_copy(update={"name": club})})
    sheet = coach_sheet(kept, facts=LessonFacts(name="דניאל בן־דוד"), plan=plan())
    letters = pypdfium2.PdfDocument(coach_sheet_pdf(sheet, paper=paper))[0].get_textpage()
    found = letters.search(club)
    at = [place for place in iter(found.get_next, None) if letters.get_charbox(place[0])[3] < 41]
    assert len(at) == 1
    lefts = [letters.get_charbox(at[0][0] + n)[0] for n in range(len(club))]
    assert np.all(np.diff(lefts) > 0)
    assert lefts[-1] - lefts[0] < 30  # points: nothing stands between its letters


def test_a_sheet_is_tagged_and_its_pictures_are_told() -> None:
    tags = tags_of(pdf_of("plain", "a4"))
    kinds = [kind for kind, _ in tags]
    assert {"H1", "H2", "P", "Table", "Figure"} <= set(kinds)
    told = [alt for kind, alt in tags if kind == "Figure"]
    sheet = sheet_of("plain")
    wanted = [p.alt for p in sheet.pictures] + [d.alt for d in sheet.figures]
    assert sorted(told) == sorted(wanted)


def test_the_same_sheet_is_the_same_bytes() -> None:
    sheet = sheet_of("plain")
    pictures = {p.view: cropped(p, plain_picture(*p.size_px)) for p in sheet.pictures}
    again = lesson_sheet_pdf(sheet, paper=PAPERS["a4"], pictures=pictures)
    assert again == pdf_of("plain", "a4")


@pytest.mark.parametrize("case", CASES)
def test_there_are_never_more_than_three_things_to_do_nor_three_marks(case: str) -> None:
    sheet = sheet_of(case)
    assert len(sheet.tasks) <= MOST_TASKS == 3
    assert sum(picture.marks for picture in sheet.pictures) <= MOST_MARKS == 3
    assert len(sheet.good) <= 3


def test_homework_beyond_three_things_is_said_and_not_dropped_in_silence() -> None:
    sheet = sheet_of("long name and much homework")
    assert len(sheet.tasks) == MOST_TASKS
    assert sheet.more_tasks in text_of(pdf_of("long name and much homework", "a4"))[1]


def test_homework_on_the_changes_own_drill_is_the_same_thing_to_do() -> None:
    drill = next(part.drill for part in document().advice if part.drill is not None)
    given = Homework(words="This one.", dose="Twice a day", due="2026-12-01", drill_id=drill.id)
    sheet = lesson_sheet(document(), facts=LessonFacts(homework=(given,)))
    assert [task.title for task in sheet.tasks] == [drill.title]
    assert dict(facts_of(sheet.tasks[0]))["How often:"] == "Twice a day"
    assert dict(facts_of(sheet.tasks[0]))["Until:"] == "Tuesday 1 December 2026"


@pytest.mark.parametrize("case", CASES)
def test_a_sheet_reads_like_a_text_for_twelve_year_olds(case: str) -> None:
    assert grade(" ".join(sentences(sheet_of(case)))) < 6.0


def test_every_text_to_take_home_reads_like_one_for_twelve_year_olds() -> None:
    for name, words in take_home().items():
        whole = f"{words.good} {words.up.do}. {words.up.feel} {words.down.do}. {words.down.feel} "
        assert grade(whole + words.check) < 6.0, name


@pytest.mark.parametrize("case", CASES)
def test_no_number_stands_without_its_meaning(case: str) -> None:
    """A student sees no degrees, per cents, ranges or ids, and lengths only behind words."""
    sheet = sheet_of(case)
    text = " ".join(text_of(pdf_of(case, "letter")))
    assert not re.search(r"[°%±σ]", text)
    assert not any(name in text for name in MEASURES if "_" in name)
    if sheet.stand is not None:
        assert all(line.by_hand for line in sheet.stand.lines)
    if sheet.change is not None:
        assert re.search(r"(width|widths) \(", sheet.change.amount)


@pytest.mark.parametrize("measure", MEASURES)
@pytest.mark.parametrize("sign", [-1, 1])
def test_every_measure_can_be_the_first_change(measure: str, sign: int) -> None:
    amount = sign * {"m": 0.05, "deg": 8.0, "%": 10.0}[MEASURES[measure].unit.value]
    kept = with_first(document(NEUTRAL), measure, amount=amount)
    change = lesson_sheet(kept, plan=plan()).change
    words = take_home()[measure].way(amount)
    assert change is not None
    assert change.headline == words.do
    assert words.way in change.amount
    assert change.feel == words.feel


def test_inches_are_used_alone_where_they_are_asked_for() -> None:
    text = " ".join(text_of(pdf_of("inches", "a4")))
    assert " in)" in text
    assert " cm" not in text


def test_the_change_is_marked_at_the_body_in_the_picture_that_shows_it() -> None:
    for picture in sheet_of("left-handed, reaching").pictures:
        if picture.change is None:
            continue
        places = np.array(list(picture.landmarks.values()))
        for start in picture.change.now_px:
            assert np.hypot(*(places - start).T).min() < 0.15 * picture.frame.height
            assert picture.frame.contains(start[None]).all()


def test_landmarks_fall_where_the_assessment_drew_them() -> None:
    """The published camera leaves out the lens: what is drawn stays within a hundredth of it."""
    for scene in (NEUTRAL, LEFT_HANDED):
        for picture in lesson_sheet(document(scene)).pictures:
            part = document(scene).pictures[picture.view.value]
            for name, (x, y) in picture.landmarks.items():
                place = part.landmarks.get(name)
                solved = getattr(place, "solved_px", None)
                if solved is not None:
                    assert np.hypot(x - solved[0], y - solved[1]) < 0.01 * part.height_px, name


def test_page_and_paper_say_the_same() -> None:
    sheet = sheet_of("plain")
    page = re.sub(r"<[^>]+>", " ", lesson_sheet_html(sheet))
    page = " ".join(page.replace("&#39;", "'").split())
    paper = " ".join(text_of(pdf_of("plain", "a4")))
    every = sentences(sheet) + [words for _, lead, points, after in cards(sheet)
                                for words in (lead, *points, after) if words]  # fmt: skip
    for words in every:
        assert words in page
        assert words in paper.replace("’", "'"), words


def test_a_page_escapes_what_people_typed() -> None:
    facts = LessonFacts(name="Sam <b>&amp; Co", note="<script>alert(1)</script>")
    page = lesson_sheet_html(lesson_sheet(document(), facts=facts))
    assert "<script" not in page
    assert "Sam &lt;b&gt;&amp;amp; Co" in page


def test_a_picture_that_is_not_here_is_drawn_instead() -> None:
    page = lesson_sheet_html(sheet_of("plain"))
    assert "<image" not in page
    assert page.count('class="sheet-picture"') == 2


def test_what_is_told_as_good_agrees_with_the_plan() -> None:
    kept, wanted = document(), plan()
    for words in lesson_sheet(kept, plan=wanted).good:
        name = next(each for each in MEASURES if take_home()[each].good == words)
        verdicts = {each.measure: each.verdict for each in kept.findings}
        assert verdicts[name] == "inside"


def test_a_near_lesson_takes_the_place_of_filming_alone() -> None:
    near = lesson_sheet(document(), facts=LessonFacts(day="2026-11-25", next_day="2026-12-02"))
    far = lesson_sheet(document(), facts=LessonFacts(day="2026-11-25", next_day="2027-01-20"))
    assert "next lesson" in near.film.when
    assert "Wednesday 2 December 2026" in far.film.when


def test_long_words_are_cut_between_words() -> None:
    cut = clipped("one two three four five", most=12)
    assert cut.startswith("one two …")
    assert clipped("short", most=12) == "short"
