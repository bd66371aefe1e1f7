"""One club's problem, put together from what is known of student, club, place and standards."""

from __future__ import annotations

from attrs import field, frozen

from wellset.equipment import Club
from wellset.prescribe.aims import Aim, aim_of
from wellset.prescribe.ground import Ground
from wellset.prescribe.limits import Limits
from wellset.prescribe.model import Model
from wellset.prescribe.pose import ClubOnGround, Scene
from wellset.prescribe.skeleton import Skeleton
from wellset.standards import Window


@frozen(kw_only=True, eq=False)
class Task:
    """What one plan is asked for.

    Parameters
    ----------
    skeleton : Skeleton
    hand_length : float
        Of the student, metre.
    club : Club
    held : ClubOnGround
        The club as it is set down.
    shot : str
    windows : tuple of Window
        The coach's, as they stand for this student, club, ground and wind.
    limits : Limits
        The student's own.
    ground : Ground
    """

    skeleton: Skeleton
    hand_length: float
    club: Club
    held: ClubOnGround
    shot: str
    windows: tuple[Window, ...]
    limits: Limits = field(factory=Limits)
    ground: Ground = field(factory=Ground)

    @property
    def scene(self) -> Scene:
        """Body, club and ground."""
        return Scene(skeleton=self.skeleton, club=self.held, ground=self.ground)

    @property
    def aims(self) -> tuple[Aim, ...]:
        """Windows cut by the student's limits, then the limits."""
        windows = (self.limits.cut(aim_of(window)) for window in self.windows)
        return (*windows, *self.limits.aims())

    def model(self) -> Model:
        """The problem itself."""
        return Model(scene=self.scene, aims=self.aims)
