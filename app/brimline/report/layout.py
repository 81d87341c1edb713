"""How the work summary is drawn: A4 or US Letter, one to two pages in the usual case.

The same summary gives the same bytes: no time of day and no random number goes into the file.
"""

from __future__ import annotations

import io
from typing import Any
from xml.sax.saxutils import escape

from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    Image,
    KeepTogether,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from brimline.report import chart, fonts, styles
from brimline.report.content import NO_TRACE
from brimline.report.photos import MOST
from brimline.report.styles import FOOT, LINE, MARGIN
from brimline.report.summary import Fact, Grid, Photo, Result, Section, Shop, Summary

_CHART_HEIGHT = 180.0
_LETTER_CHART_HEIGHT = 142.0  # US Letter is 50 pt shorter
_PHOTO_HEIGHT = 96.0
_BANNER_LINE = 15.0
_GAP = 12.0
_LABEL_WIDTH = 88.0
# With its quiet zone. A module is then some 0.45 mm wide, which a camera at hand's distance reads.
_CODE_SIZE = 64.0
_LABEL_DROP = 1.2  # pt that a smaller label is let down to stand on the line of its value
_MOST_CHARACTERS = 3000
_MOST_LINES = 40
# A table names its font on the page even where each cell brings its own; that must be ours too.
_OUR_FONT = ("FONTNAME", (0, 0), (-1, -1), fonts.REGULAR)
_BULLET = "•"


def render(summary: Summary) -> bytes:
    """Return the summary as a PDF file.

    :raises InstallationError: the font files are missing.
    """
    fonts.load()
    # Twice, because the first page says how many there are.
    _, pages = _Page(summary).build(0)
    return _Page(summary).build(pages)[0]


class _Page:
    """One run over the pages; ``total`` is how many there will be."""

    def __init__(self, summary: Summary) -> None:
        self._summary = summary
        self._known = fonts.covered()
        self._size = LETTER if summary.us_letter else A4
        self._width = self._size[0] - 2 * MARGIN

    def build(self, total: int) -> tuple[bytes, int]:
        buffer = io.BytesIO()
        names = {fact.label: fact.value for fact in self._summary.facts}
        document = BaseDocTemplate(
            buffer,
            pagesize=self._size,
            title=self._plain(f"{self._summary.title} {names.get('VIN', '')}".strip()),
            author=self._plain(self._summary.shop.name),
            subject=self._plain(self._summary.subtitle),
            creator="Brimline",
            initialFontName=fonts.REGULAR,
            invariant=1,
            lang="en-GB",
        )
        top = self._size[1] - MARGIN * 0.75 - self._banner_height()
        frame = Frame(
            MARGIN, FOOT, self._width, top - FOOT,
            leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=4,
        )  # fmt: skip

        def decorate(canvas: Any, _: Any) -> None:
            self._banner(canvas)
            self._foot(canvas, total)

        document.addPageTemplates([PageTemplate(frames=[frame], onPage=decorate)])
        document.build(self._story())
        return buffer.getvalue(), document.page

    def _plain(self, text: str) -> str:
        return fonts.printable(text, self._known).replace("\n", " ")

    def _text(self, text: str, style: Any) -> Paragraph:
        """A paragraph of text that a person may have typed: nothing in it is mark-up."""
        return Paragraph(self._escaped(text), style)

    def _escaped(self, text: str) -> str:
        printed = fonts.printable(_shortened(text.strip()), self._known)
        return escape(printed).replace("\n", "<br/>")

    # What stands on every page.

    def _banner_height(self) -> float:
        lines = len(self._summary.banner)
        return 0.0 if lines == 0 else lines * _BANNER_LINE + 12

    def _banner(self, canvas: Any) -> None:
        lines = self._summary.banner
        if not lines:
            return
        tall = len(lines) * _BANNER_LINE + 8
        top = self._size[1] - MARGIN * 0.5
        canvas.setFillColor(styles.INK)
        canvas.rect(MARGIN, top - tall, self._width, tall, stroke=0, fill=1)
        canvas.setFillColor(white)
        for number, line in enumerate(lines):
            canvas.setFont(fonts.BOLD, 11 if number == 0 else 9.5)
            y = top - 5 - (number + 1) * _BANNER_LINE + 4
            canvas.drawCentredString(self._size[0] / 2, y, line)

    def _foot(self, canvas: Any, total: int) -> None:
        canvas.setStrokeColor(styles.RULE)
        canvas.setLineWidth(LINE)
        canvas.line(MARGIN, FOOT - 8, MARGIN + self._width, FOOT - 8)
        canvas.setFillColor(styles.QUIET)
        page = f"Page {canvas.getPageNumber()} of {total}"
        size = 7.5
        words = self._plain(self._summary.footer)
        room = self._width - stringWidth(page, fonts.REGULAR, size) - 12
        while stringWidth(words, fonts.REGULAR, size) > room and size > 5:
            size -= 0.25
        canvas.setFont(fonts.REGULAR, size)
        canvas.drawString(MARGIN, FOOT - 20, words)
        canvas.setFont(fonts.REGULAR, 7.5)
        canvas.drawRightString(MARGIN + self._width, FOOT - 20, page)

    # The flow of parts.

    def _story(self) -> list[Flowable]:
        summary = self._summary
        story: list[Flowable] = [
            self._head(summary.shop),
            Spacer(0, 10),
            self._facts(summary.facts),
        ]
        story += [Spacer(0, _GAP), *self._result(summary.result)]
        story += self._temperature()
        for section in summary.sections:
            story += self._section(section)
        return story

    def _head(self, shop: Shop) -> Flowable:
        left = [
            self._text(self._summary.title, styles.TITLE),
            self._text(self._summary.subtitle, styles.SUBTITLE),
        ]
        right = [self._text(shop.name, styles.SHOP_NAME)]
        right += [self._text(line, styles.SHOP) for line in (*shop.address, shop.phone) if line]
        widths = [self._width * 0.58, self._width * 0.42]
        table = Table([[left, right]], colWidths=widths, splitInRow=1)
        table.setStyle(
            [
                *_bare(),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, -1), 1.4, styles.ACCENT),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 7),
                ("RIGHTPADDING", (1, 0), (1, 0), 0),
            ]
        )
        return table

    def _facts(self, facts: tuple[Fact, ...], width: float | None = None) -> Flowable:
        """Short facts in two columns, those too long for one across both."""
        width = self._width if width is None else width
        rows: list[list[Any]] = []
        spans: list[tuple[Any, ...]] = []
        pending: list[Any] | None = None
        room = width / 2 - _LABEL_WIDTH - 8
        for fact in facts:
            cells = [self._text(fact.label, styles.LABEL), self._text(fact.value, styles.BODY)]
            if fact.wide or self._length(fact.value) > room:
                if pending is not None:
                    rows.append([*pending, "", ""])
                    pending = None
                spans.append(("SPAN", (1, len(rows)), (3, len(rows))))
                rows.append([*cells, "", ""])
            elif pending is None:
                pending = cells
            else:
                rows.append([*pending, *cells])
                pending = None
        if pending is not None:
            rows.append([*pending, "", ""])
        other = width / 2 - _LABEL_WIDTH
        table = Table(rows, colWidths=[_LABEL_WIDTH, other] * 2, splitInRow=1)
        drop = [("TOPPADDING", (x, 0), (x, -1), 0.5 + _LABEL_DROP) for x in (0, 2)]
        table.setStyle([*_bare(), *drop, *spans, ("VALIGN", (0, 0), (-1, -1), "TOP")])
        return table

    def _result(self, result: Result) -> list[Flowable]:
        told = [
            ["", self._text(result.verdict, styles.VERDICT)],
            ["", self._text(result.told, styles.TOLD)],
        ]
        bar = 5.0
        table = Table(told, colWidths=[bar, self._width - bar], splitInRow=1)
        table.setStyle(
            [
                *_bare(),
                ("BACKGROUND", (0, 0), (0, -1), styles.ACCENT),
                ("BACKGROUND", (1, 0), (1, -1), styles.PALE),
                ("LEFTPADDING", (1, 0), (1, -1), 14),
                ("RIGHTPADDING", (1, 0), (1, -1), 12),
                ("TOPPADDING", (1, 0), (1, 0), 7),
                ("BOTTOMPADDING", (1, 0), (1, 0), 3),
                ("BOTTOMPADDING", (1, 1), (1, 1), 10),
            ]
        )
        parts: list[Flowable] = [table]
        for words in result.warnings:
            parts += [Spacer(0, 6), self._warning(words)]
        return parts

    def _warning(self, words: str) -> Flowable:
        word_width = 82.0
        table = Table(
            [[self._text("WARNING", styles.WARNING_WORD), self._text(words, styles.WARNING)]],
            colWidths=[word_width, self._width - word_width],
        )
        table.setStyle(
            [
                _OUR_FONT,
                ("BOX", (0, 0), (-1, -1), 1.6, styles.INK, "projecting"),
                ("BACKGROUND", (0, 0), (0, 0), styles.INK),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (1, 0), (1, 0), 12),
                ("TOPPADDING", (0, 0), (-1, -1), 6),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
            ]
        )
        return table

    def _temperature(self) -> list[Flowable]:
        section, data = self._summary.temperature, self._summary.chart
        parts = [self._text(section.heading, styles.HEADING), self._facts(section.facts)]
        if data is None:
            parts.append(self._text(NO_TRACE, styles.BODY))
        else:
            tall = _LETTER_CHART_HEIGHT if self._summary.us_letter else _CHART_HEIGHT
            parts += [Spacer(0, 6), chart.draw(data, self._width, tall)]
            parts.append(self._text(data.caption, styles.NOTE))
        return [KeepTogether(parts)]

    def _section(self, section: Section) -> list[Flowable]:
        head: list[Flowable] = [self._text(section.heading, styles.HEADING)]
        if section.lead:
            head += [self._text(section.lead, styles.BODY), Spacer(0, 3)]
        if section.code:
            head.append(self._beside_code(section.facts, section.code))
        elif section.facts:
            head.append(self._facts(section.facts))
        parts = head
        if section.tail:
            parts.append(self._text(section.tail, styles.BODY))
        if section.photos:
            parts += [Spacer(0, 3), self._photos(section.photos)]
        if section.grid is not None:
            parts += [Spacer(0, 3), self._grid(section.grid)]
        style = styles.NOTE if section.grid is not None else styles.POINT
        for note in section.notes:
            bullet = _BULLET if style is styles.POINT else None
            parts.append(Paragraph(self._escaped(note), style, bulletText=bullet))
        return [KeepTogether(parts)]

    def _beside_code(self, facts: tuple[Fact, ...], code: str) -> Flowable:
        width = self._width - _CODE_SIZE
        table = Table([[self._facts(facts, width), _qr(code)]], colWidths=[width, _CODE_SIZE])
        table.setStyle([*_bare(), ("VALIGN", (0, 0), (-1, -1), "TOP")])
        return table

    def _photos(self, photos: tuple[Photo, ...]) -> Flowable:
        """Photos side by side, each with its line, as large as three of them have room."""
        wide = self._width / MOST
        pictures = [
            Image(io.BytesIO(each.content), wide - _GAP, _PHOTO_HEIGHT, kind="proportional")
            for each in photos
        ]
        for picture in pictures:
            picture.hAlign = "LEFT"
        captions = [self._text(each.caption, styles.NOTE) for each in photos]
        table = Table([pictures, captions], colWidths=[wide] * len(photos), hAlign="LEFT")
        table.setStyle([*_bare(), ("VALIGN", (0, 0), (-1, -1), "TOP")])
        return table

    def _grid(self, grid: Grid) -> Flowable:
        heads = [
            self._text(words, styles.HEAD_FIGURE if numeric else styles.HEAD_CELL)
            for words, numeric in zip(grid.columns, grid.numeric, strict=True)
        ]
        body = [
            [
                self._text(words, styles.FIGURE if numeric else styles.BODY)
                for words, numeric in zip(row, grid.numeric, strict=True)
            ]
            for row in grid.rows
        ]
        table = Table(
            [heads, *body], colWidths=self._column_widths(grid), repeatRows=1, splitInRow=1
        )
        table.setStyle(
            [
                _OUR_FONT,
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, 0), 0.9, styles.QUIET),
                ("LINEBELOW", (0, 1), (-1, -1), LINE, styles.RULE),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 8),
                ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 1.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ]
        )
        return table

    def _column_widths(self, grid: Grid) -> list[float]:
        """Each column gets what its longest line needs; where that is too much, the widest wrap."""
        needs = [
            12 + max(self._length(row[column]) for row in (grid.columns, *grid.rows))
            for column in range(len(grid.columns))
        ]
        if sum(needs) <= self._width:
            return [need * self._width / sum(needs) for need in needs]
        room = self._width
        widths: dict[int, float] = {}
        for left, column in enumerate(sorted(range(len(needs)), key=needs.__getitem__)):
            widths[column] = min(needs[column], room / (len(needs) - left))
            room -= widths[column]
        return [widths[column] for column in range(len(needs))]

    def _length(self, words: str) -> float:
        size = float(styles.BODY.fontSize)
        return float(stringWidth(self._plain(words), fonts.REGULAR, size))


def _qr(text: str) -> Drawing:
    """A QR code (ISO/IEC 18004), level M: up to 15 % of it may be dirty or creased."""
    drawing = Drawing(_CODE_SIZE, _CODE_SIZE, initialFontName=fonts.REGULAR)
    drawing.add(QrCodeWidget(text, barLevel="M", barWidth=_CODE_SIZE, barHeight=_CODE_SIZE))
    return drawing


def _shortened(text: str) -> str:
    """Cut a text that would fill pages, and say so; the record keeps the whole of it."""
    lines = [line for line in text.splitlines() if line.strip()]
    kept = "\n".join(lines[:_MOST_LINES])[:_MOST_CHARACTERS].rstrip()
    if len(kept) == len("\n".join(lines)):
        return kept
    return f"{kept} … (shortened; the record keeps the whole text)"


def _bare() -> list[tuple[Any, ...]]:
    """A table that is only an arrangement: no padding at the sides, little above and below."""
    return [
        _OUR_FONT,
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 8),
        ("TOPPADDING", (0, 0), (-1, -1), 0.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0.5),
    ]
