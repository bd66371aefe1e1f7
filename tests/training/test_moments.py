"""Golfers who are not at address: do they look like what they are called?"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from training.bodies import store
from training.golfers import pool
from training.golfers.address import Address, Stance, solve
from training.golfers.clubs import random_club
from training.golfers.free import FREE
from training.golfers.make import CHANCES
from training.golfers.moment import Moment
from training.golfers.people import random_figure
from training.golfers.setup import neutral
from training.golfers.swing import swung

TWO = Path(__file__).parents[1] / "data" / "training" / "two_bodies.npz"
SWINGS = ("waggle", "takeaway", "top", "finish")


@pytest.fixture(scope="module")
def bodies() -> store.Bodies:
    return store.load(TWO)


@pytest.fixture(scope="module")
def address(bodies: store.Bodies) -> Address:
    rng = np.random.default_rng(6)
    figure = random_figure(bodies, rng)
    club = random_club(rng, height_m=figure.height_m, kind="mid_iron")
    setup = neutral("mid_iron", height_m=figure.height_m)
    return solve(Stance(figure=figure, club=club, setup=setup))


def moments(kind: str, *, bodies: store.Bodies, address: Address) -> list[Moment]:
    made = []
    for i in range(3):
        rng = np.random.default_rng([9, i])
        if kind in FREE:
            figure = random_figure(bodies, rng)
            club = random_club(rng, height_m=figure.height_m)
            made.append(FREE[kind](figure, club=club, rng=rng))
        else:
            made.append(swung(address, kind=kind, rng=rng))
    return made


def test_every_kind_is_drawn_and_four_in_five_golfers_are_at_address() -> None:
    assert set(CHANCES) == set(pool.KINDS)
    assert sum(CHANCES.values()) == pytest.approx(1)
    assert CHANCES["address"] == 0.8


@pytest.mark.parametrize("kind", [*FREE, *SWINGS])
def test_nobody_floats_or_sinks_into_the_ground(
    kind: str, bodies: store.Bodies, address: Address
) -> None:
    for moment in moments(kind, bodies=bodies, address=address):
        skin = moment.pose.vertices[moment.pose.figure.on_skin]
        assert -0.04 < skin[:, 2].min() < 0.04  # bare soles stand in shoes


@pytest.mark.parametrize("kind", SWINGS)
def test_both_hands_stay_on_the_club_through_the_swing(
    kind: str, bodies: store.Bodies, address: Address
) -> None:
    for moment in moments(kind, bodies=bodies, address=address):
        assert moment.club is not None
        for side in ("L", "R"):
            knuckle = moment.pose.joint(f"finger3-1.{side}") - moment.club.butt
            along = float(knuckle @ moment.club.along)
            assert np.linalg.norm(knuckle - along * moment.club.along) < 0.06
            assert -0.02 < along < 0.3


def test_a_waggled_club_is_off_the_ball(bodies: store.Bodies, address: Address) -> None:
    for moment in moments("waggle", bodies=bodies, address=address):
        assert moment.club is not None
        assert np.linalg.norm(moment.club.sole) > 0.15


def test_at_the_top_the_hands_are_above_the_hips_and_behind_the_ball(
    bodies: store.Bodies, address: Address
) -> None:
    for moment in moments("top", bodies=bodies, address=address):
        hands, hips = moment.pose.joint("wrist.L"), moment.pose.joint("upperleg01.R")
        assert hands[2] > hips[2] + 0.3
        assert hands[0] < hips[0] + 0.25


def test_a_golfer_picking_up_has_a_hand_near_the_ground(
    bodies: store.Bodies, address: Address
) -> None:
    for moment in moments("picking_up_ball", bodies=bodies, address=address):
        hands = [moment.pose.joint(f"finger3-3.{side}")[2] for side in ("L", "R")]
        assert min(hands) < 0.45


def test_hands_on_hips_are_beside_the_waist(bodies: store.Bodies, address: Address) -> None:
    for moment in moments("hands_on_hips", bodies=bodies, address=address):
        waist = moment.pose.joint("spine05")
        gaps = [np.linalg.norm(moment.pose.joint(f"wrist.{side}") - waist) for side in ("L", "R")]
        assert min(gaps) < 0.3
