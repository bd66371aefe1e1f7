"""Pictures made worse or different on purpose, with what ought to become of them.

Each case takes a scene's two pictures and gives the files a coach might have brought
instead. The truth of the scene stays the truth of whatever can still be seen.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray
from PIL import Image

from benchmarks.scenes import Scene
from wellset.figure.views import View

Pixels = NDArray[np.uint8]
FULL_FRAME_DIAGONAL_MM: Final = 43.2666


class Wanted(StrEnum):
    """What should become of a case."""

    ANSWER = "answer"
    REFUSAL = "refusal"
    EITHER = "either"


@frozen(kw_only=True, eq=False)
class Shot:
    """One picture to be written: pixels, focal length tag, orientation tag, quality."""

    rgb: Pixels
    focal_35mm: float | None
    orientation: int = 1
    quality: int = 92

    @property
    def focal_px(self) -> float | None:
        """The tag in pixels, if there is one."""
        if self.focal_35mm is None:
            return None
        return self.focal_35mm / FULL_FRAME_DIAGONAL_MM * float(np.hypot(*self.rgb.shape[:2]))

    def reshaped(self, rgb: Pixels) -> Shot:
        """Other pixels of the same scale, with the tag a camera of that shape would write."""
        focal = self.focal_px
        tag = None if focal is None else focal * FULL_FRAME_DIAGONAL_MM / np.hypot(*rgb.shape[:2])
        return evolve(self, rgb=rgb, focal_35mm=tag)

    def write(self, path: Path) -> Path:
        """Write it as a JPEG with its tags."""
        image = Image.fromarray(np.ascontiguousarray(self.rgb))
        tags = Image.Exif()
        if self.orientation != 1:
            tags[0x0112] = self.orientation
        if self.focal_35mm is not None:
            tags.get_ifd(0x8769)[0xA405] = round(self.focal_35mm)
        image.save(path, "JPEG", quality=self.quality, exif=tags)
        return path


Pair = Mapping[View, Shot]
Change = Callable[[Shot], Shot]


@frozen(kw_only=True, eq=False)
class Case:
    """What one case hands in: pictures by the view they are given for, and its fate."""

    name: str
    pictures: Pair
    wanted: Wanted = Wanted.ANSWER


def load(scene: Scene, view: View, *, other: Scene | None = None) -> Shot:
    """A scene's picture with its tag."""
    source = other or scene
    rgb = cv2.imread(str(source.folder / f"{view.value}.jpg"), cv2.IMREAD_COLOR_RGB)
    if rgb is None:
        raise FileNotFoundError(source.folder)
    tag = source.truth["views"][view.value]["focal_35mm_tag"]
    return Shot(rgb=np.asarray(rgb, dtype=np.uint8), focal_35mm=tag)


def mask_of(scene: Scene, view: View) -> NDArray[np.uint8]:
    """The golfer's outline as the renderer wrote it."""
    mask = cv2.imread(str(scene.folder / f"{view.value}_mask.png"), cv2.IMREAD_GRAYSCALE)
    if mask is None:
        raise FileNotFoundError(scene.folder)
    return np.asarray(mask, dtype=np.uint8)


# --- whole pictures -------------------------------------------------------------------


def scaled(shot: Shot, *, megapixels: float) -> Shot:
    """The picture at another size."""
    height, width = shot.rgb.shape[:2]
    factor = float(np.sqrt(megapixels * 1e6 / (height * width)))
    how = cv2.INTER_AREA if factor < 1 else cv2.INTER_CUBIC
    size = (round(width * factor), round(height * factor))
    return evolve(shot, rgb=np.asarray(cv2.resize(shot.rgb, size, interpolation=how)))


def padded(shot: Shot, *, width: float, height: float, across: float = 0.5) -> Shot:
    """The picture within a wider or higher one, its edges drawn out and blurred."""
    rows, columns = shot.rgb.shape[:2]
    more_x, more_y = round(columns * (width - 1)), round(rows * (height - 1))
    left, top = round(more_x * across), more_y // 2
    wide = cv2.copyMakeBorder(
        shot.rgb, top, more_y - top, left, more_x - left, cv2.BORDER_REPLICATE
    )
    soft = cv2.GaussianBlur(wide, (0, 0), 9)
    noise = np.random.default_rng(0).normal(0.0, 4.0, soft.shape)
    result = np.clip(soft + noise, 0, 255).astype(np.uint8)
    result[top : top + rows, left : left + columns] = shot.rgb
    return shot.reshaped(result)


def landscape(shot: Shot, *, across: float = 0.5) -> Shot:
    """The picture within one of 16:9, as a camera held level would have taken it."""
    rows, columns = shot.rgb.shape[:2]
    return padded(shot, width=rows * 16 / 9 / columns, height=1.0, across=across)


def square(shot: Shot) -> Shot:
    """The picture within a square one."""
    rows, columns = shot.rgb.shape[:2]
    return padded(shot, width=rows / columns, height=1.0)


def turned_away(scene: Scene, *, view: View, shot: Shot, degrees: float) -> Shot:
    """A wide picture of the same place by the same camera, turned away from the golfer."""
    matrix = np.array(scene.truth["views"][view.value]["K"])
    height, width = shot.rgb.shape[:2]
    wide = round(height * 16 / 9)
    aimed = matrix.copy()
    aimed[0, 2] += (wide - width) / 2
    turn = cv2.Rodrigues(np.array([0.0, -np.radians(degrees), 0.0]))[0]
    rgb = cv2.warpPerspective(
        shot.rgb,
        aimed @ turn @ np.linalg.inv(matrix),
        (wide, height),
        flags=cv2.INTER_CUBIC,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return shot.reshaped(np.asarray(rgb, dtype=np.uint8))


def turned(shot: Shot, *, quarters: int) -> Shot:
    """The picture turned anticlockwise by quarter turns."""
    return evolve(shot, rgb=np.ascontiguousarray(np.rot90(shot.rgb, quarters)))


TAG_OF_TURN: Final = {1: 6, 2: 3, 3: 8}
"""Orientation tag that undoes an anticlockwise turn (CIPA DC-008, tag 0x0112)."""


def tagged_turn(shot: Shot, *, quarters: int) -> Shot:
    """Turned, with the tag that says so."""
    return evolve(turned(shot, quarters=quarters), orientation=TAG_OF_TURN[quarters])


def tilted(shot: Shot, *, degrees: float) -> Shot:
    """The picture turned by some degrees about its middle, as from a crooked phone."""
    height, width = shot.rgb.shape[:2]
    about = cv2.getRotationMatrix2D((width / 2, height / 2), degrees, 1.0)
    rgb = cv2.warpAffine(shot.rgb, about, (width, height), borderMode=cv2.BORDER_REPLICATE)
    return evolve(shot, rgb=np.asarray(rgb, dtype=np.uint8))


def mirrored(shot: Shot) -> Shot:
    """The mirror image."""
    return evolve(shot, rgb=np.ascontiguousarray(shot.rgb[:, ::-1]))


def grey(shot: Shot) -> Shot:
    """Without colour."""
    plain = shot.rgb.mean(axis=2, keepdims=True).astype(np.uint8)
    return evolve(shot, rgb=np.repeat(plain, 3, axis=2))


def dark(shot: Shot, *, stops: float) -> Shot:
    """Under-exposed, with the noise that comes with it."""
    noise = np.random.default_rng(0).normal(0.0, 2.0, shot.rgb.shape)
    return evolve(shot, rgb=np.clip(shot.rgb / 2.0**stops + noise, 0, 255).astype(np.uint8))


def bright(shot: Shot) -> Shot:
    """Over-exposed by one and a half stops."""
    return evolve(shot, rgb=np.clip(shot.rgb * 2.83, 0, 255).astype(np.uint8))


def blurred(shot: Shot, *, share: float) -> Shot:
    """Out of focus: a Gaussian whose spread is a share of the picture's height."""
    spread = share * shot.rgb.shape[0]
    return evolve(shot, rgb=np.asarray(cv2.GaussianBlur(shot.rgb, (0, 0), spread)))


def shaken(shot: Shot, *, share: float) -> Shot:
    """Moved sideways while exposed, by a share of the picture's height."""
    length = max(3, round(share * shot.rgb.shape[0])) | 1
    line = np.zeros((length, length), np.float32)
    line[length // 2] = 1.0 / length
    return evolve(shot, rgb=np.asarray(cv2.filter2D(shot.rgb, -1, line), dtype=np.uint8))


def noisy(shot: Shot) -> Shot:
    """With strong noise."""
    noise = np.random.default_rng(0).normal(0.0, 25.0, shot.rgb.shape)
    return evolve(shot, rgb=np.clip(shot.rgb + noise, 0, 255).astype(np.uint8))


# --- cut pictures ---------------------------------------------------------------------


def _pixel(scene: Scene, view: View, *, name: str) -> tuple[float, float]:
    x, y = scene.truth["views"][view.value]["landmarks_px"][name]
    return float(x), float(y)


def cut(
    shot: Shot, *, left: float = 0, top: float = 0, right: float = 0, bottom: float = 0
) -> Shot:
    """Part of the picture, from and to these columns and rows (0: the edge); tags stay."""
    height, width = shot.rgb.shape[:2]
    columns = slice(round(left), round(right) if right else width)
    rows = slice(round(top), round(bottom) if bottom else height)
    return evolve(shot, rgb=np.ascontiguousarray(shot.rgb[rows, columns]))


def without_feet(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut just above the ankles."""
    ends = [_pixel(scene, view, name=f"ankle_{side}")[1] for side in ("left", "right")]
    return cut(shot, bottom=min(ends) - 0.012 * shot.rgb.shape[0])


def without_toes(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut through the shoes."""
    names = [f"{part}_{side}" for side in ("left", "right") for part in ("ankle", "shoe_toe")]
    rows = [_pixel(scene, view, name=name)[1] for name in names]
    return cut(shot, bottom=(min(rows) + max(rows)) / 2)


def without_legs(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut below the hips."""
    rows = [_pixel(scene, view, name=f"{part}_left")[1] for part in ("hip", "knee")]
    return cut(shot, bottom=(2 * rows[0] + rows[1]) / 3)


def without_head(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut between nose and shoulders."""
    nose = _pixel(scene, view, name="nose")[1]
    shoulders = np.mean([_pixel(scene, view, name=f"shoulder_{s}")[1] for s in ("left", "right")])
    return cut(shot, top=(nose + float(shoulders)) / 2)


def without_ball(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut so that the ball, and with it the club head, lies outside."""
    x, y = _pixel(scene, view, name="ball")
    room = 0.012 * shot.rgb.shape[0]
    if view is View.FACE_ON:
        return cut(shot, bottom=y - room)
    return cut(shot, right=x - room) if scene.truth["hand"] == "right" else cut(shot, left=x + room)


def half_a_golfer(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut upright through the hips."""
    x = np.mean([_pixel(scene, view, name=f"hip_{side}")[0] for side in ("left", "right")])
    return cut(shot, left=float(x))


def cut_closely(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """Cut off-centre and close around golfer, club and ball, as a thumb does it; tags stay."""
    points = np.array(list(scene.truth["views"][view.value]["landmarks_px"].values()))
    low, high = points.min(axis=0), points.max(axis=0)
    room = 0.06 * (high[1] - low[1])
    height, width = shot.rgb.shape[:2]
    return cut(
        shot,
        left=max(low[0] - room, 0),
        top=max(low[1] - 2 * room, 0),
        right=min(high[0] + room, width),
        bottom=min(high[1] + room, height),
    )


# --- more people, or none -------------------------------------------------------------


def erased(scene: Scene, *, view: View, shot: Shot) -> Shot:
    """The place without its golfer."""
    mask = mask_of(scene, view)
    wide = cv2.dilate(mask, np.ones((21, 21), np.uint8))
    small = cv2.resize(shot.rgb, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    hole = (cv2.resize(wide, (small.shape[1], small.shape[0])) > 20).astype(np.uint8)
    filled = cv2.inpaint(small, hole, 9, cv2.INPAINT_TELEA)
    back = cv2.resize(filled, (mask.shape[1], mask.shape[0]))
    there = cv2.GaussianBlur(wide, (0, 0), 4)[..., None] / 255.0
    return evolve(shot, rgb=(there * back + (1 - there) * shot.rgb).astype(np.uint8))


def side_by_side(shot: Shot, other: Shot, *, share: float) -> Shot:
    """Two golfers in one wide picture, the second this much of the first's height.

    The first stays in the middle, where a camera's axis belongs.
    """
    wide = landscape(shot)
    height, width = wide.rgb.shape[:2]
    room = (width - shot.rgb.shape[1]) // 2
    factor = share * height / other.rgb.shape[0]
    second = cv2.resize(other.rgb, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    cut_off = max(second.shape[1] - room, 0)
    second = second[:, cut_off // 2 : second.shape[1] - (cut_off - cut_off // 2)]
    top, rgb = round(0.72 * (height - second.shape[0])), wide.rgb.copy()
    rgb[top : top + second.shape[0], width - second.shape[1] :] = second
    return evolve(wide, rgb=rgb)


def with_bystander(
    scene: Scene, *, view: View, shot: Shot, other: Scene, share: float, on_the_left: bool
) -> Shot:
    """Another person pasted into the background, this much of the picture's height.

    Where the scene has no outline of its golfer, the other stands before the golfer.
    """
    person, mask = load(other, View.FACE_ON).rgb, mask_of(other, View.FACE_ON)
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    box = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    factor = share * shot.rgb.shape[0] / (rows[-1] - rows[0])
    small = cv2.resize(person[box], None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    there = cv2.resize(mask[box], (small.shape[1], small.shape[0]))[..., None] / 255.0
    foot = max(_pixel(scene, view, name=f"ankle_{side}")[1] for side in ("left", "right"))
    bottom = round(foot - 0.12 * shot.rgb.shape[0])
    left = 4 if on_the_left else shot.rgb.shape[1] - small.shape[1] - 4
    place = np.s_[bottom - small.shape[0] : bottom, left : left + small.shape[1]]
    rgb, front = shot.rgb.astype(np.float64), there
    if (scene.folder / f"{view.value}_mask.png").exists():
        front = there * (1 - mask_of(scene, view)[place][..., None] / 255.0)
    rgb[place] = front * small + (1 - front) * rgb[place]
    return evolve(shot, rgb=rgb.astype(np.uint8))
