"""The cards of species, from what is known."""

from bonebench.figures import Figure, Standing
from bonebench.reference.teeth import teeth_of_species
from bonebench.science.anatomy import teeth_of
from bonebench.services.known import Known, cautions_for_species
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard, SpeciesRow, ValueCard
from bonebench.shop.names import find, search
from bonebench.shop.species import Species, head_mass, tissue_mass
from bonebench.units import Reader, write

_KINDS = {"kg": "mass", "m": "length"}


def species_card(query: str, known: Known, reader: Reader) -> SpeciesCard:
    """Return one species with the standing and source of every value."""
    species = find(query, known.species)
    return SpeciesCard(
        key=species.key,
        common=species.common_name,
        scientific=species.scientific_name,
        other_names=species.other_names,
        order=species.order,
        own=species.own,
        values=_values(species, reader),
        basis=(),
        flags=(),
        cautions=cautions_for_species(species, known),
    )


def species_list(query: str, known: Known) -> SpeciesListCard:
    """Return the species that answer to a word, or all of them."""
    found = search(query, known.species) if query.strip() else tuple(known.species.values())
    return SpeciesListCard(
        rows=tuple(
            SpeciesRow(s.key, s.common_name, s.scientific_name, s.order, s.grease_class, s.total_teeth, s.own)
            for s in sorted(found, key=lambda species: species.common_name.casefold())
        )
    )


def _figure(name: str, figure: Figure | None, reader: Reader) -> list[ValueCard]:
    if figure is None:
        return []
    kind = _KINDS.get(figure.unit, "percent")
    text = write(figure.value, kind, reader)
    if figure.high > figure.low:
        text += f" ({write(figure.low, kind, reader)} to {write(figure.high, kind, reader)})"
    return [ValueCard(name, text, figure.value, figure.low, figure.high, figure.unit, figure.standing.value, figure.source)]


def _words(name: str, text: str, standing: Standing, source: str) -> list[ValueCard]:
    return [ValueCard(name, text, None, None, None, "", standing.value, source)] if text else []


def _teeth_more(species: Species) -> list[ValueCard]:
    """Which premolars these are, the milk teeth, and what may differ between sound skulls."""
    record = teeth_of_species(species)
    if record is None:
        return []
    adult = record.adult
    premolars = " / ".join(", ".join(f"P{n}" for n in row.premolars) or "none" for row in (adult.upper, adult.lower))
    lines = _words("premolars above / below", premolars, record.numbers.standing, record.numbers.source)
    if record.milk_note is not None:
        written = f"{len(teeth_of(record.milk))} milk teeth" if record.milk is not None else "none in any that comes in"
        lines += _words("milk teeth", written, record.milk_note.standing, record.milk_note.source)
    if record.full_mouth_note is not None:
        note = record.full_mouth_note
        lines += _words("full mouth", note.text, note.standing, note.source)
    if record.variants is not None:
        lines += _words("teeth that vary", record.variants.text, record.variants.standing, record.variants.source)
    return lines


def _values(species: Species, reader: Reader) -> tuple[ValueCard, ...]:
    teeth = species.teeth
    return (
        *_figure("body mass", species.body_mass_kg, reader),
        *_figure("head as it comes in", head_mass(species), reader),
        *_figure("tissue left after the trim", tissue_mass(species), reader),
        *_figure(" ".join(("skull length", species.skull_length_kind)).strip(), species.skull_length_m, reader),
        *_figure("width over the cheek arches", species.zygomatic_width_m, reader),
        *_figure("brain", species.brain_mass_kg, reader),
        *_words("teeth", teeth.written, teeth.standing, teeth.source),
        *_teeth_more(species),
        *_words("teeth that loosen", species.loose_prone.text, species.loose_prone.standing, species.loose_prone.source),
        ValueCard("grease class", f"{species.grease_class} of 5", species.grease_class, None, None, "class",
                  species.grease_standing.value, species.grease_source),
        *_words("breaks easily", species.fragile.text, species.fragile.standing, species.fragile.source),
        *_words("disease", species.zoonosis_note.text, species.zoonosis_note.standing, species.zoonosis_note.source),
        *(
            _words("law", species.legal_flag.text, species.legal_flag.standing, species.legal_flag.source)
            if species.legal_flag is not None
            else []
        ),
    )  # fmt: skip
