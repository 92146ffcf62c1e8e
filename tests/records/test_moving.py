"""A book can be carried to another address, whole; the old one stays."""

from sqlalchemy import select

from bonebench.door import Door, Intake
from bonebench.records import tables as t
from bonebench.records.moving import move_book
from bonebench.shop.fold import FOLD_VERSION


def rows(book):
    with book.reading() as tx:
        return {
            table.name: sorted(map(str, (tuple(row) for row in tx.connection.execute(select(table)))))
            for table in t.metadata.sorted_tables
        }


def test_a_moved_book_holds_every_row_and_goes_on_counting(door, tmp_path, now):
    tag = door.add(Intake(species="raccoon", owner="Zoë <b>")).tag
    to = str(tmp_path / "moved.db")
    move_book(door.book, to, now=now, book_id="moved", fold_version=FOLD_VERSION)
    with Door.open(to, clock=door.now, rng=door._rng, writer="test") as moved:
        assert rows(moved.book) == rows(door.book)
        assert moved.specimen(tag).owner == "Zoë <b>"
        assert moved.add(Intake(species="coyote")).tag != tag
