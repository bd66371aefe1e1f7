"""How the phones were held, as rows of words."""

from __future__ import annotations

from wellset.advise import CameraAdvice, CameraReading
from wellset.measures import COVERAGE_FACTOR
from wellset.reports.model import PhoneModel, PhoneRow
from wellset.reports.words import spread_text, window_text
from wellset.units import UnitSystem


def phones(advice: CameraAdvice, /, *, units: UnitSystem) -> tuple[PhoneModel, ...]:
    """One model for each picture, in the order of the advice."""
    return tuple(
        PhoneModel(
            title=phone.view.words[0].upper() + phone.view.words[1:],
            summary=phone.summary,
            change=bool(phone.sentence),
            rows=tuple(_row(reading, units=units) for reading in phone.readings),
        )
        for phone in advice.phones
    )


def _row(reading: CameraReading, *, units: UnitSystem) -> PhoneRow:
    low, high = reading.good
    # no phone is held to a millimetre: whole centimetres, inches or degrees say what is good
    size = units.metres if reading.unit.value == "m" else 1.0
    return PhoneRow(
        title=reading.title,
        sign=reading.sign,
        value=spread_text(
            reading.value, COVERAGE_FACTOR * reading.sd, unit=reading.unit, system=units
        ),
        good=window_text(
            round(low / size) * size, round(high / size) * size, unit=reading.unit, system=units
        ),
        standing=reading.standing.value,
    )
