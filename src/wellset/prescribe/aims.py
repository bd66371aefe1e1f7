"""What is wanted of a measure, and what a joint or a student can't do: windows as residuals."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.measures import MEASURES, Unit
from wellset.standards import Window

Array = NDArray[np.float64]

PULL: Final = 0.8
"""Residual of a value at a window's limit that comes from the pull to its target: weak, it
only decides where inside the window a free body goes (our judgement)."""
HINGE: Final = 40.0
"""Residual that one half-width beyond the margin costs: a window gives way only to what is
exact, to a limit of the body, or to another window (our judgement)."""
MARGIN: Final = 0.06
"""Share of the half-width inside a limit at which the hinge begins, so that a value that is
pressed against its limit stays inside."""
SATURATES: Final = 4.0
"""Residual of a hinge beyond which its force hardly grows: a window that can't be reached then
pulls no harder the farther it is, so the few that can't be kept give way and the others stay."""
LIMIT_STIFFNESS: Final = 10.0
"""How much harder a limit of body or student is than a window of the same width."""
OPEN_HALF_WIDTH: Final = {Unit.METRE: 0.05, Unit.DEGREE: 8.0, Unit.PERCENT: 8.0}
"""Half-width taken for a window with one side open, published unit (our judgement)."""
BALANCE: Final = ("heel_toe_balance", "lead_share")
BALANCE_FIRMNESS: Final = 9.0
"""Who falls over has no set-up: limits of balance count this much more than the others."""


@frozen(kw_only=True)
class Aim:
    """One quantity, the limits it should stay within and where inside it should go.

    Parameters
    ----------
    quantity : str
        Id of a measure, or name of an angle of the body.
    low, high : float or None
        Limits, published unit of the measure (degree for angles of the body).
    target : float
        Where the pull goes.
    half_width : float
        The yardstick of pull and hinge.
    weight : float
        The coach's weight.
    firmness : float
        How much more than others its limits count.
    is_limit : bool
        Whether it is a limit of the body or the student, which wins over windows.
    """

    quantity: str
    low: float | None
    high: float | None
    target: float
    half_width: float
    weight: float = 1.0
    firmness: float = 1.0
    is_limit: bool = False

    def excess(self, value: float, /) -> float:
        """How far a value lies outside, signed: below is negative; 0 inside."""
        if self.low is not None and value < self.low:
            return value - self.low
        if self.high is not None and value > self.high:
            return value - self.high
        return 0.0


def aim_of(window: Window, /) -> Aim:
    """A coach's window as an aim; a target at a limit is drawn inside the margin."""
    half = window.half_width or OPEN_HALF_WIDTH[MEASURES[window.measure].unit]
    low, high = window.low, window.high
    if window.target is not None:
        target = window.target
    elif low is not None and high is not None:
        target = (low + high) / 2
    else:
        target = low + half if low is not None else (high or 0.0) - half
    return Aim(
        quantity=window.measure,
        low=low,
        high=high,
        target=target,
        half_width=half,
        weight=window.weight,
        firmness=BALANCE_FIRMNESS if window.measure in BALANCE else 1.0,
    )


@frozen(kw_only=True, eq=False)
class AimRows:
    """All aims of a problem as residuals.

    Parameters
    ----------
    aims : tuple of k Aim
    """

    aims: tuple[Aim, ...]
    _low: Array = field(init=False, repr=False)
    _high: Array = field(init=False, repr=False)
    _pull: Array = field(init=False, repr=False)
    _stiff: Array = field(init=False, repr=False)
    _target: Array = field(init=False, repr=False)

    def __attrs_post_init__(self) -> None:
        """Gather the numbers of all aims once; every evaluation uses them."""
        half = np.array([a.half_width for a in self.aims])
        root = np.sqrt([a.weight for a in self.aims]) / half
        stiff = [HINGE * (LIMIT_STIFFNESS if a.is_limit else 1.0) for a in self.aims]
        pull = [0.0 if a.is_limit else PULL for a in self.aims]
        low = [-np.inf if a.low is None else a.low for a in self.aims]
        high = [np.inf if a.high is None else a.high for a in self.aims]
        found = {
            "_low": np.array(low) + MARGIN * half,
            "_high": np.array(high) - MARGIN * half,
            "_pull": np.array(pull) * root,
            "_stiff": np.array(stiff) * root * np.sqrt([a.firmness for a in self.aims]),
            "_target": np.array([a.target for a in self.aims]),
        }
        for name, value in found.items():
            object.__setattr__(self, name, value)

    def __call__(self, values: Array, /) -> tuple[Array, Array]:
        """Pulls and hinges, each (..., k), of values (..., k), real or complex."""
        real = np.real(values)
        nearest = np.clip(real, self._low, self._high)
        outside = np.where(nearest == real, 0, values - nearest)
        return (values - self._target) * self._pull, outside * self._stiff
