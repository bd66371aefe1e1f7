"""What a coach can measure on a student with a tape."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import frozen


@frozen(kw_only=True)
class TapeMeasure:
    """One measurement: where the tape goes, and how well a careful coach reads it.

    Parameters
    ----------
    words : str
        What is measured, for messages.
    how : str
        Where the tape goes, for the help page.
    sd : float
        Standard uncertainty of one reading, metres. Common practice, no source: about a
        centimetre where the mark lies under flesh, half of it on hands and feet.
    """

    words: str
    how: str
    sd: float


_GROUND: Final = "barefoot, upright, straight down to the ground"

TAPE_MEASURES: Final[Mapping[str, TapeMeasure]] = MappingProxyType(
    {
        "wrist_height": TapeMeasure(
            words="wrist height",
            how=f"bump of the wrist on the thumb's side, arm hanging; {_GROUND}",
            sd=0.010,
        ),
        "acromial_height": TapeMeasure(
            words="height of the shoulder bone",
            how=f"bone on top of the shoulder's outer end; {_GROUND}",
            sd=0.010,
        ),
        "c7_height": TapeMeasure(
            words="height of the neck bone",
            how=f"lowest bump of the bent neck; {_GROUND}",
            sd=0.010,
        ),
        "arm_length": TapeMeasure(
            words="arm length",
            how="bone on top of the shoulder's outer end, over the straight arm, to the bump of "
            "the wrist on the thumb's side",
            sd=0.010,
        ),
        "hand_length": TapeMeasure(
            words="hand length", how="wrist crease to the tip of the middle finger", sd=0.004
        ),
        "span": TapeMeasure(
            words="arm span",
            how="fingertip to fingertip, arms stretched sideways at a wall",
            sd=0.010,
        ),
        "shoulder_breadth": TapeMeasure(
            words="shoulder breadth",
            how="bone to bone on top of the shoulders' outer ends, straight across",
            sd=0.010,
        ),
        "hip_breadth": TapeMeasure(
            words="hip breadth", how="widest part of the hips, straight across", sd=0.010
        ),
        "pelvis_breadth": TapeMeasure(
            words="pelvis breadth", how="crest to crest of the hip bones, straight across", sd=0.010
        ),
        "trochanter_height": TapeMeasure(
            words="height of the hip bone",
            how=f"top of the bump on the outside of the hip; {_GROUND}",
            sd=0.010,
        ),
        "crotch_height": TapeMeasure(
            words="crotch height", how=f"book pressed up between the legs; {_GROUND}", sd=0.010
        ),
        "inseam": TapeMeasure(
            words="trouser inseam", how="inner leg of trousers that fit", sd=0.010
        ),
        "knee_height": TapeMeasure(
            words="knee height", how=f"bump on the outside of the knee; {_GROUND}", sd=0.010
        ),
        "sitting_height": TapeMeasure(
            words="sitting height",
            how="hard seat to the top of the head, sitting upright",
            sd=0.010,
        ),
        "foot_length": TapeMeasure(
            words="foot length", how="heel against a wall, to the longest toe, barefoot", sd=0.004
        ),
        "shoe_length": TapeMeasure(
            words="shoe length", how="the shoe played in, heel to toe, outside", sd=0.004
        ),
        "thigh_girth": TapeMeasure(
            words="girth of the thigh",
            how="round the thigh just under the crotch, standing",
            sd=0.010,
        ),
    }
)
"""Everything a build accepts beside stature, by name."""
