"""How long on the thaw shelf, and how long to freeze it again? By the mass of the head and how warm the shelf is."""

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing, basis
from bonebench.planning.front import Shelf, on_the_shelf
from bonebench.said import said
from bonebench.services.cards import Flag
from bonebench.services.facts import fact, reach
from bonebench.services.front.cards import ThawCard
from bonebench.services.known import Known, animal_of, head_of, weighed
from bonebench.shop.cautions import Animal, Caution, for_step, merged
from bonebench.shop.names import find
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind, Step
from bonebench.units import read_mass, read_temperature

FREEZER_C = -20.0


def thaw(
    known: Known, *, species: str | None = None, head_mass: str | None = None, shelf: str | None = None, freezer: str | None = None
) -> ThawCard:
    """Say how long a head takes to thaw until it can be trimmed, when to look at it, and how long it then takes to freeze."""
    head, animal, whose = _head(known, species, head_mass)
    shelf_c = _temperature(shelf, _set_in_room(known, PlaceKind.THAW_SHELF))
    if shelf_c is None:
        raise Impossible(
            "thaw.shelf", "nobody said how warm the thaw shelf is: write it like 6 C, or set it for the place on the page The room"
        )
    freezer_c = _temperature(freezer, _set_in_room(known, PlaceKind.FREEZER))
    found = on_the_shelf(head, shelf_c, FREEZER_C if freezer_c is None else freezer_c)
    return ThawCard(
        title=said(
            "thaw",
            "{whose} is soft enough to trim after {low:days} to {high:days} at {shelf:temperature}; look at it after {look:days}",
            whose=whose, low=found.thaw.low, high=found.thaw.high, shelf=shelf_c, look=found.look_by.low,
        ),
        facts=(
            reach("thaw.mass", "It weighs", head, "mass"),
            reach("thaw.soft", "Until it can be trimmed", found.thaw, "days"),
            fact("thaw.look", "Look at it after, at the latest", "{low:days}", low=found.look_by.low),
            reach("thaw.warm", "Its outside may begin to spoil", found.look_by, "days"),
            reach("thaw.again", "To freeze it to the middle again", found.freeze, "days"),
        ),
        steps=(
            said("thaw.tray", "On a tray that catches what runs off, apart from anything clean, with its tag on it"),
            said("thaw.knife", "Try the knife after {low:days}: cut away what is soft, leave the rest there; look at it all after"
                 " {look:days} at the latest", low=found.thaw.low, look=found.look_by.low),
            said("thaw.trim", "Trim it as soon as the knife goes through; thaw it once only"),
            said("thaw.freeze", "Back into the freezer, apart from others until it is hard: to the middle in {days:days} at most;"
                 " how long it then stays for the insects' sake is the room's own method", days=found.freeze.high),
        ),
        flags=_flags(found),
        cautions=_cautions(known, animal),
        basis=(basis("head_mass", head), basis("thaw_days", found.thaw), basis("look_by_days", found.look_by),
               basis("freeze_days", found.freeze)),
        head_mass_kg=head,
        shelf_c=shelf_c,
        freezer_c=FREEZER_C if freezer_c is None else freezer_c,
        thaw=found.thaw,
        look_by=found.look_by,
        freeze=found.freeze,
    )  # fmt: skip


def _head(known: Known, species: str | None, head_mass: str | None) -> tuple[Figure, Animal | None, str]:
    """Return the mass of the head, what animal it is of where that is said, and how to call it."""
    if not species and not head_mass:
        raise Impossible("thaw.head", "which head? Write its mass, such as 1.2 kg, or its species")
    mass = read_mass(head_mass) if head_mass else None
    kind = find(species, known.species) if species else None
    if kind is None:
        # A mass of nothing goes on as it is: science says what it must be.
        on_scale = weighed(mass) or Figure(0.0, 0.0, 0.0, "kg", Standing.ROOM, "weighed here")
        return on_scale, None, "The head"
    head = head_of(Specimen("asked", species=kind.key, head_mass_kg=mass), known).head_kg
    return head, animal_of(kind), f"A head of {kind.common_name}"


def _set_in_room(known: Known, kind: PlaceKind) -> float | None:
    warm = (place.temperature_c for place in known.room.places if place.kind is kind and place.open)
    return next((one for one in warm if one is not None), None)


def _temperature(written: str | None, otherwise: float | None) -> float | None:
    return read_temperature(written) if written else otherwise


def _cautions(known: Known, animal: Animal | None) -> tuple[Caution, ...]:
    steps = (Step.THAW, Step.TRIM, Step.FREEZE_AGAIN)
    return merged(known.caution_rows, *(for_step(known.caution_rows, step=step, animal=animal) for step in steps))


def _flags(found: Shelf) -> tuple[Flag, ...]:
    unchecked = Flag(
        said("thaw.unchecked", "these times are worked out for a round lump of wet flesh; they are not checked in your room"),
        said("thaw.unchecked.next", "write down when it was soft; the first few tell more than any table"),
    )
    if found.caution is None:
        return (unchecked,)
    return (
        Flag(found.caution, said("thaw.colder", "a shelf at 4 °C is slower and kinder; skin it first and it goes faster")),
        unchecked,
    )
