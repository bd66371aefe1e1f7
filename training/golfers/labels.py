"""The 37 points of a dressed golfer, where a careful coach would put them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from training.bodies.store import Array
from training.golfers.bones import SIDES
from training.golfers.clothes.shoes import foot_frame
from training.golfers.clothes.wearer import Wearer
from training.golfers.moment import Moment
from training.golfers.pool import LANDMARKS
from training.golfers.surface import Mesh, Solid, joined, ray_to
from training.golfers.turning import unit

SIDE_NAMES = {"L": "left", "R": "right"}
JOINTS = {
    "eye": "eye", "shoulder": "upperarm01", "elbow": "lowerarm01", "wrist": "wrist",
    "hip": "upperleg01", "knee": "lowerleg01", "ankle": "foot",
}  # fmt: skip
ON_CLOTH = ("C7", "T8", "T12L1", "L3", "S1", "sternum")
SHOE_HEIGHT_M = 0.012
"""Height above the ground at which the ends of a shoe are taken."""


def landmarks(
    wearer: Wearer, meshes: Sequence[Mesh], *, moment: Moment, head: Array | None
) -> tuple[Array, NDArray[np.bool_]]:
    """(37, 3) points in metres, world frame, and (37,) whether each exists.

    Parameters
    ----------
    wearer : Wearer
    meshes : sequence of Mesh
        Its clothes.
    moment : Moment
    head : (3,) array or None
        Middle of the club's head.
    """
    found = {**_body(wearer), **_shoes(wearer, meshes), **_on_cloth(wearer, meshes)}
    if moment.club is not None and head is not None:
        found["grip_mid"] = moment.club.grip_middle
        found["grip_end"] = moment.club.butt
        found["shaft_end"] = moment.club.sole
        found["club_head"] = head
    if moment.ball is not None:
        found["ball"] = moment.ball
    known = np.array([name in found for name in LANDMARKS])
    return np.array([found.get(name, np.zeros(3)) for name in LANDMARKS]), known


def _body(wearer: Wearer) -> dict[str, Array]:
    pose = wearer.pose
    found = {"nose": pose.place("nose"), "head_top": pose.place("head_top")}
    for side, word in SIDE_NAMES.items():
        found |= {f"{name}_{word}": pose.joint(f"{b}.{side}") for name, b in JOINTS.items()}
        toes = [pose.joint(f"toe{toe}-1.{side}") for toe in range(1, 6)]
        found[f"foot_ball_{word}"] = np.mean(toes, axis=0)
        found[f"ear_{word}"] = pose.place(f"ear.{side}")
        found[f"armpit_{word}"] = pose.place(f"armpit.{side}")
    return found


def _shoes(wearer: Wearer, meshes: Sequence[Mesh]) -> dict[str, Array]:
    """The farthest points of each shoe along the foot, just above the ground."""
    found = {}
    for side in SIDES:
        R, origin = foot_frame(wearer, side)
        points = np.concatenate([m.vertices for m in meshes if m.name in _shoe_names(side)])
        local = (points - origin) @ R
        heel, toe = ((wearer.pose.place(f"{n}.{side}") - origin) @ R for n in ("heel", "toe"))
        along = local @ unit((toe - heel) * [1, 1, 0])
        for name, end in (("shoe_heel", along.min()), ("shoe_toe", along.max())):
            tip = local[np.abs(along - end) < 0.004].mean(0)
            tip[2] = SHOE_HEIGHT_M
            found[f"{name}_{SIDE_NAMES[side]}"] = origin + R @ tip
    return found


def _shoe_names(side: str) -> tuple[str, str]:
    return f"shoe{side}", f"sole{side}"


def _on_cloth(wearer: Wearer, meshes: Sequence[Mesh]) -> dict[str, Array]:
    """Places of back and breast, moved out to the cloth in front of them."""
    cloth = joined(
        [(m.vertices, m.faces) for m in meshes if m.name in {"shirt", "trousers", "skirt"}]
    )
    outfit = wearer.outfit
    # no farther than that cloth can hang, so that a sleeve in front isn't taken for it
    reach = 0.05 + 0.016 * max(outfit.top_ease, outfit.bottom_ease)
    found = {}
    for name in ON_CLOTH:
        place = wearer.figure.places[name]
        skin, out = place.of(wearer.posed), unit(place.of(wearer.normals))
        near = _near(cloth, skin, radius=reach + 0.06)
        far = ray_to(skin, out, shape=near, reach=reach)
        found[f"{name}_cloth"] = skin + far * out
    return found


def _near(shape: Solid, point: Array, *, radius: float) -> Solid:
    vertices, faces = shape
    close = np.sum((vertices - point) ** 2, axis=1) < radius**2
    return vertices, faces[close[faces[:, 0]]]
