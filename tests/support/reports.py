"""Judged set-ups of rendered scenes for the tests of reports: true pixels, plain pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from tests.support.sightings import by_hand, changed, scene_setting, scene_sightings
from tests.support.truth import load
from wellset.advise import findings, first_change, settle_all
from wellset.assess import Fit, Solved, fit, judge_all
from wellset.body.build import Build
from wellset.equipment import Club, find_club
from wellset.figure.notes import Note
from wellset.figure.sighting import Sighting
from wellset.figure.views import Hand, View
from wellset.measures import Measured, MeasureResult
from wellset.services.assessment import AssessedPicture, Assessment, Student, Versions
from wellset.standards import StudentScale, Window, Yardstick, default_standards, shot_for

NAME = "Sam <b>&amp; Co"
"""A name that would break a page which trusts it."""


def _sightings(scene: str, *, views: Sequence[View]) -> list[Sighting]:
    seen = [s for s in scene_sightings(scene) if s.view in views]
    return [changed(s, "c7", to=by_hand((3.0, -2.0), sd_px=2.0)) for s in seen]


def _windows(club: Club, stance: MeasureResult) -> tuple[Window, ...]:
    metres, sd = (stance.value, stance.sd) if isinstance(stance, Measured) else (0.4, 0.05)
    scale = StudentScale(
        stance_width=Yardstick(metres=metres, sd=sd),
        head_length=Yardstick(metres=club.head_length_m, sd=club.head_length_sd_m),
        shoulder_width=Yardstick(metres=0.40, sd=0.015),
        foot_length=Yardstick(metres=0.29, sd=0.01),
    )
    return default_standards().windows_for(shot_for(club.kind.value), scale=scale)


def _pictures(
    found: Fit, sightings: Sequence[Sighting], *, hand: Hand
) -> Mapping[View, AssessedPicture]:
    note = Note(code="no_focal_length", message="No focal length.", remedy="Send the original.")
    return {
        s.view: AssessedPicture(
            sighting=s,
            camera=found.cameras[s.view],
            camera_sd=found.camera_sd[s.view],
            rgb=plain_picture(s.picture.width_px, s.picture.height_px),
            mirrored=hand is Hand.LEFT,
            notes=(note,),
        )
        for s in sightings
    }


def plain_picture(width: int, height: int) -> NDArray[np.uint8]:
    """Sky over turf."""
    rgb = np.full((height, width, 3), (86, 130, 70), dtype=np.uint8)
    rgb[: height // 2] = (170, 195, 220)
    return rgb


@cache
def assessment(
    scene: str = "mid_iron_neutral_21", *, views: tuple[View, ...] = tuple(View), name: str = NAME
) -> Assessment:
    """A whole assessment of a scene, one point in each picture placed by a coach."""
    truth, sightings = load(scene), _sightings(scene, views=views)
    hand = Hand(truth["hand"])
    found = fit(scene_setting(scene), sightings)
    measures = judge_all(found, sightings)
    club = find_club(truth["club"].replace("_", " "))
    build = Build(stature=truth["stature_m"])
    judged = settle_all(
        findings(measures, _windows(club, measures["stance_width"])),
        solved=Solved(fit=found, setting=scene_setting(scene), sightings=sightings, build=build),
    )
    return Assessment(
        hand=hand,
        student=Student(name=name, hand=hand, build=build),
        club=club,
        shot=shot_for(club.kind.value).value,
        fit=found,
        pictures=_pictures(found, sightings, hand=hand),
        measures=measures,
        findings=judged,
        advice=first_change(judged),
        versions=Versions(program="wellset 0", tables=("lengths",), standards="default"),
    )


def with_name(found: Assessment, name: str) -> Assessment:
    """The same assessment of somebody else."""
    return evolve(found, student=evolve(found.student, name=name))
