"""A set-up in things one can lay on the ground or see without a tape."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.equipment import Club
from wellset.figure.figure import Figure, FigureState
from wellset.measures import MEASURES
from wellset.prescribe.pose import Scene

Array = NDArray[np.float64]

FIST_OF_HAND: Final = 0.45
"""Breadth of a fist across the knuckles as a share of hand length: about 9 of 19 cm (from
memory)."""


@frozen(kw_only=True)
class Floor:
    """Numbers to lay out with a club, a shoe and a fist. Lengths in metre.

    Parameters
    ----------
    gap, gap_club_heads : float
        Clear gap between the shoes, and the same in heads of the club in hand.
    ball_from_lead_heel : float
        Along the target line, how far the ball's middle lies inside the inner edge of the lead
        shoe at its heel, level with the ankle, where the gap is measured too; negative: outside
        it.
    ball_from_toes, ball_from_toes_shoes : float
        Ball's middle to the line of the toes, and the same in shoe lengths.
    lead_foot_flare_deg, trail_foot_flare_deg : float
        How far each foot is turned out, degree.
    handle_height : float
        Butt above the ground under the ball.
    handle_up_thigh : float
        Where the butt's height falls on the lead thigh: 0 at the knee, 1 at the hip.
    hand_gap, hand_gap_fists : float
        Butt to the front of the thigh, and the same in the student's fists.
    forward_bend_deg, lead_knee_flex_deg, trail_knee_flex_deg : float
        Degree.
    lead_share_percent, heel_toe_percent : float
        Weight on the lead foot; along the shoe from heel (0) to toe (100).
    grip_down : float
        How far down the grip the hands are taken.
    toe_up_deg : float
        How far the toe of the club stands off flat, degree.
    """

    gap: float
    gap_club_heads: float
    ball_from_lead_heel: float
    ball_from_toes: float
    ball_from_toes_shoes: float
    lead_foot_flare_deg: float
    trail_foot_flare_deg: float
    handle_height: float
    handle_up_thigh: float
    hand_gap: float
    hand_gap_fists: float
    forward_bend_deg: float
    lead_knee_flex_deg: float
    trail_knee_flex_deg: float
    lead_share_percent: float
    heel_toe_percent: float
    grip_down: float
    toe_up_deg: float


def floor_of(
    figure: Figure, scene: Scene, *, club: Club, hand_length: float, toe_up: float
) -> Floor:
    """The floor numbers of a solved figure.

    Parameters
    ----------
    figure : Figure
    scene : Scene
    club : Club
    hand_length : float
        Of the student, metre.
    toe_up : float
        How far the toe stands off flat, radian.
    """
    state = figure.state
    m = {id_: _value(id_, state) for id_ in MEASURES}
    edge = float(figure["lead_ankle"][0]) - float(scene.skeleton.scalars[0]) / 2
    knee, hip = figure["lead_knee"][2], figure["lead_hip"][2]
    butt = figure["grip_end"][2]
    return Floor(
        gap=m["stance_gap"],
        gap_club_heads=m["stance_gap"] / club.head_length_m,
        ball_from_lead_heel=edge - float(figure["ball"][0]),
        ball_from_toes=m["ball_to_toes"],
        ball_from_toes_shoes=m["ball_to_toes"] / scene.skeleton.shoe_length,
        lead_foot_flare_deg=m["lead_foot_flare"],
        trail_foot_flare_deg=m["trail_foot_flare"],
        handle_height=m["handle_height"],
        handle_up_thigh=float((butt - knee) / (hip - knee)),
        hand_gap=m["hand_gap"],
        hand_gap_fists=m["hand_gap"] / (FIST_OF_HAND * hand_length),
        forward_bend_deg=m["forward_bend"],
        lead_knee_flex_deg=m["lead_knee_flex"],
        trail_knee_flex_deg=m["trail_knee_flex"],
        lead_share_percent=m["lead_share"],
        heel_toe_percent=m["heel_toe_balance"],
        grip_down=scene.club.grip_down,
        toe_up_deg=float(np.degrees(toe_up)),
    )


def _value(measure: str, state: FigureState) -> float:
    one = MEASURES[measure]
    return float(one.formula(state)) * one.published_per_si
