"""What of a check is heard in the window; made when a check first runs or the sound is tested.

What is due to be said stands on everything that is known of a check, which takes longer to load
than the first screen.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QBoxLayout

from brimline.config import SoundSettings
from brimline.ui.ports.settings import SettingServices

if TYPE_CHECKING:
    from brimline.ui.model import CheckModel
    from brimline.ui.speech.speaking import Speaking, SpeakingLine

Program = Callable[[], Sequence[str]]
"""Returns the program that makes sounds and speaks, with its arguments."""


class Aloud(QObject):
    """Has prompts said aloud, with a line above the check that shows them.

    ``muting`` and ``tested`` are those of :class:`.speaking.Speaking`.

    :param program: ``None`` where nothing is to be heard.
    """

    muting = Signal(bool)
    tested = Signal(str)

    def __init__(
        self, program: Program | None, settings: SettingServices | None, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._program, self._settings = program, settings
        self._speaking: Speaking | None = None
        self._line: SpeakingLine | None = None

    @property
    def speaking(self) -> Speaking:
        """What has it said."""
        if self._speaking is None:
            from brimline.ui.speech.speaking import Speaking  # noqa: PLC0415 - see above

            command = () if self._program is None else self._program()
            self._speaking = Speaking(command, self._settings, self)
            self._speaking.muting.connect(self.muting)
            self._speaking.tested.connect(self.tested)
        return self._speaking

    @property
    def tester(self) -> Callable[[SoundSettings], str] | None:
        """How the sound is tested; ``None`` where there is none."""
        return None if self._program is None else self._test

    def _test(self, sound: SoundSettings) -> str:
        return self.speaking.test(sound)

    def follow(self, model: CheckModel, head: QBoxLayout) -> None:
        """Speak of this check from now on, until :meth:`end`; show it at the end of ``head``."""
        from brimline.ui.speech.speaking import SpeakingLine  # noqa: PLC0415 - see above

        self.end()
        self._line = SpeakingLine()
        head.addWidget(self._line)
        self.speaking.follow(model, self._line)

    def switch_mute(self) -> None:
        """Mute everything until the end of this check, or no longer."""
        if self._speaking is not None:
            self._speaking.switch_mute()

    def end(self) -> None:
        """Speak no more."""
        if self._speaking is not None:
            self._speaking.end()
        if self._line is not None:
            self._line.setParent(None)  # at once: it keeps its place while it is there
            self._line.deleteLater()
            self._line = None
