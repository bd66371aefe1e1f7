"""Empirical numbers as records: value, spread, population, source.

A number that somebody measured is never written bare: it says how well it is known, for
whom it holds, who says so, and how firmly we know that they say so.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Final

from attrs import field, frozen, validators

_ISO_DATE: Final = re.compile(r"\d{4}-\d{2}-\d{2}")


class Mark(StrEnum):
    """How a number came into the project."""

    READ = "read in the source"
    READ_SECOND_HAND = "read in a text that quotes the source"
    DERIVED = "calculated from numbers that were read"
    MEMORY = "from memory, to be verified"
    PRACTICE = "common practice, no source"
    ASSUMED = "assumed, with the reason given"


@frozen(kw_only=True)
class Edition:
    """A dated edition of a table. A stored lesson remembers the one it used.

    Parameters
    ----------
    name : str
        The table as it is cited, for example ``"de Leva 1996"``.
    date : str
        The day the numbers were entered in the project in this form, ``YYYY-MM-DD``.
    source : str
        The full reference.
    """

    name: str = field(validator=validators.min_len(1))
    date: str = field(validator=validators.matches_re(_ISO_DATE))
    source: str = field(validator=validators.min_len(1))

    def __str__(self) -> str:
        return f"{self.name} (entered {self.date})"


@frozen(kw_only=True)
class Record:
    """One empirical number.

    Parameters
    ----------
    value : float
        The number, in `unit`.
    sd : float or None
        Its spread between people (or between things) as one standard deviation in the
        same unit; ``None`` where the source prints none.
    unit : str
        ``"m"``, ``"rad"``, ``"kg"`` or ``"1"`` for a plain ratio.
    population : str
        Whom or what it describes.
    source : str
        Where it comes from; for an assumed number, the reason.
    mark : Mark
        How firmly the source is known.
    edition : str
        The day the number was entered in this form, ``YYYY-MM-DD``.

    Examples
    --------
    >>> Record(value=0.741, sd=0.015, unit="1", population="men", source="ANSUR II",
    ...        mark=Mark.READ, edition="2026-11-25").value
    0.741
    """

    value: float
    sd: float | None = field(default=None, validator=validators.optional(validators.ge(0.0)))
    unit: str = field(validator=validators.min_len(1))
    population: str = field(validator=validators.min_len(1))
    source: str = field(validator=validators.min_len(1))
    mark: Mark
    edition: str = field(validator=validators.matches_re(_ISO_DATE))

    @property
    def spread(self) -> float:
        """The standard deviation, for records that must have one.

        Raises
        ------
        ValueError
            If the source prints no spread.
        """
        if self.sd is None:
            raise ValueError(f"no spread is known for {self.source}")
        return self.sd
