"""The fields of a connection: adapter, channel, bit rate, addressing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget

from brimline.config import parse_option
from brimline.translation import capitalised, joined, marked, tr
from brimline.ui.forms import Choice, TickBox, button, form, label
from brimline.ui.hints import hint, such_as
from brimline.ui.ports.services import AdapterKind, ConnectionChoice, FoundChannel, LookState
from brimline.ui.tokens import Space

AS_SET = marked("as the adapter is set")
BIT_RATES = (125_000, 250_000, 500_000, 1_000_000)
LOOKING = marked("Looking for adapters…")
NONE_FOUND = marked(
    "No adapter was found. Plug it in and look again, or choose its kind and type its channel."
)
OPTIONS = marked("none; else KEY=VALUE, KEY=VALUE")
OPTIONS_OF = {"socketcand": "host=127.0.0.1, port=28600"}
"""What a kind of adapter cannot be opened without, as an example."""
NO_KINDS = marked(
    "No driver for any kind of adapter is installed on this computer: install the one that came "
    "with the adapter, then look again."
)


class ConnectionForm(QWidget):
    """``changed`` is emitted when a person has changed what is chosen."""

    changed = Signal()

    def __init__(self, kinds: Sequence[AdapterKind], look_again: Callable[[], None]) -> None:
        super().__init__()
        self._kinds = {kind.name: kind for kind in kinds}
        self._found: tuple[FoundChannel, ...] = ()
        self._options: dict[str, str | bool | int | float] = {}
        self._options_found = False  # with an adapter, and not typed or kept by a person
        self.options = QLineEdit()
        self._quiet = True
        self.kind, self.found, self.rate = Choice(), Choice(), Choice()
        self.identifiers, self.addressing = Choice(), Choice()
        self.channel = QLineEdit()
        hint(self.channel, tr("a port, a device or a name"))
        self.listen_first = TickBox(tr("Listen before anything is sent"))
        self.about = label("", "soft")
        self.found_words = label("", "soft")
        self.again = button(tr("Look again"), look_again)
        self._fill()
        self._lay_out()
        self._connect()
        self.show_choice(ConnectionChoice())

    def _fill(self) -> None:
        self.kind.addItem(tr("choose…"), "")
        for name in self._kinds:
            self.kind.addItem(name, name)
        for rate in BIT_RATES:
            self.rate.addItem(f"{rate // 1000} kbit/s", rate)
        self.rate.addItem(tr(AS_SET), 0)
        self.identifiers.addItem(tr("11-bit"), 11)
        self.identifiers.addItem(tr("29-bit"), 29)
        self.addressing.addItem(tr("Functional: all control units"), "functional")
        self.addressing.addItem(tr("Physical: one control unit"), "physical")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for made in (
            form((tr("Found"), self.found)),
            self.found_words,
            self.again,
            form(
                (tr("Kind of adapter"), self.kind),
                (tr("Channel"), self.channel),
                (tr("Options"), self.options),
            ),
            self.about,
            form(
                (tr("Bit rate"), self.rate),
                (tr("Identifiers"), self.identifiers),
                (tr("Requests"), self.addressing),
            ),
            self.listen_first,
        ):
            column.addWidget(made)
        names = [name for name in self.findChildren(QLabel) if name.buddy() is not None]
        widest = max(name.sizeHint().width() for name in names)
        for name in names:  # three forms, one column of fields
            name.setMinimumWidth(widest)

    def _connect(self) -> None:
        self.found.activated.connect(self._take_found)
        self.kind.currentIndexChanged.connect(self._other_adapter)
        self.channel.textEdited.connect(self._other_channel)
        self.options.textEdited.connect(self._tell)
        for choice in (self.rate, self.identifiers, self.addressing):
            choice.currentIndexChanged.connect(self._tell)
        self.listen_first.toggled.connect(self._tell)

    def choice(self) -> ConnectionChoice:
        """Return what is chosen.

        :raises ConfigError: an option is none.
        """
        return ConnectionChoice(
            interface=str(self.kind.currentData() or ""),
            channel=self.channel.text().strip(),
            bitrate=int(self.rate.currentData()),
            identifiers=29 if self.identifiers.currentData() == 29 else 11,
            addressing="physical" if self.addressing.currentIndex() == 1 else "functional",
            listen_only_first=self.listen_first.isChecked(),
            options=self._typed_options(),
        )

    def _typed_options(self) -> dict[str, str | bool | int | float]:
        """Return the options; those that were not typed stay as they came, commas and all."""
        typed = self.options.text()
        if typed == _written(self._options):
            return dict(self._options)
        return dict(parse_option(part) for part in typed.split(",") if part.strip())

    def _show_options(self, options: dict[str, str | bool | int | float]) -> None:
        self._options = dict(options)
        self.options.setText(_written(options))

    def show_choice(self, chosen: ConnectionChoice) -> None:
        """Show a connection; what is not in a list is put into it, so that nothing is lost."""
        self._quiet = True
        _choose(self.kind, chosen.interface, chosen.interface)
        self.channel.setText(chosen.channel)
        _choose(self.rate, chosen.bitrate, f"{chosen.bitrate / 1000:g} kbit/s")
        _choose(self.identifiers, chosen.identifiers, "")
        _choose(self.addressing, chosen.addressing, "")
        self.listen_first.setChecked(chosen.listen_only_first)
        self._show_options(chosen.options)
        self._options_found = False
        self._quiet = False
        self._show_about()

    def show_found(self, state: LookState) -> None:
        """Show what a search has found so far; what is chosen stays as it is."""
        self.again.setEnabled(state.done)
        if not state.done:
            self.found_words.setText(tr(LOOKING))
            return
        self._found = state.channels
        self.found.clear()
        if not state.channels:
            self.found.addItem(tr("nothing found"))
        else:
            self.found.addItem(tr("choose…"))
        for channel in state.channels:
            self.found.addItem(f"{channel.interface} {channel.channel}".strip())
        self.found.setEnabled(bool(state.channels))
        words = [
            tr("{channel}: {kind}.", channel=each.channel, kind=each.words)
            for each in state.channels[:4]
        ] or [tr(NONE_FOUND)]
        if more := len(state.channels[4:]):
            words.append(tr("And {count} more in the list.", count=more))
        if state.unanswered:
            silent = ", ".join(state.unanswered)
            words.append(tr("Did not answer in time: {those}.", those=silent))
        self.found_words.setText("\n".join(words))

    def _take_found(self, at: int) -> None:
        if not 0 < at <= len(self._found):
            return
        found = self._found[at - 1]
        self._quiet = True
        _choose(self.kind, found.interface, found.interface)
        self.channel.setText(found.channel)
        self._show_options(found.options)
        self._options_found = True
        self._quiet = False
        self._show_about()
        self.changed.emit()

    def _other_channel(self) -> None:
        """What was found with one adapter is nothing for another."""
        if self._options_found:
            self._other_adapter()
        else:
            self._tell()

    def _other_adapter(self) -> None:
        """What one kind needs besides is nothing for another; what is being typed stays."""
        if not self._quiet and self.options.text() == _written(self._options):
            self._show_options({})
        self._show_about()
        self._tell()

    def _tell(self) -> None:
        if not self._quiet:
            self.changed.emit()

    def _show_about(self) -> None:
        kind = self._kinds.get(str(self.kind.currentData() or ""))
        if kind is None:
            text = (
                tr(NO_KINDS) if not self._kinds else tr("Choose one that was found, or its kind.")
            )
        else:
            text = tr("{kind}.", kind=capitalised(kind.words))
            if not kind.listens_only:
                text = joined((text, tr("They cannot listen without acknowledging frames.")), " ")
        self.about.setText(text)
        needed = None if kind is None else OPTIONS_OF.get(kind.name)
        hint(self.options, such_as(needed) if needed else tr(OPTIONS))


def _written(options: dict[str, str | bool | int | float]) -> str:
    """Return options as a person writes them."""
    words = {True: "true", False: "false"}
    return ", ".join(
        f"{key}={words[value] if isinstance(value, bool) else value}"
        for key, value in options.items()
    )


def _choose(choice: Choice, value: object, words: str) -> None:
    if choice.findData(value) < 0:
        choice.addItem(words, value)
    choice.setCurrentIndex(choice.findData(value))
