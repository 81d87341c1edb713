from __future__ import annotations

from datetime import timedelta

import pytest
from record_examples import NOON, SHEET, opened, outcome
from sqlalchemy import text

from brimline.errors import StoreError
from brimline.procedure.events import Origin
from brimline.records import warm_ups
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository

K7 = SHEET.transmission.family
POINTS = ((0.0, 21.5), (10.25, 22.0), (20.5, 23.125))


def check(
    database: Database, name: str, origin: Origin = Origin.LIVE, hours: float = 0, points=POINTS
) -> None:
    moment = NOON + timedelta(hours=hours)
    Journal(database).begin(opened(name, opened_at=moment, origin=origin), moment)
    Repository(database).finish(name, outcome(), moment)
    warm_ups.keep(database, name, points)


def test_comes_back_as_it_was_kept_newest_first(database: Database) -> None:
    check(database, "older")
    check(database, "newer", hours=1, points=((0.0, 30.0), (60.0, 33.5)))
    assert warm_ups.earlier(database, K7) == (((0.0, 30.0), (60.0, 33.5)), POINTS)


def test_replays_and_training_are_left_out_and_so_are_other_families(database: Database) -> None:
    check(database, "keyed", Origin.KEYED)
    check(database, "replay", Origin.REPLAY)
    check(database, "training", Origin.TRAINING)
    assert warm_ups.earlier(database, K7) == (POINTS,)
    assert warm_ups.earlier(database, "K5") == ()


def test_a_check_that_is_not_finished_teaches_nothing(database: Database) -> None:
    Journal(database).begin(opened("open", opened_at=NOON, origin=Origin.LIVE), NOON)
    warm_ups.keep(database, "open", POINTS)
    assert warm_ups.earlier(database, K7) == ()


def test_only_the_latest_are_asked_for(database: Database) -> None:
    for hour in range(warm_ups.ENOUGH + 3):
        check(database, f"check-{hour}", hours=hour, points=((0.0, float(hour)), (9.0, 50.0)))
    starts = [points[0][1] for points in warm_ups.earlier(database, K7)]
    assert starts == [float(hour) for hour in range(warm_ups.ENOUGH + 2, 2, -1)]


def test_kept_again_it_replaces_the_first(database: Database) -> None:
    check(database, "once")
    warm_ups.keep(database, "once", POINTS[:2])
    assert warm_ups.earlier(database, K7) == (POINTS[:2],)


def test_a_damaged_one_is_told(database: Database) -> None:
    check(database, "damaged")
    with database.writing() as session:
        session.execute(text("UPDATE warm_ups SET points = '[[1]]'"))
    with pytest.raises(StoreError, match="damaged"):
        warm_ups.earlier(database, K7)
