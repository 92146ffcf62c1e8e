"""Which looks into a box still tell of today. Light: it loads no model."""

from datetime import datetime, timedelta

from bonebench.shop.colony import ColonyLog, SeenAt, counts_none

RECORD_DAYS = 42  # older looks tell little of today: a generation lies between


def in_use(log: ColonyLog, now: datetime) -> tuple[SeenAt, ...]:
    """Return the looks that still tell of today: of the last weeks, and none from before a count that found nothing alive."""
    looks = [one for one in log.seen if now - timedelta(days=RECORD_DAYS) <= one.at <= now]
    last_none = max((n for n, one in enumerate(looks) if counts_none(one.what)), default=0)
    return tuple(looks[last_none:])
