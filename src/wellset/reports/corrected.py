"""What a coach's corrections changed, in words and in the published shape."""

from __future__ import annotations

from typing import Final

from wellset.measures import MEASURES, Measured, MeasureResult, Unit
from wellset.reports.contract_corrections import (
    CorrectedPointPart,
    CorrectedSticksPart,
    CorrectionsPart,
    MovedFindingPart,
    MovedMeasurePart,
    ShortValue,
)
from wellset.reports.model import CorrectedPoint, CorrectionWords, MovedRow
from wellset.reports.words import SPACE, give_or_take, number, places_of, unit_words
from wellset.services.corrections import Corrections, MovedMeasure, MovedPoint, MovedSticks
from wellset.units import UnitSystem

WORTH_SHOWING: Final = 0.5
"""Change in standard uncertainties from which a measure stands in the report; the JSON has
all."""
_NO_NUMBER: Final = "no number"


def correction_words(
    corrections: Corrections | None, /, *, units: UnitSystem
) -> CorrectionWords | None:
    """The report's part on corrections; ``None`` when nothing was corrected."""
    if corrections is None:
        return None
    verdicts = {f.measure: (f.before.value, f.after.value) for f in corrections.findings}
    moved = {
        id_: each for id_, each in corrections.measures.items() if id_ in verdicts or _shown(each)
    }
    return CorrectionWords(
        summary=_summary(corrections),
        points=tuple(_point_words(point, units=units) for point in corrections.points),
        sticks=tuple(_stick_words(sticks) for sticks in corrections.sticks),
        rows=tuple(
            _row(id_, each, units=units, verdicts=verdicts.get(id_)) for id_, each in moved.items()
        ),
    )


def _shown(moved: MovedMeasure) -> bool:
    if moved.sds is None:
        return isinstance(moved.before, Measured) is not isinstance(moved.after, Measured)
    return abs(moved.sds) >= WORTH_SHOWING


def _summary(corrections: Corrections) -> str:
    if corrections.not_compared:
        return corrections.not_compared
    count = sum(_shown(each) for each in corrections.measures.values()) or "None"
    parts = [
        "Solved once with your points and once with the networks' own.",
        (
            f"{count} of {len(corrections.measures)} measures changed by half a standard "
            "uncertainty or more."
        ),
    ]
    before, after = corrections.first_before, corrections.first_after
    if before != after:
        old = MEASURES[before].title.lower() if before else "nothing"
        new = MEASURES[after].title.lower() if after else "nothing"
        parts.append(f"The first change was {old}; now it is {new}.")
    else:
        parts.append("The first change stays the same.")
    return " ".join(parts)


def _point_words(point: MovedPoint, /, *, units: UnitSystem) -> CorrectedPoint:
    where = f"{point.landmark.replace('_', ' ')}, {point.view.words}"
    if point.moved_px is None or point.moved_m is None or point.sds is None:
        done = "Ruled out by hand" if point.ruled_out else "Placed by hand"
        known = (
            "the network's place is kept beside it"
            if point.ruled_out
            else "the network's place is not known"
        )
        return CorrectedPoint(title=where, moved=f"{done}; {known}.", beyond="")
    length = unit_words(Unit.METRE, units)
    size = f"{point.moved_px:.0f}{SPACE}px, about "
    size += number(point.moved_m * length.factor, 1) + length.sign
    sds = f"{point.sds:.1f} of its standard uncertainties"
    beyond = (
        f"Beyond what the network thought possible ({sds})."
        if point.beyond
        else f"Within what the network thought possible ({sds})."
    )
    return CorrectedPoint(title=where, moved=f"Moved by {size}.", beyond=beyond)


def _stick_words(sticks: MovedSticks, /) -> str:
    given = "No stick" if not sticks.given else _counted(sticks.given)
    found = "none" if not sticks.found else str(sticks.found)
    return f"{given} by hand in the {sticks.view.words} picture; {found} found there before."


def _counted(count: int) -> str:
    return "One stick" if count == 1 else f"{count} sticks"


def _row(
    id_: str, moved: MovedMeasure, /, *, units: UnitSystem, verdicts: tuple[str, str] | None
) -> MovedRow:
    return MovedRow(
        measure=id_,
        title=MEASURES[id_].title,
        before=_value(moved.before, units=units),
        after=_value(moved.after, units=units),
        change=_change(moved, units=units),
        sds="" if moved.sds is None else f"{number(abs(moved.sds), 1)}{SPACE}sd",
        verdict="" if verdicts is None else f"{verdicts[0]}, now {verdicts[1]}",
    )


def _value(result: MeasureResult, /, *, units: UnitSystem) -> str:
    return give_or_take(result, units) if isinstance(result, Measured) else _NO_NUMBER


def _change(moved: MovedMeasure, /, *, units: UnitSystem) -> str:
    if moved.change is None or not isinstance(moved.after, Measured):
        return ""
    unit = moved.after.unit
    words = unit_words(unit, units)
    places = max(places_of(moved.after.sd, unit=unit, system=units), 1)
    text = number(moved.change * words.factor, places)
    return f"{'+' if moved.change > 0 else ''}{text}{words.sign}"


_LEAST_DECIMALS: Final = {Unit.METRE: 5, Unit.PERCENT: 3, Unit.DEGREE: 3}


def corrections_part(corrections: Corrections | None, /) -> CorrectionsPart | None:
    """The same as the published document has it."""
    if corrections is None:
        return None
    return CorrectionsPart(
        points=tuple(_point_part(point) for point in corrections.points),
        sticks=tuple(
            CorrectedSticksPart(view=s.view.value, given=s.given, found=s.found)
            for s in corrections.sticks
        ),
        measures={id_: _measure_part(moved) for id_, moved in corrections.measures.items()},
        findings=tuple(
            MovedFindingPart(measure=f.measure, before=f.before.value, after=f.after.value)
            for f in corrections.findings
        ),
        first_change_before=corrections.first_before,
        first_change_after=corrections.first_after,
        not_compared=corrections.not_compared,
    )


def _point_part(point: MovedPoint, /) -> CorrectedPointPart:
    return CorrectedPointPart(
        view=point.view.value,
        landmark=point.landmark,
        ruled_out=point.ruled_out,
        moved_px=_rounded(point.moved_px, 2),
        moved_m=_rounded(point.moved_m, 4),
        network_sds=_rounded(point.sds, 2),
        beyond_network=point.beyond,
    )


def _measure_part(moved: MovedMeasure, /) -> MovedMeasurePart:
    places = _LEAST_DECIMALS[moved.after.unit]
    return MovedMeasurePart(
        before=_short(moved.before, places),
        after=_short(moved.after, places),
        change=_rounded(moved.change, places),
        change_in_sds=_rounded(moved.sds, 2),
    )


def _short(result: MeasureResult, places: int) -> ShortValue | None:
    if not isinstance(result, Measured):
        return None
    return ShortValue(value=round(result.value, places), sd=round(result.sd, places))


def _rounded(value: float | None, places: int) -> float | None:
    return None if value is None else round(value, places)
