"""Skin, eyes, hair, beards and hats."""

from __future__ import annotations

import numpy as np

from training.bodies.store import Array
from training.golfers.bones import SIDES, arm_bones
from training.golfers.clothes.cloth import draped
from training.golfers.clothes.garments import SLEEVES, bottom_hem, class_of, shirt_hem
from training.golfers.clothes.wearer import Wearer
from training.golfers.surface import Mask, Mesh, Solid, compact, ellipsoid, joined, mesh, rings

LIP_TINT = np.array([0.85, 0.45, 0.45])
FACE_TINT = np.array([1.03, 0.97, 0.96])


def skin(wearer: Wearer) -> Mesh:
    """The skin that clothes leave bare, with lips, brows, beard and gloves on it."""
    outfit = wearer.outfit
    kept = ~_covered(wearer)
    marks = wearer.figure.rig.marks
    colours = np.ones((len(wearer.faces), 3))
    colours += (LIP_TINT - 1) * marks["lips"][:, None]
    colours[marks["face"] > 0.5] *= FACE_TINT
    classes = np.full(len(colours), class_of("skin"))
    hairy = _brows(wearer) | (_beard(wearer) if outfit.beard else False)
    classes[hairy], colours[hairy] = class_of("brow"), 1.6
    gloved = {"none": "", "glove": "L", "two_gloves": "LR"}[outfit.gloves]
    hand = wearer.of_faces(wearer.along_arm) > 1.96
    for side in gloved:
        on_arm = wearer.of_faces(wearer.figure.share(*arm_bones(side))) > 0.9
        classes[on_arm & hand], colours[on_arm & hand] = class_of("glove"), 1
    faces, used = compact(wearer.faces[kept])
    return Mesh(
        name="skin",
        vertices=wearer.posed[used],
        faces=faces,
        classes=classes[kept],
        colours=colours[kept],
    )


def _covered(wearer: Wearer) -> Mask:
    """Triangles well inside clothes and shoes, left out so that they can't poke through."""
    outfit = wearer.outfit
    z, t = wearer.of_faces(wearer.z), wearer.of_faces(wearer.along_arm)
    arm, neck = wearer.of_faces(wearer.arm), wearer.of_faces(wearer.neck)
    hem = bottom_hem(wearer)
    end = SLEEVES[outfit.top]
    low = min(shirt_hem(wearer), wearer.waist)
    below_collar = wearer.of_faces(wearer.collar) - z > 0.05
    trunk = (arm <= 0.5) & (z > max(low, wearer.waist - 0.02)) & (neck < 0.2) & below_collar
    shirt = np.where(arm > 0.5, (t < end - 0.12) & (t > 0.1), trunk)
    legs = (z > hem + 0.08) & (z < wearer.waist - 0.06) & (arm <= 0.3)
    shoe = (wearer.of_faces(wearer.foot) > 0.5) & (z < wearer.ankle + 0.005)
    bare_arm = (arm > 0.3) & (t > end - 0.3)
    return np.asarray((shirt.astype(bool) | legs | shoe) & ~bare_arm)


def _brows(wearer: Wearer) -> Mask:
    x, y, z = (wearer.middles - wearer.eye).T
    s = wearer.s
    arch = 2.0 * (np.abs(x) - 0.03) ** 2
    brow = (np.abs(z - 0.024 * s + arch) < 0.0055 * s) & (np.abs(x) > 0.012 * s)
    brow &= (np.abs(x) < 0.052 * s) & (y < 0.015) & (wearer.of_faces(wearer.head) > 0.8)
    return np.asarray(brow)


def _beard(wearer: Wearer) -> Mask:
    x, y, z = (wearer.middles - wearer.eye).T
    s = wearer.s
    chin = (z < -0.055 * s) & (z > -0.14 * s) & (y < 0.06)
    mouth = (np.abs(x) < 0.03) & (z > -0.068 * s)
    bare_lips = wearer.figure.rig.marks["lips"] < 0.3
    return np.asarray(chin & bare_lips & ~mouth & (wearer.of_faces(wearer.head) > 0.6))


def eyes(wearer: Wearer) -> Mesh:
    """Eyeballs with iris and pupil."""
    triangles = wearer.figure.rig.eyes
    middle = wearer.figure.vertices[triangles].mean(1)
    colours = np.tile([0.77, 0.75, 0.72], (len(triangles), 1))
    for side in SIDES:
        eye = wearer.figure.head(f"eye.{side}")
        off = np.hypot(middle[:, 0] - eye[0], middle[:, 2] - eye[2])
        front = (np.abs(middle[:, 0] - eye[0]) < 0.02) & (middle[:, 1] < eye[1])
        colours[front & (off < 0.0062 * wearer.s)] = [0.04, 0.02, 0.01]
        colours[front & (off < 0.0030 * wearer.s)] = 0.001
    faces, used = compact(triangles)
    return Mesh(
        name="eyes",
        vertices=wearer.posed[used],
        faces=faces,
        classes=np.full(len(faces), class_of("fixed")),
        colours=colours,
    )


_HAIR_EASE = {"short_hair": 0.010, "medium_hair": 0.020, "pony_tail": 0.012, "long_hair": 0.014,
              "bun": 0.012}  # fmt: skip


def hair(wearer: Wearer, rng: np.random.Generator) -> list[Mesh]:
    """Hair on the head, and what hangs from it."""
    outfit = wearer.outfit
    if outfit.hair == "bald":
        return []
    s, ear, eye = wearer.s, wearer.ear, wearer.eye
    x, y, z = wearer.middles.T
    front = np.clip((ear[1] + 0.01 - y) / (ear[1] - eye[1]), 0, 1)
    line = ear[2] - 0.045 * s + (eye[2] + 0.103 * s - ear[2]) * front**0.55
    on_head = wearer.of_faces(wearer.head) > 0.7
    no_ear = wearer.figure.rig.marks["ears"] < 0.3
    wanted = on_head & (z > line) & no_ear & (np.abs(x) < 0.95 * abs(ear[0]))
    neat = outfit.hair in {"pony_tail", "bun"}
    ease = _HAIR_EASE[outfit.hair] * s * (0.6 if outfit.hat == "wool_hat" else 1.0)
    V, F, _ = draped(
        wearer, wearer.faces[wanted], ease=ease, least=0.004, rounds=8, rng=rng,
        folds=0.002 if neat else 0.006, frequency=90,
    )  # fmt: skip
    meshes = [mesh("hair", (V, F), of_class="hair")]
    if outfit.hair == "pony_tail":
        meshes.append(mesh("tail", _tail(wearer, rng), of_class="hair"))
    if outfit.hair == "bun":
        at = wearer.on_head(np.array([0, ear[1] + 0.12 * s, ear[2] + 0.06 * s]))
        bun = ellipsoid(at, np.array([0.042, 0.035, 0.04]) * s * rng.uniform(0.7, 1.2))
        meshes.append(mesh("bun", bun, of_class="hair"))
    if outfit.hair == "long_hair":
        meshes.append(_fall(wearer))
    return meshes


def _tail(wearer: Wearer, rng: np.random.Generator) -> Solid:
    """A pony tail: a chain of ellipsoids that hangs from the back of the head."""
    s = wearer.s
    at = wearer.on_head(np.array([0, wearer.ear[1] + 0.115 * s, wearer.ear[2] + 0.045 * s]))
    back = wearer.pose.turn("head") @ np.array([0, 0.02, 0])
    beads = []
    for k in range(int(rng.integers(4, 9))):
        sway = np.array([0.004 * rng.normal(), -0.01 + 0.004 * rng.normal(), -0.036 * s])
        then = at + sway + back * (k < 2)
        radii = np.array([0.02, 0.02, 0.03]) * s * (1 - 0.06 * k)
        beads.append(ellipsoid((at + then) / 2, radii, sides=12, rows=8))
        at = then
    return joined(beads)


def _fall(wearer: Wearer) -> Mesh:
    """Long hair: the body model's own fall, cut at a length, laid over the clothes."""
    outfit = wearer.outfit
    triangles = wearer.figure.rig.hair
    rest = wearer.figure.vertices
    shoulder = wearer.figure.head("upperarm01.L")[2]
    cut = shoulder + (0.03 - 0.24 * outfit.hair_length) * wearer.s
    middle = rest[triangles].mean(1)
    # the model's fringe and side locks hang over the face
    chin = wearer.eye[2] - 0.12 * wearer.s
    face = (middle[:, 1] < wearer.ear[1] - 0.03 * wearer.s) & (middle[:, 2] > chin)
    faces, used = compact(triangles[(middle[:, 2] > cut) & ~face])
    return mesh("fall", (wearer.posed[used], faces), of_class="hair")


def hat(wearer: Wearer, rng: np.random.Generator) -> list[Mesh]:
    """Cap, visor, hat with a brim all round, or woollen hat."""
    outfit = wearer.outfit
    if outfit.hat == "none":
        return []
    s, ear, eye = wearer.s, wearer.ear, wearer.eye
    _, y, z = wearer.middles.T
    behind = ear[1] + 0.09
    low_back = ear[2] + (0.0 if outfit.hat == "wool_hat" else 0.020) * s
    low_front = eye[2] + (0.040 if outfit.hat == "wool_hat" else 0.050) * s
    edge = low_back + (low_front - low_back) * np.clip((behind - y) / (behind - eye[1]), 0, 1)
    wanted = (wearer.of_faces(wearer.head) > 0.6) & (z > edge)
    if outfit.hat != "wool_hat":
        wanted &= wearer.figure.rig.marks["ears"] < 0.5
    if outfit.hat == "visor":
        wanted &= z < edge + 0.040 * s
    ease = {"wool_hat": 0.026, "sun_hat": 0.026}.get(outfit.hat, 0.022) * s
    V, F, _ = draped(
        wearer, wearer.faces[wanted], ease=ease, least=0.014 * s,
        rounds=4 if outfit.hat == "visor" else 25, rng=rng,
    )  # fmt: skip
    meshes = [mesh("cap", (V, F), of_class="cap")]
    if outfit.hat == "sun_hat":
        meshes.append(mesh("brim", _brim(wearer), of_class="brim"))
    elif outfit.hat != "wool_hat":
        meshes.append(mesh("brim", _peak(wearer), of_class="brim"))
    return meshes


def _peak(wearer: Wearer) -> Solid:
    """The peak of a cap: half an ellipse in front, curved down at the sides."""
    outfit = wearer.outfit
    s, eye = wearer.s, wearer.eye
    angle = np.linspace(0, np.pi, 15)
    out = np.array([0.0, 0.5, 1.0])[:, None]
    half = 0.078 * s
    x = half * np.cos(angle) * (1 - 0.03 * out)
    start = eye[1] + 0.012 * s + 0.055 * s * (1 - np.sin(angle))
    y = start - out * (1.15 * outfit.brim_m * s * np.sin(angle) + 0.004)
    z = eye[2] + 0.056 * s - 0.030 * s * (x / half) ** 2 - 0.014 * out * s
    grid = wearer.on_head(np.stack([x, y, z], axis=-1))
    return _two_sided(grid, wearer.pose.turn("head")[:, 2] * 0.003, closed=False)


def _brim(wearer: Wearer) -> Solid:
    """A brim all round, drooping a little."""
    outfit = wearer.outfit
    s, ear, eye = wearer.s, wearer.ear, wearer.eye
    angle = np.arange(40) * 2 * np.pi / 40
    out = np.linspace(0, 1, 4)[:, None]
    back = wearer.figure.vertices[wearer.figure.share("head") > 0.9][:, 1].max()
    middle, deep = (eye[1] + back) / 2, (back - eye[1]) / 2 + 0.012 * s
    wide = abs(ear[0]) + 0.006 * s
    x = (wide + out * outfit.brim_m * s) * np.cos(angle)
    y = middle - (deep + out * outfit.brim_m * s) * np.sin(angle)
    slope = (0.038 * s) * np.sin(angle)
    z = ear[2] + 0.045 * s + slope - 0.35 * outfit.brim_m * s * out**2
    grid = wearer.on_head(np.stack([x, y, z], axis=-1))
    return _two_sided(grid, wearer.pose.turn("head")[:, 2] * 0.003, closed=True)


def _two_sided(grid: Array, thickness: Array, *, closed: bool) -> Solid:
    faces = rings(grid, closed=closed)
    flat = grid.reshape(-1, 3)
    return joined([(flat, faces), (flat + thickness, faces[:, ::-1])])
