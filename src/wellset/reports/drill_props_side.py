"""Props seen from the side, each placed from the outline of the figure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.advise import Prop
from wellset.measures import MEASURES
from wellset.reports.body_shape import (
    back_outline,
    head,
    limb,
    shoe,
    trunk,
)
from wellset.reports.drill_pose import back_line, cane_top
from wellset.reports.drill_stage import (
    CHALK_LINE,
    INK,
    SKIN,
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

WALL_HEIGHT_CM: Final = 150.0
STOOL_BELOW_M: Final = 0.075
"""How far below the hip joints a high stool meets the legs."""


def rearmost(stage: Stage, /) -> Array:
    """The rearmost point of trunk, seat and legs on the drawing."""
    parts = [trunk(stage.sheet)]
    parts += [
        limb(stage.sheet, side, name=name)
        for side in ("lead", "trail")
        for name in ("thigh", "shank")
    ]
    points = np.vstack([part.outline for part in parts])
    return np.asarray(points[int(np.argmax(stage.rear * points[:, 0]))])


def _wall(stage: Stage, words: str) -> Placed:
    touch, rear = rearmost(stage), stage.rear
    x = touch[0]
    tall = -WALL_HEIGHT_CM
    bricks = ""
    for i in range(12):
        high = -i * 13.0
        if high - 13 < tall:
            break
        bricks += stroke(
            [np.array([x + rear * 1.2, high]), np.array([x + rear * 8, high - 8])],
            colour=STONE, width=0.8,
        )  # fmt: skip
    face = stroke(
        [np.array([x, 0.0]), np.array([x, tall])], name="prop wall", colour=WOOD, width=0.0
    )
    # the line's edge, not its middle, is the wall's face
    thick = 2.2
    block = filled(
        np.array([[x, 0], [x, tall], [x + rear * thick, tall], [x + rear * thick, 0]]), fill=WOOD
    )
    reach = np.array([[x + rear * 9, 0], [x, tall]])
    return Placed(
        behind=bricks + block + face,
        before=dot(touch),
        labels=labels(words, touch, where=_behind(stage)),
        reach=reach,
    )


def _behind(stage: Stage) -> Where:
    return "left" if stage.rear < 0 else "right"


def _ahead(stage: Stage) -> Where:
    return "right" if stage.rear < 0 else "left"


def _stool(stage: Stage, words: str) -> Placed:
    sheet, rear = stage.sheet, stage.rear
    leg = limb(sheet, "trail", name="thigh").outline
    below = leg[leg[:, 1] > sheet.point("trail_hip")[1] + sheet.long(STOOL_BELOW_M)]
    touch = below[int(np.argmax(rear * below[:, 0]))]
    near, far, high = touch[0], touch[0] + rear * 28, touch[1]
    top = filled(
        np.array([[near, high], [far, high], [far, high + 3.2], [near, high + 3.2]]),
        fill=WOOD, name="prop stool",
    )  # fmt: skip
    legs = ""
    for start, end in ((near + rear * 3, near - rear * 1), (far - rear * 3, far + rear * 1)):
        legs += stroke([np.array([start, high + 3]), np.array([end, 0.0])], width=2.2)
    rung = -0.35 * abs(high)
    legs += stroke([np.array([near, rung]), np.array([far, rung])], width=1.4)
    return Placed(
        behind=legs + top,
        before=dot(touch),
        labels=labels(words, np.array([far - rear * 6, high]), where=_behind(stage)),
        reach=np.array([[far + rear * 2, 0.0]]),
    )


def _on_sheet(stage: Stage, side_view: Array) -> Array:
    """A place of the side view (y, z), metre, on the drawing."""
    return stage.sheet.at(np.array([0.0, side_view[0], side_view[1]]))


def _back_stick(stage: Stage, words: str) -> Placed:
    low, high = (_on_sheet(stage, place) for place in back_line(stage.figure))
    along = (high - low) / np.linalg.norm(high - low)
    head_circle = next(p for p in head(stage.sheet) if p.name == "head").outline
    centre = head_circle.mean(axis=0)
    behind_head = low + along * float((centre - low) @ along)
    aside = np.array([-along[1], along[0]]) * (-1 if stage.rear > 0 else 1)
    half = 1.1
    # the stick's near edge lies on the body; its middle is half its thickness behind
    ends = [low - 9 * along, behind_head + 16 * along]
    shift = aside * half * (1 if (aside @ (low - centre)) > 0 else -1)
    edge = stroke(ends, name="prop back-stick", width=0.0)
    stick = stroke([p + shift for p in ends], width=2 * half, cap="butt")
    touches = "".join(dot(at) for at in (low, high, behind_head))
    return Placed(
        before=stick + edge + touches,
        labels=labels(words, high + shift, where=_behind(stage)),
        reach=np.array(ends),
    )


def _back_line(stage: Stage, words: str) -> Placed:
    outline = back_outline(stage.sheet)
    return Placed(
        before=stroke(outline, name="prop back-line", colour=WOOD, width=2.6),
        labels=labels(words, outline[len(outline) // 2], where=_behind(stage)),
    )


def _cane(stage: Stage, words: str) -> Placed:
    top = stage.sheet.at(cane_top(stage.figure))
    foot = np.array([top[0], 0.0])
    shaft = stroke([top, foot], name="prop cane", colour=INK, width=1.5)
    grip = stroke([top, top + 0.26 * (foot - top)], colour=INK, width=2.8)
    head_ = filled(
        np.array([foot + p for p in ([-1.5, 0], [-1.5, -3], [5.5, -5], [6.5, 0])])
        if stage.rear < 0
        else np.array([foot + p for p in ([1.5, 0], [1.5, -3], [-5.5, -5], [-6.5, 0])]),
        fill=INK,
    )
    return Placed(
        before=shaft + grip + head_,
        labels=labels(words, top + 0.6 * (foot - top), where=_ahead(stage)),
        reach=np.array([top, foot]),
    )


def _fist(stage: Stage, words: str) -> Placed:
    """Fists between the butt and the front of the thigh, as many as the plan has room for."""
    butt = stage.sheet.point("grip_end")
    gap = 100 * float(MEASURES["hand_gap"].formula(stage.plan.figure.state))
    fists = stage.plan.floor.hand_gap_fists
    wide = gap / max(fists, 0.3)
    shapes = ""
    start = butt[0]
    whole = max(1, round(fists))
    wide = min(wide, gap / whole)
    for i in range(whole):
        left = start + stage.rear * i * wide
        shapes += _knuckles(np.array([left, butt[1]]), stage.rear * wide)
    high = butt[1] - 7.5
    ends = [np.array([start, high]), np.array([start + stage.rear * gap, high])]
    bar = stroke(ends, name="prop fist", colour=CHALK_LINE, width=0.9)
    tick = np.array([[0.0, -2.0], [0.0, 2.0]])
    bar += "".join(stroke(end + tick, colour=CHALK_LINE, width=0.9) for end in ends)
    told = f"{words}: {_count(fists)}" if words else ""
    return Placed(
        before=shapes + bar, labels=labels(told, (ends[0] + ends[1]) / 2, where=_behind(stage))
    )


def _knuckles(at: Array, wide: float) -> str:
    """A fist seen from its end: thumb side up, four fingers."""
    left, across = min(at[0], at[0] + wide), abs(wide)
    shape = (
        f'<rect x="{left + 0.03 * across:.2f}" y="{at[1] - 4.6:.2f}" width="{0.94 * across:.2f}" '
        f'height="9.2" rx="2.4" fill="{SKIN}" stroke="{INK}" stroke-width="0.7"/>'
    )
    return shape + "".join(
        stroke(
            [np.array([left + 0.2 * across, y]), np.array([left + 0.8 * across, y])],
            colour=INK, width=0.5,
        )
        for y in (at[1] - 2.2, at[1], at[1] + 2.2)
    )  # fmt: skip


_HALVES: Final = {1: "half a fist", 2: "one", 3: "one and a half", 4: "two", 5: "two and a half"}


def _count(fists: float) -> str:
    return _HALVES.get(max(1, round(2 * fists)), "about three")


def _coin(stage: Stage, words: str) -> Placed:
    end = stage.sheet.point("shaft_end")
    length = stage.sheet.long(stage.plan.club.head_length_m) / stage.sheet.size
    toe = end[0] - stage.rear * (length - 1.2)
    coins = "".join(
        filled(np.array([[x - 2.2, -0.1], [x + 2.2, -0.1], [x + 2.2, 0.9], [x - 2.2, 0.9]]),
               fill=WOOD, edge=INK, width=0.4, name="prop coin")
        for x in (toe, end[0])
    )  # fmt: skip
    return Placed(
        before=coins,
        labels=labels(words, np.array([toe, 0.5]), where=_ahead(stage)),
        reach=np.array([[toe - stage.rear * 6, 2.0]]),
    )


def _handle_level(stage: Stage, words: str) -> Placed:
    butt = stage.sheet.point("grip_end")
    leg = limb(stage.sheet, "trail", name="thigh").outline
    back = leg[int(np.argmax(stage.rear * leg[:, 0]))][0]
    hip, knee = stage.sheet.point("trail_hip"), stage.sheet.point("trail_knee")
    share = np.clip((butt[1] - hip[1]) / (knee[1] - hip[1]), -0.4, 1.0)
    on_leg = hip + share * (knee - hip)
    tape = stroke(
        [np.array([on_leg[0] - 5, butt[1]]), np.array([on_leg[0] + 5, butt[1]])],
        colour=WOOD, width=2.4, cap="butt",
    )  # fmt: skip
    ends = [np.array([back + stage.rear * 12, butt[1]]), butt - np.array([stage.rear * 10, 0])]
    line = stroke(ends, name="prop handle-level", colour=CHALK_LINE, width=0.9, dash="3 2.4")
    return Placed(
        before=tape + line + dot(butt, radius=1.4),
        labels=labels(words, ends[0], where=_behind(stage)),
        reach=np.array(ends),
    )


def _balance_point(stage: Stage, words: str) -> Placed:
    state = stage.plan.figure.state
    at = stage.sheet.at(np.asarray(state.centre_of_mass))
    x = float(at[0])
    mark = filled(np.array([[x, 0.4], [x + 4.2, 7.4], [x - 4.2, 7.4]]), fill=CHALK_LINE,
                  name="prop balance-point")  # fmt: skip
    line = stroke(
        [np.array([x, 0.0]), np.array([x, at[1]])],
        colour=CHALK_LINE, width=0.9, dash="3 2.4",
    )  # fmt: skip
    return Placed(
        before=line + mark + dot(at, radius=1.8),
        labels=labels(words, np.array([x, 16.0]), where="under"),
        reach=np.array([[x - 5, 8.0], [x + 5, 8.0]]),
    )


def _shoulder_plumb(stage: Stage, words: str) -> Placed:
    top = stage.sheet.middle("shoulder")
    low = min(stage.sheet.middle("wrist")[1] + 12, -2.0)
    line = stroke(
        [top, np.array([top[0], low])],
        name="prop shoulder-plumb", colour=CHALK_LINE, width=0.9, dash="3 2.4",
    )  # fmt: skip
    at = np.array([top[0], low - 6])
    return Placed(before=line + dot(top, radius=1.4), labels=labels(words, at, where=_ahead(stage)))


def _armpit_plumb(stage: Stage, words: str) -> Placed:
    return hanging("armpit-plumb", stage.sheet.middle("armpit"), words=words, where=_behind(stage))


def _knee_plumb(stage: Stage, words: str) -> Placed:
    """From the front of the trail knee, which is nearer to the eye."""
    leg = np.vstack([limb(stage.sheet, "trail", name=n).outline for n in ("thigh", "shank")])
    knee = stage.sheet.point("trail_knee")
    near = leg[np.abs(leg[:, 1] - knee[1]) < 4.0]
    front = near[int(np.argmin(stage.rear * near[:, 0]))]
    sole = shoe(stage.sheet, "trail").outline[:, 1].min()
    return hanging("knee-plumb", np.array([front[0], knee[1]]), bottom=min(-1.0, float(sole) + 6),
                   words=words, where=_behind(stage))  # fmt: skip


SIDE_PROPS: Final[Mapping[Prop, Callable[[Stage, str], Placed]]] = MappingProxyType(
    {
        Prop.WALL: _wall,
        Prop.STOOL: _stool,
        Prop.BACK_STICK: _back_stick,
        Prop.BACK_LINE: _back_line,
        Prop.CANE: _cane,
        Prop.FIST: _fist,
        Prop.COIN: _coin,
        Prop.HANDLE_LEVEL: _handle_level,
        Prop.BALANCE_POINT: _balance_point,
        Prop.SHOULDER_PLUMB: _shoulder_plumb,
        Prop.ARMPIT_PLUMB: _armpit_plumb,
        Prop.KNEE_PLUMB: _knee_plumb,
    }
)
