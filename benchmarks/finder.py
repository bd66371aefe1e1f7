"""How well a person finder does on real photographs.

    python -m benchmarks.finder FOLDER

``FOLDER`` holds photographs unpacked from the open packages that
``benchmarks/finder_pictures.yaml`` names; files are known by their SHA-256 and may lie
anywhere in it. Scores recall and false finds at an intersection over union of 0.5, beside the
share of pictures in which a person was found at all. A finder is any function from a picture
to boxes, so another one can be set beside the present one.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
import yaml
from attrs import evolve, frozen

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.own_finder import own_finder
from wellset.vision.crops import Box
from wellset.vision.general import general_model
from wellset.vision.person import clear_people, golfer_box, is_person
from wellset.vision.values import Pixels

LISTED: Final = Path(__file__).with_name("finder_pictures.yaml")
SAME: Final = 0.5
"""Intersection over union from which a find is the person; common practice, no source."""

LARGE_SHARE: Final = 0.3
"""A person at least this share of the picture's height is large: a golfer in a picture taken
to be measured is larger still."""

CLOSE: Final = 1.7
CLOSE_HEIGHT_PX: Final = 640
"""Height of a close-up against its person's, and its least height: people far off are blown up,
which makes them as soft as a bad phone picture."""

Finder = Callable[[Pixels], Sequence[Box]]
"""From a picture, (height, width, 3) uint8, to boxes of people, likeliest first."""


@frozen(kw_only=True)
class Person:
    """One person in a picture: box, and whether all of them shows."""

    box: Box
    whole: bool


@frozen(kw_only=True, eq=False)
class Photograph:
    """A picture with the people in it."""

    name: str
    pixels: Pixels
    people: tuple[Person, ...]
    ignore: tuple[Box, ...]


@frozen(kw_only=True)
class Score:
    """What a finder made of one photograph: which people it found, and how many phantoms."""

    found: tuple[bool, ...]
    false: int


def _standing_out(picture: Pixels, *, surely: bool) -> list[Box]:
    height, width = picture.shape[:2]
    bodies = clear_people(picture, model=general_model())
    boxes = [golfer_box(body) for body in bodies if is_person(body) or not surely]
    return [
        Box(
            left=max(box.left, 0.0),
            top=max(box.top, 0.0),
            right=min(box.right, width),
            bottom=min(box.bottom, height),
        )
        for box in boxes
    ]


def present_finder(picture: Pixels) -> list[Box]:
    """What the product looks at first: people who stand out."""
    return _standing_out(picture, surely=False)


def sure_finder(picture: Pixels) -> list[Box]:
    """Those of them who surely are people, which is asked of a second golfer."""
    return _standing_out(picture, surely=True)


def score(photograph: Photograph, finds: Sequence[Box]) -> Score:
    """Match finds to people, best overlap first; each person is found once.

    A find that is nobody's counts as false unless most of it lies in an ignored part. A
    second find of the same person is false, too.
    """
    pairs = sorted(
        (
            (find.overlap(person.box), i, j)
            for i, find in enumerate(finds)
            for j, person in enumerate(photograph.people)
        ),
        reverse=True,
    )
    used, found = set[int](), set[int]()
    for overlap, i, j in pairs:
        if overlap >= SAME and i not in used and j not in found:
            used.add(i)
            found.add(j)
    loose = [find for i, find in enumerate(finds) if i not in used]
    false = sum(not _mostly_in(find, photograph.ignore) for find in loose)
    return Score(found=tuple(j in found for j in range(len(photograph.people))), false=false)


def _mostly_in(find: Box, parts: Sequence[Box]) -> bool:
    for part in parts:
        across = min(find.right, part.right) - max(find.left, part.left)
        down = min(find.bottom, part.bottom) - max(find.top, part.top)
        if min(across, down) > 0 and across * down > 0.5 * find.width * find.height:
            return True
    return False


def _box(numbers: Sequence[float]) -> Box:
    left, top, right, bottom = numbers
    return Box(left=left, top=top, right=right, bottom=bottom)


def _pixels(path: Path, frame: int | None) -> Pixels:
    if frame is None:
        read = cv2.imread(str(path))
    else:
        film = cv2.VideoCapture(str(path))
        # counted frame by frame: seeking is not exact in every container
        for _ in range(frame):
            film.grab()
        read = film.read()[1]
    if read is None:
        raise SystemExit(f"{path} can't be read as a picture.")
    return np.ascontiguousarray(np.asarray(read, dtype=np.uint8)[:, :, ::-1])


def read_photographs(folder: Path, listed: Sequence[Mapping[str, Any]]) -> Iterator[Photograph]:
    """Those of the listed pictures that lie somewhere in a folder; the others are named."""
    paths = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    by_hash = {hashlib.sha256(path.read_bytes()).hexdigest(): path for path in paths}
    for entry in listed:
        path = by_hash.get(entry["sha256"])
        if path is None:
            print(f"missing: {entry['name']} (from {entry['from']})")
            continue
        yield Photograph(
            name=entry["name"],
            pixels=_pixels(path, entry.get("frame")),
            people=tuple(
                Person(box=_box(each["box"]), whole=each["whole"])
                for each in entry.get("people", ())
            ),
            ignore=tuple(_box(numbers) for numbers in entry.get("ignore", ())),
        )


def close_ups(photographs: Sequence[Photograph]) -> list[Photograph]:
    """Every whole person alone in a picture as large as a golfer is in one to be measured."""
    found = []
    for each in photographs:
        height, width = each.pixels.shape[:2]
        for person in each.people:
            if not person.whole:
                continue
            (x, y), half = person.box.centre, CLOSE * person.box.height / 2
            left, top = max(round(x - 0.75 * half), 0), max(round(y - half), 0)
            right, bottom = min(round(x + 0.75 * half), width), min(round(y + half), height)
            part = each.pixels[top:bottom, left:right]
            factor = max(1.0, CLOSE_HEIGHT_PX / part.shape[0])
            pixels = cv2.resize(part, None, fx=factor, fy=factor, interpolation=cv2.INTER_CUBIC)
            found.append(
                Photograph(
                    name=f"{each.name} at {round(x)}, {round(y)}",
                    pixels=np.asarray(pixels, dtype=np.uint8),
                    people=tuple(
                        evolve(one, box=_moved(one.box, by=(left, top), factor=factor))
                        for one in [person, *(o for o in each.people if o is not person)]
                    ),
                    ignore=(),
                )
            )
    return found


def _moved(box: Box, *, by: tuple[int, int], factor: float) -> Box:
    return Box(
        left=factor * (box.left - by[0]),
        top=factor * (box.top - by[1]),
        right=factor * (box.right - by[0]),
        bottom=factor * (box.bottom - by[1]),
    )


def close_report(photographs: Sequence[Photograph], finder: Finder) -> str:
    """Recall of the person that each close-up is of; neighbours don't count."""
    scores = [score(each, finder(each.pixels)) for each in photographs]
    missed = [p.name for p, s in zip(photographs, scores, strict=True) if not s.found[0]]
    return "\n".join(
        [
            f"  whole people in close-up:             {_share([s.found[0] for s in scores])}",
            f"  false finds in close-ups:             {sum(s.false for s in scores)}",
            *(f"  missed in close-up: {name}" for name in missed),
        ]
    )


def _share(flags: Sequence[bool]) -> str:
    return f"{sum(flags):3d} of {len(flags):3d}" + (
        f" ({100 * sum(flags) / len(flags):.0f} %)" if flags else ""
    )


def report(photographs: Sequence[Photograph], finder: Finder, *, title: str) -> str:
    """Recall by size and wholeness, false finds, and each picture that went wrong."""
    scores = [score(each, finder(each.pixels)) for each in photographs]
    whole_large, whole_small, part = list[bool](), list[bool](), list[bool]()
    for each, found in zip(photographs, scores, strict=True):
        for person, hit in zip(each.people, found.found, strict=True):
            large = person.box.height >= LARGE_SHARE * each.pixels.shape[0]
            (part if not person.whole else whole_large if large else whole_small).append(hit)
    peopled = [s for p, s in zip(photographs, scores, strict=True) if p.people]
    empty = [s for p, s in zip(photographs, scores, strict=True) if not p.people]
    wrong = [
        f"  {p.name}: found {sum(s.found)} of {len(s.found)}, false {s.false}"
        for p, s in zip(photographs, scores, strict=True)
        if s.false or not all(s.found)
    ]
    return "\n".join(
        [
            f"{title}: {len(photographs)} photographs, intersection over union {SAME}",
            f"  whole people, from {LARGE_SHARE:.0%} of the height: {_share(whole_large)}",
            f"  whole people, smaller:                {_share(whole_small)}",
            f"  people cut off or half hidden:        {_share(part)}",
            f"  somebody found where somebody is:     {_share([any(s.found) for s in peopled])}",
            f"  false finds in pictures with people:  {sum(s.false for s in peopled)}",
            f"  false finds in {len(empty)} pictures of nobody:  {sum(s.false for s in empty)}",
            *wrong,
        ]
    )


def main() -> None:
    """Score the present finder, and one made of our own network alone."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("folder", type=Path)
    options = parser.parse_args()
    listed = yaml.safe_load(LISTED.read_text(encoding="utf-8"))["pictures"]
    photographs = list(read_photographs(options.folder, listed))
    if not photographs:
        sys.exit(f"{options.folder} holds none of the listed pictures.")
    near = close_ups(photographs)
    print(report(photographs, present_finder, title="present finder, who stands out"))
    print(close_report(near, present_finder))
    print(report(photographs, sure_finder, title="present finder, surely people"))
    print(close_report(near, sure_finder))
    print(report(photographs, own_finder, title="our own landmark network alone"))
    print(close_report(near, own_finder))


if __name__ == "__main__":
    main()
