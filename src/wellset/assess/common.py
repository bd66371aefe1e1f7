"""Errors that several landmarks of one picture share.

The network judges a back as a whole and a pair of knees together: on rendered scenes the
errors of neighbouring points of the back correlate by 0.4 to 0.9, and the vertical errors
of lead and trail hips, knees and toes in a face-on picture by 0.7 to 0.9. Taking them for
independent would make every angle between such points look worse known than it is. Half of
their variance is therefore put into errors that the points share; the figure is kept below
what was seen on the tuned-on half because few scenes stand behind it. Edition 2026-11.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.views import View

Array = NDArray[np.float64]

SHARED_VARIANCE: Final = 0.5


@frozen(kw_only=True)
class Shared:
    """Landmarks that share an error along one picture axis (0 across, 1 down)."""

    name: str
    landmarks: tuple[str, ...]
    axis: int


_BACK: Final = ("t8", "t12", "l3", "s1")
_BACKS: Final = tuple(Shared(name="back", landmarks=_BACK, axis=axis) for axis in (0, 1))
_PAIRS: Final = tuple(
    Shared(name=stem, landmarks=(f"lead_{stem}", f"trail_{stem}"), axis=1)
    for stem in ("hip", "knee", "shoe_toe")
)
SHARED: Final = {View.FACE_ON: (*_BACKS, *_PAIRS), View.DOWN_THE_LINE: _BACKS}


def labels(view: View, /) -> list[str]:
    """Names of a picture's shared errors, in standard deviations."""
    return [f"{view.value} shared {s.name}.{'xy'[s.axis]}" for s in SHARED[view]]


def shared_shift(view: View, names: list[str], *, sd_px: Array) -> Array:
    """Pixels that one unit of each shared error moves each landmark.

    Parameters
    ----------
    view : View
    names : list of str
        Landmarks seen, k of them.
    sd_px : (k, 2) array
        Their standard deviations along the picture's axes.

    Returns
    -------
    (k, 2, g) array
    """
    shift = np.zeros((len(names), 2, len(SHARED[view])))
    for g, shared in enumerate(SHARED[view]):
        for k, name in enumerate(names):
            if name in shared.landmarks:
                shift[k, shared.axis, g] = np.sqrt(SHARED_VARIANCE) * sd_px[k, shared.axis]
    return shift
