"""Segment masses after de Leva (1996), from gamma scans of young adults."""

from __future__ import annotations

from typing import Final

from wellset.body.segments import MassModel, SegmentMass
from wellset.body.sex import Sex
from wellset.units import Edition, Mark

DE_LEVA: Final = Edition(
    name="de Leva 1996",
    date="2026-11-25",
    source=(
        "de Leva P 1996, Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters, "
        "J Biomech 29:1223-1230, doi 10.1016/0021-9290(95)00178-6; read from the open table "
        "of the Laboratory of Biomechanics and Motor Control, UFABC"
    ),
)

# name, upper end, lower end, paired,
# mass % women, mass % men, centre % women, centre % men (from the upper end; foot: heel)
_Row = tuple[str, str, str, bool, float, float, float, float]
_CUT: Final[tuple[_Row, ...]] = (
    ("head, vertex to C7", "vertex", "c7", False, 6.68, 6.94, 48.41, 50.02),
    ("trunk, C7", "c7", "mid_hip", False, 42.57, 43.46, 49.64, 51.38),
    ("upper arm", "shoulder", "elbow", True, 2.55, 2.71, 57.54, 57.72),
    ("forearm", "elbow", "wrist", True, 1.38, 1.62, 45.59, 45.74),
    ("hand, to knuckle", "wrist", "knuckle", True, 0.56, 0.61, 74.74, 79.00),
    ("thigh", "hip", "knee", True, 14.78, 14.16, 36.12, 40.95),
    ("shank", "knee", "ankle", True, 4.81, 4.33, 43.52, 43.95),
    ("foot", "heel", "toe", True, 1.29, 1.37, 40.14, 44.15),
)
_OTHER: Final[tuple[_Row, ...]] = (
    ("head, vertex to gonion", "vertex", "gonion", False, 6.68, 6.94, 58.94, 59.76),
    ("trunk, suprasternale", "suprasternale", "mid_hip", False, 42.57, 43.46, 41.51, 44.86),
    ("trunk, mid-shoulder", "mid_shoulder", "mid_hip", False, 42.57, 43.46, 37.82, 43.10),
    ("upper trunk", "suprasternale", "xiphion", False, 15.45, 15.96, 20.77, 29.99),
    ("upper trunk, C7", "c7", "xiphion", False, 15.45, 15.96, 50.50, 50.66),
    ("middle trunk", "xiphion", "navel", False, 14.65, 16.33, 45.12, 45.02),
    ("lower trunk", "navel", "mid_hip", False, 12.47, 11.17, 49.20, 61.15),
    ("hand, to fingertip", "wrist", "fingertip", True, 0.56, 0.61, 34.27, 36.24),
    ("shank, to malleolus", "knee", "malleolus", True, 4.81, 4.33, 44.16, 44.59),
)
_POPULATIONS: Final = {
    Sex.MEN: "100 young men",
    Sex.WOMEN: "15 young women",
    Sex.POOLED: "mean of 100 young men and 15 young women, each sex counted once",
}


def _row(row: _Row, *, sex: Sex) -> SegmentMass:
    """Per cent to shares; the pooled row is the mean of both."""
    name, upper, lower, paired, mass_w, mass_m, centre_w, centre_m = row
    men = {Sex.MEN: 1.0, Sex.WOMEN: 0.0, Sex.POOLED: 0.5}[sex]
    return SegmentMass(
        name=name,
        upper=upper,
        lower=lower,
        paired=paired,
        mass_fraction=(men * mass_m + (1 - men) * mass_w) / 100,
        centre_fraction=(men * centre_m + (1 - men) * centre_w) / 100,
    )


def de_leva(sex: Sex) -> MassModel:
    """The table for men, women, or the mean of both.

    Notes
    -----
    The cut takes the trunk from C7, the head from the vertex to C7 and the hand to the
    knuckle; rows between other ends stand beside it.
    """
    return MassModel(
        edition=DE_LEVA,
        sex=sex,
        population=_POPULATIONS[sex],
        mark=Mark.READ,
        segments=tuple(_row(row, sex=sex) for row in _CUT),
        other_rows=tuple(_row(row, sex=sex) for row in _OTHER),
    )
