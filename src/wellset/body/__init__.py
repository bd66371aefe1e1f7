"""The build of a student and the mass of a body's parts: tables, and what follows from them."""

from wellset.body.anatomy import LENGTH_DEFINITIONS, LENGTH_EDITIONS, LENGTHS
from wellset.body.ansur import ANSUR_II, ANSUR_MEN, ANSUR_WOMEN
from wellset.body.balance import (
    MASS_EDITIONS,
    centre_of_mass,
    mass_model,
    reaction_board_distance,
    segment_centres,
)
from wellset.body.build import Build, Caution, Estimate, Lengths
from wellset.body.conventions import ball_of_foot_fraction, hip_spacing
from wellset.body.deleva import DE_LEVA
from wellset.body.dempster import DEMPSTER_WINTER
from wellset.body.fractions import DRILLIS_CONTINI, STATURE_SHARES
from wellset.body.segments import MassModel, SegmentMass
from wellset.body.sex import Sex
from wellset.body.survey import Dimension, Regression, Survey
from wellset.body.tapes import TAPE_MEASURES, TapeMeasure

__all__ = [
    "ANSUR_II",
    "ANSUR_MEN",
    "ANSUR_WOMEN",
    "DEMPSTER_WINTER",
    "DE_LEVA",
    "DRILLIS_CONTINI",
    "LENGTHS",
    "LENGTH_DEFINITIONS",
    "LENGTH_EDITIONS",
    "MASS_EDITIONS",
    "STATURE_SHARES",
    "TAPE_MEASURES",
    "Build",
    "Caution",
    "Dimension",
    "Estimate",
    "Lengths",
    "MassModel",
    "Regression",
    "SegmentMass",
    "Sex",
    "Survey",
    "TapeMeasure",
    "ball_of_foot_fraction",
    "centre_of_mass",
    "hip_spacing",
    "mass_model",
    "reaction_board_distance",
    "segment_centres",
]
