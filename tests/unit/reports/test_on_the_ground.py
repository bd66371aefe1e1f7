"""What a report says of the things on the ground."""

from __future__ import annotations

from wellset.figure.ground import GroundKind, OnTheGround
from wellset.figure.views import View
from wellset.reports.on_the_ground import NOTHING, ground_words


def thing(
    kind: GroundKind, view: View, *, lies: str = "", used: bool = True, why: str = ""
) -> OnTheGround:
    return OnTheGround(kind=kind, view=view, lies=lies, used=used, why=why)


def test_one_thing_in_two_pictures_is_named_once_with_both() -> None:
    things = [thing(GroundKind.STICK, view, lies="along the target line") for view in View]
    said = ground_words(things)
    assert said == "stick along the target line (both pictures)"


def test_a_thing_that_was_not_used_comes_with_its_reason() -> None:
    things = [
        thing(GroundKind.UPRIGHT, View.FACE_ON),
        thing(GroundKind.SHEET, View.FACE_ON, used=False, why="left out as you asked"),
    ]
    assert ground_words(things) == (
        "upright stick or plumb line (face-on picture); "
        "marker sheet (face-on picture), not used: left out as you asked"
    )


def test_nothing_found_is_said_too() -> None:
    assert ground_words([]) == NOTHING
