"""Finding the earliest time for a leg, and for a chain of legs tied to one another by a longest wait, in arrays.

The rules are those of `bonebench.planning.fitting`, which says them with their reasons; a test holds both equal.
"""

# ruff: noqa: PLR0917, PLR0911, PLR0912, PLR0915  (plain arguments by place; the search for one leg is one loop)

from bonebench.science.kernel import bare, bare_inside
from bonebench.science.scheduling.box import offer
from bonebench.science.scheduling.room import earliest_hands, earliest_room, spread_end
from bonebench.science.scheduling.tables import (
    AT,
    EATS,
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
    FIT_COLUMNS,
    FULL,
    HANDS,
    HOME,
    HORIZON_CODE,
    KEEPS,
    KIND,
    L_APPETITE,
    L_HANDS,
    L_PLACE,
    L_WAIT,
    LEAST,
    LENGTH,
    MOST,
    NEVER,
    NEXT,
    NO_CODE,
    NO_TIME,
    NOT_EATEN,
    NOTHING,
    NOWHERE,
    OPEN,
    ROOM_KIND,
    SPLIT,
    STAY,
    TIED,
    TISSUE,
    UNTRAINED,
    WORK,
    State,
    Tables,
)

# As in bonebench.planning.fitting.
MOST_TURNS = 400


@bare_inside
def refuse(s: State, limit: int, name: int, code: int, final: bool) -> bool:
    """Note a refusal and say that nothing was found."""
    s.found[F_LIMIT], s.found[F_NAME], s.found[F_CODE] = limit, name, code
    s.found[F_UNTIL], s.found[F_FINAL], s.found[F_AHEAD] = NEVER, int(final), 0
    return False


@bare_inside
def _spots(t: Tables, s: State, number: int, leg: int, at: int, home: int) -> tuple[int, int]:
    """Where the piece stays, or how many rooms of the kind it could go to (-1: it stays); they are written into ``spots``."""
    kind = t.leg[leg, KIND]
    if kind < 0:
        return at, -1
    for own in (at, home):
        if own >= 0 and t.room[own, ROOM_KIND] == kind and t.room[own, OPEN]:
            return own, -1
    load, found = t.load[s.order[number]], 0
    for place in range(t.kind_first[kind], t.kind_first[kind + 1]):
        room = t.kind_room[place]
        limit = t.limit[room]
        if t.room[room, OPEN] and load[0] <= limit[0] and load[1] <= limit[1] and load[2] <= limit[2]:
            s.spots[found] = room
            s.put_off[room] = 0
            found += 1
    return -1, found


@bare_inside
def _soonest_room(t: Tables, s: State, number: int, start: int, length: int, spots: int) -> tuple[int, int]:
    """The first instant from start on that some room has space, and which room."""
    soonest, place = NEVER, -1
    load = t.load[s.order[number]]
    for spot in range(spots):
        room = s.spots[spot]
        here = room == s.course[number, AT] or room == s.course[number, HOME]  # a set would be an object
        at = earliest_room(s.claim, s.claim_load, s.claim_head[room], s.used[room], t.limit[room], load, start, length, here)
        at = max(at, s.put_off[room])
        if at < soonest:
            soonest, place = at, room
    return soonest, place


@bare_inside
def _without(s: State, room: int, spots: int) -> int:
    """Take a room out of those it could go to."""
    kept = 0
    for spot in range(spots):
        if s.spots[spot] != room:
            s.spots[kept] = s.spots[spot]
            kept += 1
    return kept


@bare_inside
def fit_leg(t: Tables, s: State, number: int, leg: int, start: int, at: int, home: int, fed: bool) -> bool:
    """Find the earliest time from start for one leg; the time or the refusal is in ``found``."""
    place, spots = _spots(t, s, number, leg, at, home)
    kind, hands, work = t.leg[leg, KIND], t.leg[leg, HANDS], t.leg[leg, WORK]
    if spots == 0:
        return refuse(s, L_PLACE, kind, NOWHERE, True)
    who = t.work_who[t.work_first[work] : t.work_first[work + 1]]
    if hands and who.size == 0:
        return refuse(s, L_HANDS, work, UNTRAINED, True)
    moves = spots > 0
    hungry = bool(t.leg[leg, EATS]) and not fed and t.food[s.order[number], TISSUE] > 0
    split, stay = bool(t.leg[leg, SPLIT]), bool(t.leg[leg, STAY])
    limit, name, code, person, hands_end = NOTHING, -1, NO_CODE, -1, start
    while start <= t.horizon:
        if moves:
            at_soonest, place = _soonest_room(t, s, number, start, NEVER if stay or split else hands, spots)
            if place < 0:
                return refuse(s, L_PLACE, kind, FULL, False)
            if at_soonest > start:
                held_back = s.put_off[place] == at_soonest
                start = at_soonest
                limit, name, code = (L_APPETITE, place, NOT_EATEN) if held_back else (L_PLACE, kind, FULL)
        if hands:
            free_at, person = earliest_hands(who, s.free, s.free_head, start, hands, split)
            hands_end = NEVER
            if person >= 0:
                hands_end = spread_end(s.free, s.free_head[person], free_at, hands) if split else free_at + hands
            if hands_end == NEVER:
                return refuse(s, L_HANDS, work, NO_TIME, limit in (NOTHING, L_HANDS))
            if free_at > start:
                start, limit, name, code = free_at, L_HANDS, work, NO_TIME
                if moves:
                    continue
        else:
            hands_end = start
        end = max(start + t.leg[leg, LENGTH], hands_end)
        if hungry:
            eaten_at, until = offer(t, s, place, number, start) if place >= 0 else (NEVER, 0)
            if eaten_at >= NEVER:
                spots = _without(s, place, spots) if moves else 0
                if spots == 0:
                    return refuse(s, L_APPETITE, -2 - kind if kind >= 0 else -1, NOT_EATEN, limit in (NOTHING, L_HANDS))
                continue
            if until > start:
                s.put_off[place] = until
                if not moves:
                    start, limit, name, code = until, L_APPETITE, place, NOT_EATEN
                continue
            end = max(eaten_at, hands_end)
        elif t.leg[leg, EATS]:
            end = hands_end
        if end > t.horizon:
            break
        _found(t, s, leg, start, end, place, moves, person, hands_end, hungry, at, home)
        s.found[F_LIMIT], s.found[F_NAME], s.found[F_CODE], s.found[F_AHEAD] = limit, name, code, 0
        return True
    final = limit in (NOTHING, L_HANDS)
    if limit == NOTHING:
        return refuse(s, L_WAIT, -1, HORIZON_CODE, final)
    return refuse(s, limit, name, code, final)


@bare_inside
def _found(
    t: Tables, s: State, leg: int, start: int, end: int, place: int, moves: bool, person: int, hands_end: int, has_offer: bool,
    at: int, home: int,
) -> None:  # fmt: skip
    """Write what was found, with where the piece sits and which room is kept for it once the leg has begun."""
    bench = moves and not t.leg[leg, STAY]
    keeps = bool(t.leg[leg, KEEPS])
    then, kept = at, home
    if t.leg[leg, KIND] >= 0:
        if place == at and not bench:
            kept = home if keeps else -1
        else:
            kept = (home if home >= 0 else at) if keeps else -1
            then = -1 if bench else place
            if not bench and kept == place:
                kept = -1
    s.found[F_START], s.found[F_END], s.found[F_PLACE], s.found[F_BENCH] = start, end, place, int(bench)
    s.found[F_PERSON], s.found[F_HANDS_END], s.found[F_OFFER] = person, hands_end, int(has_offer)
    s.found[F_AT], s.found[F_HOME] = then, kept


@bare
def fit_chain(t: Tables, s: State, number: int, start: int, exact: bool) -> int:
    """Find times for the next leg and every leg tied behind it; how many, 0 when refused. With ``exact`` it begins then or not."""
    first = t.first[s.order[number]] + s.course[number, NEXT]
    legs = t.first[s.order[number] + 1] - first
    size, waits_for_room = 0, False
    s.earliest[0] = start
    _not_pushed(s, 0)
    for _ in range(MOST_TURNS):
        at, home = s.course[number, AT], s.course[number, HOME]
        fed = bool(s.course[number, FED])
        for before in range(size):
            at, home = s.fits[before, F_AT], s.fits[before, F_HOME]
            fed = fed or bool(t.leg[first + before, EATS])
        now_at = size
        pushed = s.pushed[now_at]
        if not fit_leg(t, s, number, first + now_at, s.earliest[now_at], at, home, fed):
            if s.found[F_CODE] == HORIZON_CODE and pushed[0] != NOTHING:
                _pushed_on(s, now_at)
            s.found[F_AHEAD] += now_at
            s.found[F_FINAL] = int(bool(s.found[F_FINAL]) and not waits_for_room)
            return 0
        if s.found[F_LIMIT] == NOTHING:
            _pushed_on(s, now_at)
        waits_for_room = waits_for_room or (s.found[F_LIMIT] != NOTHING and s.found[F_LIMIT] != L_HANDS)
        if (
            size
            and t.leg[first + size - 1, MOST] >= 0
            and s.found[F_START] > s.fits[size - 1, F_END] + t.leg[first + size - 1, MOST]
        ):
            size -= 1
            late = s.found[F_START] - s.fits[size, F_END] - t.leg[first + size, MOST]
            s.earliest[size] = s.fits[size, F_START] + late
            s.pushed[size, 0] = s.found[F_LIMIT] if s.found[F_LIMIT] != NOTHING else L_WAIT
            s.pushed[size, 1], s.pushed[size, 2], s.pushed[size, 3] = s.found[F_NAME], s.found[F_CODE], s.found[F_AHEAD] + 1
        else:
            for column in range(FIT_COLUMNS):
                s.fits[size, column] = s.found[column]
            size += 1
        if exact and size and s.fits[0, F_START] > start:
            return _not_now(s, s.fits[0, F_LIMIT], s.fits[0, F_NAME], s.fits[0, F_CODE], s.fits[0, F_AHEAD], s.fits[0, F_START])
        if exact and s.earliest[0] > start:
            return _not_now(s, s.pushed[0, 0], s.pushed[0, 1], s.pushed[0, 2], s.pushed[0, 3], s.earliest[0])
        if size <= now_at:
            continue
        if t.leg[first + now_at, MOST] < 0 or now_at + 1 >= legs:
            return size
        s.earliest[size] = s.fits[now_at, F_END] + t.leg[first + now_at, LEAST]
        _not_pushed(s, size)
    refuse(s, L_WAIT, -1, TIED, False)
    return 0


@bare_inside
def _not_pushed(s: State, at: int) -> None:
    s.pushed[at, 0], s.pushed[at, 1], s.pushed[at, 2], s.pushed[at, 3] = NOTHING, -1, NO_CODE, 0


@bare_inside
def _pushed_on(s: State, at: int) -> None:
    """Name what last pushed a leg on as what limits it."""
    pushed = s.pushed[at]
    s.found[F_LIMIT], s.found[F_NAME], s.found[F_CODE], s.found[F_AHEAD] = pushed[0], pushed[1], pushed[2], pushed[3]


@bare_inside
def _not_now(s: State, limit: int, name: int, code: int, ahead: int, until: int) -> int:
    refuse(s, limit if limit != NOTHING else L_WAIT, name, code, False)
    s.found[F_AHEAD], s.found[F_UNTIL] = ahead, until
    return 0
