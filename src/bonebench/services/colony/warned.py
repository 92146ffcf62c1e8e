"""What of the air, the kind of beetle and the pests bears on a colony, as flags; and what every card of it rests on."""

from collections.abc import Iterator

import numpy as np

from bonebench.figures import Basis, Figure, Standing, basis
from bonebench.reference.pests import load_pests
from bonebench.said import said
from bonebench.science.colony import advice
from bonebench.science.colony.advice import Advice
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.traits import TRAITS, Trait
from bonebench.services.cards import Flag
from bonebench.services.colony.asked import Asked, ByLog, Told
from bonebench.services.colony.bands import count
from bonebench.services.colony.cards import Band
from bonebench.services.colony.kinds import kind_flags
from bonebench.services.colony.typed import yes
from bonebench.services.colony.usual import KNOWN_TO_EAT
from bonebench.shop.pests import find_pest, pest_flag

# (what is so, what to do) for each piece of advice; {subject} and {hours} are filled from it.
WORDS: dict[str, tuple[str, str]] = {
    "cool the box": ("the box is over 38 °C for {hours} h", "heater off and lid open now; above that they die"),
    "dry the box": (
        "the air is over 75 % for {hours} h",
        "more air through the box, no wet pad, fewer wet heads; mites and mould come in such air",
    ),
    "watch the heat": ("the box is over 32 °C for {hours} h", "lower the set point; they work no faster and begin to suffer"),
    "watch the damp": (
        "the air stays over 70 % for {hours} h",
        "open a hole or take the wet pad out, and look for mould and mites",
    ),
    "give water": ("the air is under 35 % with no water", "a wet towel or pad in a dish, changed before it smells"),
    "lid and screens": (
        "it is as warm as it takes them to fly: {hours} h at 26.7 °C or more",
        "lid shut and every hole screened before you turn your back",
    ),
}
SPARE = "spare colony"  # what the room says it has
INSURANCE = Flag(
    said("colony.second.insurance", "one dead heater or one mite takes a single colony"),
    said(
        "colony.second.insurance.next",
        "count first; then keep a hundred or two of mixed ages in another building, with tools of their own, a quarter at the most",
    ),
)
MODEL = Figure(200, 200, 200, "draws", Standing.ESTIMATE, "colony model; not checked in your room")


def beyond(band: Band, floor_m2: float) -> Iterator[Flag]:
    """Say so where the model grows a colony past what a box of that floor is known to eat."""
    if band.value > KNOWN_TO_EAT.high * floor_m2:
        yield Flag(
            said(
                "colony.beyond",
                "the model lets them grow while food lasts; no box of that floor is known to have eaten {value:feeding}",
                value=band.value,
            ),
            said(
                "colony.beyond.next",
                "do not promise on more than {known:feeding}; weigh what this box eats",
                known=KNOWN_TO_EAT.high * floor_m2,
            ),
        )


def flags_of(asked: Asked, air: Air, *, read: bool = False) -> Iterator[Flag]:
    """Say what of air, species and pests bears on it, loudest first; last that nothing of it was checked here."""
    # Warmth and damp that nobody read are no news: only what was said, logged or worked out (``read``) is warned of.
    warm = np.asarray(air.temperature_c, dtype=float) if asked.typed("temperature") or read else np.full(1, np.nan)
    damp = np.asarray(air.humidity, dtype=float) if asked.typed("humidity") or read else np.full(len(warm), np.nan)
    warm = warm if len(warm) == len(damp) else np.full(len(damp), np.nan)
    yield from kind_flags(asked.beetles)
    for one in advice.warnings(
        warm, damp, has_water=not yes(asked.dry), species=asked.named, pests=asked.pest_names
    ):  # fmt: skip
        if one.do != "mistrust the figures":
            yield _flag(one)
    if asked.own is not None:
        yield _own(asked.own)
    yield Flag(
        said("colony.unchecked", "this is a model of colonies, not checked in your room; plan with the cautious figure"),
        said(
            "colony.unchecked.next",
            "count a scoop every two weeks and weigh one head before and after: then it learns your beetles",
        ),
    )


def _own(own: ByLog) -> Flag:
    """Say from what it began."""
    active = own.told.fit.active
    return Flag(
        said(
            "colony.own", "this begins from today's {place} by its log: {low} to {high} larvae and adults, counted on {day:day}",
            place=own.place, low=count(active.low), high=count(active.high), day=own.counted,
        ),
        said("colony.own.next", "type a number to ask about another; count a scoop if that day is over two weeks ago"),
    )  # fmt: skip


def _flag(one: Advice) -> Flag:
    if one.do == "act on pest":
        return pest_flag(find_pest(one.subject, load_pests()))
    what, then = WORDS[one.do]
    hours = one.numbers["hours"].value if "hours" in one.numbers else 0.0
    key = f"colony.warn.{one.do.replace(' ', '_')}"
    return Flag(said(key, what, subject=one.subject, hours=round(hours)), said(f"{key}.next", then))


def rests_on(told: Told, *more: tuple[str, Figure]) -> tuple[Basis, ...]:
    """Return the lines under a card: what was taken for granted and the widest of the traits."""
    traits = (Trait.STRAIN, Trait.PEAK_KG, Trait.APPETITE, Trait.EGGS_PER_DAY)
    return (
        *(basis(key, figure) for key, figure in (*told.basis, *more)),
        *(basis(f"colony.{trait.name.lower()}", TRAITS[trait]) for trait in traits),
        basis("colony.model", MODEL),
    )
