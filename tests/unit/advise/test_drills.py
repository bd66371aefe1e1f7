"""The house drills, and the document they stand in."""

from __future__ import annotations

import itertools
import re
from importlib import resources

import pytest
import yaml
from pydantic import ValidationError

from wellset.advise import (
    ALL_FAULTS,
    BodyLimit,
    Drill,
    Fault,
    Origin,
    Prop,
    Seen,
    Side,
    entry_of,
    house_book,
    read_book,
    reading_age,
    reading_grade,
)
from wellset.advise.reading_level import syllables
from wellset.standards import default_standards

BOOK = house_book()
DRILLS = list(BOOK)
TEXT = resources.files("wellset.advise").joinpath("drills.yaml").read_text("utf-8")
EVERY_DRILL = pytest.mark.parametrize("drill", DRILLS, ids=lambda drill: drill.id)


def sentences(drill: Drill) -> list[str]:
    told = [drill.purpose, *drill.steps, drill.feel, drill.self_check, drill.caution]
    return [each for each in (*told, drill.easier, drill.harder) if each]


def test_every_finding_of_the_default_standards_brings_up_exactly_one_drill() -> None:
    measures = {m for shot in default_standards().shots.values() for m in shot}
    wanted = {Fault(measure=m, side=side) for m in measures for side in Side}
    assert wanted <= set(ALL_FAULTS)
    firsts = [fault for drill in DRILLS for fault in drill.first_for]
    assert set(firsts) == wanted
    assert len(firsts) == len(wanted)


def test_the_book_holds_what_a_coach_can_oversee() -> None:
    assert 25 <= len(DRILLS) <= 40
    assert len({drill.title for drill in DRILLS}) == len(DRILLS)


def test_no_two_drills_are_the_same_in_other_words() -> None:
    def words(drill: Drill) -> set[str]:
        return set(re.findall(r"[a-z]{4,}", " ".join(drill.steps).lower()))

    for one, other in itertools.combinations(DRILLS, 2):
        shared = words(one) & words(other)
        assert len(shared) / len(words(one) | words(other)) < 0.5, (one.id, other.id)
        # two drills may be laid out alike, no more
        assert len(set(one.steps) & set(other.steps)) <= 1, (one.id, other.id)


@EVERY_DRILL
def test_a_child_of_twelve_reads_a_drill_with_ease(drill: Drill) -> None:
    # American grade 6 is read at 11 to 12 years (Kincaid and others 1975)
    assert reading_grade(drill.text()) <= 5.5
    assert reading_age(drill.text()) <= 12
    for step in drill.steps:
        for sentence in re.split(r"(?<=[.?!]) ", step):
            assert len(sentence.split()) <= 24, sentence


@EVERY_DRILL
def test_a_drill_is_whole_and_written_in_finished_sentences(drill: Drill) -> None:
    assert 3 <= len(drill.steps) <= 6
    assert drill.needs
    assert drill.feel
    assert drill.drawings
    for text in sentences(drill):
        assert text[-1] in ".?"
        assert text[0].isupper()
        assert not re.search(r"[{}<>]|TODO|\bNone\b|%|°", text)
        assert not re.search(r"\b(left|right)\b", text, re.IGNORECASE)
        assert not re.search(r"\d", text), "a drill names no numbers: they are in the plan"


@EVERY_DRILL
def test_a_drill_says_to_stop_on_pain_and_whom_to_ask(drill: Drill) -> None:
    assert re.search(r"Stop if .*hurt", drill.caution)
    assert "doctor or physiotherapist" in drill.caution
    assert "Juniors" in drill.caution
    if any("back" in fault.measure or "bend" in fault.measure for fault in drill.first_for):
        assert "Do not force" in drill.caution


@EVERY_DRILL
def test_what_is_taken_instead_helps_the_same_and_suits(drill: Drill) -> None:
    for limit, name in drill.not_with.items():
        instead = BOOK.get(name)
        assert instead is not None
        assert instead.fits(frozenset({limit}))
        assert set(instead.measures) & set(drill.measures)


@EVERY_DRILL
def test_a_drill_written_down_reads_the_same(drill: Drill) -> None:
    text = yaml.safe_dump(
        {"schema": "wellset.drills/1", "name": "Again", "cautions": dict(BOOK.cautions),
         "drills": {**{d.id: entry_of(d) for d in DRILLS}}},
        allow_unicode=True,
    )  # fmt: skip
    assert read_book(text).get(drill.id) == drill


@pytest.mark.parametrize("limit", list(BodyLimit))
def test_a_student_with_a_limit_is_given_a_drill_that_spares_it(limit: BodyLimit) -> None:
    for fault in ALL_FAULTS:
        drill = BOOK.suited(fault, limits=frozenset({limit}))
        if drill is not None:
            assert drill.fits(frozenset({limit}))
            assert fault in drill.serves
    assert BOOK.suited(Fault(measure="forward_bend", side=Side.LOW)) is BOOK.get("hips_to_wall")


def test_a_stiff_back_takes_the_cane_instead_of_the_wall() -> None:
    fault = Fault(measure="forward_bend", side=Side.LOW)
    assert BOOK.suited(fault, limits=frozenset({BodyLimit.BACK})) is BOOK.get("cane_bow")


def test_only_the_back_of_a_very_stiff_student_is_left_to_the_coach() -> None:
    """Where nothing suits, nothing is made up."""
    everything = frozenset(BodyLimit)
    none = {f.name for f in ALL_FAULTS if BOOK.suited(f, limits=everything) is None}
    assert "ball_position low" not in none
    assert all(BOOK.suited(f) is not None for f in ALL_FAULTS)


def test_every_prop_is_used_and_can_be_seen_from_where_it_is_drawn() -> None:
    used = set()
    for drill in DRILLS:
        for drawing in drill.drawings:
            assert all(drawing.seen in prop.views for prop in drawing.props)
            used |= set(drawing.props)
    assert used == set(Prop)
    assert {drawing.seen for drill in DRILLS for drawing in drill.drawings} == set(Seen)


OWN = """
schema: wellset.drills/1
name: Mine
based_on: house
hidden: [eyes_shut]
drills:
  fist_of_room:
    title: Two fists
    purpose: Because.
    first_for: [hand_gap low]
    steps: [Make a fist.]
    check: It fits.
    dose: Daily.
  my_bow:
    title: My bow
    purpose: Because.
    first_for: [forward_bend low]
    steps: [Bow.]
    check: You bowed.
    dose: Daily.
    caution: back
"""


def test_a_coachs_document_changes_adds_and_hides() -> None:
    book = read_book(OWN)
    assert book.get("fist_of_room") in book.drills
    edited, own = book.get("fist_of_room"), book.get("my_bow")
    assert edited is not None
    assert own is not None
    assert (edited.title, edited.origin) == ("Two fists", Origin.EDITED)
    assert (own.origin, own.caution) == (Origin.OWN, BOOK.cautions["back"])
    assert [drill.id for drill in book.hidden] == ["eyes_shut"]
    assert len(book.drills) == len(DRILLS)
    assert book.suited(Fault(measure="forward_bend", side=Side.LOW)) is own


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("forward_bend low", "forward_bend deep", '"forward_bend deep" is no finding'),
        ("caution: back", "caution: spine", "there is no caution spine"),
        ("hidden: [eyes_shut]", "hidden: [nose_shut]", "there is no drill nose_shut"),
        ("steps: [Bow.]", "steps: []", "at least 1 item"),
        ("    dose: Daily.\n    caution", "    caution", "dose"),
        ("check: You bowed.", "check: You bowed.\n    not_with: {back: nothing}", "drill nothing"),
        (
            "check: You bowed.",
            "check: You bowed.\n    not_with: {back: stick_on_back}",
            "doesn't suit a stiff or sore back either",
        ),
        (
            "check: You bowed.",
            "check: You bowed.\n    drawings: [{from: above, props: {wall: ''}}]",
            "can't be drawn from the above",
        ),
    ],
)
def test_a_broken_document_says_what_is_wrong(old: str, new: str, message: str) -> None:
    assert old in OWN
    with pytest.raises((ValidationError, ValueError), match=re.escape(message)):
        read_book(OWN.replace(old, new, 1))


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("club", 1), ("table", 2), ("middle", 2), ("purpose", 2), ("physiotherapist", 6),
        ("easy", 2), ("shoulder", 2), ("touched", 1), ("needed", 2), ("shoes", 1), ("noses", 2),
        ("little", 2), ("quiet", 2), ("doctor", 2), ("before", 2), ("you’re", 1), ("area", 3),
    ],
)  # fmt: skip
def test_syllables_are_counted_as_a_dictionary_does(word: str, count: int) -> None:
    # counts: a dictionary's hyphenation, from memory
    assert abs(syllables(word) - count) <= (1 if count > 3 else 0)


def test_the_grade_is_that_of_the_published_formula() -> None:
    # Kincaid and others 1975: 0.39 x 6 words + 11.8 x 6 syllables / 6 words - 15.59
    assert reading_grade("The cat sat on the mat.") == pytest.approx(0.39 * 6 + 11.8 - 15.59)
    assert reading_grade("") == 0.0
