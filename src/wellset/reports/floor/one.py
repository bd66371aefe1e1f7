"""What is drawn on the ground for one club."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from wellset.equipment import STANDARD_BALL
from wellset.reports.floor.amounts import counted, on_tape
from wellset.reports.floor.marks import (
    BALL_LINE,
    DASHED,
    HEAD,
    LEAD,
    LETTER_BREADTH,
    OUTLINE,
    ROOM,
    SOFT,
    STICK,
    TARGET,
    THIN,
    TOE_LINE,
    TRAIL,
    Array,
    Mark,
    Path,
    Words,
    arrow,
    box,
    circle,
)
from wellset.reports.floor.stance import FEET, Foot, Shoe, Stance
from wellset.units import UnitSystem

BALL_RADIUS_MM: Final = 1000 * STANDARD_BALL.radius_m
STICK_MM: Final = 8.0
"""Breadth of an ordinary alignment stick (common practice, no source)."""
BEYOND_MM: Final = 45.0
"""How far the line of the toes goes on beyond each toe tip."""
_TAIL_MM, _POINT_MM = 50.0, 85.0
"""How far the target line is drawn from the ball, away from and toward the target."""
_HEAD_TALL_MM: Final = 15.0


def one_club(stance: Stance, /, *, units: UnitSystem) -> tuple[Mark, ...]:
    """Shoes, ball, lines, club heads and room of one club, in the order of drawing.

    The ball lies at (0, 0).
    """
    return (
        *_toes(stance),
        *_ball_line(stance, units),
        *_gap(stance, units),
        *(mark for foot in FEET for mark in shoe_marks(stance, foot)),
        *_inside(stance, units),
        *_ball(stance),
    )


def shoe_marks(stance: Stance, foot: Foot, /, *, note: str = "") -> Iterator[Mark]:
    """A shoe's outline with its middle line and its name."""
    shoe: Shoe = getattr(stance, foot)
    pen = LEAD if foot == "lead" else TRAIL
    yield Path(points=shoe.outline, pen=pen, closed=True, shows=f"{foot} shoe")
    yield Path(points=np.array([shoe.heel, shoe.toe]), pen=DASHED)
    middle = shoe.heel + 0.60 * (shoe.toe - shoe.heel)
    size = min(12.0, 0.04 * shoe.length)
    yield Words(text=foot, at=middle, size=size, anchor="middle", needed=False)
    words = note or f"{abs(shoe.flare_deg):.0f}° {'out' if shoe.flare_deg >= 0 else 'in'}"
    yield Words(
        text=words, at=(middle[0], middle[1] + 0.75 * size), size=0.55 * size, anchor="middle",
        bold=False, needed=False,
    )  # fmt: skip


def toe_stick(begin: Array, end: Array, /) -> Iterator[Mark]:
    """The line of the toes and the stick that lies along it, on the ball's side."""
    along = (end - begin) / np.hypot(*(end - begin))
    up = np.array([along[1], -along[0]])
    up = up if up[1] < 0 else -up
    corners = np.array([begin, end, end + STICK_MM * up, begin + STICK_MM * up])
    yield Path(points=corners, pen=STICK, closed=True, shows="stick along the toes")
    yield Path(points=np.array([begin, end]), pen=TOE_LINE, shows="line of the toes")


def _toes(stance: Stance) -> Iterator[Mark]:
    a, b = stance.trail.toe, stance.lead.toe
    along = (b - a) / np.hypot(*(b - a))
    yield from toe_stick(a - BEYOND_MM * along, b + BEYOND_MM * along)
    x = (float(stance.trail.toe[0]) + float(stance.ball[0])) / 2
    yield Words(
        text="stick along the toes", at=[x, min(a[1], b[1]) - STICK_MM - 4], size=6,
        anchor="middle", bold=False, colour=SOFT, needed=False,
    )  # fmt: skip


def _ball(stance: Stance) -> Iterator[Mark]:
    t = stance.target
    yield Path(
        points=arrow([-t * _TAIL_MM, 0], [t * _POINT_MM, 0]), pen=TARGET, shows="target line"
    )
    if stance.room_along >= 1 and stance.room_back >= 1:
        corner = np.array([stance.room_along, stance.room_back])
        yield Path(points=box(-corner, corner), pen=ROOM, closed=True, shows="room for the ball")
    yield Path(points=circle(stance.ball, BALL_RADIUS_MM), pen=OUTLINE, closed=True, shows="ball")
    for tip in ([8.0, 0.0], [0.0, 8.0]):
        yield Path(points=np.array([stance.ball - tip, stance.ball + tip]), pen=TARGET)
    low = max(BALL_RADIUS_MM, stance.room_back if stance.room_along >= 1 else 0) + 4
    yield Words(text="to the target", at=[t * _POINT_MM, -low], size=8,
                anchor="end" if t > 0 else "start")  # fmt: skip
    yield Words(
        text=stance.club, at=[-t * 5, low + 11], size=13, anchor="end" if t > 0 else "start"
    )


def _ball_line(stance: Stance, units: UnitSystem) -> Iterator[Mark]:
    toes, t = stance.toe_line_at_ball, stance.target
    down = toes + 0.62 * (min(stance.lead.ankle_y, stance.trail.ankle_y) - toes)
    yield Path(points=np.array([[0, BALL_RADIUS_MM], [0, down]]), pen=BALL_LINE, shows="ball line")
    length = stance.lead.length
    for k in range(1, int(stance.ball_to_toes / length) + 1):
        y = toes - k * length
        if y > 40:
            yield Path(points=np.array([[-9, y], [9, y]]), pen=THIN)
            yield Words(text=counted(k, "shoe").replace(".0", ""), at=[t * 12, y + 2], size=6,
                        anchor="start" if t > 0 else "end", bold=False)  # fmt: skip
    middle = toes / 2 + 6
    shoes = counted(stance.ball_to_toes / length, "shoe")
    right, left = 10.0, -3.5
    yield Words(text=f"{on_tape(stance.ball_to_toes, units)} to the toes = {shoes}",
                at=[right if t < 0 else left, middle], size=8, anchor="middle",
                upright=True)  # fmt: skip
    yield Words(text="stick from the ball to you", at=[left if t < 0 else right - 1, middle],
                size=6, anchor="middle", upright=True, bold=False, colour=SOFT)  # fmt: skip


def _inside(stance: Stance, units: UnitSystem) -> Iterator[Mark]:
    """From the ball line to the lead shoe's inner edge at its heel."""
    toes, t, edge = stance.toe_line_at_ball, stance.target, stance.lead.edge_x
    ankle = stance.lead.ankle_y
    y = toes + 0.50 * (ankle - toes)
    yield Path(points=np.array([[edge, ankle], [edge, y - 8]]), pen=DASHED,
               shows="inner edge of the lead heel")  # fmt: skip
    yield Path(points=np.array([[0, y], [edge, y]]), pen=THIN)
    for x in (0.0, edge):
        yield Path(points=np.array([[x - 2, y + 2], [x + 2, y - 2]]), pen=TOE_LINE)
    side = "inside" if stance.ball_inside >= 0 else "outside"
    size = _fitting("outside the lead heel", t * float(stance.ball[0] - stance.trail.edge_x) - 8)
    for line, text in enumerate((f"ball {on_tape(abs(stance.ball_inside), units)}",
                                 f"{side} the lead heel")):  # fmt: skip
        yield Words(text=text, at=[-t * 5, y - 2 + 1.2 * size * line], size=size, needed=False,
                    anchor="end" if t > 0 else "start")  # fmt: skip


def _gap(stance: Stance, units: UnitSystem) -> Iterator[Mark]:
    """Heads of the club laid one beside the other between the shoes."""
    t, y = stance.target, (stance.lead.ankle_y + stance.trail.ankle_y) / 2
    begin, gap, head = stance.lead.edge_x, stance.gap, stance.head
    top, bottom = y - _HEAD_TALL_MM / 2, y + _HEAD_TALL_MM / 2
    for k in range(int(np.ceil(gap / head - 0.02))):
        x0, x1 = begin - t * k * head, begin - t * min((k + 1) * head, gap)
        yield Path(points=box([min(x0, x1), top], [max(x0, x1), bottom]), pen=HEAD, closed=True,
                   shows="club heads between the shoes")  # fmt: skip
        if abs(x1 - x0) > 14:
            yield Words(text=str(k + 1), at=[(x0 + x1) / 2, y + 2.2], size=6, anchor="middle",
                        bold=False, colour=SOFT, needed=False)  # fmt: skip
    texts = (f"gap {on_tape(gap, units)}", f"= {counted(gap / head, 'head')} of the {stance.club}")
    size = _fitting(texts[1], gap - 4)
    for line, text in enumerate(texts):
        at = [begin - t * gap / 2, bottom + 1.2 * size * (line + 1)]
        yield Words(text=text, at=at, size=size,
                    anchor="middle", needed=False)  # fmt: skip


def _fitting(text: str, room: float) -> float:
    """Size of letters with which a text fits its room, between what is readable and plain."""
    return float(np.clip(room / (LETTER_BREADTH * len(text)), 4.0, 8.0))
