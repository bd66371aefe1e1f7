"""Only signed-in devices see the book."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

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
    """

    def __init__(self, goal: str, *, first: bool) -> None:
        super().__init__(goal)
        self.goal = goal
        self.first = first

    @property
    def page(self) -> str:
        """Page to send them to."""
        return "/first" if self.first else f"/sign-in?goal={quote(self.goal, safe='')}"


def signed_in(request: Request, site: SiteNow) -> str:
    """The session's name.

    Raises
    ------
    NotSignedInError
    """
    session = site.sessions.who(request)
    if session is None:
        goal = request.url.path if request.method == "GET" else "/"
        raise NotSignedInError(goal, first=not site.passwords.is_set)
    return session


Session = Annotated[str, Depends(signed_in)]
"""Parameter of a route: only for signed-in devices."""
