"""Where a joint lies inside the body, and what clothes the foot: small numbers, stated.

The survey measured bony landmarks; a figure needs joint centres. Authors place the same
joint up to 3 cm apart (a hip centre lies at 51 % of stature by one table and at 53 % by
another), so each step from landmark to joint has a spread of its own. That spread is a
*convention*: it is the same for everyone measured one way, and no tape narrows it.

Five assumed values (neck to ear, rounding of the back, shoulder inside acromion, wrist from
stylion, shoe over foot) were settled after the proportions of two dozen rendered golfers had
been looked at, and moved by up to a centimetre toward them. They are not independent of those
golfers, so agreement with them proves nothing. Spacing of the hip joints was left where the
published regression puts it, although that body model's own hip joints lie 5.6 cm wider apart.
"""

from __future__ import annotations

from typing import Final

from wellset.body.ansur import ANSUR_II, ANSUR_MEN, ANSUR_WOMEN, BALL_OF_FOOT
from wellset.body.sex import Sex
from wellset.units import Mark, Record

_ENTERED: Final = "2026-11-25"
_ADULTS: Final = "adults"


def _record(
    value: float,
    sd: float | None,
    *,
    source: str,
    mark: Mark = Mark.ASSUMED,
    unit: str = "m",
    population: str = _ADULTS,
) -> Record:
    return Record(
        value=value,
        sd=sd,
        unit=unit,
        population=population,
        source=source,
        mark=mark,
        edition=_ENTERED,
    )


HIP_ABOVE_TROCHANTERION: Final = _record(
    0.015,
    0.015,
    source="half-way between the trochanterion of ANSUR II (0.513 of stature, men) and the hip "
    "of Drillis & Contini (0.530), which lie 3 cm apart",
)
KNEE_ABOVE_EPICONDYLE: Final = _record(
    0.005,
    0.010,
    source="half-way between the epicondyle of ANSUR II (0.280 of stature, men) and the knee "
    "of Drillis & Contini (0.285); women's agree",
)
ANKLE_ABOVE_MALLEOLUS: Final = _record(
    0.0,
    0.007,
    source="de Leva's two shank rows put the centre 1.5 % of the shank below the malleolus; "
    "textbooks put it as much above",
)
SHOULDER_BELOW_ACROMION: Final = _record(
    0.040,
    0.013,
    source="de Leva 1996b: about 10 % of the upper arm, 3 to 5 cm",
    mark=Mark.MEMORY,
)
SHOULDER_INSIDE_ACROMION: Final = _record(
    0.020,
    0.010,
    source="half the breadth of a humeral head, each side, with the arms hanging",
)
ELBOW_FROM_RADIALE: Final = _record(
    0.0, 0.007, source="the elbow's axis lies within a centimetre of the top of the radius"
)
WRIST_FROM_STYLION: Final = _record(
    -0.006,
    0.007,
    source="half-way between radiale to stylion of ANSUR II (0.1525 of stature, men) and the "
    "forearm of Drillis & Contini (0.146)",
)
PELVIC_WIDTH_OF_BICRISTAL: Final = _record(
    0.87,
    0.05,
    unit="1",
    source="a pelvis about 24 cm wide between its front spines beside the survey's 27.5 cm "
    "between its crests",
)
HIP_SPACING_SPREAD: Final = _record(
    0.0, 0.012, source="scatter of hip joint centres about the regression, about 6 mm each side"
)
ANKLE_ALONG_FOOT: Final = _record(
    0.25,
    0.03,
    unit="1",
    source="textbooks: about a quarter of the foot's length in front of the heel",
    mark=Mark.MEMORY,
)
BACK_ROUNDED_AT_ADDRESS: Final = _record(
    -0.010,
    0.015,
    source="a back that rounds toward the ball is shorter from end to end than a standing one",
)
C7_TO_EAR: Final = _record(
    0.0855,
    0.0085,
    unit="1",
    source="share of stature: the ear hole 13 cm below the top of the head and 10 cm in front "
    "of the seventh neck bone, man of 1.76 m",
)
EYE_BELOW_TOP: Final = _record(
    0.0,
    0.008,
    source="makes the survey's spread of eye height, 6.65 cm beside 6.86 cm of stature, with a "
    "correlation of 0.3 to 0.35",
    mark=Mark.DERIVED,
)
THIGH_GIRTH: Final = {
    Sex.MEN: _record(
        0.625, 0.058, population="men", source="thigh circumference, ANSUR II", mark=Mark.MEMORY
    ),
    Sex.WOMEN: _record(
        0.616, 0.057, population="women", source="thigh circumference, ANSUR II", mark=Mark.MEMORY
    ),
}
THIGH_GIRTH_CORRELATION: Final = _record(
    0.25,
    None,
    unit="1",
    source="thigh circumference with stature: tall people are a little stouter",
)
MID_THIGH_SHARE: Final = _record(
    0.87,
    0.06,
    unit="1",
    source="a thigh tapers: its girth half-way down beside its girth at the crotch",
)
BICRISTAL_HIP_CORRELATION: Final = _record(
    0.5,
    None,
    unit="1",
    source="breadth of the pelvis with breadth over the hips, at equal stature: half is flesh",
)
SHOE_LONGER: Final = _record(
    0.025,
    0.008,
    source="shoemaking: 10 to 15 mm in front of the toes and the thickness of both ends",
    mark=Mark.MEMORY,
)
SHOE_BROADER_AT_HEEL: Final = _record(
    0.015,
    0.005,
    source="shoemaking: 10 to 20 mm in all",
    mark=Mark.MEMORY,
)
SOLE_UNDER_HEEL: Final = _record(
    0.027, 0.007, source="sole and heel of a golf shoe under the ankle, in turf"
)
LEG_HEIGHT_SPREAD: Final = _record(
    0.019,
    None,
    source="spread of true hip height at equal stature. Larger would leave sitting height almost "
    "no spread of its own; with 1.9 cm, crotch and sitting height at equal stature "
    "correlate -0.68 in men and -0.72 in women",
)
INSEAM_BELOW_CROTCH: Final = _record(
    0.035,
    0.020,
    source="a trouser leg ends above the ground and begins below the crotch",
)


def hip_spacing(pelvic_width: float) -> float:
    """Distance between the hip joint centres from the width of the pelvis.

    Parameters
    ----------
    pelvic_width : float
        Between the front upper spines of the pelvis (ASIS), metres.

    Returns
    -------
    float
        Metres: ``2 (0.33 PW + 7.3 mm)``.

    References
    ----------
    Harrington et al. 2007, J Biomech 40:595-602, doi 10.1016/j.jbiomech.2006.02.003
    (read in open implementations that agree).
    """
    return 2 * (0.33 * pelvic_width + 0.0073)


def ball_of_foot_fraction(sex: Sex) -> Record:
    """Where the ball of the foot lies, as a share of foot length from the heel."""
    if sex is Sex.POOLED:
        (men, sd_men), (women, sd_women) = BALL_OF_FOOT[Sex.MEN], BALL_OF_FOOT[Sex.WOMEN]
        value = (men + women) / 2
        sd = ((sd_men**2 + sd_women**2) / 2 + (men - women) ** 2 / 4) ** 0.5
        population = f"{ANSUR_MEN.population}; {ANSUR_WOMEN.population}; each sex counted once"
    else:
        value, sd = BALL_OF_FOOT[sex]
        population = (ANSUR_MEN if sex is Sex.MEN else ANSUR_WOMEN).population
    return Record(
        value=value,
        sd=sd,
        unit="1",
        population=population,
        source=ANSUR_II.source,
        mark=Mark.READ,
        edition=ANSUR_II.date,
    )
