"""What can hurt at a bath: the rules of the trade on what stands in it. No card of a bath is made without them."""

from collections.abc import Iterable
from datetime import datetime

from bonebench.reference.materials import load_materials
from bonebench.science import baths as science
from bonebench.services.known import Known, animal_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import material_of
from bonebench.shop.cautions import BathFacts, Caution, Holds, for_bath, for_mix, for_pot, for_standing_bath, for_step, merged
from bonebench.shop.checks import AIRS_HOURS
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import Step


def mix_cautions(known: Known, *, stock_w: float, target_w: float, temperature_c: float, mass_kg: float) -> tuple[Caution, ...]:
    """Return the cautions of handling peroxide of these strengths."""
    rise = science.heat_rise_k(target_w)
    return for_mix(
        known.caution_rows,
        stock_w=stock_w,
        target_w=target_w,
        temperature_c=temperature_c,
        oxygen_l=science.oxygen_l(target_w, mass_kg),
        heat_rise_k=rise,
        boils=temperature_c + rise >= 100.0,
    )


def pot_cautions(known: Known, temperature_c: float | None) -> tuple[Caution, ...]:
    """Return the cautions of a warm pot at a temperature."""
    return for_pot(known.caution_rows, temperature_c=temperature_c)


def whiten_cautions(known: Known, strength_w: float, temperature_c: float) -> tuple[Caution, ...]:
    """Return the cautions of bone in peroxide."""
    return for_standing_bath(known.caution_rows, recipe=Recipe.PEROXIDE, strength_w=strength_w, temperature_c=temperature_c)


def dry_cautions(known: Known) -> tuple[Caution, ...]:
    """Return the cautions of drying and gluing."""
    return merged(known.caution_rows, *(for_step(known.caution_rows, step=step) for step in (Step.DRY, Step.TEETH)))


def cautions_of(bath: Bath, subjects: Iterable[Subject], high_w: float | None, known: Known, now: datetime) -> tuple[Caution, ...]:
    """Return the cautions of a bath with what is in it: an unknown strength counts as a strong one, and so does doubt upward."""
    subjects = tuple(subjects)
    specimens = [subject.specimen for subject in subjects]
    tested = bath.last("tested")
    facts = BathFacts(
        bath.recipe.value,
        high_w,
        bath.temperature_c,
        bath.vessel,
        material_of(bath.vessel, load_materials().values()),
        Holds(
            raw=any(raw(specimen) for specimen in specimens),
            undegreased=any(undegreased(specimen) for specimen in specimens),
            glued=any(fresh_glue(specimen, now) for specimen in specimens),
            teeth=any(_has_teeth(specimen) for specimen in specimens),
        ),
        age_days=_days_since(bath.made, now),
        tested_days=_days_since(None if tested is None else tested.at, now),
    )
    return for_bath(known.caution_rows, facts, [animal_of(subject.head.species) for subject in subjects])


def _days_since(at: datetime | None, now: datetime) -> float | None:
    return None if at is None else max((now - at).total_seconds() / 86400, 0.0)


def undegreased(specimen: Specimen) -> bool:
    """Whether a piece that was worked on here never came to degreasing by the record."""
    return bool(specimen.begun) and not any(mark.step is Step.DEGREASE for mark in (*specimen.begun, *specimen.ended))


def _has_teeth(specimen: Specimen) -> bool:
    """Whether teeth were put in."""
    return any(mark.step is Step.TEETH and not mark.skipped for mark in specimen.ended)


def raw(specimen: Specimen) -> bool:
    """Whether the record says that flesh was still on it: it began with the beetles and nobody took it out."""
    begun = any(mark.step is Step.BEETLES for mark in specimen.begun)
    cleaned = {Step.JUDGE_CLEAN, Step.OUT, Step.KILL, Step.DEGREASE}
    return begun and not any(mark.step in cleaned for mark in (*specimen.begun, *specimen.ended))


def fresh_glue(specimen: Specimen, now: datetime) -> bool:
    """Whether teeth were glued in within the time a solvent glue needs to air out."""
    glued = max((mark.at for mark in specimen.ended if mark.step is Step.TEETH and not mark.skipped), default=None)
    return glued is not None and (now - glued).total_seconds() < AIRS_HOURS * 3600
