"""Tasks of one tray as one task: one tap for all that are ticked."""

from collections.abc import Iterable
from dataclasses import replace

from bonebench.said import Said, said
from bonebench.services.specimens.show import louder_first
from bonebench.services.today.cards import Member, TaskCard
from bonebench.services.today.tasks import Sorted
from bonebench.shop.identity import task_id

# What each further piece of a tray adds to the minutes of the first: the walk and the gloves are shared. Estimate.
FURTHER_SHARE = 0.25


def merge_trays(items: Iterable[Sorted]) -> list[Sorted]:
    """Join the tasks that are the same step of the same lot in the same place; everything else stays as it is."""
    alone: list[Sorted] = []
    trays: dict[tuple[str, ...], list[Sorted]] = {}
    for item in items:
        if item.tray is None:
            alone.append(item)
        else:
            trays.setdefault(item.tray, []).append(item)
    return alone + [members[0] if len(members) == 1 else _joined(key, members) for key, members in trays.items()]


def _joined(key: tuple[str, ...], items: list[Sorted]) -> Sorted:
    tasks = [item.task for item in items]
    first = tasks[0]
    minutes = sorted((task.minutes for task in tasks), reverse=True)
    days = [task.due_by for task in tasks if task.due_by is not None]
    group = task_id(f"lot:{key[0]}", key[1], int(key[2]))
    cautions = {caution.key: caution for task in tasks for caution in task.cautions}
    joined = replace(
        first,
        id=group,
        specimen=None,
        specimen_id=None,
        about=said("about.tray", "{count} together: {tags}", count=len(tasks), tags=", ".join(t.specimen or "" for t in tasks)),
        action=_of_all(first, len(tasks)),
        due_by=min(days, default=None),
        late_days=max(task.late_days for task in tasks),
        minutes=round(minutes[0] + FURTHER_SHARE * sum(minutes[1:]), 1),
        answers=tuple(replace(a, task=group, subjects=_subjects(tasks, a.key)) for a in first.answers),
        cautions=louder_first(cautions.values()),
        members=tuple(_member(task) for task in tasks),
    )
    return replace(items[0], task=joined, starts=min(item.starts for item in items))


def _of_all(first: TaskCard, count: int) -> Said:
    values = {**first.action.values, "tag": f"all {count}"}
    return said(first.action.key, first.action.template, **values)


def _subjects(tasks: list[TaskCard], key: str) -> tuple[str, ...]:
    return tuple(subject for task in tasks for answer in task.answers if answer.key == key for subject in answer.subjects)


def _member(task: TaskCard) -> Member:
    if task.specimen is None or task.specimen_id is None or task.species is None:
        raise ValueError("only specimens lie in a tray")
    return Member(task.specimen_id, task.specimen, task.species, task.answers[0].subjects if task.answers else ())
