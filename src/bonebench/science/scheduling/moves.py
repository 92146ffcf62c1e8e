"""Going in and out of rooms while a plan is made, and waking those who wait when room is given up."""

from bonebench.science.kernel import bare, bare_inside
from bonebench.science.scheduling.room import bring_up, change, push
from bonebench.science.scheduling.tables import AT, HOME, NOW, ROOM_KIND, State, Tables


@bare_inside
def wake(s: State, horizon: int, at: int, number: int) -> None:
    """Come back at an instant, to a piece or (-1) to all who wait."""
    if at <= horizon:
        push(s.heap, s.counter, at * (s.order.size + 2) + number + 1)


@bare
def advance(t: Tables, s: State, now: int, hands: bool) -> None:
    """Bring the rooms, and the people's time, up to now."""
    for room in range(s.claim_head.size):
        head = s.claim_head[room]
        if head >= 0 and s.claim[head, 0] <= now and bring_up(s.claim, s.claim_load, s.claim_head, s.counter, s.used, room, now):
            s.version[t.room[room, ROOM_KIND]] += 1
    if hands:
        for person in range(s.free_head.size):
            here = s.free_head[person]
            while here >= 0 and s.free[here, 1] <= now:
                here = s.free[here, 2]
            s.free_head[person] = here


@bare_inside
def enter(t: Tables, s: State, room: int, number: int, at: int) -> None:
    """Let a piece take up its room from an instant on."""
    change(s.claim, s.claim_load, s.claim_head, s.counter, room, at, t.load[s.order[number]], 1.0)


@bare_inside
def vacate(t: Tables, s: State, room: int, number: int, at: int) -> None:
    """Let a piece give up its room at an instant."""
    change(s.claim, s.claim_load, s.claim_head, s.counter, room, at, t.load[s.order[number]], -1.0)
    s.version[t.room[room, ROOM_KIND]] += 1


@bare_inside
def leave(t: Tables, s: State, room: int, number: int, at: int) -> None:
    """Let a piece give up its room, and come back then to those who wait for it."""
    vacate(t, s, room, number, at)
    if at > s.counter[NOW]:
        wake(s, t.horizon, at, -1)


@bare_inside
def leave_all(t: Tables, s: State, number: int, at: int) -> None:
    """Let a piece leave wherever it is."""
    for where in (AT, HOME):
        room = s.course[number, where]
        if room >= 0:
            leave(t, s, room, number, at)
        s.course[number, where] = -1
