"""What a body is like before it is posed: the body model's dials and a height.

The dials are the model's own (0 … 1 unless said otherwise). The spreads below are
chosen to be wide, not to match a population: what the network has never seen is worse
than what it has seen too often.
"""

from __future__ import annotations

import numpy as np
from attrs import asdict, frozen


@frozen(kw_only=True)
class Phenotype:
    """One body's dials.

    Parameters
    ----------
    height_m : float
        Barefoot height that the body is scaled to.
    gender : float
        0 male … 1 female.
    age : float
        1/3 child, 2/3 young adult, 1 old.
    muscle, weight, proportions, cupsize, firmness : float
    african, asian, caucasian : float
        Shares that sum to one.
    """

    height_m: float
    gender: float
    age: float
    muscle: float
    weight: float
    proportions: float
    cupsize: float = 0.4
    firmness: float = 0.6
    african: float = 0.33
    asian: float = 0.33
    caucasian: float = 0.34

    @property
    def dials(self) -> dict[str, float]:
        """All but the height."""
        values: dict[str, float] = asdict(self)
        del values["height_m"]
        return values


def random_phenotype(rng: np.random.Generator) -> Phenotype:
    """Draw a body: three in twenty juniors, one in ten very tall, one in ten very heavy."""
    kind = rng.choice(["junior", "tall", "heavy", "adult"], p=[0.15, 0.1, 0.1, 0.65])
    gender = float(rng.choice([rng.uniform(0, 0.3), rng.uniform(0.7, 1)]))
    shares = rng.dirichlet([1, 1, 1])
    drawn = {
        "height_m": float(np.clip(rng.normal(1.78 - 0.12 * gender, 0.08), 1.5, 2.0)),
        "age": float(rng.uniform(0.5, 1.0)),
        "weight": float(rng.uniform(0.25, 0.95)),
    }
    if kind == "junior":
        drawn["height_m"] = float(rng.uniform(1.3, 1.6))
        # ten to about fifteen years on the model's scale, taller with age
        drawn["age"] = float(np.interp(drawn["height_m"], [1.3, 1.6], [0.38, 0.55]))
    if kind == "tall":
        drawn["height_m"] = float(rng.uniform(1.92, 2.08))
    if kind == "heavy":
        drawn["weight"] = float(rng.uniform(0.9, 1.0))
    return Phenotype(
        **drawn,
        gender=gender,
        muscle=float(rng.uniform(0.25, 0.9)),
        proportions=float(rng.uniform(0.2, 0.8)),
        cupsize=float(rng.uniform(0.3, 0.6)),
        african=float(shares[0]),
        asian=float(shares[1]),
        caucasian=float(shares[2]),
    )
