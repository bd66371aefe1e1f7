"""How to hold the phone next time: which way, and how far."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from attrs import evolve, frozen

from wellset.advise.amounts import angle_words, hand_breadths, steps
from wellset.advise.camera_words import QUANTITIES, QuantityName, Way, camera_words
from wellset.advise.conformity import probability_inside
from wellset.advise.display import quantity
from wellset.assess import CameraState, CameraValue
from wellset.figure.views import Hand, View
from wellset.measures import Unit
from wellset.units import UnitSystem, degrees

# What is good enough. On simulated pictures the geometry is solved for however a phone is
# held; what a bad place costs is wider ranges. Within these limits no measure's standard
# uncertainty grows by more than a tenth (sideways) or a third (height, distance). Tilt and
# roll cost nothing there; their limits stay near what the landmark network has seen.
BEARING_LIMIT: Final = math.radians(8.0)
AIM_LIMIT: Final = math.radians(10.0)
TILT_LIMIT: Final = math.radians(12.0)
ROLL_LIMIT: Final = math.radians(4.0)
OVER_HIPS_M: Final = (-0.40, 0.45)
DISTANCE_M: Final = (2.1, 6.0)
WANTED_DISTANCE_M: Final = (2.5, 4.0)
BACK_TO_M: Final = 3.0
LEAST_GOLFER_PX: Final = 300.0
"""The landmark network looks at a golfer made 225 pixels high; a third more leaves room for
blur and compression."""
WANTED_SHARE: Final = 0.65
"""Share of the picture's height that the golfer should fill (common practice, no source)."""
LEAST_MOVE_M: Final = 0.3
HEIGHTS_APART_M: Final = 0.35
SURE: Final = 0.8
"""Probability from which a phone counts as well, or as badly, held."""


class Standing(StrEnum):
    """Whether one quantity of a camera is good enough."""

    FINE = "fine"
    CHANGE = "change"
    UNSURE = "unsure"


@frozen(kw_only=True)
class Move:
    """One thing to do with the phone; ``amount`` in metre or radian, 0 without one."""

    way: Way
    amount: float
    words: str


@frozen(kw_only=True)
class CameraReading:
    """One quantity of a camera, as whoever held it would say it.

    Parameters
    ----------
    name : str
        ``height``, ``distance``, ``sideways``, ``aim``, ``tilt`` or ``roll``.
    title, sign : str
        In words, and what the number means or what ``+`` is.
    value, sd : float
        In `unit`; left and right as they were, also for a left-hander.
    unit : Unit
    good : (float, float)
        From where to where is good enough.
    standing : Standing
    """

    name: QuantityName
    title: str
    sign: str
    value: float
    sd: float
    unit: Unit
    good: tuple[float, float]
    standing: Standing


@frozen(kw_only=True)
class PhoneAdvice:
    """How one phone was held, and what to do about it next time.

    ``sentence`` is empty when there is nothing to do; ``summary`` never is.
    """

    view: View
    readings: tuple[CameraReading, ...]
    moves: tuple[Move, ...]
    sentence: str
    summary: str


@frozen(kw_only=True)
class CameraAdvice:
    """Each phone, and what to say about both together (empty when nothing)."""

    phones: tuple[PhoneAdvice, ...]
    together: str


def camera_advice(
    states: Mapping[View, CameraState],
    *,
    hand: Hand,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> CameraAdvice:
    """What to say about how the phones were held.

    Parameters
    ----------
    states : mapping of View to CameraState
        From :func:`wellset.assess.camera_states`.
    hand : Hand
        Left-handers were mirrored; left and right are turned back for them.
    units : UnitSystem
    """
    taken = {view: as_taken(state, hand) for view, state in states.items()}
    phones = tuple(_phone(state, hand=hand, units=units) for state in taken.values())
    return CameraAdvice(phones=phones, together=_together(taken, phones=phones, units=units))


def as_taken(state: CameraState, hand: Hand, /) -> CameraState:
    """Left and right as whoever held the phone saw them."""
    if hand is Hand.RIGHT:
        return state

    def turned(one: CameraValue) -> CameraValue:
        return evolve(one, value=-one.value)

    return evolve(
        state,
        aim=turned(state.aim),
        roll=turned(state.roll),
        sideways=turned(state.sideways),
        bearing=turned(state.bearing),
    )


def _standing(one: CameraValue, *, low: float, high: float) -> Standing:
    inside = probability_inside(one.value, sd=one.sd, low=low, high=high)
    if inside >= SURE:
        return Standing.FINE
    return Standing.CHANGE if inside <= 1 - SURE else Standing.UNSURE


def limits(state: CameraState, /) -> Mapping[QuantityName, tuple[float, float]]:
    """From where to where each quantity is good enough for this golfer, metre and radian."""
    off = state.distance.value * math.tan(BEARING_LIMIT)
    return {
        "height": (state.hip_height + OVER_HIPS_M[0], state.hip_height + OVER_HIPS_M[1]),
        "distance": DISTANCE_M,
        "sideways": (-off, off),
        "aim": (-AIM_LIMIT, AIM_LIMIT),
        "tilt": (-TILT_LIMIT, TILT_LIMIT),
        "roll": (-ROLL_LIMIT, ROLL_LIMIT),
    }


def _standings(state: CameraState) -> Mapping[QuantityName, Standing]:
    found = {
        "height": _standing(state.over_hips, low=OVER_HIPS_M[0], high=OVER_HIPS_M[1]),
        "sideways": _standing(state.bearing, low=-BEARING_LIMIT, high=BEARING_LIMIT),
        "aim": _standing(state.aim, low=-AIM_LIMIT, high=AIM_LIMIT),
        "tilt": _standing(state.tilt, low=-TILT_LIMIT, high=TILT_LIMIT),
        "roll": _standing(state.roll, low=-ROLL_LIMIT, high=ROLL_LIMIT),
        "distance": _standing(state.distance, low=DISTANCE_M[0], high=DISTANCE_M[1]),
    }
    if state.golfer_px < LEAST_GOLFER_PX:
        found["distance"] = Standing.CHANGE
    return {name: found[name] for name in QUANTITIES}


def _reading(name: QuantityName, state: CameraState, *, standing: Standing) -> CameraReading:
    one: CameraValue = {
        "height": state.height,
        "distance": state.distance,
        "sideways": state.sideways,
        "aim": state.aim,
        "tilt": state.tilt,
        "roll": state.roll,
    }[name]
    low, high = limits(state)[name]
    angle = name in ("aim", "tilt", "roll")
    words = camera_words()
    return CameraReading(
        name=name,
        title=words.titles[name],
        sign=words.signs[name],
        value=degrees(one.value) if angle else one.value,
        sd=degrees(one.sd) if angle else one.sd,
        unit=Unit.DEGREE if angle else Unit.METRE,
        good=(degrees(low), degrees(high)) if angle else (low, high),
        standing=standing,
    )


def _phone(state: CameraState, *, hand: Hand, units: UnitSystem) -> PhoneAdvice:
    standings = _standings(state)
    ways = [
        step
        for name in ("sideways", "distance", "height", "aim", "tilt", "roll")
        if standings[name] is Standing.CHANGE
        for step in _ways(name, state)
    ]
    moves = tuple(_move(way, amount, state=state, hand=hand, units=units) for way, amount in ways)
    words = camera_words()
    sentence = ""
    if moves:
        texts = [move.words for move in moves]
        texts[0] = texts[0].replace(" it ", " the phone ", 1)
        listed = texts[0] if len(texts) == 1 else f"{'; '.join(texts[:-1])}; and {texts[-1]}"
        sentence = words.again.format(view=state.view.words, moves=listed)
    unsure = Standing.UNSURE in standings.values()
    return PhoneAdvice(
        view=state.view,
        readings=tuple(_reading(n, state, standing=standings[n]) for n in QUANTITIES),
        moves=moves,
        sentence=sentence,
        summary=sentence or (words.unsure if unsure else words.fine),
    )


def _ways(name: str, state: CameraState) -> list[tuple[Way, float]]:
    """What mends one quantity: which way, and how far in metre or radian."""
    if name == "distance":
        return [_along(state)]
    value, up, down = {
        "sideways": (state.sideways.value, Way.RIGHT, Way.LEFT),
        "height": (state.over_hips.value, Way.UP, Way.DOWN),
        "aim": (state.aim.value, Way.TURN_RIGHT, Way.TURN_LEFT),
        "tilt": (state.tilt.value, Way.TIP_BACK, Way.TIP_FORWARD),
        # the right side is up: clockwise brings it down
        "roll": (state.roll.value, Way.COUNTERCLOCKWISE, Way.CLOCKWISE),
    }[name]
    return [(down if value > 0 else up, abs(value))]


def _along(state: CameraState) -> tuple[Way, float]:
    """Nearer, back, or nothing that walking would mend."""
    away = state.distance.value
    if away < DISTANCE_M[0]:
        return Way.BACK, BACK_TO_M - away
    low, high = WANTED_DISTANCE_M
    nearer = away - min(max(away * state.share / WANTED_SHARE, low), high)
    return (Way.NEARER, nearer) if nearer >= LEAST_MOVE_M else (Way.ORIGINAL, 0.0)


_SIDEWAYS: Final = (Way.LEFT, Way.RIGHT)
_LEVEL: Final = (*_SIDEWAYS, Way.NEARER, Way.BACK)
_UPRIGHT: Final = (Way.UP, Way.DOWN)


def _move(way: Way, amount: float, *, state: CameraState, hand: Hand, units: UnitSystem) -> Move:
    words, view = camera_words(), state.view
    if way in _LEVEL:
        amount_text = steps(amount)
    else:
        amount_text = hand_breadths(amount) if way in _UPRIGHT else angle_words(amount)
    # a right-hander's target, or ball, lies to the right of whoever holds the phone
    toward = (way is Way.RIGHT) == (hand is Hand.RIGHT)
    sides = words.ways[view]
    text = words.moves[way].format(
        amount=amount_text,
        exact=quantity(amount, unit=Unit.METRE, units=units, sd=0.03),
        way=sides.toward if toward else sides.away,
        square=words.square[view],
    )
    return Move(way=way, amount=amount, words=text)


def _together(
    states: Mapping[View, CameraState], *, phones: tuple[PhoneAdvice, ...], units: UnitSystem
) -> str:
    """A word on two very different heights, where neither is wrong by itself."""
    if len(states) < 2 or any(m.way in _UPRIGHT for phone in phones for m in phone.moves):
        return ""
    front, side = states[View.FACE_ON].height, states[View.DOWN_THE_LINE].height
    apart = CameraValue(value=front.value - side.value, sd=math.hypot(front.sd, side.sd))
    if _standing(apart, low=-HEIGHTS_APART_M, high=HEIGHTS_APART_M) is not Standing.CHANGE:
        return ""
    return camera_words().one_height.format(
        face_on=quantity(front.value, unit=Unit.METRE, units=units, sd=front.sd),
        down_the_line=quantity(side.value, unit=Unit.METRE, units=units, sd=side.sd),
    )
