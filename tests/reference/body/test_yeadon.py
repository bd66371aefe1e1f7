"""The centre of mass of a bent body against an independent inertia library.

`yeadon` (Dembia, Moore & Hubbard 2014, F1000Research 3:223, doi
10.12688/f1000research.5292.2) models a body as 39 solids of measured girths (Yeadon 1990,
J Biomech 23:67-74). It shares nothing with our mass tables: volumes and densities on one
side, scanned or weighed segments on the other. We give both the same joint positions, those
which the library itself reports for the posture.

The measurements are our own, of an average man of 1.76 m: lengths as the survey of body
dimensions has them, girths such that the library finds about 81 kg.

Tolerances were set after the differences had been seen, as round numbers above them; these are
the differences and what they come from. With one set of measurements the library's own three
sets of tissue densities put the centre up to 1.6 cm apart along the trunk, and our two mass
tables lie as far apart. Along the trunk de Leva's table comes out 1.4 to 2.8 cm higher and
Dempster-Winter's 3.1 to 4.1 cm: the solids put the trunk's own centre 4 cm lower between hips
and neck, and make shank and foot 0.9 % of the body heavier than de Leva's. Tolerance 4 cm, and
5.5 cm for Dempster-Winter. Across the trunk, which is what heel-to-toe balance rests on, the
largest difference is 1.6 cm: tolerance 2 cm, 7 % of a foot. Half or more of it is rounding: a
table takes the trunk as one straight segment from neck to hips, which lies in front of a
rounded back. With a straight back the shift forward agrees to 0.7 cm: tolerance 1 cm.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import pytest
from numpy.typing import NDArray
from yeadon.human import Human

from wellset.body import ANSUR_MEN, Sex, mass_model

Points = dict[str, NDArray[np.float64]]

ALONG: Final = 0.04
ACROSS: Final = 0.02
SHIFT_STRAIGHT: Final = 0.01

# Metres, by the library's names. p: girth, w: width, d: depth, L: distance from the joint above.
_TORSO: Final = {
    "Ls1L": 0.18, "Ls2L": 0.30, "Ls3L": 0.41, "Ls4L": 0.485, "Ls5L": 0.525,
    "Ls6L": 0.15, "Ls7L": 0.21, "Ls8L": 0.315,
    "Ls0p": 0.99, "Ls1p": 0.92, "Ls2p": 0.90, "Ls3p": 0.98, "Ls5p": 0.40, "Ls6p": 0.48,
    "Ls7p": 0.57, "Ls0w": 0.35, "Ls1w": 0.32, "Ls2w": 0.31, "Ls3w": 0.34, "Ls4w": 0.37,
    "Ls4d": 0.17,
}  # fmt: skip
_ARM: Final = {
    "2L": 0.295, "3L": 0.36, "4L": 0.557, "5L": 0.03, "6L": 0.095, "7L": 0.18,
    "0p": 0.38, "1p": 0.33, "2p": 0.28, "3p": 0.285, "4p": 0.175, "5p": 0.25, "6p": 0.21,
    "7p": 0.16, "4w": 0.06, "5w": 0.09, "6w": 0.085, "7w": 0.07,
}  # fmt: skip
_LEG: Final = {
    "1L": 0.07, "3L": 0.419, "4L": 0.55, "5L": 0.843, "6L": 0.07, "8L": 0.15, "9L": 0.21,
    "1p": 0.62, "2p": 0.54, "3p": 0.39, "4p": 0.385, "5p": 0.235, "6p": 0.33, "7p": 0.26,
    "8p": 0.25, "9p": 0.20, "8w": 0.10, "9w": 0.09, "6d": 0.12,
}  # fmt: skip

# Degrees: whole body forward, hip flexed, knee flexed, upper back rounded.
_UPRIGHT: Final = (0.0, 0.0, 0.0, 0.0)
_DRIVER: Final = (20.0, 38.0, 20.0, 4.0)
_IRON: Final = (32.0, 52.0, 22.0, 6.0)
_PUTTER: Final = (40.0, 55.0, 15.0, 10.0)


def _man() -> Human:
    measured = dict(_TORSO)
    for prefix, limb in (("La", _ARM), ("Lb", _ARM), ("Lj", _LEG), ("Lk", _LEG)):
        measured |= {prefix + name: value for name, value in limb.items()}
    return Human(measured, density_set="Dempster")


def _bent(posture: tuple[float, float, float, float]) -> Human:
    bend, hip, knee, back = (math.radians(angle) for angle in posture)
    # The arms hang: turned back by whatever the trunk is bent.
    arms = -(bend + 2 * back)
    angles = {
        "somersault": bend,
        "PTsagittalFlexion": back,
        "TCsagittalSpinalFlexion": back,
        "PJ1extension": -hip,
        "PK1extension": -hip,
        "J1J2flexion": knee,
        "K1K2flexion": knee,
        "CA1extension": arms,
        "CB1extension": arms,
    }
    human = _man()
    human.set_CFG_dict({name: angles.get(name, 0.0) for name in Human.CFGnames})
    return human


def _points(human: Human) -> Points:
    """Joint positions as the library reports them; limbs are built downward, so ``pos`` of a
    solid is its lower end."""

    def at(value: object) -> NDArray[np.float64]:
        return np.asarray(value, dtype=np.float64).ravel()

    points: Points = {}
    for side, arm, hand, thigh, shank in (
        ("lead", human.A1, human.A2, human.J1, human.J2),
        ("trail", human.B1, human.B2, human.K1, human.K2),
    ):
        points |= {
            f"{side}_shoulder": at(arm.pos),
            f"{side}_elbow": at(hand.pos),
            f"{side}_wrist": at(hand.solids[1].pos),
            f"{side}_knuckle": at(hand.solids[3].pos),
            f"{side}_hip": at(thigh.pos),
            f"{side}_knee": at(shank.pos),
            f"{side}_ankle": at(shank.solids[1].pos),
            f"{side}_heel": at(shank.solids[2].pos),
            f"{side}_foot_ball": at(shank.solids[4].pos),
            f"{side}_toe": at(shank.end_pos),
        }
    up = np.asarray(human.C.rot_mat)[:, 2]
    neck = ANSUR_MEN.dimensions["c7_height"].mean - ANSUR_MEN.dimensions["acromial_height"].mean
    points["mid_hip"] = (points["lead_hip"] + points["trail_hip"]) / 2
    points["mid_shoulder"] = (points["lead_shoulder"] + points["trail_shoulder"]) / 2
    points["vertex"] = at(human.C.end_pos)
    points["c7"] = at(human.C.solids[1].end_pos) + neck * up
    # Ear holes 13 cm below the top of the head, from memory.
    points["mid_ear"] = points["vertex"] - 0.13 * up
    return points


def _ours(points: Points, *, edition: str) -> NDArray[np.float64]:
    weights = mass_model(Sex.MEN, edition=edition).point_weights()
    rows = np.array([points[name] for name in weights])
    return np.asarray(np.array(list(weights.values())) @ rows, dtype=np.float64)


def _theirs(human: Human) -> NDArray[np.float64]:
    return np.asarray(human.center_of_mass, dtype=np.float64).ravel()


def test_the_librarys_man_is_an_average_one() -> None:
    human = _man()
    points = _points(human)
    assert 75 < human.mass < 88
    stature = points["vertex"][2] - points["lead_heel"][2]
    assert stature == pytest.approx(ANSUR_MEN.stature.mean, abs=0.01)


def test_the_posture_bends_forward_over_flexed_knees() -> None:
    points = _points(_bent(_IRON))
    trunk = points["c7"] - points["mid_hip"]
    tilt = math.degrees(math.atan2(-trunk[1], trunk[2]))
    assert 32 < tilt < 45
    assert points["lead_knee"][1] < points["lead_hip"][1] - 0.1


@pytest.mark.parametrize(
    "posture", [_UPRIGHT, _DRIVER, _IRON, _PUTTER], ids=["upright", "driver", "iron", "putter"]
)
@pytest.mark.parametrize(
    ("edition", "along"), [("de Leva 1996", ALONG), ("Dempster-Winter", ALONG + 0.015)]
)
def test_both_put_a_bodys_centre_of_mass_in_one_place(
    posture: tuple[float, float, float, float], edition: str, along: float
) -> None:
    human = _bent(posture)
    difference = _ours(_points(human), edition=edition) - _theirs(human)
    assert abs(difference[0]) < 1e-9  # both bodies are symmetric
    assert abs(difference[1]) < ACROSS
    assert abs(difference[2]) < along


@pytest.mark.parametrize("posture", [_DRIVER, _IRON, _PUTTER], ids=["driver", "iron", "putter"])
@pytest.mark.parametrize("straight", [True, False], ids=["straight back", "rounded back"])
def test_both_move_the_centre_forward_alike_when_the_body_bends(
    posture: tuple[float, float, float, float], *, straight: bool
) -> None:
    bend, hip, knee, back = posture
    upright, bent = _bent(_UPRIGHT), _bent((bend, hip, knee, 0.0 if straight else back))
    theirs = _theirs(bent) - _theirs(upright)
    ours = _ours(_points(bent), edition="de Leva 1996") - _ours(
        _points(upright), edition="de Leva 1996"
    )
    # Far enough in front of the hips for the check to have something to see.
    assert theirs[1] < -0.08
    assert ours[1] == pytest.approx(theirs[1], abs=SHIFT_STRAIGHT if straight else ACROSS)
