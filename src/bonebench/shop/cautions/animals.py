"""What an animal brings with it: disease, and the rules of law to look up."""

import re
from dataclasses import dataclass

from bonebench.shop.cautions.rows import Picked


@dataclass(frozen=True, slots=True)
class Animal:
    """What is known of an animal that bears on danger and law: the words of its species record, and how greasy it is (1..5)."""

    class_name: str = ""
    order: str = ""
    zoonosis_note: str = ""
    legal_flag: str = ""
    greasiness: int | None = None


# A word in the species' note, and the row it calls.
DISEASES: tuple[tuple[str, str], ...] = (
    (r"\brabies", "raw.rabies"),
    (r"baylisascaris|roundworm", "raw.roundworm"),
    (r"\bcwd\b|prion|scrapie|\bbse\b", "raw.prion"),
    (r"hantavirus", "raw.hantavirus"),
    (r"tular|plague", "raw.tularemia"),
    (r"trichin", "raw.trichinella"),
    (r"brucell|q fever|\borf\b", "raw.brucella"),
    (r"echinococc", "raw.tapeworm"),
    (r"psittac|avian influenza", "raw.bird_dust"),
)
RABIES_ORDERS = ("carnivora", "chiroptera")
PROTECTED = re.compile(
    r"\bprotected|endangered|threatened|\besa\b|eagle|marine mammal|permit|state-listed|cites app i\b|"
    r"migratory bird treaty act(?! - lawfully taken)",
    re.IGNORECASE,
)
DRUGGED = re.compile(r"euthan|drug residue", re.IGNORECASE)


def matches(pattern: str, animal: Animal) -> bool:
    """Whether the words of an animal's record speak of this."""
    return re.search(pattern, f"{animal.zoonosis_note} | {animal.legal_flag}", re.IGNORECASE) is not None


def diseases(animal: Animal) -> Picked:
    """What it may give to people; silence in the record is not an all-clear."""
    keys = [key for pattern, key in DISEASES if matches(pattern, animal)]
    noted = bool(animal.zoonosis_note.strip())
    if not noted and animal.order.casefold() in RABIES_ORDERS and "raw.rabies" not in keys:
        keys.append("raw.rabies")
    if animal.class_name.casefold() == "aves" and "raw.bird_dust" not in keys:
        keys.append("raw.bird_dust")
    for key in keys:
        yield key, {}
    # Silence in the record is not an all-clear.
    yield ("raw.note", {"note": animal.zoonosis_note}) if noted else ("raw.unknown", {})


def raw(animal: Animal) -> Picked:
    """What raw work with it brings."""
    yield "raw.hygiene", {}
    yield from diseases(animal)


def law(animal: Animal) -> Picked:
    """The rules to look up."""
    flag = animal.legal_flag.strip()
    if not flag:
        yield "law.unknown", {}
        return
    yield ("law.protected" if PROTECTED.search(flag) else "law.flag"), {"flag": flag}
    if re.search(r"\bcites\b", flag, re.IGNORECASE):
        yield "law.tag", {}
    if re.search(r"\bcwd\b", flag, re.IGNORECASE):
        yield "law.cwd", {}


def roundworm(animal: Animal) -> Picked:
    """Eggs that bear a warm pot."""
    if matches("baylisascaris|roundworm", animal):
        yield "raw.roundworm", {}
