"""One self-contained page: pictures inside it, no script, no network."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from functools import cache
from typing import Final

from attrs import frozen
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from wellset.figure.views import View
from wellset.reports.marks import Box
from wellset.reports.model import PictureModel, ReportModel, Scale
from wellset.reports.paint import Pixels, jpeg_bytes, shown_pixels
from wellset.reports.svg import icon, legend_swatch, picture_svg

_SCALE_WIDTH: Final = 200
_SCALE_HEIGHT: Final = 30


@cache
def environment() -> Environment:
    """The templates of this room: everything escaped, nothing undefined."""
    environment = Environment(
        loader=PackageLoader("wellset.reports"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(icon=icon, scale=scale_svg, swatch=legend_swatch)
    return environment


def scale_svg(scale: Scale | None, verdict: str) -> Markup:
    """Window as a box, interval as a bar, estimate as a tick."""
    if scale is None:
        return Markup()
    low = 0.0 if scale.window_low is None else scale.window_low
    high = 1.0 if scale.window_high is None else scale.window_high
    w, h, middle = _SCALE_WIDTH, _SCALE_HEIGHT, _SCALE_HEIGHT / 2
    ends = "".join(
        f'<path class="s-end" d="M{place * w:.1f} 3V{h - 3}"/>'
        for place in (scale.window_low, scale.window_high)
        if place is not None
    )
    return Markup(
        '<svg class="scale s-{verdict}" viewBox="0 0 {w} {h}" role="img" aria-label="{words}" '
        'preserveAspectRatio="none">'
        '<path class="s-axis" d="M0 {middle:.0f}H{w}"/>'
        '<rect class="s-window" x="{x:.1f}" y="3" width="{width:.1f}" height="{tall}"/>'
        "{ends}"
        '<rect class="s-bar" x="{left:.1f}" y="{top:.1f}" width="{long:.1f}" height="8"/>'
        '<path class="s-tick" d="M{value:.1f} 5V{bottom}"/></svg>'
    ).format(
        verdict=verdict,
        w=w,
        h=h,
        words=scale.words,
        middle=middle,
        x=low * w,
        width=(high - low) * w,
        tall=h - 6,
        ends=Markup(ends),  # noqa: S704  # numbers only
        left=scale.low * w,
        top=middle - 4,
        long=max((scale.high - scale.low) * w, 1.5),
        value=scale.value * w,
        bottom=h - 5,
    )


@frozen(kw_only=True)
class WholePicture:
    """Where the whole upright picture lies, as taken, and its size."""

    address: str
    width_px: int
    height_px: int


def findings_html(report: ReportModel, /, *, images: Mapping[View, WholePicture]) -> str:
    """The findings as a part of another page, without head and foot.

    Parameters
    ----------
    report : ReportModel
    images : mapping of view to WholePicture
        Nothing lies behind the drawing of a view without one.
    """
    figures = {p.view: _linked(p, images.get(View(p.view))) for p in report.pictures}
    return _render(report, figures=figures, css="", fragment=True)


def _linked(picture: PictureModel, image: WholePicture | None) -> Markup:
    whole = None
    if image is not None:
        whole = Box(x=0, y=0, width=image.width_px, height=image.height_px)
    return picture_svg(
        picture.drawing,
        image=image.address if image is not None else "",
        image_box=whole,
        title=picture.title,
        description=picture.description,
    )


def report_css() -> str:
    """The style sheet that page and findings share."""
    source, _, _ = environment().loader.get_source(environment(), "report.css")  # type: ignore[union-attr]
    return source


def _render(report: ReportModel, *, figures: Mapping[str, Markup], css: str, fragment: bool) -> str:
    return (
        environment()
        .get_template("report.html")
        .render(
            report=report,
            figures=figures,
            css=Markup(css),  # noqa: S704  # our own style sheet
            fragment=fragment,
        )
    )


def _figure(picture: PictureModel, rgb: Pixels | None) -> Markup:
    image = ""
    if rgb is not None:
        data = jpeg_bytes(shown_pixels(rgb, picture.drawing.frame))
        image = f"data:image/jpeg;base64,{base64.b64encode(data).decode('ascii')}"
    return picture_svg(
        picture.drawing, image=image, title=picture.title, description=picture.description
    )


def page_html(report: ReportModel, /, *, pixels: Mapping[View, Pixels | None]) -> str:
    """The page as text.

    Parameters
    ----------
    report : ReportModel
    pixels : mapping of view to (height, width, 3) uint8 array or None
        The upright pictures as taken.
    """
    figures = {p.view: _figure(p, pixels.get(View(p.view))) for p in report.pictures}
    return _render(report, figures=figures, css=report_css(), fragment=False)
