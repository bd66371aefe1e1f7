"""What if one thing were put right? How all other measures follow.

One measure is pushed; the body follows in the way that costs least. The cost has two parts:
how freely people move each part of a set-up (feet are stepped anew without effort, bones are
as long as they are), and the relaxed body (:func:`wellset.prescribe.natural.relaxed`): arms
that hang, wrists that don't twist, knees over the feet. With ``K`` the compliance of that
cost on all measures, putting measure ``i`` right by ``d`` moves measure ``j`` by
``d K_ji / K_ii``. It is the straight line at where the student stands now.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.equipment import Club
from wellset.estimation import LinearTerm, Term, compliance, prior
from wellset.figure.figure import Figure
from wellset.measures import MEASURES
from wellset.prescribe.model import ORDINARY, RELAXED, SEGMENTS, BonesTerm, ModelTerm
from wellset.prescribe.pose import LAYOUT
from wellset.prescribe.skeleton import Skeleton
from wellset.prescribe.stance_of import Stance, stance_of

Array = NDArray[np.float64]

ORDER: Final = tuple(MEASURES)
FARTHEST_FROM_POSE_M: Final = 0.04
"""A figure that no pose comes nearer to than this is none that can be moved."""

_MID_FEET: Final = {"lead_foot": 0.5, "trail_foot": 0.5}
PLACES: Final[tuple[tuple[str, Mapping[str, float], float], ...]] = (
    ("where the golfer stands", _MID_FEET, 0.30),
    ("lead_foot", {"lead_foot": 0.5, "trail_foot": -0.5}, 0.05),
    ("mid_hip", {"mid_hip": 1.0, "lead_foot": -0.5, "trail_foot": -0.5}, 0.05),
    ("lead_knee", {"lead_knee": 1.0, "mid_hip": -0.5, "lead_foot": -0.5}, 0.03),
    ("trail_knee", {"trail_knee": 1.0, "mid_hip": -0.5, "trail_foot": -0.5}, 0.03),
    ("lead_elbow", {"lead_elbow": 1.0, "mid_hip": -1.0}, 0.15),
    ("trail_elbow", {"trail_elbow": 1.0, "mid_hip": -1.0}, 0.15),
)
"""Places of the body against each other, as sums of points, and how freely each is moved, metre,
one standard deviation: about what a coach's word changes in one go (our judgement). Stepping
nearer or farther as a whole is freest."""
TURNS: Final[Mapping[str, float]] = {
    "pelvis": 0.06,
    "trunk": 0.16,
    "back": 0.02,
    "lead_girdle": 0.12,
    "trail_girdle": 0.12,
    "lead_grip": 0.15,
    "trail_grip": 0.15,
    "shaft_lean": 0.08,
    "toe_up": 0.05,
    "extra_length": 0.0002,
}
"""How freely each part is turned, radian (the back's bulge and the club's length: metre)."""
FLARE_FREEDOM: Final = 0.25


@frozen(kw_only=True, eq=False)
class WhatIf:
    """How all measures follow when one is moved.

    Parameters
    ----------
    moves : (k, k) array
        Row ``i``: what one unit of measure ``i`` moves each measure by, published units, in the
        catalogue's order; the diagonal is 1. Rows of measures that the club fixes are NaN.
    misfit_m : float
        How far the pose lies from the assessed figure.
    stance : Stance or None
        The assessed figure as a pose, where it was moved as a body.
    """

    moves: Array = field()
    misfit_m: float
    stance: Stance | None = None

    def follow(self, measure: str, amount: float, /) -> dict[str, float]:
        """What moving one measure by an amount moves every measure by, published units."""
        row = self.moves[ORDER.index(measure)] * amount
        return dict(zip(ORDER, (float(v) for v in row), strict=True))


def what_if(figure: Figure, *, skeleton: Skeleton, club: Club) -> WhatIf | None:
    """How an assessed set-up answers to one change.

    Parameters
    ----------
    figure : Figure
    skeleton : Skeleton
        Of the student's build.
    club : Club

    Returns
    -------
    WhatIf or None
        ``None`` when no pose comes near the figure.
    """
    stance = stance_of(figure, skeleton=skeleton, club=club)
    if stance.misfit_m > FARTHEST_FROM_POSE_M:
        return None
    return answer_of_pose(stance)


def answer_of_pose(stance: Stance, /) -> WhatIf:
    """How a set-up that is known as a pose answers to one change."""
    terms: list[Term] = [
        BonesTerm(source=SEGMENTS, model=stance.model, hard=True),
        ModelTerm(source=RELAXED, model=stance.model),
        *nearness(stance.parameters),
    ]
    gradients = stance.model.evaluate(stance.parameters).gradients
    answer = compliance(terms, stance.parameters, gradients=gradients)
    diagonal = np.diag(answer).copy()
    scale = np.abs(gradients).max(axis=1)
    diagonal[diagonal < (1e-6 * scale) ** 2] = np.nan
    moves = answer / diagonal[:, None]
    moves.setflags(write=False)
    return WhatIf(moves=moves, misfit_m=stance.misfit_m, stance=stance)


def nearness(now: Array, /) -> list[Term]:
    """Every part near where it is now, each as freely as it is moved.

    Parameters
    ----------
    now : (n,) array
        The pose.
    """
    size = LAYOUT.size
    rows, spreads = [], []
    for _, parts, freedom in PLACES:
        for axis in range(2 if parts.keys() <= {"lead_foot", "trail_foot"} else 3):
            row = np.zeros(size)
            for block, share in parts.items():
                if not (axis == 2 and block.endswith("_foot")):  # feet stay on the ground
                    row[LAYOUT[block].start + axis] = share
            rows.append(row)
            spreads.append(freedom)
    matrix = np.array(rows)
    terms: list[Term] = [
        LinearTerm(source=ORDINARY, matrix=matrix, target=matrix @ now, sd=np.array(spreads))
    ]
    terms += [
        prior(ORDINARY, size=size, columns=LAYOUT[block], mean=now[LAYOUT[block]], sd=freedom)
        for block, freedom in TURNS.items()
    ]
    flares = [LAYOUT[f"{side}_foot"].start + 2 for side in ("lead", "trail")]
    terms.append(prior(ORDINARY, size=size, columns=flares, mean=now[flares], sd=FLARE_FREEDOM))
    return terms
