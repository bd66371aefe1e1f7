"""The joint estimate of one set-up, written down as parameters and terms."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.cameras import BASE, SAME_PHONE_SD, camera_prior, same_phone
from wellset.assess.common import labels
from wellset.assess.knowledge import (
    SEGMENTS,
    SYMMETRIC,
    BodyKnowledge,
    ClubKnowledge,
    combinations,
    point_row,
)
from wellset.assess.start import START_SD_M, typical_points
from wellset.assess.terms import CameraSlot, OnLineTerm
from wellset.estimation import (
    DistanceTerm,
    EqualDistancesTerm,
    Layout,
    LinearTerm,
    Term,
    lay_out,
    prior,
)
from wellset.figure.figure import BUILD_SCALARS
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.plate import PlateMeans
from wellset.figure.sighting import Sighting
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS

Array = NDArray[np.float64]

BODY: Final = "build of the body"
CLUB: Final = "club and ball"
GROUND: Final = "shoes on the ground"
CAMERA: Final = "cameras"
START: Final = "ordinary set-up"
MOTION: Final = "movement between the pictures"
MASS: Final = "mass of the body parts"
LANDMARK: Final = "landmark placement"
COACH: Final = "points placed by hand"
GAP: Final = "rendered to real people"
STICK: Final = "sticks on the ground"
SHEET: Final = "marker sheet"

MIDDLE: Final = (
    ("s1", "mid_hip", "c7", 0.1),
    ("l3", "mid_hip", "c7", 0.3),
    ("t12", "mid_hip", "c7", 0.5),
    ("t8", "mid_hip", "c7", 0.75),
    ("c7", "mid_hip", "mid_shoulder", 1.0),
    ("sternum", "mid_hip", "mid_shoulder", 0.9),
    ("nose", "mid_shoulder", "mid_ear", 1.0),
)
"""Points of the middle plane, and between which two midpoints, and how far up, each lies."""
MIDDLE_SD_M: Final = 0.04
"""How far these stray along the target line at address, turned heads and curved spines
included (our judgement)."""

SWAY_SD_M: Final = 0.004
"""How far the middle of a golfer at address drifts between two exposures: standing sway is
a few millimetres (Winter 1995, Gait & Posture 3:193), a re-taken set-up more; the larger
stands here because pictures are often a minute apart (our judgement)."""
SWAY_HEIGHT_M: Final = 0.9
GRIP_MIDDLE_M: Final = (0.12, 0.02)
"""Middle of both hands from the butt along the grip, and spread (our judgement from hand
breadths of 8-9 cm, ANSUR II)."""
LEVEL_SD: Final = np.radians(0.7)
"""How level and upright a phone stands by its own level, the lens's squareness to its back
included (our judgement)."""
STICK_SLOPE_SD: Final = np.radians(0.6)
"""How well a coach points a stick at the target (our judgement)."""


def shared_block(view: View, /) -> str:
    """Name of the block of a picture's shared landmark errors."""
    return f"{view.value} shared"


def build_layout(
    sightings: Sequence[Sighting], *, more: Sequence[tuple[str, list[str]]] = ()
) -> Layout:
    """Names of all parameters of one assessment; ``more`` blocks for what lies on the ground."""
    blocks: list[tuple[str, list[str]]] = [
        ("points", [f"{name}.{axis}" for name in LANDMARKS for axis in "xyz"]),
        ("scalars", list(BUILD_SCALARS)),
        ("build_scale", ["build_scale"]),
        ("grip_along", ["grip_along"]),
    ]
    blocks += [
        (s.view.value, [f"{s.view.value} camera {p}" for p in CAMERA_PARAMETERS]) for s in sightings
    ]
    blocks += [(shared_block(s.view), labels(s.view)) for s in sightings]
    if len(sightings) == 2:
        blocks.append(("sway", ["sway.x", "sway.y"]))
    blocks += more
    return lay_out(blocks)


def camera_slots(sightings: Sequence[Sighting], layout: Layout) -> Mapping[View, CameraSlot]:
    """Where each picture's camera lives."""
    return {
        s.view: CameraSlot(
            block=layout[s.view.value],
            base=BASE[s.view],
            width_px=s.picture.width_px,
            height_px=s.picture.height_px,
        )
        for s in sightings
    }


@frozen(kw_only=True, eq=False)
class Setting:
    """Everything about an assessment except the pictures' points."""

    body: BodyKnowledge
    club: ClubKnowledge
    level: bool = False
    """Whether somebody says that the phones stood level and upright."""
    drawn: bool = False
    """Whether the pictures are of a rendered scene, where sticks point exactly and both show
    one moment (:mod:`wellset.assess.drawn`)."""
    plate: PlateMeans | None = None
    """What a pressure plate said of the same moment (:mod:`wellset.assess.plate_terms`)."""

    def start_points(self) -> Array:
        """Points of an ordinary set-up for this stature, shape (N, 3)."""
        return typical_points(stature=self.body.stature, ball_height=self.club.ball_height.value)

    def scalar_means(self) -> Array:
        """Build scalars before the pictures, shape (5,)."""
        return np.array([self.body.scalars[name].value for name in BUILD_SCALARS])


def body_terms(setting: Setting, layout: Layout) -> list[Term]:
    """Segment lengths, symmetry, build scalars."""
    return [*_length_terms(setting.body, layout), *_scalar_terms(setting, layout)]


def _length_terms(body: BodyKnowledge, layout: Layout) -> list[Term]:
    known = [
        (pair, body.lengths[name])
        for name, pairs in SEGMENTS.items()
        if name in body.lengths
        for pair in pairs
    ]
    twins = [(name, SEGMENTS[name]) for name in SYMMETRIC if name in body.lengths]
    scale = layout["build_scale"]
    return [
        DistanceTerm(
            source=BODY,
            points=layout["points"],
            combinations=combinations([pair for pair, _ in known]),
            lengths=np.array([k.value for _, k in known]),
            sd=np.array([k.sd for _, k in known]),
            scale_column=scale.start,
            robust_scale=3.0,
        ),
        EqualDistancesTerm(
            source=BODY,
            points=layout["points"],
            first=combinations([pairs[0] for _, pairs in twins]),
            second=combinations([pairs[1] for _, pairs in twins]),
            sd=np.array([max(0.004, 0.015 * body.lengths[name].value) for name, _ in twins]),
            robust_scale=3.0,
        ),
        prior(BODY, size=layout.size, columns=scale, mean=0.0, sd=body.scale_sd),
    ]


def _scalar_terms(setting: Setting, layout: Layout) -> list[Term]:
    start = layout["scalars"].start
    sd = np.array([setting.body.scalars[name].sd for name in BUILD_SCALARS])
    mean = setting.scalar_means()
    of_mass = np.array([name.startswith("mass_offset") for name in BUILD_SCALARS])
    return [
        prior(
            source,
            size=layout.size,
            columns=start + np.flatnonzero(which),
            mean=mean[which],
            sd=sd[which],
        )
        for source, which in ((BODY, ~of_mass), (MASS, of_mass))
    ]


def _coordinate(layout: Layout, landmark: str, *, axis: int) -> int:
    return layout["points"].start + 3 * INDEX[landmark] + axis


def ground_terms(setting: Setting, layout: Layout) -> list[Term]:
    """Shoes flat on the ground, ankles and toe joints at their heights."""
    columns, mean, sd = [], [], []
    for side in ("lead", "trail"):
        for stem in ("ankle", "foot_ball", "shoe_heel", "shoe_toe"):
            known = setting.body.heights[stem]
            columns.append(_coordinate(layout, f"{side}_{stem}", axis=2))
            mean.append(known.value)
            sd.append(known.sd)
    return [prior(GROUND, size=layout.size, columns=columns, mean=mean, sd=sd)]


def club_terms(setting: Setting, layout: Layout) -> list[Term]:
    """Shaft of known length, sole on the ground, ball at the origin."""
    size, club = layout.size, setting.club
    ball = [_coordinate(layout, "ball", axis=i) for i in range(3)]
    sole_z = _coordinate(layout, "shaft_end", axis=2)
    grip = layout["grip_along"]
    middle, spread = (v / club.length.value for v in GRIP_MIDDLE_M)
    return [
        DistanceTerm(
            source=CLUB,
            points=layout["points"],
            combinations=combinations([("grip_end", "shaft_end")]),
            lengths=[club.length.value],
            sd=[club.length.sd],
        ),
        OnLineTerm(
            points=layout["points"],
            butt=INDEX["grip_end"],
            tip=INDEX["shaft_end"],
            middle=INDEX["grip_mid"],
            along_column=grip.start,
            sd=0.004,
            source=CLUB,
        ),
        prior(CLUB, size=size, columns=grip, mean=middle, sd=spread),
        prior(CLUB, size=size, columns=[sole_z], mean=0.0, sd=0.006),
        prior(CLUB, size=size, columns=ball[:2], mean=0.0, sd=1.0, hard=True),
        prior(
            CLUB, size=size, columns=ball[2:], mean=club.ball_height.value, sd=club.ball_height.sd
        ),
    ]


def middle_terms(layout: Layout) -> list[Term]:
    """The spine, breastbone and nose lie near the body's middle plane.

    With two pictures this adds next to nothing. With one it keeps the depth of points that
    no bone of known length holds.
    """
    rows = []
    for name, low, high, share in MIDDLE:
        across = (1 - share) * point_row(low) + share * point_row(high) - point_row(name)
        row = np.zeros(layout.size)
        row[layout["points"]] = np.outer(across, [1.0, 0.0, 0.0]).ravel()
        rows.append(row)
    return [
        LinearTerm(
            source=BODY,
            matrix=np.array(rows),
            target=np.zeros(len(rows)),
            sd=np.full(len(rows), MIDDLE_SD_M),
            robust_scale=3.0,
        )
    ]


def weak_terms(setting: Setting, layout: Layout) -> list[Term]:
    """The ordinary set-up, so weak that it only decides what nothing else does."""
    start = setting.start_points().ravel()
    free = [i for i in range(len(start)) if i // 3 != INDEX["ball"]]
    return [prior(START, size=layout.size, columns=free, mean=start[free], sd=START_SD_M)]


def level_terms(sightings: Sequence[Sighting], layout: Layout) -> list[LinearTerm]:
    """Phones that stood level and upright by their own level."""
    columns = [layout[s.view.value].start + i for s in sightings for i in (2, 3)]
    return [
        LinearTerm(
            source=CAMERA,
            matrix=np.eye(layout.size)[columns],
            target=np.zeros(len(columns)),
            sd=np.full(len(columns), LEVEL_SD),
            robust_scale=2.0,
        )
    ]


def camera_terms(sightings: Sequence[Sighting], layout: Layout) -> list[Term]:
    """How phones are held; one phone for both pictures; sway between them."""
    size = layout.size
    terms: list[Term] = []
    for s in sightings:
        known = camera_prior(s.view, s.picture)
        block = layout[s.view.value]
        terms.append(
            LinearTerm(
                source=CAMERA,
                matrix=np.eye(size)[block],
                target=known.mean,
                sd=known.sd,
                robust_scale=2.0,
            )
        )
    if len(sightings) == 2:
        terms.append(prior(MOTION, size=size, columns=layout["sway"], mean=0.0, sd=SWAY_SD_M))
        first, second = sightings
        if same_phone(first.picture, second.picture):
            row = np.zeros((1, size))
            row[0, layout[first.view.value].start] = 1
            row[0, layout[second.view.value].start] = -1
            terms.append(
                LinearTerm(
                    source=CAMERA, matrix=row, target=0.0, sd=SAME_PHONE_SD, robust_scale=2.0
                )
            )
    return terms
