"""One look of the landmark network: its points, how sure it is, and what that tells."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import field, frozen

from wellset.figure.landmarks import INDEX
from wellset.figure.views import View
from wellset.vision.crops import Box, Cutout
from wellset.vision.network import LandmarkNetwork, read_cutouts
from wellset.vision.values import COUNT, Array, Flags, Pixels, landmark_pairs

EDGE: Final = 0.0125
"""A point this near the cut-out's edge (share of its side, 4 of 320 pixels) is clipped: the
network was not trained on points outside and piles them up there."""

IN_PICTURE: Final = 0.012
"""Points nearer to the picture's edge than this share of the golfer's height do not count as
seen: the network piles points from outside up there."""

SHOE_ALONG: Final = 0.175
WIDTHS_FACE_ON: Final = {"shoulder": 0.233, "hip": 0.136}
"""Length of a shoe seen down the line, and width of shoulders and hips seen face-on, as shares
of the box height; medians over the scenes. They tell golfers drawn at 0, 15, 30, 45, 60, 75
and 90 degrees apart to within 8 degrees."""

BODY_POINTS: Final = INDEX["grip_mid"]
"""Rows before this one lie on the body."""

OUTERMOST: Final = INDEX["c7"]
"""Rows before this one are used for the golfer's box."""

BOX_MARGINS: Final = {
    View.FACE_ON: (0.04, 0.095, 0.037, 0.009),
    View.DOWN_THE_LINE: (0.072, 0.091, 0.056, 0.024),
}
"""Room from the network's outermost body points to the golfer's outline, left, top, right,
bottom, as shares of the points' height: means over the tuned-on scenes (sd 0.001 to 0.01)."""

ARMS: Final = (
    *(INDEX[f"{side}_{stem}"] for side in ("lead", "trail") for stem in ("elbow", "wrist")),
    INDEX["grip_mid"],
)
CLUB: Final = tuple(range(BODY_POINTS, COUNT))
LEGS: Final = tuple(
    INDEX[f"{side}_{stem}"]
    for side in ("lead", "trail")
    for stem in ("knee", "ankle", "shoe_heel", "shoe_toe", "foot_ball")
)


@frozen(kw_only=True, eq=False)
class Look:
    """The network's answer for one cut-out, in pixels of the unmirrored picture.

    Parameters
    ----------
    points_px, spread_px : (36, 2) arrays, picture frame, pixel
        Points, and Laplace spread b along x and y.
    cutout : Cutout
    height_px : float
        Height of the golfer's box that the cut-out was laid for, pixels.
    picture_px : (float, float)
        Width and height of the picture, pixels.
    """

    points_px: Array = field(converter=landmark_pairs)
    spread_px: Array = field(converter=landmark_pairs)
    cutout: Cutout
    height_px: float
    picture_px: tuple[float, float]

    @property
    def clipped(self) -> Flags:
        """Which points lie at the cut-out's edge, ``(36,)``."""
        inside = self.cutout.to_cutout(self.points_px) / self.cutout.size
        return np.asarray(((inside < EDGE) | (inside > 1.0 - EDGE)).any(axis=1))

    @property
    def visible(self) -> Flags:
        """Which points lie in the picture and in the cut-out, ``(36,)``."""
        size = np.array(self.picture_px)
        room = IN_PICTURE * self.height_px
        inside = ((self.points_px >= room) & (self.points_px <= size - room)).all(axis=1)
        return np.asarray(inside & ~self.clipped)

    @property
    def log_spread(self) -> Array:
        """Logarithm of each point's spread in golfer heights, mean of x and y, ``(36,)``."""
        return np.asarray(np.log(self.spread_px / self.height_px).mean(axis=1))

    @property
    def doubt(self) -> float:
        """Mean logarithm of the body points' spread in golfer heights."""
        return float(self.log_spread[:BODY_POINTS].mean())

    @property
    def unrest(self) -> float:
        """How much surer the network is of the legs than of arms and club (log ratio).

        The network knows golfers at address only. In a swing the legs still look like
        address and the arms do not, whatever the picture's quality.
        """
        log_spread, visible = self.log_spread, self.visible
        arms = _mean_of(log_spread, rows=ARMS, where=visible, otherwise=self.doubt)
        legs = _mean_of(log_spread, rows=LEGS, where=visible, otherwise=self.doubt)
        club = _mean_of(log_spread, rows=CLUB, where=visible, otherwise=self.doubt)
        return arms - legs + max(0.0, club - self.doubt)

    def club_unrest(self, view: View) -> float:
        """How much harder the club is to read than the body (log ratio).

        It rises as soon as the head leaves the ball, long before arms or hands look
        strange: face-on in the head itself, down the line where head and shaft cross in
        front of the ball.
        """
        names = ("club_head",) if view is View.FACE_ON else ("club_head", "shaft_end", "ball")
        rows = [INDEX[name] for name in names if self.visible[INDEX[name]]]
        return float(self.log_spread[rows].max() - self.doubt) if rows else -np.inf

    @property
    def turn(self) -> float:
        """Turn of the golfer to the camera, radian: 0 face-on, pi/2 down-the-line.

        From how far shoes point across the picture and how wide hips and shoulders
        look; without sign, and blind to a golfer seen from behind.
        """
        points, ahead = self.points_px, -1.0 if self.cutout.is_mirrored else 1.0
        shoes = [
            points[INDEX[f"{side}_shoe_toe"], 0] - points[INDEX[f"{side}_shoe_heel"], 0]
            for side in ("lead", "trail")
        ]
        across = ahead * float(np.mean(shoes)) / self.height_px / SHOE_ALONG
        widths = [
            (points[INDEX[f"lead_{stem}"], 0] - points[INDEX[f"trail_{stem}"], 0]) / width
            for stem, width in WIDTHS_FACE_ON.items()
        ]
        wide = ahead * float(np.mean(widths)) / self.height_px
        return float(np.arctan2(max(across, 0.0), wide))

    @property
    def bend(self) -> float:
        """Lean of hip centre to shoulder centre from upright in the picture, radian."""
        points = self.points_px
        hips = points[[INDEX["lead_hip"], INDEX["trail_hip"]]].mean(axis=0)
        chest = points[[INDEX["lead_shoulder"], INDEX["trail_shoulder"]]].mean(axis=0)
        return float(np.arctan2(abs(chest[0] - hips[0]), hips[1] - chest[1]))

    def box(self, view: View, *, mirrored: bool) -> Box:
        """The golfer's box as this look suggests, pixels."""
        points = Box.around(self.points_px[:OUTERMOST])
        left, top, right, bottom = BOX_MARGINS[view]
        if mirrored:
            left, right = right, left
        return Box(
            left=points.left - left * points.height,
            top=points.top - top * points.height,
            right=points.right + right * points.height,
            bottom=points.bottom + bottom * points.height,
        )


def look(
    network: LandmarkNetwork, picture: Pixels, *, cutouts: Sequence[Cutout], height_px: float
) -> tuple[Look, ...]:
    """What the network sees in each cut-out."""
    points, spread = read_cutouts(network, picture, cutouts=cutouts)
    return tuple(
        Look(
            points_px=each,
            spread_px=wide,
            cutout=cutout,
            height_px=height_px,
            picture_px=(float(picture.shape[1]), float(picture.shape[0])),
        )
        for each, wide, cutout in zip(points, spread, cutouts, strict=True)
    )


def _mean_of(values: Array, *, rows: Sequence[int], where: Flags, otherwise: float) -> float:
    """Mean of some rows, of those among them that count."""
    chosen = [row for row in rows if where[row]]
    return float(values[chosen].mean()) if chosen else otherwise
