"""Cards as text for people: plain lines, in the reader's units, cautions before any recipe."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from bonebench.said import day_text
from bonebench.units import Reader, say, write

if TYPE_CHECKING:
    from bonebench.services.baths.cards import ConvertCard, MixCard
    from bonebench.services.cards import Basis, Caution, Flag, Ready, Worked
    from bonebench.services.rooms.cards import RoomCard
    from bonebench.services.search.cards import SearchCard
    from bonebench.services.species.cards import SpeciesCard, SpeciesListCard
    from bonebench.services.specimens.cards import AddedCard, LoggedCard, SpecimenCard, SpecimenListCard
    from bonebench.services.today.cards import TaskCard, TodayCard

MARKS = {"stop": "STOP", "strong": "DANGER", "read": "Mind"}
METRIC = Reader()


def reader_for(book: str | None, written: str) -> Reader:
    """Return the units somebody without a book reads: those they wrote in."""
    del book
    american = any(unit in written.casefold() for unit in ("gal", "qt", "quart", "pt", "cup", "oz", "lb"))
    return Reader("us" if american else "metric")


def caution_lines(cautions: Iterable["Caution"], reader: Reader) -> list[str]:
    """Return what can hurt, the worst first, with its standing."""
    return [f"{MARKS[c.level]}: {say(c.hazard, reader).rstrip('.')}. {say(c.do, reader)} ({c.standing.value})" for c in cautions]


def flag_lines(flags: Iterable["Flag"], reader: Reader) -> list[str]:
    """Return what is odd and what to do about it."""
    return [f"! {say(flag.what, reader)}\n  -> {say(flag.next, reader)}" for flag in flags]


def basis_lines(lines: Iterable["Basis"]) -> list[str]:
    """Return what a result rests on."""
    return [
        f"  {b.key.rpartition('.')[2].replace('_', ' ')}: {reach(b)} {b.unit} ({known_how(b.standing, b.source)})" for b in lines
    ]


def reach(line: "Basis") -> str:
    """Return the range of a figure, or the figure itself where it has none."""
    return f"{line.low:g}" if line.low == line.high else f"{line.low:g} to {line.high:g}"


def known_how(standing: str, source: str) -> str:
    """Return standing and source, once where they are the same words."""
    return standing if source in ("", standing) else f"{standing}; {source}"


def mix_text(card: "MixCard", reader: Reader) -> str:
    """Return a recipe, cautions first."""
    grams = Reader()
    lines = [*caution_lines(card.cautions, reader), ""]
    lines += [f"{number}. {say(step, reader)}" for number, step in enumerate(card.steps, 1)]
    lines += [
        "",
        f"strength   {write(card.strength, 'strength', reader)} w/w = {card.strength_w_v_percent:.3g} % w/v"
        f" = {card.strength_volumes:.3g} vol, at {write(card.temperature_c, 'temperature', reader)}",
        f"stock      {write(card.stock_l, 'volume', reader)} = {write(card.stock_kg, 'mass', grams)}",
        f"water      {write(card.water_l, 'volume', reader)} = {write(card.water_kg, 'mass', grams)}",
        f"simple rule of volumes would give {write(card.naive_strength, 'strength', reader)}",
        f"gives off up to {write(card.oxygen_l, 'volume', reader)} of oxygen; warms by up to"
        f" {write(card.heat_rise_k, 'warming', reader)} if it all goes at once" + (" and boils" if card.boils else ""),
        "",
        *flag_lines(card.flags, reader),
        "Rests on:",
        *basis_lines(card.basis),
    ]
    return "\n".join(lines)


def worked_text(card: "Worked", reader: Reader) -> str:
    """Return a calculation: what can hurt first, then what to do, the result, what it rests on."""
    wide = max((len(say(fact.label, reader)) for fact in card.facts), default=0)
    lines = [*caution_lines(card.cautions, reader), "", say(card.title, reader)]
    lines += [f"{number}. {say(step, reader)}" for number, step in enumerate(card.steps, 1)]
    lines += [""] if card.steps else []
    lines += [f"{say(fact.label, reader):{wide}}  {say(fact.value, reader)}" for fact in card.facts]
    return "\n".join([*lines, "", *flag_lines(card.flags, reader), "Rests on:", *basis_lines(card.basis)])


def convert_text(card: "ConvertCard") -> str:
    """Return a conversion."""
    return "\n".join([card.said.text, *flag_lines(card.flags, METRIC), *caution_lines(card.cautions, METRIC)])


def day(value: date | None, reader: Reader) -> str:
    """Write a day, without the year it shares with today."""
    if value is None:
        return "-"
    return day_text(value, with_year=reader.today is None or value.year != reader.today.year)


def moment(value: datetime | None, zone: str, reader: Reader) -> str:
    """Write an instant in the room's wall time."""
    if value is None:
        return "-"
    local = value.astimezone(ZoneInfo(zone))
    return f"{day(local.date(), reader)} {local:%H:%M}"


def ready_text(ready: "Ready", reader: Reader) -> str:
    """Write when it will be ready, as a range wherever it rests on nobody's measurements here."""
    if ready.planned is None:
        return say(ready.why_not, reader) if ready.why_not is not None else "not known"
    text = f"planned {day(ready.planned, reader)}"
    if ready.if_quick is not None or ready.if_slow is not None:
        text += f"; {day(ready.if_quick, reader)} if all goes quickly, {day(ready.if_slow, reader)} if slowly"
    if ready.p50 is not None and ready.p80 is not None and ready.p95 is not None:
        days = [day(one, reader) for one in (ready.p50, ready.p80, ready.p95)]
        text += f"; promise: one in two by {days[0]}, four in five by {days[1]}, nineteen in twenty by {days[2]}"
    return text + ("" if ready.checked else " (not checked in your room; test before you promise)")


def task_lines(task: "TaskCard", reader: Reader, shown: set[str]) -> list[str]:
    """Return one task: what, why, how long, by when, what can hurt; a loud caution is written out once a day, then named."""
    late = f"  LATE by {task.late_days} days" if task.late_days else ""
    by = f", by {day(task.due_by, reader)}" if task.due_by is not None else ""
    who = f", {task.who}" if task.who else ""
    lines = [f"  ~~ {say(task.gloves, reader)}"] if task.gloves is not None else []
    lines += [f"  [ ] {say(task.action, reader)}  ({task.minutes:g} min{by}{who}){late}", f"      why: {say(task.why, reader)}"]
    loud = [c for c in task.cautions if c.level != "read"]
    fresh = [c for c in loud if c.key not in shown]
    lines += [f"      {line}" for line in caution_lines(fresh, reader)]
    if len(fresh) < len(loud):
        lines.append("      the dangers written out above hold here too")
    shown |= {c.key for c in loud}
    return lines


def today_text(card: "TodayCard", reader: Reader) -> str:
    """Return the day's work, clean work first."""
    lines = [
        f"{card.room or 'Bone room'}, {day(card.date, reader)}" + ("  [demo: invented people and specimens]" if card.demo else "")
    ]
    lines += [f"{'ACT NOW' if a.level == 'act' else 'Look'}: {say(a.what, reader)} -> {say(a.why, reader)}" for a in card.alerts]
    if card.teach is not None:
        lines.append(say(card.teach, reader))
    place, shown = None, set[str]()
    for task in card.tasks:
        if task.place_name != place:
            place = task.place_name
            lines.append(f"\n{place}")
        lines += task_lines(task, reader, shown)
    if card.tasks:
        lines.append(f"\nabout {card.minutes:g} minutes of hands" + (f"; {card.left_out} tasks left out" if card.left_out else ""))
    if card.coming:
        lines.append("\nComing:")
        lines += [f"  {day(task.due_from, reader)}: {say(task.action, reader)}" for task in card.coming]
    lines += ["", *flag_lines(card.flags, reader), *caution_lines(card.cautions, reader)]
    return "\n".join(lines)


def list_text(card: "SpecimenListCard", reader: Reader) -> str:
    """Return the list, one specimen a line."""
    if card.teach is not None:
        return say(card.teach, reader)
    lines = []
    for row in card.rows:
        late = f"  LATE by {row.late_days} days" if row.late_days else ""
        lines.append(
            f"{row.tag:8} {row.species.common:24.24} {row.place_name or '-':18.18} {say(row.summary, reader):38.38}"
            f" planned {day(row.planned, reader)}{late}"
        )
    if card.finished_left_out:
        lines.append(f"{card.finished_left_out} finished ones not shown; --step 'hand over' shows them")
    return "\n".join(lines)


def found_text(card: "SearchCard") -> str:
    """Return what was found, one specimen a line."""
    lines = [
        f"{row.tag:8} {row.species.common:24.24} {row.owner or '-':24.24}{'  finished' if row.finished else ''}"
        for row in card.rows
    ]
    lines += [card.teach.text] if card.teach is not None else []
    return "\n".join(lines + ([f"Did you mean {' or '.join(card.could_be)}?"] if card.could_be else []))


def specimen_text(card: "SpecimenCard", reader: Reader, zone: str) -> str:
    """Return one specimen, whole."""
    from bonebench.cli.partwords import part_lines

    lines = [
        f"{card.tag}  {card.species.common} ({card.species.scientific})",
        f"owner      {card.owner or '-'}",
        f"state      {say(card.state.summary, reader)}; {card.state.place_name or 'no place recorded'}",
        f"ready      {ready_text(card.ready, reader)}",
        f"promised   {day(card.promised, reader)}" + (f"  LATE by {card.late_days} days" if card.late_days else ""),
        f"tissue     {write(card.tissue_kg, 'mass', reader)} ({write(card.tissue_low_kg, 'mass', reader)} to"
        f" {write(card.tissue_high_kg, 'mass', reader)})",
        f"teeth      {card.teeth.formula} ({card.teeth.standing})"
        + (f"; {say(card.teeth.marked, reader)}" if card.teeth.marked is not None else ""),
        f"breaks     {card.fragile}",
        *part_lines(card, reader, zone),
        "",
    ]
    if card.beetles is not None:
        from bonebench.cli.piecewords import piece_lines  # it leans on this module

        lines += [*piece_lines(card.beetles, reader), ""]
    marks = {"done": "x", "skipped": "-", "no record": "?", "now": ">", "ahead": " "}
    for leg in card.route:
        when = moment(leg.ended or leg.began or leg.planned_start, zone, reader)
        lines.append(f"  [{marks[leg.status]}] {leg.step:24} {leg.status:10} {when:16} {leg.method_name}")
    lines += [""] + [
        f"  {moment(e.latest, zone, reader)}  {say(e.what, reader)}{'' if e.counts else '  (taken back)'}  {e.id}"
        for e in card.entries
    ]
    lines += ["", *flag_lines(card.flags, reader), *caution_lines(card.cautions, reader), "Rests on:", *basis_lines(card.basis)]
    return "\n".join(lines)


def added_text(card: "AddedCard", reader: Reader) -> str:
    """Return what came of adding a specimen."""
    lines = [f"added {card.tag}", f"ready: {ready_text(card.ready, reader)}"]
    lines += [f"  {leg.step:24} {leg.days_p50:6.2g} days  {leg.method}" for leg in card.route]
    return "\n".join([*lines, *flag_lines(card.flags, reader), *caution_lines(card.cautions, reader)])


def logged_text(card: "LoggedCard", reader: Reader) -> str:
    """Return what came of one entry."""
    state = f"; {say(card.state.summary, reader)}" if card.state is not None else ""
    return "\n".join([f"{card.stored}: {card.entry_id} {card.tag or ''}{state}", *flag_lines(card.flags, reader)])


def room_text(card: "RoomCard", reader: Reader) -> str:
    """Return the room, place by place."""
    lines = [f"{card.name or 'Bone room'} ({card.zone})"]
    if card.teach is not None:
        lines.append(say(card.teach, reader))
    for place in card.places:
        room_for = f" of {place.count:g}" if place.count is not None else ""
        shut = "" if place.open else "  [out of use]"
        lines.append(f"\n{place.name} ({place.kind}): {place.holds}{room_for}{'  OVER FULL' if place.over else ''}{shut}")
        lines += [f"  bath: {b.name}" for b in place.baths]
        lines += [
            f"  {s.tag:8} {s.species.common:24.24} {', '.join(s.parts):24.24} {s.days:5.1f} days  {say(s.next, reader)}"
            + ("  LATE" if s.late else "")
            for s in place.sits
        ]
    if card.nowhere:
        lines.append("\nno place recorded")
        lines += [f"  {s.tag:8} {s.species.common:24.24} {', '.join(s.parts)}" for s in card.nowhere]
    lines.append("\nMethods in use:")
    lines += [f"  {m.step:24} {m.name} ({m.standing})" for m in card.methods if m.in_use]
    lines += [
        f"  {w.name}: " + ", ".join(f"{d} {' '.join('-'.join(s) for s in spans)}" for d, spans in w.hours.items())
        for w in card.people
    ]
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def species_text(card: "SpeciesCard", reader: Reader) -> str:
    """Return one species with the standing of every value."""
    lines = [f"{card.common} ({card.scientific}), {card.order}" + ("  [the room's own figures]" if card.own else "")]
    lines += [f"  {v.name:28} {v.text}  ({known_how(v.standing, v.source)})" for v in card.values]
    return "\n".join([*lines, *caution_lines(card.cautions, reader)])


def count(teeth: int | None) -> str:
    """Write a number of teeth; none at all is not the same as nobody knows."""
    return "-" if teeth is None else str(teeth)


def species_list_text(card: "SpeciesListCard") -> str:
    """Return the list of species."""
    return "\n".join(
        f"{row.common:28.28} {row.scientific:28.28} {row.order:16.16} grease {row.grease_class}  teeth {count(row.teeth)}"
        for row in card.rows
    )
