"""A plan as something to be compared with: values, and the room around each."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Annotated, Final, Literal

import numpy as np
from attrs import evolve, frozen
from pydantic import ConfigDict, Field

from wellset.body import Build
from wellset.errors import InputError
from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand
from wellset.measures import MEASURES, Unit
from wellset.prescribe import Plan
from wellset.services.documents import Document, parse_json, validate
from wellset.standards import Window

LEAST_ROOM: Final = {Unit.METRE: 0.01, Unit.DEGREE: 2.0, Unit.PERCENT: 3.0}
"""Room either way, in the published unit, that a student always has: nobody rebuilds a set-up
more finely (our judgement; tour players repeat the angles of a putter to 0.5 to 0.8 degrees,
Marquardt 2007, body angles were not found)."""


@frozen(kw_only=True)
class Aimed:
    """What a plan wants of one measure, published unit.

    Parameters
    ----------
    value, tolerance : float
        As the plan has them; see :class:`wellset.prescribe.plan.Planned`.
    window : Window
        The coach's window as it stood for the plan.
    """

    value: float
    tolerance: float
    window: Window

    @property
    def room(self) -> float:
        """How far the measure may lie either way: the tolerance, or the least room."""
        return max(self.tolerance, LEAST_ROOM[self.window.unit])


@frozen(kw_only=True, eq=False)
class PlanTarget:
    """A plan for one club, to compare a set-up with.

    Parameters
    ----------
    source : str
        ``solved`` (for this check), ``file`` or ``book``.
    name : str
        File, or when a kept plan was worked out; empty for a solved one.
    hand : Hand
    stature : float
        The student's that it was worked out for, metre.
    club, shot : str
    club_length : float
        Metre.
    aims : mapping of measure id to Aimed
        Measures that the standards have a window for, catalogue order.
    conflicts : tuple of str
        What doesn't fit in the plan itself.
    sloping : bool
        Whether it was worked out for a slope.
    figure : Figure
        Points without covariance, for drawings.
    standards, program : str
    """

    source: str
    name: str
    hand: Hand
    stature: float
    club: str
    shot: str
    club_length: float
    aims: Mapping[str, Aimed]
    conflicts: tuple[str, ...]
    sloping: bool
    figure: Figure
    standards: str
    program: str

    def windows(self, order: Sequence[Window] = (), /) -> tuple[Window, ...]:
        """The room around each planned value as a window, in the order of checking.

        Parameters
        ----------
        order : sequence of Window
            The standards' windows, which say in what order is checked and what weighs most;
            measures without one follow in the catalogue's order.
        """
        known = {window.measure: window for window in order}
        last = max((window.order for window in order), default=-1) + 1
        found = []
        for place, (id_, aim) in enumerate(self.aims.items()):
            like = known.get(id_, evolve(aim.window, order=last + place))
            found.append(
                evolve(
                    aim.window,
                    low=aim.value - aim.room,
                    high=aim.value + aim.room,
                    target=aim.value,
                    low_sd=0.0,
                    high_sd=0.0,
                    relative_to="",
                    as_written="",
                    source="the student's plan",
                    order=like.order,
                    station=like.station,
                    weight=like.weight,
                )
            )
        return tuple(found)


def target_of_plan(
    plan: Plan, /, *, hand: Hand, stature: float, sloping: bool, standards: str, program: str
) -> PlanTarget:
    """A solved plan to compare with."""
    return PlanTarget(
        source="solved",
        name="",
        hand=hand,
        stature=stature,
        club=plan.club.name,
        shot=plan.shot,
        club_length=plan.club.length_m,
        aims={
            id_: Aimed(value=each.value, tolerance=each.tolerance, window=each.window)
            for id_, each in plan.measures.items()
            if each.window is not None
        },
        conflicts=tuple(conflict.message for conflict in plan.conflicts),
        sloping=sloping,
        figure=plan.figure,
        standards=standards,
        program=program,
    )


class _Part(Document):
    """What is read of a plan; everything else in it is left alone."""

    model_config = ConfigDict(extra="ignore", frozen=True)


_Finite = Annotated[float, Field(allow_inf_nan=False)]


class _Measure(_Part):
    value: _Finite
    tolerance: Annotated[float, Field(ge=0, allow_inf_nan=False)]


class _Window(_Part):
    low: _Finite | None = None
    high: _Finite | None = None
    target: _Finite | None = None
    reason: str = ""
    source: str = ""


class _Conflict(_Part):
    message: str


class _Club(_Part):
    club: str
    shot: str
    club_length_m: Annotated[float, Field(gt=0, lt=3)]
    measures: dict[str, _Measure]
    windows: dict[str, _Window]
    conflicts: tuple[_Conflict, ...] = ()
    points: dict[str, tuple[_Finite, _Finite, _Finite]]


class _Student(_Part):
    stature_m: Annotated[float, Field(gt=0.5, lt=2.6)]


class _Place(_Part):
    uphill_deg: float = 0.0
    ball_above_feet_deg: float = 0.0


class _Versions(_Part):
    program: str
    standards: str


class _Plan(_Part):
    schema_: Annotated[Literal["wellset.plan/1"], Field(alias="schema")]
    hand: Hand
    student: _Student
    place: _Place = _Place()
    clubs: tuple[_Club, ...]
    versions: _Versions


def plan_stature(text: str, /, *, where: str) -> float:
    """Height of the student that a plan document is for, metre.

    Raises
    ------
    InputError
    """
    return _read(text, where=where).student.stature_m


def target_of_document(
    text: str, /, *, club: str, where: str, source: str = "file", name: str = ""
) -> PlanTarget:
    """One club of a plan document (``wellset.plan/1``).

    Parameters
    ----------
    text : str
    club : str
        Name of the club, as assessed.
    where : str
        The file, for messages.
    source, name : str
        See :class:`PlanTarget`.

    Raises
    ------
    InputError
        When it is no plan, or has no such club.
    """
    plan = _read(text, where=where)
    found = next((each for each in plan.clubs if _same(each.club, club)), None)
    if found is None:
        names = ", ".join(each.club for each in plan.clubs)
        raise InputError(
            f"The plan says nothing of the {club}",
            why=f"it is for {names or 'no club'}.",
            fix="Name one of its clubs, or make a plan for this one.",
            where=where,
        )
    place = plan.place
    return PlanTarget(
        source=source,
        name=name or where.replace("\\", "/").rsplit("/", 1)[-1],
        hand=plan.hand,
        stature=plan.student.stature_m,
        club=found.club,
        shot=found.shot,
        club_length=found.club_length_m,
        aims=_aims(found),
        conflicts=tuple(conflict.message for conflict in found.conflicts),
        sloping=bool(place.uphill_deg or place.ball_above_feet_deg),
        figure=_figure(found, stature=plan.student.stature_m, where=where),
        standards=plan.versions.standards,
        program=plan.versions.program,
    )


def has_club(text: str, /, *, club: str, where: str) -> bool:
    """Whether a plan document speaks of a club."""
    return any(_same(each.club, club) for each in _read(text, where=where).clubs)


def _read(text: str, *, where: str) -> _Plan:
    data = parse_json(text, where=where, what="The plan")
    return validate(_Plan, data, where=where, what="The plan")


def _same(one: str, other: str) -> bool:
    plain = [re.sub(r"[\s_-]+", " ", name.strip().lower()) for name in (one, other)]
    return plain[0] == plain[1]


def _aims(club: _Club) -> dict[str, Aimed]:
    return {
        id_: Aimed(
            value=club.measures[id_].value,
            tolerance=club.measures[id_].tolerance,
            window=Window(
                measure=id_,
                unit=measure.unit,
                low=club.windows[id_].low,
                high=club.windows[id_].high,
                target=club.windows[id_].target,
                reason=club.windows[id_].reason,
                source=club.windows[id_].source,
            ),
        )
        for id_, measure in MEASURES.items()
        if id_ in club.measures and id_ in club.windows
    }


def _figure(club: _Club, *, stature: float, where: str) -> Figure:
    """The plan's points; the breadth of its shoes isn't in the file, and is that of the height."""
    missing = [name for name in LANDMARKS if name not in club.points]
    if missing:
        raise InputError(
            "The plan cannot be used",
            why=f"it has no point {missing[0]}.",
            fix="Write the plan again with `wellset plan --json FILE`.",
            where=where,
        )
    scalars = np.zeros(len(BUILD_SCALARS))
    breadth = Build(stature=stature).length("shoe_heel_breadth")
    scalars[BUILD_SCALARS.index("shoe_breadth")] = breadth.value
    return Figure(
        points=[club.points[name] for name in LANDMARKS],
        scalars=scalars,
        mass_weights=np.zeros(len(LANDMARKS)),
    )
