"""Only signed-in devices see the book."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote, urlsplit

from fastapi import Depends, Request

from wellset.web.site import SiteNow


class NotSignedInError(Exception):
    """Whoever asks has not given the password.

    Parameters
    ----------
    goal : str
        Page to show after signing in.
    first : bool
        Whether no password was ever chosen.
    unsent : bool
        Whether a form was sent, which is not kept now.
    """

    def __init__(self, goal: str, *, first: bool, unsent: bool = False) -> None:
        super().__init__(goal)
        self.goal = goal
        self.first = first
        self.unsent = unsent

    @property
    def page(self) -> str:
        """Page to send them to."""
        if self.first:
            return "/first"
        unsent = "&unsent=yes" if self.unsent else ""
        return f"/sign-in?goal={quote(self.goal, safe='')}{unsent}"


def signed_in(request: Request, site: SiteNow) -> str:
    """The session's name.

    Raises
    ------
    NotSignedInError
    """
    session = site.sessions.who(request)
    if session is None:
        asked = request.method == "GET"
        # A form is gone back to, not what it was sent to: what was typed is put back there.
        goal = request.url.path if asked else urlsplit(request.headers.get("referer", "")).path
        raise NotSignedInError(goal or "/", first=not site.passwords.is_set, unsent=not asked)
    return session


Session = Annotated[str, Depends(signed_in)]
"""Parameter of a route: only for signed-in devices."""
