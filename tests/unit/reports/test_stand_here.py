"""Where to stand, over the student's picture."""

from __future__ import annotations

import re

import cv2
import numpy as np
import pytest
from attrs import evolve

from tests.support.standing import standing
from wellset.figure.views import View
from wellset.reports.compose import compose
from wellset.reports.floor_marks import floor_marks
from wellset.reports.ghost import body, round_outline
from wellset.reports.marks import FAR, PINE, Area, Array, Body, Drawing, Line, Role
from wellset.reports.page import WholePicture, findings_html, page_html
from wellset.reports.paint import painted
from wellset.reports.stand_here import PLAN_VERDICT, StandModel, stand_model
from wellset.units import UnitSystem

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
BOTH = (RIGHT, LEFT)


def model(scene: str = RIGHT, *, posture: str = "standing") -> StandModel:
    found = stand_model(standing(scene, posture=posture), units=UnitSystem.CENTIMETRES)
    assert found is not None
    return found


def plan_drawing(scene: str, view: View) -> Drawing:
    drawing = next(p.plan for p in model(scene).pictures if p.view == view.value)
    assert drawing is not None
    return drawing


def shoe(drawing: Drawing, role: Role) -> Array:
    return next(m.points_px for m in drawing.marks if isinstance(m, Area) and m.role is role)


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize("scene", BOTH)
def test_the_plans_shoes_lie_where_the_estimated_camera_sees_that_ground(
    scene: str, view: View
) -> None:
    found = standing(scene)
    assert found.stand is not None
    assert found.stand.plan is not None
    figure = found.stand.plan.figure
    ends = np.array([figure[f"lead_shoe_{end}"] * [1, 1, 0] for end in ("heel", "toe")])
    drawn = shoe(plan_drawing(scene, view), Role.FLOOR_LEAD)
    for end in found.pictures[view].project(ends):
        assert np.linalg.norm(drawn - end, axis=1).min() < 1e-6


def test_a_left_handers_lead_shoe_lies_on_the_other_side_of_the_picture() -> None:
    for scene, sign in ((RIGHT, 1.0), (LEFT, -1.0)):
        drawing = plan_drawing(scene, View.FACE_ON)
        lead, trail = (
            shoe(drawing, role)[:, 0].mean() for role in (Role.FLOOR_LEAD, Role.FLOOR_TRAIL)
        )
        # face-on a right-hander's target lies to the right of the picture
        assert sign * (lead - trail) > 0


def test_what_is_near_is_drawn_over_what_is_far() -> None:
    found = standing(RIGHT)
    assert found.stand is not None
    assert found.stand.plan is not None
    figure = found.stand.plan.figure
    # from behind, looking at the target, the trail side is nearer
    behind = body(figure, found.pictures[View.DOWN_THE_LINE])
    assert behind is not None
    thighs = [part.colour for part in behind.parts if part.colour in {PINE, FAR}]
    assert thighs[-1] == FAR
    assert thighs[0] == PINE


def test_a_body_at_the_lens_is_not_drawn() -> None:
    found = standing(RIGHT)
    assert found.stand is not None
    assert found.stand.plan is not None
    figure = found.stand.plan.figure
    picture = found.pictures[View.FACE_ON]
    at_the_lens = figure.points + (picture.camera.position - figure["nose"])
    near = evolve(figure, points=at_the_lens)
    assert body(near, picture) is None


def test_an_outline_is_the_convex_hull_of_all_the_ellipses_it_goes_round() -> None:
    # OpenCV's convexHull of many points of each ellipse (an independent program)
    rng = np.random.default_rng(3)
    centres, roots = rng.normal(scale=4.0, size=(9, 2)), rng.normal(size=(9, 2, 2))
    turn = np.linspace(0, 2 * np.pi, 400)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    ellipses = centres[:, None] + np.einsum("nij,kj->nki", roots, circle)
    hull = cv2.convexHull(ellipses.reshape(-1, 1, 2).astype(np.float32))
    for x, y in round_outline(centres, roots @ roots.swapaxes(1, 2)):
        assert abs(cv2.pointPolygonTest(hull, (float(x), float(y)), measureDist=True)) < 0.002


def test_the_dashed_edge_holds_the_shoe_it_is_drawn_round() -> None:
    found = standing(RIGHT)
    assert found.stand is not None
    assert found.stand.plan is not None
    seen = found.stand.views[View.FACE_ON].projection
    marks = floor_marks(
        found.stand.plan.figure, found.pictures[View.FACE_ON], projection=seen, rulers=("gap",)
    )
    assert marks is not None
    shoes = [m.points_px for m in marks.marks if isinstance(m, Area)]
    edges = [m.points_px for m in marks.marks if isinstance(m, Line) and m.role is Role.FLOOR_RANGE]
    low, high = edges[0].min(axis=0), edges[0].max(axis=0)
    assert (shoes[0] > low).all()
    assert (shoes[0] < high).all()


def test_the_ball_is_the_anchor() -> None:
    """What stands away from the ball is less sure than the ball itself."""
    found = standing(LEFT)
    assert found.stand is not None
    for view in View:
        seen = found.stand.views[view].projection
        places = np.array([found.fit.figure["ball"], found.fit.figure["trail_shoe_heel"]])
        ball, heel = np.linalg.eigvalsh(seen.spread_on_the_ground(places)).max(axis=1)
        assert ball < 0.5 * heel


def test_without_a_stick_the_marks_are_less_sure_than_with_two() -> None:
    one = standing("mid_iron_left_handed_weight_in_heels_01").stand
    two = standing("fairway_wood_left_handed_reaching_21").stand
    assert one is not None
    assert two is not None
    for view in View:
        assert two.views[view].square_sd < one.views[view].square_sd


def test_each_picture_says_how_sure_its_marks_are() -> None:
    for picture in model().pictures:
        assert re.search(r"within ±\s\d+\scm", picture.sure)
        assert "target line to ±" in picture.sure


def test_only_moves_that_are_sure_are_told() -> None:
    found = standing(RIGHT)
    assert found.stand is not None
    still = tuple(
        evolve(step, along=0.01, along_sd=0.02, back=0.008, back_sd=0.02, turn=0.01)
        for step in found.stand.steps
    )
    sure = tuple(evolve(step, along=0.06, along_sd=0.01) for step in still)
    for steps, words in ((still, "leave it where it is"), (sure, "6 ± 2 cm toward the target")):
        stood = stand_model(
            evolve(found, stand=evolve(found.stand, steps=steps)), units=UnitSystem.CENTIMETRES
        )
        assert stood is not None
        assert all(words in line.replace("\N{NO-BREAK SPACE}", " ") for line in stood.steps)


def test_a_seated_golfer_has_no_plan_and_is_told_why() -> None:
    found = model(posture="seated")
    assert not found.floor
    assert "seated" in found.notes[0]
    assert all(picture.plan is None for picture in found.pictures)


def test_a_phone_far_off_square_gets_no_marks_and_a_reason() -> None:
    found = standing(RIGHT)
    assert found.stand is not None
    refused = evolve(found.stand.views[View.FACE_ON], why_not="The phone stood askew. Retake it.")
    stand = evolve(found.stand, views={**found.stand.views, View.FACE_ON: refused})
    stood = stand_model(evolve(found, stand=stand), units=UnitSystem.CENTIMETRES)
    assert stood is not None
    face_on = next(p for p in stood.pictures if p.view == "face_on")
    assert face_on.plan is None
    assert face_on.sure == "Nothing is drawn here. The phone stood askew. Retake it."


def test_labels_say_what_is_wanted_and_never_a_verdict() -> None:
    for view in View:
        labels = plan_drawing(RIGHT, view).labels
        assert labels
        assert {label.verdict for label in labels} == {PLAN_VERDICT}


def test_lengths_follow_the_coachs_unit() -> None:
    inches = stand_model(standing(RIGHT), units=UnitSystem.INCHES)
    assert inches is not None
    assert all("in" in line.value or "°" in line.value for line in inches.floor)
    assert not any("cm" in picture.sure for picture in inches.pictures)


def test_a_page_holds_each_picture_once_and_lets_one_choose_without_scripts() -> None:
    found = standing(RIGHT)
    pixels = {view: picture.rgb for view, picture in found.pictures.items()}
    page = page_html(compose(found), pixels=pixels)
    assert page.count("data:image/jpeg") == 2
    assert "<script" not in page
    for name in ("stand-planned", "stand-changed", "stand-bare"):
        assert f'id="{name}"' in page
        assert f'for="{name}"' in page
    names = re.findall(r' id="([^"]+)"', page)
    assert len(names) == len(set(names))


def test_findings_in_the_book_show_the_same_pictures_by_their_addresses() -> None:
    found = standing(LEFT)
    images = {
        view: WholePicture(address=f"/here/{view.value}.jpg", width_px=840, height_px=1120)
        for view in View
    }
    page = findings_html(compose(found), images=images)
    assert page.count('href="/here/face_on.jpg"') == 2
    assert 'class="as-planned"' in page


def test_a_body_is_painted_so_that_the_student_shows_through() -> None:
    drawing = plan_drawing(RIGHT, View.FACE_ON)
    rgb = standing(RIGHT).pictures[View.FACE_ON].rgb
    bare = evolve(drawing, marks=(), labels=())
    ghost = evolve(drawing, marks=tuple(m for m in drawing.marks if isinstance(m, Body)), labels=())
    plain, over = (np.asarray(painted(d, rgb)).astype(float) for d in (bare, ghost))
    changed = np.abs(over - plain).max(axis=2) > 8
    assert 0.05 < changed.mean() < 0.6
    # half seen through: pine on sky is neither pine nor sky
    x, y = drawing.marks[0].parts[0].points_px.mean(axis=0)  # type: ignore[union-attr]
    scale = plain.shape[1] / drawing.frame.width
    at = (int((y - drawing.frame.y) * scale), int((x - drawing.frame.x) * scale))
    assert 8 < np.abs(over[at] - plain[at]).max() < 200
