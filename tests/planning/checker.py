"""Checks a plan against its problem from the outside: written from the rules, sharing no code with dispatch.

`faults` returns every broken rule in words. Instants carry whole seconds in a plan, hence the slack of two seconds; the end of
eating is summed from days of floats, hence five.
"""

from collections import defaultdict
from datetime import UTC, datetime, time, timedelta

SLACK = timedelta(seconds=2)
EATING_SLACK = 5.0
NEVER = datetime(9999, 1, 1, tzinfo=UTC)


def faults(problem, plan):
    """Return every rule the plan breaks."""
    found = []
    pieces = {piece.key: piece for piece in problem.pieces}
    slots = defaultdict(list)
    for slot in plan.slots:
        slots[slot.piece].append(slot)
    unplaced = {one.piece: one for one in plan.unplaced}
    if sorted(plan.order) != sorted(pieces):
        found.append("the order is not the pieces")
    for key, piece in pieces.items():
        own = sorted(slots[key], key=lambda slot: [(s.step, s.visit) for s in piece.stages].index((slot.step, slot.visit)))
        slots[key] = own
        found += sequence_faults(problem, piece, own, unplaced.get(key))
    found += hands_faults(problem, pieces, slots)
    found += place_faults(problem, pieces, slots, unplaced)
    found += eating_faults(problem, plan, pieces, slots)
    return found + score_faults(problem, plan, pieces, slots, unplaced)


def sequence_faults(problem, piece, own, unplaced):
    found = []
    if piece.held is not None:
        return ([f"{piece.key} is held and planned"] if own else []) + ([] if unplaced else [f"{piece.key} is held, unsaid"])
    names = [(slot.step, slot.visit) for slot in own]
    if names != [(stage.step, stage.visit) for stage in piece.stages[: len(own)]]:
        found.append(f"{piece.key} does {names} out of sequence")
    if (len(own) < len(piece.stages)) != (unplaced is not None):
        found.append(f"{piece.key}: placed {len(own)} of {len(piece.stages)}, unplaced says {unplaced}")
    for number, (stage, slot) in enumerate(zip(piece.stages, own, strict=False)):
        running = number == 0 and piece.running is not None
        if running and (slot.start != piece.running.since or slot.place != piece.running.place):
            found.append(f"{piece.key}: the running {stage.step} was moved")
        if not running and (slot.start < problem.now or (piece.running is None and slot.start < piece.release)):
            found.append(f"{piece.key}: {stage.step} starts before it may")
        if slot.end > problem.now + timedelta(days=problem.horizon_days) + SLACK:
            found.append(f"{piece.key}: {stage.step} ends beyond the horizon")
        found += length_faults(piece, stage, slot, running)
        if number:
            found += wait_faults(piece, piece.stages[number - 1], own[number - 1], slot, number, problem.now)
    return found


def length_faults(piece, stage, slot, running):
    if stage.eats:
        return []
    least = timedelta(days=stage.days if stage.stay else 0)
    hands = timedelta(minutes=stage.minutes)
    exact = max(least, hands)
    length = slot.end - slot.start
    if length < exact - SLACK:
        return [f"{piece.key}: {stage.step} is too short"]
    if (running or not stage.minutes) and length > exact + SLACK:
        return [f"{piece.key}: {stage.step} is too long"]
    return []


def wait_faults(piece, before, ended, slot, number, now):
    wait = slot.start - ended.end
    after_history = number == 1 and piece.running is not None
    if wait < timedelta(days=before.least_wait_days) - SLACK:
        return [f"{piece.key}: {slot.step} starts {wait} after {before.step}"]
    late = before.most_wait_days is not None and wait > timedelta(days=before.most_wait_days) + SLACK
    return [f"{piece.key}: {slot.step} starts {wait} after {before.step}, too late"] if late and not after_history else []


def windows(problem, person, day):
    """Return one person's hours of a local day as instants."""
    if day in problem.closed:
        return []
    result = []
    for begins, ends in person.hours.get(day.weekday(), ()):
        last = datetime.combine(day + timedelta(days=ends == time(0)), ends, problem.zone)
        result.append((datetime.combine(day, begins, problem.zone).astimezone(UTC), last.astimezone(UTC)))
    return result


def inside(problem, person, start, end):
    """Return how long [start, end] overlaps the person's hours."""
    day, total = start.astimezone(problem.zone).date(), timedelta(0)
    while day <= end.astimezone(problem.zone).date():
        for begins, ends in windows(problem, person, day):
            total += max(timedelta(0), min(end, ends) - max(start, begins))
        day += timedelta(days=1)
    return total


def hands_faults(problem, pieces, slots):
    found, busy = [], defaultdict(list)
    people = {person.key: person for person in problem.people}
    for key, piece in pieces.items():
        for number, (stage, slot) in enumerate(zip(piece.stages, slots[key], strict=False)):
            if number == 0 and piece.running is not None:
                continue
            if (slot.person is None) != (stage.minutes == 0):
                found.append(f"{key}: {stage.step} takes {stage.minutes} min of {slot.person}")
            if slot.person is None:
                continue
            person = people[slot.person]
            if stage.work and stage.work not in person.trained:
                found.append(f"{key}: {person.key} is not trained for {stage.work}")
            need = timedelta(minutes=stage.minutes)
            whole = inside(problem, person, slot.start, slot.start + need) >= need - SLACK
            if not whole and stage.minutes <= longest_minutes(problem, stage):
                found.append(f"{key}: {person.key} is not there for the whole of {stage.step}")
            busy[slot.person].append((slot.start, slot.start + need if whole else slot.end, need, f"{key} {stage.step}"))
    for person, times in busy.items():
        found += doubled(problem, people[person], sorted(times))
    return found


def longest_minutes(problem, stage):
    able = [person for person in problem.people if not stage.work or stage.work in person.trained]
    return max((_longest(person) for person in able), default=0)


def _longest(person):
    best = 0
    for hours in person.hours.values():
        spans = sorted((b.hour * 60 + b.minute, (e.hour * 60 + e.minute) or 1440) for b, e in hours)
        joined = []
        for begin, end in spans:
            if joined and begin <= joined[-1][1]:
                joined[-1][1] = max(joined[-1][1], end)
            else:
                joined.append([begin, end])
        best = max([best, *(end - begin for begin, end in joined)])
    return best


def doubled(problem, person, times):
    """From any start to any end, the work that lies within may not be more than the hours that lie within."""
    found = []
    for first, (start, _, _, name) in enumerate(times):
        for end in {other[1] for other in times[first:]}:
            need = sum((one[2] for one in times if one[0] >= start and one[1] <= end), timedelta(0))
            if need > inside(problem, person, start, end) + SLACK:
                found.append(f"{person.key} does too much at once from {start}, {name}")
    return found


def place_faults(problem, pieces, slots, unplaced):
    found, stays = [], defaultdict(list)
    rooms = {room.key: room for room in problem.places}
    for key, piece in pieces.items():
        if not piece.stages and piece.held is None:
            continue
        found += kind_faults(rooms, piece, slots[key])
        for place, start, end, old in occupied(problem, piece, slots[key], key in unplaced):
            stays[place].append((start, end, piece.load, old))
    for place, spans in stays.items():
        if place in rooms:
            found += overfull(rooms[place], spans)
    return found


def kind_faults(rooms, piece, own):
    found = []
    for number, (stage, slot) in enumerate(zip(piece.stages, own, strict=False)):
        if number == 0 and piece.running is not None:
            continue
        if (slot.place is None) != (stage.place_kind is None):
            found.append(f"{piece.key}: {stage.step} is in {slot.place}")
        elif slot.place is not None and (rooms[slot.place].kind != stage.place_kind or not rooms[slot.place].open):
            found.append(f"{piece.key}: {stage.step} is in {slot.place}, of the wrong kind or not open")
    return found


def occupied(problem, piece, own, unfinished):
    """Return (place, from, to, there from the beginning) for everything a piece takes up."""
    spans, held = [], {}  # held: place -> (since, old)
    at = kept = None

    def let_go(place, when):
        since, old = held.pop(place)
        spans.append((place, since, when, old))

    if piece.running is not None:
        stage, place = (piece.stages[0], piece.running.place) if piece.stages else (None, piece.running.place)
        if stage is None or stage.stay or piece.place == place or piece.held:
            at = place
            held[at] = (problem.now, True)
        elif own:
            spans.append((place, problem.now, max(problem.now, own[0].end), True))
        if stage is not None and stage.keeps_place and piece.place not in (None, place):
            kept = piece.place
            held[kept] = (problem.now, True)
    elif piece.place is not None:
        at = piece.place
        held[at] = (problem.now, True)
    for number, (stage, slot) in enumerate(zip(piece.stages, own, strict=False)):
        if stage.place_kind is None or (number == 0 and piece.running is not None):
            continue
        was = (at, kept)
        if slot.place == at:
            kept = kept if stage.keeps_place else None
        elif slot.place == kept:
            at, kept = kept, None
        else:
            kept = (kept or at) if stage.keeps_place else None
            at = slot.place if stage.stay else None
            if not stage.stay:
                spans.append((slot.place, slot.start, slot.start + timedelta(minutes=stage.minutes), False))
        for place in was:
            if place is not None and place not in (at, kept):
                let_go(place, slot.start)
        for place in (at, kept):
            if place is not None and place not in held:
                held[place] = (slot.start, False)
    for place in list(held):
        let_go(place, NEVER if unfinished or piece.held or not own else max(problem.now, own[-1].end))
    return spans


def overfull(room, spans):
    """Nothing that was put there by the plan may ever be part of too much; what was there from the beginning may be."""
    found = []
    for now in {start for start, _, _, _ in spans}:
        here = [(load, old) for start, end, load, old in spans if start <= now < end]
        if all(old for _, old in here):
            continue
        for limit, part in ((room.count, "count"), (room.volume_l, "volume_l"), (room.mass_kg, "mass_kg")):
            total = sum(getattr(load, part) for load, _ in here)
            if limit is not None and total > limit + 1e-6:
                found.append(f"{room.key} holds {total} at {now}, over {part} {limit}")
    return found


def eating_faults(problem, plan, pieces, slots):
    """Go through the days of each box, giving out each day's appetite in order of entry, and compare the ends."""
    rank, boxes = {key: number for number, key in enumerate(plan.order)}, defaultdict(list)
    for key, piece in pieces.items():
        number = next((n for n, stage in enumerate(piece.stages) if stage.eats), None)
        if number is None:
            continue
        slot = slots[key][number] if number < len(slots[key]) else None
        if number == 0 and piece.running is not None:
            # What is in the box already was there before anything that enters now.
            boxes[piece.running.place].append(
                (min(piece.running.since, problem.now) - timedelta(seconds=1), rank[key], piece, slot, 0)
            )
        elif slot is not None:
            stage = piece.stages[number]
            split = stage.minutes > longest_minutes(problem, stage)
            boxes[slot.place].append((slot.start, rank[key], piece, slot, None if split else stage.minutes))
    found = []
    for box, eaters in boxes.items():
        ends = eaten_out(problem, box, [(start, piece) for start, _, piece, _, _ in sorted(eaters, key=lambda one: one[:2])])
        for start, _, piece, slot, minutes in eaters:
            end = ends.get(piece.key)
            if end is not None:
                # Work split over several days' hours may itself be what ends last; hands_faults looks at it.
                end = max(end, start + timedelta(minutes=minutes), problem.now) if minutes is not None else max(end, slot.end)
            if slot is not None and (end is None or abs((slot.end - end).total_seconds()) > EATING_SLACK):
                found.append(f"{piece.key} is eaten at {slot.end}, by the rule at {end}")
    return found


def eaten_after(problem, piece, days):
    """Return the kg gone after so many days of eating at the piece's own rate."""
    whole = piece.tissue_kg if piece.whole_tissue_kg is None else max(piece.whole_tissue_kg, piece.tissue_kg)
    quick = max(0.0, piece.tissue_kg - problem.tail_share * whole)
    rate = piece.eating_kg_per_day
    if rate * days <= quick:
        return rate * days
    return min(piece.tissue_kg, quick + (days - quick / rate) * rate / problem.tail_slowness)


def own_days(problem, piece, kg):
    """Return the own-rate days after which so much is gone, by halving."""
    low, high = 0.0, problem.tail_slowness * piece.tissue_kg / piece.eating_kg_per_day
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if eaten_after(problem, piece, middle) < kg else (low, middle)
    return high


def eaten_out(problem, box, eaters):
    gone, ends, now = defaultdict(float), {}, problem.now
    by_day, otherwise = problem.appetite_kg_per_day.get(box, {}), problem.appetite_otherwise.get(box, 0.0)
    day = now.astimezone(problem.zone).date()
    for _ in range(problem.horizon_days + 2):
        begins = datetime.combine(day, time(0), problem.zone).astimezone(UTC)
        ends_at = datetime.combine(day + timedelta(days=1), time(0), problem.zone).astimezone(UTC)
        whole = by_day.get(day, otherwise)
        left_today = whole * ((ends_at - max(now, begins)) / (ends_at - begins))
        for start, piece in eaters:
            if piece.key in ends or start >= ends_at:
                continue
            enters = max(start, begins, now)
            left = piece.tissue_kg - gone[piece.key]
            if left <= 1e-9:
                ends[piece.key] = enters
                continue
            if piece.eating_kg_per_day <= 0:
                continue
            days = (ends_at - enters).total_seconds() / 86400
            own = own_days(problem, piece, gone[piece.key]) if gone[piece.key] else 0.0
            allowed = min(left_today, whole * ((ends_at - enters) / (ends_at - begins)))
            taken = min(eaten_after(problem, piece, own + days) - gone[piece.key], allowed)
            gone[piece.key] += taken
            left_today -= taken
            assert left_today >= -1e-9
            if piece.tissue_kg - gone[piece.key] <= 1.5e-9:
                alone = own_days(problem, piece, piece.tissue_kg * (1 - 1e-12)) - own
                ends[piece.key] = enters + timedelta(days=min(days, max(alone, days * left / allowed)))
        day += timedelta(days=1)
    return ends


def score_faults(problem, plan, pieces, slots, unplaced):
    found, late = [], {one.piece: one for one in plan.late}
    total = 0.0
    for key, piece in pieces.items():
        if key in unplaced or not slots[key] or piece.due is None:
            continue
        days = (slots[key][-1].end.astimezone(problem.zone).date() - piece.due).days
        if (days > 0) != (key in late) or (days > 0 and late[key].days != days):
            found.append(f"{key} is {days} days late, the plan says {late.get(key)}")
        total += piece.weight * max(0, days)
    open_ones = [key for key in unplaced if pieces[key].held is None]
    if not open_ones and abs(plan.score[0] - total) > 1e-6:
        found.append(f"the score says {plan.score[0]} late days, they are {total}")
    if open_ones and plan.score[0] <= total:
        found.append("an unplaced piece weighs nothing")
    return found
