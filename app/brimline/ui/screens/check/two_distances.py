"""Which of a check's two views is up: the one for arm's length, or the one for under the vehicle.

The far view comes by itself when the raise step is done, and goes by itself when forms are wanted
again; a key and a button switch as well. The one button works in both, and both say what it does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QStackedLayout, QVBoxLayout, QWidget

from brimline import wording
from brimline.procedure import facts
from brimline.procedure.doing import Do, Form, NextStep
from brimline.procedure.next_step import next_step
from brimline.procedure.reasons import Reason
from brimline.procedure.state import CheckState, Stage
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.translation import joined, tr
from brimline.ui.hands.one_button import UNDO_WORDS, Announced, OneButton
from brimline.ui.model import CheckModel
from brimline.ui.ports.services import FromAfar
from brimline.ui.screens.check import far_words
from brimline.ui.screens.check.button_line import ButtonLine
from brimline.ui.screens.check.by_hand import ByHandStrip
from brimline.ui.screens.check.far_view import FarOffer, FarView
from brimline.ui.screens.check.page import Page
from brimline.ui.tokens import Palette
from brimline.wording import next_step as words

TOLD_S = 6.0
"""For how long, in s, it is shown why a press did nothing."""

_NEAR, _FAR = 0, 1  # their places in the stack

_UNDER = (Stage.TEMPERATURE, Stage.PLUG_OUT, Stage.LEVEL)
_AT_THE_PC = (Stage.CLOSE, Stage.CONDITION, Stage.RECORD, Stage.OVER)


@dataclass(frozen=True)
class NearParts:
    """What the view for arm's length lends.

    :param page: returns the page of a stage.
    :param asks: whether a question is open that must not be covered.
    :param under_far: makes what stands under the far view, from what leads back; may be nothing.
    """

    near: QWidget
    page: Callable[[Stage], Page]
    by_hand: ByHandStrip
    asks: Callable[[], bool]
    under_far: Callable[[Callable[[], None]], QWidget | None] = lambda _back: None


class TwoDistances(QObject):
    """Holds both views on a screen; ``changed`` carries whether the far one is up."""

    changed = Signal(bool)

    def __init__(
        self, screen: QWidget, parts: NearParts, model: CheckModel, palette: Palette, afar: FromAfar
    ) -> None:
        super().__init__(screen)
        self._parts, self._model = parts, model
        self.button = OneButton(model, afar.button_key, screen)
        self.line = ButtonLine(self.button.take_back)
        self.far = FarView(model.units, palette, afar.distance_m, self.leave, self.button.take_back)
        self._stack = QStackedLayout(screen)
        self._stack.addWidget(parts.near)
        self._stack.addWidget(self._far_page(parts.under_far(self.leave)))
        self._stage: Stage | None = None
        self._told, self._told_until = "", 0.0
        self._snapshot: Snapshot | None = None
        button = self.button
        button.told.connect(self.tell)
        button.held.connect(self.far.show_held)
        button.held.connect(self.line.show_held)
        button.wanted.connect(self._show_line)
        button.far.connect(self.toggle)
        model.refused.connect(self._show_refusal)

    def _far_page(self, under: QWidget | None) -> QWidget:
        if under is None:
            return self.far
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.far, 1)
        column.addWidget(under)
        return page

    @property
    def is_far(self) -> bool:
        """Whether the far view is up."""
        return self._stack.currentIndex() == _FAR

    def toggle(self) -> None:
        """Show the other view."""
        self.leave() if self.is_far else self._go_far()

    def leave(self) -> None:
        """Show the view for arm's length."""
        if self.is_far:
            self._turn(_NEAR)

    def _go_far(self) -> None:
        self._turn(_FAR)
        self.far.setFocus(Qt.FocusReason.OtherFocusReason)

    def _turn(self, view: int) -> None:
        self._stack.setCurrentIndex(view)
        self.button.announces = self.is_far or self.line.isVisibleTo(self._parts.near)
        self.changed.emit(self.is_far)
        if self._snapshot is not None:
            self._show(self._snapshot)

    def _show_line(self) -> None:
        """Somebody has the button in the hand: from now on the screen says what it does."""
        self.line.show()
        self.button.announces = True
        if self._snapshot is not None:
            self._show(self._snapshot)

    def tell(self, sentence: str) -> None:
        """Say for a while why nothing was done."""
        self._told, self._told_until = sentence, self.button.clock() + TOLD_S
        if self._snapshot is not None:
            self._show(self._snapshot)

    def _show_refusal(self, refused: tuple[Reason, ...]) -> None:
        self._told = ""
        if refused:
            self.tell(wording.sentence(refused[0], self._model.units))

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check in whichever view is up, and change over where it is time."""
        self._snapshot = snapshot
        before, stage = self._stage, snapshot.state.stage
        self._stage = stage
        if before is Stage.RAISE and stage in _UNDER and self._may_go(snapshot.state):
            self._go_far()
        elif before is not None and before not in _AT_THE_PC and stage in _AT_THE_PC:
            self.leave()
        self._show(snapshot)

    def _may_go(self, state: CheckState) -> bool:
        """Where temperatures are keyed, the field for them stays in sight."""
        measured = facts.is_measured(state, SignalName.FLUID_TEMPERATURE)
        return measured and not self._parts.asks()

    def _show(self, snapshot: Snapshot) -> None:
        state, button = snapshot.state, self.button
        step = next_step(state)
        now = self._announced(step, state) if button.announces else Announced(step)
        button.announce(now)
        if not button.announces:
            return
        if button.clock() >= self._told_until:
            self._told = ""
        offer = self._offer(now, state)
        if self.is_far:
            self.far.show_snapshot(snapshot, offer)
        else:
            short = words.short(step, self._model.units, state.now)
            key = joined((tr(button.key_words), "F10"), " / ")
            self.line.show_words(short, offer.press, self._told, offer.undo, key)

    def _offer(self, now: Announced, state: CheckState) -> FarOffer:
        step = now.step
        cautions: tuple[str, ...] = ()
        if step.do is Do.READ_CAUTIONS:
            cautions = self._parts.page(Stage(step.word)).read_first(state)
        return FarOffer(
            step,
            far_words.press(step, form_ready=now.send is not None),
            far_words.undo(state, tr(UNDO_WORDS)),
            tr("Button: {key} · F9: back", key=tr(self.button.key_words)),
            self._told,
            cautions,
        )

    def _announced(self, step: NextStep, state: CheckState) -> Announced:
        """Return the step with what sends the form that is wanted, where it is filled in and would
        be taken, or with why not.
        """
        if step.press is not None:
            return Announced(step)
        if step.form is Form.TEMPERATURE:
            strip = self._parts.by_hand
            return Announced(step, strip.take if strip.temperature.text().strip() else None)
        page = self._parts.page(state.stage)
        what = page.confirm(step)
        if what is None:
            return Announced(step)
        against = None if step.closes else self._model.against(what)
        if against is not None:
            return Announced(step, why_not=against)
        return Announced(step, lambda: page.attempt(what))
