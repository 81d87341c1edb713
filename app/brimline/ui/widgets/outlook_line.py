"""When the band comes, or how long it lasts: one line, its time legible from under the lift."""

from __future__ import annotations

import re
from collections.abc import Iterator

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from brimline.estimate import forecast_words
from brimline.estimate.forecast_words import IF_STARTED, TOO_EARLY, Told
from brimline.estimate.warm_up import BandOutlook, Basis, can_be_told
from brimline.session import Snapshot
from brimline.translation import capitalised, joined, tr
from brimline.ui.tokens import Space, Type
from brimline.ui.widgets.figures import bold_metrics, say, sized

_LONGEST_TIME = "1 h 45 min"
_BREAK = re.compile(r"(–)|(?<=[a-z]) (?=[^\W\d])")
_SHORT = 12  # letters of a range that stay in one line


class OutlookLine(QWidget):
    """The outlook in a few words; empty where nothing can be said.

    It keeps its size when it is empty, so that nothing moves as a forecast comes and goes.
    """

    def __init__(self) -> None:
        super().__init__()
        self.lead = sized(QLabel(), Type.LABEL)
        self.value = sized(QLabel(), Type.HEADLINE, bold=True)
        self.span = sized(QLabel(), Type.LABEL)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.SMALL)
        for part in (self.lead, self.value, self.span):
            row.addWidget(part)
        row.addStretch(1)
        self._shown: tuple[BandOutlook | None, bool] | None = None
        self._measure()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check; a forecast may be a second old, and no longer hold."""
        outlook = snapshot.outlook if can_be_told(snapshot.state) else None
        now = (outlook, snapshot.state.plug_is_out)
        if now == self._shown:
            return  # a forecast is made once a second, and shown ten times
        self._shown = now
        self.setToolTip(forecast_words.rests_on(outlook))
        if outlook is None:
            for part in (self.lead, self.value, self.span):
                say(part, "", "")
            return
        told = forecast_words.told(outlook)
        say(self.lead, _lead(told, started=outlook.basis is not Basis.START), "")
        say(self.value, told.value, _role(told, alarm=snapshot.state.plug_is_out))
        say(self.span, _span(told), "")

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Measure again where the look has changed."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._measure()

    def _measure(self) -> None:
        """Keep room for the longest words."""
        small, large = bold_metrics(self.lead), bold_metrics(self.value)
        sizes = [
            (small.size(0, lead), large.size(0, value), small.size(0, span))
            for lead, value, span in _longest()
        ]
        widest = max(sum(size.width() for size in row) for row in sizes)
        tallest = max(size.height() for row in sizes for size in row)
        self.setMinimumSize(widest + 2 * Space.SMALL, tallest + Space.HAIR)


def _longest() -> Iterator[tuple[str, str, str]]:
    """Return the longest words of the three parts."""
    about, within = tr("band in about"), tr("band may end within")
    for span in (f"{_LONGEST_TIME}–{_LONGEST_TIME}", tr("{least} or more", least="10 s")):
        told = Told(about, _LONGEST_TIME, span)
        yield _lead(told, started=False), told.value, _span(told)
    yield _lead(Told(within, "88 s"), started=True), "88 s", ""
    yield capitalised(tr("band:")), tr(TOO_EARLY), ""


def _lead(told: Told, *, started: bool) -> str:
    """Return what is told in two short lines; before the start, what it is true of."""
    if not told.known:
        return capitalised(told.lead)
    words = told.lead.rsplit(" ", 1) if started else (tr(IF_STARTED), told.lead)
    return capitalised(joined(words, "\n"))


def _span(told: Told) -> str:
    if not told.span:
        return ""
    span = joined(("(", told.span, ")"), "")
    return _BREAK.sub(r"\1\n", span, count=1) if len(told.span) > _SHORT else span


def _role(told: Told, *, alarm: bool) -> str:
    """An end of the band within seconds is an alarm while the plug is out."""
    if told.soon and alarm:
        return "bad"
    return "" if told.known else "soft"
