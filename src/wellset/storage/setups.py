"""Set-ups as rows: what lists show in one table, long documents in another."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import evolve
from sqlalchemy import Row, delete, insert, select, update

from wellset.figure.views import View
from wellset.lessons import Reading, SetUp, Shown, Summary
from wellset.storage.base import Part
from wellset.storage.how import how_of, how_text
from wellset.storage.packing import pack, unpack
from wellset.storage.rows import missing, save_versioned
from wellset.storage.tables import DOCUMENT, SETUP, SHOWN

_WITH_DOCUMENTS = select(
    SETUP, DOCUMENT.c.landmarks, DOCUMENT.c.assessment, DOCUMENT.c.findings
).join(DOCUMENT, DOCUMENT.c.setup == SETUP.c.id)


def _setup(row: Row[Any], *, shown: Mapping[View, Shown], documents: bool = True) -> SetUp:
    return SetUp(
        id=row.id,
        lesson=row.lesson,
        student=row.student,
        version=row.version,
        taken_at=row.taken_at,
        club=row.club,
        shot=row.shot,
        shown=shown,
        how=how_of(row.how, plate=row.plate),
        landmarks=unpack(row.landmarks) if documents else "",
        standards=row.standards,
        assessment=unpack(row.assessment) if documents else "",
        findings=unpack(row.findings) if documents else "",
        assessed_at=row.assessed_at,
        summary=Summary(
            first_change=row.first_change,
            inside=row.inside,
            outside=row.outside,
            undecided=row.undecided,
        ),
        state=row.state,
        refusal=row.refusal,
    )


def _columns(setup: SetUp) -> dict[str, object]:
    return {
        "lesson": setup.lesson,
        "student": setup.student,
        "taken_at": setup.taken_at,
        "club": setup.club,
        "shot": setup.shot,
        "how": how_text(setup.how),
        "plate": setup.how.plate.media if setup.how.plate is not None else "",
        "standards": setup.standards,
        "assessed_at": setup.assessed_at,
        "first_change": setup.summary.first_change,
        "inside": setup.summary.inside,
        "outside": setup.summary.outside,
        "undecided": setup.summary.undecided,
        "state": setup.state.value,
        "refusal": setup.refusal,
    }


class SqlSetUps(Part):
    """The set-ups' part of :class:`wellset.services.book.Lessons`."""

    def setup(self, setup_id: str, /) -> SetUp:
        """One set-up."""
        row = self._connection.execute(_WITH_DOCUMENTS.where(SETUP.c.id == setup_id)).first()
        if row is None:
            raise missing("set-up")
        return _setup(row, shown=self._shown([setup_id]).get(setup_id, {}))

    def setups_of(self, lesson_id: str, /) -> tuple[SetUp, ...]:
        """A lesson's set-ups in the order they were taken."""
        asked = _WITH_DOCUMENTS.where(SETUP.c.lesson == lesson_id)
        return self._with_documents(asked.order_by(SETUP.c.taken_at, SETUP.c.id))

    def recent_setups(self, *, limit: int = 200) -> tuple[SetUp, ...]:
        """Assessed set-ups with their documents, newest first."""
        asked = _WITH_DOCUMENTS.where(SETUP.c.assessed_at.is_not(None))
        return self._with_documents(asked.order_by(SETUP.c.assessed_at.desc()).limit(limit))

    def save_setup(self, setup: SetUp, *, readings: Mapping[str, Reading] | None = None) -> SetUp:
        """Keep a set-up with its measures."""
        row = _columns(setup)
        if readings is not None or setup.version == 0:
            kept = {name: [r.value, r.sd] for name, r in (readings or {}).items()}
            row["readings"] = json.dumps(kept)
        version = save_versioned(
            self._connection,
            SETUP,
            key={"id": setup.id},
            version=setup.version,
            row=row,
            what="set-up",
        )
        self._save_documents(setup)
        self._save_shown(setup)
        return evolve(setup, version=version)

    def remove_setup(self, setup_id: str, /) -> tuple[str, ...]:
        """Remove a set-up."""
        media = self.media_of(SETUP.c.id == setup_id)
        gone = self._connection.execute(delete(SETUP).where(SETUP.c.id == setup_id))
        if gone.rowcount == 0:
            raise missing("set-up")
        return self.unused(media)

    def readings_of(
        self, student_id: str, *, measure: str | None = None, club: str | None = None
    ) -> Sequence[tuple[SetUp, Mapping[str, Reading]]]:
        """Measures of a student's set-ups, oldest first."""
        asked = select(SETUP).where(SETUP.c.student == student_id)
        if club is not None:
            asked = asked.where(SETUP.c.club == club)
        rows = self._connection.execute(asked.order_by(SETUP.c.taken_at, SETUP.c.id)).all()
        shown = self._shown([row.id for row in rows])
        return [
            (
                _setup(row, shown=shown.get(row.id, {}), documents=False),
                {
                    name: Reading(when=row.taken_at, value=value, sd=sd)
                    for name, (value, sd) in json.loads(row.readings).items()
                    if measure in {None, name}
                },
            )
            for row in rows
        ]

    def _with_documents(self, asked: Any) -> tuple[SetUp, ...]:  # noqa: ANN401 - a select
        rows = self._connection.execute(asked).all()
        shown = self._shown([row.id for row in rows])
        return tuple(_setup(row, shown=shown.get(row.id, {})) for row in rows)

    def _shown(self, setups: Iterable[str]) -> dict[str, dict[View, Shown]]:
        found: dict[str, dict[View, Shown]] = {}
        asked = select(SHOWN).where(SHOWN.c.setup.in_(list(setups)))
        for row in self._connection.execute(asked):
            shown = Shown(media=row.media, name=row.name, kind=row.kind, preview=row.preview)
            found.setdefault(row.setup, {})[View(row.view)] = shown
        return found

    def _save_documents(self, setup: SetUp) -> None:
        packed = {
            "landmarks": pack(setup.landmarks),
            "assessment": pack(setup.assessment),
            "findings": pack(setup.findings),
        }
        change = update(DOCUMENT).where(DOCUMENT.c.setup == setup.id).values(**packed)
        if self._connection.execute(change).rowcount == 0:
            self._connection.execute(insert(DOCUMENT).values(setup=setup.id, **packed))

    def _save_shown(self, setup: SetUp) -> None:
        self._connection.execute(delete(SHOWN).where(SHOWN.c.setup == setup.id))
        rows = [
            {
                "setup": setup.id,
                "view": view.value,
                "media": shown.media,
                "name": shown.name,
                "kind": shown.kind,
                "preview": shown.preview,
            }
            for view, shown in setup.shown.items()
        ]
        if rows:
            self._connection.execute(insert(SHOWN), rows)
