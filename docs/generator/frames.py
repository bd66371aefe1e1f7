"""Frames, units, and the sign of every measure."""

from __future__ import annotations

from docs.generator.text import bullets, page, table
from wellset.geometry.camera import CAMERA_PARAMETERS, FULL_FRAME_DIAGONAL_MM
from wellset.measures import MEASURES

WORLD = (
    "**Origin**: on the ground under the ball.",
    (
        "**x** points to the target, **y** from the ball to the golfer, **z** up. For a "
        "right-hander this frame is right-handed: x × y = z."
    ),
    (
        "**Lead** is nearer the target, so lead is always at +x. *Left* and *right* stand in no "
        "public name."
    ),
    (
        "**Left-handers** are mirrored at the door: the picture is mirrored (x becomes width − "
        "x), the whole estimate is done as for a right-hander, and drawings and files go back to "
        "the picture as taken. Measures read the same for both hands."
    ),
    "The ground is level and flat; gravity is −z.",
)
PICTURE = (
    (
        "Pixels are those of the **upright picture**: the EXIF orientation is applied when the "
        "file is read, and every size and coordinate speaks of the turned picture."
    ),
    (
        "Origin at the **top-left corner**, x to the right, y down. The **centre of the first "
        "pixel** is at (0.5, 0.5); the picture reaches from 0 to its width and from 0 to its "
        "height."
    ),
    (
        "Pixel coordinates in files are those of the picture **as taken**, also for left-handers. "
        "Inside the program they are those of the mirrored picture."
    ),
    (
        "Of a file's tags only the orientation and the 35 mm-equivalent focal length are read. "
        "Place, time and owner are dropped with the file."
    ),
)
CAMERA = {
    "log_focal": "logarithm of the focal length in pixels",
    "yaw": "turn about the vertical, + turns the view to its left",
    "pitch": "+ looks up",
    "roll": "turn about the line of sight, + tips the camera's right side up",
    "x": "optical centre in the world, metre",
    "y": "likewise",
    "z": "likewise: height above the ground",
    "k1": "first radial coefficient: a ray at x, y on the plane at distance 1 lands at "
    "1 + k1 (x² + y²) times that",
    "centre_x": "principal point off the picture's middle, to the right, as a share of the "
    "diagonal",
    "centre_y": "likewise, down",
}


def frames_page() -> str:
    """Where zero is, which way is plus, what a number is measured in."""
    signs = [
        (f"[{m.title}](measures/{m.id}.md)", m.unit.value, m.plane.value, m.definition, m.positive)
        for m in MEASURES.values()
    ]
    return page(
        "Frames and units",
        "## World",
        bullets(WORLD),
        "## Picture",
        bullets(PICTURE),
        "## Camera",
        "Yaw, pitch and roll are all zero for a level camera that looks square: along +y for "
        "face-on, along +x for down-the-line. Inside the projection the camera's axes are x "
        "right, y down, z forward.",
        table(("parameter", "meaning"), [(f"`{p}`", CAMERA[p]) for p in CAMERA_PARAMETERS]),
        "The 35 mm-equivalent focal length refers to the diagonal of a 36 mm × 24 mm frame "
        f"({FULL_FRAME_DIAGONAL_MM} mm): focal length in pixels = tag / {FULL_FRAME_DIAGONAL_MM} "
        f"× "
        "the picture's diagonal in pixels (CIPA DC-008).",
        "## Units",
        bullets(
            (
                (
                    "Inside the program: metre, radian, kilogram, second. A name without suffix "
                    "is in these; any other unit stands in the name (`_px`, `_deg`, `_mm`, "
                    "`_percent`)."
                ),
                (
                    "In JSON and in the Python API measures are in metres (`m`), degrees (`deg`) "
                    "and per cent (`%`)."
                ),
                "On the page: centimetres or inches (`--units`), degrees, per cent.",
                (
                    "Typed lengths need their unit: `178 cm`, `1.78 m`, `70 in`, `35 1/4 in`, `5 "
                    "ft 10 in`, `5'10\"`. A bare number is refused. Angles are typed in degrees."
                ),
            )
        ),
        "## Planes",
        bullets(
            (
                "**Front view**: projected on x and z, as seen from in front of the golfer.",
                "**Side view**: projected on y and z, as seen along the target line.",
                "**Plan view**: projected on x and y, as seen from above.",
                "**Space**: not projected.",
            )
        ),
        "These are projections of the solved points, not of a picture: a camera that stands off "
        "square doesn't change them.",
        "## The sign of every measure",
        table(("measure", "unit", "view", "definition", "plus means"), signs),
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/frames-and-units.md": frames_page()}
