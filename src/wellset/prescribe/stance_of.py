"""An assessed figure as a pose: the same joints and lengths, ready to be moved.

The skeleton takes the lengths of *this* figure, and the parameters of a pose are found whose
points lie nearest to it. What a pose doesn't describe (clothes on the back, the turn of the
head) stays behind; it is the same before and after a change, so it drops out of a difference.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from wellset.equipment import Club
from wellset.estimation import Curved, OneSourceTerm, Solution, prior, solve
from wellset.figure.figure import POINT_COUNT, Figure
from wellset.figure.landmarks import INDEX
from wellset.prescribe.holding import on_the_ground
from wellset.prescribe.model import ORDINARY, SEGMENTS, Model, bone_curvature
from wellset.prescribe.natural import bones, lengths
from wellset.prescribe.pose import LAYOUT, SIDES, Scene, place
from wellset.prescribe.skeleton import Skeleton

Array = NDArray[np.float64]

STEP: Final = 1e-30
SEEN: Final = "assessed points"

NEAR_M: Final = {
    "shoulder": 0.01, "hip": 0.01, "knee": 0.01, "ankle": 0.005, "elbow": 0.01, "wrist": 0.015,
    "shoe_toe": 0.01, "shoe_heel": 0.01, "c7": 0.01, "grip_mid": 0.01, "grip_end": 0.005,
    "shaft_end": 0.01,
}  # fmt: skip
"""How near each point of the pose should lie to the assessed one, metre (our judgement)."""

_LOOSE: Final = (1.0, np.radians(60.0))
"""Metre and radian: holds what no point speaks of."""


@frozen(kw_only=True, eq=False)
class Stance:
    """A figure as a pose.

    Parameters
    ----------
    model : Model
        Without aims: bones and the relaxed body only.
    parameters : (n,) array
    misfit_m : float
        Root mean square distance between pose and figure.
    """

    model: Model
    parameters: Array
    misfit_m: float


def stepped(parameters: Array, /) -> Array:
    """Parameters with a complex step in each in turn, shape (n, n)."""
    steps: Array = parameters + 1j * STEP * np.eye(len(parameters))
    return steps


@frozen(kw_only=True, eq=False)
class Pose:
    """The places of a pose, a complex step of each parameter in a row, for both terms."""

    scene: Scene
    _seen: dict[bytes, Array] = field(factory=dict, init=False, repr=False)

    def at(self, parameters: Array, /) -> Array:
        """Values of every step, shape (n, STATE_SIZE); the last ones are remembered."""
        key = parameters.tobytes()
        if key not in self._seen:
            self._seen.clear()
            self._seen[key] = place(stepped(parameters), self.scene)
        return self._seen[key]


@frozen(kw_only=True, eq=False)
class PoseBonesTerm(OneSourceTerm, Curved):
    """:class:`wellset.prescribe.model.BonesTerm` without all the rest of a model."""

    pose: Pose

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        off = lengths(bones(self.pose.at(parameters)), self.pose.scene)
        return off[0].real, off.imag.T / STEP

    def curvature(self, parameters: Array, multipliers: Array, /) -> Array:
        """See :class:`wellset.estimation.Curved`."""
        along = bones(self.pose.at(parameters))
        jacobian = np.moveaxis(along.imag, 0, -1) / STEP
        return bone_curvature(jacobian, multipliers, scene=self.pose.scene)


@frozen(kw_only=True, eq=False)
class _PointsTerm(OneSourceTerm):
    """Points of the pose near those of a figure."""

    pose: Pose
    rows: tuple[int, ...]
    wanted: Array
    sd: Array

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        values = self.pose.at(parameters)
        points = values[:, : 3 * POINT_COUNT].reshape(len(parameters), POINT_COUNT, 3)
        off = (points[:, self.rows] - self.wanted) / self.sd[:, None]
        flat = off.reshape(len(parameters), -1)
        return flat[0].real, flat.imag.T / STEP


def toe_up_of(figure: Figure, /, *, lie: float) -> float:
    """How far the toe of the club stands off flat in an assessed figure, radian.

    Parameters
    ----------
    figure : Figure
    lie : float
        Of the club, radian.
    """
    shaft = figure["grip_end"] - figure["shaft_end"]
    return lie - float(np.arctan2(shaft[2], shaft[1]))


def skeleton_of_figure(figure: Figure, ordinary: Skeleton, /) -> Skeleton:
    """The lengths of an assessed body; what no pair of points shows stays as the build has it."""

    def between(first: str, second: str) -> Array:
        return np.array(
            [
                np.linalg.norm(figure[f"{side}_{first}"] - figure[f"{side}_{second}"])
                for side, _, _ in SIDES
            ]
        )

    middle = (figure["lead_hip"] + figure["trail_hip"]) / 2
    return evolve(
        ordinary,
        thigh=between("hip", "knee"),
        shank=between("knee", "ankle"),
        upper_arm=between("shoulder", "elbow"),
        forearm=between("elbow", "wrist"),
        hip_spacing=float(np.linalg.norm(figure["lead_hip"] - figure["trail_hip"])),
        hip_to_neck=float(np.linalg.norm(figure["c7"] - middle)),
        shoe_length=float(between("shoe_heel", "shoe_toe").mean()),
        heel_to_ankle=_along_shoe(figure, "ankle"),
        heel_to_ball=_along_shoe(figure, "foot_ball"),
        scalars=figure.scalars,
        mass_weights=figure.mass_weights,
    )


def _along_shoe(figure: Figure, stem: str) -> float:
    reach = []
    for side, _, _ in SIDES:
        heel, toe = figure[f"{side}_shoe_heel"][:2], figure[f"{side}_shoe_toe"][:2]
        along = (toe - heel) / np.linalg.norm(toe - heel)
        reach.append((figure[f"{side}_{stem}"][:2] - heel) @ along)
    return float(np.mean(reach))


def stance_of(figure: Figure, *, skeleton: Skeleton, club: Club) -> Stance:
    """The pose nearest to an assessed figure.

    Parameters
    ----------
    figure : Figure
    skeleton : Skeleton
        Of the student's build.
    club : Club
    """
    scene = Scene(skeleton=skeleton_of_figure(figure, skeleton), club=on_the_ground(club))
    pose = Pose(scene=scene)
    start = _start(figure, scene=scene)
    stems = [(n, n) for n in ("c7", "grip_mid", "grip_end", "shaft_end")]
    stems += [
        (f"{side}_{stem}", stem) for stem in NEAR_M if stem not in INDEX for side, _, _ in SIDES
    ]
    seen = _PointsTerm(
        source=SEEN,
        pose=pose,
        rows=tuple(INDEX[name] for name, _ in stems),
        wanted=np.array([figure[name] for name, _ in stems]),
        sd=np.array([NEAR_M[stem] for _, stem in stems]),
    )
    is_length = np.array([label.rsplit(".", 1)[-1] in "xyz" for label in LAYOUT.labels])
    found: Solution = solve(
        [
            PoseBonesTerm(source=SEGMENTS, pose=pose, hard=True),
            seen,
            prior(
                ORDINARY,
                size=LAYOUT.size,
                columns=np.arange(LAYOUT.size),
                mean=start,
                sd=np.where(is_length, *_LOOSE),
            ),
        ],
        start,
        max_iterations=30,
        tolerance=1e-6,
    )
    off, _ = seen.linearise(found.parameters)
    distance = off.reshape(-1, 3) * seen.sd[:, None]
    return Stance(
        model=Model(scene=scene, aims=()),
        parameters=found.parameters,
        misfit_m=float(np.sqrt((distance**2).sum(1).mean())),
    )


def _start(figure: Figure, *, scene: Scene) -> Array:
    q = np.zeros(LAYOUT.size)
    for side, sign, _ in SIDES:
        along = figure[f"{side}_shoe_toe"] - figure[f"{side}_shoe_heel"]
        flare = np.arctan2(sign * along[0], -along[1])
        q[LAYOUT[f"{side}_foot"]] = [*figure[f"{side}_ankle"][:2], flare]
        q[LAYOUT[f"{side}_knee"]] = figure[f"{side}_knee"]
        q[LAYOUT[f"{side}_elbow"]] = figure[f"{side}_elbow"]
    hips = figure["lead_hip"] - figure["trail_hip"]
    middle = (figure["lead_hip"] + figure["trail_hip"]) / 2
    q[LAYOUT["mid_hip"]] = middle
    q[LAYOUT["pelvis"]] = [
        np.arctan2(hips[1], hips[0]),
        np.arcsin(hips[2] / np.linalg.norm(hips)),
    ]
    spine = figure["c7"] - middle
    q[LAYOUT["trunk"]] = [
        np.arctan2(-spine[1], spine[2]),
        np.arcsin(-spine[0] / np.linalg.norm(spine)),
        0.0,
    ]
    shaft = figure["grip_end"] - figure["shaft_end"]
    q[LAYOUT["shaft_lean"]] = np.arctan2(shaft[0], np.hypot(*shaft[1:]))
    q[LAYOUT["toe_up"]] = toe_up_of(figure, lie=scene.club.lie)
    return q
