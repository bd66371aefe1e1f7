"""Segment masses after Dempster (1955) as used by Winter (2009)."""

from __future__ import annotations

from typing import Final

from wellset.body.segments import MassModel, SegmentMass
from wellset.body.sex import Sex
from wellset.units import Edition, Mark

DEMPSTER_WINTER: Final = Edition(
    name="Dempster-Winter",
    date="2026-11-25",
    source=(
        "Dempster 1955 as used by Winter 2009, Biomechanics and Motor Control of Human "
        "Movement, 4th ed., table 4.1; read from the open table of the Laboratory of "
        "Biomechanics and Motor Control, UFABC"
    ),
)

# name, upper end, lower end, paired, mass share, centre from the upper end.
# The table's own ends "greater trochanter" and "glenohumeral axis" are the joint centres
# here; the head's centre is placed at the ear canal (1.000 of the way from C7).
_Row = tuple[str, str, str, bool, float, float]
_CUT: Final[tuple[_Row, ...]] = (
    ("head and neck", "c7", "mid_ear", False, 0.081, 1.000),
    ("trunk", "mid_hip", "mid_shoulder", False, 0.497, 0.500),
    ("upper arm", "shoulder", "elbow", True, 0.028, 0.436),
    ("forearm", "elbow", "wrist", True, 0.016, 0.430),
    ("hand", "wrist", "knuckle", True, 0.006, 0.506),
    ("thigh", "hip", "knee", True, 0.100, 0.433),
    ("shank", "knee", "ankle", True, 0.0465, 0.433),
    ("foot", "ankle", "foot_ball", True, 0.0145, 0.500),
)
_OTHER: Final[tuple[_Row, ...]] = (
    ("forearm and hand", "elbow", "wrist", True, 0.022, 0.682),
    ("whole arm", "shoulder", "wrist", True, 0.050, 0.530),
    ("shank and foot", "knee", "ankle", True, 0.061, 0.606),
    ("whole leg", "hip", "ankle", True, 0.161, 0.447),
    ("trunk, head and neck", "mid_hip", "mid_shoulder", False, 0.578, 0.660),
    ("head, arms and trunk", "mid_hip", "mid_shoulder", False, 0.678, 0.626),
)


def _row(row: _Row) -> SegmentMass:
    name, upper, lower, paired, mass, centre = row
    return SegmentMass(
        name=name,
        upper=upper,
        lower=lower,
        paired=paired,
        mass_fraction=mass,
        centre_fraction=centre,
    )


def dempster_winter(sex: Sex) -> MassModel:
    """The table; it knows no difference between men and women.

    Notes
    -----
    Eight cadavers of older men. Its thigh is a third lighter than de Leva's and its trunk
    heavier, so it puts a bent body's centre of mass elsewhere: name the edition.
    """
    return MassModel(
        edition=DEMPSTER_WINTER,
        sex=sex,
        population="8 male cadavers, used for everyone",
        mark=Mark.READ_SECOND_HAND,
        segments=tuple(_row(row) for row in _CUT),
        other_rows=tuple(_row(row) for row in _OTHER),
    )
