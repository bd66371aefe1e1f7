"""Figures about one network on one set of cut-outs: distances, angles, honesty of the spread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from training.evaluate.crops import Crops
from training.evaluate.readers import Answer
from training.golfers.pool import LANDMARKS

Array = NDArray[np.float64]

INDEX: Final = {name: i for i, name in enumerate(LANDMARKS)}
LEFT_OUT: Final = "head_top"
"""Labelled on hair and caps alike; the product does not use it."""


def _rows(*stems: str) -> tuple[int, ...]:
    return tuple(i for i, name in enumerate(LANDMARKS) if name.split("_")[0] in stems)


GROUPS: Final = {
    "joints": _rows(
        "nose", "eye", "ear", "shoulder", "elbow", "wrist", "hip", "knee", "ankle", "shoe", "foot",
        "armpit",
    ),
    "back": tuple(i for i, name in enumerate(LANDMARKS) if name.endswith("_cloth")),
    "club and ball": _rows("grip", "shaft", "club", "ball"),
}  # fmt: skip
GROUPS_OF_ALL: Final = {
    **GROUPS,
    "all": tuple(i for i, name in enumerate(LANDMARKS) if name != LEFT_OUT),
}


def rms(values: Array) -> float:
    """Root mean square of the values that are numbers; NaN if none is."""
    finite = values[np.isfinite(values)]
    return float(np.sqrt(np.mean(finite**2))) if finite.size else float("nan")


def errors_cm(answer: Answer, *, crops: Crops) -> Array:
    """Found minus true points, ``(N, 37, 2)``, centimetres at each point's depth."""
    return np.asarray((answer.points - crops.points) * crops.cm_per_px[..., None])


@frozen(kw_only=True)
class Honesty:
    """How spreads compare with errors.

    Parameters
    ----------
    ratio : float
        Mean of |error| / spread; 1 if the spread is right.
    inside_half, inside_most : float
        Shares of the errors inside the 50 % and 90 % intervals of a Laplace law.
    """

    ratio: float
    inside_half: float
    inside_most: float


def honesty(answer: Answer, *, crops: Crops) -> Honesty:
    """Honesty of the spreads, pooled over points and coordinates."""
    ratio = np.abs(answer.points - crops.points) / answer.spread
    ratio = np.delete(ratio, INDEX[LEFT_OUT], axis=1)
    ratio = ratio[np.isfinite(ratio)]
    return Honesty(
        ratio=float(ratio.mean()),
        inside_half=float(np.mean(ratio < np.log(2.0))),
        inside_most=float(np.mean(ratio < np.log(10.0))),
    )


def by_landmark(answer: Answer, *, crops: Crops) -> dict[str, dict[str, float]]:
    """RMS distance in cm of each landmark (both sides together), by view."""
    distance = np.linalg.norm(errors_cm(answer, crops=crops), axis=-1)
    stems: dict[str, list[int]] = {}
    for i, name in enumerate(LANDMARKS):
        stem, _, side = name.rpartition("_")
        stems.setdefault(stem if side in {"left", "right"} else name, []).append(i)
    return {
        str(view): {
            stem: rms(distance[crops.views == view][:, rows]) for stem, rows in stems.items()
        }
        for view in np.unique(crops.views)
    }


def by_group(answer: Answer, *, crops: Crops) -> dict[str, float]:
    """RMS distance in cm of joints, back, club with ball, and all; and 95th percentile of all."""
    distance = np.linalg.norm(errors_cm(answer, crops=crops), axis=-1)
    figures = {name: rms(distance[:, list(rows)]) for name, rows in GROUPS_OF_ALL.items()}
    every = distance[:, list(GROUPS_OF_ALL["all"])]
    return {**figures, "95 %": float(np.nanpercentile(every, 95.0))}


Angle = Callable[[Array], Array]
"""Degrees in the picture from points ``(N, 37, 2)``."""


def _line(start: Array, end: Array) -> Array:
    """Direction from start to end, clockwise from straight up, degrees."""
    along = end - start
    return np.asarray(np.degrees(np.arctan2(along[:, 0], -along[:, 1])))


def _wrapped(degrees: Array) -> Array:
    return (degrees + 180.0) % 360.0 - 180.0


def _at(points: Array, name: str) -> Array:
    return points[:, INDEX[name]]


def _middle(points: Array, name: str) -> Array:
    return 0.5 * (_at(points, f"{name}_left") + _at(points, f"{name}_right"))


def _between(first: str, second: str) -> Angle:
    return lambda p: _line(_at(p, first), _at(p, second))


def _between_middles(first: str, second: str) -> Angle:
    return lambda p: _line(_middle(p, first), _middle(p, second))


def _bend(lower: str, upper: str, *, at: str) -> Angle:
    return lambda p: _wrapped(_line(_at(p, at), _at(p, upper)) - _line(_at(p, lower), _at(p, at)))


ANGLES: Final[dict[str, dict[str, Angle]]] = {
    "face_on": {
        "shoulder tilt": _between("shoulder_right", "shoulder_left"),
        "side bend": _between_middles("hip", "shoulder"),
        "shaft lean": _between("shaft_end", "grip_end"),
    },
    "down_the_line": {
        "forward bend": _between_middles("hip", "shoulder"),
        "lead knee": _bend("ankle_left", "hip_left", at="knee_left"),
        "trail knee": _bend("ankle_right", "hip_right", at="knee_right"),
        "arm hang": _between_middles("wrist", "shoulder"),
        "shaft angle": _between("shaft_end", "grip_end"),
        "upper back": _bend("T12L1_cloth", "C7_cloth", at="T8_cloth"),
        "lower back": _bend("S1_cloth", "T12L1_cloth", at="L3_cloth"),
    },
}
"""Angles in the picture that measures rest on."""


def by_angle(answer: Answer, *, crops: Crops) -> dict[str, dict[str, float]]:
    """RMS error of each angle in the picture, degrees, by view."""
    figures = {}
    for view, angles in ANGLES.items():
        mine = crops.views == view
        found, true = answer.points[mine], crops.points[mine]
        figures[view] = {
            name: rms(_wrapped(angle(found) - angle(true))) for name, angle in angles.items()
        }
    return figures
