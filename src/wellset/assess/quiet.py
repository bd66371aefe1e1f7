"""Means of quiet standing, with uncertainties that know readings to hang together.

A plate that reads a hundred times a second does not tell a hundred things a second: a body
sways slowly, and each reading is nearly the last one over again. The mean of ``n`` readings
has the variance ``s^2 / n_eff``, ``n_eff = n / (1 + 2 sum rho_k)``, with the correlations
``rho_k`` summed in pairs while the pairs stay positive (Geyer 1992, *Statistical Science*
7:473, section 3.3). The variance of few readings about their own mean is too small by
``n_eff / (n_eff - 1)``, and few of them widen a normal range by ``(n_eff - 1) / (n_eff - 3)``
in variance (JCGM 101:2008, 6.4.9.4).
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.plate import FootTrace, PlateMeans, PlateRecording

Array = NDArray[np.float64]

LEAST_SECONDS: Final = 3.0
"""Sway turns about once in one to four seconds; less than this shows no whole turn of it
(our judgement)."""
LEAST_RATE: Final = 10.0
"""Readings a second. Nearly all of the sway of quiet standing lies below 1 Hz (Winter 1995,
Gait & Posture 3:193), and ten a second follow that with ease."""
STRETCH: Final = 6.0
"""Seconds of the still part that is looked for in an unsteady recording."""
MOST_A_SECOND: Final = 1.0
"""Independent readings that a second of sway is worth at the most. In a few seconds its slow
part cannot be told from a mean, whatever the correlations look like (our judgement)."""
ROUNDS: Final = 8
"""Rounds of putting back what the series' own mean takes from its covariances."""
AXIS_SD: Final = np.radians(3.0)
"""How well a shoe's own line, heel to toe, is laid along the plate's axis (our judgement)."""

LOAD_SWING: Final = 0.03
"""Relative standard deviation of the whole load beyond which somebody steps on or off:
standing still it stays within one per cent (our judgement)."""
PLACE_SWING_M: Final = 0.015
"""Standard deviation of a foot's centre of pressure beyond which it isn't standing still;
3 to 6 mm are ordinary (from memory; our judgement of the limit)."""
SHARE_SWING: Final = 0.06
"""The same of the share of the load: a player who rocks from foot to foot moves tenths."""
PLACE_DRIFT_M: Final = 0.02
SHARE_DRIFT: Final = 0.08
"""Differences of the first and last third of the readings that are a change of stance."""
LEAST_SHARE: Final = 0.05
"""Of the load; with less the foot's centre of pressure means nothing."""


@frozen(kw_only=True)
class Restless:
    """Why a recording shows no quiet standing.

    Parameters
    ----------
    code : str
        ``too_short``, ``too_slow``, ``foot_off`` or ``unsteady``.
    why, fix : str
    """

    code: str
    why: str
    fix: str


def autocovariances(series: Array, /) -> Array:
    """Sample autocovariances of a series about its mean, lags 0 to n - 1, shape (n,)."""
    n = len(series)
    off = series - series.mean()
    size = 1 << (2 * n - 1).bit_length()
    power = np.abs(np.fft.rfft(off, size)) ** 2
    found: Array = np.fft.irfft(power, size)[:n] / n
    return found


def worth(series: Array, /) -> float:
    """How many independent readings a series is worth: two at least, at most as many as it has."""
    raw = autocovariances(series)
    if raw[0] <= 0.0:
        return float(len(series))
    of_mean = 0.0
    for _ in range(ROUNDS):
        # about the series' own mean, every covariance is too small by the mean's variance
        of_mean = _long_run(raw + of_mean) / len(series)
        of_mean = min(of_mean, raw[0])
    return float(min((raw[0] + of_mean) / of_mean, len(series)))


def _long_run(covariances: Array) -> float:
    """Covariances summed over all lags, both ways, while pairs of them are positive."""
    even = len(covariances) - len(covariances) % 2
    pairs = np.minimum.accumulate(covariances[:even].reshape(-1, 2).sum(1))
    ends = np.flatnonzero(pairs <= 0.0)
    kept = pairs[: ends[0]] if len(ends) else pairs
    return max(2.0 * float(kept.sum()) - float(covariances[0]), float(covariances[0]))


def quiet_means(recording: PlateRecording, /) -> PlateMeans | Restless:
    """Means of a recording of quiet standing, or why it is none.

    Parameters
    ----------
    recording : PlateRecording

    Returns
    -------
    PlateMeans or Restless
    """
    wrong = _restless(recording)
    if wrong is not None:
        return wrong
    values = _values(recording)
    off = _deviations(recording, values)
    worths = np.array([worth(series) for series in off])
    worths = np.minimum(worths, MOST_A_SECOND * recording.duration)
    # s^2 n_eff / (n_eff - 1) / n_eff, and (n_eff - 1) / (n_eff - 3) for being few; a mean of
    # hardly more than one independent reading is as uncertain as that one
    scatter = np.sqrt(off.var(1) / np.maximum(worths - 3.0, 1.0))
    spread = off.std(1)
    correlation = off @ off.T / off.shape[1] / np.maximum(np.outer(spread, spread), 1e-30)
    np.fill_diagonal(correlation, 1.0)
    return PlateMeans(
        values=values,
        covariance=correlation * np.outer(scatter, scatter) + _own(recording, values),
        scatter=scatter,
        duration=recording.duration,
        rate=(len(recording.time) - 1) / recording.duration,
        worth=float(worths.min()),
        name=recording.name,
    )


def _values(recording: PlateRecording) -> Array:
    """Means weighted by load, so that both feet's give the whole body's."""
    share = recording.lead.load.sum() / recording.total.sum()
    places = [
        (at * foot.load).sum() / foot.load.sum()
        for foot in (recording.lead, recording.trail)
        for at in (foot.along, foot.across)
    ]
    return np.array([share, *places])


def _deviations(recording: PlateRecording, values: Array) -> Array:
    """What each reading adds to each mean (a mean of ratios, linearised), shape (5, n)."""
    total = recording.total
    rows = [(recording.lead.load - values[0] * total) / total.mean()]
    feet = (recording.lead, recording.trail)
    wanted = iter(values[1:])
    for foot in feet:
        weight = foot.load / foot.load.mean()
        rows += [weight * (at - next(wanted)) for at in (foot.along, foot.across)]
    return np.array(rows)


def _own(recording: PlateRecording, values: Array) -> Array:
    """Covariance that no length of recording takes away, (5, 5)."""
    share, lead, _, trail, _ = values
    of_share = share * (1 - share) * np.sqrt(2.0) * recording.load_sd
    place = recording.place_sd
    return np.diag(
        [
            of_share**2,
            place**2,
            place**2 + (AXIS_SD * lead) ** 2,
            place**2,
            place**2 + (AXIS_SD * trail) ** 2,
        ]
    )


def _restless(recording: PlateRecording) -> Restless | None:
    duration, n = recording.duration, len(recording.time)
    if duration < LEAST_SECONDS:
        return Restless(
            code="too_short",
            why=f"it lasts {duration:.1f} s; at least {LEAST_SECONDS:.0f} s are needed.",
            fix="Record the student standing still at address for about ten seconds.",
        )
    rate, gap = (n - 1) / duration, float(np.diff(recording.time).max())
    if rate < LEAST_RATE or gap > 5.0 / LEAST_RATE:
        return Restless(
            code="too_slow",
            why=f"it has {rate:.0f} readings a second and a gap of {gap:.2f} s; at least "
            f"{LEAST_RATE:.0f} a second without gaps beyond {5.0 / LEAST_RATE:.1f} s are needed.",
            fix="Export every reading of the plate, without thinning.",
        )
    return _unsteady(recording)


def _unsteady(recording: PlateRecording) -> Restless | None:
    total = recording.total
    least = min((foot.load / total).min() for foot in (recording.lead, recording.trail))
    if least < LEAST_SHARE:
        return Restless(
            code="foot_off",
            why=f"at some moment one foot carries {100 * least:.0f} % of the load.",
            fix="Keep the part of the file in which both feet stand on the plate.",
        )
    moved = _movement(recording)
    if not moved:
        return None
    return Restless(
        code="unsteady",
        why=f"{moved}, which is not standing still.",
        fix=_stillest(recording),
    )


def _movement(recording: PlateRecording) -> str:
    """What moves too much, in words; empty when nothing does."""
    total = recording.total
    if (swing := total.std() / total.mean()) > LOAD_SWING:
        return f"the whole load varies by {100 * swing:.0f} %"
    share = recording.lead.load / total
    if share.std() > SHARE_SWING or _drift(share) > SHARE_DRIFT:
        return (
            f"the load on the lead foot swings by {100 * share.std():.0f} points and drifts by "
            f"{100 * _drift(share):.0f}"
        )
    for side, foot in (("lead", recording.lead), ("trail", recording.trail)):
        for at in (foot.along, foot.across):
            if at.std() > PLACE_SWING_M or _drift(at) > PLACE_DRIFT_M:
                return (
                    f"the pressure under the {side} foot swings by {1000 * at.std():.0f} mm and "
                    f"drifts by {1000 * _drift(at):.0f} mm"
                )
    return ""


def _drift(series: Array) -> float:
    third = len(series) // 3
    return abs(float(series[-third:].mean() - series[:third].mean()))


def part(recording: PlateRecording, /, *, start: float, end: float) -> PlateRecording:
    """The readings between two moments, both included."""
    kept = (recording.time >= start) & (recording.time <= end)

    def foot(trace: FootTrace) -> FootTrace:
        return FootTrace(along=trace.along[kept], across=trace.across[kept], load=trace.load[kept])

    return PlateRecording(
        time=recording.time[kept],
        lead=foot(recording.lead),
        trail=foot(recording.trail),
        place_sd=recording.place_sd,
        load_sd=recording.load_sd,
        name=recording.name,
    )


def _stillest(recording: PlateRecording) -> str:
    """Which part of an unsteady recording could be used, as advice."""
    starts = np.arange(recording.time[0], recording.time[-1] - STRETCH, 0.5)
    for start in sorted(starts, key=lambda s: _restlessness(_from(recording, s))):
        candidate = _from(recording, float(start))
        if len(candidate.time) > 2 and _restless(candidate) is None:
            return (
                f"Keep its still part: the readings from {start:.1f} to {start + STRETCH:.1f} s "
                f"are. Say so in the file with the line `# still: {start:.1f} to "
                f"{start + STRETCH:.1f}`."
            )
    return "Record again, with the student standing still at address for about ten seconds."


def _from(recording: PlateRecording, start: float) -> PlateRecording:
    """The stretch of readings that begins at a moment."""
    return part(recording, start=start, end=start + STRETCH)


def _restlessness(recording: PlateRecording) -> float:
    """How much a stretch moves: standard deviations in units of their limits."""
    if len(recording.time) < 2:
        return np.inf
    places = [at.std() for f in (recording.lead, recording.trail) for at in (f.along, f.across)]
    share = (recording.lead.load / recording.total).std()
    return float(max(max(places) / PLACE_SWING_M, share / SHARE_SWING))
