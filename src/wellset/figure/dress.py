"""Cloth and soles between a body's tables and what stands there: small lengths, metre.

Each is a mean and a spread, shared by everything that places a clothed body's points.
"""

from __future__ import annotations

from typing import Final

THIGH_FRONT_M: Final = (0.038, 0.012)
"""Front of the trouser leg from the line hip-knee, beyond half the thigh's depth: cloth, and
muscle that lies in front of that line. Mean over the tuned-on half of rendered scenes."""
NAPE_CLOTH_M: Final = (0.008, 0.004)
"""Collar and hair over C7 (our judgement; close-fitting clothes)."""
SHOE_END_HEIGHT_M: Final = (0.012, 0.004)
"""Height of a shoe's visible ends: half-way up the edge of an ordinary sole. The spread is our
judgement."""
FOOT_BALL_OVER_SOLE_M: Final = (0.023, 0.012)
"""Toe-base joints above the top of the sole, and spread: half the height of a forefoot."""
