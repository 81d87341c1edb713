"""The fluid ledger: what ran off and went in, the net of it, and what the spec sheet still allows.

Drawn as a grid of labels and not as a table view, whose cells would be cut where a page is narrow.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QProgressBar, QSizePolicy, QVBoxLayout, QWidget

from brimline.estimate.ledger import REFERENCE_C, Ledger, Line, Use, ledger_of
from brimline.procedure.state import CheckState
from brimline.translation import joined, marked, tr
from brimline.ui.forms import label
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role
from brimline.units import UnitSystem, clock

_PARTS = 1000

_ADDED = (
    marked("Added {used} of at most {limit}: {left} left."),
    marked("Added {used}: {over} more than the spec sheet's {limit}."),
)
_RUN_OFF = (
    marked("Ran off {used} of at most {limit}: {left} left."),
    marked("Ran off {used}: {over} more than the spec sheet's {limit}."),
)
_TOP = Qt.AlignmentFlag.AlignTop


_IMPLAUSIBLE = marked(
    "More ran off than was added, though nothing came at first: an amount is wrong, check both."
)


class LedgerTable(QWidget):
    """Shows what a state has in its ledger; nothing in it can be changed."""

    def __init__(self, units: UnitSystem) -> None:
        super().__init__()
        self._units = units
        self._shown: Ledger | None = None
        self.rows: list[tuple[QLabel, ...]] = []
        self._rows_holder = QWidget()
        self._grid = QGridLayout(self._rows_holder)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(Space.MEDIUM)
        self._grid.setVerticalSpacing(Space.TIGHT)
        self._grid.setColumnStretch(1, 1)
        self._put(0, (tr("Time"), tr("What"), tr("Amount"), tr("Fluid at")), "small")
        self.none = label(tr("Nothing went in or out yet."), "soft")
        self.net = label("", "heading")
        self.added, self.run_off = Gauge(units, _ADDED), Gauge(units, _RUN_OFF)
        self.unmeasured = label("", "soft")
        self.implausible = label(tr(_IMPLAUSIBLE), "bad")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        column.addWidget(label(tr("Fluid ledger"), "heading"))
        for made in (
            self.none, self._rows_holder, self.net, self.implausible, self.unmeasured, self.added,
            self.run_off,
        ):  # fmt: skip
            column.addWidget(made)

    def show_state(self, state: CheckState) -> None:
        """Show the ledger as it stands, where it stands otherwise than before."""
        ledger = ledger_of(state)
        if ledger == self._shown:
            return
        self._shown = ledger
        self._show_lines(ledger.lines)
        self.unmeasured.setVisible(ledger.unmeasured)
        not_noted = tr("Fluid ran off; how much is not noted yet.")
        not_measured = tr("Fluid ran off; it was not measured: {why}.", why=ledger.why.rstrip("."))
        self.unmeasured.setText(not_measured if ledger.why else not_noted)
        self.implausible.setVisible(ledger.implausible)
        self.none.setVisible(not ledger.lines and not ledger.unmeasured)
        self.added.show_use(ledger.added)
        self.run_off.show_use(ledger.run_off)
        self.run_off.setHidden(ledger.unmeasured)  # nobody knows what is left of it

    def _show_lines(self, lines: tuple[Line, ...]) -> None:
        for row in self.rows:
            for made in row:
                self._grid.removeWidget(made)
                made.deleteLater()
        self.rows = [
            self._put(at, _texts(line, self._units), "") for at, line in enumerate(lines, start=1)
        ]
        self._rows_holder.setVisible(bool(lines))
        self.net.setVisible(bool(lines))
        if lines:
            self.net.setText(net_words(lines[-1], self._units))

    def _put(self, row: int, texts: tuple[str, ...], role: str) -> tuple[QLabel, ...]:
        made = []
        for at, text in enumerate(texts):
            cell = label(text, role)
            if at != 1:
                cell.setWordWrap(False)
            number = Qt.AlignmentFlag.AlignRight if at >= 2 else Qt.AlignmentFlag.AlignLeft
            self._grid.addWidget(cell, row, at, number | _TOP)
            made.append(cell)
        made[1].setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._grid.setAlignment(made[1], _TOP)
        return tuple(made)


def _texts(line: Line, units: UnitSystem) -> tuple[str, ...]:
    """Return what a row says: time, what, amount, temperature."""
    entry = line.entry
    what = tr("added") if entry.litres > 0 else tr("run off")
    named = [entry.product] if entry.product else []
    named += [tr("lot {lot}", lot=entry.lot)] if entry.lot else []
    celsius = tr("not known") if entry.celsius is None else units.temperature(entry.celsius)
    said = joined((what, *([joined(named)] if named else [])), "\n")
    return clock(entry.at), said, units.volume(abs(entry.litres)), celsius


def net_words(line: Line, units: UnitSystem) -> str:
    """Return the net of all amounts up to an entry, at the reference temperature where it can be.

    An amount changes with its temperature, so that hot and cold ones do not add up as measured.
    """
    at, known = units.temperature(REFERENCE_C), line.net_at_reference
    measured = units.volume(abs(line.net))
    if known is None:
        words = (
            marked("Net {measured} in as measured; at {at} not known.")
            if line.net >= 0
            else marked("Net {measured} out as measured; at {at} not known.")
        )
        return tr(words, measured=measured, at=at)
    out = marked("Net {amount} out at {at}.")
    words = marked("Net {amount} in at {at}.") if known >= 0 else out
    return tr(words, amount=units.volume(abs(known)), at=at)


class Gauge(QWidget):
    """How much of what is allowed is used, as a bar and in words.

    :param words: what is said up to the limit, and beyond it.
    """

    def __init__(self, units: UnitSystem, words: tuple[str, str]) -> None:
        super().__init__()
        self._units, self._within, self._beyond = units, *words
        self.words = label("")
        self.bar = QProgressBar()
        self.bar.setRange(0, _PARTS)
        self.bar.setTextVisible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.HAIR)
        column.addWidget(self.words)
        column.addWidget(self.bar)

    def show_use(self, use: Use) -> None:
        """Show it; beyond the limit the words say so, and the bar is full."""
        units, over = self._units, use.left < -0.0005  # less is not seen in what is written
        said = tr(
            self._beyond if over else self._within,
            used=units.volume(use.used),
            limit=units.volume(use.limit),
            left=units.volume(max(0.0, use.left)),
            over=units.volume(max(0.0, -use.left)),
        )
        self.words.setText(said)
        self.bar.setAccessibleName(said)
        self.bar.setValue(round(use.share * _PARTS))
        set_role(self.words, "bad" if over else "")
