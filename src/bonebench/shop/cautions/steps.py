"""What can hurt at each step of a specimen, with its animal and by its method."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bonebench.shop.cautions.animals import DRUGGED, Animal, law, raw, roundworm
from bonebench.shop.cautions.baths import away, peroxide
from bonebench.shop.cautions.moves import SOLVENTS
from bonebench.shop.cautions.pots import HOT_FOR_BONE_C, grease, heat, maceration, pot
from bonebench.shop.cautions.rows import CRUMB, Caution, Picked, Rows, ordered
from bonebench.shop.methods import Method
from bonebench.shop.steps import LOOK_BACKS, PlaceKind, Step


@dataclass(frozen=True, slots=True)
class _Case:
    """What the rule of a step looks at."""

    step: Step
    method: Method | None
    animal: Animal
    treated: bool


def _box(case: _Case) -> Picked:
    if case.method is not None and case.method.place is PlaceKind.POT:
        yield from _macerate(case)
        return
    yield "box.dust", {}
    yield "box.power", {}
    yield from roundworm(case.animal)
    if case.step is Step.BEETLES:
        yield "box.fire", {}
        yield "box.flame", {}
        yield ("box.treated" if case.treated or DRUGGED.search(case.animal.legal_flag) else "box.untreated_only"), {}
    if case.step is Step.OUT:
        yield "box.escape", {}


def _macerate(case: _Case) -> Picked:
    """Water instead of beetles: no dust and no colony to poison, but rot, gas, heat and mains."""
    warmth = _warmth(case.method)
    yield from maceration(warmth)
    yield from pot(warmth)
    yield from raw(case.animal)
    yield from grease(case.animal)


def _degrease(case: _Case) -> Picked:
    chemical = case.method.chemical if case.method is not None else ""
    if chemical == "ammonia":
        yield "solvent.ammonia", {}
        yield "move.ammonia_and_bleach", {}
        yield "move.ammonia_into_peroxide", {}
    elif chemical == "acetone":
        yield "solvent.acetone", {}
        yield "move.acetone_into_peroxide", {}
        yield "solvent.waste", {}
    elif chemical in SOLVENTS:
        yield "solvent.flammable", {}
        yield "move.solvent_into_peroxide", {}
        yield "solvent.waste", {}
    else:
        yield from _warm_pot(case)


def _warm_pot(case: _Case) -> Picked:
    for key in ("pot.scald", "pot.power", "pot.cut_out"):
        yield key, {}
    warmth = _warmth(case.method)
    yield from heat(warmth)
    if warmth is not None and warmth > HOT_FOR_BONE_C + CRUMB:
        # What a hot pot is said to be set to is a dial's word; the thermometer's may be another.
        yield "pot.unmeasured", {}
    yield from grease(case.animal)
    yield from roundworm(case.animal)


def _warmth(method: Method | None) -> float | None:
    return None if method is None or method.temperature_c is None else method.temperature_c.value


def _kill(case: _Case) -> Picked:
    method = case.method
    by_heat = method is not None and (method.leaves_out or method.place not in (PlaceKind.FREEZER, None))
    yield ("kill.heat" if by_heat else "kill.cold"), {}
    yield "box.dust", {}


def _whiten(case: _Case) -> Picked:
    method = case.method
    strength_w = None if method is None or method.strength_w is None else method.strength_w.value
    yield from peroxide(strength_w, _warmth(method))
    if method is not None and method.chemical == "carbonate":
        yield "peroxide.paste", {}
    yield "peroxide.on_bone", {}
    yield from away(strength_w)


Rule = Callable[[_Case], Picked]


def _only(*keys: str) -> Rule:
    return lambda case: ((key, {}) for key in keys)


def _and(*rules: Rule) -> Rule:
    return lambda case: (found for rule in rules for found in rule(case))


def _raw_of(case: _Case) -> Picked:
    return raw(case.animal)


def _law_of(case: _Case) -> Picked:
    return law(case.animal)


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
    Step.DEGREASE: _degrease,
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
    return ordered(rows, iter(()) if left_out else RULES[step](case))
