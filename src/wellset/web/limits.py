"""How long a request may be: forms are short, pictures and clips are not."""

from __future__ import annotations

import re
from typing import Final

from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.types import ASGIApp, Receive, Scope, Send

MOST_FORM: Final = 2_000_000
UPLOADS: Final = re.compile(r"/lessons/[^/]+/setups|/api/media")


class BodyLimits:
    """Two limits by path.

    Parameters
    ----------
    app : ASGI application
    most_upload : int
        Bytes of one picture or clip; a plain form may hold two.
    """

    def __init__(self, app: ASGIApp, *, most_upload: int) -> None:
        self._form = RequestBodyLimitMiddleware(app, MOST_FORM)
        self._upload = RequestBodyLimitMiddleware(app, 2 * most_upload + MOST_FORM)

    async def __call__(  # noqa: PLR0917 - the interface of applications
        self, scope: Scope, receive: Receive, send: Send
    ) -> None:
        """Pass one request on."""
        upload = scope["type"] == "http" and UPLOADS.fullmatch(scope["path"])
        await (self._upload if upload else self._form)(scope, receive, send)
