"""Sightings of true scenes: true pixels with drawn noise of the stated size."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from tests.support.knowledge import setting
from tests.support.truth import Truth, ViewTruth, load, scene_name
from wellset.assess import Fit, Setting, fit
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import (
    NotSeen,
    PictureFacts,
    PlacedByCoach,
    Placement,
    ProposedByModel,
    Sighting,
    StickSighting,
)
from wellset.figure.views import View

Array = NDArray[np.float64]

NOISE_M = 0.004
STICK_SD_PX = 0.7


def scene_setting(scene: str) -> Setting:
    """What would be typed for a scene: stature and club."""
    truth = load(scene)
    return setting(
        stature=truth["stature_m"],
        club_length=truth["club_length_m"],
        teed=truth["club"] == "driver",
    )


def scene_px(view: ViewTruth, ends: Array) -> Array:
    """Pixels of points in a scene's own world, lens distortion included."""
    turn, shift, matrix = np.array(view["R"]), np.array(view["t"]), np.array(view["K"])
    seen = ends @ turn.T + shift
    plane = seen[:, :2] / seen[:, 2:]
    r2 = (plane**2).sum(1, keepdims=True)
    k1, k2 = view["k1_k2"]
    pixels: Array = plane * (1 + k1 * r2 + k2 * r2 * r2) * matrix[0, 0] + matrix[:2, 2]
    return pixels


def scene_sightings(
    scene: str, *, seed: int | None = 0, sticks: Sequence[str] = ("target_stick", "cross_stick")
) -> list[Sighting]:
    """Both pictures of a scene; ``seed`` None for no noise; left-handers mirrored."""
    truth = load(scene)
    rng = None if seed is None else np.random.default_rng(seed)
    return [_sighting(truth, view, rng=rng, sticks=sticks) for view in View]


def _sighting(
    truth: Truth, name: View, *, rng: np.random.Generator | None, sticks: Sequence[str]
) -> Sighting:
    view = truth["views"][name.value]
    mirrored = truth["hand"] == "left"

    def at_the_door(pixels: Array) -> Array:
        return np.array([view["width"], 0]) + pixels * [-1, 1] if mirrored else pixels

    def shaken(pixels: Array, sd: float) -> Array:
        return pixels if rng is None else pixels + rng.normal(0, sd, pixels.shape)

    placements: dict[str, Placement] = {}
    for landmark in LANDMARKS:
        key = scene_name(truth, landmark)
        sd = view["K"][0][0] / view["depth_m"][key] * NOISE_M
        true = at_the_door(np.array(view["landmarks_px"][key]))
        placements[landmark] = ProposedByModel(
            position_px=shaken(true, sd), covariance_px2=np.eye(2) * sd**2
        )
    lying = [
        StickSighting(
            ends_px=shaken(at_the_door(scene_px(view, np.array(stick["ends"]))), STICK_SD_PX),
            sd_px=STICK_SD_PX,
        )
        for key, stick in truth["on_the_ground"].items()
        if key in sticks
    ]
    return Sighting(
        view=name,
        picture=PictureFacts(
            name=f"{name.value}.jpg",
            width_px=view["width"],
            height_px=view["height"],
            focal_35mm=view["focal_35mm_tag"],
        ),
        landmarks=placements,
        sticks=tuple(lying),
    )


def fit_scene(scene: str, *, seed: int | None = 0) -> Fit:
    """The fit of a scene's true pixels with noise."""
    return fit(scene_setting(scene), scene_sightings(scene, seed=seed), rendered_to_real=False)


def changed(
    sighting: Sighting, landmark: str, *, to: Callable[[ProposedByModel], Placement]
) -> Sighting:
    """The same picture with one landmark placed otherwise."""
    old = sighting.landmarks[landmark]
    assert isinstance(old, ProposedByModel)
    return evolve(sighting, landmarks={**sighting.landmarks, landmark: to(old)})


def hidden(sighting: Sighting, *landmarks: str) -> Sighting:
    """The same picture without some landmarks."""
    gone: Mapping[str, Placement] = {name: NotSeen(why="out of the frame") for name in landmarks}
    return evolve(sighting, landmarks={**sighting.landmarks, **gone})


def moved(shift_px: tuple[float, float]) -> Callable[[ProposedByModel], ProposedByModel]:
    """The network sees the landmark elsewhere."""

    def move(old: ProposedByModel) -> ProposedByModel:
        return evolve(old, position_px=old.position_px + np.array(shift_px))

    return move


def by_hand(
    shift_px: tuple[float, float], *, sd_px: float
) -> Callable[[ProposedByModel], PlacedByCoach]:
    """The coach drags the landmark and is sure of it."""

    def place(old: ProposedByModel) -> PlacedByCoach:
        return PlacedByCoach(
            position_px=old.position_px + np.array(shift_px),
            covariance_px2=np.eye(2) * sd_px**2,
            proposal=old,
        )

    return place
