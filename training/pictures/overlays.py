"""What is drawn over the picture: sticks, fences, nets, clutter, and blocks in front."""

from __future__ import annotations

from typing import Final

import torch
from torch import Tensor

from training.pictures.cameras import SIZE, Cameras
from training.pictures.dice import Dice
from training.pictures.light import Light
from training.pictures.rows import BLOCKS, LINES

STICKS: Final = ("ff5a1e", "f2e21e", "ff2f4f", "f4f4f4", "2fd0ff")
FENCES: Final = ("6d5b45", "8a8a88", "3a332b", "d0cdc4")
BLOCKS_IN_FRONT: Final = 3


class Lines:
    """Collects line segments of N pictures for their rows."""

    def __init__(self, dice: Dice, *, cameras: Cameras) -> None:
        self._dice = dice
        self._cameras = cameras
        self._rows: list[Tensor] = []

    def in_the_world(
        self,
        start: Tensor,
        end: Tensor,
        *,
        radius: Tensor,
        colour: Tensor,
        front: Tensor,
        on: Tensor,
    ) -> None:
        """A bar between two world points ``(N, 3)`` of some thickness (radius in metres)."""
        places, depth = self._cameras.pixels(torch.stack([start, end], dim=1))
        thick = (radius * self._cameras.focal / depth.mean(dim=1, keepdim=True)).clamp(0.2, 30.0)
        seen = on & (depth > 0.3).all(dim=1, keepdim=True)
        self._add(places.flatten(1), thick=thick, colour=colour, front=front, on=seen)

    def in_the_picture(self, *, colour: Tensor, front: Tensor, on: Tensor) -> None:
        """A line anywhere in the picture."""
        ends = self._dice.even(0.0, SIZE, columns=4)
        thick = self._dice.ratio(0.37, 9.0)
        self._add(ends, thick=thick, colour=colour, front=front, on=on)

    def _add(
        self, ends: Tensor, *, thick: Tensor, colour: Tensor, front: Tensor, on: Tensor
    ) -> None:
        thick = torch.where(on, thick, torch.zeros_like(thick))
        self._rows.append(torch.cat([ends, thick, colour, front.float()], dim=1))

    def row(self) -> Tensor:
        """All segments, filled up with empty ones, ``(N, 9 LINES)``."""
        empty = self._dice.flat(columns=9 * (LINES - len(self._rows)))
        return torch.cat([*self._rows, empty], dim=1)


def overlays(dice: Dice, *, cameras: Cameras, light: Light, feet: Tensor) -> dict[str, Tensor]:
    """The overlays' share of the pictures' rows.

    Parameters
    ----------
    dice : Dice
    cameras : Cameras
    light : Light
    feet : (N, 2) tensor
        Between the golfer's ankles, metres.
    """
    lines = Lines(dice, cameras=cameras)
    _sticks(lines, dice=dice, cameras=cameras, light=light)
    behind = _Screen(dice, cameras=cameras, feet=feet)
    _fence(lines, dice=dice, screen=behind, light=light)
    _net(lines, dice=dice, screen=behind)
    for _ in range(2):
        lines.in_the_picture(
            colour=dice.any_colour(), front=dice.chance(0.25), on=dice.chance(0.25)
        )
    return {"lines": lines.row(), "blocks": _blocks(dice)}


def _sticks(lines: Lines, *, dice: Dice, cameras: Cameras, light: Light) -> None:
    """A stick along the toes, one to the ball, an upright one, and one lying about."""
    low = dice.flat(0.01)
    never = dice.chance(0.0)
    colour = [
        dice.mostly(dice.one_of(STICKS), dice.any_colour(), share=0.8) * light.usual
        for _ in range(4)
    ]
    x, y, turn = dice.normal(0.12), dice.even(0.05, 0.35), 0.6 * dice.normal(0.02)
    ends = torch.cat([x - 0.6, y - turn, low], dim=1), torch.cat([x + 0.6, y + turn, low], dim=1)
    thin = dice.flat(0.0045)
    lines.in_the_world(*ends, radius=thin, colour=colour[0], front=never, on=dice.chance(0.6))
    x, y = dice.normal(0.05), dice.even(0.02, 0.2)
    far = torch.cat([x + dice.normal(0.03), y + 1.2, low], dim=1)
    near = torch.cat([x, y, low], dim=1)
    lines.in_the_world(near, far, radius=thin, colour=colour[1], front=never, on=dice.chance(0.3))
    foot = torch.cat([dice.normal(0.03), dice.even(-0.15, -0.02), dice.flat()], dim=1)
    top = foot + torch.cat([dice.normal(0.02, columns=2), dice.flat(1.15)], dim=1)
    front = cameras.looking[:, 1:] > 0.7  # face-on, the upright stick stands before the golfer
    lines.in_the_world(foot, top, radius=thin, colour=colour[2], front=front, on=dice.chance(0.2))
    loose = [torch.cat([dice.normal(1.2), dice.even(-0.6, 2.0), low], dim=1) for _ in range(2)]
    thick = dice.flat(0.006)
    lines.in_the_world(*loose, radius=thick, colour=colour[3], front=never, on=dice.chance(0.15))


class _Screen:
    """An upright plane behind the golfer, across the view."""

    def __init__(self, dice: Dice, *, cameras: Cameras, feet: Tensor) -> None:
        self._feet = feet
        self._away = cameras.looking
        turn = dice.normal(0.1)  # hardly anything stands exactly square to a camera
        ahead = torch.cat([-self._away[:, 1:], self._away[:, :1]], dim=1)
        self._across = ahead * torch.cos(turn) + self._away * torch.sin(turn)

    def at(self, across: Tensor | float, *, behind: Tensor, height: Tensor | float) -> Tensor:
        """World point ``(N, 3)`` some metres across, behind the golfer and up."""
        level = self._feet + behind * self._away + across * self._across
        return torch.cat([level, torch.zeros_like(behind) + height], dim=1)


def _fence(lines: Lines, *, dice: Dice, screen: _Screen, light: Light) -> None:
    """Two rails and five posts."""
    on, never = dice.chance(0.35), dice.chance(0.0)
    behind, thick, top = dice.even(2.5, 7.0), dice.even(0.02, 0.06), dice.even(0.8, 1.4)
    colour = dice.one_of(FENCES) * (light.ambient + 0.4 * light.sun)
    for share in (0.45, 0.95):
        ends = [screen.at(side, behind=behind, height=share * top) for side in (-9.0, 9.0)]
        lines.in_the_world(*ends, radius=0.7 * thick, colour=colour, front=never, on=on)
    for post in range(5):
        ends = [screen.at(1.8 * post - 3.6, behind=behind, height=height) for height in (0.0, top)]
        lines.in_the_world(*ends, radius=thick, colour=colour, front=never, on=on)


def _net(lines: Lines, *, dice: Dice, screen: _Screen) -> None:
    """Six upright and five level cords; one net in four hangs near, as in a hitting bay."""
    on, never, thin = dice.chance(0.25), dice.chance(0.0), dice.flat(0.004)
    behind = dice.mostly(dice.even(0.6, 1.5), dice.even(1.5, 5.0), share=0.25)
    colour, mesh = dice.any_colour(0.02, 0.6), dice.even(0.1, 0.4)
    for cord in range(6):
        across = (cord - 2.5) * 2.0 * mesh
        ends = [screen.at(across, behind=behind, height=height) for height in (0.0, 3.3)]
        lines.in_the_world(*ends, radius=thin, colour=colour, front=never, on=on)
    for cord in range(5):
        height = 0.2 + cord * 2.0 * mesh
        ends = [screen.at(side, behind=behind, height=height) for side in (-5.0, 5.0)]
        lines.in_the_world(*ends, radius=thin, colour=colour, front=never, on=on)


def _blocks(dice: Dice) -> Tensor:
    """Plain rectangles: three behind the golfer (bags, signs) and three in front of him."""
    rows = []
    for block in range(BLOCKS):
        front = block >= BLOCKS - BLOCKS_IN_FRONT
        half = dice.ratio(5.0, 34.0 if front else 70.0, columns=2)
        on = dice.chance(0.15 if front else 0.22)
        half = torch.where(on, half, torch.full_like(half, -1.0))
        turn = dice.mostly(dice.flat(), dice.even(-0.8, 0.8), share=0.6)
        middle = dice.even(0.0, SIZE, columns=2)
        rows += [middle, half, turn, dice.any_colour(), dice.flat(float(front))]
    return torch.cat(rows, dim=1)
