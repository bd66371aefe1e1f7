"""What a pressure plate said: in words, and in the published shape."""

from __future__ import annotations

from typing import Final

from wellset.measures import COVERAGE_FACTOR, MEASURES, Measured, MeasureResult, Unit
from wellset.reports.contract_plate import BesidePart, PlateFootPart, PlatePart, ReadingPart
from wellset.reports.model import PlateRow, PlateWords
from wellset.reports.words import SPACE, give_or_take, spread_text
from wellset.services.assessment import Assessment
from wellset.services.weighing import PLATE_MEASURES, Weighed
from wellset.units import UnitSystem

_NO_NUMBER: Final = "no number"
_DECIMALS: Final = {Unit.METRE: 4, Unit.PERCENT: 2, Unit.DEGREE: 2}


def plate_words(assessment: Assessment, /, *, units: UnitSystem) -> PlateWords | None:
    """What the plate and the pictures say, apart and together; ``None`` without a plate."""
    weighed = assessment.weighed
    if weighed is None:
        return None
    return PlateWords(
        summary=_summary(weighed, units=units),
        rows=tuple(
            PlateRow(
                measure=id_,
                title=MEASURES[id_].title,
                pictures=_shown(weighed.pictures_alone[id_], units),
                plate=_shown(weighed.says.alone[id_], units),
                together=_shown(assessment.measures[id_], units) if weighed.used else "",
            )
            for id_ in PLATE_MEASURES
        ),
        verdict=_verdict(weighed),
    )


def _shown(result: MeasureResult, units: UnitSystem) -> str:
    return give_or_take(result, units) if isinstance(result, Measured) else _NO_NUMBER


def _summary(weighed: Weighed, *, units: UnitSystem) -> str:
    means = weighed.says.means

    def spread(name: str, unit: Unit, *, factor: float = 1.0) -> str:
        half = COVERAGE_FACTOR * means.sd_of(name) * factor
        return spread_text(means.value(name) * factor, half, unit=unit, system=units)

    return (
        f"{means.duration:.1f}{SPACE}s of standing still, {means.rate:.0f} readings a second "
        f"(sway is slow: all of them are worth {means.worth:.0f} independent ones at the least). "
        "The lead foot carries "
        f"{spread('lead_share', Unit.PERCENT, factor=100.0)} of the load. It presses "
        f"{spread('lead_along', Unit.METRE)} from the back of its shoe, the trail foot "
        f"{spread('trail_along', Unit.METRE)}."
    )


def _verdict(weighed: Weighed) -> str:
    if weighed.used:
        return "Plate and pictures agree within their ranges, and were put together."
    (note,) = weighed.notes
    return f"{note.message} {note.remedy}"


def plate_part(weighed: Weighed | None, /) -> PlatePart | None:
    """The same in the published shape; ``None`` without a plate."""
    if weighed is None:
        return None
    says = weighed.says
    means = says.means

    def reading(name: str, *, factor: float = 1.0, unit: Unit = Unit.METRE) -> ReadingPart:
        return _reading(means.value(name) * factor, means.sd_of(name) * factor, unit=unit)

    lead, trail = (
        PlateFootPart(along=reading(f"{side}_along"), across=reading(f"{side}_across"))
        for side in ("lead", "trail")
    )
    x, y = (round(float(v), 4) for v in says.apart_m)
    sx, sy = (round(float(v), 4) for v in says.apart_sd_m)
    return PlatePart(
        name=means.name,
        used=weighed.used,
        chance=round(says.chance, 4),
        apart_m=(x, y),
        apart_sd_m=(sx, sy),
        seconds=round(means.duration, 2),
        readings_per_second=round(means.rate, 2),
        worth=round(means.worth, 1),
        lead_load_percent=reading("lead_share", factor=100.0, unit=Unit.PERCENT),
        lead=lead,
        trail=trail,
        measures={id_: _beside(id_, weighed) for id_ in PLATE_MEASURES},
    )


def _beside(id_: str, weighed: Weighed) -> BesidePart:
    pictures, plate = weighed.pictures_alone[id_], weighed.says.alone[id_]
    return BesidePart(
        pictures=_reading(pictures.value, pictures.sd, unit=pictures.unit)
        if isinstance(pictures, Measured)
        else None,
        plate=_reading(plate.value, plate.sd, unit=plate.unit),
    )


def _reading(value: float, sd: float, *, unit: Unit) -> ReadingPart:
    places = _DECIMALS[unit]
    return ReadingPart(value=round(value, places), sd=round(sd, places))
