"""Clubs, the ball, and the rules of equipment that concern a set-up."""

from wellset.equipment.bag import find_club, standard_bag
from wellset.equipment.ball import STANDARD_BALL, Ball
from wellset.equipment.catalogue import TYPICAL, TYPICAL_CLUBS, TypicalClub, typical_of_kind
from wellset.equipment.club import Club
from wellset.equipment.kinds import ClubKind
from wellset.equipment.names import typical_club
from wellset.equipment.rules import (
    GREATEST_BALL_MASS,
    GREATEST_LENGTH,
    GREATEST_LIE,
    GREATEST_PUTTER_HEAD,
    GREATEST_WOOD_HEAD,
    LEAST_BALL_DIAMETER,
    LEAST_LENGTH,
    MOST_CLUBS,
)
from wellset.equipment.tee import tee_height

__all__ = [
    "GREATEST_BALL_MASS",
    "GREATEST_LENGTH",
    "GREATEST_LIE",
    "GREATEST_PUTTER_HEAD",
    "GREATEST_WOOD_HEAD",
    "LEAST_BALL_DIAMETER",
    "LEAST_LENGTH",
    "MOST_CLUBS",
    "STANDARD_BALL",
    "TYPICAL",
    "TYPICAL_CLUBS",
    "Ball",
    "Club",
    "ClubKind",
    "TypicalClub",
    "find_club",
    "standard_bag",
    "tee_height",
    "typical_club",
    "typical_of_kind",
]
