"""What finding and opening one of a million finished checks costs, beside bare ``sqlite3``.

A database is filled with checks over ten years (:mod:`records_fill`); behind them come real ones,
half an hour at four signals and 2 readings a second each, packed and sealed. Then keys that are
there are asked for in any order, each twice: ``first`` is one that no connection has met, so that
most of its pages come from the system, ``again`` is the same at once. Every answer is asked for in
turns with

* ``SQL``: the same statements with the same values, laid out beforehand, on a bare ``sqlite3``
  connection with the same pragmas, in a transaction likewise; all rows are fetched as they are;
* ``rows``: as ``SQL``, and frozen rows like ours are made of what comes;
* ``plain``: one statement written by hand for the same columns, without transaction, which knows
  nothing of amendments.

Our call takes what a person typed and hands out frozen rows with times and enumerations: it makes
out the question, runs two statements where a key is asked for (the second looks for checks that
were amended to it), and says whether there is another page. Ratios are of medians. More than 1.5
times ``SQL`` is not allowed, nor a median of 5 ms, nor one of 50 ms for opening a whole record.

The disk is not measured: what was just filled lies in the system's memory. What no index is for
(words, technician, fluid) goes through all checks until a page is full; the worst of it is told.
"""

from __future__ import annotations

import argparse
import gc
import random
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent))

from bench_traces import CASES, drive, finish, lines
from records_fill import FIRST_DAY, Filled, fill

from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.procedure.events import Origin, Verdict
from brimline.records.database import Database
from brimline.records.engine import READER
from brimline.records.query import Query, values_of
from brimline.records.repository import Repository
from brimline.records.search import PAGE, Hit, Search
from brimline.records.search_sql import Statement, statements

MOST_RATIO = 1.5
MOST_MS = 5.0
MOST_OPENING_MS = 50.0
DRIVES = 2
WAYS = ("ours", "SQL", "rows", "plain")
Times = dict[tuple[str, str], list[float]]

_PLAIN = """SELECT opened_at, number, check_id, origin, verdict, vin, plate, work_order,
odometer_km, technician, family, fluid, added_litres, run_off_litres FROM checks
WHERE {} AND finished_at IS NOT NULL AND origin IN ('live', 'keyed')
ORDER BY opened_at DESC, number DESC LIMIT 51"""
_ORIGINS = {each.value: each for each in Origin}
_VERDICTS = {each.value: each for each in Verdict}


@dataclass
class Kind:
    """A kind of question.

    :param asked: what a person types, by the fields of a query, again and again.
    :param condition: of the statement written by hand; ``names`` are those of its values.
    """

    name: str
    asked: list[dict[str, Any]]
    condition: str
    names: tuple[str, ...]


def kinds(filled: Filled, rounds: int) -> list[Kind]:
    """Return what is asked, at most ``rounds`` questions of each kind."""
    chance = random.Random(2)
    vins = filled.vins[:rounds]
    ends = [vin[-8:] for vin in filled.vins[-rounds:]]
    return [
        Kind("VIN", [{"vin": vin} for vin in vins], "vin = ?", ("vin",)),
        Kind("last eight", [{"vin": end} for end in ends], "vin_tail = ?", ("vin_tail",)),
        Kind(
            "plate", [{"plate": each} for each in filled.plates[:rounds]],
            "plate_key = ?", ("plate",),
        ),
        Kind(
            "work order", [{"work_order": each} for each in filled.work_orders[:rounds]],
            "work_order_key = ?", ("work_order",),
        ),
        Kind(
            f"31 days, {PAGE} rows", [_days(chance, filled.last_day) for _ in range(rounds)],
            "opened_at >= ? AND opened_at < ?", ("since", "before"),
        ),
    ]  # fmt: skip


def _days(chance: random.Random, last: datetime) -> dict[str, Any]:
    first = FIRST_DAY + chance.random() * (last - FIRST_DAY - timedelta(days=31))
    return {"first_day": first.date(), "last_day": first.date() + timedelta(days=30)}


def bare(path: Path) -> sqlite3.Connection:
    """Open a connection as a reader's is."""
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in READER:
        connection.execute(pragma)
    return connection


def run(connection: sqlite3.Connection, asked: Sequence[tuple[str, list[Any]]]) -> list[Any]:
    """Run statements in one transaction, and fetch what they find."""
    rows: list[Any] = []
    connection.execute("BEGIN")
    for text, values in asked:
        rows += connection.execute(text, values).fetchall()
    connection.execute("ROLLBACK")
    return rows


def frozen(rows: list[Any]) -> list[Hit]:
    """Make the rows that a search hands out; amendments are not looked at."""
    return [
        Hit(datetime.fromisoformat(row[0]), row[1], row[2], _ORIGINS[row[3]], _VERDICTS[row[4]],
            *(*row[5:14], ()))
        for row in rows
    ]  # fmt: skip


class Turns:
    """Answers the same questions in several ways, in turns, with a connection for each way."""

    def __init__(self, path: Path, database: Database) -> None:
        self._search = Search(database)
        self._dialect = database.engine.dialect
        self._bare = {way: bare(path) for way in WAYS[1:]}
        self._known: dict[tuple[str, ...], tuple[Statement, ...]] = {}
        self._turn = 0

    def close(self) -> None:
        """Close what was opened."""
        self._search.close()
        for connection in self._bare.values():
            connection.close()

    def times(self, kind: Kind) -> Times:
        """Return the times in ms, by when it was asked and in which way."""
        times: Times = {(when, way): [] for when in ("first", "again") for way in WAYS}
        gc.collect()
        for asked in kind.asked:
            ways = self._ways(kind, asked)
            self._turn += 1
            turned = [*WAYS[self._turn % 4 :], *WAYS[: self._turn % 4]]
            found = {}
            for way in turned:
                for when in ("first", "again"):
                    began = time.perf_counter()
                    found[way] = ways[way]()
                    times[when, way].append((time.perf_counter() - began) * 1e3)
            numbers = [hit.number for hit in found["ours"].hits]
            assert numbers, asked
            for way in ("SQL", "rows"):
                same = sorted((row[1] for row in found[way]), reverse=True)[:PAGE]
                assert same == sorted(numbers, reverse=True), asked
        return times

    def _ways(self, kind: Kind, asked: dict[str, Any]) -> dict[str, Callable[[], Any]]:
        """Return the ways to answer a question; all but ours have everything laid out."""
        values = values_of(Query(**asked), None)
        names = tuple(values)
        if names not in self._known:
            self._known[names] = statements(names, self._dialect)
        values["most"] = PAGE + 1
        same = [(each.text, each.arguments(values)) for each in self._known[names]]
        text, by_hand = _PLAIN.format(kind.condition), [values[name] for name in kind.names]
        search, plain = self._search, self._bare["plain"]
        return {
            "ours": lambda: search.find(Query(**asked)),
            "SQL": lambda: run(self._bare["SQL"], same),
            "rows": lambda: frozen(run(self._bare["rows"], same)),
            "plain": lambda: plain.execute(text, by_hand).fetchall(),
        }


def tell(kind: Kind, times: Times) -> bool:
    """Print the figures of a kind; return whether they are within bounds."""
    sound = True
    for when in ("first", "again"):
        middle = {way: statistics.median(times[when, way]) for way in WAYS}
        late = statistics.quantiles(times[when, "ours"], n=100)[-1]
        ratio = {way: middle["ours"] / middle[way] for way in WAYS[1:]}
        print(
            f"{kind.name:>16}, {when}: median {middle['ours']:.3f} ms, p99 {late:.3f} ms; "
            f"SQL {middle['SQL']:.3f} ms, {ratio['SQL']:.2f} x; rows {ratio['rows']:.2f} x; "
            f"plain {middle['plain']:.3f} ms, {ratio['plain']:.2f} x"
        )
        sound &= ratio["SQL"] <= MOST_RATIO and middle["ours"] < MOST_MS
    return sound


def median_ms(work: Callable[[], object], rounds: int) -> float:
    """Return the median time in ms."""
    times = []
    for _ in range(rounds):
        began = time.perf_counter()
        work()
        times.append((time.perf_counter() - began) * 1e3)
    return statistics.median(times)


def open_records(database: Database, numbers: Sequence[int], rounds: int) -> bool:
    """Print how long whole records take to open; return whether that is within bounds."""
    chance = random.Random(3)
    repository = Repository(database)
    events = len(repository.load(str(numbers[0])).events)
    taken = median_ms(lambda: repository.load(str(chance.choice(numbers))), rounds)
    print(f"opening a record with its {events:,} events and readings: median {taken:.1f} ms")
    return taken < MOST_OPENING_MS


def besides(bay: Bay, database: Database, vin: str) -> None:
    """Print what has no bounds: opening the database each time, and what no index is for."""
    each = median_ms(lambda: bay.find(Query(vin=vin)), 20)
    print(f"a VIN by opening the database and closing it again: median {each:.1f} ms")
    with Search(database) as search:
        for words in ("burnt shudder", "nowhere"):
            found = len(search.find(Query(words=words)).hits)
            taken = median_ms(lambda words=words: search.find(Query(words=words)), 3)
            print(f"words “{words}”, no index: {found} rows, median {taken:.0f} ms")
        print(f"names of the families: median {median_ms(search.families, 20):.2f} ms")


def measure(bay: Bay, filled: Filled, samples: int, rounds: int) -> bool:
    """Print everything; return whether it is within bounds."""
    path = bay.database_file
    with Database.open(path, writer=True) as database:
        rows = [lines(drive(CASES["live"], seed)) for seed in range(min(DRIVES, samples))]
        finish(database, rows, range(samples))
    count = len(filled.vins)
    sound = True
    with Database.open(path, writer=False) as database:
        with closing(Turns(path, database)) as turns:
            for kind in kinds(filled, min(rounds, count)):
                sound &= tell(kind, turns.times(kind))
        numbers = range(filled.count + 1, filled.count + samples + 1)
        sound &= open_records(database, numbers, max(20, rounds // 40))
        besides(bay, database, filled.vins[0])
    return sound


def main(words: Sequence[str] | None = None) -> int:
    """Print all figures; return 1 if one is beyond what is allowed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--count", type=int, default=1_000_000, help="checks in the database")
    parser.add_argument("--samples", type=int, default=200, help="whole records behind them")
    parser.add_argument("--rounds", type=int, default=2000, help="questions of each kind")
    asked = parser.parse_args(words)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        bay = Bay(Path(folder), Settings())
        began = time.perf_counter()
        filled = fill(bay.database_file, asked.count)
        print(
            f"{asked.count:,} finished checks, {bay.database_file.stat().st_size / 1e9:.2f} GB, "
            f"filled in {time.perf_counter() - began:.0f} s"
        )
        sound = measure(bay, filled, asked.samples, asked.rounds)
    print("within bounds" if sound else "BEYOND what is allowed")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
