"""Every measure judged against its window, in the order of checking, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import frozen

from wellset.advise.conformity import Judgement, Verdict, judge
from wellset.advise.display import window_text, with_interval
from wellset.advise.drills import Drill, Fault
from wellset.advise.drills_document import house_book
from wellset.advise.settled import Settling
from wellset.advise.words import Side, words
from wellset.errors import InputError
from wellset.measures import MEASURES, Measured, MeasureResult, NotMeasurable, Unit
from wellset.standards import Decision, Window
from wellset.units import UnitSystem

_DIRECTION = {Side.LOW: "below", Side.HIGH: "above"}


@frozen(kw_only=True)
class Finding:
    """One measure judged against its standard.

    Parameters
    ----------
    measure, title : str
        Id and name in a coach's words.
    verdict : Verdict
        ``undecided`` also when there is no number at all.
    result : Measured or NotMeasurable
    window : Window
    judgement : Judgement or None
        ``None`` when there is no number.
    for_coach, for_student : str
        Whole sentences.
    order : int
        Place in the order of checking.
    settling : Settling or None
        What would settle an undecided one, where that was worked out.
    """

    measure: str
    title: str
    verdict: Verdict
    result: MeasureResult
    window: Window
    judgement: Judgement | None
    for_coach: str
    for_student: str
    order: int
    settling: Settling | None = None

    @property
    def measured(self) -> bool:
        """Whether the pictures gave a number."""
        return isinstance(self.result, Measured)

    @property
    def unit(self) -> Unit:
        """The measure's published unit."""
        return self.window.unit

    @property
    def probability_inside(self) -> float | None:
        """Probability that the true value is inside; ``None`` without a number."""
        return self.judgement.probability_inside if self.judgement else None

    @property
    def side(self) -> Side | None:
        """The limit passed, or leant to when undecided; ``None`` inside or unmeasured."""
        return self.judgement.side if self.judgement else None

    @property
    def amount_out(self) -> float | None:
        """How far beyond that limit, published unit; negative while within it."""
        return self.judgement.amount_out if self.judgement else None

    @property
    def amount_interval95(self) -> tuple[float, float] | None:
        """The 95 % interval of `amount_out`."""
        return self.judgement.amount_interval95 if self.judgement else None

    @property
    def severity(self) -> float:
        """Distance beyond the limit in half-widths of the window; 0 inside or unmeasured."""
        return self.judgement.severity if self.judgement else 0.0

    @property
    def drill(self) -> Drill | None:
        """The house drill for an outside finding, for a student without limits."""
        return house_book().suited(self.fault) if self.fault is not None else None

    @property
    def fault(self) -> Fault | None:
        """What drills are chosen by; ``None`` unless it is outside."""
        if self.verdict is not Verdict.OUTSIDE or self.side is None:
            return None
        return Fault(measure=self.measure, side=self.side)

    @property
    def settle(self) -> str:
        """What would settle an undecided finding; empty for a decided one."""
        if self.verdict is not Verdict.UNDECIDED:
            return ""
        result = self.result
        if isinstance(result, NotMeasurable) and (self.settling is None or not self.settling.step):
            return result.fix
        return self.settling.words if self.settling is not None else ""


def findings(
    measures: Mapping[str, MeasureResult],
    windows: Sequence[Window],
    *,
    units: UnitSystem = UnitSystem.CENTIMETRES,
    decision: Decision | None = None,
) -> tuple[Finding, ...]:
    """Judge every window, in the order of checking.

    Parameters
    ----------
    measures : mapping of id to Measured or NotMeasurable
    windows : sequence of Window
        From :meth:`wellset.standards.Standards.windows_for`.
    units : UnitSystem
        The coach's unit of length, for the sentences.
    decision : Decision, optional
        The standards' thresholds; the default ones where left out.

    Raises
    ------
    InputError
        A window whose measure has no result at all.
    """
    rule = decision or Decision()
    found = []
    for window in sorted(windows, key=lambda each: each.order):
        if window.measure not in measures:
            raise InputError(
                "Cannot judge the set-up",
                why=f"there is a window for {window.measure} but no result.",
                fix="Give a number, or the reason why there is none.",
            )
        result = measures[window.measure]
        if isinstance(result, NotMeasurable):
            found.append(_unmeasured(result, window, units=units))
        else:
            found.append(_judged(result, window, units=units, decision=rule))
    return tuple(found)


def _unmeasured(result: NotMeasurable, window: Window, *, units: UnitSystem) -> Finding:
    title = MEASURES[window.measure].title
    return Finding(
        measure=window.measure,
        title=title,
        verdict=Verdict.UNDECIDED,
        result=result,
        window=window,
        judgement=None,
        for_coach=f"{title}: no number. {_sentence(result.why)} {_sentence(result.fix)} "
        f"Window {window_text(window, units=units)}.",
        for_student="We could not see this in the pictures. Leave it as it is for now.",
        order=window.order,
    )


def _judged(result: Measured, window: Window, *, units: UnitSystem, decision: Decision) -> Finding:
    measure = MEASURES[window.measure]
    judgement = judge(result, window, decision=decision, open_scale=measure.useful_sd)
    return Finding(
        measure=window.measure,
        title=measure.title,
        verdict=judgement.verdict,
        result=result,
        window=window,
        judgement=judgement,
        for_coach=_for_coach(result, window, judgement=judgement, units=units),
        for_student=_for_student(window.measure, judgement),
        order=window.order,
    )


def _for_coach(result: Measured, window: Window, *, judgement: Judgement, units: UnitSystem) -> str:
    value = with_interval(result.value, unit=window.unit, units=units, sd=result.sd)
    head = (
        f"{MEASURES[window.measure].title} {value}, window {window_text(window, units=units)}: "
        f"{judgement.verdict.value}."
    )
    if judgement.verdict is Verdict.INSIDE:
        return head
    texts = words()[window.measure]
    if judgement.side is None or judgement.verdict is Verdict.UNDECIDED:
        return f"{head} {_cannot_tell(judgement)}"
    by = with_interval(judgement.amount_out, unit=window.unit, units=units, sd=judgement.amount_sd)
    where = f"It lies {by} {_DIRECTION[judgement.side]} the window."
    return f"{head} {where} {texts.sides[judgement.side].coach}"


def _cannot_tell(judgement: Judgement) -> str:
    if not judgement.can_be_inside:
        return (
            "The pictures can't tell: the window is narrow for what they show, so that even a "
            f"value in its middle would be inside with only {percent(judgement.best_possible)}."
        )
    chance = percent(judgement.probability_inside)
    return f"The pictures can't tell: it is inside with a probability of {chance}."


def _for_student(measure: str, judgement: Judgement) -> str:
    texts = words()[measure]
    if judgement.verdict is Verdict.INSIDE:
        return texts.fine
    if judgement.verdict is Verdict.UNDECIDED or judgement.side is None:
        return "The pictures do not show this clearly enough. Leave it as it is for now."
    return texts.sides[judgement.side].student


def percent(probability: float) -> str:
    """A probability for reading; never a flat 0 or 100, which would claim certainty."""
    if probability < 0.01:
        return "under 1 %"
    return "over 99 %" if probability > 0.99 else f"{100 * probability:.0f} %"


def _sentence(text: str) -> str:
    clean = text.strip()
    return clean if not clean or clean[-1] in ".!?" else f"{clean}."
