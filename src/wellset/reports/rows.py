"""Findings, advice and results as rows of words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from wellset.advise import Drill, Finding, Side, Verdict, percent, words
from wellset.equipment import Club
from wellset.measures import MEASURES, Measured, NotMeasurable
from wellset.measures.kinds import COVERAGE_FACTOR
from wellset.reports.drill_svg import DrawnDrill
from wellset.reports.explained import EXPLAINED
from wellset.reports.model import (
    Change,
    DrillWords,
    Missing,
    MissingGroup,
    PlainRow,
    Row,
    Scale,
    SourceRow,
)
from wellset.reports.words import (
    SPACE,
    give_or_take,
    meaning_of_plus,
    sd_text,
    spread_text,
    window_text,
)
from wellset.services.assessment import Assessment
from wellset.units import UnitSystem, format_club_heads

_SCALE_MARGIN: Final = 0.18
_WORTH_NAMING: Final = 0.05
"""Share of the variance below which a source is not named."""
_IN_CLUB_HEADS: Final = frozenset({"stance_gap"})
"""Gaps a coach checks by laying the club head down."""
_BESIDE: Final = {Side.LOW: "below the window", Side.HIGH: "above the window"}


def scale(finding: Finding, result: Measured, /, *, text: str) -> Scale:
    """Places on a line that shows the window and the interval, with a margin."""
    low, high = result.interval95
    window = finding.window
    ends = [low, high, *(end for end in (window.low, window.high) if end is not None)]
    start, stop = min(ends), max(ends)
    margin = _SCALE_MARGIN * max(stop - start, 1e-9)
    start, stop = start - margin, stop + margin

    def at(value: float) -> float:
        return round((value - start) / (stop - start), 4)

    return Scale(
        window_low=None if window.low is None else at(window.low),
        window_high=None if window.high is None else at(window.high),
        low=at(low),
        high=at(high),
        value=at(result.value),
        words=text,
    )


def window_words(finding: Finding, /, *, units: UnitSystem) -> str:
    """The window in the coach's unit."""
    window = finding.window
    return window_text(window.low, window.high, unit=window.unit, system=units)


def sentence(finding: Finding, /, *, units: UnitSystem) -> str:
    """What a coach should read beside the numbers; empty for what is inside."""
    judgement = finding.judgement
    if judgement is None or finding.verdict is Verdict.INSIDE:
        return ""
    if finding.verdict is Verdict.UNDECIDED or judgement.side is None:
        if judgement.can_be_inside:
            return ""
        best = percent(judgement.best_possible).replace(" ", SPACE)
        return (
            "The window is narrow for what these pictures show: even a value in its middle "
            f"would be inside with only {best}."
        )
    by = spread_text(
        judgement.amount_out,
        COVERAGE_FACTOR * judgement.amount_sd,
        unit=finding.unit,
        system=units,
    )
    texts = words()[finding.measure].sides[judgement.side]
    return f"It lies {by} {_BESIDE[judgement.side]}. {texts.coach}"


def verdict_note(finding: Finding, /) -> str:
    """Side and probability, small under the verdict."""
    parts = []
    if finding.verdict is Verdict.OUTSIDE and finding.side is not None:
        parts.append(_BESIDE[finding.side])
    if finding.probability_inside is not None:
        chance = percent(finding.probability_inside).replace(" ", SPACE)
        parts.append(f"{chance} likely inside")
    return ", ".join(parts)


def _brackets(result: Measured, club: Club) -> str:
    if result.measure not in _IN_CLUB_HEADS:
        return ""
    return format_club_heads(result.value, head_length=club.head_length_m, sd=result.sd)


def row(finding: Finding, /, *, club: Club, units: UnitSystem) -> Row | None:
    """A judged measure; ``None`` when there is no number."""
    result = finding.result
    if not isinstance(result, Measured):
        return None
    shown, window = give_or_take(result, units), window_words(finding, units=units)
    return Row(
        measure=finding.measure,
        title=finding.title,
        value=shown,
        in_brackets=_brackets(result, club),
        plus=meaning_of_plus(finding.measure),
        window=window,
        window_as_written=finding.window.as_written,
        reason=f"{finding.window.reason} ({finding.window.source})",
        verdict=finding.verdict.value,
        verdict_note=verdict_note(finding),
        sentence=sentence(finding, units=units),
        scale=scale(finding, result, text=f"{shown}; window {window}; {finding.verdict.value}"),
    )


def drill_words(drill: Drill | None, drawn: DrawnDrill | None, /) -> DrillWords | None:
    """A drill as it is printed, with a drawing where there is one."""
    if drill is None:
        return None
    return DrillWords(
        title=drill.title,
        purpose=drill.purpose,
        steps=drill.steps,
        self_check=drill.self_check,
        dose=drill.dose,
        caution=drill.caution,
        needs=drill.needs,
        feel=drill.feel,
        drawn=drawn,
    )


def change(
    finding: Finding,
    /,
    *,
    units: UnitSystem,
    why: str = "",
    drill: Drill | None = None,
    drawn: DrawnDrill | None = None,
) -> Change:
    """A finding as something to change, to leave for later, or to keep."""
    measured = finding.result if isinstance(finding.result, Measured) else None
    return Change(
        measure=finding.measure,
        title=finding.title,
        what=sentence(finding, units=units),
        why=why,
        for_student=finding.for_student,
        drill=drill_words(drill, drawn),
        value=give_or_take(measured, units) if measured else "",
        window=window_words(finding, units=units),
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def missing_groups(assessment: Assessment, /) -> tuple[MissingGroup, ...]:
    """What has no number, together by what would give it."""
    groups: dict[str, list[Missing]] = {}
    for id_, result in assessment.measures.items():
        if isinstance(result, NotMeasurable):
            item = Missing(measure=id_, title=MEASURES[id_].title, why=_capital(result.why))
            groups.setdefault(result.fix, []).append(item)
    return tuple(MissingGroup(fix=fix, items=tuple(items)) for fix, items in groups.items())


def plain_rows(
    assessment: Assessment, /, *, judged: Iterable[str], units: UnitSystem
) -> tuple[PlainRow, ...]:
    """Measures with a number and no window."""
    known = set(judged)
    return tuple(
        PlainRow(
            measure=id_,
            title=MEASURES[id_].title,
            value=give_or_take(result, units),
            plus=meaning_of_plus(id_),
            definition=EXPLAINED[id_],
        )
        for id_, result in assessment.measures.items()
        if isinstance(result, Measured) and id_ not in known
    )


def source_row(result: Measured, /, *, units: UnitSystem) -> SourceRow:
    """Where the uncertainty of one measure comes from, as shares of its variance."""
    whole = sum(part**2 for part in result.budget.values())
    shares = sorted(
        ((part**2 / whole if whole else 0.0, name) for name, part in result.budget.items()),
        reverse=True,
    )
    named = [f"{name} {100 * share:.0f}{SPACE}%" for share, name in shares]
    worth = sum(share > _WORTH_NAMING for share, _ in shares)
    return SourceRow(
        measure=result.measure,
        title=MEASURES[result.measure].title,
        sd=sd_text(result.sd, result.unit, system=units),
        main=named[0] if named else "",
        others=", ".join(named[1:worth]),
    )


def source_rows(assessment: Assessment, /, *, units: UnitSystem) -> tuple[SourceRow, ...]:
    """The error budget of every measure with a number."""
    return tuple(
        source_row(result, units=units)
        for result in assessment.measures.values()
        if isinstance(result, Measured)
    )
