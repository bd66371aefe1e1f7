"""The whole bag in one drawing: every stance from above, toes on one line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from markupsafe import Markup, escape
from numpy.typing import NDArray

from wellset.figure.views import Hand
from wellset.prescribe import Plan
from wellset.reports.figure_svg import AMBER, FAR, GROUND, INK, PINE
from wellset.reports.shoe import shoe_outline

Array = NDArray[np.float64]

_COLUMN_CM: Final = 86.0
"""Room for a club; more where a stance needs it."""
_BESIDE_CM: Final = 8.0
_TOES_CM: Final = 100.0
"""Where the line of the toes lies from the top."""
_BELOW_CM: Final = 46.0
_IN_A_ROW: Final = 7


def ladder_svg(plans: Sequence[Plan], /, *, hand: Hand) -> Markup:
    """All clubs of a bag, driver first; centimetres, seven clubs a row.

    Parameters
    ----------
    plans : sequence of Plan
    hand : Hand
        Seen from above with the golfer below, a right-hander's target lies to the left.
    """
    height, column = _TOES_CM + _BELOW_CM, max(_COLUMN_CM, *map(_breadth, plans))
    rows = -(-len(plans) // _IN_A_ROW)
    across = min(len(plans), _IN_A_ROW)
    columns = "".join(
        f'<g transform="translate({(i % _IN_A_ROW) * column:.1f} '
        f'{(i // _IN_A_ROW) * height:.1f})">{_club(plan, hand=hand, column=column)}</g>'
        for i, plan in enumerate(plans)
    )
    names = ", ".join(plan.club.name for plan in plans)
    return Markup(  # noqa: S704  # numbers, and names that are escaped
        f'<svg class="ladder across-{across}" xmlns="http://www.w3.org/2000/svg" '
        f'viewBox="0 0 {across * column:.0f} {rows * height:.0f}" role="img" '
        f'aria-label="Feet and ball from above, toes on one line: {escape(names)}">{columns}</svg>'
    )


def _breadth(plan: Plan) -> float:
    """From the outside of one shoe to that of the other and some room, centimetre."""
    shoes = np.vstack([shoe_outline(plan.figure, lead) for lead in ("trail", "lead")])
    return float(100 * np.ptp(shoes[:, 0]) + 2 * _BESIDE_CM)


def _club(plan: Plan, *, hand: Hand, column: float) -> str:
    sign = 1 if hand is Hand.LEFT else -1
    toes = (plan.figure["lead_shoe_toe"] + plan.figure["trail_shoe_toe"])[1] / 2
    middle = (plan.figure["lead_ankle"] + plan.figure["trail_ankle"])[0] / 2

    def at(points: Array) -> Array:
        x = column / 2 + sign * 100 * (points[..., 0] - middle)
        return np.stack([x, _TOES_CM + 100 * (points[..., 1] - toes)], axis=-1)

    feet = ""
    for lead in ("trail", "lead"):
        outline = at(shoe_outline(plan.figure, lead))
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in outline) + "Z"
        feet += f'<path d="{path}" fill="{PINE if lead == "lead" else FAR}"/>'
    bx, by = at(plan.figure["ball"])
    mark = "" if plan.fits else " !"
    return (
        f'<path d="M2 {_TOES_CM}H{column - 2:.1f}" stroke="{GROUND}" stroke-width="0.8"/>'
        f'{feet}<path d="M{bx:.1f} {by:.1f}V{_TOES_CM}" stroke="{AMBER}" stroke-width="1.2" '
        f'stroke-dasharray="3 2.4"/><circle cx="{bx:.1f}" cy="{by:.1f}" r="3" fill="#ffffff" '
        f'stroke="{INK}" stroke-width="1.2"/>'
        f'<text x="{column / 2:.1f}" y="{_TOES_CM + _BELOW_CM - 6}" text-anchor="middle" '
        f'font-size="9" font-family="sans-serif" fill="{INK}" font-weight="600">'
        f"{escape(plan.club.name)}{mark}</text>"
    )
