"""Students, bags, lessons, homework and progress, as values."""

from wellset.lessons.bag import Bag, BagClub
from wellset.lessons.lesson import (
    Homework,
    HomeworkState,
    Lesson,
    SetUp,
    SetUpState,
    Shown,
    Summary,
)
from wellset.lessons.moments import day, moment
from wellset.lessons.people import Guardian, StudentCard, WrittenUnits
from wellset.lessons.progress import (
    Change,
    Reading,
    Repeatability,
    change_between,
    repeatability,
    smallest_real_change,
)
from wellset.lessons.taken import HowTaken, PlateFile

__all__ = [
    "Bag",
    "BagClub",
    "Change",
    "Guardian",
    "Homework",
    "HomeworkState",
    "HowTaken",
    "Lesson",
    "PlateFile",
    "Reading",
    "Repeatability",
    "SetUp",
    "SetUpState",
    "Shown",
    "StudentCard",
    "Summary",
    "WrittenUnits",
    "change_between",
    "day",
    "moment",
    "repeatability",
    "smallest_real_change",
]
