"""Segment lengths as shares of stature: Drillis and Contini (1966).

The classic figure of the textbooks. It prints no spread and mixes definitions of the
joints, so it serves here as a second opinion, not as the default.
"""

from __future__ import annotations

from typing import Final

from wellset.units import Edition, Mark, Record

DRILLIS_CONTINI: Final = Edition(
    name="Drillis & Contini 1966",
    date="2026-11-25",
    source=(
        "Drillis & Contini 1966, Body Segment Parameters, as reproduced in Winter 2009, "
        "Biomechanics and Motor Control of Human Movement, 4th ed., figure 4.1"
    ),
)

_SHARES: Final = {
    "ankle_height": 0.039,
    "knee_height": 0.285,
    "hip_height": 0.530,
    "shoulder_height": 0.818,
    "chin_height": 0.870,
    "eye_height": 0.936,
    "upper_arm": 0.186,
    "forearm": 0.146,
    "hand_length": 0.108,
    # Lies between the biacromial and the outer breadth: never use it as joint spacing.
    "shoulder_width": 0.259,
    # Outer breadth, not the spacing of the hip joints.
    "hip_width": 0.191,
    "foot_length": 0.152,
    "foot_breadth": 0.055,
    "trunk": 0.288,
    "thigh": 0.245,
    "shank": 0.246,
}


def _record(value: float) -> Record:
    return Record(
        value=value,
        unit="1",
        population="adults, share of stature",
        source=DRILLIS_CONTINI.source,
        mark=Mark.READ_SECOND_HAND,
        edition=DRILLIS_CONTINI.date,
    )


STATURE_SHARES: Final = {name: _record(value) for name, value in _SHARES.items()}
"""Share of stature by name; no spread is printed."""
