"""The estimate stands in the record just before the closing, whoever closes the check."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from check_play import SHEET, Play, sheet
from record_play import Journaled, journaled, through_runner

from brimline.demo import simulated_bay
from brimline.headless.technician import Act, DoTap, Technician
from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.estimates import LevelEstimated, LevelKnown
from brimline.procedure.events import CheckClosed, CheckOpened, Event, Flow, Verdict
from brimline.records.codec import decode_event, encode_event
from brimline.session import CheckSession
from brimline.simulator.outflow import DROP_L, Outlet
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.model import Level


def kinds(events: list[Event]) -> list[str]:
    return [event.kind for event in events if not event.kind.startswith(("deadline", "reading"))]


def test_every_closing_brings_it_once() -> None:
    journal = through_runner(Play().level_set())
    assert kinds(journal.events)[-2:] == ["level_estimated", "check_closed"]
    assert kinds(journal.events).count("level_estimated") == 1
    estimate, closed = journal.events[-2:]
    assert estimate.t == closed.t
    assert reducer.replay(journal.events).level_estimate == estimate


def test_a_closing_that_is_refused_brings_none() -> None:
    journal = through_runner(Play().level_set(), too_early=True)
    assert kinds(journal.events).count("check_closed") == 2
    assert kinds(journal.events).count("level_estimated") == 1
    assert isinstance(journal.events[-2], LevelEstimated)


def surely_off(procedure: int) -> Journaled:
    """A level at the rim, yet at the hot end of the band, tilted and no longer dripping.

    By hand: 8.6 L · 7.9e-4 1/K · -9 K, tilt -30 mL and no drip some -45 mL, against 31 mL.
    """
    play = Play(spec=sheet(level=SHEET["level"] | {"acceptance": "31 mL"}))
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    older = replace(opened, procedure=procedure)
    play.events, play.state = [older], reducer.open_check(older)
    play.ready(84.0).plug_out().flow(Flow.RUNS).look().wait(20, 84.0)
    return through_runner(play.flow(Flow.NOTHING).closed_up().finished())


def test_a_level_that_is_surely_off_needs_a_recheck() -> None:
    journal = surely_off(3)
    estimate, closed = journal.events[-2:]
    assert isinstance(estimate, LevelEstimated)
    assert isinstance(closed, CheckClosed)
    assert estimate.verdict is LevelKnown.EXCEEDS
    assert (closed.verdict, closed.reasons) == (Verdict.RECHECK, ("level_off",))
    assert reducer.replay(journal.events) == journal.runner.state


def test_an_older_procedure_closes_by_the_rules_of_its_day() -> None:
    journal = surely_off(2)
    estimate, closed = journal.events[-2:]
    assert isinstance(estimate, LevelEstimated)
    assert isinstance(closed, CheckClosed)
    assert estimate.verdict is LevelKnown.EXCEEDS
    assert closed.verdict is Verdict.SET
    assert reducer.replay(journal.events) == journal.runner.state


def test_a_check_without_a_level_has_none() -> None:
    journal = journaled(Play())
    journal.runner.tap(ev.CheckAborted(t=1.0, reason="the lift is needed"))
    journal.runner.close(2.0)
    assert kinds(journal.events)[-2:] == ["check_aborted", "check_closed"]


def test_a_record_keeps_it_as_it_was() -> None:
    estimate = through_runner(Play().level_set()).events[-2]
    assert isinstance(estimate, LevelEstimated)
    assert decode_event(encode_event(estimate)) == estimate


def test_a_record_that_has_none_replays_as_before() -> None:
    events = through_runner(Play().level_set()).events
    older = [event for event in events if not isinstance(event, LevelEstimated)]
    state, without = reducer.replay(events), reducer.replay(older)
    assert without.level_estimate is None
    assert without.closed == state.closed
    assert without.gate_history == state.gate_history


def dripping(level: Level, viscosity: float) -> float:
    """L over the rim with which the simulated vehicle drips at the sheet's rate, by halving.

    Its balance counts from the rim, the sheet from the drip.
    """
    outlet, low, high = Outlet.of(level), 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        enough = outlet.flow(middle, viscosity) >= level.drip_rate * DROP_L
        low, high = (low, middle) if enough else (middle, high)
    return low


def whole_check(family: str, fault: str | None) -> tuple[list[Event], float]:
    """Play a check by the book; returns what was over the right filling as the plug went in."""
    vehicle, journal = make_vehicle(family, fault, seed=3), Journaled()
    now, truth = [0.0], [0.0]
    with simulated_bay(vehicle) as bay:

        def tapped(tap: Any) -> None:
            bay.tapped(tap)
            if isinstance(tap, ev.PlugIn):
                fluid, warm = vehicle.fluid, vehicle.heat.fluid
                over = (fluid.inside - vehicle.sheet.level.capacity) / fluid.shrink(warm)
                truth[0] = over - dripping(vehicle.sheet.level, fluid.viscosity(warm))

        opened = Play(spec=vehicle.sheet, measured=tuple(sorted(bay.declared))).events[0]
        assert isinstance(opened, CheckOpened)
        session = CheckSession(opened, journal, bay, lambda: now[0], tapped=tapped)
        technician = Technician(bay.bench)
        while session.state.closed is None:
            now[0] += 2.0
            session.step()
            deed = technician.next_deed(session.state, bay.view)
            if isinstance(deed, DoTap):
                assert not session.tap(deed.kind, **deed.fields)
            elif isinstance(deed, Act):
                bay.act(deed.name)
            elif deed is not None:
                session.close()
            assert now[0] < 7200
    return journal.events, truth[0]


@pytest.mark.parametrize(
    ("family", "fault"), [("K5", None), ("K5", "low"), ("K7", None), ("K9", None), ("K9", "low")]
)
def test_the_simulated_vehicle_bears_the_estimate_out(family: str, fault: str | None) -> None:
    """Its fluid is known to the drop, by balances of its own; nothing of it is told to the budget.

    The filling that the sheet calls right lies in the middle of the normal band and drips.
    """
    events, truth = whole_check(family, fault)
    estimate = events[-2]
    assert isinstance(estimate, LevelEstimated)
    assert isinstance(events[-1], CheckClosed)
    assert abs(truth - estimate.shift) <= estimate.expanded
    assert abs(truth) <= estimate.bound
    # where the band and the level are as the budget takes them, it is not far off at all
    assert truth == pytest.approx(estimate.shift, abs=0.02)
    assert any(isinstance(e, ev.FlowJudged) and e.flow is Flow.DRIPS for e in events) or fault
