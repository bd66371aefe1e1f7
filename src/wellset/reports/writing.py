"""Writing a report's files: each whole or not at all, and what was written stays."""

from __future__ import annotations

import errno
import os
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

from attrs import frozen

from wellset.errors import OutputError
from wellset.figure.views import View
from wellset.reports.compose import compose
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.model import ReportModel
from wellset.reports.page import page_html, stand_pictures
from wellset.reports.paint import jpeg_bytes, painted
from wellset.services.assessment import Assessment
from wellset.units import UnitSystem

PAGE: Final = "report.html"
DATA: Final = "assessment.json"
_FULL: Final = frozenset({errno.ENOSPC, errno.EDQUOT})


@frozen(kw_only=True, eq=False)
class Tried:
    """What became of several files.

    Parameters
    ----------
    files : tuple of str
        Those that were written, in order.
    failures : tuple of OutputError
        Why the others were not.
    """

    files: tuple[str, ...]
    failures: tuple[OutputError, ...]

    def page(self, path: Path | None, /) -> Path | None:
        """The page, if it was asked for and written."""
        return path if path is not None and str(path) in self.files else None


def write_each(wanted: Iterable[tuple[Path, bytes]], /) -> Tried:
    """Write what can be written; one that fails doesn't stop the others."""
    files: list[str] = []
    failures: list[OutputError] = []
    for path, data in wanted:
        try:
            write_file(path, data)
            files.append(str(path))
        except OutputError as error:
            failures.append(error)
    return Tried(files=tuple(files), failures=tuple(failures))


@frozen(kw_only=True, eq=False)
class WrittenFiles:
    """Where everything went, and the report that was written.

    Parameters
    ----------
    folder : Path
    page, data : Path
        ``report.html`` and ``assessment.json``.
    pictures : mapping of view to Path
        The marked-up pictures.
    standing : mapping of view to Path
        The same pictures with the plan drawn over them.
    extra : tuple of Path
        Further files, as asked for.
    report : ReportModel
    """

    folder: Path
    page: Path
    data: Path
    pictures: Mapping[View, Path]
    standing: Mapping[View, Path]
    extra: tuple[Path, ...]
    report: ReportModel

    @property
    def all(self) -> tuple[Path, ...]:
        """Every file written, the page first."""
        return (self.page, self.data, *self.pictures.values(), *self.standing.values(), *self.extra)


def _output_error(error: OSError, where: Path) -> OutputError:
    if error.errno in _FULL:
        why, fix = "the disk is full.", "Make room, or name a folder on another disk."
    elif isinstance(error, PermissionError):
        why = "there is no permission to write there."
        fix = "Name a folder of your own with --out, or change its permissions."
    elif isinstance(error, FileExistsError | NotADirectoryError):
        why, fix = "a file of that name is in the way.", "Name another folder with --out."
    else:
        why = f"the system says: {(error.strerror or str(error)).lower()}."
        fix = "Name another folder with --out."
    return OutputError("The result could not be written", why=why, fix=fix, where=str(where))


def write_file(path: Path, content: str | bytes, /) -> Path:
    """Write a file in one step: beside its place first, then moved there.

    Raises
    ------
    OutputError
        No permission, a full disk, or something in the way.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    temporary = ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        Path(temporary).chmod(0o644)
        Path(temporary).replace(path)
    except OSError as error:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        raise _output_error(error, path) from error
    return path


def write_report(
    assessment: Assessment,
    folder: Path | str,
    /,
    *,
    units: UnitSystem = UnitSystem.CENTIMETRES,
    extra: Mapping[str, str] | None = None,
) -> WrittenFiles:
    """Write page, data, marked-up pictures and further texts into a folder.

    The data are written first, so that the numbers survive whatever fails later.

    Parameters
    ----------
    assessment : Assessment
    folder : Path or str
        Made when it does not exist. Files of the same names are replaced.
    units : UnitSystem
        The coach's unit of length in the page.
    extra : mapping of file name to text, optional
        Written as they are, e.g. the landmark file.

    Raises
    ------
    OutputError
        When something cannot be written; what was written before stays.
    """
    place = Path(folder)
    data = write_file(place / DATA, assessment_json_text(assessment))
    more = tuple(write_file(place / name, text) for name, text in (extra or {}).items())
    report = compose(assessment, units=units)
    pixels = {view: picture.rgb for view, picture in assessment.pictures.items()}
    page = write_file(place / PAGE, page_html(report, pixels=pixels))
    pictures = {
        View(p.view): write_file(
            place / f"{p.view}.jpg", jpeg_bytes(painted(p.drawing, pixels[View(p.view)]))
        )
        for p in report.pictures
    }
    standing = {
        View(p.view): write_file(
            place / f"{p.view}-stand-here.jpg",
            jpeg_bytes(painted(p.plan, pixels[View(p.view)])),
        )
        for p in stand_pictures(report)
        if p.plan is not None
    }
    return WrittenFiles(
        folder=place,
        page=page,
        data=data,
        pictures=pictures,
        standing=standing,
        extra=more,
        report=report,
    )
