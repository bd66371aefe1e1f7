"""``wellset template`` and ``wellset card``: what is printed from a plan."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.plan import add_question, asked
from wellset.cli.talk import command, escaped, plain

if TYPE_CHECKING:
    from wellset.cli.talk import Commands

TEMPLATE_FILE = "wellset-floor-plan.pdf"
CARD_FILE = "wellset-bag-card.pdf"


def add(commands: Commands) -> None:
    """Add the commands."""
    template = command(
        commands, "template", help_="print the student's own feet, ball and lines at true size"
    )
    add_question(template)
    template.add_argument(
        "--ladder", action="store_true", help="all clubs on one plan, feet and balls named by club"
    )
    _add_printing(template, default=TEMPLATE_FILE)
    template.add_argument(
        "--list",
        action="store_true",
        help="print how to lay it with sticks and tees instead; a PDF only where --out is given",
    )
    template.add_argument(
        "--json", metavar="PATH", help="also write the places here; - prints them instead"
    )
    template.set_defaults(run=_template)
    card = command(commands, "card", help_="print all clubs on one page, to fold into the bag")
    add_question(card)
    _add_printing(card, default=CARD_FILE)
    card.set_defaults(run=_card)


def _add_printing(parser: argparse.ArgumentParser, *, default: str) -> None:
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper to print on")
    parser.add_argument("--out", metavar="FILE", help=f"file to write, otherwise {default}")
    parser.add_argument("--units", choices=("cm", "in"), default="cm", help="units of length")
    parser.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _template(options: argparse.Namespace) -> int:
    from wellset.bootstrap.floor import make_template

    made = make_template(
        asked(options), ladder=options.ladder, paper=options.paper, units=options.units
    )
    if options.json == "-":
        print(escaped(made.json_text), end="")
    elif options.list:
        print(plain(made.listing), end="")
    told = options.list or options.json == "-"
    if options.json not in (None, "-"):
        made.write_json(options.json)
    if options.out or not told:
        path = made.write(options.out or TEMPLATE_FILE)
        if not told:
            sheets = f"{made.sheets} sheet{'' if made.sheets == 1 else 's'}"
            print(plain(f"{path}: {sheets} and how to use them; print at 100 %."))
    return 0


def _card(options: argparse.Namespace) -> int:
    from wellset.bootstrap.floor import write_card

    path = write_card(
        asked(options), options.out or CARD_FILE, paper=options.paper, units=options.units
    )
    print(plain(f"{path}: one page; print it, fold it twice."))
    return 0
