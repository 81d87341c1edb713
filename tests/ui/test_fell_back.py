"""A check that falls back to an earlier stage says why, until it has gone on from there."""

from __future__ import annotations

from check_play import Play
from pytestqt.qtbot import QtBot

from brimline.procedure import events as ev
from brimline.procedure.events import Item
from brimline.procedure.state import Stage
from brimline.ui.screens.check.fell_back import FellBack
from brimline.units import METRIC


def told(shown: FellBack, play: Play) -> str:
    shown.show_state(play.state)
    texts = (shown.why, shown.to_ground)
    return "" if shown.isHidden() else " ".join(t.text() for t in texts if not t.isHidden())


def test_an_engine_that_stopped_with_the_plug_out_is_told_back_on_the_ground(
    qtbot: QtBot,
) -> None:
    shown = FellBack(METRIC)
    qtbot.addWidget(shown)
    play = Play().ready()
    assert told(shown, play) == ""
    play.plug_out()
    assert told(shown, play) == ""
    play.taken(ev.EngineStopped(t=play.t))
    assert told(shown, play) == ""
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.stage is Stage.PRECONDITION
    back = "Back to this step: the engine stopped with the plug out."
    assert told(shown, play) == f"{back} Lower the vehicle first."
    play.confirm(Item.NOBODY_UNDER)
    assert told(shown, play) == back
    play.on_the_ground()
    assert play.state.stage is Stage.RAISE
    assert told(shown, play) == ""


def test_without_a_cause_the_procedures_own_reason_is_told(qtbot: QtBot) -> None:
    shown = FellBack(METRIC)
    qtbot.addWidget(shown)
    play = Play().ready(60.0)
    assert told(shown, play) == ""
    play.taken(ev.Withdrawn(t=play.t, item=Item.LIFT_LOCKED))
    assert told(shown, play) == "Not confirmed: nobody under the vehicle."


def test_a_band_that_is_left_before_the_plug_comes_out_is_the_pages_to_tell(qtbot: QtBot) -> None:
    shown = FellBack(METRIC)
    qtbot.addWidget(shown)
    play = Play().ready()
    assert play.state.stage is Stage.PLUG_OUT
    assert told(shown, play) == ""
    play.wait(5, 90.0)
    assert play.state.stage is Stage.TEMPERATURE
    assert told(shown, play) == ""
