"""Free text stands with the people and not in the log, so that erasing somebody erases what was written about them."""

from bonebench.records import entries as log_rows

from .hands import take_in

SECRET = "owes us for two foxes <b>"
ID = "11111111-1111-7111-8111-111111111111"


def in_log(door):
    with door.book.reading() as tx:
        return str([row.values for row in log_rows.all_entries(tx)])


def told(door, tag):
    return [entry.what.text for entry in door.specimen(tag).entries]


def test_a_note_is_shown_but_does_not_stand_in_the_log(door):
    tag = take_in(door, owner="Ada Nobody").tag
    door.log(tag, "noted", [f"note={SECRET}"])
    door.log(tag, "problem", ["what=smell", f"note={SECRET}"])
    assert f"note: {SECRET}" in told(door, tag)
    assert f"problem: It smells: {SECRET}" in told(door, tag)
    assert SECRET not in in_log(door)


def test_erasing_the_owner_erases_what_was_noted_about_them(door):
    tag = take_in(door, owner="Ada Nobody").tag
    door.log(tag, "noted", [f"note={SECRET}"])
    # The person and one note.
    assert door.erase_person("Ada Nobody") == 2
    assert "note: text erased" in told(door, tag)
    assert door.specimen(tag).owner is None


def test_the_same_note_under_the_same_id_is_stored_once(door, clock):
    tag = take_in(door).tag
    assert door.log(tag, "noted", [f"note={SECRET}"], entry_id=ID).stored == "stored"
    clock.advance(minutes=5)
    assert door.log(tag, "noted", [f"note={SECRET}"], entry_id=ID).stored == "already stored"
    assert door.log(tag, "noted", ["note=another"], entry_id=ID).stored == "clash"
