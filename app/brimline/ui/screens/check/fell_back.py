"""Why a check stands at an earlier stage than it did, told until it has gone on from there."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from brimline import wording
from brimline.procedure import facts
from brimline.procedure.events import Item
from brimline.procedure.reasons import Code
from brimline.procedure.stages import held_by
from brimline.procedure.state import CheckState, Stage
from brimline.translation import capitalised, tr
from brimline.ui.forms import label
from brimline.ui.tokens import Space
from brimline.units import UnitSystem

_ORDER = tuple(Stage)
_BEFORE_THE_PLUG = _ORDER[: _ORDER.index(Stage.PLUG_OUT)]


class FellBack(QWidget):
    """A short text on top of the page; hidden while the check only goes forward."""

    def __init__(self, units: UnitSystem) -> None:
        super().__init__()
        self._units = units
        self._last: Stage | None = None
        self._causes_told = 0
        self.why = label("", "bad")
        self.to_ground = label(tr("Lower the vehicle first."), "bad")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.TIGHT)
        column.addWidget(self.why)
        column.addWidget(self.to_ground)
        self.hide()

    def show_state(self, state: CheckState) -> None:
        """Begin to tell with a step back, and end with the next one forward."""
        stage, last = state.stage, self._last
        if stage is not last:
            self._last = stage
            words = "" if last is None else self._words(state, last)
            self.why.setText(words)
            self.setVisible(bool(words))
        self.to_ground.setVisible(_is_up_for_nothing(state))
        if state.plug_is_out or last is None:
            self._causes_told = len(state.past_causes)

    def _words(self, state: CheckState, last: Stage) -> str:
        went_back = _ORDER.index(state.stage) < _ORDER.index(last)
        if state.stage not in _BEFORE_THE_PLUG or not went_back:
            return ""
        causes = state.past_causes[self._causes_told :]
        if causes:
            return tr("Back to this step: {cause}.", cause=tr(wording.CAUSES[causes[0]]))
        if state.stage is Stage.TEMPERATURE:
            return ""  # that page says itself how far the fluid is off its band
        first = next(iter(held_by(state)), None)
        return "" if first is None else capitalised(wording.sentence(first, self._units))


def _is_up_for_nothing(state: CheckState) -> bool:
    """Whether a range is to be held again, on the ground, and nobody has said that it is there."""
    if state.stage is not Stage.PRECONDITION:
        return False
    up = facts.raised(state) or Item.NOBODY_UNDER not in state.confirmed
    return up and any(reason.code is Code.RANGE_NOT_SERVED for reason in held_by(state))
