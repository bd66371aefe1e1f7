"""Reading and writing a coach's own file."""

from __future__ import annotations

import pytest

from wellset.errors import InputError, StandardsError
from wellset.standards import (
    Decision,
    Shot,
    StandardsFileError,
    StudentScale,
    Yardstick,
    default_standards,
    default_text,
    load_standards,
    to_yaml,
)

HEAD = "schema: wellset.standards/1\nname: Mine\n"
WINDOW = (
    "{low: 1, high: 2, unit: deg, reason: because it is so, source: 'common practice, no source'}"
)
SCALE = StudentScale(
    stance_width=Yardstick(metres=0.40, sd=0.02),
    head_length=Yardstick(metres=0.10),
    shoulder_width=Yardstick(metres=0.38),
    foot_length=Yardstick(metres=0.30, sd=0.01),
)


def problems(text: str) -> dict[str, str]:
    with pytest.raises(StandardsFileError) as caught:
        load_standards(text, where="mine.yaml")
    return {problem.path: problem.text for problem in caught.value.problems}


def one_window(measure: str, window: str) -> str:
    return f"{HEAD}shots:\n  mid iron:\n    {measure}: {window}\n"


def test_the_default_file_written_out_reads_back_the_same() -> None:
    standards = default_standards()
    again = load_standards(to_yaml(standards))
    assert again == standards
    assert again.digest == standards.digest


def test_comments_and_layout_do_not_change_the_digest_but_a_number_does() -> None:
    text = default_text()
    assert load_standards(text + "\n# seen\n").digest == default_standards().digest
    changed = text.replace("low: 48\n", "low: 49\n", 1)
    assert load_standards(changed).digest != default_standards().digest


def test_every_problem_is_reported_at_once_with_its_path() -> None:
    found = problems(
        f"{HEAD}colour: red\ndecision: {{inside_at_least: 0.1, outside_at_most: 0.5}}\nshots:\n"
        "  mid iron:\n"
        "    stance_gap: {low: 3, high: 2, unit: club heads, reason: r, source: s}\n"
        f"    stance_gup: {WINDOW}\n"
        "    forward_bend: {low: 3, unit: cm, reason: r, source: s}\n"
        "    side_bend: {low: three, unit: deg, reason: r, source: s}\n"
        "  flop shot:\n"
        f"    arm_hang: {WINDOW}\n"
    )
    assert set(found) == {
        "colour", "shots.mid iron.stance_gap.low", "shots.mid iron.stance_gup",
        "shots.mid iron.forward_bend.unit", "shots.mid iron.side_bend.low", "shots.flop shot",
    }  # fmt: skip
    assert "crosses" in found["shots.mid iron.stance_gap.low"]
    assert 'did you mean "stance_gap"' in found["shots.mid iron.stance_gup"]
    assert "use deg" in found["shots.mid iron.forward_bend.unit"]
    assert "must be a number, not 'three'" in found["shots.mid iron.side_bend.low"]


def test_the_error_is_one_sentence_that_names_the_file() -> None:
    with pytest.raises(StandardsError, match=r"^mine\.yaml: The standards file has one problem"):
        load_standards(one_window("nothing", WINDOW), where="mine.yaml")


def test_thresholds_that_cross_are_refused() -> None:
    text = f"{HEAD}decision: {{inside_at_least: 0.1, outside_at_most: 0.5}}\nbased_on: default\n"
    assert set(problems(text)) == {"decision"}


@pytest.mark.parametrize(
    ("window", "path", "text"),
    [
        ("{unit: deg, reason: r, source: s}", "", "neither low nor high"),
        ("{low: 2, high: 2, unit: deg, reason: r, source: s}", ".low", "equals"),
        ("{low: .nan, unit: deg, reason: r, source: s}", ".low", "not endless"),
        ("{low: true, unit: deg, reason: r, source: s}", ".low", "must be a number"),
        ("{low: 1, high: 2, target: 9, unit: deg, reason: r, source: s}", ".target", "outside"),
        ("{low: 1, unit: deg, source: s}", ".reason", "is missing"),
        ("{low: 1, unit: deg, reason: r}", ".source", "is missing"),
        ("{low: 1, reason: r, source: s}", ".unit", "is missing"),
        ("{low: 1, unit: deg, weight: 0, reason: r, source: s}", ".weight", "greater than 0"),
        ("{low: 1, unit: deg, lower: 2, reason: r, source: s}", ".lower", "is not a field"),
    ],
)
def test_a_wrong_window_says_what_is_wrong_where(window: str, path: str, text: str) -> None:
    found = problems(one_window("forward_bend", window))
    assert text in found[f"shots.mid iron.forward_bend{path}"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "must start with names and values"),
        ("- a\n- b\n", "must start with names and values"),
        (": : :\n  - [", "line"),
        (f"{HEAD}name: Twice\n", '"name" stands twice'),
        ("x" * 500_000, "500000 characters"),
        ("!!python/object:os.system {}", "constructor"),
        ("[" * 3000, "not YAML that can be read"),
    ],
)
def test_text_that_is_no_standards_file_is_refused_in_words(text: str, message: str) -> None:
    with pytest.raises(StandardsFileError, match=message):
        load_standards(text)


def test_a_file_of_another_schema_is_refused() -> None:
    text = one_window("forward_bend", WINDOW).replace("standards/1", "standards/9")
    assert "this program reads" in problems(text)["schema"]


def test_a_shot_like_another_takes_its_windows_and_changes_only_what_it_states() -> None:
    text = one_window("forward_bend", WINDOW) + (
        "  wedge:\n    like: mid iron\n    forward_bend: {high: 7}\n"
        "  pitch:\n    like: wedge\n    forward_bend:\n"
        f"    arm_hang: {WINDOW}\n"
    )
    shots = load_standards(text).shots
    bend = shots[Shot.WEDGE]["forward_bend"]
    assert (bend.low, bend.high, bend.reason) == (1, 7, "because it is so")
    assert set(shots[Shot.PITCH]) == {"arm_hang"}


def test_a_limit_can_be_opened() -> None:
    text = one_window("forward_bend", WINDOW) + (
        "  wedge:\n    like: mid iron\n    forward_bend: {high: null}\n"
    )
    window = load_standards(text).windows_for("wedge", scale=SCALE)[0]
    assert (window.low, window.high, window.half_width) == (1, None, None)


def test_shots_that_are_like_each_other_in_a_circle_are_refused() -> None:
    text = f"{HEAD}shots:\n  chip: {{like: pitch}}\n  pitch: {{like: chip}}\n"
    assert "in a circle" in problems(text)["shots.pitch.like"]


def test_a_shot_like_one_that_has_no_windows_is_refused() -> None:
    assert "no windows" in problems(f"{HEAD}shots:\n  chip: {{like: putt}}\n")["shots.chip.like"]


def test_a_small_file_based_on_the_default_changes_only_what_it_lists() -> None:
    text = f"{HEAD}based_on: default\nshots:\n  chip:\n    shaft_lean: {{low: 2}}\n"
    mine, default = load_standards(text), default_standards()
    assert mine.shots[Shot.CHIP]["shaft_lean"].low == 2
    assert mine.shots[Shot.CHIP]["lead_share"] == default.shots[Shot.CHIP]["lead_share"]
    assert mine.shots[Shot.PUTT] == default.shots[Shot.PUTT]
    assert mine.stations == default.stations


def test_asking_for_a_shot_that_the_file_lacks_says_how_to_add_it() -> None:
    standards = load_standards(one_window("forward_bend", WINDOW))
    with pytest.raises(InputError, match=r'"Mine" have no windows.*it has mid iron.*like:'):
        standards.for_shot("putt")


@pytest.mark.parametrize(
    ("unit", "metres", "sd"),
    [
        ("m", 2.0, 0.0),
        ("cm", 0.02, 0.0),
        ("in", 0.0508, 0.0),
        ('"% of stance"', 0.008, 0.0004),
        ("club heads", 0.2, 0.0),
        ("shoulder widths", 0.76, 0.0),
        ("foot lengths", 0.6, 0.02),
    ],
)
def test_each_unit_becomes_metres_and_keeps_its_uncertainty(
    unit: str, metres: float, sd: float
) -> None:
    text = one_window("hand_gap", f"{{high: 2, unit: {unit}, reason: r, source: s}}")
    window = load_standards(text).windows_for("mid iron", scale=SCALE)[0]
    assert window.high == pytest.approx(metres)
    assert window.limit_sd == pytest.approx(sd)


@pytest.mark.parametrize(("count", "metres"), [("each side", 0.4), ("in all", 0.2)])
def test_a_coach_chooses_how_club_heads_are_counted(count: str, metres: float) -> None:
    text = one_window("stance_gap", "{high: 2, unit: club heads, reason: r, source: s}")
    standards = load_standards(text.replace("shots:", f"club_heads_count: {count}\nshots:"))
    window = standards.windows_for("mid iron", scale=SCALE)[0]
    assert window.high == pytest.approx(metres)
    assert window.as_written == f"at most 2 club heads {count}"


def test_the_balls_place_reads_the_same_in_percent_of_the_stance() -> None:
    window = '{{low: 40, high: 60, unit: "{}", reason: r, source: s}}'
    plain, stance = (
        load_standards(one_window("ball_position", window.format(unit))).windows_for(
            "mid iron", scale=SCALE
        )[0]
        for unit in ("%", "% of stance")
    )
    assert (plain.low, plain.high) == (stance.low, stance.high) == (40, 60)


def test_the_stance_cannot_be_a_percentage_of_itself() -> None:
    text = one_window("stance_width", '{low: 90, unit: "% of stance", reason: r, source: s}')
    assert "does not fit" in problems(text)["shots.mid iron.stance_width.unit"]


def test_measures_that_the_order_leaves_out_follow_at_its_end() -> None:
    text = one_window("forward_bend", WINDOW) + f"    arm_hang: {WINDOW}\n"
    text = text.replace("shots:", "order: [{station: arms, measures: [arm_hang]}]\nshots:")
    assert [s.measure for s in load_standards(text).for_shot("mid iron")] == [
        "arm_hang", "forward_bend",
    ]  # fmt: skip


def test_a_measure_twice_in_the_order_is_refused() -> None:
    text = one_window("arm_hang", WINDOW).replace(
        "shots:", "order: [{station: arms, measures: [arm_hang, arm_hang]}]\nshots:"
    )
    assert "stands twice" in problems(text)["order.0.measures"]


@pytest.mark.parametrize("metres", [0.0, -0.1, float("nan")])
def test_a_yardstick_without_length_is_refused(metres: float) -> None:
    with pytest.raises(InputError, match="Give a length above zero"):
        Yardstick(metres=metres)


def test_a_negative_uncertainty_of_a_yardstick_is_refused() -> None:
    with pytest.raises(InputError, match="zero or more"):
        Yardstick(metres=1, sd=-0.1)


def test_thresholds_leave_room_for_doubt() -> None:
    with pytest.raises(InputError, match="thresholds"):
        Decision(inside_at_least=0.5, outside_at_most=0.5)
