"""What a drill's drawing shows: from where, what the arms do, what is laid, held or leant on."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from attrs import field, frozen


class Seen(StrEnum):
    """From where the student is seen."""

    FRONT = "front"
    SIDE = "side"
    ABOVE = "above"


class Arms(StrEnum):
    """What the arms do; everything else of the body is as in the student's plan."""

    CLUB = "club"
    HANG = "hang"
    TRAIL_HANG = "trail_hang"
    LEAD_ONLY = "lead_only"
    HIPS = "hips"
    CROSSED = "crossed"
    BEHIND = "behind"
    LOW_BACK = "low_back"
    SIDES = "sides"
    CANE = "cane"

    @property
    def words(self) -> str:
        """As a coach chooses it."""
        return _ARMS[self]

    @property
    def holds_club(self) -> bool:
        """Whether the club is held as in the plan."""
        return self in {Arms.CLUB, Arms.TRAIL_HANG, Arms.LEAD_ONLY, Arms.LOW_BACK}


_ARMS = {
    Arms.CLUB: "hold the club",
    Arms.HANG: "hang without a club",
    Arms.TRAIL_HANG: "lead hand holds, trail arm hangs",
    Arms.LEAD_ONLY: "lead hand holds, trail hand measures",
    Arms.HIPS: "hold a club across the hips",
    Arms.CROSSED: "crossed on the chest",
    Arms.BEHIND: "hold a stick behind head and back",
    Arms.LOW_BACK: "lead hand holds, trail hand on the low back",
    Arms.SIDES: "hang at the sides",
    Arms.CANE: "lean on an upright club",
}


class Prop(StrEnum):
    """What is laid, held or leant on; each is placed from the points of the figure."""

    WALL = "wall"
    STOOL = "stool"
    BACK_STICK = "back_stick"
    BACK_LINE = "back_line"
    CANE = "cane"
    FIST = "fist"
    COIN = "coin"
    HANDLE_LEVEL = "handle_level"
    BALANCE_POINT = "balance_point"
    SHOULDER_PLUMB = "shoulder_plumb"
    ARMPIT_PLUMB = "armpit_plumb"
    KNEE_PLUMB = "knee_plumb"
    NOSE_PLUMB = "nose_plumb"
    CHEST_PLUMB = "chest_plumb"
    BUCKLE_PLUMB = "buckle_plumb"
    BALL_LINE = "ball_line"
    MIDDLE_TEE = "middle_tee"
    TEES = "tees"
    CLUB_HEADS = "club_heads"
    TOE_STICK = "toe_stick"
    AIM_STICK = "aim_stick"
    BALL_STICK = "ball_stick"
    FOOT_CLOCKS = "foot_clocks"
    HIP_CLUB = "hip_club"
    CHEST_CLUB = "chest_club"
    HIP_POST = "hip_post"
    TOWEL = "towel"
    SCALES = "scales"
    MIRROR = "mirror"
    SHAFT_LINE = "shaft_line"
    SHOULDER_SLOPE = "shoulder_slope"

    @property
    def words(self) -> str:
        """As a coach chooses it."""
        return _PROPS[self][0]

    @property
    def views(self) -> frozenset[Seen]:
        """From where it can be drawn."""
        return frozenset(_PROPS[self][1])


_F, _S, _A = Seen.FRONT, Seen.SIDE, Seen.ABOVE
_PROPS: Mapping[Prop, tuple[str, tuple[Seen, ...]]] = MappingProxyType(
    {
        Prop.WALL: ("a wall behind the hips", (_S,)),
        Prop.STOOL: ("a high stool behind the hips", (_S,)),
        Prop.BACK_STICK: ("a stick along the back", (_S,)),
        Prop.BACK_LINE: ("the line of the back", (_S,)),
        Prop.CANE: ("an upright club to lean on", (_S,)),
        Prop.FIST: ("fists between grip and legs", (_S,)),
        Prop.COIN: ("a coin under the club", (_S,)),
        Prop.HANDLE_LEVEL: ("a line level with the end of the grip", (_S,)),
        Prop.BALANCE_POINT: ("where the weight rests", (_S,)),
        Prop.SHOULDER_PLUMB: ("a plumb line from the shoulders", (_S,)),
        Prop.ARMPIT_PLUMB: ("a string from the armpit", (_S,)),
        Prop.KNEE_PLUMB: ("a string from the knee", (_S,)),
        Prop.NOSE_PLUMB: ("a club hanging from the nose", (_F,)),
        Prop.CHEST_PLUMB: ("a club hanging from the breastbone", (_F,)),
        Prop.BUCKLE_PLUMB: ("a string from the belt buckle", (_F,)),
        Prop.BALL_LINE: ("a line above the ball", (_F,)),
        Prop.MIDDLE_TEE: ("a tee half way between the feet", (_F, _A)),
        Prop.TEES: ("tees at the inner edges of the shoes", (_F, _A)),
        Prop.CLUB_HEADS: ("club heads between the shoes", (_A,)),
        Prop.TOE_STICK: ("a stick along the aim, at the toes", (_A,)),
        Prop.AIM_STICK: ("a stick along the aim, near the ball", (_A,)),
        Prop.BALL_STICK: ("a stick from the ball between the feet", (_A,)),
        Prop.FOOT_CLOCKS: ("clock faces under the heels", (_A,)),
        Prop.HIP_CLUB: ("a club across the hips", (_A, _F)),
        Prop.CHEST_CLUB: ("a club across the shoulders", (_A, _F)),
        Prop.HIP_POST: ("a post beside the lead hip", (_F,)),
        Prop.TOWEL: ("a towel under the arms", (_F,)),
        Prop.SCALES: ("scales under the feet", (_F,)),
        Prop.MIRROR: ("a mirror", (_F,)),
        Prop.SHAFT_LINE: ("a line along the shaft", (_F,)),
        Prop.SHOULDER_SLOPE: ("the slope of the shoulders", (_F,)),
    }
)


def _frozen(props: Mapping[Prop, str]) -> Mapping[Prop, str]:
    return MappingProxyType(dict(props))


@frozen(kw_only=True)
class Drawing:
    """One drawing of a drill, made from the student's target.

    Parameters
    ----------
    seen : Seen
    arms : Arms
    props : mapping of Prop to str
        What is placed, each with the words beside it; empty for none.
    fault : bool
        Whether the finding's fault is set beside the target.
    caption : str
    """

    seen: Seen
    arms: Arms = Arms.CLUB
    props: Mapping[Prop, str] = field(factory=dict, converter=_frozen)
    fault: bool = False
    caption: str = ""
