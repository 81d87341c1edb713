"""Checks whose ledger has something in it."""

from __future__ import annotations

from check_play import GOOD, Play

from brimline.procedure import events as ev
from brimline.procedure.events import Flow


def topped_up(celsius: float | None = 21.0, litres: float = 0.6) -> Play:
    play = Play().ready().plug_out().flow(Flow.NOTHING)
    play.taken(ev.FirstLook(t=play.t, findings=GOOD, drawn_sample=True))
    play.taken(ev.PumpStarted(t=play.t))
    return play.taken(ev.PumpStopped(t=play.t, litres=litres, fluid_celsius=celsius))


def run_off(play: Play, litres: float, celsius: float | None) -> Play:
    return play.taken(ev.RunOffMeasured(t=play.t, litres=litres, fluid_celsius=celsius))
