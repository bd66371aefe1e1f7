"""Flesh on the skeleton: trunk, limbs, hands and head as solids."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Final

import numpy as np
from scipy.interpolate import CubicSpline

from benchmarks.stress.person import Person
from benchmarks.stress.solids import Array, Sections, Solid, cone, ellipsoid, join, tube, unit
from benchmarks.stress.stance import SPINE, Skeleton

SIDES: Final = ("lead", "trail")

# Places along the spine (as in SPINE, and one below), then half-width, depth in front and
# depth behind as shares of stature for a man and a woman of middling girth: proportions by eye.
_PLACES: Final = (-0.060, *SPINE)
_WIDTH: Final = {
    False: (0.040, 0.084, 0.093, 0.089, 0.083, 0.085, 0.092, 0.080, 0.034),
    True: (0.040, 0.088, 0.099, 0.090, 0.076, 0.077, 0.084, 0.074, 0.031),
}
_FRONT: Final = (0.020, 0.046, 0.056, 0.060, 0.061, 0.062, 0.068, 0.056, 0.026)
_BACK: Final = (0.020, 0.050, 0.055, 0.049, 0.047, 0.049, 0.056, 0.052, 0.030)

FINGERS: Final = {"lead": (0.058, 0.076, 0.094, 0.112), "trail": (0.130, 0.148, 0.166, 0.184)}
"""Where each finger lies on the grip, metres from the butt."""


def trunk_sections(person: Person, skeleton: Skeleton, /) -> Sections:
    """Cross-sections of the trunk, from the seat to the neck."""
    spine = skeleton.spine
    below = spine[0] + (spine[0] - spine[1])
    line = CubicSpline(_PLACES, np.vstack([below, spine]))
    places = np.linspace(_PLACES[0], _PLACES[-1], 34)

    def axis(rows: Array) -> Array:
        table = np.vstack([rows[:1], rows])
        columns = [np.interp(places, _PLACES, table[:, k]) for k in range(3)]
        return unit(np.column_stack(columns))

    def size(shares: tuple[float, ...], extra: Array) -> Array:
        return np.asarray(CubicSpline(_PLACES, shares)(places) * person.stature * extra)

    girth = np.interp(places, [0.2, 0.31], [person.girth, person.girth**0.3])
    belly = 1.0 + 0.55 * person.belly * np.exp(-(((places - 0.085) / 0.05) ** 2))
    return Sections(
        centres=line(places),
        lateral=axis(skeleton.lateral),
        forward=axis(skeleton.forward),
        width=size(_WIDTH[person.female], girth**0.9),
        front=size(_FRONT, girth * belly),
        back=size(_BACK, girth**0.8),
    )


def trunk(person: Person, skeleton: Skeleton, /) -> Solid:
    """Trunk with shoulders, buttocks and breasts."""
    s, tall, thick = skeleton, person.stature, person.girth
    parts = [tube(trunk_sections(person, skeleton), power=2.5)]
    axes = np.array([s.lateral[5], s.forward[5], unit(s.spine[6] - s.spine[5])])
    for side, sign in zip(SIDES, (1.0, -1.0), strict=True):
        shoulder = s[f"{side}_shoulder"]
        inner = s.spine[6] + 0.35 * (shoulder - s.spine[6])
        parts.append(cone(inner, shoulder, radii=(0.042 * tall, 0.030 * tall * thick**0.5)))
        parts.append(
            cone(s.spine[7], 0.6 * shoulder + 0.4 * s.spine[7], radii=(0.030 * tall, 0.026 * tall))
        )
        seat = s.spine[1] + sign * 0.045 * tall * s.lateral[1] - 0.020 * tall * s.forward[1]
        seat = seat - 0.008 * tall * unit(s.spine[2] - s.spine[1])
        parts.append(cone(seat, seat + 1e-3, radii=(0.047 * tall * thick,) * 2))
        if person.female:
            breast = s.spine[5] + sign * 0.042 * tall * s.lateral[5]
            breast = breast + 0.056 * tall * thick * s.forward[5] + 0.02 * tall * axes[2]
            radii = (0.034 * tall, 0.026 * tall * thick, 0.034 * tall)
            parts.append(ellipsoid(breast, axes=axes, radii=radii))
    return join(*parts, melt=0.045)


def arm(person: Person, skeleton: Skeleton, *, side: str) -> tuple[Solid, Solid]:
    """Upper arm and forearm."""
    tall, thick = person.stature, person.girth**0.6
    shoulder, elbow, wrist = (skeleton[f"{side}_{j}"] for j in ("shoulder", "elbow", "wrist"))
    bulge = elbow + 0.25 * (wrist - elbow)
    upper = cone(shoulder, elbow, radii=(0.030 * tall * thick, 0.0235 * tall * thick))
    lower = join(
        cone(elbow, bulge, radii=(0.0235 * tall * thick, 0.0250 * tall * thick)),
        cone(bulge, wrist, radii=(0.0250 * tall * thick, 0.0155 * tall)),
        melt=0.02,
    )
    return upper, lower


def leg(person: Person, skeleton: Skeleton, *, side: str) -> tuple[Solid, Solid]:
    """Thigh and lower leg."""
    tall, thick = person.stature, person.girth
    hip, knee, ankle = (skeleton[f"{side}_{joint}"] for joint in ("hip", "knee", "ankle"))
    middle = 0.6 * hip + 0.4 * knee + 0.012 * tall * np.array([0.0, -1.0, 0.0])
    calf = 0.72 * knee + 0.28 * ankle + 0.011 * tall * np.array([0.0, 1.0, 0.0])
    thigh = join(
        cone(hip, middle, radii=(0.050 * tall * thick, 0.046 * tall * thick)),
        cone(middle, knee, radii=(0.046 * tall * thick, 0.032 * tall * thick**0.6)),
        melt=0.03,
    )
    shank = join(
        cone(knee, calf, radii=(0.031 * tall * thick**0.6, 0.032 * tall * thick**0.7)),
        cone(calf, ankle, radii=(0.032 * tall * thick**0.7, 0.0195 * tall)),
        melt=0.03,
    )
    return thigh, shank


def hand(skeleton: Skeleton, side: str, /) -> Solid:
    """A hand closed round the grip."""
    butt = skeleton["grip_end"]
    shaft = unit(skeleton["shaft_end"] - butt)
    wrist = skeleton[f"{side}_wrist"]
    out = wrist - butt - ((wrist - butt) @ shaft) * shaft
    out = unit(out)
    across = np.cross(shaft, out)
    if side == "trail":
        across = -across
    places = FINGERS[side]
    palm = butt + 0.5 * (places[0] + places[-1]) * shaft + 0.026 * out
    parts = [cone(wrist, palm, radii=(0.024, 0.027))]
    for place in places:
        ring = [
            butt + place * shaft + 0.0215 * (np.cos(a) * out + np.sin(a) * across)
            for a in np.radians([-30, 30, 90, 150, 205])
        ]
        radii = np.linspace(0.0115, 0.0085, len(ring))
        parts += [
            cone(a, b, radii=(radii[i], radii[i + 1])) for i, (a, b) in enumerate(pairwise(ring))
        ]
    thumb = butt + (places[-1] + 0.012) * shaft + 0.019 * unit(out - 0.6 * across)
    parts.append(cone(palm - 0.012 * across, thumb, radii=(0.015, 0.010)))
    return join(*parts, melt=0.008)


def head_parts(person: Person, skeleton: Skeleton, /) -> Mapping[str, Solid]:
    """Skull with face, and neck."""
    size = person.head * (0.5 * person.stature + 0.9) / 1.8
    centre = skeleton["head"]

    def at(*place: float) -> Array:
        return np.asarray(centre + size * (np.array(place) @ skeleton.head_axes))

    axes = skeleton.head_axes
    skull = ellipsoid(
        at(0, -0.008, 0.022), axes=axes, radii=(0.075 * size, 0.096 * size, 0.092 * size)
    )
    face = [
        ellipsoid(at(0, 0.036, -0.045), axes=axes, radii=np.array([0.057, 0.054, 0.072]) * size),
        cone(at(0, 0.060, -0.098), at(0, 0.061, -0.1), radii=(0.020 * size, 0.020 * size)),
        cone(at(0, 0.086, 0.010), at(0, 0.100, -0.026), radii=(0.008 * size, 0.013 * size)),
        cone(at(-0.03, 0.079, 0.022), at(0.03, 0.079, 0.022), radii=(0.010 * size,) * 2),
    ]
    ears = [
        ellipsoid(at(x, -0.006, -0.012), axes=axes, radii=np.array([0.010, 0.018, 0.031]) * size)
        for x in (0.074, -0.074)
    ]
    neck = cone(
        skeleton.spine[7] + 0.012 * person.stature * skeleton.forward[7],
        at(0, -0.012, -0.05),
        radii=(0.036 * person.stature, 0.055 * size),
    )
    return {"skull": skull, "head": join(skull, *face, *ears, melt=0.016), "neck": neck}


def face_points(person: Person, skeleton: Skeleton, /) -> Mapping[str, Array]:
    """Nose tip, eyes and ear holes."""
    size = person.head * (0.5 * person.stature + 0.9) / 1.8
    places = {
        "nose": (0.0, 0.112, -0.026),
        "lead_eye": (0.032, 0.083, 0.008),
        "trail_eye": (-0.032, 0.083, 0.008),
        "lead_ear": (0.080, -0.002, -0.012),
        "trail_ear": (-0.080, -0.002, -0.012),
        "head_top": (0.0, -0.008, 0.114),
    }
    return {
        name: skeleton["head"] + size * (np.array(place) @ skeleton.head_axes)
        for name, place in places.items()
    }
