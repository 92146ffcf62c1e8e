"""Rules of the trade on one specimen: what was done out of turn or stays too long. They flag; they never refuse."""

from collections.abc import Iterator
from datetime import datetime

from bonebench.said import said
from bonebench.shop.flags import Flag
from bonebench.shop.room import Room
from bonebench.shop.routes import Standing, days_in_step
from bonebench.shop.specimen import Mark, Specimen
from bonebench.shop.steps import STEP_ORDER, PlaceKind, Step
from bonebench.shop.teeth import teeth_flags

# Parts that stay dry and unbleached. Common practice, no source.
DRY_PARTS = frozenset({"antlers", "horn sheaths", "beak sheath", "sample"})
# Solvent may be in glue for so long; common practice, no source. adhesives.toml says it for each kind.
AIRS_HOURS = 24.0
WRITTEN_TOGETHER_HOURS = 0.5
# From here on peroxide heats on what is left in bone (bench 1.6: caution above 5 %).
STRONG_W = 0.05
WET_PLACES = frozenset({PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE})


def check_specimen(specimen: Specimen, standing: Standing, room: Room, now: datetime) -> tuple[Flag, ...]:
    """Return every flag that the rules of the trade raise on a specimen as it stands."""
    if specimen.finished or specimen.received is None:
        return ()
    return (
        *_unasked(specimen),
        *_out_of_turn(specimen, standing),
        *_short_freeze(specimen, standing),
        *_too_long(standing, now),
        *_places(specimen, room),
        *_promise(specimen, room, now),
        *_wrong_method(standing, room),
        *teeth_flags(specimen.tag, specimen.teeth, gluing=_at_the_glue(standing), leaving=_about_to_go(standing)),
    )


def _unasked(specimen: Specimen) -> Iterator[Flag]:
    """Nobody asked the questions at the door, and it is not cleaned yet: say so once, hold nothing."""
    if not specimen.answers and not any(_began(specimen, step) for step in STEP_ORDER[Step.BEETLES.position :]):
        yield Flag(
            said("flag.unasked", "nobody asked at the door about bites, drugs, poison, salt or insects"),
            said("flag.unasked.next", "ask whoever brought it before it is cut; no answer is no all-clear"),
        )


def _short_freeze(specimen: Specimen, standing: Standing) -> Iterator[Flag]:
    """Into the box before the cold had its time: mites, fleas and fly eggs may have lived."""
    legs = {leg.step: leg for leg in standing.route}
    cold, box = specimen.beginning(Step.FREEZE_AGAIN), specimen.beginning(Step.BEETLES)
    leg = legs.get(Step.FREEZE_AGAIN)
    if cold is None or box is None or leg is None or standing.at > standing.route.index(legs[Step.BEETLES]):
        return
    days = (box.about - cold.about).total_seconds() / 86400
    if days < leg.span.p10:
        yield Flag(
            said("flag.short_freeze", "{tag} was frozen for {days:days} before the box; it should be {wanted:days} at least",
                 tag=specimen.tag, days=round(max(days, 0.0), 2), wanted=leg.span.p10),
            said("flag.short_freeze.next", "watch the box for mites and flies; freeze the next one longer"),
        )  # fmt: skip


def _began(specimen: Specimen, step: Step) -> bool:
    return specimen.beginning(step) is not None or specimen.ending(step) is not None


def _hours(earlier: Mark, later: Mark) -> float:
    return (later.about - earlier.about).total_seconds() / 3600


def _white_too_soon(specimen: Specimen, standing: Standing) -> Iterator[Flag]:
    """Peroxide on what nobody said was degreased, or that was degreased only after it."""
    white = specimen.beginning(Step.WHITEN) or specimen.ending(Step.WHITEN)
    if white is None or white.skipped:
        return
    degreased = specimen.beginning(Step.DEGREASE) or specimen.ending(Step.DEGREASE)
    after = degreased is not None and not degreased.skipped and _hours(white, degreased) >= WRITTEN_TOGETHER_HOURS
    unsaid = any(leg.step is Step.DEGREASE for leg in standing.unrecorded)
    if not after and not unsaid:
        return
    way = next((leg.method.strength_w for leg in standing.route if leg.step is Step.WHITEN), None)
    if way is not None and way.value > STRONG_W:
        following = said(
            "flag.white_before_grease.strong",
            "if it is in there now, look: if it foams or the tub is warm, out with it, much cold water, no lid; then degrease it",
        )
    else:
        following = said(
            "flag.white_before_grease.next",
            "grease under white bone yellows: look for it; fresh tissue in peroxide heats and foams",
        )
    if after:
        yield Flag(
            said("flag.white_then_grease", "{tag} went into peroxide before it was degreased, by the record", tag=specimen.tag),
            following,
        )
    else:
        yield Flag(
            said("flag.white_before_grease", "{tag} went into peroxide, and no degreasing is recorded", tag=specimen.tag),
            following,
        )


def _glued_wet(specimen: Specimen, standing: Standing) -> Iterator[Flag]:
    """Teeth glued into bone that had not had its days on the rack: glue does not hold on damp bone."""
    glued = specimen.ending(Step.TEETH)
    wet = specimen.beginning(Step.DRY) or specimen.ending(Step.DEGREASE) or specimen.beginning(Step.DEGREASE)
    leg = next((leg for leg in standing.route if leg.step is Step.DRY), None)
    if glued is None or glued.skipped or wet is None or wet.skipped or leg is None:
        return
    days = _hours(wet, glued) / 24
    # Two taps within minutes were written down together afterwards; their times say nothing.
    if abs(days) * 24 < WRITTEN_TOGETHER_HOURS or days >= leg.span.p10:
        return
    following = said("flag.wet_glue.next", "try each tooth with a finger; what moves comes out, dries, and is glued again")
    if days < 0:
        yield Flag(said("flag.wet_glue.before", "teeth of {tag} were glued before it was dried", tag=specimen.tag), following)
    else:
        yield Flag(
            said("flag.wet_glue", "teeth of {tag} were glued after {days:days} of drying; such a head dries {wanted:days} at least",
                 tag=specimen.tag, days=round(days, 2), wanted=leg.span.p10),
            following,
        )  # fmt: skip


def _about_to_go(standing: Standing) -> bool:
    """Whether it is to be finished or handed over next."""
    return standing.next is not None and standing.next.step in (Step.FINISH, Step.MEASURE, Step.HAND_OVER)


def _at_the_glue(standing: Standing) -> bool:
    """Whether teeth are to be put in next, or stand in fresh glue."""
    return (standing.next is not None and standing.next.step is Step.TEETH) or (
        standing.leg is not None and standing.leg.step is Step.CURE
    )


def _out_of_turn(specimen: Specimen, standing: Standing) -> Iterator[Flag]:
    passed = {leg.step for leg in standing.unrecorded}
    yield from _white_too_soon(specimen, standing)
    yield from _glued_wet(specimen, standing)
    glued, bathed = specimen.ending(Step.TEETH), specimen.beginning(Step.WHITEN)
    if glued is not None and not glued.skipped and bathed is not None:
        hours = _hours(glued, bathed)
        # Two taps within minutes were written down together afterwards; their times say nothing.
        if WRITTEN_TOGETHER_HOURS <= hours < AIRS_HOURS:
            yield Flag(
                said("flag.fresh_glue", "{tag} went into peroxide {hours} hours after its teeth were glued", tag=specimen.tag,
                     hours=f"{hours:.2g}"),
                said("flag.fresh_glue.next", "if the glue carries acetone: out with it now, air it for two "
                                             "days, rinse it with water"),
            )  # fmt: skip
    if _began(specimen, Step.BEETLES) and Step.FREEZE_AGAIN in passed:
        yield Flag(
            said("flag.not_frozen", "{tag} went into the box, and no freezing after the trim is recorded", tag=specimen.tag),
            said("flag.not_frozen.next", "watch the box for mites and flies; record the freezing if it was done"),
        )
    rest = [leg.step.value for leg in standing.unrecorded if leg.step not in (Step.FREEZE_AGAIN, Step.DEGREASE)]
    if rest:
        yield Flag(
            said("flag.no_record", "no record of: {steps}", steps=", ".join(rest)),
            said("flag.no_record.next", "nothing to do if it was done; say so on its page if it was left out", tag=specimen.tag),
        )


def _too_long(standing: Standing, now: datetime) -> Iterator[Flag]:
    leg = standing.leg
    if leg is None or leg.longest_days is None:
        return
    days = days_in_step(standing, now)
    if days > leg.longest_days:
        yield Flag(
            said(
                "flag.too_long", "{step}: {days:days} so far; this method's longest is {longest:days}",
                step=leg.step.value, days=round(days, 2), longest=leg.longest_days,
            ),
            said("flag.too_long.next", "take it out now; longer than that harms bone and teeth"),
        )  # fmt: skip


def _places(specimen: Specimen, room: Room) -> Iterator[Flag]:
    for part in specimen.parts:
        place = room.place(part.place)
        if part.place is not None and place is None:
            yield Flag(
                said("flag.place", "{part} is in '{place}', which this room does not have", part=part.name, place=part.place),
                said("flag.place.next", "say where it is, or set the place up"),
            )
        elif place is not None and part.name in DRY_PARTS and place.kind in WET_PLACES and part.joined_to is not None:
            yield Flag(
                said("flag.waterline", "{part} on the {host}, in {place}: they must not get wet",
                     part=part.name, host=part.joined_to, place=place.name),
                said("flag.waterline.next", "mark a waterline on the vessel below where they begin, and fill no higher"),
            )  # fmt: skip
        elif place is not None and part.name in DRY_PARTS and place.kind in WET_PLACES:
            yield Flag(
                said("flag.dry_part", "{part} is in {place}; it must stay dry", part=part.name, place=place.name),
                said("flag.dry_part.next", "take it out and dry it slowly; if it was never in, record where it is", part=part.name),
            )


def _promise(specimen: Specimen, room: Room, now: datetime) -> Iterator[Flag]:
    if specimen.promised is not None and specimen.promised < room.day(now):
        yield Flag(
            said("flag.promise", "it was promised for {day:day}", day=specimen.promised),
            said("flag.promise.next", "tell the owner today, with the date it is planned for now"),
        )


def _wrong_method(standing: Standing, room: Room) -> Iterator[Flag]:
    kill = next((leg for leg in standing.ahead if leg.step is Step.KILL), None)
    if kill is not None and room.methods.get(Step.KILL, kill.method.key) != kill.method.key:
        yield Flag(
            said("flag.kill", "this room kills what is left by heat, but its pot is not hot enough at the core"),
            said("flag.kill.next", "freeze it instead, as planned here, or choose the hot pot"),
        )
