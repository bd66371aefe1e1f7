"""Drawings of drills agree with the figures they are made from."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from numpy.typing import NDArray

from wellset.advise import Arms, Drawing, Drill, Fault, Prop, Seen, Side, house_book
from wellset.equipment import find_club
from wellset.figure.figure import BUILD_SCALARS
from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.prescribe import Plan
from wellset.reports.drill_pose import posed
from wellset.reports.drill_svg import ARROW_AT, PROPS, draw
from wellset.services.bag_file import BagEntry
from wellset.services.drill_choice import target_of
from wellset.services.student_file import make_student
from wellset.standards import default_standards

Array = NDArray[np.float64]
DRAWINGS = [
    pytest.param(drill, drawing, id=f"{drill.id}-{i}")
    for drill in house_book()
    for i, drawing in enumerate(drill.drawings)
]
MM = 0.1
"""A millimetre in the drawing's unit."""


@cache
def plan(club: str = "7-iron") -> Plan:
    target = target_of(
        make_student(height="178 cm"),
        BagEntry(club=find_club(club)),
        standards=default_standards(),
    )
    assert target is not None
    return target.plan


def svg(drawing: Drawing, *, hand: Hand = Hand.RIGHT, club: str = "7-iron") -> ET.Element:
    drawn = draw(drawing, plan(club), hand=hand)
    return ET.fromstring(str(drawn.target))  # noqa: S314 - our own drawing


def points(element: ET.Element) -> Array:
    numbers = re.findall(r"-?\d+\.\d+", element.get("d", ""))
    return np.array(numbers, dtype=float).reshape(-1, 2)


def named(root: ET.Element, name: str) -> list[ET.Element]:
    return [each for each in root.iter() if name in each.get("class", "").split()]


def body(root: ET.Element, *names: str) -> Array:
    return np.vstack([points(each) for name in names for each in named(root, name)])


LEGS_AND_TRUNK = ("trunk", "lead-thigh", "trail-thigh", "lead-shank", "trail-shank")


def spread(prop: Prop, seen: Seen, **given: object) -> Drawing:
    return Drawing(seen=seen, props={prop: "words"}, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("club", ["7-iron", "driver", "putter"])
def test_the_wall_touches_the_rearmost_point_of_the_body_and_cuts_nothing(
    hand: Hand, club: str
) -> None:
    root = svg(spread(Prop.WALL, Seen.SIDE, arms=Arms.HANG), hand=hand, club=club)
    face = points(named(root, "wall")[0])
    assert face[0, 0] == face[1, 0]  # upright
    rear = 1.0 if hand is Hand.LEFT else -1.0
    outline = body(root, *LEGS_AND_TRUNK)
    assert (rear * outline[:, 0]).max() == pytest.approx(rear * face[0, 0], abs=MM)


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("club", ["7-iron", "driver"])
def test_the_stick_touches_seat_back_and_head_and_cuts_nothing(hand: Hand, club: str) -> None:
    root = svg(spread(Prop.BACK_STICK, Seen.SIDE, arms=Arms.BEHIND), hand=hand, club=club)
    low, high = points(named(root, "back-stick")[0])
    along = (high - low) / np.linalg.norm(high - low)
    across = np.array([-along[1], along[0]])

    def nearest(outline: Array) -> float:
        """Clear gap between the stick's edge and an outline; negative where it cuts."""
        off = (outline - low) @ across
        side = np.sign(np.median(off))
        return float((side * off).min())

    assert nearest(body(root, "lead-thigh", "trail-thigh")) == pytest.approx(0, abs=MM)
    assert nearest(body(root, "trunk")) == pytest.approx(0, abs=MM)
    assert nearest(body(root, "head")) == pytest.approx(0, abs=2 * MM)  # turned by steps


@pytest.mark.parametrize("hand", list(Hand))
def test_the_post_touches_the_lead_hip(hand: Hand) -> None:
    root = svg(spread(Prop.HIP_POST, Seen.FRONT), hand=hand)
    face = points(named(root, "hip-post")[0])
    to_target = -1.0 if hand is Hand.LEFT else 1.0
    hip = -100 * plan().figure["lead_hip"][2]
    outline = body(root, "trunk", "lead-thigh")
    near = outline[np.abs(outline[:, 1] - hip) < 9]
    assert (to_target * near[:, 0]).max() == pytest.approx(to_target * face[0, 0], abs=MM)


PLUMBS = [
    (Prop.ARMPIT_PLUMB, Seen.SIDE, "armpit"),
    (Prop.BUCKLE_PLUMB, Seen.FRONT, "hip"),
    (Prop.SHOULDER_PLUMB, Seen.SIDE, "shoulder"),
]


@pytest.mark.parametrize(("prop", "seen", "stem"), PLUMBS)
def test_a_plumb_line_hangs_straight_down_from_its_point(prop: Prop, seen: Seen, stem: str) -> None:
    line = points(named(svg(spread(prop, seen)), prop.value.replace("_", "-"))[0])
    figure = plan().figure
    top = (figure[f"lead_{stem}"] + figure[f"trail_{stem}"]) / 2
    across = -100 * top[1] if seen is Seen.SIDE else 100 * top[0]
    assert line[:, 0] == pytest.approx(across, abs=MM)
    assert line[0, 1] == pytest.approx(-100 * top[2], abs=MM)
    assert line[1, 1] > line[0, 1]


@pytest.mark.parametrize(
    ("prop", "name"), [(Prop.NOSE_PLUMB, "nose"), (Prop.CHEST_PLUMB, "sternum")]
)
def test_a_hanging_club_begins_at_its_point(prop: Prop, name: str) -> None:
    line = points(named(svg(spread(prop, Seen.FRONT)), prop.value.replace("_", "-"))[0])
    assert line[0] == pytest.approx([100, -100] * plan().figure[name][[0, 2]], abs=MM)
    assert line[1, 0] == line[0, 0]


def test_tees_stand_at_the_inner_edges_of_the_shoes_and_half_way() -> None:
    root = svg(spread(Prop.TEES, Seen.ABOVE))
    x = sorted(float(each.get("cx", "")) for each in named(root, "tee"))
    figure = plan().figure
    half = figure.scalars[BUILD_SCALARS.index("shoe_breadth")] / 2
    # seen from above with the golfer below, a right-hander's target lies to the left
    lead = -100 * (figure["lead_ankle"][0] - half)
    trail = -100 * (figure["trail_ankle"][0] + half)
    assert x == pytest.approx([lead, (lead + trail) / 2, trail], abs=MM)
    gap = 100 * float(MEASURES["stance_gap"].formula(figure.state))
    assert x[2] - x[0] == pytest.approx(gap, abs=MM)


def test_as_many_club_heads_lie_between_the_shoes_as_the_plan_says() -> None:
    heads = named(svg(spread(Prop.CLUB_HEADS, Seen.ABOVE)), "club-heads")
    assert len(heads) == int(np.ceil(plan().floor.gap_club_heads))
    whole = [np.ptp(points(each)[:, 0]) for each in heads[:-1]]
    assert whole == pytest.approx([100 * plan().club.head_length_m] * len(whole), abs=1.5 * MM)


def test_the_stick_at_the_toes_runs_along_the_aim_and_the_balls_square_to_it() -> None:
    toes = points(named(svg(spread(Prop.TOE_STICK, Seen.ABOVE)), "toe-stick")[0])
    ball = points(named(svg(spread(Prop.BALL_STICK, Seen.ABOVE)), "ball-stick")[0])
    assert toes[0, 1] == toes[1, 1]
    assert ball[:, 0] == pytest.approx(0.0)
    shoes = body(svg(spread(Prop.TOE_STICK, Seen.ABOVE)), "lead-shoe", "trail-shoe")
    assert toes[0, 1] < shoes[:, 1].min()


def test_the_fists_fill_the_room_between_grip_and_thigh() -> None:
    bar = points(named(svg(spread(Prop.FIST, Seen.SIDE)), "fist")[0])
    gap = 100 * float(MEASURES["hand_gap"].formula(plan().figure.state))
    assert abs(bar[1, 0] - bar[0, 0]) == pytest.approx(gap, abs=MM)
    assert max(bar[:, 0]) == pytest.approx(-100 * plan().figure["grip_end"][1], abs=MM)


def test_the_loads_are_as_long_as_what_each_foot_carries() -> None:
    bars = {
        side: np.ptp(points(named(svg(spread(Prop.SCALES, Seen.FRONT)), side)[0])[:, 1])
        for side in ("lead", "trail")
    }
    share = float(MEASURES["lead_share"].formula(plan().figure.state))
    assert 100 * bars["lead"] / sum(bars.values()) == pytest.approx(share, abs=0.1)


def test_the_balance_point_stands_under_the_centre_of_mass() -> None:
    mark = points(named(svg(spread(Prop.BALANCE_POINT, Seen.SIDE)), "balance-point")[0])
    centre = np.asarray(plan().figure.state.centre_of_mass)
    assert mark[0, 0] == pytest.approx(-100 * centre[1], abs=MM)


@pytest.mark.parametrize("stem", ["hip", "shoulder"])
def test_a_club_across_the_body_runs_along_its_joints(stem: str) -> None:
    prop = Prop.HIP_CLUB if stem == "hip" else Prop.CHEST_CLUB
    line = points(named(svg(spread(prop, Seen.ABOVE)), prop.value.replace("_", "-"))[0])
    joints = plan().figure[f"lead_{stem}"] - plan().figure[f"trail_{stem}"]
    drawn = line[1] - line[0]
    assert drawn[1] / drawn[0] == pytest.approx(-joints[1] / joints[0], abs=2e-3)


@pytest.mark.parametrize("arms", list(Arms))
def test_posed_arms_keep_the_lengths_of_their_bones_and_move_nothing_else(arms: Arms) -> None:
    figure = plan().figure
    moved = posed(figure, arms)
    for side in ("lead", "trail"):
        for a, b in (("shoulder", "elbow"), ("elbow", "wrist")):
            before = np.linalg.norm(figure[f"{side}_{a}"] - figure[f"{side}_{b}"])
            after = np.linalg.norm(moved[f"{side}_{a}"] - moved[f"{side}_{b}"])
            assert after == pytest.approx(before, abs=1e-9)
    still = ("lead_hip", "trail_knee", "c7", "lead_shoulder", "grip_end", "lead_shoe_toe")
    assert all((moved[name] == figure[name]).all() for name in still)


@pytest.mark.parametrize(("drill", "drawing"), DRAWINGS)
@pytest.mark.parametrize("hand", list(Hand))
def test_every_drawing_of_the_book_can_be_made_and_says_what_it_shows(
    drill: Drill, drawing: Drawing, hand: Hand
) -> None:
    fault = drill.serves[0]
    drawn = draw(drawing, plan(), hand=hand, fault=fault, title=drill.title)
    assert (drawn.fault is not None) == drawing.fault
    root = ET.fromstring(str(drawn.target))  # noqa: S314 - our own drawing
    assert drill.title in root.get("aria-label", "")
    left, top, width, height = map(float, root.get("viewBox", "").split())
    every = np.vstack([points(each) for each in named(root, "body")])
    assert every.min(axis=0)[0] > left
    assert every.max(axis=0)[0] < left + width
    assert top < every.min(axis=0)[1]
    assert every.max(axis=0)[1] < top + height
    for words in drawing.props.values():
        told = " ".join(each.text or "" for each in root.iter() if each.tag.endswith("text"))
        assert words.split()[0] in told if words else True


def test_left_handers_are_the_mirror_image() -> None:
    drawing = Drawing(seen=Seen.SIDE)
    right, left = (body(svg(drawing, hand=hand), "trunk") for hand in (Hand.RIGHT, Hand.LEFT))
    assert np.sort(right[:, 0]) == pytest.approx(np.sort(-left[:, 0]), abs=MM)


def test_every_prop_and_every_measure_can_be_drawn() -> None:
    assert {prop for props in PROPS.values() for prop in props} == set(Prop)
    for seen, props in PROPS.items():
        assert {prop for prop in Prop if seen in prop.views} == set(props)
    assert set(ARROW_AT) == set(MEASURES)


def test_words_beside_a_drawing_are_escaped() -> None:
    drawing = Drawing(seen=Seen.SIDE, props={Prop.WALL: "<b>&"}, caption='"quoted" <i>')
    text = str(draw(drawing, plan(), hand=Hand.RIGHT, title="<script>").target)
    ET.fromstring(text)  # noqa: S314 - our own drawing
    assert "<script>" not in text
    assert "<b>" not in text


def test_the_fault_is_told_in_the_students_words() -> None:
    drawing = Drawing(seen=Seen.SIDE, fault=True)
    fault = Fault(measure="forward_bend", side=Side.LOW)
    drawn = draw(drawing, plan(), hand=Hand.RIGHT, fault=fault)
    assert drawn.fault_caption == "You are standing too tall."
