"""What a journal says of itself while a disk refuses and takes again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from check_play import Play

from brimline.errors import StoreError
from brimline.headless.acknowledged import acknowledging
from brimline.procedure import events as ev
from brimline.procedure.events import CheckOpened, Item
from brimline.reading import Reading, SignalName
from brimline.records.database import Database
from brimline.records.journal import HOLD_S, Journal

NOON = datetime(2031, 5, 6, 12, tzinfo=UTC)


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with Database.open(tmp_path / "brimline.sqlite", writer=True) as opened:
        yield opened


def test_only_what_is_on_the_disk_is_acknowledged(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    now, said = [100.0], []
    kept = Journal(database, clock=lambda: now[0])
    journal = acknowledging(kept, said.append)
    opened = Play().events[0]
    assert isinstance(opened, CheckOpened)
    journal.begin(opened, NOON)
    journal.append(Reading(1.0, SignalName.FLUID_TEMPERATURE, 20.0), NOON)
    journal.append(ev.Confirmed(t=1.5, item=Item.CATCH_PAN), NOON)
    assert said == ["ack 1 0.0 check_opened", "read 2 1.0", "ack 3 1.5 confirmed"]
    said.clear()

    def refuse() -> None:
        raise StoreError("The disk is full.")

    with monkeypatch.context() as patch:
        patch.setattr(kept, "_write_some", refuse)
        journal.append(ev.Confirmed(t=2.0, item=Item.CREW_CLEAR), NOON)
        journal.append(Reading(2.5, SignalName.FLUID_TEMPERATURE, 21.0), NOON)
        assert said == ["held 4 2.0 confirmed", "read 5 2.5"]
        assert (journal.unsaved, len(journal.held())) == (2, 2)
        assert journal.error is not None
    said.clear()
    now[0] += HOLD_S
    journal.save_due()
    assert said == ["saved 5"]
    journal.save_due()
    assert said == ["saved 5"]


def test_where_nobody_listens_it_is_the_journal_itself(database: Database) -> None:
    kept = Journal(database)
    assert acknowledging(kept, None) is kept
