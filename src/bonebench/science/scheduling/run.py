"""One plan in arrays: from event to event, each piece in its order starts its next leg if that can start at that very instant.

The rules are those of `bonebench.planning.dispatch`, which says them with their reasons and in words; a test holds both equal.
"""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from bonebench.science.kernel import bare, bare_inside
from bonebench.science.scheduling.box import accept, days_for, offer
from bonebench.science.scheduling.fit import fit_chain
from bonebench.science.scheduling.moves import advance, enter, leave, leave_all, vacate, wake
from bonebench.science.scheduling.room import book, book_spread, earliest_hands, pop
from bonebench.science.scheduling.tables import (
    AT,
    B_AHEAD,
    B_CODE,
    B_LIMIT,
    B_NAME,
    DAY,
    DEAD,
    E_END,
    E_OWNED,
    EATS,
    END,
    F_AHEAD,
    F_AT,
    F_BENCH,
    F_CODE,
    F_END,
    F_FINAL,
    F_HANDS_END,
    F_HOME,
    F_LIMIT,
    F_NAME,
    F_OFFER,
    F_PERSON,
    F_PLACE,
    F_START,
    F_UNTIL,
    FED,
    HANDS,
    HANDS_END,
    HEAP_SIZE,
    HELD,
    HOME,
    HORIZON_CODE,
    KEEPS,
    KEY,
    KIND,
    L_APPETITE,
    L_HANDS,
    L_PLACE,
    L_READY,
    L_WAIT,
    LEAST,
    LEG_NOW,
    LENGTH,
    LIMIT,
    MOST,
    NAME,
    NEVER,
    NEXT,
    NO_TIME,
    NOT_BEFORE,
    NOT_EATEN,
    NOTHING,
    NOW,
    OVERFLOW,
    PERSON,
    PLACE,
    RATE,
    RB_LIMIT,
    RB_NAME,
    READIED,
    READY_AT,
    RUNS,
    SEEN,
    SINCE,
    SITS,
    SPLIT,
    START,
    STAY,
    TISSUE,
    WAITING,
    WAITS,
    WATCH,
    WORK,
    Ints,
    State,
    Tables,
)

# As in bonebench.planning.dispatch.
NOTICED_SECONDS = 60


@bare
def run(t: Tables, s: State) -> int:
    """Make the plan; 0, or 1 when the work space was too small."""
    _take_over(t, s)
    width = s.order.size + 2
    while s.counter[HEAP_SIZE] > 0 and s.counter[OVERFLOW] == 0:
        now = s.heap[0] // width
        s.counter[NOW] = now
        while s.counter[HEAP_SIZE] > 0 and s.heap[0] // width == now:
            number = pop(s.heap, s.counter) % width - 1
            if number >= 0:
                _ready(t, s, number, now)
        advance(t, s, now, True)
        while _sweep(t, s, now):
            pass
    _leave_waiting(t, s)
    return int(s.counter[OVERFLOW])


@bare_inside
def _leave_waiting(t: Tables, s: State) -> None:
    """Say of those who still wait for hands that it is hands they wait for."""
    for place in range(s.counter[WAITING]):
        work = t.leg[s.course[s.waiting[place], LEG_NOW], WORK]
        if s.hands_at[work] > t.horizon:
            _block(s, s.waiting[place], L_HANDS, work, NO_TIME, 0)


# What is there already


@bare_inside
def _take_over(t: Tables, s: State) -> None:
    """Put what is running and what sits somewhere into the room, whether it fits or not."""
    pieces, running = s.order.size, 0
    for number in range(pieces):
        piece = s.order[number]
        legs = t.first[piece + 1] - t.first[piece]
        if t.piece[piece, RUNS] >= 0 and legs > 0:
            # In order of since when; of those begun at once the first in the order goes first.
            running = _sorted_in(s.asked, s.passed, running, number, min(0, t.piece[piece, SINCE]))
        s.course[number, DEAD] = t.piece[piece, HELD]
        sits = t.piece[piece, SITS] if t.piece[piece, RUNS] < 0 else t.piece[piece, RUNS] if legs == 0 else -1
        if 0 <= sits < s.claim_head.size and (legs > 0 or t.piece[piece, HELD]):
            s.course[number, AT] = sits
            enter(t, s, sits, number, 0)
    for place in range(running):
        _go_on(t, s, s.asked[place])
    advance(t, s, 0, True)
    _settle_ties(t, s)
    for number in range(pieces):
        piece = s.order[number]
        ended = s.course[number, NEXT] >= t.first[piece + 1] - t.first[piece]
        if not s.course[number, DEAD] and not (ended and s.course[number, NEXT] == 0):
            wake(s, t.horizon, s.course[number, READY_AT], number)


@bare
def _sorted_in(numbers: Ints, keys: Ints, size: int, number: int, key: int) -> int:
    """Put a number into a list sorted by key, behind its equals."""
    at = size
    while at > 0 and keys[at - 1] > key:
        numbers[at], keys[at] = numbers[at - 1], keys[at - 1]
        at -= 1
    numbers[at], keys[at] = number, key
    return size + 1


@bare_inside
def _settle_ties(t: Tables, s: State) -> None:
    """Settle what must follow a running leg soon; where that cannot be done yet, it goes before everything else."""
    tied = 0
    for number in range(s.order.size):
        piece = s.order[number]
        begun = t.piece[piece, RUNS] >= 0 and s.course[number, NEXT] == 1 and t.first[piece + 1] - t.first[piece] > 1
        if begun and not s.course[number, DEAD] and t.leg[t.first[piece], MOST] >= 0:
            tied = _sorted_in(s.asked, s.passed, tied, number, s.course[number, READY_AT])
    for place in range(tied):
        number = s.asked[place]
        size = fit_chain(t, s, number, s.course[number, READY_AT], False)
        if size == 0:
            _keep_block(s, number)
            s.course[number, KEY] = number - s.order.size
        else:
            _commit(t, s, number, size)
            advance(t, s, 0, False)


@bare_inside
def _keep_block(s: State, number: int) -> None:
    _block(s, number, s.found[F_LIMIT], s.found[F_NAME], s.found[F_CODE], s.found[F_AHEAD])


@bare_inside
def _block(s: State, number: int, limit: int, name: int, code: int, ahead: int) -> None:
    course = s.course[number]
    course[B_LIMIT], course[B_NAME], course[B_CODE], course[B_AHEAD] = limit, name, code, ahead


@bare_inside
def _go_on(t: Tables, s: State, number: int) -> None:
    """Let the first leg run to its end; the piece is ready then, or now when that is past."""
    piece = s.order[number]
    leg, room, since = t.first[piece], t.piece[piece, RUNS], t.piece[piece, SINCE]
    end = since + max(t.leg[leg, LENGTH], t.leg[leg, HANDS])
    if t.leg[leg, EATS]:
        start = min(since, 0) - 1
        end, _ = offer(t, s, room, number, start)
        accept(t, s, room, number, start, False, False)
        s.course[number, FED] = 1
    _sit_running(t, s, number, leg, room, max(0, end))
    if s.course[number, DEAD]:
        return
    if end > t.horizon:
        s.course[number, DEAD] = 1
        if t.leg[leg, EATS]:
            _block(s, number, L_APPETITE, room, NOT_EATEN, 0)
        else:
            _block(s, number, L_WAIT, -1, HORIZON_CODE, 0)
        return
    _write(s, leg, since, end, room, -1, L_READY, -1, 0)
    slow = _slowed(t, s, number, leg, 0, end)
    _pass_on(t, s, number, leg, end, room if slow else -1)
    s.course[number, NEXT] = 1
    s.course[number, LEG_NOW] += 1
    if t.first[piece + 1] - t.first[piece] == 1 and not t.leg[leg, EATS]:
        leave_all(t, s, number, max(0, end))


@bare_inside
def _sit_running(t: Tables, s: State, number: int, leg: int, place: int, end: int) -> None:
    kept, rooms = t.piece[s.order[number], SITS], s.claim_head.size
    if place < rooms:
        enter(t, s, place, number, 0)
        if t.leg[leg, STAY] or kept == place or s.course[number, DEAD]:
            s.course[number, AT] = place
        else:
            vacate(t, s, place, number, end)
    if t.leg[leg, KEEPS] and 0 <= kept < rooms and kept != place:
        enter(t, s, kept, number, 0)
        s.course[number, HOME] = kept


@bare_inside
def _write(s: State, leg: int, start: int, end: int, place: int, person: int, limit: int, name: int, hands_end: int) -> None:
    row = s.time[leg]
    row[START], row[END], row[PLACE], row[PERSON] = start, end, place, person
    row[LIMIT], row[NAME], row[HANDS_END] = limit, name, hands_end


# From event to event


@bare_inside
def _ready(t: Tables, s: State, number: int, now: int) -> None:
    course = s.course[number]
    if course[READY_AT] > now or course[DEAD] or course[WAITS]:
        return
    piece = s.order[number]
    if course[NEXT] >= t.first[piece + 1] - t.first[piece]:
        leave_all(t, s, number, now)
        return
    course[NOT_BEFORE], course[WAITS] = now, 1
    at = s.counter[WAITING]
    while at > 0 and s.course[s.waiting[at - 1], KEY] > course[KEY]:
        s.waiting[at] = s.waiting[at - 1]
        at -= 1
    s.waiting[at] = number
    s.counter[WAITING] += 1


@bare_inside
def _stop_waiting(s: State, number: int) -> None:
    at = 0
    while s.waiting[at] != number:
        at += 1
    for place in range(at, s.counter[WAITING] - 1):
        s.waiting[place] = s.waiting[place + 1]
    s.counter[WAITING] -= 1
    s.course[number, WAITS] = 0


@bare_inside
def _still_blocked(course: Ints, version: Ints, now: int) -> bool:
    """Whether nothing has happened since it was last tried that could let it start."""
    return bool(course[NOT_BEFORE] > now and course[SEEN] == _versions(version, course[WATCH]))


@bare_inside
def _versions(version: Ints, watch: int) -> int:
    total, kind = 0, 0
    while watch:
        if watch & 1:
            total += version[kind]
        watch >>= 1
        kind += 1
    return total


@bare_inside
def _sweep(t: Tables, s: State, now: int) -> bool:
    """Start what can start, in order; True when one passed over may start after all, so that all must be asked again."""
    asked, passed = 0, 0
    for place in range(s.counter[WAITING]):
        number = s.waiting[place]
        if s.hands_at[t.leg[s.course[number, LEG_NOW], WORK]] <= now:
            s.asked[asked] = number
            asked += 1
    for place in range(asked):
        number = s.asked[place]
        leg = s.course[number, LEG_NOW]
        if s.hands_at[t.leg[leg, WORK]] > now:
            continue
        if _still_blocked(s.course[number], s.version, now):
            s.passed[passed] = number
            passed += 1
            continue
        if t.leg[leg, HANDS] and not _has_hands(t, s, leg, now):
            continue
        size = fit_chain(t, s, number, now, True)
        if size == 0:
            _refused(t, s, number, now)
            s.passed[passed] = number
            passed += 1
            continue
        _stop_waiting(s, number)
        _commit(t, s, number, size)
        advance(t, s, now, False)
        for other in range(passed):
            if not (s.course[s.passed[other], DEAD] or _still_blocked(s.course[s.passed[other]], s.version, now)):
                return True
    return False


@bare_inside
def _has_hands(t: Tables, s: State, leg: int, now: int) -> bool:
    """Whether anyone could begin the work now; if not, all who need it are passed over until someone can."""
    work = t.leg[leg, WORK]
    who = t.work_who[t.work_first[work] : t.work_first[work + 1]]
    if who.size == 0:
        return True
    at, _ = earliest_hands(who, s.free, s.free_head, now, t.leg[leg, HANDS], bool(t.leg[leg, SPLIT]))
    if at <= now:
        return True
    s.hands_at[work] = at
    wake(s, t.horizon, at, -1)
    return False


@bare_inside
def _refused(t: Tables, s: State, number: int, now: int) -> None:
    limit, name, until, final = s.found[F_LIMIT], s.found[F_NAME], s.found[F_UNTIL], s.found[F_FINAL]
    if s.found[F_CODE] != HORIZON_CODE or s.course[number, READY_AT] >= now:
        _keep_block(s, number)
    elif s.course[number, B_LIMIT] == NOTHING:
        _block(s, number, L_HANDS, t.leg[s.course[number, LEG_NOW], WORK], NO_TIME, 0)
    unsure, watch = False, 0
    for leg in range(s.course[number, LEG_NOW], t.first[s.order[number] + 1]):
        row = t.leg[leg]
        anyone = t.work_first[row[WORK] + 1] > t.work_first[row[WORK]]
        unsure = unsure or bool(row[SPLIT] and anyone) or bool(row[EATS] and row[MOST] >= 0)
        if row[KIND] >= 0:
            watch |= 1 << row[KIND]
        if row[MOST] < 0:
            break
    if final and not unsure:
        s.course[number, DEAD] = 1
        _stop_waiting(s, number)
        return
    if until < NEVER:
        wake(s, t.horizon, until, -1)
    s.course[number, NOT_BEFORE] = now + 1 if unsure else until
    if until == NEVER and limit == L_PLACE and name >= 0:
        watch = 1 << name
    s.course[number, WATCH], s.course[number, SEEN] = watch, _versions(s.version, watch)


# What has been settled


@bare
def _commit(t: Tables, s: State, number: int, size: int) -> None:
    course, piece = s.course[number], s.order[number]
    for at in range(size):
        fit, leg = s.fits[at], t.first[piece] + course[NEXT]
        limit, name = _limit(t, s, number, leg, fit)
        hands, person, place = t.leg[leg, HANDS], fit[F_PERSON], fit[F_PLACE]
        where = place if t.leg[leg, KIND] >= 0 else -1
        _write(s, leg, fit[F_START], fit[F_END], where, person, limit, name, fit[F_HANDS_END] if person >= 0 else 0)
        s.time[leg, READIED] = course[READY_AT]
        if person >= 0 and t.leg[leg, SPLIT]:
            book_spread(s.free, s.free_head, s.counter, person, fit[F_START], hands)
        elif person >= 0:
            book(s.free, s.free_head, s.counter, person, fit[F_START], fit[F_START] + hands)
        _move(t, s, number, fit)
        slow = False
        if fit[F_OFFER] and place >= 0:
            movers = accept(t, s, place, number, fit[F_START], at < size - 1, True)
            for mover in range(movers):
                _put_off(t, s, s.told[mover, 0], place)
            slow = _slowed(t, s, number, leg, fit[F_START], fit[F_END])
        if t.leg[leg, EATS]:
            course[FED] = 1
        course[NEXT] += 1
        course[LEG_NOW] += 1
        _pass_on(t, s, number, leg, fit[F_END], place if slow else -1)
    course[B_LIMIT] = NOTHING
    last = t.first[piece] + course[NEXT] - 1
    if last + 1 == t.first[piece + 1] and not t.leg[last, EATS]:
        leave_all(t, s, number, s.fits[size - 1, F_END])
    wake(s, t.horizon, course[READY_AT], number)


@bare_inside
def _pass_on(t: Tables, s: State, number: int, leg: int, end: int, slow_box: int) -> None:
    course = s.course[number]
    course[READY_AT] = max(0, end + t.leg[leg, LEAST])
    if slow_box >= 0:
        course[RB_LIMIT], course[RB_NAME] = L_APPETITE, slow_box
    else:
        course[RB_LIMIT], course[RB_NAME] = L_WAIT if t.leg[leg, LEAST] else L_READY, -1


@bare_inside
def _slowed(t: Tables, s: State, number: int, leg: int, start: int, end: int) -> bool:
    food = t.food[s.order[number]]
    if not t.leg[leg, EATS] or food[RATE] <= 0:
        return False
    alone = start + max(t.leg[leg, HANDS], DAY * days_for(food, food[TISSUE], food[TISSUE]))
    return bool(end > alone + NOTICED_SECONDS)


@bare_inside
def _limit(t: Tables, s: State, number: int, leg: int, fit: Ints) -> tuple[int, int]:
    """What kept a leg from starting earlier."""
    course = s.course[number]
    if fit[F_START] <= course[READY_AT]:
        return course[RB_LIMIT], course[RB_NAME]
    if fit[F_LIMIT] != NOTHING:
        return fit[F_LIMIT], fit[F_NAME]
    # Nobody had the time until this very instant, whatever else was in the way before.
    if s.hands_at[t.leg[leg, WORK]] == fit[F_START]:
        return L_HANDS, t.leg[leg, WORK]
    if course[B_LIMIT] != NOTHING:
        return course[B_LIMIT], course[B_NAME]
    return course[RB_LIMIT], course[RB_NAME]


@bare_inside
def _move(t: Tables, s: State, number: int, fit: Ints) -> None:
    at, home = s.course[number, AT], s.course[number, HOME]
    then, kept = fit[F_AT], fit[F_HOME]
    for place in (at, home):
        if place >= 0 and place not in (then, kept):
            leave(t, s, place, number, fit[F_START])
    for place in (then, kept):
        if place >= 0 and place not in (at, home):
            enter(t, s, place, number, fit[F_START])
    if fit[F_BENCH] and fit[F_PLACE] >= 0 and fit[F_PERSON] >= 0:
        enter(t, s, fit[F_PLACE], number, fit[F_START])
        leave(t, s, fit[F_PLACE], number, fit[F_HANDS_END])
    s.course[number, AT], s.course[number, HOME] = then, kept


@bare_inside
def _put_off(t: Tables, s: State, number: int, box: int) -> None:
    """Carry on to a piece settled to enter a box later that another has gone in before it."""
    if not s.eater[number, E_OWNED]:
        return
    for leg in range(t.first[s.order[number]], t.first[s.order[number] + 1]):
        if t.leg[leg, EATS] and s.time[leg, END] > -NEVER:
            s.time[leg, END] = max(s.eater[number, E_END], s.time[leg, HANDS_END])
            _pass_on(t, s, number, leg, s.time[leg, END], box)
            if t.leg[leg, KIND] < 0:
                s.course[number, RB_NAME] = -1
            break
    wake(s, t.horizon, s.course[number, READY_AT], number)
