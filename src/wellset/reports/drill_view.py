"""A drill as every page shows it: words, and drawings made from a target."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import evolve, frozen

from wellset.advise import BodyLimit, Drill, DrillBook, Fault, Origin
from wellset.errors import EstimationError
from wellset.measures import MEASURES
from wellset.reports.drill_svg import DrawnDrill, draw
from wellset.services.assessment import Assessment
from wellset.services.drill_choice import Target

LEAD_AND_TRAIL: Final = "Lead is the side nearer the target, trail is the other."
LEVELS: Final = {"easy": "easy", "middle": "needs some practice", "hard": "when the rest is easy"}


@frozen(kw_only=True)
class Instead:
    """Who should take another drill, and which.

    Parameters
    ----------
    who : str
        Such as ``"a stiff or sore back"``.
    id, title : str
        Of the other drill.
    """

    who: str
    id: str
    title: str


@frozen(kw_only=True)
class DrillView:
    """A drill in words and drawings.

    Parameters
    ----------
    id, title, purpose, feel, self_check, dose, caution, level, easier, harder : str
    needs, steps : tuple of str
    serves : tuple of (title, sides)
        Measures it helps, and for which side of the window.
    instead : tuple of Instead
    drawings : tuple of DrawnDrill
        Empty without a target.
    origin : str
    """

    id: str
    title: str
    purpose: str
    needs: tuple[str, ...]
    steps: tuple[str, ...]
    feel: str
    self_check: str
    dose: str
    caution: str
    level: str
    easier: str
    harder: str
    serves: tuple[tuple[str, str], ...]
    instead: tuple[Instead, ...]
    drawings: tuple[DrawnDrill, ...]
    origin: str = Origin.HOUSE


def drill_view(
    drill: Drill,
    /,
    *,
    book: DrillBook,
    target: Target | None = None,
    fault: Fault | None = None,
) -> DrillView:
    """Put a drill into words and drawings.

    Parameters
    ----------
    drill : Drill
    book : DrillBook
        Where the drill that is taken instead is looked up.
    target : Target, optional
        Whom it is drawn for; without one there are no drawings.
    fault : Fault, optional
        The finding it is given for; the drill's own first one when left out.
    """
    return DrillView(
        id=drill.id,
        title=drill.title,
        purpose=drill.purpose,
        needs=drill.needs,
        steps=drill.steps,
        feel=drill.feel,
        self_check=drill.self_check,
        dose=drill.dose,
        caution=drill.caution,
        level=LEVELS[drill.level],
        easier=drill.easier,
        harder=drill.harder,
        serves=_serves(drill.serves),
        instead=tuple(_instead(limit, name, book=book) for limit, name in drill.not_with.items()),
        drawings=_drawings(drill, target=target, fault=fault),
        origin=drill.origin,
    )


def _serves(faults: Sequence[Fault]) -> tuple[tuple[str, str], ...]:
    sides: dict[str, list[str]] = {}
    for fault in faults:
        sides.setdefault(fault.measure, []).append(fault.side.value)
    return tuple((MEASURES[name].title, " or ".join(found)) for name, found in sides.items())


def _instead(limit: BodyLimit, name: str, *, book: DrillBook) -> Instead:
    other = book.get(name)
    return Instead(who=limit.words, id=name, title=other.title if other is not None else name)


def _drawings(
    drill: Drill, *, target: Target | None, fault: Fault | None
) -> tuple[DrawnDrill, ...]:
    if target is None:
        return ()
    shown = fault if fault in drill.serves else next(iter(drill.serves), None)
    drawn = []
    for drawing in drill.drawings:
        try:
            drawn.append(
                draw(drawing, target.plan, hand=target.hand, fault=shown, title=drill.title)
            )
        except EstimationError:  # the fault can't be shown; the target still can
            drawn.append(draw(drawing, target.plan, hand=target.hand, title=drill.title))
    return tuple(drawn)


def first_drill_drawn(assessment: Assessment, /) -> DrawnDrill | None:
    """One drawing of the first change's drill, from the assessed student's own target."""
    advice = assessment.advice
    plan = assessment.stand.plan if assessment.stand is not None else None
    if advice.first is None or advice.drill is None or plan is None:
        return None
    target = Target(plan=plan, hand=assessment.hand)
    drawings = sorted(advice.drill.drawings, key=lambda each: not each.fault)[:1]
    shown = evolve(advice.drill, drawings=tuple(drawings))
    drawn = _drawings(shown, target=target, fault=advice.first.fault)
    return drawn[0] if drawn else None
