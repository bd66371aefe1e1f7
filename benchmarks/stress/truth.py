"""The truth beside the pictures, in the form of the published scenes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from benchmarks.stress import flesh
from benchmarks.stress.cameras import Lens
from benchmarks.stress.kit import HEADS, IRON, ball_centre
from benchmarks.stress.meshes import Part
from benchmarks.stress.person import Person
from benchmarks.stress.solids import Array, unit
from benchmarks.stress.stance import Skeleton
from wellset.figure.figure import BUILD_SCALARS, FigureState
from wellset.figure.landmarks import LANDMARKS
from wellset.measures import MEASURES

VERTEBRAE: Final = {"S1": 0.040, "L3": 0.088, "T12L1": 0.130, "T8": 0.204, "C7": 0.312}
"""Places of the marked vertebrae along the spine, as in ``stance.SPINE``."""

BACK_OUT_M: Final = 0.20


def _outermost(solids: list[Part], *, start: Array, way: Array) -> Array:
    """Last surface that a line from inside passes through, by its triangles."""
    best = 0.0
    for part in solids:
        a, b, c = (part.points[part.faces[:, k]] for k in range(3))
        one, two = b - a, c - a
        cross = np.cross(way, two)
        size = (one * cross).sum(axis=1)
        size = np.where(np.abs(size) < 1e-14, 1e-14, size)
        off = start - a
        u = (off * cross).sum(axis=1) / size
        turned = np.cross(off, one)
        v = (turned @ way) / size
        far = (two * turned).sum(axis=1) / size
        hit = (u >= 0) & (v >= 0) & (u + v <= 1) & (far > 0) & (far < BACK_OUT_M)
        best = max(best, float(far[hit].max())) if hit.any() else best
    return np.asarray(start + best * way)


def outline_points(person: Person, s: Skeleton, *, parts: Mapping[str, Part]) -> dict[str, Array]:
    """Five points of the back and the breastbone: on the skin, and on the cloth over it."""
    sections = flesh.trunk_sections(person, s)
    places = np.linspace(-0.060, 0.312, len(sections.centres))
    skin = [parts["trunk"], parts["head"]]
    cloth = [*skin, parts["top"], parts["legs"], parts["collar"]]
    found = {}
    for name, place in {**VERTEBRAE, "sternum": 0.262}.items():
        sign = 1.0 if name == "sternum" else -1.0
        centre, ahead = (
            np.array([np.interp(place, places, rows[:, k]) for k in range(3)])
            for rows in (sections.centres, sections.forward)
        )
        if name == "C7":  # at the root of the neck, where a collar lies
            centre = centre + 0.012 * person.stature * unit(s.spine[7] - s.spine[6])
        found[name] = _outermost(skin, start=centre, way=sign * unit(ahead))
        found[f"{name}_cloth"] = _outermost(cloth, start=centre, way=sign * unit(ahead))
    return found


def _shoe_points(s: Skeleton, shoe: Part, *, side: str) -> dict[str, Array]:
    toe = s.toes[side]
    ankle = s[f"{side}_ankle"] * (1, 1, 0)
    along = (shoe.points - ankle) @ toe
    low = np.array([0.0, 0.0, 0.012])
    ends = [
        shoe.points[np.abs(along - at) < 0.004].mean(axis=0) * (1, 1, 0) + low
        for at in (along.min(), along.max())
    ]
    heel, tip = ends
    across = np.array([-toe[1], toe[0], 0.0])
    outward = across * (1.0 if (side == "lead") == (across[0] > 0) else -1.0)
    ball = heel + 0.735 * (tip - heel) + 0.010 * outward
    return {
        f"{side}_shoe_heel": heel,
        f"{side}_shoe_toe": tip,
        f"{side}_foot_ball": ball * (1, 1, 0) + np.array([0.0, 0.0, 0.05]),
        f"{side}_heel": heel + 0.010 * toe + np.array([0.0, 0.0, 0.032]),
        f"{side}_toe_tip": tip - 0.009 * toe + np.array([0.0, 0.0, 0.024]),
    }


def landmarks(
    person: Person, s: Skeleton, *, parts: Mapping[str, Part], club: str, com: Array
) -> dict[str, Array]:
    """Every named point of a right-handed golfer, lead and trail."""
    joints = ("shoulder", "elbow", "wrist", "hip", "knee", "ankle")
    found = {f"{side}_{joint}": s[f"{side}_{joint}"] for side in flesh.SIDES for joint in joints}
    found |= dict(flesh.face_points(person, s))
    up, ahead = unit(s.spine[7] - s.spine[5]), s.forward[6]
    for side in flesh.SIDES:
        found |= _shoe_points(s, parts[f"{side}_shoe"], side=side)
        # the armpit: below the joint and a quarter of the way in, where arm and chest meet
        shoulder = s[f"{side}_shoulder"]
        inward = 0.25 * (s.spine[6] - shoulder)
        found[f"{side}_armpit"] = (
            shoulder + inward - (inward @ ahead) * ahead + 0.0075 * person.stature * ahead
            - 0.0253 * person.stature * up
        )  # fmt: skip
    found |= outline_points(person, s, parts=parts)
    found |= {name: s[name] for name in ("grip_mid", "grip_end", "shaft_end")}
    found["club_head"] = np.array(HEADS.get(club, IRON)[0])
    found["ball"] = ball_centre(club)
    for stem in ("hip", "shoulder"):
        found[f"mid_{stem}"] = (found[f"lead_{stem}"] + found[f"trail_{stem}"]) / 2
    found |= {"com": com, "com_ground": com * (1, 1, 0)}
    return found


_BACK: Final = {"c7": "C7_cloth", "t8": "T8_cloth", "t12": "T12L1_cloth", "l3": "L3_cloth",
                "s1": "S1_cloth", "sternum": "sternum_cloth"}  # fmt: skip


def _stance_gap(s: Skeleton, parts: Mapping[str, Part]) -> float:
    """Between the inner edges of the shoes at the ankles."""
    edges = {}
    for side, pick in (("lead", min), ("trail", max)):
        points = parts[f"{side}_shoe"].points
        at = np.abs(points[:, 1] - s[f"{side}_ankle"][1]) < 0.02
        edges[side] = float(pick(points[at, 0].tolist()))
    return edges["lead"] - edges["trail"]


def _hand_gap(s: Skeleton, parts: Mapping[str, Part]) -> float:
    """From the butt to the front of what covers the thighs, at the butt's height."""
    butt = s["grip_end"]
    points = parts["legs"].points
    level = np.abs(points[:, 2] - butt[2]) < 0.008
    level &= points[:, 1] > butt[1]
    if not level.any():  # the butt is above the belt: the belly is what it would touch
        points = parts["top"].points
        level = np.abs(points[:, 2] - butt[2]) < 0.008
        level &= np.abs(points[:, 0] - butt[0]) < 0.2
    return float(points[level, 1].min() - butt[1])


def measures(
    points: Mapping[str, Array], *, s: Skeleton, parts: Mapping[str, Part]
) -> dict[str, Any]:
    """True measures in the published units.

    Formulas of points are the catalogue's own, which agree with the published scenes'
    independent truth; what they can only estimate (centre of mass, shoe edges, thigh front,
    C7 under the collar) comes from the meshes.
    """
    rows = np.array([points[_BACK.get(name, name)] for name in LANDMARKS])
    offset = {"mass_offset_x": points["com"][0], "mass_offset_y": points["com"][1]}
    scalars = np.array([offset.get(name, 0.0) for name in BUILD_SCALARS])
    weights = np.zeros(len(LANDMARKS))
    state = FigureState(values=np.concatenate([rows.ravel(), scalars]), mass_weights=weights)
    rows[LANDMARKS.index("c7")] = points["C7"]
    bare = FigureState(values=np.concatenate([rows.ravel(), scalars]), mass_weights=weights)
    on_meshes = {"stance_gap": _stance_gap, "hand_gap": _hand_gap}
    found = {}
    for id_, measure in MEASURES.items():
        value = float(measure.formula(bare if id_ == "forward_bend" else state))
        if id_ in on_meshes:
            value = on_meshes[id_](s, parts)
        found[id_] = {
            "value": round(value * measure.published_per_si, 5),
            "unit": measure.unit.value,
        }
    return found


def named(points: Mapping[str, Array], *, left_handed: bool) -> dict[str, Array]:
    """The golfer's own sides in place of lead and trail; left-handers mirrored."""
    own = {"lead": "right", "trail": "left"} if left_handed else {"lead": "left", "trail": "right"}
    flip = np.array([-1.0 if left_handed else 1.0, 1.0, 1.0])
    found = {}
    for name, point in points.items():
        side, _, stem = name.partition("_")
        found[f"{stem}_{own[side]}" if side in own else name] = point * flip
    return found


def view_of(lens: Lens, points: Mapping[str, Array], *, tag: int | None) -> dict[str, Any]:
    """One camera and where it sees the points."""
    pixels, depths = lens.project(np.array(list(points.values())))
    middle = [lens.width / 2, lens.height / 2]
    return {
        "width": lens.width,
        "height": lens.height,
        "K": [[round(lens.focal, 6), 0.0, middle[0]], [0.0, round(lens.focal, 6), middle[1]],
              [0.0, 0.0, 1.0]],
        "R": lens.rotation.round(9).tolist(),
        "t": lens.translation.round(9).tolist(),
        "k1_k2": [lens.k1, lens.k2],
        "focal_35mm_tag": tag,
        "landmarks_px": {n: p.round(2).tolist() for n, p in zip(points, pixels, strict=True)},
        "depth_m": {n: round(float(d), 4) for n, d in zip(points, depths, strict=True)},
    }  # fmt: skip
