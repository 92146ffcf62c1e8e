"""The numbers tags are made from."""

from sqlalchemy import select, update

from bonebench.records import tables as t
from bonebench.records.book import Writing


def next_tag_number(tx: Writing) -> int:
    """Return the next number and count it as used."""
    number = int(tx.connection.execute(select(t.book.c.next_tag)).scalar_one())
    tx.connection.execute(update(t.book).values(next_tag=number + 1))
    return number
