"""How far each measure may go before anything leaves its window."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.estimation import compliance
from wellset.measures import MEASURES, Unit
from wellset.prescribe.aims import Aim
from wellset.prescribe.natural import JOINT_LIMITS
from wellset.prescribe.search import Found

Array = NDArray[np.float64]

FARTHEST: Final = {Unit.METRE: 0.15, Unit.DEGREE: 15.0, Unit.PERCENT: 20.0}
"""No tolerance is said to be wider, published unit: beyond, nothing linear holds."""
CAUTION: Final = 0.9
"""Share of the linear answer that is given: on the way a window that was free may come into
play and load the others, which a straight line doesn't see. With it, measures that were moved
to their tolerance and solved again stayed within a hundredth of a half-width of every window
(all measures, ten random bodies and clubs)."""
STIFF: Final = 1e-6
"""Share of its own scale below which a measure counts as fixed by the club."""


def tolerances(found: Found, aims: Sequence[Aim], /) -> dict[str, float]:
    """How far each measure of the catalogue may go either way, published unit.

    A measure is pushed by ``t``; the body follows in the way that costs the relaxed body and
    the pulls of the windows least (:func:`wellset.estimation.compliance`), so measure ``j``
    moves by ``t K_ji / K_ii``. The tolerance is the smaller of the two largest ``t``, up and
    down, that keep every measure and joint inside its limits, times :data:`CAUTION`.
    Windows that are pressed
    already are stiff in the neighbourhood and hardly move.

    Parameters
    ----------
    found : Found
        A solution with all windows at full strength.
    aims : sequence of Aim
        Windows and limits as they count; what is outside already is left out, except for
        the measure itself.
    """
    now = found.model.evaluate(found.parameters)
    gradients = np.vstack([now.gradients, now.angle_gradients])
    values = np.concatenate([now.measures, now.angles])
    names = [*MEASURES, *(limit.quantity for limit in JOINT_LIMITS)]
    moves = compliance(found.terms, found.parameters, gradients=gradients)
    below, above = _room(names, values, aims=(*aims, *JOINT_LIMITS))
    outside = {a.quantity for a in aims if a.excess(values[names.index(a.quantity)]) != 0}
    result = {}
    for i, (id_, measure) in enumerate(MEASURES.items()):
        scale = FARTHEST[measure.unit]
        if id_ in outside or moves[i, i] < (STIFF * scale) ** 2:
            result[id_] = 0.0
            continue
        step = moves[:, i] / moves[i, i]
        result[id_] = min(
            scale,
            CAUTION * _farthest(step, below=below, above=above),
            CAUTION * _farthest(-step, below=below, above=above),
        )
    return result


def _room(names: list[str], values: Array, *, aims: Sequence[Aim]) -> tuple[Array, Array]:
    """How far each quantity is from its lower and its upper limit; infinite where outside."""
    below, above = np.full(len(names), np.inf), np.full(len(names), np.inf)
    for aim in aims:
        i = names.index(aim.quantity)
        if aim.excess(values[i]) != 0:
            continue
        if aim.low is not None:
            below[i] = min(below[i], values[i] - aim.low)
        if aim.high is not None:
            above[i] = min(above[i], aim.high - values[i])
    return below, above


def _farthest(step: Array, *, below: Array, above: Array) -> float:
    """Largest t for which ``t step`` stays within the room."""
    room = np.where(step > 0, above, below)
    moving = np.abs(step) > 0
    return float(np.min(room[moving] / np.abs(step[moving]), initial=np.inf))
