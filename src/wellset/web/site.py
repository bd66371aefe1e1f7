"""What every page works with."""

from __future__ import annotations

from collections.abc import Callable
from datetime import tzinfo
from typing import Annotated, Protocol

from attrs import field, frozen
from fastapi import Depends, Request

from wellset.services.lesson_work import Desk
from wellset.services.moving import Bench
from wellset.web.local_time import LocalTime
from wellset.web.security.passwords import Passwords
from wellset.web.security.sessions import Sessions
from wellset.web.security.throttle import Throttle


class Line(Protocol):
    """The line of background work, as pages see it."""

    def nudge(self) -> None:
        """Say that there is new work."""


@frozen(kw_only=True)
class Options:
    """How the book is served.

    Parameters
    ----------
    lan : bool
        Whether other devices of the local network may come in.
    place : str
        Where the book lies, to show to the coach.
    most_upload : int
        Bytes of one picture or clip.
    zone : tzinfo or None
        Of the coach's clock; that of the machine where it is ``None``.
    """

    lan: bool = False
    place: str = ""
    most_upload: int = 600_000_000
    zone: tzinfo | None = None


@frozen(kw_only=True, eq=False)
class Site:
    """Everything a request needs.

    Parameters
    ----------
    desk : Desk
    line : Line
    options : Options
    passwords : Passwords
    sessions : Sessions
    throttle : Throttle
        Slows down whoever guesses passwords or links.
    bench : Bench
        Where moved points are tried.
    """

    desk: Desk
    line: Line
    options: Options
    passwords: Passwords
    sessions: Sessions
    throttle: Throttle = field(factory=Throttle)
    bench: Bench = field(factory=Bench)

    @property
    def now(self) -> Callable[[], str]:
        """The clock, as text."""
        return self.desk.now

    @property
    def local(self) -> LocalTime:
        """The coach's own days and times."""
        return LocalTime(zone=self.options.zone)


def site_of(request: Request) -> Site:
    """The site that a request came to."""
    site = request.app.state.site
    assert isinstance(site, Site)  # noqa: S101 - set once, by create_app
    return site


SiteNow = Annotated[Site, Depends(site_of)]
"""Parameter of a route: the site."""
