"""What a card needs beside its own subject."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from bonebench.services.known import Known
from bonebench.services.plans.stored import Promises, StoredPlan


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a specimen's card needs beside the specimen."""

    known: Known
    plan: StoredPlan | None
    people: Mapping[str, str]
    now: datetime
    notes: Mapping[str, str] = field(default_factory=dict)
    promises: Promises | None = None
