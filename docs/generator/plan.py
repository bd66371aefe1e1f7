"""The files of a plan: the bag that goes in, the JSON that comes out."""

from __future__ import annotations

import json
from typing import Final

from docs.generator.text import page, table
from wellset.measures import MEASURES, Unit
from wellset.prescribe import HEAD_REACH, TOE_UP
from wellset.prescribe.conditions import (
    BALL_ABOVE,
    GRIP_DOWN_AGAINST_M,
    GRIP_DOWN_PER_DEG_M,
    STANCE_BELOW_M,
    UPHILL,
    WIND,
    Shift,
    Wind,
)
from wellset.prescribe.limits import DEEP_BEND_DEG, DEEP_KNEE_DEG
from wellset.reports.floor.contract import template_schema
from wellset.reports.plan_contract import plan_schema
from wellset.services.bag_file import MOST_CLUBS, SCHEMA
from wellset.units import degrees

BAG_EXAMPLE: Final = """\
schema: wellset.bag/1
clubs:
  - name: driver
  - {name: 7-iron, length: 37.25 in, lie: 63 deg}
  - {name: sand wedge, toe_up: 2 deg}
  - {name: putter, length: 34 in, lie: 70 deg, head: 10 cm}
"""
"""Shown on the page and read by a test."""


def limits_table() -> str:
    """What a student file may say of limits."""
    return table(
        ("name", "what"),
        [
            ("`max_forward_bend`", "most forward bend, degrees"),
            ("`max_knee_flex`", "most flex of either knee, degrees"),
            ("`max_side_bend`", "most side bend away from the target, degrees"),
            (
                "`no_deep_bend`",
                (
                    f"`true`: at most {DEEP_BEND_DEG:g}° forward bend and {DEEP_KNEE_DEG:g}° "
                    "of knee flex (our judgement, no medical advice)"
                ),
            ),
        ],
    )


def bag_page() -> str:
    """Every field of a bag file."""
    rows = [
        (kind.value, f"{degrees(TOE_UP[kind].value):.0f}°", f"{100 * reach.value:.1f} cm")
        for kind, reach in sorted(HEAD_REACH.items(), key=lambda pair: list(TOE_UP).index(pair[0]))
    ]
    return page(
        "Bag file",
        "The clubs to plan for, in YAML. Give it to `wellset plan` with `--bag FILE`.",
        f"```yaml\n{BAG_EXAMPLE}```",
        "## Fields",
        table(
            ("field", "needed", "what"),
            [
                ("`schema`", "yes", f"`{SCHEMA}`"),
                ("`clubs`", "yes", f"one to {MOST_CLUBS} clubs, each once"),
                ("`name`", "yes", "as for `--club`"),
                ("`length`", "no", "sole to the top of the grip, with its unit"),
                ("`lie`", "no", "built lie in degrees"),
                ("`head`", "no", "heel to toe, with its unit"),
                (
                    "`toe_up`",
                    "no",
                    "how far the toe is to stand off flat at address, degrees; usual values below",
                ),
            ],
        ),
        "What isn't given is [assumed from the name](tables-and-editions.md#clubs).",
        "## How a club stands at address",
        "How far the toe usually stands off flat (our judgement), and how far from the end of the "
        "shaft's line to the middle of the ball, toward the ball.",
        table(("kind", "toe up", "shaft to ball"), rows),
    )


def _shifts(shifts: tuple[Shift, ...]) -> list[tuple[str, str, str, str]]:
    return [
        (
            MEASURES[one.measure].title,
            f"{100 * one.by:+.1f} cm"
            if MEASURES[one.measure].unit is Unit.METRE
            else f"{one.by:+.1f}{'°' if MEASURES[one.measure].unit is Unit.DEGREE else ' %'}",
            one.reason,
            one.source,
        )
        for one in shifts
    ]


def _cm(metres: float) -> str:
    return f"{100 * metres:.1f} cm"


def conditions_page() -> str:
    """What slope and wind do to windows."""
    head = ("window", "moves by", "why", "source")
    return page(
        "What slope and wind change",
        "A plan on a slope stands on the tilted plane with gravity vertical. Windows written for "
        "level ground follow by the amounts below. None has a study behind it.",
        "## Uphill, per degree",
        "Downhill is the same turned round.",
        table(head, _shifts(UPHILL)),
        "## Ball above the feet, per degree",
        f"Ball below the feet is the same turned round, and the stance is {_cm(STANCE_BELOW_M)} "
        "wider per degree, which brings the hips lower. For a ball above the feet the hands go "
        f"{_cm(GRIP_DOWN_PER_DEG_M)} down the grip per degree, which moves no window. Both are "
        "common practice, no source.",
        table(head, _shifts(BALL_ABOVE)),
        "## Wind against the shot",
        table(head, _shifts(WIND[Wind.AGAINST])),
        f"The hands go {_cm(GRIP_DOWN_AGAINST_M)} down the grip (common practice, no source).",
        "## Wind with the shot",
        table(head, _shifts(WIND[Wind.WITH])),
    )


def plan_json_page() -> str:
    """The contract in words."""
    return page(
        "The JSON of a plan",
        "What `wellset plan --json PATH`, `plan.json` and `wellset.prescribe` give: "
        "`wellset.plan/1`. Its JSON Schema is [plan.schema.json](plan.schema.json).",
        '```json\n{\n "schema": "wellset.plan/1",\n "clubs": [\n  {"club": "7-iron", "kind": '
        '"mid iron", "club_length_m": 0.94,\n   "measures": {"stance_width": {"value": 0.41, '
        '"unit": "m", "tolerance": 0.01}},\n   "floor": {"gap_club_heads": 3.9}, "conflicts": '
        "[]}\n ]\n}\n```",
        "## Fields",
        table(
            ("field", "what"),
            [
                ("`hand`", "`right` or `left`; points are those of a right-hander either way"),
                (
                    "`student`",
                    (
                        "`name`, `stature_m`, `sex` of the tables, `limits` by measure, "
                        "`shoe_length_m`, `shoe_breadth_m` level with the ankle"
                    ),
                ),
                ("`place`", "slopes in degrees, and the wind"),
                (
                    "`clubs[].measures`",
                    (
                        "every measure by id: `value`, `unit` and `tolerance`, how far it may go "
                        "either way before anything leaves its window; 0 where the club fixes it "
                        "or it is outside"
                    ),
                ),
                ("`clubs[].club_head_m`", "heel to toe of the head, the yardstick of gaps"),
                ("`clubs[].windows`", "the windows as they stood for this student and place"),
                (
                    "`clubs[].floor`",
                    (
                        "the set-up in things to lay on the ground; lengths in metre, units in the "
                        "names"
                    ),
                ),
                (
                    "`clubs[].swing_arc`",
                    (
                        "a [model](../explanation/swing-arc.md) of what moving the ball, the chest "
                        "or the pressure does to the strike; null for a putt or on a slope"
                    ),
                ),
                (
                    "`clubs[].conflicts`",
                    (
                        "what can't be kept: `code`, `measure`, `facts` that disagree, `amount` in "
                        "the measure's unit, and `remedies` with `kind` (`toe_up` in degrees, "
                        "`length` in metre, `window`), `amount`, and whether each `cures` all"
                    ),
                ),
                ("`clubs[].points`", "every landmark in the [world frame](frames-and-units.md)"),
                (
                    "`breaks`",
                    (
                        "where the ladder breaks: `measure`, `longer` and `shorter` club, "
                        "`amount` the wrong way, `message`"
                    ),
                ),
                ("`notes`", "see [notes](notes.md)"),
                ("`versions`", "program, tables, standards"),
            ],
        ),
        "## Conflict codes",
        table(
            ("code", "what"),
            [
                ("`limit_against_window`", "a window begins above the student's own limit"),
                ("`window_not_reached`", "a window that body, club and the others don't allow"),
                ("`limit_not_kept`", "even the student's limit can't be kept"),
                ("`joint_beyond_range`", "a joint would have to go beyond its range"),
            ],
        ),
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    schema = json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n"
    return {
        "reference/bag-file.md": bag_page(),
        "reference/slope-and-wind.md": conditions_page(),
        "reference/plan-json.md": plan_json_page(),
        "reference/plan.schema.json": schema,
        "reference/template.schema.json": (
            json.dumps(template_schema(), indent=1, ensure_ascii=False) + "\n"
        ),
    }
