"""Has said aloud what is due in a running check, and shows what was said last.

Listens to the check's model and decides nothing: what is due, :mod:`brimline.prompts` says; how it
is heard is :mod:`.voice`'s business.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout

from brimline import prompts
from brimline.config import Settings, SoundSettings
from brimline.errors import BrimlineError
from brimline.procedure.state import CheckState
from brimline.prompts import Heard, Prompt
from brimline.session import Snapshot
from brimline.translation import tr
from brimline.ui.forms import keep_place, label
from brimline.ui.model import CheckModel
from brimline.ui.ports.settings import SettingServices
from brimline.ui.speech.tones import Tone
from brimline.ui.speech.voice import Ask, Voice
from brimline.ui.tokens import Space

CANNOT_S = 20.0
"""For how long, in s, a check shows why nothing is heard; the settings' test tells it again."""


class SpeakingLine(QFrame):
    """What was said last, and why it cannot be heard; there only while there is something.

    Its place is kept meanwhile: what is said unasked moves nothing below it.
    """

    def __init__(self) -> None:
        super().__init__()
        self.said, self.cannot = label("", "heading"), label("", "soft")
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.TIGHT, Space.LARGE, 0)
        row.setSpacing(Space.LARGE)
        row.addWidget(self.said, 3)
        row.addWidget(self.cannot, 2)
        self.said.ensurePolished()
        self.said.setText("—")
        self.setMinimumHeight(self.sizeHint().height())
        keep_place(self)
        self.show_words("", "")

    def show_words(self, said: str, cannot: str) -> None:
        """Show what was said, and why nothing is heard; either may be empty."""
        for shown, words in ((self.said, said), (self.cannot, cannot)):
            if shown.text() != words:
                shown.setText(words)
            shown.setVisible(bool(words))
        self.setVisible(bool(said or cannot))


class Speaking(QObject):
    """Speaks during a check, and for a test of the sound.

    ``muting`` carries whether everything is muted now, ``tested`` why a test of the sound was not
    heard, in one sentence.

    :param command: the program that makes the sounds; empty where there is none.
    :param settings: where the bay's choice of sound and language is read; ``None`` where nobody
        has chosen.
    :param clock: time in s, monotonic, of those who listen.
    """

    muting = Signal(bool)
    tested = Signal(str)

    def __init__(
        self,
        command: Sequence[str],
        settings: SettingServices | None,
        parent: QObject | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__(parent)
        self.voice = Voice(command, self)
        self._has_sound = bool(command)
        self._clock = clock
        self._services, self._settings = settings, Settings()
        self._tests = False
        self._line: SpeakingLine | None = None
        self._model: CheckModel | None = None
        self._snapshot: Snapshot | None = None
        self._heard = Heard()
        self.said: Prompt | None = None
        """What was said last, while it matters."""
        self._cannot_until = 0.0
        self.muted = False
        self.voice.told.connect(self._show_cannot)
        self.voice.quiet.connect(self._end_test, Qt.ConnectionType.QueuedConnection)

    def follow(self, model: CheckModel, line: SpeakingLine) -> None:
        """Speak of this check from now on, until :meth:`end`."""
        self.end()
        self._model, self._line, self._settings = model, line, self._chosen()
        self._set_muted(self._settings.sound.muted)
        model.changed.connect(self._listen)
        if self._has_sound:
            self.voice.begin()

    def _chosen(self) -> Settings:
        """What the bay has chosen; settings that cannot be read silence nothing."""
        try:
            return Settings() if self._services is None else self._services.read()
        except BrimlineError:
            return Settings()

    def end(self) -> None:
        """Speak no more, and end the program that does."""
        if self._model is not None:
            self._model.changed.disconnect(self._listen)
        if self._line is not None:
            self._line.show_words("", "")
        self._model = self._line = self._snapshot = self.said = None
        self._tests = False
        self._heard = Heard()
        self.voice.close()

    def switch_mute(self) -> None:
        """Mute everything until the end of this check, or no longer."""
        if self._model is not None:
            self._set_muted(not self.muted)

    def _set_muted(self, muted: bool) -> None:
        self.muted = muted
        if muted:
            self.voice.hush()
        self.muting.emit(muted)

    def _listen(self, snapshot: Snapshot) -> None:
        assert self._model is not None
        state, units = snapshot.state, self._model.units
        self._snapshot = snapshot
        self._heard, due = prompts.listen(
            self._heard, state, snapshot.outlook, units, self._clock()
        )
        self._heed(state)
        for prompt in due:
            self._hear(prompt)
        if due:
            self.said = due[0]
        elif self.said is not None and not prompts.stands(self.said, state):
            self.said = None
        self._show()

    def _heed(self, state: CheckState) -> None:
        """Acknowledging an alarm ends its noise."""
        said = self.said
        if said is None or said.alarm is None or not self.voice.is_busy:
            return
        if not any(
            each.alarm is said.alarm and each.active and not each.acknowledged
            for each in prompts.standing(state)
        ):
            self.voice.hush()

    def _hear(self, prompt: Prompt) -> None:
        tone = Tone.PROMPT if prompt.alarm is None else Tone.ALARM
        sound = self._settings.sound.model_copy(update={"muted": self.muted})
        language = self._settings.display.language
        if self._has_sound:
            self.voice.hear(
                Ask(tone, prompt.aloud, prompt.rank, sound, language, self._still(prompt))
            )

    def _still(self, prompt: Prompt) -> Callable[[], bool]:
        return lambda: self._snapshot is not None and prompts.stands(prompt, self._snapshot.state)

    def _show_cannot(self, sentence: str) -> None:
        self._cannot_until = self._clock() + CANNOT_S
        if self._model is not None:
            self._show()
        elif self._tests and sentence:
            self.tested.emit(sentence)

    def _show(self) -> None:
        if self._line is None:
            return
        said, now = "", self._snapshot
        if self.said is not None and self._model is not None and now is not None:
            said = prompts.as_it_is(self.said, now.state, now.outlook, self._model.units)
        fresh = self._clock() < self._cannot_until
        shown = self.voice.sentence if fresh or self.said is not None else ""
        self._line.show_words(said, shown)

    def test(self, sound: SoundSettings) -> str:
        """Have both sounds and a sentence heard as they would be with these settings.

        :returns: in a sentence what to listen for; why nothing is heard, ``tested`` tells.
        """
        self.end()
        if sound.muted:
            return tr("Everything is muted, so that nothing is heard.")
        self._tests = True
        language = self._chosen().display.language
        parts = ((Tone.ALARM, ""), (Tone.PROMPT, tr("This is how prompts sound.")))
        for place, (tone, text) in enumerate(parts):
            self.voice.hear(Ask(tone, text, (True, place), sound, language))
        if sound.voice:
            return tr("Now listen: the sound of an alarm, that of a prompt, and a sentence.")
        return tr("Now listen: the sound of an alarm, and that of a prompt.")

    def _end_test(self) -> None:
        if self._tests and not self.voice.is_busy:
            self.end()
