"""What all pages of the guided check have in common."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.estimate import sentences
from brimline.estimate.burn_risk import burn_risk
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState, Stage
from brimline.session import Snapshot
from brimline.ui.forms import ItemButton, button, label
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.hazards import Hazard, HazardIcon
from brimline.wording import STAGES

AT_THE_PLUG = (Stage.PLUG_OUT, Stage.LEVEL)
"""Where fluid may come: the first caution says what it does to skin at its temperature."""


@dataclass(frozen=True)
class Caution:
    """A caution before a step: signal word, text, and what it is about in symbols."""

    word: str
    text: str
    hazards: tuple[Hazard, ...] = ()


class Page(QWidget):
    """One stage's page: title, cautions, what is to be done.

    :param say: shows a sentence where something typed cannot be.
    :param ask_stripped: opens the question whether the plug's thread is stripped.
    """

    stage: Stage
    cautions: tuple[Caution, ...] = ()

    def __init__(
        self, model: CheckModel, say: Callable[[str], None], ask_stripped: Callable[[], None]
    ) -> None:
        super().__init__()
        self.ask_stripped = ask_stripped
        self.model = model
        self._say = say
        self._items: list[ItemButton] = []
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, Space.SMALL, 0)
        self.column.setSpacing(Space.SMALL)
        self.column.addWidget(label(STAGES[self.stage], "title"))
        said = (*self.cautions, *self._sheet_cautions())
        self._cautions = [CautionBox(caution.word, caution.text) for caution in said]
        for box in self._cautions:
            self.column.addWidget(box)
        hazards = [hazard for caution in self.cautions for hazard in caution.hazards]
        if hazards:
            self.column.addWidget(_symbols(hazards))
        self.fill()
        self.column.addStretch(1)

    def _sheet_cautions(self) -> Iterable[Caution]:
        for caution in self.model.state.sheet.cautions:
            if caution.stage == self.stage.value:
                yield Caution(caution.word.value, caution.text)

    def fill(self) -> None:
        """Build what the page holds besides title and cautions."""

    def show_state(self, state: CheckState) -> None:
        """Show what the state says; called with every snapshot while the page is up."""

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show the snapshot."""
        stands = snapshot.state.confirmed - set(gates.still_asked(snapshot.state))
        for item in self._items:
            item.show_confirmed(item.item in stands)
        if self.stage in AT_THE_PLUG:
            said = sentences.burn_sentence(burn_risk(snapshot.state), self.model.units)
            self._cautions[0].set_danger(said, sentences.BURN_SOURCE)
        self.show_state(snapshot.state)

    def add_under(self, widget: QWidget) -> None:
        """Put a widget under everything that is there, above the empty rest."""
        self.column.insertWidget(self.column.count() - 1, widget)

    def add(self, *widgets: QWidget) -> None:
        """Put widgets under what is there."""
        for widget in widgets:
            self.column.addWidget(widget)

    def add_items(self, items: Iterable[Item]) -> None:
        """Put item buttons under what is there."""
        for item in items:
            made = ItemButton(item, self._toggle)
            self._items.append(made)
            self.column.addWidget(made)

    def add_next(self, text: str, pressed: Callable[[], object]) -> QWidget:
        """Put the page's main button under what is there."""
        made = button(text, lambda: self.attempt(pressed), "next")
        self.column.addWidget(made)
        return made

    def attempt(self, what: Callable[[], object]) -> None:
        """Do something with what was typed; say in one sentence what cannot be."""
        try:
            what()
        except BrimlineError as error:
            self._say(_capital(error.sentence))

    def _toggle(self, item: Item, confirmed: bool) -> None:
        self.model.tap(ev.Confirmed if confirmed else ev.Withdrawn, item=item)


def _symbols(hazards: list[Hazard]) -> QWidget:
    """Return the symbols in a row, each with its name for those who cannot see it."""
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(Space.SMALL)
    for hazard in dict.fromkeys(hazards):
        row.addWidget(HazardIcon(hazard))
    row.addStretch(1)
    return holder


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
