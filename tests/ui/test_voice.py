"""The window's side of the voice, with a program that makes no noise."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from edge_play import EdgePlay
from keyed_play import keyed_play
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from brimline.config import SoundSettings
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.names import Alarm
from brimline.prompts import Cue, Prompt
from brimline.session import Snapshot
from brimline.ui.speech import voice as voice_module
from brimline.ui.speech.speaking import Speaking, SpeakingLine
from brimline.ui.speech.tones import Tone
from brimline.ui.speech.voice import Ask, Voice
from brimline.units import METRIC

ON = SoundSettings()

FAKE = """
import json, sys
log = open(sys.argv[1], "a")
tones, voice, quick = json.loads(sys.argv[2]), json.loads(sys.argv[3]), sys.argv[4] == "quick"
def tell(number):
    print(json.dumps({"id": number, "tones": tones, "voice": voice}), flush=True)
log.write("begun " + " ".join(sys.argv[5:]) + "\\n"); log.flush()
if "--sounds-only" not in sys.argv and sys.argv[4] == "dies":
    sys.exit(3)
if sys.argv[4] != "mute":
    tell(0)
for line in sys.stdin:
    log.write(line); log.flush()
    fields = json.loads(line)
    if fields and quick:
        tell(fields["id"])
"""
"""Answers as the real program does; ``slow`` never ends a sentence, ``mute`` never answers."""

Starts = Callable[..., Voice]


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return tmp_path / "heard.txt"


def command(log: Path, kind: str, tones: object = ("", ""), voice: object = ("", "")) -> list[str]:
    return [sys.executable, "-c", FAKE, str(log), json.dumps(tones), json.dumps(voice), kind]


@pytest.fixture
def beeps() -> list[str]:
    return []


@pytest.fixture
def starts(log: Path, beeps: list[str], qtbot: QtBot) -> Iterator[Starts]:
    made: list[Voice] = []

    def start(kind: str, tones: object = ("", ""), voice: object = ("", "")) -> Voice:
        made.append(Voice(command(log, kind, tones, voice), beep=lambda: beeps.append("beep")))
        return made[-1]

    yield start
    for each in made:
        each.close()


def ask(text: str, rank: int, *, alarm: bool = False, sound: SoundSettings = ON) -> Ask:
    return Ask(Tone.ALARM if alarm else Tone.PROMPT, text, (not alarm, rank), sound, "en")


def spoken(log: Path) -> list[str]:
    if not log.exists():
        return []
    lines = log.read_text().splitlines()
    return [json.loads(line).get("text", "hush") for line in lines if line.startswith("{")]


class TestQueue:
    def test_one_after_the_other(self, starts: Starts, log: Path, qtbot: QtBot) -> None:
        voice = starts("quick")
        with qtbot.waitSignal(voice.quiet, timeout=10_000):
            voice.hear(ask("second", 5))
            voice.hear(ask("fourth", 7))
            voice.hear(ask("third", 6))
        assert spoken(log) == ["second", "third", "fourth"]
        assert not voice.is_busy
        assert voice.sentence == ""

    def test_an_alarm_cuts_a_prompt_off(self, starts: Starts, log: Path, qtbot: QtBot) -> None:
        voice = starts("slow")
        voice.hear(ask("band", 7))
        voice.hear(ask("plug in", 1, alarm=True))
        qtbot.waitUntil(lambda: spoken(log) == ["band", "plug in"], timeout=10_000)
        voice.hear(ask("settled", 6))
        assert voice.is_busy
        qtbot.wait(0)
        assert spoken(log) == ["band", "plug in"]

    def test_what_matters_no_longer_is_left_out(
        self, starts: Starts, log: Path, qtbot: QtBot
    ) -> None:
        voice = starts("quick")
        with qtbot.waitSignal(voice.quiet, timeout=10_000):
            voice.hear(ask("first", 1))
            voice.hear(Ask(Tone.PROMPT, "old", (True, 5), ON, "en", lambda: False))
        assert spoken(log) == ["first"]

    def test_muted_nothing_starts(self, starts: Starts, log: Path) -> None:
        voice = starts("quick")
        voice.hear(ask("first", 1, sound=SoundSettings(muted=True)))
        assert not log.exists()
        assert not voice.is_busy

    def test_without_voice_the_sound_alone_is_asked_for(
        self, starts: Starts, log: Path, qtbot: QtBot
    ) -> None:
        voice = starts("quick", voice=("engine", ""))
        with qtbot.waitSignal(voice.quiet, timeout=10_000):
            voice.hear(ask("first", 1, sound=SoundSettings(voice=False)))
        assert spoken(log) == [""]
        assert voice.sentence == ""  # nobody wanted one


class TestFallback:
    @pytest.mark.parametrize(
        ("tones", "voice", "words"),
        [
            (("", ""), ("engine", ""), "No voice here: this computer has no speech engine."),
            (("device", ""), ("", ""), "there is no audio device"),
            (("library", "libx.so"), ("library", "libx.so"), "a library is missing (libx.so)"),
            (("", ""), ("failed", "no server"), "failed (no server)"),
        ],
    )
    def test_one_sentence_says_why(
        self, tones: object, voice: object, words: str, starts: Starts, beeps: list[str],
        qtbot: QtBot,
    ) -> None:  # fmt: skip
        made = starts("quick", tones, voice)
        with qtbot.waitSignal(made.quiet, timeout=10_000):
            made.hear(ask("plug in", 1, alarm=True))
        assert words in made.sentence
        assert "No " in made.sentence
        assert made.sentence.count(".") == 1 + made.sentence.count(".so")
        assert beeps == (["beep"] if tones != ("", "") else [])

    def test_a_program_that_cannot_start_beeps_and_says_so(
        self, beeps: list[str], qtbot: QtBot
    ) -> None:
        voice = Voice(["/nowhere/at/all"], beep=lambda: beeps.append("beep"))
        voice.hear(ask("plug in", 1, alarm=True))
        qtbot.waitUntil(lambda: beeps == ["beep"], timeout=10_000)
        assert "does not answer" in voice.sentence
        voice.close()

    def test_one_that_never_answers_is_ended(
        self, starts: Starts, beeps: list[str], monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
    ) -> None:
        monkeypatch.setattr(voice_module, "ANSWER_MS", 50)
        voice = starts("mute")
        voice.hear(ask("plug in", 1, alarm=True))
        qtbot.waitUntil(lambda: beeps == ["beep"], timeout=10_000)
        assert voice._process is None

    def test_after_a_death_at_its_start_speech_is_left_alone(
        self, starts: Starts, log: Path, qtbot: QtBot
    ) -> None:
        voice = starts("dies")
        with qtbot.waitSignal(voice.told, timeout=10_000):
            voice.begin()
        voice.begin()
        qtbot.waitUntil(lambda: log.read_text().count("begun") == 2, timeout=10_000)
        assert log.read_text().splitlines() == ["begun ", "begun --sounds-only"]

    def test_it_is_not_started_for_ever(self, starts: Starts, log: Path, qtbot: QtBot) -> None:
        voice = Voice(["/nowhere/at/all"], beep=lambda: None)
        for _ in range(9):
            voice.hear(ask("plug in", 1, alarm=True))
            qtbot.waitUntil(lambda: not voice.is_busy, timeout=10_000)
        assert voice._starts == voice_module.MOST_STARTS


class Model(QObject):
    """A check that says what it is told to."""

    changed = Signal(object)
    units = METRIC

    def show(self, play: EdgePlay) -> None:
        self.changed.emit(Snapshot(play.state, (), {}, 0))


class TestSpeaking:
    @pytest.fixture
    def follows(self, log: Path, qtbot: QtBot) -> Iterator[tuple[Speaking, Model, SpeakingLine]]:
        speaking, model, line = Speaking(command(log, "slow"), None), Model(), SpeakingLine()
        qtbot.addWidget(line)
        speaking.follow(model, line)  # type: ignore[arg-type] # it has what is asked of one
        yield speaking, model, line
        speaking.end()
        assert line.isHidden()
        assert speaking.voice._process is None

    def test_what_is_said_is_shown_for_as_long_as_it_matters(
        self, follows: tuple[Speaking, Model, SpeakingLine], log: Path, qtbot: QtBot
    ) -> None:
        speaking, model, line = follows
        play = EdgePlay().at_temperature(60.0)
        model.show(play)
        assert line.isHidden()
        play.steadily(15, 70.0)
        model.show(play)
        assert line.said.text() == "In the band at 70 °C: the plug may come out."
        play.steadily(3, 72.4)
        model.show(play)
        assert line.said.text() == "In the band at 72 °C: the plug may come out."
        qtbot.waitUntil(lambda: len(spoken(log)) == 1, timeout=10_000)
        assert spoken(log)[0] == "In the band at 70 degrees Celsius: the plug may come out."
        speaking.switch_mute()
        qtbot.waitUntil(lambda: spoken(log)[-1] == "hush", timeout=10_000)
        play.steadily(15, 90.0)
        model.show(play)
        assert line.said.text() == "The band is left: too hot at 90 °C."
        assert spoken(log)[-1] == "hush"
        play.steadily(15, 70.0)
        play.plug_out()
        model.show(play)
        assert line.said.text().startswith("In the band")

    def test_acknowledging_ends_the_noise_and_not_the_words(
        self, follows: tuple[Speaking, Model, SpeakingLine], log: Path, qtbot: QtBot
    ) -> None:
        speaking, model, line = follows
        play = EdgePlay().at_temperature(70.0)
        play.plug_out()
        model.show(play)
        play.steadily(3, 70.0, rpm=0.0)
        model.show(play)
        assert line.said.text().startswith("Engine stopped.")
        assert speaking.voice.is_busy
        for alarm in (Alarm.ENGINE_STOPPED, Alarm.PLUG_IN):
            play.taken(AlarmAcknowledged(t=play.t, alarm=alarm))
        model.show(play)
        assert not speaking.voice.is_busy
        assert line.said.text().startswith("Engine stopped.")
        qtbot.waitUntil(lambda: spoken(log)[-1:] == ["hush"], timeout=10_000)


class TestWindow:
    def test_a_check_is_muted_by_button_and_by_key(self) -> None:
        with keyed_play() as play:
            header = play.window.header
            assert not header.mute.isVisible()
            play.begin_keyed()
            assert header.mute.isVisible()
            assert header.mute.text() == "Sound is on"
            play.hands.press(header.mute)
            assert header.mute.text() == "Sound is off"
            assert play.window.speaking.muted
            play.window.head.hide()  # as where it is read from afar
            QTest.keyClick(play.window, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
            assert header.mute.text() == "Sound is on"

    def test_the_window_of_a_test_makes_no_sound(self) -> None:
        with keyed_play() as play:
            assert play.window.aloud.tester is None
            assert not play.window.header.mute.isVisible()


class TestTest:
    def test_both_sounds_and_a_sentence(self, log: Path, qtbot: QtBot) -> None:
        speaking = Speaking(command(log, "quick"), None)
        assert "Now listen" in speaking.test(ON)
        qtbot.waitUntil(lambda: speaking.voice._process is None, timeout=10_000)
        assert spoken(log) == ["", "This is how prompts sound."]

    def test_why_nothing_is_heard_is_told(self, log: Path, qtbot: QtBot) -> None:
        speaking = Speaking(command(log, "quick", voice=("language", "es")), None)
        with qtbot.waitSignal(speaking.tested, timeout=10_000) as told:
            speaking.test(ON)
        assert told.args == ["No voice here: the speech engine has none for this language."]
        qtbot.waitUntil(lambda: speaking.voice._process is None, timeout=10_000)

    def test_muted_it_says_so(self) -> None:
        speaking = Speaking(("never", "started"), None)
        assert "muted" in speaking.test(SoundSettings(muted=True))


def test_the_most_urgent_is_cut_off_by_nothing() -> None:
    assert min(Cue, key=lambda cue: Prompt(cue, 0.0, "").rank) is Cue.ENGINE_STOPPED
