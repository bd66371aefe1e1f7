"""The only place where adapters meet the ports they serve."""

from __future__ import annotations

import json
import webbrowser
from collections.abc import Mapping, Sequence
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Required, TypedDict, Unpack

from attrs import field, frozen
from threadpoolctl import threadpool_limits

from wellset.equipment import Club, find_club
from wellset.errors import InputError, OutputError
from wellset.figure.ground import GroundKind, GroundUse
from wellset.figure.views import Hand, View
from wellset.reports.compose import compose
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.terminal import terminal_text
from wellset.reports.writing import write_file, write_report
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment, Student
from wellset.services.landmark_file import LandmarkFile, landmark_file_text, read_landmarks
from wellset.services.ports import PictureReader, Progress, silent
from wellset.services.student_file import make_student
from wellset.services.weighing import PlateText
from wellset.standards import Standards, default_standards, load_standards
from wellset.units import UnitSystem, parse_angle, parse_length

if TYPE_CHECKING:
    from wellset.figure.still import Choice

UNITS = {"cm": UnitSystem.CENTIMETRES, "in": UnitSystem.INCHES}
DEMO = "demo"
ALL = "all"
"""Every kind of thing on the ground."""


@frozen(kw_only=True)
class Delivery:
    """What was written and what there is to print."""

    page: Path | None
    json_text: str
    terminal_text: str
    failures: tuple[OutputError, ...] = field(default=())


def picture_reader(wanted: Mapping[str, Choice] | None = None) -> PictureReader:
    """The reader of picture and video files that every door uses."""
    from wellset.vision.reader import Reader

    return Reader(choices=wanted)


def _text(path: str, *, what: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8-sig")  # editors on Windows add a mark
    except FileNotFoundError:
        why, fix = "there is no such file.", "Check its name and folder."
    except IsADirectoryError:
        why, fix = "it is a folder.", "Give the file inside it."
    except UnicodeDecodeError:
        why, fix = "it holds no text (UTF-8).", "Give a text file, saved as UTF-8."
    except OSError as error:
        why, fix = f"the system says: {error.strerror}.", "Give a file that you may read."
    raise InputError(f"The {what} file cannot be used", why=why, fix=fix, where=path)


def ground_use(ignore: Sequence[str], /, *, sheet_aimed: bool) -> GroundUse:
    """What a person types about the things on the ground.

    Raises
    ------
    InputError
        When a kind of thing is not known.
    """
    asked = [ignore] if isinstance(ignore, str) else ignore
    unknown = [name for name in asked if name != ALL and name not in tuple(GroundKind)]
    if unknown:
        raise InputError(
            "The thing on the ground to leave out is not known",
            why=f"it is {unknown[0]!r}.",
            fix=f"Say {', '.join(GroundKind)} or {ALL}.",
        )
    kinds = frozenset(GroundKind) if ALL in asked else frozenset(map(GroundKind, asked))
    return GroundUse(ignore=kinds, sheet_aimed=sheet_aimed)


def _hand(hand: str | None) -> Hand | None:
    if hand is None or hand in tuple(Hand):
        return Hand(hand) if hand else None
    raise InputError("The hand is not known", why=f"it is {hand!r}.", fix="Say right or left.")


def _student(path: str | Path | None, *, height: str | None) -> Student:
    text = _text(str(path), what="student") if path is not None else None
    where = str(path) if path is not None else "student"
    return make_student(height=height, file_text=text, where=where)


def _club(name: str, *, length: str | None, lie: str | float | None) -> Club:
    return find_club(
        name,
        length=parse_length(length, where="club length") if length is not None else None,
        lie=parse_angle(lie, where="club lie") if lie is not None else None,
    )


def standards_of(path: str | Path | None) -> Standards:
    """A coach's own standards, or the default ones."""
    if path is None:
        return default_standards()
    return load_standards(_text(str(path), what="standards"), where=str(path))


def _landmarks(path: str | Path | None, *, hand: Hand | None) -> LandmarkFile | None:
    if path is None:
        return None
    return read_landmarks(_text(str(path), what="landmark"), where=str(path), hand=hand)


def _plate(path: str | Path | None) -> PlateText | None:
    if path is None:
        return None
    return PlateText(text=_text(str(path), what="pressure plate"), where=str(path))


class Typed(TypedDict, total=False):
    """What a person types of a set-up; see :func:`wellset.assess`."""

    face_on: str | Path | None
    down_the_line: str | Path | None
    club: Required[str]
    height: str | None
    club_length: str | None
    club_lie: str | float | None
    shot: str | None
    student: str | Path | None
    standards: str | Path | None
    hand: str | None
    landmarks: str | Path | None
    ignore_ground: Sequence[str]
    sheet_aimed: bool
    phone_level: bool
    plate: str | Path | None
    start: Sequence[str]
    swing: Sequence[str]
    rendered_to_real: bool
    drawn_scene: bool


def typed_request(typed: Typed, /) -> tuple[Request, PictureReader]:
    """What to assess, and the reader that looks at its pictures.

    Raises
    ------
    WellsetError
        For a value or a file that is wrong.
    """
    chosen = _hand(typed.get("hand"))
    given = {
        View.FACE_ON: typed.get("face_on"),
        View.DOWN_THE_LINE: typed.get("down_the_line"),
    }
    paths = {view: str(path) for view, path in given.items() if path is not None}
    from wellset.bootstrap.videos import choices

    wanted = choices(paths, start=typed.get("start", ()), swing=typed.get("swing", ()))
    request = Request(
        pictures=paths,
        student=_student(typed.get("student"), height=typed.get("height")),
        club=_club(typed["club"], length=typed.get("club_length"), lie=typed.get("club_lie")),
        standards=standards_of(typed.get("standards")),
        shot=typed.get("shot"),
        hand=chosen,
        landmarks=_landmarks(typed.get("landmarks"), hand=chosen),
        rendered_to_real=typed.get("rendered_to_real", True),
        drawn_scene=typed.get("drawn_scene", False),
        ground=ground_use(
            typed.get("ignore_ground", ()), sheet_aimed=typed.get("sheet_aimed", False)
        ),
        phone_level=typed.get("phone_level", False),
        plate=_plate(typed.get("plate")),
    )
    return request, picture_reader(wanted)


def assess_request(*, progress: Progress = silent, **typed: Unpack[Typed]) -> Assessment:
    """Assess a set-up from what a person types; see :func:`wellset.assess`."""
    request, reader = typed_request(typed)
    with one_blas_thread():
        return assess_setup(request, reader=reader, progress=progress)


def one_blas_thread() -> threadpool_limits:
    """Hold the linear algebra to one thread, as a context.

    The estimate solves many systems of some 150 unknowns. Threads cannot help there, and on
    a busy machine they wait for each other: seconds instead of 70 ms.
    """
    return threadpool_limits(limits=1, user_api="blas")


def demo_inputs() -> Mapping[str, str]:
    """The built-in demo's options: an invented student and two pictures."""
    data: Mapping[str, str] = json.loads(
        resources.files("wellset").joinpath(DEMO, "demo.json").read_text(encoding="utf-8")
    )
    return data


def assess_demo(*, progress: Progress = silent) -> Assessment:
    """Assess the built-in invented student."""
    options = demo_inputs()
    with resources.as_file(resources.files("wellset").joinpath(DEMO)) as folder:
        return assess_request(
            face_on=folder / options["face_on"],
            down_the_line=folder / options["down_the_line"],
            club=options["club"],
            club_length=options["club_length"],
            student=folder / options["student"],
            progress=progress,
        )


def deliver(
    assessment: Assessment,
    *,
    folder: str | Path | None,
    json_path: str | Path | None,
    units: str = "cm",
) -> Delivery:
    """Write what was asked for; what cannot be written is reported, the rest is kept."""
    json_text = assessment_json_text(assessment)
    failures: list[OutputError] = []
    page: Path | None = None
    files: tuple[Path, ...] = ()
    if json_path is not None:
        try:
            write_file(Path(json_path), json_text.encode())
            files = (Path(json_path),)
        except OutputError as error:
            failures.append(error)
    if folder is not None:
        sightings = {view: p.sighting for view, p in assessment.pictures.items()}
        extra = {"landmarks.json": landmark_file_text(assessment.hand, sightings)}
        try:
            written = write_report(assessment, Path(folder), units=UNITS[units], extra=extra)
            page, files = written.page, (*files, *written.all)
        except OutputError as error:
            failures.append(error)
    report = compose(assessment, units=UNITS[units], with_drill_drawn=False)
    return Delivery(
        page=page,
        json_text=json_text,
        terminal_text=terminal_text(report, files=[str(path) for path in files]),
        failures=tuple(failures),
    )


def open_page(page: Path, /) -> None:
    """Show the page in the person's browser, where there is one."""
    webbrowser.open(page.resolve().as_uri())
