"""The numbers tags are made from."""

from sqlalchemy import select, update

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing


def next_tag_number(tx: Writing) -> int:
    """Return the next number and count it as used."""
    number = int(tx.connection.execute(select(t.book.c.next_tag)).scalar_one())
    tx.connection.execute(update(t.book).values(next_tag=number + 1))
    return number


def coming(tx: Reading) -> int:
    """Return the number the next tag will be made from."""
    return int(tx.connection.execute(select(t.book.c.next_tag)).scalar_one())
