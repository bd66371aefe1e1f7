"""Posing a figure: bones turned one by one, the skin following.

World frame for a posed golfer: X toward the target, Y from the ball to the golfer, Z up;
a golfer who faces the ball has the model's axes.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from attrs import field, frozen

from training.bodies.store import Array
from training.golfers.figure import Figure, blend
from training.golfers.hands import finger_turns, hand_of, relaxed_turns
from training.golfers.turning import (
    about,
    about_x,
    about_y,
    about_z,
    frame,
    length,
    twist_about,
    unit,
)

SOLE_M = 0.022
"""Thickness of a shoe's sole under the bare foot; chosen, middle of golf shoes."""

NECK = {"neck01": 0.30, "neck02": 0.25, "neck03": 0.20, "head": 0.25}


@frozen(kw_only=True, eq=False)
class Pose:
    """A posed figure.

    Parameters
    ----------
    figure : Figure
    R : (J, 3, 3) array
        Turn of each bone from rest.
    P : (J, 3) array, metre
        Where each bone begins.
    """

    figure: Figure = field(repr=False)
    R: Array = field(repr=False)
    P: Array = field(repr=False)

    def joint(self, bone: str) -> Array:
        """(3,) where a bone begins."""
        return np.asarray(self.P[self.figure.index[bone]], dtype=np.float64)

    def turn(self, bone: str) -> Array:
        """(3, 3) turn of a bone from rest."""
        return np.asarray(self.R[self.figure.index[bone]], dtype=np.float64)

    @cached_property
    def vertices(self) -> Array:
        """(V, 3) all vertices, metre."""
        return blend(self.figure, A=self.R, heads=self.P)

    def place(self, name: str) -> Array:
        """(3,) a named place of the skin."""
        return self.figure.places[name].of(self.vertices)

    @property
    def centre_of_mass(self) -> Array:
        """(3,) centre of mass, metre."""
        shift = self.P - np.einsum("jab,jb->ja", self.R, self.figure.heads)
        return self.figure.mass.centre(self.R, shift)

    def moved(self, *, turn: Array | None = None, shift: Array | None = None) -> Pose:
        """The whole body turned about the origin, then shifted."""
        Q = np.eye(3) if turn is None else turn
        s = np.zeros(3) if shift is None else shift
        return Pose(figure=self.figure, R=Q @ self.R, P=self.P @ Q.T + s)


@frozen(kw_only=True)
class Trunk:
    """How pelvis, spine, neck and shoulders are bent; angles in radians.

    Parameters
    ----------
    pitch : float
        Pelvis forward.
    yaw : float
        Pelvis open: lead side back.
    side_low, side_high : float
        Side bend of the lower and the upper spine, away from the target.
    twist : float
        Shoulders against pelvis, open.
    round_upper, arch_lower : float
        More bend forward of the upper back, less of the lower, than the model's rest.
    head_down, head_turn : float
        The head against the trunk.
    shoulder_drop, shoulders_forward : float
        Collar-bones: trail side lower, both forward.
    """

    pitch: float = 0.0
    yaw: float = 0.0
    side_low: float = 0.0
    side_high: float = 0.0
    twist: float = 0.0
    round_upper: float = 0.0
    arch_lower: float = 0.0
    head_down: float = 0.0
    head_turn: float = 0.0
    shoulder_drop: float = 0.0
    shoulders_forward: float = 0.0


@frozen(kw_only=True, eq=False)
class Foot:
    """Where an ankle is, metre, and how the foot is turned from rest."""

    ankle: Array
    R: Array


class Posture:
    """A pose while it is being made: trunk first, then legs, then arms."""

    def __init__(self, figure: Figure, *, trunk: Trunk, pelvis: Array) -> None:
        self.figure = figure
        self.root_R = about_z(trunk.yaw) @ about_x(trunk.pitch)
        self.root_t = np.asarray(pelvis, dtype=np.float64)
        self.local = _trunk_turns(trunk)
        self.world = {f"pelvis.{side}": self.root_R for side in "LR"}

    def hip(self, side: str) -> Array:
        """(3,) centre of a hip joint."""
        rest = self.figure.head(f"upperleg01.{side}") - self.figure.head("root")
        return np.asarray(self.root_t + self.root_R @ rest, dtype=np.float64)

    def leg(self, side: str, foot: Foot, *, knee_toward: Array) -> Array:
        """Reach the ankle with a leg, the knee pointing some way; returns the knee."""
        H = self.figure.head
        knee, ankle, hip = H(f"lowerleg01.{side}"), H(f"foot.{side}"), H(f"upperleg01.{side}")
        lengths = length(knee - hip), length(ankle - knee)
        here = self.hip(side)
        bent = two_bones(here, foot.ankle, lengths=lengths, toward=knee_toward)
        front = np.array([0, -1.0, 0])
        thigh = frame(bent - here, knee_toward) @ frame(knee - hip, front).T
        shank = frame(foot.ankle - bent, knee_toward) @ frame(ankle - knee, front).T
        self.world |= {
            f"upperleg01.{side}": thigh,
            f"lowerleg01.{side}": shank,
            f"foot.{side}": foot.R,
        }
        return bent

    def arm(
        self, side: str, wrist: Array, *, body: Pose, hand: Array | None, elbow_toward: Array
    ) -> None:
        """Reach a wrist with an arm.

        Parameters
        ----------
        side : str
        wrist : (3,) array, metre
        body : Pose
            The trunk as it stands now, from `settle`.
        hand : (3, 3) array or None
            Turn of the hand from rest; ``None`` lets it follow the forearm.
        elbow_toward : (3,) array
        """
        H = self.figure.head
        names = [f"{name}.{side}" for name in ("upperarm01", "lowerarm01", "wrist")]
        s0, e0, w0 = (H(name) for name in names)
        shoulder = body.joint(names[0])
        lengths = length(e0 - s0), length(w0 - e0)
        elbow = two_bones(shoulder, wrist, lengths=lengths, toward=elbow_toward)
        upper, fore = elbow - shoulder, wrist - elbow
        hinge = np.cross(unit(upper), unit(fore))
        if np.linalg.norm(hinge) <= 0.05:  # too straight for the bend to tell
            hinge = -np.cross(unit(wrist - shoulder), unit(elbow_toward))
        hinge_rest = np.cross(e0 - s0, w0 - e0)
        R_upper = frame(upper, hinge) @ frame(e0 - s0, hinge_rest).T
        R_fore = frame(fore, hinge) @ frame(w0 - e0, hinge_rest).T
        R_hand = R_fore if hand is None else hand
        # The joint takes the swing and half the twist; the other half spreads along the arm.
        twist = twist_about(R_upper @ body.turn(f"shoulder01.{side}").T, unit(upper))
        roll = twist_about(R_hand @ R_fore.T, unit(fore))
        self.world |= {
            names[0]: about(upper, -0.5 * twist) @ R_upper,
            f"upperarm02.{side}": R_upper,
            names[1]: R_fore,
            f"lowerarm02.{side}": about(fore, 0.55 * roll) @ R_fore,
            names[2]: R_hand,
        }

    def grip(self, side: str, *, gripping: bool, ease: float = 1.0) -> None:
        """Close the fingers round a handle, or let them hang."""
        hand = hand_of(self.figure, side)
        turns = finger_turns(self.figure, hand, ease=ease) if gripping else relaxed_turns(hand)
        self.local |= turns

    def settle(self, bones: Sequence[int] | None = None) -> Pose:
        """Turn all bones (or only some, in the rig's order), and say where they are."""
        figure = self.figure
        count = len(figure.heads)
        R, P = np.tile(np.eye(3), (count, 1, 1)), np.zeros((count, 3))
        names, parents, heads = figure.rig.bones, figure.rig.parents, figure.heads
        for i in range(count) if bones is None else bones:
            name, parent = names[i], parents[i]
            if parent < 0:
                R[i], P[i] = self.root_R, self.root_t
                continue
            P[i] = P[parent] + R[parent] @ (heads[i] - heads[parent])
            if name in self.world:
                R[i] = self.world[name]
            elif name in self.local:
                R[i] = R[parent] @ self.local[name]
            else:
                R[i] = R[parent]
        return Pose(figure=figure, R=R, P=P)


def _trunk_turns(t: Trunk) -> dict[str, Array]:
    def vertebra(flex: float, side: float, *, twist: float = 0) -> Array:
        return about_x(flex) @ about_y(-side) @ about_z(twist)

    low = np.radians(5) - t.arch_lower  # the model's rest is a little too hollow to stand in
    turns = {
        "spine05": vertebra(0.2 * low, 0.25 * t.side_low),
        "spine04": vertebra(0.4 * low, 0.40 * t.side_low, twist=0.1 * t.twist),
        "spine03": vertebra(0.4 * low, 0.35 * t.side_low, twist=0.2 * t.twist),
        "spine02": vertebra(0.42 * t.round_upper, 0.5 * t.side_high, twist=0.35 * t.twist),
        "spine01": vertebra(0.58 * t.round_upper, 0.5 * t.side_high, twist=0.35 * t.twist),
    }
    nod = t.head_down - 0.35 * t.round_upper
    side = 0.6 * (t.side_low + t.side_high)
    for name, share in NECK.items():
        turns[name] = about_x(share * nod) @ about_z(share * t.head_turn) @ about_y(share * side)
    drop, forward = t.shoulder_drop, t.shoulders_forward
    turns["clavicle.L"] = about_y(-drop + np.radians(4)) @ about_z(-forward)
    turns["clavicle.R"] = about_y(-drop - np.radians(4)) @ about_z(forward)
    return turns


def two_bones(start: Array, end: Array, *, lengths: tuple[float, float], toward: Array) -> Array:
    """The middle joint of two bones that reach from start to end, bent some way.

    Too far an end is met as nearly as the bones allow.
    """
    first, second = lengths
    reach = length(end - start)
    along = (end - start) / reach
    d = min(reach, (first + second) * 0.9995)
    # law of cosines
    angle = np.arccos(np.clip((first**2 + d**2 - second**2) / (2 * first * d), -1, 1))
    out = unit(toward - along * (toward @ along))
    return np.asarray(start + first * (np.cos(angle) * along + np.sin(angle) * out))


def flat_foot(figure: Figure, side: str, *, at: Array, flare: float, heel_up: float = 0) -> Foot:
    """A foot on the ground.

    Parameters
    ----------
    figure : Figure
    side : str
    at : (2,) or (3,) array, metre
        Where the ankle stands on the ground, were the heel down.
    flare : float
        How far the line from heel to toe turns outward from −Y, radian.
    heel_up : float
        How far the heel is lifted about the ball of the foot, radian.
    """
    sign = 1 if side == "L" else -1
    V, places = figure.vertices, figure.places
    rest = places[f"toe.{side}"].of(V) - places[f"heel.{side}"].of(V)
    R = about_z(sign * flare - np.arctan2(rest[0], -rest[1]))
    height = figure.head(f"foot.{side}")[2] - figure.floor + SOLE_M
    ankle = np.array([at[0], at[1], height])
    if heel_up:
        ball = figure.head(f"toe3-1.{side}") - figure.head(f"foot.{side}")
        pivot = ankle + R @ ball
        pivot[2] = SOLE_M
        lift = about(R @ np.array([1.0, 0, 0]), heel_up)
        ankle, R = pivot + lift @ (ankle - pivot), lift @ R
    return Foot(ankle=ankle, R=R)
