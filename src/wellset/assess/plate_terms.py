"""Balance over a pressure plate, as terms of the estimate.

A body that stands still is in balance: the centre of pressure under both feet lies under its
centre of mass (moments about the ground; the mean of a swaying body's lies there too, since
the difference goes with the acceleration: Winter 1995, Gait & Posture 3:193). With ``s`` the
share of the load on the lead foot, ``p`` the centre of pressure of each foot and ``c`` the
centre of mass, all in plan view,

    s p_lead + (1 - s) p_trail = c.                                            (1)

Each foot's ``p`` is counted along and across its shoe, so the plate need not know where the
target is: with ``h`` the back of the shoe, ``u`` its direction and ``n`` outward, square to it,

    p = h + along u + across n.                                                (2)

The five readings are parameters with their own spread; (1) gives two rows.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.estimation import Block, Layout, LinearTerm, OneSourceTerm, Term
from wellset.figure.figure import BUILD_SCALARS
from wellset.figure.landmarks import INDEX
from wellset.figure.plate import PLATE_VALUES, PlateMeans

Array = NDArray[np.float64]

PLATE: Final = "pressure plate"
"""Name of the block, and in the error budget."""
MOMENT_SD_M: Final = 0.004
"""How far the centre of mass at the moment of the pictures lies from its mean over the
recording: standing sway is a few millimetres (Winter 1995, Gait & Posture 3:193)."""
CLUB_PULL_SD_M: Final = 0.0015
"""What a club pulls the centre of pressure to the ball: 0.4 kg, half of them resting on the
ground, half a metre before a body of 75 kg, would be 1.3 mm (our reckoning)."""

_OUTWARD: Final = {
    "lead": np.array([[0.0, -1.0], [1.0, 0.0]]),
    "trail": np.array([[0.0, 1.0], [-1.0, 0.0]]),
}
"""Quarter turns that make outward out of the way from heel to toe."""


@frozen(kw_only=True, eq=False)
class BalanceTerm(OneSourceTerm):
    """Equation (1): centre of mass minus centre of pressure, along x and y.

    Parameters
    ----------
    points, scalars : slice
        Blocks of the figure.
    plate : slice
        Block of the five values of :data:`wellset.figure.plate.PLATE_VALUES`.
    mass_weights : (N,) array
    sd : float, metre
    """

    points: Block
    scalars: Block
    plate: Block
    mass_weights: Array
    sd: float = float(np.hypot(MOMENT_SD_M, CLUB_PULL_SD_M))
    group: int = 2

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        pressure, jacobian = self.pressure(parameters)
        points = parameters[self.points].reshape(-1, 3)
        offset = self.scalars.start + BUILD_SCALARS.index("mass_offset_x")
        centre = self.mass_weights @ points[:, :2] + parameters[offset : offset + 2]
        jacobian = -jacobian
        for axis in (0, 1):
            jacobian[axis, self.points.start + axis : self.points.stop : 3] += self.mass_weights
            jacobian[axis, offset + axis] += 1.0
        return (centre - pressure) / self.sd, jacobian / self.sd

    def pressure(self, parameters: Array, /) -> tuple[Array, Array]:
        """Whole body's centre of pressure, (2,) metre, and its derivatives, (2, n)."""
        points = parameters[self.points].reshape(-1, 3)[:, :2]
        share, *places = parameters[self.plate]
        jacobian = np.zeros((2, len(parameters)))
        feet = []
        for side, weight, (along, across), column in (
            ("lead", share, places[:2], 1),
            ("trail", 1 - share, places[2:], 3),
        ):
            heel, toe = INDEX[f"{side}_shoe_heel"], INDEX[f"{side}_shoe_toe"]
            shoe, quarter = points[toe] - points[heel], _OUTWARD[side]
            length = np.linalg.norm(shoe)
            u = shoe / length
            inside = along * np.eye(2) + across * quarter
            feet.append(points[heel] + inside @ u)  # (2)
            by_shoe = inside @ (np.eye(2) - np.outer(u, u)) / length
            for point, gain in ((heel, np.eye(2) - by_shoe), (toe, by_shoe)):
                start = self.points.start + 3 * point
                jacobian[:, start : start + 2] += weight * gain
            jacobian[:, self.plate.start + column] = weight * u
            jacobian[:, self.plate.start + column + 1] = weight * quarter @ u
        lead, trail = feet
        jacobian[:, self.plate.start] = lead - trail
        return share * lead + (1 - share) * trail, jacobian


def plate_block() -> tuple[str, list[str]]:
    """Name and labels of the parameters that a plate adds."""
    return PLATE, [f"plate.{name}" for name in PLATE_VALUES]


def balance_term(layout: Layout, *, mass_weights: Array, source: str) -> BalanceTerm:
    """Equation (1) in a layout that has the plate's block."""
    return BalanceTerm(
        source=source,
        points=layout["points"],
        scalars=layout["scalars"],
        plate=layout[PLATE],
        mass_weights=mass_weights,
    )


def plate_terms(
    means: PlateMeans, layout: Layout, *, mass_weights: Array, source: str
) -> list[Term]:
    """The plate's readings, and the balance over them; ``source`` is that of the sway."""
    return [
        reading_term(means, layout),
        balance_term(layout, mass_weights=mass_weights, source=source),
    ]


def reading_term(means: PlateMeans, layout: Layout) -> Term:
    """The five values within their covariance, as rows of unit variance."""
    whitening = np.linalg.inv(np.linalg.cholesky(means.covariance))
    matrix = np.zeros((len(PLATE_VALUES), layout.size))
    matrix[:, layout[PLATE]] = whitening
    return LinearTerm(source=PLATE, matrix=matrix, target=whitening @ means.values)
