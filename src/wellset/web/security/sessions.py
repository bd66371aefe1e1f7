"""Signed cookies that say that a device has given the password.

The signing key lies among the book's settings. Changing it signs every device out.
"""

from __future__ import annotations

import hmac
import secrets
from hashlib import sha256
from typing import Final

from attrs import frozen
from fastapi import Request, Response
from itsdangerous import BadSignature, URLSafeTimedSerializer

from wellset.services.book import Book

COOKIE: Final = "wellset_session"
SETTING: Final = "session key"
LIFETIME_S: Final = 30 * 86_400


@frozen(kw_only=True, eq=False)
class Sessions:
    """Opens, reads and ends sessions."""

    book: Book

    def _key(self) -> str:
        with self.book.reading() as pages:
            key = pages.setting(SETTING)
        if key is not None:
            return key
        with self.book.writing() as pages:
            key = pages.setting(SETTING) or secrets.token_urlsafe(32)
            pages.save_setting(SETTING, key)
        return key

    def begin(self, response: Response, /, *, secure: bool = False) -> None:
        """Let this device in."""
        signed = URLSafeTimedSerializer(self._key()).dumps(secrets.token_urlsafe(16))
        response.set_cookie(
            COOKIE,
            str(signed),
            max_age=LIFETIME_S,
            httponly=True,
            samesite="lax",
            secure=secure,
        )

    def who(self, request: Request, /) -> str | None:
        """The name of the session, or ``None`` for a stranger."""
        cookie = request.cookies.get(COOKIE)
        if not cookie:
            return None
        try:
            name: object = URLSafeTimedSerializer(self._key()).loads(cookie, max_age=LIFETIME_S)
        except BadSignature:
            return None
        return name if isinstance(name, str) else None

    def token(self, session: str, /) -> str:
        """What a form of this session carries, so that another site cannot send it."""
        return hmac.new(self._key().encode(), session.encode(), sha256).hexdigest()

    def end(self, response: Response, /) -> None:
        """Let this device out."""
        response.delete_cookie(COOKIE)

    def end_all(self) -> None:
        """Sign every device out."""
        with self.book.writing() as pages:
            pages.save_setting(SETTING, secrets.token_urlsafe(32))
