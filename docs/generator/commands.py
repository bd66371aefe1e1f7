"""Commands, options and exit codes, read from the parser itself."""

# ruff: noqa: SLF001 - argparse has no public way to list its options

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Final

from docs.generator.text import page, table
from wellset import errors
from wellset.cli import EXIT_CODES, build_parser

MORE: Final = {
    "--face-on": "JPEG, PNG, WebP or HEIC; or a [video](../how-to/use-a-video.md), MP4 or MOV. "
    "Either view may be left out.",
    "--down-the-line": "JPEG, PNG, WebP or HEIC; or a [video](../how-to/use-a-video.md), MP4 or "
    "MOV. Either view may be left out.",
    "--club": "Spaces, hyphens and underscores are alike: `7-iron`, `7i`, `iron 7`, `PW`, `sand "
    "wedge`, `mid_iron`. [The clubs and what is assumed of each](tables-and-editions.md#clubs).",
    "--height": "Needed unless the [student file](student-file.md) has it; this option wins over "
    "the file. Centimetres, metres, inches, or feet and inches.",
    "--club-length": "Sole to the top of the grip. Assumed from the name otherwise, to half an "
    "inch.",
    "--club-lie": "Assumed from the name otherwise, to a degree.",
    "--shot": "One of the kinds of shot that the standards have windows for: `driver`, `fairway "
    "wood`, `hybrid`, `long iron`, `mid iron`, `short iron`, `wedge`, `pitch`, `chip`, `bunker`, "
    "`putt`.",
    "--student": "See [student file](student-file.md).",
    "--standards": "See [standards file](standards-file.md). The default windows otherwise.",
    "--hand": "Taken from the landmark file or the student file, else recognised in the pictures.",
    "--landmarks": "See [landmark file](landmark-file.md).",
    "--plate": "See [pressure plate file](plate-file.md). It goes into the estimate, unless it "
    "contradicts the pictures.",
    "--start": "Counted from the clip's first frame. A minute is looked through from there. "
    "`face-on=SECONDS` speaks of one of two videos.",
    "--swing": "As numbered in the report. The last set-up that a swing follows otherwise.",
    "--ignore-ground": "What was found all the same is named in the report with the reason.",
    "--phone-level": "Tilt and roll of each phone are then taken to be none, to 0.7°; where the "
    "points show otherwise, they win.",
    "--sheet-aimed": "Its direction is then taken to be the target's to 1.5°; where a picture "
    "shows it more than 20° off, it isn't believed. Without this option its direction is free.",
    "--for": "Two pages in plain words, or everything that was measured."
    " Of drills: a [measure](measures/README.md) by its id or name; with `low` or `high` behind "
    "it, one finding. Its own drill comes first.",
    "--plan": "As `plan --json` writes it. Worked out now otherwise.",
    "--name": "That of the assessment otherwise.",
    "--day": "Without it the sheet has no date.",
    "--next": "Without it the sheet says that the coach will tell.",
    "--note": "Stands at the top of the sheet; the first 420 letters of it.",
    "--paper": "ISO A4 or US Letter; what is drawn to scale is the same on both.",
    "--ladder": "Of the bag, of the clubs named, or of the usual fourteen. Without it one club is "
    "shown, which `--club` names.",
    "--list": "Lengths on a tape, in heads of the club and in shoe lengths. [How to lay "
    "it](../how-to/print-a-floor-plan.md).",
    "--drill": "Title or id, capitals or not.",
    "--find": "Every word must stand somewhere in the drill.",
    "--careful-with": "Added to what the student file says. [How drills are "
    "chosen](drills-file.md#which-drill-a-finding-brings-up).",
    "--drills": "A [drill document](drills-file.md).",
    "--bag": "See [bag file](bag-file.md). Fourteen usual clubs without it.",
    "--slope": "`uphill`, `downhill`, `ball above feet` or `ball below feet` with degrees. One "
    "along the target line and one across it may be given. [What it "
    "changes](slope-and-wind.md).",
    "--wind": "`against` or `with` the shot: moves some windows and, against, the hands down the "
    "grip.",
    "--out": "Made when it doesn't exist; files of the same names are replaced. It gets "
    "`report.html`, `assessment.json`, `landmarks.json`, `face_on.jpg` and `down_the_line.jpg`, "
    "the same pictures with the plan over them (`face_on-stand-here.jpg` …); "
    "from `plan` it gets `plan.json`, `plan.txt`, `plan.html` and the folder `drawings`.",
    "--json": "See [the JSON contract](json.md). With `-` nothing else stands on standard output.",
    "--units": "For the page and the terminal; JSON is always in metres, degrees and per cent.",
    "--quiet": "Progress otherwise goes to standard error, one line a step.",
    "--debug": "For a report of a fault.",
    "--no-open": "Everything else is done all the same.",
    "--data": "Holds the database and the pictures. The person's data folder of the system "
    "otherwise.",
    "--database": "SQLite in the data folder otherwise. PostgreSQL needs the extra "
    "`wellset[postgresql]`.",
    "--of": "Everybody otherwise. By id a name that two students share can be told apart.",
    "--from": "`assessment.json` of a run. The lesson book is then not opened.",
    "--names": "Left out otherwise: a table travels further than one thinks.",
    "--port": "Another one when this one is taken.",
    "--lan": "They sign in with the coach's password. Without it only this machine may come in.",
    "--workers": "Each takes about 400 MB.",
}

OF_ONE: Final = {
    "check --plan": "As `plan --json` writes it; it must have the club. The height may then be "
    "left out. [How to read a check](../how-to/check-against-the-plan.md).",
    "report --from": "`assessment.json`, or the folder that `assess --out` wrote. Nothing is "
    "looked for in pictures again; they are only shown.",
    "report --club": "Needed unless `--from` is given.",
    "report --face-on": "With `--from` the picture to show, otherwise the picture to assess.",
    "report --down-the-line": "With `--from` the picture to show, otherwise the picture to assess.",
    "report --out": "`lesson-sheet.pdf` or `coach-sheet.pdf` otherwise. A name that ends in "
    "`.html` makes a page.",
    "report --units": "The student's unit of length.",
    "report --paper": "The sheet has two pages on either.",
    "template --out": "Its folder is made when it doesn't exist; a file of that name is replaced.",
    "card --out": "Its folder is made when it doesn't exist; a file of that name is replaced.",
    "template --json": "Shape: [`wellset.template/1`](../how-to/print-a-floor-plan.md). With `-` "
    "nothing else stands on standard output, and a PDF is written only where `--out` is given.",
    "sheet --out": "Its folder is made when it doesn't exist; a file of that name is replaced.",
}
"""Options that mean something else in one command."""

MEANINGS: Final = {
    0: "Done: everything that was asked for is written and printed.",
    1: "A fault in the program. Run again with `--debug` and report what it prints.",
    2: "An option is wrong or missing; the line above says which.",
    3: "A value or a file that was given is wrong: a length, a club, the student, the standards or "
    "the landmark file.",
    4: "A picture can't be read: missing, damaged, too large or small, or no picture at all.",
    5: "A picture is readable but shows no set-up that can be assessed: nobody, several people, a "
    "swing, another side, feet or ball cut off.",
    6: "The points could not be solved for.",
    7: "A result could not be written. What had been written before stays, and the result is still "
    "printed.",
    8: "The lesson book could not be read or changed: something isn't in it, was changed "
    "meanwhile, or the disk said no. Nothing was half written.",
    69: "From `start.py` alone: the setting up failed; the lines above say why and what to do.",
    130: "Stopped from the keyboard.",
}


def commands() -> Iterator[tuple[str, argparse.ArgumentParser, str]]:
    """Every command: name, parser, one line of help."""
    parser = build_parser()
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            said = {each.dest: each.help or "" for each in action._choices_actions}
            for name, command in action.choices.items():
                yield name, command, said[name]


def options(parser: argparse.ArgumentParser) -> Iterator[tuple[str, argparse.Action]]:
    """Every option of a command with its long name, help left out."""
    for action in parser._actions:
        if action.option_strings and action.dest != "help":
            yield action.option_strings[-1], action


def _option(name: str, action: argparse.Action, *, command: str) -> str:
    value = action.metavar or ("|".join(action.choices) if action.choices else "")
    shown = f"{name} {value}".strip() if action.nargs != 0 else name
    help_ = (action.help or "").strip()
    said = f"{help_[0].upper()}{help_[1:]}." if help_ else ""
    must = " **Required.**" if action.required else ""
    more = OF_ONE.get(f"{command} {name}", MORE.get(name, ""))
    usual = (
        f" Usually `{action.default}`."
        if isinstance(action.default, str) and action.default != argparse.SUPPRESS
        else ""
    )
    return f"### `{shown}`\n\n{said}{must}{usual} {more}".rstrip()


def commands_page() -> str:
    """Every command with its options."""
    parts = []
    for name, parser, said in commands():
        usage = " ".join(parser.format_usage().removeprefix("usage: ").split())
        parts.append(
            f"## `wellset {name}`\n\n{said[0].upper()}{said[1:]}.\n\n```text\n{usage}\n```"
        )
        parts += [_option(option, action, command=name) for option, action in options(parser)]
    return page(
        "Commands and options",
        "Where `start.py` set Wellset up, write `python3 start.py run -- ` in place of `wellset "
        "`. `wellset --help` and `wellset COMMAND --help` say the same as this page, shorter; "
        "`wellset --version` prints the version.",
        "Results go to standard output, everything else to standard error. What a run returns is "
        "on the page of [exit codes](exit-codes.md).",
        *parts,
    )


def exit_code_of(kind: type[errors.WellsetError]) -> int:
    """The exit code of an error class."""
    return next(code for known, code in EXIT_CODES.items() if issubclass(kind, known))


def exit_codes_page() -> str:
    """Every exit code."""
    parts = []
    for code, meaning in MEANINGS.items():
        kinds = [kind.__name__ for kind, known in EXIT_CODES.items() if known == code]
        links = ", ".join(f"[`{kind}`](errors.md#{kind.lower()})" for kind in kinds)
        from_ = f"\n\nFrom: {links}." if links else ""
        parts.append(f"## {code}\n\n{meaning}{from_}")
    return page(
        "Exit codes",
        "What a command returns, for scripts. A code never changes its meaning.",
        *parts,
    )


def all_error_classes() -> list[type[errors.WellsetError]]:
    """Every error class of the vocabulary."""
    found = [
        each
        for each in vars(errors).values()
        if isinstance(each, type) and issubclass(each, errors.WellsetError)
    ]
    return [each for each in found if each is not errors.WellsetError]


def errors_page() -> str:
    """Every error class."""
    parts = []
    for kind in all_error_classes():
        builtin = next(b.__name__ for b in kind.__bases__ if b is not errors.WellsetError)
        said = (kind.__doc__ or "").strip()
        code = exit_code_of(kind)
        article = "an" if builtin[0] in "AEIOU" else "a"
        parts.append(
            f"## {kind.__name__}\n\n{said} Also {article} `{builtin}`. Exit code "
            f"[{code}](exit-codes.md#{code})."
        )
    return page(
        "Errors",
        "Every error on purpose is a `wellset.errors.WellsetError` with four fields: `what` could "
        "not be done, `why`, with the numbers, `fix`, what to do next, and `where`: the file, "
        "field or picture. `sentence` is all of them on one line. There is no traceback for bad "
        "input; `--debug` shows one.",
        "Files that are wrong in several places name all places at once, each with its path "
        "(`shots.mid iron.stance_gap.low`).",
        table(
            ("class", "exit code"),
            [
                (f"[`{k.__name__}`](#{k.__name__.lower()})", exit_code_of(k))
                for k in all_error_classes()
            ],
        ),
        *parts,
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {
        "reference/commands.md": commands_page(),
        "reference/exit-codes.md": exit_codes_page(),
        "reference/errors.md": errors_page(),
    }
