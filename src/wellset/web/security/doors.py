"""Which requests are let in at all, and what browsers are told about every answer."""

from __future__ import annotations

import ipaddress
import socket
from typing import Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HEADERS: Final = {
    "content-security-policy": "default-src 'self'; img-src 'self' data: blob:; "
    "media-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
    "referrer-policy": "same-origin",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
}
_SAFE: Final = {"GET", "HEAD", "OPTIONS"}
_HERE: Final = {"localhost", "127.0.0.1", "::1", "testserver"}


def host_of(value: str, /) -> str:
    """A Host header without its port."""
    return (urlsplit(f"//{value}").hostname or "").lower()


def is_local(host: str, *, lan: bool) -> bool:
    """Whether a host name is one that this program answers to.

    A page elsewhere can make a browser resolve *its* name to this machine; such a request
    names a host that is none of ours.
    """
    if host in _HERE:
        return True
    if not lan:
        return False
    try:
        return ipaddress.ip_address(host).is_private
    except ValueError:
        own = socket.gethostname().lower().split(".", maxsplit=1)[0]
        return host in {own, f"{own}.local", f"{own}.lan", f"{own}.home"}


def comes_from_our_pages(headers: Headers, /) -> bool:
    """Whether a change was asked for by a page of ours, or by a program that is no browser.

    Browsers say where a request comes from (``Sec-Fetch-Site``, ``Origin``) and a page
    cannot forge that. What says nothing must carry a header that only programs can send.
    """
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in {"same-origin", "none"}
    origin = headers.get("origin")
    if origin is not None:
        return urlsplit(origin).netloc.lower() == headers.get("host", "").lower()
    return "x-wellset-client" in headers


class Doors:
    """Refuses strange hosts and changes asked for by other sites; sets the headers.

    Parameters
    ----------
    app : ASGI application
    lan : bool
        Whether names and addresses of the local network are ours too.
    """

    def __init__(self, app: ASGIApp, *, lan: bool) -> None:
        self._app = app
        self._lan = lan

    async def __call__(  # noqa: PLR0917 - the interface of applications
        self, scope: Scope, receive: Receive, send: Send
    ) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start":
                answer = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    answer.setdefault(name, value)
                answer.setdefault("cache-control", "no-store")
            await send(message)

        if not is_local(host_of(headers.get("host", "")), lan=self._lan):
            refusal = PlainTextResponse("This address is not ours. Open the one shown.", 421)
            await refusal(scope, receive, told)
        elif scope["method"] not in _SAFE and not comes_from_our_pages(headers):
            refusal = PlainTextResponse("Another site asked for this change: refused.", 403)
            await refusal(scope, receive, told)
        else:
            await self._app(scope, receive, told)
