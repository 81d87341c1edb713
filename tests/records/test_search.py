from __future__ import annotations

from datetime import timedelta

import pytest
from record_examples import NOON, VIN, opened, outcome, wall
from sqlalchemy import text

from brimline.errors import StoreError
from brimline.procedure.events import Origin
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository
from brimline.records.search import history

OTHER = "ZZ9K5HARR0LANE124"
SAME_TAIL = "ZZ9K5HARR0LANE123"  # the same last eight characters as VIN


def check(
    database: Database,
    name: str,
    *,
    vin: str = VIN,
    hours: float = 0,
    origin: Origin = Origin.LIVE,
    finished: bool = True,
) -> None:
    moment = NOON + timedelta(hours=hours)
    Journal(database).begin(opened(name, opened_at=moment, origin=origin), moment)
    if finished:
        Repository(database).finish(name, outcome(vin=vin), moment)


def names(database: Database, asked: str, **how: object) -> list[str]:
    return [header.check_id for header in history(database, asked, **how)]  # type: ignore[arg-type] # origins


def test_newest_first_and_stable(database: Database) -> None:
    check(database, "noon", hours=0)
    check(database, "last year", hours=-9000)
    check(database, "noon again", hours=0)
    check(database, "evening", hours=8)
    check(database, "other", vin=OTHER)
    assert names(database, VIN) == ["evening", "noon again", "noon", "last year"]


@pytest.mark.parametrize(
    "asked",
    [VIN, VIN.lower(), VIN[-8:], VIN[-8:].lower(), " ZZ9K7HARR-0LANE123\n", "0lane 123"],
)
def test_a_vehicle_is_found_by_whole_vin_or_last_eight(database: Database, asked: str) -> None:
    check(database, "here")
    check(database, "other", vin=OTHER)
    assert names(database, asked) == ["here"]


def test_two_vehicles_may_share_the_last_eight(database: Database) -> None:
    check(database, "one")
    check(database, "two", vin=SAME_TAIL)
    assert names(database, VIN[-8:]) == ["two", "one"]
    assert names(database, SAME_TAIL) == ["two"]


def test_training_and_replay_stay_out_unless_asked_for(database: Database) -> None:
    for origin in Origin:
        check(database, origin.value, origin=origin)
    assert names(database, VIN) == ["keyed", "live"]
    assert names(database, VIN, origins=(Origin.TRAINING,)) == ["training"]
    assert names(database, VIN, origins=tuple(Origin)) == ["training", "replay", "keyed", "live"]
    assert names(database, VIN, origins=()) == []


def test_open_and_unidentified_checks_are_no_history(database: Database) -> None:
    check(database, "open", finished=False)
    with database.writing() as session:
        session.execute(text("UPDATE checks SET vin = :vin"), {"vin": VIN})
    check(database, "unidentified", vin="")
    assert names(database, VIN) == []


def test_an_unknown_vehicle_has_an_empty_history(database: Database) -> None:
    assert history(database, OTHER) == ()


@pytest.mark.parametrize(
    "asked",
    [
        "",
        "    ",
        "\ud8001234567",
        "ANE123",
        VIN[:-1],
        VIN + "1",
        VIN[:9],
        f"{VIN}\nX",
        "0LANE12%",
        "0LANE12_",
        "ßLANE123",
        "' OR 1=1",
    ],
)
def test_anything_else_is_one_sentence(database: Database, asked: str) -> None:
    check(database, "here")
    with pytest.raises(StoreError, match="neither a whole VIN") as caught:
        history(database, asked)
    assert asked.strip().replace("\ud800", "?").replace("\n", "?") in str(caught.value)
    assert "\n" not in str(caught.value)


def test_headers_carry_what_the_list_shows(database: Database) -> None:
    check(database, "here")
    (header,) = history(database, VIN)
    assert header == Repository(database).load("here").header
    assert header.opened_at == wall(0)
