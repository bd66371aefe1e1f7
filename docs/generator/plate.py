"""The file of a pressure plate."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np

from docs.generator.text import page, table
from wellset.assess import quiet
from wellset.services.plate_head import LENGTHS, LOADS, SCHEMA, TIMES

PLATE_EXAMPLE: Final = f"""\
# {SCHEMA}
# note: Robin, 7-iron, read while both pictures were taken
# time: s
# length: mm
# load: N
# frame: foot
# place uncertainty: 5 mm
# load uncertainty: 2 %
# still: 4.0 to 12.0
time,lead_x,lead_y,lead_load,trail_x,trail_y,trail_load
4.00,128.2,4.1,372,139.9,-1.8,378
4.02,128.4,4.0,373,140.2,-1.9,377
"""
"""Shown on the page; a test reads it with more rows."""


def plate_page() -> str:
    """Every line and column of a plate's file."""
    return page(
        "Pressure plate file",
        "Readings of a pressure plate under both feet, as CSV. Give it with `--plate FILE`. "
        "[How to take and use it](../how-to/use-a-pressure-plate.md).",
        f"```csv\n{PLATE_EXAMPLE}```",
        "These are the first two readings of some hundred: [what is refused](#what-is-refused) "
        "says how many it takes.",
        "## Head",
        "Lines that begin with `#`, in any order but the first.",
        table(
            ("line", "needed", "what"),
            [
                (f"`# {SCHEMA}`", "yes, first", "what file it is"),
                ("`# time:`", "yes", " or ".join(f"`{u}`" for u in TIMES)),
                ("`# length:`", "yes", f"unit of `x` and `y`: {_list(LENGTHS)}"),
                (
                    "`# load:`",
                    "yes",
                    f"unit of the loads: {_list(LOADS)} (per cent of the body's weight)",
                ),
                ("`# frame:`", "yes", "`foot` or `plate`, see below"),
                (
                    "`# place uncertainty:`",
                    "yes",
                    (
                        "standard uncertainty of a foot's `x` and `y` in the unit of length: the "
                        "plate's own, and how well the shoe was laid against its origin. 5 mm if "
                        "nothing is known"
                    ),
                ),
                (
                    "`# load uncertainty:`",
                    "yes",
                    "standard uncertainty of one foot's load, in per cent; 2 if nothing is known",
                ),
                (
                    "`# lead heel:`, `# lead toe:`, `# trail heel:`, `# trail toe:`",
                    "with `frame: plate`",
                    (
                        "`x, y` of the back of each shoe and of its toe on the plate; `left` and "
                        "`right` where the columns say so"
                    ),
                ),
                (
                    "`# still:`",
                    "no",
                    "`START to END` in seconds: only these readings are used",
                ),
                ("`# note:`", "no", "anything; it isn't read"),
            ],
        ),
        "## Columns",
        table(
            ("column", "what"),
            [
                ("`time`", "from any moment, growing from row to row"),
                ("`lead_x`, `trail_x`", "centre of pressure under that foot, along the frame's x"),
                ("`lead_y`, `trail_y`", "the same along y"),
                ("`lead_load`, `trail_load`", "vertical load on that foot"),
            ],
        ),
        "Columns may stand in any order, and be called `left_…` and `right_…`: the hand then says "
        "which foot leads. They are parted by commas, or by semicolons (decimal commas are then "
        "read too).",
        "## Frames",
        "`foot`: each foot has its own. The origin is the back of its shoe; x runs along the shoe "
        "to its toe; y is positive outward, away from the other foot.",
        "`plate`: one frame for both feet, turned and placed as you like, x and y square to each "
        "other. The head then says where the shoes' ends lie in it.",
        "## What is refused",
        table(
            ("what", "when"),
            [
                ("too short", f"less than {quiet.LEAST_SECONDS:g} s"),
                (
                    "too few readings",
                    (
                        f"fewer than {quiet.LEAST_RATE:g} a second, or a gap of more than "
                        f"{5 / quiet.LEAST_RATE:g} s"
                    ),
                ),
                ("a lifted foot", f"less than {100 * quiet.LEAST_SHARE:g} % of the load on it"),
                (
                    "no standing still",
                    (
                        f"the whole load varies by more than {100 * quiet.LOAD_SWING:g} %, the "
                        f"share of a foot by {100 * quiet.SHARE_SWING:g} points, its centre of "
                        f"pressure by {1000 * quiet.PLACE_SWING_M:g} mm (standard deviations); or "
                        f"their first and last thirds differ by {100 * quiet.SHARE_DRIFT:g} points "
                        f"or {1000 * quiet.PLACE_DRIFT_M:g} mm. The message names the stillest "
                        "part, where there is one"
                    ),
                ),
                ("a wrong unit", "both feet together carry what nobody weighs"),
                ("bad rows", "text, gaps, loads below nothing; the first three are named"),
            ],
        ),
        "## What is made of it",
        "Means weighted by load, so that both feet together give the whole body's. Their standard "
        "uncertainty knows that readings hang together: at the most "
        f"{quiet.MOST_A_SECOND:g} independent one a second is counted. The plate's own is "
        f"added, and {np.degrees(quiet.AXIS_SD):.0f}° for how well a shoe lies along x. [What the "
        "estimate does with it](../explanation/joint-estimate.md#terms).",
    )


def _list(names: Iterable[str]) -> str:
    return ", ".join(f"`{name}`" for name in names)


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/plate-file.md": plate_page()}
