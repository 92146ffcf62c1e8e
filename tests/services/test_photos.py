"""Photos through the door: kept clean and once, by step; refused in words; taken out, with the file where that was said."""

from datetime import UTC, datetime, timedelta
from io import BytesIO
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from PIL import Image

from bonebench.door import About, Intake
from bonebench.errors import UnknownName
from bonebench.records import attached
from bonebench.records import entries as log_rows
from bonebench.services.photos.keep import when_taken
from bonebench.services.photos.taking import take, take_all
from tests.conftest import NOW, ZONE

from .hands import press_next, take_in

CHICAGO = ZoneInfo(ZONE)


def sent(seed: int = 1, taken: str | None = None, size: tuple[int, int] = (64, 48)) -> bytes:
    """A photo as a phone sends it, each seed another one."""
    image = Image.fromarray(np.random.default_rng(seed).integers(0, 255, (*size[::-1], 3), dtype=np.uint8))
    notes = Image.Exif()
    if taken is not None:
        notes.get_ifd(0x8769)[0x9003] = taken
    notes.get_ifd(0x8825)[2] = (40.0, 26.0, 46.0)
    out = BytesIO()
    image.save(out, "JPEG", exif=notes)
    return out.getvalue()


def keep(door, tag, *seeds, **about):
    return door.keep_photos(About(tag, **about), [take(sent(seed)) for seed in seeds])


def in_folder(door):
    return sorted(path.name for path in door.book.files.glob("*.jpg"))


def test_photos_belong_to_the_step_the_specimen_is_in_unless_said(desk):
    tag = take_in(desk).tag
    assert keep(desk, tag, 1).step == "frozen hold"
    assert keep(desk, tag, 2, step="Teeth-in").step == "teeth in"
    press_next(desk, tag)
    assert keep(desk, tag, 3).step == "thaw to trim"
    assert [photo.step for photo in desk.photos(tag).photos] == ["frozen hold", "thaw to trim", "teeth in"]


def test_what_is_kept_lies_beside_the_book_named_by_its_hash_and_shows_no_position(desk):
    tag = take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    file = desk.photo_file(photo.sha256)
    assert file.large.parent.name == "book-files"
    assert attached.hash_of_file(file.large) == photo.sha256 == file.large.stem
    for path in (file.large, file.small):
        with Image.open(path) as stored:
            assert (dict(stored.getexif()), stored.size) == ({}, (64, 48))
    assert desk.check().whole


def test_the_same_photo_twice_is_stored_once(desk):
    tag, other = take_in(desk).tag, take_in(desk).tag
    first = keep(desk, tag, 1, 1)
    again = keep(desk, tag, 1)
    assert (len(first.kept), len(again.kept), len(again.already)) == (1, 0, 1)
    keep(desk, tag, 1, step="trim")
    keep(desk, other, 1)
    assert [len(desk.photos(one).photos) for one in (tag, other)] == [2, 1]
    assert len(in_folder(desk)) == 1


def test_a_photo_of_a_part_is_about_that_part(desk):
    tag = take_in(desk, "white-tailed deer", parts="antlers").tag
    (photo,) = keep(desk, tag, 1, part="Antlers").kept
    assert (photo.part, desk.photos(tag).parts) == ("antlers", ("skull", "mandible", "antlers"))
    with pytest.raises(UnknownName) as refused:
        keep(desk, tag, 2, part="horn")
    assert str(refused.value) == f"{tag} has no part 'horn'; it has: skull, mandible, antlers"


def test_a_note_can_be_erased_with_the_owner_and_stands_not_in_the_log(desk):
    tag = take_in(desk, owner="Ada Nobody").tag
    keep(desk, tag, 1, note="owes us <b>")
    with desk.book.reading() as tx:
        assert "owes us" not in str([row.values for row in log_rows.all_entries(tx)])
    assert desk.photos(tag).photos[0].note == "owes us <b>"
    desk.erase_person("Ada Nobody")
    assert desk.photos(tag).photos[0].note == "text erased"


def test_one_that_is_no_photo_keeps_the_others_out_of_nothing(desk):
    tag = take_in(desk).tag
    taken, refused = take_all([("a.jpg", sent(1)), ("../b.jpg", b"nope"), ("c.jpg", sent(2))])
    card = desk.keep_photos(About(tag), taken, refused)
    assert (len(card.kept), [one.why.text for one in card.refused]) == (
        2, ["b.jpg is not a picture this program knows: send a JPEG or PNG"],
    )  # fmt: skip


def test_nothing_is_written_about_a_specimen_nobody_knows(desk):
    with pytest.raises(UnknownName, match="no specimen carries tag"):
        keep(desk, "0Z9-S", 1)
    assert in_folder(desk) == []
    with pytest.raises(UnknownName, match="'soup' is no step; the steps are: receive, frozen hold"):
        keep(desk, take_in(desk).tag, 1, step="soup")
    assert in_folder(desk) == []


def test_a_crash_after_the_file_leaves_no_entry_without_it(desk, monkeypatch):
    tag = take_in(desk).tag

    def crash(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(desk, "write", crash)
    with pytest.raises(KeyboardInterrupt):
        keep(desk, tag, 1)
    assert (desk.photos(tag).photos, len(in_folder(desk)), desk.check().whole) == ((), 1, True)


@pytest.mark.parametrize(
    ("taken", "at"),
    [
        (None, NOW),
        (datetime(2026, 5, 3, 17, 20), datetime(2026, 5, 3, 22, 20, tzinfo=UTC)),  # noqa: DTZ001  Chicago is 5 h behind in May
        (datetime(2026, 5, 3, 17, 20, tzinfo=UTC), datetime(2026, 5, 3, 17, 20, tzinfo=UTC)),
        (NOW + timedelta(minutes=5), NOW),
        (NOW + timedelta(days=1), NOW),
        (datetime(2000, 1, 1), NOW),  # noqa: DTZ001
        (datetime(1, 1, 1), NOW),  # noqa: DTZ001
        (datetime(9999, 12, 31, 23), NOW),  # noqa: DTZ001
    ],
)
def test_the_camera_is_believed_where_its_time_can_be(taken, at):
    assert when_taken(taken, NOW, CHICAGO).latest == at


def test_a_camera_whose_clock_cannot_be_right_is_named(desk):
    tag = take_in(desk).tag
    card = desk.keep_photos(About(tag), [take(sent(1, "2000:01:01 00:00:00"))])
    assert card.flags[0].what.text == "the camera says this was taken on 1 Jan 2000, which cannot be; now was written"
    fine = desk.keep_photos(About(tag), [take(sent(2, "2026:05:03 17:20:05"))])
    assert (fine.flags, fine.kept[0].at) == ((), datetime(2026, 5, 3, 22, 20, 5, tzinfo=UTC))


def test_a_photo_taken_out_is_listed_no_more_and_its_file_stays(desk):
    tag = take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    out = desk.take_photo_out(tag, photo.sha256[:8])
    assert (out.erased, desk.photos(tag).photos, len(in_folder(desk)), desk.check().whole) == (False, (), 1, True)
    assert keep(desk, tag, 1).kept[0].entry != photo.entry


def test_a_photo_that_showed_somebody_is_erased_with_its_file(desk):
    tag = take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    out = desk.take_photo_out(tag, photo.entry, erase=True)
    assert (out.tag, out.erased, in_folder(desk), desk.check().whole) == (tag, True, [], True)
    assert out.flags[0].what.text == "copies of the book made before still hold this photo"
    with pytest.raises(UnknownName, match="this book has no such photo"):
        desk.photo_file(photo.sha256)


def test_a_file_that_another_entry_shows_stays(desk):
    tag, other = take_in(desk).tag, take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    keep(desk, other, 1)
    out = desk.take_photo_out(tag, photo.entry, erase=True)
    assert (out.erased, len(in_folder(desk))) == (False, 1)
    assert out.flags[0].what.text == "the file stays, because another entry shows the same photo"
    assert desk.photos(other).photos[0].here


def test_a_photo_is_not_found_under_another_tag_or_a_wrong_name(desk):
    tag, other = take_in(desk).tag, take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    for name in (photo.entry, photo.sha256, "nope", "../../etc"):
        with pytest.raises(UnknownName) as refused:
            desk.take_photo_out(other, name)
        assert str(refused.value) == f"{other} has no photo '{name}'; `photo list {other}` shows them"


def test_a_missing_file_is_said_and_breaks_nothing(desk):
    tag = take_in(desk).tag
    (photo,) = keep(desk, tag, 1).kept
    desk.photo_file(photo.sha256).large.unlink()
    card = desk.photos(tag)
    assert (card.photos[0].here, card.photos[0].address, card.pair) == (False, "", None)
    assert card.flags[0].what.text == "1 photos are written down, but their files are not there"
    assert not desk.check().whole


def test_photos_are_kept_on_both_databases(door, tmp_path, monkeypatch):
    monkeypatch.setattr(door.book, "files", tmp_path / "photos")
    tag = door.add(Intake("red fox")).tag
    assert len(keep(door, tag, 1, 2).kept) == 2
    assert (len(door.photos(tag).photos), door.check().whole) == (2, True)
