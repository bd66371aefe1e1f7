"""Drawings and scales as SVG text."""

from __future__ import annotations

import zlib
from collections.abc import Mapping

from markupsafe import Markup, escape

from wellset.reports.marks import (
    AMBER,
    CHALK,
    EDGES,
    GHOST,
    INK,
    STYLES,
    Area,
    Array,
    Body,
    Box,
    Drawing,
    Label,
    Line,
    Mark,
    Role,
    Spot,
    Style,
)

CASING_UNITS = 1.6
"""How much wider the dark line under a light one is."""


def _path(points_px: Array, *, closed: bool = False) -> str:
    flat = points_px.ravel().tolist()
    text = "M" + "L".join(["%.1f %.1f"] * len(points_px)) % tuple(flat)
    return text + ("Z" if closed else "")


def _dash(style: Style, unit: float) -> str:
    if not style.dash:
        return ""
    return f' stroke-dasharray="{" ".join(f"{d * unit:.1f}" for d in style.dash)}"'


def _line(line: Line, unit: float) -> str:
    style = STYLES[line.role]
    path = _path(line.points_px)
    width = style.width * unit
    casing = (
        ""
        if line.role is Role.TARGET
        else (
            f'<path d="{path}" stroke="{INK}" stroke-width="{width + CASING_UNITS * unit:.2f}" '
            f'opacity="{0.55 * style.opacity:.2f}"/>'
        )
    )
    return (
        f"{casing}"
        f'<path class="m-{line.role}" d="{path}" stroke="{style.colour}" '
        f'stroke-width="{width:.2f}" opacity="{style.opacity}"{_dash(style, unit)}/>'
    )


def _area(area: Area, unit: float) -> str:
    style, path = STYLES[area.role], _path(area.points_px, closed=True)
    if area.role is Role.ELLIPSE:
        return (
            f'<path class="m-ellipse" d="{path}" fill="{INK}" fill-opacity="0.22" '
            f'stroke="{style.colour}" stroke-width="{style.width * unit:.2f}" '
            f'opacity="{style.opacity}"/>'
        )
    return (
        f'<path class="m-{area.role}" d="{path}" fill="{style.colour}" '
        f'fill-opacity="{style.opacity}" stroke="{INK}" stroke-opacity="0.5" '
        f'stroke-width="{0.5 * unit:.2f}"/>'
    )


def _spot(spot: Spot, unit: float) -> str:
    (x, y), style = spot.centre_px, STYLES[spot.role]
    if spot.role is Role.COACH:
        half = 3.0 * unit
        return (
            f'<rect class="m-coach" x="{x - half:.1f}" y="{y - half:.1f}" width="{2 * half:.1f}" '
            f'height="{2 * half:.1f}" fill="{INK}" stroke="{style.colour}" '
            f'stroke-width="{style.width * unit:.2f}"/>'
        )
    return (
        f'<circle class="m-model" cx="{x:.1f}" cy="{y:.1f}" r="{1.5 * unit:.2f}" '
        f'fill="{style.colour}" stroke="{INK}" stroke-width="{0.7 * unit:.2f}"/>'
    )


def _body(body: Body, unit: float) -> str:
    """A body half seen through, with a full edge that a mask keeps outside of it."""
    paths = [(part.colour, _path(part.points_px, closed=True)) for part in body.parts]
    whole = "".join(path for _, path in paths)
    name = f"outside-{zlib.crc32(whole.encode()):08x}"
    edges = "".join(
        f'<path d="{whole}" stroke="{colour}" stroke-width="{2 * wide * unit:.2f}"/>'
        for colour, wide in EDGES
    )
    parts = "".join(f'<path d="{path}" fill="{colour}"/>' for colour, path in paths)
    return (
        f'<mask id="{name}" maskUnits="userSpaceOnUse" x="-1e5" y="-1e5" width="3e5" '
        f'height="3e5"><path d="M-1e5 -1e5h3e5v3e5h-3e5Z" fill="#fff"/>'
        f'<path d="{whole}" fill="#000" fill-rule="nonzero"/></mask>'
        f'<g class="m-body" opacity="{GHOST}">{parts}</g>'
        f'<g mask="url(#{name})" stroke-linejoin="round">{edges}</g>'
    )


def _mark(mark: Mark, unit: float) -> str:
    if isinstance(mark, Body):
        return _body(mark, unit)
    if isinstance(mark, Line):
        return _line(mark, unit)
    return _area(mark, unit) if isinstance(mark, Area) else _spot(mark, unit)


def sign(verdict: str, *, x: float, y: float, size: float, ink: str = "currentColor") -> Markup:
    """The shape of a verdict: ring with tick, full diamond, dashed ring with question mark.

    ``plan``, what is wanted: ring with dot.
    """
    r, wide = size / 2, size * 0.13
    if verdict == "outside":
        shape = (
            f'<path d="M{x:.1f} {y - r:.1f}L{x + r:.1f} {y:.1f}L{x:.1f} {y + r:.1f}'
            f'L{x - r:.1f} {y:.1f}Z" fill="{ink}"/>'
        )
    elif verdict == "undecided":
        shape = (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r - wide / 2:.1f}" fill="none" '
            f'stroke="{ink}" stroke-width="{wide:.2f}" '
            f'stroke-dasharray="{size * 0.26:.1f} {size * 0.16:.1f}"/>'
            f'<text x="{x:.1f}" y="{y + size * 0.26:.1f}" font-size="{size * 0.72:.1f}" '
            f'font-weight="700" text-anchor="middle" fill="{ink}">?</text>'
        )
    elif verdict == "inside":
        shape = (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r - wide / 2:.1f}" fill="none" '
            f'stroke="{ink}" stroke-width="{wide:.2f}"/>'
            f'<path d="M{x - 0.42 * r:.1f} {y:.1f}l{0.32 * r:.1f} {0.36 * r:.1f}'
            f'l{0.52 * r:.1f} {-0.68 * r:.1f}" fill="none" stroke="{ink}" '
            f'stroke-width="{wide:.2f}"/>'
        )
    elif verdict == "plan":
        shape = (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r - wide / 2:.1f}" fill="none" '
            f'stroke="{ink}" stroke-width="{wide:.2f}"/>'
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{0.34 * r:.1f}" fill="{ink}"/>'
        )
    else:
        shape = (
            f'<path d="M{x - r:.1f} {y:.1f}h{size:.1f}" stroke="{ink}" stroke-width="{wide:.2f}"/>'
        )
    return Markup(shape)  # noqa: S704  # numbers and fixed words only


def icon(verdict: str) -> Markup:
    """The verdict's shape as a small picture of its own, hidden from screen readers."""
    return Markup(  # noqa: S704  # numbers and fixed words only
        '<svg class="sign" viewBox="0 0 20 20" aria-hidden="true" focusable="false">'
        f"{sign(verdict, x=10, y=10, size=18)}</svg>"
    )


def _leader(label: Label, unit: float) -> str:
    box, (x, y) = label.box, label.anchor_px
    start_x = min(max(x, box.x), box.x + box.width)
    start_y = min(max(y, box.y), box.y + box.height)
    path = f"M{start_x:.1f} {start_y:.1f}L{x:.1f} {y:.1f}"
    return (
        f'<path d="{path}" stroke="{INK}" stroke-width="{2.6 * unit:.2f}" opacity="0.7"/>'
        f'<path d="{path}" stroke="{CHALK}" stroke-width="{1.1 * unit:.2f}"/>'
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{2.2 * unit:.2f}" fill="{CHALK}" '
        f'stroke="{INK}" stroke-width="{0.8 * unit:.2f}"/>'
    )


def _label(label: Label, unit: float) -> str:
    box, font = label.box, label.size_px
    plate, ink = (AMBER, INK) if label.verdict == "outside" else (INK, CHALK)
    middle = box.y + box.height / 2
    return (
        f'<g class="label" data-measure="{label.measure}">'
        f'<rect x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" '
        f'height="{box.height:.1f}" rx="{0.25 * font:.1f}" fill="{plate}" fill-opacity="0.94" '
        f'stroke="{INK if plate == AMBER else CHALK}" stroke-width="{0.7 * unit:.2f}"/>'
        f"{sign(label.verdict, x=box.x + 0.95 * font, y=middle, size=0.95 * font, ink=ink)}"
        f'<text x="{box.x + 1.65 * font:.1f}" y="{middle + 0.35 * font:.1f}" '
        f'font-size="{font:.1f}" font-weight="600" fill="{ink}" '
        f'textLength="{box.width - 2.1 * font:.1f}" lengthAdjust="spacingAndGlyphs">'
        f"{escape(label.text)}</text></g>"
    )


def _layer(drawing: Drawing) -> str:
    """Marks, then labels with their leaders."""
    unit = drawing.unit_px
    body = "".join(_mark(mark, unit) for mark in drawing.marks)
    leaders = "".join(_leader(label, unit) for label in drawing.labels)
    labels = "".join(_label(label, unit) for label in drawing.labels)
    return (
        f'<g fill="none" stroke-linejoin="round" stroke-linecap="butt">{body}{leaders}</g>'
        f"<g>{labels}</g>"
    )


def _image(image: str, held: Box, *, frame: Box, name: str) -> str:
    """A picture, the same picture again by its name, or a plain ground."""
    if not image:
        return (
            f'<rect x="{frame.x:g}" y="{frame.y:g}" width="{frame.width:g}" '
            f'height="{frame.height:g}" fill="#5d6f66"/>'
        )
    if image.startswith("#"):
        return f'<use href="{escape(image)}"/>'
    named = f' id="{escape(name)}"' if name else ""
    return (
        f'<image{named} href="{escape(image)}" x="{held.x:g}" y="{held.y:g}" '
        f'width="{held.width:g}" height="{held.height:g}" preserveAspectRatio="none"/>'
    )


def choice_svg(
    layers: Mapping[str, Drawing], /, *, image: str, image_box: Box, title: str, description: str
) -> Markup:
    """A picture with drawings of one frame, of which a style sheet shows one at a time.

    Parameters
    ----------
    layers : mapping of class name to Drawing
    image : str
        Address of the picture, ``#`` and the name of one in the same page, or empty.
    image_box : Box
        Which part of the picture the image holds.
    title, description : str
        For those who cannot see it.
    """
    f = next(iter(layers.values())).frame
    drawn = "".join(f'<g class="{escape(n)}">{_layer(each)}</g>' for n, each in layers.items())
    return Markup(  # noqa: S704  # every piece of text was escaped above
        f'<svg class="overlay" viewBox="{f.x:g} {f.y:g} {f.width:g} {f.height:g}" role="img" '
        f'aria-label="{escape(title)}. {escape(description)}" xmlns="http://www.w3.org/2000/svg">'
        f"{_image(image, image_box, frame=f, name='')}{drawn}</svg>"
    )


def picture_svg(
    drawing: Drawing,
    /,
    *,
    image: str,
    title: str,
    description: str,
    image_box: Box | None = None,
    name: str = "",
) -> Markup:
    """A picture with its drawing; the view box is in pixels of the picture as taken.

    Parameters
    ----------
    image : str
        Address of the picture, or empty.
    title, description : str
        For those who cannot see it.
    image_box : Box, optional
        Which part of the picture the image holds; the shown part when left out.
    name : str
        Under which the same page may show the picture again.
    """
    f: Box = drawing.frame
    picture = _image(image, image_box or f, frame=f, name=name)
    return Markup(  # noqa: S704  # every piece of text was escaped above
        f'<svg class="overlay" viewBox="{f.x:g} {f.y:g} {f.width:g} {f.height:g}" role="img" '
        f'aria-label="{escape(title)}. {escape(description)}" xmlns="http://www.w3.org/2000/svg">'
        f"{picture}{_layer(drawing)}</svg>"
    )


def legend_swatch(role: str) -> Markup:
    """A sample of a mark's look for the key under the pictures."""
    wanted, unit = Role(role), 1.4
    if wanted is Role.BAND:
        mark = _area(Area(role=wanted, points_px=[[4, 6], [32, 6], [32, 18], [4, 18]]), unit)
    elif wanted in {Role.MODEL, Role.COACH}:
        edge = [[18 + 8 * dx, 12 + 6 * dy] for dx, dy in ((-1, 0), (0, -1), (1, 0), (0, 1))]
        mark = _area(Area(role=Role.ELLIPSE, points_px=edge), unit) if wanted is Role.MODEL else ""
        mark += _spot(Spot(role=wanted, landmark="", centre_px=(18, 12)), unit)
    else:
        mark = _line(Line(role=wanted, points_px=[[2, 12], [34, 12]]), unit)
    return Markup(  # noqa: S704  # numbers and fixed words only
        f'<svg class="swatch" viewBox="0 0 36 24" aria-hidden="true" focusable="false">'
        f'<rect width="36" height="24" rx="3" fill="#5d6f66"/><g fill="none">{mark}</g></svg>'
    )
