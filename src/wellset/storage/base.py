"""What all parts of the book share: the connection of one transaction."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, select

from wellset.storage.tables import SHOWN


class Part:
    """One transaction's view of the book."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def unused(self, media: Iterable[str], /) -> tuple[str, ...]:
        """Those media that no set-up refers to any more."""
        asked = sorted(set(media))
        if not asked:
            return ()
        used = set(self._connection.scalars(select(SHOWN.c.media).where(SHOWN.c.media.in_(asked))))
        return tuple(m for m in asked if m not in used)
