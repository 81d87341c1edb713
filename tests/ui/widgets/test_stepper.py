"""The stages in a column: done, current, to come; cut short, not done."""

from __future__ import annotations

from itertools import combinations

import pytest
from label_fit import clipped_texts, out_of_sight
from live_play import LivePlay
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline import paths
from brimline.procedure import events as ev
from brimline.procedure.events import Flow
from brimline.procedure.state import Cause, End, Stage
from brimline.reading import Reading, SignalName
from brimline.ui import language
from brimline.ui.tokens import Palette
from brimline.ui.widgets.stepper import ORDER, TIERS, WIDTH, Standing, Stepper
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
    names = [row.name for row in stepper._rows.values()]
    assert names == [STAGES[stage] for stage in ORDER]
    assert len(names) == 11
    for play in (live, LivePlay().in_air()):  # each name fits in bold, too
        stepper.show_snapshot(play.snapshot())
        stepper.resize(WIDTH, stepper.sizeHint().height())
        QApplication.processEvents()
        assert clipped_texts(stepper) == []


@pytest.mark.parametrize("height", [20, 40, 60, 120, 250, 300, 388, 448, 900])
@pytest.mark.parametrize("spoken", ["en", "es"])
def test_all_stages_are_in_sight_in_any_room(
    qtbot: QtBot, qapp: QApplication, palette: Palette, live: LivePlay, spoken: str, height: int
) -> None:
    folder = paths.resources() / "translations"
    assert language.use(qapp, spoken, folder) == ""
    try:
        stepper = Stepper()
    finally:
        language.use(qapp, language.ENGLISH, folder)
    qtbot.addWidget(stepper)
    stepper.show()
    assert stepper.minimumSizeHint().height() <= height
    stepper.resize(WIDTH, height)
    for row in stepper._rows.values():
        stepper.show_snapshot(live.snapshot())
        row.set_standing(Standing.CURRENT)
        stepper._name(row)
        QApplication.processEvents()
        assert clipped_texts(stepper) == []
        assert out_of_sight(stepper) == []
        boxes = [each.geometry() for each in stepper._rows.values()]
        assert all(not a.intersects(b) for a, b in combinations(boxes, 2))
    named = [row._label.isVisible() for row in stepper._rows.values()]
    assert all(named) if stepper.tier else not any(named)
    assert (stepper.tier is TIERS[0]) is (height >= stepper.sizeHint().height())
    assert all(row.toolTip() or stepper.tier for row in stepper._rows.values())


def test_names_stand_under_each_other_whatever_room_there_was_before(stepper: Stepper) -> None:
    for height in (*range(200, 520, 4), *range(520, 200, -4)):
        stepper.resize(WIDTH, height)
        QApplication.processEvents()
        assert len({row._label.x() for row in stepper._rows.values()}) == 1, height


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
    live.do(ev.Confirmed(t=live.t, item=ev.Item.RUN_OFF_NOT_MEASURED, reason="spilt"))
    live.closed_up().finished()
    assert standings(stepper, live) == [Standing.DONE] * 11


def test_a_check_cut_short_does_not_claim_what_was_never_done(
    stepper: Stepper, live: LivePlay
) -> None:
    live.identified()
    live.taken(ev.CheckAborted(t=live.t, reason="the customer took the vehicle back"))
    assert standings(stepper, live) == (
        [Standing.DONE] * 2 + [Standing.STOPPED] + [Standing.NOT_DONE] * 7 + [Standing.CURRENT]
    )
    assert stepper._rows[Stage.SENSOR].accessibleName().endswith("stopped here")


def test_a_check_stopped_after_it_fell_back_keeps_no_tick_of_what_is_void(
    stepper: Stepper, live: LivePlay
) -> None:
    """The engine stopped with the plug out: preconditions and the run-off are void."""
    live.in_air().drive(60, 70, 71)
    live.plug_out()
    for _ in range(2):
        live.t += 1
        live.do(Reading(live.t, SignalName.ENGINE_SPEED, 0.0))
    assert live.state.causes == (Cause.ENGINE_STOPPED,)
    live.taken(ev.PlugIn(t=live.t))
    live.taken(ev.CheckAborted(t=live.t, reason="the pan must come off"))
    live.do(ev.Confirmed(t=live.t, item=ev.Item.RUN_OFF_NOT_MEASURED, reason="spilt"))
    live.finished()
    assert standings(stepper, live) == (
        [Standing.DONE] * 3
        + [Standing.STOPPED]
        + [Standing.NOT_DONE] * 5
        + [Standing.DONE] * 2  # the condition was assessed, and the record closed
    )


def test_a_check_stopped_at_the_open_plug_has_no_level(stepper: Stepper, live: LivePlay) -> None:
    live.in_air().drive(60, 70, 71)
    live.plug_out().flow(Flow.RUNS).look()
    live.do(ev.CheckAborted(t=live.t, reason="fire alarm", plug_left_out=True))
    stands = standings(stepper, live)
    assert stands == (
        [Standing.DONE] * 7 + [Standing.STOPPED] + [Standing.NOT_DONE] * 2 + [Standing.CURRENT]
    )


def test_a_level_given_up_at_the_plug_is_not_ticked(stepper: Stepper, live: LivePlay) -> None:
    """More ran off than the sheet allows: plug in, close, assess; the level was never set."""
    live.in_air().drive(60, 70, 71)
    live.plug_out().flow(Flow.RUNS).look()
    live.taken(ev.RunOffMeasured(t=live.t, litres=5.0))
    live.closed_up().finished()
    assert live.state.end is End.STOPPED
    stands = standings(stepper, live)
    assert stands[ORDER.index(Stage.LEVEL)] is Standing.STOPPED
    assert stands[ORDER.index(Stage.CLOSE) :] == [Standing.DONE] * 3
