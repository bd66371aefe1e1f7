"""What is known of a coach's camera before looking at the points.

The figures are our judgement of how phones are held on a practice ground (*common
practice, no source*), except the focal length, whose tag is defined by CIPA DC-008 /
JEITA CP-3451 (tag 0xA405) and rounded to whole millimetres.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.sighting import PictureFacts
from wellset.figure.views import View
from wellset.geometry import focal_px_from_35mm

Array = NDArray[np.float64]

BASE: Final = {
    View.FACE_ON: np.array([[1.0, 0, 0], [0, 1, 0], [0, 0, 1]]),
    View.DOWN_THE_LINE: np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]]),
}
"""Rows: right, forward and up axes of the level, square camera of each view."""

TYPICAL_POSITION_M: Final = {
    View.FACE_ON: np.array([0.0, -2.5, 1.05]),
    View.DOWN_THE_LINE: np.array([-3.0, 0.6, 1.05]),
}
POSITION_SD_M: Final = {
    View.FACE_ON: np.array([0.6, 1.5, 0.4]),
    View.DOWN_THE_LINE: np.array([1.5, 0.6, 0.4]),
}
YAW_SD: Final = np.radians(4.0)
PITCH_MEAN, PITCH_SD = np.radians(-5.0), np.radians(8.0)
ROLL_SD: Final = np.radians(1.5)
K1_SD: Final = 0.02
CENTRE_SD: Final = 0.004
"""Principal point off the picture's middle, as a fraction of the diagonal."""

TAGGED_FOCAL_SD: Final = 0.018
"""Relative: half a millimetre of rounding on 26 mm (1.1 %), and lens-to-lens spread."""
UNTAGGED_FOCAL_35MM: Final = 30.0
UNTAGGED_FOCAL_SD: Final = 0.22
"""Phone main cameras are 24-28 mm equivalent; video crops and 2x lenses reach 50 mm."""
CUT_FOCAL_FACTOR: Final = 1.25
CUT_FOCAL_SD: Final = 0.35
CUT_CENTRE_SD: Final = 0.12
"""For pictures that were cut: the focal length against the smaller diagonal is longer, by an
unknown amount, and the camera's axis may run far from the middle. A cut that keeps 80 % of
each side and takes it all off one edge moves the axis by 0.1 of the diagonal (our judgement
of how far people cut)."""
SAME_PHONE_SD: Final = 0.02
"""Relative difference of the focal lengths of two pictures of one size, one phone."""


@frozen(kw_only=True, eq=False)
class CameraPrior:
    """Mean and standard deviation of the ten camera parameters."""

    mean: Array
    sd: Array


def camera_prior(view: View, picture: PictureFacts, /) -> CameraPrior:
    """Prior of one camera in the order of ``CAMERA_PARAMETERS``."""
    tagged = picture.focal_35mm is not None and not picture.was_cut
    focal = focal_px_from_35mm(
        picture.focal_35mm if picture.focal_35mm is not None else UNTAGGED_FOCAL_35MM,
        width_px=picture.width_px,
        height_px=picture.height_px,
    )
    focal_sd, centre_sd = TAGGED_FOCAL_SD if tagged else UNTAGGED_FOCAL_SD, CENTRE_SD
    if picture.was_cut:
        focal, focal_sd, centre_sd = focal * CUT_FOCAL_FACTOR, CUT_FOCAL_SD, CUT_CENTRE_SD
    mean = np.array([np.log(focal), 0, PITCH_MEAN, 0, *TYPICAL_POSITION_M[view], 0, 0, 0])
    sd = np.array(
        [focal_sd, YAW_SD, PITCH_SD, ROLL_SD, *POSITION_SD_M[view], K1_SD, centre_sd, centre_sd]
    )
    return CameraPrior(mean=mean, sd=sd)


def same_phone(first: PictureFacts, second: PictureFacts, /) -> bool:
    """Whether the two pictures may be taken to come from one phone and lens.

    They do unless their sizes differ, one was cut, or both carry a focal length, which
    then speaks for itself.
    """
    sizes = {tuple(sorted((p.width_px, p.height_px))) for p in (first, second)}
    both_tagged = first.focal_35mm is not None and second.focal_35mm is not None
    cut = first.was_cut or second.was_cut
    return len(sizes) == 1 and not both_tagged and not cut
