"""Small charts of plans by club beside published figures, as one SVG."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import frozen
from markupsafe import escape

INK: Final = "#10261f"
PINE: Final = "#1c6446"
AMBER: Final = "#b87f00"
RULE: Final = "#d8d5c8"
WIDTH: Final = 300.0
HEIGHT: Final = 236.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 10.0, 34.0, 78.0
ACROSS: Final = 3
KEY: Final = 30.0


@frozen(kw_only=True)
class Bar:
    """A published range for one club."""

    at: int
    low: float
    high: float


@frozen(kw_only=True)
class Panel:
    """One chart.

    Parameters
    ----------
    title : str
    values : tuple of float
        The plan's, one for each club.
    bars : tuple of Bar
        Published ranges.
    ticks : tuple of (club's place, value)
        Published averages.
    level : float or None
        A published figure for no club in particular.
    level_is : str
        What it is; alone, words under the title.
    low, high, step : float
        The scale.
    """

    title: str
    values: tuple[float, ...]
    low: float
    high: float
    step: float
    bars: tuple[Bar, ...] = ()
    ticks: tuple[tuple[int, float], ...] = ()
    level: float | None = None
    level_is: str = ""

    def y(self, value: float) -> float:
        """Where a value lies."""
        share = (value - self.low) / (self.high - self.low)
        return HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)


def _x(place: int, count: int) -> float:
    return LEFT + (place + 0.5) / count * (WIDTH - LEFT - RIGHT)


def _text(at: tuple[float, float], words: str, *, extra: str = "") -> str:
    x, y = at
    return f'<text x="{x:.1f}" y="{y:.1f}"{extra}>{escape(words)}</text>'


def _scale(panel: Panel) -> str:
    steps = round((panel.high - panel.low) / panel.step)
    drawn = ""
    for i in range(steps + 1):
        value = panel.low + i * panel.step
        y = panel.y(value)
        heavy = value == 0 and panel.low < 0
        drawn += (
            f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="{INK if heavy else RULE}" '
            f'stroke-width="{0.8 if heavy else 0.6}"/>'
        )
        number = f"{value:g}".replace("-", "−")
        drawn += _text((LEFT - 5, y + 3.5), number, extra=' text-anchor="end"')
    return drawn


def _published(panel: Panel, count: int) -> str:
    drawn = ""
    for bar in panel.bars:
        x, top, bottom = _x(bar.at, count), panel.y(bar.high), panel.y(bar.low)
        drawn += (
            f'<rect x="{x - 6:.1f}" y="{top:.1f}" width="12" height="{bottom - top:.1f}" '
            f'fill="{AMBER}" fill-opacity="0.3"/>'
        )
    for place, value in panel.ticks:
        x, y = _x(place, count), panel.y(value)
        drawn += f'<path d="M{x - 8:.1f} {y:.1f}h16" stroke="{AMBER}" stroke-width="3"/>'
    if panel.level is not None:
        y = panel.y(panel.level)
        drawn += (
            f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="{AMBER}" stroke-width="1.6" '
            'stroke-dasharray="5 3"/>'
        )
        drawn += _text((WIDTH - RIGHT, y - 4), panel.level_is, extra=' text-anchor="end"')
    elif panel.level_is:
        drawn += _text((WIDTH - RIGHT, TOP - 4), panel.level_is, extra=' text-anchor="end"')
    return drawn


def _panel(panel: Panel, clubs: Sequence[str]) -> str:
    count = len(clubs)
    dots = "".join(
        f'<circle cx="{_x(i, count):.1f}" cy="{panel.y(value):.1f}" r="3.4" fill="{PINE}">'
        f"<title>{escape(club)}: {value:.1f}</title></circle>"
        for i, (club, value) in enumerate(zip(clubs, panel.values, strict=True))
    )
    names = "".join(
        f'<text transform="translate({_x(i, count) + 3.5:.1f} {HEIGHT - BOTTOM + 9:.1f}) '
        f'rotate(-60)" text-anchor="end">{escape(club)}</text>'
        for i, club in enumerate(clubs)
    )
    title = _text((4, 15), panel.title, extra=' font-weight="600" font-size="12"')
    return f"{title}{_scale(panel)}{_published(panel, count)}{dots}{names}"


def _key() -> str:
    return (
        f'<circle cx="10" cy="15" r="3.4" fill="{PINE}"/>{_text((19, 19), "the plan")}'
        f'<rect x="84" y="6" width="12" height="18" fill="{AMBER}" fill-opacity="0.3"/>'
        f"{_text((102, 19), 'published range')}"
        f'<path d="M206 15h16" stroke="{AMBER}" stroke-width="3"/>'
        f"{_text((228, 19), 'published average')}"
    )


def figure(clubs: Sequence[str], panels: Sequence[Panel], /) -> str:
    """All charts, three beside each other."""
    rows = -(-len(panels) // ACROSS)
    width, height = ACROSS * WIDTH, rows * HEIGHT + KEY
    drawn = "".join(
        f'<g transform="translate({i % ACROSS * WIDTH:.0f} {KEY + i // ACROSS * HEIGHT:.0f})">'
        f"{_panel(panel, clubs)}</g>\n"
        for i, panel in enumerate(panels)
    )
    titles = "; ".join(panel.title for panel in panels)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'font-family="system-ui, DejaVu Sans, sans-serif" font-size="9.5" fill="{INK}" role="img" '
        f'aria-label="The plan by club beside published figures: {escape(titles)}">\n'
        f'<rect width="{width:.0f}" height="{height:.0f}" fill="#fbfaf5"/>\n'
        f"{_key()}\n{drawn}</svg>\n"
    )
