"""Pressure plates under known golfers: files as a plate would write them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
import scipy.optimize
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from tests.support.truth import load, points
from wellset.figure.landmarks import INDEX

Array = NDArray[np.float64]

SWAY_SD_M, SHARE_SD, SLUGGISH_S = 0.004, 0.01, 0.6
"""Spread and memory of the simulated sway: of the size of quiet standing (our judgement)."""
AXIS_SD: Final = np.radians(3.0)
HEAD: Final = """# wellset.plate/1
# note: {note}
# time: s
# length: mm
# load: N
# frame: foot
# place uncertainty: {place_mm} mm
# load uncertainty: {load_percent} %
"""
COLUMNS: Final = "time,lead_x,lead_y,lead_load,trail_x,trail_y,trail_load"


@frozen(kw_only=True, eq=False)
class Stands:
    """Where somebody stands in plan view: backs and toes of the shoes, centre of mass, metre."""

    heels: Mapping[str, Array]
    toes: Mapping[str, Array]
    centre: Array

    def foot(self, side: str, *, along: float, across: float) -> Array:
        """A place under a shoe in plan view."""
        shoe = self.toes[side] - self.heels[side]
        u = shoe / np.hypot(*shoe)
        outward = np.array([-u[1], u[0]]) * (1 if side == "lead" else -1)
        place: Array = self.heels[side] + along * u + across * outward
        return place


def scene_stands(scene: str) -> Stands:
    """Where the golfer of a scene truly stands; left-handers mirrored."""
    truth, at = load(scene), points(load(scene))
    mirror = np.array([1.0 if truth["hand"] == "right" else -1.0, 1.0])
    return Stands(
        heels={s: at[INDEX[f"{s}_shoe_heel"], :2] for s in ("lead", "trail")},
        toes={s: at[INDEX[f"{s}_shoe_toe"], :2] for s in ("lead", "trail")},
        centre=np.array(truth["landmarks_m"]["com_ground"][:2]) * mirror,
    )


def plate_text(scene: str, *, seed: int = 1, shift: tuple[float, float] = (0, 0)) -> str:
    """A plate's file under the golfer of a scene, moved by so much from where it should be."""
    golfer = scene_stands(scene)
    golfer = evolve(golfer, centre=golfer.centre + shift)
    return read_off(golfer, Plate(), rng=np.random.default_rng(seed))


@frozen(kw_only=True)
class Plate:
    """How a plate errs and how long it listens."""

    place_mm: float = 5.0
    load_percent: float = 2.0
    seconds: float = 10.0
    rate: float = 100.0
    moment_m: float = 0.004
    """Spread of the moment of the pictures about the recording's mean."""
    honest: bool = field(default=True)
    """Whether it errs as it says; else not at all."""


def read_off(golfer: Stands, plate: Plate, *, rng: np.random.Generator) -> str:
    """A plate's file under a golfer."""
    err = rng.normal(size=8) if plate.honest else np.zeros(8)
    centre = golfer.centre + plate.moment_m * (rng.normal(size=2) if plate.honest else 0.0)
    apart = 0.01 * rng.normal()  # the trail foot presses so much further along than the lead

    def off(unknown: Array) -> Array:
        share, along = unknown
        lead = golfer.foot("lead", along=along, across=0.004)
        trail = golfer.foot("trail", along=along + apart, across=-0.002)
        return np.asarray(share * lead + (1 - share) * trail - centre)

    share, along = scipy.optimize.fsolve(off, [0.5, 0.14])
    n = round(plate.seconds * plate.rate)
    sway = [_wander(n, plate.rate, rng=rng) for _ in range(5)]
    gains = 1 + plate.load_percent / 100 * err[:2]
    lead, trail = share + SHARE_SD * sway[0], 1 - share - SHARE_SD * sway[0]
    table = np.column_stack(
        [
            np.arange(n) / plate.rate,
            *_foot(along, 0.004, sway[1:3], err[2:5], place_mm=plate.place_mm),
            750 * gains[0] * lead,
            *_foot(along + apart, -0.002, sway[3:], err[5:8], place_mm=plate.place_mm),
            750 * gains[1] * trail,
        ]
    )
    return written(table, place_mm=plate.place_mm, load_percent=plate.load_percent)


def written(table: Array, *, place_mm: float = 5.0, load_percent: float = 2.0) -> str:
    """Readings (time, then x, y in millimetre and load in newton of both feet) as a file."""
    rows = "\n".join(",".join(f"{v:.3f}" for v in row) for row in table)
    head = HEAD.format(note="simulated", place_mm=place_mm, load_percent=load_percent)
    return f"{head}{COLUMNS}\n{rows}\n"


def still_table(*, seconds: float = 10.0, rate: float = 50.0, seed: int = 3) -> Array:
    """Readings of somebody who stands still: 52 % on the lead foot, 130 and 140 mm along."""
    rng = np.random.default_rng(seed)
    n = round(seconds * rate)
    s = [_wander(n, rate, rng=rng) for _ in range(5)]
    lead, trail = 0.52 + SHARE_SD * s[0], 0.48 - SHARE_SD * s[0]
    mm = 1000 * SWAY_SD_M
    return np.column_stack(
        [
            np.arange(n) / rate,
            130 + mm * s[1],
            4 + mm / 2 * s[2],
            750 * lead,
            140 + mm * s[3],
            -2 + mm / 2 * s[4],
            750 * trail,
        ]
    )


def _foot(
    along: float, across: float, sway: list[Array], err: Array, *, place_mm: float
) -> list[Array]:
    """One foot's places over time, millimetre."""
    own = place_mm / 1000 * err
    return [
        1000 * (along + own[0] + SWAY_SD_M * sway[0]),
        1000 * (across + own[1] + AXIS_SD * err[2] * along + SWAY_SD_M / 2 * sway[1]),
    ]


def _wander(n: int, rate: float, *, rng: np.random.Generator) -> Array:
    """A wandering series of unit variance that forgets within `SLUGGISH_S`."""
    keep = np.exp(-1 / (rate * SLUGGISH_S))
    steps = rng.normal(size=n) * np.sqrt(1 - keep**2)
    series = np.empty(n)
    series[0] = rng.normal()
    for i in range(1, n):
        series[i] = keep * series[i - 1] + steps[i]
    return series
