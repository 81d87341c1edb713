"""What pages say of the warm-up: when to come back, what that rests on, what to fetch meanwhile."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from brimline.estimate import forecast_words
from brimline.estimate.warm_up import BandOutlook, can_be_told
from brimline.session import Snapshot
from brimline.translation import marked, tr
from brimline.ui.forms import label
from brimline.ui.tokens import Space
from brimline.units import UnitSystem

_COME_BACK = marked("When to come back")
_THERE = marked("The fluid is in its band already")


class OutlookBox(QWidget):
    """The outlook in sentences; hidden while nothing can be said."""

    def __init__(self) -> None:
        super().__init__()
        self.advice, self.basis = label(""), label("", "small")
        self._shown: BandOutlook | None = None
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(Space.TIGHT)
        self.column.addWidget(self.advice)
        self.column.addWidget(self.basis)
        self.hide()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show what is told now; a forecast may be a second old, and no longer hold."""
        outlook = snapshot.outlook if can_be_told(snapshot.state) else None
        self.setVisible(outlook is not None)
        if outlook is not None:
            self.show_outlook(outlook, snapshot)

    def show_outlook(self, outlook: BandOutlook, _snapshot: Snapshot) -> None:
        """Show an outlook."""
        if outlook is self._shown:
            return  # it is made once a second, and shown ten times
        self._shown = outlook
        _say(self.advice, forecast_words.advice(outlook))
        _say(self.basis, forecast_words.rests_on(outlook))


class ComeBackBox(OutlookBox):
    """The same under a heading, with what to fetch until then."""

    def __init__(self, units: UnitSystem) -> None:
        super().__init__()
        self._units = units
        self.heading = label("", "heading")
        self.meanwhile, self.list = label(tr("Meanwhile"), "heading"), label("")
        self.column.insertWidget(0, self.heading)
        self.column.addWidget(self.meanwhile)
        self.column.addWidget(self.list)

    def show_outlook(self, outlook: BandOutlook, snapshot: Snapshot) -> None:
        """Show an outlook."""
        super().show_outlook(outlook, snapshot)
        _say(self.heading, tr(_THERE if outlook.entry is None else _COME_BACK))
        fetched = forecast_words.to_fetch(snapshot.state, self._units)
        _say(self.list, "\n".join(f"•  {thing}" for thing in fetched))


def _say(where: QLabel, text: str) -> None:
    if where.text() != text:
        where.setText(text)
