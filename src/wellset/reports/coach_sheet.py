"""The coach's sheet: all measures of a kept assessment, with ranges, windows and versions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from attrs import frozen

from wellset.advise import Side, change_words, percent, words
from wellset.figure.ground import GroundKind, OnTheGround
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, MEASURES, Measured, Unit
from wellset.reports.cautions import CAUTIONS
from wellset.reports.contract import (
    AdvicePart,
    AssessmentDocument,
    FindingPart,
    GroundPart,
    MeasuredValue,
    PhonePart,
    Withheld,
)
from wellset.reports.hand_measures import day_words
from wellset.reports.lesson_sheet import LessonFacts, lesson_sheet
from wellset.reports.lesson_sheet_model import LessonSheet
from wellset.reports.on_the_ground import ground_words
from wellset.reports.plan_contract import ClubPlan
from wellset.reports.rows import source_row
from wellset.reports.words import (
    SPACE,
    give_or_take,
    half_text,
    meaning_of_plus,
    number,
    places_of,
    spread_text,
    unit_words,
    window_text,
)
from wellset.units import UnitSystem, format_feet_inches, format_length

UNITS: Final = {unit.value: unit for unit in Unit}
_KINDS: Final = {"first_change": "Change first", "next": "Later", "keep": "Keep"}
_OUTLOOKS: Final = ("The range would", "This helps most", "That would give")
"""How the sentence on a range begins, behind what there is to do (``settling.yaml``)."""
_SIDE: Final = {"low": "below", "high": "above"}
_VIEW: Final = {"face_on": "face-on", "down_the_line": "down-the-line"}


@frozen(kw_only=True)
class CoachRow:
    """One measure: name, value, range, window, verdict, chance, main source, plan."""

    title: str
    plus: str
    value: str
    interval: str
    window: str
    verdict: str
    chance: str
    source: str
    plan: str


@frozen(kw_only=True)
class Said:
    """Something with a title."""

    title: str
    words: str


@frozen(kw_only=True, eq=False)
class CoachSheet:
    """A whole coach's sheet.

    Parameters
    ----------
    student : LessonSheet
        What the student is given; its pictures are shown.
    facts : tuple of (name, value)
    first : tuple of Said
        The first change with its reason, or why there is none.
    rows : tuple of CoachRow
        Judged measures in the order of checking.
    plain : tuple of CoachRow
        Measured ones without a window.
    missing : tuple of Said
        Measures without a number, and why.
    settling : tuple of Said
        What would settle what is undecided.
    phones, notes : tuple of Said
    homework : tuple of Said
    cautions : tuple of str
    versions : tuple of (name, value)
    """

    student: LessonSheet
    facts: tuple[tuple[str, str], ...]
    first: tuple[Said, ...]
    rows: tuple[CoachRow, ...]
    plain: tuple[CoachRow, ...]
    missing: tuple[Said, ...]
    settling: tuple[Said, ...]
    phones: tuple[Said, ...]
    notes: tuple[Said, ...]
    homework: tuple[Said, ...]
    cautions: tuple[str, ...]
    versions: tuple[tuple[str, str], ...]


def coach_sheet(
    document: AssessmentDocument,
    /,
    *,
    facts: LessonFacts | None = None,
    plan: ClubPlan | None = None,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> CoachSheet:
    """Put a kept assessment into rows for the coach; see :func:`lesson_sheet`."""
    told = facts or LessonFacts()
    judged: dict[str, FindingPart | None] = {each.measure: each for each in document.findings}
    return CoachSheet(
        student=lesson_sheet(document, facts=told, plan=plan, units=units),
        facts=_facts(document, told, units=units),
        first=_first(document, units=units),
        rows=_rows(document, judged, plan=plan, units=units),
        plain=_rows(
            document,
            {name: None for name in document.measures if name not in judged},
            plan=plan,
            units=units,
        ),
        missing=tuple(
            Said(
                title=_title(name), words=f"{result.not_measurable.why} {result.not_measurable.fix}"
            )
            for name, result in document.measures.items()
            if isinstance(result, Withheld)
        ),
        settling=_settling(document, units=units),
        phones=tuple(
            Said(title=_VIEW[view], words=_phone(part.phone, units=units))
            for view, part in document.pictures.items()
        ),
        notes=_notes(document),
        homework=tuple(
            Said(
                title=each.drill.title if each.drill else "Homework",
                words=_homework(each.words, each.dose),
            )
            for each in told.homework
        ),
        cautions=CAUTIONS,
        versions=(
            ("Program", document.versions.program),
            ("Standards", document.versions.standards),
            ("Tables", ", ".join(document.versions.tables)),
            *((("Plan", f"{plan.club}, {plan.shot}"),) if plan is not None else ()),
        ),
    )


def _title(name: str) -> str:
    return MEASURES[name].title if name in MEASURES else name.replace("_", " ")


def _homework(words: str, dose: str) -> str:
    return f"{words} ({dose})" if dose else words


def _facts(
    document: AssessmentDocument, told: LessonFacts, *, units: UnitSystem
) -> tuple[tuple[str, str], ...]:
    club, stature = document.club, document.student.stature_m
    assumed = " (assumed)" if club.length_source.startswith("assumed") else ""
    tall = (
        format_feet_inches(stature)
        if units is UnitSystem.INCHES
        else format_length(stature, system=units, sd=0.01)
    )
    length = f"{format_length(club.length_m, system=units)} long{assumed}"
    pairs = (
        ("Student", told.name or document.student.name or "not named"),
        ("Day", day_words(told.day) if told.day else ""),
        ("Club", f"{club.name}, {length}, lie {club.lie_deg:.0f}°"),
        ("Kind of shot", document.shot.replace("_", " ")),
        ("Height", tall),
        ("Stands", f"{document.hand}-handed"),
        ("Pictures", " and ".join(_VIEW[view] for view in document.pictures)),
        ("On the ground", _ground(document.on_the_ground)),
        ("Take care", " ".join(told.take_care.split())),
    )
    return tuple((name, words) for name, words in pairs if words)


def _ground(things: tuple[GroundPart, ...]) -> str:
    return ground_words(
        [
            OnTheGround(
                kind=GroundKind(each.kind),
                view=View(each.view),
                lies=each.lies,
                used=each.used,
                why=each.why,
            )
            for each in things
        ]
    )


def _first(document: AssessmentDocument, *, units: UnitSystem) -> tuple[Said, ...]:
    findings = {each.measure: each for each in document.findings}
    said = [
        Said(
            title=f"{_KINDS[part.kind]}: {_title(part.measure)}",
            words=" ".join(
                _advised(part, document, finding=findings.get(part.measure), units=units)
            ),
        )
        for part in document.advice
        if part.measure in MEASURES
    ]
    if not any(part.kind == "first_change" for part in document.advice):
        none = Said(title="Change first: nothing", words="Nothing is surely outside its window.")
        said.insert(0, none)
    return tuple(said)


def _advised(
    part: AdvicePart,
    document: AssessmentDocument,
    *,
    finding: FindingPart | None,
    units: UnitSystem,
) -> Iterator[str]:
    """What was measured and wanted, what that looks like, why it comes first, and the drill."""
    measured, unit = _measured(part.measure, document), MEASURES[part.measure].unit
    if measured is not None and finding is not None:
        window = _window(finding, unit=unit, units=units)
        yield f"{give_or_take(measured, units)}, window {window}: {_verdict(finding)}."
    if finding is not None and finding.side is not None and part.kind != "keep":
        yield words()[part.measure].sides[Side(finding.side)].coach
    if part.kind == "first_change":
        yield _reason(part, unit=unit, units=units)
    if part.drill is not None:
        yield f"Drill: {part.drill.title}."


def _reason(part: AdvicePart, *, unit: Unit, units: UnitSystem) -> str:
    """The computed reason in the coach's units; as written where nothing was computed."""
    if part.amount is None:
        return part.reason
    told = change_words()[part.measure]
    shown = unit_words(unit, units)
    size = number(abs(part.amount) * shown.factor, 0 if shown.factor == 1 else 1) + shown.sign
    what = (told.up if part.amount > 0 else told.down).format(a=size)
    right = ", ".join(change_words()[name].right for name in part.right)
    follows = f" With it: {right}." if right else " No other check comes right by itself."
    return f"{what[0].upper()}{what[1:]}.{follows}"


def _settling(document: AssessmentDocument, *, units: UnitSystem) -> tuple[Said, ...]:
    """What would settle what is undecided, each thing to do once."""
    groups: dict[str, list[str]] = {}
    for each in document.findings:
        if each.settle:
            groups.setdefault(_to_do(each.settle), []).append(_outlook(each, units=units))
    return tuple(Said(title="", words=f"{what} {'; '.join(who)}.") for what, who in groups.items())


def _to_do(settle: str) -> str:
    """What to do, without what it would do to one range."""
    for opening in _OUTLOOKS:
        settle = settle.split(f" {opening}", maxsplit=1)[0]
    return settle


def _outlook(finding: FindingPart, *, units: UnitSystem) -> str:
    settling, title = finding.settling, _title(finding.measure)
    if settling is None or not settling.step:
        return title
    unit = MEASURES[finding.measure].unit
    then = half_text(COVERAGE_FACTOR * settling.sd_then, unit=unit, system=units)
    chance = percent(settling.chance).replace(" ", SPACE)
    return f"{title} to about {then}, decided with a chance of {chance}"


def _measured(name: str, document: AssessmentDocument) -> Measured | None:
    result = document.measures.get(name)
    if not isinstance(result, MeasuredValue):
        return None
    return Measured(
        measure=name,
        value=result.value,
        sd=result.sd,
        unit=UNITS[result.unit],
        budget=dict(result.budget),
    )


def _rows(
    document: AssessmentDocument,
    found: Mapping[str, FindingPart | None],
    *,
    plan: ClubPlan | None,
    units: UnitSystem,
) -> tuple[CoachRow, ...]:
    measured = {name: _measured(name, document) for name in found if name in MEASURES}
    return tuple(
        _row(result, found[name], plan=plan, units=units)
        for name, result in measured.items()
        if result is not None
    )


def _row(
    result: Measured, finding: FindingPart | None, *, plan: ClubPlan | None, units: UnitSystem
) -> CoachRow:
    low, high = result.interval95
    chance = finding.probability_inside if finding is not None else None
    return CoachRow(
        title=_title(result.measure),
        plus=meaning_of_plus(result.measure),
        value=give_or_take(result, units),
        interval=window_text(low, high, unit=result.unit, system=units),
        window=_window(finding, unit=result.unit, units=units),
        verdict=_verdict(finding),
        chance="" if chance is None else percent(chance).replace(" ", SPACE),
        source=source_row(result, units=units).main,
        plan=_planned(result, plan, units=units),
    )


def _planned(result: Measured, plan: ClubPlan | None, *, units: UnitSystem) -> str:
    planned = plan.measures.get(result.measure) if plan is not None else None
    if planned is None:
        return ""
    shown = unit_words(result.unit, units)
    return number(planned.value * shown.factor, places_of(None, unit=result.unit, system=units)) + (
        shown.sign
    )


def _window(finding: FindingPart | None, *, unit: Unit, units: UnitSystem) -> str:
    if finding is None:
        return "none"
    return window_text(finding.window.low, finding.window.high, unit=unit, system=units)


def _verdict(finding: FindingPart | None) -> str:
    if finding is None:
        return ""
    beside = f", {_SIDE[finding.side]}" if finding.verdict == "outside" and finding.side else ""
    return f"{finding.verdict}{beside}"


def _phone(phone: PhonePart, *, units: UnitSystem) -> str:
    parts = []
    for title, held in (
        ("height", phone.height),
        ("distance", phone.distance),
        ("off the square line", phone.sideways),
        ("aim", phone.aim),
        ("tilt", phone.tilt),
        ("roll", phone.roll),
    ):
        half = (held.interval95[1] - held.interval95[0]) / 2
        text = spread_text(held.value, half, unit=UNITS[held.unit], system=units)
        parts.append(f"{title} {text}{' (change)' if held.standing == 'change' else ''}")
    return f"{', '.join(parts)}. {phone.advice}".strip()


def _notes(document: AssessmentDocument) -> tuple[Said, ...]:
    notes = [*document.notes]
    for view, part in document.pictures.items():
        notes += [
            each.model_copy(update={"where": each.where or _VIEW[view]}) for each in part.notes
        ]
    return tuple(
        dict.fromkeys(
            Said(title=each.where, words=f"{each.message} {each.remedy}".strip()) for each in notes
        )
    )
