"""What would settle a finding, as a value."""

from __future__ import annotations

from attrs import frozen


@frozen(kw_only=True)
class Settling:
    """What would settle one finding.

    Parameters
    ----------
    step, subject : str
        What to do, and with which view, tape or point; both empty when nothing helps.
    what : str
        The same in a sentence.
    sd_now, sd_then : float
        Standard uncertainty of the measure before and after, published unit.
    chance : float
        Probability that the finding would then be decided.
    decides : bool
        Whether that is good enough to be promised.
    effort : float
        Minutes, the pictures taken again included; 0 when nothing helps.
    outlook : str
        The change of the range and the chance, in a sentence; empty when nothing helps.
    """

    step: str
    subject: str
    what: str
    sd_now: float
    sd_then: float
    chance: float
    decides: bool
    effort: float
    outlook: str

    @property
    def words(self) -> str:
        """The whole advice."""
        return f"{self.what} {self.outlook}".strip()
