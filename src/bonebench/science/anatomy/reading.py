"""Read the name of a tooth as people write it: ULP4, "upper left P4", 208, "left lower canine"."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from bonebench.errors import UnknownName
from bonebench.science.anatomy.teeth import MOST, Jaw, Kind, Side, Tooth
from bonebench.science.anatomy.triadan import from_triadan, triadan

JAW_WORDS: dict[str, Jaw] = {"upper": "upper", "top": "upper", "maxillary": "upper", "lower": "lower", "bottom": "lower",
                             "mandibular": "lower"}  # fmt: skip
SIDE_WORDS: dict[str, Side] = {"left": "left", "right": "right"}
KIND_WORDS: dict[str, Kind] = {
    "incisor": "I", "canine": "C", "premolar": "P", "molar": "M", "i": "I", "c": "C", "p": "P", "pm": "P", "m": "M",
}  # fmt: skip
MILK_WORDS = frozenset({"milk", "deciduous", "baby"})
NUMBER_WORDS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5}
PASSED_OVER = frozenset({"st", "nd", "rd", "th", "tooth"})
SHORT = re.compile(r"([ul])?([lr])?(d)?(i|c|pm|p|m)?")
MOST_SHOWN = 8


@dataclass(slots=True)
class _Heard:
    """What was understood; a lone L is the lower jaw or the left side, so it leaves both open."""

    jaw: Jaw | None = None
    side: Side | None = None
    lower_or_left: bool = False
    kind: Kind | None = None
    number: int | None = None
    milk: bool = False

    def fits(self, tooth: Tooth) -> bool:
        return (
            self.jaw in (None, tooth.jaw)
            and self.side in (None, tooth.side)
            and (not self.lower_or_left or tooth.jaw == "lower" or tooth.side == "left")
            and self.kind in (None, tooth.kind)
            and self.number in (None, tooth.number)
            and (not self.milk or tooth.milk)
        )

    def whole(self) -> Tooth | None:
        """The one tooth it can be in any animal; None where something is open or no animal has it."""
        if self.jaw is None or self.side is None or self.kind is None:
            return None
        number = 1 if self.kind == "C" and self.number is None else self.number
        if number is None or not 1 <= number <= MOST[self.kind]:
            return None
        return Tooth(self.jaw, self.side, self.kind, number, self.milk)


def read_tooth(text: str, among: Iterable[Tooth]) -> Tooth:
    """Read the name of a tooth.

    Parameters
    ----------
    text : str
        A code such as ULP4, words such as "upper left fourth premolar", or three Triadan digits; capitals do not matter.
    among : iterable of Tooth
        The teeth this animal has; part of a name is enough where it fits one of them only.

    Returns
    -------
    Tooth
        The tooth named, whether this animal has it or not.

    Raises
    ------
    UnknownName
        If the text fits several teeth or none; ``could_be`` lists the codes it could be.
    """
    among = tuple(among)
    digits = re.fullmatch(r"\s*(\d{3})\s*", text)
    if digits is not None:
        return from_triadan(int(digits[1]))
    heard = _hear(text)
    if heard is None:
        raise _unreadable(text, among)
    whole = heard.whole()
    if whole is not None:
        return whole
    fitting = [tooth for tooth in among if heard.fits(tooth)]
    # A bare number is never enough: "UL4" is the fourth tooth to one person and the fourth premolar to another.
    if len(fitting) == 1 and heard.kind is not None:
        return fitting[0]
    if not fitting:
        raise _unreadable(text, among)
    raise _several(text, fitting)


def _hear(text: str) -> _Heard | None:
    heard = _Heard()
    pieces = re.findall(r"[a-z]+|\d+|[^\sa-z0-9,.-]", text.casefold())
    understood = [_take(heard, piece) for piece in pieces]
    return heard if understood and all(understood) else None


def _take(heard: _Heard, piece: str) -> bool:
    """Take one piece into what was heard; False where it means nothing or says twice what is already said."""
    single = piece.removesuffix("s") if len(piece) > 2 else piece
    words: tuple[tuple[str, Mapping[str, str | int]], ...] = (
        ("number", NUMBER_WORDS), ("jaw", JAW_WORDS), ("side", SIDE_WORDS), ("kind", KIND_WORDS),
    )  # fmt: skip
    for name, known in words:
        if single in known:
            return _set(heard, name, known[single])
    if piece.isdecimal():
        return _set(heard, "number", int(piece[:3]))
    heard.milk = heard.milk or piece in MILK_WORDS
    return piece in MILK_WORDS or piece in PASSED_OVER or _short(heard, piece)


def _set(heard: _Heard, name: str, value: str | int) -> bool:
    if getattr(heard, name) is not None:
        return False
    setattr(heard, name, value)
    return True


def _short(heard: _Heard, piece: str) -> bool:
    """Take letters as a code has them: UL, dP, LRC."""
    if piece == "l":
        heard.lower_or_left = True
        return heard.jaw is None or heard.side is None
    found = SHORT.fullmatch(piece)
    if found is None or not piece:
        return False
    jaw, side, milk, kind = found.groups()
    if jaw == "l" and side is None:
        # L before a kind alone: lower or left.
        heard.lower_or_left = True
        jaw = None
    heard.milk = heard.milk or milk is not None
    return (
        (jaw is None or _set(heard, "jaw", "upper" if jaw == "u" else "lower"))
        and (side is None or _set(heard, "side", "left" if side == "l" else "right"))
        and (kind is None or _set(heard, "kind", KIND_WORDS[kind]))
    )


def _several(text: str, fitting: list[Tooth]) -> UnknownName:
    codes = tuple(tooth.code for tooth in fitting)
    shown = codes[:MOST_SHOWN]
    return UnknownName(
        "teeth.several", "'{text}' does not say which tooth it is; it could be {codes}", could_be=shown, text=text,
        codes=", ".join(shown) + (f" or {len(codes) - len(shown)} more" if len(codes) > len(shown) else ""),
    )  # fmt: skip


def _unreadable(text: str, among: tuple[Tooth, ...]) -> UnknownName:
    names = {code.casefold(): tooth.code for tooth in among for code in (tooth.code, str(triadan(tooth) or tooth.code))}
    near = get_close_matches(re.sub(r"[^a-z0-9]", "", text.casefold()), names, n=4, cutoff=0.5)
    could_be = tuple(dict.fromkeys(names[one] for one in near)) or tuple(tooth.code for tooth in among[:4])
    return UnknownName(
        "teeth.unreadable",
        "'{text}' is no tooth I can read; write it like {examples}: U or L for the jaw, R or L for the animal's own side, then the"
        " tooth",
        could_be=could_be, text=text, examples=", ".join(could_be) or "ULP4",
    )  # fmt: skip
