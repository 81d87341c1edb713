"""What was acknowledged survives the death of the process, at whatever moment it comes."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

from record_examples import opened, reading, tap

from brimline.records.database import Database
from brimline.records.repository import Repository

CHILD = Path(__file__).with_name("append_until_killed.py")
ROUNDS = 5


def kill_while_writing(path: Path, check_id: str, acknowledgements: int, spin: int) -> int:
    """Kill the writer a random moment after some acknowledgements; return the last one heard."""
    with subprocess.Popen(
        [sys.executable, str(CHILD), str(path), check_id], stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        for _ in range(acknowledgements):
            assert child.stdout.readline().endswith("\n")
        for _ in range(spin):  # so that the blow falls anywhere between two acknowledgements
            pass
        child.kill()
        heard = [line for line in child.stdout if line.endswith("\n")]
    assert child.returncode != 0
    return int(heard[-1]) if heard else 3 * acknowledgements


def test_a_killed_process_loses_nothing_that_it_acknowledged(database_path: Path) -> None:
    chance = random.Random(20310506)
    for round_ in range(ROUNDS):
        check_id = f"killed-{round_}"
        last = kill_while_writing(
            database_path, check_id, chance.randint(1, 60), chance.randint(0, 200_000)
        )
        with closing(sqlite3.connect(database_path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        # The dead process's lock does not keep the next one out.
        with Database.open(database_path, writer=True) as database:
            repository = Repository(database)
            assert len(repository.open_checks()) == round_ + 1
            events = repository.load(check_id).events
        expected = [tap(n) if n % 3 == 0 else reading(n) for n in range(1, len(events))]
        assert list(events) == [opened(check_id), *expected]
        assert last >= 3
        assert len(events) - 1 >= last
