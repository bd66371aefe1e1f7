"""The still moment of a video, in words and in the published shape."""

from __future__ import annotations

from wellset.figure.still import StillMoment, Stretch
from wellset.reports.contract_still import StillPart, StretchPart
from wellset.reports.words import SPACE
from wellset.units import UnitSystem

_MM_PER_INCH = 25.4


def still_words(still: StillMoment | None, /, *, units: UnitSystem) -> str:
    """What was measured of a video, in a sentence; empty for a picture."""
    if still is None:
        return ""
    window = still.window
    when = f"From a video: still from {window.start_s:.2f} to {window.end_s:.2f}{SPACE}s"
    if still.sway_mm is None:
        return f"{when}; the points are those of the landmark file."
    count = len(still.frames_s)
    frames = "1 frame was" if count == 1 else f"{count} frames were"
    moved = _small(still.sway_mm, units)
    return f"{when}; {frames} measured, over which the body moved by {moved} (reading included)."


def still_part(still: StillMoment | None, /) -> StillPart | None:
    """The same in the published shape; ``None`` for a picture."""
    if still is None:
        return None
    return StillPart(
        window=_stretch(still.window),
        frames_s=tuple(round(time, 4) for time in still.frames_s),
        shown_s=round(still.shown_s, 4),
        sway_mm=None if still.sway_mm is None else round(still.sway_mm, 2),
        shake_mm=round(still.shake_mm, 1),
        set_ups=tuple(map(_stretch, still.set_ups)),
        chosen=still.chosen,
        swing_follows=still.then_moves,
    )


def _small(length_mm: float, units: UnitSystem) -> str:
    if units is UnitSystem.INCHES:
        return f"{length_mm / _MM_PER_INCH:.2f}{SPACE}in"
    return f"{length_mm:.1f}{SPACE}mm"


def _stretch(stretch: Stretch) -> StretchPart:
    return StretchPart(start_s=round(stretch.start_s, 4), end_s=round(stretch.end_s, 4))
