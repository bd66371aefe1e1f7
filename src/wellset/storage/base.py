"""What all parts of the book share: the connection of one transaction."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import ColumnElement, Connection, select

from wellset.storage.tables import SETUP, SHOWN


class Part:
    """One transaction's view of the book."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def media_of(self, which: ColumnElement[bool], /) -> set[str]:
        """Pictures, clips, previews and plates' files of the set-ups that a condition picks."""
        asked = select(SHOWN.c.media, SHOWN.c.preview).join(SETUP, SETUP.c.id == SHOWN.c.setup)
        rows = self._connection.execute(asked.where(which)).all()
        plates = self._connection.execute(select(SETUP.c.plate).where(which)).all()
        return {media for row in (*rows, *plates) for media in row if media}

    def unused(self, media: Iterable[str], /) -> tuple[str, ...]:
        """Those media that no set-up refers to any more."""
        asked = sorted(set(media))
        if not asked:
            return ()
        used = {
            media
            for column in (SHOWN.c.media, SHOWN.c.preview, SETUP.c.plate)
            for media in self._connection.scalars(select(column).where(column.in_(asked)))
        }
        return tuple(m for m in asked if m not in used)
