"""Where the golfer stands in each sample of a clip."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen

from wellset.vision.clips import Samples
from wellset.vision.general import Body, Detection, GeneralModel
from wellset.vision.motion import Stage, stage_of
from wellset.vision.person import faint_detections, likeliest_first, read_body
from wellset.vision.recognise import nobody

MOST_LOOKED_AT: Final = 20
"""Colour samples in which a person is looked for first; it takes 15 ms each."""

MOST_SEARCHED: Final = 5
"""Samples that are searched in parts when nobody stands out in any of the first."""


@frozen(kw_only=True, eq=False)
class Stages:
    """The golfer's place through a clip.

    Parameters
    ----------
    samples : Samples
    found : mapping of int to Detection
        By colour sample's row.
    each : tuple of Stage
        One a sample; where nobody was looked for or found, the nearest in time.
    model : GeneralModel
    """

    samples: Samples
    found: Mapping[int, Detection]
    each: tuple[Stage, ...]
    model: GeneralModel

    def body(self, row: int) -> Body:
        """The general model's body in a colour sample."""
        picture = self.samples.colour[self.samples.colour_rows.index(row)]
        seen = likeliest_first(self.model.detect(picture), width_px=picture.shape[1])
        there = seen[0] if seen else self.found[min(self.found, key=lambda at: abs(at - row))]
        return read_body(picture, model=self.model, detection=there)

    def colour_row(self, row: int) -> int:
        """The colour sample nearest to a sample."""
        return min(self.samples.colour_rows, key=lambda each: abs(each - row))


def find_stages(samples: Samples, *, model: GeneralModel, name: str) -> Stages:
    """Look for the golfer through a clip.

    Parameters
    ----------
    samples : Samples
    model : GeneralModel
    name : str
        The clip's name, for messages.

    Raises
    ------
    SceneError
        Nobody is in sight.
    """
    every = max(1, -(-len(samples.colour_rows) // MOST_LOOKED_AT))
    found: dict[int, Detection] = {}
    width = int(samples.grey.shape[2])
    for row, picture in list(zip(samples.colour_rows, samples.colour, strict=True))[::every]:
        seen = likeliest_first(model.detect(picture), width_px=width)
        if seen:
            found[row] = seen[0]
    if not found:
        every = max(1, len(samples.colour_rows) // MOST_SEARCHED)
        for row, picture in list(zip(samples.colour_rows, samples.colour, strict=True))[::every]:
            faint = faint_detections(picture, model=model)
            if faint:
                found[row] = faint[0]
    if not found:
        raise nobody(name=name, turned=False)
    return Stages(samples=samples, found=found, each=_nearest(samples, found), model=model)


def _nearest(samples: Samples, found: Mapping[int, Detection]) -> tuple[Stage, ...]:
    shape = (samples.grey.shape[1], samples.grey.shape[2])
    rows = sorted(found)
    stages = [stage_of(found[row], shape=shape) for row in rows]
    away = np.abs(np.arange(samples.count)[:, None] - np.array(rows))
    return tuple(stages[each] for each in away.argmin(axis=1))
