"""A drill as a form holds it, and what the form makes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from attrs import field, frozen

from wellset.advise import (
    Arms,
    BodyLimit,
    Drill,
    DrillBook,
    Fault,
    Level,
    Prop,
    Seen,
    Side,
    reading_age,
)
from wellset.measures import MEASURES
from wellset.reports.drill_view import LEVELS
from wellset.web.choices import Options
from wellset.web.forms import Form

DRAWINGS: Final = 3
PROPS: Final = 4

SEEN: Final[Options] = (
    ("", "no drawing"),
    *((seen.value, "from above" if seen is Seen.ABOVE else f"from the {seen}") for seen in Seen),
)
ARMS: Final[Options] = tuple((arms.value, arms.words) for arms in Arms)
HELPS: Final[Options] = (("", "no"), ("also", "helps"), ("first", "comes up by itself"))
LEVEL: Final[Options] = tuple((level.value, LEVELS[level]) for level in Level)


def _props() -> Options:
    seen = {prop: " or ".join(each for each in Seen if each in prop.views) for prop in Prop}
    return (("", "nothing"), *((p.value, f"{p.words} ({seen[p]})") for p in Prop))


PROP: Final[Options] = _props()


@frozen(kw_only=True)
class Offered:
    """What the form offers to choose from.

    Parameters
    ----------
    measures : Options
    sides : tuple of str
    helps, seen, arms, props, levels, cautions, limits, drills : Options
    """

    measures: Options
    sides: tuple[str, ...]
    helps: Options
    seen: Options
    arms: Options
    props: Options
    levels: Options
    cautions: Options
    limits: Options
    drills: Options


def offered(book: DrillBook, /) -> Offered:
    """What there is to choose from, with the drills of a book."""
    return Offered(
        measures=tuple((name, measure.title) for name, measure in MEASURES.items()),
        sides=tuple(side.value for side in Side),
        helps=HELPS,
        seen=SEEN,
        arms=ARMS,
        props=PROP,
        levels=LEVEL,
        cautions=tuple((name, name) for name in book.cautions),
        limits=tuple((limit.value, limit.words) for limit in BodyLimit),
        drills=(("", "suits"), *((d.id, f"take “{d.title}”") for d in book)),
    )


@frozen(kw_only=True)
class PropEntry:
    """What is placed, and the words beside it."""

    prop: str = ""
    words: str = ""


@frozen(kw_only=True)
class DrawingEntry:
    """One drawing as a form holds it."""

    seen: str = ""
    arms: str = Arms.CLUB.value
    fault: bool = False
    caption: str = ""
    props: tuple[PropEntry, ...] = (PropEntry(),) * PROPS


@frozen(kw_only=True)
class DrillEntry:
    """A drill as a form holds it: everything as typed.

    Parameters
    ----------
    title, purpose, needs, steps, feel, check, dose, caution, level, easier, harder : str
        Needs and steps one on each line.
    helps : mapping of finding name to str
        ``first``, ``also`` or ``""``.
    instead : mapping of limit to drill id
    drawings : tuple of DrawingEntry
    """

    title: str = ""
    purpose: str = ""
    needs: str = ""
    steps: str = ""
    feel: str = ""
    check: str = ""
    dose: str = ""
    caution: str = "general"
    level: str = Level.EASY.value
    easier: str = ""
    harder: str = ""
    helps: Mapping[str, str] = field(factory=dict)
    instead: Mapping[str, str] = field(factory=dict)
    drawings: tuple[DrawingEntry, ...] = (DrawingEntry(),) * DRAWINGS

    @property
    def age(self) -> int:
        """From which age the text is read with ease; 0 for an empty one."""
        lines = (self.purpose, *self.steps.splitlines(), self.feel, self.check, self.dose)
        whole = " ".join(line.strip() for line in lines if line.strip())
        return round(reading_age(whole)) if whole else 0


def entry_for(drill: Drill, /) -> DrillEntry:
    """A kept drill for the form."""
    drawings = [
        DrawingEntry(
            seen=each.seen.value,
            arms=each.arms.value,
            fault=each.fault,
            caption=each.caption,
            props=_padded([PropEntry(prop=p.value, words=w) for p, w in each.props.items()]),
        )
        for each in drill.drawings[:DRAWINGS]
    ]
    helps = {fault.name: "also" for fault in drill.also_for}
    helps |= {fault.name: "first" for fault in drill.first_for}
    return DrillEntry(
        title=drill.title,
        purpose=drill.purpose,
        needs="\n".join(drill.needs),
        steps="\n".join(drill.steps),
        feel=drill.feel,
        check=drill.self_check,
        dose=drill.dose,
        caution=drill.caution_kind,
        level=drill.level.value,
        easier=drill.easier,
        harder=drill.harder,
        helps=helps,
        instead={limit.value: name for limit, name in drill.not_with.items()},
        drawings=(*drawings, *((DrawingEntry(),) * (DRAWINGS - len(drawings)))),
    )


def _padded(props: list[PropEntry]) -> tuple[PropEntry, ...]:
    return (*props[:PROPS], *((PropEntry(),) * (PROPS - len(props))))


def entry_from(form: Form, /) -> DrillEntry:
    """What was typed."""
    return DrillEntry(
        title=form.text("title"),
        purpose=form.text("purpose"),
        needs=form.text("needs"),
        steps=form.text("steps"),
        feel=form.text("feel"),
        check=form.text("check"),
        dose=form.text("dose"),
        easier=form.text("easier"),
        harder=form.text("harder"),
        caution=form.text("caution") or "general",
        level=form.text("level") or Level.EASY.value,
        helps={name.replace("-", " "): text for name, text in form.starting("helps_")},
        instead=dict(form.starting("instead_")),
        drawings=tuple(_drawing(form, i) for i in range(DRAWINGS)),
    )


def _drawing(form: Form, number: int) -> DrawingEntry:
    at = f"d{number}_"
    return DrawingEntry(
        seen=form.text(f"{at}from"),
        arms=form.text(f"{at}arms") or Arms.CLUB.value,
        fault=form.ticked(f"{at}fault"),
        caption=form.text(f"{at}caption"),
        props=tuple(
            PropEntry(prop=form.text(f"{at}prop{k}"), words=form.text(f"{at}words{k}"))
            for k in range(PROPS)
        ),
    )


def typed_drill(entry: DrillEntry, /) -> dict[str, object]:
    """The entry of the drill document that was typed; checked when it is kept."""
    order = [Fault(measure=name, side=side).name for name in MEASURES for side in Side]
    parts: dict[str, object] = {
        "title": _line(entry.title),
        "purpose": _line(entry.purpose),
        "first_for": [name for name in order if entry.helps.get(name) == "first"],
        "also_for": [name for name in order if entry.helps.get(name) == "also"],
        "needs": _lines(entry.needs),
        "steps": _lines(entry.steps),
        "feel": _line(entry.feel),
        "check": _line(entry.check),
        "dose": _line(entry.dose),
        "caution": entry.caution,
        "level": entry.level,
        "easier": _line(entry.easier),
        "harder": _line(entry.harder),
        "not_with": {limit: name for limit, name in entry.instead.items() if name},
        "drawings": [
            {
                "from": each.seen,
                "arms": each.arms,
                "props": {p.prop: _line(p.words) for p in each.props if p.prop},
                "fault": each.fault,
                "caption": _line(each.caption),
            }
            for each in entry.drawings
            if each.seen
        ],
    }
    return {name: part for name, part in parts.items() if part not in ("", [], {})}


def _lines(text: str) -> list[str]:
    return [_line(line) for line in text.splitlines() if line.strip()]


def _line(text: str) -> str:
    return " ".join(text.split())
