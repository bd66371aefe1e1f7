"""Make one golfer: a body, a club, a moment, clothes, labels, in the pool's numbers."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from training.bodies.store import Array, Bodies
from training.golfers.address import Stance
from training.golfers.clothes.dress import dress
from training.golfers.clothes.outfit import random_outfit
from training.golfers.clothes.wearer import Wearer
from training.golfers.clubs import BALL_RADIUS_M, ball_meshes, club_meshes, random_club
from training.golfers.fitting import fitted
from training.golfers.free import FREE
from training.golfers.labels import landmarks
from training.golfers.moment import Moment
from training.golfers.people import random_figure
from training.golfers.pool import LARGEST_M, VERTICES_PER_METRE, Golfer
from training.golfers.setup import random_setup
from training.golfers.surface import Mesh, joined, vertex_normals
from training.golfers.swing import swung

CHANCES = {
    "address": 0.8, "waggle": 0.04, "takeaway": 0.035, "top": 0.025, "finish": 0.02,
    "standing": 0.025, "walking": 0.02, "leaning_on_club": 0.01, "picking_up_ball": 0.015,
    "hands_on_hips": 0.01,
}  # fmt: skip
"""How often each moment is drawn; those nearest to an address most, being hardest."""

HULL_POINTS = 192
_DIRECTIONS = np.random.default_rng(0).normal(size=(HULL_POINTS, 3))


def random_golfer(bodies: Bodies, *, rng: np.random.Generator) -> Golfer:
    """Draw golfers until one comes out possible: the same draws, the same golfer."""
    while True:
        moment = random_moment(bodies, rng=rng)
        if moment is None:
            continue
        outfit = random_outfit(rng, female=moment.pose.figure.female)
        golfer = dressed(moment, wearer=Wearer(pose=moment.pose, outfit=outfit), rng=rng)
        if golfer is not None:
            return golfer


def random_moment(bodies: Bodies, *, rng: np.random.Generator) -> Moment | None:
    """A golfer at address, or doing something else; ``None`` when it is impossible."""
    figure = random_figure(bodies, rng)
    club = random_club(rng, height_m=figure.height_m)
    kind = str(rng.choice(list(CHANCES), p=list(CHANCES.values())))
    if kind in FREE:
        return FREE[kind](figure, club=club, rng=rng)
    setup = random_setup(rng, club=club, height_m=figure.height_m)
    address = fitted(Stance(figure=figure, club=club, setup=setup), rng=rng)
    if address is None:
        return None
    club = address.stance.club
    if kind != "address":
        return swung(address, kind=kind, rng=rng)
    ball = np.array([0, 0, BALL_RADIUS_M + club.tee_m])
    return Moment(kind="address", pose=address.pose, club=address.club, ball=ball, bag=club)


def dressed(moment: Moment, *, wearer: Wearer, rng: np.random.Generator) -> Golfer | None:
    """Clothe a moment and label it; ``None`` when it doesn't fit the pool's format."""
    person = dress(wearer, rng)
    things, head = _things(moment)
    points, known = landmarks(wearer, person, moment=moment, head=head)
    meshes = [*person, *things]
    vertices, faces = joined([(m.vertices, m.faces) for m in meshes])
    if not np.isfinite(vertices).all() or np.abs(vertices).max() > LARGEST_M - 0.1:
        return None
    normals = np.concatenate([vertex_normals(m.vertices, faces=m.faces) for m in meshes])
    return Golfer(
        vertices=np.round(vertices * VERTICES_PER_METRE),
        normals=np.round(normals * 127),
        faces=faces,
        classes=np.concatenate([m.classes for m in meshes]),
        colours=np.clip(np.concatenate([m.colours for m in meshes]) * 128, 0, 255),
        landmarks_m=points,
        hull_m=_hull(person),
        known=known,
        at_address=moment.kind == "address",
        kind=moment.kind,
        hand="right",
        club=moment.bag.kind,
        garments=wearer.outfit.words,
    )


def _things(moment: Moment) -> tuple[list[Mesh], Array | None]:
    meshes: list[Mesh] = []
    head = None
    if moment.club is not None:
        meshes, head = club_meshes(moment.club)
    if moment.ball is not None:
        meshes = [*meshes, *ball_meshes(moment.bag, at=moment.ball)]
    return meshes, head


def _hull(person: list[Mesh]) -> NDArray[np.float64]:
    points = np.concatenate([m.vertices for m in person])
    return np.asarray(points[(points @ _DIRECTIONS.T).argmax(0)])
