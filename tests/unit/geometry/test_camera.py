"""The camera: derivatives, conventions, the 35 mm rule."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.derivatives import complex_jacobian, numeric_jacobian
from wellset.geometry import (
    CAMERA_PARAMETERS,
    Camera,
    focal_px_from_35mm,
    project_with_jacobian,
    yaw_pitch_roll,
)

Array = NDArray[np.float64]
LEVEL = np.eye(3)


def camera(**changes: float) -> Camera:
    parameters = dict.fromkeys(CAMERA_PARAMETERS, 0.0)
    parameters |= {"log_focal": float(np.log(1000.0)), "y": -3.0, "z": 1.0} | changes
    return Camera(
        parameters=np.array([parameters[name] for name in CAMERA_PARAMETERS]),
        base=LEVEL,
        width_px=1500,
        height_px=2000,
    )


def test_the_35_mm_equivalent_is_taken_on_the_diagonal() -> None:
    # 26 mm, 2000 x 1500 px: 1502.3 px on the diagonal of 43.267 mm; the 36 mm width would
    # give 1444.4 px (derived from CIPA DC-008, tag 0xA405, and the 36 x 24 mm frame)
    found = focal_px_from_35mm(26.0, width_px=2000, height_px=1500)
    assert found == pytest.approx(1502.3, abs=0.05)
    assert abs(found - 1444.4) > 50


def test_the_35_mm_equivalent_is_the_same_upright_and_lying() -> None:
    lying = focal_px_from_35mm(26.0, width_px=2000, height_px=1500)
    upright = focal_px_from_35mm(26.0, width_px=1500, height_px=2000)
    assert lying == pytest.approx(upright)


def test_a_point_straight_ahead_is_in_the_middle_of_the_picture() -> None:
    np.testing.assert_allclose(camera().project(np.array([[0.0, 0.0, 1.0]])), [[750, 1000]])


def test_pixels_grow_to_the_right_and_downward() -> None:
    # 3 m away, 0.3 m to the right and 0.6 m up with 1000 px: 100 px right, 200 px up
    pixels = camera().project(np.array([[0.3, 0.0, 1.6]]))
    np.testing.assert_allclose(pixels, [[850, 800]])


def test_yaw_turns_the_view_to_its_left_so_things_move_right() -> None:
    pixels = camera(yaw=0.1).project(np.array([[0.0, 0.0, 1.0]]))
    np.testing.assert_allclose(pixels, [[750 + 1000 * np.tan(0.1), 1000]])


def test_pitch_looks_up_so_things_move_down() -> None:
    pixels = camera(pitch=0.1).project(np.array([[0.0, 0.0, 1.0]]))
    np.testing.assert_allclose(pixels, [[750, 1000 + 1000 * np.tan(0.1)]])


def test_roll_tips_the_right_side_of_the_camera_up_so_things_there_move_down() -> None:
    pixels = camera(roll=0.1).project(np.array([[0.3, 0.0, 1.0]]))
    expected = [750 + 100 * np.cos(0.1), 1000 + 100 * np.sin(0.1)]
    np.testing.assert_allclose(pixels, [expected])


def test_a_point_behind_the_camera_has_no_pixel() -> None:
    pixels = camera().project(np.array([[0.0, -4.0, 1.0], [0.0, 0.0, 1.0]]))
    assert np.isnan(pixels[0]).all()
    assert np.isfinite(pixels[1]).all()


def test_depth_is_counted_along_the_line_of_sight() -> None:
    assert float(camera().depth(np.array([[5.0, 1.0, 2.0]]))[0]) == pytest.approx(4.0)


def test_a_turn_is_a_rotation() -> None:
    turn, _ = yaw_pitch_roll(np.array([0.4, -0.3, 0.2]))
    np.testing.assert_allclose(turn @ turn.T, np.eye(3), atol=1e-15)
    assert float(np.linalg.det(turn)) == pytest.approx(1.0)


def test_the_derivatives_of_a_turn_are_exact() -> None:
    angles = np.array([0.4, -0.3, 0.2])
    _, found = yaw_pitch_roll(angles)
    expected = numeric_jacobian(lambda a: yaw_pitch_roll(a)[0], angles, step=1e-3)
    # Richardson leaves about step**4 = 1e-12
    np.testing.assert_allclose(found, np.moveaxis(expected, -1, 0), atol=1e-11)


def pixels_written_out(
    parameters: NDArray[np.complex128], point: NDArray[np.complex128]
) -> NDArray[np.complex128]:
    """The camera again, in the textbook order, free of absolute values."""
    (cy, cp, cr), (sy, sp, sr) = np.cos(parameters[1:4]), np.sin(parameters[1:4])
    offset = point - parameters[4:7]
    # undo yaw about the vertical, pitch about the right axis, roll about the line of sight
    x, y, z = cy * offset[0] + sy * offset[1], -sy * offset[0] + cy * offset[1], offset[2]
    y, z = cp * y + sp * z, -sp * y + cp * z
    x, z = cr * x + sr * z, -sr * x + cr * z
    plane = np.stack([x / y, -z / y])
    radial = 1 + parameters[7] * (plane * plane).sum()
    focal = np.exp(parameters[0])
    shift = parameters[8:10] * np.hypot(1500, 2000)
    pixels: NDArray[np.complex128] = focal * radial * plane + np.array([750, 1000]) + shift
    return pixels


@pytest.mark.parametrize("seed", range(8))
def test_the_jacobians_of_the_projection_are_exact(seed: int) -> None:
    rng = np.random.default_rng(seed)
    small = rng.uniform(-1, 1, 10)
    turned = camera(
        log_focal=7.0 + 0.3 * small[0],
        yaw=0.3 * small[1],
        pitch=0.3 * small[2],
        roll=0.3 * small[3],
        x=0.5 * small[4],
        y=-3 + 0.5 * small[5],
        z=1 + 0.5 * small[6],
        k1=0.1 * small[7],
        centre_x=0.01 * small[8],
        centre_y=0.01 * small[9],
    )
    points = rng.uniform(-0.8, 0.8, (3, 3)) + np.array([0, 0.5, 1])
    pixels, by_point, by_camera = project_with_jacobian(turned, points)
    own = turned.parameters.astype(np.complex128)
    for i, point in enumerate(points):
        np.testing.assert_allclose(
            pixels[i], np.real(pixels_written_out(own, point.astype(np.complex128))), rtol=1e-13
        )

        def by_place(p: NDArray[np.complex128]) -> NDArray[np.complex128]:
            return pixels_written_out(own, p)

        def by_setting(c: NDArray[np.complex128], at: Array = point) -> NDArray[np.complex128]:
            return pixels_written_out(c, at.astype(np.complex128))

        np.testing.assert_allclose(by_point[i], complex_jacobian(by_place, point), atol=1e-9)
        expected = complex_jacobian(by_setting, turned.parameters)
        np.testing.assert_allclose(by_camera[i], expected, rtol=1e-11, atol=1e-8)


def test_a_camera_cannot_be_changed_by_accident() -> None:
    with pytest.raises(ValueError, match="read-only"):
        camera().parameters[0] = 1.0
