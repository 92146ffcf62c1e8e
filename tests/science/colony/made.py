"""Made colonies whose truth is known, and what a person would have seen of them."""

import numpy as np

from bonebench.science.colony.calibrate import WIDTH, Fit, Guess, colonies_at, fit
from bonebench.science.colony.forecast import Draws, forecast
from bonebench.science.colony.model import Housing, conditions
from bonebench.science.colony.observed import Seen, heads_gone, pupae_in_blocks, scoop
from bonebench.science.colony.traits import Trait

GUESS = Guess(3000)
BOX = Housing(0.12, 1500)
AIR = conditions(40, 27, 0.55)
WHAT = ("strain", "active", "appetite", "appetite_kg")


def counted(rng: np.random.Generator, mean: float, spread: float) -> float:
    """A count with its chance, and beetles that sit unevenly: negative binomial."""
    size = 1.0 / spread**2
    return float(rng.poisson(mean * rng.gamma(size, 1.0 / size)))


def made(rng: np.random.Generator) -> tuple[dict[str, float], list[Seen]]:
    """Draw one colony from the ranges; return its truth at the end of 40 days and two scoops, a block and three heads."""
    traits, starts = colonies_at(rng.standard_normal((1, WIDTH)), GUESS)
    told = forecast(Draws(traits, starts, np.ones(1)), BOX, AIR)
    active, pupae, eaten = (told.paths(name)[0] for name in ("active", "pupae_in_sites", "eaten_kg"))
    seen = [scoop(day, counted(rng, 0.02 * active[day], 0.35), 0.02) for day in (5, 35)]
    seen.append(pupae_in_blocks(30, counted(rng, 0.5 * pupae[30], 0.25), 0.5))
    for first, until, spread in ((8, 12, 0.15), (28, 32, 0.15), (32, 37, 0.35)):
        kg = float(eaten[first:until].sum() * np.exp(spread * rng.standard_normal()))
        seen.append(heads_gone(first, until, kg, spread=spread))
    truth = {"strain": traits[0, Trait.STRAIN], "active": active[-1], "appetite": traits[0, Trait.APPETITE]}
    return truth | {"appetite_kg": told.paths("appetite_kg")[0, -1]}, seen


def held(seeds: range, members: int) -> dict[str, float]:
    """Share of made colonies whose truth lay in the 90 % interval."""
    hits = dict.fromkeys(WHAT, 0)
    for seed in seeds:
        rng = np.random.default_rng(seed)
        truth, seen = made(rng)
        fitted: Fit = fit(rng, seen, BOX, AIR, GUESS, members=members)
        for what in WHAT:
            figure = getattr(fitted, what)
            hits[what] += figure.low <= truth[what] <= figure.high
    return {what: number / len(seeds) for what, number in hits.items()}
