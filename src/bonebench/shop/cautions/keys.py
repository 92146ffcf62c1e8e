"""Which cautions the rules may pick, and what each rule brings to them: what the rows of data are checked against."""

from collections.abc import Mapping

from bonebench.shop.cautions.animals import DISEASES
from bonebench.shop.cautions.baths import ALWAYS_WITH_PEROXIDE, BATH_GATES, STOCK_GATES
from bonebench.shop.cautions.moves import NEVER_BOTH
from bonebench.shop.cautions.rows import DEFER

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
    "stock.may_explode": frozenset({"strength"}),
    "solvent.warm": frozenset({"temperature"}),
    "macerate.hot": frozenset({"temperature"}),
    "bath.stale": frozenset({"since"}),
    "pot.alone": frozenset({"alone"}),
    "vessel.never": frozenset({"material", "why"}),
    "vessel.watch": frozenset({"material", "why"}),
    "move.glue_lets_go": frozenset({"glue"}),
    "vessel.metal": frozenset({"vessel"}),
    "pot.hot_for_bone": frozenset({"temperature"}),
    "raw.note": frozenset({"note"}),
    "law.flag": frozenset({"flag"}),
    "law.protected": frozenset({"flag"}),
}

KEYS: frozenset[str] = frozenset(
    {
        DEFER,
        *GIVEN,
        *ALWAYS_WITH_PEROXIDE,
        *NEVER_BOTH.values(),
        *(key for _, key in (*BATH_GATES, *STOCK_GATES, *DISEASES)),
        "mix.order", "mix.boils", "stock.sale", "peroxide.unknown", "peroxide.spent", "peroxide.no_drain", "peroxide.on_bone",
        "peroxide.paste", "bath.metal", "bath.undegreased", "bath.teeth", "bleach.bone",
        "raw.hygiene", "raw.unknown", "raw.thaw", "raw.knife", "freezer.raw",
        "law.unknown", "law.tag", "law.cwd",
        "box.dust", "box.power", "box.fire", "box.flame", "box.treated", "box.untreated_only", "box.escape",
        "box.emitter", "box.lamp", "box.bottles", "box.unvented",
        "colony.release", "colony.surplus", "colony.quarantine", "colony.wild",
        "kill.cold", "kill.heat", "macerate.rot", "macerate.gas",
        "pot.scald", "pot.power", "pot.cut_out", "pot.grease", "pot.kitchen", "pot.in_kitchen", "pot.survives", "pot.boils",
        "pot.open", "pot.unmeasured",
        "solvent.acetone", "solvent.ammonia", "solvent.flammable", "solvent.waste",
        "move.raw_into_peroxide", "move.solvent_into_pot", "move.glue_not_set",
        "dry.heat", "glue.vapour", "glue.skin", "finish.dust",
    }
)  # fmt: skip
