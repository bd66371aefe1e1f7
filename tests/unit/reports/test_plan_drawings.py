"""The drawings of a plan as files: sizes as they would print."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import wellset
from wellset.reports.plan_drawings import file_stem, plan_drawings
from wellset.services.plan_bag import BagPlan


@pytest.fixture(scope="module")
def bag() -> BagPlan:
    return wellset.prescribe(height="178 cm", clubs=["driver", "sand wedge"])


def size_mm(svg: str) -> tuple[float, float]:
    root = ET.fromstring(svg)  # noqa: S314 - our own
    width, height = (re.fullmatch(r"([\d.]+)mm", root.attrib[n]) for n in ("width", "height"))
    assert width is not None
    assert height is not None
    return float(width[1]), float(height[1])


def test_every_club_has_three_drawings_and_the_bag_one(bag: BagPlan) -> None:
    names = {
        f"{club}-{side}.svg"
        for club in ("driver", "sand-wedge")
        for side in ("front", "side", "from-above")
    }
    assert set(plan_drawings(bag)) == {*names, "ladder.svg"}


@pytest.mark.parametrize(("name", "scale"), [("from-above", 1.0), ("front", 0.1), ("side", 0.1)])
def test_millimetres_of_paper_are_millimetres_of_ground_times_the_scale(
    bag: BagPlan, name: str, scale: float
) -> None:
    svg = plan_drawings(bag)[f"driver-{name}.svg"]
    box = re.search(r'viewBox="\S+ \S+ (\S+) (\S+)"', svg)
    assert box is not None
    # units of the drawing are centimetres
    assert size_mm(svg) == pytest.approx([10 * scale * float(b) for b in box.groups()])


def test_the_shoe_from_above_prints_as_long_as_it_is(bag: BagPlan) -> None:
    svg = plan_drawings(bag)["driver-from-above.svg"]
    (path, _) = re.findall(r'<path d="([^"]+Z)" fill', svg)
    outline = np.array([[float(v) for v in p.split()] for p in re.split("[ML]", path[1:-1])])
    longest = max(float(np.hypot(*(outline - p).T).max()) for p in outline)
    assert longest == pytest.approx(100 * bag.plans[0].scene.skeleton.shoe_length, abs=0.03)


def test_a_name_makes_a_safe_file() -> None:
    assert file_stem("3/4 Wedge: \N{LATIN SMALL LETTER E WITH ACUTE}../x") == "3-4-wedge-x"
    assert file_stem("\N{HEBREW LETTER ALEF}") == "club"
