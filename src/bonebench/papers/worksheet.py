"""The day's work on paper: in the order it is done in, a box to tick, the cautions where the hand is."""

from collections.abc import Iterable
from itertools import groupby

from reportlab.lib.units import mm

from bonebench.papers.flow import LEADING, Flow, Frame, Words, on_pages
from bonebench.papers.type import BOLD, PLAIN
from bonebench.said import Said, day_text
from bonebench.services.today.cards import TaskCard, TodayCard
from bonebench.shop.cautions import DEFER, Caution, Level
from bonebench.units import Reader, say, write

TICK = 4.5 * mm
INDENT = 8 * mm


def worksheet_pdf(card: TodayCard, reader: Reader, paper: str = "a4") -> bytes:
    """Return the day's work as pages to take along."""
    of = "1 thing" if len(card.tasks) == 1 else f"{len(card.tasks)} things"
    line = f"{of}, about {write(card.minutes, 'minutes', reader)} of hands-on work; clean work first · {card.room}"
    frame = Frame(f"Work of {card.date:%A} {day_text(card.date)}", line, demo=card.demo)
    return on_pages(frame, paper, lambda flow: _write(flow, card, reader))


def _write(flow: Flow, card: TodayCard, reader: Reader) -> None:
    for alert in card.alerts:
        word = "ACT NOW" if alert.level == "act" else "LOOK"
        flow.write(Words(f"{word}: {say(alert.what, reader)}", 10, BOLD), Words(say(alert.why, reader), 8.5, PLAIN, INDENT))
        flow.space(1 * mm)
    if not card.tasks:
        flow.write(Words(say(card.teach, reader) if card.teach is not None else "Nothing is due.", 11))
    seen: set[str] = set()
    for place, tasks in groupby(card.tasks, key=lambda task: task.place_name):
        _at_place(flow, place, list(tasks), reader, seen)
    if card.left_out:
        flow.write(Words(f"{card.left_out} more did not fit into the time at hand.", 9))
    _leaving(flow, card, reader)


def _at_place(flow: Flow, place: str, tasks: list[TaskCard], reader: Reader, seen: set[str]) -> None:
    flow.space(2 * mm)
    gloves = [say(tasks[0].gloves, reader)] if tasks[0].gloves is not None else []
    flow.write(Words(place, 13, BOLD), *(Words(line, 9.5, BOLD) for line in gloves), keep=20 * mm)
    flow.rule(0.8)
    flow.space(1 * mm)
    for number, task in enumerate(tasks):
        if number and task.gloves is not None:
            flow.write(Words(say(task.gloves, reader), 9.5, BOLD))
        _task(flow, task, reader, seen)


def _task(flow: Flow, task: TaskCard, reader: Reader, seen: set[str]) -> None:
    lines = [Words(f"{_what(task, reader)}   ({write(task.minutes, 'minutes', reader)})", 10.5, BOLD, INDENT)]
    lines += [Words(_members(task), 9, PLAIN, INDENT)] if task.members else []
    lines += [Words(f"Look for: {say(task.look, reader)}", 9, PLAIN, INDENT)] if task.look is not None else []
    lines.append(Words(_why(task, reader), 8.5, PLAIN, INDENT))
    lines += list(_cautions(task.cautions, reader, seen))
    flow.needs(flow.high(lines) + 2 * mm)
    flow.box(flow.left + 0.5 * mm, flow.at - TICK - 1.2, TICK)
    flow.write(*lines)
    flow.space(1.6 * mm)


def _what(task: TaskCard, reader: Reader) -> str:
    action = say(task.action, reader)
    if task.specimen is not None and task.species is not None:
        return f"{action} · {task.species.common}"
    return action if task.members else f"{say(task.about, reader)}: {action}"


def _members(task: TaskCard) -> str:
    return " · ".join(f"☐ {member.tag} {member.species.common}" for member in task.members)


def _why(task: TaskCard, reader: Reader) -> str:
    late = f"{task.late_days} {'day' if task.late_days == 1 else 'days'} late. " if task.late_days else ""
    by = f" By {write(task.due_by.isoformat(), 'day', reader)}." if task.due_by is not None else ""
    who = f" For {task.who}." if task.who else ""
    return f"{late}{_capital(say(task.why, reader))}.{by}{who}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _cautions(cautions: Iterable[Caution], reader: Reader, seen: set[str]) -> Iterable[Words]:
    """What stops the hand stands at every task; the rest in full the first time it is met on the way."""
    for caution in cautions:
        if caution.key == DEFER:
            continue
        again = caution.key in seen
        seen.add(caution.key)
        if caution.level is Level.STOP:
            yield Words(f"STOP. {_pair(caution.hazard, caution.do, reader)}", 9, BOLD, INDENT)
        elif again:
            continue
        elif caution.level is Level.STRONG:
            yield Words(f"Take care. {_pair(caution.hazard, caution.do, reader)}", 8.5, BOLD, INDENT)
        else:
            yield Words(_pair(caution.hazard, caution.do, reader), 8, PLAIN, INDENT)


def _pair(hazard: Said, do: Said, reader: Reader) -> str:
    return f"{say(hazard, reader)} {say(do, reader)}"


def _leaving(flow: Flow, card: TodayCard, reader: Reader) -> None:
    ticks = card.leaving.ticks
    if not ticks:
        return
    lines = [Words(f"{say(tick.tap, reader)}", 10, BOLD, INDENT) for tick in ticks]
    flow.space(3 * mm)
    flow.write(Words("When you leave", 13, BOLD), keep=flow.high(lines))
    flow.rule(0.8)
    for line in lines:
        flow.box(flow.left + 0.5 * mm, flow.at - line.size * LEADING, TICK * 0.8)
        flow.write(line)
        flow.space(0.8 * mm)
    flow.write(Words("Left at ______ by ______________________", 10, PLAIN, INDENT))
