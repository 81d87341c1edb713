"""The ledger on the page: every entry with its units, the net, and what is left."""

from __future__ import annotations

import pytest
from check_play import Play
from label_fit import clipped_texts
from ledger_play import run_off, topped_up
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline.procedure.events import Confirmed, Flow, Item
from brimline.ui import theme
from brimline.ui.samples.capture import settle
from brimline.ui.tokens import DARK, LIGHT, Palette
from brimline.ui.widgets.ledger_table import LedgerTable
from brimline.units import METRIC, US, UnitSystem


def table(qtbot: QtBot, units: UnitSystem = METRIC) -> LedgerTable:
    made = LedgerTable(units)
    qtbot.addWidget(made)
    made.resize(346, 400)
    made.show()
    return made


def rows(made: LedgerTable) -> list[list[str]]:
    return [[cell.text() for cell in row][1:] for row in made.rows]


def test_an_empty_ledger_says_so(qtbot: QtBot) -> None:
    made, play = table(qtbot), topped_up()
    made.show_state(play.state)
    assert made.none.isHidden()
    assert made.net.isVisible()
    before = play.state.undoable
    assert before is not None
    made.show_state(before.before)
    assert rows(made) == []
    assert made.none.isVisible()
    assert made.net.isHidden()
    assert made.added.words.text() == "Added 0.00 L of at most 1.00 L: 1.00 L left."


def test_entries_with_their_units(qtbot: QtBot) -> None:
    made = table(qtbot)
    made.show_state(run_off(topped_up(None), 0.4, 70.0).state)
    assert rows(made) == [
        ["added\nTF-Clear, lot 7", "0.60 L", "not known"],
        ["run off", "0.40 L", "70 °C"],
    ]
    assert made.net.text() == "Net 0.20 L in as measured; at 15 °C not known."
    assert made.run_off.words.text() == "Ran off 0.40 L of at most 1.00 L: 0.60 L left."
    assert made.added.bar.value() == 600


def test_in_other_units(qtbot: QtBot) -> None:
    made = table(qtbot, US)
    made.show_state(run_off(topped_up(), 0.4, 70.0).state)
    # 1 US qt = 0.946353 L (NIST SP 811): 0.6 L and 0.4 L.
    assert rows(made) == [
        ["added\nTF-Clear, lot 7", "0.63 US qt", "70 °F"],
        ["run off", "0.42 US qt", "158 °F"],
    ]
    assert made.net.text() == "Net 0.23 US qt in at 59 °F."


def test_beyond_the_limit_words_say_so(qtbot: QtBot) -> None:
    made = table(qtbot)
    made.show_state(topped_up(litres=1.3).state)
    assert made.added.words.text() == "Added 1.30 L: 0.30 L more than the spec sheet's 1.00 L."
    assert made.added.words.property("role") == "bad"
    assert made.added.bar.value() == made.added.bar.maximum()


def test_more_out_than_in(qtbot: QtBot) -> None:
    made = table(qtbot)
    made.show_state(run_off(topped_up(litres=0.1), 0.6, 21.0).state)
    assert made.net.text() == "Net 0.50 L out at 15 °C."
    assert made.implausible.isVisibleTo(made)  # nothing had come at first
    made.show_state(run_off(topped_up(litres=0.1), 0.2, 21.0).state)
    assert made.net.text() == "Net 0.10 L out at 15 °C."
    assert not made.implausible.isVisibleTo(made)  # less than the sheet's 150 mL


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
def test_nothing_is_cut(
    qtbot: QtBot, qapp: QApplication, units: UnitSystem, palette: Palette
) -> None:
    theme.apply(qapp, palette)
    made = table(qtbot, units)
    made.show_state(run_off(topped_up(None, litres=1.3), 0.4, 70.0).state)
    settle()
    made.resize(346, made.heightForWidth(346))
    settle()
    assert clipped_texts(made) == []


def test_why_nobody_measured_what_ran_off_is_told(qtbot: QtBot) -> None:
    made = table(qtbot)
    play = Play().ready().plug_out().flow(Flow.RUNS)
    made.show_state(play.state)
    assert made.unmeasured.text() == "Fluid ran off; how much is not noted yet."
    tap = Confirmed(t=play.t, item=Item.RUN_OFF_NOT_MEASURED, reason="the pan was tipped over.")
    made.show_state(play.taken(tap).state)
    assert made.unmeasured.isVisible()
    assert made.unmeasured.text() == (
        "Fluid ran off; it was not measured: the pan was tipped over."
    )
