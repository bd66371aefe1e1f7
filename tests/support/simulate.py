"""Known set-ups drawn from exactly the knowledge that the estimate states.

A true figure is a rendered one, perturbed. Everything the estimate is then told (lengths,
cameras, noise of landmarks, sticks) differs from the truth by a draw of the stated spread.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from tests.support.knowledge import setting
from tests.support.truth import SOME_SCENES, load, points
from wellset.assess import BodyKnowledge, ClubKnowledge, Known, Setting
from wellset.assess import problem as p
from wellset.assess.cameras import BASE, camera_prior
from wellset.assess.common import shared_shift
from wellset.assess.knowledge import SEGMENTS, SYMMETRIC, combinations
from wellset.assess.markers import (
    MARKER_HEIGHT_M,
    MARKER_HEIGHT_SD_M,
    MARKER_TILT_SD,
    SHEET_AIM_SD,
)
from wellset.assess.observe import SWAY_SIGN
from wellset.assess.sticks import ACROSS, ALONG, STICK_HEIGHT_M, STICK_HEIGHT_SD_M
from wellset.equipment.sheet import PRINT_SCALE_SD, SHEET_MARKER
from wellset.estimation import DistanceTerm, Term, prior, solve
from wellset.figure.figure import BUILD_SCALARS, FigureState
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import (
    MarkerSighting,
    PictureFacts,
    ProposedByModel,
    Sighting,
    StickSighting,
)
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]

WIDTH_PX, HEIGHT_PX, FOCAL_35MM = 1512, 2016, 26.0
NOISE_M, STICK_SD_PX, CORNER_SD_PX = 0.005, 0.8, 0.3
SHAPE_SD_M: Final = 0.03
"""How much the true figures differ from the rendered ones, point by point."""


@frozen(kw_only=True, eq=False)
class Simulated:
    """A set-up with its truth, and what an assessment of it is told."""

    truth: FigureState
    setting: Setting
    sightings: tuple[Sighting, ...]


def simulate(rng: np.random.Generator, *, sheet: bool = False) -> Simulated:
    """Draw one set-up, with or without an aimed marker sheet on the ground."""
    scene = load(SOME_SCENES[rng.integers(len(SOME_SCENES))])
    told = setting(stature=scene["stature_m"], club_length=scene["club_length_m"])
    at = _true_points(points(scene), told, rng=rng)
    scalars = np.array([k.value + k.sd * rng.normal() for k in _scalars(told.body)])
    truth = FigureState(
        values=np.concatenate([at.ravel(), scalars]), mass_weights=told.body.mass_weights
    )
    club = ClubKnowledge(
        length=_told(_distance(at, ("grip_end", "shaft_end")), told.club.length.sd, rng=rng),
        ball_height=told.club.ball_height,
    )
    body = evolve(told.body, lengths=_lengths(told.body, at, rng=rng))
    return Simulated(
        truth=truth,
        setting=Setting(body=body, club=club),
        sightings=_pictures(at, sheet=sheet, rng=rng),
    )


def _scalars(body: BodyKnowledge) -> list[Known]:
    return [body.scalars[name] for name in BUILD_SCALARS]


def _told(true: float, sd: float, *, rng: np.random.Generator) -> Known:
    return Known(value=true + sd * rng.normal(), sd=sd)


def _distance(at: Array, pair: tuple[str, str]) -> float:
    return float(np.linalg.norm(combinations([pair]) @ at))


def _true_points(near: Array, told: Setting, *, rng: np.random.Generator) -> Array:
    """A perturbed figure whose two sides, feet, ball and grip are as alike as is stated."""
    wish = near + rng.normal(0, SHAPE_SD_M, near.shape)
    floor = [(f"{side}_{stem}", k) for side in ("lead", "trail") for stem, k in _heights(told)]
    for name, known in floor:
        wish[INDEX[name], 2] = known.value + known.sd * rng.normal()
    wish[INDEX["shaft_end"], 2] = 0.006 * rng.normal()
    ball = told.club.ball_height
    wish[INDEX["ball"]] = [0, 0, ball.value + ball.sd * rng.normal()]
    fixed = [3 * INDEX[name] + 2 for name, _ in floor]
    fixed += [3 * INDEX["shaft_end"] + 2, *(3 * INDEX["ball"] + i for i in range(3))]
    size, pairs, lengths = wish.size, [], []
    for name in SYMMETRIC:
        first, second = SEGMENTS[name]
        mean = (_distance(near, first) + _distance(near, second)) / 2
        half = max(0.004, 0.015 * told.body.lengths[name].value) * rng.normal() / 2
        pairs += [first, second]
        lengths += [mean + half, mean - half]
    terms: list[Term] = [
        prior("shape", size=size, columns=slice(0, size), mean=wish.ravel(), sd=SHAPE_SD_M),
        prior("held", size=size, columns=fixed, mean=wish.ravel()[fixed], sd=1.0, hard=True),
        DistanceTerm(
            source="sides",
            points=slice(0, size),
            combinations=combinations(pairs),
            lengths=lengths,
            sd=np.ones(len(lengths)),
            hard=True,
        ),
    ]
    solution = solve(terms, wish.ravel(), max_iterations=200)
    assert solution.constraint_violation < 1e-6
    at = solution.parameters.reshape(-1, 3).copy()
    butt, tip = at[INDEX["grip_end"]], at[INDEX["shaft_end"]]
    down = (p.GRIP_MIDDLE_M[0] + p.GRIP_MIDDLE_M[1] * rng.normal()) / np.linalg.norm(tip - butt)
    at[INDEX["grip_mid"]] = butt + down * (tip - butt) + rng.normal(0, 0.004, 3)
    return at


def _heights(told: Setting) -> list[tuple[str, Known]]:
    return list(told.body.heights.items())


def _lengths(body: BodyKnowledge, at: Array, *, rng: np.random.Generator) -> dict[str, Known]:
    scale = body.scale_sd * rng.normal()
    told = {}
    for name, pairs in SEGMENTS.items():
        sd = body.lengths[name].sd
        true = float(np.mean([_distance(at, pair) for pair in pairs]))
        told[name] = Known(value=(true + sd * rng.normal()) / (1 + scale), sd=sd)
    return told


def _pictures(at: Array, *, sheet: bool, rng: np.random.Generator) -> tuple[Sighting, ...]:
    sway = rng.normal(0, p.SWAY_SD_M, 2)
    names = [ALONG, ACROSS][: rng.integers(3)]
    turn = {name: p.STICK_SLOPE_SD * rng.normal() for name in names}
    lying = [_stick(name, turn[name], rng=rng) for name in names]
    square = _sheet(rng) if sheet else None
    return tuple(
        _picture(view, at, sway=sway, sticks=lying, square=square, rng=rng) for view in View
    )


def _sheet(rng: np.random.Generator) -> Array:
    """Corners of a printed square that is nearly flat, nearly aimed and nearly of its size."""
    side = SHEET_MARKER.side_m * (1 + PRINT_SCALE_SD * rng.normal())
    height = MARKER_HEIGHT_M + MARKER_HEIGHT_SD_M * rng.normal()
    yaw, slopes = SHEET_AIM_SD * rng.normal(), MARKER_TILT_SD * rng.normal(size=2)
    turn = np.array([[np.cos(yaw), -np.sin(yaw)], [np.sin(yaw), np.cos(yaw)]])
    off = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) @ turn.T * side / 2
    place = np.array([-0.5, 0.1]) + rng.normal(0, 0.1, 2)
    return np.column_stack([place + off, height + off @ slopes])


def _stick(name: str, slope: float, *, rng: np.random.Generator) -> Array:
    """Two places on a stick on the ground, shape (2, 3)."""
    if name == ALONG:
        offset, along = 0.15 + 0.02 * rng.normal(), np.array([-0.5, 0.5])
        run = np.stack([along, offset + slope * along], 1)
    else:
        offset, along = 0.01 * rng.normal(), np.array([0.2, 0.8])
        run = np.stack([offset - slope * along, along], 1)
    height = STICK_HEIGHT_M[name] + STICK_HEIGHT_SD_M * rng.normal()
    return np.column_stack([run, np.full(2, height)])


def _landmark_errors(view: View, sd: Array, *, rng: np.random.Generator) -> Array:
    """Errors as stated: each landmark's variance, part of it shared with its neighbours."""
    shift = shared_shift(view, list(LANDMARKS), sd_px=np.stack([sd, sd], 1))
    alone = np.sqrt(sd[:, None] ** 2 - (shift**2).sum(2))
    own = alone * rng.normal(size=(len(sd), 2))
    return np.asarray(own - shift @ rng.normal(size=shift.shape[2]))


def _camera(view: View, picture: PictureFacts, at: Array, *, rng: np.random.Generator) -> Camera:
    """A camera drawn from what is known of phones, that has the whole golfer in its picture."""
    known = camera_prior(view, picture)
    frame = np.array([WIDTH_PX, HEIGHT_PX])
    for _ in range(20_000):
        camera = Camera(
            parameters=known.mean + known.sd * rng.normal(size=len(known.mean)),
            base=BASE[view],
            width_px=WIDTH_PX,
            height_px=HEIGHT_PX,
        )
        pixels = camera.project(at)
        if ((pixels > 0) & (pixels < frame)).all() and camera.depth(at).min() > 1.0:
            return camera
    raise AssertionError("no camera has the golfer in its picture")


def _picture(
    view: View,
    at: Array,
    *,
    sway: Array,
    sticks: list[Array],
    square: Array | None,
    rng: np.random.Generator,
) -> Sighting:
    picture = PictureFacts(
        name=f"{view.value}.jpg", width_px=WIDTH_PX, height_px=HEIGHT_PX, focal_35mm=FOCAL_35MM
    )
    camera = _camera(view, picture, at, rng=rng)
    shown = at.copy()
    height = np.clip(at[:, 2] / p.SWAY_HEIGHT_M, 0.0, 2.0)
    shown[:, :2] += (SWAY_SIGN[view] * height)[:, None] * sway
    sd = camera.focal_px / camera.depth(shown) * NOISE_M
    pixels = camera.project(shown) + _landmark_errors(view, sd, rng=rng)
    return Sighting(
        view=view,
        picture=picture,
        landmarks={
            name: ProposedByModel(position_px=pixels[i], covariance_px2=np.eye(2) * sd[i] ** 2)
            for i, name in enumerate(LANDMARKS)
        },
        sticks=tuple(
            StickSighting(
                ends_px=camera.project(places) + rng.normal(0, STICK_SD_PX, (2, 2)),
                sd_px=STICK_SD_PX,
            )
            for places in sticks
            if camera.depth(places).min() > 0.5
        ),
        markers=() if square is None else (_marker(camera, square, rng=rng),),
    )


def _marker(camera: Camera, square: Array, *, rng: np.random.Generator) -> MarkerSighting:
    return MarkerSighting(
        name=SHEET_MARKER.name,
        corners_px=camera.project(square) + rng.normal(0, CORNER_SD_PX, (4, 2)),
        covariance_px2=np.stack([np.eye(2) * CORNER_SD_PX**2] * 4),
        side_m=SHEET_MARKER.side_m,
        side_sd_m=PRINT_SCALE_SD * SHEET_MARKER.side_m,
    )
