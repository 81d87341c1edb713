"""What a check is worked with is 15 mm high on every screen that has room for it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from brimline.ui import theme
from brimline.ui.samples.capture import settle
from brimline.ui.tokens import LIGHT, TOUCH
from brimline.ui.touch import Touch, dots_per_inch, touch_at

# Screens of bay PCs by size and resolution; px to an inch is the diagonal in px over that in in.
SCREENS = [
    (1280, 800, 13.3), (1280, 800, 15.4), (1366, 768, 15.6), (1920, 1080, 21.5), (1920, 1080, 24.0),
    (3840, 2160, 27.0), (1920, 1200, 10.1),
]  # fmt: skip


def density(width: int, height: int, inches: float) -> float:
    return (width**2 + height**2) ** 0.5 / inches


@pytest.mark.parametrize(("width", "height", "inches"), SCREENS)
def test_the_height_in_millimetres(width: int, height: int, inches: float) -> None:
    dpi = density(width, height, inches)
    main = touch_at(dpi, height).main
    millimetres = main / dpi * 25.4
    if main < height // 11:
        assert 15 <= millimetres < 15.3
    else:  # a small screen of fine dots: as high as its layout allows
        assert (inches, main) == (10.1, 109)
        assert millimetres > 12


def test_there_is_always_the_least_of_the_guideline() -> None:
    # WCAG 2.1, success criterion 2.5.5: 44 px at 96 dpi.
    assert touch_at(70, 400) == Touch(44, 44)
    assert touch_at(70, 1080).main == TOUCH == 44


@pytest.mark.parametrize(
    ("told", "taken"),
    [(113.5, 113.5), (70, 70), (400, 400), (69, 96), (401, 96), (0, 96), (-1, 96),
     (float("nan"), 96), (float("inf"), 96)],
)  # fmt: skip
def test_nonsense_that_a_screen_tells_is_not_believed(told: float, taken: float) -> None:
    assert dots_per_inch(told, 96) == taken


@pytest.fixture(params=[59, 67, 72])
def main_px(request: pytest.FixtureRequest, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> Iterator[int]:  # fmt: skip
    """15 mm at 100 and 113 px to an inch, and the most that 800 px allow."""
    monkeypatch.setattr(theme, "touch_at", lambda _dpi, _height: Touch(request.param))
    yield request.param
    monkeypatch.undo()
    theme.apply(qapp, LIGHT)


def too_low(root: QWidget, main: int) -> list[str]:
    """What is pressed or typed into and is lower than it should be."""
    found = []
    for made in root.findChildren(QWidget):
        if not made.isVisible():
            continue
        if isinstance(made, QPushButton):
            is_main = made.property("role") in ("next", "stop", "item", "fact")
            least = main if is_main or made.property("tap") else TOUCH
            words = made.text()
        elif isinstance(made, QComboBox | QCheckBox | QRadioButton) or (
            isinstance(made, QLineEdit) and not isinstance(made.parent(), QComboBox)
        ):
            least, words = TOUCH, made.accessibleName()
        else:
            continue
        if made.height() < least:
            found.append(f"{type(made).__name__} {words!r}: {made.height()} px, not {least}")
    return found


def work_through(play: KeyedPlay, look: object) -> None:
    assert callable(look)
    play.begin_keyed()
    look("identify")
    play.to_the_sensor()
    look("sensor")
    play.to_the_ground()
    look("ground")
    play.to_the_lift()
    look("lift")


def test_everything_is_high_enough_and_nothing_is_cut(qtbot: QtBot, main_px: int) -> None:
    found: list[str] = []
    with keyed_play() as play:

        def look(where: str) -> None:
            settle()
            found.extend(f"{where}: {fault}" for fault in too_low(play.window, main_px))
            found.extend(f"{where}: {fault}" for fault in clipped_texts(play.window))

        look("home")
        work_through(play, look)
        assert play.window.check is not None
        play.window.check.ask_abort()
        look("a question")
    assert found == [], "\n".join(found)


def test_what_decides_at_the_plug_is_among_the_large(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        check = play.window.check
        assert check is not None
        from brimline.procedure.state import Stage  # noqa: PLC0415 - the pages are made here

        level, plug = check.page(Stage.LEVEL), check.page(Stage.PLUG_OUT)
        made = [
            level.plug_in, level.pump_on, level.pump_off, level.runs, level.nothing, level.drips,
            plug.out, check.by_hand.stopped, check.by_hand.started,
        ]  # type: ignore[attr-defined] # of these two pages # fmt: skip
        large = [each for each in made if each.property("tap") or each.property("role") == "next"]
        assert [each.text() for each in made if each not in large] == []
        assert check.abort.property("role") == "stop"
