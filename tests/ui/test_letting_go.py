"""A held key that repeats itself as X11 does, release and press at once, is held all the same."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from pytestqt.qtbot import QtBot

from brimline.ui.hands.letting_go import LettingGo

KEY = Qt.Key.Key_PageDown


def key(kind: QEvent.Type, at: int, *, repeats: bool = False) -> QKeyEvent:
    event = QKeyEvent(kind, KEY, Qt.KeyboardModifier.NoModifier, "", repeats)
    event.setTimestamp(at)
    return event


def test_a_pair_at_once_is_a_repeat_and_the_last_release_counts(qtbot: QtBot) -> None:
    owner, gone = QObject(), list[int]()
    keys = LettingGo(owner, gone.append)
    assert not keys.repeats(key(QEvent.Type.KeyPress, 1000))
    for at in range(1500, 1800, 30):
        keys.up(key(QEvent.Type.KeyRelease, at))
        assert keys.repeats(key(QEvent.Type.KeyPress, at))
    assert gone == []
    keys.up(key(QEvent.Type.KeyRelease, 1800))
    qtbot.waitUntil(lambda: gone == [KEY])
    assert not keys.repeats(key(QEvent.Type.KeyPress, 3000))


def test_repeats_that_say_so_and_releases_without_a_time(qtbot: QtBot) -> None:
    owner, gone = QObject(), list[int]()
    keys = LettingGo(owner, gone.append)
    assert keys.repeats(key(QEvent.Type.KeyPress, 1000, repeats=True))
    keys.up(key(QEvent.Type.KeyRelease, 0))
    assert gone == [KEY]


def test_another_key_makes_sure_of_the_former(qtbot: QtBot) -> None:
    owner, gone = QObject(), list[int]()
    keys = LettingGo(owner, gone.append)
    keys.up(key(QEvent.Type.KeyRelease, 1000))
    other = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_F10, Qt.KeyboardModifier.NoModifier)
    assert not keys.repeats(other)
    assert gone == [KEY]
