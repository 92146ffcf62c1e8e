"""What can hurt at each step of a specimen, with its animal and by its method."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bonebench.shop.cautions.animals import DRUGGED, Animal, law, raw, roundworm
from bonebench.shop.cautions.baths import CRUMB, GREASY_CLASS, HOT_FOR_BONE_C, peroxide
from bonebench.shop.cautions.rows import Caution, Picked, Rows, ordered
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
    yield "box.dust", {}
    yield "box.power", {}
    yield from roundworm(case.animal)
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
    if (warmth := _warmth(case.method)) is not None and warmth > HOT_FOR_BONE_C + CRUMB:
        yield "pot.hot_for_bone", {"temperature": warmth}
    if case.animal.greasiness is not None and case.animal.greasiness >= GREASY_CLASS:
        yield "pot.grease", {}
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
    yield from peroxide(None if method is None or method.strength_w is None else method.strength_w.value, _warmth(method))
    yield "peroxide.on_bone", {}
    yield "peroxide.spent", {}


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
    return ordered(rows, iter(()) if left_out else RULES[step](case))
