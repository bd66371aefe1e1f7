"""Where to stand, over the student's own picture: drawings and the words beside them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.figure import Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.measures import MEASURES, Unit
from wellset.measures.kinds import COVERAGE_FACTOR
from wellset.reports.explained import SHORT
from wellset.reports.floor_marks import FloorMarks, floor_marks
from wellset.reports.ghost import body
from wellset.reports.labels import Wish, place
from wellset.reports.marks import Area, Box, Drawing, Line, Mark, Role
from wellset.reports.overlay import part_round
from wellset.reports.plan_floor import FloorLine, floor_lines
from wellset.reports.words import SPACE, number, spread_text
from wellset.services.assessment import AssessedPicture, Assessment
from wellset.services.stand_here import Drawable, FootStep, StandHere
from wellset.units import UnitSystem, degrees, format_length

Array = NDArray[np.float64]

PLAN_VERDICT: Final = "plan"
"""Takes the place of a verdict on a label: it tells what is wanted."""
_WHICH: Final = {
    View.FACE_ON: ("gap", "ball_from_heel"),
    View.DOWN_THE_LINE: ("ball_to_toes",),
}
"""Rulers of each picture: those it doesn't look along."""
HANDLE: Final = "handle"
SURE: Final = 2.0
"""Standard uncertainties beyond which a foot is told to move (about 95 %)."""
_SMALL_TURN: Final = np.radians(3.0)
"""A foot turned less than this is left alone: no coach sees it (our judgement)."""
_SMALL_STEP_M: Final = 0.01


@frozen(kw_only=True, eq=False)
class StandPicture:
    """One picture with what belongs where.

    Parameters
    ----------
    view, title : str
    plan, changed : Drawing or None
        The plan's body and marks; the body after the first change.
    description, changed_description : str
        For those who cannot see them.
    sure : str
        How surely the marks lie where they are drawn, or why there are none.
    """

    view: str
    title: str
    plan: Drawing | None
    changed: Drawing | None
    description: str
    changed_description: str
    sure: str

    @property
    def frame(self) -> Box | None:
        """The part of the picture that is shown."""
        shown = self.plan or self.changed
        return shown.frame if shown is not None else None


@frozen(kw_only=True, eq=False)
class StandModel:
    """Where to stand.

    Parameters
    ----------
    pictures : tuple of StandPicture
    floor : tuple of FloorLine
        What is laid on the ground.
    steps : tuple of str
        How each foot moves from where it is.
    change : str
        What the set-up after the first change shows; empty when it isn't shown.
    notes : tuple of str
        What doesn't fit, or why there is no plan.
    """

    pictures: tuple[StandPicture, ...]
    floor: tuple[FloorLine, ...]
    steps: tuple[str, ...]
    change: str
    notes: tuple[str, ...]

    @property
    def drawn(self) -> bool:
        """Whether any picture shows something."""
        return any(picture.frame is not None for picture in self.pictures)

    @property
    def both(self) -> bool:
        """Whether there is a plan and a change to choose from."""
        return all(
            any(getattr(picture, which) is not None for picture in self.pictures)
            for which in ("plan", "changed")
        )


def stand_model(assessment: Assessment, /, *, units: UnitSystem) -> StandModel | None:
    """Where to stand, in words and drawings; ``None`` when it wasn't worked out."""
    stand = assessment.stand
    if stand is None:
        return None
    plan = stand.plan
    notes = [stand.why_no_plan] if stand.why_no_plan else []
    notes += [conflict.message for conflict in plan.conflicts] if plan is not None else []
    return StandModel(
        pictures=tuple(
            _picture(assessment, stand, view=view, units=units) for view in assessment.pictures
        ),
        floor=floor_lines(plan, units, only_ground=True) if plan is not None else (),
        steps=tuple(_step(step, units) for step in stand.steps),
        change=_change_words(assessment, stand),
        notes=tuple(notes),
    )


def _picture(
    assessment: Assessment, stand: StandHere, *, view: View, units: UnitSystem
) -> StandPicture:
    picture, drawable = assessment.pictures[view], stand.views[view]
    shown: dict[str, Figure] = {}
    if not drawable.why_not:
        shown |= {"plan": stand.plan.figure} if stand.plan is not None else {}
        shown |= {"changed": stand.changed} if stand.changed is not None else {}
    frame = _frame(picture, [assessment.fit.figure, *shown.values()])
    drawn = {
        name: _drawing(
            figure,
            picture,
            drawable=drawable,
            frame=frame,
            texts=_texts(stand, units) if name == "plan" else {},
        )
        for name, figure in shown.items()
    }
    plan = drawn.get("plan")
    labels = "; ".join(label.text for label in plan.labels) if plan is not None else ""
    return StandPicture(
        view=view.value,
        title=view.words[0].upper() + view.words[1:],
        plan=plan,
        changed=drawn.get("changed"),
        description=f"The planned set-up drawn over the student, {view.words}, with marks on the "
        f"ground for shoes and ball. Labelled: {labels or 'nothing'}.",
        changed_description=f"The student's own set-up after the first change alone, drawn over "
        f"the picture, {view.words}.",
        sure=_sure(drawable, plan, picture=picture, units=units),
    )


def _frame(picture: AssessedPicture, figures: list[Figure]) -> Box:
    points = [picture.project(np.array([figure[name] for name in LANDMARKS])) for figure in figures]
    return part_round(np.concatenate(points), facts=picture.sighting.picture)


def _drawing(
    figure: Figure,
    picture: AssessedPicture,
    *,
    drawable: Drawable,
    frame: Box,
    texts: Mapping[str, str],
) -> Drawing | None:
    """The body, the marks on the ground, and labels where there are texts."""
    view = picture.sighting.view
    ghost = body(figure, picture)
    floor = floor_marks(figure, picture, projection=drawable.projection, rulers=_WHICH[view])
    if ghost is None or floor is None:
        return None
    marks: list[Mark] = [ghost, *floor.marks]
    anchors = dict(floor.rulers)
    if HANDLE in texts and view is View.DOWN_THE_LINE:
        butt = figure["grip_end"]
        ends = picture.project(np.array([butt * [1, 1, 0], butt]))
        marks.append(Line(role=Role.FLOOR, points_px=ends))
        anchors[HANDLE] = ends[1]
    wishes = [
        Wish(text=texts[name], verdict=PLAN_VERDICT, measure=name, anchor_px=anchors[name])
        for name in anchors
        if name in texts
    ]
    labels = place(wishes, frame=frame, busy=_busy(figure, picture, floor=floor))
    return Drawing(frame=frame, marks=tuple(marks), labels=labels)


def _busy(figure: Figure, picture: AssessedPicture, *, floor: FloorMarks) -> Array:
    """Points that a label should not hide."""
    joints = picture.project(np.array([figure[name] for name in LANDMARKS]))
    share = np.linspace(0, 1, 5)[:, None]
    limbs = [
        figure[f"{side}_{a}"] + share * (figure[f"{side}_{b}"] - figure[f"{side}_{a}"])
        for side in ("lead", "trail")
        for a, b in (("hip", "knee"), ("knee", "ankle"), ("shoulder", "wrist"))
    ]
    return np.concatenate([joints, picture.project(np.concatenate(limbs)), floor.feet_px])


def _texts(stand: StandHere, units: UnitSystem) -> dict[str, str]:
    """Labels of the plan's rulers."""
    if stand.plan is None:
        return {}
    floor = stand.plan.floor
    side = "inside" if floor.ball_from_lead_heel >= 0 else "outside"
    return {
        "gap": f"Gap {_length(floor.gap, units)}",
        "ball_from_heel": f"Ball {_length(abs(floor.ball_from_lead_heel), units)} {side} lead heel",
        "ball_to_toes": f"Ball to toes {_length(floor.ball_from_toes, units)}",
        HANDLE: f"Handle {_length(floor.handle_height, units)} up",
    }


def _length(metres: float, units: UnitSystem) -> str:
    return format_length(metres, system=units, sd=0.01).replace(" ", SPACE)


def _about(metres: float, units: UnitSystem) -> str:
    """A range on the ground; never nought."""
    return f"±{SPACE}{number(max(metres / units.metres, 1.0), 0)}{SPACE}{units.value}"


def _sure(
    drawable: Drawable,
    plan: Drawing | None,
    *,
    picture: AssessedPicture,
    units: UnitSystem,
) -> str:
    """How surely the marks lie where they are drawn."""
    if drawable.why_not:
        return f"Nothing is drawn here. {drawable.why_not}"
    line, square = (
        f"±{SPACE}{max(degrees(COVERAGE_FACTOR * sd), 1.0):.0f}°"
        for sd in (drawable.target_line_sd, drawable.square_sd)
    )
    words = (
        f"The ball is the anchor. A mark lies within {_about(drawable.off, units)} of its place on "
        f"the ground (95 times in 100; the dashed edge round each shoe): this picture knows the "
        f"target line to {line}, and what is square to it to {square}."
    )
    facts = picture.sighting.picture
    if (
        plan is not None
        and not Box(x=0, y=0, width=facts.width_px, height=facts.height_px)
        .contains(_feet(plan))
        .all()
    ):
        words += " Part of a shoe's mark lies outside the picture."
    return words


def _feet(drawing: Drawing) -> Array:
    shoes = [m for m in drawing.marks if isinstance(m, Area)]
    return np.concatenate([m.points_px for m in shoes])


def _step(step: FootStep, units: UnitSystem) -> str:
    """How one foot moves, saying only what is sure."""
    parts = []
    for amount, sd, (plus, minus) in (
        (step.along, step.along_sd, ("toward the target", "away from the target")),
        (step.back, step.back_sd, ("back from the ball", "nearer to the ball")),
    ):
        if abs(amount) > max(SURE * sd, _SMALL_STEP_M):
            size = spread_text(abs(amount), COVERAGE_FACTOR * sd, unit=Unit.METRE, system=units)
            parts.append(f"{size} {plus if amount > 0 else minus}")
    turn = abs(step.turn)
    turned = turn > max(SURE * step.turn_sd, _SMALL_TURN)
    heel = f"{step.foot.capitalize()} heel"
    words = f"{heel}: {' and '.join(parts)}" if parts else f"{heel}: leave it where it is"
    if turned:
        half = COVERAGE_FACTOR * degrees(step.turn_sd)
        size = spread_text(degrees(turn), half, unit=Unit.DEGREE, system=units)
        words += f"; turn the toe {'out' if step.turn > 0 else 'in'} by {size}"
    return f"{words}."


def _change_words(assessment: Assessment, stand: StandHere) -> str:
    """What the body after the first change shows."""
    first = assessment.advice.first
    if not stand.change or first is None:
        return ""
    measure = MEASURES[stand.change]
    others = ", ".join(SHORT[name].lower() for name in assessment.advice.right[:3])
    follows = f" These checks come right with it: {others}." if others else ""
    return (
        f"The student’s own set-up with one thing put right, {measure.title.lower()}; the rest of "
        f"the body follows in the way that costs least, bones as long as they are.{follows}"
    )
