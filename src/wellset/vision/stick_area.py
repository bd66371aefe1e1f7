"""Where in a picture a stick may lie, and how large a centimetre is there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.errors import InputError

Points = NDArray[np.float64]
Mask = NDArray[np.bool_]
Rgb = NDArray[np.uint8]

HEIGHT_AT_ADDRESS_M: Final = {"nose": 1.25, "shoulder": 1.17, "hip": 0.83}
"""Height of a landmark above the ankles at address, metre. Spread about 8 % between
seven rendered adults of 1.6 to 1.9 m seen by hand-held cameras; good enough to size
windows and to refuse what is far too wide or too long to be a stick."""

WORKING_SCALE_PX_PER_M: Final = 420.0
"""Larger pictures are searched at this size: a 7 mm stick is then 3 px wide."""

SHOES: Final = tuple(
    f"{side}_{part}" for side in ("lead", "trail") for part in ("shoe_toe", "shoe_heel")
)
FEET: Final = (*SHOES, "lead_ankle", "trail_ankle")


@frozen(kw_only=True, eq=False)
class WorkArea:
    """The picture at working size, and what is known of the ground in it.

    All lengths and points are in working pixels (same origin and pixel-centre
    convention as the picture) unless they say ``full``.

    Parameters
    ----------
    full : (H, W, 3) uint8 array
        The picture as given.
    work : (h, w, 3) uint8 array
        The picture at working size; the same array where none was needed.
    scale : (2,) array
        Working pixels per picture pixel, along x and y.
    metre_px : float
        Working pixels per metre at the golfer's feet.
    box : tuple of int
        Left, top, right, bottom of the ground worth searching.
    person : (h, w) bool array
        The golfer's outline, grown by a centimetre: its edge is never exact.
    points : mapping
        Landmarks in working pixels.
    """

    full: Rgb
    work: Rgb
    scale: Points
    metre_px: float
    box: tuple[int, int, int, int]
    person: Mask
    points: Mapping[str, Points]

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the working picture."""
        return int(self.work.shape[1]), int(self.work.shape[0])

    @property
    def near(self) -> Points:
        """Where sticks are laid: shoes (ankles, without shoes) and ball, ``(N, 2)``."""
        return near_points(self.points)

    def reduced(self, px_per_m: float) -> WorkArea:
        """The same scene at no more than ``px_per_m`` working pixels per metre."""
        factor = px_per_m / self.metre_px
        if factor >= 0.95:
            return self
        size = tuple(max(1, round(side * factor)) for side in self.size)
        exact = np.array(size) / np.array(self.size)
        left, top, right, bottom = self.box
        person = cv2.resize(self.person.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST)
        return evolve(
            self,
            work=np.asarray(cv2.resize(self.work, size, interpolation=cv2.INTER_AREA)),
            scale=self.scale * exact,
            metre_px=self.metre_px * float(exact.mean()),
            box=(
                int(left * exact[0]),
                int(top * exact[1]),
                int(right * exact[0]),
                int(bottom * exact[1]),
            ),
            person=person > 0,
            points={name: p * exact for name, p in self.points.items()},
        )

    def to_full(self, points: Points) -> Points:
        """Picture pixels of working pixels ``points``, ``(..., 2)``."""
        return np.asarray(points / self.scale)


def lay_out(
    rgb: Rgb, *, person_mask: Mask | None, landmarks: Mapping[str, Points]
) -> WorkArea | None:
    """Working picture and search box, or ``None`` where the golfer's size is not known.

    Raises
    ------
    InputError
        The picture is not ``(H, W, 3)`` uint8, or the mask has another size.
    """
    _check(rgb, person_mask)
    full = {name: np.asarray(p, dtype=np.float64) for name, p in landmarks.items()}
    metre_full = metre_at_feet_px(full)
    if metre_full is None:
        return None
    wish = min(1.0, WORKING_SCALE_PX_PER_M / metre_full)
    height, width = rgb.shape[:2]
    size = (max(1, round(width * wish)), max(1, round(height * wish)))
    scale = np.array([size[0] / width, size[1] / height])
    points = {name: p * scale for name, p in full.items()}
    work, person = rgb, person_mask
    if size != (width, height):
        work = np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
        if person_mask is not None:
            small = cv2.resize(person_mask.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST)
            person = small > 0
    metre_px = metre_full * float(scale.mean())
    if person is None:
        person = _drawn_golfer(points, metre_px=metre_px, size=size)
    else:
        size_px = 2 * max(2, round(0.01 * metre_px)) + 1
        person = cv2.dilate(person.astype(np.uint8), np.ones((size_px, size_px), np.uint8)) > 0
    box = _ground_box(points, metre_px=metre_px, size=size)
    return WorkArea(
        full=rgb, work=work, scale=scale, metre_px=metre_px, box=box, person=person, points=points
    )


def _check(rgb: Rgb, person_mask: Mask | None) -> None:
    if rgb.ndim != 3 or rgb.shape[2] != 3 or rgb.dtype != np.uint8:
        raise InputError(
            "cannot look for sticks",
            why=f"the picture is an array {rgb.shape} of {rgb.dtype}, not (H, W, 3) of uint8.",
            fix="Give the picture as 8-bit red, green and blue.",
        )
    if person_mask is not None and person_mask.shape != rgb.shape[:2]:
        raise InputError(
            "cannot look for sticks",
            why=f"the outline is {person_mask.shape}, the picture {rgb.shape[:2]}.",
            fix="Give the golfer's outline at the size of the picture.",
        )


def near_points(points: Mapping[str, Points]) -> Points:
    """Shoes (ankles, where no shoe is known) and ball, ``(N, 2)``."""
    shoes = [points[n] for n in SHOES if n in points]
    feet = shoes or [points[n] for n in FEET if n in points]
    return np.array([*feet, *([points["ball"]] if "ball" in points else [])], dtype=np.float64)


def metre_at_feet_px(points: Mapping[str, Points]) -> float | None:
    """Pixels per metre at the feet: the median over the heights that are known."""
    feet = [points[name][1] for name in FEET if name in points]
    if not feet:
        return None
    ground = float(np.median(feet))
    found = []
    for stem, height in HEIGHT_AT_ADDRESS_M.items():
        rows = [points[n][1] for n in (stem, f"lead_{stem}", f"trail_{stem}") if n in points]
        if rows and ground - np.mean(rows) > 0:
            found.append((ground - float(np.mean(rows))) / height)
    return float(np.median(found)) if found else None


LIMBS: Final = (
    *(((f"{side}_hip", f"{side}_knee"), 0.19) for side in ("lead", "trail")),
    *(((f"{side}_knee", f"{side}_ankle"), 0.15) for side in ("lead", "trail")),
    *(((f"{side}_shoe_heel", f"{side}_shoe_toe"), 0.12) for side in ("lead", "trail")),
    *(((f"{side}_ankle", f"{side}_shoe_heel"), 0.12) for side in ("lead", "trail")),
    *(((f"{side}_shoulder", f"{side}_elbow"), 0.13) for side in ("lead", "trail")),
    *(((f"{side}_elbow", f"{side}_wrist"), 0.11) for side in ("lead", "trail")),
    *(((f"{side}_shoulder", f"{side}_hip"), 0.25) for side in ("lead", "trail")),
)
"""Pieces of body between landmarks and how thick clothes make them, metre (rough)."""


def _drawn_golfer(points: Mapping[str, Points], *, metre_px: float, size: tuple[int, int]) -> Mask:
    """A rough outline from the landmarks, where no silhouette is given."""
    canvas = np.zeros((size[1], size[0]), dtype=np.uint8)
    for (start, stop), thick in LIMBS:
        if start in points and stop in points:
            (x0, y0), (x1, y1) = points[start], points[stop]
            width = max(3, round(thick * metre_px))
            cv2.line(canvas, (int(x0), int(y0)), (int(x1), int(y1)), 1, width)
    return canvas > 0


def _ground_box(
    points: Mapping[str, Points], *, metre_px: float, size: tuple[int, int]
) -> tuple[int, int, int, int]:
    """The ground within a stick's length of feet and ball, cut to the picture.

    Upwards less: 0.45 m up in the picture is over a metre back along the ground for
    any camera held below 2 m, and fences and walls begin there.
    """
    near = near_points(points)
    low, high = near.min(axis=0), near.max(axis=0)
    left = int(max(0.0, low[0] - 1.3 * metre_px))
    right = int(min(float(size[0]), high[0] + 1.3 * metre_px))
    top = int(max(0.0, low[1] - 0.45 * metre_px))
    bottom = int(min(float(size[1]), high[1] + 0.55 * metre_px))
    return left, top, right, bottom


def distance_to_segment(points: Points, ends: Points) -> Points:
    """Distance of each of ``(N, 2)`` points to the segment between two ``ends``, ``(2, 2)``."""
    a, run = ends[0], ends[1] - ends[0]
    t = np.clip((points - a) @ run / max(float(run @ run), 1e-9), 0, 1)
    return np.asarray(np.linalg.norm(points - (a + t[:, None] * run), axis=1))
