"""What all pages of the guided check have in common."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.estimate import sentences
from brimline.estimate.burn_risk import burn_risk
from brimline.procedure import cautions, gates
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.doing import Form, NextStep
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState, Stage
from brimline.session import Snapshot
from brimline.translation import capitalised, tr
from brimline.ui.forms import button, label
from brimline.ui.model import CheckModel
from brimline.ui.screens.check.columns import scrolling
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.hazards import Hazard, HazardIcon
from brimline.ui.widgets.hold_button import HoldButton
from brimline.ui.widgets.item_button import ItemButton
from brimline.wording import STAGES


@dataclass(frozen=True)
class Caution:
    """A caution before a step: signal word, text, and what it is about in symbols.

    :param burns: whether hot fluid can reach a person: then it says what that does to skin at its
        present temperature, and where that is from.
    """

    word: str
    text: str
    hazards: tuple[Hazard, ...] = ()
    burns: bool = False


class Page(QWidget):
    """One stage's page: title, cautions, what is to be done, and its foot.

    The foot is never scrolled: it has the one button that is next, in the same place on every page,
    and what comes unasked (``notes``) stands between it and what is scrolled, so that nothing moves
    which may be pressed. While the cautions of its stage wait to be acknowledged they stand large
    in the place of what is to be done, with one button that is held. What ends a danger
    (:meth:`add_always`, :meth:`add_at_foot`) stays.

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
        self._next: list[QPushButton] = []
        self.sends: dict[Form, Callable[[], object]] = {}
        """What sends each form of the page, as its button does."""
        inside = QWidget()
        self.column = _column(inside)
        self.column.setContentsMargins(0, 0, Space.SMALL, 0)
        self.column.addWidget(label(tr(STAGES[self.stage]), "title"))
        self.always = _column()
        self.column.addLayout(self.always)
        said = (*self.cautions, *self._sheet_cautions())
        self._cautions = [CautionBox(caution.word, tr(caution.text)) for caution in said]
        for box in self._cautions:
            self.column.addWidget(box)
        hazards = [hazard for caution in self.cautions for hazard in caution.hazards]
        if hazards:
            self.column.addWidget(_symbols(hazards))
        self.acknowledge = HoldButton(
            tr("Hold: I have read this"), tr("Keep holding…"), tr("Too short: hold it longer")
        )
        self.acknowledge.done.connect(self._acknowledge)
        self.body, self.sending = QWidget(), QWidget()
        self.below, self._sending = _column(self.body), _column(self.sending)
        self.column.addWidget(self.body)
        self.foot = _column()
        self.foot.setContentsMargins(0, 0, Space.SMALL, 0)
        self.area, self.notes = scrolling(inside), _column()
        whole = _column(self)
        whole.addWidget(self.area, 1)
        whole.addLayout(self.notes)
        whole.addLayout(self.foot)
        self._at_foot = QHBoxLayout()
        self._at_foot.setSpacing(Space.SMALL)
        self._at_foot.addWidget(self.sending, 1)
        self.foot.addWidget(self.acknowledge)
        self.foot.addLayout(self._at_foot)
        self.fill()
        self.column.addStretch(1)

    def _sheet_cautions(self) -> Iterable[Caution]:
        read_here = cautions.READ_WITH.get(self.stage, (self.stage,))
        for caution in self.model.state.sheet.cautions:
            if caution.stage in {stage.value for stage in read_here}:
                yield Caution(caution.word.value, caution.text)

    def _acknowledge(self) -> None:
        self.model.tap(CautionAcknowledged, stage=self.stage)

    def fill(self) -> None:
        """Build what the page holds besides title and cautions."""

    def show_state(self, state: CheckState) -> None:
        """Show what the state says; called with every snapshot while the page is up."""

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show the snapshot."""
        stands = snapshot.state.confirmed - set(gates.still_asked(snapshot.state))
        for item in self._items:
            item.setChecked(item.item in stands)
        asked = cautions.asked(snapshot.state, self.stage)
        if self.acknowledge.hasFocus() and not asked:
            # Qt would hand the keyboard on to a button, and the key that was held is still down.
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.acknowledge.setVisible(asked)
        self.body.setVisible(not asked)
        for caution, box in zip(self.cautions, self._cautions, strict=False):
            if caution.burns:
                box.set_danger(self._danger(snapshot.state), tr(sentences.BURN_SOURCE))
        for box in self._cautions:
            box.set_large(large=asked)
        self.show_state(snapshot.state)
        at_hand = any(not made.isHidden() for made in self._next)
        self.sending.setVisible(at_hand and not asked)

    def _danger(self, state: CheckState) -> str:
        return sentences.burn_sentence(burn_risk(state), self.model.units)

    def read_first(self, state: CheckState) -> tuple[str, ...]:
        """Return the page's cautions in words, and what the fluid does to skin where it comes."""
        said = (*self.cautions, *self._sheet_cautions())
        texts = [f"{tr(caution.word)}: {tr(caution.text)}" for caution in said]
        burns = any(caution.burns for caution in self.cautions)
        danger = (self._danger(state),) if burns else ()
        return (*texts, *danger)

    def confirm(self, step: NextStep) -> Callable[[], object] | None:
        """Return what sends the form that a step asks for, as far as this page has it."""
        return None if step.form is None else self.sends.get(step.form)

    def add_at_foot(self, *widgets: QWidget) -> None:
        """Put widgets beside what is next, which never wait for a caution to be read; the first
        one added stays last.
        """
        for widget in widgets:
            self._at_foot.insertWidget(1, widget, 1)

    def add_always(self, *widgets: QWidget) -> None:
        """Put widgets above all else that never wait for a caution to be read."""
        for widget in widgets:
            self.always.addWidget(widget)

    def add(self, *widgets: QWidget) -> None:
        """Put widgets under what is there."""
        for widget in widgets:
            self.below.addWidget(widget)

    def add_items(self, items: Iterable[Item]) -> None:
        """Put item buttons under what is there."""
        for item in items:
            made = ItemButton(item, self._toggle)
            self._items.append(made)
            self.add(made)

    def add_next(self, text: str, pressed: Callable[[], object]) -> QPushButton:
        """Put a button that is next into the foot; one that is hidden leaves its place."""
        made = button(text, lambda: self.attempt(pressed), "next")
        self._next.append(made)
        self._sending.addWidget(made)
        return made

    def attempt(self, what: Callable[[], object]) -> None:
        """Do something with what was typed; say in one sentence what cannot be."""
        try:
            what()
        except BrimlineError as error:
            self._say(capitalised(error.sentence))

    def _toggle(self, item: Item, confirmed: bool) -> None:
        self.model.tap(ev.Confirmed if confirmed else ev.Withdrawn, item=item)


def _column(holder: QWidget | None = None) -> QVBoxLayout:
    """Return an empty column, of a widget or to be put into another."""
    column = QVBoxLayout() if holder is None else QVBoxLayout(holder)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(Space.SMALL)
    return column


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
