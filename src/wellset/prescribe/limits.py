"""What a student can't or mustn't do: ceilings that win over any standard."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import evolve, field, frozen

from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.prescribe.aims import OPEN_HALF_WIDTH, Aim

DEEP_BEND_DEG: Final = 30.0
DEEP_KNEE_DEG: Final = 22.0
"""What "no deep bend" allows of forward bend and knee flex (our judgement: somewhat less than
what the default windows aim for with an iron). It is no medical advice."""


def _frozen(value: Mapping[str, float]) -> Mapping[str, float]:
    return MappingProxyType(dict(value))


def _checked(_: object, __: object, value: Mapping[str, float]) -> None:
    for measure, limit in value.items():
        if measure not in MEASURES or not -90 <= limit <= 180:
            raise InputError(
                "Cannot use this limit of the student",
                why=f"{measure} at most {limit:g} is no limit of a measure.",
                fix="Give an angle in degrees.",
                where=f"limits.{measure}",
            )


@frozen(kw_only=True)
class Limits:
    """Ceilings of one student.

    Parameters
    ----------
    at_most : mapping of measure id to float
        Published unit.
    """

    at_most: Mapping[str, float] = field(factory=dict, converter=_frozen, validator=_checked)

    @classmethod
    def of(
        cls,
        *,
        max_forward_bend: float | None = None,
        max_knee_flex: float | None = None,
        max_side_bend: float | None = None,
        no_deep_bend: bool = False,
    ) -> Limits:
        """Limits in the words of a student file, degree; the tightest of each counts."""
        said = [
            (("forward_bend",), max_forward_bend),
            (("lead_knee_flex", "trail_knee_flex"), max_knee_flex),
            (("side_bend",), max_side_bend),
        ]
        if no_deep_bend:
            said += [
                (("forward_bend",), DEEP_BEND_DEG),
                (("lead_knee_flex", "trail_knee_flex"), DEEP_KNEE_DEG),
            ]
        found: dict[str, float] = {}
        for measures, limit in said:
            for measure in measures:
                if limit is not None:
                    found[measure] = min(limit, found.get(measure, limit))
        return cls(at_most=found)

    def aims(self) -> tuple[Aim, ...]:
        """The ceilings as aims that win over windows."""
        return tuple(
            Aim(
                quantity=measure,
                low=None,
                high=limit,
                target=limit,
                half_width=OPEN_HALF_WIDTH[MEASURES[measure].unit],
                is_limit=True,
            )
            for measure, limit in self.at_most.items()
        )

    def cut(self, aim: Aim, /) -> Aim:
        """A window with what lies above the ceiling taken off; the ceiling wins."""
        limit = self.at_most.get(aim.quantity)
        if limit is None or (aim.high is not None and aim.high <= limit):
            return aim
        room = 0.1 * aim.half_width
        low = aim.low if aim.low is not None and aim.low < limit - room else None
        return evolve(aim, low=low, high=limit, target=min(aim.target, limit - room))
