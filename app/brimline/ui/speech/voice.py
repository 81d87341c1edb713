"""The window's side of sounds and speech: has prompts heard by the program beside it.

Nothing here waits. What cannot be heard is told in one sentence, and the computer's own beep stands
in for a sound. See :mod:`.ui.speech.mouth` for why it is a program of its own.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, QProcess, QTimer, Signal
from PySide6.QtWidgets import QApplication

from brimline.config import SoundSettings
from brimline.translation import marked, tr
from brimline.ui.speech.mouth import SOUNDS_ONLY, Why
from brimline.ui.speech.tones import Tone

ANSWER_MS = 30_000
"""A program that has not answered for so long (ms) is ended: starting a speech server takes some
seconds, and no prompt takes longer than ten (our choice)."""

MOST_STARTS = 3
"""So often the program is started again in one check."""

_TONES = {
    Why.LIBRARY: marked("No sounds here but the computer's beep: a library is missing ({detail})."),
    Why.DEVICE: marked("No sounds here but the computer's beep: there is no audio device."),
    Why.FAILED: marked("No sounds here but the computer's beep: the audio device failed."),
}
_VOICE = {
    Why.LIBRARY: marked("No voice here: a library is missing ({detail})."),
    Why.ENGINE: marked("No voice here: this computer has no speech engine."),
    Why.LANGUAGE: marked("No voice here: the speech engine has none for this language."),
    Why.FAILED: marked("No voice here: the speech engine failed ({detail})."),
    Why.GONE: marked("No voice here: the speech engine does not answer."),
}
_BOTH = {
    Why.LIBRARY: marked(
        "No voice here, and no sounds but the computer's beep: a library is missing ({detail})."
    ),
    Why.GONE: marked(
        "No voice here, and no sounds but the computer's beep: the program that makes them "
        "does not answer."
    ),
    Why.OFF: marked("No voice and no sounds here: this window was opened without them."),
}


@dataclass(frozen=True)
class Ask:
    """What is to be heard, and how.

    :param rank: cuts off what has a greater one.
    :param language: of the text, by its code (ISO 639-1).
    :param matters: says whether it is still to be heard once its turn comes.
    """

    tone: Tone
    text: str
    rank: tuple[bool, int]
    sound: SoundSettings
    language: str
    matters: Callable[[], bool] = lambda: True


def program() -> tuple[str, ...]:
    """Return the program that makes the sounds, with its arguments."""
    return sys.executable, "-m", "brimline.ui.speech.mouth"


class Voice(QObject):
    """Has one thing after the other heard; what is more urgent cuts off what is less so.

    ``told`` carries why something cannot be heard, in one sentence; empty once all can. ``quiet``
    comes when there is nothing left to be heard.

    :param command: the program that makes the sounds; empty where there is none.
    :param beep: stands in for a sound that cannot be made.
    """

    told = Signal(str)
    quiet = Signal()

    def __init__(
        self,
        command: Sequence[str],
        parent: QObject | None = None,
        beep: Callable[[], None] = QApplication.beep,
    ) -> None:
        super().__init__(parent)
        self._command, self._beep = tuple(command), beep
        self._process: QProcess | None = None
        self._starts, self._number = 0, 0
        self._has_no_sounds = False
        self._knows_itself = False  # whether the program has told what it can do
        self._more: tuple[str, ...] = ()
        self._current: Ask | None = None
        self._waiting: list[Ask] = []
        self.sentence = ""
        """What ``told`` carried last."""
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(ANSWER_MS)
        self._patience.timeout.connect(self._lose)

    @property
    def is_busy(self) -> bool:
        """Whether something is being heard or waits for it."""
        return self._current is not None or bool(self._waiting)

    def begin(self) -> None:
        """Start the program, which may take seconds until it answers; once is enough."""
        if self._process is not None:
            return
        if not self._command:
            self._say(tr(_BOTH[Why.OFF]))
            return
        if self._starts >= MOST_STARTS:
            return
        self._starts += 1
        self._process = process = QProcess(self)
        process.setStandardErrorFile(QProcess.nullDevice())
        process.readyReadStandardOutput.connect(self._read)
        # No lambda: it would keep this object until the process is deleted, which is its child.
        process.errorOccurred.connect(self._lose)
        process.finished.connect(self._lose)
        process.start(self._command[0], [*self._command[1:], *self._more])
        self._patience.start()

    def hear(self, ask: Ask) -> None:
        """Have something heard now, or after what is at least as urgent; nothing while muted."""
        if ask.sound.muted:
            return
        self._waiting = [each for each in self._waiting if each.rank != ask.rank]
        if self._current is None or ask.rank <= self._current.rank:
            self._send(ask)
        else:
            self._waiting = sorted([*self._waiting, ask], key=lambda each: each.rank)

    def hush(self) -> None:
        """Be silent at once, and forget what waits."""
        self._waiting.clear()
        self._current = None
        self._write({})

    def close(self) -> None:
        """End the program; what it says is cut off."""
        self._waiting.clear()
        self._current = None
        self._starts, self.sentence, self._has_no_sounds, self._more = 0, "", False, ()
        self._drop()

    def _send(self, ask: Ask) -> None:
        self.begin()
        if self._process is None:
            self._stand_in(ask)
            self.quiet.emit()
            return
        self._current = ask
        self._number += 1
        self._write({
            "id": self._number, "tone": ask.tone.value, "volume": ask.sound.volume,
            "text": ask.text if ask.sound.voice else "", "language": ask.language,
        })  # fmt: skip
        self._patience.start()
        if self._has_no_sounds:
            self._stand_in(ask)

    def _write(self, fields: dict[str, object]) -> None:
        if self._process is not None:
            self._process.write(json.dumps(fields).encode() + b"\n")

    def _read(self) -> None:
        while self._process is not None and self._process.canReadLine():
            line = bytes(self._process.readLine().data()).decode("utf-8", "replace")
            if line.startswith("{"):
                self._answered(json.loads(line))

    def _answered(self, fields: dict[str, object]) -> None:
        tones, voice = _why(fields["tones"]), _why(fields["voice"])
        said = self._current
        self._say(_sentence(tones, voice if said is None or said.sound.voice else _HEARD))
        self._knows_itself = True
        knew, self._has_no_sounds = self._has_no_sounds, tones != _HEARD
        if said is not None and self._has_no_sounds and not knew:
            self._stand_in(said)
        if said is not None and fields["id"] == self._number:
            self._current = None
            self._next()
        if self._current is None:
            self._patience.stop()

    def _next(self) -> None:
        while self._waiting:
            ask = self._waiting.pop(0)
            if ask.matters():
                self._send(ask)
                return
        self.quiet.emit()

    def _lose(self) -> None:
        """The program is gone, or does not answer: nothing is lost but what it would have said.

        Where it never came as far as to say what it can do, its next start leaves speech alone.
        """
        if not self._knows_itself:
            self._more = (SOUNDS_ONLY,)
        self._drop()
        self._say(tr(_BOTH[Why.GONE]))
        said, self._current = self._current, None
        self._waiting.clear()
        if said is not None:
            self._stand_in(said)
            self.quiet.emit()

    def _stand_in(self, ask: Ask) -> None:
        if ask.sound.volume:
            self._beep()

    def _drop(self) -> None:
        self._patience.stop()
        self._knows_itself = False
        process, self._process = self._process, None
        if process is not None:
            process.blockSignals(True)
            process.kill()
            process.waitForFinished(1000)  # a killed process is gone within milliseconds
            process.deleteLater()

    def _say(self, sentence: str) -> None:
        if sentence != self.sentence:
            self.sentence = sentence
            self.told.emit(sentence)


_HEARD = (Why.HEARD, "")


def _why(answer: object) -> tuple[Why, str]:
    assert isinstance(answer, list)
    return Why(answer[0]), str(answer[1])


def _sentence(tones: tuple[Why, str], voice: tuple[Why, str]) -> str:
    """Return in one sentence what cannot be heard, empty where all can."""
    if tones == voice and tones[0] in _BOTH:
        return tr(_BOTH[tones[0]], detail=tones[1])
    # Without sounds there is no device for a voice either.
    if tones != _HEARD:
        return tr(_TONES[tones[0]], detail=tones[1])
    if voice != _HEARD:
        return tr(_VOICE[voice[0]], detail=voice[1])
    return ""
