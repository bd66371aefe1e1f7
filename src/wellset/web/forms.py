"""Plain forms: every page works without scripts."""

from __future__ import annotations

import hmac
from collections.abc import AsyncIterator, Iterator
from typing import Annotated

from attrs import frozen
from fastapi import Depends, Request
from starlette.datastructures import FormData

from wellset.errors import InputError
from wellset.web.entry import Session
from wellset.web.site import SiteNow

MOST_FIELDS = 400


@frozen(eq=False)
class Form:
    """What a person filled in; a missing field is empty."""

    data: FormData

    def text(self, name: str, /) -> str:
        """One field without outer blanks."""
        value = self.data.get(name, "")
        return value.strip() if isinstance(value, str) else ""

    def texts(self, name: str, /) -> list[str]:
        """All fields of one name, in the order of the page."""
        return [v.strip() for v in self.data.getlist(name) if isinstance(v, str)]

    def ticked(self, name: str, /) -> bool:
        """Whether a box is ticked."""
        return self.text(name) in {"on", "yes", "true", "1"}

    def number(self, name: str, /) -> int:
        """A whole number, such as the version a page was opened with.

        Raises
        ------
        InputError
        """
        text = self.text(name)
        try:
            return int(text)
        except ValueError:
            raise InputError(
                "The form cannot be used",
                why=f'"{name}" holds "{text[:40]}", which is no whole number.',
                fix="Open the page again, then send it.",
            ) from None

    def starting(self, prefix: str, /) -> Iterator[tuple[str, str]]:
        """Fields whose names start with a prefix, filled ones only, without the prefix."""
        for name in dict.fromkeys(self.data.keys()):
            if name.startswith(prefix) and self.text(name):
                yield name.removeprefix(prefix), self.text(name)


async def sent_form(request: Request, site: SiteNow, session: Session) -> AsyncIterator[Form]:
    """The form of a signed-in device, sent by one of our own pages; its files are closed after.

    Raises
    ------
    InputError
        Without the token that our pages carry.
    """
    async with request.form(max_fields=MOST_FIELDS, max_files=4) as data:
        token = data.get("token", "")
        right = site.sessions.token(session)
        if not isinstance(token, str) or not hmac.compare_digest(token.encode(), right.encode()):
            raise InputError(
                "The form cannot be used",
                why="it was not opened by this session.",
                fix="Open the page again, then send it.",
            )
        yield Form(data)


SentForm = Annotated[Form, Depends(sent_form)]
"""Parameter of a route: a form of one of our own pages."""
