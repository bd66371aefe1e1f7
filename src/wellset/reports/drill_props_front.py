"""Props seen from the front, each placed from the outline of the figure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.advise import Prop
from wellset.figure.figure import BUILD_SCALARS
from wellset.measures import MEASURES
from wellset.reports.body_shape import limb, shoe, trunk
from wellset.reports.drill_stage import (
    CHALK_LINE,
    INK,
    PAPER,
    STONE,
    WOOD,
    Placed,
    Stage,
    Where,
    dot,
    filled,
    hanging,
    labels,
    stroke,
)

Array = NDArray[np.float64]


def _lead(stage: Stage) -> Where:
    return "right" if stage.sheet.way > 0 else "left"


def _trail(stage: Stage) -> Where:
    return "left" if stage.sheet.way > 0 else "right"


def _hanging_club(words: str, *, name: str, top: Array, where: Where) -> Placed:
    """A club held at its grip that hangs straight down to just above the ground."""
    low = np.array([top[0], -4.0])
    shaft = stroke([top, low], name=f"prop {name}", colour=CHALK_LINE, width=1.2)
    grip = stroke([top, top + 0.24 * (low - top)], colour=CHALK_LINE, width=2.4)
    head = filled(
        low + np.array([[-1.2, -3.5], [1.2, -3.5], [1.6, 2.0], [-1.6, 2.0]]), fill=CHALK_LINE
    )
    return Placed(
        before=shaft + grip + head + dot(top, radius=1.5),
        labels=labels(words, top + 0.62 * (low - top), where=where),
        reach=np.array([top, low]),
    )


def _nose_plumb(stage: Stage, words: str) -> Placed:
    top = stage.sheet.point("nose")
    return _hanging_club(words, name="nose-plumb", top=top, where=_trail(stage))


def _chest_plumb(stage: Stage, words: str) -> Placed:
    top = stage.sheet.point("sternum")
    return _hanging_club(words, name="chest-plumb", top=top, where=_trail(stage))


def _buckle_plumb(stage: Stage, words: str) -> Placed:
    top = stage.sheet.middle("hip")
    return hanging("buckle-plumb", top, bottom=-2.0, words=words, where=_trail(stage))


def _ball_line(stage: Stage, words: str) -> Placed:
    ball = stage.sheet.point("ball")
    ends = [np.array([ball[0], 0.0]), np.array([ball[0], stage.sheet.point("nose")[1] - 8])]
    line = stroke(ends, name="prop ball-line", colour=WOOD, width=1.1, dash="3 2.4")
    return Placed(
        behind=line, labels=labels(words, np.array([ball[0], -14.0]), where=_lead(stage)),
        reach=np.array(ends),
    )  # fmt: skip


def _tee(at: Array) -> str:
    shape = np.array([[-1.5, -5.2], [1.5, -5.2], [0.5, -4.0], [0.3, 0.6], [-0.3, 0.6], [-0.5, -4]])
    return filled(at + shape, fill=WOOD, edge=INK, width=0.4, name="prop tee")


def inner_edges(stage: Stage, /) -> tuple[Array, Array]:
    """Inner edges of the lead and the trail shoe at the ankles, metre, world, on the ground."""
    half = stage.plan.figure.scalars[BUILD_SCALARS.index("shoe_breadth")] / 2
    lead, trail = stage.plan.figure["lead_ankle"].copy(), stage.plan.figure["trail_ankle"].copy()
    lead[0] -= half
    trail[0] += half
    lead[2] = trail[2] = 0.0
    return lead, trail


def _tees(stage: Stage, words: str) -> Placed:
    ends = [stage.sheet.at(edge) for edge in inner_edges(stage)]
    marks = "".join(_tee(np.array([x, 0.0])) for x, _ in (*ends, (ends[0] + ends[1]) / 2))
    return Placed(before=marks, labels=labels(words, ends[0], where=_lead(stage)))


def _middle_tee(stage: Stage, words: str) -> Placed:
    middle = stage.sheet.middle("ankle")
    at = np.array([middle[0], 0.0])
    return Placed(before=_tee(at), labels=labels(words, at - 2, where=_lead(stage)))


def lead_edge(stage: Stage, /) -> Array:
    """The outermost point of the lead hip on the drawing."""
    parts = [trunk(stage.sheet), limb(stage.sheet, "lead", name="thigh")]
    points = np.vstack([part.outline for part in parts])
    hip = stage.sheet.point("lead_hip")
    near = points[np.abs(points[:, 1] - hip[1]) < stage.sheet.long(0.09)]
    return np.asarray(near[int(np.argmax(stage.sheet.way * near[:, 0]))])


def _hip_post(stage: Stage, words: str) -> Placed:
    touch = lead_edge(stage)
    x, thick = touch[0], 3.0 * stage.sheet.way
    top = touch[1] - 38
    post = filled(
        np.array([[x, 1.0], [x, top], [x + thick, top], [x + thick, 1.0]]), fill=WOOD
    )  # fmt: skip
    face = stroke([np.array([x, 1.0]), np.array([x, top])], name="prop hip-post", width=0.0)
    return Placed(
        behind=post + face,
        before=dot(touch),
        labels=labels(words, np.array([x + thick, touch[1] - 20]), where=_lead(stage)),
        reach=np.array([[x + thick, top]]),
    )


def _towel(stage: Stage, words: str) -> Placed:
    """Across the chest, under both arms, its ends hanging outside."""
    lead, trail = stage.sheet.point("lead_armpit"), stage.sheet.point("trail_armpit")
    out = (lead - trail) / np.linalg.norm(lead - trail)
    sag = np.array([0.0, 3.0])
    top = [trail - 7 * out, trail, (lead + trail) / 2 + sag, lead, lead + 7 * out]
    deep = np.array([0.0, 7.5])
    band = np.array([*top, *(p + deep for p in top[::-1])])
    ends = "".join(
        filled(
            e + np.array([[-2.6, 2.0], [2.6, 2.0], [3.2, 17.0], [-3.2, 17.0]]),
            fill="#f6e3b4", edge=WOOD, width=0.8,
        )
        for e in (top[0], top[-1])
    )  # fmt: skip
    cloth = filled(band, fill="#f6e3b4", edge=WOOD, width=0.9, name="prop towel")
    stripe = stroke([p + 0.55 * deep for p in top], colour=WOOD, width=0.7)
    return Placed(
        behind="",
        before=ends + cloth + stripe,
        labels=labels(words, top[-1] + deep, where=_lead(stage)),
        reach=np.array([top[0], top[-1]]),
    )


def _share_words(share: float) -> str:
    if share >= 60:
        return "clearly more on the lead foot"
    if share >= 52.5:
        return "a little more on the lead foot"
    if share > 47.5:
        return "the same on both feet"
    return "a little more on the trail foot"


def _scales(stage: Stage, words: str) -> Placed:
    """A scale under each shoe; the bars below are as long as what each foot carries."""
    share = float(MEASURES["lead_share"].formula(stage.plan.figure.state))
    drawn, reach = "", []
    for side, part in (("lead", share), ("trail", 100 - share)):
        outline = shoe(stage.sheet, side).outline
        left, right = outline[:, 0].min() - 2, outline[:, 0].max() + 2
        box = np.array([[left, 0.4], [right, 0.4], [right, 4.0], [left, 4.0]])
        drawn += filled(box, fill=PAPER, edge=INK, width=0.8, name="prop scales")
        middle, tall = (left + right) / 2, 0.36 * part
        bar = [[-4.5, 6.0], [4.5, 6.0], [4.5, 6.0 + tall], [-4.5, 6.0 + tall]]
        drawn += filled(np.array([middle, 0.0]) + np.array(bar), fill=CHALK_LINE,
                        name=f"load {side}")  # fmt: skip
        reach.append([middle, 7.0 + tall])
    at = np.array([(reach[0][0] + reach[1][0]) / 2, max(low for _, low in reach) + 8.0])
    told = f"{words}: {_share_words(share)}" if words else ""
    return Placed(before=drawn, labels=labels(told, at, where="under"), reach=np.array(reach))


def _mirror(stage: Stage, words: str) -> Placed:
    points = stage.sheet.at(stage.figure.points)
    left, right = points[:, 0].min() - 22, points[:, 0].max() + 22
    top = points[:, 1].min() - 22
    frame = (
        f'<rect class="prop mirror" x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" '
        f'height="{4 - top:.2f}" rx="4" fill="#eef3ef" stroke="{STONE}" stroke-width="2.4"/>'
    )
    gleam = "".join(
        stroke(
            [np.array([left + 5 + k, top + 22]), np.array([left + 21 + k, top + 5])],
            colour=PAPER, width=2.0,
        )
        for k in (0, 7)
    )  # fmt: skip
    return Placed(
        behind=frame + gleam,
        labels=labels(words, np.array([right, top + 10]), where="over"),
        reach=np.array([[left - 2, top - 2], [right + 2, 5.0]]),
    )


def _shaft_line(stage: Stage, words: str) -> Placed:
    low, butt = stage.sheet.point("shaft_end"), stage.sheet.point("grip_end")
    along = (butt - low) / np.linalg.norm(butt - low)
    top = butt + 30 * along
    line = stroke([low, top], name="prop shaft-line", colour=CHALK_LINE, width=0.9, dash="3 2.4")
    return Placed(
        before=line + dot(top, radius=1.5), labels=labels(words, top, where=_lead(stage)),
        reach=np.array([top]),
    )  # fmt: skip


def _shoulder_slope(stage: Stage, words: str) -> Placed:
    lead, trail = stage.sheet.point("lead_shoulder"), stage.sheet.point("trail_shoulder")
    along = (lead - trail) / np.linalg.norm(lead - trail)
    ends = [trail - 22 * along, lead + 22 * along]
    slope = stroke(ends, name="prop shoulder-slope", colour=WOOD, width=1.8)
    level = stroke(
        [ends[0], np.array([ends[1][0], ends[0][1]])],
        colour=CHALK_LINE, width=0.8, dash="3 2.4",
    )  # fmt: skip
    return Placed(
        before=level + slope,
        labels=labels(words, ends[0], where=_trail(stage)),
        reach=np.array(ends),
    )


def _bar_across(stage: Stage, stem: str, *, name: str, words: str, ahead: float) -> Placed:
    lead, trail = stage.sheet.point(f"lead_{stem}"), stage.sheet.point(f"trail_{stem}")
    along = (lead - trail) / np.linalg.norm(lead - trail)
    down = np.array([0.0, ahead])
    ends = [trail - 32 * along + down, lead + 32 * along + down]
    return Placed(
        before=stroke(ends, name=f"prop {name}", colour=WOOD, width=2.2),
        labels=labels(words, ends[1], where=_lead(stage)),
        reach=np.array(ends),
    )


def _hip_club(stage: Stage, words: str) -> Placed:
    return _bar_across(stage, "hip", name="hip-club", words=words, ahead=-3.0)


def _chest_club(stage: Stage, words: str) -> Placed:
    return _bar_across(stage, "shoulder", name="chest-club", words=words, ahead=3.0)


FRONT_PROPS: Final[Mapping[Prop, Callable[[Stage, str], Placed]]] = MappingProxyType(
    {
        Prop.NOSE_PLUMB: _nose_plumb,
        Prop.CHEST_PLUMB: _chest_plumb,
        Prop.BUCKLE_PLUMB: _buckle_plumb,
        Prop.BALL_LINE: _ball_line,
        Prop.MIDDLE_TEE: _middle_tee,
        Prop.TEES: _tees,
        Prop.HIP_POST: _hip_post,
        Prop.TOWEL: _towel,
        Prop.SCALES: _scales,
        Prop.MIRROR: _mirror,
        Prop.SHAFT_LINE: _shaft_line,
        Prop.SHOULDER_SLOPE: _shoulder_slope,
        Prop.HIP_CLUB: _hip_club,
        Prop.CHEST_CLUB: _chest_club,
    }
)
