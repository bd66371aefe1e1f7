"""One scene: a golfer stood, dressed, drawn twice, and the truth beside the pictures."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

import numpy as np
from attrs import frozen
from PIL import Image

from benchmarks.stress import clothes, flesh, kit, looks, truth
from benchmarks.stress.cameras import DIAGONAL_35MM, SIZES, draw_lens
from benchmarks.stress.draw import Light, World, developed
from benchmarks.stress.meshes import Part, centre_of_mass, surface
from benchmarks.stress.person import Person, draw_person
from benchmarks.stress.solids import Array, join, unit
from benchmarks.stress.stance import CLUBS, Skeleton, draw_aim, stand

VIEWS: Final = ("face_on", "down_the_line")
CLUBS_IN_TURN: Final = ("mid_iron", "driver", "short_iron", "mid_iron", "wedge", "fairway_wood",
                        "mid_iron", "putter", "long_iron", "driver")  # fmt: skip
PLACES: Final = ("grass", "mat", "grass", "studio", "grass")
STICKS: Final = ("one", "T", "one", "none", "T")
DENSITY: Final = {"trunk": 0.93, "limbs": 1.06, "head": 1.09}
"""Of a body's parts against water: textbook values, from memory; the chest holds air."""

FOCAL_TAG_KEY: Final = 41989
"""Exif's number of the 35 mm focal length."""


@frozen(kw_only=True, eq=False)
class Golfer:
    """A dressed golfer: who, how they stand, what they wear, and their surfaces."""

    person: Person
    skeleton: Skeleton
    outfit: clothes.Outfit
    parts: dict[str, Part]
    com: Array


def draw_golfer(random: np.random.Generator, /, *, index: int) -> Golfer:
    """A random golfer; clothes and clubs come in turn."""
    outfit = clothes.OUTFITS[index % len(clothes.OUTFITS)]
    female = outfit.hair != "short"
    person = draw_person(random, female=female)
    club = CLUBS_IN_TURN[index % len(CLUBS_IN_TURN)]
    skeleton = stand(person, draw_aim(random, club=club))
    parts = _body_parts(random, person, s=skeleton) | _worn_parts(
        random, person, s=skeleton, outfit=outfit
    )
    solids = [(flesh.trunk(person, skeleton), DENSITY["trunk"])]
    solids += [(part, DENSITY["head"]) for part in flesh.head_parts(person, skeleton).values()]
    for side in flesh.SIDES:
        solids += [(limb, DENSITY["limbs"]) for limb in flesh.leg(person, skeleton, side=side)]
        solids += [(limb, DENSITY["limbs"]) for limb in flesh.arm(person, skeleton, side=side)]
        solids.append((clothes.shoe(person, skeleton, side=side), DENSITY["limbs"]))
        solids.append((flesh.hand(skeleton, side), DENSITY["limbs"]))
    return Golfer(
        person=person,
        skeleton=skeleton,
        outfit=outfit,
        parts=parts,
        com=centre_of_mass(solids),
    )


def _body_parts(random: np.random.Generator, person: Person, *, s: Skeleton) -> dict[str, Part]:
    hair = looks.HAIRS[random.integers(len(looks.HAIRS))]
    paint = looks.skin(
        random,
        colour=looks.SKINS[random.integers(len(looks.SKINS))],
        hair=hair,
        face=flesh.face_points(person, s),
        axes=s.head_axes,
    )
    head = flesh.head_parts(person, s)
    parts = {
        "trunk": surface(flesh.trunk(person, s), step=0.009, paint=paint),
        "head": surface(join(head["head"], head["neck"], melt=0.02), step=0.004, paint=paint),
    }
    glove = looks.plain((0.75, 0.75, 0.74))
    gloved = random.random() < 0.7
    for side in flesh.SIDES:
        limbs = flesh.leg(person, s, side=side)
        parts[f"{side}_leg"] = surface(join(*limbs, melt=0.03), step=0.008, paint=paint)
        arm = join(*flesh.arm(person, s, side=side), melt=0.02)
        parts[f"{side}_arm"] = surface(arm, step=0.006, paint=paint)
        worn = glove if gloved and side == "lead" else paint
        parts[f"{side}_hand"] = surface(flesh.hand(s, side), step=0.0035, paint=worn)
    return parts


def _worn_parts(
    random: np.random.Generator, person: Person, *, s: Skeleton, outfit: clothes.Outfit
) -> dict[str, Part]:
    def colour() -> looks.Colour:
        return looks.CLOTH[random.integers(len(looks.CLOTH))]

    seed = int(random.integers(1 << 30))
    shirt = looks.cloth(random, colour=colour(), other=colour())
    lower = looks.plain(colour())
    shoes = looks.shoe(random)
    hair = looks.plain(looks.HAIRS[random.integers(len(looks.HAIRS))])
    parts = {
        "top": surface(clothes.top(person, s, outfit=outfit, seed=seed), step=0.0075, paint=shirt),
        "collar": surface(clothes.collar(person, s), step=0.004, paint=shirt),
        "legs": surface(
            clothes.legs(person, s, outfit=outfit, seed=seed + 1), step=0.008, paint=lower
        ),
    }
    for name, solid in clothes.headwear(person, s, outfit=outfit).items():
        paint = hair if name == "hair" else looks.plain(colour())
        parts[name] = surface(solid, step=0.0045, paint=paint)
    for side in flesh.SIDES:
        solid = clothes.shoe(person, s, side=side)
        parts[f"{side}_shoe"] = surface(solid, step=0.005, paint=shoes, gloss=0.05)
    return parts


def _sticks(random: np.random.Generator, *, kind: str) -> tuple[list[Part], dict[str, Any]]:
    """Sticks on the ground: none, one to the target, or a T of two."""
    if kind == "none":
        return [], {}
    colours = ((0.75, 0.20, 0.02), (0.70, 0.62, 0.05), (0.02, 0.35, 0.60), (0.75, 0.75, 0.72))
    gap, start = float(random.uniform(0.13, 0.18)), float(random.uniform(-0.72, -0.5))
    ends = np.array([[start, gap, kit.STICK_Z], [start + 1.2, gap, kit.STICK_Z]])
    parts = [kit.stick(ends, colour=colours[random.integers(4)])]
    ground: dict[str, Any] = {
        "target_stick": {"ends": ends.tolist(), "length_m": 1.2, "diameter_m": 0.009,
                         "yaw_deg": 0.0}
    }  # fmt: skip
    if kind == "T":
        x = float(random.normal(0, 0.008))
        z = kit.STICK_Z + 0.009
        ends = np.array([[x, gap - 0.02, z], [x + float(random.normal(0, 0.005)), gap + 1.18, z]])
        parts.append(kit.stick(ends, colour=colours[random.integers(4)]))
        ground["cross_stick"] = {"ends": ends.tolist(), "diameter_m": 0.009}
    return parts, ground


def _place(
    random: np.random.Generator, *, kind: str
) -> tuple[list[Part], looks.Ground, looks.Backdrop, Light]:
    """Ground, surroundings and light."""
    grey = float(random.uniform(0.0, 1.0)) ** 1.5
    turn, high = float(random.uniform(0, 2 * np.pi)), float(random.uniform(0.5, 1.15))
    sun = np.array([np.cos(turn) * np.cos(high), np.sin(turn) * np.cos(high), np.sin(high)])
    warm = np.array([1.0, 0.93, 0.82]) * 2.6 * (1 - 0.93 * grey)
    light = Light(direction=unit(sun), softness=0.01 + 0.25 * grey, sun=warm,
                  fill=np.full(3, 0.8), exposure=float(random.uniform(0.62, 0.80)))  # fmt: skip
    lawn = looks.grass(random, dry=float(random.uniform(0, 0.6)) ** 2)
    outdoors = looks.outdoors(random, grey=grey)
    pale = float(random.uniform(0.15, 0.45))
    if kind == "grass":
        return [], lawn, outdoors, light
    mat = looks.floor(random, around=lawn if kind == "mat" else None, mat=(0.05, 0.14, 0.06),
                      base=(pale, pale, pale))  # fmt: skip
    if kind == "mat":
        return [], mat, outdoors, light
    shade = looks.cloth(random, colour=(0.50, 0.49, 0.47), other=(0.44, 0.42, 0.40))
    walls = [
        kit.wall(np.array([-6.0, 2.6, 0.0]), along=np.array([10.0, 0, 0]),
                 up=np.array([0, 0, 4.0]), paint=shade),
        kit.wall(np.array([4.0, -6.0, 0.0]), along=np.array([0, 9.0, 0]),
                 up=np.array([0, 0, 4.0]), paint=looks.plain((0.25, 0.27, 0.30))),
    ]  # fmt: skip
    lamp = Light(direction=unit(np.array([-0.5, -0.4, 1.0])), softness=0.5,
                 sun=np.array([0.9, 0.86, 0.80]), fill=np.ones(3), exposure=0.95,
                 reach=9.0)  # fmt: skip
    return walls, mat, looks.indoors((0.55, 0.54, 0.52)), lamp


def _save(
    path: Path, picture: Array, *, exposure: float, tag: int | None, random: np.random.Generator
) -> None:
    image = Image.fromarray(developed(picture, exposure=exposure, random=random))
    exif = Image.Exif()
    if tag is not None:
        exif.get_ifd(0x8769)[FOCAL_TAG_KEY] = tag
    image.save(path, quality=int(random.integers(84, 95)), exif=exif)


def make_scene(folder: Path, *, seed: int, index: int, passes: int) -> str:
    """Write one scene and return its name.

    Parameters
    ----------
    folder : Path
        Where the scene's own folder goes.
    seed, index : int
        Together they fix everything about the scene.
    passes : int
        Samples of each pixel.
    """
    random = np.random.default_rng([seed, index])
    golfer = draw_golfer(random, index=index)
    s, club = golfer.skeleton, CLUBS_IN_TURN[index % len(CLUBS_IN_TURN)]
    left_handed, held = index % 6 == 4, index % 2 == 1
    number = f"{'2' if held else '0'}{index}"
    name = f"stress_{club}_{golfer.outfit.top}_{golfer.outfit.legs}_{number}"
    place = PLACES[index % len(PLACES)]
    walls, ground, backdrop, light = _place(random, kind=place)
    sticks, lying = _sticks(random, kind=STICKS[index % len(STICKS)])
    club_parts = [surface(solid, step=step, paint=paint, gloss=gloss, golfer=False)
                  for solid, step, paint, gloss in kit.club_parts(s, club)]  # fmt: skip
    shown = [*golfer.parts.values(), *club_parts, *kit.ball_parts(club), *sticks, *walls]
    world = World(shown, ground=ground, backdrop=backdrop, light=light)
    points = truth.landmarks(golfer.person, s, parts=golfer.parts, club=club, com=golfer.com)
    middle = np.array([s["mid_hip"][0], 0.75 * s["mid_hip"][1], 0.80])
    size = SIZES[int(random.integers(len(SIZES)))]
    target = folder / name
    target.mkdir(parents=True, exist_ok=True)
    views = {}
    for view in VIEWS:
        lens = draw_lens(random, view=view, golfer=middle, held=held, size=size)
        picture, cover = world.picture(lens, passes=passes, random=random, middle=middle)
        if left_handed:
            picture, cover, lens = picture[:, ::-1], cover[:, ::-1], lens.mirrored()
        diagonal = float(np.hypot(lens.width, lens.height))
        tag = round(lens.focal / diagonal * DIAGONAL_35MM) if random.random() < 0.5 else None
        _save(target / f"{view}.jpg", picture, exposure=light.exposure, tag=tag, random=random)
        Image.fromarray(np.asarray(cover * 255, dtype=np.uint8)).save(target / f"{view}_mask.png")
        own = truth.named(points, left_handed=left_handed)
        views[view] = truth.view_of(lens, own, tag=tag)
    _write_truth(target, golfer, points=points, views=views, lying=lying, left_handed=left_handed,
                 club=club, place=place)  # fmt: skip
    return name


def _mirrored_ground(lying: dict[str, Any]) -> dict[str, Any]:
    return {
        name: {**what, "ends": (np.array(what["ends"]) * (-1, 1, 1)).tolist()}
        for name, what in lying.items()
    }


def _write_truth(
    target: Path,
    golfer: Golfer,
    *,
    points: dict[str, Array],
    views: dict[str, Any],
    lying: dict[str, Any],
    left_handed: bool,
    club: str,
    place: str,
) -> None:
    own = truth.named(points, left_handed=left_handed)
    content = {
        "name": target.name,
        "hand": "left" if left_handed else "right",
        "lead_side": "right" if left_handed else "left",
        "target_direction": [-1 if left_handed else 1, 0, 0],
        "club": club,
        "club_length_m": golfer.skeleton.club_length,
        "club_lie_deg": CLUBS[club][1],
        "stature_m": golfer.person.stature,
        "sex": "female" if golfer.person.female else "male",
        "clothes": [golfer.outfit.top, golfer.outfit.legs, golfer.outfit.hat],
        "place": place,
        "measures": truth.measures(points, s=golfer.skeleton, parts=golfer.parts),
        "landmarks_m": {name: point.round(6).tolist() for name, point in own.items()},
        "views": views,
        "on_the_ground": _mirrored_ground(lying) if left_handed else lying,
    }
    (target / "truth.json").write_text(json.dumps(content, indent=1), encoding="utf-8")
