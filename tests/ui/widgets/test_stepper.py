"""The stages in a column: done, current, to come; cut short, not done."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from brimline.procedure import events as ev
from brimline.procedure.events import Flow
from brimline.procedure.state import Stage
from brimline.ui.tokens import Palette
from brimline.ui.widgets.stepper import ORDER, WIDTH, Standing, Stepper
from brimline.wording import STAGES


@pytest.fixture
def stepper(qtbot: QtBot, palette: Palette) -> Stepper:
    shown = Stepper()
    qtbot.addWidget(shown)
    shown.show()
    return shown


def standings(stepper: Stepper, live: LivePlay) -> list[Standing]:
    stepper.show_snapshot(live.snapshot())
    return [stepper.shown(stage) for stage in ORDER]


def test_all_eleven_stages_are_named_and_fit(stepper: Stepper, live: LivePlay) -> None:
    names = [label.text() for label in stepper.findChildren(QLabel)]
    assert names == [STAGES[stage] for stage in ORDER]
    assert len(names) == 11
    for play in (live, LivePlay().in_air()):  # each name fits in bold, too
        stepper.show_snapshot(play.snapshot())
        stepper.resize(WIDTH, stepper.sizeHint().height())
        QApplication.processEvents()
        assert clipped_texts(stepper) == []


@pytest.mark.parametrize("current", range(11))
def test_names_fit_in_bold(stepper: Stepper, current: int) -> None:
    row = stepper._rows[ORDER[current]]
    row.set_standing(Standing.CURRENT)
    stepper.resize(WIDTH, stepper.sizeHint().height())
    QApplication.processEvents()
    assert clipped_texts(stepper) == []
    assert row.accessibleName().endswith("current")


def test_what_lies_before_is_done_and_what_lies_after_to_come(
    stepper: Stepper, live: LivePlay
) -> None:
    assert standings(stepper, live) == [Standing.CURRENT] + [Standing.TO_COME] * 10
    live.in_air().drive(5, 34, 35)
    assert live.state.stage is Stage.TEMPERATURE
    assert standings(stepper, live) == (
        [Standing.DONE] * 5 + [Standing.CURRENT] + [Standing.TO_COME] * 5
    )


def test_a_stage_that_is_fallen_back_to_is_current_again(stepper: Stepper, live: LivePlay) -> None:
    live.in_air()
    standings(stepper, live)
    live.taken(ev.Withdrawn(t=live.t, item=ev.Item.CATCH_PAN))
    standings(stepper, live)
    assert stepper.shown(Stage.RAISE) is Standing.CURRENT
    assert stepper.shown(Stage.TEMPERATURE) is Standing.TO_COME


def test_a_finished_check_is_done_throughout(stepper: Stepper, live: LivePlay) -> None:
    live.in_air().drive(60, 70, 71)
    live.plug_out().flow(Flow.RUNS).look()
    live.drive(20, 71, 71)
    live.flow(Flow.DRIPS, 1.5)
    live.do(ev.Confirmed(t=live.t, item=ev.Item.RUN_OFF_NOT_MEASURED))
    live.closed_up().finished()
    assert standings(stepper, live) == [Standing.DONE] * 11


def test_a_check_cut_short_does_not_claim_what_was_never_done(
    stepper: Stepper, live: LivePlay
) -> None:
    live.identified()
    live.taken(ev.CheckAborted(t=live.t, reason="the customer took the vehicle back"))
    assert standings(stepper, live) == (
        [Standing.DONE] * 2 + [Standing.NOT_DONE] * 8 + [Standing.CURRENT]
    )
