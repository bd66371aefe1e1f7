"""Scenes with exact truth: reading them, and which half may be tuned on."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypedDict

from attrs import frozen


class SetUp(TypedDict):
    """Arguments of :func:`wellset.assess`."""

    face_on: str
    down_the_line: str
    club: str
    height: str
    club_length: str
    club_lie: str


@frozen(kw_only=True)
class Scene:
    """One folder with two pictures and a ``truth.json``."""

    folder: Path
    truth: dict[str, Any]

    @property
    def name(self) -> str:
        """The scene's name."""
        return str(self.truth["name"])

    @property
    def tuned_on(self) -> bool:
        """Whether constants may have been chosen while looking at it.

        Decided once, by the name alone: the first hexadecimal digit of its SHA-256 is even.
        """
        return int(hashlib.sha256(self.name.encode()).hexdigest()[0], 16) % 2 == 0

    @property
    def near_square(self) -> bool:
        """Whether the cameras are nearly square (names that don't end in ``_2x``)."""
        return not self.name.rsplit("_", 1)[-1].startswith("2")

    @property
    def sticks(self) -> int:
        """Sticks lying on the ground."""
        ground = self.truth.get("on_the_ground", {})
        return sum(key in ground for key in ("target_stick", "cross_stick"))

    @property
    def all_visible(self) -> bool:
        """Whether every point of body, club and ball lies inside both pictures."""
        return all(
            0.0 <= x <= view["width"] and 0.0 <= y <= view["height"]
            for view in self.truth["views"].values()
            for x, y in view["landmarks_px"].values()
        )

    @property
    def options(self) -> SetUp:
        """What a coach would type for it."""
        truth = self.truth
        return {
            "face_on": str(self.folder / "face_on.jpg"),
            "down_the_line": str(self.folder / "down_the_line.jpg"),
            "club": str(truth["club"]),
            "height": f"{truth['stature_m']:.4f} m",
            "club_length": f"{truth['club_length_m']:.4f} m",
            "club_lie": str(truth["club_lie_deg"]),
        }


def read_scenes(folder: Path, /) -> Iterator[Scene]:
    """All scenes of a folder, by name."""
    for path in sorted(folder.glob("*/truth.json")):
        if (path.parent / "down_the_line.jpg").exists():
            yield Scene(folder=path.parent, truth=json.loads(path.read_text()))
