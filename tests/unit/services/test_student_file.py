"""The student file: who stands there, and what the tape says."""

from __future__ import annotations

import pytest

from wellset.body import Sex
from wellset.errors import InputError
from wellset.figure.views import Hand
from wellset.services.student_file import make_student

HEAD = "schema: wellset.student/1\n"


def refusal(text: str, *, height: str | None = None) -> str:
    with pytest.raises(InputError) as caught:
        make_student(height=height, file_text=text, where="ann.yaml")
    assert caught.value.where == "ann.yaml"
    return caught.value.why


def test_a_height_alone_makes_a_student() -> None:
    student = make_student(height="5 ft 10 in")
    assert student.build.stature == pytest.approx(1.778)
    assert (student.name, student.hand) == ("", None)


def test_everything_in_the_file_is_used() -> None:
    text = (
        f"{HEAD}name: Ann Moor\nheight: 172 cm\nsex: woman\nhand: left\nweight: 64 kg\n"
        "tape: {arm_length: 57 cm, shoe_length: 27 cm}\n"
    )
    student = make_student(height=None, file_text=text)
    build = student.build
    assert (student.name, student.hand, build.sex) == ("Ann Moor", Hand.LEFT, Sex.WOMEN)
    assert (build.stature, build.mass) == pytest.approx((1.72, 64))
    assert (build.arm_length, build.shoe_length) == pytest.approx((0.57, 0.27))


def test_the_height_typed_wins_over_the_files() -> None:
    student = make_student(height="180 cm", file_text=f"{HEAD}height: 172 cm\n")
    assert student.build.stature == pytest.approx(1.80)


def test_the_file_needs_no_height_when_one_is_typed() -> None:
    assert make_student(height="180 cm", file_text=HEAD).build.stature == pytest.approx(1.80)


def test_no_height_at_all_says_where_to_give_it() -> None:
    with pytest.raises(InputError, match=r"height is missing.*--height"):
        make_student(height=None)
    assert "--height" in refusal(HEAD)


def test_every_mistake_is_named_at_once() -> None:
    why = refusal(
        "name: Ann\nweight: 80\nshoes: 3\nsex: cat\nhand: both\n"
        "tape: {ear: 3 cm, arm_length: 70, span: long}\n"
    )
    for path in (
        "schema: this field is missing",
        "height: it is missing",
        "weight: it has no unit",
        "shoes: this field is not known",
        "sex: ",
        "hand: ",
        "tape.ear: there is no such tape measure",
        "tape.arm_length: it has no unit",
        "tape.span: it is not a number",
    ):
        assert path in why


def test_a_number_without_unit_is_not_guessed() -> None:
    assert "height: it has no unit" in refusal(f"{HEAD}height: 178\n")


def test_an_unknown_tape_measure_is_answered_with_the_known_ones() -> None:
    assert "arm_length, hand_length" in refusal(f"{HEAD}height: 1.7 m\ntape: {{arm: 60 cm}}\n")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "fields with names are expected"),
        ("- a\n", "fields with names are expected"),
        ("a: [\n", "line 2 cannot be read"),
        ("a: b: c\n", "line 1 cannot be read"),
        ("born: 2024-13-45\n", "a date or number that is none"),
        (f"{HEAD}height: 178 cm\ntape: [1]\n", "tape: fields with names"),
        ("!!python/object/apply:os.getcwd []\n", "line 1 cannot be read"),
        (f'{HEAD}name: "A\\e[2J"\n', "name: must be on one line"),
        (f"schema: wellset.student/2\nname: {'x' * 121}\n", "schema: .*wellset.student/1"),
    ],
    ids=[
        "empty",
        "list",
        "open",
        "two colons",
        "no date",
        "tape list",
        "code",
        "escape",
        "other schema",
    ],
)
def test_text_that_is_no_student_file_is_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        make_student(height="178 cm", file_text=text, where="ann.yaml")


@pytest.mark.parametrize("height", ["17 cm", "5 m"])
def test_a_height_no_golfer_has_is_refused_with_the_limits(height: str) -> None:
    with pytest.raises(InputError, match="between 100 and 230 cm"):
        make_student(height=None, file_text=f"{HEAD}height: {height}\n")
