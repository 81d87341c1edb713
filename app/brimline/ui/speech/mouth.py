"""The program beside the window that makes its sounds and speaks.

``python -m brimline.ui.speech.mouth``.

Qt's audio and speech belong to a process of their own. Their libraries may be missing, a speech
server may take seconds to answer or never do, holding every thread of a Python program meanwhile
(3.4 s measured with a speech server that was not running yet), and a driver may crash. None of that
may reach a running check.

It reads requests from its standard input, a JSON object a line, and answers each on its standard
output: ``id``, and why the sound (``tones``) and the sentence (``voice``) could not be heard, as a
code of :class:`Why` and a detail. A new request cuts the former one off. It ends with its input.
"""

from __future__ import annotations

import importlib
import json
import sys
import tempfile
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Protocol

from PySide6.QtCore import QCoreApplication, QLocale, QObject, QTimer, QUrl, Signal

from brimline.ui.speech.tones import Tone, length_s, wav

SILENT_ENGINES = frozenset({"mock"})
"""Qt ships an engine for tests that says nothing, and takes it where there is no other."""

SOUNDS_ONLY = "--sounds-only"
"""Told to a program that follows one which a speech server held."""

_PAUSE_MS = 80


class Why(StrEnum):
    """Why something cannot be heard; empty where it can."""

    HEARD = ""
    LIBRARY = "library"  # the detail names it
    DEVICE = "device"
    ENGINE = "engine"
    LANGUAGE = "language"
    FAILED = "failed"
    GONE = "gone"  # it does not answer: the speech server, or as the window has it the program
    OFF = "off"  # said by the window: it was opened without one


class NotHeardError(Exception):
    """Something cannot be heard."""

    def __init__(self, why: Why, detail: str = "") -> None:
        super().__init__(why, detail)
        self.why, self.detail = why, detail


@dataclass(frozen=True)
class Request:
    """What is to be heard.

    :param text: what is spoken after the sound; empty for nothing.
    :param volume: in %, 0 to 100.
    :param language: of the text, by its code (ISO 639-1).
    """

    id: int
    tone: Tone
    text: str
    volume: int
    language: str


class Sounds(Protocol):
    """What plays the sounds."""

    def play(self, tone: Tone, volume: int) -> None:
        """Begin a sound; raises :class:`NotHeardError`."""

    def stop(self) -> None:
        """Be silent."""


class Speech(Protocol):
    """What speaks."""

    def say(self, text: str, language: str, volume: int, done: Callable[[Why, str], None]) -> None:
        """Begin a sentence and tell its end; raises :class:`NotHeardError`."""

    def stop(self) -> None:
        """Be silent; no end is told."""


def module(name: str) -> Any:
    """Import a module of PySide6 whose libraries may be missing.

    :raises NotHeardError: they are.
    """
    try:
        return importlib.import_module(f"PySide6.{name}")
    except ImportError as error:
        raise NotHeardError(Why.LIBRARY, str(error).split(":", maxsplit=1)[0]) from error


class EffectSounds:
    """The sounds by Qt Multimedia.

    :param folder: takes the sounds as files, which is how it wants them.
    :raises NotHeardError: a library is missing, or there is no device.
    """

    def __init__(self, folder: Path) -> None:
        media = module("QtMultimedia")
        if media.QMediaDevices.defaultAudioOutput().isNull():
            raise NotHeardError(Why.DEVICE)
        self._failed = media.QSoundEffect.Status.Error
        self._effects = {}
        for tone in Tone:
            file = folder / f"{tone.value}.wav"
            file.write_bytes(wav(tone))
            self._effects[tone] = effect = media.QSoundEffect()
            effect.setSource(QUrl.fromLocalFile(str(file)))

    def play(self, tone: Tone, volume: int) -> None:
        """Begin a sound.

        :raises NotHeardError: it cannot be played.
        """
        effect = self._effects[tone]
        if effect.status() == self._failed:
            raise NotHeardError(Why.FAILED)
        effect.setVolume(volume / 100)
        effect.play()

    def stop(self) -> None:
        """Be silent."""
        for effect in self._effects.values():
            effect.stop()


class EngineSpeech:
    """The first speech engine of Qt that works.

    :raises NotHeardError: a library is missing, or there is none.
    """

    def __init__(self) -> None:
        self._speech = module("QtTextToSpeech").QTextToSpeech
        self._done: Callable[[Why, str], None] | None = None
        names = [n for n in self._speech.availableEngines() if n not in SILENT_ENGINES]
        fault = NotHeardError(Why.ENGINE)
        for name in names:
            engine = self._speech(name)
            if engine.state() != self._speech.State.Error:
                self._engine = engine
                engine.stateChanged.connect(self._changed)
                return
            fault = NotHeardError(Why.FAILED, engine.errorString())
        raise fault

    def say(self, text: str, language: str, volume: int, done: Callable[[Why, str], None]) -> None:
        """Begin a sentence and tell its end.

        :raises NotHeardError: the engine has no voice for the language.
        """
        wanted = QLocale(language).language()
        known = [each for each in self._engine.availableLocales() if each.language() == wanted]
        if not known:
            raise NotHeardError(Why.LANGUAGE, language)
        self._engine.setLocale(min(known, key=lambda each: str(each.name())))
        self._engine.setVolume(volume / 100)
        self._done = done
        self._engine.say(text)

    def stop(self) -> None:
        """Be silent."""
        self._done = None
        self._engine.stop()

    def _changed(self, state: object) -> None:
        states = self._speech.State
        if self._done is None or state not in (states.Ready, states.Error):
            return
        done, self._done = self._done, None
        if state == states.Error:
            done(Why.FAILED, self._engine.errorString())
        else:
            done(Why.HEARD, "")


class Mouth(QObject):
    """Has requests heard, one at a time.

    :param tell: takes the answers.
    :param sounds: and ``speech`` make what plays and speaks, or raise :class:`NotHeardError`.
    """

    def __init__(
        self,
        tell: Callable[[dict[str, object]], None],
        sounds: Callable[[], Sounds],
        speech: Callable[[], Speech],
    ) -> None:
        super().__init__()
        self._tell = tell
        self._sounds, self._no_sounds = _made(sounds)
        self._speech, self._no_speech = _made(speech)
        self._request: Request | None = None
        self._tones: tuple[Why, str] = self._no_sounds
        self._after = QTimer(self)
        self._after.setSingleShot(True)
        self._after.timeout.connect(self._speak)
        tell({"id": 0, "tones": self._no_sounds, "voice": self._no_speech})

    def take(self, line: str) -> None:
        """Take a request in; an empty object is silence."""
        fields = json.loads(line)
        self.stop()
        if fields:
            self._begin(Request(**(fields | {"tone": Tone(fields["tone"])})))

    def stop(self) -> None:
        """Cut off what is under way."""
        self._after.stop()
        self._request = None
        for part in (self._sounds, self._speech):
            if part is not None:
                part.stop()

    def _begin(self, request: Request) -> None:
        self._request, self._tones = request, self._no_sounds
        wait_ms = 0
        if self._sounds is not None:
            try:
                self._sounds.play(request.tone, request.volume)
                wait_ms = round(1000 * length_s(request.tone)) + _PAUSE_MS
            except NotHeardError as error:
                self._tones = (error.why, error.detail)
        self._after.start(wait_ms)

    def _speak(self) -> None:
        request = self._request
        if request is None:
            return
        if self._speech is None or not request.text:
            self._end(*self._no_speech)
            return
        try:
            self._speech.say(request.text, request.language, request.volume, self._end)
        except NotHeardError as error:
            self._end(error.why, error.detail)

    def _end(self, why: Why, detail: str) -> None:
        if self._request is not None:
            said, self._request = self._request, None
            self._tell({"id": said.id, "tones": self._tones, "voice": (why, detail)})


def _made(make: Callable[[], Any]) -> tuple[Any, tuple[Why, str]]:
    try:
        return make(), (Why.HEARD, "")
    except NotHeardError as error:
        return None, (error.why, error.detail)


class _Lines(QObject):
    """Standard input, read aside: nothing of Qt waits for a pipe on every system."""

    came = Signal(str)
    ended = Signal()

    def read(self) -> None:
        """Read until the end."""
        for line in sys.stdin:
            self.came.emit(line)
        self.ended.emit()


def main() -> int:
    """Answer requests until the input ends."""
    app = QCoreApplication(sys.argv[:1])
    lines = _Lines()
    speech = _no_speech if SOUNDS_ONLY in sys.argv else EngineSpeech
    with tempfile.TemporaryDirectory(prefix="brimline-sounds-") as folder:
        mouth = Mouth(_answer, lambda: EffectSounds(Path(folder)), speech)
        lines.came.connect(mouth.take)
        lines.ended.connect(app.quit)
        threading.Thread(target=lines.read, daemon=True).start()
        code = app.exec()
        mouth.stop()
    return code


def _no_speech() -> Speech:
    raise NotHeardError(Why.GONE)


def _answer(fields: dict[str, object]) -> None:
    sys.stdout.write(json.dumps(fields) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
