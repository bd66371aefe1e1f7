"""What is drawn lands where the camera says."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from tests.support.reports import assessment
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.reports.compose import drawings, emphasis
from wellset.reports.features import Scene
from wellset.reports.marks import Array, Drawing, Line, Role, Spot
from wellset.reports.overlay import MOST_LABELS, draw
from wellset.units import UnitSystem

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
BOTH = (RIGHT, LEFT)


def drawn(scene: str) -> dict[View, Drawing]:
    return dict(drawings(assessment(scene), units=UnitSystem.CENTIMETRES))


def lines(drawing: Drawing, role: Role) -> list[Line]:
    return [m for m in drawing.marks if isinstance(m, Line) and m.role is role]


def foot_vertical(drawing: Drawing) -> Array:
    """The longest of the lines to measure from: that over the balls of the feet."""
    found = [line.points_px for line in lines(drawing, Role.REFERENCE)]
    return max(found, key=lambda points: float(np.linalg.norm(points[-1] - points[0])))


@pytest.mark.parametrize("scene", BOTH)
@pytest.mark.parametrize("view", list(View))
def test_the_lead_leg_is_drawn_where_the_camera_projects_it(scene: str, view: View) -> None:
    found = assessment(scene)
    picture = found.pictures[view]
    leg = np.array([found.points[f"lead_{part}"] for part in ("hip", "knee", "ankle")])
    expected = picture.camera.project(leg)
    if picture.mirrored:
        expected[:, 0] = picture.sighting.picture.width_px - expected[:, 0]
    drawn_legs = [m.points_px for m in lines(drawn(scene)[view], Role.LEAD)]
    assert any(p.shape == (3, 2) and np.allclose(p, expected, atol=1e-9) for p in drawn_legs)


@pytest.mark.parametrize("scene", BOTH)
def test_the_drawn_figure_lies_on_the_points_that_were_read(scene: str) -> None:
    """The fit agrees with the true pixels to a few pixels, so a wrong mirror would show."""
    for picture in assessment(scene).pictures.values():
        names = [n for n in LANDMARKS if n != "c7"]
        solved = picture.project(np.array([assessment(scene).points[n] for n in names]))
        read = np.array(
            [picture.to_picture(picture.sighting.landmarks[n].position_px) for n in names]  # type: ignore[union-attr]
        )
        assert np.median(np.linalg.norm(solved - read, axis=1)) < 5


def test_a_left_handers_toes_point_to_the_other_side_of_the_picture() -> None:
    def side(scene: str) -> float:
        found = assessment(scene)
        picture = found.pictures[View.DOWN_THE_LINE]
        toe, ball = picture.project(
            np.array([found.points["trail_shoe_toe"], found.points["ball"]])
        )
        return float(np.sign(ball[0] - toe[0]))

    assert side(RIGHT) == 1
    assert side(LEFT) == -1


def test_a_plumb_line_is_the_picture_of_a_vertical_line_in_the_world() -> None:
    found = assessment(RIGHT)
    picture = found.pictures[View.DOWN_THE_LINE]
    feet = (found.points["lead_foot_ball"] + found.points["trail_foot_ball"]) / 2
    foot, above = feet * [1, 1, 0], feet * [1, 1, 0] + [0, 0, 1.0]
    low, high = picture.project(np.array([foot, above]))
    reference = foot_vertical(drawn(RIGHT)[View.DOWN_THE_LINE])
    start, end = reference[0], reference[-1]
    np.testing.assert_allclose(start, low, atol=1e-6)
    direction, wanted = (end - start) / np.linalg.norm(end - start), high - low
    assert direction @ wanted / np.linalg.norm(wanted) == pytest.approx(1, abs=1e-4)


def test_a_tilted_phone_tilts_the_plumb_line_in_its_picture() -> None:
    found = assessment(RIGHT)
    picture = found.pictures[View.DOWN_THE_LINE]
    turned = np.array(picture.camera.parameters)
    turned[3] += np.radians(5)
    tilted = evolve(picture, camera=evolve(picture.camera, parameters=turned))

    def lean(shown: object) -> float:
        scene = Scene(picture=shown, figure=found.fit.figure, measures=found.measures)  # type: ignore[arg-type]
        drawing = draw(scene, order=(), texts={}, verdicts={})
        line = foot_vertical(drawing)
        run = line[-1] - line[0]
        return float(np.degrees(np.arctan2(run[0], -run[1])))

    assert abs(lean(tilted) - lean(picture)) == pytest.approx(5, abs=0.5)


def test_a_point_placed_by_a_coach_is_marked_in_its_own_way() -> None:
    for drawing in drawn(RIGHT).values():
        spots = {m.landmark: m.role for m in drawing.marks if isinstance(m, Spot)}
        assert spots["c7"] is Role.COACH
        assert spots["nose"] is Role.MODEL


@pytest.mark.parametrize("scene", BOTH)
def test_labels_are_few_inside_the_shown_part_and_apart(scene: str) -> None:
    for drawing in drawn(scene).values():
        assert 1 <= len(drawing.labels) <= MOST_LABELS
        for label in drawing.labels:
            size = label.box.width * label.box.height
            assert label.box.overlap(drawing.frame) == pytest.approx(size)
            others = [o for o in drawing.labels if o is not label]
            assert sum(label.box.overlap(o.box) for o in others) < 0.02 * size


@pytest.mark.parametrize("scene", BOTH)
def test_the_shown_part_lies_in_the_picture_and_holds_the_golfer_and_the_ball(scene: str) -> None:
    for view, drawing in drawn(scene).items():
        picture, frame = assessment(scene).pictures[view], drawing.frame
        assert frame.x >= 0
        assert frame.y >= 0
        assert frame.x + frame.width <= picture.sighting.picture.width_px
        assert frame.y + frame.height <= picture.sighting.picture.height_px
        seen = picture.project(np.array(list(assessment(scene).points.values())))
        assert frame.contains(seen).all()


def test_the_first_change_is_what_the_pictures_stress_first() -> None:
    found = assessment(LEFT)
    order = emphasis(found)
    assert len(order) == len(set(order))
    if found.advice.first is not None:
        assert order[0] == found.advice.first.measure
