"""The program that makes the sounds: its requests and answers, and what it does where it cannot."""

from __future__ import annotations

import importlib
import io
import json
import os
import subprocess
import sys
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from brimline.ui.speech import mouth
from brimline.ui.speech.mouth import EngineSpeech, Mouth, NotHeardError, Why
from brimline.ui.speech.tones import RATE_HZ, Tone, length_s, wav


class Part:
    """Plays and speaks nothing, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[tuple[object, ...]] = []
        self.done: Callable[[Why, str], None] | None = None
        self.fault: NotHeardError | None = None

    def play(self, tone: Tone, volume: int) -> None:
        if self.fault is not None:
            raise self.fault
        self.asked.append((tone, volume))

    def say(self, text: str, language: str, volume: int, done: Callable[[Why, str], None]) -> None:
        if self.fault is not None:
            raise self.fault
        self.asked.append((text, language, volume))
        self.done = done

    def stop(self) -> None:
        self.asked.append(("stop",))


def request(number: int, text: str = "Plug in.") -> str:
    fields = {"id": number, "tone": "alarm", "text": text, "volume": 40, "language": "es"}
    return json.dumps(fields)


def gone() -> Any:
    raise NotHeardError(Why.LIBRARY, "libx.so")


@pytest.fixture
def answers() -> list[dict[str, Any]]:
    return []


class TestMouth:
    def test_sound_then_sentence_then_answer(
        self, qtbot: QtBot, answers: list[dict[str, Any]]
    ) -> None:
        sounds, speech = Part(), Part()
        spoken = Mouth(answers.append, lambda: sounds, lambda: speech)
        assert answers == [{"id": 0, "tones": ("", ""), "voice": ("", "")}]
        spoken.take(request(1))
        assert sounds.asked[-1] == (Tone.ALARM, 40)
        qtbot.waitUntil(lambda: speech.done is not None, timeout=3000)
        assert speech.asked[-1] == ("Plug in.", "es", 40)
        assert speech.done is not None
        speech.done(Why.HEARD, "")
        assert answers[1:] == [{"id": 1, "tones": ("", ""), "voice": ("", "")}]

    def test_a_new_request_cuts_the_former_off(
        self, qtbot: QtBot, answers: list[dict[str, Any]]
    ) -> None:
        speech = Part()
        spoken = Mouth(answers.append, gone, lambda: speech)
        spoken.take(request(1))
        qtbot.waitUntil(lambda: speech.done is not None, timeout=3000)
        spoken.take(request(2, ""))
        qtbot.waitUntil(lambda: len(answers) == 2, timeout=3000)
        assert [answer["id"] for answer in answers] == [0, 2]
        assert ("stop",) in speech.asked
        assert answers[1]["tones"] == (Why.LIBRARY, "libx.so")

    def test_silence_is_an_empty_request(
        self, qapp: QCoreApplication, answers: list[dict[str, Any]]
    ) -> None:
        sounds = Part()
        spoken = Mouth(answers.append, lambda: sounds, gone)
        spoken.take(request(1))
        spoken.take("{}")
        qapp.processEvents()
        assert sounds.asked[-1] == ("stop",)
        assert len(answers) == 1

    def test_faults_of_both_parts_are_answers(
        self, qtbot: QtBot, answers: list[dict[str, Any]]
    ) -> None:
        sounds, speech = Part(), Part()
        sounds.fault = NotHeardError(Why.FAILED)
        speech.fault = NotHeardError(Why.LANGUAGE, "es")
        spoken = Mouth(answers.append, lambda: sounds, lambda: speech)
        spoken.take(request(1))
        qtbot.waitUntil(lambda: len(answers) == 2, timeout=3000)
        assert answers[1]["tones"] == (Why.FAILED, "")
        assert answers[1]["voice"] == (Why.LANGUAGE, "es")


class TestGuard:
    def test_a_library_that_is_missing_is_named(self, monkeypatch: pytest.MonkeyPatch) -> None:
        def refuse(name: str) -> object:
            # As seen from PySide6 6.11.3 without libpulse.
            raise ImportError(
                "libpulse.so.0: cannot open shared object file: No such file or directory"
            )

        monkeypatch.setattr(importlib, "import_module", refuse)
        with pytest.raises(NotHeardError) as caught:
            mouth.module("QtMultimedia")
        assert (caught.value.why, caught.value.detail) == (Why.LIBRARY, "libpulse.so.0")
        with pytest.raises(NotHeardError):
            EngineSpeech()

    def test_what_is_there_is_imported(self) -> None:
        assert mouth.module("QtCore").QObject is not None

    def test_an_engine_that_says_nothing_is_none(self, monkeypatch: pytest.MonkeyPatch) -> None:
        class Engines:
            class QTextToSpeech:
                @staticmethod
                def availableEngines() -> list[str]:  # noqa: N802 - Qt's name
                    return ["mock"]

        monkeypatch.setattr(mouth, "module", lambda _name: Engines)
        with pytest.raises(NotHeardError) as caught:
            EngineSpeech()
        assert caught.value.why is Why.ENGINE

    def test_the_real_program_says_what_it_can_do_and_ends_with_its_input(
        self, tmp_path: Path
    ) -> None:
        """Whatever this computer has: no server is reached from an empty folder of sockets."""
        env = os.environ | {
            "XDG_RUNTIME_DIR": str(tmp_path), "HOME": str(tmp_path),
            "PULSE_SERVER": "unix:/nowhere", "SPEECHD_ADDRESS": "unix_socket:/nowhere",
        }  # fmt: skip
        ran = subprocess.run(
            [sys.executable, "-m", "brimline.ui.speech.mouth"], input="", capture_output=True,
            text=True, timeout=60, env=env, check=True,
        )  # fmt: skip
        (line,) = (each for each in ran.stdout.splitlines() if each.startswith("{"))
        answer = json.loads(line)
        assert answer["id"] == 0
        assert answer["tones"][0] in (Why.LIBRARY, Why.DEVICE)
        assert answer["voice"][0] in (Why.LIBRARY, Why.ENGINE, Why.FAILED)


@pytest.mark.parametrize("tone", Tone)
def test_a_sound_is_a_wav_file_that_neither_clips_nor_clicks(tone: Tone) -> None:
    with wave.open(io.BytesIO(wav(tone))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        samples = np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(float)
    assert len(samples) / RATE_HZ == pytest.approx(length_s(tone), abs=0.01)
    assert length_s(tone) < 1.5
    assert 0.5 * 32767 < np.abs(samples).max() < 0.9 * 32767
    # The steepest that a pitch of 1,480 Hz with its octave makes at 44.1 kHz; a click is steeper.
    assert np.abs(np.diff(samples)).max() < 0.4 * 32767
    assert abs(samples[0]) < 100
    assert abs(samples[-1]) < 1500


def test_an_alarm_has_the_pitch_of_a_danger_signal() -> None:
    """500 to 2,500 Hz: ISO 7731, from memory."""
    loudest = []
    for tone in Tone:
        with wave.open(io.BytesIO(wav(tone))) as file:
            samples = np.frombuffer(file.readframes(file.getnframes()), "<i2")
        spectrum = np.abs(np.fft.rfft(samples))
        loudest.append(np.fft.rfftfreq(len(samples), 1 / RATE_HZ)[spectrum.argmax()])
    alarm, prompt = loudest
    assert 500 < alarm < 2500
    assert alarm > 1.3 * prompt  # told apart
