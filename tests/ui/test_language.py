"""The window in another language: what is loaded, and what is said where it cannot be."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline import paths, translation
from brimline.translation import tr
from brimline.ui import language

FOLDER = paths.resources() / "translations"


@pytest.fixture
def app(qtbot: QtBot) -> Iterator[QApplication]:
    """The application, which speaks English again afterwards."""
    found = QApplication.instance()
    assert isinstance(found, QApplication)
    yield found
    language.use(found, language.ENGLISH, FOLDER)


def test_every_language_but_english_travels_with_the_program() -> None:
    there = {path.stem.removeprefix("brimline_") for path in FOLDER.glob("*.qm")}
    assert there == set(language.LANGUAGES) - {language.ENGLISH}


def test_every_sentence_is_said_as_the_catalogue_has_it(app: QApplication) -> None:
    assert language.use(app, "es", FOLDER) == ""
    for message in ET.parse(FOLDER / "brimline_es.ts").getroot().iter("message"):
        source = message.findtext("source", "")
        assert tr(source) == (message.findtext("translation") or source)


def test_qt_says_its_own_in_the_same_language(app: QApplication) -> None:
    """“Undo” is “Deshacer” in Qt's own Spanish catalogue, qtbase_es."""
    assert language.use(app, "es", FOLDER) == ""
    assert QCoreApplication.translate("QLineEdit", "&Undo") == "&Deshacer"
    assert language.use(app, "en", FOLDER) == ""
    assert QCoreApplication.translate("QLineEdit", "&Undo") == "&Undo"
    assert tr("Language") == "Language"


def test_a_missing_catalogue_is_one_sentence_and_english(app: QApplication, tmp_path: Path) -> None:
    language.use(app, "es", FOLDER)
    said = language.use(app, "es", tmp_path)
    assert said.startswith(f"The translation {tmp_path / 'brimline_es.qm'} is missing or damaged")
    assert tr("Language") == "Language"


@pytest.mark.parametrize("share", [0.0, 0.02, 0.2, 0.5, 0.9, 0.99])
def test_a_catalogue_cut_short_is_one_sentence_and_english(
    share: float, app: QApplication, tmp_path: Path
) -> None:
    whole = (FOLDER / "brimline_es.qm").read_bytes()
    (tmp_path / "brimline_es.qm").write_bytes(whole[: int(len(whole) * share)])
    assert "is missing or damaged" in language.use(app, "es", tmp_path)
    assert tr("Language") == "Language"


def test_nothing_is_translated_without_being_asked() -> None:
    assert translation.tr("Language") == "Language"
