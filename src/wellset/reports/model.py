"""A report as words, rounded numbers and drawings: every renderer shows the same.

Nothing here is computed when it is shown, so the page, the text of the command line and
a printed report cannot disagree.
"""

from __future__ import annotations

from attrs import frozen

from wellset.reports.drill_svg import DrawnDrill
from wellset.reports.marks import Drawing
from wellset.reports.stand_here import StandModel


@frozen(kw_only=True)
class DrillWords:
    """An exercise: `self_check` is how the student sees that it worked.

    `drawn` is one drawing of the student's own target, where it could be worked out.
    """

    title: str
    purpose: str
    steps: tuple[str, ...]
    self_check: str
    dose: str
    caution: str
    needs: tuple[str, ...] = ()
    feel: str = ""
    drawn: DrawnDrill | None = None


@frozen(kw_only=True)
class Change:
    """One correction, or something to leave.

    Parameters
    ----------
    measure, title : str
        Id, and the name in a coach's words.
    what : str
        The correction, in a sentence for the coach.
    why : str
        Why this one, or why now.
    for_student : str
    drill : DrillWords or None
    value, window : str
        What was measured and what is wanted.
    """

    measure: str
    title: str
    what: str
    why: str
    for_student: str
    drill: DrillWords | None
    value: str
    window: str


@frozen(kw_only=True)
class Scale:
    """A small scale: places along it from 0 to 1.

    ``window_*`` are ``None`` at an open end.
    """

    window_low: float | None
    window_high: float | None
    low: float
    high: float
    value: float
    words: str


@frozen(kw_only=True)
class Row:
    """One measure judged against its window.

    Parameters
    ----------
    verdict : str
        ``inside``, ``outside`` or ``undecided``.
    verdict_note : str
        Side, and probability that the true value is inside.
    reason : str
        Why the window is as it is, and where it comes from.
    """

    measure: str
    title: str
    value: str
    in_brackets: str
    plus: str
    window: str
    window_as_written: str
    reason: str
    verdict: str
    verdict_note: str
    sentence: str
    scale: Scale | None


@frozen(kw_only=True)
class PlainRow:
    """A measure without a window."""

    measure: str
    title: str
    value: str
    plus: str
    definition: str


@frozen(kw_only=True)
class Missing:
    """A measure the pictures do not give."""

    measure: str
    title: str
    why: str


@frozen(kw_only=True)
class MissingGroup:
    """Measures that one remedy would give."""

    fix: str
    items: tuple[Missing, ...]


@frozen(kw_only=True)
class Decided:
    """An undecided check, and what a remedy would do to its range; empty for nothing."""

    measure: str
    title: str
    outlook: str


@frozen(kw_only=True)
class Remedy:
    """What would decide some undecided checks, and which."""

    what: str
    items: tuple[Decided, ...]


@frozen(kw_only=True)
class SourceRow:
    """How sure a measure is, and what that comes from."""

    measure: str
    title: str
    sd: str
    main: str
    others: str


@frozen(kw_only=True)
class NoteLine:
    """Something a coach should know about a picture or the whole."""

    where: str
    message: str
    remedy: str


@frozen(kw_only=True)
class CorrectedPoint:
    """A point a coach corrected: how far, and whether the network allowed for it."""

    title: str
    moved: str
    beyond: str


@frozen(kw_only=True)
class MovedRow:
    """One measure without and with the corrections."""

    measure: str
    title: str
    before: str
    after: str
    change: str
    sds: str
    verdict: str


@frozen(kw_only=True)
class CorrectionWords:
    """What a coach's corrections changed."""

    summary: str
    points: tuple[CorrectedPoint, ...]
    sticks: tuple[str, ...]
    rows: tuple[MovedRow, ...]


@frozen(kw_only=True)
class PlateRow:
    """One measure as pictures and plate say it; `together` is empty when they disagree."""

    measure: str
    title: str
    pictures: str
    plate: str
    together: str


@frozen(kw_only=True)
class PlateWords:
    """What a pressure plate said, and whether the pictures agree."""

    summary: str
    rows: tuple[PlateRow, ...]
    verdict: str


@frozen(kw_only=True)
class PhoneRow:
    """One quantity of a phone: ``standing`` is ``fine``, ``change`` or ``unsure``."""

    title: str
    sign: str
    value: str
    good: str
    standing: str


@frozen(kw_only=True)
class PhoneModel:
    """How one phone was held, and what to do about it next time."""

    title: str
    summary: str
    change: bool
    rows: tuple[PhoneRow, ...]


@frozen(kw_only=True, eq=False)
class PictureModel:
    """One picture with its drawing; `moment` says what was measured of a video."""

    view: str
    title: str
    description: str
    drawing: Drawing
    moment: str = ""


@frozen(kw_only=True, eq=False)
class ReportModel:
    """A whole report."""

    title: str
    subtitle: str
    facts: tuple[tuple[str, str], ...]
    on_the_ground: str
    summary: str
    first: Change | None
    nothing_to_change: str
    later: tuple[Change, ...]
    keep: tuple[Change, ...]
    pictures: tuple[PictureModel, ...]
    key: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    remedies: tuple[Remedy, ...]
    plain: tuple[PlainRow, ...]
    missing: tuple[MissingGroup, ...]
    sources: tuple[SourceRow, ...]
    phones: tuple[PhoneModel, ...]
    both_phones: str
    notes: tuple[NoteLine, ...]
    student: tuple[str, ...]
    cautions: tuple[str, ...]
    versions: tuple[tuple[str, str], ...]
    corrections: CorrectionWords | None = None
    stand: StandModel | None = None
    plate: PlateWords | None = None

    @property
    def undecided(self) -> tuple[Row, ...]:
        """Rows the pictures cannot settle."""
        return tuple(row for row in self.rows if row.verdict == "undecided")

    def count(self, verdict: str) -> int:
        """How many rows have a verdict."""
        return sum(row.verdict == verdict for row in self.rows)
