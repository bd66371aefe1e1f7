"""Which set-up of a video is wanted, from what a person types."""

from __future__ import annotations

from pathlib import Path

import pytest

from wellset.bootstrap.videos import choices
from wellset.errors import InputError
from wellset.figure.still import Choice
from wellset.figure.views import View

CLIPS = Path(__file__).parents[1] / "data" / "clips"
FRONT, SIDE = str(CLIPS / "face_on.mp4"), str(CLIPS / "down_the_line.mp4")
BOTH = {View.FACE_ON: FRONT, View.DOWN_THE_LINE: SIDE}


def test_a_plain_value_is_for_every_video() -> None:
    assert choices(BOTH, start=["2.5"], swing=[]) == {
        FRONT: Choice(start_s=2.5),
        SIDE: Choice(start_s=2.5),
    }


def test_a_value_with_a_view_is_for_that_video_alone() -> None:
    wanted = choices(BOTH, start=[], swing=["face-on=2", "down-the-line=1"])
    assert wanted == {FRONT: Choice(swing=2), SIDE: Choice(swing=1)}


@pytest.mark.parametrize(
    ("start", "swing", "words"),
    [
        (["soon"], [], "not a time"),
        (["-1"], [], "not a time"),
        (["nan"], [], "not a time"),
        ([], ["0"], "not a number"),
        ([], ["two"], "not a number"),
        (["side=2"], [], "no view that is known"),
    ],
)
def test_what_is_no_choice_is_refused_in_words(
    start: list[str], swing: list[str], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        choices(BOTH, start=start, swing=swing)


def test_in_a_picture_there_is_nothing_to_choose() -> None:
    picture = CLIPS.parent / "golfers" / "clip_at_address_face_on.jpg"
    with pytest.raises(InputError, match="no video for the swing"):
        choices({View.FACE_ON: str(picture)}, start=[], swing=["1"])
