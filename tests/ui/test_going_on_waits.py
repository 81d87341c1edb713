"""Going on with an interrupted check may have to wait: its card says for what, and can give up."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest
from interrupted_play import Restarted, at, put_away, worked_and_cut_off
from label_fit import clipped_texts
from pytestqt.qtbot import QtBot

from brimline import desk_open
from brimline.errors import DamagedError
from brimline.interrupted_session import Prepared, prepare
from brimline.procedure.state import Stage
from brimline.ui.ports.services import BeginState
from brimline.ui.samples.bus import Laid
from brimline.ui.samples.capture import EVERY_SIZE, settle

OPENING = BeginState(
    False, "Opening slcan COM3, 500 kbit/s, and listening before anything is sent…"
)
REFUSED = BeginState(True, "The adapter slcan COM3 cannot be opened.")


@pytest.fixture
def again(qtbot: QtBot) -> Restarted:
    """A window that is opened after a check was cut off."""
    return Restarted(worked_and_cut_off(at(Stage.FLUID)), keyboard=False)


def laid(again: Restarted, *states: BeginState) -> Laid[BeginState]:
    """Let the next check go on as laid down."""
    handle = Laid(states)
    again.open._services = replace(again.open._services, go_on=lambda _answer: handle)
    return handle


def press_go_on(again: Restarted) -> None:
    again.hands.press(again.card.go_on)
    again.answer(out=False, runs=False)
    assert again.card.asked is not None
    again.hands.press(again.card.asked.done)


def test_the_card_says_what_it_waits_for_until_it_is_given_up(again: Restarted) -> None:
    handle = laid(again, OPENING)
    press_go_on(again)
    card = again.card
    assert card.asked is not None
    assert card.waiting.isVisible()
    assert card.waiting.text() == OPENING.sentence
    assert not card.asked.isVisible()
    assert not again.screen.leave.isEnabled()
    assert again.window.model is None
    for look in EVERY_SIZE:
        again.window.resize(look.width, look.height)
        again.window.set_palette(look.palette)
        settle()
        assert clipped_texts(again.window) == [], look.name
    again.window.resize(1280, 800)
    settle()
    again.hands.press(card.cancel)
    assert handle.cancelled == 1
    assert not card.waiting.isVisible()
    assert card.asked.isVisible()  # what was answered stands
    assert card.asked.facts.plug_is_out is False
    assert again.screen.leave.isEnabled()
    put_away(again)


def test_why_it_cannot_go_on_stands_on_its_card(again: Restarted, qtbot: QtBot) -> None:
    laid(again, OPENING, REFUSED)
    press_go_on(again)
    qtbot.waitUntil(again.card.said.isVisible, timeout=5000)
    assert again.card.said.text() == REFUSED.sentence
    assert not again.window.said.isVisible()
    laid(again, OPENING)
    assert again.card.asked is not None
    again.hands.press(again.card.asked.done)
    assert not again.card.said.isVisible()  # another try, another answer
    put_away(again)


def test_records_that_are_found_damaged_lead_to_their_copies(
    again: Restarted, qtbot: QtBot
) -> None:
    damage = DamagedError("The database is damaged.")
    laid(again, OPENING, BeginState(True, damage.sentence, damaged=damage))
    told: list[DamagedError] = []
    again.window._say_damaged = told.append  # type: ignore[method-assign]
    press_go_on(again)
    qtbot.waitUntil(lambda: told == [damage], timeout=5000)
    put_away(again)


def test_closing_the_window_gives_it_up(again: Restarted) -> None:
    handle = laid(again, OPENING)
    press_go_on(again)
    assert again.window.close()
    assert handle.cancelled == 1
    put_away(again)


def test_the_window_answers_while_a_record_is_replayed(
    again: Restarted, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However long that takes: here until somebody lets it."""
    let = threading.Event()

    def slowly(*given: object) -> Prepared:
        assert let.wait(30.0)
        return prepare(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(desk_open, "prepare", slowly)
    press_go_on(again)  # comes back
    assert again.window.model is None
    settle()  # and so does whatever else is asked of the window
    assert again.card.waiting.isVisible()
    let.set()
    qtbot.waitUntil(lambda: again.window.model is not None, timeout=30_000)
    put_away(again)
