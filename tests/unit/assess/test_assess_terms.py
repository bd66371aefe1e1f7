"""Terms of the assessment: residuals by hand and derivatives."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve
from numpy.typing import NDArray

from tests.support.derivatives import numeric_jacobian
from wellset.assess.cameras import BASE
from wellset.assess.observe import whiten
from wellset.assess.terms import (
    CameraSlot,
    OnLineTerm,
    ReprojectionTerm,
    StickTerm,
    UprightTerm,
)
from wellset.estimation import Term
from wellset.figure.views import View

Array = NDArray[np.float64]
RNG = np.random.default_rng(21)
# four points, a camera, a sway, a stick's line and two places on it, one free number
POINTS, CAMERA, SWAY = slice(0, 12), slice(12, 22), slice(22, 24)
LINE, ALONG, FREE, SHARED = slice(24, 27), slice(27, 29), 29, slice(30, 32)
FOOT, HEIGHTS = slice(32, 36), slice(36, 38)
PARAMETERS = np.concatenate(
    [
        RNG.uniform([-0.3, 0.2, 0.1], [0.3, 0.8, 1.6], (4, 3)).ravel(),
        [7.1, 0.05, -0.08, 0.03, 0.2, -2.6, 1.2, 0.02, 0.004, -0.003],
        [0.006, -0.004],
        [0.15, 0.012, 0.006],
        [-0.5, 0.6],
        [0.13],
        [0.7, -1.1],
        [0.1, 0.3, 0.02, -0.01],
        [0.1, 1.3],
    ]
)
SLOT = CameraSlot(block=CAMERA, base=BASE[View.FACE_ON], width_px=1500, height_px=2000)
SHARED_SHIFT = RNG.normal(0, 1, (2, 2, 2))
SPREAD = np.array([[[4.0, 1.0], [1.0, 2.0]], [[9.0, -2.0], [-2.0, 3.0]]])


def reprojection(*, sway: bool) -> ReprojectionTerm:
    return ReprojectionTerm(
        view=View.FACE_ON,
        slot=SLOT,
        points=POINTS,
        which=np.array([3, 1]),
        positions_px=np.array([[700.0, 900.0], [650.0, 1200.0]]),
        whitening=whiten(SPREAD),
        row_shares={"network": np.full(4, 0.3), "gap": np.full(4, 0.7)},
        sway=SWAY if sway else None,
        sway_gain=np.array([-0.5, -0.2]),
        shared=SHARED,
        shared_shift_px=SHARED_SHIFT,
    )


def stick(axis: int) -> StickTerm:
    return StickTerm(
        slot=SLOT,
        axis=axis,
        line=LINE,
        along=ALONG,
        ends_px=np.array([[300.0, 1500.0], [1200.0, 1500.0]]),
        sd_px=0.8,
        source="stick",
    )


ON_LINE = OnLineTerm(
    points=POINTS, butt=0, tip=1, middle=2, along_column=FREE, sd=0.004, source="club"
)
UPRIGHT = UprightTerm(
    slot=SLOT,
    line=FOOT,
    along=HEIGHTS,
    ends_px=np.array([[700.0, 1500.0], [705.0, 400.0]]),
    sd_px=0.8,
    source="stick",
)
TERMS: dict[str, Term] = {
    "landmarks": reprojection(sway=False),
    "landmarks of a swaying golfer": reprojection(sway=True),
    "stick along the target line": stick(0),
    "stick across it": stick(1),
    "upright stick": UPRIGHT,
    "middle of the grip": ON_LINE,
}


@pytest.mark.parametrize("name", TERMS)
def test_the_derivatives_of_a_term_are_exact(name: str) -> None:
    term = TERMS[name]
    _, jacobian = term.linearise(PARAMETERS)
    expected = numeric_jacobian(lambda p: term.linearise(p)[0], PARAMETERS, step=2e-4)
    # residuals are of size 1e3, so that rounding leaves 1e3 * 1e-16 / 2e-4 = 5e-10 and
    # Richardson 1e3 * (2e-4)**4; entries reach 1e3
    np.testing.assert_allclose(jacobian, expected, rtol=1e-7, atol=1e-6)


@pytest.mark.parametrize("name", TERMS)
def test_the_shares_of_a_terms_variance_sum_to_one(name: str) -> None:
    total = np.sum([np.broadcast_to(s, 4) for s in TERMS[name].shares.values()], axis=0)
    np.testing.assert_allclose(total, 1.0)


def test_whitened_errors_have_unit_variance() -> None:
    whitening = whiten(SPREAD)
    np.testing.assert_allclose(
        whitening @ SPREAD @ whitening.transpose(0, 2, 1), np.stack([np.eye(2)] * 2), atol=1e-12
    )


def test_a_landmarks_residual_is_its_distance_in_standard_deviations() -> None:
    # Mahalanobis distance: r' r = e' S^-1 e
    residuals, _ = reprojection(sway=False).linearise(PARAMETERS)
    points = PARAMETERS[POINTS].reshape(-1, 3)[[3, 1]]
    error = SLOT.camera(PARAMETERS).project(points) - [[700.0, 900.0], [650.0, 1200.0]]
    error = error + SHARED_SHIFT @ PARAMETERS[SHARED]
    for i in range(2):
        expected = float(error[i] @ np.linalg.solve(SPREAD[i], error[i]))
        assert float((residuals[2 * i : 2 * i + 2] ** 2).sum()) == pytest.approx(expected)


def test_a_sway_moves_each_point_by_its_share_over_the_ground() -> None:
    swaying, _ = reprojection(sway=True).linearise(PARAMETERS)
    there = PARAMETERS.copy()
    moved = there[POINTS].reshape(-1, 3)
    moved[3, :2] -= 0.5 * PARAMETERS[SWAY]
    moved[1, :2] -= 0.2 * PARAMETERS[SWAY]
    still, _ = reprojection(sway=False).linearise(there)
    np.testing.assert_allclose(swaying, still, atol=1e-9)


@pytest.mark.parametrize("axis", [0, 1])
def test_a_stick_seen_where_it_lies_has_no_residual(axis: int) -> None:
    offset, slope, height = PARAMETERS[LINE]
    world = np.full((2, 3), height)
    along = PARAMETERS[ALONG]
    # both sticks of a T turn together: the slope is counter-clockwise seen from above
    direction = np.array([[1.0, slope], [-slope, 1.0]])[axis]
    start = np.array([[0.0, offset], [offset, 0.0]])[axis]
    world[:, :2] = start + along[:, None] * direction
    seen = SLOT.camera(PARAMETERS).project(world)
    found = StickTerm(
        slot=SLOT,
        axis=axis,
        line=LINE,
        along=ALONG,
        ends_px=seen + np.array([[0.0, 0.8], [0.0, 0.0]]),
        sd_px=0.8,
        source="stick",
    ).linearise(PARAMETERS)[0]
    np.testing.assert_allclose(found, [0, -1, 0, 0], atol=1e-9)


def test_the_middle_of_the_grip_lies_along_the_shaft() -> None:
    at = np.zeros(38)
    at[POINTS] = np.array([[0, 0.4, 0.8], [0, 0, 0], [0, 0.3, 0.6], [0, 0, 0]]).ravel()
    at[FREE] = 0.25
    np.testing.assert_allclose(ON_LINE.linearise(at)[0], 0, atol=1e-12)
    at[6] += 0.004  # the middle, one standard deviation to the target
    np.testing.assert_allclose(ON_LINE.linearise(at)[0], [1, 0, 0], atol=1e-12)


def test_an_upright_stick_seen_where_it_stands_has_no_residual() -> None:
    foot, lean = PARAMETERS[FOOT][:2], PARAMETERS[FOOT][2:]
    heights = PARAMETERS[HEIGHTS]
    world = np.array([[*(foot + h * lean), h] for h in heights])
    seen = SLOT.camera(PARAMETERS).project(world)
    found = evolve(UPRIGHT, ends_px=seen + np.array([[0.8, 0.0], [0.0, 0.0]])).linearise(
        PARAMETERS
    )[0]
    np.testing.assert_allclose(found, [-1, 0, 0, 0], atol=1e-9)
