"""What is exact in rendered scenes and isn't on a practice ground.

The step from rendered to real is more than landmarks that are harder to see. In a rendered
scene a stick points at the target exactly, and both pictures show one and the same moment. A
coach lays a stick by eye, and a golfer sways between two exposures. Only to measure rendered
scenes are these allowances left out.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from wellset.assess.problem import MOTION, STICK
from wellset.assess.sticks import ACROSS, ALONG, PARAMETERS
from wellset.estimation import Layout, Term, prior

DRAWN_SLOPE_SD: Final = np.radians(0.1)
DRAWN_SWAY_SD_M: Final = 0.0003


def drawn_terms(layout: Layout, /) -> list[Term]:
    """Sticks that point exactly, and no sway, as further terms of the estimate."""
    terms: list[Term] = []
    for name in (ALONG, ACROSS):
        if name in layout.slices:
            slope = layout[name].start + PARAMETERS[name].index("slope")
            terms.append(
                prior(STICK, size=layout.size, columns=[slope], mean=0.0, sd=DRAWN_SLOPE_SD)
            )
    if "sway" in layout.slices:
        terms.append(
            prior(MOTION, size=layout.size, columns=layout["sway"], mean=0.0, sd=DRAWN_SWAY_SD_M)
        )
    return terms
