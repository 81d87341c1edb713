"""What happened is told from states: signals, taps and a later moment alike."""

from __future__ import annotations

from typing import Any

from check_play import GOOD
from live_play import LivePlay

from brimline.procedure import events as ev
from brimline.procedure.acknowledging import Undone
from brimline.procedure.moments import Happening, Moment, between
from brimline.reading import Reading, SignalName
from brimline.units import METRIC, US
from brimline.wording.moments import happened


def told(live: LivePlay) -> list[Happening]:
    return [moment.what for moment in live.moments]


def warm() -> LivePlay:
    """In its band, with the plug about to come out."""
    live = LivePlay().in_air().drive(180, 34, 66)
    return live.drive(20, 70, 70)


def pumped(live: LivePlay, litres: float) -> None:
    live.taken(ev.FlowJudged(t=live.t, flow=ev.Flow.NOTHING))
    live.taken(ev.PumpStarted(t=live.t))
    live.drive(20, 70, 70)
    live.taken(ev.PumpStopped(t=live.t, litres=litres))


def test_the_work_at_the_plug_is_told_in_its_order() -> None:
    live = warm()
    out = live.t
    live.plug_out()
    live.drive(10, 70, 70)
    live.taken(ev.FirstLook(t=live.t, findings=GOOD))
    pumped(live, 0.3)
    live.taken(ev.PlugIn(t=live.t))
    kinds = Happening
    assert told(live) == [
        kinds.BAND_ENTERED, kinds.PLUG_OUT, kinds.FIRST_LOOK, kinds.PUMP_ON, kinds.PUMP_OFF,
        kinds.PLUG_IN,
    ]  # fmt: skip
    moments = {moment.what: moment for moment in live.moments}
    assert moments[kinds.PLUG_OUT].t == out
    assert moments[kinds.PUMP_OFF].litres == 0.3
    assert moments[kinds.PUMP_OFF].t - moments[kinds.PUMP_ON].t == 20


def test_a_pump_that_gave_nothing_has_stopped_all_the_same() -> None:
    live = warm()
    live.plug_out()
    live.taken(ev.FirstLook(t=live.t, findings=GOOD))
    pumped(live, 0.0)
    assert live.moments[-1] == Moment(live.t, Happening.PUMP_OFF, 0.0)


def test_an_engine_that_is_found_running_has_not_started() -> None:
    live = LivePlay()
    live.drive(5, 20, 20)
    assert told(live) == []
    while Happening.ENGINE_STOPPED not in told(live):
        live.t += 1
        live.do(Reading(live.t, SignalName.ENGINE_SPEED, 0.0))
    stopped = live.moments[-1]
    live.drive(5, 20, 20)
    assert told(live) == [Happening.ENGINE_STOPPED, Happening.ENGINE_STARTED]
    assert live.moments[-1].t > stopped.t


def test_the_band_is_left_as_the_procedure_judges() -> None:
    live = warm().drive(30, 70, 88)
    assert told(live) == [Happening.BAND_ENTERED, Happening.BAND_LEFT]


def test_what_happened_earlier_stands_where_it_happened() -> None:
    live = warm()
    live.taken(ev.PlugOut(t=live.t, happened=live.t - 5))
    assert live.moments[-1] == Moment(live.t - 5, Happening.PLUG_OUT)


def test_what_was_taken_back_has_not_happened() -> None:
    live = warm()
    known = live.moments
    live.taken(ev.PlugOut(t=live.t))
    live.drive(5, 70, 70)
    assert told(live)[-1] is Happening.PLUG_OUT
    live.taken(Undone(t=live.t))
    assert live.moments == known
    live.drive(5, 70, 70)
    live.taken(ev.PlugOut(t=live.t))
    assert live.moments == (*known, Moment(live.t, Happening.PLUG_OUT))


def test_what_was_measured_meanwhile_stays_when_a_tap_is_taken_back() -> None:
    live = LivePlay().in_air().drive(180, 34, 66)
    live.drive(2, 70, 70)
    live.taken(ev.RangeSelected(t=live.t, range="P"))
    live.drive(15, 70, 70)
    entered = live.moments
    assert told(live) == [Happening.BAND_ENTERED]
    live.taken(Undone(t=live.t))
    assert told(live) == [Happening.BAND_ENTERED]
    assert live.moments[0].t >= entered[0].t


def test_from_a_state_to_itself_nothing_happens() -> None:
    state: Any = warm().state
    assert between(state, state) == ()


def test_amounts_are_told_in_the_unit_shown() -> None:
    ran = Moment(1.0, Happening.RAN_OFF, 0.946353)  # L of a US liquid quart: NIST HB 44, app. C
    assert happened(ran, METRIC).startswith("0.95 L")
    assert happened(ran, US).startswith("1.00")
    assert happened(Moment(1.0, Happening.PLUG_IN), US) == "Plug in"
