"""The command line: thin, no arithmetic."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from wellset import __version__
from wellset import errors as e

if TYPE_CHECKING:
    from wellset.bootstrap import Delivery
    from wellset.services.assessment import Assessment

EXIT_CODES = {
    e.InputError: 3,
    e.StandardsError: 3,
    e.EquipmentError: 3,
    e.PictureError: 4,
    e.SceneError: 5,
    e.EstimationError: 6,
    e.OutputError: 7,
    e.MissingError: 8,
    e.ConflictError: 8,
    e.StorageError: 8,
}
"""What a failed run returns; 0 is success, 2 a wrong option, 1 a fault of our own."""

DEMO_FOLDER = "wellset-demo"
"""Where the demo writes, in the current folder, unless --out says otherwise."""

SHEET_FILE = "wellset-sheet.pdf"
"""Where the marker sheet is written unless --out says otherwise."""

_STAND_INS = {"−": "-", "–": "-", "±": "+/-", "×": "x", "’": "'", "°": " deg"}
"""What is printed for a character that standard output lacks."""

_CODES_TEXT = """exit codes:
  0  done
  1  a fault in the program; run again with --debug and report what it prints
  2  an option is wrong or missing
  3  a value or file given is wrong (length, club, student, standards, landmarks)
  4  a picture cannot be read
  5  a picture is readable but shows no set-up that can be assessed
  6  the points could not be solved for
  7  a result could not be written
  8  the lesson book could not be read or changed
"""


def build_parser() -> argparse.ArgumentParser:
    """The options of every command."""
    parser = argparse.ArgumentParser(
        prog="wellset",
        description="Measure how a student stands to a golf ball, and say what to change first.",
        epilog=_CODES_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"wellset {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _add_demo(commands)
    _add_assess(commands)
    _add_sheet(commands)
    _add_serve(commands)
    _add_keeping(commands)
    _add_plan(commands)
    return parser


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, *, help_: str
) -> argparse.ArgumentParser:
    """One more command, with the exit codes under its help."""
    return commands.add_parser(
        name,
        help=help_,
        epilog=_CODES_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def _add_common(command: argparse.ArgumentParser) -> None:
    command.add_argument("--out", metavar="DIR", help="folder for the page, pictures and files")
    command.add_argument("--json", metavar="PATH", help="also write the result here; - prints it")
    command.add_argument("--units", choices=("cm", "in"), default="cm", help="units on the page")
    command.add_argument("--quiet", action="store_true", help="no progress on standard error")
    command.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _add_demo(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    demo = _command(
        commands, "demo", help_="assess the built-in invented student and open the page"
    )
    demo.add_argument("--no-open", action="store_true", help="don't open the page")
    _add_common(demo)
    demo.set_defaults(out=DEMO_FOLDER)


def _add_assess(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    assess = _command(commands, "assess", help_="assess a student from pictures or videos")
    assess.add_argument("--face-on", metavar="FILE", help="picture or video in front of the chest")
    assess.add_argument("--down-the-line", metavar="FILE", help="the same, looking at the target")
    assess.add_argument("--club", required=True, help='a club ("7-iron") or kind ("mid iron")')
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
    for option, name, words in (
        ("--start", "SECONDS", "in a video: the first set-up after this time (face-on=SECONDS)"),
        ("--swing", "N", "in a video: set-up number N (face-on=N for one of two videos)"),
    ):
        assess.add_argument(option, metavar=name, action="append", default=[], help=words)
    _add_common(assess)


def _add_serve(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    serve = _command(commands, "serve", help_="open the lesson book in the browser")
    serve.add_argument("--data", metavar="DIR", help="folder of the book; shown at the start")
    serve.add_argument("--database", metavar="URL", help="another database: postgresql://…")
    serve.add_argument("--port", type=int, default=8484, help="8484 when left out")
    serve.add_argument(
        "--lan", action="store_true", help="let phones and tablets of your network in"
    )
    serve.add_argument("--no-open", action="store_true", help="don't open the browser")
    serve.add_argument(
        "--workers", type=int, default=1, help="set-ups assessed at a time; 1 when left out"
    )
    serve.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _add_keeping(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    for name, words, file in (
        ("backup", "write the whole lesson book into one file", "file to write"),
        ("restore", "fill an empty lesson book from a backup", "file that `wellset backup` wrote"),
        ("export", "write everything of one student into one zip file", "zip file to write"),
    ):
        keeping = _command(commands, name, help_=words)
        if name == "export":
            keeping.add_argument("student", metavar="STUDENT", help="name, or part of it, or id")
        keeping.add_argument("file", metavar="FILE", help=file)
        keeping.add_argument("--data", metavar="DIR", help="folder of the book")
        keeping.add_argument("--database", metavar="URL", help="another database: postgresql://…")
        keeping.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _add_sheet(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    sheet = _command(
        commands, "sheet", help_="make the marker sheet to print and lay on the ground (PDF)"
    )
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper to print on")
    sheet.add_argument("--out", metavar="FILE", default=SHEET_FILE, help="file to write")
    sheet.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _add_plan(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    plan = _command(commands, "plan", help_="work out how a student should stand with each club")
    plan.add_argument("--height", metavar="LENGTH", help='barefoot, such as "178 cm", "5 ft 10 in"')
    plan.add_argument("--student", metavar="FILE", help="student file (YAML)")
    plan.add_argument("--bag", metavar="FILE", help="bag file (YAML); fourteen usual clubs without")
    plan.add_argument(
        "--club", action="append", metavar="NAME", help="one club; may be given several times"
    )
    plan.add_argument(
        "--hand", choices=("right", "left"), help="right unless the student file says"
    )
    plan.add_argument("--shot", metavar="NAME", help="kind of shot; follows from each club")
    plan.add_argument(
        "--slope",
        action="append",
        metavar="SLOPE",
        help='such as "uphill 6" or "ball above feet 8", in degrees; may be given twice',
    )
    plan.add_argument("--wind", choices=("none", "against", "with"), help="a wind one feels")
    plan.add_argument("--standards", metavar="FILE", help="your own standards (YAML)")
    _add_common(plan)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    Parameters
    ----------
    arguments : sequence of str, optional
        The command line; by default that of the process.
    """
    options = build_parser().parse_args(arguments)
    try:
        return _run(options)
    except e.WellsetError as error:
        if options.debug:
            raise
        _say(error.sentence)
        return next(code for kind, code in EXIT_CODES.items() if isinstance(error, kind))
    except KeyboardInterrupt:
        _say("stopped.")
        return 130
    except BrokenPipeError:
        # Whoever read standard output has closed it; the interpreter must not try again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return EXIT_CODES[e.OutputError]
    except Exception as error:
        if options.debug:
            raise
        _say(
            f"a fault in the program: {type(error).__name__}: {error} "
            "Run again with --debug and report what it prints."
        )
        return 1


def _fits(text: str, /) -> bool:
    """Whether standard output can hold the text: a redirected one may know few characters."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _plain(text: str, /) -> str:
    """The report in the characters that standard output has; a minus stays a minus."""
    if _fits(text):
        return text
    return "".join(c if _fits(c) else _STAND_INS.get(c, "?") for c in text)


def _escaped(document: str, /) -> str:
    """The JSON document, in plain ASCII where standard output asks for it."""
    if _fits(document):
        return document
    import json

    return json.dumps(json.loads(document), indent=1) + "\n"


def _say(sentence: str, /) -> None:
    """Print one line on standard error, whatever names and values it quotes."""
    print(f"wellset: {' '.join(sentence.splitlines())}", file=sys.stderr)


def _serve(options: argparse.Namespace) -> int:
    from wellset.web.serve import Serving, serve

    how = Serving(
        data=options.data,
        database=options.database,
        port=options.port,
        lan=options.lan,
        open_browser=not options.no_open,
        workers=max(1, options.workers),
    )
    serve(how, say=lambda line: print(line, flush=True))
    return 0


def _keep(options: argparse.Namespace) -> int:
    from wellset.bootstrap.keeping import kept

    print(_plain(kept(**vars(options))))
    return 0


def _sheet(options: argparse.Namespace) -> int:
    from wellset.bootstrap.sheet import write_sheet

    print(_plain(f"{write_sheet(options.out, paper=options.paper)}: print it at 100 %."))
    return 0


def _run(options: argparse.Namespace) -> int:
    if options.command == "serve":
        return _serve(options)
    if options.command in {"backup", "restore", "export"}:
        return _keep(options)
    if options.command == "sheet":
        return _sheet(options)
    from wellset import bootstrap

    progress = _progress(quiet=options.quiet)
    if options.command == "plan":
        return _plan(options)
    if options.command == "demo":
        assessment = bootstrap.assess_demo(progress=progress)
    else:
        assessment = bootstrap.assess_request(
            face_on=options.face_on,
            down_the_line=options.down_the_line,
            club=options.club,
            height=options.height,
            club_length=options.club_length,
            club_lie=options.club_lie,
            shot=options.shot,
            student=options.student,
            standards=options.standards,
            hand=options.hand,
            landmarks=options.landmarks,
            ignore_ground=options.ignore_ground,
            sheet_aimed=options.sheet_aimed,
            phone_level=options.phone_level,
            start=options.start,
            swing=options.swing,
            progress=progress,
        )
    return _deliver(assessment, options)


def _plan(options: argparse.Namespace) -> int:
    from wellset.bootstrap.plan import deliver_plan, plan_request

    bag = plan_request(
        height=options.height,
        student=options.student,
        bag=options.bag,
        clubs=options.club or (),
        hand=options.hand,
        shot=options.shot,
        slopes=options.slope or (),
        wind=options.wind,
        standards=options.standards,
    )
    path = None if options.json == "-" else options.json
    return _show(
        deliver_plan(bag, folder=options.out, json_path=path, units=options.units), options
    )


def _deliver(assessment: Assessment, options: argparse.Namespace) -> int:
    from wellset import bootstrap

    result = bootstrap.deliver(
        assessment,
        folder=options.out,
        json_path=None if options.json == "-" else options.json,
        units=options.units,
    )
    code = _show(result, options)
    if options.command == "demo" and not options.no_open and result.page is not None:
        bootstrap.open_page(result.page)
    return code


def _show(result: Delivery, options: argparse.Namespace) -> int:
    """Print what was asked for, and what could not be written."""
    printed = options.json == "-"
    text = _escaped(result.json_text) if printed else _plain(result.terminal_text)
    print(text, end="", flush=True)
    for failure in result.failures:
        _say(failure.sentence)
    return EXIT_CODES[e.OutputError] if result.failures else 0


class _Printer:
    """Progress as lines on standard error, one for each step."""

    def __init__(self) -> None:
        self._last = ""

    def __call__(self, step: str, share: float) -> None:
        if step != self._last:
            self._last = step
            print(f"[{share:4.0%}] {step}", file=sys.stderr, flush=True)


def _progress(*, quiet: bool) -> Callable[[str, float], None]:
    if quiet:
        return lambda _step, _share: None
    return _Printer()


if __name__ == "__main__":
    sys.exit(main())
