"""What doesn't fit, and what would mend it: found by letting things go and solving again."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

import numpy as np
from attrs import evolve, frozen

from wellset.equipment import Club
from wellset.measures import MEASURES, Unit
from wellset.prescribe.aims import OPEN_HALF_WIDTH, Aim
from wellset.prescribe.holding import TOE_UP_RANGE
from wellset.prescribe.model import HINGES, Model
from wellset.prescribe.natural import JOINT_LIMITS
from wellset.prescribe.plan import Conflict, Remedy
from wellset.prescribe.pose import LAYOUT
from wellset.prescribe.search import TRIAL, Found, find
from wellset.prescribe.task import Task
from wellset.units import INCH_M

NOTICEABLE: Final = 1e-3
"""Share of a window's half-width that a value must lie outside to count as a conflict."""
MOST_TRIED: Final = 3
"""How many windows that press from the other side are tried as remedies."""
GREATEST: Final = {"toe_up": np.radians(10.0), "extra_length": 0.10}
"""A remedy beyond these is another club and is not offered (our judgement)."""
LEAST: Final = {"toe_up": np.radians(0.1), "extra_length": 0.001}
"""A remedy smaller than these is none."""
ROOM: Final = 0.1
"""Share of a half-width that a widened window needs beyond the value, for its wall begins a
little inside it."""
PROMISING: Final = 0.5
"""Share of what is outside that letting a window go has to leave at most for it to be worth a
second try (our judgement; only time is at stake)."""
FIRMER: Final = 2.5
"""How much more a let-go window's target pulls (our judgement)."""


@frozen(kw_only=True)
class _Trial:
    """A remedy before it is put in words: how much, and how much that is for its kind."""

    remedy: Remedy
    size: float


def conflicts_of(task: Task, found: Found, /, *, asked: Model) -> tuple[Conflict, ...]:
    """Every named conflict of a solved task, with its remedies.

    Parameters
    ----------
    task : Task
    found : Found
        The solution with everything as asked.
    asked : Model
        The same problem before a toe-up that the body chose was held at the end of its range;
        with a window let go it may choose another.
    """
    outside = _outside(found)
    direct = _limits_against_windows(task, alone=not outside)
    if not outside:
        return direct
    trials = [*_club_trials(found), *_window_trials(found, outside, asked=asked)]
    trials.sort(key=lambda t: (not t.remedy.cures, t.size))
    pressing = [_name(aim) for aim in _pressing(found, outside)]
    named = (
        _conflict(task.club, aim, excess=excess, trials=trials, pressing=pressing)
        for aim, excess in outside
    )
    return (*direct, *named)


def _outside(found: Found) -> list[tuple[Aim, float]]:
    """Aims and joint limits that are not kept, with their excess, the worst first."""
    now = found.model.evaluate(found.parameters)
    value = dict(zip(MEASURES, now.measures, strict=True))
    value |= {limit.quantity: v for limit, v in zip(JOINT_LIMITS, now.angles, strict=True)}
    pairs = [(a, a.excess(float(value[a.quantity]))) for a in (*found.model.aims, *JOINT_LIMITS)]
    kept = [(a, e) for a, e in pairs if abs(e) > NOTICEABLE * a.half_width]
    return sorted(kept, key=lambda pair: -abs(pair[1]) / pair[0].half_width)


def _lack(found: Found) -> float:
    """How much is not kept in all, in half-widths."""
    return sum(abs(excess) / aim.half_width for aim, excess in _outside(found))


def _helps(freed: Found, before: Found) -> bool:
    """Whether less is outside in all once something was let go."""
    return _lack(freed) < _lack(before)


def _limits_against_windows(task: Task, *, alone: bool) -> tuple[Conflict, ...]:
    """Windows that begin above a ceiling of the student: the ceiling wins, and it is said.

    To lower the one window cures all where it is the only conflict.
    """
    found: list[Conflict] = []
    for window in task.windows:
        limit = task.limits.at_most.get(window.measure)
        if limit is None or window.low is None or window.low <= limit:
            continue
        gap = limit - window.low
        title, unit = MEASURES[window.measure].title, window.unit
        ceiling, begins = _amount(limit, unit), _amount(window.low, unit)
        found.append(
            Conflict(
                code="limit_against_window",
                measure=window.measure,
                facts=(
                    f"the student's limit on {title.lower()}",
                    f"the window for {title.lower()}",
                ),
                amount=gap,
                message=f"{title}: the student's limit is {ceiling} and the window begins at "
                f"{begins}, {_amount(-gap, unit)} more. The limit wins.",
                remedies=(
                    Remedy(
                        kind="window",
                        what=window.measure,
                        amount=gap,
                        cures=True,
                        message=f"Let this student's window for {title.lower()} begin at "
                        f"{ceiling} or less.",
                    ),
                ),
            )
        )
    if len(found) == 1 and alone:
        return tuple(found)
    return tuple(
        evolve(each, remedies=tuple(evolve(r, cures=False) for r in each.remedies))
        for each in found
    )


def _club_trials(found: Found) -> list[_Trial]:
    """What another lie at address, or another length, would do."""
    words: dict[str, Callable[[float], tuple[float, str]]] = {
        "toe_up": _toe_up_words,
        "extra_length": _length_words,
    }
    trials = []
    for block, say in words.items():
        asked = float(found.parameters[LAYOUT[block].start])
        freed = find(found.model, near=found.parameters, free=(block,), last=TRIAL)
        change = float(freed.parameters[LAYOUT[block].start]) - asked
        if abs(change) > GREATEST[block] or abs(change) < LEAST[block] or not _helps(freed, found):
            continue
        amount, message = say(change)
        remedy = Remedy(
            kind="toe_up" if block == "toe_up" else "length",
            what="",
            amount=amount,
            cures=not _outside(freed),
            message=message,
        )
        trials.append(_Trial(remedy=remedy, size=abs(change) / (GREATEST[block] / 2)))
    return trials


def _toe_up_words(change: float) -> tuple[float, str]:
    degrees = float(np.degrees(change))
    way = (
        "Hold the handle lower, so that the toe stands"
        if degrees > 0
        else ("Hold the handle higher, so that the toe stands")
    )
    more = "more" if degrees > 0 else "less"
    lie = "flatter" if degrees > 0 else "more upright"
    return (
        degrees,
        f"{way} {abs(degrees):.1f}° {more} off flat, or have the lie bent as much {lie}.",
    )


def _length_words(change: float) -> tuple[float, str]:
    longer = "longer" if change > 0 else "shorter"
    return change, (
        f"Take a club {abs(change) / INCH_M:.1f} in ({abs(change) * 100:.0f} cm) {longer}"
        + ("." if change > 0 else ", or grip down as much.")
    )


def _pressing(found: Found, outside: Sequence[tuple[Aim, float]]) -> list[Aim]:
    """Aims that are kept but pressed against a limit, the hardest pressed first."""
    now = found.model.evaluate(found.parameters)
    all_aims = (*found.model.aims, *JOINT_LIMITS)
    hinges = np.abs(now.rows[HINGES][0])
    broken = {aim.quantity for aim, _ in outside}
    pressed = [
        (float(h), a)
        for h, a in zip(hinges, all_aims, strict=True)
        if h > 0 and a.quantity not in broken
    ]
    return [a for _, a in sorted(pressed, key=lambda pair: -pair[0])][:MOST_TRIED]


def _window_trials(
    found: Found, outside: Sequence[tuple[Aim, float]], *, asked: Model
) -> list[_Trial]:
    """What widening one window would do: let it go, solve again, see how far it has to reach."""
    trials, candidates = [], [aim for aim, _ in outside if not aim.is_limit]
    if len(outside) == 1 and candidates:
        # nothing else gives way, so to let this one reach where it lies ought to be enough
        aim, excess = outside[0]
        trials, candidates = [_enough(found, aim, excess=excess)], []
    candidates += [aim for aim in _pressing(found, outside) if not aim.is_limit]
    for aim in candidates[: 2 * MOST_TRIED]:
        freed = _let_go(found, aim, asked=asked)
        values = freed.model.evaluate(freed.parameters).measures
        excess = aim.excess(float(values[list(MEASURES).index(aim.quantity)]))
        if excess != 0 and _helps(freed, found):
            trials.append(
                _widening(aim, excess, cures=False)
                if _outside(freed)
                else _enough(freed, aim, excess=excess)
            )
    return trials


def _enough(found: Found, aim: Aim, *, excess: float) -> _Trial:
    """How far a window has to reach, its wall with it, and whether all is kept then.

    Its wall begins a little inside it, and a wider window is a softer one, so what it would take
    is tried.
    """
    for room in (ROOM, 3 * ROOM):
        reach = excess + math.copysign(room * aim.half_width, excess)
        low = aim.low if reach > 0 or aim.low is None else aim.low + reach
        high = aim.high if reach < 0 or aim.high is None else aim.high + reach
        half = aim.half_width if low is None or high is None else (high - low) / 2
        wide = evolve(aim, low=low, high=high, half_width=half)
        aims = tuple(wide if _same(a, aim) else a for a in found.model.aims)
        tried = find(evolve(found.model, aims=aims), near=found.parameters, last=TRIAL)
        if not _outside(tried) and _toe_up_in_range(tried):
            return _widening(aim, reach, cures=True)
    return _widening(aim, excess, cures=False)


def _same(one: Aim, other: Aim) -> bool:
    """Whether two aims are one window, let go or not."""
    return one.quantity == other.quantity and one.is_limit == other.is_limit


def _let_go(found: Found, aim: Aim, *, asked: Model) -> Found:
    """The set-up without one window's limits, kept near its target as far as that cures."""
    best = find(_without(found.model, aim), near=found.parameters, last=TRIAL)
    if _lack(best) == 0 or _lack(best) > PROMISING * _lack(found):
        return best
    # the target of a narrow window holds as firmly as its limits did, and a toe-up that was
    # driven to its end has no reason to stay there
    broad = max(aim.half_width, OPEN_HALF_WIDTH[MEASURES[aim.quantity].unit])
    models = [found.model] if broad > aim.half_width else []
    models += [asked] if asked.scene.club != found.model.scene.club else []
    for model in models:
        tried = find(_without(model, aim, half_width=broad), near=found.parameters, last=TRIAL)
        if _lack(tried) < _lack(best) and _toe_up_in_range(tried):
            best = tried
    return best


def _toe_up_in_range(found: Found) -> bool:
    """Whether the body took the club no farther from its usual toe-up than it may."""
    held = found.model.scene.club
    chosen = float(found.parameters[LAYOUT["toe_up"].start])
    return not held.toe_up_sd or abs(chosen - held.toe_up) <= TOE_UP_RANGE


def _widening(aim: Aim, excess: float, *, cures: bool) -> _Trial:
    """A window that reaches so much farther, in words."""
    unit, title = MEASURES[aim.quantity].unit, MEASURES[aim.quantity].title
    limit = (aim.high if excess > 0 else aim.low) or 0.0
    side = "up" if excess > 0 else "down"
    remedy = Remedy(
        kind="window",
        what=aim.quantity,
        amount=excess,
        cures=cures,
        message=f"Widen the window for {title.lower()} {side} to {_amount(limit + excess, unit)}.",
    )
    return _Trial(remedy=remedy, size=abs(excess) / aim.half_width)


def _without(model: Model, aim: Aim, *, half_width: float | None = None) -> Model:
    """The same problem with one window's limits gone and a firmer pull to its target.

    The pull keeps the value from going farther than it must.
    """
    wide = evolve(
        aim,
        low=None,
        high=None,
        weight=FIRMER * aim.weight,
        half_width=half_width or aim.half_width,
    )
    return evolve(model, aims=tuple(wide if _same(a, aim) else a for a in model.aims))


def _conflict(
    club: Club,
    aim: Aim,
    *,
    excess: float,
    trials: Sequence[_Trial],
    pressing: Sequence[str],
) -> Conflict:
    code, words = _what(aim)
    unit = MEASURES[aim.quantity].unit if aim.quantity in MEASURES else Unit.DEGREE
    cures = [t.remedy for t in trials if t.remedy.cures]
    own = [t.remedy for t in trials if t.remedy.what == aim.quantity and not t.remedy.cures]
    partly = [t.remedy for t in trials if not t.remedy.cures and not t.remedy.what]
    facts = [words]
    facts += [name for name in pressing if name != words]
    facts += [
        f"the window for {MEASURES[r.what].title.lower()}"
        for r in cures
        if r.what not in ("", aim.quantity)
    ]
    facts = list(dict.fromkeys(facts))
    facts += [_club_fact(club, r) for r in cures if not r.what]
    side = "above" if excess > 0 else "below"
    rest = f" together with {_and(facts[1:4])}" if facts[1:] else ""
    return Conflict(
        code=code,
        measure=aim.quantity,
        facts=tuple(facts),
        amount=excess,
        message=f"{words[0].upper()}{words[1:]} can't be kept{rest}: "
        f"{_gap(abs(excess), unit)} {side} it.",
        remedies=tuple(cures or [*own, *partly]),
    )


def _what(aim: Aim) -> tuple[str, str]:
    if aim.quantity not in MEASURES:
        return "joint_beyond_range", _name(aim)
    return ("limit_not_kept" if aim.is_limit else "window_not_reached"), _name(aim)


_WAYS: Final = {
    "side": "side bend",
    "turn": "turn",
    "forward": "reach forward",
    "up": "rise",
    "bend": "bend",
    "set": "set",
}
"""What a joint does, for a coach."""


def _name(aim: Aim) -> str:
    if aim.quantity not in MEASURES:
        joint, _, way = aim.quantity.rpartition("_")
        return f"the range of the {joint.replace('_', ' ')}'s {_WAYS[way]}"
    title = MEASURES[aim.quantity].title.lower()
    return f"the student's limit on {title}" if aim.is_limit else f"the window for {title}"


def _club_fact(club: Club, remedy: Remedy) -> str:
    if remedy.kind == "toe_up":
        return f"the lie of the club ({np.degrees(club.lie):.1f}°)"
    return f"the length of the club ({club.length_m / INCH_M:.1f} in)"


def _and(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _gap(value: float, unit: Unit) -> str:
    """An amount that is there, however small."""
    least = 0.001 if unit is Unit.METRE else 0.1
    shown = _amount(max(value, least), unit)
    return f"less than {shown}" if value < least else shown


def _amount(value: float, unit: Unit) -> str:
    if unit is Unit.METRE:
        return f"{value * 100:.1f} cm"
    return f"{value:.1f}°" if unit is Unit.DEGREE else f"{value:.1f} %"
