"""Clubs: lengths, lies, and heads of several makes, as a golfer holds them.

The frame of a head: X from the back to the face, Y from heel to toe, Z up, origin where
the shaft's axis meets the ground.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import field, frozen

from training.bodies.store import Array
from training.golfers.surface import Mesh, Solid, ellipsoid, extruded, joined, mesh, tube
from training.golfers.turning import between

BALL_RADIUS_M = 0.04267 / 2
"""The rules' least diameter: Equipment Rules, part 4, section 3."""

GRIP_LENGTH_M = 0.27
FACE_BEHIND_BALL_M = 0.014
"""From the shaft's axis to the back of the ball, so that the face nearly touches it."""


@frozen(kw_only=True)
class ClubKind:
    """A kind of club: usual length along the shaft, lie, and makes of head.

    Lengths and lies are common practice for a 1.75 m golfer, no single source.
    """

    length_m: float
    lie_deg: float
    loft_deg: float
    heads: tuple[str, ...]
    tee_m: tuple[float, float] = (0.0, 0.0)
    """Least and greatest height of the tee that it is used with."""


PUTTER_HEADS = ("blade", "mallet", "half_moon", "fang")

KINDS: Mapping[str, ClubKind] = {
    "wedge": ClubKind(length_m=0.895, lie_deg=64.0, loft_deg=52, heads=("iron",)),
    "short_iron": ClubKind(length_m=0.915, lie_deg=63.5, loft_deg=41, heads=("iron",)),
    "mid_iron": ClubKind(
        length_m=0.942, lie_deg=62.5, loft_deg=32, heads=("iron", "iron", "hybrid"), tee_m=(0, 0.01)
    ),
    "long_iron": ClubKind(
        length_m=0.985, lie_deg=61.0, loft_deg=23, heads=("iron", "hybrid"), tee_m=(0, 0.015)
    ),
    "fairway_wood": ClubKind(
        length_m=1.075, lie_deg=57.5, loft_deg=16, heads=("wood",), tee_m=(0, 0.02)
    ),
    "driver": ClubKind(
        length_m=1.145, lie_deg=57.0, loft_deg=10, heads=("driver",), tee_m=(0.02, 0.06)
    ),
    "putter": ClubKind(length_m=0.87, lie_deg=71.0, loft_deg=3, heads=PUTTER_HEADS),
}


@frozen(kw_only=True)
class Club:
    """One club, fitted to its golfer.

    Parameters
    ----------
    kind, head : str
    length_m : float
        From the end of the grip to the ground along the shaft's axis.
    lie_deg, loft_deg : float
    face_m : float
        From the shaft's axis to the middle of the face, toward the toe.
    size : float
        Of the head, 1 is usual.
    tee_m : float
        How high the ball lies above the ground.
    thickness : float
        Of grip and shaft, 1 is usual.
    """

    kind: str
    head: str
    length_m: float
    lie_deg: float
    loft_deg: float
    face_m: float
    size: float
    tee_m: float
    thickness: float


FACE_M = {"iron": 0.036, "hybrid": 0.038, "wood": 0.045, "driver": 0.052}


def random_club(rng: np.random.Generator, *, height_m: float, kind: str | None = None) -> Club:
    """A club for a golfer of some height; juniors have shorter ones."""
    chances = dict(zip(KINDS, (0.15, 0.13, 0.23, 0.12, 0.1, 0.16, 0.11), strict=True))
    chosen = kind or str(rng.choice(list(chances), p=list(chances.values())))
    usual = KINDS[chosen]
    head = str(rng.choice(usual.heads))
    fitted = float(np.clip((height_m - 1.77) * 0.22, -0.035, 0.05))
    junior = float(np.clip(height_m / 1.66, 0.7, 1.0))
    size = float(rng.uniform(0.88, 1.12))
    low, high = usual.tee_m
    tee = float(rng.choice([low, rng.uniform(low, high)], p=[0.35, 0.65]))
    # a putter's shaft may enter anywhere from the heel to the middle
    face = FACE_M.get(head, float(rng.choice([0.012, rng.uniform(0, 0.045)])))
    return Club(
        kind=chosen,
        head=head,
        length_m=(usual.length_m + fitted + 0.012 * rng.normal()) * junior,
        lie_deg=usual.lie_deg + 1.2 * rng.normal(),
        loft_deg=usual.loft_deg + 4 * rng.uniform(-1, 1),
        face_m=face * size,
        size=size,
        tee_m=tee if chosen != "driver" else max(tee, 0.012),
        thickness=float(rng.uniform(0.85, 1.2)),
    )


@frozen(kw_only=True, eq=False)
class HeldClub:
    """A club somewhere in space.

    Parameters
    ----------
    club : Club
    butt : (3,) array, metre
        End of the grip.
    along : (3,) unit vector
        From the end of the grip to the head.
    axes : (3, 3) array
        The head's frame as columns.
    grip_down_m : float
        How far the hands hold below the end.
    """

    club: Club
    butt: Array = field(repr=False)
    along: Array = field(repr=False)
    axes: Array = field(repr=False)
    grip_down_m: float

    @property
    def sole(self) -> Array:
        """(3,) where the shaft's axis meets the ground under the head."""
        return self.butt + self.along * self.club.length_m

    @property
    def grip_middle(self) -> Array:
        """(3,) between the hands."""
        return self.butt + self.along * (GRIP_MIDDLE_M + self.grip_down_m)

    def turned(self, Q: Array, *, about: Array) -> HeldClub:
        """The club turned rigidly about a point."""
        return HeldClub(
            club=self.club,
            butt=about + Q @ (self.butt - about),
            along=Q @ self.along,
            axes=Q @ self.axes,
            grip_down_m=self.grip_down_m,
        )

    def shifted(self, by: Array) -> HeldClub:
        """The club moved."""
        return HeldClub(
            club=self.club,
            butt=self.butt + by,
            along=self.along,
            axes=self.axes,
            grip_down_m=self.grip_down_m,
        )


GRIP_MIDDLE_M = 0.102
HANDS_M = {"L": 0.066, "R": 0.138}
"""From the end of the grip to the middle of each hand when nothing is choked down."""


def head_axes(along: Array, *, lie_deg: float) -> Array:
    """The head's frame for a shaft: soled as its lie says, then leaned with the shaft."""
    lie = np.radians(lie_deg)
    soled = np.array([0, np.cos(lie), np.sin(lie)])
    axes: Array = between(soled, -along) @ np.diag([1.0, -1.0, 1.0])
    return axes


def club_meshes(held: HeldClub) -> tuple[list[Mesh], Array]:
    """Grip, shaft and head of a held club; and (3,) the middle of the head."""
    club, along, thick = held.club, held.along, held.club.thickness
    grip_end = held.butt + along * GRIP_LENGTH_M
    neck = held.sole - along * (0.03 if club.kind == "putter" else 0.055)
    grip = tube(held.butt, grip_end, radii=(0.0135 * thick, 0.0095 * thick), sides=10, parts=6)
    shaft = tube(grip_end, neck, radii=(0.0074 * thick, 0.0047 * thick), sides=8, parts=14)
    body, extra = _head(club)
    place = held.sole
    # a left-handed frame turns triangles inside out
    solids = [(v * club.size @ held.axes.T + place, f[:, ::-1]) for v, f in (body, *extra)]
    hosel_to = place + held.axes @ np.array([0, 0, _HOSEL_TO[club.head]]) * club.size
    solids.append(tube(neck, hosel_to, radii=(0.0066, 0.0085), sides=10))
    vertices, faces = joined(solids)
    # a head leaned on its sole would dip into the ground
    lift = np.array([0, 0, max(0.0, 0.002 - vertices[:, 2].min())])
    near = lift[2] < 0.06
    vertices = vertices + lift * near
    main = vertices[: len(body[0])]
    round_head = club.head in {"driver", "wood", "hybrid"}
    middle = main.mean(0) if round_head else (main.max(0) + main.min(0)) / 2
    meshes = [
        mesh("grip", grip, of_class="grip", person=False),
        mesh("shaft", shaft, of_class="shaft", person=False),
        mesh("head", (vertices, faces), of_class="head", person=False),
    ]
    return meshes, middle


_HOSEL_TO = {
    "iron": 0.012, "hybrid": 0.018, "wood": 0.018, "driver": 0.027,
    "blade": 0.02, "mallet": 0.02, "half_moon": 0.015, "fang": 0.015,
}  # fmt: skip


def _head(club: Club) -> tuple[Solid, list[Solid]]:
    """The main solid of a head and what is added to it, in the head's frame."""
    if club.head == "iron":
        return _iron(club.loft_deg), []
    if club.head in {"wood", "driver", "hybrid"}:
        return _wood(club.head), []
    middle = club.face_m / club.size
    return _putter(club.head, middle=middle)


_IRON_OUTLINE = np.array([
    [-0.006, 0.0], [0.0, -0.001], [0.055, 0.001], [0.068, 0.010], [0.070, 0.030],
    [0.066, 0.052], [0.058, 0.056], [0.0, 0.030], [-0.008, 0.027],
])  # fmt: skip


def _iron(loft_deg: float) -> Solid:
    loft = np.radians(loft_deg)
    toe = np.array([0, 1.0, 0])
    up = np.array([-np.sin(loft), 0, np.cos(loft)])
    back = -np.array([np.cos(loft), 0, np.sin(loft)])
    origin = np.array([0.006, 0, -0.001])
    return extruded(_IRON_OUTLINE, origin=origin, axes=np.stack([toe, up, back], 1), depth=0.009)


_WOOD_RADII = {
    "driver": (0.052, 0.060, 0.030),
    "wood": (0.042, 0.050, 0.020),
    "hybrid": (0.030, 0.046, 0.019),
}


def _wood(head: str) -> Solid:
    """A pear: an ellipsoid squared a little, cut flat at the face and the sole."""
    radii = np.array(_WOOD_RADII[head])
    ball, faces = ellipsoid(np.zeros(3), np.ones(3), sides=20, rows=12)
    shape = np.sign(ball) * np.abs(ball) ** 0.82
    shape[:, 0] = np.minimum(shape[:, 0], 0.82)
    shape[:, 2] = np.maximum(shape[:, 2], -0.85)
    centre = np.array([0.010 - radii[0], FACE_M[head], radii[2] - 0.001])
    return centre + shape * radii, faces


def _putter(head: str, *, middle: float) -> tuple[Solid, list[Solid]]:
    """Putters: a bar, a deep block, a half moon, or a bar with two prongs."""
    toe, back, up = np.array([[0, 1.0, 0], [-1.0, 0, 0], [0, 0, 1.0]])
    flat = np.stack([toe, back, up], axis=1)
    origin = np.array([0.008, middle, 0.001])

    def plate(outline: list[tuple[float, float]], height: float) -> Solid:
        return extruded(np.array(outline), origin=origin, axes=flat, depth=height)

    if head == "blade":
        return plate([(-0.057, 0), (-0.057, 0.028), (0.057, 0.028), (0.057, 0)], 0.026), []
    if head == "mallet":
        outline = [(-0.048, 0), (-0.045, 0.06), (-0.03, 0.075), (0.03, 0.075), (0.045, 0.06)]
        return plate([*outline, (0.048, 0)], 0.024), []
    if head == "half_moon":
        angles = np.linspace(np.pi, 0, 14)
        arc = [(0.054 * np.cos(a), 0.008 + 0.068 * np.sin(a)) for a in angles]
        return plate([(-0.054, 0), *arc, (0.054, 0)], 0.025), []
    bar = plate([(-0.052, 0), (-0.052, 0.02), (0.052, 0.02), (0.052, 0)], 0.025)
    prongs = [
        plate([(a, 0.02), (a, 0.085), (b, 0.085), (b, 0.02)], 0.018)
        for a, b in ((-0.046, -0.028), (0.028, 0.046))
    ]
    return bar, prongs


def ball_meshes(club: Club | None, *, at: Array) -> list[Mesh]:
    """The ball, and its tee if it lies on one."""
    ball = ellipsoid(at, np.full(3, BALL_RADIUS_M))
    meshes = [mesh("ball", ball, of_class="ball", person=False)]
    if club is not None and club.tee_m > 0.004:
        ground = at * [1, 1, 0]
        top = ground + np.array([0, 0, club.tee_m + 0.001])
        tee = tube(ground, top, radii=(0.0025, 0.006), sides=6)
        meshes.append(mesh("tee", tee, of_class="tee", person=False))
    return meshes
