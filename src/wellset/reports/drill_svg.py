"""A drill's drawing: the student's target with its props, and the fault beside it."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping
from typing import Final

import numpy as np
from attrs import frozen
from markupsafe import Markup, escape
from numpy.typing import NDArray

from wellset.advise import Drawing, Fault, Prop, Seen, Side, words
from wellset.equipment import Club
from wellset.figure.figure import Figure
from wellset.figure.views import Hand
from wellset.prescribe import Plan, with_fault
from wellset.reports.body_shape import Part, Sheet, hand_part, head, limb, shoe, trunk
from wellset.reports.club_shape import club_head, shaft
from wellset.reports.drill_pose import posed
from wellset.reports.drill_props_above import ABOVE_PROPS
from wellset.reports.drill_props_front import FRONT_PROPS
from wellset.reports.drill_props_side import SIDE_PROPS
from wellset.reports.drill_stage import (
    CHALK_LINE,
    INK,
    PAPER,
    SKIN,
    STONE,
    Label,
    Placed,
    Stage,
    filled,
    stroke,
)

Array = NDArray[np.float64]

PROPS: Final[Mapping[Seen, Mapping[Prop, Callable[[Stage, str], Placed]]]] = {
    Seen.SIDE: SIDE_PROPS,
    Seen.FRONT: FRONT_PROPS,
    Seen.ABOVE: ABOVE_PROPS,
}

LEAD: Final = "#1c6446"
TRAIL: Final = "#7fa992"
TRUNK: Final = "#3f8163"
LEAD_SHOE: Final = "#10261f"
TRAIL_SHOE: Final = "#56685f"
PALE: Final = "#e6eee9"
PALE_EDGE: Final = "#c3d2c9"
_PALE: Final = {"cap": "#d3e2d9", "brim": "#c3d6cb"}
FAINT: Final = "#e4e8e4"
FAINT_EDGE: Final = "#98a49c"
TEXT_CM: Final = 6.6
_LINE_CM: Final = 7.8
_LABEL_LETTERS: Final = 15
_LINE_LETTERS: Final = 26
_LETTER: Final = 0.64
"""Breadth of a letter at most, as a share of its size, with the widest of the fonts."""
_SCALES: Final = {Seen.SIDE: 2.3, Seen.FRONT: 2.3, Seen.ABOVE: 2.7}
"""Pixels to a centimetre of the student where a page has room."""
_FAINT_SCALE: Final = 0.62
_PAD_CM: Final = 5.0
_FONT: Final = "'Noto Sans', system-ui, 'Segoe UI', Roboto, 'DejaVu Sans', sans-serif"

ARROW_AT: Final[Mapping[str, tuple[str, ...]]] = {
    "stance_width": ("lead_ankle",), "stance_gap": ("lead_ankle",),
    "ball_position": ("lead_ankle", "trail_ankle"), "ball_to_toes": ("lead_shoe_toe",),
    "lead_foot_flare": ("lead_shoe_toe",), "trail_foot_flare": ("trail_shoe_toe",),
    "foot_line": ("lead_shoe_toe",), "hip_line": ("lead_hip",), "shoulder_line": ("lead_shoulder",),
    "forward_bend": ("c7",), "upper_back_curve": ("t8",), "low_back_curve": ("l3",),
    "lead_knee_flex": ("lead_knee",), "trail_knee_flex": ("trail_knee",),
    "arm_hang": ("lead_wrist", "trail_wrist"), "hand_gap": ("lead_hip", "trail_hip"),
    "heel_toe_balance": ("lead_hip", "trail_hip"), "lead_share": ("lead_hip", "trail_hip"),
    "armpit_plumb": ("lead_armpit", "trail_armpit"), "knee_plumb": ("lead_knee", "trail_knee"),
    "pelvis_shift": ("lead_hip", "trail_hip"), "chest_shift": ("sternum",),
    "head_behind_ball": ("nose",), "side_bend": ("sternum",), "shoulder_tilt": ("trail_shoulder",),
    "shaft_lean": ("grip_end",), "shaft_angle": ("grip_end",), "handle_height": ("grip_end",),
}  # fmt: skip
"""Where the arrow of a fault begins: the part of the body that has to move."""
_ARROW_CM: Final = (11.0, 20.0)


@frozen(kw_only=True)
class DrawnDrill:
    """A drawing, ready for a page.

    Parameters
    ----------
    target : Markup
        The student's target with its props.
    fault : Markup or None
        The fault, faint, with an arrow where to go.
    caption, fault_caption : str
    """

    target: Markup
    fault: Markup | None
    caption: str
    fault_caption: str = ""


def draw(
    drawing: Drawing, plan: Plan, /, *, hand: Hand, fault: Fault | None = None, title: str = ""
) -> DrawnDrill:
    """Draw one drawing of a drill from a student's plan.

    Parameters
    ----------
    drawing : Drawing
    plan : Plan
    hand : Hand
    fault : Fault, optional
        The finding whose fault is set beside it, where the drawing has one.
    title : str
        The drill's name, for those who can't see it.
    """
    figure = posed(plan.figure, drawing.arms)
    sheet = Sheet(figure=figure, seen=drawing.seen, hand=hand)
    stage = Stage(plan=plan, figure=figure, sheet=sheet)
    placed = [PROPS[drawing.seen][prop](stage, words) for prop, words in drawing.props.items()]
    body = _body(sheet, plan.club if drawing.arms.holds_club else None)
    alt = ", ".join(
        part for part in (title, f"your target from the {drawing.seen}" if drawing.seen is not
        Seen.ABOVE else "your target from above", drawing.caption) if part
    )  # fmt: skip
    target = _svg(
        sheet, body, placed=placed, words=alt, name="target",
        ball=drawing.arms.holds_club,
    )  # fmt: skip
    wrong, told = None, ""
    if drawing.fault and fault is not None:
        wrong = _fault(plan, fault, seen=drawing.seen, hand=hand)
        told = fault_words(fault)
    return DrawnDrill(target=target, fault=wrong, caption=drawing.caption, fault_caption=told)


def figure_drawing(
    figure: Figure, seen: Seen, *, hand: Hand, held: Club | None, words: str
) -> Markup:
    """A figure alone in the manner of the drills' drawings.

    Parameters
    ----------
    figure : Figure
        In the frame of a right-hander.
    seen : Seen
    hand : Hand
    held : Club or None
        The club in its hands.
    words : str
        For those who can't see it.
    """
    sheet = Sheet(figure=figure, seen=seen, hand=hand)
    body = _body(sheet, held)
    return _svg(sheet, body, placed=[], words=words, name="figure", ball=held is not None)


def fault_words(fault: Fault, /) -> str:
    """What is wrong, in the student's words: the first sentence of what the finding says."""
    said = words()[fault.measure].sides[fault.side].student
    return said.split(". ", maxsplit=1)[0].rstrip(".") + "."


def _fault(plan: Plan, fault: Fault, *, seen: Seen, hand: Hand) -> Markup:
    """The fault, solved for, faint; an arrow shows where its part has to go."""
    figure = with_fault(plan, fault.measure, high=fault.side is Side.HIGH)
    sheet = Sheet(figure=figure, seen=seen, hand=hand)
    aim = Sheet(figure=plan.figure, seen=seen, hand=hand)
    names = ARROW_AT[fault.measure]
    start = np.mean([sheet.point(n) for n in names], axis=0)
    step = np.mean([aim.point(n) for n in names], axis=0) - start
    length = float(np.linalg.norm(step))
    arrow = ""
    if length > 0.5:
        long = float(np.clip(2.0 * length, *_ARROW_CM))
        arrow = _arrow(start, start + step / length * long)
    told = f"not like this: {fault_words(fault)}"
    body = _body(sheet, plan.club)
    return _svg(sheet, body, placed=[Placed(before=arrow)], words=told, name="fault", faint=True)


def _arrow(start: Array, end: Array) -> str:
    along = (end - start) / np.linalg.norm(end - start)
    aside = np.array([-along[1], along[0]])
    head_ = np.array([end, end - 5.5 * along + 3.4 * aside, end - 5.5 * along - 3.4 * aside])
    neck = end - 4.5 * along
    return (
        stroke([start, neck], colour=PAPER, width=4.4)
        + stroke([start, neck], name="arrow", colour=CHALK_LINE, width=2.4)
        + filled(head_, fill=CHALK_LINE, edge=PAPER, width=0.8)
    )


@frozen(kw_only=True, eq=False)
class _Body:
    """Parts of a figure from far to near; pale ones only show where the student stands."""

    parts: tuple[Part, ...]
    pale: tuple[Part, ...] = ()


def _body(sheet: Sheet, held: Club | None, /) -> _Body:
    """Parts from far to near. From above, what stands on the ground is drawn last."""
    legs = {
        s: (shoe(sheet, s), limb(sheet, s, name="shank"), limb(sheet, s, name="thigh"))
        for s in ("lead", "trail")
    }
    arms = {
        s: (limb(sheet, s, name="upper-arm"), limb(sheet, s, name="forearm"), hand_part(sheet, s))
        for s in ("lead", "trail")
    }
    clubs: tuple[Part, ...] = ()
    if held is not None:
        made = club_head(sheet, kind=held.kind, length=held.head_length_m)
        clubs = (*shaft(sheet), made)
    if sheet.seen is Seen.ABOVE:
        pale = (trunk(sheet), *arms["trail"], *arms["lead"], *head(sheet))
        return _Body(parts=(*clubs, legs["trail"][0], legs["lead"][0]), pale=pale)
    if sheet.seen is Seen.SIDE:
        # from behind, looking at the target, the trail side is nearer
        order = (*arms["lead"], *legs["lead"], trunk(sheet), *legs["trail"], *head(sheet))
        return _Body(parts=(*order, *clubs, *arms["trail"]))
    order = (*legs["trail"], *legs["lead"], trunk(sheet), *head(sheet))
    return _Body(parts=(*order, *clubs, *arms["trail"], *arms["lead"]))


def _tone(name: str) -> str:
    first = name.split(" ", maxsplit=1)[0]
    if name.endswith("hand") or name in {"neck", "head"}:
        return SKIN
    if first in {"shaft", "grip", "club"}:
        return INK
    if name.endswith("shoe"):
        return LEAD_SHOE if first == "lead" else TRAIL_SHOE
    if name in {"trunk", "cap"}:
        return TRUNK
    return LEAD if first in {"lead", "brim"} else TRAIL


def _drawn(body: _Body, *, faint: bool) -> str:
    fills = [
        filled(
            part.outline,
            name=f"body {part.name.replace(' ', '-')}",
            fill=FAINT if faint else _PALE.get(part.name.split(" ")[-1], PALE),
            edge=FAINT_EDGE if faint else PALE_EDGE,
            width=0.6,
        )
        for part in body.pale
    ]
    fills += [
        filled(
            part.outline,
            name=f"body {part.name.replace(' ', '-')}",
            fill=FAINT if faint else _tone(part.name),
            edge=FAINT_EDGE if faint else PAPER,
            width=0.9,
        )
        for part in body.parts
    ]
    return "".join(fills)


def _svg(
    sheet: Sheet,
    body: _Body,
    *,
    placed: list[Placed],
    words: str,
    name: str,
    faint: bool = False,
    ball: bool = True,
) -> Markup:
    points = [part.outline for part in (*body.pale, *body.parts)] + [
        p.reach for p in placed if len(p.reach)
    ]
    every = np.vstack([*points, sheet.point("ball")[None] + 3] if ball else points)
    low, high = every.min(axis=0) - _PAD_CM, every.max(axis=0) + _PAD_CM
    ground = ""
    if sheet.seen is not Seen.ABOVE:
        high[1] = max(high[1], 9.0)
    notes, low, high = _labels(
        [label for p in placed for label in p.labels],
        low=low, high=high, seen_from_above=sheet.seen is Seen.ABOVE,
    )  # fmt: skip
    aim = ""
    if not faint:
        aim, low, high = _aim(sheet, low=low, high=high)
    if sheet.seen is not Seen.ABOVE:
        ground = stroke(
            [np.array([low[0] + 1, 0.6]), np.array([high[0] - 1, 0.6])],
            name="ground", colour=STONE, width=1.2,
        )  # fmt: skip
    drawn = _drawn(body, faint=faint)
    at = sheet.point("ball")
    dot = (
        f'<circle class="ball" cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="2.15" fill="{PAPER}" '
        f'stroke="{INK}" stroke-width="0.8"/>'
        if ball
        else ""
    )
    behind, before = "".join(p.behind for p in placed), "".join(p.before for p in placed)
    width, height = high - low
    scale = _SCALES[sheet.seen] * (_FAINT_SCALE if faint else 1.0)
    return Markup(  # noqa: S704  # numbers, fixed words, and words that are escaped
        f'<svg class="drill-drawing {name} from-{sheet.seen}" xmlns="http://www.w3.org/2000/svg" '
        f'width="{scale * width:.0f}" height="{scale * height:.0f}" '
        f'viewBox="{low[0]:.1f} {low[1]:.1f} {width:.1f} {height:.1f}" role="img" '
        f'aria-label="{escape(words)}">{ground}{behind}{drawn}{dot}{before}{aim}{notes}</svg>'
    )


def _text(at: Array, words: str, *, anchor: str, colour: str = INK, size: float = TEXT_CM) -> str:
    return (
        f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-family="{_FONT}" font-size="{size}" '
        f'font-weight="600" text-anchor="{anchor}" fill="{colour}">{escape(words)}</text>'
    )


def _aim(sheet: Sheet, *, low: Array, high: Array) -> tuple[str, Array, Array]:
    """An arrow to the target under a drawing that shows the target's way."""
    if sheet.seen is Seen.SIDE:
        return "", low, high
    y = high[1] + 5.0
    middle = (low[0] + high[0]) / 2
    start, end = middle - sheet.way * 16, middle + sheet.way * 16
    line = stroke([np.array([start, y]), np.array([end, y])], colour=STONE, width=1.2)
    tip = np.array([[end, y], [end - sheet.way * 5, y - 2.6], [end - sheet.way * 5, y + 2.6]])
    words = _text(np.array([middle, y + 8.0]), "to the target", anchor="middle", colour="#47564f")
    return line + filled(tip, fill=STONE) + words, low, np.array([high[0], y + 11.0])


def _labels(
    labels: list[Label], *, low: Array, high: Array, seen_from_above: bool
) -> tuple[str, Array, Array]:
    """Words beside the drawing, and the drawing's corners grown to hold them."""
    low, high, drawn = low.copy(), high.copy(), ""
    used: dict[str, float] = {}
    for label in sorted(labels, key=lambda each: each.at[1]):
        if label.where in {"left", "right"}:
            lines = textwrap.wrap(label.words, _LABEL_LETTERS)
            wide = max(len(line) for line in lines) * _LETTER * TEXT_CM
            tall = len(lines) * _LINE_CM
            top = max(label.at[1] - tall / 2, used.get(label.where, -1e9))
            if not seen_from_above:
                top = min(top, -tall - 1.5)  # clear of the ground
            used[label.where] = top + tall + 3
            edge = _edge(label, low=low, high=high)
            x = edge + (3 if label.where == "right" else -3)
            anchor = "start" if label.where == "right" else "end"
            for i, line in enumerate(lines):
                drawn += _text(np.array([x, top + (i + 0.78) * _LINE_CM]), line, anchor=anchor)
            middle = np.array([x + (-1.5 if label.where == "right" else 1.5), top + tall / 2])
            drawn = stroke([label.at, middle], colour=INK, width=0.5) + drawn
            side = x + (wide + 2) * (1 if label.where == "right" else -1)
            low = np.minimum(low, [side, top])
            high = np.maximum(high, [side, top + tall])
        else:
            lines = textwrap.wrap(label.words, _LINE_LETTERS)
            for i, line in enumerate(lines):
                drawn += _text(label.at + np.array([0, i * _LINE_CM]), line, anchor="middle")
            wide = max(len(line) for line in lines) * _LETTER * TEXT_CM / 2
            low = np.minimum(low, label.at - [wide + 2, _LINE_CM])
            below = 3 + (len(lines) - 1) * _LINE_CM
            high = np.maximum(high, label.at + np.array([wide + 2, below]))
    return drawn, low, high


def _edge(label: Label, *, low: Array, high: Array) -> float:
    """Where words on a side begin: just past what they speak of, clear of the figure."""
    return float(high[0] if label.where == "right" else low[0]) - (
        _PAD_CM if label.where == "right" else -_PAD_CM
    )
