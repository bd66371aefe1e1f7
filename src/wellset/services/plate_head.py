"""The head of a pressure plate's file: units, frame, and what the plate itself is worth."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.errors import InputError

Array = NDArray[np.float64]

SCHEMA: Final = "wellset.plate/1"
SIDES: Final = (("lead", "trail"), ("left", "right"))
"""Two ways to name the feet; of left and right the left is a right-hander's lead foot."""
COLUMNS: Final = ("x", "y", "load")
LENGTHS: Final = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254}
TIMES: Final = {"s": 1.0, "ms": 0.001}
LOADS: Final[Mapping[str, float | None]] = {"N": 1 / 9.80665, "kg": 1.0, "%": None}
"""Kilogram in one unit of load; none for shares of the body's weight."""
FRAMES: Final = ("foot", "plate")
MOST_PLACE_SD_M: Final = 0.05
MOST_LOAD_SD_PERCENT: Final = 25.0
"""Stated uncertainties beyond these are a slip of the unit (our judgement)."""

_HELP: Final = {
    "time": "the unit of time, s or ms",
    "length": "the unit of x and y: mm, cm, m or in",
    "load": "the unit of load: N, kg or %",
    "frame": "foot (x from the back of each shoe to its toe, y outward) or plate",
    "place uncertainty": "the standard uncertainty of x and y, in the unit of length; 5 mm if "
    "nothing is known",
    "load uncertainty": "the standard uncertainty of a foot's load, in per cent; 2 if nothing "
    "is known",
}
_NUMBER: Final = r"[-+]?\d+(?:\.\d+)?"
_TWO: Final = re.compile(rf"({_NUMBER})\s*(?:,|;|to|\s)\s*({_NUMBER})")


@frozen(kw_only=True, eq=False)
class PlateHead:
    """What the head of a file says.

    Parameters
    ----------
    seconds, metres : float
        In one unit of time and of length.
    load : str
    kilograms : float or None
        In one unit of load; ``None`` for per cent of the body's weight.
    place_sd : float
        Unit of length.
    load_sd : float
        Per cent of a foot's load.
    ends : mapping of foot to (2, 2) array
        Back of the shoe and its toe in the plate's frame, unit of length; empty where each
        foot has its own frame.
    still : pair of float or None
        From when to when the student stands still, second.
    """

    seconds: float
    metres: float
    load: str
    kilograms: float | None
    place_sd: float
    load_sd: float
    ends: Mapping[str, Array]
    still: tuple[float, float] | None

    def in_foot(self, at: Array, /, *, foot: str) -> tuple[Array, Array]:
        """Places as lengths along and across a shoe, outward; unit of length.

        Parameters
        ----------
        at : (n, 2) array
        foot : str
            As the file calls it.
        """
        if not self.ends:
            return at[:, 0], at[:, 1]
        heel, toe = self.ends[foot]
        (other,) = (ends for name, ends in self.ends.items() if name != foot)
        u = (toe - heel) / np.linalg.norm(toe - heel)
        across = np.array([-u[1], u[0]])
        if across @ (other.mean(0) - self.ends[foot].mean(0)) > 0:
            across = -across
        return (at - heel) @ u, (at - heel) @ across


def read_head(lines: Sequence[str], *, where: str) -> PlateHead:
    """Read the lines that begin with ``#``.

    Raises
    ------
    InputError
        Naming everything that is missing or wrong.
    """
    said = [line.strip().lstrip("#").strip() for line in lines if line.strip()]
    if not said or said[0] != SCHEMA:
        raise InputError(
            "The pressure plate file cannot be used",
            why=f"its first line is not `# {SCHEMA}`.",
            fix="Write the head that the reference page shows above the readings.",
            where=where,
        )
    reading = _Reading(dict(_pair(line) for line in said[1:]))
    head = reading.head()
    if reading.problems:
        raise InputError(
            "The head of the pressure plate file cannot be used",
            why=f"{'; '.join(reading.problems)}.",
            fix="Mend these lines; the reference page shows each.",
            where=where,
        )
    return head


def _pair(line: str) -> tuple[str, str]:
    name, _, value = line.partition(":")
    return " ".join(name.lower().split()), value.strip()


class _Reading:
    """Takes the lines one by one and gathers what is wrong."""

    def __init__(self, said: Mapping[str, str]) -> None:
        self._said = said
        self._asked: set[str] = set()
        self.problems: list[str] = []

    def head(self) -> PlateHead:
        """Everything read; meaningless where there are problems."""
        length, load = self._one_of("length", LENGTHS), self._one_of("load", LOADS)
        metres = LENGTHS.get(length, 1.0)
        most = MOST_PLACE_SD_M / metres
        head = PlateHead(
            seconds=TIMES.get(self._one_of("time", TIMES), 1.0),
            metres=metres,
            load=load,
            kilograms=LOADS.get(load),
            ends=self._ends(self._one_of("frame", FRAMES), least=0.1 / metres, most=0.5 / metres),
            place_sd=self._positive("place uncertainty", most=most, unit=length),
            load_sd=self._positive("load uncertainty", most=MOST_LOAD_SD_PERCENT, unit="%"),
            still=self._still(),
        )
        unknown = set(self._said) - self._asked - {"note"}
        self.problems += [f"the line `# {name}:` is not known" for name in sorted(unknown)]
        return head

    def _take(self, name: str) -> str:
        self._asked.add(name)
        if name not in self._said:
            self.problems.append(f"the line `# {name}:` is missing ({_HELP.get(name, name)})")
        return self._said.get(name, "")

    def _one_of(self, name: str, known: Mapping[str, object] | Sequence[str]) -> str:
        value = self._take(name)
        if value and value not in known:
            self.problems.append(f"{name} is {value[:20]!r}; it must be {' or '.join(known)}")
        return value

    def _positive(self, name: str, *, most: float, unit: str) -> float:
        text = self._take(name)
        if not text:
            return 1.0
        match = re.fullmatch(rf"({_NUMBER})\s*(\S*)", text)
        if match is None or match[2] not in {"", unit}:
            self.problems.append(f"{name} is {text[:20]!r}; it must be a number in {unit}")
            return 1.0
        value = float(match[1])
        if not 0 < value <= most:
            self.problems.append(f"{name} is {value:g}; it must lie between 0 and {most:g} {unit}")
        return value

    def _ends(self, frame: str, *, least: float, most: float) -> Mapping[str, Array]:
        if frame != "plate":
            return {}
        pair = SIDES[0] if "lead heel" in self._said else SIDES[1]
        ends = {foot: self._end(foot) for foot in pair}
        for foot, (heel, toe) in ends.items():
            size = float(np.linalg.norm(toe - heel))
            if not self.problems and not least <= size <= most:
                self.problems.append(f"the {foot} shoe would be {size:g} long")
        return ends

    def _end(self, foot: str) -> Array:
        return np.array([self._two(f"{foot} {end}") or (0.0, 1.0) for end in ("heel", "toe")])

    def _two(self, name: str) -> tuple[float, float] | None:
        text = self._take(name)
        match = _TWO.fullmatch(text)
        if match is None:
            if text:
                self.problems.append(f"{name} is {text[:30]!r}; it must be two numbers")
            return None
        return float(match[1]), float(match[2])

    def _still(self) -> tuple[float, float] | None:
        if "still" not in self._said:
            return None
        found = self._two("still")
        if found is not None and found[0] >= found[1]:
            self.problems.append("still ends before it begins")
        return found
