"""The strip under a demonstration tells what is next, also where something went another way."""

from __future__ import annotations

from check_play import Play

from brimline import demo
from brimline.procedure import events as ev
from brimline.procedure.events import Item
from brimline.procedure.state import Stage
from brimline.simulator.vehicle import make_vehicle
from brimline.units import METRIC


def hint(play: Play, *, engine_runs: bool = True) -> str:
    made = make_vehicle("K5")
    if engine_runs:
        made.start_engine()
        made.step(demo.SETTLED_S)
    return demo.hint(play.state, made.view(), METRIC)


def test_an_engine_that_stopped_in_the_warm_up_is_wanted_on_again() -> None:
    play = Play().ready(60.0)
    assert play.state.stage is Stage.TEMPERATURE
    assert hint(play).startswith("Wait for the band.")
    play.taken(ev.EngineStopped(t=play.t))
    assert hint(play, engine_runs=False) == "Press “Engine on” here."


def test_an_engine_that_rests_for_the_fluid_to_cool_stays_off() -> None:
    play = Play().ready(90.0).taken(ev.EngineStopped(t=Play().ready(90.0).t))
    assert hint(play, engine_runs=False).startswith("Wait for the band. Too hot")
    play.wait(5, 70.0)
    assert hint(play, engine_runs=False) == "Press “Engine on” here."


def test_on_the_ground_what_is_done_is_asked_for_no_more() -> None:
    play = Play().identified().sensor_trusted()
    assert hint(play, engine_runs=False).startswith("Confirm the first five items")
    play.confirm(
        Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
        Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
    )  # fmt: skip
    assert hint(play, engine_runs=False) == "Press “Engine on” here."
    play.taken(ev.EngineStarted(t=play.t))
    assert hint(play).startswith("Press R here and wait")
    for name in ("R", "D"):
        play.taken(ev.RangeSelected(t=play.t, range=name)).wait(5, 25.0)
    assert hint(play) == "Press P here: back to park."
    play.taken(ev.RangeSelected(t=play.t, range="P"))
    play.taken(ev.IdleSpeedNoted(t=play.t, rpm=640)).wait(20, 30.0)
    assert hint(play).startswith("Let the engine idle in park for another")
    play.wait(41, 30.0)
    assert hint(play).startswith("Press to confirm: ")


def test_what_stood_over_night_did_so_whatever_its_engine_does_now() -> None:
    """Fluid that the check itself has warmed does not make a vehicle that was driven in."""
    vehicle = make_vehicle("K5", "sensor-offset")  # arrives as warm as the shop air
    with demo.simulated_bay(vehicle) as bay:
        assert "stood overnight" in demo.seen(bay.view, bay.bench, METRIC)
        vehicle.start_engine()
        vehicle.step(900)
        assert bay.bench.infrared > bay.bench.ambient + demo.RESTED_K
        assert "shop air 20 °C" in demo.seen(bay.view, bay.bench, METRIC)
        assert "stood overnight" in demo.seen(bay.view, bay.bench, METRIC)
    with demo.simulated_bay(make_vehicle("K5")) as bay:  # 30 °C: driven in, and not hot
        assert "did not stand overnight" in demo.seen(bay.view, bay.bench, METRIC)
        assert bay.at_the_hole() == ""  # the plug is in
