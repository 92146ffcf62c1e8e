"""What is known, shipped or by the room's own word: species, methods, cautions. One place decides which value is used."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from bonebench.errors import InputError
from bonebench.figures import Figure
from bonebench.figures import Standing as KnownHow
from bonebench.reference.cautions import load_cautions
from bonebench.reference.intake import load_questions
from bonebench.reference.methods import load_methods
from bonebench.reference.parts import load_parts
from bonebench.reference.species import load_species
from bonebench.said import said
from bonebench.science import cleaning
from bonebench.science.thawing import look_by_days, thaw_days
from bonebench.services.appetites import Appetites
from bonebench.shop.cautions import DEFER, Animal, Caution, CautionRow, Level, for_step
from bonebench.shop.flags import Flag
from bonebench.shop.intake import treated
from bonebench.shop.methods import Method, Span, size_of
from bonebench.shop.parts import bare_head_kg
from bonebench.shop.room import Room
from bonebench.shop.routes import Facts, Leg, Standing, method_for, route_of, stand
from bonebench.shop.species import Species, species_from_values, with_overrides
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind, Step


@dataclass(frozen=True, slots=True)
class Known:
    """The room with everything that is known in it; ``appetites`` are those of counted colonies, where they were worked out."""

    room: Room
    species: Mapping[str, Species]
    own_species: frozenset[str]
    methods: Mapping[str, Method]
    caution_rows: Mapping[str, CautionRow]
    flags: tuple[Flag, ...] = ()
    appetites: Appetites | None = None

    @property
    def defer(self) -> Caution:
        """The caution that closes every page: defer to local codes and licensed practice."""
        return self.caution_rows[DEFER].filled()


def known_in(room: Room) -> Known:
    """Join what is shipped with what the room says; the room wins, value by value."""
    species = dict(load_species())
    flags: list[Flag] = []
    for key, values in room.species.items():
        try:
            species[key] = with_overrides(species[key], values) if key in species else species_from_values(key, values, species)
        except InputError as fault:
            # History is never refused: what cannot be used is said, and the shipped value stays.
            flags.append(
                Flag(
                    said(
                        "flag.species", "the room's own figures for {key} cannot be used: {fault}", key=key, fault=fault.said.text
                    ),
                    said("flag.species.next", "set them again; until then the shipped ones are used, if there are any"),
                )
            )
    own = frozenset(room.species) & frozenset(species)
    return Known(room, species, own, load_methods(), load_cautions(), tuple(flags))


@dataclass(frozen=True, slots=True)
class Head:
    """What is worked out about the head of one specimen: masses with their standing, and what the route needs to know."""

    species: Species
    head_kg: Figure
    tissue_kg: Figure
    eating_kg_per_day: Figure
    volume_l: float
    facts: Facts


# A fresh head is close to water, a little lighter for its air and fat; from memory, used for room in a pot or tub only.
HEAD_DENSITY_KG_L = 1.0

# Between these a shelf thaws at all, and the formula holds.
COLDEST_SHELF_C = 1.0
WARMEST_SHELF_C = 40.0

UNKNOWN_SPECIES_LIKE = "coyote"


def weighed(mass_kg: float | None) -> Figure | None:
    """Return a mass somebody put on a scale in this room; two parts in a hundred either side for the scale and the blood."""
    if mass_kg is None or mass_kg <= 0:
        return None
    return Figure(mass_kg, mass_kg * 0.98, mass_kg * 1.02, "kg", KnownHow.ROOM, "weighed here")


def species_of(key: str, known: Known) -> Species:
    """Return a species; one that nobody knows is taken as a middling one, with every figure an estimate."""
    return known.species[key] if key in known.species else _unknown(key, known)


def _unknown(key: str, known: Known) -> Species:
    like = known.species[UNKNOWN_SPECIES_LIKE]
    guessed = replace(like.body_mass_kg, standing=KnownHow.ESTIMATE, source="species not known here")
    name = key or "unknown species"
    return replace(like, key=key, common_name=name, scientific_name="", other_names=(), own=True, body_mass_kg=guessed)


def head_of(specimen: Specimen, known: Known) -> Head:
    """Work out the head of a specimen: what was weighed wins over what its kind is usually like."""
    species = species_of(specimen.species, known)
    body = weighed(specimen.live_mass_kg) or species.body_mass_kg
    on_scale = weighed(bare_head_kg(specimen, load_parts()))
    head = on_scale or cleaning.head_mass_kg(body, species.head_share)
    tissue = cleaning.tissue_kg(body, species.head_share, species.tissue_share, on_scale)
    return Head(
        species=species,
        head_kg=head,
        tissue_kg=tissue,
        eating_kg_per_day=cleaning.eating_rate_kg_per_day(surface_of(species, head)),
        volume_l=head.value / HEAD_DENSITY_KG_L,
        facts=Facts(
            size_of(head.value), species.grease_class, species.total_teeth == 0, specimen.species, _thaw_span(head, known.room)
        ),
    )


def _thaw_span(head: Figure, room: Room) -> Span | None:
    """How long this head takes to thaw, where somebody has said how warm the thaw shelf is and it can thaw there."""
    air = _shelf_c(room)
    if air is None:
        return None
    days = thaw_days(head, air)
    return Span(days.low, days.value, days.high)


def _shelf_c(room: Room) -> float | None:
    warm = [p.temperature_c for p in room.places if p.kind is PlaceKind.THAW_SHELF and p.open and p.temperature_c is not None]
    return warm[0] if warm and COLDEST_SHELF_C <= warm[0] <= WARMEST_SHELF_C else None


def look_by(head: Figure, room: Room) -> Figure | None:
    """After how many days on the shelf the outside must be looked at; the low end counts."""
    air = _shelf_c(room)
    return None if air is None else look_by_days(head, air)


def method_of_stay(step: Step, key: str | None, known: Known) -> Method | None:
    """Return the method a stay was done by: the one written with it, else the room's; None where that is not to be told."""
    method = known.methods.get(key) if key is not None else method_for(step, known.room, known.methods)
    return method if method is not None and method.step is step and not method.leaves_out else None


def surface_of(species: Species, head: Figure) -> Figure:
    """The surface of the skull where its size is known, else of a ball as heavy as the head."""
    if species.skull_length_m is not None and species.zygomatic_width_m is not None:
        return cleaning.exposed_area_m2(species.skull_length_m, species.zygomatic_width_m)

    def ball(mass_kg: float) -> float:
        across = 2 * (3 * mass_kg / HEAD_DENSITY_KG_L / 1000 / (4 * math.pi)) ** (1 / 3)
        return cleaning.spheroid_surface_m2(across, across)

    return Figure(ball(head.value), ball(head.low), ball(head.high), "m2", KnownHow.ESTIMATE, "a ball as heavy as the head")


def standing_of(specimen: Specimen, known: Known, facts: Facts) -> Standing:
    """Work out where a specimen stands on its route."""
    return stand(specimen, route_of(specimen, facts, known.room, known.methods), known.room)


def animal_of(species: Species) -> Animal:
    """Return what bears on danger and law of an animal."""
    law = species.legal_flag.text if species.legal_flag is not None else ""
    return Animal(species.class_name, species.order, species.zoonosis_note.text, law, species.grease_class)


def cautions_for(specimen: Specimen, leg: Leg, known: Known) -> tuple[Caution, ...]:
    """Return what can hurt at this step with this animal, and what it may carry by the answers given at the door."""
    # Where nobody asked at all the specimen is flagged for that; nothing is known of a drug or salt then.
    carries = bool(specimen.answers) and treated(specimen.answers, load_questions())
    animal = animal_of(species_of(specimen.species, known))
    return for_step(known.caution_rows, step=leg.step, method=leg.method, animal=animal, treated=carries)


def cautions_for_species(species: Species, known: Known) -> tuple[Caution, ...]:
    """Return what can hurt with this animal as it comes in, and the rules to look up."""
    return for_step(known.caution_rows, step=Step.RECEIVE, animal=animal_of(species))


# Dangers of a method itself, beside those that a caution says must be confirmed: said yes to once a year by each person.
HAZARD_KEYS = frozenset({"pot.hot_for_bone", "solvent.acetone"})


def has_hazard(method: Method, known: Known) -> bool:
    """Whether a method can hurt so badly that each person says yes to it once, whatever the animal."""
    cautions = for_step(known.caution_rows, step=method.step, method=method)
    return any(c.level is Level.STOP or c.key in HAZARD_KEYS for c in cautions)
