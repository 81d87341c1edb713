"""The window in another language: our own sentences from their catalogue, and Qt's own texts.

What Qt says by itself, such as the menu of a field, is in its own catalogues; where an
installation lacks those, it stays English.
"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QTranslator

from brimline import translation
from brimline.translation import marked, tr

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "es": "Español"}
"""Every language by its code (ISO 639-1), as it calls itself."""

_PROBE = marked("Language")
"""A sentence that every catalogue has."""

_QT_TEXTS = "brimline_qt_texts"


def use(app: QCoreApplication, language: str, folder: Path) -> str:
    """Have everything that is made from now on said in a language.

    :param language: a code of :data:`LANGUAGES`.
    :param folder: where the compiled catalogues lie.
    :returns: one sentence where it has to be English instead; else empty.
    """
    _use_qt_texts(app, language)
    translation.speak(None)
    if language == ENGLISH:
        return ""
    file = folder / f"brimline_{language}.qm"
    ours = QTranslator()
    if not (_is_whole(file) and ours.load(str(file)) and ours.translate("", _PROBE)):
        return tr(
            "The translation {file} is missing or damaged, so that everything is in English: "
            "install Brimline again.",
            file=file,
        )
    translation.speak(lambda text: ours.translate("", text) or "")
    return ""


def _is_whole(file: Path) -> bool:
    """Whether a catalogue is there to its end: Qt loads one that was cut off without a word.

    16 bytes that name the format, then sections: a byte, a length in four, and so many bytes.
    """
    try:
        content = file.read_bytes()
    except OSError:
        return False
    at = 16
    while at + 5 <= len(content):
        at += 5 + int.from_bytes(content[at + 1 : at + 5], "big")
    return at == len(content)


def _use_qt_texts(app: QCoreApplication, language: str) -> None:
    former = app.findChild(QTranslator, _QT_TEXTS)
    if former is not None:
        app.removeTranslator(former)
        former.setParent(None)
    if language == ENGLISH:
        return
    texts = QTranslator(app)
    texts.setObjectName(_QT_TEXTS)
    where = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if texts.load(f"qtbase_{language}", where):
        app.installTranslator(texts)
