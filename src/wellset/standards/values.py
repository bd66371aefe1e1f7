"""A coach's standards as values: windows as written, and as they stand for one student."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import field, frozen

from wellset.errors import InputError
from wellset.measures import MEASURES, Unit
from wellset.standards.scale import (
    HeadsCount,
    StudentScale,
    WrittenUnit,
    Yardstick,
    counted_from_the_middle,
)
from wellset.standards.shots import Shot, shot_named

SCHEMA: Final = "wellset.standards/1"
COMMON_PRACTICE: Final = "common practice, no source"


@frozen(kw_only=True)
class Decision:
    """When a probability becomes a word.

    Sending a student to change what was fine costs more than overlooking a small fault,
    which the next lesson shows again. So `outside` asks for nine chances in ten, `inside`
    for eight (our judgement; a coach may write other numbers in the standards file).

    Parameters
    ----------
    inside_at_least : float
        Probability of being inside from which the finding reads `inside`.
    outside_at_most : float
        Probability of being inside up to which it reads `outside`. In between the
        pictures can't tell.
    """

    inside_at_least: float = 0.8
    outside_at_most: float = 0.1

    def __attrs_post_init__(self) -> None:
        """Refuse thresholds that cross or leave no room."""
        if not 0 <= self.outside_at_most < self.inside_at_least <= 1:
            raise InputError(
                "The two thresholds of the decision don't fit",
                why=f"outside_at_most is {self.outside_at_most} and inside_at_least is "
                f"{self.inside_at_least}.",
                fix="Write 0 <= outside_at_most < inside_at_least <= 1.",
            )


@frozen(kw_only=True)
class Station:
    """One stop in the order of checking, with the measures looked at there."""

    name: str
    measures: tuple[str, ...]


@frozen(kw_only=True)
class Window:
    """A standard as it stands for one student and one club.

    Parameters
    ----------
    measure : str
    unit : Unit
        The measure's published unit; all numbers below are in it.
    low, high : float or None
        Limits; ``None`` is open.
    target : float or None
        Where inside the window the coach aims.
    low_sd, high_sd : float
        Standard uncertainty of each limit, from the yardstick it is written in.
    reason, source : str
        In plain words; a publication or "common practice, no source".
    relative_to : str
        The yardstick's unit ("club heads"), empty for an absolute window.
    as_written : str
        The window in that unit, for reading: "1.6 to 2.4 club heads each side".
    order : int
        Place in the order of checking, from 0.
    station : str
        The stop in that order.
    weight : float
        How much the coach cares; 1 is ordinary.
    """

    measure: str
    unit: Unit
    low: float | None
    high: float | None
    target: float | None
    low_sd: float = 0.0
    high_sd: float = 0.0
    reason: str
    source: str
    relative_to: str = ""
    as_written: str = ""
    order: int = 0
    station: str = ""
    weight: float = 1.0

    @property
    def limit_sd(self) -> float:
        """The larger standard uncertainty of the two limits, in the published unit."""
        return max(self.low_sd, self.high_sd)

    @property
    def half_width(self) -> float | None:
        """Half the width of a closed window, ``None`` for an open one."""
        if self.low is None or self.high is None:
            return None
        return (self.high - self.low) / 2


@frozen(kw_only=True)
class Standard:
    """One window as a coach wrote it.

    Parameters
    ----------
    measure : str
        Id from the catalogue.
    unit : WrittenUnit
    low, high, target : float or None
        In `unit`; at least one limit is given.
    weight : float
    reason, source : str
    """

    measure: str
    unit: WrittenUnit
    low: float | None
    high: float | None
    target: float | None = None
    weight: float = 1.0
    reason: str
    source: str

    def resolve(
        self,
        scale: StudentScale,
        *,
        heads: HeadsCount = HeadsCount.EACH_SIDE,
        order: int = 0,
        station: str = "",
    ) -> Window:
        """The window in the measure's published unit, for one student and one club.

        The uncertainty of a relative unit's yardstick is kept on each limit.
        """
        size = scale.size(self.unit, measure=self.measure, heads=heads)
        factor, sd = (size.metres, size.sd) if isinstance(size, Yardstick) else (size, 0.0)

        def scaled(value: float | None) -> float | None:
            return None if value is None else value * factor

        relative = isinstance(size, Yardstick)
        return Window(
            measure=self.measure,
            unit=MEASURES[self.measure].unit,
            low=scaled(self.low),
            high=scaled(self.high),
            target=scaled(self.target),
            low_sd=abs(self.low or 0.0) * sd,
            high_sd=abs(self.high or 0.0) * sd,
            reason=self.reason,
            source=self.source,
            relative_to=self.unit.value if relative else "",
            as_written=self._written(heads) if relative else "",
            order=order,
            station=station,
            weight=self.weight,
        )

    def _written(self, heads: HeadsCount) -> str:
        unit = self.unit.value
        if self.unit is WrittenUnit.CLUB_HEADS and counted_from_the_middle(self.measure):
            unit = f"{unit} {heads.value}"
        if self.low is None:
            return f"at most {self.high:g} {unit}"
        if self.high is None:
            return f"at least {self.low:g} {unit}"
        return f"{self.low:g} to {self.high:g} {unit}"


def _frozen_shots(
    shots: Mapping[Shot, Mapping[str, Standard]], /
) -> Mapping[Shot, Mapping[str, Standard]]:
    return MappingProxyType({shot: MappingProxyType(dict(w)) for shot, w in shots.items()})


@frozen(kw_only=True)
class Standards:
    """A whole standards file, read and checked.

    Parameters
    ----------
    name : str
        What the coach calls it.
    heads : HeadsCount
    decision : Decision
    stations : tuple of Station
        The order of checking; every measure stands in it once.
    shots : mapping of Shot to mapping of measure id to Standard
    digest : str
        SHA-256 of the canonical form: two files that mean the same share it. A lesson
        remembers it beside its results.
    """

    name: str
    heads: HeadsCount
    decision: Decision
    stations: tuple[Station, ...]
    shots: Mapping[Shot, Mapping[str, Standard]] = field(converter=_frozen_shots)
    digest: str = ""

    @property
    def version(self) -> str:
        """Name and the first twelve digits of the digest, to print beside a result."""
        return f"{self.name} ({self.digest[:12]})"

    def for_shot(self, name: str) -> tuple[Standard, ...]:
        """The windows of a kind of shot, in the order of checking.

        Raises
        ------
        InputError
            For a shot that is unknown, or that this file has no windows for.
        """
        shot = shot_named(name)
        if shot not in self.shots:
            raise InputError(
                f'The standards "{self.name}" have no windows for this shot',
                why=f'there is no part "{shot}" in it; it has {", ".join(self.shots)}.',
                fix=f'Add it, for example with "like:" and another shot, or choose --shot among '
                f"{', '.join(self.shots)}.",
            )
        windows = self.shots[shot]
        return tuple(windows[m] for s in self.stations for m in s.measures if m in windows)

    def windows_for(self, name: str, *, scale: StudentScale) -> tuple[Window, ...]:
        """The same, resolved for one student and one club."""
        place = {m: s.name for s in self.stations for m in s.measures}
        order = {measure: at for at, measure in enumerate(place)}
        return tuple(
            standard.resolve(
                scale,
                heads=self.heads,
                order=order[standard.measure],
                station=place[standard.measure],
            )
            for standard in self.for_shot(name)
        )
