"""One page for each measure, and the list of them."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Final

import numpy as np
import yaml
from pydantic import BaseModel, ConfigDict

from docs.generator.text import bullets, page, table
from wellset.advise import words
from wellset.advise.words import Side
from wellset.assess.start import typical_points
from wellset.body import Sex, mass_model
from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.mass import mass_weights
from wellset.measures import MEASURES, Measure, Plane, Unit, value_and_gradient
from wellset.standards import default_standards

HERE: Final = Path(__file__).parent
BUDGET_FILE: Final = HERE / "demo_budget.json"
"""Error budgets of the demo's assessment; `python -m docs.generate --demo` writes it anew."""

LEAST_SHARE: Final = 0.05
"""Points and sources below this share of the strongest, or of the variance, are not listed."""

PLANES: Final = {
    Plane.FRONT: "front view: projected on x and z",
    Plane.SIDE: "side view: projected on y and z",
    Plane.PLAN: "plan view: projected on x and y",
    Plane.SPACE: "in space, not projected",
}
SCALARS: Final = {
    "shoe_breadth": "breadth of the shoe at the ankle",
    "thigh_half_depth": "depth from the line hip to knee to the front of the trouser leg",
    "nape_cloth": "collar and hair over C7",
    "mass_offset_x": "error of the mass table along the target line",
    "mass_offset_y": "error of the mass table across the target line",
}


class MeasureText(BaseModel):
    """What is written by hand about one measure."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    formula: str
    assumes: tuple[str, ...]
    limits: tuple[str, ...]
    sources: tuple[str, ...]


@cache
def texts() -> Mapping[str, MeasureText]:
    """The hand-written part of every measure."""
    raw: dict[str, object] = yaml.safe_load((HERE / "measures.yaml").read_text("utf-8"))
    return {name: MeasureText.model_validate(part) for name, part in raw.items()}


def unit_words(unit: Unit) -> str:
    """A unit as a person says it."""
    return {Unit.METRE: "metre", Unit.DEGREE: "degree", Unit.PERCENT: "per cent"}[unit]


def amount(value: float, unit: Unit) -> str:
    """A number for a table, lengths in centimetres."""
    if unit is Unit.METRE:
        return f"{100 * value:.2g} cm"
    return f"{value:.2g}{'°' if unit is Unit.DEGREE else ' %'}"


@cache
def _typical() -> Figure:
    return Figure(
        points=typical_points(stature=1.75, ball_height=0.0213),
        scalars=np.array([0.087, 0.118, 0.008, 0.0, 0.0]),
        mass_weights=mass_weights(mass_model(Sex.POOLED).with_row("trunk, mid-shoulder")),
    )


def leverage(measure: Measure) -> str:
    """What a centimetre at each point does to the measure, in an ordinary set-up."""
    _, gradient = value_and_gradient(measure, _typical().state)
    size = 3 * len(LANDMARKS)
    points = np.linalg.norm(gradient[:size].reshape(-1, 3), axis=1)
    strengths = dict(zip(LANDMARKS, points, strict=True))
    strengths |= dict(zip(BUILD_SCALARS, np.abs(gradient[size:]), strict=True))
    strongest = max(strengths.values())
    rows = [
        (SCALARS.get(name, name.replace("_", " ")), amount(0.01 * float(s), measure.unit))
        for name, s in sorted(strengths.items(), key=lambda pair: (-round(pair[1], 6), pair[0]))
        if s > LEAST_SHARE * strongest
    ]
    return table(("point or length", "1 cm there is at most"), rows)


@cache
def demo_budgets() -> Mapping[str, Mapping[str, float]]:
    """Standard uncertainty and its shares by source for each measure of the demo."""
    budgets: dict[str, dict[str, float]] = json.loads(BUDGET_FILE.read_text("utf-8"))
    return budgets


def budget(measure: Measure) -> str:
    """The error budget of the demo's pictures."""
    found = demo_budgets().get(measure.id)
    if found is None:
        return "The demo's pictures give no number for this measure."
    total = found["sd"]
    rows = [
        (source, amount(part, measure.unit), f"{100 * (part / total) ** 2:.0f} %")
        for source, part in sorted(found.items(), key=lambda pair: -pair[1])
        if source != "sd" and part**2 > LEAST_SHARE * total**2
    ]
    lead = (
        f"In the demo's two pictures (one stick on the target line, club length typed) its "
        f"standard uncertainty is {amount(total, measure.unit)}. Sources that give at least a "
        f"twentieth of "
        "the variance ([what each means](../../explanation/uncertainty.md)):"
    )
    return f"{lead}\n\n{table(('source', 'alone', 'share of the variance'), rows)}"


def _windows(measure: Measure) -> str:
    shots = default_standards().shots
    rows = []
    for shot, windows in shots.items():
        if measure.id in windows:
            each = windows[measure.id]
            low = "open" if each.low is None else f"{each.low:g}"
            high = "open" if each.high is None else f"{each.high:g}"
            rows.append((shot.value, low, high, each.unit.value))
    if not rows:
        return "The default standards have no window for it."
    link = "Reasons and sources: [default windows](../default-windows.md)."
    return table(("kind of shot", "low", "high", "unit"), rows) + "\n\n" + link


def measure_page(measure: Measure) -> str:
    """The page of one measure."""
    text = texts()[measure.id]
    needs = " and ".join(view.words for view in sorted(measure.needs))
    said = words()[measure.id].sides
    facts = table(
        ("", ""),
        [
            ("Id", f"`{measure.id}`"),
            ("Unit", f"{unit_words(measure.unit)} (`{measure.unit.value}` in JSON)"),
            ("Plus means", measure.positive),
            ("Seen", PLANES[measure.plane]),
            ("Needs", f"the {needs} picture{'s' if len(measure.needs) > 1 else ''}"),
            (
                "Withheld above",
                f"a standard uncertainty of {amount(measure.useful_sd, measure.unit)}",
            ),
            ("When low", said[Side.LOW].coach),
            ("When high", said[Side.HIGH].coach),
        ],
    )
    return page(
        measure.title,
        f"{measure.definition[0].upper()}{measure.definition[1:]}. Plus is {measure.positive}.",
        facts,
        "## Formula",
        text.formula,
        "In the frame of [frames and units](../frames-and-units.md): x to the target, y from the "
        "ball to the golfer, z up.",
        "## What it hangs on",
        "How much an error of one centimetre in the worst direction moves it, in an ordinary "
        "set-up with a mid-iron:",
        leverage(measure),
        "## Assumptions",
        bullets(text.assumes),
        "## Error budget",
        budget(measure),
        "## Limits",
        bullets(text.limits),
        "## Sources",
        bullets(text.sources),
        "## Default windows",
        _windows(measure),
    )


def index_page(measures: Sequence[Measure]) -> str:
    """The list of all measures."""
    rows = [
        (
            f"[{m.title}]({m.id}.md)",
            f"`{m.id}`",
            m.unit.value,
            m.definition,
            m.positive,
        )
        for m in measures
    ]
    return page(
        "The measures",
        f"{len(rows)} numbers about a set-up, in the order in which they are listed everywhere. "
        f"Ids, "
        "units, definitions and signs never change; another definition would be another measure.",
        table(("measure", "id", "unit", "definition", "plus means"), rows),
        "*Mid-* is the midpoint of the lead and the trail point. Heel and toe tip are those of "
        "the shoe; the ball of the foot is the line of the toe-base joints.",
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    folder = "reference/measures"
    found = {f"{folder}/{m.id}.md": measure_page(m) for m in MEASURES.values()}
    return {f"{folder}/README.md": index_page(tuple(MEASURES.values())), **found}
