"""Solve one set-up from its pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess import problem as p
from wellset.assess.cameras import camera_prior
from wellset.assess.drawn import drawn_terms
from wellset.assess.ground import Ground, survey
from wellset.assess.markers import LaidMarker
from wellset.assess.misfits import Misfit, misfits
from wellset.assess.observe import landmark_terms
from wellset.assess.plate_terms import PLATE, plate_block, plate_terms
from wellset.assess.sticks import LabelledStick
from wellset.estimation import (
    Layout,
    Solution,
    Term,
    Uncertainty,
    prior,
    solve,
    uncertainty,
)
from wellset.figure.figure import STATE_SIZE, Figure
from wellset.figure.ground import GroundUse, OnTheGround
from wellset.figure.sighting import Sighting
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Patience:
    """When the search stops: after so many steps, or at so small a relative fall."""

    iterations: int
    tolerance: float


TWO_VIEWS = Patience(iterations=80, tolerance=1e-9)
ONE_VIEW = Patience(iterations=150, tolerance=1e-4)
"""One picture leaves depth in a long flat valley: going on to the last digit takes hundreds of
steps and moves no measure that is given by more than a fifth of its standard uncertainty
(measured on rendered scenes)."""


@frozen(kw_only=True, eq=False)
class Fit:
    """The solved set-up, its cameras, and how the search went."""

    figure: Figure
    cameras: Mapping[View, Camera]
    camera_sd: Mapping[View, Array]
    """Standard uncertainty of each camera parameter."""
    sticks: tuple[LabelledStick, ...]
    markers: tuple[LaidMarker, ...]
    ground: tuple[OnTheGround, ...]
    """Everything found on the ground, used or not."""
    use: GroundUse
    converged: bool
    known: Uncertainty
    misfits: tuple[Misfit, ...]
    iterations: int
    layout: Layout
    parameters: Array


def _start(setting: p.Setting, sightings: Sequence[Sighting], *, layout: Layout) -> Array:
    start = np.zeros(layout.size)
    start[layout["points"]] = setting.start_points().ravel()
    start[layout["scalars"]] = setting.scalar_means()
    start[layout["grip_along"]] = p.GRIP_MIDDLE_M[0] / setting.club.length.value
    for s in sightings:
        start[layout[s.view.value]] = camera_prior(s.view, s.picture).mean
    return start


def _observations(
    sightings: Sequence[Sighting], layout: Layout, *, parameters: Array, rendered_to_real: bool
) -> list[Term]:
    slots = p.camera_slots(sightings, layout)
    points = parameters[layout["points"]].reshape(-1, 3)
    terms: list[Term] = []
    for s in sightings:
        camera = slots[s.view].camera(parameters)
        scale = camera.focal_px / np.maximum(camera.depth(points), 0.3)
        terms += landmark_terms(
            s,
            layout,
            slot=slots[s.view],
            points=points,
            pixels_per_metre=scale,
            rendered_to_real=rendered_to_real,
        )
    return terms


def _fixed_terms(
    setting: p.Setting, sightings: Sequence[Sighting], *, layout: Layout
) -> list[Term]:
    return [
        *p.body_terms(setting, layout),
        *p.ground_terms(setting, layout),
        *p.club_terms(setting, layout),
        *p.middle_terms(layout),
        *p.weak_terms(setting, layout),
        *p.camera_terms(sightings, layout),
        *(p.level_terms(sightings, layout) if setting.level else ()),
    ]


def _first_pass(
    setting: p.Setting, sightings: Sequence[Sighting], *, rendered_to_real: bool
) -> tuple[Layout, Array]:
    """Cameras around an almost rigid ordinary figure, then everything, without sticks."""
    layout = p.build_layout(sightings)
    start = _start(setting, sightings, layout=layout)
    fixed = _fixed_terms(setting, sightings, layout=layout)
    points = layout["points"]
    stiff = prior(p.START, size=layout.size, columns=points, mean=start[points], sd=0.04)
    seen = _observations(sightings, layout, parameters=start, rendered_to_real=True)
    rigid = solve([*fixed, stiff, *seen], start, max_iterations=25, tolerance=1e-4).parameters
    seen = _observations(sightings, layout, parameters=rigid, rendered_to_real=rendered_to_real)
    return layout, solve([*fixed, *seen], rigid, max_iterations=60, tolerance=1e-5).parameters


def fit(
    setting: p.Setting,
    sightings: Sequence[Sighting],
    *,
    rendered_to_real: bool = True,
    use: GroundUse = GroundUse(),  # noqa: B008 - a constant
) -> Fit:
    """Find the set-up, cameras and things on the ground that agree best with what is known.

    Parameters
    ----------
    setting : Setting
        Body and club.
    sightings : one or two Sighting of different views
    rendered_to_real : bool
        Whether the stated gap between rendered and real people widens the landmarks.
        Switch it off only to measure rendered scenes.
    use : GroundUse
        What the coach says of the things on the ground.

    Raises
    ------
    EstimationError
        When the numbers break down.
    """
    layout, parameters = _first_pass(setting, sightings, rendered_to_real=rendered_to_real)
    slots = p.camera_slots(sightings, layout)
    return _settle(
        setting,
        sightings,
        near=_Start(
            layout=layout,
            parameters=parameters,
            cameras={view: slot.camera(parameters) for view, slot in slots.items()},
        ),
        rendered_to_real=rendered_to_real,
        use=use,
    )


def refit(
    setting: p.Setting, sightings: Sequence[Sighting], *, near: Fit, rendered_to_real: bool = True
) -> Fit:
    """The same as :func:`fit`, begun at the solution for slightly other points.

    Parameters
    ----------
    near : Fit
        The solution of the same views with some points or sticks placed otherwise;
        the things on the ground are used as they were in it.

    Raises
    ------
    EstimationError
        When the numbers break down.
    """
    start = _Start(layout=near.layout, parameters=near.parameters, cameras=near.cameras)
    return _settle(setting, sightings, near=start, rendered_to_real=rendered_to_real, use=near.use)


@frozen(kw_only=True, eq=False)
class _Start:
    """Where a search begins: parameters by block, and the cameras they mean."""

    layout: Layout
    parameters: Array
    cameras: Mapping[View, Camera]

    def laid_out(self, layout: Layout, *, ground: Ground) -> Array:
        """The same as parameters of another layout; things on the ground start where seen."""
        start = ground.started(np.zeros(layout.size), layout)
        for name in set(layout.slices) & set(self.layout.slices):
            start[layout[name]] = self.parameters[self.layout[name]]
        return start


def _settle(
    setting: p.Setting,
    sightings: Sequence[Sighting],
    *,
    near: _Start,
    rendered_to_real: bool,
    use: GroundUse,
) -> Fit:
    """The ground surveyed, everything solved together from a start that is nearly right."""
    ground = survey(sightings, near.cameras, use=use)
    more = [plate_block()] if setting.plate is not None else []
    layout = p.build_layout(sightings, more=[*ground.blocks(), *more])
    start = near.laid_out(layout, ground=ground)
    if setting.plate is not None:
        start[layout[PLATE]] = setting.plate.values
    slots = p.camera_slots(sightings, layout)
    seen = _observations(sightings, layout, parameters=start, rendered_to_real=rendered_to_real)
    terms = [
        *_fixed_terms(setting, sightings, layout=layout),
        *seen,
        *ground.terms(layout, slots=slots),
        *(drawn_terms(layout) if setting.drawn else ()),
        *_plate(setting, layout),
    ]
    patience = TWO_VIEWS if len(sightings) == 2 else ONE_VIEW
    solution = solve(terms, start, max_iterations=patience.iterations, tolerance=patience.tolerance)
    return _report(
        setting, sightings, layout=layout, terms=terms, solution=solution, ground=ground, use=use
    )


def _plate(setting: p.Setting, layout: Layout) -> list[Term]:
    """What a pressure plate tells, if one was stood on."""
    if setting.plate is None:
        return []
    return plate_terms(
        setting.plate, layout, mass_weights=setting.body.mass_weights, source=p.MOTION
    )


def _report(
    setting: p.Setting,
    sightings: Sequence[Sighting],
    *,
    layout: Layout,
    terms: Sequence[Term],
    solution: Solution,
    ground: Ground,
    use: GroundUse,
) -> Fit:
    parameters = solution.parameters
    known = uncertainty(terms, parameters, labels=layout.labels)
    slots = p.camera_slots(sightings, layout)
    variance = sum((f**2).sum(1) for f in known.factors.values())
    figure = Figure(
        points=parameters[layout["points"]].reshape(-1, 3),
        scalars=parameters[layout["scalars"]],
        mass_weights=setting.body.mass_weights,
        factors={name: f[:STATE_SIZE] for name, f in known.factors.items()},
    )
    return Fit(
        figure=figure,
        cameras={v: slot.camera(parameters) for v, slot in slots.items()},
        camera_sd={v: np.sqrt(np.asarray(variance)[slot.block]) for v, slot in slots.items()},
        sticks=ground.sticks,
        markers=ground.markers,
        ground=ground.things,
        use=use,
        converged=solution.converged,
        known=known,
        misfits=misfits(terms, known, parameters=parameters),
        iterations=solution.iterations,
        layout=layout,
        parameters=parameters,
    )
