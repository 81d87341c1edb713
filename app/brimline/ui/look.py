"""The look chosen: light, dark, or as the desktop has it, which may change at any time."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QStyleHints

from brimline.config import Look
from brimline.ui.tokens import DARK, LIGHT, Palette


def palette_of(look: Look, desktop: Qt.ColorScheme) -> Palette:
    """Return the palette of a look; a desktop that does not say what it is counts as light."""
    dark = look == "dark" or (look == "system" and desktop is Qt.ColorScheme.Dark)
    return DARK if dark else LIGHT


class LookFollower(QObject):
    """Has the palette worn that was chosen, and follows the desktop where that was chosen.

    :param hints: where the desktop tells what it looks like.
    :param wear: shows everything in a palette; ``worn``: the one that is shown already.
    """

    def __init__(
        self, hints: QStyleHints, wear: Callable[[Palette], None], worn: Palette, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hints, self._wear = hints, wear
        self.look: Look = "dark" if worn is DARK else "light"
        hints.colorSchemeChanged.connect(self._follow)

    def choose(self, look: Look) -> None:
        """Wear another look from now on."""
        self.look = look
        self._wear(palette_of(look, self._hints.colorScheme()))

    def _follow(self, scheme: Qt.ColorScheme) -> None:
        if self.look == "system":
            self._wear(palette_of(self.look, scheme))
