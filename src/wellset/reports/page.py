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
from wellset.reports.stand_here import StandPicture
from wellset.reports.svg import choice_svg, icon, legend_swatch, picture_svg

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

    @property
    def box(self) -> Box:
        """The whole picture."""
        return Box(x=0, y=0, width=self.width_px, height=self.height_px)


def findings_html(report: ReportModel, /, *, images: Mapping[View, WholePicture]) -> str:
    """The findings as a part of another page, without head and foot.

    Parameters
    ----------
    report : ReportModel
    images : mapping of view to WholePicture
        Nothing lies behind the drawing of a view without one.
    """
    figures = {p.view: linked_picture(p, images.get(View(p.view))) for p in report.pictures}
    standing = {
        picture.view: stand_svg(
            picture,
            image=image.address if image is not None else "",
            image_box=image.box if image is not None else None,
        )
        for picture in stand_pictures(report)
        for image in (images.get(View(picture.view)),)
    }
    return _render(report, figures=figures, standing=standing, css="", fragment=True)


def linked_picture(picture: PictureModel, image: WholePicture | None, /) -> Markup:
    """A picture that lies elsewhere, with its drawing over it."""
    return picture_svg(
        picture.drawing,
        image=image.address if image is not None else "",
        image_box=image.box if image is not None else None,
        title=picture.title,
        description=picture.description,
    )


def stand_pictures(report: ReportModel, /) -> tuple[StandPicture, ...]:
    """The pictures that show where to stand."""
    if report.stand is None:
        return ()
    return tuple(picture for picture in report.stand.pictures if picture.frame is not None)


def stand_svg(picture: StandPicture, /, *, image: str, image_box: Box | None) -> Markup:
    """One of them: the plan's layer, and the one after the first change."""
    layers = {
        name: drawing
        for name, drawing in (("as-planned", picture.plan), ("as-changed", picture.changed))
        if drawing is not None
    }
    return choice_svg(
        layers,
        image=image,
        image_box=image_box or next(iter(layers.values())).frame,
        title=picture.title,
        description=picture.description if picture.plan else picture.changed_description,
    )


def drill_css() -> str:
    """The style sheet of drills alone, for pages that have their own otherwise."""
    env = environment()
    source, _, _ = env.loader.get_source(env, "drill.css")  # type: ignore[union-attr]
    return source


def report_css() -> str:
    """The style sheet that page and findings share, drills included."""
    env = environment()
    sources = (env.loader.get_source(env, f"{name}.css")[0] for name in ("report", "drill"))  # type: ignore[union-attr]
    return "".join(sources)


def _render(
    report: ReportModel,
    *,
    figures: Mapping[str, Markup],
    standing: Mapping[str, Markup],
    css: str,
    fragment: bool,
) -> str:
    return (
        environment()
        .get_template("report.html")
        .render(
            report=report,
            figures=figures,
            standing=standing,
            css=Markup(css),  # noqa: S704  # our own style sheet
            fragment=fragment,
        )
    )


def embedded_picture(picture: PictureModel, rgb: Pixels | None, /, *, held: Box) -> Markup:
    """A picture inside the page, with its drawing over it."""
    image = ""
    if rgb is not None:
        data = jpeg_bytes(shown_pixels(rgb, held))
        image = f"data:image/jpeg;base64,{base64.b64encode(data).decode('ascii')}"
    return picture_svg(
        picture.drawing,
        image=image,
        image_box=held,
        title=picture.title,
        description=picture.description,
        name=_name(picture.view),
    )


def _name(view: str) -> str:
    """Under which a page keeps a picture, so that it is in it once."""
    return f"picture-{view}"


def page_html(report: ReportModel, /, *, pixels: Mapping[View, Pixels | None]) -> str:
    """The page as text.

    Parameters
    ----------
    report : ReportModel
    pixels : mapping of view to (height, width, 3) uint8 array or None
        The upright pictures as taken.
    """
    held = {p.view: p.drawing.frame for p in report.pictures}
    standing = {p.view: p for p in stand_pictures(report)}
    for view, picture in standing.items():
        if picture.frame is not None:
            held[view] = held[view].around(picture.frame)
    figures = {
        p.view: embedded_picture(p, pixels.get(View(p.view)), held=held[p.view])
        for p in report.pictures
    }
    drawn = {
        view: stand_svg(
            picture,
            image=f"#{_name(view)}" if pixels.get(View(view)) is not None else "",
            image_box=held[view],
        )
        for view, picture in standing.items()
    }
    return _render(report, figures=figures, standing=drawn, css=report_css(), fragment=False)
