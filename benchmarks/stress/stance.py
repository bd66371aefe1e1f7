"""Standing the skeleton to the ball.

World frame: origin under the ball, x to the target, y from the ball to the golfer, z up.
The golfer is right-handed; left-handers are mirrored at the end.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, radians, sin
from typing import Final

import numpy as np
from attrs import evolve, field, frozen
from scipy.optimize import least_squares

from benchmarks.stress.person import Person, mass_points
from benchmarks.stress.solids import Array, unit

SPINE: Final = (-0.030, 0.0, 0.040, 0.088, 0.130, 0.202, 0.262, 0.312)
"""Places along the spine's middle line, share of the trunk's length: seat, hips, S1, L3,
T12, T8, T4, C7."""

CLUBS: Final[Mapping[str, tuple[float, float, float]]] = {
    "driver": (1.145, 57.0, 0.052),
    "fairway_wood": (1.075, 57.5, 0.040),
    "long_iron": (0.995, 60.0, 0.036),
    "mid_iron": (0.940, 62.5, 0.036),
    "short_iron": (0.905, 63.5, 0.036),
    "wedge": (0.885, 64.0, 0.036),
    "putter": (0.860, 71.0, 0.012),
}
"""Length (metre) and lie (degree) of ordinary clubs, and how far behind the ball's middle
line the shaft's end stands."""

SHAFT_END_X: Final = -0.0353
HEEL_TO_ANKLE: Final = 0.23
GRIP_MID: Final = 0.118
WRISTS: Final = {"lead": 0.022, "trail": 0.095}
WRIST_OFF: Final = 0.083
"""Place of the shaft's end along the target line; place of the ankle, share of a shoe's length;
metres from the butt to the middle of both hands, to each wrist along the shaft, and from the
shaft to a wrist."""


@frozen(kw_only=True)
class Aim:
    """What the set-up should be like. Degrees, metres and shares."""

    club: str
    stance: float
    ball: float
    flare: tuple[float, float]
    foot_line: float
    knee: float
    bend: float
    low_curve: float
    upper_curve: float
    hang: float
    shaft: float
    balance: float
    shift: float
    side_bend: float
    shoulder_tilt: float
    hip_turn: float
    shoulder_turn: float
    elbows: tuple[float, float]
    hands: float
    gaze: float


@frozen(kw_only=True, eq=False)
class Skeleton:
    """Joints and frames, world, metre."""

    points: Mapping[str, Array]
    spine: Array
    lateral: Array
    forward: Array
    head_axes: Array
    toes: Mapping[str, Array] = field(factory=dict)
    club_length: float = 0.0

    def __getitem__(self, name: str) -> Array:
        return self.points[name]

    def moved(self, by: Array) -> Skeleton:
        """The skeleton elsewhere."""
        points = {name: point + by for name, point in self.points.items()}
        return evolve(self, points=points, spine=self.spine + by)


def draw_aim(random: np.random.Generator, /, *, club: str) -> Aim:
    """A random set-up, faults included."""
    wide = {"driver": 0.46, "fairway_wood": 0.42, "wedge": 0.30, "putter": 0.31}.get(club, 0.36)
    ball = {"driver": 86.0, "fairway_wood": 74.0, "putter": 58.0}.get(club, 58.0)
    normal = random.normal
    return Aim(
        club=club,
        stance=float(np.clip(normal(wide, 0.05), 0.2, 0.62)),
        ball=float(normal(ball, 8.0)),
        flare=(float(normal(16, 8)), float(normal(6, 7))),
        foot_line=float(normal(0, 2.5)),
        knee=float(np.clip(normal(20, 5), 8, 34)),
        bend=float(normal({"driver": 29.0, "fairway_wood": 31.0}.get(club, 34.0), 4)),
        low_curve=float(normal(9, 6)),
        upper_curve=float(np.clip(normal(22, 7), 6, 42)),
        hang=float(normal(5, 4)),
        shaft=CLUBS[club][1] + float(normal(-2, 3)),
        balance=float(normal(53, 7)),
        shift=float(normal(0.0, 0.012)),
        side_bend=float(normal(5, 3)),
        shoulder_tilt=float(normal(4, 2)),
        hip_turn=float(normal(0, 4)),
        shoulder_turn=float(normal(0, 4)),
        elbows=(float(random.uniform(4, 14)), float(random.uniform(10, 24))),
        hands=float(normal(0.025, 0.015)),
        gaze=float(random.uniform(38, 56)),
    )


def two_bones(start: Array, end: Array, *, lengths: tuple[float, float], pole: Array) -> Array:
    """The joint between two bones, on the side of ``pole``; straight where out of reach."""
    first, second = lengths
    way = end - start
    far = float(np.linalg.norm(way))
    reach = min(far, 0.9995 * (first + second))
    along = (first**2 - second**2 + reach**2) / (2 * reach)
    off = np.sqrt(max(first**2 - along**2, 0.0))
    axis = way / far
    side = unit(pole - (pole @ axis) * axis)
    return np.asarray(start + along * axis * (far / reach) + off * side)


def _turned(angle_deg: float) -> Array:
    """Rotation about z."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def _tilted(angle_deg: float) -> Array:
    """Rotation about y; + takes the top away from the target."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    return np.array([[c, 0.0, -s], [0.0, 1.0, 0.0], [s, 0.0, c]])


def _trunk(person: Person, aim: Aim, *, bend: float) -> tuple[Array, Array, Array]:
    """Spine and its lateral and forward axes, from the middle of the hips."""
    # the bend is read at the nape, behind the spine's middle line: 8 degrees less
    thoracic = bend - 0.45 * aim.upper_curve + 10.0
    lumbar = thoracic + 2.0
    pelvic = lumbar + aim.low_curve
    places = np.array(SPINE)
    leans = np.interp(
        (places[:-1] + places[1:]) / 2,
        [0.0, 0.064, 0.109, 0.166, 0.257],
        [pelvic - 4, pelvic, lumbar, thoracic, thoracic + aim.upper_curve],
    )
    steps = np.diff(places)[:, None] * person.trunk
    up = np.column_stack([0 * leans, -np.sin(np.radians(leans)), np.cos(np.radians(leans))])
    line = np.vstack([np.zeros(3), np.cumsum(steps * up, axis=0)])
    line -= line[1]
    middle = np.concatenate([leans[:1], (leans[:-1] + leans[1:]) / 2, leans[-1:]])
    forward = np.column_stack(
        [0 * middle, -np.cos(np.radians(middle)), -np.sin(np.radians(middle))]
    )
    lateral = np.tile([1.0, 0.0, 0.0], (len(line), 1))
    for i, share in enumerate(np.clip(places / places[-1], 0, 1)):
        rotation = _turned(aim.hip_turn * (1 - share) + aim.shoulder_turn * share)
        rotation = rotation @ _tilted(aim.side_bend)
        for rows in (line, forward, lateral):
            rows[i] = rotation @ rows[i]
    return line, lateral, forward


def _head(person: Person, aim: Aim, *, spine: tuple[Array, Array, Array]) -> tuple[Array, Array]:
    """Middle of the head, and its axes: to the lead side, forward, up."""
    line, lateral, forward = spine
    up_neck = unit(line[-1] - line[-2])
    down = radians(aim.gaze)
    size = person.head * (0.5 * person.stature + 0.9)
    plan = unit(np.array([forward[-1][0], forward[-1][1], 0.0]))
    look = cos(down) * plan - sin(down) * np.array([0.0, 0.0, 1.0])
    side = unit(lateral[-1] - (lateral[-1] @ look) * look)
    top = np.cross(side, look) * np.sign(np.cross(side, look)[2])
    middle = line[-1] + 0.118 * size / 1.8 * up_neck + 0.050 * size / 1.8 * look
    middle = middle + 0.035 * size / 1.8 * top
    return np.asarray(middle), np.array([side, look, top])


def _shoulders(
    person: Person, spine: tuple[Array, Array, Array], *, tilt: float
) -> dict[str, Array]:
    line, lateral, forward = spine
    fall = radians(tilt)
    centre = line[6] - 0.004 * person.stature * unit(line[7] - line[6])
    centre = centre + 0.012 * person.stature * forward[6]
    out = cos(fall) * lateral[6] + sin(fall) * np.array([0.0, 0.0, 1.0])
    reach = 0.022 * person.stature * forward[6]
    fell = np.array([0.0, 0.0, -person.shoulder_fall])
    return {
        "lead_shoulder": centre + person.shoulder_half * out + reach + fell,
        "trail_shoulder": centre - person.shoulder_half * out + 1.4 * reach + fell,
    }


def _feet(person: Person, aim: Aim) -> tuple[dict[str, Array], dict[str, Array]]:
    """Ankles around x of the ball, toes at y = 0 for the moment, and where the toes point."""
    points, toes = {}, {}
    for side, flare, x in (
        ("lead", aim.flare[0], (1 - aim.ball / 100) * aim.stance),
        ("trail", -aim.flare[1], -aim.ball / 100 * aim.stance),
    ):
        toes[side] = np.array([sin(radians(flare)), -cos(radians(flare)), 0.0])
        open_by = aim.stance * np.tan(radians(aim.foot_line)) * (0.5 if side == "lead" else -0.5)
        ankle = np.array([x, open_by, person.ankle_height])
        points[f"{side}_ankle"] = ankle - (1 - HEEL_TO_ANKLE) * person.shoe * np.array(
            [0.0, toes[side][1], 0.0]
        )
    return points, toes


def _legs(person: Person, aim: Aim, *, knee: float, hips_y: float) -> dict[str, Array]:
    points, toes = _feet(person, aim)
    ankles = (points["lead_ankle"] + points["trail_ankle"]) / 2
    reach2 = person.thigh**2 + person.shank**2
    reach2 += 2 * person.thigh * person.shank * cos(radians(knee))
    splay = max(aim.stance / 2 - person.hip_half, 0.0)
    height = np.sqrt(reach2 - hips_y**2 - splay**2)
    hips = np.array([ankles[0] + aim.shift, ankles[1] + hips_y, person.ankle_height + height])
    out = _turned(aim.hip_turn) @ np.array([person.hip_half, 0.0, 0.0])
    points |= {"mid_hip": hips, "lead_hip": hips + out, "trail_hip": hips - out}
    for side in ("lead", "trail"):
        pole = unit(0.45 * toes[side] + 0.55 * np.array([0.0, -1.0, 0.0]))
        points[f"{side}_knee"] = two_bones(
            points[f"{side}_hip"],
            points[f"{side}_ankle"],
            lengths=(person.thigh, person.shank),
            pole=pole,
        )
    return points


def _club(aim: Aim, points: dict[str, Array], *, hang: float, reach: float, length: float) -> None:
    """Hands below the shoulders, and the shaft from there to the ground."""
    middle = (points["lead_shoulder"] + points["trail_shoulder"]) / 2
    grip = middle + reach * np.array([0.0, -sin(radians(hang)), -cos(radians(hang))])
    grip[0] = (points["lead_ankle"][0] + points["trail_ankle"][0]) / 2 + aim.hands
    sideways = (grip[0] - SHAFT_END_X) / grip[2]
    butt_height = grip[2] * length / (length - GRIP_MID)
    flat = np.sqrt(max(length**2 - butt_height**2 * (1 + sideways**2), 1e-4))
    down = np.array([-butt_height * sideways, -flat, -butt_height]) / length
    points["grip_mid"] = grip
    points["grip_end"] = grip - GRIP_MID * down
    points["shaft_end"] = points["grip_end"] + length * down


def _arms(person: Person, points: dict[str, Array]) -> None:
    shaft = unit(points["shaft_end"] - points["grip_end"])
    for side, sign in (("lead", 1.0), ("trail", -1.0)):
        shoulder = points[f"{side}_shoulder"]
        on_shaft = points["grip_end"] + WRISTS[side] * shaft
        # palms face each other, so the wrists stand over the grip, not beside it
        off = np.array([0.13 * sign, 0.35, 1.0])
        wrist = on_shaft + WRIST_OFF * unit(off - (off @ shaft) * shaft)
        points[f"{side}_wrist"] = wrist
        points[f"{side}_elbow"] = two_bones(
            shoulder,
            wrist,
            lengths=(person.upper_arm, person.forearm),
            pole=np.array([0.8 * sign, 0.7, -0.2]),
        )


def _built(person: Person, aim: Aim, *, unknown: Array) -> Skeleton:
    """The skeleton for given knee flex, bend, hang, reach, place of the hips and shoulder tilt."""
    knee, bend, hang, reach, hips_y, tilt = unknown
    points = _legs(person, aim, knee=knee, hips_y=hips_y)
    line, lateral, forward = _trunk(person, aim, bend=bend)
    line = line + points["mid_hip"]
    spine = (line, lateral, forward)
    points |= _shoulders(person, spine, tilt=tilt)
    points["head"], head_axes = _head(person, aim, spine=spine)
    length = CLUBS[aim.club][0] * (1.0 + 0.2 * (person.stature / 1.75 - 1.0))
    _club(aim, points, hang=hang, reach=reach, length=length)
    _arms(person, points)
    return Skeleton(
        points=points,
        spine=line,
        lateral=lateral,
        forward=forward,
        head_axes=head_axes,
        toes=_feet(person, aim)[1],
        club_length=length,
    )


def _bend(skeleton: Skeleton, side: str, *joints: str) -> float:
    a, b, c = (skeleton[f"{side}_{joint}"] for joint in joints)
    return float(np.degrees(np.arccos(np.clip(unit(b - a) @ unit(c - b), -1, 1))))


def _balance(person: Person, skeleton: Skeleton) -> float:
    """Place of the lumped masses along the feet, heel 0 to toe 100."""
    s, shares = skeleton, mass_points(person)
    at = [s["head"], s.spine[1], s.spine[3], s.spine[5] + 0.03 * s.forward[5]]
    masses = list(shares[:4])
    for side in ("lead", "trail"):
        for share, upper, lower in zip(
            shares[4:],
            ("shoulder", "elbow", "hip", "knee"),
            ("elbow", "wrist", "knee", "ankle"),
            strict=True,
        ):
            at.append(0.56 * s[f"{side}_{upper}"] + 0.44 * s[f"{side}_{lower}"])
            masses.append(share)
    centre = np.average(at, axis=0, weights=masses)[1]
    ankle = (s["lead_ankle"][1] + s["trail_ankle"][1]) / 2
    heel = ankle + HEEL_TO_ANKLE * person.shoe
    return float(100 * (heel - centre) / person.shoe)


def stand(person: Person, aim: Aim) -> Skeleton:
    """The skeleton that comes nearest to what was aimed at, ball at the origin."""

    def residuals(unknown: Array) -> Array:
        s = _built(person, aim, unknown=unknown)
        shaft = unit(s["grip_end"] - s["shaft_end"])
        over = [
            max(
                float(np.linalg.norm(s[f"{k}_wrist"] - s[f"{k}_shoulder"]))
                - 0.998 * (person.upper_arm + person.forearm),
                0.0,
            )
            for k in ("lead", "trail")
        ]
        lean = np.degrees(np.arctan2(shaft[2], shaft[1]))
        elbows = [_bend(s, k, "shoulder", "elbow", "wrist") for k in ("lead", "trail")]
        return np.array(
            [
                (unknown[0] - aim.knee) / 4,
                (unknown[1] - aim.bend) / 4,
                (unknown[2] - aim.hang) / 3,
                (lean - aim.shaft) / 1.2,
                (unknown[5] - aim.shoulder_tilt) / 2.5,
                (_balance(person, s) - aim.balance) / 2,
                (elbows[0] - aim.elbows[0]) / 5,
                (elbows[1] - aim.elbows[1]) / 8,
                *(1000 * np.array(over)),
            ]
        )

    reach = person.upper_arm + person.forearm
    start = np.array([aim.knee, aim.bend, aim.hang, reach, 0.1, aim.shoulder_tilt])
    solved = least_squares(
        residuals,
        start,
        bounds=([2, 10, -15, 0.5 * reach, -0.2, -5], [50, 65, 35, 1.3 * reach, 0.35, 20]),
        x_scale=[5, 5, 5, 0.05, 0.05, 5],
    )
    skeleton = _built(person, aim, unknown=solved.x)
    behind = CLUBS[aim.club][2]
    return skeleton.moved(np.array([0.0, behind - skeleton["shaft_end"][1], 0.0]))
