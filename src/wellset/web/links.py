"""Addresses under which another device finds this machine."""

from __future__ import annotations

import socket
from typing import Final

from fastapi import Request

_LOOPBACK: Final = {"localhost", "127.0.0.1", "::1", "[::1]"}


def own_addresses(port: int, /) -> tuple[str, ...]:
    """Where a phone on the same network finds this machine."""
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect(("10.255.255.255", 1))  # sends nothing; picks the way out
            return (f"http://{probe.getsockname()[0]}:{port}/",)
    except OSError:
        return ()


def address_for_phones(request: Request, /, *, lan: bool) -> str:
    """Where a phone finds the site that a request came to, without a slash at its end.

    The name a coach's own machine uses for itself means nothing on a phone.
    """
    url = request.url
    if lan and url.hostname in _LOOPBACK:
        found = own_addresses(url.port or 80)
        if found:
            return found[0].rstrip("/")
    return f"{url.scheme}://{url.netloc}"
