"""A posed body as a tailor sees it: where on arm, leg and trunk each bit of skin lies."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from attrs import field, frozen

from training.bodies.store import Array, Indices
from training.golfers.bones import SIDES, arm_bones, foot_bones
from training.golfers.clothes.outfit import Outfit
from training.golfers.figure import Figure
from training.golfers.pose import Pose
from training.golfers.surface import vertex_normals


@frozen(kw_only=True, eq=False)
class Wearer:
    """A posed body with what clothes need to know. Heights are those at rest.

    Parameters
    ----------
    pose : Pose
    outfit : Outfit
    """

    pose: Pose = field(repr=False)
    outfit: Outfit

    @property
    def figure(self) -> Figure:
        """The body at rest."""
        return self.pose.figure

    @property
    def faces(self) -> Indices:
        """(F, 3) triangles of the skin."""
        return self.figure.rig.skin

    @property
    def posed(self) -> Array:
        """(V, 3) vertices now."""
        return self.pose.vertices

    @cached_property
    def normals(self) -> Array:
        """(V, 3) normals of the skin now."""
        return vertex_normals(self.posed, faces=self.faces)

    @property
    def z(self) -> Array:
        """(V,) height at rest."""
        return self.figure.vertices[:, 2]

    @property
    def s(self) -> float:
        """Size against a 1.75 m body."""
        return self.figure.scale

    @cached_property
    def middles(self) -> Array:
        """(F, 3) middle of each triangle at rest."""
        return np.asarray(self.figure.vertices[self.faces].mean(1))

    def of_faces(self, values: Array) -> Array:
        """(F,) mean of a value over each triangle's corners."""
        return np.asarray(values[self.faces].mean(1), dtype=np.float64)

    @cached_property
    def arm(self) -> Array:
        """(V,) share of the arms."""
        return sum((self.figure.share(*arm_bones(q)) for q in SIDES), start=np.zeros(len(self.z)))

    @cached_property
    def along_arm(self) -> Array:
        """(V,) 0 at the shoulder, 1 at the elbow, 2 at the wrist; −1 off the arms."""
        t = np.full(len(self.z), -1.0)
        V, head = self.figure.vertices, self.figure.head
        for q in SIDES:
            on_arm = self.figure.share(*arm_bones(q)) > 0.5
            upper = arm_bones(q, hand=False)[:2]
            fore = self.figure.share(*(b for b in arm_bones(q) if b not in upper)) > 0.5
            shoulder, elbow, wrist = (
                head(f"{n}.{q}") for n in ("upperarm01", "lowerarm01", "wrist")
            )
            first = (V - shoulder) @ (elbow - shoulder) / np.sum((elbow - shoulder) ** 2)
            second = 1 + (V - elbow) @ (wrist - elbow) / np.sum((wrist - elbow) ** 2)
            value = np.where(fore, np.maximum(second, 0.9), np.minimum(first, 1.1))
            t[on_arm] = value[on_arm]
        return t

    @cached_property
    def foot(self) -> Array:
        """(V,) share of the feet."""
        return sum((self.figure.share(*foot_bones(q)) for q in SIDES), start=np.zeros(len(self.z)))

    @cached_property
    def neck(self) -> Array:
        """(V,) share of neck and head."""
        return self.figure.share("neck01", "neck02", "neck03", "head")

    @cached_property
    def head(self) -> Array:
        """(V,) share of the head and the top of the neck."""
        return self.figure.share("head", "neck03", "neck02")

    @property
    def waist(self) -> float:
        """Height of the belt."""
        return float(self.figure.head("spine04")[2])

    @property
    def hip(self) -> float:
        """Height of the hip joints."""
        return float(self.figure.head("upperleg01.L")[2])

    @property
    def knee(self) -> float:
        """Height of the knees."""
        return float(self.figure.head("lowerleg01.L")[2])

    @property
    def ankle(self) -> float:
        """Height of the ankles."""
        return float(self.figure.head("foot.L")[2])

    @property
    def collar(self) -> Array:
        """(V,) height of the neck's opening: lower in front."""
        base = self.figure.head("neck01")
        behind = self.figure.vertices[:, 1] - base[1]
        return np.asarray(base[2] + 0.012 * self.s + 0.012 + 0.25 * behind)

    @property
    def eye(self) -> Array:
        """(3,) between the eyes, at rest."""
        return (self.figure.head("eye.L") + self.figure.head("eye.R")) / 2

    @property
    def ear(self) -> Array:
        """(3,) the left ear, at rest."""
        return self.figure.places["ear.L"].of(self.figure.vertices)

    def on_head(self, points: Array) -> Array:
        """Points of the head's rest, carried to where the head is now."""
        R, P = self.pose.turn("head"), self.pose.joint("head")
        return np.asarray(P + (points - self.figure.head("head")) @ R.T)
