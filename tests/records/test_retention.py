from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.records.retention import PERIODS, surplus

FIRST = datetime(2029, 1, 1, tzinfo=UTC)
TIMES = st.lists(
    st.integers(0, 3 * 366 * 24 * 60).map(lambda minutes: FIRST + timedelta(minutes=minutes)),
    max_size=120,
)
DENSE = st.lists(
    st.integers(0, 40 * 24 * 2).map(lambda half_hours: FIRST + timedelta(minutes=30 * half_hours)),
    max_size=200,
)
KEEP = st.integers(1, 12)


def stands_for(at: datetime, times: set[datetime], keep: int) -> list[str]:
    """Why a backup is kept, each reason counted out one by one."""
    newer = {other for other in times if other > at}
    reasons = [] if len(newer) >= keep else ["newest"]
    for name, period, count in PERIODS:
        is_last = all(period(other) != period(at) for other in newer)
        if is_last and len({period(other) for other in newer}) < count:
            reasons.append(name)
    return reasons


@given(times=TIMES | DENSE, keep=KEEP)
def test_each_is_kept_for_a_reason_and_removed_for_want_of_one(
    times: list[datetime], keep: int
) -> None:
    removed = surplus(times, keep=keep)
    for at in set(times):
        assert (at in removed) == (stands_for(at, set(times), keep) == [])


@given(times=TIMES | DENSE, keep=KEEP)
def test_the_newest_always_stay_and_no_more_than_so_many(times: list[datetime], keep: int) -> None:
    kept = set(times) - surplus(times, keep=keep)
    newest = sorted(set(times))[-keep:]
    assert set(newest) <= kept
    assert len(kept) <= keep + 14 + 8 + 24


@given(times=DENSE, keep=KEEP)
def test_removing_after_each_backup_or_once_at_the_end_is_the_same(
    times: list[datetime], keep: int
) -> None:
    there: set[datetime] = set()
    for at in sorted(times):
        there.add(at)
        there -= surplus(there, keep=keep)
    assert there == set(times) - surplus(times, keep=keep)


@given(times=DENSE, keep=KEEP, years=st.integers(-50, 50).filter(bool))
def test_one_wrong_clock_costs_one_place_of_each_kind(
    times: list[datetime], keep: int, years: int
) -> None:
    """A backup of the wrong century must not make all the others look old."""
    astray = FIRST.replace(year=FIRST.year + years)
    kept = set(times) - surplus(times, keep=keep)
    left = set(times) - surplus([*times, astray], keep=keep)
    assert len(kept - left) <= 4


def test_two_years_of_a_busy_bay() -> None:
    """Eight a working day: what is left can be counted on a calendar."""
    days = [FIRST + timedelta(days=day) for day in range(2 * 365)]
    working = [day for day in days if day.weekday() < 5]
    times = [day + timedelta(hours=8 + hour) for day in working for hour in range(8)]
    kept = sorted(set(times) - surplus(times, keep=10), reverse=True)
    assert kept[:10] == sorted(times, reverse=True)[:10]
    assert [at.hour for at in kept[10:]] == [15] * len(kept[10:])  # the last one of its day
    # Counted on a calendar: 12 to 31 December; Fridays 6 December and 29, 22 and 15 November;
    # then October of the second year back to January of the first.
    assert len({at.date() for at in kept}) == 14 + 4 + 22
    assert kept[-1].date().isoformat() == "2029-01-31"


def test_the_newest_is_never_given_up() -> None:
    with pytest.raises(ValueError, match="always kept"):
        surplus([FIRST], keep=0)
    assert surplus([], keep=1) == frozenset()
    assert surplus([FIRST], keep=1) == frozenset()
