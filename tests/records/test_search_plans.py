"""How SQLite goes about a search: along an index in the list's order, and nothing is sorted."""

from __future__ import annotations

import itertools
from datetime import date

import pytest
from sqlalchemy import text

from brimline.procedure.events import Origin, Verdict
from brimline.records.database import Database
from brimline.records.query import Query, values_of
from brimline.records.search_sql import Statement, statements

PLACE = {"opened_at": "2031-05-06T12:00:00.000000Z", "number": 7}
EVERYTHING = {
    "vin": "ZZ9K7HARR0LANE123", "plate": "HL 12", "work_order": "7", "family": "K7",
    "first_day": date(2031, 5, 6), "last_day": date(2031, 5, 7), "technician": "Q",
    "verdict": Verdict.SET, "fluid": "TF", "words": "burnt smell",
}  # fmt: skip


def plans(database: Database, **asked: object) -> list[list[str]]:
    """Return the steps of each statement that answers a question, on its first and next page."""
    values = values_of(Query(**asked), None)  # type: ignore[arg-type] # built from a table
    with database.reading() as session:

        def plan(statement: Statement) -> list[str]:
            numbered = iter(range(len(statement.names)))
            named = "".join(
                f":v{next(numbered)}" if each == "?" else each
                for each in itertools.chain.from_iterable(statement.text)
            )
            bound = {f"v{at}": 1 for at in range(len(statement.names))}
            return [
                str(row.detail)
                for row in session.execute(text(f"EXPLAIN QUERY PLAN {named}"), bound)
            ]

        dialect = database.engine.dialect
        return [
            plan(each)
            for names in (tuple(values), tuple((values | PLACE).keys() - {"before"}))
            for each in statements(names, dialect)
        ]


@pytest.mark.parametrize(
    ("asked", "step"),
    [
        ({}, "SCAN checks USING INDEX ix_checks_opened_at"),
        ({"first_day": date(2031, 5, 6)}, "SEARCH checks USING INDEX ix_checks_opened_at ("),
        ({"verdict": Verdict.SET, "words": "x", "technician": "x", "fluid": "x"},
         "SCAN checks USING INDEX ix_checks_opened_at"),
        ({"family": "K7"}, "SEARCH checks USING INDEX ix_checks_family (family=?"),
        ({"vin": EVERYTHING["vin"]}, "SEARCH checks USING INDEX ix_checks_vin (vin=?"),
        ({"vin": "0LANE123"}, "SEARCH checks USING INDEX ix_checks_vin_tail (vin_tail=?"),
        ({"vin": "RR0LANE123"}, "SEARCH checks USING INDEX ix_checks_vin_tail (vin_tail=?"),
        ({"plate": "1"}, "SEARCH checks USING INDEX ix_checks_plate_key (plate_key=?"),
        ({"work_order": "1"}, "SEARCH checks USING INDEX ix_checks_work_order_key (work_order_"),
        ({"plate": "1", "work_order": "1", "family": "K7"},
         "SEARCH checks USING INDEX ix_checks_plate_key (plate_key=?"),
        (EVERYTHING, "SEARCH checks USING INDEX ix_checks_vin (vin=? AND opened_at>?"),
    ],
)  # fmt: skip
def test_one_index_leads(database: Database, asked: dict[str, object], step: str) -> None:
    first, *rest = plans(database, **asked)
    following = rest[len(rest) // 2]
    assert first[0].startswith(step)
    index = step.split()[4]
    assert following[0].startswith(f"SEARCH checks USING INDEX {index} (")
    assert "(opened_at,number)<(?,?)" in following[0]


def test_what_was_amended_is_looked_up_by_its_value(database: Database) -> None:
    for key in ("vin", "plate", "work_order"):
        _, amended, _, on_the_next_page = plans(database, **{key: EVERYTHING[key]})
        for plan in (amended, on_the_next_page):
            assert plan[0].startswith(
                "SEARCH checks USING INDEX sqlite_autoindex_checks_1 (check_id="
            )
            assert any(
                "SEARCH amendments USING INDEX ix_amendments_field (field=? AND value_key=?)"
                in step
                for step in plan
            )


@pytest.mark.parametrize("origins", [(Origin.LIVE,), tuple(Origin)], ids=["one", "all"])
def test_nothing_is_sorted_and_nothing_is_gone_through(
    database: Database, origins: tuple[Origin, ...]
) -> None:
    """Whatever two things are asked for together, and all but one."""
    names = list(EVERYTHING)
    for together in itertools.chain(
        itertools.combinations(names, 2), itertools.combinations(names, len(names) - 1)
    ):
        for plan in plans(
            database, **{each: EVERYTHING[each] for each in together}, origins=origins
        ):
            assert not any("TEMP B-TREE" in step for step in plan), (together, plan)
            scans = {step for step in plan if step.startswith("SCAN")}
            assert scans <= {"SCAN checks USING INDEX ix_checks_opened_at"}, (together, plan)
