"""What is next is in sight on every page, the pad moves no form, what comes unasked moves none."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until, screen
from window_play import WindowPlay

from brimline.headless.technician import Act, DoTap
from brimline.procedure import cautions
from brimline.procedure.acknowledging import CautionAcknowledged, Undone
from brimline.procedure.state import Stage
from brimline.ui.hands.number_pad import PadField
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.page import Page
from brimline.ui.tokens import TOUCH_MM
from brimline.ui.touch import MM_PER_INCH, dots_per_inch

SIZES = ((1280, 800), (1920, 1080), (3840, 2160))

SENDING = {
    Stage.IDENTIFY, Stage.FLUID, Stage.SENSOR, Stage.RAISE, Stage.PLUG_OUT, Stage.LEVEL,
    Stage.CLOSE, Stage.CONDITION, Stage.RECORD, Stage.OVER,
}  # fmt: skip
"""Stages with a button that is next; on the ground and to temperature the vehicle is waited for."""


def in_sight(part: QWidget) -> bool:
    return part.visibleRegion().boundingRect() == part.rect()


def place(part: QWidget) -> QRect:
    return QRect(part.mapTo(part.window(), QPoint()), part.size())


def by_the_book(play: WindowPlay, each: Callable[[], None]) -> None:
    """Let the technician work a check by taps: the words on the buttons do not matter."""
    while play.model.state.closed is None:
        assert play.clock.now < 3600, play.model.state.stage
        play.clock.now += 1.0
        play.model.step()
        screen(play).distances.leave()
        each()
        deed = play.technician.next_deed(play.model.state, play.controls.view)
        if isinstance(deed, DoTap):
            play.model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, Act):
            play.controls.act(deed.name)
        elif deed is not None:
            play.model.close(recheck_after_drive=False)
    each()


class NewViews:
    """Calls something once for every page, with its cautions and without."""

    def __init__(self, play: WindowPlay, look: Callable[[Page, str], None]) -> None:
        self._play, self._look = play, look
        self.seen: set[tuple[Stage, bool, bool]] = set()

    def __call__(self) -> None:
        state = self._play.model.state
        wanted = state.level.flow is not None and state.first_look is None
        key = (state.stage, cautions.asked(state, state.stage), wanted)
        if key not in self.seen:
            self.seen.add(key)
            settle()
            self._look(self._play.page, f"{state.stage}, cautions to read: {key[1]}")


def is_next(made: QPushButton) -> bool:
    return made.property("role") == "next" and made.isVisible()


@pytest.mark.long
def test_what_is_next_is_in_sight_on_every_page(tongue: str, qtbot: QtBot) -> None:
    faults: list[str] = []
    sending: set[Stage] = set()

    def look(page: Page, where: str) -> None:
        made = [each for each in page.findChildren(QPushButton) if is_next(each)]
        faults.extend(f"{where}: {each.text()}" for each in made if not in_sight(each))
        faults.extend(f"{where}: {cut}" for cut in clipped_texts(play.window))
        if len(made) > 1:
            faults.append(f"{where}: {[each.text() for each in made]} are next at once")
        if made:
            sending.add(play.model.state.stage)

    with window_play("K7", "low", keyboard=False) as play:
        views = NewViews(play, look)
        by_the_book(play, views)
    assert {stage for stage, *_ in views.seen} == set(Stage)
    assert {asked for _, asked, _ in views.seen} == {True, False}
    assert sending >= SENDING
    assert "\n".join(faults) == ""


@pytest.mark.long
def test_the_pad_moves_nothing_and_covers_nothing(tongue: str, qtbot: QtBot) -> None:
    faults: list[str] = []
    fields: set[str] = set()

    def look(page: Page, where: str) -> None:
        shown = screen(play)
        for width, height in SIZES if tongue == "en" else SIZES[:1]:  # longer words: the smallest
            play.window.resize(width, height)
            settle()
            for field in [each for each in page.findChildren(PadField) if each.isVisible()]:
                page.area.ensureWidgetVisible(field)
                settle()
                fields.add(field.accessibleName())
                about = f"{where}, {width}, {field.accessibleName()}"
                faults.extend(f"{about}: {fault}" for fault in by_the_pad(shown, page, field))
        play.window.resize(1280, 800)

    with window_play("K7", "low", keyboard=False) as play:
        by_the_book(play, NewViews(play, look))
    assert len(fields) >= 15
    assert "\n".join(faults) == ""


def by_the_pad(shown: QWidget, page: Page, field: PadField) -> Iterator[str]:
    """Yield what goes wrong when a field's pad is opened by hand and closed."""
    check = shown.window().check  # type: ignore[attr-defined] # the main window
    parts = [each for each in page.findChildren(QWidget) if each.isVisible()]
    before = [place(each) for each in parts]
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)
    settle()
    pad = check.pad
    if field.pad is not pad or not in_sight(pad):
        yield "the pad is not in sight"
    if [place(each) for each in parts] != before:
        yield "the form moves"
    if place(pad).intersects(place(page)) or place(pad).intersects(place(check.whole)):
        yield "the pad covers something"
    screen_ = check.screen()
    dpi = dots_per_inch(screen_.physicalDotsPerInch(), screen_.logicalDotsPerInch())
    least = min(min(key.width(), key.height()) for key in pad.keys.values())
    if least * MM_PER_INCH / dpi < TOUCH_MM:
        yield f"a key of {least} px"
    yield from clipped_texts(pad)
    field.close_pad()
    settle()
    if [place(each) for each in parts] != before:
        yield "the form moves back"


def test_an_answer_and_a_sentence_move_nothing_that_is_pressed(qtbot: QtBot) -> None:
    with window_play("K7", "", keyboard=False) as play:
        shown, page = screen(play), play.page
        settle()
        pressed = [
            each for each in shown.findChildren(QAbstractButton)
            if each.isVisible() and each is not shown.take_back.go
        ]  # fmt: skip
        before = [place(each) for each in pressed]
        shown.say("The odometer is missing.")
        shown.fell_back.why.setText("Back to this step: readings lost.")
        shown.fell_back.show()
        play.window.aloud.speaking._line.show_words("In the band at 65 °C.", "")  # type: ignore[union-attr]
        settle()
        assert in_sight(shown.said)
        for each, was in zip(pressed, before, strict=True):
            # Beside a scroll bar that was not there what is wide becomes narrower.
            assert place(each).contains(was.center()), each
            assert place(each).y() == was.y(), each
        shown.say("")
        shown.fell_back.hide()
        play_until(play, lambda: play.model.state.vehicle is not None)
        settle()
        first = place(play.page.match)
        assert shown.take_back.go.isVisible()
        assert play.model.tap(Undone)
        settle()
        assert not shown.take_back.go.isVisible()
        assert play.page is page
        assert place(page._next[0]) == first


def test_a_double_press_sends_one_page_only(qtbot: QtBot) -> None:
    """The buttons of two pages stand in one place: a switch that bounces must not press both."""
    with window_play("K7", "", keyboard=False) as play:
        shown = screen(play)
        steady = shown.steady
        play_until(play, lambda: play.model.state.stage is Stage.RAISE)
        settle()
        page = play.page
        at = page.acknowledge.mapTo(play.window, page.acknowledge.rect().center())
        steady.clock = lambda: play.clock.now
        for _ in range(5):
            play.clock.now += 0.1
            steady.look()
        assert steady.counts(at)
        assert play.model.tap(CautionAcknowledged, stage=Stage.RAISE)
        settle()
        assert play.window.childAt(at) is page._next[0]
        assert not steady.counts(at)
        for _ in range(5):
            play.clock.now += 0.1
            steady.look()
        assert steady.counts(at)


def test_a_check_in_the_window_watches_its_buttons(qtbot: QtBot) -> None:
    with window_play("K7", "", keyboard=False) as play:
        shown = screen(play)
        settle()
        assert shown.steady._timer.isActive()
        at = shown.abort.mapTo(play.window, shown.abort.rect().center())
        shown.steady.begin()  # as if it had only just come
        QTest.mouseClick(play.window.windowHandle(), Qt.MouseButton.LeftButton, pos=at)
        assert shown._drawer is None
        qtbot.waitUntil(lambda: shown.steady.counts(at))
        QTest.mouseClick(play.window.windowHandle(), Qt.MouseButton.LeftButton, pos=at)
        assert shown._drawer is not None
        shown.hide()
        assert not shown.steady._timer.isActive()
