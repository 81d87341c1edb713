"""The head of the window: whose bay it is or which check runs, and what is always at hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QFrame, QHBoxLayout

from brimline.translation import capitalised, joined, tr
from brimline.ui.forms import button, label
from brimline.ui.tokens import DARK, Palette, Space

if TYPE_CHECKING:
    from brimline.procedure.state import CheckState

MUTE_KEYS = "Ctrl+M"


class Header(QFrame):
    """Name of the program, subject, mark, and three buttons.

    :param leave: leads from a check to the first screen; ``look``: to the other look; ``mute``:
        mutes a check, or no longer.
    """

    def __init__(
        self, leave: Callable[[], None], look: Callable[[], None], mute: Callable[[], None]
    ) -> None:
        super().__init__()
        self.setProperty("role", "header")
        self.subject, self.mark = label("", "heading"), label("", "mark")
        self.leave = button(tr("Finished checks"), leave)
        self.look = button("", look)
        self.mute = button("", mute)
        keys = QKeySequence(MUTE_KEYS)
        shown = keys.toString(QKeySequence.SequenceFormat.NativeText)
        self.mute.setToolTip(tr("Sounds and voice, on and off by {keys}", keys=shown))
        self.show_muted(False)
        name = label("Brimline", "title")
        for line in (name, self.subject, self.mark):
            line.setWordWrap(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.SMALL, Space.LARGE, Space.SMALL)
        row.setSpacing(Space.LARGE)
        row.addWidget(name)
        row.addWidget(self.subject, 1)
        for made in (self.mark, self.mute, self.leave, self.look):
            row.addWidget(made)

    def show_home(self, shop: str) -> None:
        """Show whose bay it is."""
        self.subject.setText(shop)
        self.mark.hide()
        self.leave.hide()
        self.mute.hide()

    def show_check(self, state: CheckState, *, records_bus: bool) -> None:
        """Show which check runs, and what its record rests on."""
        from brimline import wording  # noqa: PLC0415 - loaded long before a check runs

        family, duty = state.sheet.transmission.family, wording.duty(state.opened.duty)
        parts = [tr("{family}, {duty} duty", family=family, duty=duty)]
        if state.vehicle is not None:
            parts += [state.vehicle.vin, *([state.vehicle.plate] if state.vehicle.plate else [])]
        self.subject.setText(joined(parts, "  ·  "))
        words = [capitalised(tr(wording.ORIGINS[state.opened.origin]))]
        if records_bus:
            words.append(tr("recording"))
        self.mark.setText(joined(words, "  ·  "))
        self.mark.show()
        self.mute.show()

    def show_muted(self, muted: bool) -> None:
        """Show whether sounds and voice are on."""
        self.mute.setText(tr("Sound is off") if muted else tr("Sound is on"))

    def show_look(self, palette: Palette) -> None:
        """Offer the other look."""
        self.look.setText(tr("Light") if palette is DARK else tr("Dark"))
