"""The eleven stages in a column: done, current, to come."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

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

_RING = 28  # px


class Standing(StrEnum):
    """How a stage stands."""

    DONE = marked("done")
    CURRENT = marked("current")
    TO_COME = marked("to come")
    NOT_DONE = marked("not done")


class Stepper(QWidget):
    """The stages of a check and where it stands."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedWidth(WIDTH)
        self._rows: dict[Stage, _Row] = {
            stage: _Row(number, tr(STAGES[stage])) for number, stage in enumerate(ORDER, 1)
        }
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.HAIR)
        for row in self._rows.values():
            column.addWidget(row)
        column.addStretch(1)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check."""
        for stage, row in self._rows.items():
            row.set_standing(standing(snapshot.state, stage))

    def row(self, stage: Stage) -> QWidget | None:
        """Return the row of a stage, ``None`` where it has none."""
        return self._rows.get(stage)

    def shown(self, stage: Stage) -> Standing:
        """Return how a stage is shown now."""
        return self._rows[stage].standing


class StepperArea(QScrollArea):
    """The stages, scrolled to where the check stands when alarms leave too little room."""

    def __init__(self, stepper: Stepper) -> None:
        super().__init__()
        self._stepper = stepper
        self.setFixedWidth(WIDTH)
        stepper.setMinimumWidth(0)  # a scroll bar takes its room from the names
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(stepper)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check."""
        self._stepper.show_snapshot(snapshot)
        current = self._stepper.row(snapshot.state.stage)
        if current is not None:
            self.ensureWidgetVisible(current, 0, 0)


def standing(state: CheckState, stage: Stage) -> Standing:
    """Return how a stage stands; a check that was cut short has stages that were never done."""
    if stage is state.stage:
        return Standing.CURRENT
    if state.stage is not Stage.OVER and ORDER.index(stage) > ORDER.index(state.stage):
        return Standing.TO_COME
    cut_short = state.aborted is not None or state.closing.stripped
    return Standing.NOT_DONE if cut_short and not _was_done(state, stage) else Standing.DONE


def _was_done(state: CheckState, stage: Stage) -> bool:
    """Whether a stage of a check that was cut short had been done before."""
    plugged_out = bool(state.plug_spans)
    done = {
        Stage.PLUG_OUT: plugged_out,
        Stage.LEVEL: state.end is End.LEVEL,
        Stage.CLOSE: plugged_out and not any(gates.closing(state)),
        Stage.CONDITION: state.condition is not None,
        Stage.RECORD: state.closed is not None,
    }
    before = {
        Stage.IDENTIFY: gates.identify,
        Stage.FLUID: gates.fluid,
        Stage.SENSOR: gates.sensor,
        Stage.PRECONDITION: gates.precondition,
        Stage.RAISE: gates.lifted,
    }
    if stage in before:
        return plugged_out or not any(before[stage](state))
    return done.get(stage, plugged_out)


class _Row(QWidget):
    """One stage: its number in a ring, its name, and how it stands."""

    def __init__(self, number: int, name: str) -> None:
        super().__init__()
        self.standing = Standing.TO_COME
        self._number = number
        self._name = QLabel(name)
        self._name.setWordWrap(True)
        self._name.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setMinimumHeight(_RING + 2 * Space.TIGHT)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        row = QHBoxLayout(self)
        left = Space.SMALL + _RING + Space.SMALL
        row.setContentsMargins(left, Space.TIGHT, Space.TIGHT, Space.TIGHT)
        row.addWidget(self._name, 1)
        self._dress()

    def set_standing(self, new: Standing) -> None:
        """Show the stage as it stands; does nothing where it stands as before."""
        if new is not self.standing:
            self.standing = new
            self._dress()

    def _dress(self) -> None:
        weight = 700 if self.standing is Standing.CURRENT else 400
        self._name.setStyleSheet(f"QLabel {{ font-size: {Type.BODY}px; font-weight: {weight}; }}")
        stage, stands = self._name.text(), tr(self.standing.value)
        self.setAccessibleName(
            tr("{number} {stage}: {standing}", number=self._number, stage=stage, standing=stands)
        )
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ring with number or check mark; the current stage stands on a plate."""
        colours = self.palette()
        accent = colours.color(QPalette.ColorRole.Highlight)
        on_accent = colours.color(QPalette.ColorRole.HighlightedText)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(Space.SMALL, (self.height() - _RING) / 2, _RING, _RING)
        if self.standing is Standing.CURRENT:
            self._plate(painter, accent)
            self._disc(painter, box, accent)
            self._write(painter, box, on_accent)
        elif self.standing is Standing.DONE:
            self._ring(painter, box, accent)
            draw(painter, Shape.CHECK, box.adjusted(6, 6, -6, -6), accent)
        else:
            soft = colours.color(QPalette.ColorRole.PlaceholderText)
            self._ring(painter, box, soft)
            if self.standing is Standing.NOT_DONE:
                draw(painter, Shape.DASH, box.adjusted(6, 6, -6, -6), soft)
            else:
                self._write(painter, box, soft)
        painter.end()

    def _plate(self, painter: QPainter, accent: QColor) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.palette().color(QPalette.ColorRole.Button))
        painter.drawRoundedRect(QRectF(self.rect()), Space.SMALL, Space.SMALL)
        painter.setBrush(accent)
        painter.drawRoundedRect(QRectF(0, 4, 4, self.height() - 8), 2, 2)

    def _disc(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawEllipse(box)

    def _ring(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        painter.setPen(QPen(colour, 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(QPointF(box.center()), _RING / 2 - 1, _RING / 2 - 1)

    def _write(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        font = QFont(FAMILY)
        font.setPixelSize(Type.SMALL)
        font.setBold(self.standing is Standing.CURRENT)
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(self._number))
