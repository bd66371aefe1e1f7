"""Standards, drills, plans, links and settings as rows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Row, Table, delete, insert, select, update

from wellset.services.book import Comparison, DrillsVersion, PlanRecord, Share, StandardsVersion
from wellset.storage.base import Part
from wellset.storage.packing import pack, unpack
from wellset.storage.tables import COMPARED, DRILLS, PLAN, SETTING, SHARE, STANDARDS


def _version(row: Row[Any]) -> StandardsVersion:
    return StandardsVersion(
        digest=row.digest,
        name=row.name,
        text=row.text,
        saved_at=row.saved_at,
        current=row.current,
    )


def _drills(row: Row[Any]) -> DrillsVersion:
    return DrillsVersion(
        digest=row.digest,
        name=row.name,
        what=row.what,
        text=row.text,
        saved_at=row.saved_at,
        current=row.current,
    )


def _share(row: Row[Any]) -> Share:
    return Share(
        id=row.id,
        lesson=row.lesson,
        secret_digest=row.secret_digest,
        created_at=row.created_at,
        expires_at=row.expires_at,
        revoked_at=row.revoked_at,
    )


class SqlShelf(Part):
    """See :class:`wellset.services.book.Shelf`."""

    def standards_versions(self) -> tuple[StandardsVersion, ...]:
        """All kept versions, newest first."""
        asked = select(STANDARDS).order_by(STANDARDS.c.saved_at.desc(), STANDARDS.c.digest)
        return tuple(_version(row) for row in self._connection.execute(asked))

    def current_standards(self) -> StandardsVersion | None:
        """The version in force."""
        asked = select(STANDARDS).where(STANDARDS.c.current.is_(True))
        row = self._connection.execute(asked).first()
        return None if row is None else _version(row)

    def save_standards(self, version: StandardsVersion, /) -> None:
        """Keep a version; when it is current, no other is."""
        if version.current:
            self._connection.execute(update(STANDARDS).values(current=False))
        row = {
            "name": version.name,
            "text": version.text,
            "saved_at": version.saved_at,
            "current": version.current,
        }
        self._replace(STANDARDS, key={"digest": version.digest}, row=row)

    def drills_versions(self) -> tuple[DrillsVersion, ...]:
        """All kept versions, newest first."""
        asked = select(DRILLS).order_by(DRILLS.c.saved_at.desc(), DRILLS.c.digest)
        return tuple(_drills(row) for row in self._connection.execute(asked))

    def current_drills(self) -> DrillsVersion | None:
        """The version in force."""
        asked = select(DRILLS).where(DRILLS.c.current.is_(True))
        row = self._connection.execute(asked).first()
        return None if row is None else _drills(row)

    def save_drills(self, version: DrillsVersion, /) -> None:
        """Keep a version; when it is current, no other is."""
        if version.current:
            self._connection.execute(update(DRILLS).values(current=False))
        row = {
            "name": version.name,
            "what": version.what,
            "text": version.text,
            "saved_at": version.saved_at,
            "current": version.current,
        }
        self._replace(DRILLS, key={"digest": version.digest}, row=row)

    def plan(self, student_id: str, /) -> PlanRecord | None:
        """The student's latest plan."""
        row = self._connection.execute(select(PLAN).where(PLAN.c.student == student_id)).first()
        if row is None:
            return None
        return PlanRecord(
            student=row.student,
            made_at=row.made_at,
            asked=row.asked,
            document=unpack(row.document),
            page=unpack(row.page),
        )

    def save_plan(self, plan: PlanRecord, /) -> None:
        """Keep a plan in place of the last."""
        row = {
            "made_at": plan.made_at,
            "asked": plan.asked,
            "document": pack(plan.document),
            "page": pack(plan.page),
        }
        self._replace(PLAN, key={"student": plan.student}, row=row)

    def comparison(self, setup_id: str, /) -> Comparison | None:
        """The comparison of a set-up that was kept last."""
        asked = select(COMPARED).where(COMPARED.c.setup == setup_id)
        row = self._connection.execute(asked).first()
        if row is None:
            return None
        return Comparison(
            setup=row.setup,
            version=row.version,
            made_at=row.made_at,
            made_of=row.made_of,
            document=unpack(row.document),
            page=unpack(row.page),
        )

    def save_comparison(self, comparison: Comparison, /) -> None:
        """Keep a comparison in place of the last."""
        row = {
            "version": comparison.version,
            "made_at": comparison.made_at,
            "made_of": comparison.made_of,
            "document": pack(comparison.document),
            "page": pack(comparison.page),
        }
        self._replace(COMPARED, key={"setup": comparison.setup}, row=row)

    def share(self, secret_digest: str, /) -> Share | None:
        """The link with this secret."""
        asked = select(SHARE).where(SHARE.c.secret_digest == secret_digest)
        row = self._connection.execute(asked).first()
        return None if row is None else _share(row)

    def shares_of(self, lesson_id: str, /) -> tuple[Share, ...]:
        """A lesson's links, newest first."""
        asked = select(SHARE).where(SHARE.c.lesson == lesson_id)
        rows = self._connection.execute(asked.order_by(SHARE.c.created_at.desc()))
        return tuple(_share(row) for row in rows)

    def save_share(self, share: Share, /) -> None:
        """Keep a link or what became of it."""
        row = {
            "lesson": share.lesson,
            "secret_digest": share.secret_digest,
            "created_at": share.created_at,
            "expires_at": share.expires_at,
            "revoked_at": share.revoked_at,
        }
        self._replace(SHARE, key={"id": share.id}, row=row)

    def setting(self, name: str, /) -> str | None:
        """A setting of the book."""
        asked = select(SETTING.c.value).where(SETTING.c.name == name)
        value: str | None = self._connection.scalar(asked)
        return value

    def save_setting(self, name: str, value: str | None, /) -> None:
        """Keep a setting; ``None`` removes it."""
        if value is None:
            self._connection.execute(delete(SETTING).where(SETTING.c.name == name))
        else:
            self._replace(SETTING, key={"name": name}, row={"value": value})

    def _replace(
        self, table: Table, *, key: Mapping[str, object], row: Mapping[str, object]
    ) -> None:
        named = [table.c[name] == value for name, value in key.items()]
        if self._connection.execute(update(table).where(*named).values(**row)).rowcount == 0:
            self._connection.execute(insert(table).values(**key, **row))
