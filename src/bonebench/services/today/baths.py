"""What the baths ask of the day: a test that is due, a change of water. A room that writes no bath down is asked nothing."""

from collections.abc import Iterable
from datetime import date

from bonebench.said import Said, said
from bonebench.services.baths.show import Scene, answers, cautions_for_bath, change_due, glance_answers, strength_card
from bonebench.services.baths.teeth import found_answers, why_sieved
from bonebench.services.cards import Answer
from bonebench.services.today.cards import TaskCard
from bonebench.services.today.tasks import Sorted, dirt_of
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import Recipe, bath_subject
from bonebench.shop.gloves import hands_for
from bonebench.shop.identity import task_id

TEST_MINUTES = 5.0
CHANGE_MINUTES = 8.0  # 5-10 minutes a change: common practice, no source


def bath_tasks(baths: Iterable[Bath], scene: Scene) -> list[Sorted]:
    """Return what is due at the baths that stand in the room."""
    return [task for bath in baths if bath.live for task in (_test(bath, scene), _change(bath, scene)) if task is not None]


def _test(bath: Bath, scene: Scene) -> Sorted | None:
    card = strength_card(scene.reckoned[bath.id], scene) if bath.recipe is Recipe.PEROXIDE else None
    today = scene.day(scene.now)
    if card is None or bath.strength_w is None or card.look_by > today:
        return None
    due = scene.day(max(event.at for event in bath.events if event.kind in ("made", "added", "tested")))
    task = task_id(bath_subject(bath.id), "test", due.toordinal())
    taps = glance_answers(bath, task)
    action = said("task.bath.test", "Test {name}; at a glance is enough, a titration is better", name=bath.name)
    return _task(bath, scene, id=task, action=action, why=card.rests_on, taps=taps, due_by=card.look_by, minutes=TEST_MINUTES)


def _change(bath: Bath, scene: Scene) -> Sorted | None:
    due = change_due(bath, scene) if scene.in_it(bath) else None
    if due is None or due > scene.day(scene.now):
        return None
    task = task_id(bath_subject(bath.id), "change", len(bath.changes) + 1)
    found = (*answers(bath), *found_answers(bath, scene.subjects_in(bath)))
    taps = tuple(a for a in found if a.kind == "water-changed") + tuple(a for a in found if a.key == "look-clear")
    action = said("task.bath.change", "Change the water of {name} through a sieve; count the teeth", name=bath.name)
    since = bath.fresh_since
    why = said("task.bath.change.why", "this water is from {day:day}; cloudy water gives the fat back (common practice, no source)",
               day=scene.day(since if since is not None else scene.now))  # fmt: skip
    why = why_sieved(why, scene.subjects_in(bath))
    return _task(bath, scene, id=task, action=action, why=why, taps=taps, due_by=due, minutes=CHANGE_MINUTES)


def _task(
    bath: Bath, scene: Scene, *, id: str, action: Said, why: Said, taps: tuple[Answer, ...], due_by: date, minutes: float
) -> Sorted:
    place = scene.around.known.room.place(bath.place)
    kind = place.kind if place is not None else None
    task = TaskCard(
        id=id,
        place=bath.place,
        place_name=place.name if place is not None else bath.name,
        specimen=None,
        specimen_id=None,
        species=None,
        about=said("task.bath.about", "{name}", name=bath.name),
        action=action,
        why=why,
        due_from=None,
        due_by=due_by,
        late_days=max(0, (scene.day(scene.now) - due_by).days),
        minutes=minutes,
        who=None,
        answers=tuple(Answer(a.key, a.label, a.kind, a.subjects, a.values, task=id) for a in taps),
        cautions=cautions_for_bath(bath, scene),
    )
    return Sorted(dirt_of(kind), scene.now, task, hands_for(kind))
