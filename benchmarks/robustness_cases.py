"""The cases of the robustness bench: every way to spoil a scene, by name."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final, Protocol

import numpy as np
from attrs import evolve

from benchmarks import spoiling as s
from benchmarks.scenes import Scene
from benchmarks.spoiling import Case, Change, Pair, Shot, Wanted
from wellset.figure.views import View


class Cut(Protocol):
    """A change that needs to know where things are in the scene's picture."""

    def __call__(self, scene: Scene, /, *, view: View, shot: Shot) -> Shot:
        """The changed picture."""


ALIKE: Final[dict[str, tuple[Change, Wanted]]] = {
    "as taken": (lambda shot: shot, Wanted.ANSWER),
    "0.12 MP": (partial(s.scaled, megapixels=0.12), Wanted.EITHER),
    "0.3 MP": (partial(s.scaled, megapixels=0.3), Wanted.ANSWER),
    "3 MP": (partial(s.scaled, megapixels=3.0), Wanted.ANSWER),
    "12 MP": (partial(s.scaled, megapixels=12.0), Wanted.ANSWER),
    "50 MP": (partial(s.scaled, megapixels=50.0), Wanted.ANSWER),
    "landscape": (s.landscape, Wanted.ANSWER),
    "square": (s.square, Wanted.ANSWER),
    "golfer half as large": (partial(s.padded, width=2.0, height=2.0), Wanted.ANSWER),
    "golfer 160 pixels tall": (lambda shot: _small(shot, share=0.55), Wanted.EITHER),
    "golfer 80 pixels tall": (lambda shot: _small(shot, share=0.27), Wanted.EITHER),
    "on its side, tag says so": (partial(s.tagged_turn, quarters=1), Wanted.ANSWER),
    "upside down, tag says so": (partial(s.tagged_turn, quarters=2), Wanted.ANSWER),
    "on its left side": (partial(s.turned, quarters=1), Wanted.REFUSAL),
    "on its right side": (partial(s.turned, quarters=3), Wanted.REFUSAL),
    "upside down": (partial(s.turned, quarters=2), Wanted.REFUSAL),
    "tilted by 3 degrees": (partial(s.tilted, degrees=3.0), Wanted.EITHER),
    "tilted by 12 degrees": (partial(s.tilted, degrees=12.0), Wanted.EITHER),
    "grey": (s.grey, Wanted.ANSWER),
    "dark by 2 stops": (partial(s.dark, stops=2.0), Wanted.ANSWER),
    "dark by 4 stops": (partial(s.dark, stops=4.0), Wanted.EITHER),
    "bright by 1.5 stops": (s.bright, Wanted.ANSWER),
    "grey and dark by 3 stops": (lambda x: s.dark(s.grey(x), stops=3.0), Wanted.EITHER),
    "out of focus": (partial(s.blurred, share=0.003), Wanted.ANSWER),
    "far out of focus": (partial(s.blurred, share=0.010), Wanted.EITHER),
    "shaken": (partial(s.shaken, share=0.010), Wanted.EITHER),
    "noisy": (s.noisy, Wanted.ANSWER),
    "JPEG 12": (partial(evolve, quality=12), Wanted.ANSWER),
    "JPEG 5": (partial(evolve, quality=5), Wanted.EITHER),
    "both mirrored": (s.mirrored, Wanted.ANSWER),
}
"""Cases that do the same to both pictures."""


def _small(shot: Shot, *, share: float) -> Shot:
    """The golfer small in a large picture: the scene reduced, then much around it."""
    pixels = shot.rgb.shape[0] * shot.rgb.shape[1] / 1e6
    target = pixels * (share * 0.45) ** 2
    return s.padded(s.scaled(shot, megapixels=target), width=3.0, height=3.0)


def _off_centre(scene: Scene, /, *, view: View, shot: Shot) -> Shot:
    """As if the golfer had been cut out of one side of a wide picture."""
    del scene, view
    return s.landscape(shot, across=0.1)


CUTS: Final[dict[str, tuple[Cut, Wanted]]] = {
    "cut closely": (s.cut_closely, Wanted.ANSWER),
    "cut far off centre": (_off_centre, Wanted.EITHER),
    "landscape, camera turned 12 degrees away": (
        partial(s.turned_away, degrees=12.0),
        Wanted.ANSWER,
    ),
    "landscape, camera turned 25 degrees away": (
        partial(s.turned_away, degrees=25.0),
        Wanted.EITHER,
    ),
    "feet cut off": (s.without_feet, Wanted.EITHER),
    "toes cut off": (s.without_toes, Wanted.EITHER),
    "legs cut off": (s.without_legs, Wanted.EITHER),
    "head cut off": (s.without_head, Wanted.EITHER),
    "ball and club head cut off": (s.without_ball, Wanted.EITHER),
    "half of the golfer": (s.half_a_golfer, Wanted.EITHER),
    "nobody": (s.erased, Wanted.REFUSAL),
}
"""Cases that need to know where things are; done to each picture alone, then to both."""

MANY: Final[dict[str, tuple[float, bool, Wanted]]] = {
    "a second golfer as tall": (1.0, False, Wanted.REFUSAL),
    "a second golfer at 0.7": (0.7, False, Wanted.EITHER),
    "a second golfer at 0.45": (0.45, False, Wanted.EITHER),
    "a left-hander as tall": (1.0, True, Wanted.REFUSAL),
}
"""Height of a second golfer beside the first, whether mirrored, and the fate."""


def _both(scene: Scene) -> Pair:
    return {view: s.load(scene, view) for view in View}


def _done(pair: Pair, change: Change, *, to: tuple[View, ...]) -> Pair:
    return {view: change(shot) if view in to else shot for view, shot in pair.items()}


def _alike(pair: Pair) -> Iterator[Case]:
    for name, (change, wanted) in ALIKE.items():
        yield Case(name=name, pictures=_done(pair, change, to=tuple(View)), wanted=wanted)
    for view in View:
        for name in ("grey", "JPEG 12", "dark by 2 stops", "0.3 MP", "landscape"):
            change, wanted = ALIKE[name]
            only = {view: change(pair[view])}
            yield Case(name=f"{name}, {view.words} alone", pictures=only, wanted=wanted)


def _cuts(scene: Scene, pair: Pair) -> Iterator[Case]:
    for name, (change, wanted) in CUTS.items():
        changed = {view: change(scene, view=view, shot=pair[view]) for view in View}
        for view in View:
            mixed = {**pair, view: changed[view]}
            yield Case(name=f"{name}, {view.words}", pictures=mixed, wanted=wanted)
        yield Case(name=f"{name}, both", pictures=changed, wanted=wanted)


def _many(scene: Scene, pair: Pair, *, other: Scene) -> Iterator[Case]:
    for name, (share, flip, wanted) in MANY.items():
        second = {view: s.load(other, view) for view in View}
        if flip:
            second = {view: s.mirrored(shot) for view, shot in second.items()}
        both = {v: s.side_by_side(pair[v], second[v], share=share) for v in View}
        yield Case(name=name, pictures=both, wanted=wanted)
    for share in (0.2, 0.35):
        for left in (True, False):
            seen = {
                view: s.with_bystander(
                    scene,
                    view=view,
                    shot=pair[view],
                    other=other,
                    share=share,
                    on_the_left=left,
                )
                for view in View
            }
            side = "left" if left else "right"
            # without club or ball, but of more than half the golfer's height at the second
            wanted = Wanted.ANSWER if share < 0.3 else Wanted.EITHER
            yield Case(name=f"somebody behind at {share}, {side}", pictures=seen, wanted=wanted)


def _mixed(pair: Pair, *, other: Scene) -> Iterator[Case]:
    front, along = pair[View.FACE_ON], pair[View.DOWN_THE_LINE]
    yield Case(name="exchanged", pictures={View.FACE_ON: along, View.DOWN_THE_LINE: front})
    refused: dict[str, Pair] = {
        "the face-on picture twice": dict.fromkeys(View, front),
        "the down-the-line picture twice": dict.fromkeys(View, along),
        "down-the-line given as face-on": {View.FACE_ON: along},
        "face-on given as down-the-line": {View.DOWN_THE_LINE: front},
        "face-on mirrored alone": {**pair, View.FACE_ON: s.mirrored(front)},
        "down-the-line mirrored alone": {**pair, View.DOWN_THE_LINE: s.mirrored(along)},
        "150 pixels wide": {View.FACE_ON: s.scaled(front, megapixels=0.04)},
        "noise": {View.FACE_ON: evolve(front, rgb=_noise())},
        "a grey sheet": {View.FACE_ON: evolve(front, rgb=np.full_like(front.rgb, 118))},
    }
    for name, pictures in refused.items():
        yield Case(name=name, pictures=pictures, wanted=Wanted.REFUSAL)
    stranger = {**pair, View.DOWN_THE_LINE: s.load(other, View.DOWN_THE_LINE)}
    yield Case(name="two students", pictures=stranger, wanted=Wanted.EITHER)
    for view in View:
        yield Case(name=f"{view.words} alone", pictures={view: pair[view]})


def _noise() -> s.Pixels:
    return np.random.default_rng(0).integers(0, 255, (960, 720, 3), dtype=np.uint8)


def cases(scene: Scene, *, other: Scene) -> Iterator[Case]:
    """Every case of a scene; another scene lends the second person.

    Parameters
    ----------
    scene, other : Scene
        The second is of a right-hander.
    """
    pair = _both(scene)
    yield from _alike(pair)
    yield from _cuts(scene, pair)
    yield from _many(scene, pair, other=other)
    yield from _mixed(pair, other=other)
