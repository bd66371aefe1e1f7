"""Body dimensions of the 2012 survey of United States Army personnel (ANSUR II).

4,082 men and 1,986 women, 17 to 58 years, barefoot, unweighted. Means, spreads and
regressions were computed from the public data file. A military population, mostly under
45: it does not describe juniors or seniors.
"""

from __future__ import annotations

from typing import Final

from wellset.body.sex import Sex
from wellset.body.survey import Dimension, Regression, Survey
from wellset.units import Edition, Mark

ANSUR_II: Final = Edition(
    name="ANSUR II 2012",
    date="2026-11-25",
    source=(
        "Gordon et al. 2014, 2012 Anthropometric Survey of U.S. Army Personnel, "
        "Natick/TR-15/007; statistics computed from the public data file"
    ),
)

# name: (mean cm, sd cm, % of stature, sd of that %); None where no share was computed.
_Row = tuple[float, float, float | None, float | None]
_MEN: Final[dict[str, _Row]] = {
    "c7_height": (151.73, 6.33, 86.39, 0.66),
    "suprasternale_height": (143.86, 6.12, 81.91, 0.71),
    "acromial_height": (144.07, 6.33, 82.03, 0.96),
    "trochanterion_height": (90.09, 4.92, 51.28, 1.52),
    "crotch_height": (84.59, 4.65, 48.15, 1.41),
    "knee_height": (49.17, 2.66, 27.99, 0.80),  # lateral femoral epicondyle
    "ankle_height": (7.29, 0.57, 4.15, 0.29),  # lateral malleolus
    "wrist_height": (84.75, 4.17, 48.25, 1.23),
    "acromion_to_wrist": (59.32, 3.17, None, None),  # vertical, arms hanging
    "acromion_radiale": (33.52, 1.75, 19.09, 0.61),
    "shoulder_elbow": (36.37, 1.82, 20.71, 0.60),
    "radiale_stylion": (26.79, 1.54, 15.25, 0.61),
    "hand_length": (19.33, 0.99, 11.01, 0.42),
    "palm_length": (11.65, 0.62, 6.63, 0.29),
    "elbow_grip": (34.90, 1.80, 19.87, 0.68),
    "wrist_grip": (6.21, 0.74, None, None),  # wrist crease to centre of grip
    "span": (181.42, 8.46, 103.30, 2.74),
    "biacromial_breadth": (41.57, 1.92, 23.68, 0.98),
    "bideltoid_breadth": (51.04, 3.25, 29.09, 1.84),
    "hip_breadth": (34.57, 2.42, 19.70, 1.29),
    "bicristal_breadth": (27.54, 1.75, 15.69, 0.86),
    "foot_length": (27.12, 1.31, 15.44, 0.52),
    "heel_to_ball": (20.09, 1.05, 11.44, 0.45),
    "foot_breadth": (10.19, 0.52, None, None),
    "heel_breadth": (7.25, 0.55, None, None),
    "sitting_height": (91.83, 3.57, 52.31, 1.35),
    "sitting_eye_height": (80.45, 3.32, 45.82, 1.27),
    "eye_height": (164.24, 6.65, None, None),
}
_WOMEN: Final[dict[str, _Row]] = {
    "c7_height": (139.57, 5.95, 85.70, 0.68),
    "suprasternale_height": (132.97, 5.72, 81.64, 0.71),
    "acromial_height": (133.51, 5.81, 81.98, 0.87),
    "trochanterion_height": (84.54, 4.47, 51.90, 1.44),
    "crotch_height": (78.23, 4.46, 48.02, 1.51),
    "knee_height": (46.59, 2.71, 28.60, 1.02),
    "ankle_height": (6.27, 0.51, 3.85, 0.28),
    "wrist_height": (79.42, 3.82, 48.77, 1.22),
    "acromion_to_wrist": (54.09, 2.98, None, None),
    "acromion_radiale": (31.12, 1.72, 19.11, 0.65),
    "shoulder_elbow": (33.43, 1.73, 20.53, 0.61),
    "radiale_stylion": (24.13, 1.52, 14.82, 0.68),
    "hand_length": (18.11, 1.01, 11.12, 0.47),
    "palm_length": (10.87, 0.59, 6.68, 0.30),
    "elbow_grip": (31.77, 1.80, 19.51, 0.76),
    "wrist_grip": (5.89, 0.70, None, None),
    "span": (166.03, 8.30, 101.95, 2.92),
    "biacromial_breadth": (36.53, 1.83, 22.44, 0.96),
    "bideltoid_breadth": (45.03, 2.87, 27.67, 1.71),
    "hip_breadth": (35.38, 2.67, 21.74, 1.53),
    "bicristal_breadth": (27.33, 2.23, 16.79, 1.27),
    "foot_length": (24.63, 1.24, 15.13, 0.53),
    "heel_to_ball": (18.21, 0.96, 11.18, 0.43),
    "foot_breadth": (9.27, 0.48, None, None),
    "heel_breadth": (6.72, 0.52, None, None),
    "sitting_height": (85.66, 3.31, 52.62, 1.41),
    "sitting_eye_height": (74.77, 3.04, 45.93, 1.34),
    "eye_height": (151.95, 6.17, None, None),
}

# name: (intercept cm, slope, r, standard error of estimate cm), on stature in cm.
_Fit = tuple[float, float, float, float]
_MEN_FITS: Final[dict[str, _Fit]] = {
    "foot_length": (3.01, 0.1373, 0.72, 0.91),
    "wrist_height": (-6.64, 0.5204, 0.86, 2.15),
    "acromial_height": (-12.69, 0.8926, 0.97, 1.62),
    "trochanterion_height": (-16.99, 0.6098, 0.85, 2.59),
    "crotch_height": (-17.63, 0.5821, 0.86, 2.39),
    "sitting_height": (20.58, 0.4057, 0.78, 2.24),
    "hand_length": (2.17, 0.0977, 0.67, 0.74),
    "biacromial_breadth": (15.46, 0.1486, 0.53, 1.62),
    "hip_breadth": (10.83, 0.1352, 0.38, 2.23),
    "span": (2.94, 1.0162, 0.82, 4.81),
}
_WOMEN_FITS: Final[dict[str, _Fit]] = {
    "foot_length": (1.85, 0.1399, 0.72, 0.86),
    "wrist_height": (-3.35, 0.5083, 0.85, 1.99),
    "acromial_height": (-9.69, 0.8793, 0.97, 1.37),
    "trochanterion_height": (-12.69, 0.5970, 0.86, 2.30),
    "crotch_height": (-17.91, 0.5904, 0.85, 2.36),
    "sitting_height": (21.58, 0.3935, 0.76, 2.13),
    "hand_length": (1.62, 0.1012, 0.65, 0.77),
    "biacromial_breadth": (10.28, 0.1612, 0.57, 1.51),
    "hip_breadth": (9.19, 0.1608, 0.39, 2.46),
    "span": (-6.36, 1.0586, 0.82, 4.76),
}


def _dimension(row: _Row) -> Dimension:
    """Centimetres and per cent to metres and shares."""
    mean_cm, sd_cm, percent, percent_sd = row
    return Dimension(
        mean=mean_cm / 100,
        sd=sd_cm / 100,
        fraction=None if percent is None else percent / 100,
        fraction_sd=None if percent_sd is None else percent_sd / 100,
    )


def _fit(row: _Fit) -> Regression:
    """Centimetres to metres."""
    intercept_cm, slope, r, see_cm = row
    return Regression(
        intercept=intercept_cm / 100, slope=slope, correlation=r, see=see_cm / 100, mark=Mark.READ
    )


def _survey(
    sex: Sex, population: str, *, stature: _Row, rows: dict[str, _Row], fits: dict[str, _Fit]
) -> Survey:
    """A table of centimetres as a survey in metres."""
    return Survey(
        sex=sex,
        population=population,
        edition=ANSUR_II,
        stature=_dimension(stature),
        dimensions={name: _dimension(row) for name, row in rows.items()},
        published={name: _fit(row) for name, row in fits.items()},
    )


ANSUR_MEN: Final = _survey(
    Sex.MEN,
    "4,082 men, 17 to 58 years, mean 30.2, US Army 2012",
    stature=(175.62, 6.86, 100.0, 0.0),
    rows=_MEN,
    fits=_MEN_FITS,
)
ANSUR_WOMEN: Final = _survey(
    Sex.WOMEN,
    "1,986 women, 17 to 58 years, mean 28.9, US Army 2012",
    stature=(162.85, 6.42, 100.0, 0.0),
    rows=_WOMEN,
    fits=_WOMEN_FITS,
)

# Heel to ball of foot divided by foot length, computed per person from the same file.
BALL_OF_FOOT: Final = {Sex.MEN: (0.741, 0.015), Sex.WOMEN: (0.739, 0.013)}
