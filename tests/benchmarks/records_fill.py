"""Fills a database with finished checks, fast: rows as the program writes them, in bulk.

The tables, indexes and triggers are those of the migrations. Indexes and triggers are taken away
while the rows go in and put back as they were, which checks that what is unique is unique. Journal
and traces of these checks stay empty, and their seals are no seals: a million whole records would
take some gigabytes, and no search looks at them.
"""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from brimline.procedure.events import Origin, Verdict
from brimline.records import keys
from brimline.records.database import Database
from brimline.records.model import Amendable
from brimline.records.schema import AmendmentRow, CheckRow, utc_text

FIRST_DAY = datetime(2021, 1, 4, 7, 30, tzinfo=UTC)
VISITS = 3  # checks of a vehicle, on average
AMENDED = 200  # one in so many checks has an amendment

_SIGNS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"  # of a VIN, 49 CFR 565.15
_FAMILIES = {"K5": "TF-Red", "K7": "TF-Clear", "K9": "TF-Thin"}
_TECHNICIANS = tuple(
    f"{first}. {last}"
    for first in "ACDHJ"
    for last in ("Calloway", "Quill", "Vane", "Marlow", "Östlund", "Reed")
)
_WORDS = [
    "slips", "shudder", "judder", "harsh", "late", "shift", "third", "second", "gear", "when",
    "warm", "cold", "after", "towing", "leak", "seal", "pan", "drips", "burnt", "smell", "dark",
    "fluid", "changed", "noise", "whine", "hesitates", "parks", "reverse", "customer",
    "reports", "motorway", "hill", "stall", "idle", "vibration", "light", "throttle",
]  # fmt: skip
_ORIGINS = (*[Origin.LIVE] * 17, *[Origin.KEYED] * 2, Origin.TRAINING)
_VERDICTS = (*[Verdict.CORRECTED] * 6, *[Verdict.SET] * 5, Verdict.RECHECK, Verdict.REFERRED)


@dataclass
class Filled:
    """What can be asked for: keys of services that are there, drawn evenly from all of them.

    :param amended: ids of the checks that have an amendment.
    """

    count: int

    vins: list[str] = field(default_factory=list)
    plates: list[str] = field(default_factory=list)
    work_orders: list[str] = field(default_factory=list)
    last_day: datetime = FIRST_DAY
    amended: list[str] = field(default_factory=list)


def fill(path: Path, count: int, *, wanted: int = 10_000, seed: int = 1) -> Filled:
    """Make a database with ``count`` finished checks over ten years.

    :param wanted: how many keys of each kind to return.
    """
    Database.open(path, writer=True).close()
    chance = random.Random(seed)
    filled = Filled(count)
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for pragma in ("journal_mode=OFF", "synchronous=OFF", "cache_size=-200000"):
            connection.execute(f"PRAGMA {pragma}")
        things = connection.execute(
            "SELECT type, name, sql FROM sqlite_master WHERE type IN ('index', 'trigger')"
            " AND sql IS NOT NULL ORDER BY type, name"
        ).fetchall()
        for kind, name, _ in things:
            connection.execute(f"DROP {kind} {name}")
        connection.execute("BEGIN")
        _insert(connection, CheckRow, _checks(chance, count, filled, wanted))
        _insert(connection, AmendmentRow, _amendments(chance, filled.amended))
        for _, _, sql in things:
            connection.execute(sql)
        connection.execute("COMMIT")
    for each in (filled.vins, filled.plates, filled.work_orders):
        chance.shuffle(each)
    return filled


def _insert(
    connection: sqlite3.Connection,
    table: type[CheckRow | AmendmentRow],
    rows: Iterator[dict[str, object]],
) -> None:
    names = [column.name for column in table.__table__.columns]
    marks = ", ".join(f":{name}" for name in names)
    into = f"{table.__tablename__} ({', '.join(names)})"  # migrations have an order of their own
    connection.executemany(f"INSERT INTO {into} VALUES ({marks})", rows)


def _checks(
    chance: random.Random, count: int, filled: Filled, wanted: int
) -> Iterator[dict[str, object]]:
    vehicles = max(1, count // VISITS)
    gap = timedelta(days=3650) / count
    opened, seal = FIRST_DAY, ""
    for number in range(1, count + 1):
        opened += gap * chance.uniform(0.2, 1.8)
        vehicle = _vehicle(chance.randrange(vehicles))
        family = vehicle["family"]
        previous, seal = seal, f"{chance.getrandbits(256):064x}"
        order = f"HL-{number:07}"
        added = round(chance.choice((0.0, 0.0, chance.uniform(0.05, 1.5))), 2)
        origin = chance.choice(_ORIGINS)
        if origin is not Origin.TRAINING and chance.random() < wanted / count:
            filled.vins.append(vehicle["vin"])
            filled.plates.append(vehicle["plate"])
            filled.work_orders.append(order)
        check_id = f"{chance.getrandbits(128):032x}"
        if number % AMENDED == 0:
            filled.amended.append(check_id)
        yield {
            "check_id": check_id, "number": number,
            "opened_at": utc_text(opened), "finished_at": utc_text(opened + timedelta(minutes=31)),
            "origin": origin.value, "invented": 0,
            "odometer_km": float(chance.randrange(5_000, 400_000)), "work_order": order,
            "technician": chance.choice(_TECHNICIANS), "sheet_id": f"tarnholm-{family.lower()}",
            "sheet_revision": "C", "duty": "normal", "fluid": _FAMILIES[family],
            "verdict": chance.choice(_VERDICTS).value,
            "closing_celsius": round(chance.uniform(36, 80), 1), "added_litres": added,
            "run_off_litres": 0.0 if added else round(chance.uniform(0, 0.8), 2), "bay": "1",
            "seal": seal, "previous_seal": previous, "seal_number": number, "seal_form": 2,
            **vehicle, **keys.derived(vehicle["vin"], vehicle["plate"], order, ()),
            "notes": " ".join(chance.choices(_WORDS, k=chance.choice((0, 6, 12, 25)))),
        }  # fmt: skip
    filled.last_day = opened


def _vehicle(number: int) -> dict[str, str]:
    """Return what is always the same of a vehicle; its maker's prefix is assigned to nobody."""
    chance = random.Random(number)
    family = chance.choice(tuple(_FAMILIES))
    plate = "".join(chance.choices(_SIGNS[10:], k=2)) + f" {chance.randrange(100, 99_999)} "
    return {
        "vin": f"0TH{family}" + "".join(chance.choices(_SIGNS, k=12)),
        "plate": plate + chance.choice(_SIGNS[10:]),
        "family": family,
    }


def _amendments(chance: random.Random, ids: Sequence[str]) -> Iterator[dict[str, object]]:
    """Amend some of the checks; what is amended stands in a chain of its own."""
    for place, check_id in enumerate(ids, 1):
        what = chance.choice((Amendable.VIN, Amendable.PLATE, Amendable.NOTE))
        other = _vehicle(chance.randrange(1_000_000))
        value, key = {
            Amendable.VIN: (other["vin"], other["vin"][-8:]),
            Amendable.PLATE: (other["plate"], keys.search_key(other["plate"])),
            Amendable.NOTE: ("the customer called again", "the customer called again"),
        }[what]
        yield {
            "check_id": check_id, "number": 1, "at": utc_text(FIRST_DAY), "author": "M. Vane",
            "reason": "mistyped", "field": what.value, "was": "", "value": value,
            "value_key": key, "bay": "amendments", "seal": "", "previous_seal": "",
            "seal_number": place, "seal_form": 1,
        }  # fmt: skip
