"""Rooms, people and the next instants of a plan in arrays: what sits where, who is free when, what happens next."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from bonebench.science.kernel import bare, bare_inside
from bonebench.science.scheduling.tables import FREE_CLAIM, HEAP_SIZE, NEVER, NEXT_FREE, OVERFLOW, Floats, Ints


@bare
def push(heap: Ints, count: Ints, value: int) -> None:
    """Put a value on the heap."""
    at = count[HEAP_SIZE]
    if at >= heap.size:
        count[OVERFLOW] = 1
        return
    count[HEAP_SIZE] = at + 1
    while at > 0:
        above = (at - 1) >> 1
        if heap[above] <= value:
            break
        heap[at] = heap[above]
        at = above
    heap[at] = value


@bare
def pop(heap: Ints, count: Ints) -> int:
    """Take the least value off the heap."""
    least = heap[0]
    size = count[HEAP_SIZE] - 1
    count[HEAP_SIZE] = size
    value = heap[size]
    at = 0
    while 2 * at + 1 < size:
        below = 2 * at + 1
        if below + 1 < size and heap[below + 1] < heap[below]:
            below += 1
        if heap[below] >= value:
            break
        heap[at] = heap[below]
        at = below
    heap[at] = value
    return int(least)


@bare_inside
def _goes_before(at: int, have: Floats, when: int, load: Floats, sign: float) -> bool:
    """Whether a change stands before or beside another in a room's list: by time, then by what changes."""
    if at != when:
        return bool(at < when)
    for part in range(3):
        if have[part] != sign * load[part]:
            return bool(have[part] < sign * load[part])
    return True


@bare
def change(claim: Ints, claim_load: Floats, head: Ints, count: Ints, room: int, at: int, load: Floats, sign: float) -> None:
    """Note that a load comes into a room (sign 1) or leaves it (sign -1) from then on."""
    new = count[FREE_CLAIM]
    if new < 0:
        count[OVERFLOW] = 1
        return
    count[FREE_CLAIM] = claim[new, 1]
    claim[new, 0] = at
    for part in range(3):
        claim_load[new, part] = sign * load[part]
    before, here = -1, head[room]
    while here >= 0 and _goes_before(claim[here, 0], claim_load[here], at, load, sign):
        before, here = here, claim[here, 1]
    claim[new, 1] = here
    if before < 0:
        head[room] = new
    else:
        claim[before, 1] = new


@bare
def bring_up(claim: Ints, claim_load: Floats, head: Ints, count: Ints, used: Floats, room: int, now: int) -> bool:
    """Bring what is in a room up to now; say whether room was given up."""
    gave_up = False
    here = head[room]
    while here >= 0 and claim[here, 0] <= now:
        for part in range(3):
            used[room, part] += claim_load[here, part]
            gave_up = gave_up or claim_load[here, part] < 0
        after = claim[here, 1]
        claim[here, 1] = count[FREE_CLAIM]
        count[FREE_CLAIM] = here
        here = after
    head[room] = here
    return gave_up


@bare
def has_room(
    claim: Ints, claim_load: Floats, first: int, used: Floats, limit: Floats, load: Floats, start: int, end: int, here_already: bool
) -> bool:
    """Whether a load has room from start until end; one that sits here already does not stand in its own way."""
    a, b, c = used[0], used[1], used[2]
    if here_already:
        a, b, c = a + -load[0], b + -load[1], c + -load[2]
    most_a, most_b, most_c = limit[0] - load[0], limit[1] - load[1], limit[2] - load[2]
    here = first
    while here >= 0:
        at = claim[here, 0]
        if at > start:
            if at >= end:
                break
            if a > most_a or b > most_b or c > most_c:
                return False
        a, b, c = a + claim_load[here, 0], b + claim_load[here, 1], c + claim_load[here, 2]
        here = claim[here, 1]
    return bool(a <= most_a and b <= most_b and c <= most_c)


@bare
def earliest_room(
    claim: Ints,
    claim_load: Floats,
    first: int,
    used: Floats,
    limit: Floats,
    load: Floats,
    start: int,
    length: int,
    here_already: bool,
) -> int:
    """The first instant from start at which a load has room for so long, or NEVER."""
    if has_room(claim, claim_load, first, used, limit, load, start, start + length, here_already):
        return start
    here = first
    while here >= 0:
        at = claim[here, 0]
        if (
            at > start
            and min(claim_load[here, 0], claim_load[here, 1], claim_load[here, 2]) < 0
            and has_room(claim, claim_load, first, used, limit, load, at, at + length, here_already)
        ):
            return int(at)
        here = claim[here, 1]
    return NEVER


@bare
def earliest_free(free: Ints, head: int, start: int, length: int, before: int) -> int:
    """The first instant from start at which so many seconds are free in one go, or NEVER if that is not before."""
    here = head
    while here >= 0:
        begins = max(start, free[here, 0])
        if begins >= before:
            return NEVER
        if free[here, 1] - begins >= length:
            return int(begins)
        here = free[here, 2]
    return NEVER


@bare
def earliest_hands(who: Ints, free: Ints, head: Ints, start: int, length: int, split: bool) -> tuple[int, int]:
    """The first instant from start one of these people can begin, and who: the first in the list on a tie."""
    best, person = NEVER, -1
    # Work too long for any one day's hours begins at the first free minute and goes on in the next hours.
    need = min(length, 60) if split else length
    for number in range(who.size):
        at = earliest_free(free, head[who[number]], start, need, best)
        if at < best:
            best, person = at, who[number]
            if at <= start:
                break
    return best, person


@bare
def spread_end(free: Ints, head: int, start: int, length: int) -> int:
    """When so many seconds of free time from start on are filled, or NEVER."""
    here = head
    while here >= 0:
        begins, ends = max(free[here, 0], start), free[here, 1]
        here = free[here, 2]
        if ends <= begins:
            continue
        until = min(ends, begins + length)
        length -= until - begins
        if length <= 0:
            return int(until)
    return NEVER


@bare
def book(free: Ints, head: Ints, count: Ints, person: int, start: int, end: int) -> None:
    """Take one span out of one free stretch of a person."""
    before, here = -1, head[person]
    while free[here, 1] < end:
        before, here = here, free[here, 2]
    begins, ends = free[here, 0], free[here, 1]
    if start > begins and ends > end:
        new = count[NEXT_FREE]
        if new >= free.shape[0]:
            count[OVERFLOW] = 1
            return
        count[NEXT_FREE] = new + 1
        free[new, 0], free[new, 1], free[new, 2] = end, ends, free[here, 2]
        free[here, 1], free[here, 2] = start, new
    elif start > begins:
        free[here, 1] = start
    elif ends > end:
        free[here, 0] = end
    elif before < 0:
        head[person] = free[here, 2]
    else:
        free[before, 2] = free[here, 2]


@bare
def book_spread(free: Ints, head: Ints, count: Ints, person: int, start: int, length: int) -> None:
    """Take all free time of a person from start until so many seconds are filled."""
    here = head[person]
    while here >= 0 and length > 0:
        begins, ends, after = max(free[here, 0], start), free[here, 1], free[here, 2]
        if ends > begins:
            until = min(ends, begins + length)
            length -= until - begins
            book(free, head, count, person, begins, until)
        here = after
