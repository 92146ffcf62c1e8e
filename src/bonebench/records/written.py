"""What stands in entries: names of lots, what a vial is for, where something is broken. One look through the log finds it."""

import json
import re
from collections.abc import Collection

from sqlalchemy import String, cast, exists, func, or_, select

from bonebench.records import tables as t
from bonebench.records.book import Reading
from bonebench.records.finding import like_text

# The names of fields in an entry's JSON, which nobody asks for.
FIELD = re.compile(r'"[a-z_]+": ')
MOST = 20_000


def written(tx: Reading, words: Collection[str], kinds: Collection[str]) -> dict[str, set[str]]:
    """Return, for each word, the roots of what has it in an entry of these kinds that nobody took back."""
    found: dict[str, set[str]] = {word: set() for word in words}
    # Signs alone would find the JSON's own.
    sought = {word: _as_stored(word) for word in words if any(letter.isalnum() for letter in word)}
    if not sought:
        return found
    content = func.lower(cast(t.entry.c.content, String))
    patterns = [f"%{like_text(one)}%" for some in sought.values() for one in some]
    query = (
        select(t.entry_subject.c.root, content)
        .join(t.entry, t.entry.c.seq == t.entry_subject.c.seq)
        .where(t.entry.c.kind.in_(kinds), or_(*(content.like(pattern, escape="\\") for pattern in patterns)))
        .where(~exists().where(t.entry_target.c.target == t.entry.c.id))
        .limit(MOST)
    )
    for root, text in tx.connection.execute(query):
        values = FIELD.sub("", text)
        for word, some in sought.items():
            if any(one in values for one in some):
                found[word].add(root)
    return found


def _as_stored(word: str) -> set[str]:
    """A letter that is none of ASCII stands escaped in JSON, as Python writes it, large or small."""
    return {json.dumps(one)[1:-1].lower() for one in (word.lower(), word.upper(), word.capitalize())}
