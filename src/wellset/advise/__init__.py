"""Findings against the standards, what to change first, and the words and drills for it."""

from wellset.advise.camera_advice import (
    CameraAdvice,
    CameraReading,
    Move,
    PhoneAdvice,
    Standing,
    camera_advice,
)
from wellset.advise.camera_words import Way
from wellset.advise.change import Advice, first_by_order, first_change
from wellset.advise.change_words import action, change_words
from wellset.advise.conformity import (
    Judgement,
    Verdict,
    guarded_limits,
    judge,
    probability_inside,
    tail_probabilities,
)
from wellset.advise.consequences import Consequence, consequences
from wellset.advise.display import quantity, window_text, with_interval
from wellset.advise.drill_drawing import Arms, Drawing, Prop, Seen
from wellset.advise.drills import (
    ALL_FAULTS,
    BodyLimit,
    Drill,
    DrillBook,
    Fault,
    Level,
    Origin,
)
from wellset.advise.drills_document import (
    DrillsFile,
    book_of,
    entry_of,
    house_book,
    read_book,
)
from wellset.advise.findings import Finding, findings, percent
from wellset.advise.reading_level import reading_age, reading_grade
from wellset.advise.roots import with_roots
from wellset.advise.settled import Settling
from wellset.advise.settling import settle_all, with_settling
from wellset.advise.swing_arc import (
    Arc,
    BallOffTheArcError,
    Moved,
    Strike,
    SwingArc,
    arc_of,
    swing_arc,
)
from wellset.advise.take_home import TakeHome, WayHome, take_home
from wellset.advise.words import MeasureWords, Side, SideWords, read_words, words

__all__ = [
    "ALL_FAULTS",
    "Advice",
    "Arc",
    "Arms",
    "BallOffTheArcError",
    "BodyLimit",
    "CameraAdvice",
    "CameraReading",
    "Consequence",
    "Drawing",
    "Drill",
    "DrillBook",
    "DrillsFile",
    "Fault",
    "Finding",
    "Judgement",
    "Level",
    "MeasureWords",
    "Move",
    "Moved",
    "Origin",
    "PhoneAdvice",
    "Prop",
    "Seen",
    "Settling",
    "Side",
    "SideWords",
    "Standing",
    "Strike",
    "SwingArc",
    "TakeHome",
    "Verdict",
    "Way",
    "WayHome",
    "action",
    "arc_of",
    "book_of",
    "camera_advice",
    "change_words",
    "consequences",
    "entry_of",
    "findings",
    "first_by_order",
    "first_change",
    "guarded_limits",
    "house_book",
    "judge",
    "percent",
    "probability_inside",
    "quantity",
    "read_book",
    "read_words",
    "reading_age",
    "reading_grade",
    "settle_all",
    "swing_arc",
    "tail_probabilities",
    "take_home",
    "window_text",
    "with_interval",
    "with_roots",
    "with_settling",
    "words",
]
