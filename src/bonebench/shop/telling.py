"""How one line of the log is told back, in words."""

from collections.abc import Callable, Mapping
from typing import Any

from bonebench.said import Said, said
from bonebench.shop import entries as log
from bonebench.shop.bath_telling import TELL_BATH
from bonebench.shop.colony_telling import TELL_COLONY
from bonebench.shop.entries import Entry
from bonebench.shop.part_telling import TELL_PARTS
from bonebench.shop.photo_telling import TELL_PHOTO
from bonebench.shop.piece_telling import TELL_PIECE
from bonebench.shop.prices import PAID_FOR, PricesSet
from bonebench.shop.sheet_entries import SheetPrinted
from bonebench.shop.teeth_telling import TELL_TEETH
from bonebench.shop.words import PROBLEMS

Names = Mapping[str, str]


def _received(what: log.Received, names: Names) -> Said:
    return said("told.received", "came in as {species}, tag {tag}", species=names.get(what.species, what.species), tag=what.tag)


def _moved(what: log.Moved, names: Names) -> Said:
    return said("told.moved", "moved to {place}", place=names.get(what.place, what.place))


def _done(what: log.Done, names: Names) -> Said:
    del names
    again = "" if what.visit == 1 else f", time {what.visit}"
    return said("told.done", "{step} done{again}", step=what.step.value, again=again)


def _skipped(what: log.Skipped, names: Names) -> Said:
    del names
    return said("told.skipped", "{step} left out{why}", step=what.step.value, why=f": {what.why}" if what.why else "")


def _sent_back(what: log.SentBack, names: Names) -> Said:
    del names
    return said("told.sent_back", "sent back to {step}{why}", step=what.step.value, why=f": {what.why}" if what.why else "")


def _looked(what: log.Looked, names: Names) -> Said:
    del names
    return said("told.looked", "looked at during {step}: {found}", step=what.step.value, found=what.found)


def _note(note: str | None, names: Names) -> str:
    """The text of a note by its id; it lives with the people, and may have been erased there."""
    return "" if not note else f": {names.get(note, 'text erased')}"


def _problem(what: log.Problem, names: Names) -> Said:
    words = dict(PROBLEMS).get(what.what, what.what)
    return said("told.problem", "problem: {what}{note}", what=words, note=_note(what.note, names))


def _noted(what: log.Noted, names: Names) -> Said:
    return said("told.noted", "note{note}", note=_note(what.note, names))


def _weighed(what: log.Weighed, names: Names) -> Said:
    del names
    return said("told.weighed", "weighed {mass:mass}", mass=what.mass_kg)


def _described(what: log.Described, names: Names) -> Said:
    values = {name: names.get(value, value) if isinstance(value, str) else value for name, value in what.changes.items()}
    changed = ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in sorted(values.items()))
    return said("told.described", "put right: {changed}", changed=changed)


def _joined(what: log.Joined, names: Names) -> Said:
    del names
    return said("told.joined", "joined {lot}", lot=what.name)


def _merged(what: log.MergedInto, names: Names) -> Said:
    return said("told.merged", "turned out to be the same as {into}", into=names.get(what.into, what.into))


def _place(what: log.PlaceSet, names: Names) -> Said:
    del names
    return said("told.place", "{name} set up as {kind}", name=what.name, kind=what.kind.value)


def _method(what: log.MethodChosen, names: Names) -> Said:
    return said(
        "told.method", "{step} is done by {method} from now on", step=what.step.value, method=names.get(what.method, what.method)
    )


def _round(what: log.RoundDone, names: Names) -> Said:
    found = "done" if what.wrong is None else f"something is wrong, {what.wrong}"
    return said("told.round", "{round}: {found}", round=names.get(what.round, what.round), found=found)


def _left(what: log.Left, names: Names) -> Said:
    del names
    ticks = ", ".join(what.ticks) if what.ticks else "nothing"
    return said("told.left", "left the room; ticked: {ticks}", ticks=ticks)


def _profile(what: log.ProfileSet, names: Names) -> Said:
    del names
    if what.profile is None:
        return said("told.no_profile", "the room keeps to no profile from now on")
    return said("told.profile", "the room keeps to the {profile} profile from now on", profile=what.profile)


def _features(what: log.FeatureSet, names: Names) -> Said:
    listed = ", ".join(names.get(feature, feature) for feature in what.features) or "nothing that is asked about"
    return said("told.features", "the room has: {listed}", listed=listed)


def _plain(key: str, template: str, *fields: str) -> Callable[[Any, Names], Said]:
    def tell(what: Any, names: Names) -> Said:
        values = {field: getattr(what, field) for field in fields}
        return said(key, template, **{f: names.get(v, v) if isinstance(v, str) else v for f, v in values.items()})

    return tell


def _prices(what: PricesSet, names: Names) -> Said:
    del names
    each = ", ".join(
        f"{PAID_FOR[key].name if key in PAID_FOR else key} {price if price is not None else 'no more'}"
        for key, price in what.prices.items()
    )
    return said("told.prices", "prices in {currency} from {since:day}: {each}", currency=what.currency, since=what.since, each=each)


_TELL: Mapping[type[log.What], Callable[[Any, Names], Said]] = {
    log.Received: _received,
    log.Moved: _moved,
    log.Done: _done,
    log.Skipped: _skipped,
    log.SentBack: _sent_back,
    log.Looked: _looked,
    log.Problem: _problem,
    log.Settled: _plain("told.settled", "problem settled"),
    log.Held: _plain("told.held", "on hold: {reason}", "reason"),
    log.Released: _plain("told.released", "free to go on"),
    log.Weighed: _weighed,
    log.Described: _described,
    log.PartFound: _plain("told.part", "{part} kept track of from here", "part"),
    log.Joined: _joined,
    log.Parted: _plain("told.parted", "left its lot"),
    log.Gone: _plain("told.gone", "not here any more: {why}", "why"),
    log.Retagged: _plain("told.retagged", "carries tag {tag} now", "tag"),
    log.MergedInto: _merged,
    log.Noted: _noted,
    log.Void: _plain("told.void", "took an entry back"),
    log.ClockCorrected: _plain("told.clock", "the clock of {writer} corrected by {offset_seconds} s", "writer", "offset_seconds"),
    log.RoomDescribed: _plain("told.room", "the room is {name}, its days are those of {zone}", "name", "zone"),
    log.PlaceSet: _place,
    log.PersonSet: _plain("told.person", "hours and training of {person} set", "person"),
    log.MethodChosen: _method,
    log.SpeciesSet: _plain("told.species", "the room's own figures for {key} set", "key"),
    log.ClosedOn: _plain("told.closed", "days without work set"),
    log.RoundDone: _round,
    log.Left: _left,
    log.Seen: _plain("told.seen", "seen in {place}", "place"),
    log.HazardAcknowledged: _plain("told.hazard", "{person} has read the dangers of {method}", "method", "person"),
    log.ProfileSet: _profile,
    log.FeatureSet: _features,
    PricesSet: _prices,
    SheetPrinted: _plain("told.sheet", "pencil sheet {number} printed", "number"),
    **TELL_BATH,
    **TELL_COLONY,
    **TELL_PHOTO,
    **TELL_TEETH,
    **TELL_PIECE,
    **TELL_PARTS,
}


def told(entry: Entry, names: Names) -> Said:
    """Tell one entry in words; ``names`` maps keys of places, species and people to what a reader calls them."""
    return _TELL[type(entry.what)](entry.what, names)
