"""The back seen from the side lies on the golfer's outline: a check by another model.

Nothing else holds the points of the lower back: the face-on picture does not see them and
no bone of known length ends there. The general model's outline was learnt from photographs
of all sorts of people and knows nothing of our points.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from wellset.figure.views import View
from wellset.vision.crosscheck import Checked, doubted
from wellset.vision.silhouette import Silhouette

INSIDE: Final = {"t8": 0.006, "t12": 0.002, "l3": 0.001, "s1": 0.009}
"""How far inside the outline's back edge each point lies, in heights of the golfer's box: means
over the seven tuned-on scenes (sd 0.003 to 0.007; the farthest of all 24 is 0.011 off)."""

LIMIT: Final = 0.035
"""Distance from there that counts as disagreement, in box heights (5 cm for a golfer who
stands 1.5 m tall at address): five spreads, for bags and trees behind a back that the
outline may take in."""

WHOLE: Final = 0.75
"""Least height of the outline against the golfer's box: a broken one is not asked."""


def check_back(
    name: str,
    checked: Checked,
    *,
    silhouette: Silhouette,
    view: View,
    height_px: float,
    mirrored: bool,
) -> Checked:
    """Hold a point of the back against the outline's edge at its height.

    Parameters
    ----------
    name : str
        Landmark.
    checked : Checked
        As the first check left it, in the unmirrored picture.
    silhouette : Silhouette
        The golfer's outline in the same frame.
    view : View
    height_px : float
        Height of the golfer's box, pixels.
    mirrored : bool
        Whether the golfer plays left-handed, and so faces left.
    """
    if view is not View.DOWN_THE_LINE or name not in INSIDE:
        return checked
    edge = _back_edge(silhouette, row=float(checked.position_px[1]), mirrored=mirrored)
    if edge is None or silhouette.box.height < WHOLE * height_px:
        return checked
    ahead = -1.0 if mirrored else 1.0
    there = edge + ahead * INSIDE[name] * height_px
    own = float(np.sqrt(checked.covariance_px2[0, 0]))
    apart = np.array([there - checked.position_px[0], 0.0])
    return doubted(checked, apart=apart, limit_px=LIMIT * height_px + 2.0 * own)


def _back_edge(silhouette: Silhouette, *, row: float, mirrored: bool) -> float | None:
    """Column of the outline's edge behind the golfer, or ``None`` where there is no outline."""
    line = int(np.floor(row)) - silhouette.top
    if not 0 <= line < silhouette.mask.shape[0]:
        return None
    inside = np.flatnonzero(silhouette.mask[line])
    if not inside.size:
        return None
    return float(silhouette.left + (inside[-1] + 1 if mirrored else inside[0]))
