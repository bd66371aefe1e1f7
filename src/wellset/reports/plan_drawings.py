"""The drawings of a plan as files of their own: SVG, the view from above as large as life."""

from __future__ import annotations

import re
from typing import Final

from wellset.prescribe import Plan
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.ladder_svg import ladder_svg
from wellset.services.plan_bag import BagPlan

SIDES: Final = (
    (Side.FRONT, "front", 0.1, "from the front, one tenth of its size"),
    (Side.BEHIND, "side", 0.1, "from behind, looking at the target, one tenth of its size"),
    (Side.ABOVE, "from-above", 1.0, "from above, at true size"),
)
"""View, how its file is called, its scale, and its words."""


def file_stem(name: str, /) -> str:
    """A name as part of a file's: small letters, digits and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "club"


def plan_drawings(bag: BagPlan, /) -> dict[str, str]:
    """Every drawing of a bag of plans, by the name of its file.

    Front and side are drawn at a tenth of their size, the view from above at true size, as the
    width and height of each file say in millimetres.
    """
    drawings = {
        f"{file_stem(plan.club.name)}-{name}.svg": _drawing(
            bag, plan, side=side, scale=scale, words=words
        )
        for plan in bag.plans
        for side, name, scale, words in SIDES
    }
    return {**drawings, "ladder.svg": f"{ladder_svg(bag.plans, hand=bag.hand)}\n"}


def _drawing(bag: BagPlan, plan: Plan, *, side: Side, scale: float, words: str) -> str:
    told = f"{plan.club.name}, {words}: the set-up of this plan"
    drawing = figure_svg(
        plan.figure, side, hand=bag.hand, words=told, scale=scale, ground=plan.scene.ground
    )
    return f"{drawing}\n"
