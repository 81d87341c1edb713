"""The condition form: every answer by keyboard and by mouse, the advice with it, an override."""

from __future__ import annotations

import pytest
from check_play import GOOD, MILKY
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles, Recommendation
from brimline.condition.rules import advise
from brimline.errors import UnitError
from brimline.ui import theme
from brimline.ui.forms import scrolled
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.advice_box import AdviceBox
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.tokens import DARK, LIGHT, TOUCH, Palette
from brimline.ui.widgets.word_tiles import WordTiles

BROWN = Findings(Colour.BROWN, Clarity.HAZY, Odour.BURNT, Particles.FINE_METAL)


class Sheet(QWidget):
    """Form and advice, as narrow as on their page."""

    def __init__(self, *, compact: bool = False) -> None:
        super().__init__()
        self.form = FindingsForm(compact=compact)
        self.advice = AdviceBox(self.form)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(scrolled(self.form, self.advice))
        self.resize(346, 640)


@pytest.fixture(params=[False, True], ids=["whole", "compact"])
def sheet(request: pytest.FixtureRequest, qtbot: QtBot, qapp: QApplication) -> Sheet:
    theme.apply(qapp, LIGHT)
    made = Sheet(compact=request.param)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    QApplication.processEvents()
    return made


def answers(findings: Findings) -> list[object]:
    return [
        findings.colour, findings.clarity, findings.odour, findings.particles,
        findings.coolant_signs,
    ]  # fmt: skip


@pytest.mark.parametrize("findings", [GOOD, BROWN, MILKY])
def test_by_mouse_alone(sheet: Sheet, findings: Findings) -> None:
    for question, word in zip(sheet.form.questions, answers(findings), strict=True):
        tile = question.tiles[word]
        at = tile.rect().topRight() + tile.rect().bottomRight()  # anywhere on it, not on its word
        QTest.mouseClick(tile, Qt.MouseButton.LeftButton, pos=at / 2)
    assert sheet.form.findings() == findings


@pytest.mark.parametrize("findings", [GOOD, BROWN, MILKY])
def test_by_keyboard_alone(sheet: Sheet, findings: Findings) -> None:
    next(iter(sheet.form.colour.tiles.values())).setFocus()
    for question, word in zip(sheet.form.questions, answers(findings), strict=True):
        at = QApplication.focusWidget()
        assert at is next(iter(question.tiles.values()))
        QTest.keyClick(at, Qt.Key.Key_Space)
        reach(question, word)
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert sheet.form.findings() == findings


def reach(question: WordTiles, word: object) -> None:  # type: ignore[type-arg] # of any answer
    """Go from the first answer to another one by the arrows, which choose on their way."""
    tile = question.tiles[word]
    for _ in range(12):
        at = QApplication.focusWidget()
        if at is tile:
            break
        assert at is not None
        QTest.keyClick(at, Qt.Key.Key_Right if at.y() == tile.y() else Qt.Key.Key_Down)
        if QApplication.focusWidget() is at:
            QTest.keyClick(at, Qt.Key.Key_Left)
    assert question.choice == word


def test_every_answer_has_to_be_given(sheet: Sheet) -> None:
    for count, (question, word) in enumerate(zip(sheet.form.questions, answers(GOOD), strict=True)):
        assert len(sheet.form.open_questions()) == 5 - count
        with pytest.raises(UnitError, match="is not chosen yet"):
            sheet.form.findings()
        question.choose(word)
    assert sheet.form.findings() == GOOD


def test_a_chosen_tile_is_known_by_more_than_its_colour(sheet: Sheet) -> None:
    """The ring is filled: the pixels of two equal swatches differ inside of the plates too."""
    tile = sheet.form.colour.tiles[Colour.BLACK]
    before = tile.grab().toImage()
    assert tile.text() == "Black"
    sheet.form.colour.choose(Colour.BLACK)
    after = tile.grab().toImage()
    inside = [(x, tile.height() // 2) for x in range(8, 40)]
    assert any(before.pixel(*at) != after.pixel(*at) for at in inside)


def test_the_advice_follows_every_answer(sheet: Sheet) -> None:
    line = sheet.advice.line
    assert line.words.text() == "Choose what you see and smell."
    sheet.form.colour.choose(Colour.BROWN)
    assert line.words.text() == "Have the fluid changed."
    assert line.because.text().startswith("Because: the fluid is brown. Still to be chosen:")
    sheet.form.show_findings(BROWN)
    assert line.words.text() == "Have the transmission inspected before long."
    assert "the fluid smells burnt; " in line.because.text()
    sheet.form.show_findings(GOOD)
    assert line.words.text() == "No further action for the fluid."
    assert line.because.text() == "Nothing was found."


def test_one_sign_of_coolant_is_enough_before_the_rest_is_answered(sheet: Sheet) -> None:
    sheet.form.coolant.choose(True)
    assert sheet.advice.line.words.text().startswith("Do not drive")
    assert sheet.advice.line.words.property("role") == "bad"


def test_another_recommendation_needs_a_reason(sheet: Sheet) -> None:
    sheet.form.show_findings(BROWN)
    box = sheet.advice
    assert box.decision() == (Recommendation.INSPECT, "")
    assert box.differ.isHidden()
    QTest.mouseClick(box.choice.tiles[Recommendation.WATCH], Qt.MouseButton.LeftButton)
    assert box.differ.isVisible()
    with pytest.raises(UnitError, match="Say why you differ"):
        box.decision()
    QTest.keyClicks(box.why, " new clutch, known smell ")
    assert box.decision() == (Recommendation.WATCH, "new clutch, known smell")
    box.choice.choose(Recommendation.INSPECT)
    assert box.decision() == (Recommendation.INSPECT, "")


def test_a_decision_is_about_the_advice_that_it_was_made_on(sheet: Sheet) -> None:
    sheet.form.show_findings(BROWN)
    box = sheet.advice
    box.choice.choose(Recommendation.WATCH)
    box.why.setText("known")
    sheet.form.clarity.choose(Clarity.CLEAR)  # still to be inspected
    assert box.decision() == (Recommendation.WATCH, "known")
    sheet.form.show_findings(GOOD)
    assert box.decision() == (Recommendation.NO_ACTION, "")


@pytest.mark.parametrize("earlier", [False, True])
def test_nobody_differs_from_a_referral(sheet: Sheet, earlier: bool) -> None:
    sheet.form.show_findings(GOOD if earlier else MILKY)
    sheet.advice.choice.choose(Recommendation.WATCH)
    sheet.advice.show_coolant(earlier)
    sheet.form.note.setText("x")
    assert sheet.advice.choice.isHidden()
    assert sheet.advice.fixed.isVisible()
    assert sheet.advice.line.advice.recommendation is Recommendation.REFER
    if earlier:
        assert sheet.advice.decision() == (Recommendation.REFER, "")


def test_signs_from_earlier_in_the_check_refer_whatever_is_seen_now() -> None:
    advice = advise(GOOD, coolant_seen=True)
    assert (advice.recommendation, advice.reasons) == (Recommendation.REFER, ("coolant",))


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_tiles_are_high_enough_and_nothing_is_cut(
    sheet: Sheet, qapp: QApplication, palette: Palette
) -> None:
    theme.apply(qapp, palette)
    sheet.form.show_findings(BROWN)
    sheet.advice.choice.choose(Recommendation.WATCH)
    settle()
    for question in (*sheet.form.questions, sheet.advice.choice):
        for tile in question.tiles.values():
            assert min(tile.height(), tile.width()) >= TOUCH
    assert clipped_texts(sheet) == []
