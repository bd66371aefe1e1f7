"""What would decide the undecided checks, as words."""

from __future__ import annotations

from collections.abc import Iterable

from wellset.advise import Finding, Settling, percent
from wellset.measures import COVERAGE_FACTOR
from wellset.reports.model import Decided, Remedy
from wellset.reports.words import SPACE, half_text
from wellset.units import UnitSystem


def remedies(found: Iterable[Finding], /, *, units: UnitSystem) -> tuple[Remedy, ...]:
    """What would decide the undecided checks: what decides most, then what helps most, first."""
    groups: dict[str, list[tuple[Settling, Decided]]] = {}
    for finding in found:
        settling = finding.settling
        if settling is not None and (settling.step or finding.measured):
            item = _decided(finding, settling, units=units)
            groups.setdefault(settling.what, []).append((settling, item))
    ranked = sorted(groups.items(), key=lambda group: _rank([s for s, _ in group[1]]))
    return tuple(
        Remedy(what=what, items=tuple(item for _, item in items)) for what, items in ranked
    )


def _rank(settled: list[Settling]) -> tuple[int, int]:
    decide = sum(s.decides for s in settled)
    help_ = sum(bool(s.step) for s in settled)
    return -decide, -help_


def _decided(finding: Finding, settling: Settling, *, units: UnitSystem) -> Decided:
    if not settling.step:
        return Decided(measure=finding.measure, title=finding.title, outlook="")

    def spread(sd: float) -> str:
        return half_text(COVERAGE_FACTOR * sd, unit=finding.unit, system=units)

    start = f"from {spread(settling.sd_now)} to" if finding.measured else "a range of"
    chance = percent(settling.chance).replace(" ", SPACE)
    end = (
        f"decided with a chance of {chance}"
        if settling.decides
        else f"would probably still not decide (a chance of {chance})"
    )
    return Decided(
        measure=finding.measure,
        title=finding.title,
        outlook=f"{start} about {spread(settling.sd_then)}; {end}",
    )
