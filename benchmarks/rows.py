"""One measure of one scene beside its truth, and figures over many of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

import wellset
from benchmarks.naive import naive_measures
from benchmarks.scenes import Scene
from wellset.errors import WellsetError
from wellset.measures import COVERAGE_FACTOR, MEASURES, Measured, MeasureResult, Unit

Array = NDArray[np.float64]

REFUSED: Final = "refused"
"""Reason of every measure of a scene whose pictures were refused as a whole."""


@frozen(kw_only=True)
class Row:
    """One measure of one scene.

    Parameters
    ----------
    truth, value, sd : float
        In the measure's published unit; ``value`` and ``sd`` are ``None`` where no number
        was given.
    naive : float or None
        The line-drawing reading of the same points.
    why : str
        Reason where no number was given.
    visible : bool
        Whether every body, club and ball point lies inside both pictures.
    budget : mapping of source to float
        Standard uncertainty that each source alone gives.
    bare_value, bare_sd : float or None
        The same with the rendered-to-real term left out.
    """

    scene: str
    measure: str
    truth: float
    value: float | None
    sd: float | None
    naive: float | None
    why: str = ""
    visible: bool = True
    budget: Mapping[str, float] = field(factory=dict)
    bare_value: float | None = None
    bare_sd: float | None = None

    @property
    def error(self) -> float | None:
        """Value minus truth."""
        return None if self.value is None else self.value - self.truth

    @property
    def bare(self) -> Row:
        """The row with the rendered-to-real term left out."""
        return evolve(self, value=self.bare_value, sd=self.bare_sd)


def truths(scene: Scene) -> dict[str, float]:
    """True values of a scene's measures, in their published units."""
    stated = scene.truth["measures"]
    found = {id_: stated.get(id_, {}).get("value") for id_ in MEASURES}
    return {id_: float(value) for id_, value in found.items() if value is not None}


def _refused(scene: Scene, why: str) -> list[Row]:
    return [
        Row(
            scene=scene.name,
            measure=id_,
            truth=truth,
            value=None,
            sd=None,
            naive=None,
            why=f"{REFUSED}: {why}",
            visible=scene.all_visible,
        )
        for id_, truth in truths(scene).items()
    ]


def _numbers(results: Mapping[str, MeasureResult]) -> dict[str, Measured]:
    return {id_: each for id_, each in results.items() if isinstance(each, Measured)}


def run_scene(scene: Scene, *, both_terms: bool = True) -> list[Row]:
    """Assess one scene and set its measures beside the truth.

    Parameters
    ----------
    scene : Scene
    both_terms : bool
        Whether to assess it a second time with the rendered-to-real term left out.
    """
    try:
        result = wellset.assess(**scene.options)
        again = (
            wellset.assess(**scene.options, rendered_to_real=False, drawn_scene=True)
            if both_terms
            else None
        )
    except WellsetError as error:
        return _refused(scene, error.sentence)
    naive = naive_measures(
        {view: picture.sighting for view, picture in result.pictures.items()},
        club_length=scene.truth["club_length_m"],
        club_lie_deg=scene.truth["club_lie_deg"],
    )
    given, bare = _numbers(result.measures), _numbers(again.measures if again else {})
    return [
        Row(
            scene=scene.name,
            measure=id_,
            truth=truth,
            value=given[id_].value if id_ in given else None,
            sd=given[id_].sd if id_ in given else None,
            naive=naive.get(id_),
            why="" if id_ in given else getattr(result.measures[id_], "code", ""),
            visible=scene.all_visible,
            budget=dict(given[id_].budget) if id_ in given else {},
            bare_value=bare[id_].value if id_ in bare else None,
            bare_sd=bare[id_].sd if id_ in bare else None,
        )
        for id_, truth in truths(scene).items()
    ]


def rms(values: Array, /) -> float:
    """Root mean square; not a number where there are none."""
    return float(np.sqrt(np.mean(values**2))) if len(values) else float("nan")


def errors(rows: Sequence[Row], /) -> Array:
    """Error and standard uncertainty of every given measure, shape (n, 2)."""
    return np.array(
        [[r.value - r.truth, r.sd] for r in rows if r.value is not None and r.sd is not None]
    ).reshape(-1, 2)


def coverage(rows: Sequence[Row], /) -> float:
    """Share of 95 % intervals that hold the truth."""
    given = errors(rows)
    if not len(given):
        return float("nan")
    return float(np.mean(np.abs(given[:, 0]) < COVERAGE_FACTOR * given[:, 1]))


def share_given(rows: Sequence[Row], /) -> float:
    """Share of scenes with everything in the pictures for which a number was given."""
    visible = [r for r in rows if r.visible]
    return float(np.mean([r.value is not None for r in visible])) if visible else float("nan")


def budget(rows: Sequence[Row], /) -> dict[str, float]:
    """Standard uncertainty by source, root mean square over scenes, largest first."""
    given = [r.budget for r in rows if r.value is not None]
    sources = sorted({source for each in given for source in each})
    sizes = {s: rms(np.array([each.get(s, 0.0) for each in given])) for s in sources}
    return dict(sorted(sizes.items(), key=lambda item: -item[1]))


def shown_unit(measure: str, /) -> tuple[str, float]:
    """Unit in which a table prints a measure, and the factor to it."""
    unit = MEASURES[measure].unit
    return ("cm", 100.0) if unit is Unit.METRE else (unit.value, 1.0)


def by_measure(rows: Sequence[Row], /) -> dict[str, list[Row]]:
    """Rows of each measure that has any, in catalogue order."""
    sorted_out = {id_: [r for r in rows if r.measure == id_] for id_ in MEASURES}
    return {id_: some for id_, some in sorted_out.items() if some}


def select(
    rows: Sequence[Row], scenes: Sequence[Scene], *, keep: Callable[[Scene], bool]
) -> list[Row]:
    """Rows of the scenes to keep."""
    names = {s.name for s in scenes if keep(s)}
    return [r for r in rows if r.scene in names]
