"""What bone needs: bath to cover it, days to whiten it, days to dry it."""

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing, basis
from bonebench.said import said
from bonebench.science import baths as science
from bonebench.science.baths import dampness, drying
from bonebench.science.baths.decay import (
    rate_per_day,
)
from bonebench.science.baths.vessel import BONE_DENSITY, COVER_M, FREEBOARD
from bonebench.science.baths.weighings import SAME_WITHIN, fall_allowed
from bonebench.science.baths.whitening import (
    LOOK_AT_3_PERCENT_DAYS,
    STRENGTH_POWER,
    WARMTH_Q10,
    Way,
    damage_at,
    days_while_it_fades,
    whitening,
)
from bonebench.services.baths.cautions import dry_cautions, mix_cautions, whiten_cautions
from bonebench.services.baths.keep import ROOM_TEMPERATURE_C, mass_fraction
from bonebench.services.baths.workcards import (
    CoverCard,
    DryCard,
    WhitenCard,
)
from bonebench.services.baths.working.lines import fact, reach, warm_or_room
from bonebench.services.cards import Flag
from bonebench.services.known import Known
from bonebench.shop.methods import size_of
from bonebench.shop.names import find
from bonebench.shop.routes import method_for
from bonebench.shop.species import head_mass
from bonebench.shop.steps import Step
from bonebench.units import (
    read_days,
    read_length,
    read_mass,
    read_number,
    read_share,
)

VERDICTS = {
    "same": "the same within half in a hundred",
    "falls": "it still falls",
    "rises": "it rose: damper air, or a wrong weight",
    "too coarse": "the scale cannot tell",
}
# Dry bone of a skull with its jaw as a share of the fresh head, and how high it stands against its length; both to cover it only.
BONE_SHARE = Figure(
    0.2, 0.12, 0.3, "share", Standing.ESTIMATE, "dry skull against fresh head, deer, coyote, raccoon, bear from memory"
)
HEIGHT_SHARE = Figure(
    0.45, 0.35, 0.6, "share", Standing.ESTIMATE, "height of a lying skull with its jaw against its length, a guess"
)


def cover(
    known: Known, *, length: str, width: str, depth: str, species: str, count: str | None = None, round: bool = False
) -> CoverCard:
    """Say how much bath covers so many skulls of a species in a vessel."""
    across = read_length(length)
    vessel = science.Vessel(across, across if round else read_length(width), read_length(depth), round)
    kind = find(species, known.species)
    number = int(read_number(count, "number of skulls")) if count else 1
    long = kind.skull_length_m
    if long is None:
        raise Impossible(
            "work.cover.length",
            "nobody knows how long a skull of {species} is; set the species' skull length first",
            species=kind.common_name,
        )
    bone = head_mass(kind).value * BONE_SHARE.value
    skull = science.Skull(bone, long.value, long.value * HEIGHT_SHARE.value, f"a skull of {kind.common_name}")
    found = science.cover(vessel, [skull] * max(number, 1))
    # How high the skull stands is a guess, and that moves the bath far more than the bone's own volume does.
    bath = Figure(
        found.bath_l.value,
        vessel.area_m2 * (long.low * HEIGHT_SHARE.low + COVER_M.value) * 1000 - found.displaced_l.high,
        vessel.area_m2 * (long.high * HEIGHT_SHARE.high + COVER_M.value) * 1000 - found.displaced_l.low,
        "L", Standing.ESTIMATE, "by a guess of how high the skulls stand",
    )  # fmt: skip
    return CoverCard(
        title=said(
            "work.cover",
            "{volume:volume} covers {count} of {species}",
            volume=bath.value,
            count=max(number, 1),
            species=kind.common_name,
        ),
        bath_l=found.bath_l.value,
        bath_low_l=bath.low,
        bath_high_l=bath.high,
        displaced_l=found.displaced_l.value,
        level_m=found.level_m,
        mark_m=found.mark_m,
        most_l=found.most_l,
        steps=(
            said(
                "work.cover.mark",
                "Mark the vessel {mark:length} above its floor: the bath never stands higher, foam needs the rest",
                mark=found.mark_m,
            ),
            said("work.cover.lay", "Lay the skulls in, dry and degreased; no metal, no antler, no horn"),
            said(
                "work.cover.pour",
                "Mix {low:volume} to {high:volume} and pour until it stands {cover:length} above the highest bone",
                low=bath.low,
                high=bath.high,
                cover=COVER_M.value,
            ),
            said("work.cover.float", "A dry skull floats: let the air out of its hollows, or weigh it down with glass or plastic"),
        ),
        facts=(
            reach("work.cover.bath", "Bath to mix", bath, "volume"),
            reach("work.cover.bone", "The bone takes up", found.displaced_l, "volume"),
            fact("work.cover.brim", "The vessel holds to its brim", "{brim:volume}", brim=vessel.brim_l),
        ),
        basis=(
            basis("vessel.bone", BONE_DENSITY),
            basis("vessel.cover", COVER_M),
            basis("vessel.freeboard", FREEBOARD),
            basis("vessel.bone_share", BONE_SHARE),
            basis("vessel.height", HEIGHT_SHARE),
        ),
        cautions=mix_cautions(known, stock_w=0.35, target_w=0.03, temperature_c=ROOM_TEMPERATURE_C, mass_kg=found.bath_l.value),
    )


def whiten(
    known: Known, *, species: str, strength: str | None = None, temperature: str | None = None, method: str | None = None
) -> WhitenCard:
    """Say how long to whiten, when to look and when to stop, with what is known of damage."""
    kind = find(species, known.species)
    way = known.methods.get(method or "") or method_for(Step.WHITEN, known.room, known.methods)
    if way.step is not Step.WHITEN or way.strength_w is None:
        raise Impossible(
            "work.whiten.way", "{way} is no bath of peroxide; choose how this room whitens on the page of methods", way=way.name
        )
    size = size_of(head_mass(kind).value)
    span = way.own_days.get(kind.key) or way.span(grease=kind.grease_class, size=size)
    days = Figure(span.p50, span.p10, span.p90, "days", way.standing, way.source)
    name = way.class_of(grease=kind.grease_class, size=size)
    longest = max((way.longest_days or {}).get(name, span.p90), span.p90)
    warm = warm_or_room(temperature)
    strength_w = mass_fraction(strength, warm) if strength else way.strength_w.value
    found = whitening(Way(way.strength_w.value, days, longest), strength_w, warm)
    fading = rate_per_day("bone", warm)
    longer = days_while_it_fades(found.days.value, fading.value)
    flags = [
        Flag(
            said(
                "work.whiten.gate",
                "only what is clean and degreased goes in: on brain or blood this bath could warm by {rise:warming}",
                rise=science.heat_rise_k(strength_w),
            ),
            said("work.whiten.gate.next", "look into the braincase with a light, and dry it for two days to see the grease"),
        )
    ]
    if longer > found.days.value * 1.3:
        flags.append(
            Flag(
                said("work.whiten.fades", "with bone in it the bath fades meanwhile, so it may take longer than that"),
                said("work.whiten.fades.next", "test it half way and top it up; do not add days blindly"),
            )
        )
    return WhitenCard(
        title=said(
            "work.whiten",
            "{species} at {strength:strength}: {low:days} to {high:days}",
            species=kind.common_name,
            strength=strength_w,
            low=found.days.low,
            high=found.days.high,
        ),
        method=way.key,
        days_low=found.days.low,
        days=found.days.value,
        days_high=found.days.high,
        look_every_days=found.look_every_days,
        stop_after_days=found.stop_after_days,
        acknowledge=found.acknowledge,
        strength=strength_w,
        facts=(
            fact("work.whiten.way_used", "This room's way", "{way} ({standing})", way=way.name, standing=way.standing.value),
            reach("work.whiten.days", "In the bath", found.days, "days"),
            fact("work.whiten.look", "Look every", "{every:days}", every=found.look_every_days),
            fact(
                "work.whiten.stop",
                "Out at the latest after",
                "{stop:days}, or when two looks in a row show no change",
                stop=found.stop_after_days,
            ),
            fact("work.whiten.natural", "Or not at all", "leaving it natural harms nothing, and is a museum's way"),
            *(
                fact(
                    f"work.whiten.harm{n}",
                    "Known of harm",
                    "{what} ({standing}; {source})",
                    what=row.what,
                    standing=row.standing.value,
                    source=row.source,
                )
                for n, row in enumerate(damage_at(strength_w))
            ),
        ),
        basis=(
            basis("whiten.days", days),
            basis("whiten.strength_power", STRENGTH_POWER),
            basis("whiten.warmth", WARMTH_Q10),
            basis("whiten.look", LOOK_AT_3_PERCENT_DAYS),
        ),
        flags=tuple(flags),
        cautions=whiten_cautions(known, strength_w, warm),
    )


def dry(
    known: Known,
    *,
    species: str,
    use: str,
    temperature: str | None = None,
    humidity: str | None = None,
    weighings: str | None = None,
    step: str | None = None,
) -> DryCard:
    """Say when a skull is dry enough for what comes next, and what its weighings tell."""
    kind = find(species, known.species)
    if use not in drying.ENOUGH:
        raise Impossible("work.dry.use", "'{use}' is nothing to be dry for here: it is glue, whiten, seal or measure", use=use)
    size = size_of(head_mass(kind).value)
    warm, damp = warm_or_room(temperature), read_share(humidity, "humidity") if humidity else 0.5
    constant, days = drying.time_constant_days(size, warm, damp), drying.dry_for(use, size, warm, damp)  # type: ignore[arg-type]
    left, why = drying.ENOUGH[use]  # type: ignore[index]
    facts = [
        reach("work.dry.days", f"Dry enough to {use} after", days, "days"),
        fact("work.dry.why", "Because", "{why}", why=why),
        fact("work.dry.left", "That leaves", "{left:percent} of its free water", left=left),
    ]
    if use == "measure":
        grows = drying.reads_long_by_m(kind.skull_length_m.value if kind.skull_length_m else 0.2, min(damp + 0.2, 1.0), damp)
        facts.append(fact("work.dry.sixty", "The clock of sixty days", "begins again after boiling and after the freezer"))
        facts.append(
            fact("work.dry.long", "Twenty more in a hundred of humidity makes it read", "{long:length} long", long=grows.value)
        )
    facts += [
        fact(
            f"work.dry.harm.{harm.key}",
            "Mind",
            "{what}: {why} ({standing}; {source})",
            what=harm.what,
            why=harm.why,
            standing=harm.standing.value,
            source=harm.source,
        )
        for harm in dampness.harms_at(warm, damp)
    ]
    flags: list[Flag] = []
    points = _weighings(weighings) if weighings else []
    if len(points) >= 2:
        (d1, m1), (d2, m2) = points[-2:]
        told = drying.two_weighings(
            m1, m2, hours_apart=(d2 - d1) * 24, step_kg=read_mass(step) if step else 0.001, constant_days=constant.value
        )
        facts.append(
            fact(
                "work.dry.two",
                "The last two weighings",
                "{verdict}; by its fall {low:percent} to {high:percent} are still to go; {allowed:percent} or less would do",
                verdict=VERDICTS[told.said],
                low=told.still_to_lose.low,
                high=told.still_to_lose.high,
                allowed=min(SAME_WITHIN.value, fall_allowed(constant.value, hours_apart=(d2 - d1) * 24)),
            )
        )
        if told.scale_too_coarse:
            flags.append(
                Flag(
                    said("work.dry.coarse", "the scale's steps are too coarse for this skull"),
                    said("work.dry.coarse.next", "use a finer scale: waiting longer does not cure it"),
                )
            )
    if len(points) >= 3:
        fitted = drying.fit_weighings([d for d, _ in points], [m for _, m in points], step_kg=read_mass(step) if step else 0.0)
        facts.append(reach("work.dry.final", "By its weighings it ends at", fitted.final_kg, "mass"))
        facts.append(reach("work.dry.pace", "and two thirds of the way takes", fitted.constant_days, "days"))
    return DryCard(
        title=said(
            "work.dry",
            "{species}: {low:days} to {high:days} at {warm:temperature} and {damp:percent}",
            species=kind.common_name,
            low=days.low,
            high=days.high,
            warm=warm,
            damp=damp,
        ),
        use=use,
        days_low=days.low,
        days=days.value,
        days_high=days.high,
        size=size,
        facts=tuple(facts),
        basis=(
            basis("dry.days", drying.HANDLE_DAYS[size]),
            basis("dry.warmth", drying.Q10),
            basis("dry.sixty", drying.MEASURE_DAYS),
            basis("dry.same", drying.SAME_WITHIN),
        ),
        flags=tuple(flags),
        cautions=dry_cautions(known),
    )


def _weighings(text: str) -> list[tuple[float, float]]:
    """Read weighings like '0d 810 g, 1d 780 g, 3d 765 g'."""
    points = []
    for piece in text.replace(";", ",").split(","):
        when, _, mass = piece.strip().partition(" ")
        points.append((read_days(when), read_mass(mass)))
    return points
