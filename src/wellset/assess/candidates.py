"""What a coach could still do, as knowledge that the estimate would have then.

Pictures that are taken again with a stick on the ground carry what the present ones carry,
and the stick; the present solution with the stick's rows added stands for them. A second
picture of the same view is no candidate by itself: it takes the first one's place, and tells
as much. It is one where the present picture is much less sharp than an ordinary one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from functools import lru_cache
from itertools import chain
from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.assess import problem as p
from wellset.assess.expected import uncertainty_of_proposal
from wellset.assess.fit import Fit
from wellset.assess.from_build import body_knowledge
from wellset.assess.knowledge import SEGMENTS, BodyKnowledge, combinations
from wellset.assess.laid import MARKER, laid
from wellset.assess.missing_view import OWN_SD_M, missing_view
from wellset.assess.observe import SWAY_SIGN
from wellset.assess.settle import Extra
from wellset.assess.sticks import ACROSS, ALONG, UPRIGHT
from wellset.assess.terms import ReprojectionTerm
from wellset.body import Build
from wellset.equipment.catalogue import TYPED_LENGTH_SD
from wellset.estimation import DistanceTerm, LinearTerm, Term, prior
from wellset.figure.figure import BUILD_SCALARS
from wellset.figure.landmarks import INDEX
from wellset.figure.sighting import NotSeen, PlacedByCoach, ProposedByModel, Sighting
from wellset.figure.views import View

Array = NDArray[np.float64]

HAND_SD_OF_HEIGHT: Final = 0.0025
"""Standard uncertainty of a point placed by hand, as a share of the picture's height: the
landmark file's own, so that what is promised is what is then used."""
BY_EYE: Final = (
    "ball",
    "grip_end",
    "shaft_end",
    "lead_shoe_heel",
    "lead_shoe_toe",
    "trail_shoe_heel",
    "trail_shoe_toe",
)
"""Points that an eye places as well as any network: ends of things, no joints."""
WORTHWHILE_TAPES: Final = {1: ("shoulder_breadth",), 2: ("thigh_girth",)}
"""By the number of pictures, the tapes that narrow some measure by more than a twenty-fifth:
the thigh's the hand gap by a tenth, the shoulders' the shoulder line by a tenth, both by about
a fifth for juniors. All 17 were tried on simulated pictures; the others, those of arms and legs
among them, narrow nothing by more, since joints are known to their definition only."""
DULL: Final = 1.6
"""How many times less sure than usual a picture's points must be for a sharper one to be
counted on."""


class Step(StrEnum):
    """Kinds of things that a coach could do."""

    CLUB_LENGTH = "club_length"
    POINT = "point"
    TAPE = "tape"
    LEVEL = "level"
    TARGET_STICK = "target_stick"
    CROSS_STICK = "cross_stick"
    T_OF_STICKS = "t_of_sticks"
    UPRIGHT_STICK = "upright_stick"
    T_AND_LEVEL = "t_and_level"
    SHEET = "sheet"
    STICK_AND_SHEET = "stick_and_sheet"
    OTHER_VIEW = "other_view"
    SHARPER = "sharper"


@frozen(kw_only=True, eq=False)
class Candidate:
    """One thing that could be done.

    ``subject`` says with what: a view, a tape measure, or ``view.landmark``; else empty.
    """

    step: Step
    subject: str
    extra: Extra


@frozen(kw_only=True, eq=False)
class Solved:
    """A solved set-up with what it was solved from."""

    fit: Fit
    setting: p.Setting
    sightings: Sequence[Sighting]
    build: Build | None = None
    """The student's build, for tape measures; ``None`` where it is not known."""
    rendered_to_real: bool = True

    def more(self, *terms: Term) -> Extra:
        """More about the solved parameters alone."""
        return Extra(terms=terms, parameters=self.fit.parameters, new_sd=np.zeros(0))


def candidates(solved: Solved, /) -> tuple[Candidate, ...]:
    """Everything that could still be done for a set-up."""
    found = chain(
        _club(solved),
        _points(solved),
        _tapes(solved),
        _on_the_ground(solved),
        _pictures(solved),
    )
    return tuple(c for c in found if c.extra.terms)


def _club(solved: Solved) -> Iterator[Candidate]:
    length = solved.setting.club.length
    weight = TYPED_LENGTH_SD**-2 - length.sd**-2
    if weight > 0:
        term = DistanceTerm(
            source=p.CLUB,
            points=solved.fit.layout["points"],
            combinations=combinations([("grip_end", "shaft_end")]),
            lengths=[length.value],
            sd=[weight**-0.5],
        )
        yield Candidate(step=Step.CLUB_LENGTH, subject="", extra=solved.more(term))


def _on_the_ground(solved: Solved) -> Iterator[Candidate]:
    there = {stick.name for stick in solved.fit.sticks}
    level = None if solved.setting.level else _level(solved)
    if level is not None:
        yield Candidate(step=Step.LEVEL, subject="", extra=solved.more(*level))

    def with_things(step: Step, *names: str) -> Candidate:
        extra = laid(solved.fit, solved.sightings, names=names)
        return Candidate(step=step, subject="", extra=extra)

    missing = [name for name in (ALONG, ACROSS) if name not in there]
    if ALONG in missing:
        yield with_things(Step.TARGET_STICK, ALONG)
    if missing:
        step = Step.T_OF_STICKS if ALONG in missing else Step.CROSS_STICK
        t = with_things(step, *missing)
        yield t
        if level is not None:
            wider = [_widened(term, size=len(t.extra.parameters)) for term in level]
            both = evolve(t.extra, terms=(*t.extra.terms, *wider))
            yield Candidate(step=Step.T_AND_LEVEL, subject="", extra=both)
    if UPRIGHT not in there:
        yield with_things(Step.UPRIGHT_STICK, UPRIGHT)
    if not solved.fit.markers:
        yield with_things(Step.SHEET, MARKER)
        if ALONG in missing:
            yield with_things(Step.STICK_AND_SHEET, ALONG, MARKER)


def _level(solved: Solved) -> list[LinearTerm]:
    return p.level_terms(solved.sightings, solved.fit.layout)


def _widened(term: LinearTerm, *, size: int) -> LinearTerm:
    """The same on a longer parameter vector."""
    matrix = np.zeros((len(term.matrix), size))
    matrix[:, : term.matrix.shape[1]] = term.matrix
    return evolve(term, matrix=matrix)


def _pictures(solved: Solved) -> Iterator[Candidate]:
    seen = {s.view for s in solved.sightings}
    for view in View:
        if view not in seen:
            extra = missing_view(
                solved.fit,
                solved.sightings,
                view=view,
                rendered_to_real=solved.rendered_to_real,
            )
            yield Candidate(step=Step.OTHER_VIEW, subject=view.value, extra=extra)
    for sighting in solved.sightings:
        yield from _sharper(solved, sighting)


def _scale(solved: Solved, view: View) -> Array:
    """Pixels per metre at each point."""
    camera = solved.fit.cameras[view]
    scale: Array = camera.focal_px / np.maximum(camera.depth(solved.fit.figure.points), 0.3)
    return scale


def _sharper(solved: Solved, sighting: Sighting) -> Iterator[Candidate]:
    scale = _scale(solved, sighting.view)
    proposed = {
        name: place
        for name, place in sighting.landmarks.items()
        if isinstance(place, ProposedByModel)
    }
    if not proposed:
        return
    own = np.array([
        np.sqrt(np.trace(place.covariance_px2) / 2) / scale[INDEX[name]]
        for name, place in proposed.items()
    ])  # fmt: skip
    dull = float(np.sort(own)[len(own) // 2]) / OWN_SD_M
    if dull < DULL:
        return
    now, then = {}, {}
    for name, place in proposed.items():
        better = evolve(place, covariance_px2=place.covariance_px2 / dull**2)
        now[name] = _covariance(solved, place, name=name, scale=scale)
        then[name] = _covariance(solved, better, name=name, scale=scale)
    term = _replaced(solved, sighting.view, now=now, then=then)
    if term is not None:
        yield Candidate(step=Step.SHARPER, subject=sighting.view.value, extra=solved.more(term))


def _covariance(solved: Solved, place: ProposedByModel, *, name: str, scale: Array) -> Array:
    if not solved.rendered_to_real:
        return place.covariance_px2
    return uncertainty_of_proposal(place, name, pixels_per_metre=float(scale[INDEX[name]]))


def _points(solved: Solved) -> Iterator[Candidate]:
    for sighting in solved.sightings:
        camera, view = solved.fit.cameras[sighting.view], sighting.view
        scale = _scale(solved, view)
        hand = np.eye(2) * (HAND_SD_OF_HEIGHT * sighting.picture.height_px) ** 2
        pixels = camera.project(solved.fit.figure.points)
        frame = np.array([camera.width_px, camera.height_px])
        for name in BY_EYE:
            place = sighting.landmarks.get(name, NotSeen(why=""))
            at = pixels[INDEX[name]]
            if isinstance(place, PlacedByCoach) or not ((at > 0) & (at < frame)).all():
                continue
            now = {}
            if isinstance(place, ProposedByModel):
                now[name] = _covariance(solved, place, name=name, scale=scale)
            term = _replaced(solved, view, now=now, then={name: hand})
            if term is not None:
                yield Candidate(
                    step=Step.POINT, subject=f"{view.value}.{name}", extra=solved.more(term)
                )


def _replaced(
    solved: Solved, view: View, *, now: Mapping[str, Array], then: Mapping[str, Array]
) -> ReprojectionTerm | None:
    """The information that some landmarks gain by other covariances; ``None`` for none."""
    which, roots = [], []
    for name, covariance in then.items():
        gained = np.linalg.inv(covariance)
        if name in now:
            gained = gained - np.linalg.inv(now[name])
        values, vectors = np.linalg.eigh(gained)
        if values[-1] > 0:
            which.append(INDEX[name])
            roots.append(np.sqrt(np.maximum(values, 0.0))[:, None] * vectors.T)
    if not which:
        return None
    points = solved.fit.figure.points[which]
    return ReprojectionTerm(
        view=view,
        slot=p.camera_slots(solved.sightings, solved.fit.layout)[view],
        points=solved.fit.layout["points"],
        which=np.array(which),
        positions_px=np.zeros((len(which), 2)),
        whitening=np.array(roots),
        row_shares={p.LANDMARK: np.ones(2 * len(which))},
        sway=solved.fit.layout.slices.get("sway"),
        sway_gain=SWAY_SIGN[view] * np.clip(points[:, 2] / p.SWAY_HEIGHT_M, 0.0, 2.0),
        shared=slice(0, 0),
        shared_shift_px=np.zeros((len(which), 2, 0)),
        robust_scale=None,
    )


@lru_cache(maxsize=256)
def _with_tape(build: Build, tape: str) -> BodyKnowledge:
    """Body knowledge with one tape measure more; its reading is of no matter here."""
    reading = {tape: build.expected_reading(tape)}
    return body_knowledge(evolve(build, **reading))  # type: ignore[arg-type]  # a tape's name


def _tapes(solved: Solved) -> Iterator[Candidate]:
    if solved.build is None:
        return
    for tape in WORTHWHILE_TAPES[len(solved.sightings)]:
        if tape not in solved.build.readings:
            terms = _narrowed(solved, _with_tape(solved.build, tape))
            yield Candidate(step=Step.TAPE, subject=tape, extra=solved.more(*terms))


def _narrowed(solved: Solved, better: BodyKnowledge) -> list[Term]:
    """Rows for every length and scalar that is known better than before."""
    body, layout = solved.setting.body, solved.fit.layout
    pairs, lengths, sds = list[tuple[str, str]](), list[float](), list[float]()
    for name, joined in SEGMENTS.items():
        if name in body.lengths and name in better.lengths:
            weight = better.lengths[name].sd ** -2 - body.lengths[name].sd ** -2
            if weight > 1e-3 * body.lengths[name].sd ** -2:
                pairs += joined
                lengths += [body.lengths[name].value] * len(joined)
                sds += [weight**-0.5] * len(joined)
    terms: list[Term] = []
    if pairs:
        terms.append(
            DistanceTerm(
                source=p.BODY,
                points=layout["points"],
                combinations=combinations(pairs),
                lengths=lengths,
                sd=sds,
                scale_column=layout["build_scale"].start,
            )
        )
    for i, name in enumerate(BUILD_SCALARS):
        weight = better.scalars[name].sd ** -2 - body.scalars[name].sd ** -2
        if weight > 1e-3 * body.scalars[name].sd ** -2:
            terms.append(
                prior(
                    p.BODY,
                    size=layout.size,
                    columns=[layout["scalars"].start + i],
                    mean=body.scalars[name].value,
                    sd=weight**-0.5,
                )
            )
    return terms
