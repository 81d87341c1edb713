"""The one-button way: a key confirms the next step, another takes the last answer back.

A foot switch or a presenter remote sends a key like any keyboard. What a press does is what the
screen announced when the key went down, never anything else.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from brimline.procedure.acknowledging import Undone
from brimline.procedure.doing import Do, NextStep
from brimline.translation import marked, tr
from brimline.ui.hands.held_key import CAUTION_S, HeldKey
from brimline.ui.hands.letting_go import LettingGo
from brimline.ui.model import CheckModel
from brimline.wording import next_step as words

LONG_S = 0.8
"""A press held for so long (s) says that it happened a moment ago (our choice)."""

AGO_S = 10.0
"""How long ago that is, in s of the check (our choice): from the plug to the switch and back."""

SHOWN_AFTER_S = 0.3
"""From then on a bar shows how long the button has been held, in s; a tap shows none."""

NEW_S = 0.25
"""What has been shown for less, in s, nobody can have read: a simple reaction takes some 0.2 s
(from memory)."""

TICK_MS = 30

BUTTON_KEYS = {
    "PageDown": (Qt.Key.Key_PageDown, marked("Page Down")),
    "End": (Qt.Key.Key_End, marked("End")),
    "F8": (Qt.Key.Key_F8, "F8"),
    "F12": (Qt.Key.Key_F12, "F12"),
    "VolumeUp": (Qt.Key.Key_VolumeUp, marked("Volume up")),
    "MediaNext": (Qt.Key.Key_MediaNext, marked("Next track")),
}
"""Keys that may be the button, by their names in the settings: none of them types anything."""

ALWAYS = Qt.Key.Key_F10
UNDO, UNDO_WORDS = Qt.Key.Key_PageUp, marked("Page Up")
FAR_KEY = Qt.Key.Key_F9


@dataclass(frozen=True)
class Announced:
    """What the screen says that a press does.

    :param send: sends the form that is filled in, where it can be sent.
    :param why_not: why it cannot be, in one sentence, as far as that is known.
    """

    step: NextStep
    send: Callable[[], object] | None = None
    why_not: str = ""

    def same_as(self, other: Announced | None) -> bool:
        """Whether a press would do the same."""
        if other is None:
            return False
        ours, theirs = self.step, other.step
        return (ours.do, ours.presses, ours.word, self.send is None) == (
            theirs.do, theirs.presses, theirs.word, other.send is None
        )  # fmt: skip

    @property
    def hold_s(self) -> float | None:
        """After how long (s) a press does what holding it does; ``None``: as a short one."""
        if self.step.do is Do.READ_CAUTIONS:
            return CAUTION_S
        return LONG_S if self.step.may_be_late else None


class OneButton(QObject):
    """Listens to the keys while a window is worked with.

    ``told`` carries why nothing was done, in one sentence, and is what a sound goes with;
    ``held`` how much of a long press has gone by, 0 to 1; ``wanted`` that a press came while the
    screen announced nothing; ``far`` that the other distance is asked for.
    """

    told = Signal(str)
    held = Signal(float)
    wanted = Signal()
    far = Signal()

    def __init__(
        self,
        model: CheckModel,
        key: str,
        owner: QWidget,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__(owner)
        self._model, self._owner = model, owner
        self.clock = clock
        chosen, self.key_words = BUTTON_KEYS.get(key, BUTTON_KEYS["PageDown"])
        self._keys = {chosen, ALWAYS}
        self.announces = False
        """Whether the screen says what a press does."""
        self._button, self._undo = HeldKey(), HeldKey()
        self._shown: Announced | None = None
        self._shown_at = 0.0
        self._latched: Announced | None = None
        self._letting_go = LettingGo(self, self._gone)
        self._timer = QTimer(self)
        self._timer.setInterval(TICK_MS)
        self._timer.timeout.connect(self.tick)
        app = QApplication.instance()
        if app is not None:
            app.installEventFilter(self)

    def announce(self, now: Announced) -> None:
        """Say what the screen announces from now on."""
        if not now.same_as(self._shown):
            self._shown_at = self.clock()
        self._shown = now

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Take the button's keys, wherever the keyboard is; everything else goes its way."""
        kind = event.type()
        if kind is QEvent.Type.WindowDeactivate and self._latched is not None:
            self._let_go()
        if kind not in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.ShortcutOverride):
            return False
        if not isinstance(watched, QWidget) or not isinstance(event, QKeyEvent):
            return False
        if watched.window() is not self._owner.window() or not self._owner.isVisible():
            return False
        return self._take(event, kind)

    def _take(self, event: QKeyEvent, kind: QEvent.Type) -> bool:
        key = event.key()
        if key not in self._keys and key not in (UNDO, FAR_KEY):
            return False
        changed = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if changed and kind is not QEvent.Type.KeyRelease:  # what was pressed alone goes up anyhow
            return False
        if kind is QEvent.Type.ShortcutOverride:
            event.accept()
        elif kind is QEvent.Type.KeyPress:
            if not self._letting_go.repeats(event):
                self._press(key)
        elif not event.isAutoRepeat():
            self._letting_go.up(event)
        return True

    def _press(self, key: int) -> None:
        if key in self._keys:
            self._down()
        elif key == FAR_KEY:
            self.far.emit()
        elif self._undo.down(self.clock()):
            self.take_back() if self.announces else self.wanted.emit()

    def _gone(self, key: int) -> None:
        if key in self._keys:
            self._up()
        elif key == UNDO:
            self._undo.up(self.clock())

    def _down(self) -> None:
        now = self.clock()
        if not self._button.down(now):
            return
        if not self.announces:
            self._button.end(now)
            self.wanted.emit()
            return
        if self._shown is None or now < self._shown_at + NEW_S:
            self._button.drop()
            self._shown_at = now  # a bounce of this press has not looked either
            self.told.emit(tr("This is new: look, then press."))
            return
        self._latched = self._shown
        self._timer.start()

    def tick(self) -> None:
        """Look how long the button has been held."""
        held, latched = self._button.held_s(self.clock()), self._latched
        if held is None or latched is None or latched.hold_s is None:
            return
        if held >= latched.hold_s:
            self._end()
            self._do(latched, is_long=True)
        elif held >= SHOWN_AFTER_S:
            self.held.emit(held / latched.hold_s)

    def _up(self) -> None:
        self.tick()  # the last moment counts, whenever the timer comes
        latched = self._latched
        if self._button.up(self.clock()) and latched is not None:
            self._end()
            self._do(latched, is_long=False)

    def _let_go(self) -> None:
        """Another window has the keyboard: whether the key is still held is not known."""
        if self._latched is not None:
            self._end()

    def _end(self) -> None:
        self._button.end(self.clock())
        self._latched = None
        self._timer.stop()
        self.held.emit(0.0)

    def _do(self, what: Announced, *, is_long: bool) -> None:
        step = what.step
        if step.do is Do.READ_CAUTIONS and not is_long:
            self.told.emit(tr("Hold the button until the bar is full."))
        elif step.press is not None:
            fields = dict(step.press.fields)
            if is_long and step.may_be_late:
                opened = self._model.state.opened.t
                fields["happened"] = max(opened, self._model.session.now - AGO_S)
            self._model.tap(step.press.kind, **fields)
        elif what.send is not None:
            what.send()
        else:
            self.told.emit(self._why_not(what))

    def _why_not(self, what: Announced) -> str:
        state, step = self._model.state, what.step
        said = what.why_not or words.short(step, self._model.units, state.now)
        if step.form is not None or step.closes:
            return tr("At the PC: {what}", what=said)
        return tr("Not yet: {what}", what=said)

    def take_back(self) -> None:
        """Take the latest answer back; refused where nothing may be."""
        self._model.tap(Undone)
