"""Props seen from above: what is laid on the ground, and clubs held across hips and chest."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.advise import Prop
from wellset.reports.drill_props_front import inner_edges
from wellset.reports.drill_stage import (
    CHALK_LINE,
    INK,
    PAPER,
    WOOD,
    Placed,
    Stage,
    Where,
    dot,
    filled,
    labels,
    stroke,
)

Array = NDArray[np.float64]

STICK_M: Final = 1.10
TOES_TO_STICK_M: Final = 0.09
"""A hand's width."""
CLOCK_M: Final = 0.20
"""Half across a clock face at most; two never overlap."""


def _lead(stage: Stage) -> Where:
    return "right" if stage.sheet.way > 0 else "left"


def _at(stage: Stage, *, x: float, y: float) -> Array:
    return stage.sheet.at(np.array([x, y, 0.0]))


def _toes(stage: Stage) -> float:
    """Y of the foremost toe, metre."""
    return float(min(stage.plan.figure[f"{s}_shoe_toe"][1] for s in ("lead", "trail")))


def _toe_stick(stage: Stage, words: str) -> Placed:
    return _along_aim(stage, words, name="toe-stick", y=_toes(stage) - TOES_TO_STICK_M)


def _aim_stick(stage: Stage, words: str) -> Placed:
    return _along_aim(stage, words, name="aim-stick", y=0.45 * _toes(stage))


def _along_aim(stage: Stage, words: str, *, name: str, y: float) -> Placed:
    middle = float(stage.plan.figure["lead_ankle"][0] + stage.plan.figure["trail_ankle"][0]) / 2
    ends = [_at(stage, x=middle - STICK_M / 2, y=y), _at(stage, x=middle + STICK_M / 2, y=y)]
    return Placed(
        before=stroke(ends, name=f"prop {name}", width=2.2),
        labels=labels(words, ends[1] + np.array([0.0, 0.0]), where=_lead(stage)),
        reach=np.array(ends),
    )


def _ball_stick(stage: Stage, words: str) -> Placed:
    heel = max(float(stage.plan.figure[f"{s}_shoe_heel"][1]) for s in ("lead", "trail"))
    ends = [_at(stage, x=0.0, y=0.045), _at(stage, x=0.0, y=heel + 0.06)]
    return Placed(
        before=stroke(ends, name="prop ball-stick", width=2.2),
        labels=labels(words, ends[1] + np.array([0.0, 8.5]), where="under"),
        reach=np.array(ends),
    )


def _tee(at: Array) -> str:
    return (
        f'<circle class="prop tee" cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="1.7" fill="{WOOD}" '
        f'stroke="{INK}" stroke-width="0.5"/>'
    )


def _edges(stage: Stage) -> tuple[Array, Array]:
    lead, trail = (stage.sheet.at(edge) for edge in inner_edges(stage))
    return lead, trail


def _tees(stage: Stage, words: str) -> Placed:
    lead, trail = _edges(stage)
    marks = "".join(_tee(at) for at in (lead, trail, (lead + trail) / 2))
    return Placed(before=marks, labels=labels(words, (lead + trail) / 2, where="under"))


def _middle_tee(stage: Stage, words: str) -> Placed:
    lead, trail = _edges(stage)
    at = (lead + trail) / 2
    return Placed(before=_tee(at), labels=labels(words, at + np.array([0, 5.0]), where="under"))


def _club_heads(stage: Stage, words: str) -> Placed:
    """Heads of the club in hand laid end to end between the inner edges, the last one cut."""
    lead, trail = _edges(stage)
    heads = stage.plan.floor.gap_club_heads
    step = (lead - trail) / heads
    shapes = ""
    for i in range(int(np.ceil(heads))):
        start, end = trail + i * step, trail + min(i + 1, heads) * step
        shapes += _head(start, end)
    told = f"{words}: {_count(heads)} in all" if words else ""
    return Placed(
        before=shapes, labels=labels(told, (lead + trail) / 2 + [0, 2], where=_lead(stage))
    )


def _head(start: Array, end: Array) -> str:
    down = np.array([0.0, 1.0])
    low, high = start + 2.6 * down, start - 1.4 * down
    far_low, far_high = end + 2.6 * down, end - 3.6 * down
    return filled(
        np.array([low, high, far_high, far_low]), fill="#f6e3b4", edge=INK, width=0.6,
        name="prop club-heads",
    )  # fmt: skip


def _count(heads: float) -> str:
    whole, half = divmod(round(2 * heads), 2)
    return f"{whole}½" if half else f"{whole}"


def _foot_clocks(stage: Stage, words: str) -> Placed:
    """A dial about each heel; twelve lies square to the aim."""
    drawn, reach = "", []
    apart = np.linalg.norm(
        stage.sheet.point("lead_shoe_heel") - stage.sheet.point("trail_shoe_heel")
    )
    radius = min(100 * CLOCK_M, 0.46 * float(apart))
    for side in ("lead", "trail"):
        heel, toe = stage.sheet.point(f"{side}_shoe_heel"), stage.sheet.point(f"{side}_shoe_toe")
        drawn += (
            f'<circle class="prop clock" cx="{heel[0]:.2f}" cy="{heel[1]:.2f}" '
            f'r="{radius:.2f}" fill="none" stroke="{WOOD}" stroke-width="1"/>'
        )
        for hour in range(12):
            way = np.array([np.sin(np.pi * hour / 6), -np.cos(np.pi * hour / 6)])
            deep = 4.6 if hour == 0 else 2.2
            drawn += stroke(
                [heel + way * radius, heel + way * (radius - deep)],
                colour=WOOD, width=2.0 if hour == 0 else 0.9, cap="butt",
            )  # fmt: skip
        drawn += stroke(
            [heel, toe + (toe - heel) * 0.12],
            colour=CHALK_LINE, width=0.9, dash="3 2.4",
        )  # fmt: skip
        drawn += dot(heel, radius=1.3)
        reach += [heel - radius, heel + radius]
    lead = stage.sheet.point("lead_shoe_heel")
    top = np.array([lead[0], lead[1] - radius])
    return Placed(
        before=drawn, labels=labels(words, top, where=_lead(stage)), reach=np.array(reach)
    )


def _across(stage: Stage, stem: str, *, name: str, words: str, ahead: float) -> Placed:
    """A club along the line of two joints, held just before them."""
    lead, trail = stage.sheet.point(f"lead_{stem}"), stage.sheet.point(f"trail_{stem}")
    along = (lead - trail) / np.linalg.norm(lead - trail)
    aside = np.array([along[1], -along[0]])
    before = aside if aside[1] < 0 else -aside
    middle = (lead + trail) / 2 + ahead * before
    ends = [middle - 50 * along, middle + 50 * along]
    shaft = stroke(ends, colour=PAPER, width=3.8)
    shaft += stroke(ends, name=f"prop {name}", colour=INK, width=1.7)
    shaft += stroke([ends[0], ends[0] + 26 * along], colour=INK, width=3.0)
    return Placed(
        before=shaft,
        labels=labels(words, ends[1], where=_lead(stage)),
        reach=np.array(ends),
    )


def _hip_club(stage: Stage, words: str) -> Placed:
    return _across(stage, "hip", name="hip-club", words=words, ahead=stage.sheet.long(0.155))


def _chest_club(stage: Stage, words: str) -> Placed:
    return _across(stage, "shoulder", name="chest-club", words=words, ahead=stage.sheet.long(0.09))


ABOVE_PROPS: Final[Mapping[Prop, Callable[[Stage, str], Placed]]] = MappingProxyType(
    {
        Prop.TOE_STICK: _toe_stick,
        Prop.AIM_STICK: _aim_stick,
        Prop.BALL_STICK: _ball_stick,
        Prop.TEES: _tees,
        Prop.MIDDLE_TEE: _middle_tee,
        Prop.CLUB_HEADS: _club_heads,
        Prop.FOOT_CLOCKS: _foot_clocks,
        Prop.HIP_CLUB: _hip_club,
        Prop.CHEST_CLUB: _chest_club,
    }
)
