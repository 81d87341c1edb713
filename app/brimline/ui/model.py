"""The view model of a running check: steps it by a timer and tells the widgets what is new."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from brimline import wording
from brimline.errors import BrimlineError
from brimline.estimate.keyed import KeyedDoubt
from brimline.procedure.events import TapEvent
from brimline.procedure.reasons import Reason
from brimline.procedure.state import CheckState
from brimline.session import CheckSession, Snapshot
from brimline.translation import capitalised
from brimline.ui.ports.attaching import Attaching, Filing
from brimline.units import UnitSystem

STEP_MS = 100
"""Ten looks a second at what is new."""


class CheckModel(QObject):
    """Steps one check and passes taps on.

    ``changed`` carries a :class:`Snapshot`, ``refused`` the reasons against the last tap (an empty
    tuple once one was taken), and ``closed`` the state at the end, once the record is sealed.
    """

    changed = Signal(object)
    refused = Signal(object)
    closed = Signal(object)

    def __init__(
        self,
        session: CheckSession,
        units: UnitSystem,
        parent: QObject,
        attaching: Attaching | None = None,
    ) -> None:
        super().__init__(parent)
        self.session = session
        self.units = units
        self.filing = None if attaching is None else Filing(attaching, self.tap)
        """Photos on their way into the record; ``None`` where none can be kept."""
        self._told_closed = False
        self._rehearsal: list[tuple[Reason, ...]] | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(STEP_MS)
        self._timer.timeout.connect(self.step)

    @property
    def state(self) -> CheckState:
        """The check as it stands."""
        return self.session.state

    def start(self) -> None:
        """Step by the timer from here on."""
        self._timer.start()
        self.step()

    def stop(self) -> None:
        """Step no more."""
        self._timer.stop()
        if self.filing is not None:
            self.filing.cancel()

    def step(self) -> None:
        """Take in what is new and tell."""
        self.session.step()
        if self.filing is not None and self.state.closed is None:
            self.filing.step(self.state.attachments)
        snapshot: Snapshot = self.session.snapshot()
        self.changed.emit(snapshot)
        if self.session.sealed and not self._told_closed:
            self._told_closed = True
            self.stop()
            self.closed.emit(self.state)

    def tap(self, kind: Callable[..., TapEvent], **fields: Any) -> bool:
        """Tap now; return whether it was taken."""
        if self._rehearsal is not None:
            self._rehearsal.append(self.session.would_refuse(kind, **fields))
            return False
        return self._after(self.session.tap(kind, **fields))

    def against(self, what: Callable[[], object]) -> str | None:
        """Return why something that taps could not tap now, in one sentence that may be empty;
        ``None`` where it could. Nothing is tapped.

        :param what: taps by this model and does nothing else unless that was taken.
        """
        rehearsed: list[tuple[Reason, ...]] = []
        self._rehearsal = rehearsed
        try:
            what()
        except BrimlineError as error:
            return capitalised(error.sentence)
        finally:
            self._rehearsal = None
        refused = [reason for reasons in rehearsed for reason in reasons]
        if refused:
            return wording.sentence(refused[0], self.units)
        return None if rehearsed else ""

    def key_temperature(self, text: str, *, keep: bool = False) -> KeyedDoubt | None:
        """Take a keyed temperature; return what is to be asked first, ``None`` once it is taken.

        :raises UnitError: no temperature that fluid can have.
        """
        doubt = self.session.key_temperature(text, self.units, keep=keep)
        self.step()
        return doubt

    def key_engine_speed(self, text: str) -> None:
        """Take a keyed engine speed.

        :raises UnitError: no engine speed.
        """
        self.session.key_engine_speed(text)
        self.step()

    def close(self, *, recheck_after_drive: bool) -> bool:
        """Ask for the verdict; return whether it was given."""
        return self._after(self.session.close(recheck_after_drive=recheck_after_drive))

    def _after(self, refused: tuple[Reason, ...]) -> bool:
        self.refused.emit(refused)
        self.step()
        return not refused
