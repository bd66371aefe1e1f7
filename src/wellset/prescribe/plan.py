"""What a plan is: the set-up for one club, what may vary, and what doesn't fit."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.equipment import Club
from wellset.figure.figure import Figure
from wellset.figure.notes import Note
from wellset.measures import Unit
from wellset.prescribe.floor import Floor
from wellset.prescribe.pose import Scene
from wellset.standards import Window

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Planned:
    """One measure of a plan.

    Parameters
    ----------
    measure : str
    unit : Unit
    value : float
        Published unit.
    tolerance : float
        How far it may go either way, the rest of the body following as easily as it can,
        before this or any other measure leaves its window; 0 where the club fixes it or it
        is outside already. From the solution's linear neighbourhood.
    window : Window or None
        As it stood for this student, club and place.
    """

    measure: str
    unit: Unit
    value: float
    tolerance: float
    window: Window | None = None


@frozen(kw_only=True)
class Remedy:
    """One thing that would mend a conflict.

    Parameters
    ----------
    kind : str
        ``toe_up`` (degree), ``length`` (metre, negative: shorter), ``window`` (published unit
        of the measure) or ``limit`` (likewise).
    what : str
        Measure id for ``window`` and ``limit``; empty otherwise.
    amount : float
        How much, signed.
    cures : bool
        Whether this alone makes everything fit.
    message : str
        In words.
    """

    kind: str
    what: str
    amount: float
    cures: bool
    message: str


@frozen(kw_only=True)
class Conflict:
    """Facts that can't all hold.

    Parameters
    ----------
    code : str
        ``limit_against_window``, ``window_not_reached``, ``limit_not_kept`` or
        ``joint_beyond_range``.
    measure : str
        The measure (or joint angle) that is not where it should be.
    facts : tuple of str
        What disagrees, in words.
    amount : float
        How far outside, signed, published unit.
    message : str
    remedies : tuple of Remedy
        The smallest first; computed by letting each go and solving again.
    """

    code: str
    measure: str
    facts: tuple[str, ...]
    amount: float
    message: str
    remedies: tuple[Remedy, ...] = ()


@frozen(kw_only=True, eq=False)
class Plan:
    """The set-up for one student and one club.

    Parameters
    ----------
    club : Club
    shot : str
    figure : Figure
        The solved points, in the frame of a right-hander; a left-hander stands mirrored.
    measures : mapping of id to Planned
        Catalogue order.
    floor : Floor
        The same set-up in things one can lay on the ground.
    conflicts : tuple of Conflict
        Empty when everything fits.
    scene : Scene
        Body, club and ground that were solved.
    parameters : (n,) array
        The solved parameters of :data:`wellset.prescribe.pose.LAYOUT`.
    converged : bool
    notes : tuple of Note
    """

    club: Club
    shot: str
    figure: Figure
    measures: Mapping[str, Planned]
    floor: Floor
    conflicts: tuple[Conflict, ...]
    scene: Scene
    parameters: Array
    converged: bool
    notes: tuple[Note, ...] = field(default=())

    @property
    def fits(self) -> bool:
        """Whether body, club and standards agree."""
        return not self.conflicts
