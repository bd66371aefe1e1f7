"""The values that the joint estimate starts from."""

from __future__ import annotations

from math import degrees, exp

import numpy as np

from docs.generator.text import page, table
from wellset.assess import (
    cameras,
    common,
    from_build,
    knowledge,
    markers,
    misfits,
    plate,
    plate_terms,
    problem,
    results,
    start,
    sticks,
)
from wellset.body import Build
from wellset.equipment.sheet import PRINT_SCALE_SD
from wellset.figure.sighting import PictureFacts
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS


def _camera_rows() -> list[tuple[str, str, str]]:
    facts = PictureFacts(name="", width_px=3024, height_px=4032, focal_35mm=None)
    priors = [cameras.camera_prior(view, facts) for view in (View.FACE_ON, View.DOWN_THE_LINE)]

    def shown(row: int, name: str) -> list[str]:
        cells = []
        for each in priors:
            mean, sd = float(each.mean[row]), float(each.sd[row])
            if name in {"yaw", "pitch", "roll"}:
                cells.append(f"{degrees(mean):.1f} ± {degrees(sd):.1f}°")
            elif name in {"x", "y", "z"}:
                cells.append(f"{mean:.2f} ± {sd:.2f} m")
            else:
                cells.append(f"{mean:g} ± {sd:g}")
        return cells

    rows = []
    for row, name in enumerate(CAMERA_PARAMETERS):
        if name != "log_focal":
            face_on, along = shown(row, name)
            rows.append((f"`{name}`", face_on, along))
    return rows


def _lens_rows() -> list[tuple[str, str]]:
    return [
        ("focal length, with a tag", f"tag ± {100 * cameras.TAGGED_FOCAL_SD:g} %"),
        (
            "focal length, without a tag (35 mm equivalent)",
            (
                f"{cameras.UNTAGGED_FOCAL_35MM:g} mm, within a factor of "
                f"{exp(cameras.UNTAGGED_FOCAL_SD):.2f}"
            ),
        ),
        (
            "two untagged pictures of one size: difference of focal lengths",
            f"{100 * cameras.SAME_PHONE_SD:g} %",
        ),
    ]


def _other_rows() -> list[tuple[str, str, str]]:
    shoe = from_build.SHOE_END_HEIGHT
    middle, spread = problem.GRIP_MIDDLE_M
    mass_x, mass_y = from_build.MASS_OFFSET_SD_M
    return [
        (problem.MOTION, "sway at hip height, x and y", f"{1000 * problem.SWAY_SD_M:g} mm"),
        (problem.GROUND, "ends of the shoes", f"{1000 * shoe.value:g} ± {1000 * shoe.sd:g} mm"),
        (problem.CLUB, "middle of the hands from the butt", f"{middle:g} ± {spread:g} m"),
        (problem.STICK, "direction of a stick", f"{np.degrees(problem.STICK_SLOPE_SD):g}°"),
        (
            problem.STICK,
            "height of its centre line: along, across",
            ", ".join(f"{1000 * h:g} mm" for h in sticks.STICK_HEIGHT_M.values()),
        ),
        (
            problem.STICK,
            "farthest turn from the target line, or from square to it",
            f"{np.degrees(sticks.LABEL_LIMIT):g}°",
        ),
        (problem.STICK, "farthest from the ball", f"{sticks.REACH_M:g} m"),
        (
            problem.SHEET,
            "height of the print",
            f"{1000 * markers.MARKER_HEIGHT_M:g} ± {1000 * markers.MARKER_HEIGHT_SD_M:g} mm",
        ),
        (problem.SHEET, "tilt along x and y", f"{np.degrees(markers.MARKER_TILT_SD):g}°"),
        (problem.SHEET, "direction, if aimed", f"{np.degrees(markers.SHEET_AIM_SD):g}°"),
        (problem.SHEET, "scale of the print", f"{100 * PRINT_SCALE_SD:g} %"),
        (
            problem.MASS,
            "centre of mass along x and y",
            f"{1000 * mass_x:g} mm and {1000 * mass_y:g} mm",
        ),
        (
            plate_terms.PLATE,
            "centre of mass over centre of pressure: sway, the club's pull",
            f"{1000 * plate_terms.MOMENT_SD_M:g} mm and {1000 * plate_terms.CLUB_PULL_SD_M:g} mm",
        ),
        (
            plate_terms.PLATE,
            "chance below which a plate is left out",
            f"{100 * plate.DISAGREE:g} %",
        ),
        (problem.START, "each coordinate", f"{start.START_SD_M:g} m"),
        (
            problem.LANDMARK,
            "distance beyond which a point is reported as a misfit",
            f"{misfits.FAR:g} deviations from where everything else expects it",
        ),
        (
            problem.LANDMARK,
            "share of the variance that neighbouring points have in common",
            f"{100 * common.SHARED_VARIANCE:g} %",
        ),
        (
            "withholding",
            "share of the useful standard uncertainty with a needed picture missing",
            f"{100 * results.ONE_VIEW_MARGIN:g} %",
        ),
    ]


def _lengths() -> str:
    body = from_build.body_knowledge(Build(stature=1.75))
    rows = [
        (
            name.replace("_", " "),
            "; ".join(
                " to ".join(end.replace("_", " ") for end in pair)
                for pair in knowledge.SEGMENTS[name]
            ),
            f"{100 * known.value:.1f} ± {100 * known.sd:.1f}",
        )
        for name, known in body.lengths.items()
        if name in knowledge.SEGMENTS
    ]
    return table(("length", "between", "cm"), rows)


def values_page() -> str:
    """Every value that stands in the estimate's terms."""
    return page(
        "Values in the joint estimate",
        "What each term of [the joint estimate](../explanation/joint-estimate.md) starts from. ± "
        "is one standard deviation. Where no source stands in the code beside the value, it is "
        "our judgement.",
        "## Cameras",
        table(("parameter", "face-on", "down-the-line"), _camera_rows()),
        "How phones are held is common practice, no source. What each parameter means: [frames "
        "and units](frames-and-units.md#camera).",
        table(("lens", "value"), _lens_rows()),
        "## Lengths of the body",
        "For a person of 175 cm, sex unspecified, height alone known; the spread holds the "
        "difference between definitions of the joints.",
        _lengths(),
        "## The rest",
        table(("source", "what", "value"), _other_rows()),
        "Noise of the landmarks and the gap to real people, point by point: [tables and "
        "editions](tables-and-editions.md).",
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/estimate-values.md": values_page()}
