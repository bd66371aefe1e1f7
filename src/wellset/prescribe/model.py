"""All residuals of one set-up, evaluated once for every term that shares them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.estimation import Curved, LinearTerm, OneSourceTerm, Term, prior
from wellset.figure.figure import FigureState
from wellset.measures import MEASURES
from wellset.prescribe.aims import HINGE, SATURATES, Aim, AimRows
from wellset.prescribe.natural import (
    JOINT_LIMITS,
    bone_lengths,
    bones,
    joint_angles,
    lengths,
    relaxed,
    smooth_hand_gap,
)
from wellset.prescribe.pose import LAYOUT, Scene, place

Array = NDArray[np.float64]

STEP: Final = 1e-30
"""Complex step of the derivatives; nothing is subtracted, so it may be far below rounding."""

SEGMENTS: Final = "segments and grip"
RELAXED: Final = "relaxed body"
WINDOWS: Final = "windows, their targets"
HINGES: Final = "windows and limits"
ORDINARY: Final = "ordinary set-up"
ASKED: Final = "club as asked"
CLUB_BLOCKS: Final = ("toe_up", "extra_length")


@frozen(kw_only=True, eq=False)
class Evaluation:
    """Residuals and Jacobians by source, and the measures, at one parameter vector."""

    rows: Mapping[str, tuple[Array, Array]]
    measures: Array
    """Values in the published unit, catalogue order."""
    gradients: Array
    """Of the measures by the parameters, shape (k, n)."""
    angles: Array
    """Joint angles, degree, in the order of the joint limits."""
    angle_gradients: Array
    bone_jacobian: Array
    """Of the vectors along the bones, shape (8, 3, n)."""


@frozen(kw_only=True, eq=False)
class Model:
    """The residuals of one body with one club and the aims for it.

    Parameters
    ----------
    scene : Scene
    aims : tuple of Aim
        On measures only; limits of the joints are always there.
    """

    scene: Scene
    aims: tuple[Aim, ...]
    _aimed: AimRows = field(init=False, repr=False)
    _wanted: list[int] = field(init=False, repr=False)
    _seen: dict[bytes, Evaluation] = field(factory=dict, init=False, repr=False)

    @_aimed.default
    def _all_aims(self) -> AimRows:
        return AimRows(aims=(*self.aims, *JOINT_LIMITS))

    @_wanted.default
    def _columns(self) -> list[int]:
        return [_ORDER[aim.quantity] for aim in self.aims]

    def evaluate(self, parameters: Array, /) -> Evaluation:
        """Everything at these parameters; the last one is remembered."""
        key = parameters.tobytes()
        if key not in self._seen:
            self._seen.clear()
            self._seen[key] = self._evaluated(parameters)
        return self._seen[key]

    def walls(self, quantities: Array, /) -> tuple[Array, Array]:
        """Hinges and their slopes, each (k,), of the aimed measures and the joints' angles."""
        found = self._aimed(np.add(quantities, 1j * STEP))[1]
        return np.real(found), np.imag(found) / STEP

    def aimed_at(self, now: Evaluation, /) -> tuple[Array, Array]:
        """What :meth:`walls` takes, at an evaluation, and its Jacobian."""
        values = np.concatenate([now.measures[self._wanted], now.angles])
        return values, np.vstack([now.gradients[self._wanted], now.angle_gradients])

    def _evaluated(self, parameters: Array) -> Evaluation:
        stepped = parameters + 1j * STEP * np.eye(len(parameters))
        values = place(stepped, self.scene)
        state = FigureState(values=values, mass_weights=self.scene.skeleton.mass_weights)
        measured = np.stack(
            [m.published_per_si * np.asarray(m.formula(state)) for m in MEASURES.values()], axis=-1
        )
        angles = joint_angles(stepped, values, scene=self.scene)
        smooth = measured.copy()
        smooth[:, _ORDER["hand_gap"]] = smooth_hand_gap(values)
        pulls, hinges = self._aimed(np.hstack([smooth[:, self._wanted], angles]))
        along = bones(values)
        groups = {
            SEGMENTS: lengths(along, self.scene),
            RELAXED: relaxed(stepped, values, scene=self.scene),
            WINDOWS: pulls,
            HINGES: hinges,
        }
        value, gradient = _split(measured)
        angle, angle_gradient = _split(angles)
        return Evaluation(
            rows={name: _split(found) for name, found in groups.items()},
            measures=value,
            gradients=gradient,
            angles=angle,
            angle_gradients=angle_gradient,
            bone_jacobian=np.moveaxis(along.imag, 0, -1) / STEP,
        )


_ORDER: Final = {id_: i for i, id_ in enumerate(MEASURES)}


def _split(stepped: Array) -> tuple[Array, Array]:
    """Values and Jacobian from complex steps, (n, m) -> (m,), (m, n)."""
    return np.ascontiguousarray(stepped[0].real), np.ascontiguousarray(stepped.imag.T) / STEP


@frozen(kw_only=True, eq=False)
class ModelTerm(OneSourceTerm):
    """The rows of one source of a model, as the engine takes them."""

    model: Model
    sd: float = 1.0

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        residuals, jacobian = self.model.evaluate(parameters).rows[self.source]
        return residuals / self.sd, jacobian / self.sd


@frozen(kw_only=True, eq=False)
class BonesTerm(ModelTerm, Curved):
    """Bones of exact length. They swing on arcs, and a strong pull along one holds it stiff."""

    def curvature(self, parameters: Array, multipliers: Array, /) -> Array:
        """See :class:`wellset.estimation.Curved`; bends of the joints' own paths left out.

        Bones that are pushed, mostly the legs, are pushed by windows whose own curvature is
        left out too, and both cancel exactly in turning a knee about the line from hip to
        ankle; so across the body only a pull counts.
        """
        jacobian = self.model.evaluate(parameters).bone_jacobian
        return bone_curvature(jacobian, multipliers / self.sd, scene=self.model.scene)


def bone_curvature(jacobian: Array, multipliers: Array, *, scene: Scene) -> Array:
    """Sum of multiplier times second derivative of each bone's length, shape (n, n).

    Parameters
    ----------
    jacobian : (8, 3, n) array
        Of the vectors along the bones.
    multipliers : (8,) array
    scene : Scene
    """
    share = multipliers / bone_lengths(scene)
    weights = np.repeat(share[:, None], 3, axis=1)
    weights[:, 0] = np.maximum(share, 0.0)
    weighted = (weights[..., None] * jacobian).reshape(-1, jacobian.shape[-1])
    curved: Array = weighted.T @ jacobian.reshape(weighted.shape)
    return curved


@frozen(kw_only=True, eq=False)
class _WallsTerm(OneSourceTerm):
    """Hinges on quantities that go along straight lines."""

    model: Model
    at: Array
    values: Array
    jacobian: Array

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        walls, slopes = self.model.walls(self.values + self.jacobian @ (parameters - self.at))
        return walls, slopes[:, None] * self.jacobian


def straightened(model: Model, ordinary: Array, *, at: Array) -> list[Term]:
    """The whole problem with everything but the walls a straight line from where it is.

    One evaluation serves a whole search, so a few of them one after the other cost a part of
    a search on the curved problem.

    Parameters
    ----------
    model : Model
    ordinary : (n,) array
        As for :func:`terms`.
    at : (n,) array
        Where the lines begin.
    """
    now = model.evaluate(at)
    found: list[Term] = []
    for source in (SEGMENTS, RELAXED, WINDOWS):
        residuals, jacobian = now.rows[source]
        line = LinearTerm(
            source=source,
            hard=source == SEGMENTS,
            matrix=jacobian,
            target=jacobian @ at - residuals,
        )
        found.append(line)
    values, slopes = model.aimed_at(now)
    found.append(
        _WallsTerm(
            source=HINGES,
            model=model,
            at=at,
            values=values,
            jacobian=slopes,
            robust_scale=SATURATES,
        )
    )
    return [*found, *_held(model, ordinary, free=())]


ORDINARY_SD: Final = (0.5, np.radians(40.0))
"""How loosely an ordinary set-up holds what nothing else does: metre (times the body's size)
and radian. It is the same whatever the search starts from."""


def terms(
    model: Model,
    ordinary: Array,
    *,
    free: tuple[str, ...] = (),
    segment_sd_m: float = 0.0,
    hinge: float = HINGE,
) -> list[Term]:
    """The whole problem.

    Parameters
    ----------
    model : Model
    ordinary : (n,) array
        An ordinary set-up for this body and club.
    free : tuple of str
        Blocks of the club that may move from what was asked, to find what would mend a
        conflict.
    segment_sd_m : float
        How elastic the bones are, metre; 0 for exact.
    hinge : float
        Slope of the hinges; less than :data:`~wellset.prescribe.aims.HINGE` while the search
        is far away.
    """
    return [
        BonesTerm(source=SEGMENTS, model=model, hard=not segment_sd_m, sd=segment_sd_m or 1.0),
        ModelTerm(source=RELAXED, model=model),
        ModelTerm(source=WINDOWS, model=model),
        ModelTerm(source=HINGES, model=model, robust_scale=SATURATES, sd=HINGE / hinge),
        *_held(model, ordinary, free=free),
    ]


def _held(model: Model, ordinary: Array, *, free: tuple[str, ...]) -> list[Term]:
    """What holds loosely whatever nothing else does, and the club as asked."""
    size = LAYOUT.size
    is_angle = np.array([_is_angle(label) for label in LAYOUT.labels])
    sd = np.where(is_angle, ORDINARY_SD[1], ORDINARY_SD[0] * model.scene.skeleton.size)
    body = np.arange(LAYOUT["toe_up"].start)
    found: list[Term] = [prior(ORDINARY, size=size, columns=body, mean=ordinary[body], sd=sd[body])]
    club = model.scene.club
    asked = {"toe_up": (club.toe_up, club.toe_up_sd), "extra_length": (0.0, 0.0)}
    for block, (mean, left) in asked.items():
        loose = left + (FREE_SD[block] if block in free else 0.0)
        found.append(
            prior(
                ASKED,
                size=size,
                columns=LAYOUT[block],
                mean=mean,
                sd=loose or 1.0,
                hard=not loose,
            )
        )
    return found


FREE_SD: Final = {"toe_up": np.radians(4.0), "extra_length": 0.04}
"""How dear a change of lie or length is when one is looked for, radian and metre: beyond an
inch and a half or a few degrees a club is another club (our judgement)."""

_ANGLES: Final = (
    "flare",
    "open",
    "lead_up",
    "forward",
    "away",
    "up",
    "set",
    "roll",
    "shaft_lean",
    "toe_up",
)


def _is_angle(label: str) -> bool:
    return label.rsplit(".", maxsplit=1)[-1] in _ANGLES
