"""The eleven stages in a column: done, current, to come.

All of them are in sight in whatever room there is: rows grow smaller first, and where even small
ones would not fit, the stages stand side by side by their numbers, with the current one's name
where that fits: it is the title of the page, too.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetrics,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from brimline.procedure import gates
from brimline.procedure.state import CheckState, End, Stage
from brimline.session import Snapshot
from brimline.translation import marked, tr
from brimline.ui.tokens import FAMILY, Space, Type
from brimline.ui.widgets.marks import Shape, draw
from brimline.wording import STAGES

WIDTH = 240
"""Width of the column in px."""

ORDER = tuple(stage for stage in Stage if stage is not Stage.OVER)


@dataclass(frozen=True)
class Tier:
    """How large rows are, in px: their ring, its distance from row to row, the name's type."""

    ring: int
    gap: int
    type: int


TIERS = (Tier(28, 10, Type.BODY), Tier(24, 4, Type.BODY), Tier(20, 2, Type.SMALL))
"""From the most comfortable to the closest."""

NUMBERS = Tier(20, 2, Type.SMALL)
"""Side by side."""


class Standing(StrEnum):
    """How a stage stands."""

    DONE = marked("done")
    CURRENT = marked("current")
    TO_COME = marked("to come")
    NOT_DONE = marked("not done")
    STOPPED = marked("stopped here")


_SHAPES = {Standing.NOT_DONE: Shape.DASH, Standing.STOPPED: Shape.CROSS}


class Stepper(QWidget):
    """The stages of a check and where it stands."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedWidth(WIDTH)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self._here = QLabel(self)
        self._here.setWordWrap(True)
        self._here.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self._rows: dict[Stage, _Row] = {
            stage: _Row(number, tr(STAGES[stage]), self) for number, stage in enumerate(ORDER, 1)
        }
        self._here.setStyleSheet(f"QLabel {{ font-size: {NUMBERS.type}px; font-weight: 700; }}")
        self._arrange()

    @property
    def tier(self) -> Tier | None:
        """How large the rows are now; ``None`` while the stages stand side by side."""
        fits = (tier for tier in TIERS if sum(self._heights(tier)) <= self.height())
        return next(fits, None)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size of comfortable rows."""
        return QSize(WIDTH, sum(self._heights(TIERS[0])))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room that the numbers take."""
        return QSize(WIDTH, NUMBERS.ring)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange the rows for the room that there is."""
        super().resizeEvent(event)
        self._arrange()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check."""
        for stage, row in self._rows.items():
            row.set_standing(standing(snapshot.state, stage))
            if row.standing is Standing.CURRENT:
                self._name(row)

    def _name(self, current: _Row) -> None:
        if self._here.text() != current.name:
            self._here.setText(current.name)
            self._arrange()

    def row(self, stage: Stage) -> QWidget | None:
        """Return the row of a stage, ``None`` where it has none."""
        return self._rows.get(stage)

    def shown(self, stage: Stage) -> Standing:
        """Return how a stage is shown now."""
        return self._rows[stage].standing

    def _heights(self, tier: Tier) -> list[int]:
        """Return how high each row is, whichever is the current one."""
        return [row.height_in(tier, WIDTH) for row in self._rows.values()]

    def _arrange(self) -> None:
        tier = self.tier
        self._here.hide()
        if tier is None:
            self._side_by_side()
            return
        y, heights = 0, self._heights(tier)
        air = min(TIERS[0].gap - tier.gap, (self.height() - sum(heights)) // len(heights))
        for row, height in zip(self._rows.values(), heights, strict=True):
            row.dress(tier, named=True)
            row.setGeometry(0, y, WIDTH, height + air)
            y += height + air

    def _side_by_side(self) -> None:
        pitch = WIDTH // len(self._rows)
        for at, row in enumerate(self._rows.values()):
            row.dress(NUMBERS, named=False)
            row.setGeometry(at * pitch, 0, pitch, NUMBERS.ring)
        room = QRect(0, 0, WIDTH, self.height()).adjusted(0, NUMBERS.ring + Space.TIGHT, 0, 0)
        self._here.setGeometry(room)
        self._here.setVisible(self._here.heightForWidth(WIDTH) <= room.height())


def standing(state: CheckState, stage: Stage) -> Standing:
    """Return how a stage stands; a check that was cut short has stages that were never done."""
    if stage is state.stage:
        return Standing.CURRENT
    if state.stage is not Stage.OVER and ORDER.index(stage) > ORDER.index(state.stage):
        return Standing.TO_COME
    at = _cut_short_at(state)
    if at is None or stage is Stage.RECORD:
        return Standing.DONE
    if stage is at:
        return Standing.STOPPED
    # The stages before it stood as somebody stopped the check; what comes behind was not reached.
    later = ORDER.index(stage) > ORDER.index(at)
    return Standing.NOT_DONE if later and not _done_later(state, stage) else Standing.DONE


def _cut_short_at(state: CheckState) -> Stage | None:
    """Return where the work ended before its end: by a person, or at the open plug."""
    if state.stopped_at is None and state.end not in (None, End.LEVEL):
        return Stage.LEVEL
    return state.stopped_at


def _done_later(state: CheckState, stage: Stage) -> bool:
    """Whether a stage was done although the check had been cut short before it."""
    if stage is Stage.CLOSE:
        return bool(state.plug_spans) and not any(gates.closing(state))
    return stage is Stage.CONDITION and state.condition is not None


class _Row(QWidget):
    """One stage: its number in a ring, its name where there is room, and how it stands."""

    def __init__(self, number: int, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.standing = Standing.TO_COME
        self.name = name
        self._number = number
        self._tier, self._named = TIERS[0], True
        self._label = QLabel(name, self)
        self._label.setWordWrap(True)
        self._label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._write_name()

    def height_in(self, tier: Tier, width: int) -> int:
        """Return the height in px with the name in bold, as it stands while it is current."""
        metrics = QFontMetrics(_face(tier.type))
        room = QRect(0, 0, width - _left(tier) - Space.TIGHT, 1 << 16)
        words = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), self.name)
        return max(tier.ring, words.height()) + tier.gap

    def dress(self, tier: Tier, *, named: bool) -> None:
        """Be so large, with the name beside the ring or without it."""
        if (tier, named) != (self._tier, self._named):
            self._tier, self._named = tier, named
            self._label.setVisible(named)
            self.setToolTip("" if named else self.name)
            self._place_name()
            self._write_name()

    def set_standing(self, new: Standing) -> None:
        """Show the stage as it stands; does nothing where it stands as before."""
        if new is not self.standing:
            self.standing = new
            self._write_name()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the name beside the ring."""
        super().resizeEvent(event)
        self._place_name()

    def _place_name(self) -> None:
        left = _left(self._tier)
        self._label.setGeometry(left, 0, self.width() - left - Space.TIGHT, self.height())

    def _write_name(self) -> None:
        weight = 700 if self.standing is Standing.CURRENT else 400
        size = self._tier.type
        self._label.setStyleSheet(f"QLabel {{ font-size: {size}px; font-weight: {weight}; }}")
        number, stands = self._number, tr(self.standing.value)
        self.setAccessibleName(
            tr("{number} {stage}: {standing}", number=number, stage=self.name, standing=stands)
        )
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ring with number or check mark; the current stage stands on a plate."""
        colours = self.palette()
        accent = colours.color(QPalette.ColorRole.Highlight)
        on_accent = colours.color(QPalette.ColorRole.HighlightedText)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ring = self._tier.ring
        left = Space.SMALL if self._named else (self.width() - ring) / 2
        box = QRectF(left, (self.height() - ring) / 2, ring, ring)
        inset = ring * 0.22
        mark = box.adjusted(inset, inset, -inset, -inset)
        if self.standing is Standing.CURRENT:
            if self._named:
                self._plate(painter, accent)
            self._disc(painter, box, accent)
            self._write(painter, box, on_accent)
        elif self.standing is Standing.DONE:
            self._ring(painter, box, accent)
            draw(painter, Shape.CHECK, mark, accent)
        else:
            soft = colours.color(QPalette.ColorRole.PlaceholderText)
            self._ring(painter, box, soft)
            if self.standing in _SHAPES:
                draw(painter, _SHAPES[self.standing], mark, soft)
            else:
                self._write(painter, box, soft)
        painter.end()

    def _plate(self, painter: QPainter, accent: QColor) -> None:
        inside = QRectF(self.rect()).adjusted(0, 1, 0, -1)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.palette().color(QPalette.ColorRole.Button))
        painter.drawRoundedRect(inside, Space.SMALL, Space.SMALL)
        painter.setBrush(accent)
        painter.drawRoundedRect(QRectF(0, 5, 4, self.height() - 10), 2, 2)

    def _disc(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawEllipse(box)

    def _ring(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        painter.setPen(QPen(colour, 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        radius = self._tier.ring / 2 - 1
        painter.drawEllipse(QPointF(box.center()), radius, radius)

    def _write(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        font = _face(Type.SMALL)
        font.setBold(self.standing is Standing.CURRENT)
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(self._number))


def _face(px: int) -> QFont:
    """Return the bold face in which the current stage's name stands."""
    font = QFont(FAMILY)
    font.setPixelSize(px)
    font.setBold(True)
    return font


def _left(tier: Tier) -> int:
    """Return where the name begins, in px."""
    return Space.SMALL + tier.ring + Space.SMALL
