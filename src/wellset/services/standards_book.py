"""Use cases around the coach's standards: edit, try on past lessons, keep as a version."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from typing import Final

from attrs import evolve, frozen

from wellset.advise import findings
from wellset.errors import InputError, MissingError
from wellset.lessons import SetUp
from wellset.measures import MEASURES, Measured
from wellset.services.asked import club_used, standards_in_force, student_of
from wellset.services.book import Pages, StandardsVersion
from wellset.services.lesson_work import Desk
from wellset.services.student_scale import student_scale
from wellset.standards import (
    Shot,
    Standard,
    Standards,
    default_standards,
    load_standards,
    shot_for,
    shot_named,
    to_yaml,
)

TRIED_ON: Final = 200
"""Most recent set-ups that new standards are tried on."""


@frozen(kw_only=True)
class Limits:
    """One window as a form has it: numbers as typed, empty for an open side.

    Parameters
    ----------
    low, high, target, weight : str
    reason : str
    """

    low: str
    high: str
    target: str
    weight: str
    reason: str


def edited(standards: Standards, *, shot: str, name: str, windows: Mapping[str, Limits]) -> str:
    """The standards file with one shot's windows changed, checked.

    Parameters
    ----------
    name : str
        What the coach calls these standards.
    windows : mapping of measure id to Limits
        Windows of measures that have one already.

    Raises
    ------
    InputError, StandardsFileError
        Naming every wrong entry.
    """
    kind = Shot(shot_named(shot))
    kept = standards.shots[kind]
    changed = {
        measure: _changed(standard, windows[measure]) if measure in windows else standard
        for measure, standard in kept.items()
    }
    text = to_yaml(
        evolve(
            standards, name=name.strip() or standards.name, shots={**standards.shots, kind: changed}
        )
    )
    load_standards(text, where="your standards")
    return text


def _changed(standard: Standard, limits: Limits) -> Standard:
    return evolve(
        standard,
        low=_number(limits.low, standard.measure),
        high=_number(limits.high, standard.measure),
        target=_number(limits.target, standard.measure),
        weight=_number(limits.weight, standard.measure) or standard.weight,
        reason=limits.reason.strip() or standard.reason,
    )


def _number(text: str, measure: str) -> float | None:
    clean = text.strip().replace(",", ".").replace("−", "-")
    if not clean:
        return None
    try:
        return float(clean)
    except ValueError:
        raise InputError(
            "This window cannot be read",
            why=f'"{text[:30]}" is no number.',
            fix="Write a number, or leave it empty for an open side.",
            where=MEASURES[measure].title,
        ) from None


@frozen(kw_only=True)
class Trial:
    """What other standards would say of past set-ups.

    Parameters
    ----------
    findings, changed : int
        How many findings there were, and how many would read differently.
    moves : tuple of (measure title, from, to, count)
        Most frequent first.
    setups : int
    """

    findings: int
    changed: int
    moves: tuple[tuple[str, str, str, int], ...]
    setups: int


def try_standards(desk: Desk, text: str, /) -> Trial:
    """Judge the most recent set-ups anew, without keeping anything.

    Raises
    ------
    StandardsFileError
    """
    standards = load_standards(text, where="your standards")
    moves: Counter[tuple[str, str, str]] = Counter()
    total = setups = 0
    with desk.book.reading() as pages:
        for setup in pages.recent_setups(limit=TRIED_ON):
            before = _verdicts(setup)
            after = _judged(pages, setup, standards=standards)
            setups += 1
            for measure in before.keys() | after.keys():
                total += 1
                old, new = before.get(measure, "no window"), after.get(measure, "no window")
                if old != new:
                    moves[MEASURES[measure].title, old, new] += 1
    return Trial(
        findings=total,
        changed=sum(moves.values()),
        moves=tuple((*move, count) for move, count in moves.most_common()),
        setups=setups,
    )


def _verdicts(setup: SetUp) -> dict[str, str]:
    document = json.loads(setup.assessment)
    return {each["measure"]: each["verdict"] for each in document["findings"]}


def _judged(pages: Pages, setup: SetUp, *, standards: Standards) -> dict[str, str]:
    """Verdicts of other standards on a kept set-up's measures."""
    measures = {
        name: Measured(measure=name, unit=MEASURES[name].unit, value=part["value"], sd=part["sd"])
        for name, part in json.loads(setup.assessment)["measures"].items()
        if name in MEASURES and "value" in part
    }
    build = student_of(pages.student(setup.student)).build
    club = club_used(pages.bag(setup.student), setup.club, how=setup.how)
    scale = student_scale(build, club, stance=measures.get("stance_width"))
    windows = standards.windows_for(setup.shot or shot_for(club.kind), scale=scale)
    measured = [window for window in windows if window.measure in measures]
    found = findings(measures, measured, decision=standards.decision)
    return {each.measure: each.verdict.value for each in found}


def keep_standards(desk: Desk, text: str, /) -> StandardsVersion:
    """Keep standards as the version that new set-ups are judged by.

    Raises
    ------
    StandardsFileError
    """
    standards = load_standards(text, where="your standards")
    version = StandardsVersion(
        digest=standards.digest,
        name=standards.name,
        text=text,
        saved_at=desk.now(),
        current=True,
    )
    with desk.book.writing() as pages:
        if not pages.standards_versions():
            pages.save_standards(_default_version(version.saved_at))
        pages.save_standards(version)
    return version


def _default_version(now: str) -> StandardsVersion:
    default = default_standards()
    return StandardsVersion(
        digest=default.digest, name=default.name, text=to_yaml(default), saved_at=now
    )


def use_version(desk: Desk, digest: str, /) -> None:
    """Judge new set-ups by a version that was kept before.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        for version in pages.standards_versions():
            if version.digest == digest:
                pages.save_standards(evolve(version, current=True))
                return
    raise MissingError(
        "These standards are not in the lesson book",
        why="no version has this digest.",
        fix="Choose one of the list.",
    )


def current(desk: Desk, /) -> tuple[Standards, tuple[StandardsVersion, ...]]:
    """The standards in force, and all kept versions, newest first."""
    with desk.book.reading() as pages:
        return standards_in_force(pages), pages.standards_versions()
