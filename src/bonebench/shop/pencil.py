"""A pencil sheet's number, and reading back what was written on it: "3 b, 5 a, 7 c at 14:30".

A row is a number, what happened to it a letter, which problem a number behind the letter: ``3 d4``. A time holds for what stands
before it on its line, back to the time before it. What cannot be read is a value with the words it stood in; the rest is kept.
"""

import hashlib
import re
import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, time

from stdnum.iso7064 import mod_37_2

from bonebench.errors import InputError
from bonebench.said import Said, said
from bonebench.shop.identity import NEVER_ISSUED

_LETTERS = "".join(c for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if c not in NEVER_ISSUED)


def sheet_number(day: date, nth: int) -> str | None:
    """Return the number of the ``nth`` sheet of a day, such as 1126A-7; None where its check character is one never issued.

    Month and day, a letter, and a check character (ISO 7064 MOD 37-2), so that two swapped digits are no other sheet. After the
    letters come pairs of them.
    """
    first, second = divmod(nth, len(_LETTERS))
    letters = (_LETTERS[first - 1] if first else "") + _LETTERS[second]
    if first > len(_LETTERS):
        raise ValueError(f"{nth} sheets in one day")
    body = f"{day:%m%d}{letters}"
    check = mod_37_2.calc_check_digit(body)
    return None if check in NEVER_ISSUED else f"{body}-{check}"


def read_sheet_number(text: str) -> str:
    """Read a sheet's number as typed; one whose check character does not fit is refused."""
    plain = re.sub(r"[\s.\-:]|sheet|no", "", text.casefold()).upper()
    if not re.fullmatch(r"\d{4}[A-Z]{1,2}[0-9A-Z]", plain) or set(plain) & NEVER_ISSUED or not mod_37_2.is_valid(plain):
        raise InputError(
            "sheet.number",
            "'{text}' is not the number of a sheet: it stands at the head of the sheet, like 1126A-7, and its last character "
            "checks the others; look at it again",
            text=text,
        )  # fmt: skip
    return f"{plain[:-1]}-{plain[-1]}"


def row_entry_id(sheet_entry: str, row: int, code: str, attempt: int = 0) -> str:
    """Return the id of the entry that a letter of a row stores: always the same, so that typing a sheet twice stores it once.

    A version 8 UUID (RFC 9562: made by a rule of one's own). ``attempt`` counts those that were taken back before.
    """
    digest = hashlib.blake2b(f"{sheet_entry}\x1f{row}\x1f{code}\x1f{attempt}".encode(), digest_size=16).digest()
    value = int.from_bytes(digest, "big") & ~(0xF << 76) & ~(0x3 << 62)
    return str(uuid.UUID(int=value | 0x8 << 76 | 0x2 << 62))


@dataclass(frozen=True, slots=True)
class Clock:
    """When, as far as it was written: a day, a time, or an hour only."""

    day: date | None = None
    at: time | None = None
    hour_only: bool = False


@dataclass(frozen=True, slots=True)
class Written:
    """One thing that was read: this letter in this row, when that was said, and the words it stood in."""

    row: int
    code: str
    text: str
    when: Clock | None = None


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that could not be used, and why."""

    text: str
    why: Said


MOST_TYPED = 4000
_GAP = re.compile(r"(?:[\s,.:)]|\band\b|&|\+)*", re.IGNORECASE)
# A row, its letter, and which problem: "3 d4", and "3 d 4" where no letter follows that would make the 4 a row of its own.
_NUMBER = r"(\d{1,2})(?!\d|[:.]\d)"
_MARK = re.compile(
    rf"(?:row\s*)?(\d{{1,3}})\s*[.:)=\-]?\s*([a-z])(?![a-z])(?:{_NUMBER}|(?<=d)\s+{_NUMBER}(?!\s*[a-z]\b))?", re.IGNORECASE
)
_MORE = re.compile(rf"([a-z])(?![a-z])(?:{_NUMBER})?", re.IGNORECASE)
_DAY = re.compile(r"(?:on\s+)?(\d{4})-(\d{1,2})-(\d{1,2})(?:\s*T\s*|\s+|,\s*)?", re.IGNORECASE)
# 14:30, 14.30, 1430 and 2:30 pm; an hour alone only behind "at".
_TIME = re.compile(
    r"(?:at|@)?\s*(?:(\d{1,2})\s*[:.h]\s*(\d{2})|(\d{2})(\d{2}))\s*([ap]\.?m\.?)?(?!\d)"
    r"|(?:at|@)\s*(\d{1,2})\s*([ap]\.?m\.?)?(?![\d:.])",
    re.IGNORECASE,
)


def read_marks(text: str) -> tuple[list[Written], list[Unread]]:
    """Read what was typed back; good rows are kept whatever stands beside them."""
    if len(text) > MOST_TYPED:
        raise InputError("sheet.long", "{count} characters are more than a sheet holds; type one sheet at a time", count=len(text))
    written: list[Written] = []
    unread: list[Unread] = []
    for line in re.split(r"[;\n]", text):
        marks, faults = _read_line(line)
        written += marks
        unread += faults
    return _without_twins(written), unread


def _read_line(line: str) -> tuple[list[Written], list[Unread]]:
    done: list[Written] = []
    waiting: list[Written] = []  # for a time that may come behind them
    unread: list[Unread] = []
    leading: tuple[Clock, str] | None = None
    at, row = 0, None
    while (at := _GAP.match(line, at).end()) < len(line):  # type: ignore[union-attr]  # it matches nothing too
        clock = _clock(line, at)
        found = _MARK.match(line, at) if clock is None else None
        more = _MORE.match(line, at) if clock is None and found is None and row is not None else None
        if clock is not None:
            words, (at, when, fault) = line[at : clock[0]].strip(), clock
            if fault is not None:
                unread += [_waits(one, words) for one in waiting] or [fault]
            elif waiting:
                done += [_timed(one, when, words) for one in waiting]
            elif not done:
                leading = (when, words)
            waiting = []
        elif found is not None:
            at, row = found.end(), int(found[1])
            waiting.append(Written(row, _code(found[2], found[3] or found[4]), found[0].strip()))
        elif more is not None and row is not None:
            at = more.end()
            waiting.append(Written(row, _code(more[1], more[2]), f"{row} {more[0].strip()}"))
        else:
            end = _next_row(line, at)
            unread.append(Unread(line[at:end].strip(), _NOT_A_ROW))
            at, row = end, None
    return done + [_timed(one, *leading) if leading is not None else one for one in waiting], unread


def _next_row(line: str, at: int) -> int:
    """Where what cannot be read ends: at a comma, or where the next row begins."""
    found = re.compile(r",|(?<=\s)\d{1,3}\s*[a-z]\b", re.IGNORECASE).search(line, at + 1)
    return found.start() if found is not None else len(line)


def _code(letter: str, number: str | None) -> str:
    return letter.lower() + (str(int(number)) if number else "")


_NOT_A_ROW = said("sheet.unread", "not read: write the row's number and a letter, like 3 b, and a comma between")


def _timed(one: Written, when: Clock, words: str) -> Written:
    """A row with its time, and the words of both, so that it can be put right without looking for the time again."""
    return replace(one, when=when, text=f"{one.text} {words}")


def _waits(one: Written, words: str) -> Unread:
    why = said("sheet.waits", "'{time}' is no time; write it like 14:30. Nothing of it is stored", time=words)
    return Unread(f"{one.text} {words}", why)


def _clock(line: str, at: int) -> tuple[int, Clock, Unread | None] | None:
    """Read a day, a time or both at this place of a line; None where there is neither."""
    day = _DAY.match(line, at)
    time_at = day.end() if day is not None else at
    found = _TIME.match(line, time_at)
    if day is None and found is None:
        return None
    end = found.end() if found is not None else time_at
    try:
        on = date(int(day[1]), int(day[2]), int(day[3])) if day is not None else None
        when = Clock(on, _time(found), hour_only=found[6] is not None) if found is not None else Clock(on)
    except ValueError:
        words = line[at:end].strip()
        return end, Clock(), Unread(words, said("sheet.time", "'{text}' is no time; write it like 14:30", text=words))
    return end, when, None


def _time(found: re.Match[str]) -> time:
    hour, minute = int(found[1] or found[3] or found[6]), int(found[2] or found[4] or 0)
    half = (found[5] or found[7] or "").casefold()
    if half:
        if not 1 <= hour <= 12:
            raise ValueError(f"{hour} {half}")
        hour = hour % 12 + (12 if half.startswith("p") else 0)
    return time(hour, minute)


def _without_twins(written: list[Written]) -> list[Written]:
    """The same letter of the same row said twice was meant once; the one with a time is the one that is kept."""
    kept: dict[tuple[int, str], Written] = {}
    for one in written:
        before = kept.get((one.row, one.code))
        if before is None or (before.when is None and one.when is not None):
            kept[one.row, one.code] = one
    return list(kept.values())


def at_odds(written: Iterable[Written]) -> Iterator[int]:
    """Yield the rows that carry two letters which cannot both be: done and not yet. A problem goes with any of them."""
    said_of: dict[int, set[str]] = {}
    for one in written:
        if not one.code.startswith("d"):
            said_of.setdefault(one.row, set()).add(one.code)
    yield from (row for row, codes in said_of.items() if len(codes) > 1)
