"""The guided check: stepper, the stage's page, figures, chart, and what stands against the plug."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeySequence, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from brimline import wording
from brimline.procedure import events as ev
from brimline.procedure import facts
from brimline.procedure.acknowledging import Undone
from brimline.procedure.events import Item
from brimline.procedure.reasons import Reason
from brimline.procedure.state import Stage
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.translation import tr
from brimline.ui.demo_strip import DemoControls, DemoLine, DemoStrip
from brimline.ui.forms import button, label, main_tap, on_edit
from brimline.ui.hands.number_pad import NumberPad
from brimline.ui.hands.steady import Steady
from brimline.ui.model import CheckModel
from brimline.ui.ports.services import AS_USUAL, FromAfar
from brimline.ui.screens.check.again_panel import AgainPanel
from brimline.ui.screens.check.alarm_list import KEY, AlarmList
from brimline.ui.screens.check.by_hand import ByHandStrip
from brimline.ui.screens.check.closing_pages import ClosePage, ConditionPage, RecordPage
from brimline.ui.screens.check.columns import Body, focus_first, scrolling
from brimline.ui.screens.check.drawers import (
    AbortDrawer,
    Drawer,
    HandOverDrawer,
    OverrideDrawer,
    StrippedDrawer,
)
from brimline.ui.screens.check.fell_back import FellBack
from brimline.ui.screens.check.ground_pages import FluidPage, GroundPage, SensorPage
from brimline.ui.screens.check.identify_page import IdentifyPage
from brimline.ui.screens.check.level_page import LevelPage
from brimline.ui.screens.check.lift_pages import PlugOutPage, RaisePage, TemperaturePage
from brimline.ui.screens.check.not_saved import NotSavedBand, RescueDrawer, saved_again
from brimline.ui.screens.check.page import Page
from brimline.ui.screens.check.silent_bar import GiveUpDrawer, SilentBar, source_words
from brimline.ui.screens.check.take_back import TakeBack
from brimline.ui.screens.check.two_distances import NearParts, TwoDistances
from brimline.ui.tokens import Palette, Space
from brimline.ui.widgets.figures import BigFigures
from brimline.ui.widgets.reasons import ReasonList
from brimline.ui.widgets.stepper import Stepper
from brimline.ui.widgets.strip_chart import StripChart

PAGES: tuple[type[Page], ...] = (
    IdentifyPage, FluidPage, SensorPage, GroundPage, RaisePage, TemperaturePage, PlugOutPage,
    LevelPage, ClosePage, ConditionPage, RecordPage,
)  # fmt: skip

LEFT_PX, PAGE_PX = 258, 402
"""So wide that a scroll bar beside the columns covers nothing of them at 1280 px."""

PAGE_PART, MOST_PAGE_PX = 0.3, 640
"""Of a wider window the page has this part (1), up to where lines become too long to read."""


class CheckScreen(QWidget):
    """One running check on the screen.

    :param demo: a simulated vehicle, for the strip at the bottom.
    :param palette: of the chart and the figures, which are drawn and not styled.
    :param after: what is shown once the check has closed, under the verdict.
    :param afar: from how far it is read under the vehicle, and the key of the one button.
    """

    def __init__(
        self,
        model: CheckModel,
        palette: Palette,
        demo: DemoControls | None,
        after: Callable[[], QWidget],
        afar: FromAfar = AS_USUAL,
    ) -> None:
        super().__init__()
        self.model = model
        self._after = after
        self.stepper = Stepper()
        self.figures = BigFigures(model.units)
        self.chart = StripChart(palette, model.units)
        self.reasons = ReasonList(
            model.units,
            tr("What stands against taking the plug out"),
            tr("Nothing stands against taking the plug out."),
        )
        self.reasons.override_asked.connect(self._ask_override)
        self.reasons.widened.connect(self._share_room)
        self.not_saved = NotSavedBand()
        self.saved_again = label("", "good")
        self.again = AgainPanel(model)
        self.alarms = AlarmList(model)
        shortcut = QShortcut(QKeySequence(KEY), self, self.alarms.acknowledge_first)
        shortcut.setAutoRepeat(False)
        self.trouble = label("", "alarm")
        self.silent = SilentBar(self._ask_give_up)
        self.by_hand = ByHandStrip(model)
        self.fell_back = FellBack(model.units)
        self.said = label("", "bad")
        self.take_back = TakeBack(lambda: model.tap(Undone))
        self.pages: dict[Stage, Page] = {}
        self.stack = QStackedWidget()
        self.pad = NumberPad()
        self.steady = Steady(self)
        self.steady.dropped.connect(self._say_why)
        self.steady.over.connect(lambda said: self.say("") if self.said.text() == said else None)
        self._drawer: Drawer | None = None
        self._stage: Stage | None = None
        self._demo = demo
        self.strip = DemoStrip(demo, model.units) if demo is not None else None
        self.far_line: DemoLine | None = None
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        near = QWidget()
        parts = NearParts(
            near, self.page, self.by_hand, lambda: self._drawer is not None, self._under_far
        )
        self.distances = TwoDistances(self, parts, model, palette, afar)
        self.distances.changed.connect(self._change_over)
        self._lay_out(near)
        model.changed.connect(self._show)
        model.refused.connect(self._show_refusal)
        model.closed.connect(self._show_closed)

    def _lay_out(self, near: QWidget) -> None:
        whole = QVBoxLayout(near)
        whole.setContentsMargins(Space.SMALL, Space.MEDIUM, Space.SMALL, Space.MEDIUM)
        whole.setSpacing(Space.MEDIUM)
        # Alarms on top, so that nothing which comes or goes moves them under a finger; what they
        # move takes no press for a moment (`steady`).
        for strip in (self.alarms, self.not_saved, self.trouble, self.saved_again):
            whole.addWidget(strip)
        whole.addWidget(self.silent)
        columns = QHBoxLayout()
        columns.setSpacing(Space.SMALL)
        columns.addWidget(self._left())
        columns.addWidget(self._middle())
        # Where alarms and strips leave too little room figures and chart scroll, and nothing covers
        # them; steps and page do so by themselves, and what stops a check stays in sight.
        self.whole = scrolling(Body(self._right()))
        self.steady.allow_scrolling(self.whole)
        beside = QVBoxLayout()
        beside.setSpacing(Space.MEDIUM)
        beside.addWidget(self.whole, 1)
        beside.addWidget(self.pad, 0, Qt.AlignmentFlag.AlignLeft)
        self.pad.opened.connect(self.against.hide)  # its room is the pad's
        columns.addLayout(beside, 1)
        whole.addLayout(columns, 1)
        self._across = QVBoxLayout()
        whole.addLayout(self._across)
        whole.addWidget(self.by_hand)
        whole.addWidget(self.distances.line)
        if self.strip is not None:
            whole.addWidget(self.strip)

    def _left(self) -> QWidget:
        frame = QFrame()
        frame.setProperty("role", "panel")
        frame.setFixedWidth(LEFT_PX)
        column = QVBoxLayout(frame)
        column.setContentsMargins(Space.SMALL, Space.SMALL, Space.SMALL, Space.SMALL)
        column.addWidget(self.stepper, 1)
        self.source = label("", "small")
        self.source.setToolTip(wording.source(self.model.state.opened.source))
        column.addWidget(self.source)
        self.source.setHidden(self.strip is not None)  # a simulated vehicle says so itself
        self.lowered = main_tap(button(tr("I unlock the lift"), self._lower))
        self.lowered.hide()
        column.addWidget(self.lowered)
        column.addWidget(button(tr("Far view (F9)"), self.distances.toggle))
        self.hand_over = main_tap(button(tr("Hand over"), self._ask_hand_over))
        self.abort = button(tr("Stop…"), self.ask_abort, "stop")
        row = QHBoxLayout()
        row.setSpacing(Space.SMALL)
        row.addWidget(self.hand_over, 1)
        row.addWidget(self.abort, 1)
        column.addLayout(row)
        return frame

    def _middle(self) -> QWidget:
        frame = QFrame()
        frame.setProperty("role", "panel")
        frame.setFixedWidth(PAGE_PX)
        self._page_frame = frame
        column = QVBoxLayout(frame)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.SMALL, Space.MEDIUM)
        column.addWidget(self.stack, 1)
        column.addWidget(self.take_back)
        self.said.hide()
        return frame

    def _right(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.MEDIUM)
        column.addWidget(self.figures)
        column.addWidget(self.again)
        column.addWidget(self.chart, 3)
        self.against = QFrame()
        self.against.setProperty("role", "panel")
        below = QVBoxLayout(self.against)
        below.setContentsMargins(Space.LARGE, Space.TIGHT, Space.SMALL, Space.TIGHT)
        below.addWidget(self.reasons)
        column.addWidget(self.against, 2)
        return column

    def _under_far(self, back: Callable[[], None]) -> QWidget | None:
        """A simulated vehicle is worked from under it, too."""
        if self._demo is not None:
            self.far_line = DemoLine(self._demo, self.model.units, back)
        return self.far_line

    def page(self, stage: Stage) -> Page:
        """Return the page of a stage, made when it is first wanted."""
        shown = Stage.RECORD if stage is Stage.OVER else stage
        if shown not in self.pages:
            kind = next(kind for kind in PAGES if kind.stage is shown)
            made = kind(self.model, self.say, self._ask_stripped)
            on_edit(made, lambda: self.say(""))
            self.pages[shown] = made
            self.steady.allow_scrolling(made.area)
            self.stack.addWidget(made)
        return self.pages[shown]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Give the page its part of the width."""
        super().resizeEvent(event)
        part = round(PAGE_PART * event.size().width())
        self._page_frame.setFixedWidth(min(max(PAGE_PX, part), MOST_PAGE_PX))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """From now on a button must stand still before it is pressed."""
        super().showEvent(event)
        self.steady.begin()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is pressed here any more."""
        super().hideEvent(event)
        self.steady.end()

    def say(self, sentence: str) -> None:
        """Show a sentence above the page's foot; an empty one takes it away."""
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def _say_why(self, sentence: str) -> None:
        """Say why a press did nothing, in the view that is up."""
        (self.distances.tell if self.distances.is_far else self.say)(sentence)

    def _show(self, snapshot: Snapshot) -> None:
        page = self.page(snapshot.state.stage)
        page.show_snapshot(snapshot)
        if self._stage is not page.stage:
            self._turn_to(page)
        self.fell_back.show_state(snapshot.state)
        if self._drawer is not None:
            self._drawer.show_state(snapshot.state)
        self.lowered.setVisible(facts.raised(snapshot.state) and snapshot.state.closed is None)
        self.stepper.show_snapshot(snapshot)
        self.figures.show_snapshot(snapshot)
        self.chart.show_snapshot(snapshot)
        self.reasons.show_reasons(snapshot.against_plug)
        waiting = snapshot.state.end is None and not snapshot.state.plug_is_out
        self.again.show_snapshot(snapshot)
        if self._drawer is not None:
            self.again.hide()
        free = self._drawer is None and self.again.isHidden() and self.pad.isHidden()
        self.against.setVisible(waiting and free and not snapshot.state.aborted)
        self._share_room()
        self.alarms.show_snapshot(snapshot)
        self.trouble.setText("\n".join(snapshot.troubles))
        self.trouble.setVisible(bool(snapshot.troubles))
        self._show_saving(snapshot)
        self.silent.show_snapshot(snapshot)
        if isinstance(self._drawer, GiveUpDrawer):
            self.silent.hide()  # the question says it, and needs the room
        self.by_hand.show_snapshot(snapshot)
        self.source.setText(source_words(snapshot.state))
        if self.strip is not None and self.far_line is not None:
            self.strip.show_snapshot(snapshot)
            self.far_line.show_snapshot(snapshot)
        self.distances.show_snapshot(snapshot)
        if self.distances.line.isHidden():  # that line has the same
            self.take_back.show_state(snapshot.state)
        else:
            self.take_back.hide()

    def _share_room(self) -> None:
        """Where all reasons are wanted they have the room of the chart."""
        self.chart.setVisible(self.against.isHidden() or not self.reasons.is_wide)

    def set_palette(self, palette: Palette) -> None:
        """Draw in another look what is drawn and not styled."""
        self.chart.set_palette(palette)
        self.distances.far.set_palette(palette)

    def _change_over(self, is_far: bool) -> None:
        """Back at arm's length the keyboard goes to what is wanted there."""
        if not is_far:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
            focus_first(self._drawer or self.page(self.model.state.stage))

    def _turn_to(self, page: Page) -> None:
        """Show another page. A person who is typing elsewhere keeps the keyboard, and no page
        begins on a button: a key meant for something else must not say that a plug is out.
        """
        self._stage = page.stage
        self.reasons.widen(wide=False)
        self.whole.verticalScrollBar().setValue(0)
        at = QApplication.focusWidget() or self
        holders = (self._drawer, self.silent, self.by_hand, self.again)
        elsewhere = any(holder is not None and holder.isAncestorOf(at) for holder in holders)
        if not elsewhere:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        for note in (self.fell_back, self.said):
            page.notes.addWidget(note)
        self.say(self.said.text())
        self.stack.setCurrentWidget(page)
        if not elsewhere:
            focus_first(page)

    def _show_saving(self, snapshot: Snapshot) -> None:
        self.not_saved.show_snapshot(snapshot)
        again = saved_again(snapshot)
        if self.saved_again.text() != again:
            self.saved_again.setText(again)
        self.saved_again.setVisible(bool(again))

    def _show_refusal(self, refused: tuple[Reason, ...]) -> None:
        self.say("\n".join(wording.sentence(reason, self.model.units) for reason in refused[:4]))

    def _show_closed(self, _state: object) -> None:
        self.page(Stage.RECORD).add_at_foot(self._after())
        for made in (self.hand_over, self.abort):
            made.setEnabled(False)
        if self.strip is not None and self.far_line is not None:
            self.strip.hide()
            self.far_line.hide()

    def _lower(self) -> None:
        self.model.tap(ev.Withdrawn, item=Item.LIFT_LOCKED)

    def _ask_stripped(self) -> None:
        self._open(StrippedDrawer(self.model, self.close_drawer))

    def _ask_override(self, reason: Reason) -> None:
        self._open(OverrideDrawer(reason, self.model, self.close_drawer))

    def ask_abort(self) -> None:
        """Open the question that stops the check."""
        self._open(AbortDrawer(self.model, self.close_drawer))

    def ask_rescue(self, rescue: Callable[[], Path] | None, close: Callable[[], None]) -> None:
        """Open the question before the program ends with something in memory only."""
        self._open(RescueDrawer(self.model, self.close_drawer, rescue, close))

    def _ask_give_up(self, signal: SignalName) -> None:
        self._open(GiveUpDrawer(signal, self.model, self.close_drawer))

    def _ask_hand_over(self) -> None:
        self._open(HandOverDrawer(self.model, self.close_drawer))

    def _open(self, drawer: Drawer) -> None:
        self.close_drawer()
        self.distances.leave()
        self._drawer = drawer
        on_edit(drawer, lambda: self.say(""))
        self._across.addWidget(drawer)
        self.against.hide()
        self._share_room()
        focus_first(drawer)

    def close_drawer(self) -> None:
        """Put a question away without an answer."""
        if self._drawer is not None:
            self._across.removeWidget(self._drawer)
            self._drawer.hide()
            self._drawer.deleteLater()
            self._drawer = None
            self.model.step()
