"""``wellset assess`` and ``wellset demo``."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.talk import add_common, command, progress, show

if TYPE_CHECKING:
    from collections.abc import Callable

    from wellset.bootstrap import Typed
    from wellset.cli.talk import Commands
    from wellset.services.assessment import Assessment

DEMO_FOLDER = "wellset-demo"
"""Where the demo writes, in the current folder, unless --out says otherwise."""


def add(commands: Commands) -> None:
    """Add both commands."""
    _add_demo(commands)
    _add_assess(commands)


def _add_demo(commands: Commands) -> None:
    demo = command(commands, "demo", help_="assess the built-in invented student and open the page")
    demo.add_argument("--no-open", action="store_true", help="don't open the page")
    add_common(demo)
    demo.set_defaults(out=DEMO_FOLDER, run=_run)


def _add_assess(commands: Commands) -> None:
    assess = command(commands, "assess", help_="assess a student from pictures or videos")
    add_sources(assess, club_needed=True)
    add_common(assess)
    assess.set_defaults(run=_run)


def add_sources(assess: argparse.ArgumentParser, *, club_needed: bool) -> None:
    """Add the options that say what to assess."""
    assess.add_argument("--face-on", metavar="FILE", help="picture or video in front of the chest")
    assess.add_argument("--down-the-line", metavar="FILE", help="the same, looking at the target")
    assess.add_argument(
        "--club", required=club_needed, help='a club ("7-iron") or kind ("mid iron")'
    )
    assess.add_argument(
        "--height", metavar="LENGTH", help='barefoot, such as "178 cm", "5 ft 10 in"'
    )
    assess.add_argument("--club-length", metavar="LENGTH", help='such as "37 in"')
    assess.add_argument("--club-lie", metavar="DEG", help="built lie angle in degrees")
    assess.add_argument("--shot", metavar="NAME", help="kind of shot; follows from the club")
    assess.add_argument("--student", metavar="FILE", help="student file (YAML)")
    assess.add_argument("--standards", metavar="FILE", help="your own standards (YAML)")
    assess.add_argument("--hand", choices=("right", "left"), help="recognised when left out")
    assess.add_argument("--landmarks", metavar="FILE", help="landmarks to use or correct (JSON)")
    assess.add_argument(
        "--ignore-ground",
        action="append",
        default=[],
        choices=("stick", "upright", "sheet", "all"),
        help="leave out what was found on the ground; may be given several times",
    )
    assess.add_argument(
        "--sheet-aimed",
        action="store_true",
        help="the marker sheet's arrow was pointed at the target with care",
    )
    assess.add_argument(
        "--phone-level",
        action="store_true",
        help="the phone stood level and upright by its own level in every picture",
    )
    assess.add_argument(
        "--plate", metavar="FILE", help="readings of a pressure plate under the feet (CSV)"
    )
    for option, name, words in (
        ("--start", "SECONDS", "in a video: the first set-up after this time (face-on=SECONDS)"),
        ("--swing", "N", "in a video: set-up number N (face-on=N for one of two videos)"),
    ):
        assess.add_argument(option, metavar=name, action="append", default=[], help=words)


def _run(options: argparse.Namespace) -> int:
    from wellset import bootstrap

    telling = progress(quiet=options.quiet)
    if options.command == "demo":
        assessment = bootstrap.assess_demo(progress=telling)
    else:
        assessment = assess_as_asked(options, progress=telling)
    return _deliver(assessment, options)


def assess_as_asked(
    options: argparse.Namespace, *, progress: Callable[[str, float], None]
) -> Assessment:
    """Assess what the options of :func:`add_sources` say."""
    from wellset import bootstrap

    return bootstrap.assess_request(**typed(options), progress=progress)


def typed(options: argparse.Namespace) -> Typed:
    """What was typed into the options of :func:`add_sources`."""
    return {
        "face_on": options.face_on,
        "down_the_line": options.down_the_line,
        "club": options.club,
        "height": options.height,
        "club_length": options.club_length,
        "club_lie": options.club_lie,
        "shot": options.shot,
        "student": options.student,
        "standards": options.standards,
        "hand": options.hand,
        "landmarks": options.landmarks,
        "ignore_ground": options.ignore_ground,
        "sheet_aimed": options.sheet_aimed,
        "phone_level": options.phone_level,
        "plate": options.plate,
        "start": options.start,
        "swing": options.swing,
    }


def _deliver(assessment: Assessment, options: argparse.Namespace) -> int:
    from wellset import bootstrap

    result = bootstrap.deliver(
        assessment,
        folder=options.out,
        json_path=None if options.json == "-" else options.json,
        units=options.units,
    )
    code = show(result, options)
    if options.command == "demo" and not options.no_open and result.page is not None:
        bootstrap.open_page(result.page)
    return code
