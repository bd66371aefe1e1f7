"""Golfers at address: do they stand as asked, and are the labels where they belong?"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from training.bodies import store
from training.golfers import pool
from training.golfers.address import UNSOLVED, Address, Stance, solve
from training.golfers.clothes.outfit import random_outfit
from training.golfers.clubs import BALL_RADIUS_M, random_club
from training.golfers.figure import Figure
from training.golfers.filling import write_file
from training.golfers.make import random_golfer
from training.golfers.people import random_figure
from training.golfers.setup import FAULTS, SetUp, neutral, random_setup

TWO = Path(__file__).parents[1] / "data" / "training" / "two_bodies.npz"


@pytest.fixture(scope="module")
def bodies() -> store.Bodies:
    return store.load(TWO)


@pytest.fixture(scope="module")
def address(bodies: store.Bodies) -> Address:
    rng = np.random.default_rng(2)
    figure = random_figure(bodies, rng)
    club = random_club(rng, height_m=figure.height_m, kind="mid_iron")
    return solve(
        Stance(figure=figure, club=club, setup=neutral("mid_iron", height_m=figure.height_m))
    )


@pytest.fixture(scope="module")
def golfers(bodies: store.Bodies) -> list[pool.Golfer]:
    return [random_golfer(bodies, rng=np.random.default_rng([8, i])) for i in range(4)]


def at(golfer: pool.Golfer, name: str) -> np.ndarray:
    return np.asarray(golfer.landmarks_m[pool.LANDMARKS.index(name)], dtype=float)


def test_an_address_is_the_set_up_that_was_asked_for(address: Address) -> None:
    pose, s = address.pose, address.stance.setup
    hips = (pose.joint("upperleg01.L") + pose.joint("upperleg01.R")) / 2
    trunk = pose.place("C7") - hips
    assert np.degrees(np.arctan2(-trunk[1], trunk[2])) == pytest.approx(s.trunk_bend_deg, abs=0.3)
    line = pose.joint("upperarm01.L") - pose.joint("upperarm01.R")
    tilt = np.degrees(np.arctan2(line[2], line[0]))
    assert tilt == pytest.approx(s.shoulder_tilt_deg, abs=0.3)
    feet = pose.joint("foot.L") - pose.joint("foot.R")
    assert np.linalg.norm(feet) == pytest.approx(s.stance_m, abs=1e-6)


def test_weight_toward_the_toes_moves_the_centre_of_mass_toward_the_ball(
    address: Address,
) -> None:
    stance = address.stance
    usual = neutral("mid_iron", height_m=stance.figure.height_m)
    forward = solve(
        Stance(figure=stance.figure, club=stance.club, setup=_with(usual, weight_toe_percent=68.0))
    )

    def ahead_of_ankles(a: Address) -> float:
        return float(a.pose.joint("foot.L")[1] - a.pose.centre_of_mass[1])

    assert ahead_of_ankles(forward) > ahead_of_ankles(address) + 0.02


def _with(setup: SetUp, **changes: float) -> SetUp:
    from attrs import evolve  # noqa: PLC0415

    return evolve(setup, **changes)


def test_a_lead_arm_asked_to_be_straight_is_straighter_than_the_trail_arm(
    address: Address,
) -> None:
    stance = address.stance
    taught = _with(stance.setup, arm_extension=0.99, lead_over_trail=0.02)
    pose = solve(Stance(figure=stance.figure, club=stance.club, setup=taught)).pose

    def bend_deg(side: str) -> float:
        names = ("upperarm01", "lowerarm01", "wrist")
        shoulder, elbow, wrist = (pose.joint(f"{name}.{side}") for name in names)
        a, b = elbow - shoulder, wrist - elbow
        return float(np.degrees(np.arccos(a @ b / np.linalg.norm(a) / np.linalg.norm(b))))

    assert bend_deg("L") < 18 < bend_deg("R")


def test_both_hands_are_on_the_handle_the_lead_hand_nearer_its_end(address: Address) -> None:
    club = address.club
    along = {}
    for side in ("L", "R"):
        knuckle = address.pose.joint(f"finger3-1.{side}")
        along[side] = float((knuckle - club.butt) @ club.along)
        off = np.linalg.norm(knuckle - club.butt - along[side] * club.along)
        assert off < 0.045
    assert 0 < along["L"] < along["R"] < 0.25


def test_the_club_is_soled_and_the_ball_lies_over_the_origin(address: Address) -> None:
    assert address.club.sole[2] == pytest.approx(0, abs=1e-9)
    assert np.linalg.norm(address.club.sole[:2]) < 0.1


def test_feet_are_turned_out_by_the_flares(address: Address) -> None:
    s = address.stance.setup
    for side, sign, flare in (("L", 1, s.lead_flare_deg), ("R", -1, s.trail_flare_deg)):
        foot = address.pose.place(f"toe.{side}") - address.pose.place(f"heel.{side}")
        assert sign * np.degrees(np.arctan2(foot[0], -foot[1])) == pytest.approx(flare, abs=1.0)


def test_every_random_set_up_can_be_solved_or_is_known_not_to_be(bodies: store.Bodies) -> None:
    solved = 0
    for i in range(8):
        rng = np.random.default_rng([4, i])
        figure = random_figure(bodies, rng)
        club = random_club(rng, height_m=figure.height_m)
        setup = random_setup(rng, club=club, height_m=figure.height_m)
        solved += solve(Stance(figure=figure, club=club, setup=setup)).misfit < UNSOLVED
    assert solved >= 6


def test_faults_name_only_numbers_that_a_set_up_has() -> None:
    known = set(SetUp.__annotations__) | {"stance_factor"}
    assert {name for fault in FAULTS.values() for name in fault} <= known


def test_labels_stand_on_the_golfer_that_they_describe(golfers: list[pool.Golfer]) -> None:
    for golfer in golfers:
        assert golfer.known.all() or not golfer.at_address
        shoes = golfer.vertices_m[np.unique(golfer.faces[_of_class(golfer, "shoe", "sole")])]
        for name in ("shoe_toe_left", "shoe_heel_right"):
            gaps = np.linalg.norm(shoes - at(golfer, name), axis=1)
            assert gaps.min() < 0.03


def test_points_of_the_back_lie_on_the_clothes_not_under_them(golfers: list[pool.Golfer]) -> None:
    for golfer in golfers:
        cloth = golfer.vertices_m[
            np.unique(golfer.faces[_of_class(golfer, "shirt", "shirt2", "bottom", "belt")])
        ]
        for name in ("T8_cloth", "T12L1_cloth"):
            assert np.linalg.norm(cloth - at(golfer, name), axis=1).min() < 0.02


def _of_class(golfer: pool.Golfer, *names: str) -> np.ndarray:
    return np.isin(golfer.classes, [pool.CLASSES.index(name) for name in names])


def test_at_address_the_ball_is_at_the_origin_and_the_head_beside_it(
    golfers: list[pool.Golfer],
) -> None:
    for golfer in (g for g in golfers if g.at_address):
        ball = at(golfer, "ball")
        assert np.allclose(ball[:2], 0)
        assert ball[2] >= BALL_RADIUS_M - 1e-6
        assert np.linalg.norm(at(golfer, "club_head") - ball) < 0.15
        assert at(golfer, "shaft_end")[2] == pytest.approx(0, abs=2e-3)  # soled


def test_everything_named_is_in_the_lists_of_the_format(golfers: list[pool.Golfer]) -> None:
    for golfer in golfers:
        assert golfer.kind in pool.KINDS
        assert set(golfer.garments) <= set(pool.GARMENTS)
    rng = np.random.default_rng(1)
    worn = {word for i in range(300) for word in random_outfit(rng, female=i % 2 == 0).words}
    assert worn == set(pool.GARMENTS)


def test_cloth_faces_outward(golfers: list[pool.Golfer]) -> None:
    # the pictures blow clothes up along their normals, so an inside-out skirt would shrink
    for golfer in golfers:
        for name in ("shirt", "bottom"):
            faces = golfer.faces[_of_class(golfer, name)]
            if len(faces) == 0:
                continue
            V = golfer.vertices_m
            a, b, c = (V[faces[:, k]] for k in range(3))
            normal = np.cross(b - a, c - a)
            middle = (a + b + c) / 3
            flow = np.einsum("ij,ij->i", normal, middle - middle.mean(0)).sum()
            assert flow > 0


def test_the_same_seed_gives_the_same_bytes(tmp_path: Path) -> None:
    made = []
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        made.append(write_file(6, bodies_path=TWO, seed=3, folder=tmp_path / name))
    assert made[0].read_bytes() == made[1].read_bytes()


def test_proportions_differ_but_both_sides_stay_alike(bodies: store.Bodies) -> None:
    rng = np.random.default_rng(3)

    def thigh(figure: Figure, side: str) -> float:
        knee, hip = figure.head(f"lowerleg01.{side}"), figure.head(f"upperleg01.{side}")
        return float(np.linalg.norm(knee - hip)) / figure.height_m

    figures = [random_figure(bodies, rng) for _ in range(12)]
    shares = [thigh(figure, "L") for figure in figures]
    assert np.std(shares) / np.mean(shares) > 0.01
    np.testing.assert_allclose(shares, [thigh(f, "R") for f in figures], rtol=2e-3)


@pytest.mark.slow
def test_the_command_fills_a_folder(tmp_path: Path) -> None:
    words = ["--bodies", str(TWO), "--count", "6", "--seed", "2", "--workers", "1"]
    subprocess.run(
        [sys.executable, "-m", "training.golfers", *words, "--out", str(tmp_path)],
        check=True,
        cwd=Path(__file__).parents[2],
        capture_output=True,
    )
    assert len(pool.load(tmp_path / "2_000000.npz")) == 6
