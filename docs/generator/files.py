"""The files that go in and out: standards, student, landmarks, JSON."""

from __future__ import annotations

import json

from docs.generator.plan import limits_table
from docs.generator.tables import tape_rows
from docs.generator.text import page, table
from wellset.advise import BodyLimit
from wellset.figure.landmarks import LANDMARKS
from wellset.measures import MEASURES, Unit
from wellset.reports.json_contract import assessment_schema
from wellset.services.landmark_file import HAND_SD_OF_HEIGHT
from wellset.services.landmark_file import SCHEMA as LANDMARK_SCHEMA
from wellset.standards import SCHEMA as STANDARDS_SCHEMA
from wellset.standards import Shot
from wellset.standards.document import DecisionPart, WindowPart
from wellset.standards.scale import units_allowed

STANDARDS_EXAMPLE = """\
schema: wellset.standards/1
name: My standards
based_on: default
shots:
  mid iron:
    ball_position: {low: 50, high: 60, target: 54, reason: A ball forward of the middle at most.}
    chest_shift:
  chip:
    like: pitch
"""
"""Shown on the page and read by a test."""

STUDENT_EXAMPLE = """\
schema: wellset.student/1
name: Robin Vale
height: 175 cm
sex: man
hand: right
weight: 76 kg
tape:
  wrist_height: 84 cm
  crotch_height: 83.5 cm
  shoe_length: 30 cm
"""
"""Shown on the page and read by a test."""


def standards_page() -> str:
    """Every field of a standards file."""
    decision = DecisionPart()
    head = [
        ("`schema`", "yes", f"`{STANDARDS_SCHEMA}`"),
        ("`name`", "yes", "what you call it; printed beside every result"),
        (
            "`based_on`",
            "no",
            "`default`: start from the default standards and change what stands here",
        ),
        (
            "`club_heads_count`",
            "no",
            "`each side` (usual) or `in all`: what two club heads mean for the stance",
        ),
        (
            "`decision`",
            "no",
            (
                f"`inside_at_least` (usually {decision.inside_at_least:g}) and `outside_at_most` "
                f"(usually {decision.outside_at_most:g}): see [findings by "
                f"probability](../explanation/findings.md)"
            ),
        ),
        (
            "`order`",
            "no",
            (
                "list of stops, each with `station` and `measures`: the order of checking; "
                "measures left out follow at the end"
            ),
        ),
        ("`shots`", "unless `based_on`", "kinds of shot, each with its windows"),
    ]
    meant = {
        "low": "lower limit; left out, that side is open",
        "high": "upper limit; left out, that side is open",
        "target": "where you aim inside the window",
        "unit": "one of the units below; always needed for a new window",
        "weight": "how much you care; 1 is ordinary, 2 counts double when the first change is "
        "chosen",
        "reason": "why, in plain words; always needed for a new window",
        "source": "a publication, or `common practice, no source`; always needed for a new window",
    }
    window = [(f"`{name}`", meant[name]) for name in WindowPart.model_fields]
    units = [
        (f"`{m.id}`", ", ".join(f"`{u}`" for u in units_allowed(m.id, m.unit)))
        for m in MEASURES.values()
    ]
    shots = ", ".join(f"`{shot}`" for shot in Shot)
    return page(
        "Standards file",
        "Your windows, in YAML. Give it with `--standards FILE`. The windows that come with the "
        "package stand, with reason and source, on the page of [default "
        "windows](default-windows.md).",
        f"```yaml\n{STANDARDS_EXAMPLE}```",
        "This changes the ball's window for mid irons, no longer checks the chest there, and "
        "checks chips as pitches. Everything else stays as in the default standards.",
        "## Fields of the file",
        table(("field", "needed", "what"), head),
        "## Fields of a shot",
        f"A shot is one of {shots}. Spaces, hyphens and underscores are alike. `like: NAME` takes "
        f"every "
        "window of another shot of this file (or of the default standards); what stands beside it "
        "changes. A measure with nothing behind it is not checked for that shot.",
        "## Fields of a window",
        "In a window that changes an inherited one only the changed fields need to stand. New "
        "limits drop the old source, since the publication didn't say them: the source then reads "
        "*common practice, no source* unless you name one.",
        table(("field", "what"), window),
        "## Units",
        "Lengths may be multiples of the student's own measures: `% of stance` (ankle to ankle, "
        "as measured), `club heads` (heel to toe of the club in hand), `shoulder widths` (bony "
        "tip to bony tip) and `foot lengths` (of the shoe). Their uncertainty counts in the "
        "finding. Where the stance can't be measured, the shoulder width stands in for it.",
        table(("measure", "units"), units),
        "## What is refused",
        "An unknown field, shot or measure (with the nearest name), limits that cross, a target "
        "outside its window, a unit that doesn't fit, a missing reason or source, a name that "
        "stands twice, a `like` that runs in a circle. All problems are named at once, each with "
        "its path.",
    )


def student_page() -> str:
    """Every field of a student file."""
    return page(
        "Student file",
        "Who stands there and what a tape says, in YAML. Give it with `--student FILE`.",
        f"```yaml\n{STUDENT_EXAMPLE}```",
        "## Fields",
        table(
            ("field", "needed", "what"),
            [
                ("`schema`", "yes", "`wellset.student/1`"),
                ("`name`", "no", "printed on the page; up to 120 characters"),
                (
                    "`height`",
                    "unless `--height`",
                    (
                        "barefoot, with its unit: `178 cm`, `1.78 m`, `70 in`, `5 ft 10 in`; 1.0 "
                        "to 2.3 m"
                    ),
                ),
                (
                    "`sex`",
                    "no",
                    (
                        "`man`, `woman` or `unspecified` (usual): whose tables; pooled tables are "
                        "wider"
                    ),
                ),
                ("`hand`", "no", "`right` or `left`; recognised in the pictures when left out"),
                ("`weight`", "no", "`76 kg`, `165 lb`, `11 st 4 lb`; no length depends on it"),
                (
                    "`shoe_size`",
                    "no",
                    "`EU 43`, `UK 9`, `US 10`, `US women 8.5`, `27.5 cm`; used where no tape does",
                ),
                ("`tape`", "no", "tape measures, each with its unit; see below"),
                ("`age`", "no", "years; a plan says when the tables don't cover it"),
                (
                    "`posture`",
                    "no",
                    (
                        "`standing` (usual), `seated` or `one-armed`; the last two can be assessed "
                        "but not planned yet"
                    ),
                ),
                ("`careful_with`", "no", "what drills must spare; see below"),
                (
                    "`limits`",
                    "no",
                    (
                        "what the student can't or mustn't do, in degrees; see below. They win "
                        "over every window of a plan"
                    ),
                ),
            ],
        ),
        "`careful_with` names what drills must spare: "
        f"{', '.join(f'`{limit}`' for limit in BodyLimit)}. [How drills are "
        "chosen](drills-file.md#which-drill-a-finding-brings-up).",
        "## Tape measures",
        "Any of them, in any order. The last column says what is left of the spread of which "
        "lengths (a man of 175 cm); joints stay uncertain by their definition, which no tape "
        "narrows. The spread is that of a careful reading (common practice, no source), in "
        "centimetres. A reading that no body of that height has is refused; an unusual one is "
        "used with a [note](notes.md#unusual_measure).",
        table(("name", "where the tape goes", "spread, cm", "narrows"), tape_rows()),
        "Which ones pay off is on the page [how to use tape "
        "measures](../how-to/use-tape-measures.md).",
        "## Limits",
        limits_table(),
    )


def landmark_page() -> str:
    """Every field of a landmark file."""
    names = ", ".join(f"`{name}`" for name in LANDMARKS)
    point = [
        (
            "`x_px`, `y_px`",
            "yes",
            "place in the upright picture as taken; see [frames and units](frames-and-units.md)",
        ),
        (
            "`sd_px`",
            "no",
            (
                f"how well you placed it; usually {100 * HAND_SD_OF_HEIGHT:g} % of the picture's "
                f"height"
            ),
        ),
        ("`covariance_px2`", "no", "`[xx, xy, yy]` instead of `sd_px`"),
        ("`placed_by`", "no", "`coach` (usual) or `model`"),
        ("`proposal`", "no", "the model's point that a coach's point replaced; kept, not used"),
        (
            "`disagreement_px`",
            "no",
            "how far beyond their errors the two models lie apart; written by a run",
        ),
        (
            "`not_seen`",
            "alone",
            "instead of all others but `proposal`: why the point has no place in this picture",
        ),
    ]
    return page(
        "Landmark file",
        "The points of a run in JSON. Every run with `--out` writes `landmarks.json`; give it "
        "back with `--landmarks FILE` after correcting it. [How](../how-to/correct-landmarks.md).",
        '```json\n{\n "schema": "wellset.landmarks/1",\n "hand": "right",\n "views": {\n  '
        '"face_on": {\n'
        '   "picture": {"name": "front.jpg", "width_px": 720, "height_px": 1280},\n'
        '   "landmarks": {"ball": {"x_px": 364.0, "y_px": 1098.5}}\n  }\n }\n}\n```',
        "## Fields",
        table(
            ("field", "needed", "what"),
            [
                ("`schema`", "yes", f"`{LANDMARK_SCHEMA}`"),
                (
                    "`hand`",
                    "no",
                    (
                        "`right` or `left`; needed when every point comes from the file and "
                        "neither `--hand` nor the student file says it"
                    ),
                ),
                ("`views`", "yes", "`face_on`, `down_the_line`, or both"),
                (
                    "`views.VIEW.picture`",
                    "yes",
                    (
                        "`width_px` and `height_px` of the upright picture; `name`, `focal_35mm`, "
                        "`was_cut` and `sha256` if known, which must then be that of the picture "
                        "given"
                    ),
                ),
                (
                    "`views.VIEW.landmarks`",
                    "yes",
                    "points by name; those left out are looked for in the picture",
                ),
                (
                    "`views.VIEW.sticks`",
                    "no",
                    (
                        "each with `ends_px` (two places on the stick's middle line), `sd_px` "
                        "across it (usually 1), `ends_are_tips` and `placed_by` (usually "
                        "`coach`); your sticks replace the found ones, and an empty list says "
                        "that there is none"
                    ),
                ),
                (
                    "`views.VIEW.replaced_sticks`",
                    "no",
                    "found sticks that gave way to yours; written by a run, kept, not used",
                ),
                (
                    "`views.VIEW.markers`",
                    "no",
                    (
                        "a marker sheet: `corners_px` of its black square with the arrow pointing "
                        "up: bottom right, top right, top left, bottom left; `sd_px` (usually 1) "
                        "or `covariances_px2`; `side_m` if it wasn't printed at 100 %; `placed_by` "
                        "(usually `coach`: yours replaces the found one)"
                    ),
                ),
            ],
        ),
        "## A point",
        table(("field", "needed", "what"), point),
        "## Which point wins",
        "A point with `placed_by: coach` wins over the networks', and the range then follows your "
        "spread. A point with `placed_by: model` is used only when the file holds every landmark "
        "of that view; then the picture isn't looked at, and may even be left out. A file that "
        "says where a left-hander stands uses the picture as taken, not mirrored.",
        "## Names",
        f"{names}.",
        "*Lead* is the side nearer the target. `c7`, `t8`, `t12`, `l3`, `s1` and `sternum` lie on "
        "the outline, clothing included; `shoe_heel` and `shoe_toe` are the visible ends of the "
        "shoe; `foot_ball` is the line of the toe-base joints; `grip_end` is the butt.",
    )


def json_page() -> str:
    """The contract in words."""
    units = {u: ", ".join(f"`{m.id}`" for m in MEASURES.values() if m.unit is u) for u in Unit}
    return page(
        "The JSON contract",
        "What `--json PATH`, `assessment.json` and the Python API give: `wellset.assessment/1`. "
        "Its JSON Schema is [assessment.schema.json](assessment.schema.json). Ids, units and "
        "meanings don't change within a version of the schema.",
        '```json\n{\n "schema": "wellset.assessment/1",\n "hand": "right",\n "measures": {\n'
        '  "stance_width": {"value": 0.412, "unit": "m", "sd": 0.012, "interval95": [0.388, '
        "0.436]},\n"
        '  "ball_position": {"not_measurable": {"code": "view_missing", "why": "…", "fix": '
        '"…"}}\n },\n'
        ' "findings": [],\n "advice": [],\n "pictures": {}\n}\n```',
        "## Fields",
        table(
            ("field", "what"),
            [
                ("`schema`", "`wellset.assessment/1`"),
                ("`hand`", "`right` or `left`"),
                ("`student`", "`name` and `stature_m`"),
                ("`club`", "name, kind, length, lie and head, each with how it is known"),
                ("`shot`", "the kind of shot whose windows were used"),
                (
                    "`converged`",
                    (
                        "whether the search came to rest; see "
                        "[`not_converged`](notes.md#not_converged)"
                    ),
                ),
                (
                    "`measures`",
                    (
                        "every measure by id: a value with `unit`, `sd`, `interval95` and "
                        "`budget`, or [`not_measurable`](not-measurable.md)"
                    ),
                ),
                (
                    "`findings`",
                    (
                        "one for each window in the order of checking: `verdict`, "
                        "`probability_inside`, `side`, `window`, sentences for coach and student, "
                        "`settle`: what would decide it, and `settling`: the same in numbers"
                    ),
                ),
                (
                    "`advice`",
                    (
                        "`first_change`, then at most two `next` and two `keep`; a drill where "
                        "there is one; where it was computed the first change says by how much "
                        "(`amount`, the measure's unit) and which checks come right with it "
                        "(`right`)"
                    ),
                ),
                (
                    "`points`",
                    (
                        "every landmark in space, `position_m` and `sd_m`, in the [world "
                        "frame](frames-and-units.md)"
                    ),
                ),
                (
                    "`pictures`",
                    (
                        "by view: facts, estimated camera, how the phone was held and what to do "
                        "about it ([`phone`](../explanation/camera-check.md)), landmarks as seen "
                        "and as solved, sticks, marker sheets, [notes](notes.md)"
                    ),
                ),
                (
                    "`on_the_ground`",
                    (
                        "everything found on the ground, picture by picture: `kind`, how it "
                        "`lies`, whether it was `used`, and `why` not"
                    ),
                ),
                ("`notes`", "[notes](notes.md) on the whole assessment"),
                (
                    "`corrections`",
                    (
                        "what a coach's [corrections](../how-to/correct-landmarks.md) changed: "
                        "points, sticks, each measure before and after, verdicts; `null` when "
                        "nothing was corrected"
                    ),
                ),
                (
                    "`plate`",
                    (
                        "what a [pressure plate](plate-file.md) said: load and place of each foot, "
                        "balance of the pictures and of the plate alone, how far `apart_m` they "
                        "lie, and whether it was `used`; `null` without one"
                    ),
                ),
                ("`versions`", "program, tables and standards that made the numbers"),
            ],
        ),
        "## Units",
        table(("unit", "measures"), [(f"`{u.value}`", names) for u, names in units.items()]),
        "`budget` gives the standard uncertainty that each source alone would cause; its squares "
        "add up to the square of `sd`. Numbers are rounded to three digits of their `sd`. Pixels "
        "are those of the upright picture as taken, also for left-handers; the estimated camera "
        "of a left-hander is in the mirrored frame.",
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    schema = json.dumps(assessment_schema(), indent=1, ensure_ascii=False) + "\n"
    return {
        "reference/standards-file.md": standards_page(),
        "reference/student-file.md": student_page(),
        "reference/landmark-file.md": landmark_page(),
        "reference/json.md": json_page(),
        "reference/assessment.schema.json": schema,
    }
