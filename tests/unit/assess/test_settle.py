"""Does what is promised come true? Each thing is really added, and everything solved again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache

import numpy as np
import pytest
from attrs import evolve, frozen

from tests.support.placed import Held, camera, pictures
from tests.support.truth import load, points
from wellset.assess import (
    Candidate,
    Fit,
    Setting,
    Solved,
    Step,
    body_knowledge,
    candidates,
    club_knowledge,
    fit,
    outlook,
    predicted_sd,
)
from wellset.assess.candidates import (
    HAND_SD_OF_HEIGHT,
    WORTHWHILE_TAPES,
)
from wellset.assess.laid import CORNER_SD_PX, SHEET_AT
from wellset.assess.markers import marker_corners
from wellset.body import Build
from wellset.equipment import find_club
from wellset.equipment.catalogue import TYPED_LENGTH_SD
from wellset.equipment.sheet import SHEET_MARKER
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import (
    MarkerSighting,
    NotSeen,
    PlacedByCoach,
    ProposedByModel,
    Sighting,
)
from wellset.figure.views import View
from wellset.measures import MEASURES, evaluate_all
from wellset.services import landmark_file

SCENES = ("mid_iron_neutral_21", "driver_neutral_01")
HELD = {
    View.FACE_ON: Held(height=1.1, distance=3.4, aim=3, tilt=-6, roll=1, sideways=0.2),
    View.DOWN_THE_LINE: Held(height=1.0, distance=3.1, aim=-2, tilt=-4, roll=-1, sideways=-0.1),
}
LEVEL = {view: evolve(held, tilt=0.0, roll=0.0) for view, held in HELD.items()}


@frozen(kw_only=True, eq=False)
class Case:
    """A set-up as a coach would type it, and pictures of it."""

    setting: Setting
    build: Build
    sightings: Sequence[Sighting]

    def solve(self) -> Fit:
        return fit(self.setting, self.sightings)

    def options(self, solved: Fit) -> Mapping[tuple[Step, str], Candidate]:
        found = candidates(
            Solved(fit=solved, setting=self.setting, sightings=self.sightings, build=self.build)
        )
        return {(c.step, c.subject): c for c in found}


def case(scene: str, *sticks: str) -> Case:
    truth = load(scene)
    build = Build(stature=truth["stature_m"])
    club = find_club(truth["club"].replace("_", " "))
    return Case(
        setting=Setting(body=body_knowledge(build), club=club_knowledge(club)),
        build=build,
        sightings=pictures(scene, HELD, sticks=sticks, seed=1),
    )


@cache
def bare(scene: str) -> tuple[Case, Fit]:
    """Nothing on the ground, a club known by its name only."""
    found = case(scene)
    return found, found.solve()


def with_sheet(scene: str, sightings: Sequence[Sighting]) -> list[Sighting]:
    corners, _ = marker_corners(SHEET_AT)

    def marker(view: View) -> MarkerSighting:
        seen = camera(view, HELD[view], at=points(load(scene))).project(corners)
        return MarkerSighting(
            name=SHEET_MARKER.name,
            corners_px=seen,
            covariance_px2=np.stack([np.eye(2) * CORNER_SD_PX**2] * 4),
            side_m=SHEET_MARKER.side_m,
            side_sd_m=SHEET_MARKER.side_sd * SHEET_MARKER.side_m,
        )

    return [evolve(s, markers=(marker(s.view),)) for s in sightings]


def levelled(base: Case) -> Case:
    return evolve(base, setting=evolve(base.setting, level=True))


def level_t(scene: str) -> Case:
    """Really taken again, by phones that stand level."""
    retaken = pictures(scene, LEVEL, sticks=("target", "cross"), seed=2)
    return evolve(levelled(case(scene)), sightings=retaken)


def typed(scene: str) -> Case:
    base = case(scene)
    length = evolve(base.setting.club.length, sd=TYPED_LENGTH_SD)
    return evolve(base, setting=evolve(base.setting, club=evolve(base.setting.club, length=length)))


def sheet(scene: str, *sticks: str) -> Case:
    base = case(scene, *sticks)
    return evolve(base, sightings=with_sheet(scene, base.sightings))


DONE: Mapping[Step, Callable[[str], Case]] = {
    Step.TARGET_STICK: lambda scene: case(scene, "target"),
    Step.T_OF_STICKS: lambda scene: case(scene, "target", "cross"),
    Step.UPRIGHT_STICK: lambda scene: case(scene, "upright"),
    Step.LEVEL: lambda scene: levelled(case(scene)),
    Step.T_AND_LEVEL: level_t,
    Step.SHEET: sheet,
    Step.STICK_AND_SHEET: lambda scene: sheet(scene, "target"),
    Step.CLUB_LENGTH: typed,
}


def ratios(before: Fit, candidate: Candidate, after: Fit) -> Mapping[str, tuple[float, float]]:
    """Promised over achieved uncertainty, and promised over present one."""
    promised = predicted_sd(before, candidate.extra, measures=list(MEASURES))
    achieved = evaluate_all(after.figure)
    return {id_: (then / achieved[id_].sd, then / now) for id_, (now, then) in promised.items()}


@pytest.mark.parametrize("scene", SCENES)
@pytest.mark.parametrize("step", DONE)
def test_ranges_shrink_as_promised_when_it_is_really_done(scene: str, step: Step) -> None:
    base, before = bare(scene)
    found = ratios(before, base.options(before)[step, ""], DONE[step](scene).solve())
    for id_, (ratio, _) in found.items():
        assert ratio == pytest.approx(1, abs=0.1), id_
    # and it is worth something to some measure
    assert min(gain for _, gain in found.values()) < 0.92


@pytest.mark.parametrize("scene", SCENES)
def test_a_second_stick_narrows_as_promised(scene: str) -> None:
    base = case(scene, "target")
    before = base.solve()
    options = base.options(before)
    assert (Step.TARGET_STICK, "") not in options
    found = ratios(before, options[Step.CROSS_STICK, ""], case(scene, "target", "cross").solve())
    assert all(ratio == pytest.approx(1, abs=0.1) for ratio, _ in found.values())
    assert found["ball_position"][1] < 0.6


@pytest.mark.parametrize(
    ("count", "tape"), [(n, tape) for n, tapes in WORTHWHILE_TAPES.items() for tape in tapes]
)
def test_a_tape_measure_narrows_as_promised(count: int, tape: str) -> None:
    whole = case(SCENES[0], "target")
    base = evolve(whole, sightings=whole.sightings[:count])
    before = base.solve()
    build = evolve(base.build, **{tape: base.build.expected_reading(tape)})  # type: ignore[arg-type]
    after = evolve(base, setting=evolve(base.setting, body=body_knowledge(build)))
    found = ratios(before, base.options(before)[Step.TAPE, tape], after.solve())
    # one picture leaves some measures so open that none is given; those may go astray
    given = {
        id_: ratio
        for id_, (ratio, _) in found.items()
        if evaluate_all(before.figure)[id_].sd < MEASURES[id_].useful_sd
    }
    assert len(given) > 8
    assert all(ratio == pytest.approx(1, abs=0.1) for ratio in given.values())
    assert (Step.TAPE, tape) not in evolve(base, build=build).options(before)


def sharpened(sighting: Sighting, times: float) -> Sighting:
    """The same picture with points that are known so many times better."""
    return evolve(
        sighting,
        landmarks={
            name: evolve(place, covariance_px2=place.covariance_px2 / times**2)
            for name, place in sighting.landmarks.items()
            if isinstance(place, ProposedByModel)
        },
    )


@pytest.mark.parametrize("view", View)
def test_the_missing_picture_narrows_about_as_promised(view: View) -> None:
    # linearised where the one picture leaves depth nearly open: most, not all, within a fifth
    base = case(SCENES[0], "target")
    one = evolve(base, sightings=[s for s in base.sightings if s.view is not view])
    before = one.solve()
    # 3 mm instead of the 4 mm of these pictures, as is ordinary
    both = [s if s.view is not view else sharpened(s, 4 / 3) for s in base.sightings]
    after = evolve(base, sightings=both).solve()
    found = ratios(before, one.options(before)[Step.OTHER_VIEW, view.value], after)
    log_ratios = np.abs(np.log([ratio for ratio, _ in found.values()]))
    assert np.mean(log_ratios < np.log(1.2)) > 0.8
    assert np.median(log_ratios) < 0.1
    needing = [gain for id_, (_, gain) in found.items() if view in MEASURES[id_].needs]
    assert np.median(needing) < 0.7


def test_a_sharper_picture_narrows_about_as_promised() -> None:
    base = case(SCENES[0], "target")
    dull = [s if s.view is View.FACE_ON else sharpened(s, 1 / 3) for s in base.sightings]
    before_case = evolve(base, sightings=dull)
    before = before_case.solve()
    options = before_case.options(before)
    assert (Step.SHARPER, "face_on") not in options
    good = [s if s.view is View.FACE_ON else sharpened(s, 4 / 3) for s in base.sightings]
    found = ratios(
        before,
        options[Step.SHARPER, "down_the_line"],
        evolve(base, sightings=good).solve(),
    )
    # errors that points of the back share are taken to stay as they are: promised a third
    # too little for the two curves of the back, never too much
    for id_, (ratio, _) in found.items():
        assert 0.9 < ratio < (1.4 if "back" in id_ else 1.2), id_


def test_a_point_placed_by_hand_narrows_as_promised() -> None:
    base, _ = bare(SCENES[0])
    face_on, side = base.sightings
    hidden = evolve(face_on, landmarks={**face_on.landmarks, "ball": NotSeen(why="hidden")})
    before_case = evolve(base, sightings=[hidden, side])
    before = before_case.solve()
    ball = face_on.landmarks["ball"]
    assert isinstance(ball, ProposedByModel)
    placed = PlacedByCoach(
        position_px=ball.position_px,
        covariance_px2=np.eye(2) * (HAND_SD_OF_HEIGHT * face_on.picture.height_px) ** 2,
    )
    by_hand = evolve(face_on, landmarks={**face_on.landmarks, "ball": placed})
    after = evolve(base, sightings=[by_hand, side]).solve()
    found = ratios(before, before_case.options(before)[Step.POINT, "face_on.ball"], after)
    assert all(ratio == pytest.approx(1, abs=0.05) for ratio, _ in found.values())
    assert found["head_behind_ball"][1] < 0.9


def test_points_the_network_places_better_than_a_hand_are_no_candidates() -> None:
    base, before = bare(SCENES[0])
    assert not [step for step, _ in base.options(before) if step is Step.POINT]


def test_a_point_by_hand_is_promised_as_well_as_the_landmark_file_takes_it() -> None:
    assert HAND_SD_OF_HEIGHT == landmark_file.HAND_SD_OF_HEIGHT


def test_what_is_there_already_is_no_candidate() -> None:
    base = sheet(SCENES[0], "target", "cross", "upright")
    full = levelled(evolve(typed(SCENES[0]), sightings=base.sightings))
    steps = {step for step, _ in full.options(full.solve())}
    assert steps == {Step.TAPE}


def test_nothing_more_can_make_a_measure_less_sure() -> None:
    base, before = bare(SCENES[1])
    options = base.options(before)
    seen = outlook(before, [c.extra for c in options.values()], measures=list(MEASURES))
    assert seen.sd_with.shape == (len(options), len(MEASURES))
    assert (seen.sd_with <= seen.sd * (1 + 1e-9)).all()
    now = evaluate_all(before.figure)
    np.testing.assert_allclose(seen.sd, [now[id_].sd for id_ in MEASURES], rtol=1e-9)


def test_sticks_are_counted_on_only_where_the_picture_has_room() -> None:
    # from 1.6 m the long lens shows the golfer's middle only, no ground
    near = {view: Held(distance=3.0, focal_35mm=90, tilt=20) for view in View}
    scene = SCENES[0]
    sightings = [
        evolve(s, landmarks={n: s.landmarks[n] for n in LANDMARKS})
        for s in pictures(scene, near, sticks=(), seed=None)
    ]
    found = evolve(case(scene), sightings=sightings)
    steps = {step for step, _ in found.options(found.solve())}
    assert not steps & {Step.TARGET_STICK, Step.CROSS_STICK, Step.SHEET}
