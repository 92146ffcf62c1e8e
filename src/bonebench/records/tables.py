"""The tables, the same on SQLite and PostgreSQL. No ON DELETE CASCADE anywhere: nothing is deleted by accident."""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Date,
    DateTime,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

NAMES = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
metadata = MetaData(naming_convention=NAMES)


class Instant(TypeDecorator[datetime]):
    """An instant: UTC in the book, aware on both sides. SQLite keeps no zone, so a naive one is refused before it gets there."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn into UTC; a naive time is a bug of the caller."""
        del dialect
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value} has no time zone; an instant in the book is UTC")
        return value.astimezone(UTC)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """Give back UTC."""
        del dialect
        if not isinstance(value, datetime):
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


Id = String(36)
# What comes out of an entry's values may be of any length: what happened is never refused for it.
Free = String()

book = Table(
    "book",
    metadata,
    Column("one", Integer, primary_key=True, autoincrement=False),
    Column("book_id", Id, nullable=False),
    Column("kind", String(8), nullable=False),
    Column("made_at", Instant, nullable=False),
    Column("fold_version", Integer, nullable=False),
    Column("work_revision", Integer, nullable=False),
    Column("readings_revision", Integer, nullable=False),
    Column("next_tag", Integer, nullable=False),
    Column("demo_day", Date),
    Column("demo_entries", Integer),
)

entry = Table(
    "entry",
    metadata,
    Column("seq", Integer, primary_key=True),
    Column("id", String(64), nullable=False, unique=True),
    Column("kind", String(40), nullable=False),
    Column("form", Integer, nullable=False),
    Column("writer", String(120), nullable=False),
    Column("number", BigInteger, nullable=False),
    Column("earliest", Instant, nullable=False),
    Column("latest", Instant, nullable=False),
    Column("recorded", Instant, nullable=False),
    Column("who", Id),
    Column("task", String(64)),
    Column("replaces", String(64)),
    Column("subjects", JSON, nullable=False),
    Column("content", JSON, nullable=False),
    Column("fingerprint", String(64), nullable=False),
    Index("ix_entry_writer_number", "writer", "number"),
    Index("ix_entry_kind_latest", "kind", "latest"),
)

# subject -> entry: by the root, so that a part's entries are found with its specimen.
entry_subject = Table(
    "entry_subject",
    metadata,
    Column("root", String(120), primary_key=True),
    Column("seq", ForeignKey("entry.seq"), primary_key=True),
    Index("ix_entry_subject_seq", "seq"),
)

# What an entry strikes out. The target may arrive later, so this is no foreign key.
entry_target = Table(
    "entry_target",
    metadata,
    Column("target", Free, primary_key=True),
    Column("seq", ForeignKey("entry.seq"), primary_key=True),
)

entry_aside = Table(
    "entry_aside",
    metadata,
    Column("seq", Integer, primary_key=True),
    Column("id", String(64), nullable=False),
    Column("fingerprint", String(64), nullable=False),
    Column("content", JSON, nullable=False),
    Column("received_at", Instant, nullable=False),
    Column("settled_at", Instant),
    UniqueConstraint("id", "fingerprint"),
)

specimen_now = Table(
    "specimen_now",
    metadata,
    Column("id", Free, primary_key=True),
    Column("tag", Free, nullable=False, index=True),
    Column("owner", Free, index=True),
    Column("species", Free, index=True),
    Column("finished", Boolean, nullable=False, index=True),
    Column("state", JSON, nullable=False),
)

part_now = Table(
    "part_now",
    metadata,
    Column("specimen", ForeignKey("specimen_now.id"), primary_key=True),
    Column("part", Free, primary_key=True),
    Column("place", Free, index=True),
    Column("since", Instant),
)

# How long each stay of a specimen took, or has run: what durations are learned from.
stay_now = Table(
    "stay_now",
    metadata,
    Column("specimen", ForeignKey("specimen_now.id"), primary_key=True),
    Column("step", String(40), primary_key=True),
    Column("visit", BigInteger, primary_key=True),
    Column("method", Free, index=True),
    Column("species", Free, nullable=False),
    Column("head_kg", Float),
    Column("days", Float, nullable=False),
)

# What entries that count say of a specimen in words: the text in plain letters, and by its id the note, which can be erased.
written_now = Table(
    "written_now",
    metadata,
    Column("specimen", ForeignKey("specimen_now.id"), primary_key=True),
    Column("entry", Free, primary_key=True),
    Column("text", Free, nullable=False),
    Column("note", Free, index=True),
)

place_now = Table(
    "place_now",
    metadata,
    Column("key", Free, primary_key=True),
    Column("state", JSON, nullable=False),
)

bath_now = Table(
    "bath_now",
    metadata,
    Column("id", Free, primary_key=True),
    Column("place", Free, index=True),
    Column("live", Boolean, nullable=False, index=True),
    Column("state", JSON, nullable=False),
)

room_now = Table(
    "room_now",
    metadata,
    Column("one", Integer, primary_key=True, autoincrement=False),
    Column("state", JSON, nullable=False),
)

person = Table(
    "person",
    metadata,
    Column("id", Id, primary_key=True),
    Column("name", String(200)),
    Column("contact", Text),
    Column("note", Text),
    Column("erased_at", Instant),
)

note = Table(
    "note",
    metadata,
    Column("id", Id, primary_key=True),
    Column("person", ForeignKey("person.id"), index=True),
    Column("text", Text),
    Column("erased_at", Instant),
)

plan = Table(
    "plan",
    metadata,
    Column("kind", String(20), primary_key=True),
    Column("work_revision", Integer, nullable=False),
    Column("made_at", Instant, nullable=False),
    Column("body", JSON, nullable=False),
)

# Long work that was asked for: how far it is, and what came of it.
job = Table(
    "job",
    metadata,
    Column("id", Id, primary_key=True),
    Column("kind", String(20), nullable=False, index=True),
    Column("state", String(10), nullable=False),
    Column("asked", JSON, nullable=False),
    Column("share", Float, nullable=False),
    Column("words", JSON),
    Column("stop", Boolean, nullable=False),
    Column("begun_at", Instant, nullable=False),
    Column("heard_at", Instant, nullable=False),
    Column("ended_at", Instant),
    Column("result", JSON),
)

writer = Table(
    "writer",
    metadata,
    Column("name", String(120), primary_key=True),
    Column("last_number", BigInteger, nullable=False),
)

# Photos and papers lie in a folder beside the book, each named by its SHA-256; this says which ones should be there.
file = Table(
    "file",
    metadata,
    Column("sha256", String(64), primary_key=True),
    Column("media_type", String(60), nullable=False),
    Column("size_bytes", BigInteger, nullable=False),
    Column("width_px", Integer),
    Column("height_px", Integer),
    Column("sent_sha256", String(64), index=True),
    Column("added_at", Instant, nullable=False),
    Column("erased_at", Instant),
)
