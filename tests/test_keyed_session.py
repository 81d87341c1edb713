"""Keyed readings in a running check, and how a keyed check begins."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from brimline import paths
from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.errors import BrimlineError, CannotGuideError, SheetError, UnitError
from brimline.procedure.events import CheckAborted, CheckOpened, Event, Origin
from brimline.reading import Reading, SignalName, Way
from brimline.records import tail
from brimline.session import CheckSession
from brimline.specsheet.library import SheetLibrary
from brimline.units import METRIC, US
from test_session import FailingJournal, Source, opened

HEAT = SignalName.FLUID_TEMPERATURE
SHEETS = paths.resources() / "sheets"


class Kept(FailingJournal):
    """A journal that keeps its events."""

    def __init__(self) -> None:
        super().__init__()
        self.events: list[Event] = []

    def append(self, event: Event, wall: object) -> None:
        self.events.append(event)


class Clock:
    """Time that stands until it is moved."""

    now = 10.0

    def __call__(self) -> float:
        return self.now


def keyed_session(*measured: SignalName) -> tuple[CheckSession, Clock, Kept, Source]:
    clock, journal, source = Clock(), Kept(), Source()
    begun: CheckOpened = replace(opened(), measured=measured)
    return CheckSession(begun, journal, source, clock), clock, journal, source


def test_a_keyed_temperature_is_journaled_at_its_time_and_charted() -> None:
    session, clock, journal, _ = keyed_session()
    assert session.key_temperature("58", METRIC) is None
    kept = [event for event in journal.events if isinstance(event, Reading)]
    assert [(r.t, r.signal, r.value, r.way) for r in kept] == [(10.0, HEAT, 58.0, Way.KEYED)]
    clock.now = 50.0
    assert session.key_temperature("140 °F", METRIC) is None  # 60 °C
    times, values = session.snapshot().traces[HEAT]
    assert np.allclose(times, [10.0, 50.0])
    assert np.allclose(values, [58.0, 60.0])  # joined: the first was still fresh


def test_keyed_values_a_stale_time_apart_are_not_joined() -> None:
    session, clock, _, _ = keyed_session()
    session.key_temperature("58", METRIC)
    clock.now = 75.0
    session.key_temperature("60", METRIC)
    values = session.snapshot().traces[HEAT][1]
    assert np.isnan(values).sum() == 1


def test_a_doubt_takes_nothing_until_it_is_kept() -> None:
    session, clock, journal, _ = keyed_session()
    session.key_temperature("58", METRIC)
    clock.now = 20.0
    doubt = session.key_temperature("203", US)  # 95 °C
    assert doubt is not None
    assert (doubt.before, doubt.elapsed) == (58.0, 10.0)
    assert doubt.after == pytest.approx(95.0)
    assert len([e for e in journal.events if isinstance(e, Reading)]) == 1
    assert session.key_temperature("203", US, keep=True) is None
    last = session.state.temperature.last
    assert last is not None
    assert last.number == pytest.approx(95.0)


@pytest.mark.parametrize("text", ["", "hot", "201 °C", "-51", "58 bar"])
def test_what_is_no_temperature_takes_nothing(text: str) -> None:
    session, _, journal, _ = keyed_session()
    with pytest.raises(UnitError):
        session.key_temperature(text, METRIC)
    assert journal.events == []


def test_nothing_keyed_replaces_what_the_vehicle_tells() -> None:
    session, _, journal, _ = keyed_session(HEAT, SignalName.ENGINE_SPEED)
    with pytest.raises(UnitError, match="The vehicle tells this itself"):
        session.key_temperature("58", METRIC)
    with pytest.raises(UnitError, match="The vehicle tells this itself"):
        session.key_engine_speed("650")
    assert journal.events == []


def test_a_keyed_engine_speed_is_taken_and_charted() -> None:
    session, _, _, _ = keyed_session()
    session.key_engine_speed("650")
    assert session.state.engine.rpm == 650.0
    assert session.snapshot().traces[SignalName.ENGINE_SPEED][1].tolist() == [650.0]
    with pytest.raises(UnitError):
        session.key_engine_speed("fast")


def test_the_state_shown_is_that_of_now_and_the_closed_one_stands() -> None:
    session, clock, journal, _ = keyed_session()
    clock.now = 40.0
    assert session.state.now == 40.0
    assert session.snapshot().state.now == 40.0
    assert journal.events == []  # nobody ticks
    session.key_temperature("58", METRIC)
    clock.now = 101.0
    assert session.snapshot().against_plug  # stale, by its deadline
    session.step()
    assert [e.kind for e in journal.events] == ["reading", "deadline_reached"]


def test_readings_of_the_bus_that_count_no_more_are_not_charted() -> None:
    session, clock, _, source = keyed_session()
    source.waiting = [Reading(12.0, HEAT, 33.0)]
    clock.now = 12.0
    session.step()
    assert len(session.snapshot().traces[HEAT][0]) == 0


def bay(tmp_path: Path) -> Bay:
    return Bay(tmp_path, Settings())


def test_a_keyed_check_begins_with_nothing_measured(tmp_path: Path) -> None:
    session, stack = bay(tmp_path).begin_keyed("R. Calloway", "k7-demo", "sustained_load", Clock())
    with stack:
        begun = session.state.opened
        assert begun.measured == ()
        assert begun.duty == "sustained_load"
        assert begun.technician == "R. Calloway"
        assert begun.source == "keyed by the technician from an instrument"
        assert begun.origin is Origin.TRAINING  # invented sheets never count for a vehicle
        with pytest.raises(BrimlineError):
            bay(tmp_path).begin_keyed("M. Oduya", "k7-demo", "normal", Clock())
    session, stack = bay(tmp_path).begin_keyed("M. Oduya", "k7-demo", "normal", Clock())
    stack.close()


@pytest.mark.expects_log
def test_a_record_whose_place_cannot_be_noted_is_sealed_and_that_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    said: list[str] = []
    bay = Bay(tmp_path, Settings(), tell=said.append)
    session, stack = bay.begin_keyed("R. Calloway", "k7-demo", "normal", Clock())
    with stack:
        monkeypatch.setattr(tail, "put", refuse)
        assert not session.tap(CheckAborted, reason="enough")
        assert not session.close()
        assert session.sealed
        (told,) = session.snapshot().troubles
    assert told.startswith("The newest record is sealed, but this cannot be noted in")
    assert told.endswith("see that the file can be written.")
    assert said[-1] == told


@pytest.mark.parametrize(("sheet", "duty"), [("k7-demo", "towing"), ("nowhere", "normal")])
def test_a_keyed_check_needs_a_sheet_and_a_duty(tmp_path: Path, sheet: str, duty: str) -> None:
    with pytest.raises(BrimlineError):
        bay(tmp_path).begin_keyed("R. Calloway", sheet, duty, Clock())


def write(folder: Path, name: str, *changes: tuple[str, str]) -> None:
    text = (SHEETS / "k7-demo.toml").read_text("utf-8").replace('"k7-demo"', f'"{name}"')
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (folder / f"{name}.toml").write_text(text, "utf-8")


def test_only_approved_and_guided_sheets_are_offered(tmp_path: Path) -> None:
    write(tmp_path, "good")
    write(tmp_path, "draft", ('status = "approved"', 'status = "draft"'))
    write(tmp_path, "gone", ('status = "approved"', 'status = "withdrawn"'))
    write(tmp_path, "stick", ('check_method = "idle_overflow"', 'check_method = "dipstick"'))
    write(tmp_path, "torn", ("[idle]", "[idel]"))
    found, faults = SheetLibrary((tmp_path,)).guided()
    assert [sheet.id for sheet in found] == ["good"]
    assert len(faults) == 1
    assert "torn.toml" in faults[0].sentence
    assert isinstance(faults[0], SheetError)
    for refused in ("stick", "draft", "gone"):
        file = str(tmp_path / f"{refused}.toml")
        with pytest.raises(CannotGuideError):
            Bay(tmp_path / "data", Settings()).begin_keyed("R. Calloway", file, "normal", Clock())
