"""Does the advice name the right way, and how far?

Phones are moved and turned each way in front of known set-ups. The advice is then followed to
the letter by another phone, which must be held well enough.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from attrs import evolve

from tests.support.placed import SQUARE, Held, fit_placed
from tests.support.truth import load
from wellset.advise import CameraAdvice, Move, PhoneAdvice, Standing, Way, camera_advice
from wellset.advise.amounts import hand_breadths, steps
from wellset.assess import camera_states
from wellset.figure.views import Hand, View
from wellset.units import UnitSystem

SCENES = ("mid_iron_neutral_21", "mid_iron_left_handed_weight_in_heels_01")
WRONG = {
    "too far right": Held(sideways=0.9, aimed_at_golfer=True),
    "too far left, golfer at the edge": Held(sideways=-0.8),
    "too high": Held(height=1.65, tilt=-14),
    "too low": Held(height=0.3, tilt=14),
    "rolled right side up": Held(roll=8),
    "rolled left side up": Held(roll=-8),
    "turned right": Held(aim=15),
    "turned left": Held(aim=-15),
    "tilted down": Held(tilt=-17),
    "tilted up": Held(tilt=17),
    "too near": Held(distance=1.6, focal_35mm=18),
    "too far": Held(distance=7.5),
    "too small": Held(distance=5.5, width_px=720, height_px=960),
    "everything": Held(height=1.6, distance=4.6, aim=-14, tilt=-15, roll=7, sideways=1.1),
}


@cache
def advice(scene: str, view: View, held: Held) -> CameraAdvice:
    found = fit_placed(scene, {**SQUARE, view: held}, seed=None)
    return camera_advice(camera_states(found), hand=Hand(load(scene)["hand"]))


def phone(scene: str, view: View, held: Held) -> PhoneAdvice:
    return next(p for p in advice(scene, view, held).phones if p.view is view)


def follow(held: Held, move: Move, *, hand: Hand) -> Held:
    """Do what is said, as whoever holds the phone sees left and right."""
    # set-ups of left-handers are mirrored: what is right to them is left there
    right = move.amount * (1 if hand is Hand.RIGHT else -1)
    angle = math.degrees(right)
    tip = math.degrees(move.amount)
    after = {
        Way.RIGHT: evolve(held, sideways=held.sideways + right),
        Way.LEFT: evolve(held, sideways=held.sideways - right),
        Way.NEARER: evolve(held, distance=held.distance - move.amount),
        Way.BACK: evolve(held, distance=held.distance + move.amount),
        Way.UP: evolve(held, height=held.height + move.amount),
        Way.DOWN: evolve(held, height=held.height - move.amount),
        Way.TURN_RIGHT: evolve(held, aim=held.aim + angle),
        Way.TURN_LEFT: evolve(held, aim=held.aim - angle),
        # the top comes back toward the holder: the lens on the far side looks higher
        Way.TIP_BACK: evolve(held, tilt=held.tilt + tip),
        Way.TIP_FORWARD: evolve(held, tilt=held.tilt - tip),
        Way.CLOCKWISE: evolve(held, roll=held.roll - angle),
        Way.COUNTERCLOCKWISE: evolve(held, roll=held.roll + angle),
        Way.ORIGINAL: evolve(held, width_px=1512, height_px=2016),
    }
    return after[move.way]


def straightened(held: Held) -> Held:
    """The same phone with its turn toward the golfer counted into its aim."""
    if not held.aimed_at_golfer:
        return held
    turn = math.degrees(-math.asin(held.sideways / held.distance))
    return evolve(held, aim=held.aim + turn, aimed_at_golfer=False)


@pytest.mark.parametrize("scene", SCENES)
@pytest.mark.parametrize("view", View)
@pytest.mark.parametrize("wrong", WRONG)
def test_a_phone_that_follows_the_advice_is_held_well_enough(
    scene: str, view: View, wrong: str
) -> None:
    held = straightened(WRONG[wrong])
    told = phone(scene, view, held)
    assert told.moves
    for move in told.moves:
        held = follow(held, move, hand=Hand(load(scene)["hand"]))
    again = phone(scene, view, held)
    assert again.sentence == ""
    assert Standing.CHANGE not in {reading.standing for reading in again.readings}
    assert abs(held.sideways) < 0.2
    assert max(abs(held.aim), abs(held.tilt), abs(held.roll)) < 12


@pytest.mark.parametrize("scene", SCENES)
@pytest.mark.parametrize("view", View)
def test_nothing_is_said_of_a_phone_that_is_held_well_enough(scene: str, view: View) -> None:
    told = phone(scene, view, Held(height=1.1, distance=3.4, aim=2, tilt=-5, roll=1, sideways=0.1))
    assert told.moves == ()
    assert told.sentence == ""
    assert told.summary == "The phone was held well enough."
    assert {reading.standing for reading in told.readings} == {Standing.FINE}


def test_the_sentence_says_which_way_and_how_far_in_steps_and_hands() -> None:
    held = Held(sideways=0.75, height=1.6, tilt=-13.5, aim=-13)
    right = phone(SCENES[0], View.FACE_ON, held).sentence
    assert right.startswith("For the next face-on picture: move the phone a step (")
    assert "to the left, away from the target; lower it by eight hand breadths (" in right
    assert "to the golfer's hip height" in right
    assert "to the right, so that it looks straight across the target line" in right
    left = phone(SCENES[1], View.FACE_ON, held).sentence
    assert "to the right, away from the target" in left
    side = phone(SCENES[1], View.DOWN_THE_LINE, held).sentence
    assert "to the right, toward the golfer's heels" in side


def test_readings_of_a_left_hander_are_as_the_holder_saw_them() -> None:
    held = Held(sideways=0.5, aim=6, roll=3)
    seen = [
        {r.name: r.value for r in phone(scene, View.FACE_ON, held).readings} for scene in SCENES
    ]
    for name in ("sideways", "aim", "roll"):
        assert seen[0][name] > 0 > seen[1][name]
        assert seen[0][name] == pytest.approx(-seen[1][name], abs=1.0)


def test_two_heights_that_are_each_fine_but_far_apart_are_named() -> None:
    cameras = {View.FACE_ON: Held(height=0.62), View.DOWN_THE_LINE: Held(height=1.25)}
    states = camera_states(fit_placed(SCENES[0], cameras, seed=None))
    told = camera_advice(states, hand=Hand.RIGHT)
    assert all(p.sentence == "" for p in told.phones)
    assert told.together.startswith("Hold the phone at one height for both pictures: it was 6")
    inches = camera_advice(states, hand=Hand.RIGHT, units=UnitSystem.INCHES)
    assert " in up face-on" in inches.together
    square = camera_states(fit_placed(SCENES[0], seed=None))
    assert camera_advice(square, hand=Hand.RIGHT).together == ""


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (0.05, "half a step"),
        (0.4, "half a step"),
        (0.8, "a step"),
        (1.1, "a step and a half"),
        (1.5, "two steps"),
        (3.4, "four and a half steps"),
        (15.0, "20 steps"),
    ],
)
def test_ways_are_told_in_steps_of_three_quarters_of_a_metre(metres: float, words: str) -> None:
    assert steps(metres) == words


def test_heights_are_told_in_hands_of_eight_and_a_half_centimetres() -> None:
    assert hand_breadths(0.01) == hand_breadths(0.1) == "a hand breadth"
    assert hand_breadths(0.35) == "four hand breadths"
    assert hand_breadths(np.float64(1.3)) == "15 hand breadths"
