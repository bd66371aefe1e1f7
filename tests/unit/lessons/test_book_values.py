import re

import pytest

from wellset.errors import InputError
from wellset.lessons import Bag, BagClub, Guardian, Homework, Lesson, StudentCard, day, moment

WHEN = "2026-11-25T10:00:00Z"


def card(**changes: object) -> StudentCard:
    fields = {"id": "a", "file": "{}", "name": "Ada", "created_at": WHEN, "changed_at": WHEN}
    return StudentCard(**{**fields, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["2026-11-25", "2026-11-25T10:00:00", "today", ""])
def test_a_moment_without_universal_time_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="universal time"):
        moment(text)


def test_days_are_written_year_first() -> None:
    assert day("2026-11-25") == "2026-11-25"
    with pytest.raises(InputError, match=re.escape("25.11.2026")):
        day("25.11.2026")


def test_a_name_loses_outer_blanks_and_keeps_every_script() -> None:
    assert card(name="  Ünal Ögmundsdóttir ").name == "Ünal Ögmundsdóttir"
    assert card(name="שרה").name == "שרה"


@pytest.mark.parametrize("name", ["", "   ", "a\nb", "x" * 121])
def test_a_name_that_cannot_stand_on_one_line_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="Cannot use this name"):
        card(name=name)


def test_a_minors_pictures_wait_for_the_guardians_word() -> None:
    guardian = Guardian(name="Bea")
    allowed = Guardian(name="Bea", pictures_allowed_on="2026-11-01")
    with pytest.raises(InputError, match="no guardian has allowed it"):
        card(minor=True).require_pictures_allowed()
    with pytest.raises(InputError, match="no guardian has allowed it"):
        card(minor=True, guardian=guardian).require_pictures_allowed()
    card(minor=True, guardian=allowed).require_pictures_allowed()
    card().require_pictures_allowed()


def test_a_bag_holds_each_club_once_whatever_it_is_called() -> None:
    with pytest.raises(InputError, match="7-iron is in it twice"):
        Bag(student="a", clubs=(BagClub(name="7-iron"), BagClub(name="iron 7")))


def test_a_measured_club_keeps_its_numbers() -> None:
    assert BagClub(name="7i", length_m=0.94).club().length_m == 0.94


def test_a_note_keeps_its_lines_and_loses_strange_ones() -> None:
    lesson = Lesson(
        id="l", student="a", starts_at=WHEN, note="one\r\ntwo \n", created_at=WHEN, changed_at=WHEN
    )
    assert lesson.note == "one\ntwo"
    with pytest.raises(InputError, match="cannot be shown"):
        Homework(words="bell \x07")
