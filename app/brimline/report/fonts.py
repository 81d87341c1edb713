"""The one font family of the summary: embedded, so that every printer shows the same page."""

from __future__ import annotations

import unicodedata

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from brimline import paths
from brimline.errors import InstallationError
from brimline.translation import tr

REGULAR = "BrimlineNotoSans"
BOLD = "BrimlineNotoSans-Bold"
MISSING = "\N{REPLACEMENT CHARACTER}"
"""What stands for a character that the font lacks."""

_FILES = {REGULAR: "NotoSans-Regular.ttf", BOLD: "NotoSans-Bold.ttf"}


def load() -> None:
    """Make the family known to reportlab; done once, further calls change nothing.

    :raises InstallationError: the font files are missing or damaged.
    """
    if BOLD in pdfmetrics.getRegisteredFontNames():
        return
    for name, file in _FILES.items():
        path = paths.resources() / "fonts" / file
        try:
            pdfmetrics.registerFont(TTFont(name, str(path)))
        except (TTFError, OSError) as error:
            raise InstallationError(
                tr("The font of the work summary is missing or damaged: install Brimline again."),
                detail=f"{path}: {error}",
            ) from error
    pdfmetrics.registerFontFamily(
        REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD
    )


def covered() -> frozenset[int]:
    """Return the code points that both weights can draw."""
    load()
    faces = [pdfmetrics.getFont(name).face.charToGlyph for name in _FILES]
    return frozenset(faces[0]) & frozenset(faces[1])


def printable(text: str, known: frozenset[int]) -> str:
    """Return the text with every character that cannot be drawn replaced by :data:`MISSING`.

    Line breaks stay; other white space becomes a space; what would leave no mark at all, such as
    a control character, counts as one that cannot be drawn. Letters with accents are composed
    first, because the page sets one character after the other.
    """
    composed = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
    return "".join(_drawn(character, known) for character in composed)


def _drawn(character: str, known: frozenset[int]) -> str:
    if character == "\n":
        return character
    category = unicodedata.category(character)
    if category.startswith("Z") or character == "\t":
        return " "
    if category in ("Cc", "Cf", "Cs") or ord(character) not in known:
        return MISSING
    return character
