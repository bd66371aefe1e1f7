"""A student's build: what each segment's length is, and how well that is known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final, NamedTuple

import numpy as np
from attrs import Attribute, field, frozen
from numpy.typing import NDArray

from wellset.body.anatomy import (
    LENGTH_EDITIONS,
    LENGTHS,
    convention_sd,
    prior,
    tape_row,
)
from wellset.body.gaussian import NamedGaussian
from wellset.body.sex import Sex
from wellset.body.tapes import TAPE_MEASURES
from wellset.errors import InputError

LEAST_STATURE: Final = 1.0
GREATEST_STATURE: Final = 2.3
"""Metres. Outside these a typing error is likelier than a golfer; common practice, no source."""
_COVERED: Final = (1.45, 2.0)
"""Metres. The survey of adults has almost nobody outside (three spreads from either mean)."""
_WIDENING_PER_METRE: Final = 3.0
"""Outside the survey, spreads between people grow by half for each 17 cm; assumed, because
no table here covers juniors."""
_DOUBTFUL: Final = 3.0
_IMPOSSIBLE: Final = 7.0
"""Standard deviations from what stature leads one to expect. Beyond the first, one honest
reading in 400; beyond the second, a slip of the pen."""
_MASSES: Final = (20.0, 300.0)
_TELLING: Final = 0.98
"""A reading counts as a source of a length when it brings the spread below this share."""


@frozen(kw_only=True)
class Caution:
    """Something doubtful but usable.

    Parameters
    ----------
    code : str
        For programs.
    what, why, fix : str
        For people: whole sentences, to stand one after the other.
    """

    code: str
    what: str
    why: str
    fix: str


@frozen(kw_only=True)
class Estimate:
    """One length of a build.

    Parameters
    ----------
    value : float
        Metres.
    sd : float
        Standard uncertainty, metres, everything included.
    convention_sd : float
        The part of it that is a choice of definition (where authors place a joint), metres.
        It is the same for everyone and no tape narrows it.
    source : str
        Which table and which measurements of the student it rests on.
    """

    value: float
    sd: float
    convention_sd: float
    source: str


class Lengths(NamedTuple):
    """All lengths together.

    ``names`` (N,), ``mean`` (N,) in metres and ``covariance`` (N, N) in square metres, in
    one order. The arrays are read-only.
    """

    names: tuple[str, ...]
    mean: NDArray[np.float64]
    covariance: NDArray[np.float64]


def _check_stature(_: object, __: Attribute[float], value: float) -> None:
    if not (math.isfinite(value) and LEAST_STATURE <= value <= GREATEST_STATURE):
        raise InputError(
            "Cannot use the height of the student",
            why=f"it is {100 * value:.0f} cm, and must lie between 100 and 230 cm.",
            fix='Give the height barefoot with its unit, for example "178 cm" or "5 ft 10 in".',
            where="height",
        )


def _check_spread(_: object, __: Attribute[float], value: float) -> None:
    if not 0.0 < value <= 0.1:
        raise InputError(
            "Cannot use the uncertainty of the height",
            why=f"it is {value} m.",
            fix="Give a value above zero and not above 0.1 m.",
            where="stature_sd",
        )


def _check_mass(_: object, __: Attribute[float | None], value: float | None) -> None:
    if value is not None and not (_MASSES[0] <= value <= _MASSES[1]):
        raise InputError(
            "Cannot use the weight of the student",
            why=f"it is {value:.0f} kg, and must lie between 20 and 300 kg.",
            fix="Give the body weight, or leave it out.",
            where="weight",
        )


def _check_edition(_: object, __: Attribute[str], value: str) -> None:
    if value not in LENGTH_EDITIONS:
        raise InputError(
            f'No table of lengths is called "{value}"',
            why=f"the tables are: {', '.join(LENGTH_EDITIONS)}.",
            fix="Name one of them.",
            where="edition",
        )


def _check_reading(_: object, attribute: Attribute[float | None], value: float | None) -> None:
    if value is not None and not (math.isfinite(value) and value > 0):
        words = TAPE_MEASURES[attribute.name].words
        raise InputError(
            f"Cannot use the {words}",
            why=f"it is {value} m.",
            fix="Give a length above zero, or leave it out.",
            where=attribute.name,
        )


def _tape() -> float | None:
    """Declare a tape measurement that may be absent."""
    value: float | None = field(default=None, validator=_check_reading)
    return value


@frozen(kw_only=True)
class Build:
    """A student's build, from stature alone or from any tape measurements besides.

    Parameters
    ----------
    stature : float
        Height barefoot, metres.
    sex : Sex
        Whose tables; pooled where it is unspecified.
    stature_sd : float
        Standard uncertainty of the height, metres. One centimetre suits a height that the
        student told; common practice, no source.
    mass : float or None
        Body mass, kilograms. No length depends on it.
    edition : str
        The table of lengths; one of :data:`LENGTH_EDITIONS`.
    wrist_height, acromial_height, … : float or None
        Tape measurements, metres: see :data:`TAPE_MEASURES` for where the tape goes.

    Raises
    ------
    InputError
        For an absurd height, weight or measurement.

    Notes
    -----
    All lengths and all tape readings are one joint normal distribution given stature and
    sex; each reading updates it. Where the survey's printed spreads fix how residuals go
    together, that is used (arm, wrist and shoulder height; heel to ball; wrist to grip);
    hip height is shared by crotch, trochanter and sitting height with an assumed spread;
    everything else is independent at equal stature. The survey covers adults of 17 to 58
    years: nothing here describes juniors or seniors.

    Examples
    --------
    >>> build = Build(stature=1.78, sex=Sex.MEN)
    >>> thigh = build.length("thigh")
    >>> f"{100 * thigh.value:.0f} cm, give or take {100 * thigh.sd:.0f}"
    '43 cm, give or take 2'
    """

    stature: float = field(validator=_check_stature)
    sex: Sex = field(default=Sex.POOLED, converter=Sex)
    stature_sd: float = field(default=0.01, validator=_check_spread)
    mass: float | None = field(default=None, validator=_check_mass)
    edition: str = field(default=LENGTH_EDITIONS[0], validator=_check_edition)
    wrist_height: float | None = _tape()
    acromial_height: float | None = _tape()
    c7_height: float | None = _tape()
    arm_length: float | None = _tape()
    hand_length: float | None = _tape()
    span: float | None = _tape()
    shoulder_breadth: float | None = _tape()
    hip_breadth: float | None = _tape()
    pelvis_breadth: float | None = _tape()
    trochanter_height: float | None = _tape()
    crotch_height: float | None = _tape()
    inseam: float | None = _tape()
    knee_height: float | None = _tape()
    sitting_height: float | None = _tape()
    foot_length: float | None = _tape()
    shoe_length: float | None = _tape()
    thigh_girth: float | None = _tape()

    def __attrs_post_init__(self) -> None:
        """Refuse measurements that no body of this height has, all at once."""
        wrong = [
            f"{TAPE_MEASURES[name].words} {100 * value:.0f} cm "
            f"(about {100 * self._expected(name):.0f} cm expected)"
            for name, value in self.readings.items()
            if abs(self._surprise(name)) > _IMPOSSIBLE
        ]
        if wrong:
            raise InputError(
                "Cannot use these measurements of the student",
                why=f"at a height of {100 * self.stature:.0f} cm they cannot be right: "
                f"{'; '.join(wrong)}.",
                fix="Measure again, or leave them out.",
                where=", ".join(n for n in self.readings if abs(self._surprise(n)) > _IMPOSSIBLE),
            )

    @property
    def readings(self) -> Mapping[str, float]:
        """The tape measurements given, metres, by name."""
        given = {name: getattr(self, name) for name in TAPE_MEASURES}
        return MappingProxyType({n: float(v) for n, v in given.items() if v is not None})

    def length(self, name: str) -> Estimate:
        """One length with its uncertainty and what it rests on.

        Raises
        ------
        InputError
            For a name that is not in :data:`LENGTHS`.
        """
        if name not in LENGTHS:
            raise InputError(
                f'A build has no length called "{name}"',
                why=f"the lengths are: {', '.join(LENGTHS)}.",
                fix="Name one of them.",
            )
        return Estimate(
            value=float(self._posterior.mean[self._posterior.row(name)]),
            sd=self._posterior.sd(name),
            convention_sd=convention_sd(name, sex=self.sex, edition=self.edition),
            source=self._source(name),
        )

    def expected_reading(self, tape: str) -> float:
        """What a tape measure not taken yet would read for this build, metres.

        Raises
        ------
        InputError
            For a name that is not in :data:`TAPE_MEASURES`.
        """
        if tape not in TAPE_MEASURES:
            raise InputError(
                f'No tape measure is called "{tape}"',
                why=f"the tape measures are: {', '.join(TAPE_MEASURES)}.",
                fix="Name one of them.",
            )
        return float(self._posterior.mean[self._posterior.row(tape_row(tape))])

    def lengths(self) -> Lengths:
        """All lengths with their joint covariance, in the order of :data:`LENGTHS`."""
        return Lengths(*(getattr(self._lengths, part) for part in Lengths._fields))

    def cautions(self) -> tuple[Caution, ...]:
        """What is doubtful about this build: a height the tables do not cover, odd readings."""
        found = [_stature_caution(self.stature)] if self._is_uncovered else []
        for name, value in self.readings.items():
            if abs(self._surprise(name)) > _DOUBTFUL:
                found.append(self._reading_caution(name, value=value))
        return tuple(found)

    @cached_property
    def _prior(self) -> NamedGaussian:
        low, high = _COVERED
        outside = max(low - self.stature, self.stature - high, 0.0)
        return prior(
            self.sex,
            stature=self.stature,
            stature_sd=self.stature_sd,
            widening=1.0 + _WIDENING_PER_METRE * outside,
            edition=self.edition,
        )

    @cached_property
    def _posterior(self) -> NamedGaussian:
        return self._after(self.readings)

    @cached_property
    def _lengths(self) -> NamedGaussian:
        return self._posterior.part(LENGTHS)

    @property
    def _is_uncovered(self) -> bool:
        return not _COVERED[0] <= self.stature <= _COVERED[1]

    def _expected(self, reading: str) -> float:
        return float(self._prior.mean[self._prior.row(tape_row(reading))])

    def _surprise(self, reading: str) -> float:
        return self._prior.surprise(
            tape_row(reading), value=self.readings[reading], sd=TAPE_MEASURES[reading].sd
        )

    def _reading_caution(self, name: str, *, value: float) -> Caution:
        words = TAPE_MEASURES[name].words
        return Caution(
            code=f"unusual_{name}",
            what=f"The {words} is unusual for this height.",
            why=f"It is {100 * value:.1f} cm; about {100 * self._expected(name):.1f} cm is usual.",
            fix=f"Measure again: {TAPE_MEASURES[name].how}.",
        )

    def _source(self, name: str) -> str:
        """The table, and the measurements that tell something about this length."""
        telling = [TAPE_MEASURES[r].words for r in self.readings if self._tells(r, about=name)]
        whom = "men and women pooled" if self.sex is Sex.POOLED else self.sex.value
        return f"{self.edition} ({whom}), from {', '.join(['height', *telling])}"

    def _tells(self, reading: str, *, about: str) -> bool:
        """Whether a reading narrows a length, alone or on top of the others."""
        others = (r for r in self.readings if r != reading)
        alone = self._after((reading,)).sd(about) < _TELLING * self._prior.sd(about)
        on_top = self._posterior.sd(about) < _TELLING * self._after(others).sd(about)
        return alone or on_top

    def _after(self, readings: Iterable[str]) -> NamedGaussian:
        """The distribution once these readings are in."""
        state = self._prior
        for name in readings:
            state = state.observed(
                tape_row(name), value=self.readings[name], sd=TAPE_MEASURES[name].sd
            )
        return state


def _stature_caution(stature: float) -> Caution:
    """Too short or too tall for tables of adults."""
    return Caution(
        code="height_outside_tables",
        what="The tables do not cover this height.",
        why=f"They were measured on adults of 17 to 58 years, nearly all between "
        f"{100 * _COVERED[0]:.0f} and {100 * _COVERED[1]:.0f} cm; the height is "
        f"{100 * stature:.0f} cm. Juniors have other proportions.",
        fix="Measure the student with a tape: wrist height, crotch height and foot length first.",
    )
