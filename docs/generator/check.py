"""The JSON of a set-up compared with a plan."""

from __future__ import annotations

import json

from docs.generator.text import page, table
from wellset.measures import Unit
from wellset.reports.check_contract import SCHEMA, check_schema
from wellset.services.check_plan import MOST_TO_DO
from wellset.services.plan_target import LEAST_ROOM


def check_json_page() -> str:
    """The contract in words."""
    return page(
        "The JSON of a check",
        f"What `wellset check --json PATH`, `check.json` and `wellset.check` give: `{SCHEMA}`. "
        "Its JSON Schema is [check.schema.json](check.schema.json). [What a check "
        "is](../how-to/check-against-the-plan.md).",
        f'```json\n{{\n "schema": "{SCHEMA}",\n "plan": {{"source": "file", "club": "7-iron"}},\n'
        ' "checks": [\n  {"measure": "stance_width", "plan": {"value": 0.414, "tolerance": 0.045, '
        '"room": 0.045},\n   "off": {"value": -0.016, "sd": 0.009}, "verdict": "inside"}\n ],\n'
        ' "to_do": [], "right": ["stance_width"], "cannot_tell": [], "look_next": ["…"]\n}\n```',
        "## Fields",
        table(
            ("field", "what"),
            [
                ("`hand`, `student`, `club`, `shot`", "as in [an assessment](json.md)"),
                (
                    "`plan`",
                    (
                        "where it is from (`solved` for this check, `file`, `book`), whose and for "
                        "what it was worked out, and `conflicts`: what doesn't fit in itself"
                    ),
                ),
                (
                    "`checks`",
                    (
                        "one for each measure of the plan that the standards have a window for, in "
                        "the order of checking: `measured` as in an assessment, `plan` with "
                        "`value`, its `tolerance` and the `room` that was judged by, `off` "
                        "(measured minus planned), `verdict`, `probability_inside`, sentences, and "
                        "what would `settle` an undecided one"
                    ),
                ),
                (
                    "`to_do`",
                    (
                        f"at most {MOST_TO_DO}: the first change with its reason, `amount`, what "
                        "comes `right` with it and its drill; then what comes after"
                    ),
                ),
                ("`right`, `cannot_tell`", "measures as planned, and undecided ones"),
                ("`look_next`", "what to look for the next time, in sentences"),
                ("`notes`, `versions`", "as in an assessment; see [notes](notes.md)"),
            ],
        ),
        "## Room",
        "The tolerance of [the plan](../explanation/plan.md#tolerance), and never less than "
        f"{100 * LEAST_ROOM[Unit.METRE]:g} cm, {LEAST_ROOM[Unit.DEGREE]:g}° or "
        f"{LEAST_ROOM[Unit.PERCENT]:g} points of a per cent: nobody rebuilds a set-up more finely "
        "(our judgement).",
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    schema = json.dumps(check_schema(), indent=1, ensure_ascii=False) + "\n"
    return {
        "reference/check-json.md": check_json_page(),
        "reference/check.schema.json": schema,
    }
