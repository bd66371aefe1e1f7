"""The still moment of a clip that was measured, as a value."""

from __future__ import annotations

from attrs import frozen


@frozen(kw_only=True)
class Stretch:
    """A stretch of a clip, second from its first frame."""

    start_s: float
    end_s: float

    @property
    def length_s(self) -> float:
        """How long it is, second."""
        return self.end_s - self.start_s


@frozen(kw_only=True)
class Choice:
    """Which set-up of a clip a coach wants.

    Parameters
    ----------
    start_s : float or None
        The first one that still stands after this time.
    swing : int or None
        That of this number, counted from 1 in what is looked through.
    """

    start_s: float | None = None
    swing: int | None = None


@frozen(kw_only=True)
class StillMoment:
    """When the golfer stood still at address, and how still.

    Parameters
    ----------
    window : Stretch
        From the last movement before to the first of the club.
    frames_s : tuple of float
        Times of the frames that were measured, second.
    shown_s : float
        Time of the frame that is shown, second.
    sway_mm : float or None
        How far the points of the body were displaced from their mean over these frames (root
        mean square), millimetre at the golfer; ``None`` where they were not read.
    shake_mm : float
        How far the camera moved over these frames (greatest distance from the shown frame),
        millimetre at the golfer; it is taken off.
    set_ups : tuple of Stretch
        The still moments at address that were found in the clip, the measured one among them.
    chosen : int
        Which of them was measured, counted from 1.
    then_moves : bool
        Whether the club moves afterwards; if not, the clip ends first.
    """

    window: Stretch
    frames_s: tuple[float, ...]
    shown_s: float
    sway_mm: float | None
    shake_mm: float
    set_ups: tuple[Stretch, ...]
    chosen: int
    then_moves: bool
