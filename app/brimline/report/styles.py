"""Type and measures of the page, in points."""

from __future__ import annotations

from reportlab.lib.colors import HexColor, white
from reportlab.lib.enums import TA_CENTER, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from brimline.report.fonts import BOLD, REGULAR

INK = HexColor(0x1B1F24)
QUIET = HexColor(0x5A636E)
RULE = HexColor(0xC9CED4)
ACCENT = HexColor(0x1F4E79)
PALE = HexColor(0xF1F5F9)

MARGIN = 48.0
FOOT = 46.0
LINE = 0.6

_BODY = ParagraphStyle(
    "body",
    fontName=REGULAR,
    bulletFontName=REGULAR,
    fontSize=9.5,
    leading=13.2,
    textColor=INK,
    splitLongWords=1,
)


def _style(name: str, **changes: object) -> ParagraphStyle:
    return ParagraphStyle(name, parent=_BODY, **changes)


BODY = _BODY
LABEL = _style("label", fontSize=8, leading=13.2, textColor=QUIET)
FIGURE = _style("figure", alignment=TA_RIGHT)
HEAD_CELL = _style("head cell", fontSize=8, leading=11, textColor=QUIET)
HEAD_FIGURE = _style("head figure", fontSize=8, leading=11, textColor=QUIET, alignment=TA_RIGHT)
NOTE = _style("note", fontSize=8.5, leading=11.8, textColor=QUIET, spaceBefore=3)
POINT = _style("point", leftIndent=11, bulletIndent=0, spaceBefore=2.5)
TITLE = _style("title", fontName=BOLD, fontSize=23, leading=28)
SUBTITLE = _style("subtitle", fontSize=10.5, leading=14, textColor=QUIET)
SHOP_NAME = _style("shop name", fontName=BOLD, fontSize=12, leading=16, alignment=TA_RIGHT)
SHOP = _style("shop", fontSize=9, leading=12, textColor=QUIET, alignment=TA_RIGHT)
HEADING = _style(
    # Space before, not a spacer above: it vanishes at the head of a page.
    "heading",
    fontName=BOLD,
    fontSize=11.5,
    leading=15,
    textColor=ACCENT,
    spaceBefore=12,
    spaceAfter=3,
)
VERDICT = _style("verdict", fontName=BOLD, fontSize=20, leading=25)
TOLD = _style("told", fontSize=11, leading=15.5)
WARNING = _style("warning", fontName=BOLD, fontSize=11, leading=15, textColor=INK)
WARNING_WORD = _style(
    "warning word", fontName=BOLD, fontSize=11, leading=15, textColor=white, alignment=TA_CENTER
)
