"""Readings are written within a second also while nobody looks after the journal."""

from __future__ import annotations

import threading
import time

from faulty_disk import disk_refuses, on_disk
from record_examples import opened, outcome, reading, tap, wall

from brimline.records.database import Database
from brimline.records.journal import HOLD_S, Journal
from brimline.records.repository import Repository
from brimline.records.saver import EVERY_S, Saver

PATIENCE_S = 30.0


def wait_for(what: threading.Event) -> None:
    assert what.wait(PATIENCE_S)


class Told(Journal):
    """A journal that says when everything is on the disk."""

    def __init__(self, database: Database) -> None:
        super().__init__(database)
        self.saved = threading.Event()
        self.looked = threading.Event()

    def save_due(self) -> None:
        super().save_due()
        self.looked.set()
        if self.unsaved == 0:
            self.saved.set()


def test_a_reading_waits_less_than_a_second_together_with_the_look_after_it() -> None:
    assert HOLD_S + EVERY_S < 1.0


def test_a_reading_is_written_though_the_one_who_entered_it_is_busy(database: Database) -> None:
    journal = Told(database)
    journal.begin(opened(), wall(0))
    with Saver(journal):
        entered = time.monotonic()
        journal.append(reading(1), wall(1))
        journal.saved.clear()
        wait_for(journal.saved)  # and no call of ours meanwhile
        assert time.monotonic() - entered >= HOLD_S
    assert on_disk(database) == [opened(), reading(1)]


def test_what_the_disk_refused_is_written_as_soon_as_it_takes_it(database: Database) -> None:
    journal = Told(database)
    journal.begin(opened(), wall(0))
    with Saver(journal, every_s=0.01):
        with disk_refuses(database):
            journal.append(tap(1), wall(1))
            assert journal.error is not None
            journal.looked.clear()
            wait_for(journal.looked)
        journal.saved.clear()
        wait_for(journal.saved)
    assert journal.error is None
    assert on_disk(database) == [opened(), tap(1)]


def test_two_threads_lose_nothing_and_mix_nothing_up(database: Database) -> None:
    journal = Told(database)
    journal.begin(opened(), wall(0))
    expected = []
    with Saver(journal, every_s=0.001):
        for n in range(1, 400):
            event = tap(n) if n % 7 == 0 else reading(n)
            journal.append(event, wall(n))
            expected.append(event)
    journal.flush()
    assert on_disk(database) == [opened(), *expected]
    assert journal.last == 400


def test_it_ends_with_the_record(database: Database) -> None:
    journal = Told(database)
    first = opened()
    journal.begin(first, wall(0))
    with Saver(journal, every_s=0.001):
        journal.append(tap(1), wall(1))
        journal.flush()
        Repository(database).finish(first.check_id, outcome(), wall(2))
