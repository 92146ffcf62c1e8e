"""Cautions: which dangers of a mix or a step a person is told of, where the hand is.

Rows are data (`reference/cautions.toml`); the rules here are pure functions on plain values that pick rows and fill them. Every
answer ends with the row that sends the reader to local codes and licensed practice.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain

from bonebench.figures import Standing
from bonebench.said import Plain, Said, said
from bonebench.shop.methods import Method
from bonebench.shop.steps import LOOK_BACKS, PlaceKind, Step


class Level(StrEnum):
    """How loud a caution is: read it, read it first, or say yes to it before going on."""

    READ = "read"
    STRONG = "strong"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution as a card shows it."""

    key: str
    hazard: Said
    when: Said
    do: Said
    source: str
    standing: Standing
    level: Level


@dataclass(frozen=True, slots=True)
class CautionRow:
    """One caution as data: sentences with holes, and the values the row itself brings."""

    key: str
    hazard: str
    when: str
    do: str
    source: str
    standing: Standing
    level: Level
    values: Mapping[str, Plain] = field(default_factory=dict)

    def filled(self, **values: Plain) -> Caution:
        """Return the caution with its holes filled."""
        hazard, when, do = (
            said(f"caution.{self.key}.{part}", text, **{**self.values, **values})
            for part, text in (("hazard", self.hazard), ("when", self.when), ("do", self.do))
        )
        return Caution(self.key, hazard, when, do, self.source, self.standing, self.level)


Rows = Mapping[str, CautionRow]
Picked = Iterator[tuple[str, dict[str, Plain]]]

DEFER = "defer"

# What a rule knows and a row may therefore speak of; every other hole is filled from the row's own values.
GIVEN: Mapping[str, frozenset[str]] = {
    "mix.oxygen": frozenset({"oxygen"}),
    "mix.warms": frozenset({"rise"}),
    "peroxide.over_5": frozenset({"strength"}),
    "peroxide.over_8": frozenset({"strength"}),
    "peroxide.over_12": frozenset({"strength"}),
    "peroxide.warm": frozenset({"temperature"}),
    "stock.irritant": frozenset({"strength"}),
    "stock.eye_damage": frozenset({"strength"}),
    "stock.specialist": frozenset({"strength"}),
    "stock.burns": frozenset({"strength"}),
    "pot.hot_for_bone": frozenset({"temperature"}),
    "raw.note": frozenset({"note"}),
    "law.flag": frozenset({"flag"}),
    "law.protected": frozenset({"flag"}),
}

# The classes of hydrogen peroxide by mass fraction: bench 1.6, from the EU list of classified substances.
BATH_GATES = ((0.12, "peroxide.over_12"), (0.08, "peroxide.over_8"), (0.05, "peroxide.over_5"))
STOCK_GATES = ((0.50, "stock.burns"), (0.35, "stock.specialist"), (0.08, "stock.eye_damage"), (0.05, "stock.irritant"))
PUBLIC_SALE_W = 0.12
WARM_BATH_C = 30.0
HOT_FOR_BONE_C = 60.0
GREASY_CLASS = 4  # from here on fat floats in the pot: bear, pig, sea mammals
_CRUMB = 1e-9  # 35 % typed as 35 * 0.01 is 0.35000000000000003

_ALWAYS_WITH_PEROXIDE = (
    "peroxide.eyes",
    "peroxide.vent",
    "peroxide.no_metal",
    "peroxide.no_acetone",
    "peroxide.tissue",
    "peroxide.label",
)


def _bath(strength_w: float | None, temperature_c: float | None) -> Picked:
    """What any open peroxide bath brings; an unknown strength is taken as a strong one."""
    for key in _ALWAYS_WITH_PEROXIDE:
        yield key, {}
    if strength_w is None:
        yield "peroxide.unknown", {}
    else:
        gate = next((key for limit, key in BATH_GATES if strength_w > limit + _CRUMB), None)
        if gate is not None:
            yield gate, {"strength": strength_w}
    if temperature_c is not None and temperature_c > WARM_BATH_C + _CRUMB:
        yield "peroxide.warm", {"temperature": temperature_c}


def _stock(stock_w: float) -> Picked:
    gate = next((key for limit, key in STOCK_GATES if stock_w >= limit - _CRUMB), None)
    if gate is not None:
        yield gate, {"strength": stock_w}
    if stock_w > PUBLIC_SALE_W + _CRUMB:
        yield "stock.sale", {}


def for_mix(
    rows: Rows,
    *,
    stock_w: float,
    target_w: float,
    temperature_c: float,
    oxygen_l: float,
    heat_rise_k: float,
    boils: bool,
) -> tuple[Caution, ...]:
    """Return the cautions of a peroxide mix, the loudest first, the one that defers last."""
    return _ordered(
        rows,
        chain(
            [("mix.order", {})],
            _bath(target_w, temperature_c),
            _stock(stock_w),
            [("mix.oxygen", {"oxygen": oxygen_l}), ("mix.boils", {}) if boils else ("mix.warms", {"rise": heat_rise_k})],
            [("peroxide.spent", {})],
        ),
    )


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


def _matches(pattern: str, animal: Animal) -> bool:
    return re.search(pattern, f"{animal.zoonosis_note} | {animal.legal_flag}", re.IGNORECASE) is not None


def _diseases(animal: Animal) -> Picked:
    keys = [key for pattern, key in DISEASES if _matches(pattern, animal)]
    noted = bool(animal.zoonosis_note.strip())
    if not noted and animal.order.casefold() in RABIES_ORDERS and "raw.rabies" not in keys:
        keys.append("raw.rabies")
    if animal.class_name.casefold() == "aves" and "raw.bird_dust" not in keys:
        keys.append("raw.bird_dust")
    for key in keys:
        yield key, {}
    # Silence in the record is not an all-clear.
    yield ("raw.note", {"note": animal.zoonosis_note}) if noted else ("raw.unknown", {})


def _raw(animal: Animal) -> Picked:
    yield "raw.hygiene", {}
    yield from _diseases(animal)


def _law(animal: Animal) -> Picked:
    flag = animal.legal_flag.strip()
    if not flag:
        yield "law.unknown", {}
        return
    yield ("law.protected" if PROTECTED.search(flag) else "law.flag"), {"flag": flag}
    if re.search(r"\bcites\b", flag, re.IGNORECASE):
        yield "law.tag", {}
    if re.search(r"\bcwd\b", flag, re.IGNORECASE):
        yield "law.cwd", {}


def _roundworm(animal: Animal) -> Picked:
    if _matches("baylisascaris|roundworm", animal):
        yield "raw.roundworm", {}


@dataclass(frozen=True, slots=True)
class _Case:
    """What the rule of a step looks at."""

    step: Step
    method: Method | None
    animal: Animal
    treated: bool


def _box(case: _Case) -> Picked:
    yield "box.dust", {}
    yield "box.power", {}
    yield from _roundworm(case.animal)
    if case.step is Step.BEETLES:
        yield "box.fire", {}
        yield "box.flame", {}
        yield ("box.treated" if case.treated or DRUGGED.search(case.animal.legal_flag) else "box.untreated_only"), {}
    if case.step is Step.OUT:
        yield "box.escape", {}


def _solvent(method: Method | None) -> str | None:
    words = f"{method.key} {method.name} {method.work}".casefold() if method is not None else ""
    return next((word for word in ("acetone", "ammonia") if word in words), None)


def _pot(case: _Case) -> Picked:
    solvent = _solvent(case.method)
    if solvent == "acetone":
        yield "solvent.acetone", {}
    else:
        for key in ("pot.scald", "pot.power", "pot.cut_out"):
            yield key, {}
    if solvent == "ammonia":
        yield "solvent.ammonia", {}
    if (warmth := _warmth(case.method)) is not None and warmth > HOT_FOR_BONE_C + _CRUMB:
        yield "pot.hot_for_bone", {"temperature": warmth}
    if case.animal.greasiness is not None and case.animal.greasiness >= GREASY_CLASS:
        yield "pot.grease", {}
    yield from _roundworm(case.animal)


def _warmth(method: Method | None) -> float | None:
    return None if method is None or method.temperature_c is None else method.temperature_c.value


def _kill(case: _Case) -> Picked:
    method = case.method
    by_heat = method is not None and (method.leaves_out or method.place not in (PlaceKind.FREEZER, None))
    yield ("kill.heat" if by_heat else "kill.cold"), {}
    yield "box.dust", {}


def _whiten(case: _Case) -> Picked:
    method = case.method
    yield from _bath(None if method is None or method.strength_w is None else method.strength_w.value, _warmth(method))
    yield "peroxide.on_bone", {}
    yield "peroxide.spent", {}


Rule = Callable[[_Case], Picked]


def _only(*keys: str) -> Rule:
    return lambda case: ((key, {}) for key in keys)


def _and(*rules: Rule) -> Rule:
    return lambda case: (found for rule in rules for found in rule(case))


def _raw_of(case: _Case) -> Picked:
    return _raw(case.animal)


def _law_of(case: _Case) -> Picked:
    return _law(case.animal)


def _nothing_of_its_own(case: _Case) -> Picked:
    del case
    return iter(())


# Every step has its line, so that a new step cannot come in without somebody thinking of its dangers.
RULES: Mapping[Step, Rule] = {
    Step.RECEIVE: _and(_raw_of, _law_of),
    Step.FROZEN_HOLD: _only("raw.hygiene", "freezer.raw"),
    Step.THAW: _and(_raw_of, _only("raw.thaw")),
    Step.TRIM: _and(_raw_of, _only("raw.knife")),
    Step.FREEZE_AGAIN: _only("raw.hygiene", "freezer.raw"),
    Step.BEETLES: _box,
    Step.JUDGE_CLEAN: _box,
    Step.ONE_MORE_DAY: _box,
    Step.OUT: _box,
    Step.KILL: _kill,
    Step.DEGREASE: _pot,
    Step.DRY: _only("pot.scald", "dry.heat"),
    Step.TEETH: _only("glue.vapour", "glue.skin"),
    Step.CURE: _only("glue.vapour"),
    Step.WHITEN: _whiten,
    Step.RINSE: _only("peroxide.eyes", "peroxide.spent"),
    Step.DRY_AGAIN: _only("dry.heat"),
    Step.FINISH: _only("finish.dust", "glue.vapour"),
    Step.MEASURE: _nothing_of_its_own,
    Step.HAND_OVER: _law_of,
    **dict.fromkeys(LOOK_BACKS, _nothing_of_its_own),
}


def for_step(
    rows: Rows, *, step: Step, method: Method | None = None, animal: Animal | None = None, treated: bool = False
) -> tuple[Caution, ...]:
    """Return the cautions of one step, the loudest first, the one that defers last.

    ``treated`` says that the piece carries a drug, salt, borax or poison. An animal that is not given is taken as unknown.
    """
    # A step left out has no dangers; killing "left out" means that a later, hot step does it.
    left_out = method is not None and method.leaves_out and step is not Step.KILL
    case = _Case(step, method, animal or Animal(), treated)
    return _ordered(rows, iter(()) if left_out else RULES[step](case))


_LOUDNESS = (Level.STOP, Level.STRONG, Level.READ)


def _ordered(rows: Rows, picked: Picked) -> tuple[Caution, ...]:
    """Fill the rows picked, each once; the loudest come first and otherwise the order of the rules is kept."""
    once = dict(picked)
    cautions = sorted((rows[key].filled(**values) for key, values in once.items()), key=lambda c: _LOUDNESS.index(c.level))
    return (*cautions, rows[DEFER].filled())


KEYS: frozenset[str] = frozenset(
    {
        DEFER,
        *GIVEN,
        *_ALWAYS_WITH_PEROXIDE,
        *(key for _, key in (*BATH_GATES, *STOCK_GATES, *DISEASES)),
        "mix.order", "mix.boils", "stock.sale", "peroxide.unknown", "peroxide.spent", "peroxide.on_bone",
        "raw.hygiene", "raw.unknown", "raw.thaw", "raw.knife", "freezer.raw",
        "law.unknown", "law.tag", "law.cwd",
        "box.dust", "box.power", "box.fire", "box.flame", "box.treated", "box.untreated_only", "box.escape",
        "kill.cold", "kill.heat",
        "pot.scald", "pot.power", "pot.cut_out", "pot.grease", "solvent.acetone", "solvent.ammonia",
        "dry.heat", "glue.vapour", "glue.skin", "finish.dust",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautioned:
    """What a card of a mix or a step is built on: it cannot be made without its cautions."""

    cautions: tuple[Caution, ...]

    def __post_init__(self) -> None:
        if not self.cautions or self.cautions[-1].key != DEFER:
            raise ValueError("a card of a mix or a step must carry its cautions, and the last must defer to local codes")
