"""What may be thinned, sold or given away, and when a second colony is asked for."""

import math

from bonebench.errors import Impossible
from bonebench.said import Said, said
from bonebench.science.colony import advice
from bonebench.science.colony.forecast import forecast
from bonebench.services.cards import Flag
from bonebench.services.colony.asked import Asked, air_of, told
from bonebench.services.colony.bands import band_fact, band_of
from bonebench.services.colony.cards import SecondCard, ThinCard
from bonebench.services.colony.typed import read_rate, read_span, read_time, yes
from bonebench.services.colony.warned import INSURANCE, SPARE, beyond, flags_of, rests_on
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony

USUAL_AHEAD, USUAL_SEASON = 30, 120


def thin(known: Known, asked: Asked, *, needed: str, counted: str | None = None, days: str | None = None) -> ThinCard:
    """Say what share may be taken out; without a count of the last two weeks the answer is to count first."""
    need, span = read_rate(needed, "need"), read_span(days, USUAL_AHEAD)
    ago = math.ceil(read_time(counted, "time since the count")) if counted else None
    air = air_of(asked, span)
    colony = told(asked)
    run = forecast(colony.draws, colony.housing, air.fed(None, colony.housing.food_dry_share))
    one = advice.thin(run, need, counted_days_ago=ago)
    share = one.numbers["share_at_most"].value if "share_at_most" in one.numbers else 0.0
    least = band_of(run.paths("appetite_kg").min(axis=1))
    return ThinCard(
        title=_thin_title(one.do, share),
        facts=(
            band_fact("colony.thin.could", "They can eat at least, in that time", least, "feeding"),
            fact("colony.thin.need", "They will have to eat", "{need:feeding}", need=need),
            fact(
                "colony.thin.bound", "Never more at once than", "{most:percent}, and only after a count", most=advice.MOST_THINNED
            ),
        ),
        steps=_thin_steps(one.do, share),
        flags=tuple(flags_of(asked, air)),
        cautions=for_colony(known.caution_rows, out=True, given=True, killed=True),
        basis=rests_on(colony),
        do=one.do,
        share_at_most=share,
        could_eat_kg_per_day=least,
        seed=asked.seed,
    )


def _thin_title(do: str, share: float) -> Said:
    if do == "count":
        return said("colony.thin.count", "count first: nobody said when a scoop was last counted, or it is over two weeks ago")
    if do == "thin":
        return said(
            "colony.thin.some",
            "none to {share:percent} of them could be spared at once, by a cautious look; count a second scoop before you take any",
            share=share,
        )
    return said("colony.thin.none", "keep all: even a cautious look finds none to spare")


def _thin_steps(do: str, share: float) -> tuple[Said, ...]:
    if do != "thin":
        return (
            said(
                "colony.thin.step.count",
                "Count what is in a scoop from a corner and from the middle, and how much bedding that was",
            ),
        )
    return (
        said("colony.thin.step.again", "Count a second scoop first; if it says fewer than the first, leave them all"),
        said("colony.thin.step.bait", "Lay in a fresh bait over night; lift it out in the morning with all that sit on it"),
        said(
            "colony.thin.step.stop",
            "Stop at {share:percent}, never past a quarter; wait two weeks and count again before any more",
            share=share,
        ),
        said(
            "colony.thin.step.spare", "First a spare colony in another place; then sell or give to somebody who keeps them shut in"
        ),
        said("colony.thin.step.freeze", "What nobody takes is frozen, bagged; never let go, never thrown out alive"),
    )


def second(
    known: Known, asked: Asked, *, needed: str, days: str | None = None, has_spare: str | None = None
) -> SecondCard:  # fmt: skip
    """Say whether to start or split a second colony for the height of the season, or as insurance."""
    need, span = read_rate(needed, "need"), read_span(days, USUAL_SEASON, what="the time to the season")
    if need == 0:
        raise Impossible(
            "colony.second.none", "a need of 0 g a day asks for no colony; write what must be eaten a day at the height"
        )
    air = air_of(asked, span)
    colony = told(asked)
    run = forecast(colony.draws, colony.housing, air.fed(None, colony.housing.food_dry_share))
    spare = yes(has_spare) or SPARE in known.room.features
    one = advice.second_colony(run, need, has_spare=spare)
    best = band_of(run.paths("appetite_kg").max(axis=1))
    do = one.do if one else "one is enough"
    flags: list[Flag] = []
    if not spare:
        flags.append(INSURANCE)
    return SecondCard(
        title=_second_title(do, need),
        facts=(
            band_fact("colony.second.could", "This one can eat at its best, in that time", best, "feeding"),
            fact("colony.second.need", "Needed at the height", "{need:feeding}", need=need),
        ),
        steps=_second_steps(do),
        flags=(*flags, *beyond(best, colony.housing.floor_m2), *flags_of(asked, air)),
        cautions=for_colony(known.caution_rows, out=True, given=True),
        basis=rests_on(colony),
        do=do,
        could_eat_kg_per_day=best,
        needed_kg_per_day=need,
        seed=asked.seed,
    )


def _second_title(do: str, need: float) -> Said:
    if do == "second colony":
        return said("colony.second.work", "one box does not come to {need:feeding} in time: split it, or start a second", need=need)
    if do == "one is enough":
        return said(
            "colony.second.enough", "one box comes to {need:feeding} by the middle reckoning, and you have a spare", need=need
        )
    return said(
        "colony.second.spare", "one box comes to {need:feeding}; as insurance, keep a spare colony in another place", need=need
    )


def _second_steps(do: str) -> tuple[Said, ...]:
    if do == "one is enough":
        return ()
    return (
        said(
            "colony.second.step.count",
            "Count first. Split off no more than a quarter: larvae of all sizes, adults, and some full blocks",
        ),
        said(
            "colony.second.step.place",
            "Another building, its own tools, heater and cut-out; nothing goes from one box to the other",
        ),
        said("colony.second.step.food", "Feed both all they eat for two months; a split costs the first box some weeks of growth"),
    )
