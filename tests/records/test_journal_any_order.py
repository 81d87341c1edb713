from __future__ import annotations

from contextlib import AbstractContextManager

import pytest
from faulty_disk import Clock, disk_refuses, on_disk
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from record_examples import opened, reading, tap, wall

from brimline.procedure.events import Event
from brimline.records import journal as journal_module
from brimline.records.database import Database
from brimline.records.journal import Journal


class AnyOrder(RuleBasedStateMachine):
    """Readings, taps, time and a disk that comes and goes, in any order: nothing lost or moved."""

    database: Database  # set by the test that runs the machine
    count = 0

    def __init__(self) -> None:
        super().__init__()
        AnyOrder.count += 1
        self.first = opened(f"any-order-{AnyOrder.count:06d}")
        self.clock = Clock()
        self.journal = Journal(self.database, clock=self.clock)
        self.number = self.journal.begin(self.first, wall(0)).number
        self.sent: list[Event] = [self.first]
        self.refusal: AbstractContextManager[None] | None = None

    @rule(times=st.integers(1, 12))
    def readings(self, times: int) -> None:
        for _ in range(times):
            self.send(reading(len(self.sent)))

    @rule()
    def tap_or_deadline(self) -> None:
        self.send(tap(len(self.sent)))
        if self.refusal is None:
            assert on_disk(self.database, self.number) == self.sent

    @rule(seconds=st.floats(0, 3))
    def time_passes(self, seconds: float) -> None:
        self.clock.now += seconds
        self.journal.save_due()

    @precondition(lambda self: self.refusal is None)
    @rule()
    def disk_goes(self) -> None:
        self.refusal = disk_refuses(self.database)
        self.refusal.__enter__()

    @precondition(lambda self: self.refusal is not None)
    @rule()
    def disk_comes(self) -> None:
        assert self.refusal is not None
        self.refusal.__exit__(None, None, None)
        self.refusal = None

    @invariant()
    def what_is_on_the_disk_and_what_is_not_is_all(self) -> None:
        stored = on_disk(self.database, self.number)  # load() itself refuses a gap in seq
        assert stored == self.sent[: len(stored)]
        assert len(stored) + self.journal.unsaved == len(self.sent)

    def teardown(self) -> None:
        if self.refusal is not None:
            self.disk_comes()
        self.journal.flush()
        assert on_disk(self.database, self.number) == self.sent

    def send(self, entry: Event) -> None:
        self.sent.append(entry)
        self.journal.append(entry, wall(entry.t))


def test_any_order_of_entries_and_refusals_keeps_everything(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_module, "_CHUNK", 7)
    AnyOrder.database = database
    machine = AnyOrder.TestCase
    machine.settings = settings(max_examples=15, stateful_step_count=15, deadline=None)
    machine().runTest()
