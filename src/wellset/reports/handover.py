"""Everything of one student as one zip archive that reads without the program.

It is made piece by piece, so that clips of hundreds of megabytes never lie in memory or on
the disk a second time. Nothing that a person typed becomes part of a path.
"""

from __future__ import annotations

import io
import json
import re
import unicodedata
import zipfile
from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Final

from attrs import asdict, frozen

from wellset.errors import MissingError
from wellset.figure.views import View
from wellset.lessons import Lesson, SetUp, Shown, StudentCard
from wellset.measures import MEASURES
from wellset.reports.kept import at_addresses
from wellset.reports.measure_table import csv_chunks
from wellset.reports.page import environment, report_css
from wellset.reports.plan_page import plan_css
from wellset.services.export import Everything, LessonWhole
from wellset.services.lesson_work import picture_address
from wellset.services.measure_rows import rows_of_setups
from wellset.services.media_store import MediaStore

_PIECE: Final = 1 << 18
_ENDINGS: Final = {
    "image/jpeg": "jpg",
    "image/png": "png",
    "image/webp": "webp",
    "image/heic": "heic",
    "video/mp4": "mp4",
    "video/quicktime": "mov",
}


@frozen(kw_only=True, eq=False)
class SetUpRow:
    """One set-up in the list of contents.

    Parameters
    ----------
    setup : SetUp
    folder : str
        Where its files lie, from the first page.
    first : str
        What to change first.
    files : tuple of str
        Names in the folder.
    missing : tuple of str
        Views whose picture is gone from the media store.
    """

    setup: SetUp
    folder: str
    first: str
    files: tuple[str, ...]
    missing: tuple[str, ...]


@frozen(kw_only=True, eq=False)
class LessonRow:
    """One lesson in the list of contents."""

    lesson: Lesson
    setups: tuple[SetUpRow, ...]


def folder_name(card: StudentCard, /) -> str:
    """A name for the archive that every system takes: letters, digits and dashes."""
    plain = unicodedata.normalize("NFKD", card.name).encode("ascii", "ignore").decode()
    word = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60]
    return f"wellset-{word or 'student'}"


def handover(everything: Everything, *, media: MediaStore) -> Iterator[bytes]:
    """The archive, piece by piece.

    Parameters
    ----------
    everything : Everything
    media : MediaStore
        A picture that is gone from it is named on the first page and left out.
    """
    sink = _Sink()
    root = folder_name(everything.student)
    with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as archive:
        lessons: list[LessonRow] = []
        for number, whole in enumerate(everything.lessons, start=1):
            folder = f"lessons/{number:04d}-{whole.lesson.starts_at[:10]}"
            rows = []
            for k, setup in enumerate(whole.setups, start=1):
                place = f"{folder}/set-up-{k:02d}"
                files = []
                pieces = _setup_files(setup, everything=everything, media=media)
                for name, content in chain(pieces, _beside(setup, whole=whole, media=media)):
                    files.append(name)
                    yield from _add(archive, f"{root}/{place}/{name}", content=content, sink=sink)
                rows.append(_setup_row(setup, folder=place, files=files))
            lessons.append(LessonRow(lesson=whole.lesson, setups=tuple(rows)))
        for name, text in _front(everything, lessons).items():
            yield from _add(archive, f"{root}/{name}", content=text, sink=sink)
    yield sink.taken()


class _Sink(io.RawIOBase):
    """Where the archive writes; what was written is taken away at once."""

    def __init__(self) -> None:
        super().__init__()
        self._pieces: list[bytes] = []

    def writable(self) -> bool:
        return True

    def write(self, data: object, /) -> int:
        piece = bytes(memoryview(data))  # type: ignore[arg-type]
        self._pieces.append(piece)
        return len(piece)

    def taken(self) -> bytes:
        whole = b"".join(self._pieces)
        self._pieces.clear()
        return whole


@frozen(kw_only=True)
class _Media:
    """A file of the media store, to be copied."""

    pieces: Iterator[bytes]


def _add(
    archive: zipfile.ZipFile, name: str, *, content: str | _Media, sink: _Sink
) -> Iterator[bytes]:
    info = zipfile.ZipInfo(name)
    info.external_attr = 0o644 << 16
    if isinstance(content, str):
        info.compress_type = zipfile.ZIP_DEFLATED
        archive.writestr(info, content)
        yield sink.taken()
        return
    info.compress_type = zipfile.ZIP_STORED  # pictures and clips are compressed already
    with archive.open(info, "w", force_zip64=True) as file:
        for piece in content.pieces:
            file.write(piece)
            yield sink.taken()
    yield sink.taken()


def _setup_files(
    setup: SetUp, *, everything: Everything, media: MediaStore
) -> Iterator[tuple[str, str | _Media]]:
    addresses = {}
    for view, shown in setup.shown.items():
        yield from _media(media, shown.media, name=_original(view, shown))
        if shown.preview:
            upright = f"{view.value.replace('_', '-')}-upright.jpg"
            addresses[picture_address(setup.id, view, shown=shown)] = upright
            yield from _media(media, shown.preview, name=upright)
    if setup.landmarks:
        yield "landmarks.json", setup.landmarks
    if setup.assessment:
        yield "assessment.json", setup.assessment
    if setup.findings:
        yield (
            "findings.html",
            environment()
            .get_template("handover-findings.html")
            .render(
                css=report_css(),
                setup=setup,
                student=everything.student,
                findings=at_addresses(setup.findings, addresses),
            ),
        )


def _beside(
    setup: SetUp, *, whole: LessonWhole, media: MediaStore
) -> Iterator[tuple[str, str | _Media]]:
    """What lies beside the pictures: a plate's readings, the comparison with the plan."""
    if setup.how.plate is not None:
        yield from _media(media, setup.how.plate.media, name="plate.csv")
    if setup.id in whole.comparisons:
        yield "check.json", whole.comparisons[setup.id]


def _original(view: View, shown: Shown) -> str:
    return f"{view.value.replace('_', '-')}.{_ENDINGS.get(shown.kind, 'bin')}"


def _media(media: MediaStore, digest: str, *, name: str) -> Iterator[tuple[str, _Media]]:
    try:
        place = media.path(digest)
    except MissingError:
        return

    def pieces() -> Iterator[bytes]:
        with place.open("rb") as file:
            yield from iter(lambda: file.read(_PIECE), b"")

    yield name, _Media(pieces=pieces())


def _setup_row(setup: SetUp, *, folder: str, files: list[str]) -> SetUpRow:
    first = setup.summary.first_change
    return SetUpRow(
        setup=setup,
        folder=folder,
        first=MEASURES[first].title if first in MEASURES else "",
        files=tuple(files),
        missing=tuple(
            view.words for view, shown in setup.shown.items() if _original(view, shown) not in files
        ),
    )


def _front(everything: Everything, lessons: list[LessonRow]) -> Mapping[str, str]:
    """The files at the top of the folder."""
    card = everything.student
    files = {
        "student.json": _json({**asdict(card), "file": json.loads(card.file)}),
        "bag.json": _json(asdict(everything.bag)),
        "lessons.json": _json([_lesson(row) for row in lessons]),
        "measures.csv": _measures(everything),
        "index.html": environment()
        .get_template("handover.html")
        .render(css=report_css(), everything=everything, lessons=lessons, views=tuple(View)),
    }
    if everything.plan is not None:
        files["plan.json"] = everything.plan.document
        files["plan.html"] = (
            environment()
            .get_template("handover-plan.html")
            .render(css=report_css() + plan_css(), student=card, plan=everything.plan)
        )
    return files


def _json(data: object) -> str:
    return json.dumps(data, indent=1, ensure_ascii=False) + "\n"


def _lesson(row: LessonRow) -> dict[str, object]:
    return {
        **asdict(row.lesson),
        "set_ups": [
            {
                "id": each.setup.id,
                "folder": each.folder,
                "taken_at": each.setup.taken_at,
                "club": each.setup.club,
                "shot": each.setup.shot,
                "how_taken": each.setup.how.as_data(),
                "state": each.setup.state.value,
                "refusal": each.setup.refusal,
                "standards": each.setup.standards,
                "assessed_at": each.setup.assessed_at,
                "pictures": {view.value: asdict(s) for view, s in each.setup.shown.items()},
                "files": list(each.files),
            }
            for each in row.setups
        ],
    }


def _measures(everything: Everything) -> str:
    """The table of measures, as `wellset measures` writes it for one student."""
    setups = (setup for whole in everything.lessons for setup in whole.setups)
    return b"".join(csv_chunks(rows_of_setups(setups))).decode()
