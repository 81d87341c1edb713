"""A check that has to wait for its adapter: the window stays alive, and it can be given up."""

from __future__ import annotations

from dataclasses import replace

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from pytestqt.qtbot import QtBot

from brimline.errors import DamagedError
from brimline.reading import Way
from brimline.ui.ports.services import BeginState, CheckOrder, RunningCheck
from brimline.ui.samples.bus import Laid, sample_bus
from brimline.ui.samples.capture import EVERY_SIZE, settle

OPENING = BeginState(
    False, "Opening slcan COM3, 500 kbit/s, and listening before anything is sent…"
)
REFUSED = BeginState(True, "The adapter slcan COM3 cannot be opened.")


def laid(play: KeyedPlay, *states: BeginState) -> Laid[BeginState]:
    """Let the next check begin as laid down."""
    handle = Laid(states)
    play.window._services = replace(play.services, begin_check=lambda _order: handle)
    return handle


def press_begin(play: KeyedPlay) -> None:
    panel = play.window.home.vehicle
    play.hands.type(panel.technician, "R. Calloway")
    panel.by_bus.setChecked(True)
    play.hands.press(panel.go)


@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_it_says_what_it_waits_for_and_can_be_given_up(qtbot: QtBot, keyboard: bool) -> None:
    with keyed_play(bus=sample_bus(), keyboard=keyboard) as play:
        handle = laid(play, OPENING)
        home, panel = play.window.home, play.window.home.vehicle
        press_begin(play)
        assert panel.waiting.isVisible()
        assert panel.waiting.text() == OPENING.sentence
        assert not panel.go.isVisible()
        others = (home.go, home.backups, home.open_show)
        for shut in (panel.technician, panel.sheet, panel.by_bus, panel.record, *others):
            assert not shut.isEnabled()
        play.window.show_connection()
        assert play.window.connection is None  # the adapter is wanted for the check
        play.hands.press(panel.cancel)
        assert handle.cancelled == 1
        assert play.window.model is None
        assert not panel.waiting.isVisible()
        for open_again in (panel.go, panel.technician, panel.sheet, panel.by_bus, *others):
            assert open_again.isEnabled()
        assert panel.technician.text() == "R. Calloway"


def test_it_is_asked_by_a_timer_until_the_check_is_there(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        session, stack = play.bay.begin_keyed("R. Calloway", "k7-demo", "normal", play.clock)
        running = RunningCheck(session, stack.close)
        laid(play, OPENING, OPENING, BeginState(True, check=running))
        press_begin(play)
        assert play.window.check is None
        qtbot.waitUntil(lambda: play.window.check is not None, timeout=5000)
        assert play.window.stack.currentWidget() is play.window.check
        assert play.window.model is not None
        assert play.window.model.session is session
        play.window.end_check()


def test_records_that_are_found_damaged_lead_to_their_copies(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        damage = DamagedError("The database is damaged.")
        laid(play, OPENING, BeginState(True, damage.sentence, damaged=damage))
        said: list[DamagedError] = []
        play.window._say_damaged = said.append  # type: ignore[method-assign]
        press_begin(play)
        qtbot.waitUntil(lambda: bool(said), timeout=5000)
        assert said == [damage]
        assert play.window.home.vehicle.go.isEnabled()


def test_why_it_cannot_begin_stands_on_the_first_screen(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        laid(play, OPENING, REFUSED)
        press_begin(play)
        qtbot.waitUntil(play.window.said.isVisible, timeout=5000)
        assert play.window.said.text() == REFUSED.sentence
        assert play.window.home.vehicle.go.isEnabled()
        settle()
        margin = play.window.said.contentsRect().left()
        assert margin >= play.window.home.layout().contentsMargins().left()
        laid(play, OPENING)
        play.hands.press(play.window.home.vehicle.go)
        assert not play.window.said.isVisible()  # another try, another answer


def test_closing_the_window_gives_it_up(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        handle = laid(play, OPENING)
        press_begin(play)
        assert play.window.close()
        assert handle.cancelled == 1


def test_no_text_is_cut_while_it_waits(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        laid(play, OPENING)
        press_begin(play)
        for each in EVERY_SIZE:
            play.window.resize(each.width, each.height)
            play.window.set_palette(each.palette)
            settle()
            assert clipped_texts(play.window) == [], each.name


def test_the_order_says_what_was_chosen(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        orders: list[CheckOrder] = []

        def begin(order: CheckOrder) -> Laid[BeginState]:
            orders.append(order)
            return Laid([REFUSED])

        play.window._services = replace(play.services, begin_check=begin)
        play.hands.choose(play.window.home.vehicle.sheet, "k5-demo")
        press_begin(play)
        assert orders == [CheckOrder("R. Calloway", "k5-demo", "normal", Way.BUS)]
