"""From golfers and chance to pictures with labels.

:class:`Renderer` first throws the dice for many pictures at once (:meth:`Renderer.plan`,
cheap for large batches) and then draws them in smaller ones (:meth:`Renderer.draw`).
"""

from __future__ import annotations

from typing import Final

import torch
from attrs import fields, frozen
from torch import Tensor

from training.golfers.pool import CLASSES, LANDMARKS, VERTICES_PER_METRE
from training.pictures.cameras import DOWN_THE_LINE, FACE_ON, REFUSED, SIZE, Cameras, cameras
from training.pictures.dice import Dice
from training.pictures.figures import Figures, clothing, joined, main_figures, others, swell
from training.pictures.kernels import Kernels, kernels_for, source
from training.pictures.light import Light, light
from training.pictures.looks import colours, material_table
from training.pictures.overlays import overlays
from training.pictures.places import place
from training.pictures.rows import PICTURE
from training.pictures.stock import ON_CLOTH, Stock

SAMPLES: Final = 2
"""Samples a pixel in each direction."""
LIGHT_SIDE: Final = 384
"""Cells of the light's depth buffer in each direction."""
TINT_AS_IS: Final = 128
REFUSED_SHARE: Final = 0.08
"""Share of the pictures taken from where nobody should measure."""
WRONG_HAND_SHARE: Final = 0.03
"""Share of the pictures of left-handers that were not mirrored: to be refused too."""
EDGE_SHARE: Final = 0.45
"""Share of the pictures whose photograph ends within the cut-out (a landscape one above
and below, a portrait one at the sides); the product repeats its last pixels."""


@frozen(kw_only=True, eq=False)
class Plan:
    """Everything about N pictures but their pixels.

    Parameters
    ----------
    rows : (N, PICTURE.length) tensor
    figures : Figures
    colours : (F, C, 3) tensor
    points : (N, 37, 2) tensor
        Landmarks, pixels of the cut-out, corner convention.
    cm_per_px : (N, 37) tensor
        Size of a pixel at each landmark's depth.
    known : (N, 37) bool tensor
        Whether the landmark exists and lies within the photograph.
    view : (N,) int64 tensor
        :data:`FACE_ON`, :data:`DOWN_THE_LINE` or :data:`REFUSED`.
    posed : (N,) bool tensor
        Whether the golfer is at address, from wherever he is seen.
    flipped : (N,) bool tensor
        Pictures to be mirrored after drawing: left-handers nobody mirrored.
    edges : (N, 4) tensor
        Left, right, top, bottom of the photograph, pixels of the cut-out.
    """

    rows: Tensor
    figures: Figures
    colours: Tensor
    points: Tensor
    cm_per_px: Tensor
    known: Tensor
    view: Tensor
    posed: Tensor
    flipped: Tensor
    edges: Tensor

    def __len__(self) -> int:
        return len(self.rows)

    @property
    def readable(self) -> Tensor:
        """Whether view and hand are such as the network knows, ``(N,)`` bool."""
        return (self.view != REFUSED) & ~self.flipped

    @property
    def at_address(self) -> Tensor:
        """Whether a golfer at address is seen from where he can be read, ``(N,)`` bool."""
        return self.posed & self.readable

    def part(self, start: int, stop: int) -> Plan:
        """The pictures ``start`` to ``stop`` - 1 alone."""
        who = self.figures.who
        mine = (who[:, 1] >= start) & (who[:, 1] < stop)
        moved = who[mine] - torch.tensor([[0, start, 0]], dtype=who.dtype, device=who.device)
        cut = {
            each.name: getattr(self, each.name)[start:stop]
            for each in fields(Plan)
            if each.name not in {"figures", "colours"}
        }
        figures = Figures(who=moved.contiguous(), rows=self.figures.rows[mine].contiguous())
        return Plan(figures=figures, colours=self.colours[mine].contiguous(), **cut)


class Renderer:
    """Draws golfers of a stock.

    Parameters
    ----------
    stock : Stock
    seed : int
    looser, odder : float
        Times the looseness of clothes and the spread of proportions; for stress tests.
    """

    def __init__(self, stock: Stock, *, seed: int, looser: float = 1.0, odder: float = 1.0) -> None:
        self.stock = stock
        self.dice = Dice.seeded(stock.device, seed=seed)
        self._odd = {"looser": looser, "odder": odder}
        self._materials, self._swells = material_table(CLASSES, device=stock.device)
        text = source(classes=len(CLASSES), vertex_steps=VERTICES_PER_METRE, tint_steps=TINT_AS_IS)
        self._kernels: Kernels = kernels_for(stock.device, text=text)

    def plan(self, count: int, *, views: Tensor | None = None) -> Plan:
        """Throw the dice for ``count`` pictures.

        Parameters
        ----------
        count : int
        views : (count,) int64 tensor, optional
            What they show; by chance if left out.
        """
        dice = self.dice.for_rows(count)
        golfers = dice.whole(len(self.stock))[:, 0]
        view = _views(dice) if views is None else views[:, None]
        clothes = clothing(dice, **self._odd)
        landmarks = self._landmarks(golfers, clothes=clothes)
        feet = landmarks[:, [LANDMARKS.index(f"ankle_{s}") for s in ("left", "right")], :2].mean(1)
        middle = _middle(landmarks, feet=feet)
        outline = self.stock["outline"][golfers] * clothes["scale"][:, None]
        seen = cameras(dice, views=view, middle=middle, outline=outline)
        rows = _rows(dice, seen=seen, middle=middle, feet=feet)
        figures = joined(
            main_figures(clothes, golfers=golfers),
            others(dice, cameras=seen, feet=feet, stock=len(self.stock)),
        )
        ground = rows[:, PICTURE.place("ground_a")][figures.who[:, 1].long()]
        thrown = dice.for_rows(len(figures.rows))
        return Plan(
            rows=rows,
            figures=figures,
            colours=colours(thrown, classes=CLASSES, ground=ground),
            **self._labels(golfers, seen=seen, landmarks=landmarks, view=view[:, 0], dice=dice),
        )

    def _landmarks(self, golfers: Tensor, *, clothes: dict[str, Tensor]) -> Tensor:
        """Landmarks with their clothes loosened and their proportions changed."""
        points = self.stock["landmarks"][golfers].clone()
        on_cloth = points[:, list(ON_CLOTH)]
        lower, normal = self.stock["cloth_lower"][golfers], self.stock["cloth_normal"][golfers]
        moved = on_cloth + normal * swell(clothes, points=on_cloth, lower=lower)
        points[:, list(ON_CLOTH)] = moved
        return points * clothes["scale"][:, None]

    def _labels(
        self, golfers: Tensor, *, seen: Cameras, landmarks: Tensor, view: Tensor, dice: Dice
    ) -> dict[str, Tensor]:
        """What a plan says about its pictures' golfers."""
        points, depth = seen.pixels(landmarks)
        edges = _edges(dice, points=points)
        flipped = dice.chance(WRONG_HAND_SHARE)[:, 0] & (view != REFUSED)
        low, high = edges[:, None, 0::2], edges[:, None, 1::2]
        within = ((points > low + 2.0) & (points < high - 2.0)).all(-1)
        readable = (view != REFUSED) & ~flipped
        return {
            "points": points,
            "cm_per_px": 100.0 * depth / seen.focal,
            "known": self.stock["known"][golfers] & within & readable[:, None],
            "view": view,
            "posed": self.stock["at_address"][golfers, 0],
            "flipped": flipped,
            "edges": edges,
        }

    def draw(self, plan: Plan) -> Tensor:
        """Pixels of planned pictures, ``(N, 3, SIZE, SIZE)``, 0 to 1."""
        count, stock, device = len(plan), self.stock, self.stock.device
        vertices, faces = stock.largest
        figures, who = len(plan.figures.rows), plan.figures.who
        on_camera = torch.empty(figures, vertices, 3, device=device)
        on_light = torch.empty_like(on_camera)
        side = SIZE * SAMPLES
        cells = torch.full((count, side, side), -1, dtype=torch.int64, device=device)
        lights = torch.full((count, LIGHT_SIDE, LIGHT_SIDE), -1, dtype=torch.int64, device=device)
        drawn = torch.empty(count, 3, SIZE, SIZE, device=device)
        self._kernels.run(
            "place", (vertices, figures),
            plan.rows, plan.figures.rows, who, stock["spans"], stock["vertices"],
            stock["normals"], stock["vertex_class"], self._swells, on_camera, on_light,
            vertices, SAMPLES, LIGHT_SIDE,
        )  # fmt: skip
        for seen, buffer, width, perspective in (
            (on_camera, cells, side, 1),
            (on_light, lights, LIGHT_SIDE, 0),
        ):
            self._kernels.run(
                "fill", (faces, figures),
                who, stock["spans"], stock["faces"], seen, buffer, vertices, width, width,
                perspective,
            )  # fmt: skip
        self._kernels.run(
            "shade", (SIZE * SIZE, count),
            plan.rows, plan.figures.rows, plan.colours, self._materials, who,
            plan.figures.of_slot(count), stock["spans"], stock["normals"], stock["faces"],
            stock["classes"], stock["colours"], on_camera, cells, lights, drawn,
            vertices, SIZE, SIZE, SAMPLES, LIGHT_SIDE,
        )  # fmt: skip
        return _finished(drawn, plan=plan)


def _views(dice: Dice) -> Tensor:
    """Which view each picture shows, ``(N, 1)``."""
    square = torch.where(dice.chance(0.5), FACE_ON, DOWN_THE_LINE)
    return torch.where(dice.chance(REFUSED_SHARE), REFUSED, square)


def _middle(landmarks: Tensor, *, feet: Tensor) -> Tensor:
    """Middle of golfer and club on the ground: between the feet and the hands."""
    hands = landmarks[:, LANDMARKS.index("grip_mid"), 1:2]
    return torch.cat([feet[:, :1], 0.5 * (hands + feet[:, 1:])], dim=1)


def _rows(dice: Dice, *, seen: Cameras, middle: Tensor, feet: Tensor) -> Tensor:
    """The pictures' rows."""
    sky = light(dice, middle=middle)
    return PICTURE.fill(
        {
            "rotation": seen.rotation.flatten(1),
            "translation": seen.translation,
            "focal": seen.focal,
            "centre": seen.centre,
            "distortion": seen.distortion,
            **{each.name: getattr(sky, each.name) for each in fields(Light)},
            **place(dice, cameras=seen, light=sky, feet=feet),
            **overlays(dice, cameras=seen, light=sky, feet=feet),
        }
    )


def _edges(dice: Dice, *, points: Tensor) -> Tensor:
    """Where the photograph ends, ``(N, 4)``: around the golfer, mostly beyond the cut-out."""
    body = points[:, : LANDMARKS.index("grip_mid")]
    low, high = body.min(dim=1).values, body.max(dim=1).values
    room = SIZE * torch.cat([dice.ratio(0.03, 0.5, columns=4)], dim=1)
    near = torch.stack(
        [low[:, 0] - room[:, 0], high[:, 0] + room[:, 1],
         low[:, 1] - room[:, 2], high[:, 1] + room[:, 3]], dim=1,
    )  # fmt: skip
    far = torch.tensor([[0.0, SIZE, 0.0, SIZE]], device=points.device)
    upright = dice.chance(0.5)  # a portrait picture ends at the sides, a landscape one does not
    sides = torch.cat([upright, upright, ~upright, ~upright], dim=1)
    ends = torch.where(sides & dice.chance(EDGE_SHARE), near, far.expand_as(near))
    return ends.round().clamp(0.0, SIZE)


def _finished(drawn: Tensor, *, plan: Plan) -> Tensor:
    """Pictures with what lies outside the photograph repeated, and some mirrored."""
    steps = torch.arange(SIZE, device=drawn.device)[None]
    edges = plan.edges.long()
    across = steps.clamp(edges[:, :1], edges[:, 1:2] - 1)
    down = steps.clamp(edges[:, 2:3], edges[:, 3:] - 1)
    across = torch.where(plan.flipped[:, None], across.flip(1), across)
    wide = across[:, None, None, :].expand(-1, 3, SIZE, -1)
    tall = down[:, None, :, None].expand(-1, 3, -1, SIZE)
    return drawn.gather(2, tall).gather(3, wide)
