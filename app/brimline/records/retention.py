"""Which backups are kept: the newest, and ever fewer the further back they go."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import datetime

PERIODS: tuple[tuple[str, Callable[[datetime], tuple[int, ...]], int], ...] = (
    ("day", lambda at: (at.year, at.month, at.day), 14),
    ("week", lambda at: tuple(at.isocalendar())[:2], 8),  # ISO 8601
    ("month", lambda at: (at.year, at.month), 24),
)
"""Name of a period, which one a time of day is in, and in how many of them a backup is kept."""


def surplus(times: Collection[datetime], *, keep: int) -> frozenset[datetime]:
    """Return the times of the backups that need not be kept.

    Kept are the newest ``keep``; of the newest 14 days, 8 weeks and 24 months *that have a backup*
    the last one of each. Nothing is counted from today: a computer whose clock is years off, or
    that stood still for a year, must not lose what it has. The order in which this is asked makes
    no difference, because what is kept in the end was kept all along.

    :param times: when the backups were made, UTC.
    :param keep: 1 or more.
    :raises ValueError: ``keep`` is less than 1.
    """
    if keep < 1:
        raise ValueError(f"keep is {keep}; the newest backup is always kept")
    newest_first = sorted(set(times), reverse=True)
    kept = set(newest_first[:keep])
    for _name, period, count in PERIODS:
        last_of_each: dict[tuple[int, ...], datetime] = {}
        for at in newest_first:
            last_of_each.setdefault(period(at), at)
        kept.update(list(last_of_each.values())[:count])
    return frozenset(newest_first) - kept
