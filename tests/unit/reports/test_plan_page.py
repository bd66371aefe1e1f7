"""The page of a plan: drawings from the solved points, words beside them."""

from __future__ import annotations

import re

import numpy as np
import pytest
from attrs import evolve

import wellset
from wellset.figure.views import Hand
from wellset.prescribe import ladder_breaks
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.plan_model import plan_report
from wellset.reports.plan_page import plan_html
from wellset.reports.shoe import shoe_outline
from wellset.services.plan_bag import BagPlan
from wellset.units import UnitSystem


@pytest.fixture(scope="module")
def bag() -> BagPlan:
    return wellset.prescribe(height="178 cm", clubs=["driver", "7-iron", "sand wedge"])


def test_the_page_shows_every_club_with_three_drawings(bag: BagPlan) -> None:
    page = plan_html(plan_report(bag))
    assert page.count('class="figure"') == 9
    for name in ("driver", "7-iron", "sand wedge"):
        assert f">{name}" in page
    assert "http" not in re.sub(r"http://www.w3.org/2000/svg", "", page)


def test_the_drawing_from_above_is_in_centimetres(bag: BagPlan) -> None:
    plan = bag.plans[1]
    drawing = figure_svg(plan.figure, Side.ABOVE, hand=Hand.RIGHT, words="w")
    x, y = re.search(r'<circle cx="(-?[\d.]+)" cy="(-?[\d.]+)"', drawing).groups()  # type: ignore[union-attr]
    # from above, with the golfer below, x runs to the left
    assert (-float(x), float(y)) == pytest.approx(100 * plan.figure["ball"][:2], abs=0.006)


@pytest.mark.parametrize("hand", Hand)
def test_from_above_a_right_handers_lead_shoe_lies_to_the_left(bag: BagPlan, hand: Hand) -> None:
    drawing = figure_svg(bag.plans[1].figure, Side.ABOVE, hand=hand, words="w")
    trail, lead = (
        np.mean([float(x) for x in re.findall(r"[ML](-?[\d.]+) ", path)])
        for path in re.findall(r'<path d="([^"]+Z)" fill', drawing)
    )
    assert bool(lead < trail) is (hand is Hand.RIGHT)


def test_a_left_hander_is_drawn_mirrored(bag: BagPlan) -> None:
    plan = bag.plans[0]
    right, left = (
        re.findall(
            r'<circle cx="(-?[\d.]+)"', figure_svg(plan.figure, Side.FRONT, hand=h, words="")
        )
        for h in (Hand.RIGHT, Hand.LEFT)
    )
    assert [float(x) for x in right] == pytest.approx([-float(x) for x in left])


def test_a_shoe_is_drawn_from_heel_to_toe(bag: BagPlan) -> None:
    figure = bag.plans[0].figure
    outline = shoe_outline(figure, "lead")
    heel, toe = figure["lead_shoe_heel"][:2], figure["lead_shoe_toe"][:2]
    along = (toe - heel) / np.hypot(*(toe - heel))
    reach = (outline - heel) @ along
    assert (reach.min(), reach.max()) == pytest.approx((0, np.hypot(*(toe - heel))))


@pytest.mark.parametrize("lead", ["lead", "trail"])
def test_the_shoes_outlines_leave_the_gap_that_is_measured(bag: BagPlan, lead: str) -> None:
    figure = bag.plans[0].figure
    outline, ankle = shoe_outline(figure, lead), figure[f"{lead}_ankle"]
    # the inner edge where it is level with the ankle, read off the outline's sides
    sides = zip(outline, np.roll(outline, -1, axis=0), strict=True)
    level = [
        a[0] + (ankle[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for a, b in sides
        if min(a[1], b[1]) <= ankle[1] < max(a[1], b[1])
    ]
    edge = min(level) if lead == "lead" else max(level)
    breadth = figure.scalars[0]
    inward = -1 if lead == "lead" else 1
    assert edge == pytest.approx(ankle[0] + inward * breadth / 2, abs=5e-4)


def test_inches_are_written_throughout(bag: BagPlan) -> None:
    page = plan_html(plan_report(bag, units=UnitSystem.INCHES))
    assert " cm" not in page.split("<main")[1].replace("centimetres", "")


def test_an_ordinary_bag_has_no_broken_rung(bag: BagPlan) -> None:
    assert ladder_breaks(bag.plans) == ()


def test_a_club_that_goes_the_wrong_way_is_named(bag: BagPlan) -> None:
    driver, iron, wedge = bag.plans
    swapped = (
        evolve(driver, measures=wedge.measures),
        iron,
        evolve(wedge, measures=driver.measures),
    )
    breaks = ladder_breaks(swapped)
    assert {"forward_bend", "ball_to_toes"} <= {each.measure for each in breaks}
    assert "7-iron" in breaks[0].message


def test_the_room_of_the_balls_place_is_a_length_like_its_value(bag: BagPlan) -> None:
    plan = bag.plans[1]
    line = next(f for f in plan_report(bag).clubs[1].floor if f.what.startswith("Ball inside"))
    room_cm = plan.measures["ball_position"].tolerance * plan.measures["stance_width"].value
    assert float(re.findall(r"[\d.]+", line.tolerance)[0]) == pytest.approx(room_cm, abs=0.06)
    assert "cm" in line.tolerance
