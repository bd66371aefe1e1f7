"""Which measures a fit supports, and what to say of the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np
from attrs import evolve

from wellset.assess import problem as p
from wellset.assess.camera_check import CameraState, camera_states
from wellset.assess.camera_limits import unfit
from wellset.assess.fit import Fit
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import NotSeen, Sighting
from wellset.figure.views import View
from wellset.measures import (
    MEASURES,
    Measure,
    Measured,
    MeasureResult,
    NotMeasurable,
    Plane,
    Unit,
    drawn_sd,
    drawn_states,
    evaluate,
    value_and_gradient,
)

ONE_VIEW_MARGIN: Final = 0.5
"""With the picture a measure is read in missing, a number is given only when its standard
uncertainty is below this share of the useful one: depth from one picture rests on segment
lengths, and the linear interval does not see that a limb may point the other way."""

FAR_TOO_LARGE: Final = 4.0
"""Beyond this many useful standard uncertainties the figure itself means nothing."""

_UNITS: Final = {Unit.METRE: (100.0, "cm"), Unit.DEGREE: (1.0, "°"), Unit.PERCENT: (1.0, " %")}
_SOURCE_FIX: Final = {
    p.CAMERA: "Lay a stick on the target line, and hold the phone level and square.",
    p.STICK: "Lay a second stick from the ball straight to the golfer.",
    p.SHEET: "Lay the marker sheet flatter and nearer to the ball, or lay a stick as well.",
    p.BODY: "Type the student's tape measures, or use both pictures.",
    p.START: "Take the other picture as well.",
    p.CLUB: "Type the club's length.",
    p.LANDMARK: "Take the picture closer and sharper, in even light.",
    p.GAP: "Take the picture closer and sharper, in even light.",
}


def _amount(value: float, unit: Unit) -> str:
    factor, sign = _UNITS[unit]
    return f"{value * factor:.1f}{' ' if sign == 'cm' else ''}{sign}"


def hidden_landmarks(measure: Measure, fit: Fit, *, sightings: Sequence[Sighting]) -> list[str]:
    """Landmarks the measure depends on that no picture shows."""
    _, gradient = value_and_gradient(measure, fit.figure.state)
    strength = np.abs(gradient[: 3 * len(LANDMARKS)].reshape(-1, 3)).max(1)
    used = [n for n, s in zip(LANDMARKS, strength, strict=True) if s > 0.02 * strength.max()]
    return [
        name
        for name in used
        if all(isinstance(s.landmarks.get(name), NotSeen | None) for s in sightings)
    ]


def judge(
    measure: Measure,
    fit: Fit,
    *,
    sightings: Sequence[Sighting],
    cameras: Mapping[View, CameraState] = MappingProxyType({}),
) -> MeasureResult:
    """One measure, or the reason why the pictures don't give it.

    ``cameras`` says how the phones were held; a measure is withheld when the picture it is
    read in was taken from where points were never tested.
    """
    if fit.known.undetermined and _touches(measure, fit):
        return _refuse(
            measure,
            "not_determined",
            why="nothing in the pictures or the tables fixes the points it needs "
            f"({', '.join(fit.known.undetermined[0])}).",
            fix="Take both pictures, with the whole golfer and the ball in them.",
        )
    result = evaluate(measure, fit.figure)
    missing = measure.needs - {s.view for s in sightings}
    limit = measure.useful_sd * (ONE_VIEW_MARGIN if missing else 1.0)
    hidden = hidden_landmarks(measure, fit, sightings=sightings)
    if hidden:
        return _hidden(measure, hidden, sd=result.sd)
    for view in sorted(measure.needs & set(cameras)):
        if (wrong := unfit(cameras[view])) is not None:
            return _refuse(measure, "camera_off", why=wrong.why, fix=wrong.fix, sd=result.sd)
    if missing and result.sd <= limit:
        # The straight line doesn't see that a limb may bend the other way; draws do.
        drawn = drawn_sd(measure, fit.figure, states=drawn_states(fit.figure))
        result = evolve(result, sd=max(result.sd, drawn)) if drawn > limit else result
    if result.sd <= limit:
        return result
    return _too_uncertain(measure, result, missing=missing, limit=limit)


def _touches(measure: Measure, fit: Fit) -> bool:
    _, gradient = value_and_gradient(measure, fit.figure.state)
    involved = {label.split(".")[0] for group in fit.known.undetermined for label in group}
    strength = np.abs(gradient[: 3 * len(LANDMARKS)].reshape(-1, 3)).max(1)
    return any(s > 0 and n in involved for n, s in zip(LANDMARKS, strength, strict=True))


def _hidden(measure: Measure, hidden: list[str], *, sd: float) -> NotMeasurable:
    names = ", ".join(name.replace("_", " ") for name in hidden)
    return _refuse(
        measure,
        "landmark_not_seen",
        why=f"no picture shows the {names}.",
        fix="Retake the picture with the whole golfer, both feet, the club and the ball in it.",
        sd=sd,
    )


def _too_uncertain(
    measure: Measure, result: Measured, *, missing: frozenset[View], limit: float
) -> NotMeasurable:
    beyond = result.sd > FAR_TOO_LARGE * measure.useful_sd
    found = (
        f"far above {_amount(FAR_TOO_LARGE * measure.useful_sd, measure.unit)}"
        if beyond
        else _amount(result.sd, measure.unit)
    )
    wanted = _amount(limit, measure.unit)
    if missing:
        words = " and ".join(v.words for v in sorted(missing))
        return _refuse(
            measure,
            "view_missing",
            why=f"without the {words} picture its standard uncertainty is {found}; "
            f"more than {wanted} would mislead.",
            fix=f"Add a {words} picture.",
            sd=result.sd,
        )
    source = max(result.budget, key=lambda name: result.budget[name])
    fix = _SOURCE_FIX.get(source, "Retake both pictures, square and level.")
    if source == p.CAMERA and measure.plane is Plane.SIDE:
        fix = "Retake the down-the-line picture square and level, at hand height."
    return _refuse(
        measure,
        "too_uncertain",
        why=f"its standard uncertainty is {found}, mostly from {source}; "
        f"more than {wanted} would mislead.",
        fix=fix,
        sd=result.sd,
    )


def _refuse(
    measure: Measure, code: str, *, why: str, fix: str, sd: float | None = None
) -> NotMeasurable:
    return NotMeasurable(measure=measure.id, unit=measure.unit, code=code, why=why, fix=fix, sd=sd)


def judge_all(fit: Fit, sightings: Sequence[Sighting], /) -> Mapping[str, MeasureResult]:
    """Every measure of the catalogue: a number with its interval, or why there is none."""
    cameras = camera_states(fit)
    return {
        id_: judge(measure, fit, sightings=sightings, cameras=cameras)
        for id_, measure in MEASURES.items()
    }
