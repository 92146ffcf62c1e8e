"""Ids made by the writer, tags for people, and the id of a task."""

import hashlib
import random
import uuid
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta

from stdnum.iso7064 import mod_37_2

from bonebench.errors import InputError

NewId = Callable[[], str]

# Letters that are read as another character, or said like one, are never issued; neither is '*', which is no letter at all.
NEVER_ISSUED = frozenset("OILU*")
_BODY_ALPHABET = "".join(c for c in "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ" if c not in NEVER_ISSUED)
BODY_LENGTH = 3
UNIX_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def uuid7(now: datetime, rng: random.Random) -> str:
    """Make a version 7 UUID (RFC 9562): 48 bits of Unix milliseconds, then chance."""
    if now.tzinfo is None:
        raise ValueError("now must carry its time zone")
    milliseconds = (now - UNIX_EPOCH) // timedelta(milliseconds=1)
    value = (milliseconds & (2**48 - 1)) << 80 | rng.getrandbits(80)
    value &= ~(0xF << 76) & ~(0x3 << 62)
    return str(uuid.UUID(int=value | 0x7 << 76 | 0x2 << 62))


def tag_from_number(number: int) -> str | None:
    """Return tag number ``number``, such as K7Q-K, or None where its check character would be one that is never issued.

    The check character is ISO 7064 MOD 37-2: one wrong or two swapped characters are caught.
    """
    base = len(_BODY_ALPHABET)
    body = ""
    rest = number
    while rest or len(body) < BODY_LENGTH:
        rest, digit = divmod(rest, base)
        body = _BODY_ALPHABET[digit] + body
    check = mod_37_2.calc_check_digit(body)
    return None if check in NEVER_ISSUED else f"{body}-{check}"


def number_of_tag(tag: str) -> int | None:
    """Return the number a tag was made from; None where no number makes it."""
    number = 0
    for character in tag.partition("-")[0]:
        digit = _BODY_ALPHABET.find(character)
        if digit < 0:
            return None
        number = number * len(_BODY_ALPHABET) + digit
    return number if tag_from_number(number) == tag else None


def read_tag(text: str) -> str:
    """Read a tag as typed or said, and refuse one whose check character does not fit."""
    plain = "".join(text.split()).replace("-", "").upper()
    fits = len(plain) > BODY_LENGTH and not set(plain) & NEVER_ISSUED and mod_37_2.is_valid(plain)
    if not fits:
        raise InputError(
            "tag.check", "'{text}' is not a tag of this room: its check letter does not fit; look at the tag again", text=text
        )
    return f"{plain[:-1]}-{plain[-1]}"


def near_tags(text: str, known: Iterable[str], most: int = 6) -> tuple[str, ...]:
    """Return the known tags that are one slip away from what was typed: one wrong, missing, added or two swapped characters.

    A character that is never issued is read as the one it looks like first: O as 0, I and L as 1, U as V.
    """
    plain = _looks_like("".join(text.split()).replace("-", "").upper())
    found = [tag for tag in known if _one_slip(plain, tag.replace("-", ""))]
    exact = [tag for tag in found if tag.replace("-", "") == plain]
    return tuple(sorted(exact or found)[:most])


def _looks_like(plain: str) -> str:
    return plain.translate(str.maketrans("OILU", "011V"))


def _one_slip(typed: str, tag: str) -> bool:
    if typed == tag:
        return True
    if len(typed) == len(tag):
        off = [at for at, (a, b) in enumerate(zip(typed, tag, strict=True)) if a != b]
        swapped = len(off) == 2 and off[1] == off[0] + 1 and typed[off[0]] == tag[off[1]] and typed[off[1]] == tag[off[0]]
        return len(off) == 1 or swapped
    shorter, longer = sorted((typed, tag), key=len)
    return len(longer) == len(shorter) + 1 and any(longer[:at] + longer[at + 1 :] == shorter for at in range(len(longer)))


def task_id(subject: str, step: str, visit: int) -> str:
    """Return the id of a task: the same for the same subject, step and visit, whatever plan it comes from."""
    return hashlib.blake2b(f"{subject}\x1f{step}\x1f{visit}".encode(), digest_size=9).hexdigest()
