"""The same drawing painted on the pixels, for marked-up picture files."""

from __future__ import annotations

import io
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image, ImageColor, ImageDraw, ImageFont

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
)

MOST_PIXELS: Final = 1400
"""Longest side of a picture in the page and in a marked-up file."""
MOST_WHOLE: Final = 2000
"""Longest side of a whole picture, to place points on."""
LEAST_WIDTH: Final = 900
"""A marked-up file is enlarged to this width, so that its labels can be read."""
JPEG_QUALITY: Final = 86
_SMOOTH: Final = 2
"""Marks are painted this many times larger and then shrunk, which smooths their edges."""
_BLANK: Final = (93, 111, 102)

Pixels = NDArray[np.uint8]


def shown_pixels(rgb: Pixels | None, frame: Box, /) -> Image.Image:
    """The shown part of a picture at no more than :data:`MOST_PIXELS`; plain if there is none."""
    size = (int(frame.width), int(frame.height))
    if rgb is None:
        image = Image.new("RGB", size, _BLANK)
    else:
        x, y = int(frame.x), int(frame.y)
        image = Image.fromarray(np.ascontiguousarray(rgb[y : y + size[1], x : x + size[0]]))
    image.thumbnail((MOST_PIXELS, MOST_PIXELS), Image.Resampling.LANCZOS)
    return image


def whole_picture(rgb: Pixels, /) -> Image.Image:
    """The whole picture at no more than :data:`MOST_WHOLE` pixels a side."""
    image = Image.fromarray(np.ascontiguousarray(rgb))
    image.thumbnail((MOST_WHOLE, MOST_WHOLE), Image.Resampling.LANCZOS)
    return image


def jpeg_bytes(image: Image.Image, /) -> bytes:
    """A JPEG file made from pixels alone: no tag of the source picture can be in it."""
    bare = Image.fromarray(np.asarray(image.convert("RGB")))
    buffer = io.BytesIO()
    bare.save(buffer, "JPEG", quality=JPEG_QUALITY, optimize=True)
    return buffer.getvalue()


@frozen(kw_only=True, eq=False)
class _Brush:
    """Where to paint, and the way from picture pixels to the canvas."""

    layer: Image.Image
    canvas: ImageDraw.ImageDraw
    frame: Box
    scale: float
    unit: float

    def at(self, points_px: Array) -> list[tuple[float, float]]:
        moved = (np.asarray(points_px) - [self.frame.x, self.frame.y]) * self.scale
        return [(float(x), float(y)) for x, y in moved]

    def stroke(self, points: list[tuple[float, float]], *, width: float, colour: str,
               opacity: float) -> None:  # fmt: skip
        fill = (*_rgb(colour), round(255 * opacity))
        self.canvas.line(points, fill=fill, width=max(round(width), 1), joint="curve")


def _rgb(colour: str) -> tuple[int, int, int]:
    red, green, blue = ImageColor.getrgb(colour)[:3]
    return red, green, blue


def _pieces(
    points: list[tuple[float, float]], dash: tuple[float, ...]
) -> list[list[tuple[float, float]]]:
    """A line cut into its dashes; lengths in canvas pixels."""
    path = np.asarray(points)
    along = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    pieces, position, index = [], 0.0, 0
    while position < along[-1]:
        end = min(position + dash[index % len(dash)], along[-1])
        if index % 2 == 0:
            inner = along[(along > position) & (along < end)]
            places = np.concatenate([[position], inner, [end]])
            x, y = (np.interp(places, along, path[:, i]) for i in (0, 1))
            pieces.append([(float(a), float(b)) for a, b in zip(x, y, strict=True)])
        position, index = end, index + 1
    return pieces


def _line(brush: _Brush, line: Line) -> None:
    style, points = STYLES[line.role], brush.at(line.points_px)
    width = style.width * brush.unit
    if line.role is not Role.TARGET:
        casing = width + 1.6 * brush.unit
        brush.stroke(points, width=casing, colour=INK, opacity=0.55 * style.opacity)
    pieces = _pieces(points, tuple(d * brush.unit for d in style.dash)) if style.dash else [points]
    for piece in pieces:
        brush.stroke(piece, width=width, colour=style.colour, opacity=style.opacity)


def _area(brush: _Brush, area: Area) -> None:
    style, points = STYLES[area.role], brush.at(area.points_px)
    if area.role is Role.ELLIPSE:
        brush.canvas.polygon(points, fill=(*_rgb(INK), 45))
        brush.stroke(
            [*points, points[0]],
            width=style.width * brush.unit,
            colour=style.colour,
            opacity=style.opacity,
        )
        return
    fill = (*_rgb(style.colour), round(255 * style.opacity))
    brush.canvas.polygon(points, fill=fill, outline=(*_rgb(INK), 128))


def _spot(brush: _Brush, spot: Spot) -> None:
    ((x, y),) = brush.at(np.array([spot.centre_px]))
    style, unit = STYLES[spot.role], brush.unit
    coach = spot.role is Role.COACH
    r = (3.0 if coach else 1.5) * unit
    box = (x - r, y - r, x + r, y + r)
    if coach:
        colour, width = (*_rgb(style.colour), 255), max(round(style.width * unit), 1)
        brush.canvas.rectangle(box, fill=(*_rgb(INK), 255), outline=colour, width=width)
        return
    edge = max(round(0.7 * unit), 1)
    brush.canvas.ellipse(box, fill=(*_rgb(style.colour), 255), outline=(*_rgb(INK), 255),
                         width=edge)  # fmt: skip


def _mark(brush: _Brush, mark: Mark) -> None:
    if isinstance(mark, Line):
        _line(brush, mark)
    elif isinstance(mark, Area):
        _area(brush, mark)
    elif isinstance(mark, Spot):
        _spot(brush, mark)


def _body(brush: _Brush, body: Body) -> None:
    """A body half seen through, with a full edge outside of it."""
    outlines = [(part.colour, brush.at(part.points_px)) for part in body.parts]
    for colour, wide in EDGES:
        for _, points in outlines:
            width = 2 * wide * brush.unit
            brush.stroke([*points, points[0]], width=width, colour=colour, opacity=1)
    over = ImageDraw.Draw(brush.layer)  # replaces what is there, opacity included
    for colour, points in outlines:
        over.polygon(points, fill=(*_rgb(colour), round(255 * GHOST)))


def _sign(brush: _Brush, verdict: str, *, centre: tuple[float, float], size: float,
          ink: str) -> None:  # fmt: skip
    (x, y), r, colour = centre, size / 2, (*_rgb(ink), 255)
    wide = max(round(0.13 * size), 1)
    if verdict == "outside":
        brush.canvas.polygon([(x, y - r), (x + r, y), (x, y + r), (x - r, y)], fill=colour)
    elif verdict == "inside":
        brush.canvas.ellipse((x - r, y - r, x + r, y + r), outline=colour, width=wide)
        tick = [(x - 0.42 * r, y), (x - 0.1 * r, y + 0.36 * r), (x + 0.42 * r, y - 0.32 * r)]
        brush.canvas.line(tick, fill=colour, width=wide)
    elif verdict == "plan":
        brush.canvas.ellipse((x - r, y - r, x + r, y + r), outline=colour, width=wide)
        dot = 0.34 * r
        brush.canvas.ellipse((x - dot, y - dot, x + dot, y + dot), fill=colour)
    elif verdict == "undecided":
        for start in range(0, 360, 60):
            brush.canvas.arc((x - r, y - r, x + r, y + r), start, start + 38, fill=colour,
                             width=wide)  # fmt: skip
        font = ImageFont.load_default(0.72 * size)
        brush.canvas.text((x, y), "?", fill=colour, font=font, anchor="mm")
    else:
        brush.canvas.line([(x - r, y), (x + r, y)], fill=colour, width=wide)


def _plain(text: str) -> str:
    """With the signs that the built-in font has."""
    return text.replace("\N{MINUS SIGN}", "-").replace("\N{NO-BREAK SPACE}", " ")


def _label(brush: _Brush, label: Label) -> None:
    plate, ink = (AMBER, INK) if label.verdict == "outside" else (INK, CHALK)
    box, font_px = label.box, label.size_px * brush.scale
    corners = np.array([[box.x, box.y], [box.x + box.width, box.y + box.height]])
    (left, top), (right, bottom) = brush.at(corners)
    ((x, y),) = brush.at(np.array([label.anchor_px]))
    start = (min(max(x, left), right), min(max(y, top), bottom))
    brush.stroke([start, (x, y)], width=2.6 * brush.unit, colour=INK, opacity=0.7)
    brush.stroke([start, (x, y)], width=1.1 * brush.unit, colour=CHALK, opacity=1)
    edge = (*_rgb(INK if plate == AMBER else CHALK), 255)
    brush.canvas.rounded_rectangle(
        (left, top, right, bottom), 0.25 * font_px, fill=(*_rgb(plate), 240), outline=edge,
        width=max(round(0.7 * brush.unit), 1),
    )  # fmt: skip
    middle = (top + bottom) / 2
    _sign(brush, label.verdict, centre=(left + 0.95 * font_px, middle), size=0.95 * font_px,
          ink=ink)  # fmt: skip
    font = ImageFont.load_default(font_px)
    place = (left + 1.65 * font_px, middle)
    brush.canvas.text(place, _plain(label.text), fill=(*_rgb(ink), 255), font=font, anchor="lm")


def painted(drawing: Drawing, rgb: Pixels | None, /) -> Image.Image:
    """The shown part of a picture with its drawing painted on."""
    ground = shown_pixels(rgb, drawing.frame).convert("RGBA")
    if ground.width < LEAST_WIDTH:
        larger = (LEAST_WIDTH, round(ground.height * LEAST_WIDTH / ground.width))
        ground = ground.resize(larger, Image.Resampling.BICUBIC)
    size = (ground.width * _SMOOTH, ground.height * _SMOOTH)
    layer = Image.new("RGBA", size, (*_rgb(INK), 0))
    scale = size[0] / drawing.frame.width
    for paint in (_bodies_layer, _marks_layer, _labels_layer):
        over = Image.new("RGBA", size, (*_rgb(INK), 0))
        paint(drawing, over, scale=scale)
        layer = Image.alpha_composite(layer, over)
    small = layer.resize(ground.size, Image.Resampling.BOX)
    return Image.alpha_composite(ground, small).convert("RGB")


def _brush(drawing: Drawing, layer: Image.Image, *, scale: float) -> _Brush:
    return _Brush(
        layer=layer,
        canvas=ImageDraw.Draw(layer, "RGBA"),
        frame=drawing.frame,
        scale=scale,
        unit=drawing.unit_px * scale,
    )


def _bodies_layer(drawing: Drawing, layer: Image.Image, *, scale: float) -> None:
    brush = _brush(drawing, layer, scale=scale)
    for mark in drawing.marks:
        if isinstance(mark, Body):
            _body(brush, mark)


def _marks_layer(drawing: Drawing, layer: Image.Image, *, scale: float) -> None:
    brush = _brush(drawing, layer, scale=scale)
    for mark in drawing.marks:
        _mark(brush, mark)


def _labels_layer(drawing: Drawing, layer: Image.Image, *, scale: float) -> None:
    brush = _brush(drawing, layer, scale=scale)
    for label in drawing.labels:
        _label(brush, label)
