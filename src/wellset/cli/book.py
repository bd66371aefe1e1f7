"""The lesson book's commands: ``serve``, ``backup``, ``restore``, ``export``."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.talk import command, plain

if TYPE_CHECKING:
    from wellset.cli.talk import Commands


def add(commands: Commands) -> None:
    """Add the lesson book's commands."""
    _add_serve(commands)
    _add_keeping(commands)


def _add_serve(commands: Commands) -> None:
    serve = command(commands, "serve", help_="open the lesson book in the browser")
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
    serve.set_defaults(run=_serve)


def _add_keeping(commands: Commands) -> None:
    for name, words, file in (
        ("backup", "write the whole lesson book into one file", "file to write"),
        ("restore", "fill an empty lesson book from a backup", "file that `wellset backup` wrote"),
        ("export", "write everything of one student into one zip file", "zip file to write"),
    ):
        keeping = command(commands, name, help_=words)
        if name == "export":
            keeping.add_argument("student", metavar="STUDENT", help="name, or part of it, or id")
        keeping.add_argument("file", metavar="FILE", help=file)
        keeping.add_argument("--data", metavar="DIR", help="folder of the book")
        keeping.add_argument("--database", metavar="URL", help="another database: postgresql://…")
        keeping.add_argument("--debug", action="store_true", help="show the traceback of an error")
        keeping.set_defaults(run=_keep)


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

    print(plain(kept(**vars(options))))
    return 0
