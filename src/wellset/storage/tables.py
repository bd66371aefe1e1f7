"""The tables. Rows are turned into values in this room; nobody else knows them."""

from __future__ import annotations

from typing import Final

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

_ID = String(40)
_MOMENT = String(30)


def _owner(table: str, *, name: str, primary: bool = False) -> Column[str]:
    """A row that goes when its owner goes."""
    key = ForeignKey(f"{table}.id", ondelete="CASCADE")
    return Column(name, _ID, key, primary_key=primary, nullable=False)


STUDENT: Final = Table(
    "student",
    METADATA,
    Column("id", _ID, primary_key=True),
    Column("version", Integer, nullable=False),
    Column("name", String(120), nullable=False),
    Column("sort_name", String(400), nullable=False),  # without case and accents
    Column("hand", String(8), nullable=False),
    Column("file", Text, nullable=False),
    Column("units", String(8), nullable=False),
    Column("injuries", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("minor", Boolean, nullable=False),
    Column("guardian", Text),  # JSON
    Column("created_at", _MOMENT, nullable=False),
    Column("changed_at", _MOMENT, nullable=False),
    Index("ix_student_sort_name", "sort_name", "id"),
)

BAG: Final = Table(
    "bag",
    METADATA,
    _owner("student", name="student", primary=True),
    Column("version", Integer, nullable=False),
    Column("clubs", Text, nullable=False),  # JSON
)

LESSON: Final = Table(
    "lesson",
    METADATA,
    Column("id", _ID, primary_key=True),
    _owner("student", name="student"),
    Column("version", Integer, nullable=False),
    Column("starts_at", _MOMENT, nullable=False),
    Column("focus", String(200), nullable=False),
    Column("note", Text, nullable=False),
    Column("for_student", Text, nullable=False),
    Column("homework", Text, nullable=False),  # JSON
    Column("looked_at", Boolean, nullable=False),
    Column("created_at", _MOMENT, nullable=False),
    Column("changed_at", _MOMENT, nullable=False),
    Index("ix_lesson_student", "student", "starts_at"),
    Index("ix_lesson_starts_at", "starts_at"),
    Index("ix_lesson_looked_at", "looked_at", "starts_at"),
)

SETUP: Final = Table(
    "setup",
    METADATA,
    Column("id", _ID, primary_key=True),
    _owner("lesson", name="lesson"),
    _owner("student", name="student"),
    Column("version", Integer, nullable=False),
    Column("taken_at", _MOMENT, nullable=False),
    Column("club", String(60), nullable=False),
    Column("shot", String(40), nullable=False),
    Column("how", Text, nullable=False),  # JSON
    Column("plate", String(64), nullable=False),  # media of a pressure plate's file
    Column("standards", String(64), nullable=False),
    Column("assessed_at", _MOMENT),
    Column("first_change", String(40), nullable=False),
    Column("inside", Integer, nullable=False),
    Column("outside", Integer, nullable=False),
    Column("undecided", Integer, nullable=False),
    Column("state", String(12), nullable=False),
    Column("refusal", Text, nullable=False),
    Column("readings", Text, nullable=False),  # JSON: measure -> [value, sd]
    Index("ix_setup_lesson", "lesson", "taken_at"),
    Index("ix_setup_student", "student", "taken_at"),
    Index("ix_setup_assessed_at", "assessed_at"),
    Index("ix_setup_plate", "plate"),
)

DOCUMENT: Final = Table(
    "document",
    METADATA,
    _owner("setup", name="setup", primary=True),
    Column("landmarks", LargeBinary, nullable=False),  # JSON, deflated
    Column("assessment", LargeBinary, nullable=False),  # JSON, deflated
    Column("findings", LargeBinary, nullable=False),  # HTML, deflated
)

COMPARED: Final = Table(
    "compared",
    METADATA,
    _owner("setup", name="setup", primary=True),
    Column("version", Integer, nullable=False),
    Column("made_at", _MOMENT, nullable=False),
    Column("made_of", String(64), nullable=False),  # digest of everything it follows from
    Column("document", LargeBinary, nullable=False),  # JSON, deflated
    Column("page", LargeBinary, nullable=False),  # HTML, deflated
)

SHOWN: Final = Table(
    "shown",
    METADATA,
    _owner("setup", name="setup", primary=True),
    Column("view", String(16), primary_key=True),
    Column("media", String(64), nullable=False),
    Column("name", String(255), nullable=False),
    Column("kind", String(80), nullable=False),
    Column("preview", String(64), nullable=False),
    Index("ix_shown_media", "media"),
    Index("ix_shown_preview", "preview"),
)

STANDARDS: Final = Table(
    "standards",
    METADATA,
    Column("digest", String(64), primary_key=True),
    Column("name", String(200), nullable=False),
    Column("text", Text, nullable=False),
    Column("saved_at", _MOMENT, nullable=False),
    Column("current", Boolean, nullable=False),
)

DRILLS: Final = Table(
    "drills",
    METADATA,
    Column("digest", String(64), primary_key=True),
    Column("name", String(200), nullable=False),
    Column("what", String(200), nullable=False),  # what this version changed
    Column("text", Text, nullable=False),
    Column("saved_at", _MOMENT, nullable=False),
    Column("current", Boolean, nullable=False),
)

PLAN: Final = Table(
    "plan",
    METADATA,
    _owner("student", name="student", primary=True),
    Column("made_at", _MOMENT, nullable=False),
    Column("asked", Text, nullable=False),
    Column("document", LargeBinary, nullable=False),  # JSON, deflated
    Column("page", LargeBinary, nullable=False),  # HTML, deflated
)

SHARE: Final = Table(
    "share",
    METADATA,
    Column("id", _ID, primary_key=True),
    _owner("lesson", name="lesson"),
    Column("secret_digest", String(64), nullable=False, unique=True),
    Column("created_at", _MOMENT, nullable=False),
    Column("expires_at", _MOMENT, nullable=False),
    Column("revoked_at", _MOMENT),
    Index("ix_share_lesson", "lesson"),
)

SETTING: Final = Table(
    "setting",
    METADATA,
    Column("name", String(80), primary_key=True),
    Column("value", Text, nullable=False),
)

JOB: Final = Table(
    "job",
    METADATA,
    Column("id", _ID, primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("subject", _ID, nullable=False),
    Column("arguments", Text, nullable=False),
    Column("state", String(12), nullable=False),
    Column("step", String(200), nullable=False),
    Column("share", Float, nullable=False),
    Column("problem", Text, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("created_at", _MOMENT, nullable=False),
    Column("changed_at", _MOMENT, nullable=False),
    Index("ix_job_state", "state", "created_at"),
    Index("ix_job_subject", "subject", "created_at"),
)
