"""The running check as it is read from under the vehicle: little, and large.

Everything stands in rows of which a plan says how large they are; nothing is laid out by Qt, so
that nothing moves but what changes. Colour is never the only carrier: what is urgent has a symbol,
a plate and words.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from brimline.procedure import facts
from brimline.procedure.doing import Do, NextStep
from brimline.session import Snapshot
from brimline.translation import tr
from brimline.ui.screens.check import far_plan, far_words
from brimline.ui.screens.check.far_plan import MARGIN, FarSizes
from brimline.ui.tokens import FAR, TOUCH_MM, FarPalette, Palette
from brimline.ui.touch import MM_PER_INCH, dots_per_inch
from brimline.ui.widgets.band_bar import POINTER, BandBar
from brimline.ui.widgets.caution import draw_alert
from brimline.ui.widgets.far_text import PITCH, FarText
from brimline.ui.widgets.marks import Shape, draw
from brimline.units import UnitSystem
from brimline.wording import next_step as words

HEAT_PART = 0.47
"""How much of the width temperature and band take."""

_SYMBOL = 1.15  # width of a symbol, as a part of the size of type beside it


@dataclass(frozen=True)
class FarOffer:
    """What the one button does, as the far view says it.

    :param undo: what may be taken back, empty where nothing; then ``keys`` says which keys do what.
    :param told: why a press did nothing, or what was refused; empty most of the time.
    :param cautions: what is to be read before the next step.
    """

    step: NextStep
    press: str
    undo: str
    keys: str
    told: str = ""
    cautions: Sequence[str] = ()


class FarView(QWidget):
    """One running check, large.

    :param distance_m: from how far it is read.
    :param back: leads to the screen for arm's length; ``take_back`` takes the last answer back.
    """

    def __init__(
        self,
        units: UnitSystem,
        palette: Palette,
        distance_m: float,
        back: Callable[[], None],
        take_back: Callable[[], None],
    ) -> None:
        super().__init__()
        self._units, self.distance_m = units, distance_m
        self.dpi: float | None = None
        """Px to an inch; ``None``: as the screen says."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.alarm, self.not_saved = self._text(), self._text(bold=True)
        self.heat = self._text(bold=True)
        self.bar = BandBar(self)
        self.plug, self.engine = self._text(bold=True), self._text(bold=True)
        self.place, self.outlook = self._text(), self._text()
        self.next = self._text(bold=True)
        self.press, self.undo, self.told = self._text(), self._text(), self._text(bold=True)
        self.take_back = _OverText(take_back, self.undo)
        self.back = _BackButton(back, self)
        self._symbols: list[tuple[FarText, Shape | None]] = []
        self._acknowledged = False
        self._reading = False
        self._colours = FAR["light"]
        self.set_palette(palette)

    def _text(self, *, bold: bool = False) -> FarText:
        return FarText(bold=bold, parent=self)

    # ── what is shown ────────────────────────────────────────────────────────

    def show_snapshot(self, snapshot: Snapshot, offer: FarOffer) -> None:
        """Show a running check and what the one button does."""
        state = snapshot.state
        alarm = far_words.alarm_line(state)
        self._acknowledged = alarm is not None and alarm.acknowledged
        self._reading = offer.step.do is Do.READ_CAUTIONS and bool(offer.cautions)
        self.take_back.setAccessibleName(offer.undo)
        short = words.short(offer.step, self._units, state.now)
        for where, text in (
            (self.alarm, "" if alarm is None else alarm.words),
            (self.not_saved, far_words.not_saved(snapshot.not_saved)),
            (self.heat, far_words.heat(state, self._units)),
            (self.plug, far_words.plug(state)),
            (self.engine, far_words.engine(state)),
            (self.outlook, far_words.outlook(snapshot)),
            (self.next, "\n".join(offer.cautions) if self._reading else short),
            (self.press, offer.press),
            (self.undo, offer.undo or offer.keys),
            (self.told, offer.told),
        ):
            where.show_text(text)
        found = far_words.place(state, cut_off=snapshot.cut_off)
        self.place.show_text(tr(found.words))
        self._symbols = [(self.place, found.shape), (self.alarm, None), (self.not_saved, None)]
        said = far_words.band(state.band, self._units)
        self.bar.show_band(state.band, said, facts.temperature(state))
        self._dress(snapshot, offer.step, alarming=found.alarming)
        self._place()

    def show_held(self, part: float) -> None:
        """Show how much of a long press has gone by, 0 to 1."""
        self.undo.set_part(part)

    def set_palette(self, palette: Palette) -> None:
        """Wear the look."""
        self._colours = FAR[palette.name]
        self.bar.set_colours(self._colours)
        self.back.colours = self._colours
        for text in self.findChildren(FarText):
            if text is not self.bar.words:
                text.set_colours(self._colours.ink)
        self.update()

    def _dress(self, snapshot: Snapshot, step: NextStep, *, alarming: bool) -> None:
        c, state = self._colours, snapshot.state
        if self._acknowledged:
            self.alarm.set_colours(c.alarm, edge=c.alarm)
        else:
            self.alarm.set_colours(c.on_alarm, c.alarm)
        self.not_saved.set_colours(c.on_alarm, c.alarm)
        lost = facts.temperature(state) is None
        self.heat.set_colours(c.soft if lost else c.ink)
        self.place.set_colours(c.alarm if alarming else c.ink)
        if state.plug_is_out:
            self.plug.set_colours(c.ground, c.ink)
        else:
            self.plug.set_colours(c.ink, edge=c.line)
        stopped = facts.engine_known(state) and not facts.engine_runs(state)
        if stopped and state.plug_is_out:
            self.engine.set_colours(c.on_alarm, c.alarm)
        else:
            self.engine.set_colours(c.ink, edge=c.line)
        self.outlook.set_colours(c.ink)
        if self._reading:
            self.next.set_colours(c.ink, edge=c.alarm)
        elif step.do is Do.PUT_PLUG_IN and step.word:
            self.next.set_colours(c.on_alarm, c.alarm)
        elif step.press is not None:
            self.next.set_colours(c.ground, c.ink)
        else:
            self.next.set_colours(c.ink, edge=c.ink)
        self.press.set_colours(c.ink)
        self.undo.set_colours(c.soft)
        self.told.set_colours(c.alarm, edge=c.alarm)

    # ── where it stands ──────────────────────────────────────────────────────

    @property
    def _dpi(self) -> float:
        screen = self.screen()
        return self.dpi or dots_per_inch(screen.physicalDotsPerInch(), screen.logicalDotsPerInch())

    def sizes(self) -> FarSizes:
        """Return the sizes of type that are wanted in the present window."""
        rule = far_plan.wanted(self.distance_m, self._dpi)
        return far_plan.sizes(max(200, self.height()), rule, int(bool(self.not_saved.text())))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out anew."""
        super().resizeEvent(event)
        self._place()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """It takes what there is."""
        return QSize(1, 1)

    minimumSizeHint = sizeHint  # noqa: N815 - Qt's name

    def _place(self) -> None:
        sizes = self.sizes()
        row = sizes.side * PITCH
        y = float(MARGIN)
        for strip in (self.alarm, self.not_saved):
            strip.setVisible(bool(strip.text()))
            if strip.text():
                corner = self.back.width() + MARGIN if y == MARGIN else 0
                self._put(strip, sizes.side, (y, row), indent=_SYMBOL, right=corner)
                y += row
        y = self._place_figures(sizes, y)
        if not self.alarm.text():
            self._put(self.outlook, sizes.side, (y, row))
            y += row
        self.outlook.setVisible(not self.alarm.text())
        bottom = self.height() - MARGIN - 2 * row
        air = sizes.main * PITCH * (far_plan.MAIN_ROWS - 2) / 2
        if self._reading:  # as many lines as it takes: it has to be read before the step
            self.outlook.hide()
            y -= 0 if self.alarm.text() else row
            self._put(self.next, sizes.side, (y, bottom - y), lines=12)
        else:
            self._put(self.next, sizes.main, (y + air / 2, bottom - y - air), lines=2)
        told = bool(self.told.text())
        self._put(self.press, sizes.side, (bottom, row))
        self._put(self.undo, sizes.side, (bottom + row, row))
        self._put(self.told, sizes.side, (bottom, 2 * row), lines=2)
        self.told.setVisible(told)
        self.press.setVisible(not told)
        self.undo.setVisible(not told)
        self.take_back.setGeometry(self.undo.rect())
        self.take_back.setVisible(bool(self.take_back.accessibleName()))
        self.back.fit(self._dpi)
        self.back.move(self.width() - self.back.width() - MARGIN, MARGIN)
        self.back.raise_()
        self.update()

    def _place_figures(self, sizes: FarSizes, y: float) -> float:
        """Temperature over its band on the left; plug, engine and place on the right."""
        row = sizes.side * PITCH
        left = (self.width() - 3 * MARGIN) * HEAT_PART
        self.heat.set_size(2 * row / PITCH)
        self.heat.setGeometry(QRectF(MARGIN, y, left, 2 * row).toRect())
        # Figures have no tails: the pointer takes the room of those.
        above = row * POINTER / (1 - POINTER)
        self.bar.setGeometry(QRectF(MARGIN, y + 2 * row - above, left, row + above).toRect())
        self.bar.set_size(sizes.side)
        x = left + 2 * MARGIN
        at_top = not self.alarm.text() and not self.not_saved.text()
        corner = self.back.width() + MARGIN if at_top else 0
        for number, text in enumerate((self.plug, self.engine, self.place)):
            indent = _SYMBOL if text is self.place else 0.0
            self._put(
                text, sizes.side, (y + number * row, row),
                left=x, indent=indent, right=corner if number == 0 else 0,
            )  # fmt: skip
        return y + 3 * row

    def _put(
        self,
        text: FarText,
        px: float,
        rows: tuple[float, float],
        *,
        left: float = MARGIN,
        indent: float = 0.0,
        right: float = 0.0,
        lines: int = 1,
    ) -> None:
        """Put a text into its rows (top and height in px); a symbol may stand before it."""
        start = left + indent * px
        text.set_size(px, lines)
        area = QRectF(start, rows[0], self.width() - MARGIN - right - start, rows[1])
        text.setGeometry(area.toRect())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ground, and symbols before what has one."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = self._colours
        painter.fillRect(self.rect(), QColor(colours.ground))
        for text, shape in self._symbols:
            if not text.text() or not text.isVisibleTo(self):
                continue
            size = min(text.height() * 0.8, text.height() / PITCH * 0.95)
            box = QRectF(text.x() - size * 1.15, text.y() + (text.height() - size) / 2, size, size)
            if shape is None:
                draw_alert(painter, box, QColor(colours.alarm), QColor(colours.ground))
            else:
                draw(painter, shape, box.adjusted(3, 3, -3, -3), QColor(colours.ink))
        painter.end()


class _OverText(QAbstractButton):
    """Lies over a text that may be pressed, which is all that is seen of it; a key does the same.

    Its accessible name says what it does, and is empty while it does nothing.
    """

    def __init__(self, pressed: Callable[[], None], text: FarText) -> None:
        super().__init__(text)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.clicked.connect(lambda _checked=False: pressed())
        self.hide()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the text as it is drawn."""


class _BackButton(QAbstractButton):
    """Two arrows that lead back; the key does the same, so that this needs no words."""

    def __init__(self, pressed: Callable[[], None], parent: QWidget) -> None:
        super().__init__(parent)
        self.colours: FarPalette = FAR["light"]
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(tr("Back to the screen for arm's length"))
        self.setToolTip(tr("Back to the screen for arm's length"))
        self.clicked.connect(lambda _checked=False: pressed())
        self.fit(96.0)

    def fit(self, dpi: float) -> None:
        """Be as large as a gloved finger needs on this screen."""
        size = round(TOUCH_MM / MM_PER_INCH * dpi)
        self.setFixedSize(size, size)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw a frame, and an arrow out of it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = self.width() / 20
        painter.scale(scale, scale)
        painter.setPen(QPen(QColor(self.colours.line), 1))
        painter.setBrush(QColor(self.colours.ground))
        painter.drawRoundedRect(QRectF(0.5, 0.5, 19, 19), 2, 2)
        painter.setPen(QPen(QColor(self.colours.ink), 1.8))
        for sign in (-1, 1):
            painter.drawLine(*_points(10 + sign * 2, 10 + sign * 5))
            painter.drawLine(*_points(10 + sign * 2, 10 + sign * 2, along=sign * 3))
            painter.drawLine(*_points(10 + sign * 2, 10 + sign * 2, down=sign * 3))
        painter.end()


def _points(
    near: float, far: float, *, along: float = 0.0, down: float = 0.0
) -> tuple[int, int, int, int]:
    """Return a line of an arrow that points to the middle: its shaft, or one side of its head."""
    if along:
        return round(near), round(near), round(near + along), round(near)
    if down:
        return round(near), round(near), round(near), round(near + down)
    return round(near), round(near), round(far), round(far)
