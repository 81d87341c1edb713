"""The look chosen, and the desktop's followed while it changes."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QObject, Qt, Signal
from pytestqt.qtbot import QtBot

from brimline.ui.legibility import character_height_mm
from brimline.ui.look import LookFollower, palette_of
from brimline.ui.tokens import DARK, LIGHT, Palette

Scheme = Qt.ColorScheme


class Desktop(QObject):
    """What ``QStyleHints`` tells of a desktop."""

    colorSchemeChanged = Signal(Scheme)  # noqa: N815 - Qt's name

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self.scheme = scheme

    def colorScheme(self) -> Scheme:  # noqa: N802 - Qt's name
        return self.scheme

    def become(self, scheme: Scheme) -> None:
        self.scheme = scheme
        self.colorSchemeChanged.emit(scheme)


@pytest.mark.parametrize(
    ("look", "desktop", "worn"),
    [
        ("light", Scheme.Dark, LIGHT),
        ("dark", Scheme.Light, DARK),
        ("system", Scheme.Dark, DARK),
        ("system", Scheme.Light, LIGHT),
        ("system", Scheme.Unknown, LIGHT),
    ],
)
def test_which_palette_a_look_is(look: str, desktop: Scheme, worn: Palette) -> None:
    assert palette_of(look, desktop) is worn  # type: ignore[arg-type] # parametrised


def test_the_desktop_is_followed_only_where_that_was_chosen(qtbot: QtBot) -> None:
    worn: list[Palette] = []
    desktop = Desktop(Scheme.Light)
    follower = LookFollower(desktop, worn.append, LIGHT, desktop)  # type: ignore[arg-type] # as Qt's
    desktop.become(Scheme.Dark)
    assert worn == []
    follower.choose("system")
    desktop.become(Scheme.Light)
    desktop.become(Scheme.Dark)
    assert worn == [DARK, LIGHT, DARK]
    follower.choose("light")
    desktop.become(Scheme.Light)
    desktop.become(Scheme.Dark)
    assert worn[3:] == [LIGHT]


@pytest.mark.parametrize(
    ("metres", "millimetres"), [(0.5, 2.91), (0.7, 4.07), (1.0, 5.82), (2.0, 11.64)]
)
def test_heights_of_characters(metres: float, millimetres: float) -> None:
    # 20 minutes of arc, tabulated as h = 2·D·tan(α/2) for ergonomic design (ISO 9241-303 prefers
    # 20 to 22 minutes; secondary).
    assert character_height_mm(metres) == pytest.approx(millimetres, abs=0.005)
