"""``wellset measures``: the numbers as a table for whoever analyses them."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from wellset.cli.talk import command, plain

if TYPE_CHECKING:
    from wellset.cli.talk import Commands


def add(commands: Commands) -> None:
    """Add the command."""
    measures = command(
        commands, "measures", help_="write measures as a table, CSV or Parquet, to analyse them"
    )
    measures.add_argument(
        "file", metavar="FILE", help="file to write, .csv or .parquet; - prints CSV"
    )
    measures.add_argument(
        "--of", metavar="STUDENT", help="one student of the lesson book: name, or part of it, or id"
    )
    measures.add_argument(
        "--from",
        dest="sources",
        action="append",
        default=[],
        metavar="FILE",
        help="an assessment in JSON or its folder, in place of the lesson book; may be given "
        "several times",
    )
    measures.add_argument("--names", action="store_true", help="students' names too, not only ids")
    measures.add_argument("--data", metavar="DIR", help="folder of the book")
    measures.add_argument("--database", metavar="URL", help="another database: postgresql://…")
    measures.add_argument("--debug", action="store_true", help="show the traceback of an error")
    measures.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.measures import measures_csv, written_measures

    asked = {
        "of": options.of,
        "sources": options.sources,
        "names": options.names,
        "data": options.data,
        "database": options.database,
    }
    if options.file == "-":
        for piece in measures_csv(**asked):
            sys.stdout.write(plain(piece.decode().replace("\r\n", "\n")))
        sys.stdout.flush()
    else:
        print(plain(written_measures(options.file, **asked)))
    return 0
