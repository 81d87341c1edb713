"""A script on live readings: its taps come as their gates open, and it does not wait for ever."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from datetime import UTC, datetime

from two_processes import SCRIPT

from brimline.check_runner import CheckRunner
from brimline.headless.live_driver import (
    LONGEST_WAIT_S,
    TELL_AFTER_S,
    Around,
    LiveDriver,
)
from brimline.headless.script import Script, Step, read_script
from brimline.paths import resources
from brimline.procedure import VERSION
from brimline.procedure.events import CheckOpened, Event, Origin
from brimline.procedure.reasons import Reason
from brimline.reading import Reading, SignalName
from brimline.specsheet.reader import read_sheet


class Kept:
    """A journal in memory."""

    error = None

    def __init__(self) -> None:
        self.events: list[Event] = []
        self.looked_after = 0

    def begin(self, opened: CheckOpened, _wall: datetime) -> None:
        self.events.append(opened)

    def append(self, event: Event, _wall: datetime) -> None:
        self.events.append(event)

    def save_due(self) -> None:
        self.looked_after += 1


class Sensor:
    """Tells one temperature each second until it falls silent."""

    def __init__(self, until: float) -> None:
        self._until, self._next = until, 0.0

    def pump(self, now: float) -> Iterable[Reading]:
        while self._next <= min(now, self._until):
            yield Reading(self._next, SignalName.FLUID_TEMPERATURE, 60.0)
            self._next += 1.0


Waits = Callable[[Step, tuple[Reason, ...]], None]


def play(
    until: float, stop: float = math.inf, tell: Waits = lambda _step, _reasons: None
) -> tuple[LiveDriver, CheckRunner, list[float], Kept, Script]:
    script = read_script(resources() / "scripts" / f"{SCRIPT}.toml")
    opened = CheckOpened(
        check_id="1",
        opened_at=datetime(2026, 1, 5, 8, tzinfo=UTC),
        origin=Origin.LIVE,
        sheet=read_sheet(resources() / "sheets" / "k7-demo.toml"),
        duty="normal",
        measured=(SignalName.FLUID_TEMPERATURE,),
        source="test",
        technician=script.technician,
        shop="",
        program="0",
        procedure=VERSION,
    )
    journal = Kept()
    runner = CheckRunner(opened, journal, lambda *_: None)
    looks: list[float] = []
    now = [0.0]

    def wait() -> None:
        looks.append(now[0])
        now[0] += 1.0

    around = Around(wait, stopped=lambda: now[0] >= stop, waiting=tell)
    driver = LiveDriver(runner, Sensor(until), script.steps, lambda: now[0], around)
    return driver, runner, looks, journal, script


def test_a_script_that_cannot_go_on_ends_the_check_and_says_where() -> None:
    driver, runner, looks, journal, _ = play(until=1e9)
    stuck = driver.play()
    assert stuck is not None
    assert stuck.reasons
    assert runner.state.closed is not None
    assert LONGEST_WAIT_S <= looks[-1] <= LONGEST_WAIT_S + 60
    assert journal.looked_after >= len(looks)  # also while nothing comes
    assert runner.state.aborted is not None
    assert "the script ended while" in runner.state.closed.reasons[0]


def test_taps_come_as_soon_as_their_gates_open() -> None:
    driver, runner, *_, script = play(until=1e9)
    driver.play()
    assert runner.state.vehicle is not None
    assert runner.state.vehicle.vin == script.steps[0].fields()["vin"]
    assert runner.state.sensor is not None
    assert runner.state.sensor.t < 5


def test_silence_is_found_by_time_alone() -> None:
    driver, runner, *_ = play(until=30.0)
    driver.play()
    assert runner.state.temperature.last is not None
    assert runner.state.temperature.last.t == 30.0


def test_a_tap_that_waits_is_told_once_with_what_stands_against_it() -> None:
    told: list[tuple[str, tuple[Reason, ...]]] = []
    driver, _, looks, *_ = play(1e9, tell=lambda step, reasons: told.append((step.do, reasons)))
    stuck = driver.play()
    assert stuck is not None
    ((do, reasons),) = told  # every tap before it came in time
    assert do == stuck.step.do
    assert reasons
    assert looks[-1] > TELL_AFTER_S


def test_a_script_that_somebody_stops_ends_the_check_at_once() -> None:
    driver, runner, looks, *_ = play(until=1e9, stop=120.0)
    stuck = driver.play()
    assert stuck is not None
    assert looks[-1] == 119.0
    assert runner.state.closed is not None
    assert "somebody stopped the script while" in runner.state.closed.reasons[0]
