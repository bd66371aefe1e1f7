"""What is drawn on the ground for a whole bag: the lead shoe stays, trail shoe and ball move."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

import numpy as np

from wellset.reports.floor.marks import (
    DASHED,
    OUTLINE,
    SOFT,
    TARGET,
    THIN,
    TRAIL,
    Array,
    Mark,
    Path,
    Pen,
    Words,
    arrow,
    circle,
)
from wellset.reports.floor.one import BALL_RADIUS_MM, BEYOND_MM, shoe_marks, toe_stick
from wellset.reports.floor.stance import Foot, Shoe, Stance

SAME_MM: Final = 5.0
"""Places that agree so well share a mark: nobody stands more exactly."""
_LINE_MM: Final = 9.0
_SIZE_MM: Final = 7.5
_LONGEST: Final = 24
_LONGEST_AT_BALL: Final = 15
"""Letters in a line of names; beside the balls fewer, so that they stay on the ball's sheet."""
_CAP: Final = Pen(width=0.5)
_TICK: Final = Pen(width=1.0)
_LIGHT_BALL: Final = Pen(width=0.5, fill="#ffffff")


def whole_bag(stances: Sequence[Stance], /) -> tuple[Mark, ...]:
    """Lead shoe, trail shoes, balls and lines of all clubs, in the order of drawing."""
    level = at_the_lead_heel(stances)
    leads = _groups(level, key=lambda s: np.concatenate([s.lead.toe, s.lead.heel]))
    trails = _groups(level, key=lambda s: np.concatenate([s.trail.toe, s.trail.heel]))
    return (
        *_toes(level),
        *_edge(level),
        *_leads(leads),
        *_trails(trails),
        *_balls(_groups(level, key=lambda s: s.ball)),
    )


def at_the_lead_heel(stances: Sequence[Stance], /) -> tuple[Stance, ...]:
    """The same stances, the lead heel of each at (0, 0)."""
    return tuple(stance.moved(-stance.lead.heel) for stance in stances)


def _groups(
    stances: Sequence[Stance], *, key: Callable[[Stance], Array]
) -> list[tuple[Stance, ...]]:
    """Stances whose places agree, in the order given."""
    groups: list[list[Stance]] = []
    for stance in stances:
        for group in groups:
            if np.abs(key(stance) - key(group[0])).max() <= SAME_MM:
                group.append(stance)
                break
        else:
            groups.append([stance])
    return [tuple(group) for group in groups]


def _names(group: Sequence[Stance], *, longest: int = _LONGEST) -> list[str]:
    """The clubs of a group in lines that are not too long."""
    lines: list[str] = []
    for name in (stance.club + ("" if stance.fits else " !") for stance in group):
        if lines and len(lines[-1]) + len(name) + 2 <= longest:
            lines[-1] += f", {name}"
        else:
            lines.append(name)
    return lines


def _toes(stances: Sequence[Stance]) -> Iterator[Mark]:
    """The line of the toes of the widest stance."""
    widest = max(stances, key=lambda s: abs(s.lead.toe[0] - s.trail.toe[0]))
    a, b = widest.trail.toe, widest.lead.toe
    along = (b - a) / np.hypot(*(b - a))
    yield from toe_stick(a - BEYOND_MM * along, b + BEYOND_MM * along)


def _edge(stances: Sequence[Stance]) -> Iterator[Mark]:
    """The line up from the lead heel's inner edge, from which balls are measured."""
    first = stances[0]
    far = min(float(s.ball[1]) for s in stances)
    t, edge = first.target, first.lead.edge_x
    yield Path(points=np.array([[edge, first.lead.ankle_y], [edge, far - 34]]), pen=DASHED,
               shows="line of the lead heel's inner edge")  # fmt: skip
    yield Words(text="line of the lead heel’s inner edge", size=6, anchor="middle", upright=True,
                at=[edge + (-2.5 if t < 0 else 6.0), far / 2 + float(first.lead.toe[1]) / 2],
                bold=False, colour=SOFT)  # fmt: skip
    y = far - 34
    yield Path(points=arrow([edge - t * 85, y], [edge + t * 25, y]), pen=TARGET,
               shows="arrow to the target")  # fmt: skip
    yield Words(text="to the target", at=[edge - t * 30, y - 5], size=8, anchor="middle")


def _leads(groups: Sequence[Sequence[Stance]]) -> Iterator[Mark]:
    """The lead shoe of most clubs in full; where others turn it otherwise, by their toes."""
    most = max(groups, key=len)
    others = [group for group in groups if group is not most]
    yield from shoe_marks(most[0], "lead", note="most clubs" if others else "all clubs")
    for group in others:
        yield from _cap(group[0].lead)
    yield from _toe_names(others, "lead")


def _cap(shoe: Shoe) -> Iterator[Path]:
    """Toe and heel of a shoe, without its sides."""
    along = (shoe.toe - shoe.heel) / shoe.length
    share = (shoe.outline - shoe.heel) @ along / shoe.length
    front = shoe.outline[share > 0.78]
    yield Path(points=front, pen=_CAP)
    yield Path(points=shoe.outline[:17], pen=_CAP)
    yield Path(points=np.array([shoe.heel, shoe.toe]), pen=THIN)


def _trails(groups: Sequence[Sequence[Stance]]) -> Iterator[Mark]:
    """Trail shoes, each by its toe and heel; the widest in full."""
    widest = max(groups, key=lambda g: abs(float(g[0].trail.toe[0])))
    yield Path(points=widest[0].trail.outline, pen=TRAIL, closed=True, shows="trail shoe")
    for group in groups:
        yield from _cap(group[0].trail)
    middle = widest[0].trail.heel + 0.5 * (widest[0].trail.toe - widest[0].trail.heel)
    yield Words(text="trail", at=middle, size=min(12.0, 0.04 * widest[0].trail.length),
                anchor="middle", needed=False)  # fmt: skip
    yield from _toe_names(groups, "trail")


def _toe_names(groups: Sequence[Sequence[Stance]], foot: Foot) -> Iterator[Mark]:
    """A tick at each toe with the names of its clubs, written up the page."""

    def toe(group: Sequence[Stance]) -> Array:
        shoe: Shoe = getattr(group[0], foot)
        return shoe.toe

    ordered = sorted(groups, key=lambda g: float(toe(g)[0]))
    lines = [_names(group) for group in ordered]
    at = _apart(
        [float(toe(group)[0]) for group in ordered],
        sizes=[_LINE_MM * len(each) for each in lines],
    )
    for group, names, x in zip(ordered, lines, at, strict=True):
        tip = toe(group)
        up = float(tip[1]) - 18
        shows = f"{foot} toe for {', '.join(s.club for s in group)}"
        yield Path(points=np.array([tip, [tip[0], up]]), pen=_TICK, shows=shows)
        yield Path(points=np.array([[tip[0], up], [x, up - 10]]), pen=THIN)
        first = x - _LINE_MM * (len(names) - 1) / 2 + 0.35 * _SIZE_MM
        for i, name in enumerate(names):
            yield Words(text=name, at=[first + i * _LINE_MM, up - 12], size=_SIZE_MM, upright=True)


def _balls(groups: Sequence[Sequence[Stance]]) -> Iterator[Mark]:
    """Balls, each with its cross; those that fall together share a ring and a name."""
    t = groups[0][0].target
    ordered = sorted(groups, key=lambda g: float(g[0].ball[1]))
    lines = [_names(group, longest=_LONGEST_AT_BALL) for group in ordered]
    centres = [np.mean([s.ball for s in group], axis=0) for group in ordered]
    at = _apart([float(c[1]) for c in centres], sizes=[_LINE_MM * len(each) for each in lines])
    beside = max(-t * float(c[0]) for c in centres) + BALL_RADIUS_MM + 16
    for group, centre in zip(ordered, centres, strict=True):
        shows = f"ball for {', '.join(s.club for s in group)}"
        yield Path(points=circle(centre, BALL_RADIUS_MM), pen=_LIGHT_BALL, closed=True, shows=shows)
    for group, centre, names, y in zip(ordered, centres, lines, at, strict=True):
        for stance in group:
            for tip in ([6.0, 0.0], [0.0, 6.0]):
                yield Path(points=np.array([stance.ball - tip, stance.ball + tip]), pen=OUTLINE)
        yield Path(points=np.array([centre, [-t * (beside - 3), y]]), pen=THIN)
        first = y - _LINE_MM * (len(names) - 1) / 2 + 0.35 * _SIZE_MM
        for i, name in enumerate(names):
            yield Words(text=name, at=[-t * beside, first + i * _LINE_MM], size=_SIZE_MM,
                        anchor="end" if t > 0 else "start")  # fmt: skip


def _apart(wanted: Sequence[float], *, sizes: Sequence[float]) -> list[float]:
    """Places for labels near where they are wanted, in that order, none over another."""
    blocks: list[tuple[float, list[int]]] = []  # where a block's middle is, and who is in it
    for i, place in enumerate(wanted):
        blocks.append((place, [i]))
        while len(blocks) > 1 and _begin(blocks[-1], sizes) < _end(blocks[-2], sizes):
            _, late = blocks.pop()
            _, early = blocks.pop()
            members = [*early, *late]
            blocks.append((float(np.mean([wanted[m] for m in members])), members))
    placed: list[float] = []
    for block in blocks:
        at = _begin(block, sizes)
        for member in block[1]:
            placed.append(at + sizes[member] / 2)
            at += sizes[member]
    return placed


def _total(block: tuple[float, list[int]], sizes: Sequence[float]) -> float:
    return sum(sizes[member] for member in block[1])


def _begin(block: tuple[float, list[int]], sizes: Sequence[float]) -> float:
    return block[0] - _total(block, sizes) / 2


def _end(block: tuple[float, list[int]], sizes: Sequence[float]) -> float:
    return block[0] + _total(block, sizes) / 2
