"""What one golfer wears, drawn at random. Colours come later, with each picture."""

from __future__ import annotations

import numpy as np
from attrs import frozen


@frozen(kw_only=True)
class Outfit:
    """What is worn and how loosely.

    Parameters
    ----------
    top : str
        ``short_sleeves``, ``long_sleeves``, ``sleeveless`` or ``jacket``.
    bottom : str
        ``trousers``, ``three_quarter_trousers``, ``shorts``, ``skirt`` or ``dress``.
    tucked_in : bool
    top_ease, bottom_ease : float
        How loose: 1 is close-fitting, 2 a usual cut, 6 a tent.
    sag : float
        How much loose cloth falls away from skin that faces down, 0 … 1.
    folds_m : float
        How deep the creases are.
    skirt_length, skirt_flare : float
        From the hip (0) to below the knee (1); how much wider at the hem, metre.
    pleats : int
    pattern, bottom_pattern : str
    hat : str
        ``none``, ``cap``, ``visor``, ``sun_hat`` or ``wool_hat``.
    brim_m : float
    hair : str
        ``bald``, ``short_hair``, ``medium_hair``, ``pony_tail``, ``long_hair`` or ``bun``.
    hair_length : float
        Of long hair, from the shoulders (0) to the middle of the back (1).
    beard : bool
    gloves : str
        ``none``, ``glove`` (lead hand) or ``two_gloves``.
    socks : str
        ``none``, ``socks`` or ``knee_socks``.
    shoe_ease_m : float
    """

    top: str
    bottom: str
    tucked_in: bool
    top_ease: float
    bottom_ease: float
    sag: float
    folds_m: float
    skirt_length: float
    skirt_flare: float
    pleats: int
    pattern: str
    bottom_pattern: str
    hat: str
    brim_m: float
    hair: str
    hair_length: float
    beard: bool
    gloves: str
    socks: str
    shoe_ease_m: float

    @property
    def words(self) -> tuple[str, ...]:
        """What is worn, in the words of ``pool.GARMENTS``."""
        loose = max(self.top_ease, self.bottom_ease) > 2.2
        worn = [
            self.top,
            self.bottom,
            "tucked_in" if self.tucked_in else "hanging_out",
            self.hair,
            *(word for word in (self.hat, self.gloves) if word != "none"),
            *([self.socks] if self.socks != "none" and self.bottom != "trousers" else []),
        ]
        return (*worn, *(["beard"] if self.beard else []), *(["loose"] if loose else []))


def random_outfit(rng: np.random.Generator, *, female: bool) -> Outfit:
    """Draw an outfit. Skirts, dresses and long hair are worn more by women."""
    bottoms = ["trousers", "shorts", "three_quarter_trousers", "skirt", "dress"]
    share = [0.32, 0.2, 0.1, 0.28, 0.1] if female else [0.57, 0.33, 0.08, 0.02, 0.0]
    bottom = str(rng.choice(bottoms, p=share))
    tops = ["short_sleeves", "long_sleeves", "sleeveless", "jacket"]
    top = str(rng.choice(tops, p=[0.42, 0.24, 0.14, 0.2]))
    if bottom == "dress" and top == "jacket":
        top = "sleeveless"
    # one in three as loose as the first network never saw
    ease = rng.uniform(0.6, 2.2) if rng.random() < 0.65 else rng.uniform(2.2, 5.5)
    bottom_ease = rng.uniform(0.6, 2.2) if rng.random() < 0.7 else rng.uniform(2.2, 4.0)
    return Outfit(
        top=top,
        bottom=bottom,
        tucked_in=bool(top != "jacket" and bottom != "dress" and rng.random() < 0.55),
        top_ease=float(ease) * (1.3 if top == "jacket" else 1.0),
        bottom_ease=float(bottom_ease),
        sag=float(rng.uniform(0, 0.9)),
        folds_m=float(rng.uniform(0.002, 0.008)),
        skirt_length=float(rng.uniform(0.35, 0.95)),
        skirt_flare=float(rng.uniform(0.0, 0.10)),
        pleats=int(rng.choice([0, 0, 11, 18, 30])),
        pattern=str(rng.choice(["plain", "plain", "stripes", "block", "sleeves", "upright"])),
        bottom_pattern=str(rng.choice(["plain", "plain", "plain", "checks", "seam"])),
        hat=str(
            rng.choice(
                ["none", "cap", "visor", "sun_hat", "wool_hat"], p=[0.34, 0.4, 0.1, 0.09, 0.07]
            )
        ),
        brim_m=float(rng.uniform(0.045, 0.095)),
        hair=_hair(rng, female=female),
        hair_length=float(rng.uniform(0, 1)),
        beard=bool(not female and rng.random() < 0.3),
        gloves=str(rng.choice(["none", "glove", "two_gloves"], p=[0.28, 0.64, 0.08])),
        socks=str(rng.choice(["none", "socks", "knee_socks"], p=[0.2, 0.68, 0.12])),
        shoe_ease_m=float(rng.uniform(0.004, 0.010)),
    )


def _hair(rng: np.random.Generator, *, female: bool) -> str:
    styles = ["bald", "short_hair", "medium_hair", "pony_tail", "long_hair", "bun"]
    share = [0.01, 0.12, 0.2, 0.3, 0.27, 0.1] if female else [0.17, 0.52, 0.22, 0.04, 0.04, 0.01]
    return str(rng.choice(styles, p=share))
