"""Things that lie or stand on the ground for the camera's sake, and which of them to use."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

from wellset.figure.views import View


class GroundKind(StrEnum):
    """What a thing on the ground is."""

    STICK = "stick"
    UPRIGHT = "upright"
    SHEET = "sheet"

    @property
    def words(self) -> str:
        """The kind in a coach's words."""
        return {
            GroundKind.STICK: "stick",
            GroundKind.UPRIGHT: "upright stick or plumb line",
            GroundKind.SHEET: "marker sheet",
        }[self]


@frozen(kw_only=True)
class GroundUse:
    """What the coach says of the things on the ground.

    Parameters
    ----------
    ignore : frozenset of GroundKind
        Found things of these kinds are left out.
    sheet_aimed : bool
        Whether the marker sheet's arrow was pointed at the target with care.
    """

    ignore: frozenset[GroundKind] = frozenset()
    sheet_aimed: bool = False


@frozen(kw_only=True)
class OnTheGround:
    """A thing found in one picture, and what became of it.

    Parameters
    ----------
    kind : GroundKind
    view : View
    lies : str
        How it lies, in words to follow its name, such as "along the target line"; empty
        where that is not known.
    used : bool
    why : str
        Why it was not used; empty when it was.
    """

    kind: GroundKind
    view: View
    lies: str
    used: bool
    why: str
