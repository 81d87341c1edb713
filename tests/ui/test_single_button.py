"""A check worked by one button: what a press does and when nothing, and a whole check by it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot
from window_hands import Hands
from window_play import TICK_S, WindowPlay, newest

from brimline.headless.technician import Act, AskVerdict, Deed, DoTap
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged, Undone
from brimline.procedure.doing import Do, Form, NextStep
from brimline.procedure.events import Verdict
from brimline.procedure.next_step import next_step
from brimline.procedure.state import Stage
from brimline.ui.hands.held_key import BOUNCE_S, CAUTION_S, GIVEN_UP_S, HeldKey
from brimline.ui.hands.one_button import AGO_S, LONG_S, NEW_S, OneButton

KEY, UNDO, FAR = Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_F9


class Fills(Hands):
    """Fills fields in; the buttons that send a form are left to the one button."""

    def press(self, target: QAbstractButton) -> None:
        """Leave it."""
        assert target.isEnabled(), target.text()


class Single:
    """A check in the window, and one key."""

    def __init__(self, play: WindowPlay) -> None:
        self.play, self.model, self.clock = play, play.model, play.clock
        assert play.window.check is not None
        self.check = play.window.check
        self.distances = self.check.distances
        self.button: OneButton = self.distances.button
        self.button.clock = play.clock
        self.button._shown = None  # by the clock of before
        self.model.step()
        self.said: list[str] = []
        self.button.told.connect(self.said.append)

    @property
    def do(self) -> Do:
        return next_step(self.model.state).do

    def wait(self, seconds: float) -> None:
        self.clock.now += seconds
        self.model.step()

    def down(self, key: Qt.Key = KEY) -> None:
        QTest.keyPress(QApplication.focusWidget() or self.play.window, key)

    def up(self, key: Qt.Key = KEY) -> None:
        QTest.keyRelease(QApplication.focusWidget() or self.play.window, key)

    def hold(self, seconds: float, key: Qt.Key = KEY) -> None:
        """Press and let go, having read what is shown and not within a bounce."""
        self.wait(BOUNCE_S)
        self.wait(NEW_S)
        self.down(key)
        self.clock.now += seconds
        self.button.tick()
        self.up(key)

    def press(self) -> None:
        self.hold(0.1)

    def arm(self) -> None:
        """The first press only makes the screen say what the next one does."""
        if not self.button.announces:
            self.press()
            assert self.distances.line.isVisible()

    def until(self, do: Do) -> None:
        """Let the technician work until this is next."""
        while self.do is not do:
            assert self.clock.now < 3600, self.do
            self.wait(TICK_S)
            deed = self.play.technician.next_deed(self.model.state, self.play.controls.view)
            if isinstance(deed, Act):
                self.play.controls.act(deed.name)
            elif isinstance(deed, DoTap) and self.do is not do:
                self.model.tap(deed.kind, **deed.fields)
        self.wait(0.0)


@contextmanager
def single(fault: str = "") -> Iterator[Single]:
    play = WindowPlay("K5", fault, keyboard=True)
    try:
        yield Single(play)
    finally:
        play.window.end_check()
        play.window.close()
        play.window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def _not_next(deed: DoTap, step: NextStep) -> bool:
    """Whether a press would say something else than this technician has to say."""
    if deed.kind is ev.FlowJudged:
        said, rate = step.press, deed.fields["drops_per_second"] or 0.0
        if said is None or said.fields.get("flow") is not deed.fields["flow"]:
            return True
        return rate > (said.fields["drops_per_second"] or rate)  # a press says: at the rim
    if deed.kind is CautionAcknowledged:
        return step.do is not Do.READ_CAUTIONS
    return deed.kind is ev.RunOffMeasured and step.form is not Form.RUN_OFF


def work(one: Single, deed: Deed) -> None:
    """Do what is next by the one key; forms are filled in at arm's length before."""
    step = next_step(one.model.state)
    if isinstance(deed, Act):
        one.play.controls.act(deed.name)
    elif isinstance(deed, DoTap) and _not_next(deed, step):
        # Said at the PC: what nobody has to say yet, and the other answers to a question.
        one.model.tap(deed.kind, **deed.fields)
    elif step.do is Do.READ_CAUTIONS:
        one.hold(CAUTION_S + 0.1)
    elif step.press is not None or step.closes:
        one.press()
    elif step.form is not None and isinstance(deed, DoTap):
        one.play.do(deed)
        one.press()
    else:
        assert not isinstance(deed, AskVerdict)


def test_a_whole_check_by_the_single_button(qtbot: QtBot) -> None:
    with single() as one:
        one.play.hands = Fills(one.play.window, keyboard=True)
        one.arm()
        views = set()
        while one.model.state.closed is None:
            assert one.clock.now < 3600, (one.do, one.said[-3:])
            one.wait(TICK_S)
            views.add((one.model.state.stage, one.distances.is_far))
            deed = one.play.technician.next_deed(one.model.state, one.play.controls.view)
            if deed is not None:
                work(one, deed)
        record = one.play.bay.load(newest(one.play.bay))
    assert record.header.verdict is Verdict.CORRECTED
    # The far view came by itself once the vehicle was up, and went before the torque is keyed.
    assert {(Stage.TEMPERATURE, True), (Stage.LEVEL, True), (Stage.CLOSE, False)} <= views
    assert (Stage.RAISE, True) not in views


def test_a_form_that_would_not_be_taken_says_why_in_the_far_view_too(qtbot: QtBot) -> None:
    with single() as one:
        one.arm()
        one.play.page.vin.setText("0THK5")
        if not one.distances.is_far:
            one.distances.toggle()
        one.press()
        assert one.model.state.vehicle is None
        assert one.said[-1].startswith("At the PC: ")
        assert "has 5 characters" in one.said[-1]
        assert one.said[-1] in one.distances.far.told.text()


def test_presses_at_the_plug(qtbot: QtBot) -> None:
    with single() as one:
        one.until(Do.READ_CAUTIONS)
        assert next_step(one.model.state).word == Stage.RAISE
        one.until(Do.WARM_UP)
        assert one.distances.is_far
        one.press()
        assert one.said[-1].startswith("Not yet: Wait")
        one.until(Do.READ_CAUTIONS)
        # A short press acknowledges no caution; the far view shows what is to be read.
        assert "Hot fluid follows; hot metal" in one.distances.far.next.text()
        one.press()
        assert "Hold" in one.said[-1]
        assert Stage.PLUG_OUT not in one.model.state.cautions_seen
        one.hold(CAUTION_S + 0.1)
        assert Stage.PLUG_OUT in one.model.state.cautions_seen
        assert one.do is Do.TAKE_PLUG_OUT
        one.wait(12.0)
        at = one.clock.now
        one.hold(LONG_S + 0.05)
        out = one.model.state.plug_spans[-1].since
        # 10 s before the bar was full; what the clock did besides is this test's own.
        assert out == pytest.approx(at + BOUNCE_S + NEW_S + LONG_S + 0.05 - AGO_S, abs=1e-6)
        _take_back_and_again(one)
        _judged_against_what_was_shown(one)


def _take_back_and_again(one: Single) -> None:
    """Page Up takes the plug back in; a bounce and an auto-repeat are no presses."""
    assert "Page Up takes back: plug out" in one.distances.far.undo.text()
    one.hold(0.1, UNDO)
    assert not one.model.state.plug_is_out
    one.press()
    assert one.model.state.plug_is_out
    assert one.do is Do.JUDGE_FLOW
    one.clock.now += 0.4
    one.model.step()
    one.down()  # a worn switch
    one.up()
    assert one.model.state.level.flow is None
    one.wait(BOUNCE_S + NEW_S)
    where = QApplication.focusWidget() or one.play.window
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        repeated = QKeyEvent(kind, KEY, Qt.KeyboardModifier.NoModifier, "", True)
        QApplication.sendEvent(where, repeated)
    assert one.button._button.held_s(one.clock.now) is None
    assert one.model.state.level.flow is None


def _judged_against_what_was_shown(one: Single) -> None:
    """The screen asks something else by the time the key goes up: the answer is to the former."""
    one.wait(BOUNCE_S + NEW_S)
    one.down()
    one.model.tap(ev.FlowJudged, flow=ev.Flow.NOTHING)
    one.wait(0.0)
    assert one.do is not Do.JUDGE_FLOW
    one.clock.now += 0.1
    one.up()
    flow = one.model.state.level.flow
    assert flow is not None
    assert flow.flow is ev.Flow.RUNS
    # And what has only just come up cannot have been read.
    one.wait(BOUNCE_S + NEW_S)
    one.model.tap(ev.FlowJudged, flow=ev.Flow.NOTHING)
    one.model.tap(Undone)
    one.button.announce(one.button._shown)  # type: ignore[arg-type] # shown by now
    one.play.controls.act("engine off")
    one.wait(3.0)
    assert one.do is Do.PUT_PLUG_IN
    one.down()
    one.up()
    assert "This is new" in one.said[-1]
    assert one.model.state.plug_is_out
    one.press()
    assert not one.model.state.plug_is_out


def test_in_a_field_the_key_still_counts_and_types_nothing(qtbot: QtBot) -> None:
    with single() as one:
        vin = one.play.page.vin
        vin.setFocus()
        one.press()  # the screen has announced nothing: it does so from now on
        assert one.distances.line.isVisible()
        assert not one.said
        one.press()
        assert one.said[-1].startswith("At the PC: ")
        QTest.keyClicks(vin, "0THF")
        assert vin.text() == "0THF"
        assert one.model.state.vehicle is None
        one.play.hands = Fills(one.play.window, keyboard=True)
        deed = None
        while deed is None:
            one.wait(TICK_S)
            deed = one.play.technician.next_deed(one.model.state, one.play.controls.view)
        one.play.do(deed)
        one.wait(1.0)
        assert one.distances.line.press.text().endswith("Press: send what is filled in")
        one.press()
        assert one.model.state.vehicle is not None
        assert next_step(one.model.state).form is Form.FLUID
        one.hold(0.1, UNDO)
        assert one.model.state.vehicle is None


def test_the_far_view_comes_and_goes_by_its_key(qtbot: QtBot) -> None:
    with single() as one:
        one.until(Do.WARM_UP)
        assert one.distances.is_far
        assert not one.play.window.head.isVisible()
        one.hold(0.1, FAR)
        assert not one.distances.is_far
        assert one.play.window.head.isVisible()
        before = len(one.check.chart._snapshot.traces)  # type: ignore[union-attr] # fed by now
        one.until(Do.READ_CAUTIONS)
        assert not one.distances.is_far  # left by hand, it does not come back by itself
        one.hold(0.1, FAR)
        assert one.distances.is_far
        snapshot = one.check.chart._snapshot
        assert snapshot is not None
        assert len(snapshot.traces) == before
        assert snapshot.state.now > one.clock.now - 1  # the chart is fed behind it
        one.check.ask_abort()
        assert not one.distances.is_far  # a question is never covered


class TestHeldKey:
    def test_a_press_counts_once(self) -> None:
        key = HeldKey()
        assert key.down(10.0)
        assert not key.down(10.1)
        assert key.held_s(10.5) == pytest.approx(0.5)
        assert key.up(10.6)
        assert not key.up(10.7)
        assert key.held_s(10.8) is None

    def test_bounces_belong_to_the_press_and_do_not_prolong_it(self) -> None:
        key = HeldKey()
        assert key.down(0.0)
        assert key.up(0.1)
        for t in (0.2, 0.5, 0.9, 1.05):
            assert not key.down(t)
            assert not key.up(t)
        assert key.down(0.1 + BOUNCE_S)

    def test_a_key_that_was_let_go_unseen_counts_again(self) -> None:
        key = HeldKey()
        assert key.down(0.0)
        assert not key.down(GIVEN_UP_S - 0.1)
        assert key.down(GIVEN_UP_S)


def test_cautions_of_another_stage_are_no_press(qtbot: QtBot) -> None:
    """Held before anything is announced, the button acknowledges nothing."""
    with single() as one:
        one.until(Do.READ_CAUTIONS)
        assert not one.button.announces
        one.hold(CAUTION_S + 1)
        assert not one.model.state.cautions_seen
        one.hold(CAUTION_S + 1)
        assert one.model.state.cautions_seen == {Stage.RAISE}


def test_who_has_looked_is_not_kept_waiting(qtbot: QtBot) -> None:
    """The screen asks to look and press again: a bounce is told so too, the press is taken."""
    with single() as one:
        one.until(Do.JUDGE_FLOW)
        one.arm()
        one.wait(5.0)
        one.play.controls.act("engine off")
        one.wait(3.0)
        assert one.do is Do.PUT_PLUG_IN
        told = "This is new: look, then press."
        for _ in range(2):
            one.down()
            one.up()
            assert one.said[-1] == told
            one.clock.now += NEW_S / 2
        assert one.said[-2:] == [told, told]
        assert one.model.state.plug_is_out
        one.clock.now += NEW_S
        one.down()
        one.up()
        assert not one.model.state.plug_is_out


def test_a_key_that_goes_up_under_another_key_goes_up(qtbot: QtBot) -> None:
    with single() as one:
        one.until(Do.TAKE_PLUG_OUT)
        one.arm()
        one.wait(BOUNCE_S + NEW_S)
        one.down()
        one.clock.now += 0.1
        where = QApplication.focusWidget() or one.play.window
        QTest.keyRelease(where, KEY, Qt.KeyboardModifier.ShiftModifier)
        assert one.button._button.held_s(one.clock.now) is None
        assert one.model.state.plug_spans[-1].since == pytest.approx(one.clock.now, abs=1.0)
