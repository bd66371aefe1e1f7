"""Pressure plate files."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.support.pressure import COLUMNS, still_table, written
from wellset.errors import InputError
from wellset.figure.plate import PLATE_VALUES
from wellset.figure.views import Hand
from wellset.services.plate_file import read_plate, read_recording

TEXT = written(still_table())
Edit = Callable[[str], str]


def put(old: str, new: str) -> Edit:
    def edit(text: str) -> str:
        assert old in text
        return text.replace(old, new, 1)

    return edit


def row(number: int, cells: str) -> Edit:
    """Another reading in the place of one, counted from 0."""

    def edit(text: str) -> str:
        lines = text.splitlines()
        lines[lines.index(COLUMNS) + 1 + number] = cells
        return "\n".join(lines)

    return edit


def read(text: str, *, hand: Hand = Hand.RIGHT) -> NDArray[np.float64]:
    return np.asarray(read_plate(text, where="plate.csv", hand=hand).values)


def complaint(text: str) -> str:
    with pytest.raises(InputError) as raised:
        read_plate(text, where="plate.csv", hand=Hand.RIGHT)
    assert raised.value.where == "plate.csv"
    assert raised.value.fix
    return raised.value.sentence


def test_a_file_is_read_in_metre_second_and_shares() -> None:
    found = read_plate(TEXT, where="plate.csv", hand=Hand.RIGHT)
    assert found.values == pytest.approx([0.52, 0.130, 0.004, 0.140, -0.002], abs=0.004)
    assert found.duration == pytest.approx(9.98)
    assert found.rate == pytest.approx(50)
    assert found.name == "plate.csv"
    assert found.sd_of("lead_along") > 0.005


def in_units(length: str, load: str, time: str, *, separator: str = ",") -> str:
    """The same readings in other units."""
    table = still_table()
    table[:, 0] *= {"s": 1, "ms": 1000}[time]
    table[:, [1, 2, 4, 5]] *= {"mm": 1, "cm": 0.1, "m": 0.001, "in": 1 / 25.4}[length]
    table[:, [3, 6]] *= {"N": 1, "kg": 1 / 9.80665, "%": 100 / 750}[load]
    mm = {"mm": 5, "cm": 0.5, "m": 0.005, "in": 0.19685}[length]
    head = [
        "# wellset.plate/1",
        f"# Time: {time}",
        f"# length: {length}",
        f"# load: {load}",
        "# frame: foot",
        f"# place uncertainty: {mm}",
        "# load uncertainty: 2",
        COLUMNS.replace(",", separator),
    ]
    rows = [separator.join(repr(float(v)) for v in line) for line in table]
    if separator == ";":
        rows = [line.replace(".", ",") for line in rows]
    return "\n".join([*head, *rows])


@pytest.mark.parametrize(
    ("length", "load", "time"),
    [("cm", "kg", "ms"), ("m", "%", "s"), ("in", "N", "s"), ("mm", "kg", "ms")],
)
def test_units_do_not_change_what_is_read(length: str, load: str, time: str) -> None:
    plain = read_plate(in_units("mm", "N", "s"), where="a", hand=Hand.RIGHT)
    other = read_plate(in_units(length, load, time), where="a", hand=Hand.RIGHT)
    np.testing.assert_allclose(other.values, plain.values, rtol=1e-9)
    np.testing.assert_allclose(other.sd, plain.sd, rtol=1e-4)


def test_semicolons_and_decimal_commas_are_read_too() -> None:
    text = in_units("mm", "N", "s", separator=";")
    np.testing.assert_allclose(read(text), read(in_units("mm", "N", "s")), rtol=1e-12)


def test_the_left_foot_leads_for_a_right_hander_and_trails_for_a_left_hander() -> None:
    sided = TEXT.replace("lead_", "left_").replace("trail_", "right_")
    np.testing.assert_allclose(read(sided), read(TEXT))
    share, *places = read(sided, hand=Hand.LEFT)
    assert share == pytest.approx(1 - read(TEXT)[0])
    np.testing.assert_allclose(places, read(TEXT)[[3, 4, 1, 2]])


def on_a_plate(turn: float, *, mirrored: bool, shift: tuple[float, float] = (210, -35)) -> str:
    """The same readings in one frame for both feet, which stand 400 mm apart and turned out."""
    table = still_table()
    ends, columns = {}, table.copy()
    for first, side, x, flare in ((1, "lead", 200, 0.3), (4, "trail", -200, -0.1)):
        u = np.array([np.sin(flare), -np.cos(flare)])
        outward = np.array([-u[1], u[0]]) * (1 if side == "lead" else -1)
        heel = np.array([x, 900.0])
        at = heel + table[:, [first]] * u + table[:, [first + 1]] * outward
        rotate = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
        flip = np.array([1, -1 if mirrored else 1])
        columns[:, [first, first + 1]] = (at @ rotate.T) * flip + shift
        ends[side] = [((p @ rotate.T) * flip + shift) for p in (heel, heel + 290 * u)]
    text = written(columns)
    lines = [
        f"# {side} {name}: {p[0]:.4f}, {p[1]:.4f}"
        for side, pair in ends.items()
        for name, p in zip(("heel", "toe"), pair, strict=True)
    ]
    return text.replace("# frame: foot", "\n".join(["# frame: plate", *lines]))


@settings(max_examples=20, deadline=None)
@given(turn=st.floats(-3, 3), mirrored=st.booleans(), x=st.floats(-900, 900))
def test_a_plates_own_frame_may_lie_and_turn_as_it_likes(
    turn: float, mirrored: bool, x: float
) -> None:
    found = read(on_a_plate(turn, mirrored=mirrored, shift=(x, 12.0)))
    np.testing.assert_allclose(found, read(TEXT), atol=2e-6)


def test_only_the_still_part_that_is_named_is_read() -> None:
    text = put("# frame: foot", "# frame: foot\n# still: 2.0 to 7.5")(TEXT)
    found = read_recording(text, where="plate.csv", hand=Hand.RIGHT)
    assert (found.time[0], found.time[-1]) == pytest.approx((2.0, 7.5))


def test_lines_without_anything_are_passed_over() -> None:
    np.testing.assert_allclose(read(TEXT.replace("\n0.1", "\n\n,,,,,,\n0.1", 1)), read(TEXT))


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (put("# wellset.plate/1\n", ""), "first line is not `# wellset.plate/1`"),
        (put("# length: mm", "# length: feet"), "length is 'feet'; it must be mm or cm"),
        (put("# load: N\n", ""), "`# load:` is missing (the unit of load: N, kg or %)"),
        (put("# place uncertainty: 5.0 mm\n", ""), "5 mm if nothing is known"),
        (put("uncertainty: 5.0 mm", "uncertainty: 5.0 cm"), "it must be a number in mm"),
        (put("uncertainty: 5.0 mm", "uncertainty: 0"), "must lie between 0 and 50 mm"),
        (put("uncertainty: 2.0 %", "uncertainty: 80 %"), "between 0 and 25 %"),
        (put("# note", "# zero"), "the line `# zero:` is not known"),
        (put("frame: foot", "frame: shoe"), "it must be foot or plate"),
        (put("frame: foot", "frame: plate"), "`# left heel:` is missing"),
        (put("# frame: foot", "# frame: foot\n# still: 5 to 2"), "ends before it begins"),
        (put("# frame: foot", "# frame: foot\n# still: later"), "it must be two numbers"),
        (put("# frame: foot", "# frame: foot\n# still: 60 to 70"), "they go from 0.0 to 10.0 s"),
        (put("lead_load", "lead_weight"), "its columns are time, lead_x, lead_y, lead_weight"),
        (row(3, "0.06,1,2,oops,4,5,6"), "line 13: lead_load 'oops' is no number"),
        (row(3, "0.06,1,2,3,4,5"), "line 13 has 6 values for 7 columns"),
        (row(3, "0.06,1,2,nan,4,5,6"), "lead_load 'nan' is no number"),
        (row(3, "0.06,1,2,-3,4,5,6"), "lead_load is below nothing"),
        (row(3, "0.01,130,4,390,140,-2,360"), "0.04 is followed by 0.01"),
        (put("# load: N", "# load: kg"), "both feet together carry 750 kg"),
        (put("# load: N", "# load: %"), "carry 750 % of the body's weight"),
        (lambda text: text[: text.index("time,lead")], "it has no columns and no readings"),
        (lambda text: text[: text.index("\n0.000")], "it holds no readings"),
        (lambda _: "", "first line is not"),
        (put("# time: s", "# time: ms"), "it lasts 0.0 s"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(edit: Edit, said: str) -> None:
    assert said in complaint(edit(TEXT))


def test_many_bad_rows_are_counted_and_the_first_three_told() -> None:
    text = TEXT
    for number in range(2, 9):
        text = row(number, "x,1,2,3,4,5,6")(text)
    said = complaint(text)
    assert said.count("is no number") == 3
    assert "and 4 more" in said


def test_everything_wrong_with_the_head_is_said_at_once() -> None:
    text = put("# length: mm", "# length: ell")(put("# load: N", "# load: stone")(TEXT))
    said = complaint(text)
    assert "ell" in said
    assert "stone" in said


def test_feet_are_called_alike_in_head_and_columns() -> None:
    text = on_a_plate(0.0, mirrored=False)
    sided = text.replace("lead_", "left_").replace("trail_", "right_")
    assert "Call the feet" in complaint(sided)


def test_a_shoe_a_metre_long_is_refused() -> None:
    text = on_a_plate(0.0, mirrored=False)
    start = text.index("# lead toe:")
    text = text[:start] + "# lead toe: 2000, 0" + text[text.index("\n", start) :]
    assert "the lead shoe would be" in complaint(text)


def test_no_quiet_standing_is_told_with_what_to_do() -> None:
    table = still_table()
    table[:, 1] += 60 * np.sin(table[:, 0] * 5)
    said = complaint(written(table))
    assert "no quiet standing" in said
    assert "Record again" in said


def test_the_five_values_have_names_in_order() -> None:
    found = read_plate(TEXT, where="plate.csv", hand=Hand.RIGHT)
    assert [found.value(name) for name in PLATE_VALUES] == list(found.values)
