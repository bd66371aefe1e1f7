"""Tasks for the plan: students, clubs and the default windows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from wellset.body import Build, Sex
from wellset.equipment import Club, find_club
from wellset.prescribe import Ground, Limits, Task
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.plan_bag import PlanRequest, tasks_of
from wellset.standards import Standards, default_standards

Array = NDArray[np.float64]

BAG = (
    "driver", "3-wood", "5-wood", "4-hybrid", "5-iron", "6-iron", "7-iron", "8-iron", "9-iron",
    "pitching wedge", "gap wedge", "sand wedge", "lob wedge", "putter",
)  # fmt: skip


def task(
    club: str | Club = "7-iron",
    *,
    stature: float = 1.78,
    sex: Sex = Sex.MEN,
    standards: Standards | None = None,
    limits: Limits | None = None,
    ground: Ground | None = None,
    toe_up: float | None = None,
    shot: str | None = None,
) -> Task:
    """One task with the default standards."""
    request = PlanRequest(
        student=Student(build=Build(stature=stature, sex=sex), limits=limits or Limits()),
        clubs=(BagEntry(club=find_club(club) if isinstance(club, str) else club, toe_up=toe_up),),
        standards=standards or default_standards(),
        shot=shot,
        ground=ground or Ground(),
    )
    return tasks_of(request)[0]


def random_builds(count: int, *, seed: int) -> Iterator[Build]:
    """Men and women in turn: stature by the survey, lengths by what tapes would read.

    Statures follow ANSUR II (women 162.85 ± 6.42 cm, men 175.62 ± 6.86 cm; Gordon et al.
    2014, NATICK/TR-15/007); wrist, crotch, shoulder and foot deviate from what stature leads
    one to expect by the survey's standard errors of estimate.
    """
    rng = np.random.default_rng(seed)
    see = {"wrist_height": 0.020, "crotch_height": 0.023, "foot_length": 0.009,
           "acromial_height": 0.015, "shoulder_breadth": 0.015}  # fmt: skip
    expected = {
        Sex.MEN: {"wrist_height": (-0.0664, 0.5204), "crotch_height": (-0.1763, 0.5821),
                  "foot_length": (0.0301, 0.1373), "acromial_height": (-0.1269, 0.8926),
                  "shoulder_breadth": (0.1546, 0.1486)},
        Sex.WOMEN: {"wrist_height": (-0.0335, 0.5083), "crotch_height": (-0.1791, 0.5904),
                    "foot_length": (0.0185, 0.1399), "acromial_height": (-0.0969, 0.8793),
                    "shoulder_breadth": (0.1028, 0.1612)},
    }  # fmt: skip
    for i in range(count):
        sex = (Sex.MEN, Sex.WOMEN)[i % 2]
        mean, sd = (1.7562, 0.0686) if sex is Sex.MEN else (1.6285, 0.0642)
        stature = float(rng.normal(mean, sd))
        tapes = {
            name: a + b * stature + float(rng.normal(0, see[name]))
            for name, (a, b) in expected[sex].items()
        }
        yield Build(stature=stature, sex=sex, **tapes)  # type: ignore[arg-type]  # all are tapes


def bag_tasks(build: Build, clubs: Sequence[str] = BAG) -> list[Task]:
    """One task for each club, default standards, level ground."""
    request = PlanRequest(
        student=Student(build=build),
        clubs=tuple(BagEntry(club=find_club(name)) for name in clubs),
        standards=default_standards(),
    )
    return tasks_of(request)
