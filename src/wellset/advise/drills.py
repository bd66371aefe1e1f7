"""Drills: what each is for, how it is done, and which one a finding brings up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from types import MappingProxyType

from attrs import field, frozen

from wellset.advise.drill_drawing import Drawing
from wellset.advise.words import Side
from wellset.measures import MEASURES


class BodyLimit(StrEnum):
    """What of a student asks for care."""

    BACK = "back"
    HIP = "hip"
    KNEE = "knee"
    SHOULDER = "shoulder"
    BALANCE = "balance"

    @property
    def words(self) -> str:
        """As it is said to a coach."""
        return "unsteady feet" if self is BodyLimit.BALANCE else f"a stiff or sore {self}"


class Level(StrEnum):
    """How much a drill asks of the student."""

    EASY = "easy"
    MIDDLE = "middle"
    HARD = "hard"


class Origin(StrEnum):
    """Whose drill it is."""

    HOUSE = "house"
    EDITED = "edited"
    OWN = "own"


@frozen(kw_only=True, order=True)
class Fault:
    """A finding as a drill knows it: a measure beyond one side of its window."""

    measure: str
    side: Side

    @property
    def name(self) -> str:
        """As the document writes it: ``stance_width low``."""
        return f"{self.measure} {self.side}"

    @property
    def words(self) -> str:
        """In a coach's words: ``Stance width, low``."""
        return f"{MEASURES[self.measure].title}, {self.side}"


ALL_FAULTS = tuple(Fault(measure=name, side=side) for name in MEASURES for side in Side)
"""Every finding there can be, in the order of the catalogue."""


def _frozen(limits: Mapping[BodyLimit, str]) -> Mapping[BodyLimit, str]:
    return MappingProxyType(dict(limits))


@frozen(kw_only=True)
class Drill:
    """An exercise a student can do alone or with the coach.

    Parameters
    ----------
    id : str
    title, purpose, feel, self_check, dose, caution : str
        `purpose` says why it works, `feel` what the student feels when it does, `self_check`
        how the student sees it alone, `dose` how often.
    steps : tuple of str
    needs : tuple of str
        What is wanted for it.
    level : Level
    easier, harder : str
        A variation, or ``""``.
    first_for : tuple of Fault
        Findings that bring it up by themselves.
    also_for : tuple of Fault
        Findings it helps as well.
    not_with : mapping of BodyLimit to str
        What makes it unfit, and the drill to take instead.
    drawings : tuple of Drawing
    caution_kind : str
        The document's name of the caution.
    origin : Origin
    """

    id: str
    title: str
    purpose: str
    steps: tuple[str, ...]
    self_check: str
    dose: str
    caution: str
    needs: tuple[str, ...] = ()
    feel: str = ""
    level: Level = Level.EASY
    easier: str = ""
    harder: str = ""
    first_for: tuple[Fault, ...] = ()
    also_for: tuple[Fault, ...] = ()
    not_with: Mapping[BodyLimit, str] = field(factory=dict, converter=_frozen)
    drawings: tuple[Drawing, ...] = ()
    caution_kind: str = "general"
    origin: Origin = Origin.HOUSE

    @property
    def serves(self) -> tuple[Fault, ...]:
        """Every finding it helps."""
        return (*self.first_for, *self.also_for)

    @property
    def measures(self) -> tuple[str, ...]:
        """Measures it helps, each once."""
        return tuple(dict.fromkeys(fault.measure for fault in self.serves))

    def fits(self, limits: frozenset[BodyLimit], /) -> bool:
        """Whether nothing of the student makes it unfit."""
        return not self.not_with.keys() & limits

    def text(self) -> str:
        """Everything the student reads, a sentence or more for each part."""
        parts = (self.purpose, *self.steps, self.feel, self.self_check, self.dose, self.caution)
        return " ".join(part for part in (*parts, self.easier, self.harder) if part)


@frozen(kw_only=True)
class DrillBook:
    """All drills a coach works with.

    Parameters
    ----------
    name : str
    drills : tuple of Drill
        Shown ones; the coach's own come first.
    hidden : tuple of Drill
    cautions : mapping of str to str
        Sentences by the names that drills give.
    """

    name: str
    drills: tuple[Drill, ...]
    hidden: tuple[Drill, ...] = ()
    cautions: Mapping[str, str] = field(factory=dict)

    def __iter__(self) -> Iterator[Drill]:
        return iter(self.drills)

    def get(self, drill_id: str, /) -> Drill | None:
        """A drill by its id, hidden ones too: homework may still name one."""
        return next((d for d in (*self.drills, *self.hidden) if d.id == drill_id), None)

    def serving(self, fault: Fault, /) -> tuple[Drill, ...]:
        """Drills for a finding: those it brings up by itself first."""
        first = [d for d in self.drills if fault in d.first_for]
        return (*first, *(d for d in self.drills if fault in d.also_for))

    def for_measure(self, measure: str, /) -> tuple[Drill, ...]:
        """Drills for a measure, low or high."""
        found = (d for side in Side for d in self.serving(Fault(measure=measure, side=side)))
        firsts_first = sorted(found, key=lambda d: measure not in {f.measure for f in d.first_for})
        return tuple({drill.id: drill for drill in firsts_first}.values())

    def suited(
        self, fault: Fault, /, *, limits: frozenset[BodyLimit] = frozenset()
    ) -> Drill | None:
        """The drill for a finding that suits a student; ``None`` when none does.

        Where the first one is unfit, the one it names instead is taken, then the next.
        """
        for drill in self.serving(fault):
            if drill.fits(limits):
                return drill
            for limit in sorted(drill.not_with.keys() & limits):
                instead = self.get(drill.not_with[limit])
                if instead in self.drills and instead is not None and instead.fits(limits):
                    return instead
        return None
