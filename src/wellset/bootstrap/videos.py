"""Which set-up of a video is wanted, from what a person types."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from pathlib import Path

from attrs import evolve

from wellset.errors import InputError
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.vision.clip_files import is_video

_VIEWS = {view.words: view for view in View}


def choices(
    paths: Mapping[View, str], *, start: Sequence[str], swing: Sequence[str]
) -> dict[str, Choice]:
    """What is wanted of each video, by its path.

    Parameters
    ----------
    paths : mapping of View to str
        The files given.
    start, swing : sequence of str
        Seconds, and numbers counted from 1; each for every video, or for one view as in
        ``face-on=12.5``.

    Raises
    ------
    InputError
        Something is no number, no view, or meant for what is no video.
    """
    wanted: dict[str, Choice] = {}
    for text in start:
        for path, value in _meant(text, paths, what="start"):
            wanted[path] = evolve(wanted.get(path, Choice()), start_s=seconds_of(value))
    for text in swing:
        for path, value in _meant(text, paths, what="swing"):
            wanted[path] = evolve(wanted.get(path, Choice()), swing=swing_of(value))
    return wanted


def _meant(text: str, paths: Mapping[View, str], *, what: str) -> list[tuple[str, str]]:
    """The videos that a value is for, each with the value."""
    name, equals, value = text.strip().rpartition("=")
    if equals and name not in _VIEWS:
        raise InputError(
            f"The {what} is for no view that is known",
            why=f"it names {name!r}.",
            fix=f"Write face-on={value} or down-the-line={value}.",
        )
    views = [_VIEWS[name]] if equals else list(View)
    videos = [paths[view] for view in views if view in paths and is_video(Path(paths[view]))]
    if not videos:
        raise InputError(
            f"There is no video for the {what}",
            why="only in a video is there something to choose."
            if not equals
            else f"no {name} video was given.",
            fix=f"Leave out --{what}, or give a video.",
        )
    return [(video, value.strip()) for video in videos]


def seconds_of(text: str, /) -> float:
    """A time in a clip, second.

    Raises
    ------
    InputError
    """
    try:
        value = float(text.removesuffix("s").strip())
    except ValueError:
        value = math.nan
    if 0.0 <= value < math.inf:
        return value
    raise InputError(
        "The start is not a time",
        why=f"it is {text!r}.",
        fix="Give seconds from the clip's beginning, such as 12.5.",
    )


def swing_of(text: str, /) -> int:
    """Which set-up of a clip, counted from 1.

    Raises
    ------
    InputError
    """
    if text.isdecimal() and int(text) >= 1:
        return int(text)
    raise InputError(
        "The swing is not a number",
        why=f"it is {text!r}.",
        fix="Give 1 for the first set-up in the clip, 2 for the next, and so on.",
    )
