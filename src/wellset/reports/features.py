"""From a solved set-up to marks: the parts that both views share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.figure import Figure
from wellset.figure.sighting import NotSeen, PlacedByCoach
from wellset.measures import Measured, MeasureResult
from wellset.measures.kinds import COVERAGE_FACTOR
from wellset.reports.marks import Area, Line, Mark, Role, Spot
from wellset.services.assessment import AssessedPicture

Array = NDArray[np.float64]

ELLIPSE_SCALE: Final = 2.4477
"""Square root of the 95 % point of chi-square with two degrees of freedom (5.991)."""
SAMPLES: Final = 24
ALONG: Final = np.linspace(0, 1, SAMPLES)[:, None]
"""Shares along a line that the lens bends."""
NEAR_M: Final = 0.4
"""Nothing closer to the lens than this is drawn."""
UNDRAWN: Final = frozenset({"lead_eye", "trail_eye"})
"""Read off the picture, but too close to the nose to be worth a dot."""

_LIMBS: Final = (
    ("shoulder", "elbow", "wrist"),
    ("hip", "knee", "ankle"),
    ("shoe_heel", "shoe_toe"),
)


@frozen(kw_only=True, eq=False)
class Scene:
    """One picture with the set-up solved from it."""

    picture: AssessedPicture
    figure: Figure
    measures: Mapping[str, MeasureResult]

    def project(self, points_world: Sequence[Array] | Array, /) -> Array:
        """Pixels of the picture as taken; points behind or at the lens are left out."""
        points = np.asarray(points_world, dtype=np.float64).reshape(-1, 3)
        points = points[self.picture.camera.depth(points) > NEAR_M]
        if not len(points):
            return np.empty((0, 2))
        return self.picture.project(points)

    def mid(self, stem: str) -> Array:
        """Midpoint of the lead and trail points, metre."""
        return (self.figure[f"lead_{stem}"] + self.figure[f"trail_{stem}"]) / 2

    def measured(self, measure: str) -> Measured | None:
        """The measure, where the pictures give it."""
        result = self.measures.get(measure)
        return result if isinstance(result, Measured) else None

    def line(self, role: Role, /, *, start: Array, end: Array) -> Line:
        """A straight line in the world as the lens bends it."""
        return Line(role=role, points_px=self.project(start + ALONG * (end - start)))

    def chain(self, role: Role, names: Sequence[str]) -> Line:
        """A line through landmarks."""
        return Line(role=role, points_px=self.project(np.array([self.figure[n] for n in names])))

    def area(self, role: Role, corners: Sequence[Array]) -> Area:
        """A flat patch of the world."""
        return Area(role=role, points_px=self.project(np.array(corners)))


@frozen(kw_only=True, eq=False)
class Feature:
    """The marks of one measure and where its label is tied."""

    measure: str
    marks: tuple[Mark, ...]
    anchor_px: Array
    always: bool = False
    """Whether it is drawn also when it has no label."""


def half_width(result: Measured, /) -> float:
    """Half of the 95 % interval, published unit."""
    return COVERAGE_FACTOR * result.sd


def skeleton(scene: Scene, /) -> list[Mark]:
    """Limbs, shoulders, hips and club of the solved set-up."""
    marks: list[Mark] = []
    for side, role in (("trail", Role.TRAIL), ("lead", Role.LEAD)):
        marks += [scene.chain(role, [f"{side}_{part}" for part in limb]) for limb in _LIMBS]
    marks += [
        scene.chain(Role.OUTLINE, ["trail_shoulder", "lead_shoulder"]),
        scene.chain(Role.OUTLINE, ["trail_hip", "lead_hip"]),
        scene.chain(Role.CLUB, ["grip_end", "shaft_end", "club_head"]),
    ]
    return marks


def spots(scene: Scene, /) -> list[Mark]:
    """Landmarks where they were read off the picture, with their 95 % ellipses."""
    marks: list[Mark] = []
    turn = np.linspace(0, 2 * np.pi, SAMPLES, endpoint=False)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    for name, place in scene.picture.sighting.landmarks.items():
        if isinstance(place, NotSeen) or name in UNDRAWN:
            continue
        role = Role.COACH if isinstance(place, PlacedByCoach) else Role.MODEL
        spread = np.linalg.cholesky(place.covariance_px2)
        edge = place.position_px + ELLIPSE_SCALE * circle @ spread.T
        x, y = scene.picture.to_picture(place.position_px)
        marks.append(Area(role=Role.ELLIPSE, points_px=scene.picture.to_picture(edge)))
        marks.append(Spot(role=role, landmark=name, centre_px=(float(x), float(y))))
    return marks


def ground_lines(scene: Scene, /) -> list[Mark]:
    """The target line through the ball, and the sticks and marker sheets found."""
    start, end = np.array([-1.6, 0.0, 0.0]), np.array([4.0, 0.0, 0.0])
    marks: list[Mark] = [scene.line(Role.TARGET, start=start, end=end)]
    marks += [
        Line(role=Role.STICK, points_px=scene.picture.to_picture(stick.ends_px))
        for stick in scene.picture.sighting.sticks
    ]
    marks += [
        Line(
            role=Role.STICK,
            points_px=scene.picture.to_picture(marker.corners_px[[0, 1, 2, 3, 0]]),
        )
        for marker in scene.picture.sighting.markers
    ]
    return marks


def angle_from(
    scene: Scene,
    vertex: Array,
    *,
    towards: tuple[Array, Array],
    angle_deg: float,
    half_deg: float,
    radius: float,
) -> tuple[list[Mark], Array]:
    """An arc from one direction turned toward another, with its interval as a wedge.

    Parameters
    ----------
    vertex : (3,) array, world, metre
    towards : two (3,) unit arrays
        Where the angle starts, and the direction at right angles it opens to.
    radius : float, metre

    Returns
    -------
    marks : list of Mark
    middle : (2,) array, pixel
        The middle of the arc, for a label.
    """
    zero, quarter = towards

    def ring(low: float, high: float, *, reach: float) -> Array:
        turn = np.radians(np.linspace(low, high, SAMPLES))[:, None]
        return np.asarray(vertex + reach * (np.cos(turn) * zero + np.sin(turn) * quarter))

    low, high = angle_deg - half_deg, angle_deg + half_deg
    wedge = [vertex, *ring(low, high, reach=1.25 * radius)]
    arc = ring(0, angle_deg, reach=radius)
    marks: list[Mark] = [
        scene.line(Role.REFERENCE, start=vertex, end=vertex + 1.25 * radius * zero),
        scene.area(Role.BAND, wedge),
        Line(role=Role.ANGLE, points_px=scene.project(arc)),
    ]
    return marks, scene.project(arc)[SAMPLES // 2]
