"""A pressure plate's readings as CSV: a head of ``# name: value`` lines, then the columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess import Restless, quiet_means
from wellset.assess.quiet import part
from wellset.errors import InputError
from wellset.figure.plate import FootTrace, PlateMeans, PlateRecording
from wellset.figure.views import Hand
from wellset.services.plate_head import COLUMNS, SCHEMA, SIDES, PlateHead, read_head

Array = NDArray[np.float64]

MOST_ROWS: Final = 400_000
"""An hour at a hundred readings a second, and more."""
TOLD: Final = 3
"""Bad rows told one by one; of the others the number is told."""
WHOLE: Final = (0.8, 1.2)
"""Loads in per cent are of the body's weight, which both feet carry together."""
BODY_KG: Final = (15.0, 250.0)
"""A load in newton or kilogram outside is in another unit than it says (our judgement)."""
_FIX: Final = "Mend these rows, or leave them out; the reference page shows each column."


@frozen(kw_only=True, eq=False)
class _Table:
    names: tuple[str, ...]
    values: Array

    def __getitem__(self, name: str) -> Array:
        column: Array = self.values[:, self.names.index(name)]
        return column


def read_plate(text: str, *, where: str, hand: Hand) -> PlateMeans:
    """A plate file as means of quiet standing.

    Parameters
    ----------
    text : str
    where : str
        Name of the file, for messages.
    hand : Hand
        Says which foot is the lead one where the file says left and right.

    Raises
    ------
    InputError
        Saying which line is wrong, or why the readings show no quiet standing.
    """
    recording = read_recording(text, where=where, hand=hand)
    found = quiet_means(recording)
    if isinstance(found, Restless):
        raise InputError(
            "The pressure plate shows no quiet standing",
            why=found.why,
            fix=found.fix,
            where=where,
        )
    return found


def read_recording(text: str, *, where: str, hand: Hand) -> PlateRecording:
    """A plate file as readings, in metre and second, lead and trail; see :func:`read_plate`.

    Raises
    ------
    InputError
    """
    lines = text.splitlines()
    skip = next((i for i, line in enumerate(lines) if not _is_head(line)), len(lines))
    head = read_head(lines[:skip], where=where)
    table = _read_table(lines[skip:], skip=skip, where=where)
    _check_load(table, head, where=where)
    _check_names(table, head, where=where)
    feet = {side: _foot(table, head, name=name) for side, name in _sides(table, hand).items()}
    recording = PlateRecording(
        time=table["time"] * head.seconds,
        lead=feet["lead"],
        trail=feet["trail"],
        place_sd=head.place_sd * head.metres,
        load_sd=head.load_sd / 100,
        name=where,
    )
    return recording if head.still is None else _part(recording, head.still, where=where)


def _is_head(line: str) -> bool:
    return not line.strip() or line.lstrip().startswith("#")


def _sides(table: _Table, hand: Hand) -> Mapping[str, str]:
    """What the file calls the lead and the trail foot."""
    if "lead_x" in table.names:
        return {"lead": "lead", "trail": "trail"}
    right_handed = hand is Hand.RIGHT
    return dict(zip(("lead", "trail"), SIDES[1][:: 1 if right_handed else -1], strict=True))


def _foot(table: _Table, head: PlateHead, *, name: str) -> FootTrace:
    at = np.column_stack([table[f"{name}_x"], table[f"{name}_y"]])
    along, across = head.in_foot(at, foot=name)
    return FootTrace(
        along=along * head.metres, across=across * head.metres, load=table[f"{name}_load"]
    )


def _part(recording: PlateRecording, still: tuple[float, float], *, where: str) -> PlateRecording:
    kept = part(recording, start=still[0], end=still[1])
    if len(kept.time) < 2:
        raise InputError(
            "The pressure plate file cannot be used",
            why=f"no readings lie between {still[0]:g} and {still[1]:g} s; they go from "
            f"{recording.time[0]:.1f} to {recording.time[-1]:.1f} s.",
            fix="Mend the line `# still:`, or leave it out.",
            where=where,
        )
    return kept


def _read_table(lines: Sequence[str], *, skip: int, where: str) -> _Table:
    if not lines:
        raise _unusable("it has no columns and no readings.", where=where)
    separator = ";" if ";" in lines[0] else ","
    rows = csv.reader(io.StringIO("\n".join(lines)), delimiter=separator)
    names = tuple(cell.strip().lower() for cell in next(rows))
    _check_columns(names, where=where)
    if len(lines) > MOST_ROWS:
        raise _unusable(
            f"it has {len(lines)} rows; more than {MOST_ROWS} are not read.", where=where
        )
    values, bad = _numbers(rows, names=names, first=skip + 2, comma=separator == ";")
    if bad:
        more = f"; and {len(bad) - TOLD} more" if len(bad) > TOLD else ""
        raise _unusable(f"{'; '.join(bad[:TOLD])}{more}.", where=where, fix=_FIX)
    if len(values) < 2:
        raise _unusable("it holds no readings under its columns.", where=where)
    table = _Table(names=names, values=np.array(values))
    _check_time(table["time"], first=skip + 2, where=where)
    return table


def _check_columns(names: Sequence[str], *, where: str) -> None:
    wanted = [("time", *(f"{side}_{c}" for side in pair for c in COLUMNS)) for pair in SIDES]
    if any(set(names) == set(some) and len(names) == len(some) for some in wanted):
        return
    found = ", ".join(names) or "nothing"
    raise _unusable(
        f"its columns are {found[:200]}.",
        where=where,
        fix=f"Name them {', '.join(wanted[0])}, in any order, or left and right for lead and "
        "trail.",
    )


def _numbers(
    rows: Iterator[list[str]], *, names: Sequence[str], first: int, comma: bool
) -> tuple[list[list[float]], list[str]]:
    """Rows as numbers, and what is wrong with the others."""
    values: list[list[float]] = []
    bad: list[str] = []
    for number, row in enumerate(rows, start=first):
        if not any(cell.strip() for cell in row):
            continue
        if len(row) != len(names):
            bad.append(f"line {number} has {len(row)} values for {len(names)} columns")
            continue
        cells = [cell.strip().replace(",", ".") if comma else cell.strip() for cell in row]
        wrong = [f"{n} {c[:20]!r}" for n, c in zip(names, cells, strict=True) if not _is_number(c)]
        if wrong:
            bad.append(f"line {number}: {', '.join(wrong)} is no number")
            continue
        found = [float(cell) for cell in cells]
        light = [n for n, v in zip(names, found, strict=True) if n.endswith("_load") and v < 0]
        if light:
            bad.append(f"line {number}: {', '.join(light)} is below nothing")
            continue
        values.append(found)
    return values, bad


def _is_number(cell: str) -> bool:
    try:
        return bool(np.isfinite(float(cell))) and "_" not in cell
    except ValueError:
        return False


def _check_time(time: Array, *, first: int, where: str) -> None:
    back = np.flatnonzero(np.diff(time) <= 0)
    if len(back):
        raise _unusable(
            f"its time does not go on after reading {back[0] + 1} (about line {first + back[0]}): "
            f"{time[back[0]]:g} is followed by {time[back[0] + 1]:g}.",
            where=where,
            fix="Give one recording, its readings in order of time.",
        )


def _check_load(table: _Table, head: PlateHead, *, where: str) -> None:
    """A load in the wrong unit betrays itself by the body's weight."""
    loads = [table[name] for name in table.names if name.endswith("_load")]
    total = float(np.median(sum(loads)))
    if total <= 0:
        raise _unusable("nobody stands on the plate: the load is nothing.", where=where)
    if head.kilograms is None:
        low, high = (100 * w for w in WHOLE)
        words = f"both feet together carry {total:.4g} % of the body's weight"
    else:
        low, high = (kg / head.kilograms for kg in BODY_KG)
        words = f"both feet together carry {total:.4g} {head.load}"
    if not low <= total <= high:
        raise _unusable(
            f"{words}.", where=where, fix="Mend the unit in the line `# load:` (N, kg or %)."
        )


def _check_names(table: _Table, head: PlateHead, *, where: str) -> None:
    """Feet must be called alike in the head and over the columns."""
    other = [name for name in head.ends if f"{name}_x" not in table.names]
    if other:
        raise _unusable(
            f"its head speaks of {' and '.join(other)}, its columns do not.",
            where=where,
            fix="Call the feet lead and trail, or left and right, in both.",
        )


def _unusable(why: str, *, where: str, fix: str = "") -> InputError:
    return InputError(
        "The pressure plate file cannot be used",
        why=why,
        fix=fix or f"Give a file that begins with `# {SCHEMA}`; the reference page shows one.",
        where=where,
    )
