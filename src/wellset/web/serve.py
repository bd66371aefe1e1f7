"""Start the lesson book's server and open it in the browser."""

from __future__ import annotations

import logging
import socket
import threading
import time
import webbrowser
from collections.abc import Callable
from typing import Final

import uvicorn
from attrs import frozen
from fastapi import FastAPI

from wellset.bootstrap import one_blas_thread
from wellset.bootstrap.book import job_line, open_desk, place_of
from wellset.errors import InputError
from wellset.web.app import create_app
from wellset.web.links import own_addresses
from wellset.web.site import Options

PORT: Final = 8484


@frozen(kw_only=True)
class Serving:
    """How to serve.

    Parameters
    ----------
    data : str or None
        Folder of the book; the person's data folder otherwise.
    database : str or None
        Address of another database.
    port : int
    lan : bool
        Whether other devices of the local network may come in.
    open_browser : bool
    workers : int
        Processes that assess set-ups.
    """

    data: str | None = None
    database: str | None = None
    port: int = PORT
    lan: bool = False
    open_browser: bool = True
    workers: int = 1


def serve(how: Serving, *, say: Callable[[str], None]) -> None:
    """Serve the book until the program is stopped.

    Parameters
    ----------
    how : Serving
    say : callable
        Told where the book lies and where it is served.

    Raises
    ------
    WellsetError
        When the book cannot be opened or the port is taken.
    """
    door = _take_port(how)
    one_blas_thread()  # from here on: points are tried in this process
    place = place_of(data=how.data, database=how.database)
    desk = open_desk(place)
    line = job_line(place, desk, workers=how.workers)
    app = create_app(
        desk,
        line=line,
        options=Options(lan=how.lan, place=str(place.folder)),
        on_start=line.start,
        on_stop=line.stop,
    )
    port = door.getsockname()[1]
    say(f"The lesson book lies in {place.folder}.")
    say(f"Open http://localhost:{port}/ on this machine. Stop with Ctrl-C.")
    if how.lan:
        for address in own_addresses(port):
            say(f"On your phone, in the same network: {address}")
    _run(app, door=door, open_browser=how.open_browser)


def _run(app: FastAPI, *, door: socket.socket, open_browser: bool) -> None:
    config = uvicorn.Config(app, log_level=logging.WARNING, access_log=False, server_header=False)
    server = uvicorn.Server(config)
    if open_browser:
        address = f"http://localhost:{door.getsockname()[1]}/"
        threading.Thread(target=_open_when_ready, args=(server, address), daemon=True).start()
    server.run(sockets=[door])


def _open_when_ready(server: uvicorn.Server, address: str) -> None:
    while not server.started and not server.should_exit:
        time.sleep(0.05)
    webbrowser.open(address)


def _take_port(how: Serving) -> socket.socket:
    host = "0.0.0.0" if how.lan else "127.0.0.1"  # noqa: S104 - only when asked for
    # Saying TCP matters: the server sends small answers at once only on sockets that say it,
    # and otherwise waits 40 ms for the caller's acknowledgement.
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind((host, how.port))
    except OSError as error:
        door.close()
        raise InputError(
            "The lesson book cannot be served here",
            why=f"port {how.port} is taken or not allowed ({error.strerror}).",
            fix=f"It may run already: open http://localhost:{how.port}/. "
            f"Otherwise choose another port, --port {how.port + 1}.",
        ) from error
    return door
