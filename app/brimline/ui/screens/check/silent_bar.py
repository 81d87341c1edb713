"""What is offered when measured signals stay silent: to go on without them, for good."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton

from brimline.procedure import events as ev
from brimline.procedure import facts, silence
from brimline.procedure.state import CheckState
from brimline.reading import SIGNAL_WORDS, SignalName
from brimline.session import Snapshot
from brimline.translation import english, joined, listed, marked, tr
from brimline.ui.forms import button, label
from brimline.ui.model import CheckModel
from brimline.ui.screens.check.drawers import Drawer
from brimline.ui.tokens import Space
from brimline.units import duration

OFFERS = {
    SignalName.FLUID_TEMPERATURE: marked("Go on by keyed temperatures…"),
    SignalName.ENGINE_SPEED: marked("Engine by taps…"),
    SignalName.RANGE: marked("Selector by taps…"),
}
_TITLES = {
    SignalName.FLUID_TEMPERATURE: marked("Go on by keyed temperatures"),
    SignalName.ENGINE_SPEED: marked("Go on by taps for the engine"),
    SignalName.RANGE: marked("Go on by taps for the selector"),
}
_INSTEAD = {
    SignalName.FLUID_TEMPERATURE: marked(
        "For the rest of this check only what you key counts as the fluid temperature."
    ),
    SignalName.ENGINE_SPEED: marked(
        "For the rest of this check only your taps say whether the engine runs, and you note its "
        "speed."
    ),
    SignalName.RANGE: marked(
        "For the rest of this check only your taps say where the selector stands."
    ),
}


class SilentBar(QFrame):
    """One line on what is silent, with an offer for each; it goes once readings come again.

    :param ask: opens the question whether a signal is given up.
    """

    def __init__(self, ask: Callable[[SignalName], None]) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.words = label("", "bad")
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.TIGHT, Space.LARGE, Space.TIGHT)
        row.setSpacing(Space.SMALL)
        row.addWidget(self.words, 1)
        self.offers: dict[SignalName, QPushButton] = {}
        for signal, text in OFFERS.items():
            self.offers[signal] = button(tr(text), _asker(ask, signal))
            row.addWidget(self.offers[signal])
        self.hide()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Offer to give up what is silent now."""
        silent = silence.silent_signals(snapshot.state)
        for signal, offer in self.offers.items():
            offer.setVisible(signal in silent)
        text = silent_words(snapshot.state, silent) if silent else ""
        if self.words.text() != text:
            self.words.setText(text)
        self.setVisible(bool(silent))


def _asker(ask: Callable[[SignalName], None], signal: SignalName) -> Callable[[], None]:
    return lambda: ask(signal)


def silent_words(state: CheckState, silent: tuple[SignalName, ...]) -> str:
    """Return what is silent and for how long, in one sentence."""
    names = listed(tr(SIGNAL_WORDS[signal]) for signal in silent)
    if all(silence.heard_at(state, signal) is None for signal in silent):
        return tr(
            "No usable {names} has come from the vehicle yet; is the ignition on?", names=names
        )
    longest = max(silence.silent_for(state, signal) for signal in silent)
    return tr("No usable {names} from the vehicle for {time}.", names=names, time=duration(longest))


def source_words(state: CheckState) -> str:
    """Return which signals the vehicle tells now, and which a person does."""
    told = [tr(SIGNAL_WORDS[each]) for each in OFFERS if facts.is_measured(state, each)]
    rest = [tr(SIGNAL_WORDS[each]) for each in OFFERS if not facts.is_measured(state, each)]
    lines = [tr("From the vehicle: {signals}.", signals=joined(told))] if told else []
    if rest:
        lines.append(tr("By hand: {signals}.", signals=joined(rest)))
    return joined(lines, "\n")


class GiveUpDrawer(Drawer):
    """Gives a signal up for good, once it has been said what that means."""

    def __init__(self, signal: SignalName, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr(_TITLES[signal]), model, done)
        self._signal = signal
        after = tr(
            "The vehicle is not heard for it any more. The record says so, with your reason."
        )
        self.meaning = label(joined((tr(_INSTEAD[signal]), after), " "))
        self._offered = tr(
            "no usable {signal} from the vehicle for {time}",
            signal=tr(SIGNAL_WORDS[signal]),
            time=duration(silence.silent_for(model.state, signal)),
        )
        self.why = QLineEdit(self._offered)
        self.again = label("", "good")
        self.words.addWidget(self.meaning)
        self.words.addWidget(self.again)
        give_up = self.answer(tr("Give it up for this check"), self._give_up)
        self.ask(tr("Why"), self.why, give_up)
        self.show_state(model.state)

    def show_state(self, state: CheckState) -> None:
        """Whoever is about to give up a signal that is back is told so."""
        back = self._signal not in silence.silent_signals(state)
        said = tr("It comes again: there is no need to give it up.") if back else ""
        if self.again.text() != said:
            self.again.setText(said)
        self.again.setVisible(back)

    def _give_up(self) -> bool:
        if not facts.is_measured(self.model.state, self._signal):
            return True
        why = self.why.text().strip()
        reason = english(self._offered) if why == self._offered else why
        return self.model.tap(ev.SignalWithdrawn, signal=self._signal, reason=reason)
