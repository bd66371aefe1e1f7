"""A measure over lessons as a small drawing: window, ranges, estimates."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from markupsafe import Markup, escape

from wellset.lessons import Reading
from wellset.measures import COVERAGE_FACTOR

WIDTH: Final = 320
HEIGHT: Final = 90
_EDGE: Final = 16


def chart(
    readings: Sequence[Reading], *, low: float | None, high: float | None, words: str
) -> Markup:
    """An SVG drawing; lessons stand at equal distances, the newest on the right.

    Parameters
    ----------
    readings : sequence of Reading
        In the shown unit.
    low, high : float or None
        The window; ``None`` for an open side.
    words : str
        For those who cannot see it.
    """
    half = [COVERAGE_FACTOR * r.sd for r in readings]
    reach = [
        *(r.value - h for r, h in zip(readings, half, strict=True)),
        *(r.value + h for r, h in zip(readings, half, strict=True)),
        *(limit for limit in (low, high) if limit is not None),
    ]
    bottom, top = min(reach), max(reach)
    room = (top - bottom) * 0.08 or 1.0
    bottom, top = bottom - room, top + room

    def y(value: float) -> float:
        return HEIGHT * (top - value) / (top - bottom)

    step = (WIDTH - 2 * _EDGE) / max(len(readings) - 1, 1)
    places = [_EDGE + i * step if len(readings) > 1 else WIDTH / 2 for i in range(len(readings))]
    band = ""
    if low is not None or high is not None:
        ceiling = y(high) if high is not None else 0.0
        floor = y(low) if low is not None else float(HEIGHT)
        band = (
            f'<rect class="c-window" x="0" y="{ceiling:.1f}" width="{WIDTH}" '
            f'height="{floor - ceiling:.1f}"/>'
        )
    bars = "".join(
        f'<path class="c-bar" d="M{x:.1f} {y(r.value - h):.1f}V{y(r.value + h):.1f}"/>'
        f'<circle class="c-dot" cx="{x:.1f}" cy="{y(r.value):.1f}" r="4"/>'
        for x, r, h in zip(places, readings, half, strict=True)
    )
    line = "M" + "L".join(
        f"{x:.1f} {y(r.value):.1f}" for x, r in zip(places, readings, strict=True)
    )
    return Markup(  # noqa: S704  # numbers, and words that are escaped
        f'<svg class="chart" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(words)}">{band}<path class="c-line" d="{line}"/>{bars}</svg>'
    )
