"""How long a search takes among 5,000 specimens with 55,000 entries: `python benchmarks/search.py`, in milliseconds, best of seven.

The peer is the same question asked of the states themselves, which is what a search without indexes would do.
"""

import random
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter

from bonebench.door import Door
from bonebench.records import entries as log_rows
from bonebench.records import people, states
from bonebench.records.book import Writing
from bonebench.records.states import PartRow
from bonebench.records.written import WrittenRow, put_written
from bonebench.reference.species import load_species
from bonebench.services.log.rows import to_row
from bonebench.shop.entries import Entry, Joined, Moved, Noted, exactly, specimen_subject
from bonebench.shop.identity import tag_from_number, uuid7
from bonebench.shop.part_entries import ConditionNoted
from bonebench.shop.remembered import remembered

NOW = datetime(2026, 5, 4, tzinfo=UTC)
COUNT = 5000
ASKED = ("fox", "number 17", "104", "coyote pot", "unicorn", "1Z4-M", "tray 77", "skull", "cracked fox", "hole cheek", "canine 17")


def filled(where: Path) -> Door:
    rng = random.Random(1)
    door = Door.make(where, name="Bench", zone="UTC", units="metric", clock=lambda: NOW, rng=rng, writer="bench")
    species, owners = list(load_species()), [uuid7(NOW, rng) for _ in range(200)]
    tags = [tag for tag in (tag_from_number(n) for n in range(1000, 9000)) if tag is not None]
    with door.book.writing() as tx:
        for number, owner in enumerate(owners):
            people.add(tx, owner, f"Owner number {number}")
        for number in range(COUNT):
            kind, id = rng.choice(species), uuid7(NOW, rng)
            state = {"id": id, "tag": tags[number], "species": kind, "owner": owners[number % 200], "parts": []}
            parts = (PartRow("skull", rng.choice(("pot", "tub", "freezer", "rack")), NOW),)
            states.put_specimen(
                tx,
                id=id,
                tag=tags[number],
                owner=owners[number % 200],
                species=kind,
                finished=number % 3 == 0,
                state=state,
                parts=parts,
            )
            written(tx, rng, number, id)
    return door


def written(tx: Writing, rng: random.Random, number: int, specimen: str) -> None:
    """Eleven entries about a specimen: eight moves, the lot it joined, how it came, a note."""
    whats = [Moved(rng.choice(("pot", "tub", "freezer", "rack"))) for _ in range(8)]
    whats += [
        Joined(f"lot{number % 500}", f"Tray {number % 500}"),
        ConditionNoted(rng.choice(("hole", "cracked")), "came", "cheek"),
    ]
    people.add_note(tx, note := uuid7(NOW, rng), None, f"Came in a box, chipped canine {number % 100}")
    whats += [Noted(note)]
    kept: list[WrittenRow] = []
    for at, what in enumerate(whats):
        entry = Entry(
            id=uuid7(NOW, rng), writer="bench", number=11 * number + at, when=exactly(NOW), recorded=NOW,
            subjects=(specimen_subject(specimen),), what=what,
        )  # fmt: skip
        log_rows.store(tx, to_row(entry), NOW)
        kept += [WrittenRow(one.entry, one.text, one.note) for one in remembered((entry,))]
    put_written(tx, specimen, kept)


def best_ms(act: object, turns: int = 7) -> float:
    times = []
    for _ in range(turns):
        begin = perf_counter()
        act()  # type: ignore[operator]
        times.append(perf_counter() - begin)
    return 1000 * min(times)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, filled(Path(folder) / "book.db") as door:
        for words in ASKED:
            ours = best_ms(lambda words=words: door.find(words))

            def through_states(words: str = words) -> int:
                with door.book.reading() as tx:
                    return sum(words in str(state) for state in states.specimens(tx))

            print(f"{words:12} {ours:7.1f} ms   through the states {best_ms(through_states):7.1f} ms")


if __name__ == "__main__":
    main()
