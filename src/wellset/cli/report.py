"""``wellset report``: the lesson sheet, and the coach's."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.assess import add_sources, assess_as_asked
from wellset.cli.talk import command, plain, progress, say
from wellset.errors import InputError

if TYPE_CHECKING:
    from wellset.bootstrap.report import Source
    from wellset.cli.talk import Commands

SHEET_FILES = {"student": "lesson-sheet.pdf", "coach": "coach-sheet.pdf"}
"""Where a sheet is written unless --out says otherwise."""


def add(commands: Commands) -> None:
    """Add the command."""
    report = command(commands, "report", help_="make a sheet to take home (PDF or page)")
    report.add_argument(
        "--from", metavar="PATH", dest="kept", help="an assessment already written, or its folder"
    )
    add_sources(report, club_needed=False)
    report.add_argument(
        "--for", choices=("student", "coach"), default="student", dest="reader", help="whose sheet"
    )
    report.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper to print on")
    report.add_argument("--units", choices=("cm", "in"), default="cm", help="units on the sheet")
    report.add_argument("--plan", metavar="FILE", help="a plan with this club (JSON)")
    report.add_argument("--name", metavar="TEXT", default="", help="the student's name")
    report.add_argument("--day", metavar="DAY", default="", help="of the lesson: 2026-11-25")
    report.add_argument("--next", metavar="DAY", default="", help="of the next lesson: 2026-12-09")
    report.add_argument("--note", metavar="TEXT", default="", help="your words to the student")
    report.add_argument("--out", metavar="FILE", help="file to write; .html makes a page")
    report.add_argument("--quiet", action="store_true", help="no progress on standard error")
    report.add_argument("--debug", action="store_true", help="show the traceback of an error")
    report.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.report import Wanted, write_sheet_file
    from wellset.reports.lesson_sheet import LessonFacts

    wanted = Wanted(
        reader=options.reader,
        paper=options.paper,
        units=options.units,
        facts=LessonFacts(
            name=options.name, day=options.day, next_day=options.next, note=options.note
        ),
    )
    source = _source(options)
    for view in source.missing:
        say(
            f"the {view.words} picture is not beside the assessment: a body is drawn in its place. "
            f"Give --{view.value.replace('_', '-')} to show it."
        )
    path = write_sheet_file(options.out or SHEET_FILES[options.reader], source, wanted=wanted)
    print(plain(str(path)))
    return 0


def _source(options: argparse.Namespace) -> Source:
    from wellset.bootstrap import standards_of
    from wellset.bootstrap.report import kept_source, source_of
    from wellset.figure.views import View

    if options.kept is not None:
        given = {View.FACE_ON: options.face_on, View.DOWN_THE_LINE: options.down_the_line}
        return kept_source(
            options.kept,
            given={view: path for view, path in given.items() if path is not None},
            plan=options.plan,
            student=options.student,
            standards=options.standards,
        )
    if options.club is None:
        raise InputError(
            "The club is missing",
            why="neither --club nor a kept assessment was given.",
            fix="Give --club with the pictures, or --from with an assessment.",
        )
    assessment = assess_as_asked(options, progress=progress(quiet=options.quiet))
    return source_of(assessment, plan=options.plan, standards=standards_of(options.standards))
