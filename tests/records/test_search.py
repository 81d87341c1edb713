from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from record_examples import NOON, VIN, opened, outcome, wall
from search_examples import Kept, keep
from sqlalchemy import text

from brimline.errors import GivenUpError, SearchError, StoreError
from brimline.procedure.events import CheckAborted, Origin, Verdict
from brimline.records.amendments import amend
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.model import Amendable
from brimline.records.query import Query, meanings
from brimline.records.repository import Repository
from brimline.records.search import MOST, Search
from brimline.records.watch import Watch

OTHER = "ZZ9K5HARR0LANE124"
SAME_TAIL = "ZZ9K5HARR0LANE123"  # the same last eight characters as VIN
EVERY_ORIGIN = tuple(Origin)


@pytest.fixture
def search(database: Database) -> Iterator[Search]:
    with Search(database, UTC) as opened_search:
        yield opened_search


def numbers(search: Search, *queries: Query, **how: Any) -> list[int]:
    return [hit.number for hit in search.find(*queries, **how).hits]


def test_a_finished_check_is_found_with_what_a_list_shows(
    database: Database, search: Search
) -> None:
    Journal(database).begin(opened("here"), NOON)
    assert numbers(search, Query()) == []  # it is still open
    Repository(database).finish("here", outcome(), wall(9))
    ((hit,), rest) = search.find(Query(vin=VIN)).hits, search.find(Query(vin=VIN)).next
    header = Repository(database).load("here").header
    assert rest == ""
    assert hit._asdict() == {
        **{name: getattr(header, name) for name in hit._fields if name != "amended"},
        "amended": (),
    }


def test_newest_first_and_stable(database: Database, search: Search) -> None:
    hours = (0, -9000, 0, 8)
    keep(database, [Kept(opened_at=NOON + timedelta(hours=each)) for each in hours])
    assert numbers(search, Query()) == [4, 3, 1, 2]
    assert numbers(search, Query(vin=VIN)) == [4, 3, 1, 2]


@pytest.mark.parametrize(
    "asked",
    [VIN, VIN.lower(), VIN[-8:], VIN[-8:].lower(), " ZZ9K7HARR-0LANE123\n", "0lane 123"],
)
def test_a_vehicle_is_found_by_whole_vin_or_last_eight(
    database: Database, search: Search, asked: str
) -> None:
    keep(database, [Kept(), Kept(vin=OTHER)])
    assert numbers(search, Query(vin=asked)) == [1]


def test_two_vehicles_may_share_the_last_eight(database: Database, search: Search) -> None:
    keep(database, [Kept(), Kept(vin=SAME_TAIL)])
    assert numbers(search, Query(vin=VIN[-8:])) == [2, 1]
    assert numbers(search, Query(vin=SAME_TAIL)) == [2]


@pytest.mark.parametrize("length", range(8, 17))
def test_a_vehicle_is_found_by_any_end_of_its_vin_from_eight_on(
    database: Database, search: Search, length: int
) -> None:
    keep(database, [Kept(), Kept(vin=SAME_TAIL), Kept(vin=OTHER)])
    told_apart = length >= 13
    assert VIN[-13:] != SAME_TAIL[-13:]
    assert VIN[-12:] == SAME_TAIL[-12:]
    assert numbers(search, Query(vin=VIN[-length:])) == ([1] if told_apart else [2, 1])
    assert numbers(search, *meanings(VIN[-length:].lower(), Query())[0])[-1] == 1
    assert numbers(search, Query(vin="X" + VIN[-length:])) == []


def test_a_longer_end_is_found_in_what_a_vin_was_amended_to(
    database: Database, search: Search
) -> None:
    keep(database, [Kept(vin=OTHER, amended=[(Amendable.VIN, VIN)]),
                    Kept(vin=SAME_TAIL, amended=[(Amendable.VIN, VIN)]),
                    Kept(vin=SAME_TAIL)])  # fmt: skip
    assert numbers(search, Query(vin=VIN[-15:])) == [2, 1]
    assert numbers(search, Query(vin=OTHER[-11:])) == [1]  # as it was sealed


def test_training_and_replay_stay_out_unless_asked_for(database: Database, search: Search) -> None:
    keep(database, [Kept(origin=origin) for origin in EVERY_ORIGIN])
    found = search.find(Query()).hits
    assert {hit.origin for hit in found} == {Origin.LIVE, Origin.KEYED}
    assert len(numbers(search, Query(origins=EVERY_ORIGIN))) == 4
    assert [h.origin for h in search.find(Query(origins=(Origin.TRAINING,))).hits] == ["training"]
    assert numbers(search, Query(origins=())) == []


@pytest.mark.parametrize(
    ("query", "found"),
    [
        (Query(plate="hl-12 qr"), [1]),
        (Query(plate="HL12Q"), []),
        (Query(work_order="wo7"), [1]),
        (Query(family="K5"), [2]),
        (Query(family="k5"), []),
        (Query(technician="quill"), [1]),
        (Query(technician="ÖRG"), [2]),
        (Query(verdict=Verdict.REFERRED), [2]),
        (Query(fluid="clear"), [1]),
        (Query(words="BURNT smell"), [2]),
        (Query(words="smell burnt"), [2]),
        (Query(words="burnt sugar"), []),
        (Query(words="  "), [2, 1]),
        (Query(plate="HL 12 QR", words="burnt"), []),
        (Query(plate="HL 13 QR", words="burnt", family="K5", technician="jörg"), [2]),
    ],
)
def test_everything_given_must_fit(
    database: Database, search: Search, query: Query, found: list[int]
) -> None:
    other = Kept(
        vin=OTHER, plate="HL 13 QR", work_order="WO-8", technician="Jörg Vane", family="K5",
        fluid="TF-Red", verdict=Verdict.REFERRED, notes="smells BURNT",
    )  # fmt: skip
    keep(database, [Kept(), other])
    assert numbers(search, query) == found


def test_what_people_wrote_is_found(database: Database, search: Search) -> None:
    journal = Journal(database)
    journal.begin(opened("here"), NOON)
    journal.append(CheckAborted(t=5, reason="Smelt it twice, ÜBLE Sache"), wall(5))
    Repository(database).finish("here", outcome(), wall(9))
    assert numbers(search, Query(words="üble twice")) == [1]
    assert numbers(search, Query(words="thrice")) == []


@pytest.mark.parametrize("typed", ["50 %", "a_b", "c\\d", "50% a_b"])
def test_signs_of_patterns_are_plain_text(database: Database, search: Search, typed: str) -> None:
    keep(database, [Kept(notes="50 % of a_b, 50% of c\\d"), Kept(notes="50 litres, axb, c d")])
    assert numbers(search, Query(words=typed)) == [1]


def test_technicians_and_fluids_with_signs_of_patterns(database: Database, search: Search) -> None:
    keep(database, [Kept(technician="Q_ill", fluid="TF%"), Kept(technician="Quill", fluid="TF-A")])
    assert numbers(search, Query(technician="q_i")) == [1]
    assert numbers(search, Query(fluid="f%")) == [1]


def test_what_was_amended_is_found_as_it_was_and_as_it_is(
    database: Database, search: Search
) -> None:
    Journal(database).begin(opened("here"), NOON)
    Repository(database).finish("here", outcome(), wall(9))
    keep(database, [Kept(vin=OTHER, plate="X 1", work_order="9", technician="Nobody")], first=2)
    new = "0THFC3K71RL104218"
    corrections = {
        Amendable.VIN: new, Amendable.PLATE: "AB 99", Amendable.WORK_ORDER: "WO-8",
        Amendable.ODOMETER: "84211", Amendable.TECHNICIAN: "Ö. Vane",
        Amendable.NOTE: "Called the CUSTOMER",
    }  # fmt: skip
    how: Any = {"author": "M. Vane", "reason": "mistyped", "at": wall(20)}
    for field, value in corrections.items():
        amend(database, "1", field=field, value=value, **how)
    for query in (
        Query(vin=VIN), Query(vin=new), Query(vin=new[-8:]), Query(vin=VIN[-8:]),
        Query(plate="ab99"), Query(plate="hl12qr"), Query(work_order="WO 8"),
        Query(work_order="WO 7"), Query(technician="ö. v"), Query(technician="quill"),
        Query(words="customer"), Query(vin=new, plate="AB99"), Query(vin=VIN, plate="AB99"),
        Query(vin=new, work_order="wo8", technician="vane", words="called"),
    ):  # fmt: skip
        (hit,) = search.find(query).hits
        assert hit.vin == new
        assert (hit.plate, hit.work_order, hit.technician) == ("AB 99", "WO-8", "Ö. Vane")
        assert hit.odometer_km == 84211.0
        assert hit.amended == tuple(corrections)
    ends_alike = "1" + new[1:]
    assert numbers(search, Query(vin=ends_alike)) == []


def test_an_amended_check_stands_at_its_place(database: Database, search: Search) -> None:
    at = [NOON + timedelta(minutes=minute) for minute in (0, 1, 2)]
    checks = [Kept(opened_at=each) for each in at]
    checks[1] = Kept(opened_at=at[1], vin=OTHER, amended=[(Amendable.VIN, VIN)])
    keep(database, checks)
    assert numbers(search, Query(vin=VIN)) == [3, 2, 1]
    page = search.find(Query(vin=VIN), limit=2)
    assert [hit.number for hit in page.hits] == [3, 2]
    assert numbers(search, Query(vin=VIN), after=page.next) == [1]


@pytest.mark.parametrize(
    "asked",
    [
        "    ",
        "\ud8001234567",
        "ANE123",
        VIN + "1",
        VIN[:7],
        f"{VIN}\nX",
        "0LANE12%",
        "0LANE12_",
        "ßLANE123",
        "' OR 1=1",
    ],
)
def test_what_is_no_vin_is_one_sentence(search: Search, asked: str) -> None:
    with pytest.raises(SearchError, match="neither a whole VIN") as caught:
        search.find(Query(vin=asked))
    assert asked.strip().replace("\ud800", "?").replace("\n", "?") in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("query", "told"),
    [
        (Query(plate=" -- "), "“--” is no plate"),
        (Query(work_order="\n"), "is no work order"),
        (Query(first_day=date(2031, 5, 7), last_day=date(2031, 5, 6)), "is before the first"),
        (Query(words="x" * 201), "More than 200 characters"),
        (Query(plate="x" * 201), "More than 200 characters"),
        (Query(first_day=date.min), None),
        (Query(last_day=date.max), None),
        (Query(words="\ud800 \x00", technician="\ud800"), None),
        (Query(family="\ud800"), None),
    ],
)
def test_anything_else_is_one_sentence_or_finds_nothing(
    search: Search, query: Query, told: str | None
) -> None:
    if told is None:
        assert search.find(query).hits == ()
    else:
        with pytest.raises(SearchError, match=told):
            search.find(query)


def test_a_day_beyond_all_clocks(database: Database) -> None:
    with (
        Search(database, ZoneInfo("Asia/Kathmandu")) as search,
        pytest.raises(SearchError, match="too far away"),
    ):
        search.find(Query(first_day=date.min))


@pytest.mark.parametrize("limit", [0, -1, MOST + 1])
def test_a_page_has_its_bounds(search: Search, limit: int) -> None:
    with pytest.raises(SearchError, match="1 to 500 checks"):
        search.find(Query(), limit=limit)


@pytest.mark.parametrize("after", ["x", "§", "MjAzMS0wNS0wNg", "\ud800", "=", "A" * 500, "Pw"])
def test_a_place_that_is_none(search: Search, after: str) -> None:
    with pytest.raises(SearchError, match="no place in a list"):
        search.find(Query(), after=after)


def test_a_place_belongs_to_any_question(database: Database, search: Search) -> None:
    keep(database, [Kept(opened_at=NOON + timedelta(minutes=at)) for at in range(4)])
    page = search.find(Query(), limit=2)
    assert [hit.number for hit in page.hits] == [4, 3]
    assert numbers(search, Query(vin=VIN, words=""), after=page.next) == [2, 1]


def test_any_of_several_questions(database: Database, search: Search) -> None:
    keep(database, [Kept(plate="WO7", work_order=""), Kept(plate="", work_order="WO-7"), Kept()])
    asked = meanings("wo 7", Query())
    assert len(asked) == 2
    assert numbers(search, *asked[0]) == [3, 2, 1]
    assert numbers(search, *asked[0], limit=1) == [3]
    assert [hit.number for hit in search.find(*asked[0], limit=2).hits] == [3, 2]
    assert numbers(search, *asked[0], after=search.find(*asked[0], limit=2).next) == [1]


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        (VIN, {"vin": VIN, "plate": VIN, "work_order": VIN}),
        ("0LANE123", {"vin": "0LANE123", "plate": "0LANE123", "work_order": "0LANE123"}),
        ("WO-7", {"plate": "WO-7", "work_order": "WO-7"}),
        ("—", {"words": "—"}),
    ],
)
def test_what_a_text_may_mean(typed: str, first: dict[str, str]) -> None:
    besides = Query(family="K7")
    found = meanings(typed, besides)
    assert {
        name: getattr(query, name) for query in found[0] for name in first if getattr(query, name)
    } == first
    assert found[-1] == (Query(family="K7", words=typed),)
    assert all(query.family == "K7" for tier in found for query in tier)


def test_days_are_those_of_the_zone(database: Database) -> None:
    before, first, last, after = (
        datetime(2031, 5, 5, 18, 14, 59, 999999, UTC), datetime(2031, 5, 5, 18, 15, tzinfo=UTC),
        datetime(2031, 5, 6, 18, 14, 59, 999999, UTC), datetime(2031, 5, 6, 18, 15, tzinfo=UTC),
    )  # fmt: skip
    keep(database, [Kept(opened_at=each) for each in (before, first, last, after)])
    day = date(2031, 5, 6)
    with Search(database, ZoneInfo("Asia/Kathmandu")) as search:  # UTC+05:45, IANA tz database
        assert numbers(search, Query(first_day=day, last_day=day)) == [3, 2]
        assert numbers(search, Query(last_day=day)) == [3, 2, 1]
        assert numbers(search, Query(first_day=day)) == [4, 3, 2]


def test_families_on_record(database: Database, search: Search) -> None:
    keep(database, [Kept(family=each) for each in ("K9", "K5", "k5", "K9", "Ü1")])
    assert search.families() == ("K5", "K9", "k5", "Ü1")


def test_a_call_sees_one_state(database: Database, search: Search) -> None:
    keep(database, [Kept(vin=OTHER)])
    search.find(Query(vin=VIN))
    later = Kept(opened_at=NOON + timedelta(hours=1), vin=OTHER, amended=[(Amendable.VIN, VIN)])

    class Meddling:
        """Keeps another check between the two statements of a call."""

        def __init__(self) -> None:
            self.cursor, self.calls = search._cursor, 0

        def execute(self, statement: str, *arguments: Any) -> Any:
            self.calls += 1
            if self.calls == 3:
                keep(database, [later], first=2)
            return self.cursor.execute(statement, *arguments)

    search._cursor = meddling = Meddling()
    assert numbers(search, Query(vin=VIN)) == []
    assert meddling.calls == 3
    assert numbers(search, Query(vin=VIN)) == [2]


def test_looking_through_everything_may_be_given_up(database: Database, search: Search) -> None:
    keep(database, [Kept(notes=f"note {number}") for number in range(3000)])
    asked: list[bool] = []

    def stop() -> bool:
        asked.append(True)
        return True

    with pytest.raises(GivenUpError):
        search.find(Query(words="nowhere"), watch=Watch(stop=stop))
    assert asked
    assert numbers(search, Query(words="note 2999")) == [3000]
    assert numbers(search, Query(words="note 2999"), watch=Watch()) == [3000]


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("origin", "hearsay"),
        ("verdict", "maybe"),
        ("opened_at", "2031-05-06"),
        ("opened_at", "2031-13-06T07:08:09.000000Z"),
    ],
)
def test_a_damaged_row_is_one_sentence(
    database: Database, search: Search, column: str, value: str
) -> None:
    keep(database, [Kept(), Kept(finished=False)])
    with database.writing() as session:
        session.execute(
            text(f"UPDATE checks SET {column} = :value, finished_at = '2031' WHERE number = 2"),
            {"value": value},
        )
    with pytest.raises(StoreError, match="Record 2 is damaged and cannot be read"):
        search.find(Query(origins=EVERY_ORIGIN))


def test_a_damaged_amendment_is_one_sentence(database: Database, search: Search) -> None:
    keep(database, [Kept(amended=[(Amendable.ODOMETER, "far")])])
    with pytest.raises(StoreError, match="Record 1 is damaged and cannot be read"):
        search.find(Query())


def test_a_database_that_refuses_is_one_sentence(database: Database, search: Search) -> None:
    with database.writing() as session:
        session.execute(text("DROP TABLE amendments"))
    with pytest.raises(StoreError, match="cannot be used as it is"):
        search.find(Query())


def test_it_may_be_closed_again(database: Database) -> None:
    search = Search(database)
    search.close()
    search.close()
